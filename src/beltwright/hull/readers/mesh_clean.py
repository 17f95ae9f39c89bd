"""Clean a triangle soup: equal corners joined, triangles without area and repeated ones left out and counted."""

from __future__ import annotations

from typing import Any

import numpy as np

from beltwright.hull.readers.worker import RefusedError


def clean(
    vertices: np.ndarray[Any, Any], triangles: np.ndarray[Any, Any], name: str, notes: list[str]
) -> tuple[np.ndarray[Any, Any], np.ndarray[Any, Any]]:
    """Join equal vertices and drop triangles without area and repeated ones, saying so in ``notes``."""
    vertices, inverse = np.unique(vertices, axis=0, return_inverse=True)
    triangles = inverse.reshape(-1)[triangles]
    a, b, c = (vertices[triangles[:, i]] for i in range(3))
    twice_area = np.linalg.norm(np.cross(b - a, c - a), axis=1)
    longest = np.max([np.sum((p - q) ** 2, axis=1) for p, q in ((a, b), (b, c), (c, a))], axis=0)
    empty = ~(twice_area > 1e-12 * longest)
    order = np.sort(triangles, axis=1)
    _, first = np.unique(order, axis=0, return_index=True)
    repeated = np.ones(len(triangles), dtype=bool)
    repeated[first] = False
    for bad, what in ((empty, "without area"), (repeated & ~empty, "that repeat another")):
        if np.any(bad):
            notes.append(f"{name}: {int(bad.sum())} triangles {what} left out, the first is triangle "
                         f"{int(np.flatnonzero(bad)[0]) + 1}")  # fmt: skip
    triangles = triangles[~(empty | repeated)]
    if not len(triangles):
        raise RefusedError(f"{name}: holds no triangle with an area")
    return vertices, triangles
