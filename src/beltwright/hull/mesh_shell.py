"""The port half of a hull given as triangles: exact on the facets, angles from interpolated normals."""

from __future__ import annotations

from collections.abc import Sequence
from functools import cached_property
from typing import Literal

import numpy as np

from beltwright.core.errors import InputError
from beltwright.core.findings import Finding
from beltwright.core.units import FloatArray, IntArray
from beltwright.hull.cutting import CutNet, cut_family
from beltwright.hull.faces import face_findings, outward_signs
from beltwright.hull.linehits import LineBins
from beltwright.hull.marching import edge_table
from beltwright.hull.mesh_normals import corner_normals, welded, wound_one_way
from beltwright.hull.patch import TrianglePatch
from beltwright.hull.shell import Crossings, LevelFunction, Pieces, SurfaceCurve, SurfacePoints, Tessellation
from beltwright.hull.surface_newton import one_per_place

_CENTREPLANE_M = 1e-3
_SNAP_M = 1e-6


class MeshShell:
    """The port half of a triangle mesh in ship axes [m]; every triangle is a face of its own.

    Vertices within a micrometre are welded, windings made to agree and turned outward by the parity of transverse
    lines, triangles across the centre plane cut at it. Normals are interpolated between vertices and stay sharp at
    creases, so knuckles and transom edges keep both directions.

    Parameters
    ----------
    patches : triangles in ship axes [m]
    gap_tolerance_m : how far apart pieces of the mesh may lie and still be joined
    crease_deg : a turn between neighbours above this is a crease

    Raises
    ------
    InputError : no triangle is left on the port side, or a vertex is not a finite number
    """

    def __init__(
        self, patches: Sequence[TrianglePatch], gap_tolerance_m: float = 0.005, *, crease_deg: float = 20.0
    ) -> None:
        self.gap_tolerance_m = gap_tolerance_m
        points, triangles = _gathered(patches)
        points, triangles = welded(points, triangles)
        points[np.abs(points[:, 1]) < _SNAP_M, 1] = 0.0
        triangles = triangles[np.max(np.abs(points[triangles][:, :, 1]), axis=1) > _CENTREPLANE_M]
        if len(triangles) == 0 or points[triangles][:, :, 1].max() <= _CENTREPLANE_M:
            raise InputError("hull", "no triangle lies on the port side (y > 0)", allowed="at least one with y > 0")
        triangles, _ = wound_one_way(triangles)
        normals, vertex = corner_normals(points, triangles, crease_deg)
        corners, normals, vertex = _port_part(points[triangles], normals, vertex)
        self._place(corners, normals, vertex)
        self._orient()

    def _place(self, corners: FloatArray, normals: FloatArray, vertex: IntArray) -> None:
        """Keep the corners (m, 3, 3), their normals, and the vertex table behind them."""
        used, first, back = np.unique(vertex, return_index=True, return_inverse=True)
        self._corners, self._corner_normals = corners, normals
        self._triangles = back.reshape(-1, 3).astype(np.int64)
        self._points = corners.reshape(-1, 3)[first]
        self._first_corner = first
        self._n_vertices = used.size

    def _orient(self) -> None:
        from scipy.sparse import coo_array
        from scipy.sparse.csgraph import connected_components

        m = len(self._triangles)
        key = np.round(self._points / _SNAP_M).astype(np.int64)
        _, place = np.unique(key, axis=0, return_inverse=True)
        solid = place.reshape(-1)[self._triangles]
        table = edge_table(solid)
        count = np.bincount(table.of_triangle.ravel(), minlength=len(table.ends))
        order = np.argsort(table.of_triangle.ravel(), kind="stable")
        rows = order[count[table.of_triangle.ravel()[order]] == 2].reshape(-1, 2) // 3
        graph = coo_array((np.ones(len(rows)), (rows[:, 0], rows[:, 1])), shape=(m, m))
        pieces, piece = connected_components(graph, directed=False)
        piece = piece.astype(np.int64)
        sign, sure = outward_signs(self._points, self._triangles, piece, pieces, self._bins, self.gap_tolerance_m)
        self._n_pieces = pieces
        self.turned = tuple(np.flatnonzero(sign < 0).tolist())
        self.uncertain = tuple(np.flatnonzero(~sure).tolist())
        turned = sign[piece] < 0
        for array in (self._corners, self._corner_normals, self._triangles):
            array[turned] = array[turned][:, ::-1]
        self._corner_normals[turned] *= -1.0
        _, self._first_corner = np.unique(self._triangles, return_index=True)
        self.__dict__.pop("_bins", None)

    @property
    def kind(self) -> Literal["spline", "mesh"]:
        """Angles are interpolated mesh normals."""
        return "mesh"

    @property
    def findings(self) -> tuple[Finding, ...]:
        """What was noticed about the connected pieces of the mesh: turned, or of uncertain outer side."""
        names = tuple(f"mesh piece {k + 1}" for k in range(self._n_pieces))
        return face_findings(names, flipped=self.turned, uncertain=self.uncertain, doubles=())

    @cached_property
    def bounds(self) -> FloatArray:
        """Least and greatest x, y, z, shape (2, 3) [m]."""
        return np.stack([self._points.min(axis=0), self._points.max(axis=0)])

    def parameter_range(self, face: IntArray) -> tuple[FloatArray, FloatArray]:
        """Return the least and greatest parameters of each face, two arrays (n, 2)."""
        return np.zeros((face.size, 2)), np.ones((face.size, 2))

    def points(self, face: IntArray, uv: FloatArray) -> FloatArray:
        """Return positions (n, 3) [m]."""
        return self.slopes(face, uv)[0]

    def slopes(self, face: IntArray, uv: FloatArray) -> tuple[FloatArray, FloatArray, FloatArray]:
        """Return positions and derivatives by both barycentric coordinates, each (n, 3) [m]."""
        corner = self._corners[face]
        e1, e2 = corner[:, 1] - corner[:, 0], corner[:, 2] - corner[:, 0]
        return corner[:, 0] + uv[:, :1] * e1 + uv[:, 1:] * e2, e1, e2

    def area_vectors(self, face: IntArray, uv: FloatArray) -> tuple[FloatArray, FloatArray]:
        """Return positions (n, 3) [m] and the facet's outward normal, twice its area long [m2]."""
        p, e1, e2 = self.slopes(face, uv)
        return p, np.cross(e1, e2)

    def normals(self, face: IntArray, uv: FloatArray) -> FloatArray:
        """Return unit outward normals (n, 3), interpolated between the triangle's corners."""
        part = np.stack([1.0 - uv[:, 0] - uv[:, 1], uv[:, 0], uv[:, 1]], axis=1)
        normal = np.einsum("nk,nkc->nc", part, self._corner_normals[face])
        length = np.linalg.norm(normal, axis=1, keepdims=True)
        unit: FloatArray = normal / np.where(length > 0.0, length, np.inf)
        return unit

    @cached_property
    def _net(self) -> CutNet:
        edges = edge_table(self._triangles)
        order = np.argsort(edges.of_triangle.ravel(), kind="stable")
        edge = edges.of_triangle.ravel()[order]
        first = np.flatnonzero(np.diff(edge, prepend=-1))
        sides = np.full((len(edges.ends), 2), -1, dtype=np.int64)
        sides[:, 0] = order[first] // 3
        second = np.flatnonzero(np.diff(edge, prepend=-1) == 0)
        sides[edge[second], 1] = order[second] // 3
        uv = np.zeros((len(edges.ends), 2, 3))
        row = np.arange(len(edges.ends))
        for k in (0, 1):
            uv[row, k, np.argmax(self._triangles[sides[:, 0]] == edges.ends[:, k, None], axis=1)] = 1.0
        return CutNet(
            points=self._points,
            triangles=self._triangles,
            edges=edges,
            edge_face=sides[:, 0],
            edge_uv=uv[:, :, 1:],
            sides=sides,
        )

    @cached_property
    def _bins(self) -> LineBins:
        return LineBins(self._points, self._triangles, 1, self.gap_tolerance_m)

    def cut(self, level: LevelFunction) -> tuple[SurfaceCurve, ...]:
        """Return every curve where the level function is zero, exact on the facets."""
        return self.cut_family(level, np.zeros(1))[0]

    def cut_family(self, level: LevelFunction, offsets: FloatArray) -> tuple[tuple[SurfaceCurve, ...], ...]:
        """Return for each offset every curve where the level function equals it (many sections in one sweep)."""
        return cut_family(self._net, self.points, level, np.asarray(offsets, dtype=np.float64), self.gap_tolerance_m)

    def crossings(self, x: FloatArray, z: FloatArray) -> Crossings:
        """Return all surface points at the given x and z (lines along y) [m], sorted by query, then by y."""
        at = np.stack([np.asarray(x, dtype=np.float64), np.asarray(z, dtype=np.float64)], axis=1)
        query, triangle, parts = self._bins.candidates(at)
        inside = np.min(parts, axis=1) >= -1e-12
        uv = parts[:, 1:]
        points = self.points(triangle, uv)
        keep = np.flatnonzero(points[:, 1] >= -1e-9)
        query, triangle, uv, points = query[keep], triangle[keep], uv[keep], points[keep]
        # all triangles take part as one face: crossings at one place are one, whichever triangle gave them
        rows = one_per_place(query, np.zeros_like(query), points[:, 1], inside[keep], self.gap_tolerance_m)
        return Crossings(query=query[rows], at=SurfacePoints(face=triangle[rows], uv=uv[rows], points=points[rows]))

    def pieces(self) -> Pieces:
        """Return the triangles in their own parameters."""
        corner = np.array([[0.0, 0.0], [1.0, 0.0], [0.0, 1.0]])
        m = len(self._triangles)
        return Pieces(face=np.arange(m), uv=np.broadcast_to(corner, (m, 3, 2)).copy())

    def tessellation(self) -> Tessellation:
        """Return the mesh; a vertex at a crease is there once per side."""
        corner = self._first_corner
        unit = np.array([[0.0, 0.0], [1.0, 0.0], [0.0, 1.0]])
        vertices = SurfacePoints(face=corner // 3, uv=unit[corner % 3], points=self._points)
        return Tessellation(vertices=vertices, triangles=self._triangles)


def _gathered(patches: Sequence[TrianglePatch]) -> tuple[FloatArray, IntArray]:
    """Return all patches as one set of points and triangles."""
    points: list[FloatArray] = []
    triangles: list[IntArray] = []
    at = 0
    for patch in patches:
        if not np.all(np.isfinite(patch.vertices)):
            raise InputError(f"mesh {patch.name or '(unnamed)'}", "a vertex is not a finite number")
        if patch.triangles.size and not 0 <= patch.triangles.min() <= patch.triangles.max() < len(patch.vertices):
            raise InputError(f"mesh {patch.name or '(unnamed)'}", "a triangle names a vertex that is not there",
                             value=int(patch.triangles.max()), allowed=f"0 to {len(patch.vertices) - 1}")  # fmt: skip
        points.append(np.asarray(patch.vertices, dtype=np.float64))
        triangles.append(patch.triangles.astype(np.int64) + at)
        at += len(patch.vertices)
    if not points:
        raise InputError("hull", "no triangles given")
    return np.concatenate(points), np.concatenate(triangles)


def _port_part(corners: FloatArray, normals: FloatArray, vertex: IntArray) -> tuple[FloatArray, FloatArray, IntArray]:
    """Return the triangles with y >= 0; those across the centre plane are cut at it, normals interpolated."""
    y = corners[:, :, 1]
    below = y < 0.0
    whole = ~below.any(axis=1) & (y.max(axis=1) > 0.0)
    out_c, out_n, out_v = [corners[whole]], [normals[whole]], [vertex[whole]]
    across = below.any(axis=1) & (y.max(axis=1) > 0.0)
    top = int(vertex.max()) + 1
    made: dict[tuple[int, int], int] = {}
    for t in np.flatnonzero(across):
        ring_c, ring_n, ring_v = [], [], []
        for k in range(3):
            n = (k + 1) % 3
            if not below[t, k]:
                ring_c.append(corners[t, k])
                ring_n.append(normals[t, k])
                ring_v.append(int(vertex[t, k]))
            if below[t, k] != below[t, n] and y[t, k] != 0.0 and y[t, n] != 0.0:
                share = y[t, k] / (y[t, k] - y[t, n])
                point = corners[t, k] + share * (corners[t, n] - corners[t, k])
                point[1] = 0.0
                ring_c.append(point)
                ring_n.append(_unit(normals[t, k] + share * (normals[t, n] - normals[t, k])))
                a, b = int(vertex[t, k]), int(vertex[t, n])
                ring_v.append(made.setdefault((min(a, b), max(a, b)), top + len(made)))
        for k in range(1, len(ring_c) - 1):
            pick = [0, k, k + 1]
            out_c.append(np.array([[ring_c[i] for i in pick]]))
            out_n.append(np.array([[ring_n[i] for i in pick]]))
            out_v.append(np.array([[ring_v[i] for i in pick]], dtype=np.int64))
    return np.concatenate(out_c), np.concatenate(out_n), np.concatenate(out_v)


def _unit(vector: FloatArray) -> FloatArray:
    length = float(np.linalg.norm(vector))
    return vector / length if length > 0.0 else vector
