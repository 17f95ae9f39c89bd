"""The least structure of a ship: solved until every span meets, with the design that it makes."""

from __future__ import annotations

import threading
from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from beltwright.scantlings.design import Design
from beltwright.ship.model import Ship
from beltwright.sizing.candidates import Candidates
from beltwright.sizing.fit import PlateTable, ask, fit
from beltwright.sizing.nearest import NearestOf
from beltwright.sizing.problem import Problem, refuse_what_none_meets
from beltwright.sizing.solve import Found, Heard, solve
from beltwright.weights.shellplates import Cover

_ROUNDS = 50  # each adds spans to a finite set; a ship needs three or four


@dataclass(frozen=True, slots=True, kw_only=True)
class Sized:
    """The least structure found.

    ``ship`` is the ship with the framing chosen, ``framing`` says which option each zone took. ``found`` has price,
    bound and gap of the last problem, ``problem`` is that problem. ``sections`` gives section and grade by zone and
    group. ``design`` is the whole design with all its checks, made with these plates and sections; ``rounds`` how often
    the problem was solved until all spans met.
    """

    ship: Ship
    framing: Mapping[str, str]
    found: Found
    problem: Problem
    laid: PlateTable
    cover: Cover
    sections: Mapping[tuple[str, str], tuple[str, str]]
    design: Design
    rounds: int


def size(design: Design, *, candidates: Candidates | None = None, heard: Heard | None = None,
         stop: threading.Event | None = None, seconds: float = np.inf) -> Sized:  # fmt: skip
    """Return the least structure of a designed ship.

    Parameters
    ----------
    design : the design as described, with its borders; its hull, areas and loads are used
    candidates : the problem's candidates, where they are made already
    heard, stop, seconds : progress, early end and limit of the solver, as in :func:`~beltwright.sizing.solve.solve`

    Raises
    ------
    InputError : nothing meets the requirements; the message names what stands against it
    """
    asked = ask(design) if candidates is None else candidates
    problem, found, rounds = solved(asked, heard=heard, stop=stop, seconds=seconds)
    return made_of(design, asked, problem, found, rounds)


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


def made_of(design: Design, asked: Candidates, problem: Problem, found: Found, rounds: int) -> Sized:
    """Return a problem's solution as a design; ``rounds`` is how often the problem was solved."""
    framing = {zone.name: zone.options[k] for zone, k in zip(problem.zones, found.solution.options, strict=True)}
    thickness, grade = asked.plate_steels(found.solution)
    laid = PlateTable(plates=asked.plates, thickness_mm=thickness, grade=tuple(grade))
    sections = asked.sections(found.solution)
    fitted, cover, ship = fit(design, framing, laid, sections)
    return Sized(
        ship=ship, framing=framing, found=found, problem=problem, laid=laid, cover=cover, sections=sections,
        design=fitted, rounds=rounds,
    )  # fmt: skip
