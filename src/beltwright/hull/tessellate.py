"""Triangles over spline faces: a (u, v) grid aligned to the knots, cut by the trim loops."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

import numpy as np

from beltwright.core.units import BoolArray, FloatArray, IntArray
from beltwright.hull.bezier import BezierCells
from beltwright.hull.patch import SplinePatch

_MOST_PER_SPAN = 96  # subdivisions of one knot span at most
_LONGEST_SHARE = 0.025  # a grid cell is at most this share of the hull's greatest extent
_WELD = float(2**30)  # places per face width at which (u, v) are taken as equal


def tessellate_faces(
    patches: Sequence[SplinePatch], cells: BezierCells, *, chord_m: float, most_triangles: int
) -> tuple[IntArray, FloatArray, IntArray, list[Any]]:
    """Return face (n,), uv (n, 2), triangles (m, 3), all counter-clockwise in (u, v), and each face's trim region.

    The region is a shapely polygon in the unit square of the face, or None where the face is not trimmed. The chord
    height is raised if the triangles would be more than ``most_triangles``.
    """
    counts = _grid_counts(cells, chord_m, most_triangles)
    faces, uvs, triangles, regions = [], [], [], []
    at = 0
    for i, patch in enumerate(patches):
        bu, bv = cells.breaks_u[i], cells.breaks_v[i]
        region = trim_region(patch, bu, bv)
        su = _grid_lines((bu - bu[0]) / (bu[-1] - bu[0]), counts[i][0])
        sv = _grid_lines((bv - bv[0]) / (bv[-1] - bv[0]), counts[i][1])
        st, tri = _grid(su, sv) if region is None else _trimmed_grid(su, sv, region)
        uv = np.empty_like(st)
        uv[:, 0] = bu[0] + st[:, 0] * (bu[-1] - bu[0])
        uv[:, 1] = bv[0] + st[:, 1] * (bv[-1] - bv[0])
        faces.append(np.full(len(uv), i, dtype=np.int64))
        uvs.append(uv)
        triangles.append(tri + at)
        regions.append(region)
        at += len(uv)
    return np.concatenate(faces), np.concatenate(uvs), np.concatenate(triangles), regions


def trim_region(patch: SplinePatch, breaks_u: FloatArray, breaks_v: FloatArray) -> Any:
    """Return the kept region of a face in its unit square by the even-odd rule; None if that is all of it."""
    if not patch.trims:
        return None
    import shapely

    low = np.array([breaks_u[0], breaks_v[0]])
    size = np.array([breaks_u[-1], breaks_v[-1]]) - low
    region: Any = shapely.Polygon()
    for loop in patch.trims:
        unit = (np.asarray(loop, dtype=np.float64) - low) / size
        if len(unit) >= 3:
            region = shapely.symmetric_difference(region, shapely.make_valid(shapely.Polygon(unit)))
    region = shapely.intersection(region, shapely.box(0.0, 0.0, 1.0, 1.0))
    if region.area > 1.0 - 1e-9:
        return None
    return region


def _projected(net: FloatArray) -> FloatArray:
    """Return Bezier poles in space."""
    return net[..., :3] / net[..., 3:] if net.shape[-1] == 4 else net


def _grid_counts(cells: BezierCells, chord_m: float, most: int) -> list[tuple[IntArray, IntArray]]:
    """Return subdivisions per knot span in u and v for each face, for the chord height or triangles allowed."""
    nets = [_projected(cells.net(i)) for i in range(cells.n_faces)]
    bends = [_bends(net) for net in nets]
    corners = np.concatenate([net[:, :, :: net.shape[2] - 1, :: net.shape[3] - 1].reshape(-1, 3) for net in nets])
    longest = _LONGEST_SHARE * float(np.ptp(corners, axis=0).max())
    least = [_least_counts(net, longest) for net in nets]
    tol = chord_m
    while True:
        counts = [_counts(b, c, tol) for b, c in zip(bends, least, strict=True)]
        total = sum(2 * int(nu.sum()) * int(nv.sum()) for nu, nv in counts)
        if total <= most or tol > 1e3 * chord_m:
            return counts
        tol *= max(1.1, total / most)


def _bends(poles: FloatArray) -> tuple[FloatArray, FloatArray, FloatArray]:
    """Return bounds of the second derivatives uu, vv and uv of each cell, [m] per unit cell.

    Bending out of the cell's own plane counts in full; uneven spacing within it, which moves no triangle off the
    surface, by a tenth.
    """
    p, q = poles.shape[2] - 1, poles.shape[3] - 1
    zero = np.zeros(poles.shape[:2])
    by_u = poles[:, :, -1, 0] + poles[:, :, -1, -1] - poles[:, :, 0, 0] - poles[:, :, 0, -1]
    by_v = poles[:, :, 0, -1] + poles[:, :, -1, -1] - poles[:, :, 0, 0] - poles[:, :, -1, 0]
    normal = np.cross(by_u, by_v)
    normal /= np.maximum(np.linalg.norm(normal, axis=-1, keepdims=True), 1e-300)

    def size(d: FloatArray) -> FloatArray:
        out = np.abs(np.einsum("abijc,abc->abij", d, normal))
        bound: FloatArray = (out + 0.1 * np.sqrt(np.einsum("abijc,abijc->abij", d, d))).max(axis=(2, 3))
        return bound

    uu = p * (p - 1) * size(np.diff(poles, 2, axis=2)) if p > 1 else zero
    vv = q * (q - 1) * size(np.diff(poles, 2, axis=3)) if q > 1 else zero
    return uu, vv, p * q * size(np.diff(np.diff(poles, axis=2), axis=3))


def _least_counts(poles: FloatArray, longest: float) -> tuple[FloatArray, FloatArray]:
    """Return subdivisions per span in u and v that keep the cells' sides below a length [m]."""
    along_u = np.linalg.norm(np.diff(poles, axis=2), axis=-1).sum(axis=2).max(axis=(1, 2))
    along_v = np.linalg.norm(np.diff(poles, axis=3), axis=-1).sum(axis=3).max(axis=(0, 2))
    return np.ceil(along_u / longest), np.ceil(along_v / longest)


def _counts(
    bends: tuple[FloatArray, FloatArray, FloatArray], least: tuple[FloatArray, FloatArray], tol: float
) -> tuple[IntArray, IntArray]:
    """Return subdivisions per span in u and v so that chord and twist heights stay below ``tol``."""
    uu, vv, uv = bends
    nu = np.ceil(np.sqrt(uu.max(axis=1) / (8.0 * tol)) - 1e-9)
    nv = np.ceil(np.sqrt(vv.max(axis=0) / (8.0 * tol)) - 1e-9)
    nu, nv = np.clip(np.maximum(nu, least[0]), 1, _MOST_PER_SPAN), np.clip(np.maximum(nv, least[1]), 1, _MOST_PER_SPAN)
    lack = uv / (4.0 * tol) / (nu[:, None] * nv[None, :])
    factor = np.sqrt(np.maximum(lack, 1.0))
    nu, nv = np.ceil(nu * factor.max(axis=1) - 1e-9), np.ceil(nv * factor.max(axis=0) - 1e-9)
    return np.minimum(nu, _MOST_PER_SPAN).astype(np.int64), np.minimum(nv, _MOST_PER_SPAN).astype(np.int64)


def _grid_lines(breaks: FloatArray, counts: IntArray) -> FloatArray:
    """Return grid lines: every break point, and each span divided evenly."""
    parts = [np.linspace(a, b, n, endpoint=False) for a, b, n in zip(breaks[:-1], breaks[1:], counts, strict=True)]
    return np.concatenate([*parts, breaks[-1:]])


def _grid(su: FloatArray, sv: FloatArray) -> tuple[FloatArray, IntArray]:
    """Return the vertices and triangles of a whole rectangle."""
    st = np.stack(np.meshgrid(su, sv, indexing="ij"), axis=-1).reshape(-1, 2)
    return st, _quads(np.ones((su.size - 1, sv.size - 1), dtype=np.bool_))


def _quads(keep: BoolArray) -> IntArray:
    """Return two triangles for each kept cell of a grid of vertices (row-major)."""
    i, j = np.nonzero(keep)
    row = keep.shape[1] + 1
    a = i * row + j
    b, c, d = a + row, a + 1, a + row + 1
    return np.stack([np.stack([a, b, d], axis=1), np.stack([a, d, c], axis=1)], axis=1).reshape(-1, 3).astype(np.int64)


def _trimmed_grid(su: FloatArray, sv: FloatArray, region: Any) -> tuple[FloatArray, IntArray]:
    """Return the vertices and triangles of the part of the rectangle inside ``region``."""
    import shapely

    st, _ = _grid(su, sv)
    u0, v0 = np.meshgrid(su[:-1], sv[:-1], indexing="ij")
    u1, v1 = np.meshgrid(su[1:], sv[1:], indexing="ij")
    boxes = shapely.box(u0, v0, u1, v1)
    rim = region.boundary
    shapely.prepare(rim)
    shapely.prepare(region)
    cut = shapely.intersects(rim, boxes)
    whole = ~cut & shapely.contains_xy(region, (u0 + u1) / 2, (v0 + v1) / 2)
    pieces = shapely.get_parts(shapely.intersection(boxes[cut], region))
    pieces = pieces[(shapely.get_type_id(pieces) == 3) & (shapely.area(pieces) > 1e-15)]
    fans = shapely.get_parts(shapely.constrained_delaunay_triangles(pieces))
    corners = shapely.get_coordinates(fans).reshape(-1, 4, 2)[:, :3]
    corners = _counter_clockwise(corners)
    every = np.concatenate([st, corners.reshape(-1, 2)])
    extra = st.shape[0] + np.arange(corners.shape[0] * 3, dtype=np.int64).reshape(-1, 3)
    return _welded(every, np.concatenate([_quads(whole), extra]))


def _counter_clockwise(corners: FloatArray) -> FloatArray:
    """Return triangles (m, 3, 2) turned so that their area is positive; those without area are left out."""
    a, b, c = corners[:, 0], corners[:, 1], corners[:, 2]
    area = (b[:, 0] - a[:, 0]) * (c[:, 1] - a[:, 1]) - (b[:, 1] - a[:, 1]) * (c[:, 0] - a[:, 0])
    turned = corners.copy()
    turned[area < 0] = turned[area < 0][:, ::-1]
    kept: FloatArray = turned[area != 0.0]
    return kept


def _welded(st: FloatArray, triangles: IntArray) -> tuple[FloatArray, IntArray]:
    """Return vertices used by the triangles, equal ones made one, and the triangles over them."""
    key = np.round(st * _WELD).astype(np.int64)
    packed = key[:, 0] * np.int64(2**31) + key[:, 1]
    used = np.unique(triangles)
    _, first, back = np.unique(packed[used], return_index=True, return_inverse=True)
    number = np.zeros(len(st), dtype=np.int64)
    number[used] = back
    welded = number[triangles]
    a, b, c = welded.T
    return st[used[first]], welded[(a != b) & (b != c) & (c != a)]
