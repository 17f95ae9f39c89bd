"""Where lines along an axis meet a triangulation: triangles are binned on a grid of the two other axes."""

from __future__ import annotations

import numpy as np

from beltwright.core.units import FloatArray, IntArray

_BINS_PER_TRIANGLE = 2.0
_CHUNK = 8192  # lines per sweep: keeps the gathered forms in the processor's cache


class LineBins:
    """Triangles projected along ``axis`` and sorted into a uniform grid.

    Parameters
    ----------
    points, triangles : the triangulation [m]
    axis : 0, 1 or 2, the direction of the lines
    reach_m : how far outside a triangle a line may pass and still count as a candidate
    """

    def __init__(self, points: FloatArray, triangles: IntArray, axis: int, reach_m: float) -> None:
        self.axis = axis
        self.reach = reach_m
        self._plane = [a for a in (0, 1, 2) if a != axis]
        corners = points[triangles]
        flat = corners[:, :, self._plane]
        a, b, c = flat[:, 0], flat[:, 1], flat[:, 2]
        area = (b[:, 0] - a[:, 0]) * (c[:, 1] - a[:, 1]) - (b[:, 1] - a[:, 1]) * (c[:, 0] - a[:, 0])
        longest = np.sqrt(np.max(np.sum((flat - np.roll(flat, -1, axis=1)) ** 2, axis=2), axis=1))
        self._tri = np.flatnonzero(np.abs(area) > 1e-9 * longest * longest + 1e-14)
        flat, area = flat[self._tri], area[self._tri]
        # barycentric coordinate k is (x, z) . slope_k + constant_k; the height over edge k is 1 / |slope_k|
        start, end = np.roll(flat, -1, axis=1), np.roll(flat, -2, axis=1)
        slope = np.stack([start[..., 1] - end[..., 1], end[..., 0] - start[..., 0]]) / area[:, None]
        constant = -(slope[0] * start[..., 0] + slope[1] * start[..., 1])
        height = 1.0 / np.maximum(np.hypot(slope[0], slope[1]), 1e-300)
        self._forms = np.ascontiguousarray(np.concatenate([slope[0], slope[1], constant, height], axis=1).T)
        self._depth = corners[self._tri][:, :, axis]
        self._sort_into_bins(flat)

    def _sort_into_bins(self, flat: FloatArray) -> None:
        n = len(flat)
        if n == 0:
            self._low, self._step, self._shape = np.zeros(2), np.ones(2), np.array([1, 1])
            self._start, self._members = np.zeros(2, dtype=np.int64), np.zeros(0, dtype=np.int64)
            return
        low = flat.min(axis=(0, 1)) - 2 * self.reach
        high = flat.max(axis=(0, 1)) + 2 * self.reach
        size = np.mean(flat.max(axis=1) - flat.min(axis=1), axis=0) / _BINS_PER_TRIANGLE
        shape = np.clip(np.ceil((high - low) / np.maximum(size, 1e-6)), 1, 1500).astype(np.int64)
        self._low, self._shape = low, shape
        self._step = (high - low) / shape
        first = np.floor((flat.min(axis=1) - self.reach - low) / self._step).astype(np.int64)
        last = np.floor((flat.max(axis=1) + self.reach - low) / self._step).astype(np.int64)
        last = np.minimum(last, shape - 1)
        span = last - first + 1
        count = span[:, 0] * span[:, 1]
        owner = np.repeat(np.arange(n), count)
        begin = np.concatenate([[0], np.cumsum(count)[:-1]])
        k = np.arange(owner.size) - begin[owner]
        i = first[owner, 0] + k // span[owner, 1]
        j = first[owner, 1] + k % span[owner, 1]
        bins = i * shape[1] + j
        order = np.argsort(bins, kind="stable")
        self._members = owner[order]
        self._start = np.searchsorted(bins[order], np.arange(shape[0] * shape[1] + 1)).astype(np.int64)

    def candidates(self, at: FloatArray) -> tuple[IntArray, IntArray, FloatArray]:
        """Return query number, triangle and barycentric coordinates (n, 3) of every triangle within reach.

        ``at`` (q, 2) are the two other coordinates of the lines, in axis order [m].
        """
        parts = [self._candidates(at[k : k + _CHUNK], k) for k in range(0, len(at), _CHUNK)]
        if not parts:
            return np.zeros(0, dtype=np.int64), np.zeros(0, dtype=np.int64), np.zeros((0, 3))
        return (
            np.concatenate([p[0] for p in parts]),
            np.concatenate([p[1] for p in parts]),
            np.concatenate([p[2] for p in parts]),
        )

    def _candidates(self, at: FloatArray, first: int) -> tuple[IntArray, IntArray, FloatArray]:
        """Return the candidates of a few lines; ``first`` is the number of the first of them."""
        cell = np.floor((at - self._low) / self._step)
        inside = np.flatnonzero(np.all((cell >= 0) & (cell < self._shape), axis=1))
        grid = cell[inside].astype(np.int64)
        bins = grid[:, 0] * self._shape[1] + grid[:, 1]
        begin = self._start[bins]
        count = self._start[bins + 1] - begin
        row = np.repeat(np.arange(inside.size), count)
        shift = begin - np.cumsum(count) + count
        member = self._members[shift[row] + np.arange(row.size)]
        x, z = at[inside, 0][row], at[inside, 1][row]
        form = np.take(self._forms, member, axis=1)
        parts = form[0:3] * x + form[3:6] * z + form[6:9]
        near = np.flatnonzero(np.all(parts * form[9:12] >= -self.reach, axis=0))
        return inside[row[near]] + first, self._tri[member[near]], np.ascontiguousarray(parts[:, near].T)

    def depth_of(self, triangle: IntArray, parts: FloatArray) -> FloatArray:
        """Return the coordinate along the line where it meets the plane of each triangle [m]."""
        slot = np.searchsorted(self._tri, triangle)
        depth: FloatArray = np.einsum("nk,nk->n", self._depth[slot], parts)
        return depth
