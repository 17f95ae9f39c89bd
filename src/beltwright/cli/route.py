"""The command ``route``: which classes may go where on a route and how often, by the risk index of the circular."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

if TYPE_CHECKING:
    from beltwright.rules.polar_code_imo_2017.part_ib_1_daily_low import Season


def route(
    regimes: Annotated[
        Path,
        typer.Argument(
            help="Ice regimes, CSV: date, point and tenths of each ice type; or regime in place of date and point.",
            show_default=False,
        ),
    ],
    ice_class: Annotated[
        str, typer.Option("--class", help="The ship's ice class, for findings of its own, e.g. PC4.")
    ] = "",
    ship: Annotated[
        Path | None, typer.Option("--ship", help="Ship folder; its ice class is taken from ship.toml.")
    ] = None,
    first: Annotated[str, typer.Option("--from", help="First day of the season, MM-DD; all dates if not given.")] = "",
    last: Annotated[str, typer.Option("--to", help="Last day of the season, MM-DD; may lie in the next year.")] = "",
    escort: Annotated[
        bool, typer.Option("--escort", help="Plan every regime under escort, whatever the file says.")
    ] = False,
    results: Annotated[
        Path | None,
        typer.Option("--results", help="Folder for tables and JSON; FILE-study beside the file if not given."),
    ] = None,
) -> None:
    """Say which ice classes may go where on a route, how often and how fast: decision support by POLARIS."""
    from beltwright.app.project import Project
    from beltwright.app.voyage import study_route, write_route
    from beltwright.core.errors import InputError
    from beltwright.report.route import regime_lines, route_lines
    from beltwright.voyage.study import RouteStudy

    if ship is not None and ice_class:
        raise InputError("--class", "the ship folder says the class", value=ice_class, allowed="--ship or --class")
    own = Project(ship).ship.ice.ice_class if ship is not None else ice_class
    season = season_of(first, last)
    made = study_route(regimes, ice_class=own, season=season, escort_planned=escort)
    asked = {"ice_class": own, "season": [first, last] if season else None, "escort_everywhere": escort}
    written = write_route(made, regimes, results or regimes.parent / f"{regimes.stem}-study", asked)
    told = route_lines(made, regimes.name, own) if isinstance(made, RouteStudy) else regime_lines(made, regimes.name)
    for line in told:
        typer.echo(line)
    typer.echo(f"written to {written}")


def season_of(first: str, last: str) -> Season | None:
    """Return the season between two days, None where neither is given; one day alone is an InputError."""
    from beltwright.core.errors import InputError
    from beltwright.rules.polar_code_imo_2017.part_ib_1_daily_low import Season

    if bool(first) != bool(last):
        raise InputError("season", "one end is missing", value=first or last, allowed="--from and --to, MM-DD each")
    return Season(first=first, last=last) if first else None
