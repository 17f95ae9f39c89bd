"""A coarse look at a hull in its file's own axes: triangles to measure extents, breadths and what lies inside."""

from __future__ import annotations

from collections.abc import Sequence
from functools import cached_property

import numpy as np

from beltwright.core.units import BoolArray, FloatArray, IntArray
from beltwright.hull.bezier import BezierCells
from beltwright.hull.linehits import LineBins
from beltwright.hull.patch import Patch, SplinePatch, TrianglePatch
from beltwright.hull.tessellate import tessellate_faces

_CHORD_OF_LENGTH = 1e-4
_MOST_TRIANGLES = 20_000


class Survey:
    """Triangles over all patches, in one length unit.

    Attributes
    ----------
    points : (n, 3), triangles : (m, 3), patch_of : (m,) the patch each triangle belongs to
    box : least and greatest coordinates, (2, 3); on spline faces that are not trimmed those of the surface itself
    """

    def __init__(self, points: FloatArray, triangles: IntArray, patch_of: IntArray, box: FloatArray) -> None:
        self.points, self.triangles, self.patch_of, self.box = points, triangles, patch_of, box
        self._bins: dict[int, LineBins] = {}

    @classmethod
    def of(cls, patches: Sequence[Patch]) -> Survey:
        """Look at patches: splines are divided into triangles, meshes are taken as they are."""
        points, triangles, owner, boxes, at = [], [], [], [], 0
        splines = [(i, p) for i, p in enumerate(patches) if isinstance(p, SplinePatch)]
        if splines:
            faces = [p for _, p in splines]
            cells = BezierCells(faces)
            extent = max(float(np.max(np.ptp(p.poles.reshape(-1, 3), axis=0))) for p in faces)
            chord = max(extent, 1e-9) * _CHORD_OF_LENGTH
            face, uv, tri, _ = tessellate_faces(faces, cells, chord_m=chord, most_triangles=_MOST_TRIANGLES)
            points.append(cells.points(face, uv))
            triangles.append(tri)
            owner.append(np.array([i for i, _ in splines], dtype=np.int64)[face[tri[:, 0]]])
            whole = np.array([not p.trims for p in faces], dtype=np.bool_)
            boxes.append(_extremes(cells, face, uv, points[0], whole))
            at = len(uv)
        for i, patch in enumerate(patches):
            if isinstance(patch, TrianglePatch):
                points.append(patch.vertices)
                triangles.append(patch.triangles + at)
                owner.append(np.full(len(patch.triangles), i, dtype=np.int64))
                used = patch.vertices[used_vertices(patch)]
                boxes.append(np.stack([used.min(axis=0), used.max(axis=0)]))
                at += len(patch.vertices)
        box = np.stack([np.min([b[0] for b in boxes], axis=0), np.max([b[1] for b in boxes], axis=0)])
        return cls(np.concatenate(points), np.concatenate(triangles), np.concatenate(owner), box)

    def moved(self, matrix: FloatArray) -> Survey:
        """Return the survey in other axes; the matrix keeps the axes parallel to the old ones."""
        if np.array_equal(matrix, np.eye(4)):
            return self
        corners = self.box @ matrix[:3, :3].T + matrix[:3, 3]
        box = np.stack([corners.min(axis=0), corners.max(axis=0)])
        return Survey(self.points @ matrix[:3, :3].T + matrix[:3, 3], self.triangles, self.patch_of, box)

    @cached_property
    def corners(self) -> FloatArray:
        """Corners of each triangle, (m, 3, 3)."""
        corners: FloatArray = self.points[self.triangles]
        return corners

    @cached_property
    def area_vectors(self) -> FloatArray:
        """Area times normal of each triangle by its winding, (m, 3)."""
        c = self.corners
        vectors: FloatArray = 0.5 * np.cross(c[:, 1] - c[:, 0], c[:, 2] - c[:, 0])
        return vectors

    @cached_property
    def centres(self) -> FloatArray:
        """Centre of each triangle, (m, 3)."""
        centres: FloatArray = self.corners.mean(axis=1)
        return centres

    @cached_property
    def _x_ranges(self) -> tuple[FloatArray, FloatArray]:
        a, b, c = self.corners[:, :, 0].T
        return np.minimum(np.minimum(a, b), c), np.maximum(np.maximum(a, b), c)

    def extremes(self, axis: int, at: FloatArray) -> tuple[FloatArray, FloatArray]:
        """Return the least and greatest coordinate along ``axis`` on lines at the two other coordinates (q, 2).

        NaN where a line misses.
        """
        query, depth = self.hits(axis, at)
        low, high = np.full(len(at), np.inf), np.full(len(at), -np.inf)
        np.minimum.at(low, query, depth)
        np.maximum.at(high, query, depth)
        missed = ~np.isfinite(low)
        low[missed] = high[missed] = np.nan
        return low, high

    def hits(self, axis: int, at: FloatArray) -> tuple[IntArray, FloatArray]:
        """Return line number and coordinate of every crossing of lines along ``axis``."""
        query, _, depth = self.hit_triangles(axis, at)
        return query, depth

    def hit_triangles(self, axis: int, at: FloatArray) -> tuple[IntArray, IntArray, FloatArray]:
        """Return line number, triangle and coordinate of every crossing of lines along ``axis``."""
        if axis not in self._bins:
            self._bins[axis] = LineBins(self.points, self.triangles, axis, 0.0)
        query, triangle, parts = self._bins[axis].candidates(at)
        return query, triangle, self._bins[axis].depth_of(triangle, parts)

    def section(self, x: float) -> FloatArray:
        """Return where the triangles' edges cross the plane at ``x``, (k, 3)."""
        low, high = self._x_ranges
        near = self.corners[(low <= x) & (high >= x)]
        a, b = near, near[:, [1, 2, 0]]
        da, db = a[:, :, 0] - x, b[:, :, 0] - x
        across = (da * db <= 0.0) & (da != db)
        share = (da[across] / (da[across] - db[across]))[:, None]
        crossing: FloatArray = a[across] * (1.0 - share) + b[across] * share
        return crossing

    def slices(self, count: int = 40) -> FloatArray:
        """Return least and greatest y and z in evenly spaced sections, (count, 2, 2); NaN where a section is empty."""
        low, high = self.box[0, 0], self.box[1, 0]
        out = np.full((count, 2, 2), np.nan)
        for i, x in enumerate((low + (high - low) * (np.arange(count) + 0.5) / count).tolist()):
            cut = self.section(x)
            if len(cut):
                out[i, 0], out[i, 1] = cut[:, 1:].min(axis=0), cut[:, 1:].max(axis=0)
        return out


def used_vertices(patch: TrianglePatch) -> BoolArray:
    """Return which vertices of a mesh its triangles use."""
    used = np.zeros(len(patch.vertices), dtype=np.bool_)
    used[patch.triangles.ravel()] = True
    return used


def _extremes(cells: BezierCells, face: IntArray, uv: FloatArray, points: FloatArray, whole: BoolArray) -> FloatArray:
    """Return the box of spline faces; each extreme on an untrimmed face is sought on the surface round its vertex."""
    box = np.stack([points.min(axis=0), points.max(axis=0)])
    share = np.linspace(-1.0, 1.0, 9)
    grid = np.stack(np.meshgrid(share, share, indexing="ij"), axis=-1).reshape(-1, 2)
    u0, u1, v0, v1 = cells.domain(np.arange(cells.n_faces))
    for end, sign in ((0, -1.0), (1, 1.0)):
        for axis in range(3):
            row = int(np.argmax(sign * points[:, axis]))
            f = int(face[row])
            if not whole[f]:
                continue
            low, high = np.array([u0[f], v0[f]]), np.array([u1[f], v1[f]])
            best, reach = uv[row], 0.1 * (high - low)
            for _ in range(24):
                around = np.clip(best + reach * grid, low, high)
                value = sign * cells.points(np.full(len(around), f, dtype=np.int64), around)[:, axis]
                best, reach = around[int(np.argmax(value))], 0.4 * reach
                box[end, axis] = sign * max(sign * box[end, axis], float(value.max()))
    return box
