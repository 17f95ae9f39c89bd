"""Lines on the shell where a field of surface places is zero, such as a given inclination of the shell."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np

from beltwright.core.units import FloatArray, IntArray
from beltwright.hull.marching import bracketed_root, chains, crossed, edge_table
from beltwright.hull.shell import Shell, SurfaceCurve, SurfacePoints

PlaceField = Callable[[IntArray, FloatArray], FloatArray]


def contour(shell: Shell, field: PlaceField) -> tuple[SurfaceCurve, ...]:
    """Return every curve on the shell where a field is zero.

    ``field(face, uv)`` gives the values (n,) at surface places; it is met to 1e-9 on the edges of the tessellation.
    Curves end at face borders: a field made from normals may jump there.
    """
    mesh, pieces = shell.tessellation(), shell.pieces()
    edges = edge_table(mesh.triangles)
    owner = np.zeros(len(edges.ends), dtype=np.int64)
    owner[edges.of_triangle.ravel()] = np.repeat(np.arange(len(mesh.triangles)), 3)
    values = field(mesh.vertices.face, mesh.vertices.uv)
    hit = crossed(edges, mesh.triangles, values, np.zeros(1), zero_above=True)
    if hit.edge.size == 0:
        return ()
    triangle = owner[hit.edge]
    column = np.argmax(edges.of_triangle[triangle] == hit.edge[:, None], axis=1)
    row = np.arange(hit.edge.size)
    face, corners = pieces.face[triangle], pieces.uv[triangle]
    start, end = corners[row, column], corners[row, (column + 1) % 3]

    def along(share: FloatArray, rows: IntArray) -> FloatArray:
        return field(face[rows], start[rows] + share[:, None] * (end[rows] - start[rows]))

    share = bracketed_root(along, field(face, start), field(face, end), tolerance=1e-9)
    uv = start + share[:, None] * (end - start)
    at = SurfacePoints(face=face, uv=uv, points=shell.points(face, uv))
    return tuple(
        SurfaceCurve(at=SurfacePoints(face=at.face[path], uv=at.uv[path], points=at.points[path]), closed=closed)
        for path, closed in chains(hit.edge.size, hit.segment)
    )
