"""The one protocol over every hull surface: curves and surface points, never "the" half-breadth.

A shell is the **port half** of the hull in ship axes: x forward from the aft perpendicular, y to port, z up from
the baseline, all in metres. A place on it is a face number and two parameters; on a mesh the face is the triangle
and the parameters are its second and third barycentric coordinates.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal, Protocol

from beltwright.core.findings import Finding
from beltwright.core.units import FloatArray, IntArray


class LevelFunction(Protocol):
    """A scalar field whose zero set cuts the shell: a plane, a trimmed or broken ice waterline, half-breadth ..."""

    def __call__(self, points: FloatArray) -> FloatArray:
        """Return the signed value at ``points`` (n, 3); the cut is where it is zero."""
        ...


@dataclass(frozen=True, slots=True, kw_only=True)
class PlaneLevel:
    """The field ``points . normal - offset`` [m]."""

    normal: tuple[float, float, float]
    offset: float

    def __call__(self, points: FloatArray) -> FloatArray:
        """Return the signed distance times the normal's length at ``points`` (n, 3)."""
        nx, ny, nz = self.normal
        field: FloatArray = points[:, 0] * nx + points[:, 1] * ny + points[:, 2] * nz - self.offset
        return field


@dataclass(frozen=True, slots=True, kw_only=True)
class SurfacePoints:
    """Places on a shell: ``face`` (n,), ``uv`` (n, 2) and their ``points`` (n, 3) [m]."""

    face: IntArray
    uv: FloatArray
    points: FloatArray


@dataclass(frozen=True, slots=True, kw_only=True)
class SurfaceCurve:
    """A chain of surface points in order; every vertex lies on the surface and on the level to 1e-9 m (spline).

    At a patch border the same place appears twice, once per face, so that normals on both sides are kept.
    """

    at: SurfacePoints
    closed: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Crossings:
    """All crossings of lines with a shell: row i belongs to query ``query[i]``; a query may have none or many."""

    query: IntArray
    at: SurfacePoints


@dataclass(frozen=True, slots=True, kw_only=True)
class Tessellation:
    """Triangles over the shell with exact vertices: ``vertices`` are surface points, ``triangles`` (m, 3) index them.

    All three corners of a triangle lie on one face.
    """

    vertices: SurfacePoints
    triangles: IntArray


@dataclass(frozen=True, slots=True, kw_only=True)
class Pieces:
    """Triangles in the parameters of their faces: ``face`` (m,), ``uv`` (m, 3, 2); counter-clockwise from outside."""

    face: IntArray
    uv: FloatArray


class Shell(Protocol):
    """The port half of a hull surface in ship axes [m]."""

    @property
    def kind(self) -> Literal["spline", "mesh"]:
        """Whether angles are exact surface derivatives (spline) or interpolated mesh normals."""
        ...

    @property
    def bounds(self) -> FloatArray:
        """Least and greatest x, y, z, shape (2, 3) [m]."""
        ...

    @property
    def gap_tolerance_m(self) -> float:
        """How far apart neighbouring faces may lie and still be joined [m]."""
        ...

    @property
    def findings(self) -> tuple[Finding, ...]:
        """What was noticed about the faces: turned, doubled, or of uncertain outer side."""
        ...

    def parameter_range(self, face: IntArray) -> tuple[FloatArray, FloatArray]:
        """Return the least and greatest parameters of each face, two arrays (n, 2)."""
        ...

    def points(self, face: IntArray, uv: FloatArray) -> FloatArray:
        """Return positions (n, 3) [m]."""
        ...

    def slopes(self, face: IntArray, uv: FloatArray) -> tuple[FloatArray, FloatArray, FloatArray]:
        """Return positions and their derivatives by the two parameters, each (n, 3) [m]."""
        ...

    def area_vectors(self, face: IntArray, uv: FloatArray) -> tuple[FloatArray, FloatArray]:
        """Return positions (n, 3) [m] and outward normals as long as the area per unit of both parameters [m2]."""
        ...

    def normals(self, face: IntArray, uv: FloatArray) -> FloatArray:
        """Return unit outward normals (n, 3)."""
        ...

    def cut(self, level: LevelFunction) -> tuple[SurfaceCurve, ...]:
        """Return every curve where the level function is zero, joined across faces within the gap tolerance."""
        ...

    def cut_family(self, level: LevelFunction, offsets: FloatArray) -> tuple[tuple[SurfaceCurve, ...], ...]:
        """Return for each offset every curve where the level function equals it (many sections in one sweep)."""
        ...

    def crossings(self, x: FloatArray, z: FloatArray) -> Crossings:
        """Return all surface points at the given x and z (lines along y) [m]."""
        ...

    def pieces(self) -> Pieces:
        """Return the triangles in parameters, counter-clockwise seen from outside: what quadrature works on."""
        ...

    def tessellation(self) -> Tessellation:
        """Return the triangles used for areas, volumes and pictures."""
        ...
