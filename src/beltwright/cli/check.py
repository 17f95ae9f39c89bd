"""The command ``check``: a submitted list of plates and frames against the rule."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from beltwright.core.errors import ExitCode


def check(
    shipfolder: Annotated[
        Path, typer.Argument(help="Ship folder: ship.toml and the hull file it names.", show_default=False)
    ],
    submitted: Annotated[
        Path, typer.Argument(help="Submitted list, CSV: a row per plate or frame.", show_default=False)
    ],
    results: Annotated[
        Path | None, typer.Option("--results", help="Results folder; SHIPFOLDER/offered where not given.")
    ] = None,
) -> None:
    """Check a submitted drawing's plates and frames against the rule, member by member, and list what differs."""
    from rich.console import Console

    from beltwright.app.project import Project
    from beltwright.cli.progress import TerminalProgress
    from beltwright.report.offered import offered_summary

    with TerminalProgress(Console(stderr=True)) as progress:
        project = Project(shipfolder, progress=progress)
        judged = project.check_offered(submitted)
        written = project.write_offered(judged, results)
    for line in offered_summary(judged, project.results.design):
        typer.echo(line)
    typer.echo(f"written to {written}")
    raise typer.Exit(ExitCode.MET if judged.clean else ExitCode.NOT_MET)
