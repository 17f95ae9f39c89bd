"""Closed-form hulls through every reader: displacement, centres and angles against their formulas."""

from __future__ import annotations

import re
from collections.abc import Callable
from pathlib import Path

import numpy as np
import pytest
from numpy.typing import NDArray
from tests.hull import closed_form as cf
from tests.hull.readers import files
from tests.hull.readers.offset_hulls import TABLES

from beltwright.hull.detect import HullSettings, PlacedHull, load_hull
from beltwright.hull.hydrostatics import hydrostatics
from beltwright.hull.levels import WaterLevel
from beltwright.hull.mesh_shell import MeshShell
from beltwright.hull.patch import SplinePatch, TrianglePatch
from beltwright.hull.readers import read_hull, write_cad
from beltwright.hull.readers.offsets import write_offsets
from beltwright.hull.spline_shell import SplineShell

Array = NDArray[np.float64]
HULLS = {h.name: h for h in cf.all_hulls()}
PER_CELL = dict.fromkeys(HULLS, 80) | {"half ellipsoid": 160}  # divisions per Bezier cell; its ends are the roundest

Writer = Callable[[Path, cf.AnalyticHull], None]
SPLINES: dict[str, tuple[str, Writer]] = {
    "STEP m": ("a.step", lambda p, h: write_cad(p, h.patches, length_unit="m")),
    "STEP in": ("a.stp", lambda p, h: write_cad(p, h.patches, length_unit="in")),  # one hull: only the unit differs
    "IGES mm": ("a.igs", lambda p, h: write_cad(p, h.patches, length_unit="mm")),
    "3DM surfaces": ("a.3dm", lambda p, h: files.write_3dm(p, h.patches)),
    "3DM breps": ("a.3dm", lambda p, h: files.write_3dm(p, h.patches, as_brep=True)),
    "offsets": ("a.csv", lambda p, h: write_offsets(p, TABLES[h.name]())),
}
MESHES: dict[str, tuple[str, Writer]] = {
    "STL": ("a.stl", lambda p, h: files.write_stl(p, _soup(h))),
    "STL text": ("a.stl", lambda p, h: files.write_text_stl(p, _soup(h))),
    "OBJ": ("a.obj", lambda p, h: files.write_obj(p, _soup(h))),
    "PLY": ("a.ply", lambda p, h: files.write_ply(p, _soup(h))),
}
ONE_HULL = {"STEP in": "wigley", "STL text": "flared", "PLY": "wigley"}  # forms that differ in writing only
FAST = {("STEP m", "flared"), ("IGES mm", "wedge"), ("3DM breps", "half ellipsoid"), ("offsets", "wigley"),
        ("STL", "flared")}  # fmt: skip


def _soup(hull: cf.AnalyticHull) -> Array:
    return files.triangles_of(hull.patches, PER_CELL[hull.name])


def _cases(writers: dict[str, tuple[str, Writer]]) -> list[object]:
    return [
        pytest.param(form, name, marks=[] if (form, name) in FAST else [pytest.mark.slow])
        for form in writers
        for name in ([ONE_HULL[form]] if form in ONE_HULL else HULLS)
    ]


def _placed(path: Path, hull: cf.AnalyticHull, unit: str | None = None) -> PlacedHull:
    symmetric = hull.name in ("box", "wigley", "half ellipsoid")
    return load_hull(path, HullSettings(length_unit=unit, x_direction="forward" if symmetric else None))


def _check_displacement(shell: SplineShell | MeshShell, hull: cf.AnalyticHull) -> None:
    got = hydrostatics(shell, WaterLevel.even_keel(hull.draught_m))
    assert got.volume_m3 == pytest.approx(hull.volume_m3, rel=1e-3)
    assert got.displacement_t() == pytest.approx(1.025 * hull.volume_m3, rel=1e-3)
    assert got.lcb_m == pytest.approx(hull.lcb_m, rel=1e-3)
    assert got.vcb_m == pytest.approx(hull.vcb_m, rel=1e-3)
    assert got.lcf_m == pytest.approx(hull.lcf_m, rel=1e-3)
    assert got.waterplane_m2 == pytest.approx(hull.waterplane_m2, rel=1e-3)


def _angles(n: Array) -> Array:
    return np.degrees(np.stack([np.arctan2(n[:, 0], n[:, 1]), np.arctan2(-n[:, 2], n[:, 1]), np.arcsin(-n[:, 2])], 1))


def _angle_error(shell: SplineShell | MeshShell, hull: cf.AnalyticHull, clear_m: float) -> float:
    """Worst error [deg] on a grid from 5 to 95 % of length and depth, ``clear_m`` off the wall's joint and the ends."""
    length = float(shell.bounds[1, 0])
    x, z = np.meshgrid(np.linspace(0.05, 0.95, 37) * length, np.linspace(0.05, 0.95, 25) * hull.depth_m, indexing="ij")
    x, z = x.ravel(), z.ravel()
    kept = (hull.half_breadth(x, z) > 0.02 * hull.breadth_m) & (np.abs(z - hull.draught_m) > clear_m)
    x, z = x[kept], z[kept]
    found = shell.crossings(x, z)
    assert set(found.query.tolist()) == set(range(len(x)))
    got, want = shell.normals(found.at.face, found.at.uv), hull.normal(x, z)[found.query]
    return float(np.abs(_angles(got) - _angles(want)).max())


@pytest.mark.parametrize(("form", "name"), _cases(SPLINES))
def test_spline_readers(tmp_path: Path, form: str, name: str) -> None:
    hull, (file, write) = HULLS[name], SPLINES[form]
    write(tmp_path / file, hull)
    placed = _placed(tmp_path / file, hull)
    assert [f for f in placed.findings if f.kind.code != "BW133"] == []
    shell = SplineShell([p for p in placed.patches if isinstance(p, SplinePatch)])
    _check_displacement(shell, hull)
    assert _angle_error(shell, hull, 1e-6) < 0.01


@pytest.mark.parametrize(("form", "name"), _cases(MESHES))
def test_mesh_readers(tmp_path: Path, form: str, name: str) -> None:
    hull, (file, write) = HULLS[name], MESHES[form]
    write(tmp_path / file, hull)
    placed = _placed(tmp_path / file, hull, "m")
    meshes = [p for p in placed.patches if isinstance(p, TrianglePatch)]
    assert [p.single_precision for p in meshes] == [form == "STL"]
    shell = MeshShell(meshes)
    _check_displacement(shell, hull)
    # interpolated normals see over the change of curvature at the wall's foot: two mesh sizes are left out there
    assert _angle_error(shell, hull, 2.0 * hull.depth_m / PER_CELL[name]) < 0.1


CUBES = [("c.step", "m"), ("c.step", "mm"), ("c.step", "in"), ("c.igs", "mm"), ("c.igs", "ft")]


@pytest.mark.parametrize(("file", "unit"), CUBES)
def test_a_cube_of_one_metre_in_every_unit(tmp_path: Path, file: str, unit: str) -> None:
    """The file's own numbers come back in the file's own unit: 1 m, 1,000 mm, 39.37 in, 3.281 ft."""
    path = tmp_path / file
    write_cad(path, cf.box(1.0, 2.0, 0.5, 1.0).patches, length_unit=unit)
    raw = read_hull(path)
    assert raw.length_unit == unit
    size = {"m": 1.0, "mm": 1000.0, "in": 1 / 0.0254, "ft": 1 / 0.3048}[unit]
    points = np.concatenate([p.poles.reshape(-1, 3) for p in raw.patches if isinstance(p, SplinePatch)])
    np.testing.assert_allclose(np.ptp(points, axis=0), size, rtol=1e-9)


def test_cad_files_written_twice_are_the_same(tmp_path: Path) -> None:
    a, b = tmp_path / "a.step", tmp_path / "b.step"
    for path in (a, b):
        write_cad(path, cf.wedge().patches, length_unit="m")
    assert a.read_bytes() == b.read_bytes()


NO_UNIT = {
    "c.step": (r"(UNIT_ASSIGNED_CONTEXT\s*\(\s*\()#\d+,", r"\1"),
    "c.igs": (r"1\.,6,1HM,", r"1.,,,    "),
}


@pytest.mark.parametrize("file", sorted(NO_UNIT))
def test_a_file_without_unit_gives_its_own_numbers_and_is_asked_about(tmp_path: Path, file: str) -> None:
    path = tmp_path / file
    write_cad(path, cf.flared().patches, length_unit="m")
    text = path.read_text()
    without = re.sub(*NO_UNIT[file], text)
    assert without != text
    path.write_text(without)
    raw = read_hull(path)
    assert raw.length_unit is None
    points = np.concatenate([p.poles.reshape(-1, 3) for p in raw.patches if isinstance(p, SplinePatch)])
    np.testing.assert_allclose(np.ptp(points, axis=0), [70.0, 7.0, 8.0], rtol=1e-9)
    placed = load_hull(path)
    assert [f.kind.code for f in placed.findings] == ["BW120"]
    assert load_hull(path, HullSettings(length_unit="m")).findings == ()


def test_faces_keep_their_names_in_step(tmp_path: Path) -> None:
    path = tmp_path / "named.step"
    write_cad(path, cf.flared().patches, length_unit="m")
    assert [p.name for p in read_hull(path).patches] == ["side", "bottom", "transom"]
