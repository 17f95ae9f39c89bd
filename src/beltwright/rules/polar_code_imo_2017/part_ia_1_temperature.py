"""Part I-A, 1.2.9 to 1.2.12: mean daily low temperature, polar service temperature, low air temperature."""

from __future__ import annotations

from beltwright.core.provenance import Status
from beltwright.core.units import Count, Flag
from beltwright.rules.polar_code_imo_2017.documents import DOCUMENT
from beltwright.rules.polar_code_imo_2017.quantities import DegreesCelsius
from beltwright.rules.polar_code_imo_2017.tables import RECORD_LENGTH, TEMPERATURES


@DOCUMENT.clause("1.2.9", title="mean daily low temperature of a day of the year", symbol="MDLT",
                 status=Status.SECONDARY)  # fmt: skip
def mean_daily_low(*, sum_of_daily_lows_degc: DegreesCelsius, daily_lows: Count) -> DegreesCelsius:
    """Mean of the daily lows of one day of the year over the years of the record [degC] (n,).

    Source: Part I-A, 1.2.9 (a reproduction).
    """
    return sum_of_daily_lows_degc / daily_lows


@DOCUMENT.clause("1.2.9", title="whether the record is long enough", symbol="years", status=Status.SECONDARY,
                 table=RECORD_LENGTH, reads=({"item": "record"},))  # fmt: skip
def record_is_long_enough(*, daily_lows: Count) -> Flag:
    """Whether a day of the year has been recorded in ten years or more (n,). Source: Part I-A, 1.2.9."""
    return daily_lows >= RECORD_LENGTH.numbers("record")


@DOCUMENT.clause("1.2.11", title="highest polar service temperature", symbol="PST", status=Status.SECONDARY,
                 table=TEMPERATURES, reads=({"item": "service margin"},))  # fmt: skip
def highest_service_temperature(*, lowest_mean_daily_low_degc: DegreesCelsius) -> DegreesCelsius:
    """Highest polar service temperature that may be set [degC]: 10 below the lowest mean daily low temperature.

    Source: Part I-A, 1.2.11 (two reproductions; the number of the paragraph recalled).
    """
    return lowest_mean_daily_low_degc - TEMPERATURES.numbers("service margin")


@DOCUMENT.clause("1.2.12", title="whether the ship is one for low air temperature", symbol="low air temperature",
                 status=Status.MEMORY, table=TEMPERATURES, reads=({"item": "low air temperature"},))  # fmt: skip
def low_air_temperature(*, lowest_mean_daily_low_degc: DegreesCelsius) -> Flag:
    """Whether the lowest mean daily low temperature lies below -10 degC. Source: Part I-A, 1.2.12, recalled."""
    return lowest_mean_daily_low_degc < TEMPERATURES.numbers("low air temperature")
