"""The command ``classes``: one ship under every class of its rule set, side by side."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer


def classes(
    shipfolder: Annotated[
        Path, typer.Argument(help="Ship folder: ship.toml and the hull file it names.", show_default=False)
    ],
    results: Annotated[
        Path | None, typer.Option("--results", help="Folder for the tables and pages; SHIPFOLDER/classes if not given.")
    ] = None,
) -> None:
    """Lay every ice class side by side for one ship: loads, plating, frames, weight, and what fails."""
    from rich.console import Console

    from beltwright.app.project import Project
    from beltwright.cli.progress import TerminalProgress
    from beltwright.report.classes import class_lines

    with TerminalProgress(Console(stderr=True)) as progress:
        project = Project(shipfolder, progress=progress)
        written = project.write_classes(results)
    for line in class_lines(project.compare_classes()):
        typer.echo(line)
    typer.echo(f"written to {written}")
