"""Faces of the hull that lie across the ship: a transom, or a flat end square to x. They are no framed shell."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from beltwright.core.units import BoolArray, FloatArray
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

    A rounded stern on one face with the side is no transom: it has no border to leave it out at.
    """
    pieces = shell.pieces()
    corners = shell.points(np.repeat(pieces.face, 3), pieces.uv.reshape(-1, 2)).reshape(-1, 3, 3)
    vectors = np.cross(corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0])
    sizes: FloatArray = np.linalg.norm(vectors, axis=1)
    nx = vectors[:, 0] / np.where(sizes > 0.0, sizes, 1.0)
    here = (nx < -_TRANSOM_NX) | (nx > _FLAT_END_NX)
    total = np.bincount(pieces.face, sizes)
    faces: BoolArray = np.bincount(pieces.face, sizes * here) > _SHARE * total
    rows = faces[pieces.face]
    x = corners[rows][..., 0]
    return Across(
        faces=faces,
        area_m2=0.5 * float(sizes[rows].sum()),
        x_m=(float(x.min()), float(x.max())) if rows.any() else (0.0, 0.0),
    )
