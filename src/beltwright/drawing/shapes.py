"""Small work on polylines: leaving out points that a pen cannot show."""

from __future__ import annotations

import numpy as np

from beltwright.core.units import FloatArray


def straightened(runs: FloatArray, sag: float, edges: int = 1) -> list[FloatArray]:
    """Return polylines of equal make (n, k, 2), each of ``edges`` edges, with every edge that is straight as one line.

    With ``edges`` above 1 the polylines are closed rings whose edges have equal numbers of points. An edge counts as
    straight where its points lie within ``sag`` of its chord.
    """
    count, points, _ = runs.shape
    step = points // edges if edges > 1 else points - 1
    keep = np.ones((count, points), dtype=bool)
    for edge in range(edges):
        places = np.arange(edge * step, (edge + 1) * step + 1) % points
        piece = runs[:, places]
        chord = piece[:, -1] - piece[:, 0]
        offset = piece[:, 1:-1] - piece[:, :1]
        length = np.maximum(np.hypot(chord[:, 0], chord[:, 1]), 1e-12)
        away = np.abs(chord[:, None, 0] * offset[..., 1] - chord[:, None, 1] * offset[..., 0]) / length[:, None]
        straight = (away <= sag).all(axis=1)
        keep[np.ix_(straight, places[1:-1])] = False
    return [run[kept] for run, kept in zip(runs, keep, strict=True)]


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
