"""The index of every regime for every class, added up over dates and points without ever being held as a whole.

The sum and the bands are the rule's own functions. The bands are asked once, for every whole number that an index can
be; that leaves two numbers, the least index of the high and of the middle band, to compare with.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from typing import Any, Final

import numpy as np
from numpy.typing import NDArray

from beltwright.core.units import BoolArray, IntArray
from beltwright.rules.polaris_imo_2016.operation import index_band, planning_index
from beltwright.rules.polaris_imo_2016.risk_index import ice_state, risk_index_outcome, risk_value
from beltwright.rules.polaris_imo_2016.tables import BANDS, CLASSES, ICE_TYPES
from beltwright.voyage.route import Route, SmallInts

REGIMES_AT_ONCE: Final = 5_000


@dataclass(frozen=True, slots=True, kw_only=True)
class RouteIndex:
    """The index added up, for c classes in printed order, d dates and p points.

    By date (c, d) and by point (c, p): ``lowest``, the least index; ``total``, the sum of the index; ``bands``
    (3, c, d) and (3, c, p), the number of regimes in the high, the middle and the low band. ``date_regimes`` (d,) and
    ``point_regimes`` (p,) are the numbers of regimes.
    """

    date_lowest: SmallInts
    date_total: IntArray
    date_bands: IntArray
    date_regimes: IntArray
    point_lowest: SmallInts
    point_total: IntArray
    point_bands: IntArray
    point_regimes: IntArray


@cache
def risk_values(decay_confirmed: bool) -> SmallInts:
    """Return the risk values of one of the two tables (12 ice types, c classes), whole numbers of eight bits."""
    state = ice_state(decay_confirmed=np.array(decay_confirmed))
    types, classes = np.array(ICE_TYPES)[:, None], np.array(CLASSES)[None, :]
    exact = risk_value(ice_state=state, ice_class=classes, ice_type=types)
    values: SmallInts = exact.astype(np.int8)
    if not (values == exact).all():
        raise ValueError("a risk value is no whole number of eight bits")
    values.setflags(write=False)
    return values


@cache
def least_of_bands() -> tuple[int, int]:
    """Return the least whole index of the high band and that of the middle band."""
    every = np.arange(-128, 128)
    bands = [BANDS.index(str(band)) for band in index_band(risk_index_outcome=every)]
    if bands != sorted(bands, reverse=True):
        raise ValueError("the bands of the index are not in order")
    return int(every[bands.index(0)]), int(every[bands.index(1)])


def regime_index(tenths: SmallInts, decay_confirmed: BoolArray, escort_planned: BoolArray) -> SmallInts:
    """Return the index for planning (c, n) of regimes with concentrations (12, n), each adding up to ten tenths."""
    index = _from_table(tenths, False)
    decayed, escorted = np.flatnonzero(decay_confirmed), np.flatnonzero(escort_planned)
    if decayed.size:
        index[:, decayed] = _from_table(tenths.take(decayed, axis=1), True)
    if escorted.size:
        index[:, escorted] = index_with_escort().take(index.take(escorted, axis=1).view(np.uint8))
    return index


@cache
def index_with_escort() -> SmallInts:
    """Return the index for planning under escort (256,) for each index of eight bits, in the order of its bits.

    The rule is asked once for every index that ten tenths can give; the rest of the table is never looked up.
    """
    every = np.arange(10 * int(min(risk_values(d).min() for d in (False, True))),
                      10 * int(max(risk_values(d).max() for d in (False, True))) + 1)  # fmt: skip
    exact = planning_index(risk_index_outcome=every, escort_planned=np.array(True))
    table = np.zeros(256, dtype=np.int8)
    table[every.astype(np.int8).view(np.uint8)] = exact.astype(np.int8)
    if not (table[every.astype(np.int8).view(np.uint8)] == exact).all():
        raise ValueError("an index under escort is no whole number of eight bits")
    table.setflags(write=False)
    return table


def _from_table(tenths: SmallInts, decay_confirmed: bool) -> SmallInts:
    """The index (c, n) by one of the two tables of risk values, in eight bits as its terms are."""
    values = risk_values(decay_confirmed)[:, :, None]
    return risk_index_outcome(concentration_tenths=tenths[:, None, :], risk_value=values)


def route_index(route: Route) -> RouteIndex:
    """Return the index of a route for every class, added up by date and by point."""
    high, middle = least_of_bands()
    dates, points = len(route.dates), len(route.points)
    by_date = _empty(dates, np.int64)
    by_point = _empty(points, np.int32)  # half the memory to go through; a date adds 80 at most
    for k in range(dates):
        stop = int(route.starts[k + 1])
        for first in range(int(route.starts[k]), stop, REGIMES_AT_ONCE):
            rows = slice(first, min(first + REGIMES_AT_ONCE, stop))
            index = regime_index(route.tenths[:, rows], route.decay_confirmed[rows], route.escort_planned[rows])
            below = np.stack([index < high, index < middle])
            by_date.total[:, k] += index.sum(axis=1, dtype=np.int64)
            by_date.below[:, :, k] += np.count_nonzero(below, axis=2)
            by_date.lowest[:, k] = np.minimum(by_date.lowest[:, k], index.min(axis=1))
            at = _points_at(route.point_of_row[rows])
            by_point.total[:, at] += index
            by_point.below[:, :, at] += below
            by_point.lowest[:, at] = np.minimum(by_point.lowest[:, at], index)
            by_point.regimes[at] += 1
    date_regimes = np.diff(route.starts)
    return RouteIndex(
        date_lowest=by_date.lowest,
        date_total=by_date.total.astype(np.int64),
        date_bands=_bands(by_date.below, date_regimes),
        date_regimes=date_regimes,
        point_lowest=by_point.lowest,
        point_total=by_point.total.astype(np.int64),
        point_bands=_bands(by_point.below, by_point.regimes),
        point_regimes=by_point.regimes,
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class _Sums:
    """Sums under way, by date or by point."""

    lowest: SmallInts
    total: NDArray[Any]
    below: NDArray[Any]
    regimes: IntArray


def _empty(size: int, kind: type[np.int32] | type[np.int64]) -> _Sums:
    """Sums of nothing."""
    classes = len(CLASSES)
    return _Sums(
        lowest=np.full((classes, size), 127, dtype=np.int8),
        total=np.zeros((classes, size), dtype=kind),
        below=np.zeros((2, classes, size), dtype=kind),
        regimes=np.zeros(size, dtype=np.int64),
    )


def _points_at(numbers: NDArray[np.int32]) -> slice | NDArray[np.int32]:
    """The points of some rows of one date, which rise: as a slice where none is left out, which is quicker."""
    first, last = int(numbers[0]), int(numbers[-1])
    return slice(first, last + 1) if last - first + 1 == len(numbers) else numbers


def _bands(below: NDArray[Any], regimes: IntArray) -> IntArray:
    """The number of regimes in each band, from the numbers below the high and below the middle one."""
    return np.stack([regimes - below[0], below[0] - below[1], below[1]])
