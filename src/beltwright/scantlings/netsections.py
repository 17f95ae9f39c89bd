"""Frames as built beside their net plates, and the thickness below which a plate of a frame is renewed."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

import numpy as np
from numpy.typing import NDArray

from beltwright.core.columns import Column
from beltwright.core.units import FloatArray, IntArray, LabelArray, Unit
from beltwright.scantlings.members import NO_REQUIREMENT, NO_RESULT, Sheet
from beltwright.scantlings.sectionstock import SectionStock

NO_FLANGE = "the section has no flat flange"


def net_section_columns(
    sheet: Sheet,
    stock: SectionStock,
    section: IntArray,
    members: IntArray,
    governing: IntArray,
    out: Mapping[str, NDArray[Any]],
) -> None:
    """Add web and flange as built, net and at renewal to the frames' sheet, as far as the rule set gives them.

    ``section`` (n,) are rows of the stock, -1 for none; ``members`` (m,) those with a requirement and ``governing``
    (m,) their rows of the rule set's numbers ``out``. A flat bar or a bulb has no flange of even thickness to gauge.
    """
    asked = np.zeros(len(section), dtype=bool)
    asked[members] = True
    for part, built in zip(("web", "flange"), stock.thickness_as_built_mm(section), strict=True):
        missing = np.where(section < 0, NO_REQUIREMENT, np.where(np.isnan(built), NO_FLANGE, ""))
        sheet.column(f"{part}_as_built_mm", _mm(f"{part} as built", built, missing))
        for name, meaning in ((f"{part}_net_mm", f"net {part}"), (f"{part}_renewal_mm", f"{part} renewed below")):
            if name in out:
                data = np.full(len(section), np.nan)
                data[members] = out[name][governing]
                data[missing != ""] = np.nan
                lost = np.where(asked & ~np.isfinite(data), NO_RESULT, np.where(asked, "", NO_REQUIREMENT))
                sheet.column(name, _mm(meaning, data, np.where(missing != "", missing, lost)))


def _mm(meaning: str, data: FloatArray, reason: LabelArray) -> Column:
    """A column of thicknesses."""
    return Column(unit=Unit("mm"), meaning=meaning, data=data, reason=reason.astype(np.str_))
