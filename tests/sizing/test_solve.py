"""The solver's optimum against trying everything, and what it does when nothing meets."""

from __future__ import annotations

from dataclasses import replace

import pytest
from tests.sizing.brute import front as brute_front
from tests.sizing.brute import least_price
from tests.sizing.random_problems import random_problem, with_other_prices

from beltwright.core.errors import InputError
from beltwright.sizing.front import least_point, points_of
from beltwright.sizing.problem import (
    Candidate,
    FrameGroup,
    Plate,
    PlateChoice,
    Problem,
    StepLimit,
    Zone,
    other_price,
    price,
    violations,
)
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


def every_point(problem: Problem) -> list[tuple[int, int]]:
    """The whole front by the solver."""
    found, whole = points_of(lambda most, turned=False: least_point(problem, most, solve, turned=turned), None)
    assert whole
    assert all(point.proved for point in found)
    for point in found:
        assert violations(problem, point.solution) == []
        assert (price(problem, point.solution), other_price(problem, point.solution)) == (point.first, point.second)
    return [(point.first, point.second) for point in found]


def test_the_front_is_that_of_trying_everything() -> None:
    """kind: second-method. Two zones, stock limits, steps and coupling; every point of the front, and no other."""
    several = 0
    for seed in range(40):
        problem = with_other_prices(random_problem(seed), seed)
        if brute_front(problem):
            assert every_point(problem) == brute_front(problem), seed
            several += len(brute_front(problem)) > 3
    assert several > 5


def test_a_part_of_the_front_lies_on_it() -> None:
    """kind: second-method. Ends are always there, and no more points than were asked for."""
    for seed in (0, 3, 5, 8, 11, 15):
        problem = with_other_prices(random_problem(seed), seed)
        whole = brute_front(problem)
        if not whole:
            continue
        for most in (2, 4):
            found, all_there = points_of(
                lambda b, turned=False, p=problem: least_point(p, b, solve, turned=turned), most
            )
            pairs = [(point.first, point.second) for point in found]
            assert set(pairs) <= set(whole)
            assert (pairs[0], pairs[-1]) == (whole[0], whole[-1])
            assert len(pairs) <= most
            assert all_there == (len(whole) == 1)


def test_a_bound_on_the_other_price_is_kept_by_all_ways_to_solve() -> None:
    """kind: second-method. The second solver and trying all, with the other price bounded between its ends."""
    seen = 0
    for seed in range(200, 240):
        problem = replace(with_other_prices(random_problem(seed), seed), same_plate=(), same_profile=())
        whole = brute_front(problem)
        if len(whole) < 3 or problem.designs >= 3000:
            continue
        bounded = replace(problem, most_other=whole[1][1])
        for way in (by_second_solver(bounded, 60.0), by_trying_all(bounded)):
            assert way is not None
            assert price(problem, way) == whole[1][0] == solve(bounded).price
        below = replace(problem, most_other=whole[-1][1] - 1)
        with pytest.raises(InputError, match=r"without the bound of .* something would"):
            solve(below)
        seen += 1
    assert seen > 3


def test_the_bound_that_leaves_nothing_is_named_with_what_would_do() -> None:
    """hand: three plates of 10, 14 and 20 mm and nothing else: three thicknesses, a step of 6 mm from 14 to 20."""
    plates = tuple(
        Plate(name=f"P{n}", choices=(PlateChoice(thickness_mm=t, grade="B", price=1),))
        for n, t in enumerate((10, 14, 20))
    )
    base = Problem(unit="g", plates=plates, zones=(Zone(name="all", options=("a",), prices=(0,)),))
    with pytest.raises(InputError, match="3 plate thicknesses would do, 2 are allowed"):
        solve(replace(base, most_thicknesses=2))
    steps = (StepLimit(one=0, other=1, most_mm=5.0), StepLimit(one=1, other=2, most_mm=5.0))
    with pytest.raises(InputError, match="P1 and P2 would have to differ by 6 mm, 5 mm are allowed"):
        solve(replace(base, step_limits=steps))
    with pytest.raises(InputError, match="no single bound stands against it alone"):
        solve(replace(base, step_limits=steps, most_thicknesses=2))
    groups = tuple(
        FrameGroup(
            name=f"G{n}", zone=0, option=0, stands=(), candidates=(Candidate(profile=f"T{n}", grade="B", price=1),)
        )
        for n in range(3)
    )
    with pytest.raises(InputError, match="3 profiles would do, 1 are allowed"):
        solve(replace(base, groups=groups, most_profiles=1))
    with pytest.raises(InputError, match="without the frames that must be alike something would"):
        solve(replace(base, groups=groups, same_profile=((0, 1),)))
    with pytest.raises(InputError, match="without the plates that must be alike something would"):
        solve(replace(base, same_plate=((0, 1),)))
