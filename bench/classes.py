"""A ship under all classes of its rule set side by side, against as many whole designs one after the other.

The hull is read before; both ways start from it. The comparison measures and arranges the hull once and leaves out
what only drawings show; a whole design does all of it each time. Files are not written in either.
"""

from __future__ import annotations

from pathlib import Path

import numpy as np

from _harness import function_seconds, show
from beltwright.app.project import Project
from beltwright.core.findings import Findings
from beltwright.scantlings.build import design_ship, prepare
from beltwright.weights.classes import ClassComparison, compare_classes, of_class
from beltwright.weights.steel import steel_weight

SHIP = Path(__file__).resolve().parent.parent / "examples" / "quillan-frostmark"
BUDGET_S = 5.0


def main() -> None:
    """Check that both ways agree to the last bit, then print the line."""
    project = Project(SHIP)
    read, hull = project.read, project.hull

    def side_by_side() -> ClassComparison:
        return compare_classes(read.ship, *prepare(read.ship, read.loading_cases, hull, Findings()))

    def one_by_one() -> list[float]:
        designs = (design_ship(of_class(read.ship, name), read.loading_cases, hull) for name in made.rules.classes)
        return [steel_weight(design).modelled_t for design in designs]

    made = side_by_side()
    assert np.array_equal(made.summary["modelled_t"].data, np.array(one_by_one()))
    show(
        f"{len(made.results)} classes side by side, {read.ship.ship.name}",
        function_seconds(side_by_side, runs=3),
        plain_s=function_seconds(one_by_one, runs=1),
        plain="as many whole designs",
        budget_s=BUDGET_S,
    )


if __name__ == "__main__":
    main()
