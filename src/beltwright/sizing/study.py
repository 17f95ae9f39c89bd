"""A sizing with what a reader asks next: what it saves, what each constraint costs, where the transitions are."""

from __future__ import annotations

import threading
from dataclasses import dataclass

import numpy as np

from beltwright.core.columns import ColumnTable
from beltwright.core.findings import Finding
from beltwright.core.units import FloatArray
from beltwright.scantlings.design import Design
from beltwright.ship.loading import LoadingCase
from beltwright.sizing.baseline import Saving, saving
from beltwright.sizing.candidates import Candidates
from beltwright.sizing.fit import ask
from beltwright.sizing.headroom import Headroom, headroom
from beltwright.sizing.loop import Closed, close_loop
from beltwright.sizing.prices import Freed, constraint_prices
from beltwright.sizing.size import Sized, size
from beltwright.sizing.solve import Heard
from beltwright.sizing.transitions import transitions


@dataclass(frozen=True, slots=True, kw_only=True)
class Study:
    """The sizing of a ship.

    ``uniform_mm`` are the thicknesses of the best uniform ship by hull area. ``closed`` is the loop from steel weight
    back to draught and load, ``headroom`` how far the displacement may move before a plate changes.
    """

    design: Design
    candidates: Candidates
    sized: Sized
    saving: Saving
    uniform_mm: FloatArray
    freed: tuple[Freed, ...]
    closed: Closed
    headroom: Headroom
    transitions: ColumnTable
    findings: tuple[Finding, ...]


def study(
    design: Design, cases: tuple[LoadingCase, ...] = (), *, heard: Heard | None = None,
    stop: threading.Event | None = None, seconds: float = np.inf,
) -> Study:  # fmt: skip
    """Return the sizing of a designed ship; arguments and errors as in :func:`~beltwright.sizing.size.size`.

    ``cases`` are the loading cases that make her waterlines, if any.
    """
    asked = ask(design)
    sized = size(design, candidates=asked, heard=heard, stop=stop, seconds=seconds)
    saved, uniform_mm = saving(design, sized)
    table, found = transitions(sized)
    given = design.ship.sizing
    closed = close_loop(design, cases, sized, hold=given.hold, reference_t=given.reference_steel_t)
    return Study(
        design=design,
        candidates=asked,
        sized=sized,
        saving=saved,
        uniform_mm=uniform_mm,
        freed=constraint_prices(design, sized),
        closed=closed,
        headroom=headroom(closed.sized),
        transitions=table,
        findings=found,
    )
