"""The least price of a problem by mixed-integer programming, with a proved bound; repeats bit for bit.

The model has a variable for each option of a zone, choice of a plate and candidate of a group, and one for each
thickness and profile where their number is bounded. Every requirement is a row in which "if this, then one of those"
reads ``sum of these - sum of those <= 0``; such rows keep the relaxation tight, so that few nodes are needed.
"""

from __future__ import annotations

import threading
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from beltwright.core.errors import InputError
from beltwright.core.units import FloatArray
from beltwright.sizing.against import against
from beltwright.sizing.problem import Problem, Solution, price, refuse_what_none_meets, violations
from beltwright.sizing.reduce import reduced

if TYPE_CHECKING:
    from highspy import Highs, HighsCallbackEvent, HighsLp

UNIT = 1000.0  # prices enter the model in thousands, so that its tolerances stay far below one
Heard = Callable[[int | None, int | None], None]


@dataclass(frozen=True, slots=True, kw_only=True)
class Found:
    """The best solution found: its price, the proved lower bound of every price, and whether the search was finished.

    ``price`` and ``bound`` count the problem's unit; ``gap`` is their difference over the price.
    """

    solution: Solution
    price: int
    bound: int
    finished: bool
    nodes: int

    @property
    def gap(self) -> float:
        """What is left between price and bound, as a share of the price."""
        return (self.price - self.bound) / max(self.price, 1)


def solve(problem: Problem, *, heard: Heard | None = None, stop: threading.Event | None = None,
          seconds: float = np.inf) -> Found:  # fmt: skip
    """Return the solution of least price.

    ``heard`` is told the best price and the bound as they change (None where there is none yet). ``stop`` ends the
    search early with the best found so far.

    Raises
    ------
    InputError : nothing meets the requirements; the message names what stands against it
    """
    refuse_what_none_meets(problem)
    small = reduced(problem)
    model = _Model(small.problem)
    answer = model.run(heard, stop, seconds)
    if answer is None:
        raise InputError("sizing", against(problem, _attempt), allowed="more thicknesses, profiles or steps")
    values, bound, finished, nodes = answer
    solution = small.whole(model.solution(values))
    broken = violations(problem, solution)
    if broken:
        raise AssertionError(f"the solver's answer breaks the problem: {broken[0]}")
    cost = price(problem, solution)
    whole_bound = cost if finished else min(cost, int(np.ceil(bound * UNIT - 0.5)))
    return Found(solution=solution, price=cost, bound=whole_bound, finished=finished, nodes=nodes)


def _attempt(problem: Problem) -> Solution | None:
    """A solution of a problem, None where there is none."""
    small = reduced(problem)
    model = _Model(small.problem)
    answer = model.run(None, None, np.inf)
    return None if answer is None else small.whole(model.solution(answer[0]))


class _Model:
    """The rows and columns of the mixed-integer model of one problem."""

    def __init__(self, problem: Problem) -> None:
        self.problem = problem
        self._cost: list[float] = []
        self._rows: list[tuple[float, float, list[tuple[int, float]]]] = []
        self.options = [[self._column(cost) for cost in zone.prices] for zone in problem.zones]
        self.choices = [[self._column(one.price) for one in plate.choices] for plate in problem.plates]
        self.candidates = [[self._column(one.price) for one in group.candidates] for group in problem.groups]
        self._one_of_each()
        self._needs_and_stands()
        self._likeness()
        self._steps()
        self._numbers()
        self._other()

    def _column(self, cost: int = 0) -> int:
        """A new variable, 0 or 1."""
        self._cost.append(cost / UNIT)
        return len(self._cost) - 1

    def _implies(self, these: Iterable[int], those: Iterable[int]) -> None:
        """At most as many of these as of those: if one of these is taken, one of those is."""
        row = dict.fromkeys(these, 1.0)
        for column in those:
            row[column] = row.get(column, 0.0) - 1.0
        left = [(column, value) for column, value in row.items() if value]
        if any(value > 0.0 for _, value in left):
            self._rows.append((-np.inf, 0.0, left))

    def _one_of_each(self) -> None:
        """A zone takes one option, a plate one choice, a group one candidate if its option is taken."""
        for columns in (*self.options, *self.choices):
            self._rows.append((1.0, 1.0, [(column, 1.0) for column in columns]))
        for group, columns in zip(self.problem.groups, self.candidates, strict=True):
            option = self.options[group.zone][group.option]
            self._rows.append((0.0, 0.0, [*((column, 1.0) for column in columns), (option, -1.0)]))

    def _needs_and_stands(self) -> None:
        """What a plate must be under an option, and under the frames that stand on it."""
        for need in self.problem.needs:
            allowed = [column for column, yes in zip(self.choices[need.plate], need.allowed, strict=True) if yes]
            self._implies([self.options[need.zone][need.option]], allowed)
        for group, columns in zip(self.problem.groups, self.candidates, strict=True):
            for stand in group.stands:
                for pattern in np.unique(stand.allowed, axis=0):
                    within = (stand.allowed <= pattern).all(axis=1)  # these too are allowed on no other choice
                    those = [column for column, yes in zip(self.choices[stand.plate], pattern, strict=True) if yes]
                    self._implies([column for column, yes in zip(columns, within, strict=True) if yes], those)

    def _likeness(self) -> None:
        """Plates and groups that must be alike."""
        plates, groups = self.problem.plates, self.problem.groups
        for one, other in self.problem.same_plate:
            for these, those in ((one, other), (other, one)):
                for choice, column in zip(plates[these].choices, self.choices[these], strict=True):
                    like = [c for o, c in zip(plates[those].choices, self.choices[those], strict=True)
                            if (o.thickness_mm, o.grade) == (choice.thickness_mm, choice.grade)]  # fmt: skip
                    self._implies([column], like)
        for one, other in self.problem.same_profile:
            for these, those in ((one, other), (other, one)):
                away = [c for k, c in enumerate(self.options[groups[those].zone]) if k != groups[those].option]
                for candidate, column in zip(groups[these].candidates, self.candidates[these], strict=True):
                    like = [c for o, c in zip(groups[those].candidates, self.candidates[those], strict=True)
                            if (o.profile, o.grade) == (candidate.profile, candidate.grade)]  # fmt: skip
                    self._implies([column], [*like, *away])

    def _steps(self) -> None:
        """Neighbours: at least this thick here means nearly as thick there."""
        for limit in self.problem.step_limits:
            for these, those in ((limit.one, limit.other), (limit.other, limit.one)):
                here, there = self.problem.plates[these].choices, self.problem.plates[those].choices
                for least in sorted({choice.thickness_mm for choice in here}):
                    thick = [c for o, c in zip(here, self.choices[these], strict=True) if o.thickness_mm >= least]
                    near = [c for o, c in zip(there, self.choices[those], strict=True)
                            if o.thickness_mm >= least - limit.most_mm - 1e-9]  # fmt: skip
                    if len(near) < len(there):
                        self._implies(thick, near)

    def _numbers(self) -> None:
        """How many thicknesses and profiles there are."""
        thick: dict[object, list[list[int]]] = {}
        for plate, columns in zip(self.problem.plates, self.choices, strict=True):
            _gather(thick, [choice.thickness_mm for choice in plate.choices], columns)
        profiles: dict[object, list[list[int]]] = {}
        for group, columns in zip(self.problem.groups, self.candidates, strict=True):
            _gather(profiles, [candidate.profile for candidate in group.candidates], columns)
        for most, members in ((self.problem.most_thicknesses, thick), (self.problem.most_profiles, profiles)):
            if most is None:
                continue
            used = []
            for lists in members.values():
                used.append(self._column())
                for columns in lists:
                    self._implies(columns, [used[-1]])
            self._rows.append((-np.inf, float(most), [(column, 1.0) for column in used]))

    def _other(self) -> None:
        """The bound on the other price; half a unit above, so that rounding in the solver takes nothing away."""
        if self.problem.most_other is None:
            return
        row = [
            (column, value / UNIT)
            for columns, values in (
                *((own, zone.others) for own, zone in zip(self.options, self.problem.zones, strict=True)),
                *((own, [c.other for c in plate.choices])
                  for own, plate in zip(self.choices, self.problem.plates, strict=True)),
                *((own, [c.other for c in group.candidates])
                  for own, group in zip(self.candidates, self.problem.groups, strict=True)),
            )
            for column, value in zip(columns, values, strict=False)
            if value
        ]  # fmt: skip
        self._rows.append((-np.inf, (self.problem.most_other + 0.5) / UNIT, row))

    def run(
        self, heard: Heard | None, stop: threading.Event | None, seconds: float
    ) -> tuple[FloatArray, float, bool, int] | None:
        """Return the values of the variables, the bound, whether it is finished and the nodes; None if infeasible."""
        import highspy

        solver = _silent()
        for name, value in (
            ("threads", 1), ("random_seed", 1), ("parallel", "off"), ("mip_rel_gap", 0.0),
            ("mip_abs_gap", 0.4 / UNIT), ("mip_feasibility_tolerance", 1e-9), ("primal_feasibility_tolerance", 1e-9),
        ):  # fmt: skip
            solver.setOptionValue(name, value)
        if np.isfinite(seconds):
            solver.setOptionValue("time_limit", float(seconds))
        solver.passModel(self._lp())
        if heard is not None or stop is not None:
            _listen(solver, heard, stop)
        solver.run()
        status, info = solver.getModelStatus(), solver.getInfo()
        statuses = highspy.HighsModelStatus
        if status in (statuses.kInfeasible, statuses.kUnboundedOrInfeasible):
            return None
        values = np.array(solver.getSolution().col_value)
        if info.primal_solution_status != highspy.kSolutionStatusFeasible:
            raise InputError("sizing", "was stopped before any solution was found", allowed="more time")
        return values, float(info.mip_dual_bound), status == statuses.kOptimal, int(info.mip_node_count)

    def _lp(self) -> HighsLp:
        """The model in the solver's own form."""
        import highspy

        lp, count = highspy.HighsLp(), len(self._cost)
        lp.num_col_, lp.num_row_ = count, len(self._rows)
        lp.col_cost_, lp.col_lower_, lp.col_upper_ = np.array(self._cost), np.zeros(count), np.ones(count)
        lp.integrality_ = [highspy.HighsVarType.kInteger] * count
        lp.row_lower_ = np.array([low for low, _, _ in self._rows])
        lp.row_upper_ = np.array([high for _, high, _ in self._rows])
        lp.a_matrix_.format_ = highspy.MatrixFormat.kRowwise
        lp.a_matrix_.start_ = np.cumsum([0, *(len(row) for _, _, row in self._rows)])
        lp.a_matrix_.index_ = np.array([column for _, _, row in self._rows for column, _ in row], dtype=np.int32)
        lp.a_matrix_.value_ = np.array([value for _, _, row in self._rows for _, value in row])
        return lp

    def solution(self, values: FloatArray) -> Solution:
        """Return the variables' values as a solution of the (reduced) problem."""
        options = tuple(int(np.argmax(values[columns])) for columns in self.options)
        choices = tuple(int(np.argmax(values[columns])) for columns in self.choices)
        there = (options[group.zone] == group.option for group in self.problem.groups)
        candidates = tuple(
            int(np.argmax(values[columns])) if yes else -1 for columns, yes in zip(self.candidates, there, strict=True)
        )
        return Solution(options=options, choices=choices, candidates=candidates)


def _silent() -> Highs:
    """A solver that prints nothing, not even its name when it is made."""
    import highspy

    class Silent(highspy.Highs):
        def enableCallbacks(self) -> None:  # noqa: N802
            self.setOptionValue("output_flag", False)
            super().enableCallbacks()  # type: ignore[no-untyped-call]

    return Silent()  # type: ignore[no-untyped-call]


def _gather(members: dict[object, list[list[int]]], keys: Sequence[object], columns: Sequence[int]) -> None:
    """Add the columns of one member to the lists by key."""
    own: dict[object, list[int]] = {}
    for key, column in zip(keys, columns, strict=True):
        own.setdefault(key, []).append(column)
    for key, some in own.items():
        members.setdefault(key, []).append(some)


def _listen(solver: Highs, heard: Heard | None, stop: threading.Event | None) -> None:
    """Hear of progress and stop the search when asked."""

    def during(event: HighsCallbackEvent) -> None:
        if heard is not None:
            best, bound = event.data_out.mip_primal_bound, event.data_out.mip_dual_bound
            heard(*(round(v * UNIT) if np.isfinite(v) else None for v in (best, bound)))
        if stop is not None and stop.is_set():
            event.interrupt()

    solver.cbMipInterrupt.subscribe(during)
