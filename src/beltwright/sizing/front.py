"""The trade-off between two objectives: designs of which no other has less of one and not more of the other.

Each point is found by two searches: the least of the first objective with the second bounded, then the least of the
second at exactly that much of the first. Both are in whole units and finished, so that every point is proved to lie on
the front; between two points that are told there may be others.
"""

from __future__ import annotations

import threading
from collections.abc import Callable, Iterable
from dataclasses import dataclass, replace

import numpy as np

from beltwright.core.errors import InputError
from beltwright.scantlings.design import Design
from beltwright.sizing.candidates import Candidates
from beltwright.sizing.fit import ask, with_objective
from beltwright.sizing.nearest import NearestOf
from beltwright.sizing.problem import Problem, Solution, other_price, price, refuse_what_none_meets, swapped
from beltwright.sizing.size import Sized, made_of
from beltwright.sizing.solve import Found, Heard, solve

_ROUNDS = 50
Search = Callable[[Problem], Found]


@dataclass(frozen=True, slots=True, kw_only=True)
class Point:
    """A design on the front: its two prices, the proved bound of the first at that second, and how it came about.

    ``proved`` tells whether both searches behind it were finished.
    """

    first: int
    second: int
    bound: int
    solution: Solution
    proved: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Front:
    """The points by the first objective, least first; ``whole`` where there are no others between them.

    ``sized`` are the points as designs with all their checks.
    """

    objectives: tuple[str, str]
    units: tuple[str, str]
    points: tuple[Point, ...]
    sized: tuple[Sized, ...]
    whole: bool
    candidates: Candidates


def front(
    design: Design, first: str, second: str, *, points: int | None = 7, heard: Heard | None = None,
    stop: threading.Event | None = None, seconds: float = np.inf,
) -> Front:  # fmt: skip
    """Return the front of a designed ship between two objectives; frames and stringers stand as described.

    Parameters
    ----------
    design : the design as described
    first, second : objectives, as in ``sizing.objective``
    points : how many points at most, both ends among them; None for every one there is
    heard, stop, seconds : as in :func:`~beltwright.sizing.solve.solve`; ``seconds`` is for each search

    Raises
    ------
    InputError : nothing meets the requirements, or the two objectives are one
    """
    if first == second:
        raise InputError("--front", "two different objectives make a front", value=f"{first} {second}")
    priced = with_objective(design, first)
    asked = ask(priced, second=second)

    def search(problem: Problem) -> Found:
        return solve(problem, heard=heard, stop=stop, seconds=seconds)

    def point(most: int | None, *, turned: bool = False) -> Point:
        for _ in range(_ROUNDS):
            problem = asked.problem()
            refuse_what_none_meets(problem, NearestOf(asked))
            found = least_point(problem, most, search, turned=turned)
            if not asked.harder(found.solution):
                return found
        raise AssertionError("spans that fail are found without end")

    found, whole = points_of(point, points)
    problem = asked.problem()
    return Front(
        objectives=(first, second), units=(problem.unit, problem.other_unit), points=found, whole=whole,
        sized=tuple(_sized(priced, asked, problem, one) for one in found), candidates=asked,
    )  # fmt: skip


def _sized(design: Design, asked: Candidates, problem: Problem, point: Point) -> Sized:
    """A point as a design: the least of the first objective with no more of the second than it has."""
    found = Found(solution=point.solution, price=point.first, bound=point.bound, finished=point.proved, nodes=0)
    return made_of(design, asked, replace(problem, most_other=point.second), found, 1)


def points_of(point: Callable[..., Point], most: int | None) -> tuple[tuple[Point, ...], bool]:
    """Return the points from end to end, by the first objective, and whether they are all there are.

    ``point(bound)`` gives the point of least first price with the second bounded, ``point(None, turned=True)`` that of
    least second price. With ``most`` points the bounds lie evenly between the ends; None asks for every point.
    """
    found, last = [point(None)], point(None, turned=True)
    span = found[0].second - last.second
    bounds: Iterable[int] = range(found[0].second - 1, last.second - 1, -1)
    if most is not None:
        bounds = [found[0].second - span * k // (most - 1) for k in range(1, most - 1)] if most > 2 else []
    for bound in bounds:
        if last.second < found[-1].second and bound < found[-1].second:
            found.append(point(bound))
    if last.second < found[-1].second:
        found.append(last)
    return tuple(found), most is None or len(found) == 1


def least_point(problem: Problem, most: int | None, search: Search, *, turned: bool = False) -> Point:
    """Return the point of least price with the other price bounded; ``turned``: of least other price, unbounded.

    Of all designs of that price it is the one of the least other price, and the other way round.
    """
    leading = swapped(problem) if turned else replace(problem, most_other=most)
    one = search(leading)
    two = search(replace(swapped(leading), most_other=one.price))
    proved, first = one.finished and two.finished, price(problem, two.solution)
    bound = (two if turned else one).bound
    return Point(
        first=first, second=other_price(problem, two.solution), bound=first if proved else min(bound, first - 1),
        solution=two.solution, proved=proved,
    )  # fmt: skip
