"""Write an untidy CAD hull: many trimmed faces with gaps, a knuckle, transom, decks, a bulkhead, nested placements.

Run as a program in a process of its own (it loads the CAD kernel): ``python untidy_cad.py step|iges FILE``.

The hull is that of ``reference_patches``: two strakes with a knuckle between them and a flat bottom. Each strake and
the bottom are cut into four faces along slanted and curved lines, each face being the **whole** strake's surface
trimmed back by half a millimetre from its neighbours.
"""

from __future__ import annotations

import re
import sys
from pathlib import Path
from typing import Any

import numpy as np

LENGTH, HALF, KNUCKLE, DEPTH, DRAUGHT = 70.0, 7.0, 4.0, 8.0, 6.0
GAP_M = 0.001


def strakes() -> dict[str, np.ndarray]:
    """Poles (4, 2, 3) [m] of the lower and upper strake and the bottom; x runs evenly with the first parameter."""
    x = np.arange(4)[:, None] / 3.0 * LENGTH
    shape = np.array([1.0, 1.0, 1.0, 0.0])[:, None]  # 1 - s^3

    def strake(y: tuple[float, float], z: tuple[float, float]) -> np.ndarray:
        return np.stack(np.broadcast_arrays(x, HALF * shape * np.array(y), np.array(z)), axis=-1)

    return {
        "lower": strake((0.6, 1.0), (0.0, KNUCKLE)),
        "upper": strake((1.0, 1.1), (KNUCKLE, DEPTH)),
        "bottom": strake((0.0, 0.6), (0.0, 0.0)),
    }


def _surface(poles: np.ndarray) -> Any:
    from OCP.collections import Array2_gp_Pnt
    from OCP.Geom import Geom_BezierSurface
    from OCP.gp import gp_Pnt

    net = Array2_gp_Pnt(1, poles.shape[0], 1, poles.shape[1])
    for i in range(poles.shape[0]):
        for j in range(poles.shape[1]):
            net.SetValue(i + 1, j + 1, gp_Pnt(*(1000.0 * poles[i, j]).tolist()))
    return Geom_BezierSurface(net)


def _curve2d(points: list[tuple[float, float]]) -> Any:
    from OCP.collections import Array1_gp_Pnt2d
    from OCP.Geom2d import Geom2d_BezierCurve
    from OCP.gp import gp_Pnt2d

    array = Array1_gp_Pnt2d(1, len(points))
    for i, (u, v) in enumerate(points, start=1):
        array.SetValue(i, gp_Pnt2d(u, v))
    return Geom2d_BezierCurve(array)


def _face(surface: Any, sides: list[list[tuple[float, float]]]) -> Any:
    """Return the surface trimmed to the loop of parameter curves, each a Bezier curve through its poles."""
    from OCP.BRepBuilderAPI import BRepBuilderAPI_MakeEdge, BRepBuilderAPI_MakeFace, BRepBuilderAPI_MakeWire
    from OCP.BRepLib import BRepLib

    wire = BRepBuilderAPI_MakeWire()
    for side in sides:
        edge = BRepBuilderAPI_MakeEdge(_curve2d(side), surface).Edge()
        BRepLib.BuildCurve3d_s(edge)
        wire.Add(edge)
    made = BRepBuilderAPI_MakeFace(surface, wire.Wire(), True)
    assert made.IsDone()
    BRepLib.SameParameter_s(made.Face(), 1e-6, True)
    return made.Face()


def _quarter(surface: Any, cut: int, low: float, high: float) -> Any:
    """Return quarter ``cut`` (0..3) of a strake between v ``low`` and ``high``, its seams slanted and bent."""
    half = 0.5 * GAP_M / LENGTH

    def seam(k: int, nudge: float) -> list[tuple[float, float]]:
        if k in (0, 4):
            u = 0.0 if k == 0 else 1.0
            return [(u, low), (u, high)]
        u = k / 4 + nudge
        return [(u - 0.02, low), (u + 0.05, low + 0.4 * (high - low)), (u + 0.02, high)]

    aft, fore = seam(cut, half), seam(cut + 1, -half)
    return _face(surface, [[aft[0], fore[0]], fore, [fore[-1], aft[-1]], aft[::-1]])


def _plane(corners: list[tuple[float, float, float]]) -> Any:
    """Return a plane polygon face [m]."""
    from OCP.BRepBuilderAPI import BRepBuilderAPI_MakeFace, BRepBuilderAPI_MakePolygon
    from OCP.gp import gp_Pnt

    polygon = BRepBuilderAPI_MakePolygon()
    for corner in corners:
        polygon.Add(gp_Pnt(*(1000.0 * c for c in corner)))
    polygon.Close()
    made = BRepBuilderAPI_MakeFace(polygon.Wire(), True)
    assert made.IsDone()
    return made.Face()


def faces() -> tuple[list[Any], list[Any]]:
    """Return the twelve shell faces and transom, and the faces that are not shell."""
    up, across = 0.5 * GAP_M / KNUCKLE, 0.5 * GAP_M / (0.6 * HALF)
    rows = {"lower": (up, 1.0 - up), "upper": (up, 1.0), "bottom": (0.0, 1.0 - across)}
    shell = [_quarter(_surface(poles), k, *rows[name]) for name, poles in strakes().items() for k in range(4)]
    b = HALF
    shell.append(_plane([(0, 0, 0), (0, 0.6 * b, 0), (0, b, KNUCKLE), (0, 1.1 * b, DEPTH), (0, 0, DEPTH)]))
    x = np.linspace(0.0, LENGTH, 30)
    rim = [(float(a), float(1.1 * b * (1 - (a / LENGTH) ** 3)), DEPTH) for a in x]
    inner = [
        _plane([(0.0, 0.0, DEPTH), *rim]),
        _plane([(5, 0, 3.0), (5, 5, 3.0), (40, 4, 3.0), (40, 0, 3.0)]),
        _plane([(30, 0, 0.05), (30, 3.5, 0.05), (30, 5, 3.5), (30, 5, 7.5), (30, 0, 7.5)]),
    ]
    return shell, inner


def _compound(shapes: list[Any]) -> Any:
    from OCP.BRep import BRep_Builder
    from OCP.TopoDS import TopoDS_Compound

    made, builder = TopoDS_Compound(), BRep_Builder()
    builder.MakeCompound(made)
    for shape in shapes:
        builder.Add(made, shape)
    return made


def _turn_and_move(degrees: float, axis: tuple[float, float, float], by_m: tuple[float, float, float]) -> Any:
    from OCP.gp import gp_Ax1, gp_Dir, gp_Pnt, gp_Trsf, gp_Vec

    turn, move = gp_Trsf(), gp_Trsf()
    turn.SetRotation(gp_Ax1(gp_Pnt(0, 0, 0), gp_Dir(*axis)), float(np.radians(degrees)))
    move.SetTranslation(gp_Vec(*(1000.0 * c for c in by_m)))
    return move.Multiplied(turn)


def nested(shapes: list[Any]) -> Any:
    """Return an assembly in an assembly whose placements bring the displaced parts back to where they belong."""
    from OCP.BRepBuilderAPI import BRepBuilderAPI_Transform
    from OCP.TopLoc import TopLoc_Location

    outer = _turn_and_move(90.0, (0, 0, 1), (12.0, -3.0, 1.5))
    inner = _turn_and_move(-35.0, (1, 0, 0), (-4.0, 2.0, 0.25))
    back = outer.Multiplied(inner).Inverted()
    placed = [BRepBuilderAPI_Transform(s, back, True).Shape() for s in shapes]
    part = _compound([_compound(placed[:7]), _compound(placed[7:])])
    middle = _compound([part.Located(TopLoc_Location(inner))])
    return _compound([middle.Located(TopLoc_Location(outer))])


def write(form: str, path: Path) -> None:
    """Write the STEP assembly in inches, or a flat IGES file of trimmed faces in millimetres."""
    from OCP.IFSelect import IFSelect_RetDone
    from OCP.IGESControl import IGESControl_Writer
    from OCP.Interface import Interface_Static
    from OCP.STEPControl import STEPControl_AsIs, STEPControl_Writer

    shell, inner = faces()
    if form == "iges":
        iges = IGESControl_Writer("MM", 0)
        for shape in shell + inner:
            iges.AddShape(shape)
        iges.ComputeModel()
        assert iges.Write(str(path))
        return
    step = STEPControl_Writer()
    Interface_Static.SetCVal_s("write.step.unit", "INCH")
    Interface_Static.SetIVal_s("write.step.assembly", 1)
    step.Transfer(nested(shell + inner), STEPControl_AsIs)
    assert step.Write(str(path)) == IFSelect_RetDone
    number = iter(range(1, 1000))
    text = re.sub(r"ADVANCED_FACE\(''", lambda _m: f"ADVANCED_FACE('plate {next(number)}'", path.read_text())
    path.write_text(text)


if __name__ == "__main__":
    write(sys.argv[1], Path(sys.argv[2]))
