"""The results of a route as tables: by class, by class and month, by class and date, by class and point."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache
from typing import Final

import numpy as np
from numpy.typing import NDArray

from beltwright.core.columns import Column, ColumnTable
from beltwright.core.units import BoolArray, FloatArray, IntArray, LabelArray, Unit
from beltwright.rules.polaris_imo_2016.operation import elevated_speed, index_band, operation
from beltwright.rules.polaris_imo_2016.tables import BANDS, CLASSES, ELEVATED, NORMAL, SPECIAL, SPEEDS
from beltwright.voyage.index import RouteIndex, regime_index
from beltwright.voyage.regime_file import RegimeList
from beltwright.voyage.route import Route, SmallInts

OPERATIONS: Final = (NORMAL, ELEVATED, SPECIAL)
NO_BAND: Final = "Table 1.1 gives this class no elevated band"
NOT_MET: Final = "no elevated operational risk here"
NOT_GIVEN: Final = "not given"
_NONE, _LABEL, _COUNT = Unit("-"), Unit("label"), Unit("count")


@cache
def meaning_of_bands() -> LabelArray:
    """Return what each band means for each class, words (3 bands, c classes)."""
    return operation(ice_class=np.array(CLASSES)[None, :], band=np.array(BANDS)[:, None])


def operation_counts(bands: IntArray) -> IntArray:
    """Return the number of regimes in each operation (3, c, k) from those in each band (3, c, k)."""
    words = meaning_of_bands()
    return np.stack([np.where((words == word)[:, :, None], bands, 0).sum(axis=0) for word in OPERATIONS])


@cache
def speed_limits_kn() -> FloatArray:
    """Return the recommended limit of speed at elevated risk of each class [kn], NaN where there is none (c,)."""
    classes = np.array(CLASSES)
    speeds = np.full(len(classes), np.nan)
    given = SPEEDS.has_value(classes)
    speeds[given] = elevated_speed(ice_class=classes[given])
    return speeds


@dataclass(frozen=True, slots=True, kw_only=True)
class _Sums:
    """What a table sums up, for c classes and k groups of regimes: bands (3, c, k), lowest (c, k), regimes (k,)."""

    bands: IntArray
    lowest: SmallInts
    total: IntArray
    regimes: IntArray


def class_table(route: Route, index: RouteIndex) -> ColumnTable:
    """Return one row per class: how often which operation, least and mean index, whole dates and points, the speed."""
    whole = [np.ones(len(route.dates), dtype=bool)]
    body = _shared(_over_dates(index, whole)) | _dates(index, whole) | _points(index)
    return ColumnTable("route_classes", _class_column(1) | body)


def month_table(route: Route, index: RouteIndex) -> ColumnTable:
    """Return one row per class and month of the year that the route has dates in, years together."""
    months = np.unique(route.months)
    groups = [route.months == month for month in months]
    columns = {"month": _column(_COUNT, "month of the year", np.tile(months, len(CLASSES)))}
    body = _shared(_over_dates(index, groups)) | _dates(index, groups)
    return ColumnTable("route_months", _class_column(len(months)) | columns | body)


def date_table(route: Route, index: RouteIndex) -> ColumnTable:
    """Return one row per class and date: the lowest index along the route and what it means."""
    dates = np.tile(route.dates.astype(np.str_), len(CLASSES))
    sums = _Sums(bands=index.date_bands, lowest=index.date_lowest, total=index.date_total, regimes=index.date_regimes)
    columns = {"date": _column(_LABEL, "date", dates)}
    worst = {"worst_operation": _column(_LABEL, "operation at the lowest index", _worst(index.date_bands))}
    return ColumnTable("route_dates", _class_column(len(route.dates)) | columns | _shared(sums) | worst)


def point_table(route: Route, index: RouteIndex) -> ColumnTable:
    """Return one row per class and point: how often which operation, over the dates that the point has."""
    sums = _Sums(
        bands=index.point_bands, lowest=index.point_lowest, total=index.point_total, regimes=index.point_regimes
    )
    repeat = len(CLASSES)
    columns = {
        "point": _column(_LABEL, "point of the route", np.tile(route.points, repeat)),
        "latitude_deg": _place("latitude, north positive", route.latitude_deg),
        "longitude_deg": _place("longitude, east positive", route.longitude_deg),
    }
    return ColumnTable("route_points", _class_column(len(route.points)) | columns | _shared(sums))


def regime_table(regimes: RegimeList) -> ColumnTable:
    """Return one row per regime and class: index, operation and limit of speed."""
    index = regime_index(regimes.tenths, regimes.decay_confirmed, regimes.escort_planned).T
    classes = np.tile(CLASSES, len(regimes.names))
    words = operation(ice_class=classes, band=index_band(risk_index_outcome=index.ravel()))
    speed = np.tile(speed_limits_kn(), len(regimes.names))
    return ColumnTable(
        "regimes",
        {
            "regime": _column(_LABEL, "regime", np.repeat(regimes.names, len(CLASSES))),
            "ice_class": _column(_LABEL, "ice class", classes),
            "index": _column(_NONE, "risk index outcome", index.ravel().astype(np.int64)),
            "operation": _column(_LABEL, "what the index means for the class", words),
            "limiting_speed_kn": _speed(speed, words == ELEVATED),
        },
    )


def _over_dates(index: RouteIndex, groups: Sequence[BoolArray]) -> _Sums:
    """Sums over groups of dates."""
    return _Sums(
        bands=np.stack([index.date_bands[:, :, dates].sum(axis=2) for dates in groups], axis=2),
        lowest=np.stack([index.date_lowest[:, dates].min(axis=1) for dates in groups], axis=1),
        total=np.stack([index.date_total[:, dates].sum(axis=1) for dates in groups], axis=1),
        regimes=np.array([index.date_regimes[dates].sum() for dates in groups]),
    )


def _dates(index: RouteIndex, groups: Sequence[BoolArray]) -> dict[str, Column]:
    """How many dates there are, how many are normal at every given point, how many ask nowhere for more than care."""
    _, elevated, special = operation_counts(index.date_bands)
    without_special, normal = special == 0, (special == 0) & (elevated == 0)
    number = np.tile([int(dates.sum()) for dates in groups], len(CLASSES))
    return {
        "dates": _column(_COUNT, "dates", number),
        "dates_all_normal": _column(_COUNT, "dates with normal operation at every given point", _in(groups, normal)),
        "dates_no_special": _column(
            _COUNT, "dates without special consideration at any given point", _in(groups, without_special)
        ),
    }


def _points(index: RouteIndex) -> dict[str, Column]:
    """How many points there are, how many are normal on every given date, how many ask on none for more than care."""
    _, elevated, special = operation_counts(index.point_bands)
    without_special, normal = special == 0, (special == 0) & (elevated == 0)
    number = np.full(len(CLASSES), len(index.point_regimes))
    return {
        "points": _column(_COUNT, "points", number),
        "points_all_normal": _column(_COUNT, "points with normal operation on every given date", normal.sum(axis=1)),
        "points_no_special": _column(
            _COUNT, "points without special consideration on any given date", without_special.sum(axis=1)
        ),
    }


def _in(groups: Sequence[BoolArray], flags: BoolArray) -> IntArray:
    """How many dates of each group carry a flag (c, d), as a column over classes and groups."""
    counted: IntArray = np.stack([flags[:, dates].sum(axis=1) for dates in groups], axis=1).ravel()
    return counted


def _shared(sums: _Sums) -> dict[str, Column]:
    """The columns that every table of a route has."""
    normal, elevated, special = operation_counts(sums.bands)
    regimes = np.broadcast_to(sums.regimes, normal.shape)
    speed = np.repeat(speed_limits_kn(), normal.shape[1])
    return {
        "regimes": _column(_COUNT, "point-days", regimes.ravel()),
        "share_normal": _column(_NONE, "share of point-days in normal operation", (normal / regimes).ravel()),
        "share_elevated": _column(_NONE, "share at elevated operational risk", (elevated / regimes).ravel()),
        "share_special": _column(_NONE, "share that asks for special consideration", (special / regimes).ravel()),
        "lowest_index": _column(_NONE, "lowest risk index outcome", sums.lowest.ravel().astype(np.int64)),
        "mean_index": _column(_NONE, "mean risk index outcome", (sums.total / regimes).ravel()),
        "limiting_speed_kn": _speed(speed, elevated.ravel() > 0),
    }


def _speed(speed_kn: FloatArray, elevated: BoolArray) -> Column:
    """The limit of speed where there is elevated risk; elsewhere the reason why there is none."""
    reason = np.where(np.isnan(speed_kn), NO_BAND, np.where(elevated, "", NOT_MET))
    data = np.where(elevated, speed_kn, np.nan)
    return Column(unit=Unit("kn"), meaning="recommended limit of speed at elevated risk", data=data, reason=reason)


def _worst(bands: IntArray) -> LabelArray:
    """The operation of the lowest index of each class and group, as a column."""
    counts = operation_counts(bands)
    last = len(OPERATIONS) - 1 - np.argmax(counts[::-1] > 0, axis=0)
    words: LabelArray = np.array(OPERATIONS)[last].ravel()
    return words


def _class_column(groups: int) -> dict[str, Column]:
    """The first column: each class for all groups."""
    return {"ice_class": _column(_LABEL, "ice class", np.repeat(CLASSES, groups))}


def _place(meaning: str, degrees: FloatArray) -> Column:
    """A latitude or longitude for every class, with the reason where it is not given."""
    data = np.tile(degrees, len(CLASSES))
    reason = np.where(np.isnan(data), NOT_GIVEN, "")
    return Column(unit=Unit("deg"), meaning=meaning, data=data, reason=reason if (reason != "").any() else None)


def _column(unit: Unit, meaning: str, data: NDArray[np.generic]) -> Column:
    """A column that applies everywhere."""
    return Column(unit=unit, meaning=meaning, data=data)
