"""Triangle meshes made ready for a shell: welded, wound one way, with vertex normals that stop at creases."""

from __future__ import annotations

import numpy as np

from beltwright.core.units import BoolArray, FloatArray, IntArray
from beltwright.hull.marching import edge_table

_WELD_M = 1e-6


def welded(points: FloatArray, triangles: IntArray) -> tuple[FloatArray, IntArray]:
    """Return the mesh with vertices within a micrometre made one, without flat or repeated triangles."""
    key = np.round(points / _WELD_M).astype(np.int64)
    _, first, back = np.unique(key, axis=0, return_index=True, return_inverse=True)
    points, triangles = points[first], back.reshape(-1)[triangles]
    area = np.linalg.norm(_facet_vectors(points, triangles), axis=1)
    a, b, c = triangles.T
    triangles = triangles[(a != b) & (b != c) & (c != a) & (area > 1e-12)]
    _, once = np.unique(np.sort(triangles, axis=1), axis=0, return_index=True)
    return points, triangles[np.sort(once)]


def _facet_vectors(points: FloatArray, triangles: IntArray) -> FloatArray:
    corner = points[triangles]
    vectors: FloatArray = np.cross(corner[:, 1] - corner[:, 0], corner[:, 2] - corner[:, 0])
    return vectors


def neighbours(triangles: IntArray) -> tuple[IntArray, IntArray, BoolArray]:
    """Return pairs of triangles that share an edge (k, 2), the vertices of that edge (k, 2), and whether they agree.

    Two triangles agree where they run along the shared edge in opposite ways. Edges of more than two triangles (a
    deck meeting the side) pair none.
    """
    table = edge_table(triangles)
    edge = table.of_triangle.ravel()
    order = np.argsort(edge, kind="stable")
    twice = np.bincount(edge, minlength=len(table.ends)) == 2
    rows = order[twice[edge[order]]].reshape(-1, 2)
    forward = (triangles < np.roll(triangles, -1, axis=1)).ravel()
    return rows // 3, table.ends[edge[rows[:, 0]]], forward[rows[:, 0]] != forward[rows[:, 1]]


def wound_one_way(triangles: IntArray) -> tuple[IntArray, IntArray]:
    """Return the triangles turned so that neighbours agree, and the number of the connected piece of each."""
    from scipy.sparse import coo_array
    from scipy.sparse.csgraph import breadth_first_order, connected_components

    m = len(triangles)
    pair, _, agree = neighbours(triangles)
    graph = coo_array((np.ones(len(pair)), (pair[:, 0], pair[:, 1])), shape=(m, m)).tocsr()
    pieces, piece = connected_components(graph, directed=False)
    if np.all(agree):
        return triangles, piece.astype(np.int64)
    relation = {(int(a), int(b)): bool(ok) for (a, b), ok in zip(pair, agree, strict=True) if not ok}
    turned = np.zeros(m, dtype=np.bool_)
    roots = np.unique(piece, return_index=True)[1]
    for root in roots[:pieces]:
        order, before = breadth_first_order(graph, int(root), directed=False)
        for t in order[1:]:
            b = int(before[t])
            clash = (int(t), b) in relation or (b, int(t)) in relation
            turned[t] = turned[b] ^ clash
    result = triangles.copy()
    result[turned] = result[turned][:, ::-1]
    return result, piece.astype(np.int64)


def corner_normals(points: FloatArray, triangles: IntArray, crease_deg: float) -> tuple[FloatArray, IntArray]:
    """Return the normal at each corner of each triangle (m, 3, 3), and a vertex number per corner split at creases.

    Corners of one vertex share a normal where smooth edges (turn below ``crease_deg``) join their triangles. Weights
    are sine over the product of the squared edge lengths: exact on a sphere (N. Max, Weights for computing vertex
    normals from facet normals, 1999; from memory).
    """
    from scipy.sparse import coo_array
    from scipy.sparse.csgraph import connected_components

    m = len(triangles)
    vectors = _facet_vectors(points, triangles)
    unit = vectors / np.linalg.norm(vectors, axis=1, keepdims=True)
    pair, shared, agree = neighbours(triangles)
    smooth = agree & (np.einsum("ni,ni->n", unit[pair[:, 0]], unit[pair[:, 1]]) > np.cos(np.radians(crease_deg)))
    pair, shared = pair[smooth], shared[smooth]
    links = []
    for k in (0, 1):
        columns = [np.argmax(triangles[pair[:, s]] == shared[:, k, None], axis=1) for s in (0, 1)]
        links.append(np.stack([3 * pair[:, 0] + columns[0], 3 * pair[:, 1] + columns[1]], axis=1))
    link = np.concatenate(links)
    graph = coo_array((np.ones(len(link)), (link[:, 0], link[:, 1])), shape=(3 * m, 3 * m))
    count, vertex = connected_components(graph, directed=False)
    corner = points[triangles]
    total = np.zeros((count, 3))
    for k in range(3):
        e1, e2 = corner[:, (k + 1) % 3] - corner[:, k], corner[:, (k + 2) % 3] - corner[:, k]
        weight = 1.0 / (np.einsum("ni,ni->n", e1, e1) * np.einsum("ni,ni->n", e2, e2))
        for axis in range(3):
            total[:, axis] += np.bincount(vertex.reshape(-1, 3)[:, k], weight * vectors[:, axis], count)
    total /= np.linalg.norm(total, axis=1, keepdims=True)
    return total[vertex].reshape(m, 3, 3), vertex.reshape(m, 3).astype(np.int64)
