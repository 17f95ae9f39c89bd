"""The yield stress of plates and sections by their as-built thickness: some grades are weaker when thick."""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike

from beltwright.core.units import FloatArray, IntArray, LabelArray
from beltwright.materials.hull_steel import hull_steels


def by_thickness(grades: LabelArray, thickness_as_built_mm: ArrayLike, *, where: str) -> FloatArray:
    """Return the yield stress (n,) [MPa] of grades at as-built thicknesses [mm].

    Where no thickness is known (NaN) the yield of the grade's thinnest plates is returned: nothing is thinner, so a
    requirement that starts there grows as the thickness becomes known. Raises InputError naming ``where`` for a
    thickness that the grade is not made in.
    """
    thickness = np.broadcast_to(np.asarray(thickness_as_built_mm, dtype=np.float64), grades.shape)
    known = ~np.isnan(thickness)
    names, inverse = np.unique(grades, return_inverse=True)
    start = np.array([hull_steels().steel(str(name), where=where).thinnest.yield_MPa for name in names])
    yields: FloatArray = start[inverse] if len(names) else np.zeros(0)
    if known.any():
        yields[known] = hull_steels().yields_MPa(grades[known], as_built_thickness_mm=thickness[known], where=where)
    return yields


class SectionYields:
    """The yield stress of spans (n,) in any section: by grade and by the thicker of web and flange as built."""

    def __init__(self, grades: LabelArray, thickest_as_built_mm: FloatArray) -> None:
        names, self._row = np.unique(grades, return_inverse=True)
        self._yields = np.full((len(names), len(thickest_as_built_mm)), np.nan)
        for row, name in enumerate(names):
            for band in hull_steels().steel(str(name)).bands:
                inside = (thickest_as_built_mm > band.over_mm) & (thickest_as_built_mm <= band.upto_mm)
                self._yields[row, inside] = band.yield_MPa

    def of(self, spans: IntArray, sections: IntArray) -> FloatArray:
        """Return the yield stress (m,) [MPa] of spans (m,) in sections (m,), both by row.

        NaN where the grade is not made so thick: a section without a yield passes no check.
        """
        found: FloatArray = self._yields[self._row[spans], sections]
        return found
