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

_CHORD_OF_LENGTH = 2e-5
_MOST_TRIANGLES = 60_000


class Survey:
    """Triangles over all patches, in one length unit.

    Attributes
    ----------
    points : (n, 3), triangles : (m, 3), patch_of : (m,) the patch each triangle belongs to
    """

    def __init__(self, points: FloatArray, triangles: IntArray, patch_of: IntArray) -> None:
        self.points, self.triangles, self.patch_of = points, triangles, patch_of

    @classmethod
    def of(cls, patches: Sequence[Patch]) -> Survey:
        """Look at patches: splines are divided into triangles, meshes are taken as they are."""
        points, triangles, owner, at = [], [], [], 0
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
            at = len(uv)
        for i, patch in enumerate(patches):
            if isinstance(patch, TrianglePatch):
                points.append(patch.vertices)
                triangles.append(patch.triangles + at)
                owner.append(np.full(len(patch.triangles), i, dtype=np.int64))
                at += len(patch.vertices)
        return cls(np.concatenate(points), np.concatenate(triangles), np.concatenate(owner))

    def moved(self, matrix: FloatArray) -> Survey:
        """Return the survey in other axes."""
        return Survey(self.points @ matrix[:3, :3].T + matrix[:3, 3], self.triangles, self.patch_of)

    def only(self, keep: BoolArray) -> Survey:
        """Return the survey of some triangles."""
        return Survey(self.points, self.triangles[keep], self.patch_of[keep])

    @cached_property
    def box(self) -> FloatArray:
        """Least and greatest coordinates of what the triangles use, (2, 3)."""
        used = self.points[np.unique(self.triangles)]
        return np.stack([used.min(axis=0), used.max(axis=0)])

    @cached_property
    def area_vectors(self) -> FloatArray:
        """Area times normal of each triangle by its winding, (m, 3)."""
        c = self.points[self.triangles]
        vectors: FloatArray = 0.5 * np.cross(c[:, 1] - c[:, 0], c[:, 2] - c[:, 0])
        return vectors

    @cached_property
    def centres(self) -> FloatArray:
        """Centre of each triangle, (m, 3)."""
        centres: FloatArray = self.points[self.triangles].mean(axis=1)
        return centres

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
        bins = LineBins(self.points, self.triangles, axis, 0.0)
        query, triangle, parts = bins.candidates(at)
        return query, bins.depth_of(triangle, parts)

    def section(self, x: float) -> FloatArray:
        """Return where the triangles' edges cross the plane at ``x``, (k, 3)."""
        corner = self.points[self.triangles]
        along = corner[:, :, 0]
        near = corner[(along.min(axis=1) <= x) & (along.max(axis=1) >= x)]
        a, b = near, np.roll(near, -1, axis=1)
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
