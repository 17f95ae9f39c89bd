"""From daily low temperatures of an area to its lowest mean daily low and to the polar service temperature."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path

import numpy as np

from beltwright.core.columns import Column, ColumnTable
from beltwright.core.errors import ScopeError
from beltwright.core.findings import Finding, Findings
from beltwright.core.outcome import Check
from beltwright.core.ruletable import Cell
from beltwright.core.units import Unit
from beltwright.rules.polar_code_imo_2017.part_ia_1_temperature import (
    highest_service_temperature,
    low_air_temperature,
)
from beltwright.rules.polar_code_imo_2017.part_ib_1_daily_low import (
    DAYS_OF_YEAR,
    LowestMean,
    Season,
    lowest_mean_daily_low,
)
from beltwright.rules.polar_code_imo_2017.tables import RECORD_LENGTH, TEMPERATURES
from beltwright.voyage import codes
from beltwright.voyage.temperature_file import Record, read_records

_DEGC, _LABEL, _COUNT = Unit("degC"), Unit("label"), Unit("count")


@dataclass(frozen=True, slots=True, kw_only=True)
class ColdStudy:
    """How cold it gets where the ship is to operate.

    The lowest mean daily low temperature of all places, with its ``place`` and ``day`` (``MM-DD``); the highest polar
    service temperature that may be set for it; whether the ship is one for low air temperature; ``check``, the margin
    of the declared service temperature, where one is declared. ``tables`` by name: cold_places, cold_days.
    """

    season: Season
    lowest_mean_daily_low_degc: float
    place: str
    day: str
    highest_service_temperature_degc: float
    low_air_temperature: bool
    check: Check | None
    tables: Mapping[str, ColumnTable]
    findings: tuple[Finding, ...]
    cells: tuple[Cell, ...]


def cold_study(
    path: Path,
    *,
    season: Season | None = None,
    declared_service_temperature_degc: float | None = None,
    accepted_data_reason: str = "",
) -> ColdStudy:
    """Study the daily low temperatures in a file.

    Parameters
    ----------
    path : CSV with ``date`` and ``daily_low_degc``, optionally ``place`` where an area has several
    season : the season of operation; the whole year where not given
    declared_service_temperature_degc : the ship's polar service temperature [degC], to be checked
    accepted_data_reason : why the Administration accepts less than ten years of data

    Raises
    ------
    InputError
        A row that is no reading, a day given twice, a day of the season never recorded; the error says where.
    ScopeError
        A record of less than ten years without a written reason.
    """
    season = season or Season()
    records = read_records(path)
    found = [lowest_mean_daily_low(record.days, record.daily_low_degc, season) for record in records]
    findings = Findings()
    for record, one in zip(records, found, strict=True):
        _record_findings(findings, _where(path, record), one, accepted_data_reason.strip())
    coldest = min(range(len(found)), key=lambda k: found[k].lowest_degc)
    lowest = np.array([found[coldest].lowest_degc])
    is_low = bool(low_air_temperature(lowest_mean_daily_low_degc=lowest)[0])
    highest = float(highest_service_temperature(lowest_mean_daily_low_degc=lowest)[0])
    if is_low:
        message = f"lowest mean daily low temperature {lowest[0]:.2f} degC on {found[coldest].day}"
        findings.add(codes.LOW_AIR_TEMPERATURE, _where(path, records[coldest]), message)
    check = None
    if declared_service_temperature_degc is not None:
        check = _margin(float(lowest[0]), declared_service_temperature_degc)
        if not check.ok:
            message = f"declared {declared_service_temperature_degc:g} degC, at most {highest:.2f} degC"
            findings.add(codes.SERVICE_TEMPERATURE, path.name, message)
    return ColdStudy(
        season=season,
        lowest_mean_daily_low_degc=float(lowest[0]),
        place=records[coldest].place,
        day=found[coldest].day,
        highest_service_temperature_degc=highest,
        low_air_temperature=is_low,
        check=check,
        tables={table.name: table for table in (_place_table(records, found), _day_table(records, found))},
        findings=tuple(findings),
        cells=tuple(cell for table in (RECORD_LENGTH, TEMPERATURES) for cell in table.cells.values()),
    )


def _where(path: Path, record: Record) -> str:
    """The file, and the place where there is one."""
    return f"{path.name}: {record.place}" if record.place else path.name


def _record_findings(findings: Findings, where: str, found: LowestMean, reason: str) -> None:
    """What is to be said of one record; a short one without a reason is refused."""
    if not found.long_enough:
        ten = float(RECORD_LENGTH.numbers("record"))
        what = f"no day of the season has more than {found.years} readings, {ten:g} are needed"
        if not reason:
            raise ScopeError(
                f"{where}: record of daily low temperatures",
                what,
                ref="Polar Code 1.2.9",
                override="accepted_data_reason",
            )
        findings.add(codes.SHORT_RECORD, where, f"{what}; accepted because: {reason}")
    if found.missing or (found.long_enough and found.short_days):
        findings.add(
            codes.GAPS,
            where,
            f"{found.missing} days of the season are missing; {found.short_days} days of the year have fewer than ten "
            f"readings, fewest {found.fewest} on {found.fewest_day}",
        )
    if found.leap_mean_degc < found.lowest_degc:
        message = f"mean of 29 February {found.leap_mean_degc:.2f} degC, lowest mean {found.lowest_degc:.2f} degC"
        findings.add(codes.COLDER_LEAP_DAY, where, message)


def _margin(lowest_degc: float, declared_degc: float) -> Check:
    """The margin of a declared polar service temperature, without the last digits that sums of readings leave."""
    return Check(
        name="margin of the polar service temperature",
        ref="Polar Code 1.2.11",
        required=float(TEMPERATURES.numbers("service margin")),
        offered=round(lowest_degc - declared_degc, 9),
        unit="degC",
    )


def _place_table(records: tuple[Record, ...], found: list[LowestMean]) -> ColumnTable:
    """One row per place."""
    lowest = np.array([one.lowest_degc for one in found])
    highest = highest_service_temperature(lowest_mean_daily_low_degc=lowest)
    low = low_air_temperature(lowest_mean_daily_low_degc=lowest)
    first = np.array([str(record.days.min()) for record in records])
    last = np.array([str(record.days.max()) for record in records])
    count = {
        "readings": ("readings in the record", [len(record.days) for record in records]),
        "years": ("most readings of one day of the season", [one.years for one in found]),
        "fewest": ("fewest readings of one day of the season", [one.fewest for one in found]),
        "missing": ("days of the season without reading", [one.missing for one in found]),
    }
    return ColumnTable(
        "cold_places",
        {
            "place": Column(unit=_LABEL, meaning="place", data=np.array([record.place for record in records])),
            "first_date": Column(unit=_LABEL, meaning="first day of the record", data=first),
            "last_date": Column(unit=_LABEL, meaning="last day of the record", data=last),
            **{name: Column(unit=_COUNT, meaning=what, data=np.array(n)) for name, (what, n) in count.items()},
            "lowest_mean_daily_low_degc": Column(unit=_DEGC, meaning="lowest mean daily low temperature", data=lowest),
            "day": Column(unit=_LABEL, meaning="day of the year", data=np.array([one.day for one in found])),
            "highest_service_temperature_degc": Column(
                unit=_DEGC, meaning="highest polar service temperature that may be set", data=highest
            ),
            "low_air_temperature": Column(unit=Unit("flag"), meaning="a ship for low air temperature", data=low),
        },
    )


def _day_table(records: tuple[Record, ...], found: list[LowestMean]) -> ColumnTable:
    """One row per place and day of the year; 29 February is not in it."""
    mean = np.concatenate([one.mean_degc for one in found])
    reason = np.where(np.isnan(mean), "never recorded", "")
    places = np.repeat([record.place for record in records], len(DAYS_OF_YEAR))
    lows = np.concatenate([one.daily_lows for one in found])
    inside = np.concatenate([one.in_season for one in found])
    return ColumnTable(
        "cold_days",
        {
            "place": Column(unit=_LABEL, meaning="place", data=places),
            "day": Column(unit=_LABEL, meaning="day of the year", data=np.tile(DAYS_OF_YEAR, len(records))),
            "daily_lows": Column(unit=_COUNT, meaning="readings", data=lows),
            "mean_daily_low_degc": Column(unit=_DEGC, meaning="mean daily low", data=mean, reason=reason),
            "in_season": Column(unit=Unit("flag"), meaning="in the season of operation", data=inside),
        },
    )
