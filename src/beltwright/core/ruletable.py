"""Printed tables as data: every cell with its standing, every look-up by named keys, no cell guessed."""

from __future__ import annotations

import csv
from collections.abc import Mapping
from dataclasses import dataclass
from importlib.resources import files
from itertools import product
from pathlib import Path
from typing import Any

import numpy as np
from numpy.typing import NDArray

from beltwright.core.errors import InputError
from beltwright.core.provenance import Status
from beltwright.core.units import BoolArray, FloatArray, IntArray, LabelArray, Unit


@dataclass(frozen=True, slots=True, kw_only=True)
class Cell:
    """One cell of a printed table: its keys, its value (None where the page has a blank) and its standing."""

    table: str
    keys: tuple[tuple[str, str], ...]
    value: float | str | None
    status: Status
    note: str = ""

    @property
    def where(self) -> str:
        """The cell's place in words, e.g. ``Table 4 (polar_class PC4, hull_area BIi)``."""
        return f"{self.table} (" + ", ".join(f"{key} {value}" for key, value in self.keys) + ")"


class RuleTable:
    """A printed table in long form.

    The CSV has header comments ``# key: value`` (document, edition, table, title, page, read_by, unit, note), then a
    header line of the key columns, ``value``, ``status`` and optionally ``note``. A blank value is a blank cell. A
    printed row or column that serves several words names them all, with ``|`` between.
    """

    def __init__(self, header: Mapping[str, str], keys: tuple[str, ...], cells: Mapping[tuple[str, ...], Cell]) -> None:
        self.header = dict(header)
        self.keys = keys
        self._cells = dict(cells)
        self.unit = Unit(header.get("unit", "-"))

    @property
    def cells(self) -> dict[tuple[str, ...], Cell]:
        """The cells by their keys; a printed cell that serves several keys stands under each of them."""
        return self._cells

    @property
    def name(self) -> str:
        """The table's printed number with its document, e.g. ``UR I2 Table 4``."""
        return f"{self.header['document']} {self.header['table']}"

    def cell(self, *keys: str) -> Cell:
        """Return one cell; an unknown key is an InputError that lists the allowed ones."""
        found = self.cells.get(keys)
        if found is None:
            for position, key in enumerate(self.keys):
                allowed = sorted({k[position] for k in self.cells})
                if keys[position] not in allowed:
                    raise InputError(self.name, f"no such {key}", value=keys[position], allowed=", ".join(allowed))
            raise InputError(self.name, "no such cell", value=" / ".join(keys), allowed="the cells of the table")
        return found

    def has_value(self, *keys: LabelArray) -> BoolArray:
        """Return where the cell is not blank; keys are word arrays that broadcast."""
        columns = np.broadcast_arrays(*keys)
        return np.array([self.cell(*map(str, row)).value is not None for row in zip(*columns, strict=True)], dtype=bool)

    def numbers(self, *keys: LabelArray | str) -> FloatArray:
        """Return the numbers of the cells; keys are words or word arrays that broadcast; a blank is an InputError."""
        return self._look_up(keys, np.float64)

    def words(self, *keys: LabelArray | str) -> LabelArray:
        """Return the words of the cells; keys are words or word arrays that broadcast; a blank is an InputError."""
        return self._look_up(keys, np.str_)

    def _look_up(self, keys: tuple[LabelArray | str, ...], dtype: type) -> NDArray[Any]:
        """Number the words of each key, the last number standing for an unknown word; then one indexing does it."""
        words = [np.asarray(key, dtype=np.str_) for key in keys]
        if all(column.size == 1 for column in words):
            only: NDArray[Any] = np.array(self._filled([str(column.flat[0]) for column in words]), dtype=dtype)
            return np.broadcast_to(only, np.broadcast_shapes(*(column.shape for column in words))).copy()
        cells = self.cells
        levels = [sorted({place[k] for place in cells}) for k in range(len(keys))]
        filled = np.zeros([len(level) + 1 for level in levels], dtype=bool)
        values: NDArray[Any] = np.full(filled.shape, np.nan, dtype=np.float64 if dtype is np.float64 else object)
        for place, cell in cells.items():
            at = tuple(level.index(word) for level, word in zip(levels, place, strict=True))
            values[at], filled[at] = cell.value, cell.value is not None
        numbers = tuple(_number(level, column) for level, column in zip(levels, words, strict=True))
        found = filled[numbers]
        if not found.all():
            row = int(np.flatnonzero(~found)[0])
            self._filled([str(column.flat[row]) for column in np.broadcast_arrays(*words)])
        looked_up: NDArray[Any] = values[numbers].astype(dtype)
        return looked_up

    def _filled(self, keys: list[str]) -> float | str:
        """The value of one cell that must not be blank."""
        cell = self.cell(*keys)
        if cell.value is None:
            raise InputError(cell.where, "the cell is blank: the table asks for nothing here")
        return cell.value


class ChosenTable(RuleTable):
    """Printed tables of one shape of which one applies: a first key says which. Every cell keeps its own table's name.

    The cells are read from the tables each time, so that a change in one of them is seen here.
    """

    def __init__(self, key: str, tables: Mapping[str, RuleTable]) -> None:
        first = next(iter(tables.values()))
        if any(table.keys != first.keys for table in tables.values()):
            raise ValueError(f"tables {', '.join(t.name for t in tables.values())} have different keys")
        numbers = " or ".join(table.header["table"] for table in tables.values())
        super().__init__({**first.header, "table": numbers}, (key, *first.keys), {})
        self.tables = dict(tables)

    @property
    def cells(self) -> dict[tuple[str, ...], Cell]:
        """The cells of all the tables, by the choice and then by their keys."""
        return {(word, *place): cell for word, table in self.tables.items() for place, cell in table.cells.items()}


def load_table(package: str, filename: str) -> RuleTable:
    """Load a rule table from the ``data`` folder of a package."""
    text = files(package).joinpath("data", filename).read_text(encoding="utf-8")
    return parse_table(text, filename)


def load_table_file(path: Path) -> RuleTable:
    """Load a rule table from a file."""
    return parse_table(path.read_text(encoding="utf-8"), path.name)


def parse_table(text: str, filename: str) -> RuleTable:
    """Parse a rule table; a missing header, an unknown status or a repeated cell is an InputError naming the line."""
    lines = text.splitlines()
    header = dict(_header_line(line) for line in lines if line.startswith("#"))
    for key in ("document", "edition", "table", "title", "read_by"):
        if not header.get(key):
            raise InputError(filename, f"the header lacks '# {key}:'")
    name = f"{header['document']} {header['table']}"
    body = [(number, line) for number, line in enumerate(lines, 1) if line.strip() and not line.startswith("#")]
    rows = list(csv.reader([line for _, line in body]))
    columns = rows[0]
    keys = tuple(column for column in columns if column not in ("value", "status", "note"))
    cells: dict[tuple[str, ...], Cell] = {}
    for (number, _), row in zip(body[1:], rows[1:], strict=True):
        where = f"{filename}: line {number}"
        if len(row) != len(columns):
            raise InputError(where, "wrong number of fields", value=len(row), allowed=str(len(columns)))
        fields = dict(zip(columns, row, strict=True))
        cell = Cell(
            table=name,
            keys=tuple((key, fields[key]) for key in keys),
            value=_value(fields["value"]),
            status=_status(fields["status"], where),
            note=fields.get("note", ""),
        )
        for place in product(*(fields[key].split("|") for key in keys)):
            if place in cells:
                raise InputError(where, "this cell is there already", value=" / ".join(place))
            cells[place] = cell
    return RuleTable(header, keys, cells)


def _number(level: list[str], words: LabelArray) -> IntArray:
    """The number of each word in a sorted list, or the list's length where it is not in it."""
    at = np.searchsorted(level, words)
    known = np.asarray(level)[np.minimum(at, len(level) - 1)] == words
    number: IntArray = np.where(known, at, len(level))
    return number


def _header_line(line: str) -> tuple[str, str]:
    """``# key: value`` as a pair."""
    key, _, value = line.lstrip("# ").partition(":")
    return key.strip(), value.strip()


def _value(text: str) -> float | str | None:
    """A number where it reads as one, a word otherwise, None where blank."""
    if not text.strip():
        return None
    try:
        return float(text)
    except ValueError:
        return text.strip()


def _status(text: str, where: str) -> Status:
    """The standing of a cell."""
    try:
        return Status(text.strip())
    except ValueError:
        raise InputError(where, "unknown status", value=text, allowed=", ".join(s.value for s in Status)) from None
