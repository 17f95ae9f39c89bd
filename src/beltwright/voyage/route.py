"""Ice regimes along a route through a season: dates, points, concentrations, held date by date in small integers."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from beltwright.core.errors import InputError
from beltwright.core.units import BoolArray, FloatArray, IntArray, LabelArray
from beltwright.rules.polar_code_imo_2017.part_ib_1_daily_low import Season

Days = NDArray[np.datetime64]
SmallInts = NDArray[np.int8]
Numbers = NDArray[np.int32]


@dataclass(frozen=True, slots=True, kw_only=True)
class Route:
    """Ice regimes of d dates at p points, n in all; a point has at most one regime on a date.

    Rows are in the order of dates, and on each date in the order of points; date k has rows ``starts[k]`` up to
    ``starts[k + 1]`` (d + 1,). ``points`` (p,) are in the order in which the file first names them. Latitude and
    longitude (p,) are NaN where not given. ``point_of_row`` (n,) numbers the points. ``tenths`` (12, n) are the
    concentrations in tenths, ice types in printed order, each column adding up to ten. ``decay_confirmed`` and
    ``escort_planned`` (n,) are what the user says of each regime.
    """

    dates: Days
    points: LabelArray
    latitude_deg: FloatArray
    longitude_deg: FloatArray
    starts: IntArray
    point_of_row: Numbers
    tenths: SmallInts
    decay_confirmed: BoolArray
    escort_planned: BoolArray

    @property
    def regimes(self) -> int:
        """The number of regimes, n."""
        return len(self.point_of_row)

    @property
    def months(self) -> IntArray:
        """The month of the year of each date, 1 to 12 (d,)."""
        month: IntArray = self.dates.astype("datetime64[M]").astype(np.int64) % 12 + 1
        return month


def in_season(route: Route, season: Season, where: str) -> Route:
    """Return the route with the dates of a season alone; raises InputError naming ``where`` if none lies in it."""
    kept = season.holds(np.array([str(day)[5:] for day in route.dates], dtype=np.str_))
    if kept.all():
        return route
    if not kept.any():
        raise InputError(
            where, "no date of the route lies in the season", value=f"{route.dates[0]} to {route.dates[-1]}",
            allowed=f"{season.first} to {season.last}",
        )  # fmt: skip
    counts = np.diff(route.starts)
    rows = np.repeat(kept, counts)
    starts: IntArray = np.concatenate([[0], np.cumsum(counts[kept])]).astype(np.int64)
    return replace(
        route,
        dates=route.dates[kept],
        starts=starts,
        point_of_row=route.point_of_row[rows],
        tenths=route.tenths[:, rows],
        decay_confirmed=route.decay_confirmed[rows],
        escort_planned=route.escort_planned[rows],
    )


def with_escort(route: Route) -> Route:
    """Return the route as planned under escort everywhere, whatever its file says."""
    return replace(route, escort_planned=np.ones(route.regimes, dtype=bool))


def ordered_route(
    *,
    where: str,
    dates: Days,
    date_of_row: Numbers,
    points: LabelArray,
    latitude_deg: FloatArray,
    longitude_deg: FloatArray,
    point_of_row: Numbers,
    tenths: SmallInts,
    decay_confirmed: BoolArray,
    escort_planned: BoolArray,
    line: Numbers,
) -> Route:
    """Return the route with its rows put in order; a date and point given twice is an InputError naming both lines.

    ``dates`` (d,) and ``points`` (p,) in any order, each once; ``date_of_row``, ``point_of_row`` and ``line``, the line
    in the file, (n,).
    """
    by_date = np.argsort(dates)
    rank = np.empty(len(dates), dtype=np.int64)
    rank[by_date] = np.arange(len(dates))
    key = rank[date_of_row] * len(points) + point_of_row
    step = np.diff(key)
    if not (step > 0).all():
        order = np.argsort(key, kind="stable")
        key, line = key[order], line[order]
        _refuse_repeats(where, key, line, dates[by_date], points)
        tenths, point_of_row = tenths[:, order], point_of_row[order]
        decay_confirmed, escort_planned = decay_confirmed[order], escort_planned[order]
    starts: IntArray = np.searchsorted(key, np.arange(len(dates) + 1) * len(points)).astype(np.int64)
    return Route(
        dates=dates[by_date],
        points=points,
        latitude_deg=latitude_deg,
        longitude_deg=longitude_deg,
        starts=starts,
        point_of_row=point_of_row,
        tenths=tenths,
        decay_confirmed=decay_confirmed,
        escort_planned=escort_planned,
    )


def _refuse_repeats(where: str, key: IntArray, line: Numbers, dates: Days, points: LabelArray) -> None:
    """Refuse a date and point that stand in two lines."""
    same = np.flatnonzero(key[1:] == key[:-1])
    if len(same):
        row = int(same[0])
        date, point = divmod(int(key[row]), len(points))
        raise InputError(
            f"{where}: line {line[row + 1]}",
            f"point {points[point]} on {dates[date]} stands in line {line[row]} already",
        )
