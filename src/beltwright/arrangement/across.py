"""Faces of the hull that lie across the ship: a transom, or a flat end square to x. They are no framed shell."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from beltwright.core.units import BoolArray, FloatArray, IntArray
from beltwright.hull.shell import Pieces, Shell

_TRANSOM_NX = 0.85  # a face that faces aft more than this (58 degrees and more from the side) is a transom
_FLAT_END_NX = 0.999999
_SHARE = 0.95  # of its area


@dataclass(frozen=True, slots=True, kw_only=True)
class Across:
    """Which faces lie across (by face number), their area on the port side [m2] and where they stand [m]."""

    faces: BoolArray
    area_m2: float
    x_m: tuple[float, float]

    def without(self, pieces: Pieces) -> Pieces:
        """Return the pieces of the shell on the other faces."""
        kept = ~self.faces[pieces.face]
        return replace(pieces, face=pieces.face[kept], uv=pieces.uv[kept])


def faces_across(shell: Shell) -> Across:
    """Return the faces that lie across the ship, judged by the share of their area that does.

    The triangles of a mesh are judged together as far as they join smoothly. A rounded stern on one face with the side
    is no transom: it has no border to leave it out at.
    """
    pieces = shell.pieces()
    corners = shell.points(np.repeat(pieces.face, 3), pieces.uv.reshape(-1, 2)).reshape(-1, 3, 3)
    vectors = np.cross(corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0])
    sizes: FloatArray = np.linalg.norm(vectors, axis=1)
    nx = vectors[:, 0] / np.where(sizes > 0.0, sizes, 1.0)
    here = (nx < -_TRANSOM_NX) | (nx > _FLAT_END_NX)
    part = _parts(shell, pieces)
    rows: BoolArray = (np.bincount(part, sizes * here) > _SHARE * np.bincount(part, sizes))[part]
    faces: BoolArray = np.zeros(int(pieces.face.max()) + 1, dtype=np.bool_)
    faces[pieces.face[rows]] = True
    x = corners[rows][..., 0]
    return Across(
        faces=faces,
        area_m2=0.5 * float(sizes[rows].sum()),
        x_m=(float(x.min()), float(x.max())) if rows.any() else (0.0, 0.0),
    )


def _parts(shell: Shell, pieces: Pieces) -> IntArray:
    """The smooth part of the shell that each piece belongs to: its face, or the triangles of a mesh between creases."""
    if shell.kind == "spline":
        return pieces.face
    from scipy.sparse import coo_array
    from scipy.sparse.csgraph import connected_components

    triangles = shell.tessellation().triangles  # a vertex on a crease is there once for each side
    count = int(triangles.max()) + 1
    ends = np.concatenate([triangles[:, [0, 1]], triangles[:, [1, 2]]])
    graph = coo_array((np.ones(len(ends)), (ends[:, 0], ends[:, 1])), shape=(count, count))
    _, part = connected_components(graph, directed=False)
    found: IntArray = part[triangles[:, 0]].astype(np.int64)
    return found
