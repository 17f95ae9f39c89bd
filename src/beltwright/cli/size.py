"""The commands ``size`` and ``certify``: the least structure of a ship, and the recheck of its certificate."""

from __future__ import annotations

import signal
import threading
from collections.abc import Iterator
from contextlib import contextmanager
from enum import StrEnum
from pathlib import Path
from typing import Annotated, NoReturn

import typer

from beltwright.core.errors import ExitCode

Folder = Annotated[Path, typer.Argument(help="Ship folder: ship.toml and the hull file it names.", show_default=False)]
Costs = Annotated[
    Path | None, typer.Option("--costs", help="Table of prices, CSV as written to prices.csv, over ship.toml's.")
]


class Objective(StrEnum):
    """What can be made least."""

    MASS = "mass"
    COST = "cost"
    CO2 = "co2"
    MIX = "mix"


def size(
    shipfolder: Folder,
    results: Annotated[
        Path | None, typer.Option("--results", help="Folder for the files; SHIPFOLDER/sizing if not given.")
    ] = None,
    costs: Costs = None,
    seconds: Annotated[
        float, typer.Option("--seconds", min=1.0, help="Stop the search after so long with the best found.")
    ] = 600.0,
    front: Annotated[
        tuple[Objective, Objective] | None,
        typer.Option("--front", help="Tell the trade-off between two objectives; files go to SHIPFOLDER/front."),
    ] = None,
    points: Annotated[
        int, typer.Option("--points", min=0, max=200, help="Points of the front at most; 0 for every one there is.")
    ] = 7,
) -> None:
    """Find the least plates and frames that meet every requirement, with a proved bound and a certificate.

    With --front the trade-off between two objectives is told instead, each of its points proved. An interrupt from the
    keyboard ends the search with the best found so far and its gap.
    """
    from rich.console import Console

    from beltwright.app.project import Project
    from beltwright.cli.progress import TerminalProgress
    from beltwright.report.sizing_words import sizing_lines

    stop = threading.Event()
    if front is not None:
        _front(shipfolder, results, costs, seconds, (front[0].value, front[1].value), points or None, stop)
    with TerminalProgress(Console(stderr=True)) as progress, _ends_the_search(stop):
        project = Project(shipfolder, progress=progress, costs=costs)
        made = project.size(seconds=seconds, stop=stop)
        written = project.write_sizing(made, results)
    for line in sizing_lines(made):
        typer.echo(line)
    typer.echo(f"written to {written}")
    raise typer.Exit(ExitCode.MET if made.sized.design.all_met else ExitCode.NOT_MET)


def _front(
    shipfolder: Path, results: Path | None, costs: Path | None, seconds: float, objectives: tuple[str, str],
    points: int | None, stop: threading.Event,
) -> NoReturn:  # fmt: skip
    """Tell the trade-off between two objectives."""
    from rich.console import Console

    from beltwright.app.project import Project
    from beltwright.cli.progress import TerminalProgress
    from beltwright.report.front import front_lines

    with TerminalProgress(Console(stderr=True)) as progress, _ends_the_search(stop):
        project = Project(shipfolder, progress=progress, costs=costs)
        made = project.front(*objectives, points=points, seconds=seconds, stop=stop)
        written = project.write_front(made, results)
    for line in front_lines(made):
        typer.echo(line)
    typer.echo(f"written to {written}")
    met = all(one.design.all_met for one in made.sized)
    raise typer.Exit(ExitCode.MET if met else ExitCode.NOT_MET)


@contextmanager
def _ends_the_search(stop: threading.Event) -> Iterator[None]:
    """Let an interrupt from the keyboard end the search with the best found; a second one ends the program."""

    def asked(*_: object) -> None:
        if stop.is_set():
            raise KeyboardInterrupt
        stop.set()

    before = signal.signal(signal.SIGINT, asked)
    try:
        yield
    finally:
        signal.signal(signal.SIGINT, before)


def certify(
    shipfolder: Folder,
    certificate: Annotated[Path, typer.Argument(help="Certificate written by size.", show_default=False)],
    costs: Costs = None,
    seconds: Annotated[float, typer.Option("--seconds", min=1.0, help="Limit of the second solver.")] = 300.0,
) -> None:
    """Recheck a certificate alone: every requirement, the price, and the bound a second way."""
    from rich.console import Console

    from beltwright.app.project import Project
    from beltwright.cli.progress import TerminalProgress
    from beltwright.report.sizing_words import verdict_lines

    with TerminalProgress(Console(stderr=True)) as progress:
        verdict = Project(shipfolder, progress=progress, costs=costs).certify(certificate, seconds=seconds)
    for line in verdict_lines(verdict):
        typer.echo(line)
    raise typer.Exit(ExitCode.MET if verdict.holds else ExitCode.NOT_MET)
