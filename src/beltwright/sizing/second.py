"""The least price found a second way: by trying everything, or by another solver on a plainer model.

In the plainer model each thing that must not stand together is a row of its own; nothing of it is shared with the model
of ``solve``.
"""

from __future__ import annotations

import itertools
from collections.abc import Iterable, Iterator, Sequence

import numpy as np
from scipy.optimize import Bounds, LinearConstraint, milp
from scipy.sparse import coo_array

from beltwright.core.units import FloatArray
from beltwright.sizing.problem import Problem, Solution, price, swapped, violations

Row = tuple[dict[int, float], float, float]


def by_trying_all(problem: Problem) -> Solution | None:
    """Return the cheapest design by trying all of them, one after the other; None where nothing meets."""
    best: tuple[int, Solution] | None = None
    plates = [range(len(plate.choices)) for plate in problem.plates]
    for options in itertools.product(*(range(len(zone.options)) for zone in problem.zones)):
        groups = [range(len(group.candidates)) if options[group.zone] == group.option else (-1,)
                  for group in problem.groups]  # fmt: skip
        for choices in itertools.product(*plates):
            for candidates in itertools.product(*groups):
                one = Solution(options=options, choices=choices, candidates=candidates)
                cost = price(problem, one)
                if (best is None or cost < best[0]) and not violations(problem, one):
                    best = cost, one
    return None if best is None else best[1]


def by_second_solver(problem: Problem, seconds: float) -> Solution | None:
    """Return the cheapest design; None where the solver does not finish in time or members must be alike."""
    if problem.same_plate or problem.same_profile:
        return None
    model = _Plain(problem)
    rows = list(model.rows())
    place = [(n, k, value) for n, (row, _, _) in enumerate(rows) for k, value in row.items()]
    matrix = coo_array(
        ([value for _, _, value in place], ([n for n, _, _ in place], [k for _, k, _ in place])),
        shape=(len(rows), len(model.cost)),
    )
    answer = milp(
        np.array(model.cost),
        integrality=np.ones(len(model.cost)),
        bounds=Bounds(0, 1),
        constraints=LinearConstraint(matrix.tocsr(), [low for _, low, _ in rows], [high for _, _, high in rows]),
        options={"mip_rel_gap": 0.0, "time_limit": seconds},
    )
    return model.solution(answer.x) if answer.status == 0 and answer.x is not None else None


class _Plain:
    """A column for each option, choice and candidate, in this order, and for each thickness and profile counted."""

    def __init__(self, problem: Problem) -> None:
        self.problem = problem
        self.cost: list[float] = []
        self.zones = [self._columns(zone.prices) for zone in problem.zones]
        self.plates = [self._columns([one.price for one in plate.choices]) for plate in problem.plates]
        self.groups = [self._columns([one.price for one in group.candidates]) for group in problem.groups]

    def _columns(self, prices: Iterable[int]) -> list[int]:
        start = len(self.cost)
        self.cost += [value / 1000.0 for value in prices]
        return list(range(start, len(self.cost)))

    def rows(self) -> Iterator[Row]:
        """Yield every row: what adds up to one, what must not stand together, what is counted."""
        problem = self.problem
        for columns in (*self.zones, *self.plates):
            yield dict.fromkeys(columns, 1.0), 1.0, 1.0
        for group, columns in zip(problem.groups, self.groups, strict=True):
            yield dict.fromkeys(columns, 1.0) | {self.zones[group.zone][group.option]: -1.0}, 0.0, 0.0
            for stand in group.stands:
                for choice, column in enumerate(self.plates[stand.plate]):
                    yield from _apart([columns[k] for k in np.flatnonzero(~stand.allowed[:, choice])], column)
        for need in problem.needs:
            barred = [self.plates[need.plate][c] for c in np.flatnonzero(~need.allowed)]
            yield from _apart(barred, self.zones[need.zone][need.option])
        for limit in problem.step_limits:
            for own_choice, column in zip(problem.plates[limit.one].choices, self.plates[limit.one], strict=True):
                far = [
                    own
                    for other, own in zip(problem.plates[limit.other].choices, self.plates[limit.other], strict=True)
                    if abs(other.thickness_mm - own_choice.thickness_mm) > limit.most_mm + 1e-9
                ]
                yield from _apart(far, column)
        thick = [[one.thickness_mm for one in plate.choices] for plate in problem.plates]
        profiles = [[one.profile for one in group.candidates] for group in problem.groups]
        yield from self._counted(problem.most_thicknesses, self.plates, thick)
        yield from self._counted(problem.most_profiles, self.groups, profiles)
        if problem.most_other is not None:
            yield self._others(), -np.inf, problem.most_other / 1000.0 + 5e-4

    def _others(self) -> dict[int, float]:
        """The other price of every column, in thousands."""
        other = swapped(self.problem)
        priced = [value for zone in other.zones for value in zone.prices]
        priced += [one.price for plate in other.plates for one in plate.choices]
        priced += [one.price for group in other.groups for one in group.candidates]
        return {column: value / 1000.0 for column, value in enumerate(priced) if value}

    def _counted(self, most: int | None, columns: list[list[int]], keys: Sequence[Sequence[float | str]]
                 ) -> Iterator[Row]:  # fmt: skip
        """At most so many different keys among what is taken."""
        if most is None:
            return
        used: dict[float | str, int] = {}
        for own, names in zip(columns, keys, strict=True):
            for column, name in zip(own, names, strict=True):
                if name not in used:
                    used[name] = self._columns([0])[0]
                yield {column: 1.0, used[name]: -1.0}, -np.inf, 0.0
        yield dict.fromkeys(used.values(), 1.0), -np.inf, float(most)

    def solution(self, values: FloatArray) -> Solution:
        """Return the values of the columns as a solution."""

        def taken(columns: list[int]) -> int:
            return int(np.argmax(values[columns]))

        options = tuple(taken(columns) for columns in self.zones)
        return Solution(
            options=options,
            choices=tuple(taken(columns) for columns in self.plates),
            candidates=tuple(
                taken(columns) if options[group.zone] == group.option else -1
                for group, columns in zip(self.problem.groups, self.groups, strict=True)
            ),
        )


def _apart(these: list[int], column: int) -> Iterator[Row]:
    """None of these together with a column."""
    if these:
        yield dict.fromkeys(these, 1.0) | {column: 1.0}, -np.inf, 1.0
