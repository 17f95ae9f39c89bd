"""Editing one ship: kept at once, undone and redone; results equal a fresh run's and are marked when out of date."""

from __future__ import annotations

import random
import shutil
from collections.abc import Callable
from dataclasses import asdict, fields
from pathlib import Path
from typing import Any

import numpy as np
import pytest

from beltwright import Project
from beltwright.app.hull_settings import settings_of
from beltwright.app.results import Results
from beltwright.app.session import DesignSession, KeptInMemory
from beltwright.app.stages import Watched
from beltwright.core.columns import ColumnTable
from beltwright.core.errors import InputError
from beltwright.hull.placing import HullSettings
from beltwright.store.journal import Edit

MERROW = Path("examples/merrow-tarn")


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """A ship folder of its own, with the offset table as its hull."""
    made = tmp_path / "ship"
    made.mkdir()
    for name in ("ship.toml", "hull_offsets.csv"):
        shutil.copy(MERROW / name, made / name)
    text = (made / "ship.toml").read_text(encoding="utf-8")
    assert 'file = "hull.step"' in text
    (made / "ship.toml").write_text(text.replace('file = "hull.step"', 'file = "hull_offsets.csv"'), encoding="utf-8")
    return made


def same_table(one: ColumnTable, other: ColumnTable) -> None:
    """Two tables are equal to the last bit."""
    assert list(one) == list(other)
    for name in one:
        a, b = one[name], other[name]
        if a.data.dtype.kind == "f":
            assert np.array_equal(a.data, b.data, equal_nan=True), name
        else:
            assert a.data.tolist() == b.data.tolist(), name


def same_results(one: Results, other: Results) -> None:
    """Two results are equal to the last bit, findings and hashes included."""
    assert one.result_sha256 == other.result_sha256
    assert [str(f) for f in one.findings] == [str(f) for f in other.findings]
    assert list(one.tables) == list(other.tables)
    for name, table in one.tables.items():
        same_table(table, other.tables[name])
    for a, b in zip(one.design.borders, other.design.borders, strict=True):
        assert np.array_equal(a.points, b.points)


def edits(session: DesignSession, seed: random.Random) -> list[Callable[[], object]]:
    """Changes of every kind that a user may make to this ship."""
    zones = len(session.ship.zones)
    zone = seed.randrange(zones)
    return [
        lambda: session.change({("ice", "ice_class"): seed.choice(["PC4", "PC5", "PC6", "PC7"])}),
        lambda: session.change({("waterlines", "upper", 0, "draught_m"): round(seed.uniform(4.9, 5.1), 2)}),
        lambda: session.change({("zones", zone, "web_frame_spacing_m"): seed.choice([1.2, 1.6])}),
        lambda: session.change({("levels", 1, "height_m"): round(seed.uniform(2.5, 2.7), 2)}),
        lambda: session.change({("steel", "plate_grade"): seed.choice(["DH36", "EH36", "EH40"])}),
        lambda: session.change({("stock", "step_mm"): seed.choice([0.5, 1.0])}),
        lambda: session.change({("effective_protection",): seed.choice([True, False])}),
        lambda: session.add_row(("plates",), {"hull_area": "B", "thickness_as_built_mm": seed.choice([18.0, 24.0])}),
        session.undo,
        session.redo,
    ]


@pytest.mark.slow
@pytest.mark.parametrize("number", [1, 2])
def test_after_any_edits_the_results_are_those_of_a_fresh_run(folder: Path, number: int) -> None:
    seed = random.Random(number)
    session = DesignSession(folder)
    for _ in range(5):
        for _ in range(seed.randint(1, 3)):
            seed.choice(edits(session, seed))()
        same_results(session.recompute(), Project(folder).results)
        assert session.up_to_date


def test_results_go_out_of_date_and_come_back_with_undo(folder: Path) -> None:
    session = DesignSession(folder)
    first = session.recompute()
    session.change({("steel", "plate_grade"): "EH40"})
    assert not session.up_to_date
    assert session.results is first
    assert session.can_undo == "steel.plate_grade"
    session.undo()
    assert session.up_to_date
    assert session.can_redo == "steel.plate_grade"
    session.redo()
    assert session.recompute() is not first


def test_a_stage_is_not_run_again_for_what_it_did_not_read(folder: Path) -> None:
    session = DesignSession(folder)
    session.recompute()
    _, stages = session._stages or pytest.fail("no stages")
    before = (stages._measure.runs, stages._arrange.runs)
    session.change({("steel", "plate_grade"): "EH40"})
    session.recompute()
    assert (stages._measure.runs, stages._arrange.runs) == before
    session.change({("zones", 0, "web_frame_spacing_m"): 1.2})
    session.recompute()
    assert (stages._measure.runs, stages._arrange.runs) == (before[0], before[1] + 1)


def test_plates_and_frames_are_told_before_the_rest(folder: Path) -> None:
    session = DesignSession(folder)
    told: list[Any] = []
    made = session.recompute(heard=lambda *parts: told.append(parts))
    arrangement, plating, framing = told[0]
    assert arrangement is made.design.arrangement
    same_table(plating.table, made.design.plating)
    same_table(framing.table, made.design.frames)


@pytest.mark.parametrize(
    ("path", "value", "words"),
    [
        (("levels", 0, "height_m"), 99.0, r"levels\[1\]\.height_m.*99.*m.*at most 60"),
        (("hull", "depth_m"), float("nan"), r"hull\.depth_m"),
        (("waterlines", "upper", 0, "draught_m"), -1.0, r"waterlines\.upper\[1\]\.draught_m.*above 0"),
        (("hull", "file"), "../x.step", r"hull\.file"),
        (("hull", "file"), "none.step", r"hull\.file.*no such file"),
        (("hull", "nonsense"), 1, r"hull\.nonsense.*unknown key"),
    ],
)
def test_a_change_that_is_not_allowed_moves_nothing(
    folder: Path, path: tuple[Any, ...], value: Any, words: str
) -> None:
    session = DesignSession(folder)
    before = (folder / "ship.toml").read_bytes(), session.history, session.ship
    with pytest.raises(InputError, match=words):
        session.change({path: value})
    assert ((folder / "ship.toml").read_bytes(), session.history, session.ship) == before


def test_a_ship_that_cannot_be_designed_keeps_its_last_results(folder: Path) -> None:
    session = DesignSession(folder)
    good = session.recompute()
    session.change({("ice", "ice_class"): "PC9"})
    with pytest.raises(InputError, match="PC9"):
        session.recompute()
    assert session.results is good
    assert not session.up_to_date
    assert "PC9" in str(session.error)
    session.undo()
    assert session.up_to_date


def test_edits_stand_in_the_file_at_once_with_its_comments(folder: Path) -> None:
    session = DesignSession(folder)
    comments = [line for line in session.text.splitlines() if line.startswith("#")]
    session.change({("ice", "ice_class"): "PC5"})
    written = (folder / "ship.toml").read_text(encoding="utf-8")
    assert written == session.text
    assert 'ice_class = "PC5"' in written
    assert [line for line in written.splitlines() if line.startswith("#")] == comments
    assert Project(folder).ship.ice.ice_class == "PC5"


def test_a_journal_brings_undo_back_and_notices_a_change_from_outside(folder: Path) -> None:
    journal = KeptInMemory()
    DesignSession(folder, journal=journal).change({("ice", "ice_class"): "PC5"})
    again = DesignSession(folder, journal=journal)
    assert again.can_undo == "ice.ice_class"
    text = again.text.replace('"PC5"', '"PC7"')
    (folder / "ship.toml").write_text(text, encoding="utf-8")
    outside = DesignSession(folder, journal=journal)
    assert outside.ship.ice.ice_class == "PC7"
    assert outside.can_undo == "changed outside the pages"
    outside.undo()
    assert outside.ship.ice.ice_class == "PC5"


def test_a_folder_that_cannot_be_written_is_one_line(folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    session = DesignSession(folder)

    def full(*_: object, **__: object) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr("os.fsync", full)
    with pytest.raises(InputError, match="cannot be written: No space left on device"):
        session.change({("ice", "ice_class"): "PC5"})


class RefusingJournal(KeptInMemory):
    """A journal whose disk is full from a certain moment on."""

    refuses = False

    def record(self, edit: Edit, after: int) -> None:
        if type(self).refuses:
            raise InputError("revisions.sqlite", "cannot be used: database or disk is full")
        KeptInMemory.record(self, edit, after)

    def move(self, to: int) -> None:
        if type(self).refuses:
            raise InputError("revisions.sqlite", "cannot be used: database or disk is full")
        KeptInMemory.move(self, to)


@pytest.mark.parametrize("what", ["journal", "file"])
def test_where_a_change_cannot_be_kept_nothing_moves(folder: Path, what: str, monkeypatch: pytest.MonkeyPatch) -> None:
    """Neither the description, nor the file, nor the journal, nor whether the results hold; and later it goes on."""
    journal = RefusingJournal()
    session = DesignSession(folder, journal=journal)
    session.change({("ice", "ice_class"): "PC5"})
    made = session.recompute()

    def state() -> tuple[object, ...]:
        edits, at = journal.load()
        return (
            session.ship,
            session.text,
            (folder / "ship.toml").read_text("utf-8"),
            tuple(edits),
            at,
            session.history,
        )

    before, beside = state(), folder / ".ship.toml.new"
    if what == "journal":
        monkeypatch.setattr(RefusingJournal, "refuses", True)
    else:
        beside.mkdir()  # the new text cannot be written where it is prepared
    for act in (lambda: session.change({("ice", "ice_class"): "PC4"}), session.undo):
        with pytest.raises(InputError, match=r"disk is full|cannot be written"):
            act()
        assert state() == before
        assert session.up_to_date
        assert session.recompute() is made
    if what == "journal":
        assert not beside.exists()
        monkeypatch.undo()
    else:
        beside.rmdir()
    session.undo()
    assert session.ship.ice.ice_class == Project(folder).ship.ice.ice_class == "PC6"


def test_the_files_of_results_are_given_only_as_they_were(folder: Path) -> None:
    session = DesignSession(folder)
    with pytest.raises(InputError, match="results: there are none yet"):
        session.files()
    session.recompute()
    content = (folder / "hull_offsets.csv").read_bytes()
    assert session.files() == (content, {})
    (folder / "hull_offsets.csv").write_bytes(content + b"\n")
    with pytest.raises(InputError, match="a file of the ship has changed since they were made"):
        session.files()


def test_the_files_of_results_hold_the_loading_cases(folder: Path) -> None:
    """The ship's own waterlines said as two loading cases; one of them moved on the disk afterwards is noticed."""
    (folder / "cases.csv").write_text(
        "case,x_aft_m,draught_aft_m,x_mid_m,draught_mid_m,x_fore_m,draught_fore_m,density_t_m3,use\n"
        "deep,0.0,5.0,40.75,5.0,81.5,5.0,1.025,upper\n"
        "light,0.0,4.7,40.75,4.6,81.5,4.5,1.025,lower\n",
        encoding="utf-8",
    )
    lines = (folder / "ship.toml").read_text("utf-8").splitlines(keepends=True)
    rest = [line for line in lines if not line.startswith(("upper = [", "lower = ["))]
    assert len(rest) == len(lines) - 2
    text = "".join(rest).replace("[waterlines]\n", '[waterlines]\nloading_cases = "cases.csv"\n')
    (folder / "ship.toml").write_text(text, encoding="utf-8")
    session = DesignSession(folder)
    session.recompute()
    _, others = session.files()
    assert others == {"cases.csv": (folder / "cases.csv").read_bytes()}
    (folder / "cases.csv").write_bytes(others["cases.csv"].replace(b"4.5,1.025", b"4.51,1.025"))
    with pytest.raises(InputError, match="a file of the ship has changed"):
        session.files()


def test_every_answer_about_the_hull_file_reaches_the_reader(folder: Path) -> None:
    """All that ``[hull]`` can say of the file's axes, side and unit; the reader's own tests say what each does."""
    session = DesignSession(folder)
    said = {
        "length_unit": "mm", "x_direction": "aft", "side": "starboard", "up_axis": "-z", "length_axis": "y",
        "ap_x_m": 1.5, "baseline_z_m": -2.0, "centreline_y_m": 0.25,
    }  # fmt: skip
    assert set(said) == {field.name for field in fields(HullSettings)}
    session.change({("hull", name): value for name, value in said.items()})
    assert asdict(settings_of(session.ship)) == said


def test_an_answer_changes_how_the_hull_is_placed(folder: Path) -> None:
    session = DesignSession(folder)
    grounds = {row.setting: row.ground for row in session.placed().detection}
    assert grounds["hull.up_axis, hull.length_axis"] != "given"
    session.change({("hull", "up_axis"): "z"})
    grounds = {row.setting: row.ground for row in session.placed().detection}
    assert grounds["hull.up_axis, hull.length_axis"] == "given"


def test_what_a_stage_reads_is_written_down(folder: Path) -> None:
    ship = Project(folder).ship
    watched = Watched(ship)
    assert watched.levels[0] is ship.levels[0]
    assert set(watched.read) == {"levels"}
    watched.model_dump()
    assert set(watched.read) == set(type(ship).model_fields)
