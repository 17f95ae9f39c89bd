"""Part I-B, 1: the lowest mean daily low temperature of a record, by the procedure that the Code recommends.

Daily lows of the record's years, their mean for each day of the year, the lowest of these in the season of operation.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from datetime import date, timedelta
from typing import Final

import numpy as np
from numpy.typing import NDArray

from beltwright.core.errors import InputError
from beltwright.core.units import BoolArray, FloatArray, IntArray, LabelArray
from beltwright.rules.polar_code_imo_2017.part_ia_1_temperature import mean_daily_low, record_is_long_enough

Days = NDArray[np.datetime64]
_COMMON_YEAR: Final = [date(2001, 1, 1) + timedelta(days=k) for k in range(365)]
DAYS_OF_YEAR: Final = tuple(f"{day:%m-%d}" for day in _COMMON_YEAR)
LEAP_DAY: Final = "02-29"


@dataclass(frozen=True, slots=True, kw_only=True)
class Season:
    """The season of operation: its first and last day as ``MM-DD``, both included; it may run across the new year."""

    first: str = "01-01"
    last: str = "12-31"

    def __post_init__(self) -> None:
        for name, word in (("first", self.first), ("last", self.last)):
            if not re.fullmatch(r"\d\d-\d\d", word) or word not in DAYS_OF_YEAR:
                raise InputError(f"season: {name} day", "is no day of the year", value=word, allowed="MM-DD, not 02-29")

    def holds(self, days: LabelArray) -> BoolArray:
        """Return which days of the year (n,), as ``MM-DD``, lie in the season."""
        after, before = days >= self.first, days <= self.last
        inside: BoolArray = (after & before) if self.first <= self.last else (after | before)
        return inside


@dataclass(frozen=True, slots=True, kw_only=True)
class LowestMean:
    """The lowest mean daily low temperature and what stands behind it.

    ``daily_lows`` (365,) and ``mean_degc`` (365,) are the readings and the mean of each day of the year (NaN without
    reading), ``in_season`` (365,) which of them count. ``lowest_degc`` is the lowest mean, on ``day`` (``MM-DD``).
    ``years`` is the most readings that any day of the season has, ``fewest`` the fewest, on ``fewest_day``. ``missing``
    counts the days of the season without reading between the record's first and last day. ``long_enough`` says whether
    some day of the season reaches ten years; ``short_days`` how many do not. ``leap_mean_degc`` is the mean of
    29 February where it lies in the season and has readings, else NaN: it is told, not used.
    """

    daily_lows: IntArray
    mean_degc: FloatArray
    in_season: BoolArray
    lowest_degc: float
    day: str
    years: int
    fewest: int
    fewest_day: str
    missing: int
    long_enough: bool
    short_days: int
    leap_mean_degc: float


def lowest_mean_daily_low(days: Days, daily_low_degc: FloatArray, season: Season) -> LowestMean:
    """Return the lowest mean daily low temperature of a record.

    ``days`` (n,) datetime64[D], each once, in any order, and ``daily_low_degc`` (n,). Raises InputError for a day given
    twice, a reading that is not a number, and a day of the season that has never been recorded.
    """
    _check(days, daily_low_degc)
    words = np.array([f"{day:%m-%d}" for day in days.astype(object)], dtype=np.str_)
    leap = words == LEAP_DAY
    number = np.searchsorted(np.array(DAYS_OF_YEAR), words[~leap])
    lows: IntArray = np.bincount(number, minlength=365).astype(np.int64)
    total = np.bincount(number, weights=daily_low_degc[~leap], minlength=365).astype(np.float64)
    inside = season.holds(np.array(DAYS_OF_YEAR))
    if not lows[inside].all():
        day = DAYS_OF_YEAR[int(np.flatnonzero(inside & (lows == 0))[0])]
        raise InputError("daily low temperature", "a day of the season has no reading in any year", value=day)
    mean = np.full(365, np.nan)
    mean[lows > 0] = mean_daily_low(sum_of_daily_lows_degc=total[lows > 0], daily_lows=lows[lows > 0])
    coldest = int(np.argmin(np.where(inside, mean, np.inf)))
    thinnest = int(np.argmin(np.where(inside, lows, np.iinfo(np.int64).max)))
    enough = record_is_long_enough(daily_lows=lows[inside])
    return LowestMean(
        daily_lows=lows,
        mean_degc=mean,
        in_season=inside,
        lowest_degc=float(mean[coldest]),
        day=DAYS_OF_YEAR[coldest],
        years=int(lows[inside].max()),
        fewest=int(lows[thinnest]),
        fewest_day=DAYS_OF_YEAR[thinnest],
        missing=_missing(days, season),
        long_enough=bool(enough.any()),
        short_days=int((~enough).sum()),
        leap_mean_degc=_leap_mean(daily_low_degc[leap], season),
    )


def _check(days: Days, daily_low_degc: FloatArray) -> None:
    """Refuse an empty record, a day given twice, and a reading that is not a number."""
    if not len(days):
        raise InputError("daily low temperature", "the record is empty")
    found, count = np.unique(days, return_counts=True)
    if (count > 1).any():
        raise InputError("daily low temperature", "a day is given twice", value=str(found[count > 1][0]))
    bad = ~np.isfinite(daily_low_degc)
    if bad.any():
        where = f"daily low temperature of {days[bad][0]}"
        raise InputError(where, "is not a number", value=float(daily_low_degc[bad][0]), unit="degC")


def _missing(days: Days, season: Season) -> int:
    """How many days of the season between the first and the last of the record have no reading; 29 February apart."""
    every = np.arange(days.min(), days.max() + 1)
    absent = every[~np.isin(every, days)]
    words = np.array([f"{day:%m-%d}" for day in absent.astype(object)], dtype=np.str_)
    return int((season.holds(words) & (words != LEAP_DAY)).sum())


def _leap_mean(lows: FloatArray, season: Season) -> float:
    """The mean of the readings of 29 February, NaN where there is none or the day lies outside the season."""
    if not len(lows) or not season.holds(np.array([LEAP_DAY]))[0]:
        return float("nan")
    counted = np.array([len(lows)], dtype=np.int64)
    return float(mean_daily_low(sum_of_daily_lows_degc=np.array([lows.sum()]), daily_lows=counted)[0])
