"""Why nothing meets although every member by itself could be met: which bound stands against it, and by how much."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import replace

from beltwright.sizing.problem import Problem, Solution

Try = Callable[[Problem], Solution | None]


def against(problem: Problem, attempt: Try) -> str:
    """Return in words which bound on numbers, steps and likeness leaves nothing, and what would do.

    ``attempt`` returns a solution of a problem, None where there is none. Each bound is left out by itself; the nearest
    value of it that leaves something is then searched for. Nothing is relaxed: the problem has no answer.
    """
    told = [words for words in (found for one in _BOUNDS for found in one(problem, attempt)) if words]
    if not told:
        return "nothing meets all requirements, and no single bound stands against it alone"
    return f"nothing meets all requirements; {'; or '.join(told)}"


def _thicknesses(problem: Problem, attempt: Try) -> Iterator[str]:
    if problem.most_thicknesses is None:
        return
    most = len({one.thickness_mm for plate in problem.plates for one in plate.choices})
    counts = range(problem.most_thicknesses + 1, most + 1)
    least = _first(counts, lambda n: attempt(replace(problem, most_thicknesses=n)) is not None)
    if least is not None:
        yield f"{counts[least]} plate thicknesses would do, {problem.most_thicknesses} are allowed"


def _profiles(problem: Problem, attempt: Try) -> Iterator[str]:
    if problem.most_profiles is None:
        return
    most = len({one.profile for group in problem.groups for one in group.candidates})
    counts = range(problem.most_profiles + 1, most + 1)
    least = _first(counts, lambda n: attempt(replace(problem, most_profiles=n)) is not None)
    if least is not None:
        yield f"{counts[least]} profiles would do, {problem.most_profiles} are allowed"


def _steps(problem: Problem, attempt: Try) -> Iterator[str]:
    if not problem.step_limits:
        return
    thick = sorted({one.thickness_mm for plate in problem.plates for one in plate.choices})
    beyond = min(limit.most_mm for limit in problem.step_limits)
    wider = sorted({round(b - a, 6) for a in thick for b in thick if b - a > beyond + 1e-9})

    def eased(step: float) -> Problem:
        limits = tuple(replace(limit, most_mm=max(limit.most_mm, step)) for limit in problem.step_limits)
        return replace(problem, step_limits=limits)

    least = _first(wider, lambda step: attempt(eased(step)) is not None)
    if least is None:
        return
    found = attempt(eased(wider[least]))
    assert found is not None
    chosen = [plate.choices[k].thickness_mm for plate, k in zip(problem.plates, found.choices, strict=True)]
    worst = max(problem.step_limits, key=lambda one: abs(chosen[one.one] - chosen[one.other]) - one.most_mm)
    names = problem.plates[worst.one].name, problem.plates[worst.other].name
    apart = abs(chosen[worst.one] - chosen[worst.other])
    yield (
        f"neighbouring plates {names[0]} and {names[1]} would have to differ by {apart:g} mm, {worst.most_mm:g} mm are "
        "allowed"
    )


def _other(problem: Problem, attempt: Try) -> Iterator[str]:
    if problem.most_other is not None and attempt(replace(problem, most_other=None)) is not None:
        yield f"without the bound of {problem.most_other} {problem.other_unit} something would"


def _likeness(problem: Problem, attempt: Try) -> Iterator[str]:
    if problem.same_profile and attempt(replace(problem, same_profile=())) is not None:
        yield "without the frames that must be alike something would"
    if problem.same_plate and attempt(replace(problem, same_plate=())) is not None:
        yield "without the plates that must be alike something would"


def _first(values: Sequence[float], does: Callable[..., bool]) -> int | None:
    """The place of the first value that does; more always does where less did. None where even the last does not."""
    if not values or not does(values[-1]):
        return None
    low, high = 0, len(values) - 1
    while low < high:
        middle = (low + high) // 2
        low, high = (low, middle) if does(values[middle]) else (middle + 1, high)
    return low


_BOUNDS = (_thicknesses, _profiles, _steps, _likeness, _other)
