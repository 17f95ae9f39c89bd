"""Where lines along an axis meet a triangulation: triangles are binned on a grid of the two other axes."""

from __future__ import annotations

import numpy as np

from beltwright.core.units import FloatArray, IntArray

_BINS_PER_TRIANGLE = 1.0


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
        self._corners, self._area = flat, area
        edge = np.roll(flat, -1, axis=1) - flat
        self._length = np.sqrt(np.sum(edge * edge, axis=2))
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
        cell = np.floor((at - self._low) / self._step)
        inside = np.flatnonzero(np.all((cell >= 0) & (cell < self._shape), axis=1))
        grid = cell[inside].astype(np.int64)
        bins = grid[:, 0] * self._shape[1] + grid[:, 1]
        count = self._start[bins + 1] - self._start[bins]
        row = np.repeat(np.arange(inside.size), count)
        begin = np.concatenate([[0], np.cumsum(count)[:-1]]) if count.size else np.zeros(0, dtype=np.int64)
        member = self._members[self._start[bins][row] + np.arange(row.size) - begin[row]]
        query = inside[row]
        p = at[query]
        corner = self._corners[member]
        area = self._area[member]
        parts = np.empty((member.size, 3))
        for k in range(3):
            s, e = corner[:, (k + 1) % 3], corner[:, (k + 2) % 3]
            parts[:, k] = (e[:, 0] - s[:, 0]) * (p[:, 1] - s[:, 1]) - (e[:, 1] - s[:, 1]) * (p[:, 0] - s[:, 0])
        parts /= area[:, None]
        opposite = np.roll(self._length[member], -1, axis=1)  # length of the edge opposite each corner
        distance = parts * np.abs(area)[:, None] / np.maximum(opposite, 1e-300)
        near = np.flatnonzero(np.min(distance, axis=1) >= -self.reach)
        return query[near], self._tri[member[near]], parts[near]

    def depth_of(self, triangle: IntArray, parts: FloatArray) -> FloatArray:
        """Return the coordinate along the line where it meets the plane of each triangle [m]."""
        slot = np.searchsorted(self._tri, triangle)
        depth: FloatArray = np.einsum("nk,nk->n", self._depth[slot], parts)
        return depth
