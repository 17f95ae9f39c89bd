"""UR S11.5.2: elastic buckling stresses of plates, and of stiffeners along the compression.

Stresses in N/mm2 (MPa), thicknesses and section dimensions in mm, spacing and span in m, areas in cm2, inertias in cm4.
All net.
"""

from __future__ import annotations

import numpy as np

from beltwright.core.provenance import Status
from beltwright.core.units import Cm2, Cm4, Flag, Label, Metres, Millimetres, MPa, Ratio
from beltwright.rules.strength_iacs.documents import DOCUMENT
from beltwright.rules.strength_iacs.tables import STIFFENING


@DOCUMENT.clause("S11.5.2.1", title="stiffening coefficient of the plate's long edges", symbol="c",
                 status=Status.MEMORY, table=STIFFENING, reads=({},))  # fmt: skip
def stiffening_coefficient(*, edge_stiffener: Label) -> Ratio:
    """Coefficient c [-] of plating whose stiffeners lie across the compression. Source: UR S11.5.2.1, recalled."""
    return STIFFENING.numbers(edge_stiffener)


@DOCUMENT.clause("S11.5.2.1", title="buckling factor, stiffeners along the compression", symbol="m_along",
                 status=Status.MEMORY)  # fmt: skip
def factor_along(*, stress_ratio: Ratio) -> Ratio:
    """Buckling factor m [-] of plating between stiffeners that lie along the compression, 0 <= psi <= 1.

    Source: UR S11.5.2.1, recalled.
    """
    return 8.4 / (stress_ratio + 1.1)


@DOCUMENT.clause("S11.5.2.1", title="buckling factor in compression", symbol="m", status=Status.MEMORY)
def compression_factor(
    *, stiffeners_along: Flag, factor_along: Ratio, stiffening_coefficient: Ratio, short_side_m: Metres,
    long_side_m: Metres, stress_ratio: Ratio,
) -> Ratio:  # fmt: skip
    """Buckling factor m [-] for 0 <= psi <= 1, by the direction of the stiffeners. Source: UR S11.5.2.1, recalled."""
    across = stiffening_coefficient * (1.0 + (short_side_m / long_side_m) ** 2) ** 2 * 2.1 / (stress_ratio + 1.1)
    return np.where(stiffeners_along, factor_along, across)


@DOCUMENT.clause("S11.5.2.1", title="elastic buckling stress in compression", symbol="sigma_E", status=Status.MEMORY)
def elastic_compression(*, compression_factor: Ratio, thickness_net_mm: Millimetres, short_side_m: Metres) -> MPa:
    """Elastic buckling stress of a plate in compression [N/mm2]. Source: UR S11.5.2.1, recalled."""
    return 0.9 * compression_factor * 2.06e5 * (thickness_net_mm / (1000.0 * short_side_m)) ** 2


@DOCUMENT.clause("S11.5.2.1", title="buckling factor in shear", symbol="k_t", status=Status.MEMORY)
def shear_factor(*, short_side_m: Metres, long_side_m: Metres) -> Ratio:
    """Buckling factor of a plate in shear [-]. Source: UR S11.5.2.1, recalled."""
    return 5.34 + 4.0 * (short_side_m / long_side_m) ** 2


@DOCUMENT.clause("S11.5.2.1", title="elastic buckling stress in shear", symbol="tau_E", status=Status.MEMORY)
def elastic_shear(*, shear_factor: Ratio, thickness_net_mm: Millimetres, short_side_m: Metres) -> MPa:
    """Elastic buckling stress of a plate in shear [N/mm2]. Source: UR S11.5.2.1, recalled."""
    return 0.9 * shear_factor * 2.06e5 * (thickness_net_mm / (1000.0 * short_side_m)) ** 2


@DOCUMENT.clause("S11.5.2.2.1", title="elastic buckling stress of a stiffener as a column", symbol="sigma_E,col",
                 status=Status.MEMORY)  # fmt: skip
def elastic_column(*, inertia_net_cm4: Cm4, area_net_cm2: Cm2, span_m: Metres) -> MPa:
    """Elastic stress of column buckling [N/mm2]; inertia and area with the attached plate.

    0.001 E I/(A l2); the exact Euler stress has 0.001 times 0.98696. Source: UR S11.5.2.2, recalled.
    """
    return 0.001 * 2.06e5 * inertia_net_cm4 / (area_net_cm2 * span_m**2)


@DOCUMENT.clause("S11.5.2.2.3", title="elastic buckling stress of a stiffener's web", symbol="sigma_E,web",
                 status=Status.MEMORY)  # fmt: skip
def elastic_web(*, web_net_mm: Millimetres, web_height_mm: Millimetres) -> MPa:
    """Elastic buckling stress of the web plating of a stiffener [N/mm2]. Source: UR S11.5.2.2, recalled."""
    return 3.8 * 2.06e5 * (web_net_mm / web_height_mm) ** 2
