"""Frame sections on the plates they stand on, as columns of the rule sets' vocabulary, worked out when asked for."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray

from beltwright.core.units import FloatArray, IntArray, LabelArray
from beltwright.scantlings.sectionstock import SectionStock
from beltwright.sections.attached import effective_breadth_m, elastic_with_plating, shear_area_cm2

ON_PLATE = ("plate_net_fitted_mm", "section_modulus_cm3")
"""The columns that have no value where a frame stands on no net plate."""


@dataclass(frozen=True, slots=True, kw_only=True)
class FrameSetting:
    """What every frame span brings to its check (n,): grade, its yield when thin, and the plate it stands on.

    The plate is the thinner one beside the span: net and as built [mm], NaN for none, and its yield stress [MPa].
    """

    grade: LabelArray
    yield_mpa: FloatArray
    plate_net_mm: FloatArray
    plate_as_built_mm: FloatArray
    plate_yield_mpa: FloatArray


class FittedSections:
    """The sections of a stock on the plates of frame spans; ``facts`` are the spans' columns (n,)."""

    def __init__(self, stock: SectionStock, setting: FrameSetting, facts: Mapping[str, NDArray[Any]]) -> None:
        self._stock, self._setting, self._facts = stock, setting, facts

    def columns(self, spans: IntArray, sections: IntArray, wanted: Collection[str]) -> dict[str, NDArray[Any]]:
        """Return the wanted columns of spans (m,) in sections (m,), both by row."""
        found = self._stock.columns(sections, wanted)
        if "shear_area_cm2" in wanted:
            built = self._stock.columns(sections, ("web_height_mm", "web_thickness_mm"))
            angle = self._facts["web_angle_deg"][spans]
            found["shear_area_cm2"] = shear_area_cm2(built["web_height_mm"], built["web_thickness_mm"], angle)
        if "section_modulus_cm3" in wanted:
            found["section_modulus_cm3"] = self._modulus(spans, sections)
        return found

    def _modulus(self, spans: IntArray, sections: IntArray) -> FloatArray:
        """The elastic section modulus on the effective plate; NaN where the span stands on no plate."""
        plate = self._setting.plate_as_built_mm[spans]
        bare = ~(self._setting.plate_net_mm[spans] > 0.0)
        breadth = effective_breadth_m(self._facts["spacing_m"][spans], self._facts["span_m"][spans])
        on_plate = elastic_with_plating(
            self._stock.gross(sections),
            as_built_plating_thickness_mm=np.where(bare, 1.0, plate),
            plating_breadth_mm=1000.0 * breadth,
            web_angle_deg=self._facts["web_angle_deg"][spans],
        )
        return np.where(bare, np.nan, on_plate.modulus_cm3)
