"""Tell decks, bulkheads and the centre plane from shell, in axes with x along the ship and z up, centre plane y = 0.

A face is judged by where it lies, not by its name:

- centre plane: everywhere within a millimetre of y = 0 and standing upright;
- deck: nearly level everywhere, and the hull lies below it;
- bulkhead: plane and upright, and inside the hull on both its sides.

The ends of a hull (transom, flat bow) stay shell: outside the hull on one side.
"""

from __future__ import annotations

from typing import Literal

import numpy as np

from beltwright.core.units import BoolArray, FloatArray, IntArray
from beltwright.hull.survey import Survey

Role = Literal["shell", "deck", "bulkhead", "centre plane"]

_CENTREPLANE_M = 1e-3
_LEVEL = 0.9  # least |nz| of a deck
_UPRIGHT = 0.9  # least |nx| or |ny| of a bulkhead
_SHARE = 0.98  # of the area that must fit
_SAMPLES = 15


def roles(survey: Survey, group_of: IntArray, count: int) -> list[Role]:
    """Return what each group of triangles is; ``group_of`` (m,) gives the group of each triangle."""
    area = np.linalg.norm(survey.area_vectors, axis=1)
    total = np.maximum(np.bincount(group_of, area, count), 1e-300)
    normal = np.abs(survey.area_vectors) / np.maximum(area, 1e-300)[:, None]
    share = [np.bincount(group_of, area * (normal[:, k] > _UPRIGHT), count) / total for k in range(3)]
    out: list[Role] = ["shell"] * count
    flat_y = np.all(np.abs(survey.corners[:, :, 1]) <= _CENTREPLANE_M, axis=1)
    for g in np.flatnonzero(np.bincount(group_of, area * flat_y, count) >= 0.999 * total).tolist():
        out[g] = "centre plane"
    _decks(survey, group_of, share[2] >= _SHARE, out)
    _bulkheads(survey, group_of, share, out)
    return out


def _decks(survey: Survey, group_of: IntArray, level: BoolArray, out: list[Role]) -> None:
    """Mark level groups with hull below them."""
    for g in np.flatnonzero(level).tolist():
        if out[g] != "shell":
            continue
        here = _sample(survey, group_of == g)
        at = survey.centres[here]
        query, triangle, depth = survey.hit_triangles(2, at[:, :2])
        others = group_of[triangle] != g
        query, depth = query[others], depth[others]
        below = np.zeros(len(at), dtype=np.bool_)
        below[query[depth < at[query, 2] - 1e-3]] = True
        above = np.zeros(len(at), dtype=np.bool_)
        above[query[depth > at[query, 2] + 1e-3]] = True
        if np.mean(below) > 0.5 and not (np.mean(above) > 0.5 and _is_rising_shell(survey, group_of == g)):
            out[g] = "deck"


def _is_rising_shell(survey: Survey, members: BoolArray) -> bool:
    """Return whether a level face reaches the centre plane nowhere and is narrow: the top of a bulb or a sponson."""
    used = survey.points[np.unique(survey.triangles[members])]
    length = float(np.ptp(survey.box[:, 0]))
    return bool(np.ptp(used[:, 0]) < 0.05 * length)


def _bulkheads(survey: Survey, group_of: IntArray, share: list[FloatArray], out: list[Role]) -> None:
    """Mark plane upright groups that have the hull's inside on both sides."""
    decks = np.array([r in ("deck", "centre plane") for r in out], dtype=np.bool_)
    for axis in (0, 1):
        for g in np.flatnonzero(share[axis] >= _SHARE).tolist():
            if out[g] != "shell" or not _is_plane(survey, group_of == g):
                continue
            kept = (group_of != g) & ~decks[group_of]
            at = survey.centres[_sample(survey, group_of == g)]
            step = np.zeros(3)
            step[axis] = max(1e-3, 3e-4 * float(np.max(np.ptp(survey.box, axis=0))))
            if np.mean(_inside(survey, kept, at + step) & _inside(survey, kept, at - step)) > 0.5:
                out[g] = "bulkhead"


def _inside(hull: Survey, kept: BoolArray, at: FloatArray) -> BoolArray:
    """Return whether points lie above an odd number of surfaces, of the triangles ``kept`` (m,)."""
    query, triangle, depth = hull.hit_triangles(2, at[:, :2])
    below = np.bincount(query[kept[triangle] & (depth < at[query, 2])], minlength=len(at))
    inside: BoolArray = below % 2 == 1
    return inside


def _is_plane(survey: Survey, members: BoolArray) -> bool:
    """Return whether a group's points lie in one plane within a thousandth of its size."""
    used = survey.points[np.unique(survey.triangles[members])]
    centred = used - used.mean(axis=0)
    size = float(np.max(np.linalg.norm(centred, axis=1)))
    normal = np.linalg.svd(centred[:: max(1, len(centred) // 2000)], full_matrices=False)[2][-1]
    return bool(np.max(np.abs(centred @ normal)) <= 1e-3 * size)


def _sample(survey: Survey, members: BoolArray) -> IntArray:
    """Return a few larger triangles of a group."""
    rows = np.flatnonzero(members)
    size = np.linalg.norm(survey.area_vectors[rows], axis=1)
    large = rows[size >= 0.25 * size.max()]
    chosen: IntArray = large[np.unique(np.linspace(0, large.size - 1, min(_SAMPLES, large.size)).astype(np.int64))]
    return chosen


def mesh_groups(points: FloatArray, triangles: IntArray) -> IntArray:
    """Return a group number per triangle: 0 for the body, 1.. for connected level or upright flat parts.

    Triangles join across a shared edge where both are level (|nz| > 0.9) or both stand upright along the same axis in
    one plane.
    """
    from scipy.sparse import coo_matrix
    from scipy.sparse.csgraph import connected_components

    corner = points[triangles]
    normal = np.cross(corner[:, 1] - corner[:, 0], corner[:, 2] - corner[:, 0])
    normal = normal / np.maximum(np.linalg.norm(normal, axis=1), 1e-300)[:, None]
    kind = np.where(np.abs(normal[:, 2]) > _LEVEL, 2, np.where(np.abs(normal[:, 0]) > 0.999, 0, -1))
    kind = np.where((kind < 0) & (np.abs(normal[:, 1]) > 0.9999), 1, kind)
    edges = np.sort(np.stack([triangles, np.roll(triangles, -1, axis=1)], axis=2).reshape(-1, 2), axis=1)
    owner = np.repeat(np.arange(len(triangles)), 3)
    key = edges[:, 0] * np.int64(len(points)) + edges[:, 1]
    order = np.argsort(key, kind="stable")
    same = key[order][1:] == key[order][:-1]
    a, b = owner[order][:-1][same], owner[order][1:][same]
    alike = (kind[a] == kind[b]) & (kind[a] >= 0)
    alike &= (kind[a] == 2) | (np.abs(np.einsum("ij,ij->i", normal[a], normal[b])) > 1 - 1e-6)
    a, b = a[alike], b[alike]
    graph = coo_matrix((np.ones(len(a), dtype=np.int8), (a, b)), shape=(len(triangles), len(triangles)))
    _, label = connected_components(graph, directed=False)
    label = np.where(kind < 0, -1, label)
    area = np.linalg.norm(np.cross(corner[:, 1] - corner[:, 0], corner[:, 2] - corner[:, 0]), axis=1)
    size = np.bincount(label[label >= 0], area[label >= 0], len(triangles))
    large = np.flatnonzero(size > 0.002 * area.sum())
    number = np.zeros(len(triangles) + 1, dtype=np.int64)
    number[large] = 1 + np.arange(large.size)
    return np.where(label >= 0, number[label], 0)
