"""The proved least structure of the PC4 demo ship: the whole search, and its model against a plainer one.

The plainer model says the same with a row for each pair of things that must not stand together, and goes to another
solver; both have to find the same price.
"""

from __future__ import annotations

from pathlib import Path

from _harness import function_seconds, show
from beltwright.app.project import Project
from beltwright.sizing.fit import ask
from beltwright.sizing.problem import Problem, price
from beltwright.sizing.second import by_second_solver
from beltwright.sizing.size import Sized, size, solved
from beltwright.sizing.solve import Found, solve
from beltwright.sizing.variants import variants_of

SHIP = Path(__file__).resolve().parent.parent / "examples" / "quillan-frostmark"
BUDGET_S = 60.0


def main() -> None:
    """Check that both ways find the same price, then print the lines."""
    design = Project(SHIP).results.design
    problem: Problem = solved(ask(design))[0]

    def tight() -> Found:
        return solve(problem)

    def plain() -> int:
        answer = by_second_solver(problem, 600.0)
        assert answer is not None
        return price(problem, answer)

    def described() -> Sized:
        return size(design, candidates=ask(design))

    def whole() -> Sized:
        return size(design)

    found = tight()
    assert found.finished
    assert found.price == plain()
    panels = 2 * design.arrangement.panels.rows
    arrangements = len(variants_of(design))
    show(
        f"least structure proved, {panels} panels, {len(problem.plates)} plates of half a ship, as described",
        function_seconds(described, runs=3),
        budget_s=BUDGET_S,
    )
    show(f"the same over {arrangements} arrangements", function_seconds(whole, runs=1), budget_s=BUDGET_S)
    show(
        "the model alone",
        function_seconds(tight, runs=5),
        plain_s=function_seconds(plain, runs=1),
        plain="a row for each pair, another solver",
    )


if __name__ == "__main__":
    main()
