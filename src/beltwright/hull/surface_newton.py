"""Meet lines along y with spline faces: many starts, one vectorised Newton iteration on the exact surface."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np

from beltwright.core.units import BoolArray, FloatArray, IntArray
from beltwright.hull.bezier import BezierCells
from beltwright.hull.shell import Crossings, SurfacePoints

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
    uv, points, su, sv, good = _newton(cells, face, start, target)
    rows = np.flatnonzero(good)
    face, uv, points, su, sv = face[rows], uv[rows], points[rows], su[rows], sv[rows]
    u0, u1, v0, v1 = cells.domain(face)
    over = np.stack([uv[:, 0] - np.clip(uv[:, 0], u0, u1), uv[:, 1] - np.clip(uv[:, 1], v0, v1)], axis=1)
    tiny = 1e-12 * np.stack([u1 - u0, v1 - v0], axis=1)
    over[np.abs(over) < tiny] = 0.0
    inside = np.all(over == 0.0, axis=1)
    ask = np.flatnonzero(inside & trimmed[face])
    if ask.size:
        ask = ask[~_in_triangle(uv[ask], corners[rows[ask]])]
        over[ask] = _over_trim(regions, face[ask], uv[ask], u0[ask], u1[ask], v0[ask], v1[ask])
        inside[ask] = np.all(over[ask] == 0.0, axis=1)
    away = np.linalg.norm(su * over[:, :1] + sv * over[:, 1:], axis=1)
    keep = (inside | (away <= gap_m)) & (points[:, 1] >= -1e-9)
    return LineHits(rows=rows[keep], uv=uv[keep], points=points[keep], inside=inside[keep])


def _newton(
    cells: BezierCells, face: IntArray, start: FloatArray, target: FloatArray
) -> tuple[FloatArray, FloatArray, FloatArray, FloatArray, BoolArray]:
    """Return parameters, points, both slopes and which starts converged."""
    n = face.size
    uv = start.copy()
    points, su, sv = np.empty((n, 3)), np.empty((n, 3)), np.empty((n, 3))
    good = np.zeros(n, dtype=np.bool_)
    u0, u1, v0, v1 = cells.domain(face)
    reach = 0.1 * np.stack([u1 - u0, v1 - v0], axis=1)
    live = np.arange(n)
    for _ in range(_STEPS):
        if live.size == 0:
            break
        p, pu, pv = cells.slopes(face[live], uv[live])
        rx, rz = target[live, 0] - p[:, 0], target[live, 1] - p[:, 2]
        done = (np.abs(rx) < _CONVERGED_M) & (np.abs(rz) < _CONVERGED_M)
        hit = live[done]
        points[hit], su[hit], sv[hit], good[hit] = p[done], pu[done], pv[done], True
        det = pu[:, 0] * pv[:, 2] - pu[:, 2] * pv[:, 0]
        size = (pu[:, 0] ** 2 + pu[:, 2] ** 2) * (pv[:, 0] ** 2 + pv[:, 2] ** 2)
        on = ~done & (det * det > 1e-20 * size)
        det = det[on]
        step = np.stack(
            [
                (rx[on] * pv[on, 2] - rz[on] * pv[on, 0]) / det,
                (rz[on] * pu[on, 0] - rx[on] * pu[on, 2]) / det,
            ],
            axis=1,
        )
        live = live[on]
        most = np.max(np.abs(step) / reach[live], axis=1, initial=0.0, keepdims=True)
        uv[live] += step / np.maximum(most, 1.0)
        low, high = u0[live] - reach[live, 0], u1[live] + reach[live, 0]
        uv[live, 0] = np.clip(uv[live, 0], low, high)
        low, high = v0[live] - reach[live, 1], v1[live] + reach[live, 1]
        uv[live, 1] = np.clip(uv[live, 1], low, high)
    return uv, points, su, sv, good


def _in_triangle(uv: FloatArray, corners: FloatArray) -> BoolArray:
    """Return whether each point lies in its (counter-clockwise) parameter triangle."""
    inside = np.ones(len(uv), dtype=np.bool_)
    for k in range(3):
        s, e = corners[:, k], corners[:, (k + 1) % 3]
        side = (e[:, 0] - s[:, 0]) * (uv[:, 1] - s[:, 1]) - (e[:, 1] - s[:, 1]) * (uv[:, 0] - s[:, 0])
        inside &= side >= 0.0
    return inside


def _over_trim(
    regions: list[Any],
    face: IntArray,
    uv: FloatArray,
    u0: FloatArray,
    u1: FloatArray,
    v0: FloatArray,
    v1: FloatArray,
) -> FloatArray:
    """Return how far each point lies outside its trim region, as a step in (u, v); zero inside."""
    import shapely

    over = np.zeros_like(uv)
    low, size = np.stack([u0, v0], axis=1), np.stack([u1 - u0, v1 - v0], axis=1)
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


def merged(query: IntArray, face: IntArray, hits: LineHits, gap_m: float) -> Crossings:
    """Return crossings sorted by query and y, with those of one place made one (the one inside its face is kept)."""
    y = hits.points[:, 1]
    order = np.lexsort((~hits.inside, y, query))
    q, f, ys = query[order], face[order], y[order]
    if order.size:
        near = np.where(f[1:] == f[:-1], _SAME_M, gap_m)
        new = np.concatenate([[True], (q[1:] != q[:-1]) | (np.diff(ys) > near)])
        group = np.cumsum(new) - 1
        best = np.lexsort((np.arange(order.size), ~hits.inside[order], group))
        _, first = np.unique(group[best], return_index=True)
        order = order[best[first]]
    return Crossings(
        query=query[order],
        at=SurfacePoints(face=face[order], uv=hits.uv[order], points=hits.points[order]),
    )
