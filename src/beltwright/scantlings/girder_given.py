"""The hull girder of ``ship.toml`` as arrays: sections and still-water loads at any place, members with their strength.

Between two sections moduli and areas change in straight lines, and the weaker steel of the two counts.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Any

import numpy as np

from beltwright.core.errors import InputError
from beltwright.core.findings import Findings
from beltwright.core.ruletable import Cell
from beltwright.core.units import BoolArray, FloatArray
from beltwright.materials.codes import grade_findings
from beltwright.materials.hull_steel import SteelBand, hull_steels
from beltwright.sections.names import section
from beltwright.ship.girder import HullSection, Place
from beltwright.ship.model import Ship

FIELD = "ship.toml: hull_girder"
ONE_PLACE_M = 0.001  # places nearer than this are one place
_NUMBERS = ("modulus_deck_m3", "modulus_bottom_m3", "shear_area_m2")


@dataclass(frozen=True, slots=True, kw_only=True)
class GivenGirder:
    """The given sections by x (k,) with their numbers, and the permissible still-water loads by x (j,)."""

    x_m: FloatArray
    numbers: dict[str, FloatArray]
    water_x_m: FloatArray
    water_moment_mnm: FloatArray
    water_shear_mn: FloatArray

    @property
    def has_sections(self) -> bool:
        """Whether any section is given, so that stresses can be checked."""
        return len(self.x_m) > 0

    @property
    def has_still_water(self) -> bool:
        """Whether still-water loads are given."""
        return len(self.water_x_m) > 0

    def covers(self, x_m: FloatArray) -> BoolArray:
        """Return which places (n,) lie between the aftmost and the foremost section, ends included."""
        if not self.has_sections:
            return np.zeros(len(x_m), dtype=bool)
        inside: BoolArray = (x_m >= self.x_m[0] - ONE_PLACE_M) & (x_m <= self.x_m[-1] + ONE_PLACE_M)
        return inside

    def at(self, x_m: FloatArray) -> dict[str, FloatArray]:
        """Return the section's columns of the vocabulary at covered places (n,)."""
        after = np.clip(np.searchsorted(self.x_m, x_m, side="left"), 0, len(self.x_m) - 1)
        on = self.x_m[after] == x_m
        before = np.where(on, after, np.maximum(after - 1, 0))
        found = {name: np.interp(x_m, self.x_m, self.numbers[name]) for name in _NUMBERS}
        for name in ("yield_mpa", "tensile_mpa"):
            found[name] = np.minimum(self.numbers[name][before], self.numbers[name][after])
        return found

    def still_water(self, x_m: FloatArray) -> dict[str, FloatArray]:
        """Return the permissible still-water loads at places (n,), level beyond the ends."""
        return {
            "still_water_moment_mnm": np.interp(x_m, self.water_x_m, self.water_moment_mnm),
            "still_water_shear_mn": np.interp(x_m, self.water_x_m, self.water_shear_mn),
        }


def check_girder(ship: Ship, findings: Findings) -> None:
    """Refuse a hull girder that its description alone shows to be wrong; name grades that need a look.

    Raises InputError naming the field: places that do not go forward, moduli without still-water loads or members
    without sections, unknown grades and sections.
    """
    given = ship.hull_girder
    for name, places in (("sections", given.sections), ("still_water", given.still_water)):
        _check_forward(name, [place.x_m for place in places])
    if given.sections and not given.still_water:
        raise InputError(
            f"{FIELD}.still_water", "sections are given, and no permissible still-water loads",
            allowed="at least one place",
        )  # fmt: skip
    for name, members in (("plates", given.plates), ("stiffeners", given.stiffeners)):
        if members and not given.sections:
            raise InputError(f"{FIELD}.sections", f"{name} are given, and no section", allowed="at least one section")
        _check_extents(name, members, given.sections)
    for where, line in _graded(ship):
        findings.extend(grade_findings(hull_steels().steel(grade_of(line, ship), where=where), where=where))
        band_of(line, ship, where)
    for number, stiffener in enumerate(given.stiffeners, 1):
        section(stiffener.section, where=f"{FIELD}.stiffeners[{number}].section")


def given_girder(ship: Ship) -> GivenGirder:
    """Return the girder as arrays; it has been checked."""
    given = ship.hull_girder
    bands = [band_of(line, ship, f"{FIELD}.sections[{n}].grade") for n, line in enumerate(given.sections, 1)]
    numbers = {name: np.array([getattr(line, name) for line in given.sections], dtype=np.float64) for name in _NUMBERS}
    return GivenGirder(
        x_m=np.array([line.x_m for line in given.sections], dtype=np.float64),
        numbers=numbers
        | {
            "yield_mpa": np.array([band.yield_MPa for band in bands], dtype=np.float64),
            "tensile_mpa": np.array([band.tensile_min_MPa for band in bands], dtype=np.float64),
        },
        water_x_m=np.array([line.x_m for line in given.still_water], dtype=np.float64),
        water_moment_mnm=np.array([line.bending_moment_sagging_mnm for line in given.still_water], dtype=np.float64),
        water_shear_mn=np.array([line.shear_force_mn for line in given.still_water], dtype=np.float64),
    )


def grade_of(line: HullSection | Place, ship: Ship) -> str:
    """Return the grade of a section or member: its own, else the ship's plate grade."""
    return line.grade or ship.steel.plate_grade


def band_of(line: HullSection | Place, ship: Ship, where: str) -> SteelBand:
    """Return the strength of a section's or member's steel; InputError where its thickness is needed and not given."""
    return hull_steels().steel(grade_of(line, ship), where=where).band(line.thickness_as_built_mm)


def strength_cells(ship: Ship) -> tuple[Cell, ...]:
    """Return the yield and tensile strengths that were used, with the standing of each."""
    found: dict[Cell, None] = {}
    table = hull_steels()
    title = f"{table.header['document']}: {table.header['table']}"
    for where, line in _graded(ship):
        grade, band = grade_of(line, ship), band_of(line, ship, where)
        found |= dict.fromkeys(table.cells_used([grade]))
        keys = (("grade", table.steel(grade).grade), ("column", "tensile_min_MPa"))
        found[Cell(table=title, keys=keys, value=band.tensile_min_MPa, status=band.other_status)] = None
    return tuple(found)


def _graded(ship: Ship) -> list[tuple[str, Any]]:
    """Every line of the girder that has a grade, with its field."""
    given = ship.hull_girder
    groups = (("sections", given.sections), ("plates", given.plates), ("stiffeners", given.stiffeners))
    return [(f"{FIELD}.{name}[{n}].grade", line) for name, lines in groups for n, line in enumerate(lines, 1)]


def _check_forward(name: str, places: Sequence[float]) -> None:
    """Refuse places that do not go forward."""
    for number, (here, there) in enumerate(pairwise(places), 2):
        if not there > here:
            raise InputError(
                f"{FIELD}.{name}[{number}].x_m", "places must go forward", value=there, unit="m",
                allowed=f"more than {here:g}",
            )  # fmt: skip


def _check_extents(name: str, members: Sequence[Place], sections: Sequence[HullSection]) -> None:
    """Refuse a member that lies nowhere between the sections."""
    for number, member in enumerate(members, 1):
        low, high = sections[0].x_m, sections[-1].x_m
        aft, fore = member_extent(member, low, high)
        if not low <= aft <= fore <= high:
            raise InputError(
                f"{FIELD}.{name}[{number}]", "does not lie between the aftmost and the foremost section",
                value=f"x {aft:g} to {fore:g}", unit="m", allowed=f"x {low:g} to {high:g} m, from aft forward",
            )  # fmt: skip


def member_extent(member: Place, low_m: float, high_m: float) -> tuple[float, float]:
    """Return the ends of a member [m]: its own, else those of the sections (``low_m``, ``high_m``)."""
    aft = low_m if member.from_x_m is None else member.from_x_m
    fore = high_m if member.to_x_m is None else member.to_x_m
    return aft, fore
