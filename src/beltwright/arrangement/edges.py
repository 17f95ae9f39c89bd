"""Girths of every edge a panel may have, station by station: keel, levels, longitudinals, oblique frames."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from beltwright.arrangement.grid import Grid
from beltwright.arrangement.levels import LevelLine
from beltwright.arrangement.sectionlines import SectionLines
from beltwright.core.units import BoolArray, FloatArray

_LEVEL_REACH = 1e-9


class EdgeTable:
    """Edges in rows, stations in columns; row 0 is the keel, or where a section begins, row k + 1 level k.

    Rows after ``last_level_row`` are longitudinals and oblique frames. ``meets`` and ``several`` (levels, stations) say
    where a level truly meets the shell, and where more than once.
    """

    def __init__(self, grid: Grid, sections: SectionLines, levels: Sequence[LevelLine]) -> None:
        self.grid, self.sections = grid, sections
        found = [sections.crossings(level.height_at(grid.x_m)) for level in levels]
        shape = (len(levels), len(grid.x_m))
        self.meets: BoolArray = np.array([f.meets for f in found]).reshape(shape)
        self.several: BoolArray = np.array([f.several for f in found]).reshape(shape)
        self._rows: list[FloatArray] = [sections.start_m, *(f.girth_m for f in found)]
        self.last_level_row = len(levels)
        self._traces: dict[tuple[int, int, float], list[int]] = {}

    def girth(self, row: int) -> FloatArray:
        """Return the girth of an edge at every station [m]."""
        return self._rows[row]

    @property
    def all_girths(self) -> FloatArray:
        """Every edge, shape (edges, stations) [m]."""
        return np.array(self._rows)

    def add(self, girth_m: FloatArray) -> int:
        """Add an edge and return its row."""
        self._rows.append(girth_m)
        return len(self._rows) - 1

    def between(self, traces: Sequence[int], lower: int, upper: int, first: int, last: int) -> tuple[int, int]:
        """Return how many of the rising ``traces`` lie wholly below a bay, and how many begin below its upper edge.

        The bay reaches from edge ``lower`` to ``upper`` and from station ``first`` to ``last``. The traces between the
        two numbers run in it.
        """
        stations = slice(first, last + 1)
        low, high = self._rows[lower][stations], self._rows[upper][stations]
        girths = np.array([self._rows[trace][stations] for trace in traces]).reshape(len(traces), -1)
        below = int(np.count_nonzero(np.all(girths <= low, axis=1)))
        return below, int(np.count_nonzero(np.any(girths < high, axis=1)))

    def longitudinals(self, lower: int, upper: int, spacing_m: float) -> list[int]:
        """Return the rows of longitudinals at equal girth from edge ``lower`` until they meet edge ``upper``."""
        key = (lower, upper, spacing_m)
        if key not in self._traces:
            low = np.zeros(len(self.grid.x_m)) if lower == 0 else self._rows[lower]  # also where a transom is left out
            high = self._rows[upper]
            room = float(np.max(high - low))
            count = max(int(np.ceil(room / spacing_m - _LEVEL_REACH)) - 1, 0)
            self._traces[key] = [self.add(low + k * spacing_m) for k in range(1, count + 1)]
        return self._traces[key]
