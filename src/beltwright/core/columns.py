"""Tables as named, unit-carrying columns; a place where a quantity does not apply has a reason, never a number."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray

from beltwright.core.units import BoolArray, FloatArray, IntArray, LabelArray, Unit


@dataclass(frozen=True, slots=True, kw_only=True)
class Column:
    """One column: its unit, what it means, its values (n,) and, where it does not apply, the reason.

    ``reason`` is None when the column applies everywhere; otherwise an array of words, empty where it applies.
    """

    unit: Unit
    meaning: str
    data: NDArray[Any]
    reason: LabelArray | None = None

    @property
    def applies(self) -> BoolArray:
        """Where the quantity applies, shape (n,)."""
        if self.reason is None:
            return np.ones(len(self.data), dtype=bool)
        applies: BoolArray = self.reason == ""
        return applies


class ColumnTable(Mapping[str, Column]):
    """Columns of equal length under names; immutable. ``table.values("name")`` refuses rows that do not apply."""

    __slots__ = ("_columns", "_rows", "name")

    def __init__(self, name: str, columns: Mapping[str, Column]) -> None:
        lengths = {len(column.data) for column in columns.values()}
        if len(lengths) > 1:
            raise ValueError(f"table {name}: columns of different lengths {sorted(lengths)}")
        self.name = name
        self._columns = dict(columns)
        self._rows = lengths.pop() if lengths else 0

    def __getitem__(self, key: str) -> Column:
        return self._columns[key]

    def __iter__(self) -> Iterator[str]:
        return iter(self._columns)

    def __len__(self) -> int:
        return len(self._columns)

    @property
    def rows(self) -> int:
        """The number of rows."""
        return self._rows

    def values(self, key: str) -> FloatArray:  # type: ignore[override]
        """Return a numeric column; raises ValueError if it does not apply somewhere."""
        column = self._columns[key]
        if not bool(column.applies.all()):
            row = int(np.flatnonzero(~column.applies)[0])
            assert column.reason is not None
            raise ValueError(f"table {self.name}: {key} does not apply in row {row}: {column.reason[row]}")
        return np.asarray(column.data, dtype=np.float64)

    def labels(self, key: str) -> LabelArray:
        """Return a column of words."""
        return np.asarray(self._columns[key].data, dtype=np.str_)

    def where(self, rows: BoolArray | IntArray) -> ColumnTable:
        """Return the table of the given rows (a mask or indices)."""
        return ColumnTable(
            self.name,
            {
                key: Column(
                    unit=column.unit,
                    meaning=column.meaning,
                    data=column.data[rows],
                    reason=None if column.reason is None else column.reason[rows],
                )
                for key, column in self._columns.items()
            },
        )

    def with_columns(self, columns: Mapping[str, Column]) -> ColumnTable:
        """Return a table with more columns; a name already taken is refused."""
        taken = set(columns) & set(self._columns)
        if taken:
            raise ValueError(f"table {self.name}: columns {sorted(taken)} are there already")
        return ColumnTable(self.name, {**self._columns, **columns})

    def row(self, index: int) -> dict[str, object]:
        """Return one row as plain values; a cell that does not apply is None."""
        return {key: self._cell(column, index) for key, column in self._columns.items()}

    @staticmethod
    def _cell(column: Column, index: int) -> object:
        """One cell as a plain Python value."""
        if column.reason is not None and column.reason[index] != "":
            return None
        value = column.data[index]
        return value.item() if isinstance(value, np.generic) else value
