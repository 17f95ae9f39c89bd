"""Reading daily low temperatures: a CSV with date, daily low and, where an area has several, the place."""

from __future__ import annotations

import csv
import stat
from dataclasses import dataclass
from datetime import date
from math import isfinite
from pathlib import Path
from typing import Final

import numpy as np

from beltwright.core.errors import InputError
from beltwright.core.units import FloatArray
from beltwright.rules.polar_code_imo_2017.part_ib_1_daily_low import Days
from beltwright.voyage.regime_rows import clean_date, clean_name

LARGEST_FILE_BYTES: Final = 50_000_000
COLDEST_DEGC, WARMEST_DEGC = -95.0, 60.0
_COLUMNS: Final = ("date", "daily_low_degc", "place")


@dataclass(frozen=True, slots=True, kw_only=True)
class Record:
    """Daily low temperatures of one place: the days (n,) in the file's order, each once, and the lows [degC] (n,)."""

    place: str
    days: Days
    daily_low_degc: FloatArray


def read_records(path: Path) -> tuple[Record, ...]:
    """Return the record of each place; raises InputError naming file, line, column, value and what is allowed."""
    lines = _text(path).splitlines()
    numbered = [(k, line) for k, line in enumerate(lines, 1) if line.strip() and not line.startswith("#")]
    if not numbered:
        raise InputError(path.name, "the table has no header line")
    header, *rows = csv.reader([line for _, line in numbered])
    header = [name.strip() for name in header]
    if sorted(header) not in (sorted(_COLUMNS[:2]), sorted(_COLUMNS)):
        allowed = "date, daily_low_degc and, if there are several, place"
        raise InputError(f"{path.name}: header", "other columns than these", value=", ".join(header), allowed=allowed)
    places: dict[str, dict[date, float]] = {}
    for (number, _), row in zip(numbered[1:], rows, strict=True):
        where = f"{path.name}: line {number}"
        if len(row) != len(header):
            raise InputError(where, "wrong number of fields", value=len(row), allowed=str(len(header)))
        fields = dict(zip(header, row, strict=True))
        place = _cleaned(where, "place", fields["place"], clean_name) if "place" in fields else ""
        day = date.fromisoformat(_cleaned(where, "date", fields["date"], clean_date))
        readings = places.setdefault(place, {})
        if day in readings:
            raise InputError(where, "the day is given already", value=f"{day}{' at ' if place else ''}{place}")
        readings[day] = _temperature(where, fields["daily_low_degc"])
    if not places:
        raise InputError(path.name, "the table has no rows")
    return tuple(
        Record(
            place=place,
            days=np.array(list(readings), dtype="datetime64[D]"),
            daily_low_degc=np.array([*readings.values()]),
        )
        for place, readings in places.items()
    )


def _temperature(where: str, word: str) -> float:
    """A temperature that there can be on Earth."""
    try:
        value = float(word)
    except ValueError:
        value = float("nan")
    if not isfinite(value):
        raise InputError(f"{where}: daily_low_degc", "is not a number", value=word.strip() or "blank", unit="degC")
    if not COLDEST_DEGC <= value <= WARMEST_DEGC:
        allowed = f"{COLDEST_DEGC:g} to {WARMEST_DEGC:g}, degrees Celsius"
        raise InputError(f"{where}: daily_low_degc", "is no air temperature", value=value, unit="degC", allowed=allowed)
    return value


def _cleaned(where: str, column: str, word: str, clean: object) -> str:
    """A word made fit."""
    assert callable(clean)
    try:
        return str(clean(word))
    except ValueError as error:
        raise InputError(f"{where}: {column}", str(error), value=word.strip() or "blank") from None


def _text(path: Path) -> str:
    """The text of a regular file of bounded size."""
    try:
        found = path.stat()
        if not stat.S_ISREG(found.st_mode):
            raise InputError(path.name, "is not a regular file")
        if found.st_size > LARGEST_FILE_BYTES:
            limit = f"at most {LARGEST_FILE_BYTES}"
            raise InputError(path.name, "is too large", value=found.st_size, unit="bytes", allowed=limit)
        return path.read_text(encoding="utf-8-sig")
    except FileNotFoundError:
        raise InputError(str(path), "there is no such file") from None
    except UnicodeDecodeError:
        raise InputError(path.name, "is not UTF-8 text") from None
    except OSError as error:
        raise InputError(path.name, f"cannot be read: {error.strerror}") from None
