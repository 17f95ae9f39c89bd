"""Rows of a table of regimes as numbers: a block of lines at a time, and the first faulty line by its number."""

from __future__ import annotations

import csv
import warnings
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date
from typing import Any, Final

import numpy as np
from numpy.typing import NDArray

from beltwright.core.errors import InputError
from beltwright.core.units import BoolArray
from beltwright.rules.polaris_imo_2016.tables import ICE_TYPES
from beltwright.voyage.plain_text import plain_columns

TENTHS: Final = tuple(f"{name}_tenths" for name in ICE_TYPES)
PLACE: Final = ("latitude_deg", "longitude_deg")
FLAGS: Final = ("decay_confirmed", "escort_planned")
LONGEST_WORD: Final = 60
_TEN: Final = 10
_LIMITS: Final = {"latitude_deg": (-90.0, 90.0), "longitude_deg": (-180.0, 360.0)}
_YES_NO: Final = {"yes": True, "no": False, "": False}


@dataclass(slots=True)
class Words:
    """Words numbered in the order in which they are first met; ``clean`` makes a word fit or raises ValueError."""

    clean: Callable[[str], str]
    number_of: dict[str, int] = field(default_factory=dict)
    _met: dict[bytes, int] = field(default_factory=dict)  # words as they stand in the file, by order
    _raw: NDArray[np.bytes_] = field(default_factory=lambda: np.zeros(0, dtype="S1"))
    _number: NDArray[np.int32] = field(default_factory=lambda: np.zeros(0, dtype=np.int32))  # of each of them

    def numbers(self, column: NDArray[np.bytes_], fault: Callable[[int, str, str], InputError]) -> NDArray[np.int32]:
        """Number a column of words; ``fault`` makes the error from row, word and what is wrong with it.

        A route names its dates in runs and its points in the same order on each date, or the other way round. Both are
        tried first, and looked at word by word; other orders are found one by one.
        """
        begins = np.concatenate([[True], column[1:] != column[:-1]])
        rows = np.flatnonzero(begins)
        words = column[rows]
        order = self._again(words)
        if order is None:
            order = self._one_by_one(words, rows, fault)
        numbers = self._number[order]
        return numbers if len(rows) == len(column) else numbers[np.cumsum(begins) - 1]

    def _again(self, words: NDArray[np.bytes_]) -> NDArray[np.int64] | None:
        """The order of words that go on from one to the next as when first met, round and round; else None."""
        first = self._met.get(words[0])
        if first is None:
            return None
        order = (first + np.arange(len(words))) % len(self._raw)
        return order if (self._raw[order] == words).all() else None

    def _one_by_one(
        self, words: NDArray[np.bytes_], rows: NDArray[np.int64], fault: Callable[[int, str, str], InputError]
    ) -> NDArray[np.int64]:
        """The order of words, new ones taken in."""
        raw: list[bytes] = words.tolist()
        fresh = [word for word in dict.fromkeys(raw) if word not in self._met]
        number = []
        for word in fresh:
            told = word.decode()
            try:
                number.append(self.number_of.setdefault(self.clean(told), len(self.number_of)))
            except ValueError as error:
                raise fault(int(rows[raw.index(word)]), told, str(error)) from None
        if fresh:
            self._met.update(zip(fresh, range(len(self._met), len(self._met) + len(fresh)), strict=True))
            self._raw = np.concatenate([self._raw, np.array(fresh, dtype=np.bytes_)])
            self._number = np.concatenate([self._number, np.array(number, dtype=np.int32)])
        return np.fromiter(map(self._met.__getitem__, raw), dtype=np.int64, count=len(raw))


def clean_date(word: str) -> str:
    """Return a date ``YYYY-MM-DD``; anything else is a ValueError."""
    text = word.strip()
    try:
        if len(text) == len("2031-01-01"):
            return date.fromisoformat(text).isoformat()
    except ValueError:
        pass
    raise ValueError("is no date of the form YYYY-MM-DD")


def clean_name(word: str) -> str:
    """Return a name without blanks around it; an empty or very long one is a ValueError."""
    text = word.strip()
    if not text or len(text) >= LONGEST_WORD:
        raise ValueError(f"must have 1 to {LONGEST_WORD - 1} characters")
    return text


@dataclass(frozen=True, slots=True, kw_only=True)
class Block:
    """Some lines of the table: their numbers in the file (n,), and each column of the header as an array (n,).

    Words are bytes as they stand in the file; tenths are floats, or whole numbers of eight bits where they are known to
    be from 0 to 10.
    """

    where: str
    header: tuple[str, ...]
    line: NDArray[np.int32]
    columns: Mapping[str, NDArray[Any]]

    def word(self, column: str, row: int) -> str:
        """Return a word as a message shows it."""
        text: bytes = self.columns[column][row]
        return text.decode().strip()

    def fault(self, row: int, column: str, what: str, value: object, unit: str = "", allowed: str = "") -> InputError:
        """Return the error for one cell."""
        place = f"{self.where}: line {self.line[row]}: {column}"
        return InputError(place, what, value="blank" if value == "" else value, unit=unit, allowed=allowed)

    def words(self, column: str, words: Words) -> NDArray[np.int32]:
        """Return a column of words, numbered."""
        return words.numbers(self.columns[column], lambda row, word, what: self.fault(row, column, what, word.strip()))

    def place(self, column: str) -> NDArray[np.float64]:
        """Return a latitude or longitude; one outside the globe is an InputError."""
        values: NDArray[np.float64] = self.columns[column]
        least, most = _LIMITS[column]
        bad = ~((values >= least) & (values <= most))
        if bad.any():
            row = int(np.argmax(bad))
            raise self.fault(row, column, "lies outside the globe", float(values[row]), "deg", f"{least:g} to {most:g}")
        return values

    def flag(self, column: str) -> BoolArray:
        """Return a column of yes and no, blank meaning no; all no where the table has no such column."""
        if column not in self.header:
            return np.zeros(len(self.line), dtype=bool)
        words: NDArray[np.bytes_] = self.columns[column]
        found = np.zeros(len(words), dtype=bool)
        left = np.ones(len(words), dtype=bool)
        while left.any():
            row = int(np.argmax(left))
            word = self.word(column, row)
            if word.lower() not in _YES_NO:
                raise self.fault(row, column, "is neither yes nor no", word, allowed="yes, no, blank")
            same = words == words[row]
            found |= same & _YES_NO[word.lower()]
            left &= ~same
        return found

    def tenths(self) -> NDArray[np.int8]:
        """Return the concentrations (12, n): whole tenths that add up to ten; a type without column is not there."""
        found = np.zeros((len(TENTHS), len(self.line)), dtype=np.int8)
        for k, column in enumerate(TENTHS):
            if column not in self.header:
                continue
            values = self.columns[column]
            if values.dtype == np.int8:
                found[k] = values
                continue
            bad = ~((values >= 0.0) & (values <= _TEN) & (values == np.floor(values)))
            if bad.any():
                row = int(np.argmax(bad))
                value = float(values[row])
                what = "is negative" if value < 0.0 else "is no whole number of tenths up to ten"
                raise self.fault(row, column, what, value, "tenths", "0 to 10, whole")
            found[k] = values.astype(np.int8)
        total = found.sum(axis=0, dtype=np.int16)
        if (total != _TEN).any():
            row = int(np.argmax(total != _TEN))
            what = "concentrations do not add up to ten, ice-free water included"
            raise InputError(
                f"{self.where}: line {self.line[row]}", what, value=int(total[row]), unit="tenths", allowed="10"
            )
        return found


def read_block(where: str, header: Sequence[str], text: bytes, first_line: int) -> Block | None:
    """Return some whole lines of a table as numbers and words, blank and comment lines left out; None if none is left.

    ``text`` ends with a line end. A line with too few or too many fields, or a number that is none, is an InputError
    naming line and column.
    """
    plain = plain_columns(text, header, TENTHS, PLACE)
    if plain is not None:
        number = np.arange(first_line, first_line + len(plain[header[0]]), dtype=np.int32)
        return Block(where=where, header=tuple(header), line=number, columns=plain)
    lines = text.decode().split("\n")[:-1]
    kept = [k for k, line in enumerate(lines) if line.strip() and not line.startswith("#")]
    if not kept:
        return None
    number = (np.array(kept) + first_line).astype(np.int32)
    rows = [lines[k] for k in kept]
    kinds = [(name, np.float64 if name in TENTHS or name in PLACE else f"U{LONGEST_WORD}") for name in header]
    try:
        with warnings.catch_warnings():
            warnings.simplefilter("error")
            columns = np.loadtxt(rows, delimiter=",", dtype=kinds, comments=None, quotechar='"', ndmin=1)
    except (ValueError, Warning):
        columns = np.empty(0)
    if len(columns) != len(rows):
        raise _first_fault(where, header, rows, number)
    found = {name: columns[name] for name in header}
    words = {name: np.char.encode(found[name], "utf-8") for name in header if found[name].dtype.kind == "U"}
    return Block(where=where, header=tuple(header), line=number, columns=found | words)


def _first_fault(where: str, header: Sequence[str], rows: Sequence[str], number: NDArray[np.int32]) -> InputError:
    """The error for the first line that cannot be read."""
    for line, text in zip(number, rows, strict=True):
        fields = next(csv.reader([text]))
        if len(fields) != len(header):
            return InputError(
                f"{where}: line {line}", "wrong number of fields", value=len(fields), allowed=str(len(header))
            )
        for name, word in zip(header, fields, strict=True):
            if name in TENTHS or name in PLACE:
                try:
                    float(word)
                except ValueError:
                    shown = word.strip() or "blank"
                    return InputError(f"{where}: line {line}: {name}", "is not a number", value=shown)
    return InputError(f"{where}: lines {number[0]} to {number[-1]}", "cannot be read as a table", allowed="plain CSV")
