"""The commands: ``design`` does the main job, ``explain`` answers why a plate or frame is what it is."""

from __future__ import annotations

import os
import sys
import traceback
from pathlib import Path
from typing import Annotated

import typer

from beltwright.cli.check import check
from beltwright.cli.choose import choose
from beltwright.cli.classes import classes
from beltwright.cli.cold import cold
from beltwright.cli.route import route
from beltwright.cli.serve import serve
from beltwright.cli.size import certify, size
from beltwright.core.errors import ExitCode, InputError, ToolError

app = typer.Typer(
    name="beltwright",
    help="Design the ice-strengthened hull structure of a ship: loads, areas, plating, frames, weight, documents. "
    "A design aid, not approved by any classification society or flag; results need review by a qualified engineer.",
    no_args_is_help=True,
    add_completion=False,
    pretty_exceptions_enable=False,
    rich_markup_mode=None,
)

Folder = Annotated[Path, typer.Argument(help="Ship folder: ship.toml and the hull file it names.", show_default=False)]


@app.command()
def design(
    shipfolder: Folder,
    results: Annotated[
        Path | None, typer.Option("--results", help="Results folder; SHIPFOLDER/results where not given.")
    ] = None,
) -> None:
    """Design the ship and write booklet, drawings, tables and the machine-readable result."""
    from rich.console import Console

    from beltwright.app.project import Project
    from beltwright.cli.progress import TerminalProgress
    from beltwright.report.summary import summary

    with TerminalProgress(Console(stderr=True)) as progress:
        project = Project(shipfolder, progress=progress)
        written = project.write(results)
    made = project.results
    for line in summary(made.design, made.weight):
        typer.echo(line)
    typer.echo(f"written to {written}")
    raise typer.Exit(ExitCode.MET if made.design.all_met else ExitCode.NOT_MET)


@app.command()
def explain(
    shipfolder: Folder,
    panel: Annotated[
        str,
        typer.Argument(
            help="Panel or other member, e.g. F200/L3, as panels.csv, frames.csv and supports.csv name it.",
            show_default=False,
        ),
    ],
    frame: Annotated[
        bool, typer.Option("--frame", help="Explain the frame of that name instead of the plate.")
    ] = False,
    support: Annotated[
        bool, typer.Option("--support", help="Explain the web frame or stringer of that name instead of the plate.")
    ] = False,
    appendage: Annotated[
        bool, typer.Option("--appendage", help="Explain the steel grade of the appendage of that name.")
    ] = False,
) -> None:
    """Say why a plate, frame, web frame, stringer or appendage is what it is, and what would change it."""
    from rich.console import Console

    from beltwright.app.project import Project
    from beltwright.cli.progress import TerminalProgress
    from beltwright.report.summary import explanation_text

    with TerminalProgress(Console(stderr=True)) as progress:
        project = Project(shipfolder, progress=progress)
        asked = [
            story
            for chosen, story in (
                (frame, project.explain_frame), (support, project.explain_support),
                (appendage, project.explain_appendage),
            )
            if chosen
        ]  # fmt: skip
        if len(asked) > 1:
            raise InputError("explain", "one member at a time", allowed="one of --frame, --support, --appendage")
        told = (asked[0] if asked else project.explain)(panel)
    for line in explanation_text(told):
        typer.echo(line)
    if not asked and panel in project.results.design.frames.labels("id"):
        typer.echo(f"\na frame span of this name is there too: beltwright explain {shipfolder} {panel} --frame")


app.command()(check)
app.command()(classes)
app.command()(size)
app.command()(certify)
app.command()(choose)
app.command()(route)
app.command()(cold)
app.command()(serve)


def main() -> None:
    """Run the command line.

    An error the user can act on is one line on standard error. A fault of the program itself shows where it happened
    and ends with a status of its own, so that nobody takes it for a design result.
    """
    try:
        app(standalone_mode=True)
    except ToolError as error:
        sys.stderr.write(f"beltwright: {error}\n")
        sys.exit(error.exit_code)
    except BrokenPipeError:  # whoever read the output has seen enough
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        sys.exit(ExitCode.MET)
    except Exception as error:
        traceback.print_exc()
        sys.stderr.write(f"beltwright: the program itself failed ({type(error).__name__}); nothing was decided\n")
        sys.exit(ExitCode.PROGRAM_FAILED)
