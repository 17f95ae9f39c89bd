"""What the sections have to say to the engineer, numbered."""

from __future__ import annotations

from typing import Final

import numpy as np

from beltwright.core.findings import Finding, Severity, register
from beltwright.core.provenance import Status
from beltwright.sections.table import SectionTable

UNLISTED_ANGLE: Final = register(
    "BW301",
    Severity.CAUTION,
    "A rolled angle is in no list of sizes",
    "Its corner radii are left out, so its mass is up to 1.5 % low; its rule properties are not affected. Confirm that "
    "a mill rolls it, take a listed size, or write it as a built-up angle.",
)


def section_findings(table: SectionTable, *, where: str) -> tuple[Finding, ...]:
    """Return what is to be said about the sections of a table, one finding per section; ``where`` names the field."""
    rows = np.flatnonzero(table.shapes.is_rolled_angle & (table.status == Status.CHOICE.value))
    names = dict.fromkeys(table.name[rows].tolist())
    return tuple(Finding(kind=UNLISTED_ANGLE, where=where, message=f"{name} is not a listed size") for name in names)
