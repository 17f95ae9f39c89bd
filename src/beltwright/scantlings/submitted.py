"""A submitted drawing's plate and frame list: one CSV, a row per plate or frame, read strictly and row by row.

What is wrong with the file as a whole is an InputError. What is wrong with a cell is kept with its row, so that one run
names every slip and no row is dropped in silence.
"""

from __future__ import annotations

import csv
import io
import re
from collections.abc import Mapping
from dataclasses import dataclass, field
from difflib import get_close_matches
from enum import Enum

from beltwright.core.canonical import file_fingerprint
from beltwright.core.errors import InputError

LARGEST_ROWS = 20_000
LONGEST_CELL = 200


class MemberKind(Enum):
    """What a row is about."""

    PLATE = "plate"
    FRAME = "frame"


@dataclass(frozen=True, slots=True, kw_only=True)
class SubmittedColumn:
    """A column of the file: its name, what it holds, and for numbers the unit and the range."""

    name: str
    what: str
    unit: str = ""
    least: float = 0.0
    most: float = 0.0

    @property
    def numeric(self) -> bool:
        """Whether the column holds numbers."""
        return self.unit != ""


_C = SubmittedColumn
COLUMNS: tuple[SubmittedColumn, ...] = (
    _C(name="kind", what="plate or frame"),
    _C(name="mark", what="mark on the drawing, free"),
    _C(name="member", what="one panel or frame span by its id, e.g. F200/L3; instead of the six columns after it"),
    _C(name="hull_area", what="members of this hull area"),
    _C(name="zone", what="members of this framing zone"),
    _C(name="from_frame", what="members forward of this frame", unit="frame", least=-200.0, most=2000.0),
    _C(name="to_frame", what="members aft of this frame", unit="frame", least=-200.0, most=2000.0),
    _C(name="from_level", what="members above this level"),
    _C(name="to_level", what="members below this level"),
    _C(name="thickness_mm", what="plate: thickness as built", unit="mm", least=0.0, most=1e6),
    _C(name="section", what="frame: section as built, e.g. T300x16+100x19, HP240x11, FB150x15, L250x90x12/16"),
    _C(name="grade", what="steel grade; that of ship.toml where blank"),
    _C(name="stated_hull_area", what="the drawing's hull area"),
    _C(name="stated_spacing_m", what="the drawing's frame spacing", unit="m", least=0.0, most=1e5),
    _C(name="stated_span_m", what="the drawing's frame span", unit="m", least=0.0, most=1e5),
    _C(name="stated_required_mm", what="plate: the drawing's required thickness", unit="mm", least=0.0, most=1e6),
    _C(name="stated_net_mm", what="plate: the drawing's thickness net of additions", unit="mm", least=0.0, most=1e6),
    _C(name="stated_shear_area_cm2", what="frame: the drawing's net shear area", unit="cm2", least=0.0, most=1e6),
    _C(name="stated_modulus_cm3", what="frame: the drawing's net plastic modulus", unit="cm3", least=0.0, most=1e9),
    _C(name="stated_class", what="the drawing's ice class"),
    _C(name="stated_edition", what="the drawing's rule edition, as the document writes it"),
    _C(name="stated_upper_m", what="the drawing's upper ice waterline there", unit="m", least=-5.0, most=1e5),
    _C(name="stated_lower_m", what="the drawing's lower ice waterline there", unit="m", least=-5.0, most=1e5),
)
WANTED = ("kind", "mark")
RANGE_COLUMNS = ("hull_area", "zone", "from_frame", "to_frame", "from_level", "to_level")
_BY_NAME: Mapping[str, SubmittedColumn] = {column.name: column for column in COLUMNS}
_OF_PLATES = ("thickness_mm", "stated_required_mm", "stated_net_mm")
_OF_FRAMES = ("section", "stated_shear_area_cm2", "stated_modulus_cm3")
_NUMBER = re.compile(r"[+-]?[0-9]+(?:\.[0-9]+)?|[+-]?\.[0-9]+")
_WITH_UNIT = re.compile(r"[+-]?[0-9]+(?:[.,][0-9]+)?\s*([A-Za-z\"']+)")


@dataclass(frozen=True, slots=True, kw_only=True)
class CellFault:
    """A cell that cannot be used: its column, and what is wrong in words."""

    column: str
    what: str


@dataclass(frozen=True, slots=True, kw_only=True)
class SubmittedRow:
    """One row: its line in the file, its kind (None where it cannot be told), words and numbers by column, faults.

    Blank cells and cells with a fault stand in neither ``words`` nor ``numbers``.
    """

    line: int
    kind: MemberKind | None
    mark: str
    words: Mapping[str, str] = field(default_factory=dict)
    numbers: Mapping[str, float] = field(default_factory=dict)
    faults: tuple[CellFault, ...] = ()

    @property
    def called(self) -> str:
        """The row in words: its line and its mark."""
        return f"row {self.line}" + (f" ({self.mark})" if self.mark else "")

    def at_fault(self, *columns: str) -> bool:
        """Whether one of the columns has a fault."""
        return any(fault.column in columns for fault in self.faults)


@dataclass(frozen=True, slots=True, kw_only=True)
class Submission:
    """The rows of one submitted file, in its order; ``sha256`` is the hash of its text."""

    name: str
    sha256: str
    rows: tuple[SubmittedRow, ...]


def parse_submission(text: str, name: str) -> Submission:
    """Return the rows of a submitted list; ``name`` is the file's.

    Blank lines, and lines that begin with ``#``, are remarks. Rows are numbered by their line in the file.

    Raises InputError where the file as a whole cannot be read: no header, unknown or repeated columns, another
    separator, a row with more cells than columns, too many rows, cells that are too long.
    """
    reader = csv.reader(io.StringIO(text, newline=""), strict=True)
    header: list[str] = []
    rows: list[SubmittedRow] = []
    try:
        for cells in reader:
            line = reader.line_num
            if not any(cell.strip() for cell in cells) or cells[0].startswith("#"):
                continue
            if not header:
                header = _header([cell.strip() for cell in cells], name)
                continue
            if len(rows) == LARGEST_ROWS:
                raise InputError(name, "too many rows", allowed=f"at most {LARGEST_ROWS}")
            rows.append(_row(header, cells, line, name))
    except csv.Error as error:
        raise InputError(f"{name}: row {reader.line_num}", f"is not CSV: {error}") from None
    if not rows:
        raise InputError(name, "has no rows" if header else "is empty", allowed="a header and a row per plate or frame")
    return Submission(name=name, sha256=file_fingerprint(text.encode("utf-8")), rows=tuple(rows))


def _header(names: list[str], name: str) -> list[str]:
    """The columns of a file, each known and named once."""
    if len(names) == 1 and any(mark in names[0] for mark in ";\t|"):
        raise InputError(name, "columns must be separated by commas", value=names[0])
    for column in names:
        if column not in _BY_NAME:
            close = get_close_matches(column, _BY_NAME, n=1)
            hint = f"did you mean {close[0]}?" if close else ", ".join(_BY_NAME)
            raise InputError(f"{name}: header", "unknown column", value=column or "a blank", allowed=hint)
    for column in names:
        if names.count(column) > 1:
            raise InputError(f"{name}: header", "a column is named twice", value=column)
    for column in WANTED:
        if column not in names:
            raise InputError(f"{name}: header", "a column is missing", value=column, allowed=_BY_NAME[column].what)
    return names


def _row(header: list[str], cells: list[str], line: int, name: str) -> SubmittedRow:
    """One row; a short one lacks its last cells."""
    if len(cells) > len(header):
        what = f"has {len(cells)} cells, more than the header's {len(header)}"
        raise InputError(f"{name}: row {line}", what, allowed="a cell that holds a comma stands in quotes")
    words: dict[str, str] = {}
    numbers: dict[str, float] = {}
    faults: list[CellFault] = []
    for column, cell in zip(header, (cell.strip() for cell in cells), strict=False):
        if len(cell) > LONGEST_CELL:
            raise InputError(f"{name}: row {line}: {column}", "is too long", allowed=f"at most {LONGEST_CELL} letters")
        if not cell:
            continue
        what = _fault(_BY_NAME[column], cell)
        if what:
            faults.append(CellFault(column=column, what=what))
        elif _BY_NAME[column].numeric:
            numbers[column] = float(cell)
        else:
            words[column] = cell
    mark, told = words.pop("mark", ""), words.pop("kind", "").lower()
    kind = MemberKind(told) if told in {kind.value for kind in MemberKind} else None
    if kind is None and not any(fault.column == "kind" for fault in faults):
        faults.append(CellFault(column="kind", what=f"is {told!r}, neither plate nor frame" if told else "is blank"))
    faults += _misplaced(kind, {**words, **numbers})
    return SubmittedRow(line=line, kind=kind, mark=mark, words=words, numbers=numbers, faults=tuple(faults))


def _fault(column: SubmittedColumn, cell: str) -> str:
    """What is wrong with a cell, or nothing."""
    if not cell.isprintable():
        return "holds control characters"
    if not column.numeric:
        return ""
    unit = _WITH_UNIT.fullmatch(cell)
    if unit:
        return f"{cell!r} carries a unit; the column is in {column.unit}: write the number alone"
    if re.fullmatch(r"[+-]?[0-9]+,[0-9]+", cell):
        return f"{cell!r} has a decimal comma; write a point"
    if not _NUMBER.fullmatch(cell):
        return f"{cell!r} is not a plain number"
    value = float(cell)
    if not column.least <= value <= column.most or (column.least == 0.0 and value == 0.0):
        return f"{cell!r} {column.unit} is out of range"
    return ""


def _misplaced(kind: MemberKind | None, given: Mapping[str, object]) -> list[CellFault]:
    """Columns of plates in a row of a frame and the other way about, and rows that lack their scantling or place."""
    faults = []
    for owner, columns in ((MemberKind.PLATE, _OF_PLATES), (MemberKind.FRAME, _OF_FRAMES)):
        if kind is not None and kind is not owner:
            faults += [CellFault(column=c, what=f"belongs to a {owner.value}") for c in columns if c in given]
    both = "member" in given and any(column in given for column in RANGE_COLUMNS)
    if both:
        faults.append(CellFault(column="member", what="stands beside a range: give one of them"))
    return faults
