"""What this document wants to know beyond the vocabulary of ``beltwright.rules.facts``, ready to be joined with it."""

from __future__ import annotations

from typing import Final

from beltwright.core.chain import Quantity
from beltwright.core.units import Unit

_M, _T, _KW, _KN, _DEG = Unit("m"), Unit("t"), Unit("kW"), Unit("kn"), Unit("deg")
_MM = Unit("mm")
_LABEL, _FLAG = Unit("label"), Unit("flag")


def _q(name: str, symbol: str, unit: Unit, meaning: str) -> Quantity:
    """One line of the vocabulary."""
    return Quantity(name=name, symbol=symbol, unit=unit, meaning=meaning)


SHIP: Final = (
    _q("class_rule_length_m", "L", _M, "rule length of the classification society"),
    _q("displacement_upper_t", "Delta", _T, "greatest displacement at the upper ice waterline"),
    _q("engine_power_kw", "P", _KW, "engine output that can be delivered continuously in ice, additional sources too"),
    _q("service_speed_kn", "v", _KN, "open water service speed"),
    _q("fore_perpendicular_aft_of_stem_m", "x_FP", _M, "forward perpendicular"),
    _q("keel_departure_aft_of_stem_m", "x_keel", _M, "place where the bow profile leaves the keel line"),
    _q("main_frame_spacing_m", "s_main", _M, "spacing of main frames at the fore foot"),
    _q(
        "floor_top_height_m",
        "z_floor",
        _M,
        "height of tank top or top of floors in the bow above the baseline; 0: none",
    ),
    _q(
        "approved_abrasion_mm",
        "t_c,approved",
        _MM,
        "addition approved for an abrasion-resistant coating; 2 without one",
    ),
    _q("forward_draught_lower_m", "T_fwd", _M, "draught at the forward perpendicular on the lower ice waterline"),
    _q("propeller_clearance_m", "c_prop", _M, "least clearance between propeller and hull, stern frame included"),
)
"""Facts of the ship as length-1 columns."""

WATERLINES: Final = (
    _q("waterline_height_m", "z", _M, "height of the waterline above the baseline"),
    _q("side_start_aft_of_stem_m", "x_side,fore", _M, "forward border of the side that is parallel to the centreline"),
    _q("side_end_aft_of_stem_m", "x_side,aft", _M, "aft border of the side that is parallel to the centreline"),
)
"""Facts with a row for each waterline (k,), upward."""

POWER: Final = (
    _q("power_basis", "basis", _LABEL, "clause for the engine output: 3.2.2, 3.2.4 or Annex II"),
    _q("propeller_count", "n_p", _LABEL, "number of propellers: 1, 2 or 3"),
    _q("drive", "drive", _LABEL, "controllable pitch, electric or hydraulic, or fixed pitch"),
    _q("propeller_diameter_m", "D_p", _M, "diameter of the propeller"),
    _q("perpendicular_length_m", "L", _M, "length between perpendiculars"),
    _q("breadth_m", "B", _M, "greatest breadth at the upper ice waterline"),
)
"""Facts that only the engine output asks for, length-1 columns."""

POWER_DRAUGHTS: Final = (
    _q("draught_m", "T", _M, "ice draught"),
    _q("bow_length_m", "L_BOW", _M, "length of the bow"),
    _q("parallel_length_m", "L_PAR", _M, "length of the parallel midbody"),
    _q("bow_waterline_area_m2", "A_wf", Unit("m2"), "area of the bow's waterline"),
    _q("waterline_angle_quarter_deg", "alpha", _DEG, "waterline angle at a quarter of the breadth"),
    _q("stem_rake_deg", "phi_1", _DEG, "rake of the stem at the centreline, from horizontal"),
    _q("bow_rake_quarter_deg", "phi_2", _DEG, "rake of the bow at a quarter of the breadth, from horizontal"),
)
"""Facts with two rows (2,): at the upper and at the lower ice waterline."""
