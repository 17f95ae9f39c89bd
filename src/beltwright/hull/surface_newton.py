"""Meet lines along y with spline faces: many starts, one vectorised Newton iteration on the exact surface."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any, Protocol

import numpy as np

from beltwright.core.units import BoolArray, FloatArray, IntArray
from beltwright.hull.bezier import BezierCells

_STEPS = 25
_CONVERGED_M = 1e-10
_SAME_M = 1e-7  # crossings of one face closer than this are one


@dataclass(frozen=True, slots=True)
class LineHits:
    """Converged crossings: ``rows`` of the starts they came from, uv, points, and whether inside the face proper."""

    rows: IntArray
    uv: FloatArray
    points: FloatArray
    inside: BoolArray


def line_crossings(
    cells: BezierCells,
    regions: list[Any],
    trimmed: BoolArray,
    *,
    face: IntArray,
    start: FloatArray,
    corners: FloatArray,
    target: FloatArray,
    gap_m: float,
) -> LineHits:
    """Return the converged crossings that lie on their face, or beyond its border by no more than ``gap_m``.

    ``start`` (n, 2) and ``corners`` (n, 3, 2) are parameters, ``target`` (n, 2) the wanted x and z [m].
    """
    u0, u1, v0, v1 = cells.domain(face)
    low, high = np.stack([u0, v0], axis=1), np.stack([u1, v1], axis=1)
    uv, points, su, sv, good = settle_axes(cells, face, start, (0, 2), target, low, high)
    rows = np.flatnonzero(good)
    face, uv, points, su, sv = face[rows], uv[rows], points[rows], su[rows], sv[rows]
    u0, u1, v0, v1 = cells.domain(face)
    low, high = low[rows], high[rows]
    over = uv - np.clip(uv, low, high)
    tiny = 1e-12 * (high - low)
    over[np.abs(over) < tiny] = 0.0
    inside = np.all(over == 0.0, axis=1)
    ask = np.flatnonzero(inside & trimmed[face])
    if ask.size:
        ask = ask[~_in_triangle(uv[ask], corners[rows[ask]])]
        over[ask] = _over_trim(regions, face[ask], uv[ask], low[ask], high[ask] - low[ask])
        inside[ask] = np.all(over[ask] == 0.0, axis=1)
    away = np.linalg.norm(su * over[:, :1] + sv * over[:, 1:], axis=1)
    keep = (inside | (away <= gap_m)) & (points[:, 1] >= -1e-9)
    return LineHits(rows=rows[keep], uv=uv[keep], points=points[keep], inside=inside[keep])


class Surface(Protocol):
    """Anything with positions and first derivatives."""

    def slopes(self, face: IntArray, uv: FloatArray) -> tuple[FloatArray, FloatArray, FloatArray]:
        """Return positions and derivatives by both parameters, each (n, 3)."""
        ...


def settle_axes(
    surface: Surface,
    face: IntArray,
    start: FloatArray,
    axes: tuple[int, int],
    target: FloatArray,
    low: FloatArray,
    high: FloatArray,
) -> tuple[FloatArray, FloatArray, FloatArray, FloatArray, BoolArray]:
    """Move places on their faces until two coordinates equal ``target`` (n, 2), by Newton's method.

    ``low`` and ``high`` (n, 2) are the parameter ranges; a step is at most a tenth of them, and a place may go a tenth
    beyond. Returns parameters, points, both slopes, and which places converged to 1e-10 m.
    """
    n = face.size
    i, k = axes
    uv = start.copy()
    points, su, sv = np.empty((n, 3)), np.empty((n, 3)), np.empty((n, 3))
    good = np.zeros(n, dtype=np.bool_)
    reach = 0.1 * (high - low)
    live = np.arange(n)
    for _ in range(_STEPS):
        if live.size == 0:
            break
        p, pu, pv = surface.slopes(face[live], uv[live])
        ri, rk = target[live, 0] - p[:, i], target[live, 1] - p[:, k]
        done = (np.abs(ri) < _CONVERGED_M) & (np.abs(rk) < _CONVERGED_M)
        hit = live[done]
        points[hit], su[hit], sv[hit], good[hit] = p[done], pu[done], pv[done], True
        det = pu[:, i] * pv[:, k] - pu[:, k] * pv[:, i]
        size = (pu[:, i] ** 2 + pu[:, k] ** 2) * (pv[:, i] ** 2 + pv[:, k] ** 2)
        on = ~done & (det * det > 1e-20 * size)
        det, ri, rk, pu, pv, live = det[on], ri[on], rk[on], pu[on], pv[on], live[on]
        step = np.stack([ri * pv[:, k] - rk * pv[:, i], rk * pu[:, i] - ri * pu[:, k]], axis=1) / det[:, None]
        most = np.max(np.abs(step) / reach[live], axis=1, initial=0.0, keepdims=True)
        moved = uv[live] + step / np.maximum(most, 1.0)
        uv[live] = np.clip(moved, low[live] - reach[live], high[live] + reach[live])
    return uv, points, su, sv, good


def _in_triangle(uv: FloatArray, corners: FloatArray) -> BoolArray:
    """Return whether each point lies in its (counter-clockwise) parameter triangle."""
    inside = np.ones(len(uv), dtype=np.bool_)
    for k in range(3):
        s, e = corners[:, k], corners[:, (k + 1) % 3]
        side = (e[:, 0] - s[:, 0]) * (uv[:, 1] - s[:, 1]) - (e[:, 1] - s[:, 1]) * (uv[:, 0] - s[:, 0])
        inside &= side >= 0.0
    return inside


def _over_trim(regions: list[Any], face: IntArray, uv: FloatArray, low: FloatArray, size: FloatArray) -> FloatArray:
    """Return how far each point lies outside its trim region, as a step in (u, v); zero inside."""
    import shapely

    over = np.zeros_like(uv)
    unit = (uv - low) / size
    for f in np.unique(face):
        rows = np.flatnonzero(face == f)
        region = regions[f]
        shapely.prepare(region)
        out = rows[~shapely.contains_xy(region, unit[rows, 0], unit[rows, 1])]
        if out.size:
            line = shapely.shortest_line(shapely.points(unit[out]), region)
            ends = shapely.get_coordinates(line).reshape(-1, 2, 2)
            over[out] = (ends[:, 0] - ends[:, 1]) * size[out]
    return over


def one_per_place(query: IntArray, face: IntArray, y: FloatArray, inside: BoolArray, gap_m: float) -> IntArray:
    """Return the rows of distinct crossings, sorted by query and y; the one inside its face stands for its place.

    A crossing just beyond its face's border counts only where the line meets no face proper: it bridges a gap.
    """
    proper = np.zeros(int(query.max(initial=-1)) + 1, dtype=np.bool_)
    proper[query[inside]] = True
    order = np.lexsort((~inside, y, query))
    order = order[inside[order] | ~proper[query[order]]]
    if order.size == 0:
        return order
    q, f = query[order], face[order]
    near = np.where(f[1:] == f[:-1], _SAME_M, gap_m)
    new = np.concatenate([[True], (q[1:] != q[:-1]) | (np.diff(y[order]) > near)])
    group = np.cumsum(new) - 1
    best = np.lexsort((~inside[order], group))
    rows: IntArray = order[best[np.flatnonzero(np.diff(group[best], prepend=-1))]]
    return rows
