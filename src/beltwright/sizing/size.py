"""The least structure of a ship: solved until every span meets, with the design that it makes."""

from __future__ import annotations

import threading
from collections.abc import Mapping
from dataclasses import dataclass, replace
from functools import cached_property

import numpy as np

from beltwright.core.errors import InputError
from beltwright.scantlings.design import Design
from beltwright.ship.model import Ship
from beltwright.sizing.arrangements import Case, Outcome, best_of
from beltwright.sizing.candidates import Candidates
from beltwright.sizing.fit import Cutter, Framings, PlateTable, ask, bound, fit, framings_of
from beltwright.sizing.nearest import NearestOf
from beltwright.sizing.problem import Problem, refuse_what_none_meets
from beltwright.sizing.solve import Found, Heard, solve
from beltwright.sizing.variants import Variant, arranged, variants_of
from beltwright.weights.shellplates import Cover

_ROUNDS = 50  # each adds spans to a finite set; a ship needs three or four


@dataclass(frozen=True, slots=True, kw_only=True)
class Sized:
    """The least structure found.

    ``ship`` is the ship with arrangement and framing chosen: ``arrangement`` names the choices of frame spacing and
    stringers (none: as described), ``framing`` which option each zone took. ``found`` has price, bound and gap over all
    arrangements, ``own`` those of the arrangement chosen, ``problem`` is its last problem, ``outcomes`` how each
    arrangement came out. ``sections`` gives section and grade by zone and group. ``design`` is the whole design with
    all its checks, made with these plates and sections; ``rounds`` how often the problem was solved until all spans
    met. ``asked`` is the problem's question.
    """

    ship: Ship
    arrangement: tuple[str, ...]
    framing: Mapping[str, str]
    found: Found
    own: Found
    problem: Problem
    laid: PlateTable
    cover: Cover
    sections: Mapping[tuple[str, str], tuple[str, str]]
    design: Design
    rounds: int
    outcomes: tuple[Outcome, ...]
    asked: Candidates

    @property
    def supports(self) -> int:
        """What web frames and stringers cost of the price; nothing where no choice moves them."""
        return supports_of(self.problem, self.found)


def supports_of(problem: Problem, found: Found) -> int:
    """Return what web frames and stringers cost of a price found."""
    return sum(zone.prices[k] for zone, k in zip(problem.zones, found.solution.options, strict=True))


def size(design: Design, *, candidates: Candidates | None = None, heard: Heard | None = None,
         stop: threading.Event | None = None, seconds: float = np.inf) -> Sized:  # fmt: skip
    """Return the least structure of a designed ship, over every arrangement that her lists make.

    Parameters
    ----------
    design : the design as described, with its borders; its hull, areas and loads are used
    candidates : the problem's candidates, where they are made already; the arrangement is then as described
    heard, stop : progress and early end of the solver, as in :func:`~beltwright.sizing.solve.solve`
    seconds : limit of the whole search

    Raises
    ------
    InputError : nothing meets the requirements; the message names what stands against it
    """
    every = variants_of(design) if candidates is None else (Variant(choices=(), ship=design.ship),)
    told = heard if heard is None or len(every) == 1 else _over_all(heard)

    def solve_one(asked: Candidates, left: float) -> tuple[Problem, Found, int]:
        return solved(asked, heard=told, stop=stop, seconds=left)

    def relax_one(asked: Candidates, left: float) -> int:
        easier = replace(asked.problem(), step_limits=(), most_thicknesses=None, most_profiles=None)
        refuse_what_none_meets(easier, NearestOf(asked))
        return solve(easier, stop=stop, seconds=left).bound

    made = {number: _Arranged(design, one, candidates) for number, one in enumerate(every)}
    cases = [Case(words=one.choices, bound=made[n].bound, question=made[n].ask) for n, one in enumerate(every)]
    best = best_of(cases, solve_one, relax_one, stop=stop, seconds=seconds)
    chosen = made[best.number].design
    return made_of(chosen, best.question, best.problem, best.found, best.rounds, own=best.own,
                   arrangement=every[best.number].choices, outcomes=best.outcomes)  # fmt: skip


def _over_all(heard: Heard) -> Heard:
    """Hear of the best over several arrangements; the bound of one of them is no bound of all, and is not told."""
    best: list[int] = []

    def told(found: int | None, _: int | None) -> None:
        if found is not None:
            best[:] = [min([found, *best])]
        heard(best[0] if best else None, None)

    return told


class _Arranged:
    """One arrangement of a ship: arranged when it is first asked for, the shell cut once for all its framings."""

    def __init__(self, design: Design, variant: Variant, candidates: Candidates | None) -> None:
        self._base, self._variant, self._candidates = design, variant, candidates
        self._cut = Cutter()

    @cached_property
    def design(self) -> Design:
        """The design with this arrangement in it; InputError where it cannot be arranged."""
        if self._variant.ship is None:
            raise InputError("sizing", self._variant.note)
        return arranged(self._base, self._variant.ship, self._cut)

    @cached_property
    def _framings(self) -> Framings:
        return framings_of(self.design, cut=self._cut)

    def bound(self) -> int:
        """Return a bound that is quickly had."""
        return bound(self.design, self._framings)

    def ask(self) -> Candidates:
        """Return the question."""
        return ask(self.design, framings=self._framings) if self._candidates is None else self._candidates


def solved(asked: Candidates, *, heard: Heard | None = None, stop: threading.Event | None = None,
           seconds: float = np.inf) -> tuple[Problem, Found, int]:  # fmt: skip
    """Return the last problem, its solution that meets on all spans, and how often a problem was solved."""
    for rounds in range(1, _ROUNDS + 1):
        problem = asked.problem()
        refuse_what_none_meets(problem, NearestOf(asked))
        found = solve(problem, heard=heard, stop=stop, seconds=seconds)
        if not asked.harder(found.solution):
            return problem, found, rounds
    raise AssertionError("spans that fail are found without end")


def made_of(
    design: Design, asked: Candidates, problem: Problem, found: Found, rounds: int, *, own: Found | None = None,
    arrangement: tuple[str, ...] = (), outcomes: tuple[Outcome, ...] = (),
) -> Sized:  # fmt: skip
    """Return a problem's solution as a design; ``rounds`` is how often the problem was solved.

    ``own`` is what was found of this arrangement alone, where there are others.
    """
    framing = {zone.name: zone.options[k] for zone, k in zip(problem.zones, found.solution.options, strict=True)}
    thickness, grade = asked.plate_steels(found.solution)
    laid = PlateTable(plates=asked.plates, thickness_mm=thickness, grade=tuple(grade))
    sections = asked.sections(found.solution)
    fitted, cover, ship = fit(design, framing, laid, sections)
    return Sized(
        ship=ship, arrangement=arrangement, framing=framing, found=found, own=found if own is None else own,
        problem=problem, laid=laid, cover=cover, sections=sections, design=fitted, rounds=rounds, outcomes=outcomes,
        asked=asked,
    )  # fmt: skip
