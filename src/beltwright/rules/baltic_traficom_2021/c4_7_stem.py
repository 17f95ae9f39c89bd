"""4.7: the stem, and blunt bows."""

from __future__ import annotations

import numpy as np

from beltwright.core.provenance import Status
from beltwright.core.units import Label, Metres, Millimetres, MPa, Ratio
from beltwright.rules.baltic_traficom_2021.documents import DOCUMENT
from beltwright.rules.baltic_traficom_2021.tables import DISTANCES


@DOCUMENT.clause("4.7", title="loaded length of the stem plating", symbol="l_a", status=Status.TEXT)
def stem_loaded_length(*, vertical_support_spacing_m: Metres) -> Metres:
    """Loaded length [m]: spacing of the vertical supporting elements. Source: FSICR 2021, 4.7 (text)."""
    return vertical_support_spacing_m


@DOCUMENT.clause("4.7", title="thickness required of the stem plating", symbol="t", status=Status.TEXT)
def stem_thickness(
    *, spacing_m: Metres, plate_factor_transverse: Ratio, pressure_mpa: MPa, yield_mpa: MPa, abrasion_mm: Millimetres
) -> Millimetres:
    """Thickness of a stem of shaped plates [mm]: the transverse formula with the whole pressure. FSICR 2021, 4.7."""
    return 667.0 * spacing_m * np.sqrt(plate_factor_transverse * pressure_mpa / yield_mpa) + abrasion_mm


@DOCUMENT.clause("4.7", title="greatest spacing of floors or brackets behind the stem", symbol="s_floor,max",
                 status=Status.TEXT, table=DISTANCES, note="the symbol is ours")  # fmt: skip
def stem_floor_spacing_most(*, limit: Label) -> Metres:
    """Greatest spacing of floors or brackets, ``limit`` = "floors behind the stem" [m]. Source: FSICR 2021, 4.7."""
    return DISTANCES.numbers(limit)


@DOCUMENT.clause("4.7", title="least thickness of floors or brackets behind the stem", symbol="t_floor,min",
                 status=Status.TEXT, note="the symbol is ours")  # fmt: skip
def stem_floor_thickness_least(*, plate_fitted_mm: Millimetres) -> Millimetres:
    """Least thickness of floors or brackets [mm]: half that of the plate. Source: FSICR 2021, 4.7 (text)."""
    return plate_fitted_mm / 2.0


@DOCUMENT.clause("4.7", title="least height of the reinforcement above UIWL", symbol="z_stem", status=Status.TEXT,
                 note="the symbol is ours")  # fmt: skip
def stem_top_least(*, upper_belt_above_upper_m: Metres) -> Metres:
    """Height above UIWL to which the stem is reinforced [m]: 0.75 m, or the top of the upper bow ice belt.

    ``upper_belt_above_upper_m`` is 0 without an upper bow ice belt. Source: FSICR 2021, 4.7 (text).
    """
    return np.maximum(0.75, upper_belt_above_upper_m)
