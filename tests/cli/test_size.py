"""The commands ``size`` and ``certify``: files, exit status, the same certificate twice, a tampered one refused."""

from __future__ import annotations

import csv
import json
import signal
import sys
import threading
from pathlib import Path

import pytest
from pypdf import PdfReader
from tests.app.test_results import ship_folder

from beltwright.cli import main as command_line
from beltwright.cli.size import _ends_the_search
from beltwright.core.errors import ExitCode

FILES = {"certificate.json", "plates.csv", "sections.csv", "transitions.csv", "sizing.json", "plates.svg", "prices.csv"}


def run(monkeypatch: pytest.MonkeyPatch, *arguments: object) -> int:
    """Run the command line in this process and return its exit status."""
    monkeypatch.setattr(sys, "argv", ["beltwright", *map(str, arguments)])
    with pytest.raises(SystemExit) as end:
        command_line.main()
    return int(end.value.code or 0)


@pytest.mark.slow
def test_size_writes_what_certify_confirms(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    folder = ship_folder(tmp_path / "ship")
    assert run(monkeypatch, "size", folder) == ExitCode.MET
    shown = capsys.readouterr().out
    for word in ("proved least", "saved in all", "checks of the whole design: all met", "The draught is held"):
        assert word in shown
    written = folder / "sizing"
    assert {path.name for path in written.iterdir()} >= FILES | {"booklet.pdf", "panels.csv", "shell-expansion.svg"}
    pages = " ".join(page.extract_text() for page in PdfReader(written / "booklet.pdf").pages)
    assert "Plates and frames of this booklet were found by a search" in pages
    assert "proved to be the least" in pages
    with (written / "plates.csv").open(encoding="utf-8") as table:
        plates = [row for row in csv.DictReader(table) if row["grade"] != "none"]
    drawn = (written / "shell-expansion.svg").read_text("utf-8")
    assert all(f">{row['plate']}<" in drawn for row in plates)
    assert all(f">{float(row['thickness_mm']):g} {row['grade']}<" in drawn for row in plates)
    told = json.loads((written / "sizing.json").read_text("utf-8"))
    assert told["bound"] == told["price"] <= told["uniform"]["price"]
    assert run(monkeypatch, "certify", folder, written / "certificate.json") == ExitCode.MET
    assert "the certificate holds" in capsys.readouterr().out
    plain = json.loads((written / "certificate.json").read_text("utf-8"))
    plain["price"] += 1
    (tmp_path / "other.json").write_text(json.dumps(plain), "utf-8")
    assert run(monkeypatch, "certify", folder, tmp_path / "other.json") == ExitCode.NOT_MET
    assert "REFUSED: the price adds up to" in capsys.readouterr().out


@pytest.mark.slow
def test_a_front_is_written_with_a_certificate_for_each_point(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    folder = ship_folder(tmp_path / "ship")
    assert run(monkeypatch, "size", folder, "--front", "mass", "cost", "--points", "2") == ExitCode.MET
    assert "steel mass against cost" in capsys.readouterr().out
    written = folder / "front"
    assert (written / "front.svg").is_file()
    assert run(monkeypatch, "certify", folder, written / "certificate-1.json") == ExitCode.MET
    assert "the certificate holds" in capsys.readouterr().out
    assert run(monkeypatch, "size", folder, "--front", "mass", "mass") == ExitCode.BAD_INPUT
    error = capsys.readouterr().err
    assert "two different objectives make a front" in error


def test_an_interrupt_ends_the_search_and_a_second_one_the_program() -> None:
    stop = threading.Event()
    before = signal.getsignal(signal.SIGINT)
    with _ends_the_search(stop):
        signal.raise_signal(signal.SIGINT)
        assert stop.is_set()
        with pytest.raises(KeyboardInterrupt):
            signal.raise_signal(signal.SIGINT)
    assert signal.getsignal(signal.SIGINT) is before


def test_a_certificate_that_is_not_there_is_one_line(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    assert run(monkeypatch, "certify", tmp_path, tmp_path / "none.json") == ExitCode.BAD_INPUT
    error = capsys.readouterr().err
    assert "there is no such file" in error
    assert error.count("\n") == 1
