"""Offset tables: a CSV of stations, heights and half-breadths, read strictly, and written.

The table::

    # any line that starts with a hash is a remark
    station_m,height_m,half_breadth_m,knuckle
    0.0,0.0,0.0,0
    0.0,0.0,5.0,1

The unit (m, cm, mm, in, ft) stands in the column names. Points of a station follow its girth from the centreline
upwards; the same height may come twice (a flat bottom). ``knuckle`` is 1 where the section has a corner; a knuckle
on the first point says that the panel below it has shrunk to nothing at this station. The column may be left out.
"""

from __future__ import annotations

import csv
import math
from collections.abc import Sequence
from pathlib import Path

import numpy as np

from beltwright.core.errors import InputError
from beltwright.hull.offset_station import OffsetStation
from beltwright.hull.patch import RawHull
from beltwright.hull.readers.offsets_surface import surface_patches

UNITS = ("m", "cm", "mm", "in", "ft")
MAX_ROWS = 200_000
_COLUMNS = ("station", "height", "half_breadth")


def read_offsets(path: Path) -> RawHull:
    """Read an offset table and lay interpolating spline faces through it.

    Raises
    ------
    InputError : naming the file, the line and the field
    """
    unit, stations, notes = parse_offsets(path)
    patches, remarks = surface_patches(stations, str(path))
    return RawHull(
        patches=patches, length_unit=unit, source=path.name, format="offsets", notes=(*notes, *remarks)
    )  # fmt: skip


def parse_offsets(path: Path) -> tuple[str | None, tuple[OffsetStation, ...], tuple[str, ...]]:
    """Return the table's unit (None where the column names state none), its stations by rising x, and remarks."""
    where = str(path)
    try:
        text = path.read_text(encoding="utf-8-sig")
    except UnicodeDecodeError as error:
        raise InputError(where, f"is not text (byte {error.start} is not UTF-8)") from None
    rows = [(i, line) for i, line in enumerate(text.splitlines(), start=1) if line.strip() and line.strip()[0] != "#"]
    if not rows:
        raise InputError(where, "holds no line of data")
    if len(rows) > MAX_ROWS:
        raise InputError(where, "too many lines", value=len(rows), allowed=f"at most {MAX_ROWS}")
    unit, order = _header(where, *rows[0])
    table: dict[float, list[tuple[float, float, bool]]] = {}
    last: float | None = None
    for number, line in rows[1:]:
        x, z, y, knuckle = _row(f"{where} line {number}", line, order)
        if x in table and x != last:
            raise InputError(f"{where} line {number}", "this station has appeared before; keep its points together",
                             value=x)  # fmt: skip
        points = table.setdefault(x, [])
        if points and points[-1][:2] == (z, y):
            raise InputError(f"{where} line {number}", "repeats the point before it", value=f"{z:g}, {y:g}")
        points.append((z, y, knuckle))
        last = x
    stations = tuple(_station(x, points) for x, points in sorted(table.items()))
    _check(where, stations)
    return unit, stations, ()


def _header(where: str, number: int, line: str) -> tuple[str | None, dict[str, int]]:
    """Return the unit in the column names and the column of each quantity."""
    names = [name.strip().lower() for name in next(csv.reader([line]))]
    spot = f"{where} line {number}"
    allowed = "station_m,height_m,half_breadth_m[,knuckle] (or _cm, _mm, _in, _ft)"
    order: dict[str, int] = {}
    units: set[str | None] = set()
    for column, name in enumerate(names):
        stem, _, unit = name.rpartition("_")
        if name in _COLUMNS or name == "knuckle":
            stem, unit = name, ""
        if stem not in (*_COLUMNS, "knuckle") or (unit and unit not in UNITS):
            raise InputError(spot, "unknown column", value=name, allowed=allowed)
        if stem in order:
            raise InputError(spot, "this column stands twice", value=name)
        order[stem] = column
        if stem != "knuckle":
            units.add(unit or None)
    for stem in _COLUMNS:
        if stem not in order:
            raise InputError(spot, f"column {stem} is missing", allowed=allowed)
    if len(units) > 1:
        raise InputError(spot, "the columns state different units", value=",".join(names), allowed="one unit for all")
    return units.pop(), order


def _row(spot: str, line: str, order: dict[str, int]) -> tuple[float, float, float, bool]:
    """Return station, height, half-breadth and knuckle of one line."""
    try:
        cells = next(csv.reader([line], strict=True))
    except csv.Error as error:
        raise InputError(spot, f"is not a line of comma-separated values ({error})") from None
    if len(cells) != len(order):
        raise InputError(spot, "wrong number of fields", value=len(cells), allowed=str(len(order)))
    x, z, y = (_number(f"{spot}: {name}", cells[order[name]]) for name in _COLUMNS)
    if y < 0.0:
        raise InputError(f"{spot}: half_breadth", "is negative", value=y, allowed="0 or more")
    knuckle = cells[order["knuckle"]].strip() if "knuckle" in order else "0"
    if knuckle not in ("0", "1", ""):
        raise InputError(f"{spot}: knuckle", "is not a flag", value=knuckle, allowed="0 or 1")
    return x, z, y, knuckle == "1"


def _number(spot: str, text: str) -> float:
    """Return a finite number."""
    try:
        value = float(text)
    except ValueError:
        raise InputError(spot, "is not a number", value=repr(text)) from None
    if not math.isfinite(value) or abs(value) > 1e7:
        raise InputError(spot, "is not a usable number", value=text.strip(), allowed="finite, below 1e7")
    return value


def _station(x: float, points: Sequence[tuple[float, float, bool]]) -> OffsetStation:
    """Return a station from its points."""
    z, y, k = zip(*points, strict=True)
    return OffsetStation(
        x=x, half_breadth=np.array(y, dtype=np.float64), height=np.array(z, dtype=np.float64),
        knuckle=np.array(k, dtype=np.bool_),
    )  # fmt: skip


def _check(where: str, stations: Sequence[OffsetStation]) -> None:
    """Refuse tables that cannot be a hull."""
    if len(stations) < 2:
        raise InputError(where, "too few stations", value=len(stations), allowed="2 or more")
    broad = max(float(s.half_breadth.max()) for s in stations)
    if not broad > 0.0:
        raise InputError(where, "every half-breadth is 0")
    for s in stations:
        if s.half_breadth[0] > 1e-6 * broad:
            raise InputError(
                f"{where} station {s.x:g}", "its first point is not on the centreline; begin at the keel, with a flat "
                "bottom given as two points of one height", value=float(s.half_breadth[0]), allowed="half-breadth 0",
            )  # fmt: skip
        if s.knuckle[-1] and s.x == s.x and len(s.knuckle) > 1:
            raise InputError(f"{where} station {s.x:g}", "its last point cannot be a knuckle")


def write_offsets(path: Path, stations: Sequence[OffsetStation], *, length_unit: str = "m", remark: str = "") -> None:
    """Write an offset table; the stations' numbers are in ``length_unit`` and are written to the last bit."""
    if length_unit not in UNITS:
        raise InputError("write_offsets", "unknown length unit", value=length_unit, allowed=", ".join(UNITS))
    lines = [f"# {line}" for line in remark.splitlines()]
    lines.append(",".join(f"{name}_{length_unit}" for name in _COLUMNS) + ",knuckle")
    for s in stations:
        for y, z, k in zip(s.half_breadth.tolist(), s.height.tolist(), s.knuckle.tolist(), strict=True):
            lines.append(f"{s.x!r},{z!r},{y!r},{int(k)}")
    path.write_text("\n".join(lines) + "\n", encoding="utf-8")
