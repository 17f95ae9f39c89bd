"""The stem of shaped plates: its checks in a table, and its calculation in full."""

from __future__ import annotations

from beltwright.report.calculation import calculation
from beltwright.report.chapters.told import told_names
from beltwright.report.markup import Shown, calculation_lines, column_table, heading, paragraph
from beltwright.report.material import Material
from beltwright.report.registry import Chapter, Written

TITLE = "Stem"
_SHOWN = (
    Shown(name="check", header="check", width="fill"),
    Shown(name="ref", header="clause", width="24"),
    Shown(name="required", header="required", decimals=2),
    Shown(name="offered", header="offered", decimals=2),
    Shown(name="unit", header="unit"),
    Shown(name="ratio", header="ratio", decimals=3),
    Shown(name="outcome", header="outcome", width="18"),
)


def stem(material: Material) -> Written:
    """The stem; nothing where the rule set has no formula for it."""
    given = material.stem
    if given is None:
        return Written(markup="")
    told = "A stem of shaped plates, as given in ship.toml under stem."
    if given.calculation is None:
        told = "The stem is open: no scantlings are given in ship.toml under stem. Open is not met."
    parts = [heading(1, TITLE), paragraph(told), column_table(given.table, _SHOWN)]
    if given.calculation is not None:
        part = given.calculation
        lines = calculation(part.trace, part.wanted, told_names(material))
        parts += [heading(2, part.title), calculation_lines(lines)]
    return Written(markup="".join(parts))


CHAPTERS = (Chapter(id="stem", title=TITLE, write=stem),)
