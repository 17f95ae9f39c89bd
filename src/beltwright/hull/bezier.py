"""Exact evaluation of many spline faces at once: every face is cut into Bezier cells, all cells lie in one table.

A cell is one knot span by one knot span. Points of all faces are evaluated in one vectorised sweep, without a loop
over faces or cells. Rational faces are evaluated in homogeneous coordinates.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from beltwright.core.errors import InputError
from beltwright.core.units import FloatArray, IntArray
from beltwright.hull.patch import SplinePatch

_CHUNK = 4096  # points per sweep: keeps the gathered poles in the processor's cache


@dataclass(frozen=True, slots=True)
class _Group:
    """Cells of equal degrees: ``net`` (p+1, q+1, 3 or 4, cells)."""

    net: FloatArray


def bezier_extraction(knots: FloatArray, degree: int) -> tuple[FloatArray, FloatArray, IntArray]:
    """Return the break points, and per knot span the matrix from its B-spline poles to its Bezier poles.

    Shapes: breaks (m+1,), matrices (m, p+1, p+1) with ``bezier = matrix @ poles[first:first+p+1]``, first (m,).
    The matrices come from the polar form: Bezier pole r of [a, b] is the blossom at (a repeated p-r, b repeated r).
    """
    p = degree
    k = np.asarray(knots, dtype=np.float64)
    span = np.flatnonzero(np.diff(k) > 0.0)
    span = span[(span >= p) & (span < k.size - p - 1)]
    a, b = k[span], k[span + 1]
    matrices = np.empty((span.size, p + 1, p + 1))
    for r in range(p + 1):
        level = np.broadcast_to(np.eye(p + 1), (span.size, p + 1, p + 1)).copy()
        for j in range(1, p + 1):
            arg = b if j <= r else a
            new = level.copy()
            for i in range(j, p + 1):
                lo, hi = k[span - p + i], k[span + 1 + i - j]
                w = ((arg - lo) / (hi - lo))[:, None]
                new[:, i] = (1.0 - w) * level[:, i - 1] + w * level[:, i]
            level = new
        matrices[:, r] = level[:, p]
    return np.concatenate([a, b[-1:]]), matrices, (span - p).astype(np.int64)


def _bernstein(degree: int, t: FloatArray) -> tuple[FloatArray, FloatArray]:
    """Return the Bernstein polynomials and their derivatives at ``t`` (n,), each (p+1, n)."""
    basis = np.ones((1, t.size))
    lower = basis
    s = 1.0 - t
    for j in range(1, degree + 1):
        lower = basis
        basis = np.empty((j + 1, t.size))
        basis[0] = s * lower[0]
        basis[-1] = t * lower[-1]
        if j > 1:
            basis[1:-1] = s * lower[1:] + t * lower[:-1]
    slope = np.zeros((degree + 1, t.size))
    if degree:
        slope[1:] = degree * lower
        slope[:-1] -= degree * lower
    return basis, slope


class BezierCells:
    """All faces of a hull as one table of Bezier cells.

    Parameters
    ----------
    patches : the faces, poles in metres
    """

    def __init__(self, patches: Sequence[SplinePatch]) -> None:
        self.n_faces = len(patches)
        self.breaks_u: list[FloatArray] = []
        self.breaks_v: list[FloatArray] = []
        self._nets: list[FloatArray] = []
        parts: dict[tuple[int, int, bool], list[tuple[int, FloatArray]]] = {}
        for i, patch in enumerate(patches):
            bu, bv, net = _cell_nets(patch)
            self.breaks_u.append(bu)
            self.breaks_v.append(bv)
            self._nets.append(net)
            key = (net.shape[2] - 1, net.shape[3] - 1, net.shape[4] == 4)
            parts.setdefault(key, []).append((i, net.reshape(-1, *net.shape[2:])))
        cells = np.array([(u.size - 1) * (v.size - 1) for u, v in zip(self.breaks_u, self.breaks_v, strict=True)])
        self._first = np.concatenate([[0], np.cumsum(cells)[:-1]]).astype(np.int64)
        self._group_of = np.empty(int(cells.sum()), dtype=np.int64)
        self._slot_of = np.empty(int(cells.sum()), dtype=np.int64)
        self._groups: list[_Group] = []
        for g, members in enumerate(parts.values()):
            at = 0
            for face, _net in members:
                rows = slice(int(self._first[face]), int(self._first[face] + cells[face]))
                self._group_of[rows] = g
                self._slot_of[rows] = at + np.arange(cells[face])
                at += int(cells[face])
            stacked = np.concatenate([net for _, net in members])
            self._groups.append(_Group(net=np.ascontiguousarray(np.moveaxis(stacked, 0, -1))))
        self._u = _Breaks(self.breaks_u)
        self._v = _Breaks(self.breaks_v)
        self._columns = np.array([v.size - 1 for v in self.breaks_v], dtype=np.int64)

    def net(self, face: int) -> FloatArray:
        """Return the Bezier poles of a face, (cells u, cells v, p+1, q+1, 3 or 4), homogeneous if 4."""
        return self._nets[face]

    def domain(self, face: IntArray) -> tuple[FloatArray, FloatArray, FloatArray, FloatArray]:
        """Return u0, u1, v0, v1 of each face."""
        return self._u.low[face], self._u.high[face], self._v.low[face], self._v.high[face]

    def points(self, face: IntArray, uv: FloatArray) -> FloatArray:
        """Return positions (n, 3) [m]."""
        return self._evaluate(face, uv, slopes=False)[0]

    def slopes(self, face: IntArray, uv: FloatArray) -> tuple[FloatArray, FloatArray, FloatArray]:
        """Return position and first derivatives by u and by v, each (n, 3) [m, m per parameter]."""
        return self._evaluate(face, uv, slopes=True)

    def _evaluate(self, face: IntArray, uv: FloatArray, *, slopes: bool) -> tuple[FloatArray, FloatArray, FloatArray]:
        n = face.size
        out = np.empty((3, 3, n)) if slopes else np.empty((1, 3, n))
        for start in range(0, n, _CHUNK):
            rows = slice(start, min(start + _CHUNK, n))
            self._evaluate_chunk(face[rows], uv[rows], out[:, :, rows], slopes)
        if not slopes:
            empty = np.empty((0, 3))
            return np.ascontiguousarray(out[0].T), empty, empty
        return np.ascontiguousarray(out[0].T), np.ascontiguousarray(out[1].T), np.ascontiguousarray(out[2].T)

    def _evaluate_chunk(self, face: IntArray, uv: FloatArray, out: FloatArray, slopes: bool) -> None:
        iu, s, du = self._u.locate(face, uv[:, 0])
        iv, t, dv = self._v.locate(face, uv[:, 1])
        cell = self._first[face] + iu * self._columns[face] + iv
        if len(self._groups) == 1:
            _evaluate_group(self._groups[0].net, self._slot_of[cell], s, t, du, dv, out, slopes)
            return
        group = self._group_of[cell]
        for g in np.unique(group):
            rows = np.flatnonzero(group == g)
            part = np.empty((out.shape[0], 3, rows.size))
            slot = self._slot_of[cell[rows]]
            _evaluate_group(self._groups[g].net, slot, s[rows], t[rows], du[rows], dv[rows], part, slopes)
            out[:, :, rows] = part


class _Breaks:
    """Break points of every face in one sorted table, to find the knot span of many points at once."""

    def __init__(self, breaks: Sequence[FloatArray]) -> None:
        self.low = np.array([b[0] for b in breaks])
        self.high = np.array([b[-1] for b in breaks])
        keys = [i + (b[:-1] - b[0]) / (b[-1] - b[0]) for i, b in enumerate(breaks)]
        self._keys = np.concatenate(keys)
        self._start = np.concatenate([b[:-1] for b in breaks])
        self._width = np.concatenate([np.diff(b) for b in breaks])
        self._first = np.concatenate([[0], np.cumsum([b.size - 1 for b in breaks])[:-1]]).astype(np.int64)

    def locate(self, face: IntArray, u: FloatArray) -> tuple[IntArray, FloatArray, FloatArray]:
        """Return span number within the face, local coordinate (0..1 inside) and span width."""
        share = (u - self.low[face]) / (self.high[face] - self.low[face])
        span = np.searchsorted(self._keys, face + np.clip(share, 0.0, 1.0 - 1e-12), side="right") - 1
        span = np.maximum(span, self._first[face])
        width = self._width[span]
        return span - self._first[face], (u - self._start[span]) / width, width


def _evaluate_group(
    net: FloatArray,
    slot: IntArray,
    s: FloatArray,
    t: FloatArray,
    du: FloatArray,
    dv: FloatArray,
    out: FloatArray,
    slopes: bool,
) -> None:
    """Fill ``out`` (1 or 3, 3, n) with the position and, if asked, the two derivatives."""
    poles = np.take(net, slot, axis=3)
    bu, bus = _bernstein(net.shape[0] - 1, s)
    bv, bvs = _bernstein(net.shape[1] - 1, t)
    row = np.einsum("ijdn,jn->idn", poles, bv)
    place = np.einsum("idn,in->dn", row, bu)
    if not slopes:
        out[0] = place[:3] / place[3] if net.shape[2] == 4 else place
        return
    by_u = np.einsum("idn,in->dn", row, bus / du)
    by_v = np.einsum("idn,in->dn", np.einsum("ijdn,jn->idn", poles, bvs / dv), bu)
    if net.shape[2] == 4:
        w = place[3]
        out[0] = place[:3] / w
        out[1] = (by_u[:3] - by_u[3] * out[0]) / w
        out[2] = (by_v[:3] - by_v[3] * out[0]) / w
    else:
        out[0], out[1], out[2] = place, by_u, by_v


def _cell_nets(patch: SplinePatch) -> tuple[FloatArray, FloatArray, FloatArray]:
    """Return break points in u and v and the Bezier poles (cells u, cells v, p+1, q+1, 3 or 4) of one face."""
    _check(patch)
    poles = np.asarray(patch.poles, dtype=np.float64)
    if patch.weights is not None and not np.all(patch.weights == patch.weights.flat[0]):
        w = np.asarray(patch.weights, dtype=np.float64)[..., None]
        poles = np.concatenate([poles * w, w], axis=-1)
    bu, mu, fu = bezier_extraction(patch.knots_u, patch.degree_u)
    bv, mv, fv = bezier_extraction(patch.knots_v, patch.degree_v)
    iu = fu[:, None] + np.arange(patch.degree_u + 1)
    iv = fv[:, None] + np.arange(patch.degree_v + 1)
    local = poles[iu[:, None, :, None], iv[None, :, None, :]]
    return bu, bv, np.einsum("aik,abklc,bjl->abijc", mu, local, mv, optimize=True)


def _check(patch: SplinePatch) -> None:
    """Refuse a patch whose arrays do not fit together."""
    where = f"face {patch.name or '(unnamed)'}"
    shape = patch.poles.shape
    for axis, knots, degree, count in (
        ("u", patch.knots_u, patch.degree_u, shape[0]),
        ("v", patch.knots_v, patch.degree_v, shape[1]),
    ):
        if degree < 1 or knots.size != count + degree + 1:
            allowed = f"{count} poles + degree {degree} + 1 = {count + degree + 1}"
            raise InputError(where, f"knot count in {axis} does not fit", value=knots.size, allowed=allowed)
        if np.any(np.diff(knots) < 0.0) or not knots[degree] < knots[-degree - 1]:
            raise InputError(where, f"knots in {axis} do not rise")
    if not np.all(np.isfinite(patch.poles)):
        raise InputError(where, "a pole is not a finite number")
    if patch.weights is not None and not (np.all(np.isfinite(patch.weights)) and np.all(patch.weights > 0.0)):
        raise InputError(where, "a weight is not a positive number")
