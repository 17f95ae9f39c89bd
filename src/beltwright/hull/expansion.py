"""Shell expansion: every surface point drawn at its x and its true girth from the keel centreline.

Across the drawing lengths are true girths of the station, along it the spacing of x is true; lengths along the shell
are therefore shorter on the drawing than on the ship where the waterline is oblique. Never measure from the drawing.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

import numpy as np

from beltwright.core.units import BoolArray, FloatArray, IntArray
from beltwright.hull.section import sections
from beltwright.hull.shell import Shell

_SAME_X_M = 1e-6  # points this near along the ship share one section
_FIRST_STRIDE = 8  # of a line's points, this many are stepped over before it is looked at more closely


@dataclass(frozen=True, slots=True, kw_only=True)
class Expanded:
    """Points of the shell expansion (n,): ``x_m`` from AP, ``girth_m`` from the keel centreline.

    ``on_main`` is False where a point lies off its section's main curve (a skeg, an upper piece above a bulb): its
    girth is then that of the nearest place on the main curve and must not be drawn as true.
    """

    x_m: FloatArray
    girth_m: FloatArray
    on_main: BoolArray


def expanded(shell: Shell, points: FloatArray) -> Expanded:
    """Return the shell expansion of surface points (n, 3) [m]; true girth at each point's own section.

    A point whose transverse plane misses the hull (at its very ends) has girth NaN and is not on the main curve.
    """
    p = np.asarray(points, dtype=np.float64).reshape(-1, 3)
    girth, on_main = np.full(len(p), np.nan), np.zeros(len(p), dtype=np.bool_)
    if len(p) == 0:
        return Expanded(x_m=p[:, 0], girth_m=girth, on_main=on_main)
    _, first, row = np.unique(np.round(p[:, 0] / _SAME_X_M), return_index=True, return_inverse=True)
    table = sections(shell, p[first, 0])
    met = np.flatnonzero(table.main_curve[row] >= 0)
    if met.size:
        girth[met], away = table.girth_of(row[met], p[met])
        on_main[met] = away <= max(shell.gap_tolerance_m, 0.01)
    return Expanded(x_m=p[:, 0], girth_m=girth, on_main=on_main)


def expanded_lines(shell: Shell, lines: Sequence[FloatArray], sag_m: float = 0.001) -> tuple[FloatArray, ...]:
    """Return the shell expansions (k, 2) of lines of surface points (n, 3) [m]: x and girth at some of their points.

    A line keeps both ends and as many points between as it takes for the girth halfway between two of them to lie
    within ``sag_m`` of their chord, so that far fewer sections are cut than there are points. Points off the main
    curve are left out. All lines share one sweep of sections for each halving.
    """
    points = np.concatenate([np.zeros((0, 3)), *(np.asarray(line, dtype=np.float64).reshape(-1, 3) for line in lines)])
    ends = np.concatenate([[0], np.cumsum([len(line) for line in lines])]).astype(np.int64)
    flat, on_main = np.full((len(points), 2), np.nan), np.zeros(len(points), dtype=np.bool_)
    taken = np.zeros(len(points), dtype=np.bool_)

    def look(rows: IntArray) -> None:
        places = expanded(shell, points[rows])
        flat[rows], on_main[rows] = np.stack([places.x_m, places.girth_m], axis=1), places.on_main
        taken[rows] = True

    spans = [(a, b) for a, b in pairwise(ends.tolist()) if b > a]
    first = [np.unique(np.append(np.arange(a, b, _FIRST_STRIDE), b - 1)) for a, b in spans]
    low = np.concatenate([np.zeros(0, dtype=np.int64), *(rows[:-1] for rows in first)])
    high = np.concatenate([np.zeros(0, dtype=np.int64), *(rows[1:] for rows in first)])
    look(np.concatenate([np.zeros(0, dtype=np.int64), *first]))
    while np.any(high - low > 1):
        low, high = low[high - low > 1], high[high - low > 1]
        middle = (low + high) // 2
        look(middle)
        straight = (on_main[low] == on_main[middle]) & (on_main[middle] == on_main[high])
        bent = ~(straight & (_departure(flat, low, middle, high) <= sag_m))
        low, high = np.append(low[bent], middle[bent]), np.append(middle[bent], high[bent])
    kept = taken & on_main
    return tuple(flat[a:b][kept[a:b]] for a, b in pairwise(ends.tolist()))


def _departure(flat: FloatArray, low: IntArray, middle: IntArray, high: IntArray) -> FloatArray:
    """How far each middle place (m,) lies from the straight line through the places before and after it [m]."""
    chord, offset = flat[high] - flat[low], flat[middle] - flat[low]
    length = np.hypot(chord[:, 0], chord[:, 1])
    across = np.abs(chord[:, 0] * offset[:, 1] - chord[:, 1] * offset[:, 0]) / np.where(length > 0.0, length, 1.0)
    away: FloatArray = np.where(length > 0.0, across, np.hypot(offset[:, 0], offset[:, 1]))
    return away
