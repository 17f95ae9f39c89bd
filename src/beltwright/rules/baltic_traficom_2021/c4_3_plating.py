"""4.3.2: shell plating in the ice belt."""

from __future__ import annotations

import numpy as np

from beltwright.core.provenance import Status
from beltwright.core.units import Degrees, Flag, Label, Metres, Millimetres, MPa, Ratio
from beltwright.rules.baltic_traficom_2021.documents import DOCUMENT
from beltwright.rules.baltic_traficom_2021.tables import ABRASION


@DOCUMENT.clause("4.3.1", title="whether the area asks for ice plating", symbol="plating", status=Status.TEXT)
def plating_asked(*, load_area: Label) -> Flag:
    """Whether plating is strengthened there: ice belt, upper bow ice belt, fore foot. FSICR 2021, 4.3.1 (text)."""
    belt = (load_area == "B") | (load_area == "M") | (load_area == "S")
    extra = (load_area == "UB") | (load_area == "FF") | (load_area == "FK")
    return np.asarray(belt | extra)


@DOCUMENT.clause("4.3.2", title="whether the formula for transverse framing counts", symbol="transverse",
                 status=Status.CHOICE, note="the text knows no oblique framing; see DECISIONS")  # fmt: skip
def transverse_counts(*, omega_deg: Degrees) -> Flag:
    """Whether a member is held to the formulas for transverse framing: more than 20 degrees to the waterline."""
    return omega_deg > 20.0


@DOCUMENT.clause("4.3.2", title="whether the formula for longitudinal framing counts", symbol="longitudinal",
                 status=Status.CHOICE, note="the text knows no oblique framing; see DECISIONS")  # fmt: skip
def longitudinal_counts(*, omega_deg: Degrees) -> Flag:
    """Whether a member is held to the formulas for longitudinal framing: less than 70 degrees to the waterline."""
    return omega_deg < 70.0


@DOCUMENT.clause("4.7", title="whether the bow is blunt here", symbol="blunt", status=Status.TEXT)
def blunt_bow(*, region: Label, waterline_angle_deg: Degrees, flare_angle_deg: Degrees) -> Flag:
    """Whether the plate lies in a blunt bow: alpha >= 30 and psi >= 75 degrees. Source: FSICR 2021, 4.7 (text)."""
    return np.asarray((region == "Bow") & (waterline_angle_deg >= 30.0) & (flare_angle_deg >= 75.0))


@DOCUMENT.clause("4.3.2", title="pressure on transversely framed plating", symbol="p_PL", status=Status.TEXT)
def plate_pressure(*, blunt_bow: Flag, pressure_mpa: MPa) -> MPa:
    """Pressure on transversely framed plating [MPa]: 0.75 p; the whole p in a blunt bow (4.7).

    Source: FSICR 2021, 4.3.2 and 4.7 (text).
    """
    return np.where(blunt_bow, pressure_mpa, 0.75 * pressure_mpa)


@DOCUMENT.clause("4.3.2", title="load height over frame spacing", symbol="h/s", status=Status.TEXT)
def height_over_spacing(*, load_height_m: Metres, spacing_m: Metres) -> Ratio:
    """Load height over frame spacing [-]. Source: FSICR 2021, 4.3.2 (text)."""
    return load_height_m / spacing_m


@DOCUMENT.clause("4.3.2", title="factor f_1", symbol="f_1", status=Status.TEXT)
def plate_factor_transverse(*, height_over_spacing: Ratio) -> Ratio:
    """Factor f_1 of transversely framed plating [-], at most 1. Source: FSICR 2021, 4.3.2 (text)."""
    return np.minimum(1.3 - 4.2 / (height_over_spacing + 1.8) ** 2, 1.0)


@DOCUMENT.clause("4.3.2", title="factor f_2", symbol="f_2", status=Status.TEXT,
                 note="not defined above h/s = 1.8; held there, and the row is out of scope")  # fmt: skip
def plate_factor_longitudinal(*, height_over_spacing: Ratio) -> Ratio:
    """Factor f_2 of longitudinally framed plating [-], for h/s up to 1.8. Source: FSICR 2021, 4.3.2 (text)."""
    return np.where(
        height_over_spacing <= 1.0,
        0.6 + 0.4 / height_over_spacing,
        1.4 - 0.4 * np.minimum(height_over_spacing, 1.8),
    )


@DOCUMENT.clause("4.3.2", title="net thickness, transverse framing", symbol="t - t_c", status=Status.TEXT)
def net_thickness_transverse(
    *, spacing_m: Metres, plate_factor_transverse: Ratio, plate_pressure_mpa: MPa, yield_mpa: MPa
) -> Millimetres:
    """Thickness of transversely framed plating without the addition [mm]. Source: FSICR 2021, 4.3.2 (text)."""
    return 667.0 * spacing_m * np.sqrt(plate_factor_transverse * plate_pressure_mpa / yield_mpa)


@DOCUMENT.clause("4.3.2", title="net thickness, longitudinal framing", symbol="t - t_c", status=Status.TEXT)
def net_thickness_longitudinal(
    *, spacing_m: Metres, pressure_mpa: MPa, plate_factor_longitudinal: Ratio, yield_mpa: MPa
) -> Millimetres:
    """Thickness of longitudinally framed plating without the addition [mm]. Source: FSICR 2021, 4.3.2 (text)."""
    return 667.0 * spacing_m * np.sqrt(pressure_mpa / (plate_factor_longitudinal * yield_mpa))


@DOCUMENT.clause("4.3.2", title="net thickness", symbol="t - t_c", status=Status.CHOICE,
                 note="the greater one of oblique framing; 0 where no ice plating is asked for")  # fmt: skip
def net_thickness(
    *,
    plating_asked: Flag,
    transverse_counts: Flag,
    net_thickness_transverse_mm: Millimetres,
    longitudinal_counts: Flag,
    net_thickness_longitudinal_mm: Millimetres,
) -> Millimetres:
    """Net thickness [mm]: the greater of the formulas that count, 0 where the area asks for no ice plating."""
    greater = np.maximum(
        np.where(transverse_counts, net_thickness_transverse_mm, 0.0),
        np.where(longitudinal_counts, net_thickness_longitudinal_mm, 0.0),
    )
    return np.where(plating_asked, greater, 0.0)


@DOCUMENT.clause("4.3.2", title="whether the formula for transverse framing decides", symbol="decides",
                 status=Status.CHOICE, note="of oblique framing the formula that asks for more")  # fmt: skip
def transverse_decides(
    *,
    transverse_counts: Flag,
    net_thickness_transverse_mm: Millimetres,
    longitudinal_counts: Flag,
    net_thickness_longitudinal_mm: Millimetres,
) -> Flag:
    """Whether the thickness is that of the formula for transverse framing."""
    more = net_thickness_transverse_mm >= net_thickness_longitudinal_mm
    return np.asarray(transverse_counts & (~longitudinal_counts | more))


@DOCUMENT.clause("4.3.2", title="pressure on the plate", symbol="p_plate", status=Status.CHOICE,
                 note="that of the formula that decides; the symbol is ours")  # fmt: skip
def deciding_pressure(*, transverse_decides: Flag, plate_pressure_mpa: MPa, pressure_mpa: MPa) -> MPa:
    """Pressure in the formula that decides [MPa]."""
    return np.where(transverse_decides, plate_pressure_mpa, pressure_mpa)


@DOCUMENT.clause("4.3.2", title="loaded length of the plate", symbol="l_a,plate", status=Status.CHOICE,
                 note="that of the formula that decides; the symbol is ours")  # fmt: skip
def deciding_length(*, transverse_decides: Flag, length_across_m: Metres, length_along_m: Metres) -> Metres:
    """Loaded length in the formula that decides [m]."""
    return np.where(transverse_decides, length_across_m, length_along_m)


@DOCUMENT.clause("4.3.2", title="whether the plating formula has a value", symbol="in scope", status=Status.TEXT)
def plating_in_scope(
    *, plating_asked: Flag, longitudinal_counts: Flag, height_over_spacing: Ratio, ends_held: Flag
) -> Flag:
    """Whether f_2 is defined where it counts: h/s up to 1.8, or held there by a written reason. FSICR 2021, 4.3.2."""
    return ~(plating_asked & longitudinal_counts) | (height_over_spacing <= 1.8) | ends_held


@DOCUMENT.clause("4.3.2", title="addition for abrasion and corrosion, unless a lower one is approved", symbol="t_c",
                 status=Status.TEXT, table=ABRASION)  # fmt: skip
def abrasion_addition(*, surface: Label) -> Millimetres:
    """Addition for abrasion and corrosion, ``surface`` = "shell" [mm]. Source: FSICR 2021, 4.3.2 (text)."""
    return ABRASION.numbers(surface)


@DOCUMENT.clause("4.3.2", title="addition for abrasion and corrosion taken", symbol="t_c", status=Status.TEXT,
                 note="a lower addition only with an approved coating")  # fmt: skip
def abrasion_taken(*, abrasion_addition_mm: Millimetres, approved_abrasion_mm: Millimetres) -> Millimetres:
    """Addition taken [mm]: that of the rule, or a lower one that is approved for the coating. FSICR 2021, 4.3.2."""
    return np.minimum(abrasion_addition_mm, approved_abrasion_mm)


@DOCUMENT.clause("4.3.2", title="thickness required as built, before stock rounding", symbol="t", status=Status.TEXT)
def thickness_required(
    *, in_scope: Flag, plating_asked: Flag, thickness_net_mm: Millimetres, abrasion_mm: Millimetres
) -> Millimetres:
    """Thickness required as built [mm]; 0 where nothing is asked; out of scope no plate suffices. FSICR 2021, 4.3.2."""
    return np.where(in_scope, np.where(plating_asked, thickness_net_mm + abrasion_mm, 0.0), np.inf)
