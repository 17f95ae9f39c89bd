"""Turn what a child process handed back into patches, and check every number of it: the child is not trusted."""

from __future__ import annotations

from typing import Any

import numpy as np

from beltwright.core.errors import InputError
from beltwright.core.units import FloatArray
from beltwright.hull.patch import Patch, SplinePatch, TrianglePatch
from beltwright.hull.readers.child import Arrays, Record

MAX_POLES = 20_000_000
MAX_DEGREE = 25
NONSENSE = "the reader's child process gave an answer that makes no sense"


def patches_from(record: Record, arrays: Arrays, source: str, *, scale: float = 1.0) -> tuple[Patch, ...]:
    """Return the faces in a child's answer, lengths multiplied by ``scale``.

    Raises
    ------
    InputError : where a face is not finite or its arrays do not fit together
    """
    try:
        faces = list(record["faces"])
        return tuple(_patch(face, f"f{i}", arrays, source, scale) for i, face in enumerate(faces))
    except (KeyError, TypeError, AttributeError, IndexError):
        raise InputError(source, NONSENSE) from None


def texts(record: Record, key: str, source: str) -> tuple[str, ...]:
    """Return a list of short texts from a child's answer."""
    value = record.get(key)
    if not isinstance(value, list) or not all(isinstance(v, str) for v in value):
        raise InputError(source, NONSENSE)
    return tuple(v[:300] for v in value)


def _patch(face: Any, key: str, arrays: Arrays, source: str, scale: float) -> Patch:
    name = str(face["name"])[:120]
    where = f"{source}: {name}"
    if f"{key}_triangles" in arrays:
        vertices = _numbers(arrays[f"{key}_vertices"], where, 2) * scale
        triangles = np.asarray(arrays[f"{key}_triangles"])
        if triangles.dtype.kind != "i" or triangles.ndim != 2 or triangles.shape[1] != 3 or vertices.shape[1] != 3:
            raise InputError(where, NONSENSE)
        if not len(triangles) or triangles.min() < 0 or triangles.max() >= len(vertices):
            raise InputError(where, "a triangle names a vertex that is not there")
        return TrianglePatch(
            vertices=vertices, triangles=triangles.astype(np.int64), single_precision=bool(face["single"]), name=name
        )  # fmt: skip
    return _spline(face, key, arrays, where, name, scale)


def _spline(face: Any, key: str, arrays: Arrays, where: str, name: str, scale: float) -> SplinePatch:
    poles = _numbers(arrays[f"{key}_poles"], where, 3) * scale
    if poles.shape[2] != 3 or poles.size > 3 * MAX_POLES:
        raise InputError(where, NONSENSE)
    knots, degrees = [], []
    for axis, count in (("u", poles.shape[0]), ("v", poles.shape[1])):
        degree = _count(face[f"degree_{axis}"], where)
        knot = _numbers(arrays[f"{key}_k{axis}"], where, 1)
        if not 1 <= degree <= MAX_DEGREE or knot.size != count + degree + 1 or np.any(np.diff(knot) < 0.0):
            raise InputError(where, f"its spline's knots in {axis} do not fit its poles")
        if not knot[degree] < knot[-degree - 1]:
            raise InputError(where, f"its spline has no extent in {axis}")
        knots.append(knot)
        degrees.append(degree)
    weights = None
    if f"{key}_w" in arrays:
        weights = _numbers(arrays[f"{key}_w"], where, 2)
        if weights.shape != poles.shape[:2] or not np.all(weights > 0.0):
            raise InputError(where, "its spline has a weight that is not positive")
    loops = tuple(_numbers(arrays[f"{key}_t{i}"], where, 2) for i in range(_count(face["loops"], where)))
    if any(loop.shape[1] != 2 for loop in loops):
        raise InputError(where, NONSENSE)
    return SplinePatch(
        poles=poles, weights=weights, knots_u=knots[0], knots_v=knots[1], degree_u=degrees[0], degree_v=degrees[1],
        trims=loops, reversed=bool(face["reversed"]), name=name,
    )  # fmt: skip


def _count(value: Any, where: str) -> int:
    """Return a whole number."""
    if not isinstance(value, int):
        raise InputError(where, NONSENSE)
    return value


def _numbers(values: np.ndarray[Any, Any], where: str, dimensions: int) -> FloatArray:
    """Return an array as finite floats of the given number of dimensions."""
    if values.dtype.kind not in "fi" or values.ndim != dimensions or not values.size:
        raise InputError(where, NONSENSE)
    numbers = np.asarray(values, dtype=np.float64)
    if not np.all(np.isfinite(numbers)):
        raise InputError(where, "has a coordinate that is not a finite number")
    return numbers
