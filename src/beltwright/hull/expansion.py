"""Shell expansion: every surface point drawn at its x and its true girth from the keel centreline.

Across the drawing lengths are true girths of the station, along it the spacing of x is true; lengths along the shell
are therefore shorter on the drawing than on the ship where the waterline is oblique. Never measure from the drawing.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from beltwright.core.units import BoolArray, FloatArray
from beltwright.hull.section import sections
from beltwright.hull.shell import Shell

_SAME_X_M = 1e-6  # points this near along the ship share one section


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
