"""The command ``cold``: daily low temperatures to the polar service temperature; ice on deck and ice damage."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from beltwright.core.errors import ExitCode


def cold(
    daily_lows: Annotated[
        Path,
        typer.Argument(
            help="Daily low temperatures of ten years, CSV: date, daily_low_degc, place.", show_default=False
        ),
    ],
    ship: Annotated[
        Path | None,
        typer.Option(
            "--ship", help="Ship folder: its service temperature, icing allowance and ice damage are told too."
        ),
    ] = None,
    service_temperature: Annotated[
        float | None,
        typer.Option("--service-temperature", help="Polar service temperature to be checked [degC]."),
    ] = None,
    first: Annotated[str, typer.Option("--from", help="First day of the season, MM-DD; the year if not given.")] = "",
    last: Annotated[str, typer.Option("--to", help="Last day of the season, MM-DD; may lie in the next year.")] = "",
    accepted_data_reason: Annotated[
        str, typer.Option("--accepted-data-reason", help="Why the Administration accepts less than ten years of data.")
    ] = "",
    results: Annotated[
        Path | None,
        typer.Option("--results", help="Folder for tables and JSON; FILE-study beside the file if not given."),
    ] = None,
) -> None:
    """Find the lowest mean daily low temperature and the polar service temperature; ice on deck, ice damage."""
    from rich.console import Console

    from beltwright.app.project import Project
    from beltwright.app.voyage import usual_category_of, write_cold
    from beltwright.cli.progress import TerminalProgress
    from beltwright.cli.route import season_of
    from beltwright.core.errors import InputError
    from beltwright.report.cold import cold_lines, damage_lines, end_line, icing_lines
    from beltwright.voyage.cold import cold_study

    season = season_of(first, last)
    lines: list[str] = []
    icing = damage = None
    if ship is None:
        made = cold_study(
            daily_lows,
            season=season,
            declared_service_temperature_degc=service_temperature,
            accepted_data_reason=accepted_data_reason,
        )
    else:
        if service_temperature is not None:
            raise InputError(
                "--service-temperature", "the ship folder says it", value=service_temperature, unit="degC",
                allowed="cold.polar_service_temperature_degc in ship.toml, or no --ship",
            )  # fmt: skip
        with TerminalProgress(Console(stderr=True)) as progress:
            project = Project(ship, progress=progress)
            made = project.study_cold(daily_lows, season=season, accepted_data_reason=accepted_data_reason)
            icing, damage = project.icing, project.ice_damage()
        lines += ["", *icing_lines(icing), "", *damage_lines(damage, usual_category_of(project.ship.ice.ice_class))]
    asked = {"season": [first, last] if season else None, "accepted_data_reason": accepted_data_reason}
    folder = results or daily_lows.parent / f"{daily_lows.stem}-study"
    written = write_cold(made, daily_lows, folder, icing=icing, damage=damage, asked=asked)
    for line in [*cold_lines(made, daily_lows.name), *lines, end_line()]:
        typer.echo(line)
    typer.echo(f"written to {written}")
    raise typer.Exit(ExitCode.NOT_MET if made.check is not None and not made.check.ok else ExitCode.MET)
