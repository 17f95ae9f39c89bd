"""The commands from outside: exit status, one line for each bad input, nothing half-written, quick help."""

from __future__ import annotations

import csv
import os
import shutil
import subprocess
import sys
from pathlib import Path

import pytest
from tests.app.test_results import ship_folder as small_ship

from beltwright.cli import main as command_line
from beltwright.cli.progress import TerminalProgress
from beltwright.core.errors import ExitCode


def run(monkeypatch: pytest.MonkeyPatch, *arguments: object) -> int:
    """Run the command line in this process and return its exit status."""
    monkeypatch.setattr(sys, "argv", ["beltwright", *map(str, arguments)])
    with pytest.raises(SystemExit) as end:
        command_line.main()
    return int(end.value.code or 0)


@pytest.fixture
def ship_folder(tmp_path: Path, merrow_tarn: Path) -> Path:
    """Copy the PC6 demo ship, on its offset table: no CAD kernel is started."""
    folder = tmp_path / "ship"
    folder.mkdir()
    shutil.copy(merrow_tarn / "hull_offsets.csv", folder)
    text = (
        (merrow_tarn / "ship.toml")
        .read_text(encoding="utf-8")
        .replace('file = "hull.step"', 'file = "hull_offsets.csv"')
    )
    (folder / "ship.toml").write_text(text, encoding="utf-8")
    return folder


@pytest.fixture
def small_folder(tmp_path: Path) -> Path:
    """Give the folder of the small test ship, where any ship will do."""
    return small_ship(tmp_path / "ship")


def panels(folder: Path, area: str) -> list[str]:
    """Return the panels of a hull area, from the written results."""
    with (folder / "results" / "panels.csv").open(encoding="utf-8") as file:
        return [row["id"] for row in csv.DictReader(file) if row["hull_area"] == area]


def edit(folder: Path, old: str, new: str) -> None:
    """Replace one thing in the ship's description; the old text must be there."""
    path = folder / "ship.toml"
    text = path.read_text(encoding="utf-8")
    assert old in text
    path.write_text(text.replace(old, new, 1), encoding="utf-8")


BAD_INPUT = [
    (
        'ice_class = "PC6"',
        'ice_class = "PC9"',
        "ice.ice_class: is not a class of the rule set; found PC9; allowed: PC1",
    ),
    ('rules = "polar_iacs_2019"', 'rules = "polar_9"', "ice.rules: no such rule set; found polar_9"),
    ("depth_m = 8.00", "depth_m = nan", "hull.depth_m: should be a finite number; found nan m"),
    ("spacing_m = 0.400", "spaing_m = 0.400", "spaing_m: unknown key; allowed: did you mean spacing_m?"),
    ("height_m = 2.60", "height_m = 1.35", "lies on"),
    ('plate_grade = "EH36"', 'plate_grade = "XH36"', "no such hull steel grade; found XH36"),
    ("density_t_m3 = 1.025", "density_t_m3 = 1025.0", "found 1025 t/m3; allowed: at least 0.99"),
    ('file = "hull_offsets.csv"', 'file = "nowhere.step"', "hull.file: there is no such file"),
    ('file = "hull_offsets.csv"', 'file = "ship.toml"', "ship.toml"),
    ("[steel]", '[[plates]]\nhull_area = "B"\nzone = "nowhere"\nthickness_as_built_mm = 20.0\n[steel]', "no such zone"),
    ("[steel]", '[[frame_sections]]\nsection = "Q300x10"\n[steel]', "Q300x10"),
]


@pytest.mark.parametrize(("old", "new", "expected"), BAD_INPUT)
def test_bad_input_is_one_line_and_leaves_nothing(
    ship_folder: Path,
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
    old: str,
    new: str,
    expected: str,
) -> None:
    edit(ship_folder, old, new)
    assert run(monkeypatch, "design", ship_folder) == ExitCode.BAD_INPUT
    error = capsys.readouterr().err
    assert expected in error
    assert error.count("\n") == 1
    assert error.startswith("beltwright: ")
    assert "Traceback" not in error
    assert sorted(p.name for p in ship_folder.iterdir()) == ["hull_offsets.csv", "ship.toml"]


def test_waterlines_that_cannot_be(
    ship_folder: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    text = (ship_folder / "ship.toml").read_text(encoding="utf-8")
    for value, expected in (("20.0", "does not reach"), ("4.0", "lies above the upper ice waterline")):
        (ship_folder / "ship.toml").write_text(
            text.replace("draught_m = 5.00", f"draught_m = {value}"), encoding="utf-8"
        )
        assert run(monkeypatch, "design", ship_folder) == ExitCode.BAD_INPUT
        assert expected in capsys.readouterr().err


def test_a_ship_outside_the_rule(
    ship_folder: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """Azimuthing units without a written reason for the stern factors: I2.3.5(iii)."""
    edit(ship_folder, 'kind = "shafts with rudders"', 'kind = "azimuthing units"')
    assert run(monkeypatch, "design", ship_folder) == ExitCode.OUT_OF_SCOPE
    error = capsys.readouterr().err
    assert "outside the rule's scope" in error
    assert "overrides.azimuthing_stern_factors" in error
    assert error.count("\n") == 1


def test_an_unknown_panel_names_near_ones(
    ship_folder: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    assert run(monkeypatch, "explain", ship_folder, "F100/L99") == ExitCode.BAD_INPUT
    assert "there is none of this name; found F100/L99; allowed: F1" in capsys.readouterr().err


def test_missing_folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> None:
    assert run(monkeypatch, "design", tmp_path / "nowhere") == ExitCode.BAD_INPUT
    assert "is not a folder" in capsys.readouterr().err


@pytest.mark.slow
def test_a_plate_that_is_too_thin_ends_with_status_one(
    small_folder: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    edit(small_folder, "[steel]", '[[plates]]\nhull_area = "B"\nthickness_as_built_mm = 10.0\n\n[steel]')
    assert run(monkeypatch, "design", small_folder) == ExitCode.NOT_MET
    shown = capsys.readouterr().out
    assert "REQUIREMENTS NOT MET" in shown
    assert (small_folder / "results" / "booklet.pdf").stat().st_size > 50_000
    assert run(monkeypatch, "explain", small_folder, panels(small_folder, "B")[0]) == ExitCode.MET
    assert "NOT met" in capsys.readouterr().out


@pytest.mark.slow
def test_the_main_job_writes_every_document(
    ship_folder: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    results = tmp_path / "elsewhere"
    assert run(monkeypatch, "design", ship_folder, "--results", results) == ExitCode.MET
    shown = capsys.readouterr().out
    met = "all requirements met on plating, local frames"
    for word in ("Merrow Tarn", "PC6", "kt", "force", "BIi", met, "written to"):
        assert word in shown
    names = {p.name for p in results.iterdir()}
    assert {
        "booklet.pdf",
        "shell-expansion.svg",
        "shell-expansion.pdf",
        "profile.svg",
        "profile.pdf",
        "result.json",
    } <= names
    assert {"panels.csv", "frames.csv", "areas.csv", "loads.csv", "weights.csv"} <= names
    before = (results / "result.json").read_bytes()
    assert run(monkeypatch, "design", ship_folder, "--results", results) == ExitCode.MET
    assert (results / "result.json").read_bytes() == before
    assert run(monkeypatch, "explain", ship_folder, "F180/L3", "--frame") == ExitCode.MET
    assert "governs" in capsys.readouterr().out
    assert run(monkeypatch, "explain", ship_folder, "F198/L3", "--support") == ExitCode.MET
    assert "its strength is shown by direct calculation" in capsys.readouterr().out
    assert run(monkeypatch, "explain", ship_folder, "stem plate", "--appendage") == ExitCode.MET
    assert "Appendage stem plate, " in capsys.readouterr().out
    assert run(monkeypatch, "explain", ship_folder, "F180/L3", "--frame", "--support") == ExitCode.BAD_INPUT
    assert "one of --frame, --support, --appendage" in capsys.readouterr().err


def test_help_imports_nothing_heavy() -> None:
    code = (
        "import sys\nfrom beltwright.cli.main import app\n"
        "heavy = {'numpy', 'scipy', 'typst', 'trimesh', 'shapely', 'pydantic', 'OCP', 'rhino3dm'} & set(sys.modules)\n"
        "print(sorted(heavy))"
    )
    done = subprocess.run(
        [sys.executable, "-c", code],
        capture_output=True,
        text=True,
        check=True,
        env={**os.environ, "PYTHONPATH": "src"},
    )
    assert done.stdout.strip() == "[]"


def test_the_bar_waits_before_it_shows(monkeypatch: pytest.MonkeyPatch) -> None:
    from io import StringIO

    from rich.console import Console

    for patience, shown in ((30.0, False), (0.0, True)):
        monkeypatch.setattr("beltwright.cli.progress.PATIENCE_S", patience)
        console = Console(file=StringIO(), force_terminal=True, width=80)
        with TerminalProgress(console) as progress:
            progress.stage("measuring", 1, 2)
            if shown:
                progress._timer.join()
                progress._bar.refresh()
        assert ("measuring" in console.file.getvalue()) is shown  # type: ignore[attr-defined]


def test_a_fault_of_the_program_has_a_status_of_its_own(
    ship_folder: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    def broken(*_: object) -> None:
        raise RuntimeError("planted")

    monkeypatch.setattr("beltwright.store.folder.open_folder", broken)
    assert run(monkeypatch, "design", ship_folder) == ExitCode.PROGRAM_FAILED
    assert "the program itself failed (RuntimeError); nothing was decided" in capsys.readouterr().err


def test_a_reader_who_has_seen_enough(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    def closed(*_: object, **__: object) -> None:
        raise BrokenPipeError

    with (tmp_path / "out").open("w") as out:
        monkeypatch.setattr(sys, "stdout", out)
        monkeypatch.setattr("beltwright.cli.main.app", closed)
        assert run(monkeypatch, "explain") == ExitCode.MET


def test_the_package_runs_as_a_module() -> None:
    done = subprocess.run(
        [sys.executable, "-m", "beltwright", "--help"],
        capture_output=True, text=True, check=True, env={**os.environ, "PYTHONPATH": "src"},
    )  # fmt: skip
    assert "explain" in done.stdout


@pytest.mark.slow
def test_names_are_printed_as_they_are(
    small_folder: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """Brackets in a name are not a markup of ours, and the mark of unconfirmed values is not lost either."""
    edit(small_folder, 'name = "Small test ship"', 'name = "Small [/b] [red]ship"')
    assert run(monkeypatch, "design", small_folder) == ExitCode.MET
    assert "Small [/b] [red]ship" in capsys.readouterr().out
    assert run(monkeypatch, "explain", small_folder, panels(small_folder, "B")[0]) == ExitCode.MET
    assert "[not confirmed from the printed page]" in capsys.readouterr().out


@pytest.mark.slow
def test_classes_side_by_side(
    ship_folder: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    assert run(monkeypatch, "classes", ship_folder) == ExitCode.MET
    told = capsys.readouterr().out
    assert "PC6 *" in told
    assert f"written to {ship_folder / 'classes'}" in told
    made = {path.name for path in (ship_folder / "classes").iterdir() if not path.name.startswith(".")}
    assert made == {"classes.csv", "class_areas.csv", "classes.json", "classes.pdf"}
