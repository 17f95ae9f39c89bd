"""The record of a ship: what was acknowledged is there, whatever happens; revisions never change."""

from __future__ import annotations

import os
import signal
import sqlite3
import subprocess
import sys
import time
from collections.abc import Callable, Iterator
from contextlib import ExitStack, closing
from pathlib import Path

import pytest

from beltwright.core.errors import InputError
from beltwright.store.journal import Edit
from beltwright.store.revisions import FILE, ShipRecord

SHA = "0" * 64


@pytest.fixture
def opened(tmp_path: Path) -> Iterator[Callable[[], ShipRecord]]:
    """Opens the record of one folder, as often as asked; all are closed at the end."""
    with ExitStack() as stack:
        yield lambda: stack.enter_context(closing(ShipRecord(tmp_path)))


def keep(record: ShipRecord, name: str) -> int:
    """Keep a small revision; returns its number."""
    return record.keep(
        name=name, author="A", note="n", inputs_sha256=SHA, result_sha256=SHA, description=f"text of {name}",
        hull_file=b"\x00hull", result={"steel": 1.5, "name": name}, files={"cases.csv": name.encode()},
    ).number  # fmt: skip


def test_a_journal_is_read_back_as_it_was_told(opened: Callable[[], ShipRecord]) -> None:
    record = opened()
    assert record.load() == ((), -1)
    for number, what in enumerate(("opened", "class", "spacing")):
        record.record(Edit(f"text {number}", what), number - 1)
    record.move(1)
    record.close()
    again = opened()
    edits, at = again.load()
    assert [edit.what for edit in edits] == ["opened", "class", "spacing"]
    assert at == 1
    again.record(Edit("other", "grade"), 1)
    assert [edit.what for edit in again.load()[0]] == ["opened", "class", "grade"]


def test_revisions_are_numbered_and_given_back_whole(opened: Callable[[], ShipRecord]) -> None:
    record = opened()
    assert [keep(record, name) for name in ("first", "second")] == [1, 2]
    assert [line.name for line in record.revisions()] == ["first", "second"]
    found = record.revision(2)
    assert (found.description, found.hull_file, found.result, found.files) == (
        "text of second",
        b"\x00hull",
        {"steel": 1.5, "name": "second"},
        {"cases.csv": b"second"},
    )


def test_a_record_from_before_further_files_were_kept_is_read(opened: Callable[[], ShipRecord], tmp_path: Path) -> None:
    record = opened()
    keep(record, "first")
    record.close()
    with closing(sqlite3.connect(tmp_path / FILE)) as base, base:
        base.execute("DROP TABLE revision_files")
    assert opened().revision(1).files == {}


def test_a_revision_that_is_not_there_is_one_line(opened: Callable[[], ShipRecord]) -> None:
    record = opened()
    with pytest.raises(InputError, match="no such revision; found 1; allowed: none is kept yet"):
        record.revision(1)


def test_a_file_that_is_no_record_is_refused_and_kept(tmp_path: Path) -> None:
    (tmp_path / FILE).write_bytes(b"this is no database, but somebody's notes, long enough to be looked at" * 20)
    before = (tmp_path / FILE).read_bytes()
    with pytest.raises(InputError, match="cannot be used"):
        ShipRecord(tmp_path)
    assert (tmp_path / FILE).read_bytes() == before


def test_a_record_of_another_layout_is_refused(tmp_path: Path) -> None:
    ShipRecord(tmp_path).close()
    with closing(sqlite3.connect(tmp_path / FILE)) as base, base:
        base.execute("UPDATE layout SET number = 99")
    with pytest.raises(InputError, match="another layout; found 99; allowed: 1"):
        ShipRecord(tmp_path)


def test_what_another_program_told_meanwhile_is_never_written_over(opened: Callable[[], ShipRecord]) -> None:
    """Two programs on one record: the slower one is refused, before and after it is told again, until it reads anew."""
    one, other = opened(), opened()
    for number in range(6):
        one.record(Edit(f"text {number}", "edit"), number - 1)
    for late in (lambda: other.record(Edit("late", "edit"), -1), lambda: other.move(0)):
        with pytest.raises(InputError, match="written by another program"):
            late()
    edits, at = other.load()
    assert ([edit.text for edit in edits], at) == ([f"text {number}" for number in range(6)], 5)
    other.move(2)
    other.record(Edit("other way", "edit"), 2)
    with pytest.raises(InputError, match="written by another program"):
        one.record(Edit("late", "edit"), 5)
    assert [edit.text for edit in one.load()[0]] == ["text 0", "text 1", "text 2", "other way"]
    assert keep(one, "first") == 1
    assert keep(other, "second") == 2  # revisions are only added, so that two programs may


def test_a_journal_that_points_nowhere_is_one_line(tmp_path: Path) -> None:
    with closing(ShipRecord(tmp_path)) as record:
        record.record(Edit("text", "opened"), -1)
    with closing(sqlite3.connect(tmp_path / FILE)) as base, base:
        base.execute("UPDATE cursor SET place = 6")
    with closing(ShipRecord(tmp_path)) as record, pytest.raises(InputError, match="the journal of edits is damaged"):
        record.load()


FILLER = """
import resource, signal, sys
from pathlib import Path
from beltwright.core.errors import InputError
from beltwright.store.journal import Edit
from beltwright.store.revisions import ShipRecord
signal.signal(signal.SIGXFSZ, signal.SIG_IGN)
resource.setrlimit(resource.RLIMIT_FSIZE, (300_000, 300_000))
record = ShipRecord(Path(sys.argv[1]))
at = record.load()[1]
try:
    while at < 500:
        record.record(Edit("x" * 5000 + str(at + 1), "edit"), at)
        at += 1
        print(at, flush=True)
except InputError as error:
    print(error)
    assert record.load()[1] == at
"""


def test_where_the_disk_takes_no_more_it_is_one_line_and_what_was_told_is_there(tmp_path: Path) -> None:
    """The system refuses to let a file of the record grow; the same as a full disk to who writes."""
    run = [sys.executable, "-c", FILLER, str(tmp_path)]
    *told, line = subprocess.run(run, capture_output=True, text=True, check=True, timeout=60).stdout.splitlines()
    assert "revisions.sqlite: cannot be used: " in line
    assert [int(word) for word in told] == list(range(len(told)))
    assert 10 < len(told) < 300
    with closing(ShipRecord(tmp_path)) as record:
        edits, at = record.load()
        assert at == len(edits) - 1 == int(told[-1])
        assert edits[at].text.endswith(f"x{at}")
        record.record(Edit("there is room again", "edit"), at)


WRITER = """
import sys
from pathlib import Path
from beltwright.store.journal import Edit
from beltwright.store.revisions import ShipRecord
record = ShipRecord(Path(sys.argv[1]))
at = record.load()[1]
while True:
    record.record(Edit(f"text {at + 1}", "edit"), at)
    at += 1
    print(at, flush=True)
"""


@pytest.mark.slow
def test_killed_at_any_moment_nothing_acknowledged_is_lost(tmp_path: Path) -> None:
    """Thirty times a writer is killed in full flight; every edit that it had told of is there, in order."""
    told = -1
    for number in range(30):
        writer = subprocess.Popen([sys.executable, "-c", WRITER, str(tmp_path)], stdout=subprocess.PIPE, text=True)
        assert writer.stdout is not None
        told = max(told, int(writer.stdout.readline()))
        time.sleep(0.003 * (number % 7))
        os.kill(writer.pid, signal.SIGKILL)
        rest = [int(word) for word in writer.stdout.read().split()]
        writer.wait()
        told = max([told, *rest])
        writer.stdout.close()
        with closing(ShipRecord(tmp_path)) as record:
            edits, at = record.load()
        assert at >= told
        assert [edit.text for edit in edits] == [f"text {k}" for k in range(len(edits))]
        assert at == len(edits) - 1
        told = at
