"""What the steel grades have to say to the engineer, numbered."""

from __future__ import annotations

from typing import Final

from beltwright.core.findings import Finding, Severity, register
from beltwright.materials.hull_steel import HullSteel

STRONG_STEEL: Final = register(
    "BW311",
    Severity.CAUTION,
    "The steel is stronger than ordinary hull steel",
    "Its full yield stress enters the requirements. Above 390 MPa this needs the agreement of class, and neither "
    "fatigue nor buckling strength rises with it; the values of UR W16 here are recalled, not confirmed.",
)
NOT_IN_W11: Final = register(
    "BW312",
    Severity.CAUTION,
    "The grade is not in the unified requirement for hull steel",
    "Grades of 265 MPa stand in the rules of some societies only; confirm that yours accepts it.",
)

ORDINARY_UPTO_MPA: Final = 390.0  # the strongest grade of UR W11, grade 40
_SOCIETY_ONLY = "27S"


def grade_findings(steel: HullSteel, *, where: str) -> tuple[Finding, ...]:
    """Return what is to be said about the use of a grade; ``where`` names the field."""
    strongest = max(band.yield_MPa for band in steel.bands)
    found = []
    if strongest > ORDINARY_UPTO_MPA:
        message = f"{steel.grade} has a yield stress of {strongest:g} MPa, above {ORDINARY_UPTO_MPA:g} MPa"
        found.append(Finding(kind=STRONG_STEEL, where=where, message=message))
    if steel.grade.endswith(_SOCIETY_ONLY):
        message = f"{steel.grade} has a yield stress of {strongest:g} MPa"
        found.append(Finding(kind=NOT_IN_W11, where=where, message=message))
    return tuple(found)
