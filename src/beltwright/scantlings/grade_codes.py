"""The findings of steel grades, BW49x."""

from __future__ import annotations

from beltwright.core.findings import Severity, register

GRADE_TOO_LOW = register(
    "BW490",
    Severity.CAUTION,
    "A steel grade is below what the rules ask",
    "Take the grade named or a tougher one there (plates and frame_sections take a grade of their own), or a thinner "
    "plate of a lower row.",
)
NO_GRADE_ALLOWED = register(
    "BW491",
    Severity.CAUTION,
    "No grade of this strength is allowed at this thickness",
    "The table has a dash or ends here: take a thinner plate, the other strength, or agree the steel with class.",
)
GRADE_NOT_CHECKED = register(
    "BW492",
    Severity.NOTE,
    "Steel grades that are not checked",
    "No thickness is known there: web frames, and shell for which no plate is given. Give plates or a stock floor.",
)
SINGLE_STRAKE = register(
    "BW493",
    Severity.CAUTION,
    "A single strake of lower grade is used",
    "Only one side-shell strake may have it; keep its butts and seams where the drawing says, and agree it with class.",
)
SINGLE_STRAKE_UNUSED = register(
    "BW494",
    Severity.CAUTION,
    "The declared single strake is not used",
    "No panel lies wholly in it, or it is wider than the rules allow; levels at its edges would make panels of it.",
)
APPENDAGE_NOT_CHECKED = register(
    "BW496",
    Severity.NOTE,
    "The grade of an appendage is not checked",
    "Give the thickness of a plate (appendages); castings and forgings are settled with class for the temperature of "
    "service (item castings of the checklist).",
)
CATEGORY_NOT_USED = register(
    "BW495",
    Severity.CAUTION,
    "A declared structural category is not used",
    "No panel lies where this line of ship.toml points; check area, zone, frames and levels.",
)
