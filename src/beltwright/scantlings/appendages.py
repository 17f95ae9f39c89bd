"""Stem, stern frame and appendages as members of the check of steel grades: those of plate whose thickness is given."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray

from beltwright.core.errors import InputError
from beltwright.core.findings import Findings
from beltwright.core.units import BoolArray, FloatArray, LabelArray
from beltwright.materials.codes import grade_findings
from beltwright.materials.hull_steel import hull_steels
from beltwright.scantlings import grade_codes
from beltwright.scantlings.design import HullMeasures
from beltwright.ship.appendages import Appendage
from beltwright.ship.model import Ship

NO_PART = "no part of its own"  # the word for shell plating and frames
PLATE = "plate"
_RUDDER = "rudder"
_FIELD = "ship.toml: appendages"


@dataclass(frozen=True, slots=True, kw_only=True)
class AppendagePlates:
    """The plates of appendages that are checked (n,): name, part, grade, thickness [mm] and place on the ship."""

    name: LabelArray
    part: LabelArray
    grade: LabelArray
    thickness_mm: FloatArray
    stress_concentration: BoolArray
    columns: dict[str, NDArray[Any]]


def check_appendages(ship: Ship, findings: Findings) -> None:
    """Refuse an appendage that its description alone shows to be wrong: InputError naming the field."""
    seen: set[str] = set()
    for number, part in enumerate(ship.appendages, 1):
        where = f"{_FIELD}[{number}]"
        if part.name in seen:
            raise InputError(f"{where}.name", "this name is taken already", value=part.name)
        seen.add(part.name)
        if not part.highest_m > part.lowest_m:
            raise InputError(
                f"{where}.highest_m", "must lie above the lowest point", value=part.highest_m, unit="m",
                allowed=f"more than {part.lowest_m:g}",
            )  # fmt: skip
        if part.made_of != PLATE and part.grade is not None:
            raise InputError(f"{where}.grade", f"a {part.made_of} has no grade of plate", value=part.grade)
        if part.stress_concentration and part.kind != _RUDDER:
            raise InputError(
                f"{where}.stress_concentration", "is asked of plates of a rudder only", value=part.kind,
                allowed=_RUDDER,
            )  # fmt: skip
        if part.made_of == PLATE:
            steel = hull_steels().steel(_grade(part, ship), where=f"{where}.grade")
            findings.extend(grade_findings(steel, where=f"{where}.grade"))


def appendage_plates(ship: Ship, measures: HullMeasures) -> AppendagePlates:
    """Return the plates whose grade can be checked, with the columns of place that the rules on grades read."""
    parts = [part for part in ship.appendages if _is_checked(part)]
    x = np.array([part.x_m for part in parts], dtype=np.float64)
    water = measures.lower.level.height(x)
    aft = measures.stem_x_m - x
    return AppendagePlates(
        name=_words([part.name for part in parts]),
        part=_words([part.kind for part in parts]),
        grade=_words([_grade(part, ship) for part in parts]),
        thickness_mm=np.array([part.thickness_as_built_mm for part in parts], dtype=np.float64),
        stress_concentration=np.array([part.stress_concentration for part in parts], dtype=bool),
        columns={
            "fore_end_m": aft,
            "aft_end_m": aft,
            "highest_above_lower_m": np.array([part.highest_m for part in parts], dtype=np.float64) - water,
            "lowest_above_lower_m": np.array([part.lowest_m for part in parts], dtype=np.float64) - water,
            "below_strength_deck_m": np.full(len(parts), np.inf),
            "bottom_shell": np.zeros(len(parts), dtype=bool),
            "bilge": np.zeros(len(parts), dtype=bool),
        },
    )


def report_unchecked(ship: Ship, findings: Findings) -> None:
    """Name the parts whose grade is not checked, with the reason."""
    for part in ship.appendages:
        if not _is_checked(part):
            why = "no thickness is given" if part.made_of == PLATE else f"a {part.made_of} has no grade of plate"
            findings.add(grade_codes.APPENDAGE_NOT_CHECKED, f"appendage {part.name}", f"{part.kind}: {why}")


def appendage_words(ship: Ship) -> str:
    """Return in one sentence which appendages are described and which of them are checked."""
    if not ship.appendages:
        return (
            "Stem, stern frame, rudder, nozzle and other appendages are not described in ship.toml (appendages): their "
            "grades are items of the checklist."
        )
    checked = [part.name for part in ship.appendages if _is_checked(part)]
    others = [part.name for part in ship.appendages if not _is_checked(part)]
    told = f"Stem, stern frame and appendages as described: checked are {', '.join(checked) or 'none'}"
    return told + (f"; not checked are {', '.join(others)}." if others else ".")


def _is_checked(part: Appendage) -> bool:
    """Whether a part is a plate of known thickness."""
    return part.made_of == PLATE and part.thickness_as_built_mm is not None


def _grade(part: Appendage, ship: Ship) -> str:
    """The grade of a plate: its own, else the shell's."""
    return part.grade or ship.steel.plate_grade


def _words(items: Sequence[str]) -> LabelArray:
    """Words as an array."""
    return np.array(items, dtype=np.str_) if items else np.zeros(0, dtype="<U1")
