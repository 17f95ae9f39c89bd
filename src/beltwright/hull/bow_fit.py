"""The bow's waterline as a power of the distance from the stem: y = B/2 (x/L)^e, fitted to the hull.

x is the distance aft of the fore side of the stem, B the greatest breadth of the waterline and L the distance at which
it is reached. The exponent is the only free number: e = 1 is a wedge, 0.5 a parabola, 0 a bow square across.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from beltwright.core.units import FloatArray
from beltwright.hull.angles import hull_angles
from beltwright.hull.waterline import Waterline

LARGEST_EXPONENT = 2.0
POINTS = 200  # half-breadths compared, evenly along the bow's length, in the middle of equal parts
_COARSE = 201  # exponents tried before the best is closed in on
_FINE = 1e-9
_GOLDEN = 0.5 * (np.sqrt(5.0) - 1.0)


@dataclass(frozen=True, slots=True, kw_only=True)
class BowFit:
    """A fitted bow waterline and how well it fits.

    ``length_m`` (L) runs from the stem to the greatest half-breadth, read within ``tolerance_mm``; ``breadth_m`` is B.
    ``aft_of_stem_m`` and ``half_breadth_m`` (k,) are the places compared; ``rms_m`` is the root of the mean square of
    fitted less measured half-breadth, ``worst_m`` the largest such difference with its sign, at ``worst_at_m`` aft of
    the stem. ``at_limit`` tells that the exponent was stopped at the end of its range.
    """

    exponent: float
    length_m: float
    breadth_m: float
    tolerance_mm: float
    aft_of_stem_m: FloatArray
    half_breadth_m: FloatArray
    rms_m: float
    worst_m: float
    worst_at_m: float

    @property
    def at_limit(self) -> bool:
        """Whether the exponent lies at the end of its range: the waterline is no power of the distance."""
        return not _FINE < self.exponent < LARGEST_EXPONENT - _FINE

    def fitted_m(self, aft_of_stem_m: FloatArray) -> FloatArray:
        """Return the fitted half-breadth [m] at distances aft of the stem (n,), 0 to the bow's length."""
        return 0.5 * self.breadth_m * (aft_of_stem_m / self.length_m) ** self.exponent


def fit_bow(line: Waterline, tolerance_mm: float = 1.0) -> BowFit:
    """Return the power that fits the bow of a waterline best, by least squares of the half-breadths [m].

    Raises InputError where the outline is not met at a place of the bow.
    """
    length = line.stem_x_m - line.side_borders(tolerance_mm).fore_x_m
    distance = (np.arange(POINTS) + 0.5) / POINTS * length
    return fit_half_breadths(
        distance,
        line.half_breadth(line.stem_x_m - distance),
        length_m=length,
        breadth_m=2.0 * line.greatest_half_breadth_m,
        tolerance_mm=tolerance_mm,
    )


def fit_half_breadths(
    aft_of_stem_m: FloatArray,
    half_breadth_m: FloatArray,
    *,
    length_m: float,
    breadth_m: float,
    tolerance_mm: float = 0.0,
) -> BowFit:
    """Return the power that fits half-breadths (k,) [m] at distances aft of the stem (k,) [m], ends of the bow known.

    The sum of squares need not have one minimum only: the whole range of exponents is tried, then the best is closed
    in on.

    >>> x = np.linspace(0.1, 20.0, 200)
    >>> round(fit_half_breadths(x, 8.0 * np.sqrt(x / 20.0), length_m=20.0, breadth_m=16.0).exponent, 6)
    0.5
    """
    share, half = aft_of_stem_m / length_m, 0.5 * breadth_m

    def misfit(exponents: FloatArray) -> FloatArray:
        """The sum of squares of each exponent."""
        squares: FloatArray = ((half * share[None, :] ** exponents[:, None] - half_breadth_m) ** 2).sum(axis=1)
        return squares

    tried = np.linspace(0.0, LARGEST_EXPONENT, _COARSE)
    best = int(np.argmin(misfit(tried)))
    low, high = float(tried[max(best - 1, 0)]), float(tried[min(best + 1, _COARSE - 1)])
    while high - low > _FINE:
        inner = np.array([high - _GOLDEN * (high - low), low + _GOLDEN * (high - low)])
        one, other = misfit(inner)
        low, high = (low, float(inner[1])) if one <= other else (float(inner[0]), high)
    exponent = 0.5 * (low + high)
    off = half * share**exponent - half_breadth_m
    worst = int(np.argmax(np.abs(off)))
    return BowFit(
        exponent=exponent,
        length_m=length_m,
        breadth_m=breadth_m,
        tolerance_mm=tolerance_mm,
        aft_of_stem_m=aft_of_stem_m,
        half_breadth_m=half_breadth_m,
        rms_m=float(np.sqrt(np.mean(off**2))),
        worst_m=float(off[worst]),
        worst_at_m=float(aft_of_stem_m[worst]),
    )


def stem_waterline_angle_deg(line: Waterline, stem_rounding_m: float = 0.0) -> float:
    """Return the waterline angle at the stem [deg], at the first point of the outline outside the stem's rounding.

    NaN where the angle does not apply there.
    """
    rows = np.flatnonzero(line.points[:, 0] <= line.stem_x_m - stem_rounding_m)
    angles = hull_angles(line.normals[rows[:1]])
    return float(angles.alpha_deg[0]) if rows.size and angles.alpha_reason[0] == "" else float("nan")
