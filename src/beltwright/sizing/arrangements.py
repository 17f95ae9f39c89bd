"""The best of several arrangements, each a problem of its own, with a proof over all of them.

Each is bounded first: by what every panel asks for exactly and the lightest section, then by its problem without stock
limits. What a bound shows to be no better than the best found is dropped, and the bound that dropped it is told.
"""

from __future__ import annotations

import threading
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from time import monotonic
from typing import Generic, TypeVar

import numpy as np

from beltwright.core.errors import InputError
from beltwright.sizing.problem import Problem
from beltwright.sizing.solve import Found

Q = TypeVar("Q")
CHOSEN, SEARCHED, DROPPED, NOTHING, NOT_SEARCHED = "chosen", "searched", "dropped", "nothing meets", "not searched"
BY_PANELS = "every panel exactly as thick as it asks and every frame the lightest section"
BY_NO_LIMITS = "its plates and frames without stock limits"


@dataclass(frozen=True, slots=True, kw_only=True)
class Case(Generic[Q]):
    """One arrangement: its words, a bound that is quickly had, and its question, which takes longer.

    Either may raise InputError: it cannot be arranged, or nothing meets.
    """

    words: tuple[str, ...]
    bound: Callable[[], int]
    question: Callable[[], Q]


@dataclass(frozen=True, slots=True, kw_only=True)
class Outcome:
    """How one arrangement came out: ``state``, the proved bound of its price, its price if it was searched.

    ``by`` is the bound that dropped it; ``note`` says why nothing meets. ``finished``: the bound is its least price.
    """

    words: tuple[str, ...]
    state: str
    bound: int
    price: int | None = None
    finished: bool = False
    by: str = ""
    note: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Best(Generic[Q]):
    """The best case by its number, its question, last problem and rounds; ``found`` has the bound over all cases."""

    number: int
    question: Q
    problem: Problem
    found: Found
    own: Found
    rounds: int
    outcomes: tuple[Outcome, ...]


Solve = Callable[[Q, float], tuple[Problem, Found, int]]
Relaxed = Callable[[Q, float], int]


def best_of(
    cases: Sequence[Case[Q]], solved: Solve[Q], relaxed: Relaxed[Q], *, stop: threading.Event | None = None,
    seconds: float = np.inf,
) -> Best[Q]:  # fmt: skip
    """Return the best case.

    ``solved(question, seconds)`` solves one, ``relaxed(question, seconds)`` bounds it without stock limits. Cases are
    searched from the least bound on; of two with one price the first stands.

    Raises InputError where nothing meets in any, with what stands against the first.
    """
    outcomes, bounds, failed = _bounded(cases)
    best: Best[Q] | None = None
    end = monotonic() + seconds
    for number in sorted(bounds, key=lambda n: (bounds[n], n)):
        case, left = cases[number], end - monotonic()
        if best is not None and _no_better(bounds[number], number, best):
            outcomes[number] = Outcome(words=case.words, state=DROPPED, bound=bounds[number], by=BY_PANELS)
            continue
        if best is not None and (left <= 0.0 or (stop is not None and stop.is_set())):
            outcomes[number] = Outcome(words=case.words, state=NOT_SEARCHED, bound=bounds[number])
            continue
        try:
            question = case.question()
            if best is not None:
                bound = relaxed(question, left)
                if _no_better(bound, number, best):
                    outcomes[number] = Outcome(words=case.words, state=DROPPED, bound=bound, by=BY_NO_LIMITS)
                    continue
            problem, found, rounds = solved(question, left)
        except InputError as error:
            failed.setdefault(number, error)
            outcomes[number] = Outcome(words=case.words, state=NOTHING, bound=0, note=str(error))
            continue
        outcomes[number] = Outcome(words=case.words, state=SEARCHED, bound=found.bound, price=found.price,
                                   finished=found.finished)  # fmt: skip
        if best is None or (found.price, number) < (best.found.price, best.number):
            best = Best(number=number, question=question, problem=problem, found=found, own=found, rounds=rounds,
                        outcomes=())  # fmt: skip
    if best is None:
        raise failed[min(failed)]
    outcomes[best.number] = replace(outcomes[best.number], state=CHOSEN)
    told = tuple(outcomes[number] for number in range(len(cases)))
    return replace(best, found=_over_all(best.own, told), outcomes=told)


def _bounded(cases: Sequence[Case[Q]]) -> tuple[dict[int, Outcome], dict[int, int], dict[int, InputError]]:
    """The quick bounds; cases that cannot be arranged or met are outcomes already."""
    outcomes: dict[int, Outcome] = {}
    bounds: dict[int, int] = {}
    failed: dict[int, InputError] = {}
    for number, case in enumerate(cases):
        try:
            bounds[number] = case.bound() if len(cases) > 1 else 0
        except InputError as error:
            failed[number] = error
            outcomes[number] = Outcome(words=case.words, state=NOTHING, bound=0, note=str(error))
    return outcomes, bounds, failed


def _no_better(bound: int, number: int, best: Best[Q]) -> bool:
    """Whether a case with this bound cannot be chosen before the best one."""
    return (bound, number) > (best.found.price, best.number)


def _over_all(found: Found, outcomes: Sequence[Outcome]) -> Found:
    """The best case's solution with the bound that holds over all cases that something may meet."""
    bound = min(found.price, *(one.bound for one in outcomes if one.state != NOTHING))
    return replace(found, bound=bound, finished=found.finished and bound == found.price)
