"""Where a cell of a printed table stands, in few words; cells of one row gathered."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from beltwright.core.ruletable import Cell
from beltwright.report.numbers import number

_COLUMN = "column"  # the last key of tables that are records: one row per thing, one column per property


def cell_words(cell: Cell, known: Mapping[str, str] | None = None) -> str:
    """Return a cell's place: table and keys. A key of several words shows the one asked for, else its ends.

    >>> from beltwright.core.provenance import Status
    >>> keys = (("ice_class", "PC1|PC2|PC3"), ("hull_area", "B"))
    >>> cell = Cell(table="UR I2 Table 6", keys=keys, value=3.5, status=Status.MEMORY)
    >>> cell_words(cell), cell_words(cell, {"ice_class": "PC2"})
    ('UR I2 Table 6 (ice class PC1 to PC3, hull area B)', 'UR I2 Table 6 (ice class PC2, hull area B)')
    """
    asked = known or {}
    told = [f"{key.replace('_', ' ')} {_word(word, asked.get(key, ''))}" for key, word in cell.keys]
    return f"{cell.table} ({', '.join(told)})"


def _word(words: str, asked: str) -> str:
    """The word asked for if the key serves it, else the first and the last."""
    served = words.split("|")
    if asked in served:
        return asked
    return words if len(served) == 1 else f"{served[0]} to {served[-1]}"


def gathered(cells: Sequence[Cell]) -> list[tuple[str, str, str, str]]:
    """Return (place, value, standing, remark) per cell; the columns of one record with one standing are one line."""
    lines: dict[tuple[object, ...], list[Cell]] = {}
    for place, cell in enumerate(sorted(cells, key=lambda c: (c.table, c.keys))):
        record = len(cell.keys) > 1 and cell.keys[-1][0] == _COLUMN
        key = (cell.table, cell.keys[:-1], cell.status, cell.note) if record else (place,)
        lines.setdefault(key, []).append(cell)
    return [_line(group) for group in lines.values()]


def _line(group: list[Cell]) -> tuple[str, str, str, str]:
    """One line of a cell, or of several of one record."""
    first = group[0]
    if len(group) == 1:
        return cell_words(first), _value(first), first.status.value, first.note
    place = cell_words(Cell(table=first.table, keys=first.keys[:-1], value=None, status=first.status))
    values = "; ".join(f"{cell.keys[-1][1].replace('_', ' ')} {_value(cell)}" for cell in group)
    return place, values, first.status.value, first.note


def _value(cell: Cell) -> str:
    """A cell's value in words."""
    return "blank" if cell.value is None else number(cell.value)
