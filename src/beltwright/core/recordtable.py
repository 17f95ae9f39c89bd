"""Tables of records as data: one row per thing, several columns, and the standing of each row.

A catalogue of sections or a list of steel grades is such a table; a table printed in a rule is a
:class:`~beltwright.core.ruletable.RuleTable`.
"""

from __future__ import annotations

import csv
from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass
from importlib.resources import files

import numpy as np

from beltwright.core.errors import InputError
from beltwright.core.provenance import Status
from beltwright.core.ruletable import Cell
from beltwright.core.units import BoolArray, FloatArray, LabelArray

_NEEDED = ("document", "edition", "table", "title", "read_by")


@dataclass(frozen=True, slots=True, kw_only=True)
class RecordTable:
    """A data file: its header, its columns as the words in the file, and the file's line number of each row.

    The CSV has header comments ``# key: value`` (document, edition, table, title, read_by, and optionally note), then
    a header line, then rows. A column ``status`` is required.
    """

    filename: str
    header: Mapping[str, str]
    columns: Mapping[str, tuple[str, ...]]
    lines: tuple[int, ...]

    def __len__(self) -> int:
        return len(self.lines)

    def words(self, column: str) -> LabelArray:
        """Return a column as words, shape (rows,)."""
        return np.array(self._column(column), dtype=np.str_)

    def filled(self, column: str) -> BoolArray:
        """Return where a column is not blank, shape (rows,)."""
        return np.array([bool(word.strip()) for word in self._column(column)], dtype=bool)

    def numbers(self, column: str) -> FloatArray:
        """Return a column as finite numbers, shape (rows,); anything else is an InputError naming the line."""
        return np.array([self._number(column, row) for row in range(len(self))], dtype=np.float64)

    def numbers_where_filled(self, column: str) -> FloatArray:
        """Return the numbers of the rows that are not blank, shape (filled rows,)."""
        return np.array([self._number(column, int(row)) for row in np.flatnonzero(self.filled(column))])

    def statuses(self, column: str = "status") -> tuple[Status, ...]:
        """Return the standing of each row; an unknown word is an InputError naming the line."""
        return tuple(self._status(word, line) for word, line in zip(self._column(column), self.lines, strict=True))

    def cells(self, key: str, names: Collection[str], columns: Sequence[str]) -> tuple[Cell, ...]:
        """Return the cells of some columns in the rows whose ``key`` column holds one of the names.

        Each with the standing of its row: the values that a result used, for the report's list and the result's hash.
        """
        words, standing, table = (
            self._column(key),
            self.statuses(),
            f"{self.header['document']}: {self.header['table']}",
        )
        return tuple(
            Cell(table=table, keys=((key, words[row]), ("column", column)), value=_value(word), status=standing[row])
            for row in range(len(self))
            if words[row] in names
            for column in columns
            if (word := self._column(column)[row].strip())
        )

    def _column(self, column: str) -> tuple[str, ...]:
        """A column, or an InputError that lists the columns there are."""
        if column not in self.columns:
            raise InputError(self.filename, "no such column", value=column, allowed=", ".join(self.columns))
        return self.columns[column]

    def _number(self, column: str, row: int) -> float:
        """One finite number."""
        word = self._column(column)[row]
        try:
            number = float(word)
        except ValueError:
            number = float("nan")
        if not np.isfinite(number):
            raise InputError(
                f"{self.filename}: line {self.lines[row]}", f"{column} is not a number", value=word or "blank"
            )
        return number

    def _status(self, word: str, line: int) -> Status:
        """The standing of one row."""
        try:
            return Status(word.strip())
        except ValueError:
            allowed = ", ".join(status.value for status in Status)
            where = f"{self.filename}: line {line}"
            raise InputError(where, "unknown status", value=word, allowed=allowed) from None


def load_records(package: str, filename: str) -> RecordTable:
    """Load a table of records from the ``data`` folder of a package."""
    return parse_records(files(package).joinpath("data", filename).read_text(encoding="utf-8"), filename)


def parse_records(text: str, filename: str) -> RecordTable:
    """Parse a table of records; a missing header or a short row is an InputError naming the line."""
    numbered = [(number, line) for number, line in enumerate(text.splitlines(), 1) if line.strip()]
    comments = (line.lstrip("# ").partition(":") for _, line in numbered if line.startswith("#"))
    header = {key.strip(): value.strip() for key, _, value in comments}
    for key in _NEEDED:
        if not header.get(key):
            raise InputError(filename, f"the header lacks '# {key}:'")
    body = [(number, line) for number, line in numbered if not line.startswith("#")]
    if not body:
        raise InputError(filename, "the table has no header line")
    names, *rows = csv.reader([line for _, line in body])
    if "status" not in names or len(set(names)) != len(names):
        raise InputError(filename, "the columns must differ and one must be 'status'", value=", ".join(names))
    lines = tuple(number for number, _ in body[1:])
    for number, row in zip(lines, rows, strict=True):
        if len(row) != len(names):
            where = f"{filename}: line {number}"
            raise InputError(where, "wrong number of fields", value=len(row), allowed=str(len(names)))
    columns = {name: tuple(row[position] for row in rows) for position, name in enumerate(names)}
    return RecordTable(filename=filename, header=header, columns=columns, lines=lines)


def _value(word: str) -> float | str:
    """A number where it reads as one, a word otherwise."""
    try:
        return float(word)
    except ValueError:
        return word
