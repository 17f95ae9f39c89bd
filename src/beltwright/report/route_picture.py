"""From a studied route to its picture: months as they are, points put together into stretches where there are many."""

from __future__ import annotations

from itertools import pairwise
from typing import Final

import numpy as np

from beltwright.core.columns import ColumnTable
from beltwright.core.units import IntArray
from beltwright.drawing.route_chart import Cells, route_chart
from beltwright.drawing.scene import Scene
from beltwright.rules.polaris_imo_2016.tables import CLASSES
from beltwright.voyage.study import RouteStudy

MOST_STRETCHES: Final = 24
_SHARES: Final = ("share_normal", "share_elevated", "share_special")
_MONTHS: Final = ("Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec")


def route_picture(made: RouteStudy, where: str, own: str = "") -> Scene:
    """Return the picture of a studied route; ``where`` names the file, ``own`` the ship's class if it is known."""
    months, points = made.tables["route_months"], made.tables["route_points"]
    named = [_MONTHS[int(month) - 1] for month in months["month"].data[: months.rows // len(CLASSES)]]
    count = points.rows // len(CLASSES)
    ends = np.unique(np.linspace(0, count, min(count, MOST_STRETCHES) + 1).round().astype(np.int64))
    names = points.labels("point")[:count]
    told = [str(names[a]) if b - a == 1 else f"{names[a]}…" for a, b in pairwise(ends)]
    single = len(ends) - 1 == count
    along = "Along the route, all dates together" + ("" if single else f"; {count} points in {len(ends) - 1} stretches")
    blocks = (
        _cells("By month, all years and points together", named, months, np.arange(len(named) + 1)),
        _cells(along, told, points, ends),
    )
    return route_chart(CLASSES, blocks, own, f"{where}: operation by class, month and place")


def _cells(title: str, names: list[str], table: ColumnTable, ends: IntArray) -> Cells:
    """The cells of one table, whose rows stand class by class; groups of its rows from each end to the next."""
    shape = (len(CLASSES), table.rows // len(CLASSES))
    weight = np.asarray(table["regimes"].data, dtype=np.float64).reshape(shape)
    total = np.add.reduceat(weight, ends[:-1], axis=1)
    shares = [
        np.add.reduceat(table[name].data.reshape(shape) * weight, ends[:-1], axis=1) / np.maximum(total, 1.0)
        for name in _SHARES
    ]
    lowest = np.minimum.reduceat(table["lowest_index"].data.reshape(shape), ends[:-1], axis=1)
    return Cells(title=title, columns=tuple(names), shares=np.stack(shares, axis=2), lowest=lowest)
