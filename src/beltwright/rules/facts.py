"""The vocabulary between the rule sets and the rest of the house: named quantities of ship, panels and frames.

A rule set picks from these; ``scantlings`` fills them from the hull and the arrangement. Adding a document that needs
something new adds a line here.
"""

from __future__ import annotations

from beltwright.core.chain import Quantity
from beltwright.core.units import Unit

_M, _KT, _DEG, _MM, _MPA = Unit("m"), Unit("kt"), Unit("deg"), Unit("mm"), Unit("MPa")
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
)
