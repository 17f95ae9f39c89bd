"""What has been told already, so that no number is told twice."""

from __future__ import annotations

from beltwright.report.calculation import CalculationLine, calculation, names_told
from beltwright.report.material import Calculation, Material


def told_names(material: Material, before: Calculation | None = None) -> set[str]:
    """Return the names told by the ship's calculations, in the order of printing, up to one of them."""
    known: set[str] = set()
    for told in (material.length_and_displacement, material.border_calculation, *material.load_calculations):
        if told is before:
            break
        known |= names_told(told.trace, told.wanted or None, known)
    return known


def lines_of(material: Material, told: Calculation) -> list[CalculationLine]:
    """Return the lines of one of the ship's calculations that no earlier one has told."""
    return calculation(told.trace, told.wanted or None, told_names(material, told))
