"""Reading within limits, and results that are never half-written."""

from __future__ import annotations

import os
from pathlib import Path

import pytest
from tests.ship.test_parse import BASE, HEADER, ROW

from beltwright.core.errors import InputError
from beltwright.store.folder import LARGEST_TEXT_BYTES, open_folder, read_text, write_results


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    (tmp_path / "ship.toml").write_text(BASE, encoding="utf-8")
    (tmp_path / "hull.step").write_text("x", encoding="utf-8")
    return tmp_path


def test_a_folder_is_read(folder: Path) -> None:
    read = open_folder(folder)
    assert read.ship.ship.name == "Test hull"
    assert read.hull_file.name == "hull.step"
    assert read.loading_cases == ()


def test_the_fingerprint_moves_with_every_input(folder: Path) -> None:
    first = open_folder(folder).inputs_fingerprint("h")
    assert first == open_folder(folder).inputs_fingerprint("h")
    assert first != open_folder(folder).inputs_fingerprint("other hull")
    text = BASE.replace("[waterlines]", '[waterlines]\nloading_cases = "cases.csv"')
    (folder / "ship.toml").write_text(text, encoding="utf-8")
    (folder / "cases.csv").write_text(f"{HEADER}\n{ROW}\n", encoding="utf-8")
    second = open_folder(folder)
    assert len(second.loading_cases) == 1
    (folder / "cases.csv").write_text(f"{HEADER}\n{ROW.replace(',7.5,', ',7.51,')}\n", encoding="utf-8")
    assert len({first, second.inputs_fingerprint("h"), open_folder(folder).inputs_fingerprint("h")}) == 3


def test_missing_things_are_named(folder: Path) -> None:
    with pytest.raises(InputError, match="is not a folder"):
        open_folder(folder / "nowhere")
    (folder / "hull.step").unlink()
    with pytest.raises(
        InputError, match=r"ship.toml: hull.file: there is no such file in the ship folder; found hull.step"
    ):
        open_folder(folder)
    (folder / "ship.toml").unlink()
    with pytest.raises(InputError, match="there is no such file"):
        open_folder(folder)


def test_a_hull_file_that_is_no_file_of_the_folder(folder: Path, tmp_path_factory: pytest.TempPathFactory) -> None:
    hull = folder / "hull.step"
    hull.unlink()
    hull.mkdir()
    with pytest.raises(InputError, match=r"hull.file: is not a regular file"):
        open_folder(folder)
    hull.rmdir()
    elsewhere = tmp_path_factory.mktemp("elsewhere") / "hull.step"
    elsewhere.write_text("x", encoding="utf-8")
    hull.symlink_to(elsewhere)
    with pytest.raises(InputError, match="is a link out of the ship folder"):
        open_folder(folder)


@pytest.mark.parametrize(
    ("content", "message"),
    [
        (b"a = = 1", "is not valid TOML"),
        (b"\xff\xfe\x00", "is not UTF-8 text"),
        (b"a = " + b"[" * 5000 + b"]" * 5000, "ship.toml: is n"),
        (b"#" + b"x" * LARGEST_TEXT_BYTES, "is too large"),
    ],
)
def test_unreadable_descriptions(folder: Path, content: bytes, message: str) -> None:
    (folder / "ship.toml").write_bytes(content)
    with pytest.raises(InputError, match=message):
        open_folder(folder)


def test_only_regular_files_are_read(tmp_path: Path) -> None:
    os.mkfifo(tmp_path / "pipe")
    with pytest.raises(InputError, match="not a regular file"):
        read_text(tmp_path / "pipe")
    (tmp_path / "loop").symlink_to(tmp_path / "loop")
    with pytest.raises(InputError, match="cannot be read"):
        read_text(tmp_path / "loop")


def test_results_are_replaced_as_a_whole(tmp_path: Path) -> None:
    results = tmp_path / "deep" / "results"
    write_results(results, {"a.csv": b"1", "old.csv": b"1"})
    write_results(results, {"a.csv": b"2"})
    assert sorted(p.name for p in results.iterdir() if not p.name.startswith(".")) == ["a.csv"]
    assert (results / "a.csv").read_bytes() == b"2"
    assert sorted(p.name for p in results.parent.iterdir()) == ["results"]


def test_a_foreign_folder_is_not_touched(tmp_path: Path) -> None:
    (tmp_path / "mine").mkdir()
    (tmp_path / "mine" / "precious.txt").write_text("x", encoding="utf-8")
    with pytest.raises(InputError, match="was not made by this program"):
        write_results(tmp_path / "mine", {"a": b""})
    assert (tmp_path / "mine" / "precious.txt").exists()


def test_a_failed_write_leaves_the_old_results(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    results = tmp_path / "results"
    write_results(results, {"a.csv": b"1"})

    def full(self: Path, content: bytes) -> int:
        raise OSError(28, "No space left on device")

    with monkeypatch.context() as patch:
        patch.setattr(Path, "write_bytes", full)
        with pytest.raises(InputError, match="No space left on device"):
            write_results(results, {"a.csv": b"2"})
    assert (results / "a.csv").read_bytes() == b"1"
    assert [p.name for p in tmp_path.iterdir()] == ["results"]


def test_a_failed_swap_puts_the_old_results_back(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    results = tmp_path / "results"
    write_results(results, {"a.csv": b"1"})
    original = Path.replace

    def stuck(self: Path, target: Path) -> Path:
        if target == results and self.name != "results":
            raise OSError(5, "Input/output error")
        return original(self, target)

    with monkeypatch.context() as patch:
        patch.setattr(Path, "replace", stuck)
        with pytest.raises(InputError, match="Input/output error"):
            write_results(results, {"a.csv": b"2"})
    assert (results / "a.csv").read_bytes() == b"1"


def test_a_place_that_cannot_be_written(tmp_path: Path) -> None:
    (tmp_path / "file").write_text("x", encoding="utf-8")
    with pytest.raises(InputError, match="cannot be written"):
        write_results(tmp_path / "file" / "results", {"a": b""})
