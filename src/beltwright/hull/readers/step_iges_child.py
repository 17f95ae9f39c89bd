"""STEP and IGES through the CAD kernel. The only module that imports OCP; it runs only in a child process.

The kernel works in millimetres here, set explicitly, whatever the file's unit; lengths are handed back in
millimetres beside the names of the units that the file states.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import numpy as np
from OCP.BRep import BRep_Builder, BRep_Tool
from OCP.BRepBuilderAPI import BRepBuilderAPI_MakeFace, BRepBuilderAPI_NurbsConvert
from OCP.BRepTools import BRepTools, BRepTools_WireExplorer
from OCP.collections import Array1_double, Array1_int, Array2_double, Array2_gp_Pnt, Sequence_TCollection_AsciiString
from OCP.Geom import Geom_BSplineSurface, Geom_RectangularTrimmedSurface
from OCP.Geom2d import Geom2d_BSplineCurve, Geom2d_Line
from OCP.gp import gp_Pnt, gp_Vec
from OCP.IFSelect import IFSelect_RetDone
from OCP.IGESControl import IGESControl_Reader, IGESControl_Writer
from OCP.Interface import Interface_Static
from OCP.STEPControl import STEPControl_AsIs, STEPControl_Reader, STEPControl_Writer
from OCP.TopAbs import TopAbs_EDGE, TopAbs_FACE, TopAbs_REVERSED, TopAbs_WIRE
from OCP.TopExp import TopExp_Explorer
from OCP.TopoDS import TopoDS, TopoDS_Compound

from beltwright.hull.readers.worker import Arrays, Record, RefusedError

TRIM_TOLERANCE_MM = 0.1
MAX_ENTITIES = 2_000_000
MAX_FACES = 20_000
MAX_LOOP_POINTS = 4096  # per edge
_FIRST_STEPS = 16
_MM = "MM"
_MOST_LOOKED_THROUGH = 100_000_000
_STEP_FACES = ("StepShape_AdvancedFace", "StepShape_FaceSurface")
_IGES_FACES = (143, 144, 510)  # bounded surface, trimmed surface, face


def read(job: Record, _arrays: Arrays) -> tuple[Record, Arrays]:
    """Read a STEP or IGES file; returns each face as spline arrays [mm] and the file's unit names."""
    path, form = str(job["path"]), str(job["format"])
    shape, units, name_of, announced = _read_iges(path) if form == "iges" else _read_step(path)
    if shape is None or shape.IsNull():
        raise RefusedError("holds no shape that can be read")
    found: Arrays = {}
    faces: list[Record] = []
    notes: list[str] = []
    for number, face in enumerate(_explore(shape, TopAbs_FACE, TopoDS.Face), start=1):
        if number > MAX_FACES:
            raise RefusedError(f"holds more than {MAX_FACES} faces")
        name = name_of(face) or f"face {number}"
        try:
            faces.append(_face(face, name, f"f{len(faces)}", found))
        except RuntimeError as error:
            notes.append(f"{name}: cannot be turned into a spline face ({_words(error)}); it is left out")
    if 0 < len(faces) + len(notes) < announced:
        notes.append(f"the file names {announced} faces, but only {len(faces)} could be read; the rest are missing")
    if not faces:
        raise RefusedError("holds no face that can be read (only curves or points?)")
    return {"faces": faces, "units": units, "notes": notes}, found


def _read_step(path: str) -> tuple[Any, list[str], Callable[[Any], str], int]:
    """Return the shape [mm], the unit names of the file, a function from face to name, and the count of faces."""
    reader = STEPControl_Reader()
    if reader.ReadFile(path) != IFSelect_RetDone:
        raise RefusedError("is not a STEP file that can be read (damaged or cut short)")
    _check_size(reader)
    lengths, angles, solids = (Sequence_TCollection_AsciiString() for _ in range(3))
    reader.FileUnits(lengths, angles, solids)
    reader.SetSystemLengthUnit(1.0)
    reader.TransferRoots()
    units = [lengths.Value(i + 1).ToCString() for i in range(lengths.Length())]
    model = reader.StepModel()
    kinds = (model.Value(i).DynamicType().Name() for i in range(1, model.NbEntities() + 1))
    return reader.OneShape(), units, _namer(reader), sum(kind in _STEP_FACES for kind in kinds)


def _namer(reader: Any) -> Callable[[Any], str]:
    """Return a function from a face to the name its entity bears in the file ("" where it bears none)."""
    transfer = reader.WS().TransferReader()
    looked_through = 0

    def name_of(face: Any) -> str:
        nonlocal looked_through
        looked_through += reader.Model().NbEntities()  # the kernel searches all of them for each face
        if looked_through > _MOST_LOOKED_THROUGH:
            return ""
        entity = transfer.EntityFromShapeResult(face, -1)
        if entity is None:
            return ""
        name = entity.NameValue() if hasattr(entity, "NameValue") else getattr(entity, "Name", lambda: None)()
        text = "" if name is None else name.ToCString().strip()
        return "" if text == "NONE" else text

    return name_of


def _read_iges(path: str) -> tuple[Any, list[str], Callable[[Any], str], int]:
    """Return the shape [mm], the unit flag of the file, a function from face to name, and the count of faces."""
    reader = IGESControl_Reader()
    Interface_Static.SetCVal_s("xstep.cascade.unit", _MM)
    if reader.ReadFile(path) != IFSelect_RetDone:
        raise RefusedError("is not an IGES file that can be read (damaged or cut short)")
    _check_size(reader)
    section = reader.IGESModel().GlobalSection()
    reader.TransferRoots()
    model = reader.IGESModel()
    count = sum(model.Entity(i).TypeNumber() in _IGES_FACES for i in range(1, model.NbEntities() + 1))
    return reader.OneShape(), [str(section.UnitFlag())], _namer(reader), count


def _check_size(reader: Any) -> None:
    """Refuse a model with too many entities."""
    count = reader.Model().NbEntities() if reader.Model() is not None else 0
    if count > MAX_ENTITIES:
        raise RefusedError(f"holds {count} entities, more than {MAX_ENTITIES}")


def _explore(shape: Any, kind: Any, cast: Any) -> Iterator[Any]:
    """Yield the sub-shapes of one kind, placements and orientations applied."""
    explorer = TopExp_Explorer(shape, kind)
    while explorer.More():
        yield cast(explorer.Current())
        explorer.Next()


def _words(error: BaseException) -> str:
    """Return an exception's first line, short."""
    return (str(error).strip().split("\n") or [""])[0][:120] or type(error).__name__


def _face(face: Any, name: str, key: str, found: Arrays) -> Record:
    """Store one face's spline arrays under ``key`` and return its record."""
    spline, face = _as_spline(face)
    bounds = BRepTools.UVBounds_s(face)
    for axis, periodic in (("U", spline.IsUPeriodic()), ("V", spline.IsVPeriodic())):
        if periodic:
            _unroll(spline, axis, bounds)
    loops = [loop for wire in _explore(face, TopAbs_WIRE, TopoDS.Wire) if (loop := _loop(wire, face, spline)).size]
    if _natural(spline, loops):
        loops = []
    _store(spline, key, found)
    for i, loop in enumerate(loops):
        found[f"{key}_t{i}"] = loop
    return {
        "name": name, "degree_u": spline.UDegree(), "degree_v": spline.VDegree(), "loops": len(loops),
        "reversed": face.Orientation() == TopAbs_REVERSED,
    }  # fmt: skip


def _as_spline(face: Any) -> tuple[Any, Any]:
    """Return the face's own copy of its surface as a B-spline, and the face that its trim curves belong to."""
    surface = BRep_Tool.Surface_s(face)
    while isinstance(surface, Geom_RectangularTrimmedSurface):
        surface = surface.BasisSurface()
    if not isinstance(surface, Geom_BSplineSurface):
        convert = BRepBuilderAPI_NurbsConvert(face, True)
        orientation = face.Orientation()
        face = TopoDS.Face(convert.Shape().Oriented(orientation))
        surface = BRep_Tool.Surface_s(face)
        while isinstance(surface, Geom_RectangularTrimmedSurface):
            surface = surface.BasisSurface()
    if not isinstance(surface, Geom_BSplineSurface):
        raise RuntimeError(f"surface kind {surface.DynamicType().Name()}")
    return surface.Copy(), face


def _unroll(spline: Any, axis: str, bounds: tuple[float, float, float, float]) -> None:
    """Make a periodic direction non-periodic over the face's own range."""
    low, high = (bounds[0], bounds[1]) if axis == "U" else (bounds[2], bounds[3])
    period = spline.UPeriod() if axis == "U" else spline.VPeriod()
    high = min(high, low + period)
    u = (low, high) if axis == "U" else _range(spline, "U")
    v = (low, high) if axis == "V" else _range(spline, "V")
    spline.Segment(u[0], u[1], v[0], v[1])
    if axis == "U" and spline.IsUPeriodic():
        spline.SetUNotPeriodic()
    if axis == "V" and spline.IsVPeriodic():
        spline.SetVNotPeriodic()


def _range(spline: Any, axis: str) -> tuple[float, float]:
    """Return the first and last parameter of one direction."""
    u0, u1, v0, v1 = spline.Bounds()
    return (u0, u1) if axis == "U" else (v0, v1)


def _loop(wire: Any, face: Any, spline: Any) -> np.ndarray[Any, Any]:
    """Return a trim loop (k, 2), closed, so fine that no chord leaves the curve by more than the tolerance."""
    edges: list[Any] = []
    explorer = BRepTools_WireExplorer(wire, face)
    while explorer.More():
        edges.append(explorer.Current())
        explorer.Next()
    everything = list(_explore(wire, TopAbs_EDGE, TopoDS.Edge))
    pieces = [_edge(edge, face, spline) for edge in (edges if len(edges) == len(everything) else everything)]
    pieces = [p for p in pieces if p.size]
    if not pieces:
        return np.empty((0, 2))
    points = np.concatenate(pieces if len(edges) == len(everything) else _chained(pieces))
    keep = np.concatenate([[True], np.any(np.diff(points, axis=0) != 0.0, axis=1)])
    points = points[keep]
    return points if np.array_equal(points[0], points[-1]) else np.concatenate([points, points[:1]])


def _chained(pieces: list[np.ndarray[Any, Any]]) -> list[np.ndarray[Any, Any]]:
    """Order loose pieces of a loop end to end, nearest end first, turning pieces round where that fits."""
    chain, rest = [pieces[0]], pieces[1:]
    while rest:
        end = chain[-1][-1]
        gaps = [(float(np.hypot(*(p[k] - end))), i, k) for i, p in enumerate(rest) for k in (0, -1)]
        _, i, k = min(gaps)
        piece = rest.pop(i)
        chain.append(piece if k == 0 else piece[::-1])
    return chain


def _edge(edge: Any, face: Any, spline: Any) -> np.ndarray[Any, Any]:
    """Return one edge's parameter curve as points (k, 2) in the wire's direction."""
    curve, first, last = _pcurve(edge, face)
    if curve is None:
        return np.empty((0, 2))
    count = 1 if isinstance(curve, Geom2d_Line) else _FIRST_STEPS
    if isinstance(curve, Geom2d_BSplineCurve):
        count = max(count, 1 << (4 * curve.NbKnots() - 1).bit_length())
    while True:
        points = _sampled(curve, first, last, min(count, MAX_LOOP_POINTS))
        metric = _metric(points, spline)
        if count == 1 or count >= MAX_LOOP_POINTS or _miss(points, 2, metric) <= TRIM_TOLERANCE_MM:
            break
        count *= 2
    step = len(points) - 1
    while step > 1 and _miss(points, step, metric) > 0.5 * TRIM_TOLERANCE_MM:
        step //= 2
    points = points[::step]
    return points[::-1] if edge.Orientation() == TopAbs_REVERSED else points


def _pcurve(edge: Any, face: Any) -> tuple[Any, float, float]:
    """Return an edge's curve in the face's parameters and its range, or None."""
    first, last = BRep_Tool.Range_s(edge, face)
    return BRep_Tool.CurveOnSurface_s(edge, face, first, last), first, last


def _sampled(curve: Any, first: float, last: float, count: int) -> np.ndarray[Any, Any]:
    """Return ``count + 1`` points of a parameter curve."""
    values = [curve.Value(t) for t in np.linspace(first, last, count + 1).tolist()]
    return np.array([(p.X(), p.Y()) for p in values])


def _metric(points: np.ndarray[Any, Any], spline: Any) -> np.ndarray[Any, Any]:
    """Return the greatest length on the surface per unit of u and of v along a curve [mm], (2,)."""
    place, du, dv = gp_Pnt(), gp_Vec(), gp_Vec()
    most = np.zeros(2)
    for u, v in points[:: max(1, len(points) // 32)].tolist():
        spline.D1(u, v, place, du, dv)
        most = np.maximum(most, (du.Magnitude(), dv.Magnitude()))
    return most


def _miss(points: np.ndarray[Any, Any], step: int, metric: np.ndarray[Any, Any]) -> float:
    """Return how far, in mm on the surface, points lie from the polyline through every ``step``-th of them."""
    number = np.arange(len(points))
    coarse = np.stack([np.interp(number, number[::step], points[::step, k]) for k in (0, 1)], axis=1)
    return float(np.max(np.abs(points - coarse) @ metric))


def _natural(spline: Any, loops: list[np.ndarray[Any, Any]]) -> bool:
    """Cut the surface to its trims where these are one rectangle; True where no loop is needed any more."""
    if len(loops) != 1:
        return not loops
    low, high = loops[0].min(axis=0), loops[0].max(axis=0)
    size = high - low
    if np.any(size <= 0.0):
        return False
    near = 1e-9 * size
    on_side = (np.abs(loops[0] - low) <= near) | (np.abs(loops[0] - high) <= near)
    step = np.abs(np.diff(loops[0], axis=0)) <= near
    if not (np.all(on_side.any(axis=1)) and np.all(step.any(axis=1))):
        return False
    u0, u1, v0, v1 = spline.Bounds()
    snap = 1e-9 * np.array([u1 - u0, v1 - v0])
    inside = bool(np.all(low >= np.array([u0, v0]) - snap) and np.all(high <= np.array([u1, v1]) + snap))
    same = bool(np.all(np.abs(low - [u0, v0]) <= snap) and np.all(np.abs(high - [u1, v1]) <= snap))
    if inside and not same:
        spline.Segment(max(low[0], u0), min(high[0], u1), max(low[1], v0), min(high[1], v1))
    return inside


def _store(spline: Any, key: str, found: Arrays) -> None:
    """Copy a surface's numbers into arrays."""
    nu, nv = spline.NbUPoles(), spline.NbVPoles()
    poles = [spline.Pole(i, j) for i in range(1, nu + 1) for j in range(1, nv + 1)]
    found[f"{key}_poles"] = np.array([(p.X(), p.Y(), p.Z()) for p in poles]).reshape(nu, nv, 3)
    found[f"{key}_ku"] = _knots(spline.UKnotSequence())
    found[f"{key}_kv"] = _knots(spline.VKnotSequence())
    if spline.IsURational() or spline.IsVRational():
        weights = [spline.Weight(i, j) for i in range(1, nu + 1) for j in range(1, nv + 1)]
        found[f"{key}_w"] = np.array(weights).reshape(nu, nv)


def _knots(sequence: Any) -> np.ndarray[Any, Any]:
    """Return a kernel array of numbers as a numpy array."""
    return np.array([sequence.Value(i) for i in range(sequence.Lower(), sequence.Upper() + 1)])


def write(job: Record, arrays: Arrays) -> tuple[Record, Arrays]:
    """Write untrimmed spline faces [mm] as STEP or IGES in the unit ``job["unit"]`` (M, MM, INCH, FT)."""
    compound, builder = TopoDS_Compound(), BRep_Builder()
    builder.MakeCompound(compound)
    for i, face in enumerate(job["faces"]):
        builder.Add(compound, _made_face(face, f"f{i}", arrays))
    path, unit = str(job["path"]), str(job["unit"])
    if job["format"] == "iges":
        iges = IGESControl_Writer("IN" if unit == "INCH" else unit, 0)
        Interface_Static.SetCVal_s("xstep.cascade.unit", _MM)
        iges.AddShape(compound)
        iges.ComputeModel()
        done = bool(iges.Write(path))
    else:
        step = STEPControl_Writer()
        Interface_Static.SetCVal_s("xstep.cascade.unit", _MM)
        Interface_Static.SetCVal_s("write.step.unit", unit)
        step.Transfer(compound, STEPControl_AsIs)
        done = step.Write(path) == IFSelect_RetDone
        if done:
            _tidy(Path(path), [str(face["name"]) for face in job["faces"]])
    if not done:
        raise RefusedError("cannot be written")
    return {}, {}


def _tidy(path: Path, names: list[str]) -> None:
    """Put a fixed time and the faces' names into a STEP file: the same hull gives the same file."""
    text = re.sub(r"'\d{4}-\d\d-\d\dT\d\d:\d\d:\d\d'", "'2000-01-01T00:00:00'", path.read_text(), count=1)
    if text.count("ADVANCED_FACE('',") == len(names):  # they stand in the order in which they were added
        plain = iter([re.sub(r"[^ -~]|['\\]", " ", name) for name in names])
        text = re.sub(r"ADVANCED_FACE\('',", lambda _: f"ADVANCED_FACE('{next(plain)}',", text)
    path.write_text(text)


def _made_face(face: Record, key: str, arrays: Arrays) -> Any:
    """Return a kernel face made from arrays."""
    poles = arrays[f"{key}_poles"]
    nu, nv = poles.shape[:2]
    net = Array2_gp_Pnt(1, nu, 1, nv)
    for i in range(nu):
        for j in range(nv):
            net.SetValue(i + 1, j + 1, gp_Pnt(*poles[i, j].tolist()))
    ku, mu = _kernel_knots(arrays[f"{key}_ku"])
    kv, mv = _kernel_knots(arrays[f"{key}_kv"])
    degrees = int(face["degree_u"]), int(face["degree_v"])
    if f"{key}_w" in arrays:
        weights = Array2_double(1, nu, 1, nv)
        for i in range(nu):
            for j in range(nv):
                weights.SetValue(i + 1, j + 1, float(arrays[f"{key}_w"][i, j]))
        surface = Geom_BSplineSurface(net, weights, ku, kv, mu, mv, *degrees)
    else:
        surface = Geom_BSplineSurface(net, ku, kv, mu, mv, *degrees)
    made = BRepBuilderAPI_MakeFace(surface, 1e-6)
    if not made.IsDone():
        raise RefusedError(f"face {face['name']} cannot be built")
    return made.Face().Reversed() if face["reversed"] else made.Face()


def _kernel_knots(knots: np.ndarray[Any, Any]) -> tuple[Any, Any]:
    """Return distinct knots and multiplicities as kernel arrays."""
    values, counts = np.unique(knots, return_counts=True)
    ks, ms = Array1_double(1, values.size), Array1_int(1, values.size)
    for i, (value, count) in enumerate(zip(values.tolist(), counts.tolist(), strict=True), start=1):
        ks.SetValue(i, value)
        ms.SetValue(i, count)
    return ks, ms
