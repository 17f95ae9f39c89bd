"""3DM: trimmed Breps, extrusions, meshes, units, and what is left out or refused by name."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import numpy as np
import pytest
from tests.hull import closed_form as cf
from tests.hull.readers import files

from beltwright.core.errors import InputError
from beltwright.hull.patch import SplinePatch, TrianglePatch
from beltwright.hull.readers import read_hull
from beltwright.hull.survey import Survey

rhino3dm = pytest.importorskip("rhino3dm")


def _write(path: Path, *objects: Any, unit: str = "Meters") -> Path:
    model = rhino3dm.File3dm()
    model.Settings.ModelUnitSystem = getattr(rhino3dm.UnitSystem, unit)
    for item in objects:
        model.Objects.Add(item)
    assert model.Write(str(path), 7)
    return path


def _area(patches: tuple[object, ...]) -> float:
    return float(np.linalg.norm(Survey.of(patches).area_vectors, axis=1).sum())  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("unit", "name"), [("Meters", "m"), ("Millimeters", "mm"), ("Inches", "in"), ("Feet", "ft"), ("None", None)]
)
def test_the_files_unit(tmp_path: Path, unit: str, name: str | None) -> None:
    path = tmp_path / "hull.3dm"
    files.write_3dm(path, cf.box().patches, unit=unit)
    raw = read_hull(path)
    assert raw.length_unit == name
    assert [p.name for p in raw.patches] == [f"object {i + 1} {p.name!r}" for i, p in enumerate(cf.box().patches)]


def test_a_trimmed_plane_keeps_its_trim(tmp_path: Path) -> None:
    """An L-shaped plane of 3 * 2 - 2 * 1 = 4 m2 in the plane x = 5."""
    corners = [(0, 0), (3, 0), (3, 1), (1, 1), (1, 2), (0, 2), (0, 0)]
    line = rhino3dm.PolylineCurve(rhino3dm.Point3dList([rhino3dm.Point3d(5, a, b) for a, b in corners]))
    plane = rhino3dm.Plane(rhino3dm.Point3d(5, 0, 0), rhino3dm.Vector3d(1, 0, 0))
    brep = rhino3dm.Brep.CreateTrimmedPlane(plane, line)
    raw = read_hull(_write(tmp_path / "plane.3dm", brep))
    (patch,) = raw.patches
    assert isinstance(patch, SplinePatch)
    assert len(patch.trims) == 1
    assert np.array_equal(patch.trims[0][0], patch.trims[0][-1])
    assert _area(raw.patches) == pytest.approx(4.0, rel=1e-6)


def test_solids_come_as_their_faces(tmp_path: Path) -> None:
    """A box of 4 x 5 x 6 m: 148 m2; a cylinder of radius 2 and height 3 m: 2 pi 2 3 + 2 pi 4 = 20 pi m2."""
    box = rhino3dm.Brep.CreateFromBox(
        rhino3dm.Box(rhino3dm.BoundingBox(rhino3dm.Point3d(0, 0, 0), rhino3dm.Point3d(4, 5, 6)))
    )
    raw = read_hull(_write(tmp_path / "box.3dm", box))
    assert len(raw.patches) == 6
    assert _area(raw.patches) == pytest.approx(148.0, rel=1e-9)
    circle = rhino3dm.Circle(rhino3dm.Point3d(0, 0, 0), 2.0)
    tube = rhino3dm.Brep.CreateFromCylinder(rhino3dm.Cylinder(circle, 3.0), True, True)
    raw = read_hull(_write(tmp_path / "tube.3dm", tube))
    assert _area(raw.patches) == pytest.approx(20.0 * np.pi, rel=1e-3)


def test_a_sphere_with_a_seam(tmp_path: Path) -> None:
    sphere = rhino3dm.Brep.CreateFromSphere(rhino3dm.Sphere(rhino3dm.Point3d(0, 0, 0), 5.0))
    raw = read_hull(_write(tmp_path / "ball.3dm", sphere))
    assert _area(raw.patches) == pytest.approx(4.0 * np.pi * 25.0, rel=1e-3)


def test_a_mesh_with_quadrilaterals(tmp_path: Path) -> None:
    mesh = rhino3dm.Mesh()
    for x, y in ((0, 0), (2, 0), (2, 3), (0, 3), (4, 0)):
        mesh.Vertices.Add(x, y, 0)
    mesh.Faces.AddFace(0, 1, 2, 3)
    mesh.Faces.AddFace(1, 4, 2)
    raw = read_hull(_write(tmp_path / "mesh.3dm", mesh))
    (patch,) = raw.patches
    assert isinstance(patch, TrianglePatch)
    assert patch.single_precision
    assert len(patch.triangles) == 3
    assert _area(raw.patches) == pytest.approx(9.0, rel=1e-6)


def test_curves_are_left_out_by_name_and_a_file_of_curves_is_refused(tmp_path: Path) -> None:
    line = rhino3dm.LineCurve(rhino3dm.Point3d(0, 0, 0), rhino3dm.Point3d(1, 0, 0))
    surface = files.rhino_surface(cf.box().patches[0])
    raw = read_hull(_write(tmp_path / "both.3dm", surface, line))
    assert len(raw.patches) == 1
    assert raw.notes == ("object 2: a LineCurve is not a surface; it is left out",)
    with pytest.raises(InputError, match="holds no surface, Brep, extrusion or mesh"):
        read_hull(_write(tmp_path / "lines.3dm", line))


def test_a_file_cut_short(tmp_path: Path) -> None:
    path = tmp_path / "hull.3dm"
    files.write_3dm(path, cf.flared().patches)
    path.write_bytes(path.read_bytes()[:3000])
    with pytest.raises(InputError) as caught:
        read_hull(path)
    assert "hull.3dm" in str(caught.value)
    assert "\n" not in str(caught.value)
