"""The arrangements of a ship that are enumerated outside the problem: frame spacings and stringers from her lists."""

from __future__ import annotations

import itertools
from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from functools import partial
from math import prod

from beltwright.arrangement.arrange import arrange
from beltwright.arrangement.sectionlines import SectionCutter
from beltwright.core.errors import InputError
from beltwright.core.findings import Findings
from beltwright.hull.section import sections
from beltwright.scantlings.build import design_on
from beltwright.scantlings.design import Design
from beltwright.ship.model import Ship
from beltwright.ship.sizing import StringerChoice
from beltwright.sizing.spacing import respaced
from beltwright.sizing.stringers import restringered

MOST = 64
Change = Callable[[Ship], Ship]


@dataclass(frozen=True, slots=True, kw_only=True)
class Variant:
    """One arrangement: what is chosen in words (nothing: as described), and the ship, None with the reason why not."""

    choices: tuple[str, ...]
    ship: Ship | None
    note: str = ""

    @property
    def words(self) -> str:
        """What is chosen, in one line."""
        return "; ".join(self.choices) or "as described"


def variants(ship: Ship, hull_x_m: tuple[float, float]) -> tuple[Variant, ...]:
    """Return every arrangement that the ship's lists make together, as described first; ``hull_x_m`` ends the hull.

    Raises
    ------
    InputError : a choice that is bad by itself (unknown zone, spacing below the least, stringer outside the zone), or
        more arrangements than can be searched
    """
    axes = list(_axes(ship, hull_x_m))
    count = prod(len(axis) for axis in axes)
    if count > MOST:
        raise InputError("ship.toml: sizing", "frame spacings and stringers make too many arrangements", value=count,
                         allowed=f"{MOST} or fewer")  # fmt: skip
    found: list[Variant] = []
    seen: set[str] = set()
    for taken in itertools.product(*axes):
        one = _variant(ship, [pair for pair in taken if pair is not None])
        key = one.note or (one.ship.model_dump_json(exclude={"sizing"}) if one.ship else "")
        if key not in seen:
            found.append(one)
        seen.add(key)
    return tuple(found)


def _variant(ship: Ship, changes: list[tuple[str, Change]]) -> Variant:
    """The ship with some changes one after the other."""
    words, other = tuple(word for word, _ in changes), ship
    try:
        for _, change in changes:
            other = change(other)
    except InputError as error:
        return Variant(choices=words, ship=None, note=str(error))
    return Variant(choices=words, ship=other)


def _axes(ship: Ship, hull_x_m: tuple[float, float]) -> Iterator[list[tuple[str, Change] | None]]:
    """What can be chosen independently; None is as described. Every choice is tried by itself."""
    given = ship.sizing
    yield _tried(ship, [
        (f"frames {s:g} m apart", partial(_spaced, s, "", hull_x_m, "ship.toml: sizing.frame_spacings_m"))
        for s in given.frame_spacings_m
    ])  # fmt: skip
    for number, choice in enumerate(given.spacings, 1):
        where = f"ship.toml: sizing.spacings[{number}]"
        yield _tried(ship, [
            (f"{choice.zone}: frames {s:g} m apart", partial(_spaced, s, choice.zone, hull_x_m, where))
            for s in choice.spacings_m
        ])  # fmt: skip
    by_zone: dict[str, list[tuple[str, Change]]] = {}
    for number, one in enumerate(given.stringers, 1):
        where = f"ship.toml: sizing.stringers[{number}]"
        by_zone.setdefault(one.zone, []).append((_stringer_words(one), partial(_with_stringers, one, where)))
    for choices in by_zone.values():
        yield _tried(ship, choices)


def _tried(ship: Ship, choices: list[tuple[str, Change]]) -> list[tuple[str, Change] | None]:
    for _, change in choices:
        change(ship)
    return [None, *choices]


def _spaced(spacing_m: float, zone: str, hull_x_m: tuple[float, float], where: str, ship: Ship) -> Ship:
    return respaced(ship, spacing_m, hull_x_m, where, zone)


def _with_stringers(choice: StringerChoice, where: str, ship: Ship) -> Ship:
    return restringered(ship, choice, where)


def _stringer_words(choice: StringerChoice) -> str:
    heights = ", ".join(f"{height:g}" for height in sorted(choice.heights_m))
    return f"{choice.zone}: stringers at {heights} m" if heights else f"{choice.zone}: no stringers"


def arranged(design: Design, ship: Ship, cut: SectionCutter = sections) -> Design:
    """Return a design with another arrangement of the same hull in it, for a search: its results are not made anew.

    ``cut`` cuts the shell into sections, as in :func:`~beltwright.arrangement.arrange.arrange`.
    """
    if ship is design.ship:
        return design
    return replace(design, ship=ship, arrangement=arrange(ship, design.measures.shell, cut=cut))


def designed(design: Design, ship: Ship) -> Design:
    """Return the design of a ship arranged otherwise on the same hull and waterlines, made anew."""
    if ship is design.ship:
        return design
    findings = Findings()
    arrangement = arrange(ship, design.measures.shell)
    findings.extend(arrangement.findings)
    return design_on(
        ship, design.rules, design.measures, arrangement, findings,
        facts_measured=(dict(design.facts), dict(design.fact_origins)),
    )  # fmt: skip


def variants_of(design: Design) -> tuple[Variant, ...]:
    """Return the arrangements of a designed ship."""
    bounds = design.measures.shell.bounds
    return variants(design.ship, (float(bounds[0, 0]), float(bounds[1, 0])))
