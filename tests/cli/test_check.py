"""The command ``check``: exit status, files, one line for a bad list, and the same numbers as from Python."""

from __future__ import annotations

import csv
import io
import json
import sys
from pathlib import Path

import jsonschema
import pytest
from pypdf import PdfReader
from tests.app.test_results import ship_folder
from tests.scantlings.submissions import group_rows, text_of

from beltwright import Project
from beltwright.cli import main as command_line
from beltwright.core.errors import ExitCode
from beltwright.report.result_json import schema
from beltwright.scantlings.offered import OfferedCheck

FILES = {"offered_plates.csv", "offered_frames.csv", "discrepancies.csv", "offered.json", "offered.pdf"}


def run(monkeypatch: pytest.MonkeyPatch, *arguments: object) -> int:
    """Run the command line in this process and return its exit status."""
    monkeypatch.setattr(sys, "argv", ["beltwright", *map(str, arguments)])
    with pytest.raises(SystemExit) as end:
        command_line.main()
    return int(end.value.code or 0)


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("kind;mark\nplate;P\n", "columns must be separated by commas"),
        ("kind,mark,thickness_cm\nplate,P,2\n", "list.csv: header: unknown column; found thickness_cm"),
        ("", "list.csv: is empty"),
        (None, "there is no such file"),
    ],
)
def test_a_bad_list_is_one_line_before_the_hull_is_read(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str], text: str | None, told: str
) -> None:
    if text is not None:
        (tmp_path / "list.csv").write_text(text, "utf-8")
    assert run(monkeypatch, "check", tmp_path / "nowhere", tmp_path / "list.csv") == ExitCode.BAD_INPUT
    error = capsys.readouterr().err
    assert told in error
    assert error.count("\n") == 1
    assert not (tmp_path / "nowhere").exists()


@pytest.mark.slow
def test_command_and_python_say_the_same(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """A clean list ends with 0, one with slips with 1; a mark that could be a formula stays a word."""
    folder = ship_folder(tmp_path / "ship")
    project = Project(folder)
    rows = group_rows(project.results.design)
    clean, slips, out = tmp_path / "clean.csv", tmp_path / "slips.csv", tmp_path / "out"
    clean.write_text(text_of(rows), "utf-8")
    assert run(monkeypatch, "check", folder, clean) == ExitCode.MET
    assert "all offered scantlings met, nothing differs" in capsys.readouterr().out
    assert {p.name for p in (folder / "offered").iterdir()} - {".beltwright-results"} == FILES

    rows[0] |= {"mark": "=1+2", "thickness_mm": "9"}
    rows[-1]["section"] = "FB80x6"
    slips.write_text(text_of(rows), "utf-8")
    assert run(monkeypatch, "check", folder, slips, "--results", out) == ExitCode.NOT_MET
    shown = capsys.readouterr().out
    check = project.check_offered(slips)
    assert not check.clean
    for one in check.discrepancies[:40]:
        assert str(one) in shown
    same_as_files(check, out)
    project.write_offered(check, tmp_path / "again")
    for name in FILES:
        assert (tmp_path / "again" / name).read_bytes() == (out / name).read_bytes(), name


def same_as_files(check: OfferedCheck, out: Path) -> None:
    """The files hold the numbers of the object."""
    told = list(csv.DictReader(io.StringIO((out / "discrepancies.csv").read_text("utf-8"))))
    assert [row["code"] for row in told] == [one.kind.code for one in check.discrepancies]
    assert "'=1+2" in {row["mark"] for row in told}
    result = json.loads((out / "offered.json").read_text("utf-8"))
    assert result["format"] == "beltwright-offered-1"
    validator = jsonschema.Draft202012Validator(schema("offered"))
    validator.validate(result)
    without = {name: part for name, part in result.items() if name != "frames"}
    for broken in ({**result, "outcome": "met"}, {**result, "tally": {}}, without):
        assert not validator.is_valid(broken)
    assert result["submitted"]["sha256"] == check.sha256
    for name, table in (("plates", check.plates), ("frames", check.frames)):
        listed = list(csv.DictReader(io.StringIO((out / f"offered_{name}.csv").read_text("utf-8"))))
        assert [row["id"] for row in listed] == table.labels("id").tolist()
        assert [row["outcome"] for row in listed] == table.labels("outcome").tolist()
        told_ratio = [value for value in result[name]["columns"]["ratio"]["values"] if value is not None]
        assert told_ratio == table["ratio"].data[table["ratio"].applies].tolist()
    text = " ".join(page.extract_text() for page in PdfReader(out / "offered.pdf").pages)
    for word in ("Offered scantlings", "Check of offered scantlings", "Cautions", "not met, or discrepancies", "=1+2"):
        assert word in text
