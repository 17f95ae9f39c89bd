"""Cut any triangulated surface by a family of levels and join the pieces into curves."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

import numpy as np

from beltwright.core.units import FloatArray, IntArray
from beltwright.hull.marching import ON_LEVEL_M, Crossed, EdgeTable, bracketed_root, chains, crossed
from beltwright.hull.shell import LevelFunction, SurfaceCurve, SurfacePoints

Evaluate = Callable[[IntArray, FloatArray], FloatArray]


@dataclass(frozen=True, slots=True)
class CutNet:
    """A triangulation ready to be cut.

    ``points`` (n, 3) [m]; ``triangles`` (m, 3); ``edges``; for each edge the face it is evaluated on (e,) and the
    parameters of its two ends there (e, 2, 2). ``sides`` (e, 2) are an edge's triangles where every triangle is a face
    of its own (a mesh): each stretch of a curve is then given in its own triangle. None on spline faces.
    """

    points: FloatArray
    triangles: IntArray
    edges: EdgeTable
    edge_face: IntArray
    edge_uv: FloatArray
    sides: IntArray | None = None


@dataclass(frozen=True, slots=True)
class Nodes:
    """Points where edges meet levels, and how far along its edge each lies (0 to 1)."""

    edge: IntArray
    share: FloatArray
    face: IntArray
    uv: FloatArray
    points: FloatArray


def cut_family(
    net: CutNet, evaluate: Evaluate, level: LevelFunction, offsets: FloatArray, gap_m: float
) -> tuple[tuple[SurfaceCurve, ...], ...]:
    """Return for each offset the curves where ``level = offset``, joined across faces within ``gap_m``.

    A level that only touches the surface from below (the fore end of a box) is cut on its other side.
    """
    order = np.argsort(offsets, kind="stable")
    rising = offsets[order]
    field = level(net.points)
    found: list[tuple[SurfaceCurve, ...]] = [()] * offsets.size
    for k, curves in enumerate(_cut_once(net, evaluate, level, field, rising, gap_m, zero_above=True)):
        found[int(order[k])] = curves
    empty = np.array([k for k in range(offsets.size) if not found[int(order[k])]], dtype=np.int64)
    if empty.size:
        for k, curves in zip(
            empty, _cut_once(net, evaluate, level, field, rising[empty], gap_m, zero_above=False), strict=True
        ):
            found[int(order[k])] = curves
    return tuple(found)


def _cut_once(
    net: CutNet,
    evaluate: Evaluate,
    level: LevelFunction,
    field: FloatArray,
    offsets: FloatArray,
    gap_m: float,
    *,
    zero_above: bool,
) -> list[tuple[SurfaceCurve, ...]]:
    hit = crossed(net.edges, net.triangles, field, offsets, zero_above)
    nodes = locate_nodes(net, evaluate, level, field, offsets, hit)
    by_level: list[list[_Path]] = [[] for _ in range(offsets.size)]
    for path in _paths(nodes, chains(hit.edge.size, hit.segment), thin=net.sides is None):
        by_level[int(hit.level[path.nodes[0]])].append(path)
    return [_curves(net, nodes, paths, gap_m) for paths in by_level]


def locate_nodes(
    net: CutNet, evaluate: Evaluate, level: LevelFunction, field: FloatArray, offsets: FloatArray, hit: Crossed
) -> Nodes:
    """Return where each crossed edge meets its level, to 1e-12 of the level's own unit."""
    ends = net.edges.ends[hit.edge]
    wanted = offsets[hit.level]
    face = net.edge_face[hit.edge]
    start, step = net.edge_uv[hit.edge, 0], net.edge_uv[hit.edge, 1] - net.edge_uv[hit.edge, 0]

    def value(x: FloatArray, rows: IntArray) -> FloatArray:
        return level(evaluate(face[rows], start[rows] + x[:, None] * step[rows])) - wanted[rows]

    f0, f1 = field[ends[:, 0]] - wanted, field[ends[:, 1]] - wanted
    f0[np.abs(f0) <= ON_LEVEL_M] = 0.0
    f1[np.abs(f1) <= ON_LEVEL_M] = 0.0
    x = bracketed_root(value, f0, f1)
    uv = start + x[:, None] * step
    return Nodes(edge=hit.edge, share=x, face=face, uv=uv, points=evaluate(face, uv))


@dataclass(frozen=True, slots=True)
class _Path:
    """A chain of nodes on one face, its length [m], and whether it closes on itself."""

    nodes: IntArray
    length: float
    closed: bool


def _paths(nodes: Nodes, pieces: list[tuple[IntArray, bool]], *, thin: bool) -> list[_Path]:
    """Return chains without repeats of one place on one face (level through a vertex, or along a collapsed edge).

    Of a run at one place with differing parameters (a collapsed edge) the first and last stay, so that both
    neighbours are reached by a straight line in the parameters.
    """
    if not pieces:
        return []
    every = np.concatenate([path for path, _ in pieces])
    owner = np.repeat(np.arange(len(pieces)), [path.size for path, _ in pieces])
    for strict in (False, True) if thin else ():
        points, face, uv = nodes.points[every], nodes.face[every], nodes.uv[every]
        same = (owner[1:] == owner[:-1]) & (face[1:] == face[:-1])
        same &= np.max(np.abs(np.diff(points, axis=0)), axis=1) < 1e-9
        if strict:
            near = np.max(np.abs(np.diff(uv, axis=0)), axis=1) <= 1e-9 * (1.0 + np.max(np.abs(uv[1:]), axis=1))
            drop = np.concatenate([[False], same & near])
        else:
            drop = np.concatenate([[False], same]) & np.concatenate([same, [False]])
        every, owner = every[~drop], owner[~drop]
    step = np.linalg.norm(np.diff(nodes.points[every], axis=0), axis=1)
    run = np.concatenate([[0.0], np.cumsum(step)])
    first = np.searchsorted(owner, np.arange(len(pieces) + 1))
    lengths = run[first[1:] - 1] - run[first[:-1]]
    cuts = first.tolist()
    return [
        _Path(nodes=every[cuts[k] : cuts[k + 1]], length=float(lengths[k]), closed=closed)
        for k, (_, closed) in enumerate(pieces)
    ]


def _curves(net: CutNet, nodes: Nodes, paths: Sequence[_Path], gap_m: float) -> tuple[SurfaceCurve, ...]:
    """Return the curves of one level from its chains of nodes."""
    done = [(p.nodes, True) for p in paths if p.closed and p.nodes.size > 2]
    done += _joined(nodes.points, [p for p in paths if not p.closed and p.nodes.size > 1], gap_m)
    if net.sides is not None:
        return tuple(SurfaceCurve(at=_in_triangles(net, nodes, p, closed), closed=closed) for p, closed in done)
    return tuple(
        SurfaceCurve(at=SurfacePoints(face=nodes.face[p], uv=nodes.uv[p], points=nodes.points[p]), closed=closed)
        for p, closed in done
    )


def _in_triangles(net: CutNet, nodes: Nodes, path: IntArray, closed: bool) -> SurfacePoints:
    """Return a mesh curve with each stretch's two ends given in the triangle that holds it."""
    assert net.sides is not None
    a, b = (path, np.roll(path, -1)) if closed else (path[:-1], path[1:])
    sides_a, sides_b = net.sides[nodes.edge[a]], net.sides[nodes.edge[b]]
    shared = (sides_a[:, :, None] == sides_b[:, None, :]) & (sides_a[:, :, None] >= 0)
    held = np.flatnonzero(shared.any(axis=(1, 2)))
    triangle = sides_a[held, np.argmax(shared[held].any(axis=2), axis=1)]
    node = np.stack([a[held], b[held]], axis=1).ravel()
    face = np.repeat(triangle, 2)
    corner = np.zeros((node.size, 3))
    row = np.arange(node.size)
    ends = net.edges.ends[nodes.edge[node]]
    for column, share in ((0, 1.0 - nodes.share[node]), (1, nodes.share[node])):
        corner[row, np.argmax(net.triangles[face] == ends[:, column, None], axis=1)] = share
    return SurfacePoints(face=face, uv=corner[:, 1:], points=nodes.points[node])


def _joined(points: FloatArray, paths: list[_Path], gap_m: float) -> list[tuple[IntArray, bool]]:
    """Join open chains end to end, nearest ends first, where they lie within ``gap_m``."""
    if not paths:
        return []
    ends = points[[p.nodes[i] for p in paths for i in (0, -1)]]
    apart = ends[:, None] - ends
    distance = np.sqrt((apart * apart).sum(axis=2))
    i, j = (distance <= gap_m).nonzero()
    i, j = i[i < j], j[i < j]
    order = distance[i, j].argsort(kind="stable")
    partner = [-1] * len(ends)
    for a, b in zip(i[order].tolist(), j[order].tolist(), strict=True):
        same_chain = a // 2 == b // 2
        if partner[a] < 0 and partner[b] < 0 and not (same_chain and paths[a // 2].length < 4 * gap_m):
            partner[a], partner[b] = b, a
    return _assembled([p.nodes for p in paths], partner)


def _assembled(paths: list[IntArray], partner: list[int]) -> list[tuple[IntArray, bool]]:
    """Walk over joined chain ends (2k = start, 2k+1 = end of chain k) and string the chains together."""
    used = [False] * len(paths)
    result: list[tuple[IntArray, bool]] = []
    starts = [e for e in range(len(partner)) if partner[e] < 0] + list(range(len(partner)))
    for start in starts:
        if used[start // 2]:
            continue
        parts: list[IntArray] = []
        here = start
        closed = False
        while True:
            chain = here // 2
            used[chain] = True
            parts.append(paths[chain] if here % 2 == 0 else paths[chain][::-1])
            onward = partner[here ^ 1]
            if onward < 0:
                break
            if used[onward // 2]:
                closed = True
                break
            here = onward
        result.append((np.concatenate(parts), closed))
    return result
