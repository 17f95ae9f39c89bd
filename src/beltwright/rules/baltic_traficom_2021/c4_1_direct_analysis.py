"""4.1: direct analysis of structure that the formulas do not cover: pressure, places of the patch, acceptance."""

from __future__ import annotations

import numpy as np

from beltwright.core.provenance import Status
from beltwright.core.units import Metres, MPa, Ratio
from beltwright.rules.baltic_traficom_2021.documents import DOCUMENT


@DOCUMENT.clause("4.1", title="pressure in direct analysis", symbol="p_direct", status=Status.TEXT,
                 note="the symbol is ours")  # fmt: skip
def direct_pressure(*, pressure_mpa: MPa) -> MPa:
    """Pressure on the load patch in direct analysis [MPa]: 1.8 times that of 4.2.2. Source: FSICR 2021, 4.1 (text)."""
    return 1.8 * pressure_mpa


@DOCUMENT.clause("4.1", title="centre of the lowest load patch", symbol="z_low", status=Status.TEXT,
                 note="the transcript prints h_0, read as h_i; the symbol is ours")  # fmt: skip
def lowest_patch_centre(*, lower_height_m: Metres, ice_thickness_m: Metres) -> Metres:
    """Height of the centre of the lowest patch above the baseline [m]: half an ice thickness below LIWL.

    Source: FSICR 2021, 4.1 (text).
    """
    return lower_height_m - 0.5 * ice_thickness_m


@DOCUMENT.clause("4.1", title="centre of a load patch between the highest and the lowest", symbol="z",
                 status=Status.CHOICE, note="the text asks for several levels; evenly spread by us")  # fmt: skip
def patch_centre(*, upper_height_m: Metres, lowest_patch_m: Metres, part: Ratio) -> Metres:
    """Height of a patch centre above the baseline [m]; ``part`` is 0 at UIWL and 1 at the lowest patch."""
    return upper_height_m + part * (lowest_patch_m - upper_height_m)


@DOCUMENT.clause("4.1", title="shear yield stress", symbol="tau_y", status=Status.TEXT)
def shear_yield(*, yield_mpa: MPa) -> MPa:
    """Shear stress at yield [MPa]. Source: FSICR 2021, 4.1 (text)."""
    return np.asarray(yield_mpa / np.sqrt(3.0))


@DOCUMENT.clause("4.1", title="greatest shear stress by beam theory", symbol="tau_max", status=Status.TEXT)
def shear_stress_limit(*, shear_yield_mpa: MPa) -> MPa:
    """Greatest shear stress where beam theory is used [MPa]. Source: FSICR 2021, 4.1 (text)."""
    return 0.9 * shear_yield_mpa


@DOCUMENT.clause("4.1", title="combined stress", symbol="sigma_vM", status=Status.TEXT)
def combined_stress(*, bending_stress_mpa: MPa, shear_stress_mpa: MPa) -> MPa:
    """Von Mises stress of bending and shear [MPa], to stay below the yield stress. Source: FSICR 2021, 4.1 (text)."""
    return np.asarray(np.sqrt(bending_stress_mpa**2 + 3.0 * shear_stress_mpa**2))
