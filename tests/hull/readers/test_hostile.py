"""Broken and hostile files: one line that names the file, never a crash, a hang or a silent number."""

from __future__ import annotations

import os
import re
from collections.abc import Callable
from pathlib import Path

import numpy as np
import pytest
from tests.hull import closed_form as cf
from tests.hull.readers import files

from beltwright.core.errors import InputError
from beltwright.hull import readers
from beltwright.hull.patch import TrianglePatch
from beltwright.hull.readers import ChildLimits, read_hull, write_cad

LIMITS = ChildLimits(wall_seconds=60.0, cpu_seconds=6)


def _refusal(path: Path, limits: ChildLimits = LIMITS) -> str:
    with pytest.raises(InputError) as caught:
        read_hull(path, limits=limits)
    text = str(caught.value)
    assert "\n" not in text
    assert text.isprintable()
    assert path.name in text
    return text


@pytest.fixture(scope="module")
def step_text(tmp_path_factory: pytest.TempPathFactory) -> str:
    path = tmp_path_factory.mktemp("good") / "good.step"
    write_cad(path, cf.flared().patches, length_unit="m")
    return path.read_text()


@pytest.fixture(scope="module")
def iges_text(tmp_path_factory: pytest.TempPathFactory) -> str:
    path = tmp_path_factory.mktemp("good") / "good.igs"
    write_cad(path, cf.flared().patches, length_unit="mm")
    return path.read_text()


def test_a_folder(tmp_path: Path) -> None:
    folder = tmp_path / "hull.stp"
    folder.mkdir()
    assert "is a folder, not a hull file" in _refusal(folder)


def test_an_empty_file(tmp_path: Path) -> None:
    path = tmp_path / "hull.stp"
    path.touch()
    assert "is empty" in _refusal(path)


def test_a_missing_file(tmp_path: Path) -> None:
    assert "does not exist" in _refusal(tmp_path / "hull.stp")


def test_a_pipe_is_not_waited_for(tmp_path: Path) -> None:
    path = tmp_path / "hull.stp"
    os.mkfifo(path)
    assert "is not a regular file" in _refusal(path)


def test_an_unreadable_file(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    path = tmp_path / "hull.stp"
    path.write_text("x")

    def refuse(*args: object, **kwargs: object) -> None:
        raise PermissionError(13, "Permission denied")

    monkeypatch.setattr(Path, "open", refuse)
    assert "cannot be opened (Permission denied)" in _refusal(path)


def test_a_name_with_a_zero_byte() -> None:
    with pytest.raises(InputError, match="cannot be opened"):
        read_hull("hull\0.stp")


def test_too_large_a_file(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    path = tmp_path / "hull.stp"
    path.write_bytes(bytes(101))
    monkeypatch.setattr(readers, "MAX_FILE_BYTES", 100)
    assert "is too large; found 101 bytes; allowed: 100" in _refusal(path)


@pytest.mark.parametrize("suffix", [".step", ".igs", ".3dm", ".stl", ".obj", ".ply", ".csv"])
def test_random_bytes_under_every_suffix(tmp_path: Path, suffix: str) -> None:
    path = tmp_path / f"hull{suffix}"
    path.write_bytes(np.random.default_rng(7).bytes(5000))
    _refusal(path)


@pytest.mark.parametrize("share", [0.02, 0.4, 0.97])
def test_a_step_file_cut_short(tmp_path: Path, step_text: str, share: float) -> None:
    path = tmp_path / "hull.step"
    path.write_text(step_text[: int(share * len(step_text))])
    _refusal(path)


def test_an_iges_file_cut_short(tmp_path: Path, iges_text: str) -> None:
    path = tmp_path / "hull.igs"
    lines = iges_text.split("\n")
    path.write_text("\n".join(lines[: len(lines) // 3]))
    _refusal(path)


def _cycle(text: str) -> str:
    """Make the first face's surface and its outer bound refer to the face itself."""
    face = re.search(r"#(\d+) = ADVANCED_FACE\('[^']*',\((#\d+)\),(#\d+)", text)
    assert face is not None
    return text.replace(f"({face[2]}),{face[3]}", f"(#{face[1]}),#{face[1]}", 1)


def _self_edge(text: str) -> str:
    """Make an edge loop hold itself."""
    loop = re.search(r"#(\d+) = EDGE_LOOP\('',\(([^)]*)\)", text)
    assert loop is not None
    return text.replace(f"EDGE_LOOP('',({loop[2]}", f"EDGE_LOOP('',(#{loop[1]},#{loop[1]}", 1)


def _huge_exponent(text: str) -> str:
    return re.sub(r"CARTESIAN_POINT\('',\([^,]*,", "CARTESIAN_POINT('',(1.E999,", text)


def _nan(text: str) -> str:
    return re.sub(r"CARTESIAN_POINT\('',\([^,]*,", "CARTESIAN_POINT('',(NAN,", text)


def _no_knots(text: str) -> str:
    return re.sub(r"\(([24]),\1\),\(([24]),\2\),\([^)]*\)", r"(\1,\1),(\2,\2),(0.,0.)", text)


def _control_characters(text: str) -> str:
    return text.replace("'Open CASCADE", "'\x07\x1b[2J\x00\x9b Open", 1)


# the kernel mends coordinates without end until its time is up: six seconds each
SPOILERS = [
    _cycle, _self_edge, _no_knots, _control_characters,
    pytest.param(_huge_exponent, marks=pytest.mark.slow), pytest.param(_nan, marks=pytest.mark.slow),
]  # fmt: skip


@pytest.mark.parametrize("spoil", SPOILERS)
def test_spoilt_step_files_give_finite_faces_or_one_line(
    tmp_path: Path, step_text: str, spoil: Callable[[str], str]
) -> None:
    path = tmp_path / "hull.step"
    spoilt = spoil(step_text)
    assert spoilt != step_text
    path.write_text(spoilt)
    try:
        raw = read_hull(path, limits=LIMITS)
    except InputError as error:
        text = str(error)
        assert "hull.step" in text
        assert text.isprintable()
        return
    if len(raw.patches) < 3:
        assert raw.notes == (
            f"the file names 3 faces, but only {len(raw.patches)} could be read; the rest are missing",
        )
    good = np.concatenate([p.poles.reshape(-1, 3) for p in cf.flared().patches])
    for patch in raw.patches:
        assert not isinstance(patch, TrianglePatch)
        assert np.all(np.isfinite(patch.poles))
        assert np.all(patch.poles.reshape(-1, 3) <= good.max(axis=0) + 1e-6)


def test_deep_nesting_in_a_step_file(tmp_path: Path) -> None:
    path = tmp_path / "hull.step"
    nest = "(" * 200_000
    path.write_text(f"ISO-10303-21;\nHEADER;\nENDSEC;\nDATA;\n#1=LIST({nest});\nENDSEC;\nEND-ISO-10303-21;\n")
    _refusal(path)


def _stl(path: Path, corner: float = 1.0, count: int | None = None) -> None:
    soup = np.array([[[0, 0, 0], [corner, 0, 0], [0, 1, 0]], [[0, 0, 0], [0, 1, 0], [0, 0, 1]]], dtype=np.float64)
    files.write_stl(path, soup)
    if count is not None:
        data = bytearray(path.read_bytes())
        data[80:84] = np.uint32(count).tobytes()
        path.write_bytes(bytes(data))


@pytest.mark.parametrize("value", [np.nan, np.inf, -np.inf])
def test_an_stl_corner_that_is_no_number(tmp_path: Path, value: float) -> None:
    path = tmp_path / "hull.stl"
    _stl(path, value)
    assert "coordinate that is not a finite number" in _refusal(path)


@pytest.mark.parametrize("count", [0, 1, 3, 2**32 - 1])
def test_an_stl_whose_count_does_not_fit_its_length(tmp_path: Path, count: int) -> None:
    path = tmp_path / "hull.stl"
    _stl(path, count=count)
    text = _refusal(path)
    assert f"does not fit its length; found {count} triangles; allowed: 2" in text


def test_a_short_stl(tmp_path: Path) -> None:
    path = tmp_path / "hull.stl"
    path.write_bytes(bytes(50))
    assert "is too short for an STL file" in _refusal(path)


def test_a_ply_that_announces_more_than_it_holds(tmp_path: Path) -> None:
    path = tmp_path / "hull.ply"
    files.write_ply(path, files.triangles_of(cf.flared().patches, 4))
    path.write_bytes(path.read_bytes().replace(b"element vertex ", b"element vertex 9999999", 1))
    _refusal(path)


def test_an_obj_that_names_a_vertex_that_is_not_there(tmp_path: Path) -> None:
    path = tmp_path / "hull.obj"
    path.write_text("v 0 0 0\nv 1 0 0\nv 0 1 0\nf 1 2 99\n")
    _refusal(path)


def test_degenerate_and_doubled_triangles_are_left_out_and_counted(tmp_path: Path) -> None:
    path = tmp_path / "hull.obj"
    path.write_text("v 0 0 0\nv 1 0 0\nv 0 1 0\nv 0 0 1\nf 1 2 3\nf 1 2 4\nf 1 1 2\nf 3 1 2\n")
    raw = read_hull(path)
    mesh = raw.patches[0]
    assert isinstance(mesh, TrianglePatch)
    assert len(mesh.triangles) == 2
    assert raw.notes == (
        "mesh: 1 triangles without area left out, the first is triangle 3",
        "mesh: 1 triangles that repeat another left out, the first is triangle 4",
    )


def test_a_mesh_without_any_area(tmp_path: Path) -> None:
    path = tmp_path / "hull.obj"
    path.write_text("v 0 0 0\nv 1 0 0\nv 2 0 0\nf 1 2 3\n")
    assert "holds no triangle" in _refusal(path)


def test_a_file_name_with_control_characters_stays_one_line(tmp_path: Path) -> None:
    path = tmp_path / "hull\x1b[2J\n.stl"
    path.write_bytes(bytes(50))
    with pytest.raises(InputError) as caught:
        read_hull(path)
    assert str(caught.value).isprintable()


def test_the_memory_limit_holds_for_the_kernel(tmp_path: Path, step_text: str) -> None:
    path = tmp_path / "hull.step"
    path.write_text(step_text)
    text = _refusal(path, ChildLimits(memory_bytes=150_000_000))
    assert "memory" in text or "crashed" in text or "failed" in text
    assert read_hull(path).patches  # and the usual limit is enough


def test_the_time_limit_holds_for_the_kernel(tmp_path: Path, step_text: str) -> None:
    path = tmp_path / "hull.step"
    path.write_text(step_text)
    assert "took too long and was stopped" in _refusal(path, ChildLimits(wall_seconds=0.05))
