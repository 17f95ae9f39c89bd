"""The command ``choose``: which class, laid against loads, steel, cost, deadweight, engine and the route."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer


def choose(
    shipfolder: Annotated[
        Path, typer.Argument(help="Ship folder: ship.toml and the hull file it names.", show_default=False)
    ],
    route: Annotated[
        Path | None, typer.Option("--route", help="Ice regimes along a route, CSV; says how often each class may go.")
    ] = None,
    regimes: Annotated[
        Path | None, typer.Option("--regimes", help="Single ice regimes, CSV; says in which each class may go.")
    ] = None,
    first: Annotated[str, typer.Option("--from", help="First day of the route's season, MM-DD.")] = "",
    last: Annotated[str, typer.Option("--to", help="Last day of the route's season, MM-DD.")] = "",
    base: Annotated[
        str, typer.Option("--base", help="Class that the others are compared with; the ship's own if not given.")
    ] = "",
    costs: Annotated[
        Path | None, typer.Option("--costs", help="Table of prices, CSV as written to prices.csv, over ship.toml's.")
    ] = None,
    results: Annotated[
        Path | None, typer.Option("--results", help="Folder for the tables and pages; SHIPFOLDER/choice if not given.")
    ] = None,
) -> None:
    """Lay the classes of every rule set side by side for one ship: loads, steel, cost, deadweight, engine, route."""
    from rich.console import Console

    from beltwright.app.project import Project
    from beltwright.cli.progress import TerminalProgress
    from beltwright.cli.route import season_of
    from beltwright.core.errors import InputError
    from beltwright.report.choice import choice_lines

    season = season_of(first, last)
    if season is not None and route is None:
        raise InputError("--from, --to", "a season is for a route", value=first, allowed="with --route")
    with TerminalProgress(Console(stderr=True)) as progress:
        project = Project(shipfolder, progress=progress, costs=costs)
        made = project.choose_class(route, regimes, season=season, base=base or None)
        written = project.write_choice(made, results)
    for line in choice_lines(made):
        typer.echo(line)
    typer.echo(f"written to {written}")
