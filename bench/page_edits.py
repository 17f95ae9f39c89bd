"""The pages: from an edit to the new colours, a slider's redraw, the first page, and memory over many edits.

Without a browser: what the server does between taking an edit and sending the classes of the panels. The plain way
makes the whole design anew, as a fresh run of the program would after it has read the hull.
"""

from __future__ import annotations

import asyncio
import os
import shutil
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from functools import partial
from pathlib import Path
from statistics import median
from time import perf_counter

from _harness import function_seconds, show
from beltwright.app.bow_angles import angle_study
from beltwright.core.findings import Findings
from beltwright.scantlings.build import design_on, prepare
from beltwright.web.colours import colours_of
from beltwright.web.desk import Desk

EXAMPLE = Path(__file__).resolve().parent.parent / "examples" / "quillan-frostmark"
EDIT_S, SLIDER_S, PICTURE_S, EDITS = 0.2, 0.1, 2.0, 1000


@contextmanager
def desk() -> Iterator[Desk]:
    """The demo ship on a desk, in a folder of its own."""
    with tempfile.TemporaryDirectory() as folder:
        place = Path(folder) / "ship"
        shutil.copytree(EXAMPLE, place, ignore=shutil.ignore_patterns("results", "*.sqlite*"))
        made = Desk(place)
        yield made
        made.close()


def resident_mb() -> float:
    """Memory of this process that is resident now [MB]."""
    pages = int(Path("/proc/self/statm").read_text("ascii").split()[1])
    return pages * os.sysconf("SC_PAGE_SIZE") / 1e6


def seconds_to_colours(made: Desk, changes: list[tuple[tuple[str | int, ...], object]], by: str) -> list[float]:
    """Seconds from each edit until the classes of the panels are there to be sent."""
    heard: list[float] = []
    began = 0.0

    def listen(what: str) -> None:
        if what == "plates":
            found = made.colouring(by)
            assert found is not None
            colours_of(found)
            heard.append(perf_counter() - began)

    end = made.listen(listen)
    for path, value in changes:
        began = perf_counter()
        refused = asyncio.run(made.edit(partial(made.session.change, {path: value})))
        assert not refused
    end()
    return heard


def main() -> None:
    """Print one line per budget."""
    with desk() as made:
        asyncio.run(made.recompute())
        session = made.session
        panels = 2 * made.results.design.plating.rows if made.results else 0

        def fresh() -> None:
            findings = Findings()
            design_on(session.ship, *prepare(session.ship, (), made.session.placed(), findings), findings)

        plain = function_seconds(fresh, runs=3)
        kinds: dict[str, list[tuple[tuple[str | int, ...], object]]] = {
            "steel grade": [(("steel", "plate_grade"), grade) for grade in ("EH40", "EH36", "EH32") * 3],
            "class": [(("ice", "ice_class"), name) for name in ("PC5", "PC3", "PC2", "PC6", "PC4")],
            "web frame spacing": [(("zones", 0, "web_frame_spacing_m"), value) for value in (1.2, 1.7, 1.3, 1.5, 1.6)],
            "height of a deck": [(("levels", 2, "height_m"), value) for value in (4.6, 4.8, 4.65, 4.75, 4.7)],
        }
        for kind, changes in kinds.items():
            found = seconds_to_colours(made, changes, "thickness")
            show(
                f"edit of the {kind} to colours, {panels} panels", median(found), plain_s=plain,
                plain="a whole design", budget_s=EDIT_S,
            )  # fmt: skip
        assert made.results is not None
        study = angle_study(made.results.design)
        turns = iter([(0.1 * k, -0.05 * k) for k in range(1, 100)])
        show("slider of a bow angle to figures", function_seconds(lambda: study.at(*next(turns)), runs=9),
             plain_s=plain, plain="a whole design", budget_s=SLIDER_S)  # fmt: skip
        asyncio.run(made.recompute())
        began = perf_counter()
        made.shell()
        made.drawing("shell-expansion")
        show("shell and shell expansion for the first page", perf_counter() - began, budget_s=PICTURE_S)
        memory(made)


def memory(made: Desk) -> None:
    """Print how memory moves over many edits."""

    def edits(count: int) -> None:
        for number in range(count):
            change: dict[tuple[str | int, ...], object] = {("steel", "plate_grade"): ("EH40", "EH36")[number % 2]}
            asyncio.run(made.edit(partial(made.session.change, change)))

    edits(50)
    before = resident_mb()
    edits(EDITS)
    grown = resident_mb() - before
    print(f"memory over {EDITS} edits{'':<22}{before:.0f} MB before, {grown:+.0f} MB after; budget 50 MB more: "
          f"{'kept' if grown <= 50.0 else 'MISSED'}")  # fmt: skip


if __name__ == "__main__":
    main()
