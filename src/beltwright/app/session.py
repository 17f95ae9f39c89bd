"""The editing of one ship: changes that are kept at once, undone and redone, and results that know if they still hold.

A change is acknowledged when it stands in ``ship.toml`` and in the journal, both on the disk. A change that the
description does not allow is refused with one line and nothing moves. Results are made anew when asked for; until then
they are marked as out of date.
"""

from __future__ import annotations

import os
import threading
from collections.abc import Callable, Iterator, Mapping, Sequence
from contextlib import contextmanager
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from beltwright.app.hull_settings import settings_of
from beltwright.app.results import Results
from beltwright.app.stages import Heard, Stages
from beltwright.core.canonical import file_fingerprint
from beltwright.core.errors import InputError
from beltwright.hull.detect import place
from beltwright.hull.patch import RawHull
from beltwright.hull.placing import HullSettings, PlacedHull
from beltwright.hull.readers import ChildLimits, read_hull
from beltwright.ship.edit import Path as SettingPath
from beltwright.ship.edit import changed, with_row, without_row, words_of_path
from beltwright.ship.model import Ship
from beltwright.store.folder import SHIP_FILE, ShipFolder, parse_folder, read_text
from beltwright.store.journal import Edit, Journal
from beltwright.weights.steel import steel_weight


@dataclass(slots=True)
class KeptInMemory:
    """A journal for the length of the program."""

    edits: list[Edit] = field(default_factory=list)
    at: int = -1

    def load(self) -> tuple[Sequence[Edit], int]:
        """Return the states kept and which is in force."""
        return tuple(self.edits), self.at

    def record(self, edit: Edit, after: int) -> None:
        """Keep a state after another."""
        del self.edits[after + 1 :]
        self.edits.append(edit)
        self.at = after + 1

    def move(self, to: int) -> None:
        """Keep that another state is in force."""
        self.at = to


class DesignSession:
    """One ship folder being edited.

    Parameters
    ----------
    folder : the ship folder
    journal : where edits are kept; in memory where none is given

    Raises
    ------
    InputError : the folder or a file in it is not usable; a description that cannot be designed is no error here
    """

    def __init__(self, folder: Path | str, *, journal: Journal | None = None) -> None:
        self.folder = Path(folder)
        self._journal: Journal = journal or KeptInMemory()
        self._lock = threading.RLock()
        self._raw: tuple[str, RawHull, str] | None = None
        self._stages: tuple[tuple[object, ...], Stages] | None = None
        self.results: Results | None = None
        self._results_text: str | None = None
        self.error: Exception | None = None
        text = read_text(self.folder / SHIP_FILE)
        self._read = parse_folder(self.folder, text)
        edits, at = self._journal.load()
        self._edits = list(edits)
        self._at = at
        if at < 0 or edits[at].text != text:
            what = "opened" if at < 0 else "changed outside the pages"
            self._keep(Edit(text, what))

    @property
    def text(self) -> str:
        """The text of ``ship.toml`` in force."""
        return self._edits[self._at].text

    @property
    def ship(self) -> Ship:
        """The ship as described now."""
        return self._read.ship

    @property
    def read(self) -> ShipFolder:
        """The folder as described now."""
        return self._read

    @property
    def up_to_date(self) -> bool:
        """Whether the results are those of the description in force."""
        return self.results is not None and self._results_text == self.text

    @property
    def can_undo(self) -> str:
        """What would be undone, empty where nothing can be."""
        return self._edits[self._at].what if self._at > 0 else ""

    @property
    def can_redo(self) -> str:
        """What would be done again, empty where nothing can be."""
        return self._edits[self._at + 1].what if self._at + 1 < len(self._edits) else ""

    @property
    def history(self) -> tuple[tuple[str, bool], ...]:
        """What was done, oldest first, and whether it is in force."""
        return tuple((edit.what, number <= self._at) for number, edit in enumerate(self._edits))

    def change(self, values: Mapping[SettingPath, Any], what: str = "") -> None:
        """Set settings to other values; see ``ship.edit.changed``.

        Raises InputError, naming field, value, unit and what is allowed, where the description does not allow it.
        """
        told = what or ", ".join(words_of_path(path) for path in values)
        self._take(lambda text: changed(text, values), told)

    def add_row(self, path: SettingPath, row: Mapping[str, Any], at: int | None = None) -> None:
        """Put a row into a list of tables; raises as :meth:`change`."""
        self._take(lambda text: with_row(text, path, row, at), f"row added to {words_of_path(path)}")

    def remove_row(self, path: SettingPath, at: int) -> None:
        """Take a row out of a list of tables; raises as :meth:`change`."""
        self._take(lambda text: without_row(text, path, at), f"row {at + 1} taken out of {words_of_path(path)}")

    def replace_text(self, text: str, what: str) -> None:
        """Put another description in force, such as that of an older revision; raises as :meth:`change`."""
        self._take(lambda _: text, what)

    def undo(self) -> str:
        """Go back one change; returns what was undone, empty where there was nothing."""
        return self._go(self._at - 1) if self._at > 0 else ""

    def redo(self) -> str:
        """Do the next change again; returns what it was, empty where there was nothing."""
        return self._go(self._at + 1) if self._at + 1 < len(self._edits) else ""

    def recompute(self, *, heard: Heard | None = None) -> Results:
        """Return the results of the description in force; ``heard`` is told plating and framing as soon as they stand.

        Raises InputError and ScopeError where there are none; the last results stay, out of date.
        """
        with self._lock:
            text, read = self.text, self._read
            if self.results is not None and self._results_text == text:
                return self.results
            try:
                stages = self._stages_of(read)
                design = stages.design(read.ship, heard=heard)
                made = Results(
                    design=design,
                    weight=steel_weight(design),
                    inputs_sha256=read.inputs_fingerprint(stages.placed.sha256),
                )
            except Exception as error:
                self.error = error
                raise
            self.results, self._results_text, self.error = made, text, None
            return made

    def files(self) -> tuple[bytes, Mapping[str, bytes]]:
        """Return the content of the hull file, and of the other files that the description names, by their names.

        Raises InputError where one of them is no longer as it was when the results were made, or there are none.
        """
        with self._lock:
            made, read = self.results, parse_folder(self.folder, self.text)
            if made is None:
                raise InputError("results", "there are none yet", allowed="a ship that can be designed")
            hull, name = read.hull_file.read_bytes(), read.ship.waterlines.loading_cases
            others = {} if name is None else {name: (self.folder / name).read_bytes()}
            if read.inputs_fingerprint(file_fingerprint(hull)) != made.inputs_sha256:
                raise InputError(
                    "results", "a file of the ship has changed since they were made", allowed="opening the ship anew"
                )
            return hull, others

    def placed(self) -> PlacedHull:
        """Return the hull of the file in ship axes, with what was detected; blocking findings are no error here."""
        with self._lock:
            return self._stages_of(self._read).placed

    def _stages_of(self, read: ShipFolder) -> Stages:
        """The stages on the hull as it is described now."""
        settings = settings_of(read.ship)
        raw, sha256 = self._raw_hull(read)
        key = (sha256, settings, read.loading_cases)
        if self._stages is None or self._stages[0] != key:
            self._stages = (key, Stages(_placed(raw, settings, sha256), read.loading_cases))
        return self._stages[1]

    def _raw_hull(self, read: ShipFolder) -> tuple[RawHull, str]:
        """The hull file as its reader gave it; read again when the file has changed."""
        path = read.hull_file
        found = path.stat()
        key = f"{path.name} {found.st_size} {found.st_mtime_ns}"
        if self._raw is None or self._raw[0] != key:
            self._raw = (key, read_hull(path, limits=ChildLimits()), file_fingerprint(path.read_bytes()))
        return self._raw[1], self._raw[2]

    def _take(self, edit: Callable[[str], str], what: str) -> None:
        """Put an edited text in force if the description allows it."""
        with self._lock:
            text = edit(self.text)
            if text == self.text:
                return
            read = parse_folder(self.folder, text)
            with _replacing(self.folder / SHIP_FILE, text):
                self._keep(Edit(text, what))
            self._read = read

    def _keep(self, edit: Edit) -> None:
        """Keep a state in the journal."""
        self._journal.record(edit, self._at)
        del self._edits[self._at + 1 :]
        self._edits.append(edit)
        self._at += 1

    def _go(self, to: int) -> str:
        """Put another state in force."""
        with self._lock:
            what, text = self._edits[max(to, self._at)].what, self._edits[to].text
            read = parse_folder(self.folder, text)
            with _replacing(self.folder / SHIP_FILE, text):
                self._journal.move(to)
                self._at = to
            self._read = read
            return what


def _placed(raw: RawHull, settings: HullSettings, sha256: str) -> PlacedHull:
    """A raw hull in ship axes."""
    return place(raw, settings, sha256=sha256)


@contextmanager
def _replacing(path: Path, text: str) -> Iterator[None]:
    """Do what is inside between the two halves of replacing a file: all that the disk may refuse, and the exchange.

    Either the old or the new text stands in the file, whole, whatever happens; where the disk refuses the text or what
    is inside fails, it is the old one.
    """
    beside = path.with_name(f".{path.name}.new")
    try:
        with beside.open("w", encoding="utf-8") as file:
            file.write(text)
            file.flush()
            os.fsync(file.fileno())
    except OSError as error:
        raise InputError(str(path), f"cannot be written: {error.strerror}") from None
    try:
        yield
    except BaseException:
        beside.unlink(missing_ok=True)
        raise
    try:
        beside.replace(path)
        folder = os.open(path.parent, os.O_RDONLY)
        try:
            os.fsync(folder)
        finally:
            os.close(folder)
    except OSError as error:
        raise InputError(str(path), f"cannot be written: {error.strerror}") from None
