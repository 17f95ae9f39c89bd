"""Spline patches and triangle soups as plain arrays: what readers hand over and what a shell is made from."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from beltwright.core.units import FloatArray, IntArray


@dataclass(frozen=True, slots=True, kw_only=True)
class SplinePatch:
    """One B-spline or NURBS face in the file's own axes and units (a reader) or in ship axes [m] (a shell).

    Attributes
    ----------
    poles : (nu, nv, 3)
    weights : (nu, nv), or None where the patch is not rational
    knots_u, knots_v : full knot vectors, multiplicities written out, clamped or not
    degree_u, degree_v : polynomial degrees
    trims : closed loops (k, 2) in (u, v), taken together by the even-odd rule; empty means the whole rectangle
    reversed : True where the outward normal is -(du x dv)
    name : the entity's name or number in its file, for messages
    """

    poles: FloatArray
    weights: FloatArray | None = None
    knots_u: FloatArray
    knots_v: FloatArray
    degree_u: int
    degree_v: int
    trims: tuple[FloatArray, ...] = ()
    reversed: bool = False
    name: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class TrianglePatch:
    """One triangulated face: ``vertices`` (n, 3) and ``triangles`` (m, 3); ``reversed`` flips the winding's normal.

    ``single_precision`` says that the file stores 32-bit numbers, so that agreement is claimed to 1e-5 only.
    """

    vertices: FloatArray
    triangles: IntArray
    reversed: bool = False
    single_precision: bool = False
    name: str = ""


Patch = SplinePatch | TrianglePatch


@dataclass(frozen=True, slots=True, kw_only=True)
class RawHull:
    """What a reader found in a file, before units, axes and sides are settled.

    ``length_unit`` is the unit the file states ("m", "mm", "in", "ft", ...) or None where it states none.
    ``notes`` are plain remarks of the reader (skipped entities and why).
    """

    patches: tuple[Patch, ...]
    length_unit: str | None
    source: str
    format: str
    notes: tuple[str, ...] = ()


def rectangle_domain(patch: SplinePatch) -> tuple[float, float, float, float]:
    """Return (u0, u1, v0, v1), the parameter rectangle of a patch."""
    ku, kv, p, q = patch.knots_u, patch.knots_v, patch.degree_u, patch.degree_v
    return float(ku[p]), float(ku[-p - 1]), float(kv[q]), float(kv[-q - 1])


def mapped(patch: Patch, matrix: FloatArray) -> Patch:
    """Return a patch moved by a 4x4 affine matrix; a mirroring matrix flips ``reversed``."""
    rotation, shift = matrix[:3, :3], matrix[:3, 3]
    flips = bool(np.linalg.det(rotation) < 0.0)
    if isinstance(patch, SplinePatch):
        return SplinePatch(
            poles=patch.poles @ rotation.T + shift,
            weights=patch.weights,
            knots_u=patch.knots_u,
            knots_v=patch.knots_v,
            degree_u=patch.degree_u,
            degree_v=patch.degree_v,
            trims=patch.trims,
            reversed=patch.reversed ^ flips,
            name=patch.name,
        )
    return TrianglePatch(
        vertices=patch.vertices @ rotation.T + shift,
        triangles=patch.triangles,
        reversed=patch.reversed ^ flips,
        single_precision=patch.single_precision,
        name=patch.name,
    )
