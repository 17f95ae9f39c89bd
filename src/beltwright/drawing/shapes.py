"""Small work on polylines: leaving out points that a pen cannot show."""

from __future__ import annotations

import numpy as np

from beltwright.core.units import FloatArray


def thinned(run: FloatArray, sag: float) -> FloatArray:
    """Return a polyline (n, 2) without the points that lie within ``sag`` of the chord of those kept; ends stay.

    The greatest departure splits the run, until all pieces lie within the sag.
    """
    points = np.asarray(run, dtype=np.float64)
    if len(points) <= 2:
        return points
    keep = np.zeros(len(points), dtype=bool)
    keep[[0, -1]] = True
    stack = [(0, len(points) - 1)]
    while stack:
        first, last = stack.pop()
        if last - first < 2:
            continue
        chord = points[last] - points[first]
        offset = points[first + 1 : last] - points[first]
        length = float(np.hypot(*chord))
        if length > 0.0:
            away = np.abs(chord[0] * offset[:, 1] - chord[1] * offset[:, 0]) / length
        else:
            away = np.hypot(offset[:, 0], offset[:, 1])
        worst = int(np.argmax(away))
        if away[worst] > sag:
            middle = first + 1 + worst
            keep[middle] = True
            stack += [(first, middle), (middle, last)]
    return points[keep]
