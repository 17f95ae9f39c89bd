"""UR S11.5.2.2.2: elastic stress at which a stiffener turns over about its foot on the plate.

Section dimensions in mm, spacing and span in m, inertias in cm4 and cm6, stresses in N/mm2 (MPa), the plate's spring in
N (moment per length and angle). All net. Each part is recalled and agrees with the theory of thin-walled sections that
turn about a line (tests).
"""

from __future__ import annotations

import numpy as np

from beltwright.core.provenance import Status
from beltwright.core.units import Cm4, Cm6, Label, Metres, Millimetres, MPa, Newtons, Ratio
from beltwright.rules.strength_iacs.documents import DOCUMENT

_REF = "S11.5.2.2.2"


@DOCUMENT.clause(_REF, title="St Venant's moment of inertia, without plate", symbol="I_t", status=Status.MEMORY_CHECKED)
def st_venant_inertia(
    *, web_height_mm: Millimetres, web_net_mm: Millimetres, flange_breadth_mm: Millimetres, flange_net_mm: Millimetres
) -> Cm4:
    """Moment of inertia against twisting [cm4]: h_w t_w^3/3 and b_f t_f^3 (1 - 0.63 t_f/b_f)/3. Source: recalled."""
    return (web_height_mm * web_net_mm**3 + flange_net_mm**3 * (flange_breadth_mm - 0.63 * flange_net_mm)) / 3e4


@DOCUMENT.clause(_REF, title="polar moment of inertia about the foot", symbol="I_p", status=Status.MEMORY_CHECKED)
def polar_inertia(
    *, web_height_mm: Millimetres, web_net_mm: Millimetres, flange_breadth_mm: Millimetres, flange_net_mm: Millimetres
) -> Cm4:
    """Polar moment of inertia about the connection to the plate [cm4], h_w^3 t_w/3 + h_w^2 b_f t_f. Recalled."""
    return (web_height_mm**3 * web_net_mm / 3.0 + web_height_mm**2 * flange_breadth_mm * flange_net_mm) / 1e4


@DOCUMENT.clause(_REF, title="sectorial moment of inertia about the foot", symbol="I_w", status=Status.MEMORY_CHECKED)
def sectorial_inertia(
    *, section_kind: Label, web_height_mm: Millimetres, web_net_mm: Millimetres, flange_breadth_mm: Millimetres,
    flange_net_mm: Millimetres,
) -> Cm6:  # fmt: skip
    """Sectorial moment of inertia about the connection to the plate [cm6], by kind: flat, tee, angle and bulb.

    Source: recalled.
    """
    flat = web_height_mm**3 * web_net_mm**3 / 36e6
    tee = flange_net_mm * flange_breadth_mm**3 * web_height_mm**2 / 12e6
    flange_part = flange_net_mm * (
        flange_breadth_mm**2 + 2.0 * flange_breadth_mm * web_height_mm + 4.0 * web_height_mm**2
    )
    web_part = 3.0 * web_net_mm * flange_breadth_mm * web_height_mm
    one_sided = (
        flange_breadth_mm**3
        * web_height_mm**2
        * (flange_part + web_part)
        / (12e6 * (flange_breadth_mm + web_height_mm) ** 2)
    )
    return np.where(section_kind == "flat", flat, np.where(section_kind == "tee", tee, one_sided))


@DOCUMENT.clause(_REF, title="how far the plate still holds the stiffener", symbol="k_p", status=Status.MEMORY)
def plate_fixity(*, compression_mpa: MPa, plate_elastic_mpa: MPa, section_kind: Label) -> Ratio:
    """Share of the plate's stiffness that its own compression leaves [-]: 1 - sigma_a/sigma_Ep.

    Not less than 0, for flanged sections not less than 0.1. Source: recalled.
    """
    least = np.where(section_kind == "flat", 0.0, 0.1)
    return np.maximum(1.0 - compression_mpa / plate_elastic_mpa, least)


@DOCUMENT.clause(_REF, title="spring stiffness of the supporting plate", symbol="C", status=Status.MEMORY_CHECKED)
def plate_spring(
    *, plate_fixity: Ratio, plate_net_mm: Millimetres, spacing_m: Metres, web_height_mm: Millimetres,
    web_net_mm: Millimetres,
) -> Newtons:  # fmt: skip
    """Spring stiffness of the plate against turning [N], the web's own bending in it. Source: recalled."""
    web_bending = 1.0 + 1.33 * plate_fixity * web_height_mm * plate_net_mm**3 / (1000.0 * spacing_m * web_net_mm**3)
    return plate_fixity * 2.06e5 * plate_net_mm**3 / (3000.0 * spacing_m * web_bending)


@DOCUMENT.clause(_REF, title="plate's spring over the section's warping", symbol="K", status=Status.MEMORY_CHECKED)
def plate_ratio(*, plate_spring: Newtons, span_m: Metres, sectorial_inertia_cm6: Cm6) -> Ratio:
    """Spring of the plate over warping stiffness of the section [-]: C l^4/(pi^4 E I_w) 10^6. Source: recalled."""
    return 1e6 * plate_spring * span_m**4 / (np.pi**4 * 2.06e5 * sectorial_inertia_cm6)


@DOCUMENT.clause(_REF, title="number of half waves", symbol="m", status=Status.MEMORY_CHECKED,
                 note="one up to K = 4, two up to 36, three up to 144, m up to m^2 (m + 1)^2")  # fmt: skip
def half_waves(*, plate_ratio: Ratio) -> Ratio:
    """Number of half waves m over the span [-], the least with K <= m^2 (m + 1)^2. Source: recalled."""
    return np.maximum(1.0, np.ceil(np.sqrt(np.sqrt(plate_ratio) + 0.25) - 0.5))


@DOCUMENT.clause(_REF, title="elastic buckling stress of a stiffener turning over", symbol="sigma_E,tor",
                 status=Status.MEMORY_CHECKED)  # fmt: skip
def elastic_torsion(
    *, sectorial_inertia_cm6: Cm6, polar_inertia_cm4: Cm4, st_venant_inertia_cm4: Cm4, span_m: Metres,
    half_waves: Ratio, plate_ratio: Ratio,
) -> MPa:  # fmt: skip
    """Elastic stress of torsional buckling [N/mm2]. Source: recalled."""
    warping = np.pi**2 * 2.06e5 * sectorial_inertia_cm6 / (1e4 * polar_inertia_cm4 * span_m**2)
    return warping * (half_waves**2 + plate_ratio / half_waves**2) + (
        0.385 * 2.06e5 * st_venant_inertia_cm4 / polar_inertia_cm4
    )
