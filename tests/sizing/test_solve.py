"""The solver's optimum against trying everything, and what it does when nothing meets."""

from __future__ import annotations

from dataclasses import replace

import pytest
from tests.sizing.brute import least_price
from tests.sizing.random_problems import random_problem

from beltwright.core.errors import InputError
from beltwright.sizing.problem import price, violations
from beltwright.sizing.second import by_second_solver, by_trying_all
from beltwright.sizing.solve import solve


def agrees(seed: int, *, large: bool) -> tuple[bool, int]:
    """Check one random problem; returns whether it has a solution and how many designs there were."""
    problem = random_problem(seed, large=large)
    best = least_price(problem)
    if best is None:
        with pytest.raises(InputError):
            solve(problem)
        return False, problem.designs
    found = solve(problem)
    assert violations(problem, found.solution) == []
    assert price(problem, found.solution) == found.price == found.bound == best, seed
    assert found.finished
    return True, problem.designs


def test_small_problems_have_the_price_that_trying_everything_finds() -> None:
    """kind: second-method."""
    solved = [agrees(seed, large=False)[0] for seed in range(60)]
    assert 20 < sum(solved) < 60  # some have no solution at all, and that is told


@pytest.mark.slow
def test_500_problems_have_the_price_that_trying_everything_finds() -> None:
    """kind: second-method. Of these at least 50 have 10,000 designs or more."""
    results = [agrees(seed, large=seed % 5 == 0) for seed in range(1000, 1500)]
    assert sum(designs >= 10_000 and solved for solved, designs in results) >= 50
    assert sum(solved for solved, _ in results) > 250


def test_the_same_problem_gives_the_same_answer() -> None:
    found = [solve(random_problem(1005, large=True)) for _ in range(2)]
    assert found[0] == found[1]


def test_the_second_solver_and_trying_all_agree_with_the_first() -> None:
    """kind: second-method. What the recheck of certificates uses, on problems without members that must be alike."""
    seen = 0
    for seed in range(200, 260):
        problem = replace(random_problem(seed), same_plate=(), same_profile=())
        best = least_price(problem)
        second = by_second_solver(problem, 60.0) if best is not None else None
        if best is None or second is None:
            continue
        assert price(problem, second) == best
        assert violations(problem, second) == []
        if problem.designs < 3000:
            tried = by_trying_all(problem)
            assert tried is not None
            assert price(problem, tried) == best
            seen += 1
    assert seen > 10
