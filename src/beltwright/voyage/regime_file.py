"""Reading tables of ice regimes: a route with dates and points, or a list of regimes by name.

A route may be long: it is read in blocks of whole lines, numbers and words of a column at once.
"""

from __future__ import annotations

import csv
import stat
from collections.abc import Iterator
from dataclasses import dataclass, field
from pathlib import Path
from typing import BinaryIO, Final

import numpy as np
from numpy.typing import NDArray

from beltwright.core.errors import InputError
from beltwright.core.units import BoolArray, LabelArray
from beltwright.voyage.regime_rows import FLAGS, PLACE, TENTHS, Block, Words, clean_date, clean_name, read_block
from beltwright.voyage.route import Numbers, Route, SmallInts, ordered_route

LARGEST_FILE_BYTES: Final = 1_500_000_000
BYTES_AT_ONCE: Final = 1_000_000
LONGEST_LINE: Final = 100_000
MOST_POINTS: Final = 1_000_000


@dataclass(frozen=True, slots=True, kw_only=True)
class RegimeList:
    """Named regimes (n,), with their concentrations (12, n) in tenths and what the user says of each."""

    names: LabelArray
    tenths: SmallInts
    decay_confirmed: BoolArray
    escort_planned: BoolArray


def read_route(path: Path) -> Route:
    """Return the regimes of a route; raises InputError naming file, line, column, value and what is allowed.

    Columns ``date`` (YYYY-MM-DD), ``point``, optionally ``latitude_deg`` and ``longitude_deg``, a column
    ``..._tenths`` for each ice type that occurs, optionally ``decay_confirmed`` and ``escort_planned`` (yes, no).
    """
    gathered = _Gathered()
    for block in _blocks(path, ("date", "point")):
        gathered.add(block)
    return gathered.route(path.name)


def read_regime_list(path: Path) -> RegimeList:
    """Return named regimes: columns ``regime``, ``..._tenths``, optionally the flags; raises InputError as a route."""
    names = Words(clean_name)
    tenths, decay, escort, met = [], [], [], 0
    for block in _blocks(path, ("regime",)):
        numbers = block.words("regime", names)
        again = numbers != np.arange(met, met + len(numbers))
        if again.any():
            row = int(np.argmax(again))
            raise block.fault(row, "regime", "is there already", block.word("regime", row))
        met += len(numbers)
        tenths.append(block.tenths())
        decay.append(block.flag(FLAGS[0]))
        escort.append(block.flag(FLAGS[1]))
    return RegimeList(
        names=np.array(list(names.number_of), dtype=np.str_),
        tenths=np.concatenate(tenths, axis=1),
        decay_confirmed=np.concatenate(decay),
        escort_planned=np.concatenate(escort),
    )


@dataclass(slots=True)
class _Gathered:
    """What has been read of a route so far."""

    dates: Words = field(default_factory=lambda: Words(clean_date))
    points: Words = field(default_factory=lambda: Words(clean_name))
    place: NDArray[np.float64] = field(default_factory=lambda: np.full((2, 0), np.nan))
    parts: list[tuple[Numbers, Numbers, SmallInts, BoolArray, BoolArray, Numbers]] = field(default_factory=list)

    def add(self, block: Block) -> None:
        """Take in a block."""
        date, point = block.words("date", self.dates), block.words("point", self.points)
        if len(self.points.number_of) > MOST_POINTS:
            raise InputError(block.where, "too many points", allowed=f"at most {MOST_POINTS}")
        self.parts.append((date, point, block.tenths(), block.flag(FLAGS[0]), block.flag(FLAGS[1]), block.line))
        if PLACE[0] in block.header:
            self._set_places(block, point)

    def _set_places(self, block: Block, point: Numbers) -> None:
        """Keep the place of each point; one that moves is refused."""
        given = np.stack([block.place(column) for column in PLACE])
        new = len(self.points.number_of) - self.place.shape[1]
        self.place = np.concatenate([self.place, np.full((2, new), np.nan)], axis=1)
        first, at = np.unique(point, return_index=True)
        fresh = np.isnan(self.place[0, first])
        self.place[:, first[fresh]] = given[:, at[fresh]]
        moved = (self.place[:, point] != given).any(axis=0)
        if moved.any():
            row = int(np.argmax(moved))
            what = "the point has another place in an earlier line"
            raise block.fault(row, "latitude_deg, longitude_deg", what, block.word("point", row))

    def route(self, where: str) -> Route:
        """Return all of it as a route."""
        date, point, tenths, decay, escort, line = zip(*self.parts, strict=True)
        self.parts.clear()
        points = np.array(list(self.points.number_of), dtype=np.str_)
        place = self.place if self.place.shape[1] else np.full((2, len(points)), np.nan)
        return ordered_route(
            where=where,
            dates=np.array(list(self.dates.number_of), dtype="datetime64[D]"),
            date_of_row=np.concatenate(date),
            points=points,
            latitude_deg=place[0],
            longitude_deg=place[1],
            point_of_row=np.concatenate(point),
            tenths=np.concatenate(tenths, axis=1),
            decay_confirmed=np.concatenate(decay),
            escort_planned=np.concatenate(escort),
            line=np.concatenate(line),
        )


def has_dates(path: Path) -> bool:
    """Return whether a table is a route (a column ``date``), and not a list of regimes."""
    with _opened(path) as file:
        _, names = _header(file, path.name)
    return "date" in names


def _blocks(path: Path, needed: tuple[str, ...]) -> Iterator[Block]:
    """The table, some lines at a time; a table without rows is refused."""
    any_rows = False
    with _opened(path) as file:
        line, header = _header(file, path.name)
        _check_header(path.name, header, needed)
        while text := _lines(file, path.name):
            block = read_block(path.name, header, text, line + 1)
            line += text.count(b"\n")
            if block is not None:
                any_rows = True
                yield block
    if not any_rows:
        raise InputError(path.name, "the table has no rows")


def _lines(file: BinaryIO, where: str, size: int | None = None) -> bytes:
    """The next whole lines of a file in UTF-8, about ``size`` bytes, line ends as LF; empty at its end."""
    text = file.read(BYTES_AT_ONCE if size is None else size)
    if text and not text.endswith(b"\n"):
        text += file.readline(LONGEST_LINE)
        if not text.endswith(b"\n"):
            if file.read(1):
                raise InputError(where, "a line is too long", allowed=f"at most {LONGEST_LINE} bytes")
            text += b"\n"
    try:
        if not text.isascii():
            text.decode()
    except UnicodeDecodeError:
        raise InputError(where, "is not UTF-8 text") from None
    if b"\r" in text:
        text = text.replace(b"\r\n", b"\n")
        if b"\r" in text:
            raise InputError(where, "has line ends of another kind", value="CR alone", allowed="LF, or CR and LF")
    return text


def _opened(path: Path) -> BinaryIO:
    """A regular file of bounded size, opened."""
    try:
        found = path.stat()
        if not stat.S_ISREG(found.st_mode):
            raise InputError(path.name, "is not a regular file")
        if found.st_size > LARGEST_FILE_BYTES:
            limit = f"at most {LARGEST_FILE_BYTES}"
            raise InputError(path.name, "is too large", value=found.st_size, unit="bytes", allowed=limit)
        return path.open("rb")
    except FileNotFoundError:
        raise InputError(str(path), "there is no such file") from None
    except OSError as error:
        raise InputError(path.name, f"cannot be read: {error.strerror}") from None


def _header(file: BinaryIO, where: str) -> tuple[int, tuple[str, ...]]:
    """The number of the header line, and the names in it."""
    for number in range(1, 1001):
        text = _lines(file, where, 1)
        line = text.decode().removeprefix("\ufeff") if number == 1 else text.decode()
        if not text:
            break
        if line.strip() and not line.startswith("#"):
            return number, tuple(name.strip() for name in next(csv.reader([line])))
    raise InputError(where, "the table has no header line")


def _check_header(where: str, header: tuple[str, ...], needed: tuple[str, ...]) -> None:
    """Refuse a header with a name that is unknown, given twice or missing."""
    known = (*needed, *(PLACE if "date" in needed else ()), *TENTHS, *FLAGS)
    for name in header:
        if name not in known:
            what = "no such ice type" if name.endswith("_tenths") else "no such column"
            raise InputError(f"{where}: header", what, value=name or "blank", allowed=", ".join(known))
        if header.count(name) > 1:
            raise InputError(f"{where}: header", "a column is there twice", value=name)
    missing = [name for name in needed if name not in header]
    if missing:
        raise InputError(f"{where}: header", "columns are missing", value=", ".join(missing))
    if (PLACE[0] in header) != (PLACE[1] in header):
        raise InputError(f"{where}: header", "latitude and longitude come together or not at all")
    if not any(name in header for name in TENTHS):
        raise InputError(f"{where}: header", "there is no ice type", allowed=", ".join(TENTHS))
