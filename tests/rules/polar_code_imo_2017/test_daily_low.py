"""The lowest mean daily low temperature: by hand, by a plain loop; gaps, leap days, seasons, short records."""

from __future__ import annotations

from datetime import date, timedelta

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from beltwright.core.errors import InputError
from beltwright.rules.polar_code_imo_2017.part_ia_1_temperature import (
    highest_service_temperature,
    low_air_temperature,
    mean_daily_low,
    record_is_long_enough,
)
from beltwright.rules.polar_code_imo_2017.part_ib_1_daily_low import (
    DAYS_OF_YEAR,
    LowestMean,
    Season,
    lowest_mean_daily_low,
)

Record = dict[date, float]


def record(first_year: int, years: int, low: float = -5.0) -> Record:
    """Every day of some years, all of one temperature."""
    first, last = date(first_year, 1, 1), date(first_year + years, 1, 1)
    return {first + timedelta(days=k): low for k in range((last - first).days)}


def lowest(readings: Record, season: Season | None = None) -> LowestMean:
    days = np.array(list(readings), dtype="datetime64[D]")
    return lowest_mean_daily_low(days, np.array(list(readings.values())), season or Season())


def plain(readings: Record, season: Season) -> tuple[float, str]:
    """A second way: a dictionary of lists, one reading after the other."""
    by_day: dict[str, list[float]] = {}
    for day, low in readings.items():
        by_day.setdefault(day.strftime("%m-%d"), []).append(low)
    by_day.pop("02-29", None)
    if season.first <= season.last:
        counted = [day for day in by_day if season.first <= day <= season.last]
    else:
        counted = [day for day in by_day if day >= season.first or day <= season.last]
    means = {day: sum(by_day[day]) / len(by_day[day]) for day in sorted(counted)}
    coldest = min(means, key=lambda day: means[day])
    return means[coldest], coldest


def test_mean_of_one_day_over_ten_years_by_hand() -> None:
    # 15 January: -20 to -29 in ten years, mean -24.5; all other days -5
    readings = record(2031, 10)
    for k in range(10):
        readings[date(2031 + k, 1, 15)] = -20.0 - k
    found = lowest(readings)
    assert (found.lowest_degc, found.day) == (-24.5, "01-15")
    assert (found.years, found.fewest, found.missing, found.short_days) == (10, 10, 0, 0)
    assert found.long_enough
    assert found.daily_lows.sum() == 3650
    # the mean of one day falls with one cold night a tenth as far: -5 to -105 in one year is -15
    readings = record(2031, 10) | {date(2034, 7, 4): -105.0}
    assert (lowest(readings).lowest_degc, lowest(readings).day) == (-15.0, "07-04")


def test_the_season_decides_which_days_count() -> None:
    readings = record(2031, 10)
    for k in range(10):
        readings[date(2031 + k, 1, 15)] = -40.0
        readings[date(2031 + k, 9, 30)] = -12.0
    assert lowest(readings, Season(first="06-01", last="10-31")).lowest_degc == -12.0
    assert lowest(readings, Season(first="11-01", last="03-31")).lowest_degc == -40.0
    for season, low in (
        (Season(first="01-15", last="01-31"), -40.0),
        (Season(first="01-16", last="01-31"), -5.0),
        (Season(first="12-01", last="01-15"), -40.0),
        (Season(first="12-01", last="01-14"), -5.0),
    ):
        assert lowest(readings, season).lowest_degc == low


@pytest.mark.parametrize("word", ["1-15", "13-01", "02-29", "01-32", "2031-01-15", ""])
def test_a_season_needs_days_of_the_year(word: str) -> None:
    with pytest.raises(InputError, match="season: first day: is no day of the year"):
        Season(first=word)
    with pytest.raises(InputError, match="season: last day: is no day of the year"):
        Season(last=word)


def test_nine_years_are_too_few_and_ten_are_enough() -> None:
    assert not lowest(record(2031, 9)).long_enough
    assert lowest(record(2031, 9)).short_days == 365
    assert lowest(record(2031, 10)).long_enough
    assert record_is_long_enough(daily_lows=np.array([9, 10, 11])).tolist() == [False, True, True]


def test_gaps_are_counted_and_left_out_of_the_mean() -> None:
    readings = record(2031, 10, low=-5.0)
    for k in range(10):
        readings[date(2031 + k, 2, 1)] = -10.0 - k  # mean of all -14.5; without the coldest (-10 ... -18) / 9 = -14
    del readings[date(2040, 2, 1)]
    del readings[date(2035, 8, 1)]
    found = lowest(readings)
    assert found.lowest_degc == pytest.approx(-14.0, abs=1e-12)
    assert (found.missing, found.fewest, found.fewest_day, found.short_days) == (2, 9, "02-01", 2)
    assert found.long_enough
    assert lowest(readings, Season(first="07-01", last="08-31")).missing == 1
    assert lowest(readings, Season(first="08-02", last="08-31")).missing == 0


def test_a_day_that_was_never_recorded_is_refused_in_the_season_only() -> None:
    readings = {day: low for day, low in record(2031, 10).items() if (day.month, day.day) != (3, 7)}
    with pytest.raises(InputError, match="no reading in any year; found 03-07"):
        lowest(readings)
    assert lowest(readings, Season(first="04-01", last="10-31")).lowest_degc == -5.0
    assert np.isnan(lowest(readings, Season(first="04-01", last="10-31")).mean_degc[DAYS_OF_YEAR.index("03-07")])


def test_leap_days_are_told_and_not_used() -> None:
    readings = record(2031, 10) | {date(2032, 2, 29): -30.0, date(2036, 2, 29): -40.0, date(2040, 2, 29): -50.0}
    found = lowest(readings)
    assert found.lowest_degc == -5.0
    assert found.leap_mean_degc == -40.0
    assert np.isnan(lowest(readings, Season(first="03-01", last="12-31")).leap_mean_degc)
    without = {day: low for day, low in readings.items() if (day.month, day.day) != (2, 29)}
    assert np.isnan(lowest(without).leap_mean_degc)
    assert lowest(without).missing == 0


def test_bad_records_are_refused() -> None:
    days = np.array(["2031-01-01", "2031-01-01"], dtype="datetime64[D]")
    with pytest.raises(InputError, match="a day is given twice; found 2031-01-01"):
        lowest_mean_daily_low(days, np.array([-1.0, -2.0]), Season())
    with pytest.raises(InputError, match="the record is empty"):
        lowest({})
    with pytest.raises(InputError, match="daily low temperature of 2033-05-04: is not a number; found nan degC"):
        lowest(record(2031, 10) | {date(2033, 5, 4): float("nan")})


@given(st.integers(0, 2**32 - 1), st.sampled_from(DAYS_OF_YEAR), st.sampled_from(DAYS_OF_YEAR))
def test_against_a_plain_loop(seed: int, first: str, last: str) -> None:
    """Twelve years of random whole tenths of a degree with gaps, in random order."""
    rng = np.random.default_rng(seed)
    every = list(record(2030, 12))
    kept = rng.permutation(len(every))[: len(every) - 300]
    readings = {every[k]: float(rng.integers(-400, 100)) / 10.0 for k in kept}
    season = Season(first=first, last=last)
    low, day = plain(readings, season)
    found = lowest(readings, season)
    assert found.lowest_degc == pytest.approx(low, abs=1e-9)
    assert found.mean_degc[DAYS_OF_YEAR.index(day)] == pytest.approx(found.lowest_degc, abs=1e-9)


def test_mean_daily_low_by_hand() -> None:
    found = mean_daily_low(sum_of_daily_lows_degc=np.array([-245.0, 12.0]), daily_lows=np.array([10, 8]))
    assert found.tolist() == [-24.5, 1.5]


@pytest.mark.parametrize(("lowest_degc", "low"), [(-9.9, False), (-10.0, False), (-10.001, True), (-35.0, True)])
def test_low_air_temperature_begins_below_ten_degrees_of_frost(lowest_degc: float, low: bool) -> None:
    given_degc = np.array([lowest_degc])
    assert low_air_temperature(lowest_mean_daily_low_degc=given_degc).tolist() == [low]
    assert highest_service_temperature(lowest_mean_daily_low_degc=given_degc)[0] == lowest_degc - 10.0
