"""UR I2.6: local frames in bottom structures and transverse local frames in the side."""

from __future__ import annotations

import numpy as np

from beltwright.core.provenance import Status
from beltwright.core.units import Cm2, Cm3, Flag, Metres, Millimetres, MPa, Ratio
from beltwright.rules.polar_iacs_2019.documents import DOCUMENT


@DOCUMENT.clause("I2.6.2", title="length of the loaded part of the span", symbol="LL", status=Status.TEXT)
def loaded_length(*, span_m: Metres, patch_height_m: Metres) -> Metres:
    """Length of the loaded part of the span [m], the lesser of span and patch height. Source: UR I2.6.2 (text)."""
    return np.minimum(span_m, patch_height_m)


@DOCUMENT.clause("I2.6.2", title="shear area required, transverse", symbol="A_t", status=Status.TEXT)
def shear_area_transverse(
    *,
    loaded_length_m: Metres,
    spacing_m: Metres,
    area_factor: Ratio,
    frame_peak_transverse: Ratio,
    pressure_mpa: MPa,
    yield_mpa: MPa,
) -> Cm2:
    """Net shear area required of a transverse or bottom frame [cm2]. Source: UR I2.6.2 (text)."""
    return (
        100.0**2
        * 0.5
        * loaded_length_m
        * spacing_m
        * (area_factor * frame_peak_transverse * pressure_mpa)
        / (0.577 * yield_mpa)
    )


@DOCUMENT.clause("I2.6.3", title="factor for the loaded part of the span", symbol="Y", status=Status.MEMORY_CHECKED)
def span_factor(*, loaded_length_m: Metres, span_m: Metres) -> Ratio:
    """Factor Y [-]. Source: UR I2.6.3, recalled; agrees with limit analysis."""
    return 1.0 - 0.5 * loaded_length_m / span_m


@DOCUMENT.clause("I2.6.3", title="end fixity", symbol="j", status=Status.MEMORY)
def fixity(*, one_end_simply_supported: Flag) -> Ratio:
    """Fixity j [-]: 1 with one simple support outside the ice-strengthened areas, 2 with none. Recalled."""
    return np.where(one_end_simply_supported, 1.0, 2.0)


@DOCUMENT.clause("I2.6.3", title="shear utilisation of the frame", symbol="a_1", status=Status.MEMORY,
                 note="above 1 the formula has no value; taken at 1, the shear check judges the area")  # fmt: skip
def shear_utilisation(*, shear_area_transverse_cm2: Cm2, shear_area_net_cm2: Cm2) -> Ratio:
    """Required over fitted shear area a_1 [-], at most 1, the limit of the modulus formula. Recalled.

    Beyond it the shear check fails where transverse framing counts alone; of an oblique frame it judges the
    interpolated area.
    """
    return np.minimum(shear_area_transverse_cm2 / shear_area_net_cm2, 1.0)


@DOCUMENT.clause("I2.6.3", title="bending under a load at mid-span", symbol="A_1A", status=Status.MEMORY_CHECKED)
def mid_span_factor(*, fixity: Ratio, web_share: Ratio, shear_utilisation: Ratio) -> Ratio:
    """Factor A_1A [-]: three-hinge collapse with shear taken off the web. Source: UR I2.6.3, recalled."""
    return 1.0 / (1.0 + fixity / 2.0 + web_share * fixity / 2.0 * (np.sqrt(1.0 - shear_utilisation**2) - 1.0))


@DOCUMENT.clause("I2.6.3", title="modulus of flange and plate about their own axes", symbol="z_p", status=Status.MEMORY)
def own_modulus(
    *,
    flange_breadth_mm: Millimetres,
    flange_net_mm: Millimetres,
    spacing_m: Metres,
    plate_net_fitted_mm: Millimetres,
) -> Cm3:
    """Sum of the plastic moduli of flange and plate about their own mid-planes [cm3]; plate breadth 500 s in mm.

    Source: UR I2.6.3, recalled.
    """
    effective_breadth = 500.0 * spacing_m
    return (flange_breadth_mm * flange_net_mm**2 / 4.0 + effective_breadth * plate_net_fitted_mm**2 / 4.0) / 1000.0


@DOCUMENT.clause("I2.6.3", title="share of the own moduli", symbol="k_z", status=Status.MEMORY)
def own_modulus_share(*, end_brackets: Flag, own_modulus_cm3: Cm3, plastic_modulus_net_cm3: Cm3) -> Ratio:
    """Factor k_z [-]: z_p over Z_p; 0 for a frame with end brackets. Source: UR I2.6.3, recalled."""
    return np.where(end_brackets, 0.0, own_modulus_cm3 / np.maximum(plastic_modulus_net_cm3, 0.001))


@DOCUMENT.clause("I2.6.3", title="shear at the end of the span", symbol="A_1B", status=Status.MEMORY_CHECKED)
def end_shear_factor(*, shear_utilisation: Ratio, span_factor: Ratio, own_modulus_share: Ratio) -> Ratio:
    """Factor A_1B [-]: load near a support; negative for small shear, where A_1A governs. Recalled."""
    return (1.0 - 1.0 / (2.0 * shear_utilisation * span_factor)) / (0.275 + 1.44 * own_modulus_share**0.7)


@DOCUMENT.clause("I2.6.3", title="factor for bending and shear", symbol="A_1", status=Status.MEMORY_CHECKED)
def bending_factor(*, mid_span_factor: Ratio, end_shear_factor: Ratio) -> Ratio:
    """Factor A_1 [-], the greater of A_1A and A_1B. Source: UR I2.6.3, recalled."""
    return np.maximum(mid_span_factor, end_shear_factor)


@DOCUMENT.clause("I2.6.3", title="plastic section modulus required, transverse", symbol="Z_pt",
                 status=Status.MEMORY_CHECKED)  # fmt: skip
def modulus_transverse(
    *,
    loaded_length_m: Metres,
    span_factor: Ratio,
    spacing_m: Metres,
    area_factor: Ratio,
    frame_peak_transverse: Ratio,
    pressure_mpa: MPa,
    span_m: Metres,
    bending_factor: Ratio,
    yield_mpa: MPa,
) -> Cm3:
    """Net plastic section modulus required of a transverse or bottom frame [cm3]. Source: UR I2.6.3, recalled."""
    return (
        100.0**3
        * loaded_length_m
        * span_factor
        * spacing_m
        * (area_factor * frame_peak_transverse * pressure_mpa)
        * span_m
        * bending_factor
        / (4.0 * yield_mpa)
    )
