"""True areas of shell pieces: between levels by exact quadrature, and of panels given by sampled surface points."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from beltwright.core.errors import InputError
from beltwright.core.units import FloatArray
from beltwright.hull.quadrature import clip_below, integrate, straight_pieces
from beltwright.hull.shell import LevelFunction, Pieces, Shell


@dataclass(frozen=True, slots=True, kw_only=True)
class ShellArea:
    """Area of a piece of the port shell [m2] and its centre (x, y, z) [m]; the centre is NaN where the area is zero."""

    area_m2: float
    centre_m: tuple[float, float, float]


def clipped_pieces(shell: Shell, inside: Sequence[LevelFunction], pieces: Pieces | None = None) -> Pieces:
    """Return the shell's triangles cut to where every level function of ``inside`` is negative."""
    kept = shell.pieces() if pieces is None else pieces
    for level in inside:
        if kept.face.size == 0:
            break
        kept = straight_pieces(clip_below(shell, kept, level), kept)
    return kept


def shell_area(shell: Shell, inside: Sequence[LevelFunction], pieces: Pieces | None = None) -> ShellArea:
    """Return the true area of the port shell where every level function of ``inside`` is negative.

    An area between two waterlines takes the upper level and the lower one negated (``negated``); bounds along the
    ship are plane levels. ``pieces`` may hold triangles clipped already.
    """
    kept = clipped_pieces(shell, inside, pieces)
    if kept.face.size == 0:
        return ShellArea(area_m2=0.0, centre_m=(float("nan"),) * 3)
    total = integrate(shell, kept.face, kept.uv, _area_and_moments).sum(axis=0)
    area = float(total[0])
    if area <= 0.0:
        return ShellArea(area_m2=0.0, centre_m=(float("nan"),) * 3)
    centre = total[1:] / area
    return ShellArea(area_m2=area, centre_m=(float(centre[0]), float(centre[1]), float(centre[2])))


@dataclass(frozen=True, slots=True)
class Negated:
    """A level function with its sign turned: what was above is below."""

    level: LevelFunction

    def __call__(self, points: FloatArray) -> FloatArray:
        """Return minus the level's value at ``points``."""
        return -self.level(points)


def negated(level: LevelFunction) -> Negated:
    """Return the level function with its sign turned."""
    return Negated(level)


def sampled_areas(points: FloatArray) -> tuple[FloatArray, FloatArray]:
    """Return areas [m2] (n,) and centres [m] (n, 3) of n panels given by grids of surface points.

    ``points`` has shape (n, rows, columns, 3) with at least 2 rows and columns. Where both counts are odd, the error
    of the flat triangles (second order) is removed by comparing with every second point (Richardson).
    """
    grid = np.asarray(points, dtype=np.float64)
    if grid.ndim != 4 or grid.shape[1] < 2 or grid.shape[2] < 2 or grid.shape[3] != 3:
        raise InputError("panel points", "wrong shape", value=grid.shape, allowed="(n, rows >= 2, columns >= 2, 3)")
    area, moment = _facets(grid)
    if grid.shape[1] % 2 and grid.shape[2] % 2:
        coarse, coarse_moment = _facets(grid[:, ::2, ::2])
        area = area + (area - coarse) / 3.0
        moment = moment + (moment - coarse_moment) / 3.0
    return area, moment / np.where(area > 0.0, area, np.nan)[:, None]


def _facets(grid: FloatArray) -> tuple[FloatArray, FloatArray]:
    """Return summed area and first moment of the triangles over each grid, mean of both diagonals."""
    a, b, c, d = grid[:, :-1, :-1], grid[:, 1:, :-1], grid[:, :-1, 1:], grid[:, 1:, 1:]
    area, moment = np.zeros(len(grid)), np.zeros((len(grid), 3))
    for p, q, r in ((a, b, d), (a, d, c), (a, b, c), (b, d, c)):
        size = 0.25 * np.linalg.norm(np.cross(q - p, r - p), axis=-1)
        area += size.sum(axis=(1, 2))
        moment += (size[..., None] * (p + q + r) / 3.0).sum(axis=(1, 2))
    return area, moment


def _area_and_moments(points: FloatArray, vectors: FloatArray) -> FloatArray:
    """Return the element of area and its first moments."""
    size = np.sqrt(np.einsum("ni,ni->n", vectors, vectors))
    return np.concatenate([size[:, None], size[:, None] * points], axis=1)
