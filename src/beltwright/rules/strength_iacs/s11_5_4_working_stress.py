"""UR S11.5.4: working stresses of the hull girder, with the ice's moment and force in the place of the wave's."""

from __future__ import annotations

import numpy as np

from beltwright.core.provenance import Status
from beltwright.core.units import MN, CubicMetres, MNm, MPa, SquareMetres
from beltwright.rules.strength_iacs.documents import DOCUMENT


@DOCUMENT.clause("S11.5.4.1", title="longitudinal stress", symbol="sigma_a", status=Status.MEMORY,
                 note="(M_s + M_I) y / I, with the modulus I/y as given; the floor of 30/k is for waves")  # fmt: skip
def bending_stress(*, still_water_moment_mnm: MNm, ice_moment_mnm: MNm, modulus_m3: CubicMetres) -> MPa:
    """Bending stress at one fibre of the hull girder [N/mm2]. Source: UR S11.5.4.1, recalled."""
    return (still_water_moment_mnm + ice_moment_mnm) / modulus_m3


@DOCUMENT.clause("S11.5.4.2", title="shear stress", symbol="tau_a", status=Status.MEMORY,
                 note="0.5 (F_s + F_I) S / (I t) per side, with the effective shear area 2 t I / S")  # fmt: skip
def shear_stress(
    *, still_water_shear_mn: MN, ice_shear_positive_mn: MN, ice_shear_negative_mn: MN, shear_area_m2: SquareMetres
) -> MPa:
    """Shear stress of the hull girder [N/mm2]; the greater of both signs of the ice's force, on the still water's.

    Source: UR S11.5.4.2, recalled.
    """
    greater = np.maximum(ice_shear_positive_mn, -ice_shear_negative_mn)
    return (still_water_shear_mn + greater) / shear_area_m2
