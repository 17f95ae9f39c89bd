"""The vocabulary between the rule sets and the rest of the house: named quantities of ship, panels and frames.

A rule set picks from these; ``scantlings`` fills them from the hull and the arrangement. Adding a document that needs
something new adds a line here.
"""

from __future__ import annotations

from beltwright.core.chain import Quantity
from beltwright.core.units import Unit

_M, _KT, _DEG, _MM, _MPA = Unit("m"), Unit("kt"), Unit("deg"), Unit("mm"), Unit("MPa")
_CM2, _CM3, _RATIO = Unit("cm2"), Unit("cm3"), Unit("-")
_LABEL, _FLAG = Unit("label"), Unit("flag")


def _q(name: str, symbol: str, unit: Unit, meaning: str) -> Quantity:
    """One line of the vocabulary."""
    return Quantity(name=name, symbol=symbol, unit=unit, meaning=meaning)


SHIP = (
    _q("ice_class", "class", _LABEL, "ice class"),
    _q("icebreaker", "icebreaker", _FLAG, "notation for escort and ice management is asked for"),
    _q("operates_astern", "astern", _FLAG, "the ship is intended to operate astern in ice"),
    _q("azimuthing_propulsion", "azimuth", _FLAG, "azimuthing or podded propulsion units"),
    _q("bulbous_bow", "bulb", _FLAG, "the bow has a bulb"),
    _q("effective_protection", "protected", _FLAG, "the shell has effective protection against corrosion and abrasion"),
    _q("displacement_upper_kt", "D", _KT, "greatest displacement at the upper ice waterline"),
    _q(
        "waterline_extreme_length_m",
        "L_ext",
        _M,
        "extreme length of the upper ice waterline from the fore side of the stem",
    ),
    _q(
        "stem_to_rudder_m",
        "L_raw",
        _M,
        "fore side of the stem at the upper ice waterline to rudder stock or steering axis",
    ),
    _q("stem_to_ap_m", "x_stem", _M, "fore side of the stem at the upper ice waterline to the aft perpendicular"),
    _q(
        "alpha_ten_aft_of_stem_m",
        "d_10",
        _M,
        "foremost place outside the stem rounding where the waterline angle is 10 degrees",
    ),
    _q(
        "parallel_start_aft_of_stem_m",
        "d_0",
        _M,
        "foremost place where the half-breadth is its maximum: end of the entrance",
    ),
    _q(
        "parallel_end_forward_of_ap_m",
        "b",
        _M,
        "aftmost place where the half-breadth at the upper ice waterline is its maximum",
    ),
    _q("stem_baseline_aft_of_stem_m", "d_bl", _M, "intersection of the stem line with the baseline"),
    _q("stem_angle_deg", "gamma_stem", _DEG, "stem angle from horizontal at the upper ice waterline"),
)

FORWARD_PERPENDICULAR = _q(
    "fp_forward_of_stem_m",
    "x_FP",
    _M,
    "forward perpendicular, forward of the fore side of the stem at the upper ice waterline; negative aft of it",
)

STATION = (
    _q("aft_of_stem_m", "x", _M, "distance aft of the fore side of the stem at the upper ice waterline"),
    _q("alpha_deg", "alpha", _DEG, "waterline angle"),
    _q("gamma_deg", "gamma", _DEG, "buttock angle from horizontal"),
    _q("beta_deg", "beta", _DEG, "frame angle from vertical"),
    _q("beta_prime_deg", "beta'", _DEG, "normal frame angle from vertical"),
)

MEMBER = (
    _q("load_area", "area", _LABEL, "hull area whose load acts on the member"),
    _q("factor_area", "area of AF", _LABEL, "hull area with the largest factor that the member touches"),
    _q("addition_area", "area of t_s", _LABEL, "hull area with the largest addition that the member touches"),
    _q("spacing_m", "s", _M, "frame spacing along the shell"),
    _q("span_m", "a", _M, "frame span along the shell between supports, bracket reduction taken"),
    _q("support_distance_m", "l", _M, "distance between frame supports along the shell, no bracket reduction"),
    _q("omega_deg", "Omega", _DEG, "smallest angle between the waterline and the first-level framing"),
)

PANEL = (
    *MEMBER,
    _q("yield_mpa", "sigma_y", _MPA, "minimum upper yield stress of the plate"),
    _q("load_distributing_stringer", "ldist", _FLAG, "a load-distributing stringer crosses the panel's frames"),
    _q(
        "stringer_to_support_m",
        "l_str",
        _M,
        "from the load-distributing stringer to the farthest support of its frames; the support distance without one",
    ),
)

FRAME = (
    *MEMBER,
    _q("yield_mpa", "sigma_y", _MPA, "minimum upper yield stress of the frame"),
    _q("plate_yield_mpa", "sigma_y,p", _MPA, "minimum upper yield stress of the attached plate"),
    _q("load_distributing_stringer", "ldist", _FLAG, "load-distributing stringers support the frame"),
    _q("web_frame_spacing_m", "S_w", _M, "spacing of web frames"),
    _q("one_end_simply_supported", "simple", _FLAG, "one end is simply supported, outside the ice-strengthened areas"),
    _q("end_brackets", "brackets", _FLAG, "both ends have end brackets"),
    _q("web_angle_deg", "phi_w", _DEG, "smallest angle between shell and web at mid-span"),
    _q("plate_net_fitted_mm", "t_pn", _MM, "fitted net shell thickness"),
    _q("web_height_mm", "h_w", _MM, "web height, shell to underside of the flange"),
    _q("web_net_mm", "t_wn", _MM, "net web thickness"),
    _q("stiffener_height_mm", "h", _MM, "overall height of the frame, shell plate not included"),
    _q("flange_breadth_mm", "b_f", _MM, "net flange breadth; 0 for a flat bar"),
    _q("flange_net_mm", "t_fn", _MM, "net flange thickness; 0 for a flat bar"),
    _q("flange_area_cm2", "A_fn", Unit("cm2"), "net flange area; 0 for a flat bar"),
    _q("flange_centre_height_mm", "h_fc", _MM, "height of the flange's area centre above the shell plate"),
    _q("flange_offset_mm", "b_w", _MM, "distance from web mid-plane to the flange's area centre"),
    _q("flange_outstand_mm", "b_out", _MM, "greatest outstand of the flange from the web"),
    _q("section_kind", "kind", _LABEL, "flat, bulb, angle or tee"),
    _q("both_in_full", "full", _FLAG, "an oblique frame is held to the shear area of either formula in full"),
)

_BY_NAME = {quantity.name: quantity for quantity in FRAME}

SUPPORT = (
    *(
        _BY_NAME[name]
        for name in (
            "load_area", "factor_area", "web_frame_spacing_m", "plate_yield_mpa", "plate_net_fitted_mm", "section_kind",
            "web_height_mm", "web_net_mm", "flange_breadth_mm", "flange_net_mm", "flange_outstand_mm",
        )
    ),
    _q("yield_mpa", "sigma_y", _MPA, "minimum upper yield stress of the web frame or stringer"),
    _q("part_of_grillage", "grillage", _FLAG, "web frame and stringer carry each other"),
    _q("peak_in_grillage", "PPF inside", _FLAG, "the peak pressure factor is laid on members of a grillage too"),
    _q("penetrating_height_mm", "h", _MM, "height of the framing that passes through the web; 0 for none"),
    _q("web_stiffener_spacing_mm", "c_2", _MM, "spacing of stiffeners across the web; not given where there are none"),
    _q("calculated_shear_mpa", "tau", _MPA, "greatest nominal shear stress in the web, from a linear calculation"),
    _q("calculated_von_mises_mpa", "sigma_vM", _MPA, "greatest von Mises stress in the flange, from the same one"),
)  # fmt: skip

SHELL = (
    _q("waterline_angle_deg", "alpha", _DEG, "waterline angle of the shell at the panel; 0 where there is none"),
    _q("flare_angle_deg", "psi", _DEG, "flare angle of the shell at the panel, from horizontal"),
)
"""The shell at the middle of a plate or of a frame's span."""

SEVERAL_LEVELS, TANK_TOP_TO_DECK, TWO_LEVELS = (
    "several decks or stringers", "tank top to one deck", "two decks only",
)  # fmt: skip
"""What a transverse frame runs between, as ``boundary`` says it; of a frame that does not, the last."""

BUILT = (
    _q("section_modulus_cm3", "Z_fitted", _CM3, "elastic section modulus as built, with the effective attached plate"),
    _q("shear_area_cm2", "A_fitted", _CM2, "effective shear area as built, without brackets"),
)
"""Frames, stringers and web frames as built; the attached plate is the thinner one beside the member, as built."""

BUILT_FRAME = (
    _q("boundary", "ends", _LABEL, "what a transverse frame runs between: several decks or stringers, two of them, .."),
    _q("agreed_boundary", "m_agreed", _RATIO, "m agreed for ends of a longitudinal that deviate; 0 for none"),
    _q("strengthened_share", "share", _RATIO, "share of the span that lies in the zone of strengthened framing"),
    _q("web_thickness_mm", "t_w", _MM, "web thickness as built"),
    _q("tripping_support_m", "l_trip", _M, "distance between supports against tripping; the span without any"),
)

ORDINARY_MEMBER = "stringer or web frame"
"""What ``member`` says of a stringer or web frame that is no deck strip at a very long hatch."""

BUILT_SUPPORT = (
    _q("in_belt", "inside", _FLAG, "the stringer, or the stringer that loads the web frame, lies in the ice belt"),
    _q("belt_distance_m", "h_s", _M, "distance of the stringer to the ice belt; 0 inside"),
    _q("stringer_distance_m", "l_s", _M, "distance of the stringer to the adjacent ice stringer"),
    _q("member", "member", _LABEL, "stringer or web frame, or deck strip at a very long hatch"),
    _q("shear_share", "Q/F", _RATIO, "greatest shear force over the load of a web frame; 1 unless calculated"),
    _q("free_flange_area_cm2", "A_f", _CM2, "area of the free flange of a web frame as built"),
    _q("web_area_cm2", "A_w", _CM2, "effective area of the web of a web frame as built"),
)

STEM = (
    _q("vertical_support_spacing_m", "l_a", _M, "spacing of the vertical elements that support the stem plating"),
    _q("plate_fitted_mm", "t_fitted", _MM, "thickness of the stem plating as built"),
    _q("floor_spacing_m", "s_floor", _M, "spacing of floors or brackets behind the stem"),
    _q("floor_thickness_mm", "t_floor", _MM, "thickness of floors or brackets behind the stem"),
    _q("stem_top_above_upper_m", "z_stem", _M, "height above UIWL to which the stem is reinforced"),
    _q(
        "upper_belt_above_upper_m",
        "z_upper",
        _M,
        "top of the strengthened plating above UIWL at the stem",
    ),
)

PLATED = (
    _BY_NAME["load_area"],
    _BY_NAME["factor_area"],
    _q("adjacent_web_height_mm", "h_w,adj", _MM, "web height of the parallel web frame or stringer beside it"),
    _q("framing_depth_mm", "h", _MM, "depth of the framing that meets the plated structure"),
)

GIRDER = (
    _q("waterplane_upper_m2", "A_wp", Unit("m2"), "waterplane area at the upper ice waterline, both sides"),
    _q("breadth_upper_m", "B", _M, "moulded breadth at the upper ice waterline"),
    _q("bow_length_m", "L_B", _M, "length of the bow's waterline: from the stem to its greatest half-breadth"),
    _q("bow_exponent", "e_b", Unit("-"), "bow exponent: y = B/2 (x/L_B)^e_b fits the upper ice waterline"),
    _q("stem_waterline_angle_deg", "alpha_stem", _DEG, "waterline angle at the stem, outside its rounding"),
)

GIRDER_SECTION = (
    _q("still_water_moment_mnm", "M_s", Unit("MNm"), "permissible still-water bending moment, sagging"),
    _q("still_water_shear_mn", "F_s", Unit("MN"), "permissible still-water shear force, either sign"),
    _q("modulus_deck_m3", "W_deck", Unit("m3"), "section modulus at the strength deck"),
    _q("modulus_bottom_m3", "W_bottom", Unit("m3"), "section modulus at the bottom"),
    _q("shear_area_m2", "A_s", Unit("m2"), "effective shear area, 2 t I / S"),
    _q("yield_mpa", "sigma_y", _MPA, "minimum upper yield stress"),
    _q("tensile_mpa", "sigma_u", _MPA, "minimum tensile strength"),
)

GIRDER_PLATE = (
    _q("compression_mpa", "sigma_a", _MPA, "longitudinal compression in the plate"),
    _q("shear_mpa", "tau_a", _MPA, "shear stress in the plate"),
    _q("thickness_net_mm", "t_b", _MM, "net thickness of the plate"),
    _q("short_side_m", "s", _M, "shorter side of the plate panel"),
    _q("long_side_m", "l", _M, "longer side of the plate panel"),
    _q("stress_ratio", "psi", Unit("-"), "smallest over largest compression across the panel"),
    _q("stiffeners_along", "along", _FLAG, "stiffeners run along the compression"),
    _q("edge_stiffener", "edge", _LABEL, "what holds the long edges of a panel loaded across: floor, angle, tee, .."),
    _q("yield_mpa", "sigma_F", _MPA, "minimum upper yield stress of the plate"),
)

GIRDER_STIFFENER = (
    *(_BY_NAME[name] for name in ("section_kind", "flange_breadth_mm", "flange_net_mm")),
    _q("compression_mpa", "sigma_a", _MPA, "longitudinal compression in the stiffener"),
    _q("inertia_net_cm4", "I_a", Unit("cm4"), "net moment of inertia with the attached plate"),
    _q("area_net_cm2", "A", Unit("cm2"), "net area with the attached plate"),
    _q("span_m", "l", _M, "span"),
    _q("web_net_mm", "t_w", _MM, "net web thickness"),
    _q("web_height_mm", "h_w", _MM, "web height"),
    _q("yield_mpa", "sigma_F", _MPA, "minimum upper yield stress of the stiffener"),
    _q("plate_net_mm", "t_p", _MM, "net thickness of the attached plate"),
    _q("spacing_m", "s", _M, "distance to the next stiffener"),
    _q("stress_ratio", "psi", Unit("-"), "smallest over largest compression across the attached plate"),
)

GRADE = (
    _q("plating", "plating", _FLAG, "shell plating; otherwise framing attached to it"),
    _q("hull_area", "area", _LABEL, "hull area that the member touches; empty outside every area"),
    _q("ice_strengthened", "ice", _FLAG, "the member touches an area that is strengthened"),
    _q("fore_end_m", "x_fore", _M, "fore end, distance aft of the fore side of the stem at the upper ice waterline"),
    _q("aft_end_m", "x_aft", _M, "aft end, distance aft of the fore side of the stem at the upper ice waterline"),
    _q("highest_above_lower_m", "z_high", _M, "highest point above the lower ice waterline at the same place"),
    _q("lowest_above_lower_m", "z_low", _M, "lowest point above the lower ice waterline at the same place"),
    _q("below_strength_deck_m", "z_deck", _M, "upper edge below the strength deck at side; without limit if none"),
    _q("bottom_shell", "bottom", _FLAG, "the member is part of the bottom shell"),
    _q("bilge", "bilge", _FLAG, "the member is part of the bilge"),
    _q(
        "exposed_part", "part", _LABEL, "stem or stern frame, rudder or another appendage; no part of its own for shell"
    ),
    _q("stress_concentration", "stress", _FLAG, "plate of a rudder under concentrated stress"),
    _q("declared_category", "declared", _LABEL, "structural category that the user gives, or derived"),
    _q("single_strake_width_m", "w", _M, "declared width of the single strake of lower grade; 0 for none"),
    _q("thickness_as_built_mm", "t", _MM, "as-built thickness, of a frame the thickest of web and flange"),
    _q("strength", "strength", _LABEL, "strength of the steel offered: normal or higher"),
    _q("grade_offered", "grade_off", _LABEL, "letter of the grade offered"),
)
