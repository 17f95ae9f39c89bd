"""Hull files written without the readers' own code: meshes by hand, 3DM through rhino3dm."""

from __future__ import annotations

from itertools import pairwise
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from beltwright.hull.bezier import BezierCells
from beltwright.hull.patch import SplinePatch

Array = NDArray[np.float64]


def triangles_of(patches: tuple[SplinePatch, ...], per_cell: int) -> Array:
    """Divide every Bezier cell evenly: corner coordinates (m, 3, 3)."""
    out = []
    for patch in patches:
        cells = BezierCells([patch])
        lines = []
        for breaks in (cells.breaks_u[0], cells.breaks_v[0]):
            straight = breaks.size == 2 and (patch.degree_u if breaks is cells.breaks_u[0] else patch.degree_v) == 1
            n = 1 if straight and _is_plane(patch) else per_cell
            lines.append(np.unique(np.concatenate([np.linspace(a, b, n + 1) for a, b in pairwise(breaks.tolist())])))
        u, v = np.meshgrid(*lines, indexing="ij")
        grid = cells.points(np.zeros(u.size, dtype=np.int64), np.stack([u.ravel(), v.ravel()], 1)).reshape(*u.shape, 3)
        a, b, c, d = grid[:-1, :-1], grid[1:, :-1], grid[:-1, 1:], grid[1:, 1:]
        out += [np.stack([a, b, d], axis=2).reshape(-1, 3, 3), np.stack([a, d, c], axis=2).reshape(-1, 3, 3)]
    soup = np.concatenate(out)
    size = np.linalg.norm(np.cross(soup[:, 1] - soup[:, 0], soup[:, 2] - soup[:, 0]), axis=1)
    kept: Array = soup[size > 1e-12]
    return kept


def _is_plane(patch: SplinePatch) -> bool:
    p = patch.poles.reshape(-1, 3) - patch.poles.reshape(-1, 3).mean(axis=0)
    return bool(np.linalg.svd(p)[1][2] < 1e-12 * np.abs(p).max())


def write_stl(path: Path, soup: Array) -> None:
    record = np.zeros(len(soup), dtype=[("normal", "<f4", 3), ("corners", "<f4", (3, 3)), ("attribute", "<u2")])
    record["corners"] = soup
    path.write_bytes(b"closed-form hull".ljust(80) + np.uint32(len(soup)).tobytes() + record.tobytes())


def write_text_stl(path: Path, soup: Array) -> None:
    lines = ["solid hull"]
    for t in soup.tolist():
        lines += ["facet normal 0 0 0", " outer loop", *(f"  vertex {x!r} {y!r} {z!r}" for x, y, z in t)]
        lines += [" endloop", "endfacet"]
    path.write_text("\n".join([*lines, "endsolid hull\n"]))


def _indexed(soup: Array) -> tuple[Array, NDArray[np.int64]]:
    points, back = np.unique(soup.reshape(-1, 3), axis=0, return_inverse=True)
    return points, back.reshape(-1, 3)


def write_obj(path: Path, soup: Array) -> None:
    points, faces = _indexed(soup)
    lines = [f"v {x!r} {y!r} {z!r}" for x, y, z in points.tolist()]
    path.write_text("\n".join(["# hull", *lines, *(f"f {a} {b} {c}" for a, b, c in (faces + 1).tolist())]) + "\n")


def write_ply(path: Path, soup: Array, *, kind: str = "double") -> None:
    points, faces = _indexed(soup)
    head = f"ply\nformat binary_little_endian 1.0\nelement vertex {len(points)}\n"
    head += "".join(f"property {kind} {c}\n" for c in "xyz")
    head += f"element face {len(faces)}\nproperty list uchar int vertex_indices\nend_header\n"
    rows = np.zeros(len(faces), dtype=[("n", "u1"), ("v", "<i4", 3)])
    rows["n"], rows["v"] = 3, faces
    path.write_bytes(head.encode() + points.astype("<f8" if kind == "double" else "<f4").tobytes() + rows.tobytes())


def rhino_surface(patch: SplinePatch) -> object:
    """Make a rhino3dm NURBS surface."""
    import rhino3dm

    nu, nv = patch.poles.shape[:2]
    made = rhino3dm.NurbsSurface.Create(3, patch.weights is not None, patch.degree_u + 1, patch.degree_v + 1, nu, nv)
    for knots, target in ((patch.knots_u, made.KnotsU), (patch.knots_v, made.KnotsV)):
        for i, k in enumerate(knots[1:-1].tolist()):
            target[i] = k
    for i in range(nu):
        for j in range(nv):
            w = 1.0 if patch.weights is None else float(patch.weights[i, j])
            made.Points[i, j] = rhino3dm.Point4d(*(patch.poles[i, j] * w).tolist(), w)
    return made


def write_3dm(path: Path, patches: tuple[SplinePatch, ...], *, unit: str = "Meters", as_brep: bool = False) -> None:
    import rhino3dm

    model = rhino3dm.File3dm()
    model.Settings.ModelUnitSystem = getattr(rhino3dm.UnitSystem, unit)
    for patch in patches:
        surface = rhino_surface(patch)
        attributes = rhino3dm.ObjectAttributes()
        attributes.Name = patch.name
        if as_brep:
            model.Objects.AddBrep(rhino3dm.Brep.CreateFromSurface(surface), attributes)
        else:
            model.Objects.AddSurface(surface, attributes)
    assert model.Write(str(path), 7)
