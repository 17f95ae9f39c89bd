"""Prepare spline faces for a shell: split at knuckles, leave out doubles, orient outward."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

import numpy as np

from beltwright.core.findings import Finding
from beltwright.core.units import BoolArray, FloatArray, IntArray
from beltwright.hull.bezier import BezierCells
from beltwright.hull.codes import FACE_SIDE_UNCERTAIN, FACES_DOUBLED, FACES_FLIPPED
from beltwright.hull.linehits import LineBins
from beltwright.hull.patch import SplinePatch

_KNUCKLE_DEG = 0.5  # a smaller break of the tangent inside a face is taken as smooth
_NAMED = 5  # faces named in a finding
_SAMPLES = 9  # lines per face that vote on its side


def split_at_knuckles(patch: SplinePatch) -> list[SplinePatch]:
    """Return the patch cut at the knots where its tangent breaks by more than half a degree."""
    pieces = [patch]
    for axis in (0, 1):
        pieces = [part for piece in pieces for part in _split_axis(piece, axis)]
    return pieces


def _split_axis(patch: SplinePatch, axis: int) -> list[SplinePatch]:
    knots, p = (patch.knots_u, patch.degree_u) if axis == 0 else (patch.knots_v, patch.degree_v)
    inner, times = np.unique(knots[p + 1 : -p - 1], return_counts=True)
    low, high = knots[p], knots[-p - 1]
    inner = inner[(times >= p) & (inner > low) & (inner < high)]
    if inner.size == 0:
        return [patch]
    sharp = _sharp_breaks(patch, axis)
    return _cut_at(patch, axis, [float(k) for k in inner if any(abs(k - s) < 1e-12 * (high - low) for s in sharp)])


def _sharp_breaks(patch: SplinePatch, axis: int) -> FloatArray:
    """Return the break points of one direction across which the tangent turns."""
    cells = BezierCells([patch])
    net = cells.net(0)
    net = net[..., :3] / net[..., 3:] if net.shape[-1] == 4 else net
    breaks = cells.breaks_u[0] if axis == 0 else cells.breaks_v[0]
    if axis == 1:
        net = net.transpose(1, 0, 3, 2, 4)
    before = net[:-1, :, -1] - net[:-1, :, -2]
    after = net[1:, :, 1] - net[1:, :, 0]
    size = np.linalg.norm(before, axis=-1) * np.linalg.norm(after, axis=-1)
    sine = np.linalg.norm(np.cross(before, after), axis=-1)
    turned = (sine > np.sin(np.radians(_KNUCKLE_DEG)) * size) & (size > 1e-12)
    backward = (np.sum(before * after, axis=-1) < 0.0) & (size > 1e-12)
    return breaks[1:-1][np.any(turned | backward, axis=(1, 2))]


def _cut_at(patch: SplinePatch, axis: int, at: list[float]) -> list[SplinePatch]:
    """Return the patch cut at full-multiplicity knots of one direction."""
    pieces, rest = [], patch
    for knot in at:
        knots, p = (rest.knots_u, rest.degree_u) if axis == 0 else (rest.knots_v, rest.degree_v)
        left = int(np.searchsorted(knots, knot, side="left"))
        right = int(np.searchsorted(knots, knot, side="right")) - 1
        ends = np.full(p + 1, knot)
        pieces.append(_part(rest, axis, slice(0, left), np.concatenate([knots[:left], ends])))
        rest = _part(rest, axis, slice(right - p, None), np.concatenate([ends, knots[right + 1 :]]))
    return [*pieces, rest]


def _part(patch: SplinePatch, axis: int, rows: slice, knots: FloatArray) -> SplinePatch:
    index = (rows, slice(None)) if axis == 0 else (slice(None), rows)
    weights = None if patch.weights is None else patch.weights[index]
    if axis == 0:
        return replace(patch, poles=patch.poles[index], weights=weights, knots_u=knots)
    return replace(patch, poles=patch.poles[index], weights=weights, knots_v=knots)


def without_doubles(patches: Sequence[SplinePatch]) -> tuple[list[int], list[int]]:
    """Return the numbers of the faces kept and of those that repeat an earlier face pole for pole."""
    kept: list[int] = []
    doubles: list[int] = []
    seen: dict[tuple[tuple[int, ...], bytes], int] = {}
    for i, patch in enumerate(patches):
        trims = b"".join(np.round(t, 9).tobytes() for t in patch.trims)
        key = (patch.poles.shape, (np.round(patch.poles, 6) + 0.0).tobytes() + trims)
        (doubles if key in seen else kept).append(i)
        seen.setdefault(key, i)
    return kept, doubles


def face_findings(
    names: Sequence[str], *, flipped: Sequence[int], uncertain: Sequence[int], doubles: Sequence[int]
) -> tuple[Finding, ...]:
    """Return one finding for each kind of trouble among the faces, naming the first few."""
    kinds = ((FACES_FLIPPED, flipped), (FACE_SIDE_UNCERTAIN, uncertain), (FACES_DOUBLED, doubles))
    return tuple(
        Finding(
            kind=kind,
            where="hull",
            message=f"{len(rows)} of {len(names)}: "
            + ", ".join(names[i] for i in rows[:_NAMED])
            + (" and more" if len(rows) > _NAMED else ""),
        )
        for kind, rows in kinds
        if rows
    )


def outward_signs(
    points: FloatArray, triangles: IntArray, face_of: IntArray, n_faces: int, bins_y: LineBins, gap_m: float
) -> tuple[FloatArray, BoolArray]:
    """Return for each face +1 where the winding of its triangles looks outward, else -1, and whether that is certain.

    A line to port meets the hull an odd number of times from the centre plane outward, so the outermost crossing of
    every transverse line looks to port, the next one inboard to starboard, and so on: tunnels, skegs, bulbs and
    tumblehome included. Open decks and transoms do not matter. Faces with no extent seen from the side are judged by
    lines along z from below, or along x from the nearer end.
    """
    corner = points[triangles]
    area = 0.5 * np.cross(corner[:, 1] - corner[:, 0], corner[:, 2] - corner[:, 0])
    seen = np.stack([np.bincount(face_of, np.abs(area[:, a]), n_faces) for a in range(3)], axis=1)
    axis = np.where(seen[:, 1] > 0.05 * seen.sum(axis=1), 1, np.where(seen[:, 2] > seen[:, 0], 2, 0))
    vote, weight = np.zeros(n_faces), np.zeros(n_faces)
    for a in (1, 2, 0):
        faces = np.flatnonzero(axis == a)
        if faces.size:
            bins = bins_y if a == 1 else LineBins(points, triangles, a, 0.0)
            _vote(bins, corner.mean(axis=1), area[:, a], face_of, faces, gap_m, vote, weight)
    sure = np.abs(vote) > 0.5 * np.maximum(weight, 1e-300)
    sign = np.where(vote < 0.0, -1.0, 1.0)
    return sign, sure


def _vote(
    bins: LineBins,
    centre: FloatArray,
    area: FloatArray,
    face_of: IntArray,
    faces: IntArray,
    gap_m: float,
    vote: FloatArray,
    weight: FloatArray,
) -> None:
    """Add the votes of the largest triangles of each face, by the parity of crossings along one axis."""
    sample = np.concatenate([_spread(np.flatnonzero(face_of == f), area) for f in faces])
    plane = [a for a in (0, 1, 2) if a != bins.axis]
    query, triangle, parts = bins.candidates(centre[sample][:, plane])
    inside = np.min(parts, axis=1) >= 0.0
    query, triangle, parts = query[inside], triangle[inside], parts[inside]
    depth = bins.depth_of(triangle, parts)
    own = centre[sample, bins.axis]
    low, high = centre[:, bins.axis].min(), centre[:, bins.axis].max()
    order = np.lexsort((depth, query))
    query, depth = query[order], depth[order]
    fresh = np.concatenate([[True], (query[1:] != query[:-1]) | (np.diff(depth) > gap_m)])
    query, depth = query[fresh], depth[fresh]
    beyond = np.bincount(query[depth > own[query] + gap_m], minlength=sample.size)
    before = np.bincount(query[depth < own[query] - gap_m], minlength=sample.size)
    from_low = np.where(before % 2 == 0, -1.0, 1.0)
    from_high = np.where(beyond % 2 == 0, 1.0, -1.0)
    if bins.axis == 1:
        expected = from_high
    elif bins.axis == 2:
        expected = from_low
    else:
        expected = np.where(own < 0.5 * (low + high), from_low, from_high)
    size = np.abs(area[sample])
    np.add.at(vote, face_of[sample], expected * np.sign(area[sample]) * size)
    np.add.at(weight, face_of[sample], size)


def _spread(rows: IntArray, area: FloatArray) -> IntArray:
    """Return a few of the larger triangles of one face, spread over it."""
    size = np.abs(area[rows])
    large = rows[size >= 0.25 * size.max()]
    chosen: IntArray = large[np.unique(np.linspace(0, large.size - 1, min(_SAMPLES, large.size)).astype(np.int64))]
    return chosen
