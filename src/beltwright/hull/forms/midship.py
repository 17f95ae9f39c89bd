"""The midship section: flat bottom, a bilge of smoothly rising and falling curvature, upright side."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

import numpy as np
from scipy.interpolate import CubicSpline

from beltwright.core.errors import InputError
from beltwright.core.units import FloatArray, Metres

_BILGE_NODES = 121
_RAMP = 0.35  # share of the bilge's girth in which its curvature rises, and again falls


@dataclass(frozen=True, slots=True, kw_only=True)
class MidshipSection:
    """Points of the midship section from the centre line to the upper end of the bilge, by girth.

    Attributes
    ----------
    girth_m : distance along the section from the centre line [m], (n,), rising
    inside_m : distance of the point inside the half beam [m], falling to exactly 0
    height_m : height above the baseline [m]
    bilge_m : length of the bilge's tangents: the bottom is flat to this far inside the side, the side upright
        from this height up [m]
    """

    girth_m: Metres
    inside_m: Metres
    height_m: Metres
    bilge_m: float


@lru_cache(maxsize=1)
def _unit_bilge() -> tuple[FloatArray, FloatArray, FloatArray, float]:
    """Return (w, across, up, lost) of a quarter turn of unit girth whose curvature is a trapezium.

    ``lost`` is the area outside the turn over the square of its tangent length.
    """
    w = np.linspace(0.0, 1.0, _BILGE_NODES)
    nodes, weights = np.polynomial.legendre.leggauss(6)
    step = w[1] - w[0]
    rise = np.sin(_heading(w[:-1, None] + 0.5 * step * (nodes + 1.0))) @ weights * 0.5 * step
    up = np.concatenate([[0.0], np.cumsum(rise)])
    across = up[::-1].copy()
    lost = CubicSpline(w, across * np.sin(_heading(w))).integrate(0.0, 1.0) / up[-1] ** 2
    return w, across, up, float(lost)


def _heading(w: FloatArray) -> FloatArray:
    """Return the turn's angle from horizontal [rad] at the share w of its girth."""
    level = 1.0 / (1.0 - _RAMP)
    rise = 0.5 * level * w**2 / _RAMP
    fall = 1.0 - 0.5 * level * (1.0 - w) ** 2 / _RAMP
    between = level * (w - 0.5 * _RAMP)
    share = np.where(w < _RAMP, rise, np.where(w > 1.0 - _RAMP, fall, between))
    return 0.5 * np.pi * share


def midship_section(*, beam_m: float, draught_m: float, coefficient: float) -> MidshipSection:
    """Return the midship section of the given area coefficient.

    The bilge's tangent length t follows in closed form: the area lost outside the bilge is a fixed share of t squared.

    Raises
    ------
    InputError : the bilge would not fit into the half beam or below the waterline
    """
    w, across, up, lost = _unit_bilge()
    reach = up[-1]
    tangent = float(np.sqrt((1.0 - coefficient) * 0.5 * beam_m * draught_m / lost))
    limit = min(0.5 * beam_m, draught_m) * 0.97
    if tangent >= limit:
        least = 1.0 - lost * limit**2 / (0.5 * beam_m * draught_m)
        raise InputError(
            "midship_coefficient", "the bilge does not fit", value=coefficient, allowed=f"at least {least:.3f}"
        )
    girth, flat = tangent / reach, 0.5 * beam_m - tangent
    bottom = np.linspace(0.0, flat, 121)[:-1]
    return MidshipSection(
        girth_m=np.concatenate([bottom, flat + w * girth]),
        inside_m=np.concatenate([0.5 * beam_m - bottom, across * girth]),
        height_m=np.concatenate([np.zeros_like(bottom), up * girth]),
        bilge_m=tangent,
    )
