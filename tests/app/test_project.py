"""The project object: what runs beside what, and who is heard first."""

from __future__ import annotations

import shutil
from pathlib import Path
from typing import Any

import pytest

from beltwright.app.project import Project
from beltwright.core.errors import InputError
from beltwright.hull import detect
from beltwright.hull.readers import ChildLimits

SHIP = Path(__file__).resolve().parents[2] / "examples" / "quillan-frostmark"


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """A copy of the demo ship."""
    return Path(shutil.copytree(SHIP, tmp_path / "ship", ignore=shutil.ignore_patterns("results")))


def test_a_contradicting_description_stops_the_reading_beside_it(folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    stopped: list[bool] = []

    def slow(_path: Path, _settings: object, *, limits: ChildLimits) -> Any:
        assert limits.stop is not None
        stopped.append(limits.stop.wait(60.0))
        raise InputError("hull", "reading was stopped")

    monkeypatch.setattr(detect, "load_hull", slow)
    text = (folder / "ship.toml").read_text("utf-8")
    assert 'plate_grade = "EH36"' in text
    (folder / "ship.toml").write_text(text.replace('plate_grade = "EH36"', 'plate_grade = "EH99"'), "utf-8")
    with pytest.raises(InputError, match=r"steel\.plate_grade"):
        _ = Project(folder).hull
    assert stopped == [True]


def test_a_hull_that_cannot_be_read_is_told_where_the_description_is_sound(folder: Path) -> None:
    (folder / "hull.step").write_text("ISO-10303-21; and then nothing", "utf-8")
    with pytest.raises(InputError, match=r"hull\.step"):
        _ = Project(folder).hull
