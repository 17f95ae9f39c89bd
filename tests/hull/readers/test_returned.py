"""What a child hands back is checked number by number before it becomes a patch."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import numpy as np
import pytest

from beltwright.core.errors import InputError
from beltwright.hull.patch import SplinePatch, TrianglePatch
from beltwright.hull.readers import formats, read_hull, returned
from beltwright.hull.readers.child import Arrays, Record


def _spline() -> tuple[Record, Arrays]:
    knots = np.array([0.0, 0.0, 1.0, 1.0])
    poles = np.arange(12.0).reshape(2, 2, 3)
    loop = np.array([[0.1, 0.1], [0.9, 0.1], [0.5, 0.9], [0.1, 0.1]])
    face = {"name": "plate", "degree_u": 1, "degree_v": 1, "loops": 1, "reversed": True}
    arrays: Arrays = {"f0_poles": poles, "f0_ku": knots, "f0_kv": knots, "f0_w": np.ones((2, 2)), "f0_t0": loop}
    return {"faces": [face]}, arrays


def _mesh() -> tuple[Record, Arrays]:
    arrays: Arrays = {"f0_vertices": np.eye(3), "f0_triangles": np.array([[0, 1, 2]])}
    return {"faces": [{"name": "mesh", "single": True}]}, arrays


def test_good_answers_become_patches() -> None:
    (patch,) = returned.patches_from(*_spline(), "h", scale=2.0)
    assert isinstance(patch, SplinePatch)
    np.testing.assert_array_equal(patch.poles, 2.0 * np.arange(12.0).reshape(2, 2, 3))
    assert patch.reversed
    assert patch.name == "plate"
    assert len(patch.trims) == 1
    (mesh,) = returned.patches_from(*_mesh(), "h", scale=2.0)
    assert isinstance(mesh, TrianglePatch)
    assert mesh.single_precision
    np.testing.assert_array_equal(mesh.vertices, 2.0 * np.eye(3))


def _set(key: str, value: object) -> Callable[[Record, Arrays], None]:
    def change(_record: Record, arrays: Arrays) -> None:
        arrays[key] = np.asarray(value)

    return change


def _face(key: str, value: object) -> Callable[[Record, Arrays], None]:
    def change(record: Record, _arrays: Arrays) -> None:
        record["faces"][0][key] = value

    return change


SPOILT: list[tuple[Callable[[Record, Arrays], None], str]] = [
    (lambda r, a: r.pop("faces") and None, "makes no sense"),
    (lambda r, a: a.pop("f0_poles") is None or None, "makes no sense"),
    (lambda r, a: a.pop("f0_t0") is None or None, "makes no sense"),
    (_face("degree_u", "many"), "makes no sense"),
    (_face("degree_u", 2), "knots in u do not fit"),
    (_face("degree_v", 0), "knots in v do not fit"),
    (_face("degree_v", 26), "knots in v do not fit"),
    (_set("f0_poles", np.full((2, 2, 3), np.nan)), "not a finite number"),
    (_set("f0_poles", np.full((2, 2, 3), np.inf)), "not a finite number"),
    (_set("f0_poles", np.zeros((2, 2, 2))), "makes no sense"),
    (_set("f0_poles", np.zeros((0, 2, 3))), "makes no sense"),
    (_set("f0_poles", np.full((2, 2, 3), "x")), "makes no sense"),
    (_set("f0_ku", [0.0, 0.0, 1.0]), "knots in u do not fit"),
    (_set("f0_kv", [0.0, 1.0, 0.5, 1.0]), "knots in v do not fit"),
    (_set("f0_ku", [0.0, 0.0, 0.0, 0.0]), "no extent in u"),
    (_set("f0_w", np.zeros((2, 2))), "weight that is not positive"),
    (_set("f0_w", -np.ones((2, 2))), "weight that is not positive"),
    (_set("f0_w", np.ones((3, 2))), "weight that is not positive"),
    (_set("f0_t0", np.ones((4, 3))), "makes no sense"),
]


@pytest.mark.parametrize("number", range(len(SPOILT)))
def test_spoilt_faces_are_refused(number: int) -> None:
    change, says = SPOILT[number]
    record, arrays = _spline()
    change(record, arrays)
    with pytest.raises(InputError, match=says) as caught:
        returned.patches_from(record, arrays, "hull.stp")
    assert str(caught.value).startswith("hull.stp")


@pytest.mark.parametrize(
    ("key", "value", "says"),
    [
        ("f0_triangles", [[0, 1, 3]], "names a vertex that is not there"),
        ("f0_triangles", [[0, 1, -1]], "names a vertex that is not there"),
        ("f0_triangles", np.zeros((0, 3), dtype=int), "names a vertex that is not there"),
        ("f0_triangles", [[0.0, 1.0, 2.0]], "makes no sense"),
        ("f0_triangles", [[0, 1]], "makes no sense"),
        ("f0_vertices", np.eye(2), "makes no sense"),
        ("f0_vertices", np.diag([1.0, np.nan, 1.0]), "not a finite number"),
    ],
)
def test_spoilt_meshes_are_refused(key: str, value: object, says: str) -> None:
    record, arrays = _mesh()
    arrays[key] = np.asarray(value)
    with pytest.raises(InputError, match=says):
        returned.patches_from(record, arrays, "hull.stl")


@pytest.mark.parametrize("notes", [None, "text", [1], [["x"]]])
def test_notes_that_are_no_texts_are_refused(notes: object) -> None:
    with pytest.raises(InputError, match="makes no sense"):
        returned.texts({"notes": notes}, "notes", "hull.stp")


def _answered(monkeypatch: pytest.MonkeyPatch, tmp_path: Path, units: list[str], suffix: str = "stp") -> Path:
    """Let the child answer with one face of 1000 mm and the given unit names."""
    record, arrays = _spline()
    arrays["f0_poles"] = np.array([[[0, 0, 0], [1000, 0, 0]], [[0, 1000, 0], [1000, 1000, 0]]], dtype=np.float64)
    answer = ({**record, "units": units, "notes": []}, arrays)
    monkeypatch.setattr(formats, "run_child", lambda *_a, **_k: answer)
    path = tmp_path / f"hull.{suffix}"
    path.write_text("ISO-10303-21;" if suffix == "stp" else " " * 72 + "S      1\n")
    return path


@pytest.mark.parametrize(
    ("names", "unit", "side"),
    [
        (["metre"], "m", 1.0),
        (["millimetre"], "mm", 1000.0),
        (["METRE", "metre"], "m", 1.0),
        (["INCH"], "in", 1000 / 25.4),
    ],
)
def test_the_files_unit_is_the_unit_of_the_numbers(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path, names: list[str], unit: str, side: float
) -> None:
    raw = read_hull(_answered(monkeypatch, tmp_path, names))
    assert raw.length_unit == unit
    assert isinstance(raw.patches[0], SplinePatch)
    assert raw.patches[0].poles.max() == pytest.approx(side, rel=1e-15)


@pytest.mark.parametrize("names", [["metre", "INCH"], ["FURLONG"], ["metre", "micrometre"]])
def test_mixed_and_uncommon_units_are_brought_to_metres_and_noted(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path, names: list[str]
) -> None:
    """The kernel brings every unit that a STEP file defines to millimetres by the file's own factor."""
    raw = read_hull(_answered(monkeypatch, tmp_path, names))
    assert raw.length_unit == "m"
    assert isinstance(raw.patches[0], SplinePatch)
    assert raw.patches[0].poles.max() == pytest.approx(1.0, rel=1e-15)
    assert all(name.lower() in raw.notes[0] for name in names)


@pytest.mark.parametrize("names", [[], [""]])
def test_a_missing_unit_is_not_guessed(monkeypatch: pytest.MonkeyPatch, tmp_path: Path, names: list[str]) -> None:
    raw = read_hull(_answered(monkeypatch, tmp_path, names))
    assert raw.length_unit is None
    assert isinstance(raw.patches[0], SplinePatch)
    assert raw.patches[0].poles.max() == 1000.0  # the file's own numbers


def test_a_unit_for_some_parts_only_is_refused(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    with pytest.raises(InputError, match="some of its parts state a length unit and others none; found metre"):
        read_hull(_answered(monkeypatch, tmp_path, ["metre", ""]))


# flag 3 is left where a name tells the unit and the kernel does not know it; flag 5, the mile, comes in metres
IGES_FLAGS = {"1": "in", "2": "mm", "4": "ft", "6": "m", "10": "cm", "3": None, "5": "m"}


@pytest.mark.parametrize(("flag", "unit"), IGES_FLAGS.items())
def test_iges_unit_flags(monkeypatch: pytest.MonkeyPatch, tmp_path: Path, flag: str, unit: str | None) -> None:
    raw = read_hull(_answered(monkeypatch, tmp_path, [flag], "igs"))
    assert raw.length_unit == unit
    assert bool(raw.notes) is (flag in ("3", "5"))


def _global_section(fields: str) -> str:
    lines = [fields[i : i + 72].ljust(72) + f"G{i // 72 + 1:7d}" for i in range(0, len(fields), 72)]
    return " " * 72 + "S      1\n" + "\n".join(lines) + "\n"


@pytest.mark.parametrize(
    ("flag", "name", "unit"),
    [("1", "2HIN", "in"), ("", "", None), ("3", "", None), ("", "2HIN", "in"), ("1", "", "in")],
)
def test_an_iges_file_that_states_no_unit_is_asked_about(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path, flag: str, name: str, unit: str | None
) -> None:
    """By the standard a blank flag means inches; a file with neither flag nor name is asked about instead."""
    path = _answered(monkeypatch, tmp_path, ["1"], "igs")
    path.write_text(_global_section(f"1H,,1H;,4Hpart,5Ha,b;c,1Ha,1Hb,32,38,6,308,15,,1.,{flag},{name},1,0.01;"))
    raw = read_hull(path)
    assert raw.length_unit == unit
    assert isinstance(raw.patches[0], SplinePatch)
    assert raw.patches[0].poles.max() == pytest.approx(1000 / 25.4)  # the file's own numbers, read as inches
