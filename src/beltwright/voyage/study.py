"""Which classes may go where on a route, how often and how fast; and what single regimes are worth."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path

import numpy as np

from beltwright.core.columns import ColumnTable
from beltwright.core.errors import InputError
from beltwright.core.findings import Finding, Findings
from beltwright.core.ruletable import Cell
from beltwright.core.units import BoolArray
from beltwright.rules.polar_code_imo_2017.part_ib_1_daily_low import Season
from beltwright.rules.polaris_imo_2016.tables import (
    BAND_LIMITS,
    CLASSES,
    DECAYED_VALUES,
    ESCORT,
    OPERATIONS,
    SPEEDS,
    STANDARD_VALUES,
)
from beltwright.voyage import codes
from beltwright.voyage.index import RouteIndex, route_index
from beltwright.voyage.regime_file import RegimeList, read_regime_list, read_route
from beltwright.voyage.route import Route, in_season, with_escort
from beltwright.voyage.tables import (
    class_table,
    date_table,
    month_table,
    operation_counts,
    point_table,
    regime_table,
    speed_limits_kn,
)


@dataclass(frozen=True, slots=True, kw_only=True)
class RouteStudy:
    """A route studied for every class.

    ``tables`` by name: route_classes, route_months, route_dates, route_points. ``findings`` are what the engineer must
    see, of the class asked for where one is. ``cells`` are the printed values read that no printed page confirms.
    """

    route: Route
    index: RouteIndex
    tables: Mapping[str, ColumnTable]
    findings: tuple[Finding, ...]
    cells: tuple[Cell, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class RegimeStudy:
    """Single regimes studied for every class: the table ``regimes``, findings and unconfirmed values as of a route."""

    regimes: RegimeList
    tables: Mapping[str, ColumnTable]
    findings: tuple[Finding, ...]
    cells: tuple[Cell, ...]


def study(path: Path, *, ice_class: str = "", season: Season | None = None, escort_planned: bool = False) -> RouteStudy:
    """Study the route in a file for every class.

    Parameters
    ----------
    path : CSV with ``date``, ``point``, a column ``..._tenths`` for each ice type that occurs, optionally
        ``latitude_deg`` and ``longitude_deg``, ``decay_confirmed`` and ``escort_planned`` (yes or no)
    ice_class : the ship's class, for findings of its own; none where empty
    season : dates outside it are left out; all dates where not given
    escort_planned : plan every regime under escort, whatever the file says

    Raises
    ------
    InputError
        An unknown class or column, a row that is no regime, or a season without a date; the error names the line.
    """
    check_class(ice_class)
    route = read_route(path)
    if season is not None:
        route = in_season(route, season, path.name)
    if escort_planned:
        route = with_escort(route)
    return study_route(route, where=path.name, ice_class=ice_class)


def study_route(route: Route, *, where: str, ice_class: str = "") -> RouteStudy:
    """Study a route that has been read; ``where`` names it in findings."""
    check_class(ice_class)
    index = route_index(route)
    findings = Findings()
    _general(findings, where, route.decay_confirmed, route.escort_planned)
    missing = len(route.dates) * len(route.points) - route.regimes
    if missing:
        short = int((index.point_regimes < len(route.dates)).sum())
        findings.add(codes.INCOMPLETE_ROUTE, where, f"{missing} point-days are not given, at {short} points")
    if ice_class:
        _of_class(findings, where, route, index, ice_class)
    made = (class_table, month_table, date_table, point_table)
    tables = {table.name: table for table in (make(route, index) for make in made)}
    cells = _cells(route.decay_confirmed, route.escort_planned)
    return RouteStudy(route=route, index=index, tables=tables, findings=tuple(findings), cells=cells)


def regime_study(path: Path) -> RegimeStudy:
    """Study single regimes: a CSV with ``regime``, ``..._tenths`` and optionally the flags; errors as for a route."""
    regimes = read_regime_list(path)
    findings = Findings()
    _general(findings, path.name, regimes.decay_confirmed, regimes.escort_planned)
    table = regime_table(regimes)
    cells = _cells(regimes.decay_confirmed, regimes.escort_planned)
    return RegimeStudy(regimes=regimes, tables={table.name: table}, findings=tuple(findings), cells=cells)


def check_class(ice_class: str) -> None:
    """Refuse a class that the circular does not know."""
    if ice_class and ice_class not in CLASSES:
        raise InputError("ice class", "POLARIS has no such class", value=ice_class, allowed=", ".join(CLASSES))


def _general(findings: Findings, where: str, decay_confirmed: BoolArray, escort_planned: BoolArray) -> None:
    """What holds whatever the class."""
    findings.add(codes.DECISION_SUPPORT, where, f"{len(decay_confirmed)} regimes for {len(CLASSES)} classes")
    decayed, escorted = int(decay_confirmed.sum()), int(escort_planned.sum())
    if decayed:
        findings.add(codes.DECAYED_VALUES, where, f"{decayed} of {len(decay_confirmed)} regimes are said to be decayed")
    if escorted:
        findings.add(
            codes.ESCORT_PLANNED, where, f"{escorted} of {len(escort_planned)} regimes are planned with escort"
        )


def _of_class(findings: Findings, where: str, route: Route, index: RouteIndex, ice_class: str) -> None:
    """What the ship's own class meets."""
    k = CLASSES.index(ice_class)
    _, elevated, special = operation_counts(index.date_bands)[:, k, :]
    worst = int(np.argmin(index.date_lowest[k]))
    lowest = f"lowest index {index.date_lowest[k, worst]} on {route.dates[worst]}"
    for kind, count in ((codes.ELEVATED_RISK, elevated), (codes.SPECIAL_CONSIDERATION, special)):
        if count.any():
            share = 100.0 * count.sum() / route.regimes
            dates = f"{np.count_nonzero(count)} of {len(count)} dates"
            speed = f"; at most {speed_limits_kn()[k]:g} kn" if kind is codes.ELEVATED_RISK else ""
            findings.add(kind, where, f"{ice_class}: {share:.3g} % of the point-days, on {dates}; {lowest}{speed}")


def _cells(decay_confirmed: BoolArray, escort_planned: BoolArray) -> tuple[Cell, ...]:
    """The printed values that were read and that no printed page confirms."""
    tables = [BAND_LIMITS, OPERATIONS, SPEEDS]
    if not decay_confirmed.all():
        tables.append(STANDARD_VALUES)
    if decay_confirmed.any():
        tables.append(DECAYED_VALUES)
    if escort_planned.any():
        tables.append(ESCORT)
    cells = dict.fromkeys(cell for table in tables for cell in table.cells.values())
    return tuple(cell for cell in cells if cell.value is not None and not cell.status.confirmed)
