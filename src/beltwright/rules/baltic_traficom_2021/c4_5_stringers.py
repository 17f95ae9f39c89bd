"""4.5: ice stringers inside the ice belt, and outside it where they support ice-strengthened frames."""

from __future__ import annotations

import numpy as np

from beltwright.core.provenance import Status
from beltwright.core.units import Cm2, Cm3, Flag, Metres, MNPerM, MPa, Ratio
from beltwright.rules.baltic_traficom_2021.documents import DOCUMENT


@DOCUMENT.clause("4.5.1", title="section modulus required, stringer in the belt", symbol="Z", status=Status.TEXT)
def stringer_modulus_inside(
    *, line_load_mn_per_m: MNPerM, span_m: Metres, boundary_taken: Ratio, yield_mpa: MPa
) -> Cm3:
    """Section modulus of a stringer in the ice belt [cm3]; f_6 = 0.9, f_7 = 1.8. Source: FSICR 2021, 4.5.1 (text)."""
    return 0.9 * 1.8 * line_load_mn_per_m * span_m**2 / (boundary_taken * yield_mpa) * 1e6


@DOCUMENT.clause("4.5.1", title="shear area required, stringer in the belt", symbol="A", status=Status.TEXT)
def stringer_shear_inside(*, line_load_mn_per_m: MNPerM, span_m: Metres, yield_mpa: MPa) -> Cm2:
    """Shear area of a stringer in the ice belt [cm2]; f_6 = 0.9, f_7 = 1.8, f_8 = 1.2. FSICR 2021, 4.5.1 (text)."""
    return np.asarray(np.sqrt(3.0) * 0.9 * 1.8 * 1.2 * line_load_mn_per_m * span_m / (2.0 * yield_mpa) * 1e4)


@DOCUMENT.clause("4.5.2", title="section modulus required, stringer outside the belt", symbol="Z", status=Status.TEXT)
def stringer_modulus_outside(
    *, line_load_mn_per_m: MNPerM, span_m: Metres, boundary_taken: Ratio, yield_mpa: MPa, reach: Ratio
) -> Cm3:
    """Section modulus of a stringer outside the belt [cm3]; f_9 = 0.80, f_10 = 1.8. FSICR 2021, 4.5.2 (text)."""
    return 0.80 * 1.8 * line_load_mn_per_m * span_m**2 / (boundary_taken * yield_mpa) * reach * 1e6


@DOCUMENT.clause("4.5.2", title="shear area required, stringer outside the belt", symbol="A", status=Status.TEXT)
def stringer_shear_outside(*, line_load_mn_per_m: MNPerM, span_m: Metres, yield_mpa: MPa, reach: Ratio) -> Cm2:
    """Shear area of a stringer outside the belt [cm2]; f_9 = 0.80, f_10 = 1.8, f_11 = 1.2. FSICR 2021, 4.5.2 (text)."""
    return np.asarray(np.sqrt(3.0) * 0.80 * 1.8 * 1.2 * line_load_mn_per_m * span_m / (2.0 * yield_mpa) * reach * 1e4)


@DOCUMENT.clause("4.5", title="section modulus required of a stringer", symbol="Z", status=Status.TEXT)
def stringer_modulus(
    *, in_scope: Flag, in_belt: Flag, stringer_modulus_inside_cm3: Cm3, stringer_modulus_outside_cm3: Cm3
) -> Cm3:
    """Section modulus required of a stringer [cm3]; out of scope nothing suffices. Source: FSICR 2021, 4.5 (text)."""
    return np.where(in_scope, np.where(in_belt, stringer_modulus_inside_cm3, stringer_modulus_outside_cm3), np.inf)


@DOCUMENT.clause("4.5", title="shear area required of a stringer", symbol="A", status=Status.TEXT)
def stringer_shear(
    *, in_scope: Flag, in_belt: Flag, stringer_shear_inside_cm2: Cm2, stringer_shear_outside_cm2: Cm2
) -> Cm2:
    """Shear area required of a stringer [cm2]; out of scope nothing suffices. Source: FSICR 2021, 4.5 (text)."""
    return np.where(in_scope, np.where(in_belt, stringer_shear_inside_cm2, stringer_shear_outside_cm2), np.inf)
