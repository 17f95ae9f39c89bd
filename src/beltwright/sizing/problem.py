"""The choice of plates, frames and framing as a discrete problem, free of rules and geometry.

What a rule asks is in the problem as tables of what is allowed together; how those tables come about is the business of
``candidates``. The module also says, without any solver, what a solution costs and which requirements it breaks: the
solver's model is held against it, and so is a certificate.

All prices are whole numbers (grams, or thousandths of a unit of money), so that sums are exact. Where two things are
weighed against each other every choice has a price in each, and ``most_other`` bounds the sum of the second.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Protocol

from beltwright.core.errors import InputError
from beltwright.core.units import BoolArray


@dataclass(frozen=True, slots=True, kw_only=True)
class PlateChoice:
    """What a plate may be: thickness as built [mm], steel grade, its price for the whole ship, and its other price."""

    thickness_mm: float
    grade: str
    price: int
    other: int = 0


@dataclass(frozen=True, slots=True, kw_only=True)
class Plate:
    """A physical plate of half a ship with its choices, thinnest first."""

    name: str
    choices: tuple[PlateChoice, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Zone:
    """A framing zone and how it may be framed; ``prices`` are what an option costs beside plates and frames.

    ``others`` are the same in the other price, none where there is none.
    """

    name: str
    options: tuple[str, ...]
    prices: tuple[int, ...]
    others: tuple[int, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Need:
    """With an option of a zone, a plate must be one of the ``allowed`` choices (c,); ``why`` names what asks for it."""

    plate: int
    zone: int
    option: int
    allowed: BoolArray
    why: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Candidate:
    """A frame section with its grade that a group may take, its price for the whole ship, and its other price."""

    profile: str
    grade: str
    price: int
    other: int = 0


@dataclass(frozen=True, slots=True, kw_only=True)
class Stand:
    """A group of frames stands on a plate: ``allowed`` (k, c) says which candidate meets all checks on which choice."""

    plate: int
    allowed: BoolArray


@dataclass(frozen=True, slots=True, kw_only=True)
class FrameGroup:
    """Frames of one section; they are there if their zone takes the option."""

    name: str
    zone: int
    option: int
    candidates: tuple[Candidate, ...]
    stands: tuple[Stand, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class StepLimit:
    """Two neighbouring plates may differ by so much [mm]."""

    one: int
    other: int
    most_mm: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Problem:
    """The whole choice. ``same_profile`` are pairs of groups, ``same_plate`` pairs of plates that must be alike.

    Pairs of groups whose zone options are not both taken ask for nothing. ``most_thicknesses`` and ``most_profiles``
    bound how many different ones the ship has; None for no bound. ``unit`` is what a price counts, ``other_unit`` what
    the other price counts, whose sum is ``most_other`` at most.
    """

    unit: str
    plates: tuple[Plate, ...]
    zones: tuple[Zone, ...]
    needs: tuple[Need, ...] = ()
    groups: tuple[FrameGroup, ...] = ()
    step_limits: tuple[StepLimit, ...] = ()
    same_profile: tuple[tuple[int, int], ...] = ()
    same_plate: tuple[tuple[int, int], ...] = ()
    most_thicknesses: int | None = None
    most_profiles: int | None = None
    other_unit: str = ""
    most_other: int | None = None

    @property
    def designs(self) -> int:
        """How many combinations there are to choose from, allowed or not."""
        count = 1
        for plate in self.plates:
            count *= len(plate.choices)
        for z, zone in enumerate(self.zones):
            per_option = [1] * len(zone.options)
            for group in self.groups:
                if group.zone == z:
                    per_option[group.option] *= len(group.candidates)
            count *= sum(per_option)
        return count


@dataclass(frozen=True, slots=True, kw_only=True)
class Solution:
    """The option of every zone, the choice of every plate, the candidate of every group (-1: it is not there)."""

    options: tuple[int, ...]
    choices: tuple[int, ...]
    candidates: tuple[int, ...]


def price(problem: Problem, solution: Solution) -> int:
    """Return what a solution costs in the problem's unit."""
    total = sum(zone.prices[k] for zone, k in zip(problem.zones, solution.options, strict=True))
    total += sum(plate.choices[k].price for plate, k in zip(problem.plates, solution.choices, strict=True))
    chosen = zip(problem.groups, solution.candidates, strict=True)
    return total + sum(group.candidates[k].price for group, k in chosen if k >= 0)


def other_price(problem: Problem, solution: Solution) -> int:
    """Return the sum of the other price."""
    return price(swapped(problem), solution)


def swapped(problem: Problem) -> Problem:
    """Return the problem with its two prices in each other's place, and no bound on either."""
    return replace(
        problem,
        unit=problem.other_unit,
        other_unit=problem.unit,
        most_other=None,
        plates=tuple(
            replace(plate, choices=tuple(replace(one, price=one.other, other=one.price) for one in plate.choices))
            for plate in problem.plates
        ),
        zones=tuple(
            replace(zone, prices=zone.others or (0,) * len(zone.options), others=zone.prices) for zone in problem.zones
        ),
        groups=tuple(
            replace(group, candidates=tuple(replace(one, price=one.other, other=one.price) for one in group.candidates))
            for group in problem.groups
        ),
    )


def violations(problem: Problem, solution: Solution) -> list[str]:
    """Return every requirement of the problem that a solution breaks, in words; empty when it keeps all."""
    told = _malformed(problem, solution)
    if told:
        return told
    plates = problem.plates
    for need in problem.needs:
        if solution.options[need.zone] == need.option and not need.allowed[solution.choices[need.plate]]:
            told.append(f"{_plate(problem, solution, need.plate)} does not meet {need.why}")
    for group, k in zip(problem.groups, solution.candidates, strict=True):
        for stand in group.stands if k >= 0 else ():
            if not stand.allowed[k, solution.choices[stand.plate]]:
                told.append(
                    f"{group.candidates[k].profile} of {group.name} fails on {_plate(problem, solution, stand.plate)}"
                )
    thickness = [plate.choices[k].thickness_mm for plate, k in zip(plates, solution.choices, strict=True)]
    for limit in problem.step_limits:
        if abs(thickness[limit.one] - thickness[limit.other]) > limit.most_mm + 1e-9:
            told.append(
                f"{plates[limit.one].name} and {plates[limit.other].name} differ by more than {limit.most_mm:g} mm"
            )
    for one, other in problem.same_plate:
        if _taken(plates[one], solution.choices[one]) != _taken(plates[other], solution.choices[other]):
            told.append(f"{plates[one].name} and {plates[other].name} are not alike")
    told += _unlike_groups(problem, solution)
    if problem.most_other is not None and other_price(problem, solution) > problem.most_other:
        told.append(f"{other_price(problem, solution)} {problem.other_unit} is more than {problem.most_other}")
    return told + _too_many(problem, solution, set(thickness))


def _malformed(problem: Problem, solution: Solution) -> list[str]:
    """What makes a solution no solution at all: counts, numbers out of range, groups that are there or not."""
    told = []
    for what, chosen, count in (
        ("zones", solution.options, [len(zone.options) for zone in problem.zones]),
        ("plates", solution.choices, [len(plate.choices) for plate in problem.plates]),
    ):
        if len(chosen) != len(count) or any(not 0 <= k < most for k, most in zip(chosen, count, strict=False)):
            told.append(f"the choices of the {what} do not fit the problem")
    if told or len(solution.candidates) != len(problem.groups):
        return told or ["the sections of the groups do not fit the problem"]
    for group, k in zip(problem.groups, solution.candidates, strict=True):
        there = solution.options[group.zone] == group.option
        if there != (0 <= k < len(group.candidates)):
            told.append(f"{group.name} has {'no section' if there else 'a section but is not there'}")
    return told


def _unlike_groups(problem: Problem, solution: Solution) -> list[str]:
    """The pairs of groups that should be alike and are not."""
    told = []
    for one, other in problem.same_profile:
        a, b = solution.candidates[one], solution.candidates[other]
        if a >= 0 and b >= 0:
            first, second = problem.groups[one].candidates[a], problem.groups[other].candidates[b]
            if (first.profile, first.grade) != (second.profile, second.grade):
                told.append(f"{problem.groups[one].name} and {problem.groups[other].name} are not alike")
    return told


def _too_many(problem: Problem, solution: Solution, thicknesses: set[float]) -> list[str]:
    """The bounds on how many thicknesses and profiles the ship has."""
    profiles = {
        group.candidates[k].profile for group, k in zip(problem.groups, solution.candidates, strict=True) if k >= 0
    }
    told = []
    for what, found, most in (
        ("plate thicknesses", len(thicknesses), problem.most_thicknesses),
        ("profiles", len(profiles), problem.most_profiles),
    ):
        if most is not None and found > most:
            told.append(f"{found} {what}, at most {most} are allowed")
    return told


def _taken(plate: Plate, choice: int) -> tuple[float, str]:
    """Thickness and grade of a choice."""
    return plate.choices[choice].thickness_mm, plate.choices[choice].grade


def _plate(problem: Problem, solution: Solution, plate: int) -> str:
    """A plate with what it is, in words."""
    chosen = problem.plates[plate].choices[solution.choices[plate]]
    return f"{problem.plates[plate].name} of {chosen.thickness_mm:g} mm {chosen.grade}"


class Nearest(Protocol):
    """Says in words what comes nearest where nothing meets; without one only the member is named."""

    def plate(self, need: Need) -> str:
        """Return what comes nearest to a need that no choice of its plate meets."""

    def frames(self, group: int) -> str:
        """Return what comes nearest to a group that no candidate meets."""


def refuse_what_none_meets(problem: Problem, nearest: Nearest | None = None) -> None:
    """Raise InputError naming the members that no entry of the stock can meet, whatever the rest is."""
    for z, zone in enumerate(problem.zones):
        reasons = [_nothing_meets(problem, z, k, nearest) for k in range(len(zone.options))]
        if all(reasons):
            raise InputError(
                f"zone {zone.name}",
                "cannot be built from the stock: " + "; ".join(reason for reason in reasons if reason),
                allowed="other stock, spacing or grades",
            )


def _nothing_meets(problem: Problem, zone: int, option: int, nearest: Nearest | None) -> str:
    """Why a zone cannot take an option, by each member alone; empty where nothing stands against it."""
    name, unmet = problem.zones[zone].options[option], list[str]()
    for need in problem.needs:
        if (need.zone, need.option) == (zone, option) and not need.allowed.any():
            words = f"no plate in stock meets {need.why} on {problem.plates[need.plate].name}"
            unmet.append(words + (f", {nearest.plate(need)}" if nearest is not None and not unmet else ""))
    if not unmet:
        for number, group in enumerate(problem.groups):
            if (group.zone, group.option) == (zone, option):
                able = [all(stand.allowed[k].any() for stand in group.stands) for k in range(len(group.candidates))]
                if not any(able):
                    words = f"no section in stock meets every check of {group.name}"
                    unmet.append(words + (f", {nearest.frames(number)}" if nearest is not None and not unmet else ""))
    more = f" (and {len(unmet) - 1} more like it)" if len(unmet) > 1 else ""
    return f"{name}: {unmet[0]}{more}" if unmet else ""
