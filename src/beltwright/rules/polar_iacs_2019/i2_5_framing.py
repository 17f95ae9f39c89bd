"""UR I2.5: framing in general: shear area and plastic section modulus of a frame with its attached plate, net."""

from __future__ import annotations

import numpy as np

from beltwright.core.provenance import Status
from beltwright.core.units import Cm2, Cm3, Degrees, Flag, Metres, Millimetres, Ratio
from beltwright.rules.polar_iacs_2019.documents import DOCUMENT


@DOCUMENT.clause("I2.5.7", title="web angle used", symbol="phi_w", status=Status.MEMORY)
def web_angle_used(*, web_angle_deg: Degrees) -> Degrees:
    """Smallest angle between shell and web at mid-span [deg]; from 75 degrees on it may be taken as 90.

    Source: UR I2.5.7, recalled.
    """
    return np.where(web_angle_deg >= 75.0, 90.0, web_angle_deg)


@DOCUMENT.clause("I2.5.7", title="net effective shear area", symbol="A_w", status=Status.MEMORY)
def shear_area_net(*, stiffener_height_mm: Millimetres, web_net_mm: Millimetres, web_angle_used_deg: Degrees) -> Cm2:
    """Net effective shear area of a frame [cm2], over its whole height. Source: UR I2.5.7, recalled."""
    return stiffener_height_mm * web_net_mm * np.sin(np.radians(web_angle_used_deg)) / 100.0


@DOCUMENT.clause("I2.5.8", title="net sectional area of the frame", symbol="A_pn", status=Status.COMPUTED)
def frame_area_net(*, web_height_mm: Millimetres, web_net_mm: Millimetres, flange_area_cm2: Cm2) -> Cm2:
    """Net sectional area of web and flange [cm2]."""
    return web_height_mm * web_net_mm / 100.0 + flange_area_cm2


@DOCUMENT.clause("I2.5.8", title="area of the attached plate flange", symbol="A_p", status=Status.MEMORY_CHECKED)
def plate_flange_area(*, plate_net_fitted_mm: Millimetres, spacing_m: Metres) -> Cm2:
    """Sectional area of the attached plate over the frame spacing [cm2]. Source: UR I2.5.8, recalled."""
    return 10.0 * plate_net_fitted_mm * spacing_m


@DOCUMENT.clause("I2.5.8", title="whether the plate flange outweighs the frame", symbol="case A",
                 status=Status.MEMORY_CHECKED)  # fmt: skip
def plate_outweighs(*, plate_flange_area_cm2: Cm2, frame_area_net_cm2: Cm2) -> Flag:
    """Whether the plastic neutral axis lies in or at the plate (case A). Source: UR I2.5.8, recalled."""
    return plate_flange_area_cm2 >= frame_area_net_cm2


@DOCUMENT.clause("I2.5.8", title="plastic section modulus, plate outweighs frame", symbol="Z_p,A",
                 status=Status.MEMORY_CHECKED)  # fmt: skip
def plastic_modulus_plate_heavy(
    *,
    frame_area_net_cm2: Cm2,
    plate_net_fitted_mm: Millimetres,
    web_height_mm: Millimetres,
    web_net_mm: Millimetres,
    web_angle_used_deg: Degrees,
    flange_area_cm2: Cm2,
    flange_centre_height_mm: Millimetres,
    flange_offset_mm: Millimetres,
) -> Cm3:
    """Net effective plastic section modulus [cm3], case A: neutral axis in the plate. Source: UR I2.5.8, recalled.

    The plate's own plastic term is left out, so that the value lies below the exact one.
    """
    sine = np.sin(np.radians(web_angle_used_deg))
    cosine = np.cos(np.radians(web_angle_used_deg))
    return (
        frame_area_net_cm2 * plate_net_fitted_mm / 20.0
        + web_height_mm**2 * web_net_mm * sine / 2000.0
        + flange_area_cm2 * (flange_centre_height_mm * sine - flange_offset_mm * cosine) / 10.0
    )


@DOCUMENT.clause("I2.5.9", title="plastic neutral axis above the plate", symbol="z_na", status=Status.MEMORY_CHECKED,
                 note="counts where the frame outweighs the plate flange")  # fmt: skip
def neutral_axis(
    *,
    flange_area_cm2: Cm2,
    web_height_mm: Millimetres,
    web_net_mm: Millimetres,
    plate_net_fitted_mm: Millimetres,
    spacing_m: Metres,
) -> Millimetres:
    """Height of the plastic neutral axis above the shell plate [mm]. Source: UR I2.5.9 (text)."""
    return (100.0 * flange_area_cm2 + web_height_mm * web_net_mm - 1000.0 * plate_net_fitted_mm * spacing_m) / (
        2.0 * web_net_mm
    )


@DOCUMENT.clause("I2.5.9", title="plastic section modulus, frame outweighs plate", symbol="Z_p,B",
                 status=Status.MEMORY_CHECKED)  # fmt: skip
def plastic_modulus_frame_heavy(
    *,
    plate_net_fitted_mm: Millimetres,
    spacing_m: Metres,
    neutral_axis_mm: Millimetres,
    web_height_mm: Millimetres,
    web_net_mm: Millimetres,
    web_angle_used_deg: Degrees,
    flange_area_cm2: Cm2,
    flange_centre_height_mm: Millimetres,
    flange_offset_mm: Millimetres,
) -> Cm3:
    """Net effective plastic section modulus [cm3], case B: neutral axis in the web. Source: UR I2.5.9 (text)."""
    sine = np.sin(np.radians(web_angle_used_deg))
    cosine = np.cos(np.radians(web_angle_used_deg))
    return (
        plate_net_fitted_mm * spacing_m * (neutral_axis_mm + plate_net_fitted_mm / 2.0) * sine
        + ((web_height_mm - neutral_axis_mm) ** 2 + neutral_axis_mm**2) * web_net_mm * sine / 2000.0
        + flange_area_cm2 * ((flange_centre_height_mm - neutral_axis_mm) * sine - flange_offset_mm * cosine) / 10.0
    )


@DOCUMENT.clause("I2.5.8", title="plastic section modulus", symbol="Z_p", status=Status.MEMORY_CHECKED)
def plastic_modulus_net(*, plate_outweighs: Flag, plate_heavy_cm3: Cm3, frame_heavy_cm3: Cm3) -> Cm3:
    """Net effective plastic section modulus of the frame with its plate [cm3]; never below 0.

    Source: UR I2.5.8 and I2.5.9.
    """
    return np.maximum(np.where(plate_outweighs, plate_heavy_cm3, frame_heavy_cm3), 0.0)


@DOCUMENT.clause("I2.5.9", title="neutral axis that must lie in the web", symbol="z_na", status=Status.CHOICE,
                 note="written for an axis in the web; not asked where the plate outweighs it")  # fmt: skip
def axis_in_web(*, plate_outweighs: Flag, neutral_axis_mm: Millimetres) -> Millimetres:
    """Height of the plastic neutral axis to hold against the web height [mm]; 0 where the plate outweighs the frame."""
    return np.where(plate_outweighs, 0.0, neutral_axis_mm)


@DOCUMENT.clause(
    "I2.6.3", title="share of the web in the frame's shear and bending", symbol="k_w", status=Status.MEMORY
)
def web_share(*, flange_area_cm2: Cm2, shear_area_net_cm2: Cm2) -> Ratio:
    """Factor k_w [-] from flange and shear area. Source: UR I2.6.3 and I2.7.3, recalled."""
    return 1.0 / (1.0 + 2.0 * flange_area_cm2 / shear_area_net_cm2)


@DOCUMENT.clause("I2.5.10", title="greater shear area of the formulas that count", symbol="A_max",
                 status=Status.COMPUTED)  # fmt: skip
def greater_shear_area(
    *, transverse_share: Ratio, shear_area_transverse_cm2: Cm2, shear_area_longitudinal_cm2: Cm2
) -> Cm2:
    """Greater of A_t and A_L [cm2] of an oblique frame; the one that counts where one counts alone."""
    return np.where(
        transverse_share >= 1.0,
        shear_area_transverse_cm2,
        np.where(
            transverse_share <= 0.0,
            shear_area_longitudinal_cm2,
            np.maximum(shear_area_transverse_cm2, shear_area_longitudinal_cm2),
        ),
    )


@DOCUMENT.clause("I2.5.10", title="shear area required", symbol="A_req", status=Status.TEXT,
                 note="the severe reading of decision D17, either area in full, is a choice of the user")  # fmt: skip
def shear_area_required(
    *, in_scope: Flag, both_in_full: Flag, transverse_share: Ratio, shear_area_transverse_cm2: Cm2,
    shear_area_longitudinal_cm2: Cm2, greater_shear_area_cm2: Cm2,
) -> Cm2:  # fmt: skip
    """Net shear area required [cm2], interpolated for oblique framing; out of scope no section suffices.

    Where ``both_in_full`` is chosen, the greater area of the formulas that count. Source: UR I2.5.10 (text).
    """
    interpolated = transverse_share * shear_area_transverse_cm2 + (1.0 - transverse_share) * shear_area_longitudinal_cm2
    return np.where(in_scope, np.where(both_in_full, greater_shear_area_cm2, interpolated), np.inf)


@DOCUMENT.clause("I2.5.10", title="plastic section modulus required", symbol="Z_req", status=Status.TEXT)
def plastic_modulus_required(
    *, in_scope: Flag, transverse_share: Ratio, modulus_transverse_cm3: Cm3, modulus_longitudinal_cm3: Cm3
) -> Cm3:
    """Net plastic section modulus required [cm3], interpolated for oblique framing; out of scope none suffices.

    Source: UR I2.5.10 (text).
    """
    return np.where(
        in_scope,
        transverse_share * modulus_transverse_cm3 + (1.0 - transverse_share) * modulus_longitudinal_cm3,
        np.inf,
    )


@DOCUMENT.clause("I2.7.2", title="whether the framing formulas have a value", symbol="in scope", status=Status.CHOICE,
                 note="b' must exceed 0.3 where the longitudinal formula counts")  # fmt: skip
def framing_in_scope(*, transverse_share: Ratio, patch_over_spacing: Ratio) -> Flag:
    """Whether the framing formulas have a value: b/s exceeds 0.3 wherever the longitudinal ones count."""
    return (transverse_share >= 1.0) | (patch_over_spacing > 0.3)


@DOCUMENT.clause("I2.5.10", title="greater shear utilisation where both formulas count", symbol="a_both",
                 status=Status.CHOICE, note="above 1 the modulus rests on the limit of one formula")  # fmt: skip
def oblique_utilisation(
    *, both_in_full: Flag, transverse_share: Ratio, greater_shear_area_cm2: Cm2, shear_area_net_cm2: Cm2
) -> Ratio:
    """Greater of a_1 and a_4 [-] of an oblique frame, before either is taken at 1; 0 where one formula counts alone.

    0 too where either area is demanded in full: then nothing rests on a limit.
    """
    resting = (transverse_share > 0.0) & (transverse_share < 1.0) & ~both_in_full
    return np.where(resting, greater_shear_area_cm2 / shear_area_net_cm2, 0.0)


@DOCUMENT.clause("I2.5.10", title="shear utilisation that must not exceed 1", symbol="a_one",
                 status=Status.CHOICE, note="above 1 the modulus has no value; the shear check fails")  # fmt: skip
def lone_utilisation(
    *, both_in_full: Flag, transverse_share: Ratio, greater_shear_area_cm2: Cm2, shear_area_net_cm2: Cm2
) -> Ratio:
    """The a_1 or a_4 [-] of a frame held to its formulas in full, before it is taken at 1.

    0 for an oblique frame that is held to the interpolated area.
    """
    in_full = (transverse_share >= 1.0) | (transverse_share <= 0.0) | both_in_full
    return np.where(in_full, greater_shear_area_cm2 / shear_area_net_cm2, 0.0)
