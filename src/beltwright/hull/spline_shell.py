"""The port half of a hull made of spline faces: exact positions and normals, cuts and crossings by own iteration."""

from __future__ import annotations

from collections.abc import Sequence
from functools import cached_property
from typing import Any, Literal

import numpy as np

from beltwright.core.errors import InputError
from beltwright.core.findings import Finding
from beltwright.core.units import BoolArray, FloatArray, IntArray
from beltwright.hull.bezier import BezierCells
from beltwright.hull.cutting import CutNet, cut_family, locate_nodes
from beltwright.hull.faces import face_findings, outward_signs, split_at_knuckles, without_doubles
from beltwright.hull.linehits import LineBins
from beltwright.hull.marching import ON_LEVEL_M, below_pieces, crossed, edge_table
from beltwright.hull.patch import SplinePatch
from beltwright.hull.shell import Crossings, LevelFunction, Pieces, SurfaceCurve, SurfacePoints, Tessellation
from beltwright.hull.surface_newton import line_crossings, one_per_place

_CENTREPLANE_M = 1e-3  # a face nowhere further from the centre plane lies in it
_STRADDLE_M = 1e-6  # a face reaching further past the centre plane is cut there


class SplineShell:
    """The port half of a hull of spline faces in ship axes [m].

    Faces are split at inner knuckles, cut at the centre plane, and oriented outward by the parity of transverse lines;
    the file's own orientation is not trusted. ``flipped`` and ``uncertain`` say what was found.

    Parameters
    ----------
    patches : faces in ship axes [m]
    gap_tolerance_m : how far apart neighbouring faces may lie and still be joined
    chord_m : greatest distance between the triangles and the surface, met unless ``most_triangles`` forbids

    Raises
    ------
    InputError : no face is left on the port side, or a face's arrays do not fit together
    """

    def __init__(
        self,
        patches: Sequence[SplinePatch],
        gap_tolerance_m: float = 0.005,
        *,
        chord_m: float = 0.002,
        most_triangles: int = 200_000,
    ) -> None:
        self.gap_tolerance_m = gap_tolerance_m
        self.chord_m = chord_m
        kept, doubles = without_doubles(patches)
        source: list[int] = []
        faces: list[SplinePatch] = []
        aside: list[int] = []
        for i in kept:
            if float(patches[i].poles[..., 1].max()) <= _CENTREPLANE_M:
                aside.append(i)
                continue
            for piece in split_at_knuckles(patches[i]):
                faces.append(piece)
                source.append(i)
        if not faces:
            raise InputError("hull", "no face lies on the port side (y > 0)", allowed="at least one face with y > 0")
        self.patches = tuple(faces)
        self.source = tuple(source)
        self.doubles = tuple(doubles)
        self._names = tuple(p.name or f"number {i + 1}" for i, p in enumerate(patches))
        self.left_out = tuple(aside)
        self._cells = BezierCells(faces)
        self._mesh(most_triangles)
        self._orient()

    def _mesh(self, most_triangles: int) -> None:
        face, uv, triangles, self._regions = tessellate_all(self.patches, self._cells, self.chord_m, most_triangles)
        points = self._cells.points(face, uv)
        face, uv, points, triangles = _port_part(self._cells, face, uv, points, triangles)
        if not len(triangles):
            raise InputError("hull", "no face lies on the port side (y > 0)", allowed="at least one face with y > 0")
        self._vertices = SurfacePoints(face=face, uv=uv, points=points)
        self._triangles = triangles
        self._face_of_triangle = face[triangles[:, 0]]
        self._trimmed: BoolArray = np.array([r is not None for r in self._regions], dtype=np.bool_)

    def _orient(self) -> None:
        self._sign, sure = outward_signs(
            self._vertices.points,
            self._triangles,
            self._face_of_triangle,
            len(self.patches),
            self._bins,
            self.gap_tolerance_m,
        )
        given = np.array([-1.0 if p.reversed else 1.0 for p in self.patches])
        present = np.bincount(self._face_of_triangle, minlength=len(self.patches)) > 0
        self.flipped = tuple(sorted({self.source[i] for i in np.flatnonzero(present & (given != self._sign))}))
        self.uncertain = tuple(sorted({self.source[i] for i in np.flatnonzero(present & ~sure)}))

    @property
    def kind(self) -> Literal["spline", "mesh"]:
        """Angles are exact surface derivatives."""
        return "spline"

    @property
    def findings(self) -> tuple[Finding, ...]:
        """What was noticed about the faces: turned, doubled, or of uncertain outer side."""
        return face_findings(self._names, flipped=self.flipped, uncertain=self.uncertain, doubles=self.doubles)

    @cached_property
    def bounds(self) -> FloatArray:
        """Least and greatest x, y, z of the tessellation's vertices, shape (2, 3) [m]."""
        p = self._vertices.points[np.unique(self._triangles)]
        return np.stack([p.min(axis=0), p.max(axis=0)])

    def parameter_range(self, face: IntArray) -> tuple[FloatArray, FloatArray]:
        """Return the least and greatest (u, v) of each face, two arrays (n, 2)."""
        u0, u1, v0, v1 = self._cells.domain(face)
        return np.stack([u0, v0], axis=1), np.stack([u1, v1], axis=1)

    def points(self, face: IntArray, uv: FloatArray) -> FloatArray:
        """Return positions (n, 3) [m]."""
        return self._cells.points(face, uv)

    def slopes(self, face: IntArray, uv: FloatArray) -> tuple[FloatArray, FloatArray, FloatArray]:
        """Return positions and derivatives by u and by v, each (n, 3) [m, m per parameter]."""
        return self._cells.slopes(face, uv)

    def area_vectors(self, face: IntArray, uv: FloatArray) -> tuple[FloatArray, FloatArray]:
        """Return positions (n, 3) [m] and outward normals whose length is the area per unit of u and v."""
        p, su, sv = self._cells.slopes(face, uv)
        return p, np.cross(su, sv) * self._sign[face][:, None]

    def normals(self, face: IntArray, uv: FloatArray) -> FloatArray:
        """Return unit outward normals (n, 3); at a collapsed edge the limit from inside the face."""
        _, su, sv = self._cells.slopes(face, uv)
        normal = np.cross(su, sv)
        length = np.sqrt(np.einsum("ni,ni->n", normal, normal))
        scale = np.sqrt(np.einsum("ni,ni->n", su, su) + np.einsum("ni,ni->n", sv, sv))
        flat = np.flatnonzero(length <= 1e-9 * scale * scale)
        if flat.size:
            normal[flat], length[flat] = self._limit_normals(face[flat], uv[flat])
        unit: FloatArray = normal * (self._sign[face] / length)[:, None]
        return unit

    def _limit_normals(self, face: IntArray, uv: FloatArray) -> tuple[FloatArray, FloatArray]:
        """Return normals just inside the face where the surface element vanishes."""
        low, high = self.parameter_range(face)
        normal, length = np.zeros((face.size, 3)), np.zeros(face.size)
        for nudge in (1e-7, 1e-5, 1e-3):
            rows = np.flatnonzero(length == 0.0)
            if rows.size == 0:
                break
            inner = uv[rows] + nudge * (0.5 * (low[rows] + high[rows]) - uv[rows])
            _, su, sv = self._cells.slopes(face[rows], inner)
            cross = np.cross(su, sv)
            size = np.linalg.norm(cross, axis=1)
            good = size > 1e-12 * (np.sum(su * su, axis=1) + np.sum(sv * sv, axis=1))
            normal[rows[good]], length[rows[good]] = cross[good], size[good]
        length[length == 0.0] = np.inf  # no normal at all: a zero vector, never NaN
        return normal, length

    @cached_property
    def _net(self) -> CutNet:
        edges = edge_table(self._triangles)
        return CutNet(
            points=self._vertices.points,
            triangles=self._triangles,
            edges=edges,
            edge_face=self._vertices.face[edges.ends[:, 0]],
            edge_uv=self._vertices.uv[edges.ends],
        )

    @cached_property
    def _bins(self) -> LineBins:
        reach = max(self.gap_tolerance_m, 2.0 * self.chord_m)
        return LineBins(self._vertices.points, self._triangles, 1, reach)

    def cut(self, level: LevelFunction) -> tuple[SurfaceCurve, ...]:
        """Return every curve where the level function is zero, joined across faces within the gap tolerance."""
        return self.cut_family(level, np.zeros(1))[0]

    def cut_family(self, level: LevelFunction, offsets: FloatArray) -> tuple[tuple[SurfaceCurve, ...], ...]:
        """Return for each offset every curve where the level function equals it (many sections in one sweep)."""
        return cut_family(self._net, self.points, level, np.asarray(offsets, dtype=np.float64), self.gap_tolerance_m)

    def crossings(self, x: FloatArray, z: FloatArray) -> Crossings:
        """Return all surface points at the given x and z (lines along y) [m], sorted by query, then by y."""
        lines = np.stack([np.asarray(x, dtype=np.float64), np.asarray(z, dtype=np.float64)], axis=1)
        query, triangle, parts = self._bins.candidates(lines)
        corner = self._triangles[triangle]
        parts = np.clip(parts, 0.0, 1.0)
        parts /= parts.sum(axis=1, keepdims=True)
        start = np.einsum("nk,nkc->nc", parts, self._vertices.uv[corner])
        face = self._face_of_triangle[triangle]
        found = line_crossings(
            self._cells,
            self._regions,
            self._trimmed,
            face=face,
            start=start,
            corners=self._vertices.uv[corner],
            target=lines[query],
            gap_m=self.gap_tolerance_m,
        )
        query, face = query[found.rows], face[found.rows]
        rows = one_per_place(query, face, found.points[:, 1], found.inside, self.gap_tolerance_m)
        at = SurfacePoints(face=face[rows], uv=found.uv[rows], points=found.points[rows])
        return Crossings(query=query[rows], at=at)

    def pieces(self) -> Pieces:
        """Return the triangles in parameters, counter-clockwise seen from outside."""
        triangles = self.tessellation().triangles
        return Pieces(face=self._face_of_triangle, uv=self._vertices.uv[triangles])

    def tessellation(self) -> Tessellation:
        """Return the triangles used for areas, volumes and pictures, wound so that they look outward."""
        turned = self._sign[self._face_of_triangle] < 0
        triangles = self._triangles.copy()
        triangles[turned] = triangles[turned][:, ::-1]
        return Tessellation(vertices=self._vertices, triangles=triangles)


def tessellate_all(
    patches: Sequence[SplinePatch], cells: BezierCells, chord_m: float, most: int
) -> tuple[IntArray, FloatArray, IntArray, list[Any]]:
    """Return the triangles over every face."""
    from beltwright.hull.tessellate import tessellate_faces

    return tessellate_faces(patches, cells, chord_m=chord_m, most_triangles=most)


def _port_part(
    cells: BezierCells, face: IntArray, uv: FloatArray, points: FloatArray, triangles: IntArray
) -> tuple[IntArray, FloatArray, FloatArray, IntArray]:
    """Return the triangles on the port side: faces in or beyond the centre plane go, faces across it are cut at it."""
    n_faces = int(face.max()) + 1
    low, high = np.full(n_faces, np.inf), np.full(n_faces, -np.inf)
    corner_face = face[triangles].ravel()
    y = points[:, 1]
    np.minimum.at(low, corner_face, y[triangles].ravel())
    np.maximum.at(high, corner_face, y[triangles].ravel())
    stays = high > _CENTREPLANE_M
    triangles = triangles[stays[face[triangles[:, 0]]]]
    across = stays & (low < -_STRADDLE_M)
    if not np.any(across):
        return face, uv, points, triangles
    field = np.where(across[face], -y, -1.0)  # below zero is kept
    table = edge_table(triangles)
    hit = crossed(table, triangles, field, np.zeros(1), True)
    net = CutNet(
        points=points, triangles=triangles, edges=table, edge_face=face[table.ends[:, 0]], edge_uv=uv[table.ends]
    )
    nodes = locate_nodes(net, cells.points, lambda p: -p[:, 1], field, np.zeros(1), hit)
    node_of_edge = np.full(len(table.ends), -1, dtype=np.int64)
    node_of_edge[hit.edge] = len(points) + np.arange(hit.edge.size)
    above = field >= -ON_LEVEL_M
    pieces, _, _ = below_pieces(triangles, above, node_of_edge, table.of_triangle)
    whole = triangles[~np.any(above[triangles], axis=1)]
    return (
        np.concatenate([face, nodes.face]),
        np.concatenate([uv, nodes.uv]),
        np.concatenate([points, nodes.points]),
        np.concatenate([whole, pieces]),
    )
