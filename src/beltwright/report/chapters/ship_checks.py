"""The ship as a whole: what it is held to, and how each requirement came about."""

from __future__ import annotations

from beltwright.core.chain import Trace
from beltwright.report.calculation import calculation, names_told
from beltwright.report.chapters.told import told_names
from beltwright.report.markup import Shown, calculation_lines, column_table, heading, paragraph
from beltwright.report.material import Material, ShipChecksMaterial
from beltwright.report.registry import Chapter, Written

TITLE = "Ship as a whole"
_SHOWN = (
    Shown(name="check", header="check", width="44"),
    Shown(name="ref", header="clause", width="20"),
    Shown(name="required", header="required", decimals=2),
    Shown(name="offered", header="offered", decimals=2),
    Shown(name="unit", header="unit"),
    Shown(name="offered_from", header="offered value from", width="fill"),
    Shown(name="ratio", header="ratio"),
    Shown(name="outcome", header="outcome", width="15"),
)


def ship_as_a_whole(material: Material) -> Written:
    """The checks in a table and their calculations in full; nothing where the rule set asks for none."""
    given = material.ship_checks
    if given is None:
        return Written(markup="")
    parts = [
        heading(1, TITLE),
        paragraph(
            "What the rules ask of the ship beside its structure. Machinery, propeller and hull are taken as they are "
            "described; nothing of them is designed here."
        ),
        column_table(given.table, _SHOWN),
        *(paragraph(f"{choice[:1].upper()}{choice[1:]}.") for choice in given.choices),
        *_told(material, given),
    ]
    return Written(markup="".join(parts))


def _told(material: Material, given: ShipChecksMaterial) -> list[str]:
    """The calculations; what an earlier one has told with the same value is not told again."""
    known, earlier, parts = told_names(material), list[Trace](), list[str]()
    for part in given.parts:
        same = {name for name in part.trace for trace in earlier if _same(name, part.trace, trace)}
        lines = calculation(part.trace, part.wanted, known | same)
        if lines:
            again = "Only what differs from the calculations above is told." if same else ""
            parts += [heading(2, part.title), paragraph(again) if again else "", calculation_lines(lines)]
        earlier.append(_kept(part.trace, names_told(part.trace, part.wanted, known)))
    return parts


def _kept(trace: Trace, names: set[str]) -> Trace:
    """The part of a trace that was told."""
    return Trace({name: trace[name] for name in names})


def _same(name: str, trace: Trace, other: Trace) -> bool:
    """Whether a number was told with the same value."""
    return name in other and other[name].value == trace[name].value


CHAPTERS = (Chapter(id="ship checks", title=TITLE, write=ship_as_a_whole),)
"""The chapter stands behind the ice loads, whose numbers it goes on from."""
