"""Facts read on the upper ice waterline, on the profile and from the hydrostatics."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Final

from beltwright.core.outcome import NotApplicable
from beltwright.scantlings.ship_facts.reading import Reading, Told, one
from beltwright.scantlings.ship_facts.side import SIDE_TOLERANCE_MM
from beltwright.ship.model import Ship


def _displacement_origin(reading: Reading) -> str:
    upper = reading.measures.upper
    return f"hull volume under the upper ice waterline, {upper.displacement_from}, with shell and appendages"


def _displacement_kt(reading: Reading) -> Told:
    """The greatest displacement [kt]."""
    return one(reading.measures.upper.displacement_kt, _displacement_origin(reading))


def _displacement_t(reading: Reading) -> Told:
    """The greatest displacement [t]."""
    return one(1000.0 * reading.measures.upper.displacement_kt, _displacement_origin(reading))


def _extreme_length(reading: Reading) -> Told:
    """The extreme length of the upper ice waterline."""
    curve = reading.measures.upper.curve
    return one(
        curve.extreme_length_m,
        f"upper ice waterline from x {curve.aft_end_x_m:.3f} m to x {reading.stem_x_m:.3f} m",
    )


def _breadth(reading: Reading) -> Told:
    """The greatest breadth of the upper ice waterline."""
    curve = reading.measures.upper.curve
    return one(2.0 * curve.greatest_half_breadth_m, "twice the greatest half-breadth of the upper ice waterline")


def _stem_to_rudder(reading: Reading) -> Told:
    """From the stem to the rudder stock or steering axis."""
    stem_x, stock_x = reading.stem_x_m, reading.ship.propulsion.rudder_stock_x_m
    return one(stem_x - stock_x, f"stem at x {stem_x:.3f} m, {_end_of_length(reading.ship)} at x {stock_x:.3f} m")


def _end_of_length(ship: Ship) -> str:
    """What the rule length ends at."""
    return "steering axis" if ship.propulsion.kind == "azimuthing units" else "rudder stock"


def _stem_to_ap(reading: Reading) -> Told:
    """From the stem to the aft perpendicular."""
    return one(reading.stem_x_m, f"stem on the upper ice waterline at x {reading.stem_x_m:.3f} m")


def _alpha_ten(reading: Reading) -> Told:
    """From the stem to where the waterline angle is 10 degrees."""
    crossing = reading.crossing
    return one(
        reading.stem_x_m - crossing.x_m,
        f"upper ice waterline at x {crossing.x_m:.3f} m, {crossing.count} such place(s)",
    )


def _side_start(reading: Reading) -> Told:
    """From the stem to the fore end of the parallel side."""
    fore = reading.side.fore_x_m
    return one(
        reading.stem_x_m - fore,
        f"half-breadth within {SIDE_TOLERANCE_MM:g} mm of its greatest from x {fore:.3f} m",
    )


def _side_end(reading: Reading) -> Told:
    """From the aft perpendicular to the aft end of the parallel side."""
    aft = reading.side.aft_x_m
    return one(max(aft, 0.0), f"half-breadth within {SIDE_TOLERANCE_MM:g} mm of its greatest to x {aft:.3f} m")


def _stem_baseline(reading: Reading) -> Told:
    """From the stem to where the stem line meets the baseline; 0 where it does not."""
    x = reading.baseline_x
    if isinstance(x, NotApplicable):
        return one(0.0, "the profile stays above the baseline")
    return one(max(reading.stem_x_m - x, 0.0), f"profile meets the baseline at x {x:.3f} m")


def _fp_forward(reading: Reading) -> Told:
    """How far forward of the stem the forward perpendicular lies; at the stem where its place is not told."""
    length = reading.ship.hull.length_between_perpendiculars_m
    if length is None:
        return one(0.0, "taken at the fore side of the stem at the upper ice waterline")
    return one(length - reading.stem_x_m, f"ship.toml: hull.length_between_perpendiculars_m {length:.3f} m")


def _stem_angle(reading: Reading) -> Told:
    """The stem angle at the upper ice waterline."""
    stem = reading.measures.stem
    return one(stem.angle_deg, f"profile at x {stem.x_m:.3f} m, z {stem.z_m:.3f} m")


SOURCES: Final[Mapping[str, Callable[[Reading], Told]]] = {
    "displacement_upper_kt": _displacement_kt,
    "displacement_upper_t": _displacement_t,
    "waterline_extreme_length_m": _extreme_length,
    "breadth_m": _breadth,
    "stem_to_rudder_m": _stem_to_rudder,
    "stem_to_ap_m": _stem_to_ap,
    "alpha_ten_aft_of_stem_m": _alpha_ten,
    "parallel_start_aft_of_stem_m": _side_start,
    "parallel_end_forward_of_ap_m": _side_end,
    "stem_baseline_aft_of_stem_m": _stem_baseline,
    "fp_forward_of_stem_m": _fp_forward,
    "stem_angle_deg": _stem_angle,
}
