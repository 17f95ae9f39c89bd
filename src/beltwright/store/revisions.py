"""The record of one ship beside its folder: every edit as it was made, and the revisions that were kept.

One SQLite file, ``revisions.sqlite``. An edit or a revision is safe when the call returns: it has been written through
to the disk, and a program killed at any moment finds all that it was told. A revision never changes. Where two programs
have the record of one ship open, an edit of the one that has not seen the other's is refused, so that none is lost.
"""

from __future__ import annotations

import json
from collections.abc import Iterator, Mapping, Sequence
from contextlib import contextmanager
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path
from typing import Any, Final

from sqlalchemy import (
    Column,
    Connection,
    Engine,
    Integer,
    LargeBinary,
    MetaData,
    String,
    Table,
    Text,
    create_engine,
    delete,
    event,
    func,
    insert,
    select,
    update,
)
from sqlalchemy.exc import DatabaseError, OperationalError

from beltwright.core.errors import InputError
from beltwright.store.journal import Edit

FILE: Final = "revisions.sqlite"
LAYOUT: Final = 1  # of the tables below; a file of another layout is refused, never guessed at

_META = MetaData()
_LAYOUT = Table("layout", _META, Column("number", Integer, primary_key=True))
_EDITS = Table(
    "edits", _META, Column("place", Integer, primary_key=True), Column("text", Text, nullable=False),
    Column("what", Text, nullable=False), Column("at", String(32), nullable=False),
)  # fmt: skip
_CURSOR = Table("cursor", _META, Column("id", Integer, primary_key=True), Column("place", Integer, nullable=False))
_REVISIONS = Table(
    "revisions", _META, Column("number", Integer, primary_key=True), Column("name", String(80), nullable=False),
    Column("author", String(80), nullable=False), Column("note", Text, nullable=False),
    Column("at", String(32), nullable=False), Column("inputs_sha256", String(64), nullable=False),
    Column("result_sha256", String(64), nullable=False), Column("description", Text, nullable=False),
    Column("hull_file", LargeBinary, nullable=False), Column("result", Text, nullable=False),
)  # fmt: skip
_FILES = Table(
    "revision_files", _META, Column("number", Integer, primary_key=True), Column("name", String(255), primary_key=True),
    Column("content", LargeBinary, nullable=False),
)  # fmt: skip


@dataclass(frozen=True, slots=True, kw_only=True)
class RevisionLine:
    """One revision in a list: its number from 1, and what was said when it was kept."""

    number: int
    name: str
    author: str
    note: str
    at: str
    inputs_sha256: str
    result_sha256: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Revision:
    """A revision as a whole: its line, the text of ``ship.toml``, the hull file's content, and the result.

    ``files`` holds the content of the other files that the description names, by their names.
    """

    line: RevisionLine
    description: str
    hull_file: bytes
    result: Mapping[str, Any]
    files: Mapping[str, bytes]


class ShipRecord:
    """The record of one ship folder; also the journal of an editing session.

    Parameters
    ----------
    folder : the ship folder; the file is made where there is none

    Raises
    ------
    InputError : the file cannot be opened or is of another layout
    """

    def __init__(self, folder: Path) -> None:
        self.path = folder / FILE
        self._engine = create_engine(f"sqlite:///{self.path}")
        self._writer = self._engine.execution_options(writes=True)
        event.listen(self._engine, "connect", _write_through)
        event.listen(self._engine, "begin", _begin)
        try:
            self._lay_out()
            with self._told() as connection:
                self._seen = _times_written(connection)
        except InputError:
            self.close()
            raise

    def _lay_out(self) -> None:
        """Make the tables where there are none; refuse a file that is laid out in another way."""
        with self._told() as connection:
            _META.create_all(connection)
            found = connection.execute(select(_LAYOUT.c.number)).scalar()
            if found is None:
                connection.execute(insert(_LAYOUT).values(number=LAYOUT))
            elif found != LAYOUT:
                raise InputError(self.path.name, "is of another layout", value=found, allowed=str(LAYOUT))

    def close(self) -> None:
        """Let go of the file."""
        self._engine.dispose()

    def load(self) -> tuple[Sequence[Edit], int]:
        """Return the states of the journal, oldest first, and which is in force; none and -1 where it is new."""
        with self._told() as connection:
            seen = _times_written(connection)
            rows = connection.execute(
                select(_EDITS.c.place, _EDITS.c.text, _EDITS.c.what).order_by(_EDITS.c.place)
            ).all()
            found = connection.execute(select(_CURSOR.c.place)).scalar()
        place = -1 if found is None else int(found)
        if [row.place for row in rows] != list(range(len(rows))) or not min(len(rows) - 1, 0) <= place < len(rows):
            raise InputError(
                self.path.name, "the journal of edits is damaged", allowed="a file as this program wrote it"
            )
        self._seen = seen
        return tuple(Edit(text, what) for _, text, what in rows), place

    def record(self, edit: Edit, after: int) -> None:
        """Keep a state as the one after state ``after``; what was undone is forgotten.

        Raises InputError, as :meth:`move` does, where another program wrote the journal after this one read it.
        """
        with self._journal() as connection:
            connection.execute(delete(_EDITS).where(_EDITS.c.place > after))
            connection.execute(insert(_EDITS).values(place=after + 1, text=edit.text, what=edit.what, at=_now()))
            self._point(connection, after + 1)

    def move(self, to: int) -> None:
        """Keep that another state is in force."""
        with self._journal() as connection:
            self._point(connection, to)

    def keep(
        self, *, name: str, author: str, note: str, inputs_sha256: str, result_sha256: str, description: str,
        hull_file: bytes, result: Mapping[str, Any], files: Mapping[str, bytes],
    ) -> RevisionLine:  # fmt: skip
        """Keep a revision; returns its line with its number. ``files`` are the other files that it stands on."""
        values = {
            "name": name, "author": author, "note": note, "at": _now(), "inputs_sha256": inputs_sha256,
            "result_sha256": result_sha256,
        }  # fmt: skip
        with self._told(self._writer) as connection:
            number = int(connection.execute(select(func.coalesce(func.max(_REVISIONS.c.number), 0))).scalar_one()) + 1
            text = json.dumps(result, allow_nan=False, ensure_ascii=False, separators=(",", ":"))
            connection.execute(
                insert(_REVISIONS).values(
                    number=number, description=description, hull_file=hull_file, result=text, **values
                )
            )
            for file, content in files.items():
                connection.execute(insert(_FILES).values(number=number, name=file, content=content))
        return RevisionLine(number=number, **values)

    def revisions(self) -> tuple[RevisionLine, ...]:
        """Return the revisions kept, oldest first."""
        names = [column.name for column in _REVISIONS.c if column.name not in ("description", "hull_file", "result")]
        with self._told() as connection:
            rows = connection.execute(select(*(_REVISIONS.c[name] for name in names)).order_by(_REVISIONS.c.number))
            return tuple(RevisionLine(**dict(zip(names, row, strict=True))) for row in rows.all())

    def revision(self, number: int) -> Revision:
        """Return one revision; InputError where there is none of that number."""
        line = next((line for line in self.revisions() if line.number == number), None)
        if line is None:
            known = ", ".join(str(one.number) for one in self.revisions()) or "none is kept yet"
            raise InputError("revision", "there is no such revision", value=number, allowed=known)
        wanted = select(_REVISIONS.c.description, _REVISIONS.c.hull_file, _REVISIONS.c.result)
        with self._told() as connection:
            description, hull_file, result = connection.execute(wanted.where(_REVISIONS.c.number == number)).one()
            rows = connection.execute(select(_FILES.c.name, _FILES.c.content).where(_FILES.c.number == number)).all()
        files = {str(name): bytes(content) for name, content in rows}
        return Revision(line=line, description=description, hull_file=hull_file, result=json.loads(result), files=files)

    @staticmethod
    def _point(connection: Connection, to: int) -> None:
        """Say which state is in force."""
        if connection.execute(update(_CURSOR).values(place=to)).rowcount == 0:
            connection.execute(insert(_CURSOR).values(id=1, place=to))

    @contextmanager
    def _journal(self) -> Iterator[Connection]:
        """A transaction that writes the journal, refused where another program wrote it since this one read it."""
        with self._told(self._writer) as connection:
            if _times_written(connection) != self._seen:
                raise InputError(
                    self.path.name,
                    "was written by another program since it was opened here",
                    allowed="opening the ship anew",
                )
            connection.exec_driver_sql(f"PRAGMA user_version = {self._seen + 1}")
            yield connection
        self._seen += 1

    @contextmanager
    def _told(self, engine: Engine | None = None) -> Iterator[Connection]:
        """A transaction, which only reads where no engine is given; what goes wrong with the file is one line."""
        try:
            with (engine or self._engine).begin() as connection:
                yield connection
        except (OperationalError, DatabaseError) as error:
            raise InputError(str(self.path), f"cannot be used: {error.orig}") from None


def _times_written(connection: Connection) -> int:
    """How often the journal has been written, which the file keeps in the number that SQLite leaves to its user."""
    return int(connection.exec_driver_sql("PRAGMA user_version").scalar_one())


def _begin(connection: Connection) -> None:
    """Begin a transaction; one that writes takes its turn at once, so that what it reads still holds when it writes."""
    writes = connection.get_execution_options().get("writes", False)
    connection.exec_driver_sql("BEGIN IMMEDIATE" if writes else "BEGIN")


def _write_through(connection: Any, _: object) -> None:
    """Have SQLite write everything through to the disk before it says that it is kept."""
    connection.isolation_level = None  # transactions begin where we say, by _begin, and not by the driver's own guess
    cursor = connection.cursor()
    cursor.execute("PRAGMA journal_mode=WAL")
    cursor.execute("PRAGMA synchronous=FULL")
    cursor.execute("PRAGMA busy_timeout=5000")
    cursor.close()


def _now() -> str:
    """The time, to the second, in UTC."""
    return datetime.now(UTC).isoformat(timespec="seconds")
