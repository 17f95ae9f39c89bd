"""The two ends as wedges of straight buttocks through the waterline, each turning smoothly into the bottom."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from scipy.interpolate import CubicSpline
from scipy.optimize import brentq

from beltwright.core.errors import InputError, SolverError
from beltwright.core.units import FloatArray, Metres
from beltwright.hull.forms.parameters import BowForm, SternForm

_NODES = 801


@dataclass(frozen=True, slots=True, kw_only=True)
class WaterlineEnd:
    """Half of an end's waterline from its point on the centre line to the parallel side.

    Attributes
    ----------
    distance_m : distance from the end's point, towards midships [m], (n,), rising from 0
    inside_m : how far inside the half beam the waterline runs there [m], falling from the half beam to exactly 0
    """

    distance_m: Metres
    inside_m: Metres

    @property
    def length_m(self) -> float:
        """Distance from the end's point to the parallel side [m]."""
        return float(self.distance_m[-1])

    def distance_at(self, inside_m: FloatArray) -> FloatArray:
        """Return the distance [m] at which the waterline is this far inside the half beam [m].

        The parallel side is met with third-order contact, so that the cube root is a smooth function there.
        """
        root = CubicSpline(np.cbrt(self.inside_m[::-1]), self.distance_m[::-1])
        distance: FloatArray = root(np.cbrt(inside_m))
        return distance


def bow_angle_curve(bow: BowForm, length_m: float) -> CubicSpline:
    """Return alpha [deg] against distance aft of the stem [m], 10 deg at the bow's length, 0 at ``length_m``."""
    distance = np.array([*bow.station_aft_of_stem_m, bow.length_m, length_m])
    angle = np.array([*bow.waterline_angle_deg, 10.0, 0.0])
    return CubicSpline(distance, angle, bc_type=("not-a-knot", (1, 0.0)))


def bow_waterline(bow: BowForm, *, half_beam_m: float) -> WaterlineEnd:
    """Integrate tan(alpha) from the parallel side forward; the side's start is solved so that the stem is reached.

    Raises
    ------
    InputError : no start of the parallel side between 3 and 80 percent of the bow's length aft of it will do
    """

    def tail(length: float) -> float:
        return float(_closing(bow, length)[1][0]) - half_beam_m

    low, high = 1.03 * bow.length_m, 1.8 * bow.length_m
    if tail(low) > 0.0 or tail(high) < 0.0:
        raise InputError(
            "bow.waterline_angle_deg",
            "the waterline does not reach the half beam smoothly",
            value=half_beam_m,
            unit="m",
            allowed=f"{tail(low) + half_beam_m:.2f} to {tail(high) + half_beam_m:.2f} m",
        )
    length = float(brentq(tail, low, high, xtol=1e-14))
    distance, inside = _closing(bow, length)
    if np.any(np.diff(inside) >= 0.0):
        raise InputError("bow.waterline_angle_deg", "the waterline turns inward before the parallel side")
    return WaterlineEnd(distance_m=distance, inside_m=inside * (half_beam_m / inside[0]))


def _closing(bow: BowForm, length: float) -> tuple[FloatArray, FloatArray]:
    """Return distances from the stem and the integral of tan(alpha) from there to the parallel side."""
    nodes, weights = np.polynomial.legendre.leggauss(4)
    distance = np.linspace(0.0, length, _NODES)
    step = distance[1] - distance[0]
    inner = distance[:-1, None] + 0.5 * step * (nodes + 1.0)
    gain = np.tan(np.radians(bow_angle_curve(bow, length)(inner))) @ weights * 0.5 * step
    return distance, np.concatenate([np.cumsum(gain[::-1])[::-1], [0.0]])


def bow_buttock_angle(bow: BowForm, length_m: float) -> CubicSpline:
    """Return gamma [deg] against distance aft of the stem [m], from the stem to the parallel side."""
    distance, angle = [*bow.station_aft_of_stem_m], [*bow.buttock_angle_deg]
    if bow.stem_angle_deg is not None:
        distance, angle = [0.0, *distance], [bow.stem_angle_deg, *angle]
    return CubicSpline([*distance, length_m], [*angle, bow.shoulder_buttock_angle_deg])


def stern_waterline(stern: SternForm, *, half_beam_m: float) -> WaterlineEnd:
    """Return the run's waterline, carried on aft of the transom to the centre line.

    With s from 0 at the end of the parallel side to 1 on the centre line, the waterline runs inside the half beam by
    half beam * (f s^3 + (1 - f) s^8), f the fineness; the run's length is scaled so that the transom has its breadth.
    """
    f = stern.fineness
    wanted = 1.0 - stern.transom_half_breadth_m / half_beam_m
    at_transom = float(brentq(lambda s: f * s**3 + (1.0 - f) * s**8 - wanted, 0.0, 1.0, xtol=1e-14))
    length = (stern.parallel_side_end_x_m - stern.transom_x_m) / at_transom
    s = np.linspace(1.0, 0.0, _NODES)
    return WaterlineEnd(distance_m=length * (1.0 - s), inside_m=half_beam_m * (f * s**3 + (1.0 - f) * s**8))


def raised(ahead: FloatArray, gamma: FloatArray, depth: FloatArray, *, share: float, level_share: float) -> FloatArray:
    """Return how far a buttock has risen above the bottom [m].

    The buttock runs level, turns with continuous curvature, and goes on straight at the angle gamma.

    Parameters
    ----------
    ahead : distance towards the end from where the straight part, carried on, meets the bottom [m]
    gamma : angle of the straight part [rad]
    depth : height of the waterline above the bottom [m]
    share : the turn ends at this share of the depth
    level_share : the turn begins this many depths before the meeting point
    """
    tangent = share * depth / np.sin(gamma)
    cosine = np.cos(gamma)
    rise = np.maximum(ahead, 0.0) * np.tan(gamma)
    turning = (ahead > -level_share * depth) & (ahead < tangent * cosine)
    place, cosine = ahead[turning] / tangent[turning], cosine[turning]
    lead = level_share * depth[turning] / tangent[turning]
    w = (place + lead) / (lead + cosine)
    for _ in range(40):
        miss = cosine * _ease(w) - lead * _ease(1.0 - w) - place
        step = miss / (cosine * _ease_slope(w) + lead * _ease_slope(1.0 - w))
        w = np.clip(w - step, 0.0, 1.0)
        if not step.size or np.max(np.abs(step)) < 1e-13:
            break
    else:
        raise SolverError("the turn of a buttock into the bottom was not found")
    rise[turning] = (tangent * np.sin(gamma))[turning] * _ease(w)
    return rise


def _ease(w: FloatArray) -> FloatArray:
    """Return w^3 (2 - w): from 0 with no slope or curvature to 1 with slope 2 and no curvature."""
    return w * w * w * (2.0 - w)


def _ease_slope(w: FloatArray) -> FloatArray:
    """Return the derivative of ``_ease``."""
    return 2.0 * w * w * (3.0 - 2.0 * w)
