"""Which rows are printed: of each scantling group the member that comes closest to its limit."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from beltwright.core.columns import ColumnTable


def governing_rows(table: ColumnTable, by: str = "group", areas_in_order: Sequence[str] = ()) -> list[tuple[int, int]]:
    """Return for each group (row, members): the row with the greatest ratio, and how many members the group has.

    Groups come in the order of hull areas (``areas_in_order``, then as they appear) and then of their names; members
    without a ratio count but do not govern, except those whose ratio has no limit: their check fails.
    """
    groups = table.labels(by)
    ratio = table["ratio"]
    data = np.asarray(ratio.data, dtype=np.float64)
    values = np.where(ratio.applies | np.isposinf(data), data, -np.inf)
    found = []
    for group in sorted(set(groups.tolist()) - {""}):
        rows = np.flatnonzero(groups == group)
        best = int(rows[int(np.argmax(values[rows]))])
        if values[best] > -np.inf:
            found.append((best, len(rows)))
    areas = table.labels("hull_area")
    order = {area: place for place, area in enumerate(dict.fromkeys([*areas_in_order, *areas.tolist()]))}
    return sorted(found, key=lambda pair: (order[str(areas[pair[0]])], str(groups[pair[0]])))
