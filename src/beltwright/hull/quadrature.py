"""Integrals over the part of a shell under a level: triangles clipped in (u, v), exact surface, Gauss points.

A triangle cut by the level keeps a curved edge: its chord's middle is moved onto the level and the piece is mapped
by a quadratic, so the error of the edge falls with the fourth power of the triangle's size.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

import numpy as np

from beltwright.core.units import BoolArray, FloatArray, IntArray
from beltwright.hull.levels import settle_on_level
from beltwright.hull.marching import ON_LEVEL_M, bracketed_root
from beltwright.hull.shell import LevelFunction, Pieces, PlaneLevel, Shell

Integrand = Callable[[FloatArray, FloatArray], FloatArray]

# Six points, exact to degree 4 on a triangle (Strang and Fix / Dunavant; checked by polynomials in the tests).
_A, _B = 0.445948490915965, 0.091576213509771
_WA, _WB = 0.223381589678011, 0.109951743655322
_BARY = np.array(
    [
        [1 - 2 * _A, _A, _A], [_A, 1 - 2 * _A, _A], [_A, _A, 1 - 2 * _A],
        [1 - 2 * _B, _B, _B], [_B, 1 - 2 * _B, _B], [_B, _B, 1 - 2 * _B],
    ]
)  # fmt: skip
_WEIGHT = np.array([_WA, _WA, _WA, _WB, _WB, _WB])


@dataclass(frozen=True, slots=True)
class Clipped:
    """What lies under a level: ``whole`` (m,) flags of uncut triangles, and pieces of the cut ones.

    ``face`` (k,), ``uv`` (k, 3, 2), ``middle`` (k, 2): the point on the level between corners 1 and 2 where
    ``on_level``; elsewhere the middle of the straight edge.
    """

    whole: BoolArray
    face: IntArray
    uv: FloatArray
    middle: FloatArray
    on_level: BoolArray


def clip_below(shell: Shell, pieces: Pieces, level: LevelFunction, field: FloatArray | None = None) -> Clipped:
    """Return the part of the pieces where the level function is negative.

    ``field`` (m, 3) may give the level's values at the corners where they are known already.
    """
    m = pieces.face.size
    if field is None:
        field = level(shell.points(np.repeat(pieces.face, 3), pieces.uv.reshape(-1, 2))).reshape(m, 3)
    above = field >= -ON_LEVEL_M
    count = above.sum(axis=1)
    parts_uv: list[FloatArray] = []
    parts_face: list[IntArray] = []
    chord: list[BoolArray] = []
    for lonely_above, rows in ((False, np.flatnonzero(count == 2)), (True, np.flatnonzero(count == 1))):
        turn = (np.argmax(above[rows] == lonely_above, axis=1)[:, None] + np.arange(3)) % 3
        uv = np.take_along_axis(pieces.uv[rows], turn[:, :, None], axis=1)
        f = np.take_along_axis(field[rows], turn, axis=1)
        face = pieces.face[rows]
        p = _edge_root(shell, level, face, uv[:, 0], uv[:, 1], f[:, 0], f[:, 1])
        q = _edge_root(shell, level, face, uv[:, 0], uv[:, 2], f[:, 0], f[:, 2])
        yes = np.ones(rows.size, dtype=np.bool_)
        if not lonely_above:
            parts_uv.append(np.stack([uv[:, 0], p, q], axis=1))
            parts_face.append(face)
            chord.append(yes)
        else:
            parts_uv += [np.stack([uv[:, 1], q, p], axis=1), np.stack([uv[:, 1], uv[:, 2], q], axis=1)]
            parts_face += [face, face]
            chord += [yes, ~yes]
    uv, face, on_level = np.concatenate(parts_uv), np.concatenate(parts_face), np.concatenate(chord)
    middle = 0.5 * (uv[:, 1] + uv[:, 2])
    middle[on_level] = settle_on_level(shell, level, face[on_level], middle[on_level])
    return Clipped(whole=count == 0, face=face, uv=uv, middle=middle, on_level=on_level)


def _edge_root(
    shell: Shell,
    level: LevelFunction,
    face: IntArray,
    start: FloatArray,
    end: FloatArray,
    f0: FloatArray,
    f1: FloatArray,
) -> FloatArray:
    """Return the parameters where the level meets each edge."""
    f0, f1 = f0.copy(), f1.copy()
    f0[np.abs(f0) <= ON_LEVEL_M] = 0.0
    f1[np.abs(f1) <= ON_LEVEL_M] = 0.0
    step = end - start
    x = bracketed_root(lambda t, r: level(shell.points(face[r], start[r] + t[:, None] * step[r])), f0, f1)
    found: FloatArray = start + x[:, None] * step
    return found


def split_at(shell: Shell, pieces: Pieces, x_m: Sequence[float]) -> tuple[BoolArray, Pieces]:
    """Return which pieces cross none of the transverse planes ``x_m``, and the others cut along those planes."""
    x = shell.points(np.repeat(pieces.face, 3), pieces.uv.reshape(-1, 2))[:, 0].reshape(-1, 3)
    untouched = np.ones(pieces.face.size, dtype=np.bool_)
    for value in x_m:
        untouched &= (x.min(axis=1) >= value - ON_LEVEL_M) | (x.max(axis=1) <= value + ON_LEVEL_M)
    parts = [Pieces(face=pieces.face[~untouched], uv=pieces.uv[~untouched])]
    for value in x_m:
        plane = PlaneLevel(normal=(1.0, 0.0, 0.0), offset=value)
        other = PlaneLevel(normal=(-1.0, 0.0, 0.0), offset=-value)
        parts = [straight_pieces(clip_below(shell, p, side), p) for p in parts for side in (plane, other)]
    kept = [p for p in parts if p.face.size]
    if not kept:
        return untouched, Pieces(face=np.zeros(0, dtype=np.int64), uv=np.zeros((0, 3, 2)))
    return untouched, Pieces(face=np.concatenate([p.face for p in kept]), uv=np.concatenate([p.uv for p in kept]))


def straight_pieces(clipped: Clipped, pieces: Pieces) -> Pieces:
    """Return everything under the level as plain triangles, each curved edge as two chords."""
    bent = clipped.on_level
    uv, mid = clipped.uv[bent], clipped.middle[bent]
    first = np.stack([uv[:, 0], uv[:, 1], mid], axis=1)
    second = np.stack([uv[:, 0], mid, uv[:, 2]], axis=1)
    face = [pieces.face[clipped.whole], clipped.face[~bent], clipped.face[bent], clipped.face[bent]]
    return Pieces(
        face=np.concatenate(face), uv=np.concatenate([pieces.uv[clipped.whole], clipped.uv[~bent], first, second])
    )


def integrate(
    shell: Shell, face: IntArray, uv: FloatArray, integrand: Integrand, middle: FloatArray | None = None
) -> FloatArray:
    """Return the integral over each piece of ``integrand(points, area vectors)`` (n, c), as (pieces, c).

    The area vector is the outward normal times the element of area. ``middle`` bends the edge from corner 1 to 2.
    """
    k, g = face.size, len(_WEIGHT)
    places = np.einsum("gc,kcd->kgd", _BARY, uv)
    du, dv = uv[:, 1] - uv[:, 0], uv[:, 2] - uv[:, 0]
    if middle is None:
        jacobian = np.repeat((du[:, 0] * dv[:, 1] - du[:, 1] * dv[:, 0])[:, None], g, axis=1)
    else:
        bend = middle - 0.5 * (uv[:, 1] + uv[:, 2])
        l1, l2 = _BARY[:, 1], _BARY[:, 2]
        places = places + 4.0 * (l1 * l2)[None, :, None] * bend[:, None]
        by_1 = du[:, None] + 4.0 * l2[None, :, None] * bend[:, None]
        by_2 = dv[:, None] + 4.0 * l1[None, :, None] * bend[:, None]
        jacobian = by_1[..., 0] * by_2[..., 1] - by_1[..., 1] * by_2[..., 0]
    points, vectors = shell.area_vectors(np.repeat(face, g), places.reshape(-1, 2))
    # the winding of the pieces already looks outward, so the sign of the parameters' own sense drops out
    vectors = vectors * (0.5 * np.abs(jacobian) * _WEIGHT).reshape(-1, 1)
    values = integrand(points, vectors)
    total: FloatArray = values.reshape(k, g, values.shape[1]).sum(axis=1)
    return total
