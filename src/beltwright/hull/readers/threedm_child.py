"""3DM files through rhino3dm; runs only in a child process.

rhino3dm gives a Brep face's surface and its edges in space, not its trim curves in parameters: the edges are sampled
and brought onto the surface by Newton's method.
"""

from __future__ import annotations

from typing import Any

import numpy as np
import rhino3dm

from beltwright.hull.bezier import BezierCells
from beltwright.hull.patch import SplinePatch, rectangle_domain
from beltwright.hull.readers.mesh_clean import clean
from beltwright.hull.readers.worker import Arrays, Record, RefusedError

MAX_OBJECTS = 100_000
EDGE_POINTS = 257
_UNITS = {
    "Millimeters": "mm", "Centimeters": "cm", "Decimeters": "dm", "Meters": "m", "Inches": "in", "Feet": "ft",
    "Kilometers": "km", "Yards": "yd",
}  # fmt: skip


def read(job: Record, _arrays: Arrays) -> tuple[Record, Arrays]:
    """Read a 3DM file: NURBS surfaces, Breps with their trims, extrusions and meshes."""
    model = rhino3dm.File3dm.Read(str(job["path"]))
    if model is None:
        raise RefusedError("is not a 3DM file that can be read (damaged or cut short)")
    objects: Any = model.Objects
    if len(objects) > MAX_OBJECTS:
        raise RefusedError(f"holds more than {MAX_OBJECTS} objects")
    unit = _UNITS.get(str(model.Settings.ModelUnitSystem).rsplit(".", 1)[-1])
    found: Arrays = {}
    faces: list[Record] = []
    notes: list[str] = []
    for number, item in enumerate(objects, start=1):
        name = _name(item.Attributes.Name, f"object {number}")
        _object(item.Geometry, name, found, faces, notes)
    if not faces:
        raise RefusedError("holds no surface, Brep, extrusion or mesh that can be read")
    return {"faces": faces, "units": [unit] if unit else [], "notes": notes}, found


def _name(given: str, fallback: str) -> str:
    """Return the object's own name, or a number."""
    return f"{fallback} {given!r}" if given else fallback


def _object(geometry: Any, name: str, found: Arrays, faces: list[Record], notes: list[str]) -> None:
    """Add the faces of one object."""
    if isinstance(geometry, rhino3dm.Mesh):
        _mesh(geometry, name, found, faces, notes)
        return
    if isinstance(geometry, rhino3dm.Extrusion):
        geometry = geometry.ToBrep(True)
    if isinstance(geometry, rhino3dm.Brep):
        brep: Any = geometry
        for i in range(len(brep.Faces)):
            _brep_face(brep, i, f"{name} face {i + 1}" if len(brep.Faces) > 1 else name, found, faces, notes)
        return
    if isinstance(geometry, rhino3dm.Surface):
        patch = _spline(geometry.ToNurbsSurface(), name)
        if patch is not None:
            _store(patch, (), False, found, faces)
            return
    kind = type(geometry).__name__
    notes.append(f"{name}: a {kind} is not a surface; it is left out")


def _mesh(mesh: Any, name: str, found: Arrays, faces: list[Record], notes: list[str]) -> None:
    """Add a mesh, quadrilaterals cut in two."""
    vertices = np.array([(p.X, p.Y, p.Z) for p in mesh.Vertices], dtype=np.float64).reshape(-1, 3)
    corners = np.array([tuple(mesh.Faces[i]) for i in range(len(mesh.Faces))], dtype=np.int64).reshape(-1, 4)
    if not len(corners) or not np.all(np.isfinite(vertices)):
        raise RefusedError(f"{name}: a mesh without faces or with a coordinate that is not a finite number")
    four = corners[:, 2] != corners[:, 3]
    triangles = np.concatenate([corners[:, :3], corners[four][:, [0, 2, 3]]])
    vertices, triangles = clean(vertices, triangles, name, notes)
    key = f"f{len(faces)}"
    found[f"{key}_vertices"], found[f"{key}_triangles"] = vertices, triangles
    faces.append({"name": name, "single": True})


def _spline(surface: Any, name: str) -> SplinePatch | None:
    """Return a rhino NURBS surface as a patch; its knot vectors lack the first and last knot."""
    if surface is None:
        return None
    points = surface.Points
    nu, nv = points.CountU, points.CountV
    raw = np.array([[_homogeneous(points.GetControlPoint(i, j)) for j in range(nv)] for i in range(nu)])
    ku, kv = (np.array([k[i] for i in range(len(k))]) for k in (surface.KnotsU, surface.KnotsV))
    weights = raw[..., 3] if surface.IsRational else None
    return SplinePatch(
        poles=raw[..., :3] / raw[..., 3:] if surface.IsRational else raw[..., :3],
        weights=weights, knots_u=np.concatenate([ku[:1], ku, ku[-1:]]), knots_v=np.concatenate([kv[:1], kv, kv[-1:]]),
        degree_u=surface.OrderU - 1, degree_v=surface.OrderV - 1, name=name,
    )  # fmt: skip


def _homogeneous(point: Any) -> tuple[float, float, float, float]:
    """Return a control point as stored: weighted coordinates and the weight."""
    return float(point.X), float(point.Y), float(point.Z), float(point.W)


def _store(
    patch: SplinePatch, loops: tuple[np.ndarray[Any, Any], ...], turned: bool, found: Arrays, faces: list[Record]
) -> None:
    """Put a patch into the arrays handed back."""
    key = f"f{len(faces)}"
    found[f"{key}_poles"], found[f"{key}_ku"], found[f"{key}_kv"] = patch.poles, patch.knots_u, patch.knots_v
    if patch.weights is not None:
        found[f"{key}_w"] = patch.weights
    for i, loop in enumerate(loops):
        found[f"{key}_t{i}"] = loop
    faces.append({
        "name": patch.name, "degree_u": patch.degree_u, "degree_v": patch.degree_v, "loops": len(loops),
        "reversed": turned,
    })  # fmt: skip


def _brep_face(brep: Any, index: int, name: str, found: Arrays, faces: list[Record], notes: list[str]) -> None:
    """Add one Brep face with its trims; where these cannot be had, its stored mesh; else refuse the file."""
    face = brep.Faces[index]
    patch = _spline(face.UnderlyingSurface().ToNurbsSurface(), name)
    if patch is not None:
        loops = [_loop(brep, face.Loops[i], patch) for i in range(len(face.Loops))]
        whole = [loop for loop in loops if loop is not None]
        if len(whole) == len(loops):
            kept = () if len(loops) == 1 and _is_border(whole[0], patch) else tuple(whole)
            _store(patch, kept, bool(face.OrientationIsReversed), found, faces)
            return
    mesh = face.GetMesh(rhino3dm.MeshType.Any)
    if mesh is None or not len(mesh.Faces):
        raise RefusedError(
            f"{name}: its trim curves cannot be had and it has no stored mesh; export it as STEP instead"
        )
    notes.append(f"{name}: its trim curves cannot be had; its stored mesh is used instead")
    _mesh(mesh, name, found, faces, notes)


def _loop(brep: Any, loop: Any, patch: SplinePatch) -> np.ndarray[Any, Any] | None:
    """Return a trim loop in parameters, or None where an edge does not lie on the surface."""
    cells = BezierCells([patch])
    pieces: list[np.ndarray[Any, Any]] = []
    used = [loop.Trims[i].EdgeIndex for i in range(loop.TrimCount) if loop.Trims[i].EdgeIndex >= 0]
    if len(set(used)) < len(used):  # a seam: both its sides are the same edge in space
        return _border(patch) if len(set(used)) <= 3 else None
    for i in range(loop.TrimCount):
        trim = loop.Trims[i]
        if trim.EdgeIndex < 0:
            continue
        edge = brep.Edges[trim.EdgeIndex]
        t = np.linspace(edge.Domain.T0, edge.Domain.T1, EDGE_POINTS)
        points = np.array([_xyz(edge.PointAt(v)) for v in t.tolist()])
        uv = _onto(cells, points[::-1] if trim.IsReversed else points)
        if uv is None:
            return None
        pieces.append(uv)
    if not pieces:
        return None
    points = np.concatenate(pieces)
    return np.concatenate([points, points[:1]])


def _border(patch: SplinePatch) -> np.ndarray[Any, Any]:
    """Return the border of the whole parameter rectangle as a loop."""
    u0, u1, v0, v1 = rectangle_domain(patch)
    return np.array([(u0, v0), (u1, v0), (u1, v1), (u0, v1), (u0, v0)])


def _xyz(point: Any) -> tuple[float, float, float]:
    """Return a point's coordinates."""
    return float(point.X), float(point.Y), float(point.Z)


def _onto(cells: BezierCells, points: np.ndarray[Any, Any]) -> np.ndarray[Any, Any] | None:
    """Return the parameters of points on face 0 by damped Gauss-Newton steps, or None if they miss the face.

    The search starts inside the face, away from collapsed sides, where one parameter means nothing.
    """
    low, high = (np.array([float(a[0]) for a in pair]) for pair in _sides(cells))
    share = (np.arange(40) + 0.5) / 40
    grid = low + np.stack(np.meshgrid(share, share, indexing="ij"), -1).reshape(-1, 2) * (high - low)
    net = cells.points(np.zeros(len(grid), dtype=np.int64), grid)
    face = np.zeros(len(points), dtype=np.int64)
    uv = grid[np.argmin(np.sum((points[:, None, :] - net[None]) ** 2, axis=2), axis=1)].copy()
    pull = np.ones(len(points))
    for _ in range(100):
        place, du, dv = cells.slopes(face, uv)
        rest = points - place
        new = np.clip(uv + pull[:, None] * _step(rest, du, dv), low, high)
        better = np.sum((points - cells.points(face, new)) ** 2, axis=1) <= np.sum(rest**2, axis=1)
        pull = np.where(better, np.minimum(1.0, 2.0 * pull), 0.25 * pull)
        done = bool(np.max(np.abs(new - uv)[better] / (high - low), initial=0.0) < 1e-14)
        uv[better] = new[better]
        if done and bool(np.all(better)):
            break
    size = float(np.max(np.ptp(net, axis=0)))
    miss = float(np.max(np.linalg.norm(cells.points(face, uv) - points, axis=1)))
    return _at_collapsed_ends(cells, uv, size) if miss <= 1e-5 * size else None


def _sides(cells: BezierCells) -> tuple[tuple[Any, Any], tuple[Any, Any]]:
    """Return the low and the high corner of face 0's rectangle."""
    u0, u1, v0, v1 = cells.domain(np.zeros(1, dtype=np.int64))
    return (u0, v0), (u1, v1)


def _step(rest: np.ndarray[Any, Any], du: np.ndarray[Any, Any], dv: np.ndarray[Any, Any]) -> np.ndarray[Any, Any]:
    """Return the Gauss-Newton step for residuals and slopes, each (n, 3)."""
    a, b, c = (np.sum(p * q, axis=1) for p, q in ((du, du), (du, dv), (dv, dv)))
    e, f = np.sum(du * rest, axis=1), np.sum(dv * rest, axis=1)
    floor = 1e-12 * (a + c)
    a, c = a + floor, c + floor
    det = np.maximum(a * c - b * b, 1e-300)
    return np.stack([(c * e - b * f) / det, (a * f - b * e) / det], axis=1)


def _at_collapsed_ends(cells: BezierCells, uv: np.ndarray[Any, Any], size: float) -> np.ndarray[Any, Any]:
    """Take the meaningless parameter of an end on a collapsed side from the next point of the edge."""
    low, high = (np.array([float(a[0]) for a in pair]) for pair in _sides(cells))
    for end, inner in ((0, 1), (-1, -2)):
        _, du, dv = cells.slopes(np.zeros(1, dtype=np.int64), uv[[end]])
        for k, slope in enumerate((du, dv)):
            if float(np.linalg.norm(slope)) * (high - low)[k] < 1e-6 * size:
                uv[end, k] = uv[inner, k]
    return uv


def _is_border(loop: np.ndarray[Any, Any], patch: SplinePatch) -> bool:
    """Return whether a loop is the border of the whole parameter rectangle."""
    u0, u1, v0, v1 = rectangle_domain(patch)
    low, high = np.array([u0, v0]), np.array([u1, v1])
    near = 1e-6 * (high - low)
    on_side = (np.abs(loop - low) <= near) | (np.abs(loop - high) <= near)
    x, y = loop[:, 0], loop[:, 1]
    area = 0.5 * abs(float(np.sum(x[:-1] * y[1:] - x[1:] * y[:-1])))
    return bool(np.all(on_side.any(axis=1))) and area > 0.999 * float(np.prod(high - low))
