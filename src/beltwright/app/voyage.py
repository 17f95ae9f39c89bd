"""The voyage before the hull: a route for every class, and the cold of an area, with or without a ship folder."""

from __future__ import annotations

import hashlib
from pathlib import Path
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from beltwright.rules.polar_code_imo_2017.icing import IcingAllowance
    from beltwright.rules.polar_code_imo_2017.part_ib_1_daily_low import Season
    from beltwright.scantlings.ice_damage import IceDamage
    from beltwright.voyage.cold import ColdStudy
    from beltwright.voyage.study import RegimeStudy, RouteStudy


def study_route(
    path: Path | str, *, ice_class: str = "", season: Season | None = None, escort_planned: bool = False
) -> RouteStudy | RegimeStudy:
    """Return a route (a table with dates) or a list of ice regimes studied for every class.

    >>> made = study_route("examples/voyage/route.csv", ice_class="PC4")   # doctest: +SKIP
    >>> made.tables["route_classes"].values("share_normal")                # doctest: +SKIP

    Raises
    ------
    InputError : an unknown class or column, a row that is no ice regime, a season without a date, a season or an
        escort asked for a list without dates; the message names file and line
    """
    from beltwright.core.errors import InputError
    from beltwright.voyage import regime_study, study
    from beltwright.voyage.regime_file import has_dates
    from beltwright.voyage.study import check_class

    path = Path(path)
    if has_dates(path):
        return study(path, ice_class=ice_class, season=season, escort_planned=escort_planned)
    check_class(ice_class)
    if season is not None or escort_planned:
        raise InputError(
            path.name, "is a list of regimes without dates; season and escort are for a route",
            allowed="a column date, or escort_planned in the list",
        )  # fmt: skip
    return regime_study(path)


def route_with_dates(path: Path, ice_class: str, season: Season | None = None) -> RouteStudy:
    """Return a studied route for a ship of a class, which POLARIS need not know; a list is an InputError."""
    from beltwright.core.errors import InputError
    from beltwright.rules.polaris_imo_2016.tables import CLASSES
    from beltwright.voyage import study
    from beltwright.voyage.regime_file import has_dates

    if not has_dates(path):
        raise InputError(f"{path.name}: header", "is no route", allowed="columns date and point; a list is --regimes")
    return study(path, ice_class=ice_class if ice_class in CLASSES else "", season=season)


def regimes_without_dates(path: Path) -> RegimeStudy:
    """Return studied single regimes; a route is an InputError."""
    from beltwright.core.errors import InputError
    from beltwright.voyage import regime_study
    from beltwright.voyage.regime_file import has_dates

    if has_dates(path):
        raise InputError(f"{path.name}: header", "is a route", allowed="a column regime; a route is --route")
    return regime_study(path)


def write_route(
    made: RouteStudy | RegimeStudy, path: Path | str, folder: Path, asked: dict[str, Any] | None = None
) -> Path:
    """Write the tables and the JSON of a studied route or list into a folder; returns it."""
    from beltwright.report.route import route_documents
    from beltwright.store.folder import write_results

    path = Path(path)
    write_results(folder, route_documents(made, {"file": path.name, **(asked or {})}, file_sha256(path)))
    return folder


def file_sha256(path: Path) -> str:
    """Return the hash of a file's bytes."""
    with path.open("rb") as file:
        return hashlib.file_digest(file, "sha256").hexdigest()


def write_cold(
    made: ColdStudy,
    path: Path | str,
    folder: Path,
    *,
    icing: IcingAllowance | None = None,
    damage: IceDamage | None = None,
    asked: dict[str, Any] | None = None,
) -> Path:
    """Write a studied record of daily lows into a folder, with icing and ice damage where given; returns it."""
    from beltwright.report.cold import cold_documents
    from beltwright.store.folder import write_results

    path = Path(path)
    told = {"file": path.name, **(asked or {})}
    write_results(folder, cold_documents(made, icing, damage, told, file_sha256(path)))
    return folder


def usual_category_of(ice_class: str) -> str:
    """Return the Polar Code category that usually goes with a class; empty where custom knows none."""
    import numpy as np

    from beltwright.rules.polar_code_imo_2017.introduction_2_categories import usual_category
    from beltwright.rules.polar_code_imo_2017.tables import CATEGORY_BY_CLASS

    known = {keys[0] for keys in CATEGORY_BY_CLASS.cells}
    return str(usual_category(ice_class=np.array(ice_class))) if ice_class in known else ""
