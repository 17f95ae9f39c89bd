"""Level curves on triangles: which edges are crossed, exactly where, and the chains they form.

One sweep handles a whole family of levels ``field = offset_k`` (500 sections at once). A vertex exactly on a level
counts as above it, so a piece lying wholly in the level gives no curve of its own but its border may.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from beltwright.core.units import BoolArray, FloatArray, IntArray

ON_LEVEL_M = 1e-9  # a vertex this near to a level lies on it
_STEPS = 60  # bracketing steps at most; 4 to 6 are usual


@dataclass(frozen=True, slots=True)
class EdgeTable:
    """Edges of a triangulation: ``ends`` (e, 2) vertex numbers, ``of_triangle`` (m, 3): edges 01, 12, 20."""

    ends: IntArray
    of_triangle: IntArray


def edge_table(triangles: IntArray) -> EdgeTable:
    """Return each edge once, and the three edges of every triangle."""
    both = np.stack([triangles, np.roll(triangles, -1, axis=1)], axis=-1).reshape(-1, 2)
    low, high = both.min(axis=1), both.max(axis=1)
    size = np.int64(triangles.max(initial=0) + 1)
    keys, back = np.unique(low * size + high, return_inverse=True)
    ends = np.stack([keys // size, keys % size], axis=1)
    return EdgeTable(ends=ends, of_triangle=back.reshape(-1, 3).astype(np.int64))


@dataclass(frozen=True, slots=True)
class Crossed:
    """Crossed edges and triangles of a family of levels.

    ``edge``, ``level`` (n,): each node is one edge at one level; ``segment`` (k, 2): the two nodes that a triangle
    joins; ``triangle`` (k,) and ``segment_level`` (k,) say which.
    """

    edge: IntArray
    level: IntArray
    segment: IntArray
    triangle: IntArray
    segment_level: IntArray


def crossed(table: EdgeTable, triangles: IntArray, field: FloatArray, offsets: FloatArray, zero_above: bool) -> Crossed:
    """Return the edges and triangles crossed by each level ``field = offset``; ``offsets`` must rise.

    ``zero_above`` says on which side a vertex exactly on the level counts.
    """
    if zero_above:  # number of levels that the vertex is above
        rank = np.searchsorted(offsets, field + ON_LEVEL_M, side="right")
    else:
        rank = np.searchsorted(offsets, field - ON_LEVEL_M, side="left")
    one, other = rank[table.ends[:, 0]], rank[table.ends[:, 1]]
    low, high = np.minimum(one, other), np.maximum(one, other)
    count = high - low
    first = np.concatenate([[0], np.cumsum(count)])
    edge = np.repeat(np.arange(count.size), count)
    level = np.arange(first[-1]) - first[edge] + low[edge]

    corners = rank[triangles[:, 0]], rank[triangles[:, 1]], rank[triangles[:, 2]]
    tlow = np.minimum(np.minimum(corners[0], corners[1]), corners[2])
    tcount = np.maximum(np.maximum(corners[0], corners[1]), corners[2]) - tlow
    tfirst = np.concatenate([[0], np.cumsum(tcount)])
    triangle = np.repeat(np.arange(tcount.size), tcount)
    slevel = np.arange(tfirst[-1]) - tfirst[triangle] + tlow[triangle]
    above = [corner[triangle] > slevel for corner in corners]
    edges = table.of_triangle[triangle]
    whole = [above[k] == above[(k + 1) % 3] for k in range(3)]  # true of exactly one of the three edges
    pair = np.where(
        whole[0][:, None], edges[:, [1, 2]], np.where(whole[1][:, None], edges[:, [0, 2]], edges[:, [0, 1]])
    )
    segment = first[pair] + slevel[:, None] - low[pair]
    return Crossed(edge=edge, level=level, segment=segment, triangle=triangle, segment_level=slevel)


def bracketed_root(
    function: Callable[[FloatArray, IntArray], FloatArray],
    f0: FloatArray,
    f1: FloatArray,
    *,
    tolerance: float = 1e-12,
) -> FloatArray:
    """Return x in [0, 1] with ``function(x, rows) = 0`` for many independent brackets at once.

    ``f0`` and ``f1`` are the values at 0 and 1, of opposite sign (else the nearer end is taken). Regula falsi with
    halving of the stale end (Illinois) and bisection when it stalls; stops at ``|f| <= tolerance``
    or when the bracket is used up.
    """
    x = np.where(np.abs(f0) < np.abs(f1), 0.0, 1.0)
    live = np.flatnonzero(f0 * f1 < 0.0)
    a, b = np.zeros(live.size), np.ones(live.size)
    fa, fb = f0[live].copy(), f1[live].copy()
    for step in range(_STEPS):
        if live.size == 0:
            break
        guess = b - fb * (b - a) / (fb - fa)
        if step % 8 == 7:
            guess = 0.5 * (a + b)
        guess = np.clip(guess, np.minimum(a, b), np.maximum(a, b))
        f = function(guess, live)
        x[live] = guess
        swap = np.sign(f) != np.sign(fb)
        a = np.where(swap, b, a)
        fa = np.where(swap, fb, 0.5 * fa)
        b, fb = guess, f
        keep = (np.abs(f) > tolerance) & (np.abs(b - a) > 1e-16)
        live, a, b, fa, fb = live[keep], a[keep], b[keep], fa[keep], fb[keep]
    return x


def chains(n_nodes: int, segment: IntArray) -> list[tuple[IntArray, bool]]:
    """Return the chains that the segments form, each as node numbers in order and whether it closes on itself.

    Every node has at most two segments (an inner edge has two triangles, a border edge one).
    """
    if segment.size == 0:
        return []
    near = np.full((n_nodes, 2), -1, dtype=np.int64)
    order = np.argsort(segment.ravel(), kind="stable")
    node, other = segment.ravel()[order], segment[:, ::-1].ravel()[order]
    start = np.concatenate([[True], node[1:] != node[:-1]])
    near[node[start], 0] = other[start]
    second = np.concatenate([[False], start[:-1]]) & ~start
    near[node[second], 1] = other[second]
    left, right = near[:, 0].tolist(), near[:, 1].tolist()
    seen = bytearray(n_nodes)
    found: list[tuple[IntArray, bool]] = []
    ends = np.flatnonzero((near[:, 0] >= 0) & (near[:, 1] < 0)).tolist()
    for first in ends + np.flatnonzero(near[:, 1] >= 0).tolist():
        if seen[first]:
            continue
        path = _walk(first, left, right, seen)
        closed = right[first] >= 0
        found.append((np.array(path, dtype=np.int64), closed))
    return found


def _walk(first: int, left: list[int], right: list[int], seen: bytearray) -> list[int]:
    """Follow the links from one node until they end or come back."""
    path = [first]
    seen[first] = 1
    here = left[first]
    while here >= 0 and not seen[here]:
        path.append(here)
        seen[here] = 1
        onward = left[here]
        if onward < 0 or seen[onward]:
            onward = right[here]
        here = onward
    return path


def below_pieces(
    triangles: IntArray, above: BoolArray, node_of_edge: IntArray, of_triangle: IntArray
) -> tuple[IntArray, IntArray, BoolArray]:
    """Return what is left of each crossed triangle on the side where ``above`` (per vertex) is False.

    ``node_of_edge`` gives the corner number of the node on each crossed edge. Returns the pieces (k, 3) as corner
    numbers with the winding of their triangle, their triangle (k,), and whether corners 1 to 2 lie on the level (k,).
    """
    corner_above = above[triangles]
    n_above = corner_above.sum(axis=1)
    pieces: list[IntArray] = []
    owner: list[IntArray] = []
    on_level: list[BoolArray] = []
    for lonely_above, rows in ((False, np.flatnonzero(n_above == 2)), (True, np.flatnonzero(n_above == 1))):
        odd = np.argmax(corner_above[rows] == lonely_above, axis=1)  # turn: the odd corner comes first
        turn = (odd[:, None] + np.arange(3)) % 3
        tri = np.take_along_axis(triangles[rows], turn, axis=1)
        edges = np.take_along_axis(of_triangle[rows], turn, axis=1)
        p, q = node_of_edge[edges[:, 0]], node_of_edge[edges[:, 2]]
        if not lonely_above:
            pieces.append(np.stack([tri[:, 0], p, q], axis=1))
        else:
            pieces.append(np.stack([tri[:, 1], q, p], axis=1))
            pieces.append(np.stack([tri[:, 1], tri[:, 2], q], axis=1))
            owner.append(rows)
            on_level.append(np.ones(rows.size, dtype=np.bool_))
        owner.append(rows)
        on_level.append(np.full(rows.size, not lonely_above, dtype=np.bool_))
    return np.concatenate(pieces), np.concatenate(owner), np.concatenate(on_level)
