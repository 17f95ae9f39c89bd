"""UR I2.7: longitudinal local frames in the side."""

from __future__ import annotations

import numpy as np

from beltwright.core.provenance import Status
from beltwright.core.units import Cm2, Cm3, Metres, MPa, Ratio
from beltwright.rules.polar_iacs_2019.documents import DOCUMENT


@DOCUMENT.clause("I2.7.2", title="patch height over spacing", symbol="b'", status=Status.TEXT)
def patch_over_spacing(*, patch_height_m: Metres, spacing_m: Metres) -> Ratio:
    """Patch height over the spacing of longitudinals b' [-]. Source: UR I2.7.2 (text)."""
    return patch_height_m / spacing_m


@DOCUMENT.clause("I2.7.2", title="factor for load carried past the longitudinal", symbol="k_o", status=Status.TEXT,
                 note="b' <= 0.3 is outside the formula: taken as 1 and never met")  # fmt: skip
def load_share(*, patch_over_spacing: Ratio) -> Ratio:
    """Factor k_o [-]. Source: UR I2.7.2 (text). At b' <= 0.3 it has no meaning: the frame is out of scope."""
    return np.where(patch_over_spacing > 0.3, 1.0 - 0.3 / np.maximum(patch_over_spacing, 0.3), 1.0)


@DOCUMENT.clause("I2.7.2", title="height of load on one longitudinal", symbol="b_2", status=Status.TEXT)
def load_height(*, patch_over_spacing: Ratio, patch_height_m: Metres, spacing_m: Metres) -> Metres:
    """Height of load on one longitudinal b_2 [m]; continuous at b' = 2. Source: UR I2.7.2 (text)."""
    return np.where(patch_over_spacing < 2.0, patch_height_m * (1.0 - 0.25 * patch_over_spacing), spacing_m)


@DOCUMENT.clause("I2.7.2", title="effective height of load", symbol="b_1", status=Status.TEXT)
def effective_load_height(*, load_share: Ratio, load_height_m: Metres) -> Metres:
    """Effective height of load on one longitudinal b_1 [m]. Source: UR I2.7.2 (text)."""
    return load_share * load_height_m


@DOCUMENT.clause("I2.7.2", title="shear area required, longitudinal", symbol="A_L", status=Status.TEXT)
def shear_area_longitudinal(
    *,
    area_factor: Ratio,
    frame_peak_longitudinal: Ratio,
    pressure_mpa: MPa,
    effective_load_height_m: Metres,
    span_m: Metres,
    yield_mpa: MPa,
) -> Cm2:
    """Net shear area required of a longitudinal [cm2]. Source: UR I2.7.2 (text)."""
    return (
        100.0**2
        * (area_factor * frame_peak_longitudinal * pressure_mpa)
        * 0.5
        * effective_load_height_m
        * span_m
        / (0.577 * yield_mpa)
    )


@DOCUMENT.clause("I2.7.3", title="shear utilisation of the longitudinal", symbol="a_4", status=Status.MEMORY,
                 note="above 1 the formula has no value; taken at 1, the shear check judges the area")  # fmt: skip
def shear_utilisation_longitudinal(*, shear_area_longitudinal_cm2: Cm2, shear_area_net_cm2: Cm2) -> Ratio:
    """Required over fitted shear area a_4 [-], at most 1, the limit of the modulus formula. Recalled.

    Beyond it the shear check fails where longitudinal framing counts alone; of an oblique frame it judges the
    interpolated area.
    """
    return np.minimum(shear_area_longitudinal_cm2 / shear_area_net_cm2, 1.0)


@DOCUMENT.clause("I2.7.3", title="factor for bending and shear", symbol="A_4", status=Status.MEMORY_CHECKED)
def bending_factor_longitudinal(*, web_share: Ratio, shear_utilisation_longitudinal: Ratio) -> Ratio:
    """Factor A_4 [-]. Source: UR I2.7.3, recalled; agrees with limit analysis where shear vanishes."""
    return 1.0 / (2.0 + web_share * (np.sqrt(1.0 - shear_utilisation_longitudinal**2) - 1.0))


@DOCUMENT.clause("I2.7.3", title="plastic section modulus required, longitudinal", symbol="Z_pL",
                 status=Status.MEMORY_CHECKED)  # fmt: skip
def modulus_longitudinal(
    *,
    area_factor: Ratio,
    frame_peak_longitudinal: Ratio,
    pressure_mpa: MPa,
    effective_load_height_m: Metres,
    span_m: Metres,
    bending_factor_longitudinal: Ratio,
    yield_mpa: MPa,
) -> Cm3:
    """Net plastic section modulus required of a longitudinal [cm3]. Source: UR I2.7.3, recalled."""
    return (
        100.0**3
        * (area_factor * frame_peak_longitudinal * pressure_mpa)
        * effective_load_height_m
        * span_m**2
        * bending_factor_longitudinal
        / (8.0 * yield_mpa)
    )
