"""4.4.4: what holds for all frames: web thickness, support against tripping; and what a frame is held to in all."""

from __future__ import annotations

import numpy as np

from beltwright.core.provenance import Status
from beltwright.core.units import Cm2, Cm3, Degrees, Flag, Label, Metres, Millimetres, MPa, Ratio
from beltwright.rules.baltic_traficom_2021.documents import DOCUMENT
from beltwright.rules.baltic_traficom_2021.tables import DISTANCES, TRIPPING


@DOCUMENT.clause("4.4.1", title="whether the frame is strengthened", symbol="strengthened", status=Status.TEXT)
def frame_strengthened(*, transverse_holds: Flag, longitudinal_holds: Flag) -> Flag:
    """Whether any requirement holds for the frame. Source: FSICR 2021, 4.4.1 and 4.4.2 (text)."""
    return transverse_holds | longitudinal_holds


@DOCUMENT.clause("4.4.2", title="whether the framing formulas have a value", symbol="in scope", status=Status.CHOICE,
                 note="a load higher than the span, f_4 not above 0, or f_2 not defined; see DECISIONS")  # fmt: skip
def framing_in_scope(
    *,
    transverse_holds: Flag,
    load_height_m: Metres,
    span_m: Metres,
    longitudinal_holds: Flag,
    neighbour_factor: Ratio,
    plating_in_scope: Flag,
    ends_held: Flag,
) -> Flag:
    """Whether the formulas that hold for a frame have a value; a written reason holds a short one at h/l = 1."""
    across = ~transverse_holds | (load_height_m <= span_m) | ends_held
    along = ~longitudinal_holds | (neighbour_factor > 0.0)
    return across & along & (plating_in_scope | ~(transverse_holds | longitudinal_holds))


@DOCUMENT.clause("4.4.2", title="section modulus required", symbol="Z", status=Status.CHOICE,
                 note="the greater one of oblique framing; out of scope nothing suffices")  # fmt: skip
def modulus_required(
    *,
    in_scope: Flag,
    transverse_holds: Flag,
    modulus_transverse_cm3: Cm3,
    longitudinal_holds: Flag,
    modulus_longitudinal_cm3: Cm3,
) -> Cm3:
    """Section modulus required of a frame with its attached plate [cm3]: the greater of the formulas that hold."""
    greater = np.maximum(
        np.where(transverse_holds, modulus_transverse_cm3, 0.0),
        np.where(longitudinal_holds, modulus_longitudinal_cm3, 0.0),
    )
    return np.where(in_scope, greater, np.inf)


@DOCUMENT.clause("4.4.2", title="shear area required", symbol="A", status=Status.CHOICE,
                 note="the greater one of oblique framing; out of scope nothing suffices")  # fmt: skip
def shear_area_required(
    *,
    in_scope: Flag,
    transverse_holds: Flag,
    shear_area_transverse_cm2: Cm2,
    longitudinal_holds: Flag,
    shear_area_longitudinal_cm2: Cm2,
) -> Cm2:
    """Effective shear area required of a frame [cm2]: the greater of the formulas that hold."""
    greater = np.maximum(
        np.where(transverse_holds, shear_area_transverse_cm2, 0.0),
        np.where(longitudinal_holds, shear_area_longitudinal_cm2, 0.0),
    )
    return np.where(in_scope, greater, np.inf)


@DOCUMENT.clause("4.4.4.2", title="slenderness constant of the web", symbol="C", status=Status.TEXT)
def web_constant(*, section_kind: Label) -> Ratio:
    """Constant C of the web's slenderness [-]: 282 for flat bars, 805 for profiles. FSICR 2021, 4.4.4 (text)."""
    return np.where(section_kind == "flat", 282.0, 805.0)


@DOCUMENT.clause("4.4.4.2", title="least web thickness", symbol="t_w,min", status=Status.TEXT)
def web_thickness_least(
    *,
    frame_strengthened: Flag,
    in_scope: Flag,
    web_height_mm: Millimetres,
    yield_mpa: MPa,
    web_constant: Ratio,
    shell_net_mm: Millimetres,
) -> Millimetres:
    """Least web thickness of a frame [mm]: slenderness, half the net shell for the frame's own yield, 9 mm.

    Source: FSICR 2021, 4.4.4 (text).
    """
    greatest = np.maximum(np.maximum(web_height_mm * np.sqrt(yield_mpa) / web_constant, shell_net_mm / 2.0), 9.0)
    return np.where(in_scope, np.where(frame_strengthened, greatest, 0.0), np.inf)


@DOCUMENT.clause("4.4.4.3", title="whether frames of at most 4 m are supported against tripping", symbol="short frames",
                 status=Status.TEXT, table=TRIPPING)  # fmt: skip
def tripping_of_short_frames(*, ice_class: Label, region: Label) -> Label:
    """Whether short frames of the region are supported against tripping: yes or no. FSICR 2021, 4.4.4 (text)."""
    return TRIPPING.words(ice_class, region)


@DOCUMENT.clause("4.4.4.3", title="whether support against tripping is asked for", symbol="tripping",
                 status=Status.TEXT)  # fmt: skip
def tripping_asked(
    *,
    frame_strengthened: Flag,
    section_kind: Label,
    web_angle_deg: Degrees,
    span_m: Metres,
    tripping_of_short_frames: Label,
) -> Flag:
    """Whether a frame is supported against tripping: unsymmetrical, or its web not normal to the shell.

    Spans above 4 m everywhere, shorter ones by class and region. Source: FSICR 2021, 4.4.4 (text).
    """
    oblique = (section_kind == "angle") | (section_kind == "bulb") | (web_angle_deg < 90.0)
    return np.asarray(frame_strengthened & oblique & ((span_m > 4.0) | (tripping_of_short_frames == "yes")))


@DOCUMENT.clause("4.4.4.3", title="distance between supports against tripping", symbol="l_trip", status=Status.TEXT,
                 note="0 where none is asked for; the symbol is ours")  # fmt: skip
def tripping_distance(*, tripping_asked: Flag, tripping_support_m: Metres) -> Metres:
    """Distance between supports against tripping to compare [m]. Source: FSICR 2021, 4.4.4 (text)."""
    return np.where(tripping_asked, tripping_support_m, 0.0)


@DOCUMENT.clause("4.4.4.3", title="greatest distance between supports against tripping", symbol="l_trip,max",
                 status=Status.TEXT, table=DISTANCES, note="the symbol is ours")  # fmt: skip
def tripping_distance_most(*, limit: Label) -> Metres:
    """Greatest distance, ``limit`` = "supports against tripping" [m]. Source: FSICR 2021, 4.4.4 (text)."""
    return DISTANCES.numbers(limit)


@DOCUMENT.clause("4.1", title="section modulus fitted, with the effective attached plate", symbol="Z_fitted",
                 status=Status.TEXT)  # fmt: skip
def modulus_offered(*, section_modulus_cm3: Cm3) -> Cm3:
    """Elastic section modulus of the effective cross-section [cm3]. Source: FSICR 2021, 4.1 (text)."""
    return section_modulus_cm3


@DOCUMENT.clause("4.1", title="shear area fitted", symbol="A_fitted", status=Status.TEXT)
def shear_area_offered(*, shear_area_cm2: Cm2) -> Cm2:
    """Effective shear area of the cross-section [cm2]. Source: FSICR 2021, 4.1 (text)."""
    return shear_area_cm2
