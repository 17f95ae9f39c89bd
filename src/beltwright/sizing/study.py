"""A sizing with what a reader asks next: what it saves, what each constraint costs, where the transitions are."""

from __future__ import annotations

import threading
from dataclasses import dataclass

import numpy as np

from beltwright.core.columns import ColumnTable
from beltwright.core.findings import Finding
from beltwright.scantlings.design import Design
from beltwright.ship.loading import LoadingCase
from beltwright.ship.model import Ship
from beltwright.sizing.baseline import Saving, saving
from beltwright.sizing.fit import PlateTable
from beltwright.sizing.headroom import Headroom, headroom
from beltwright.sizing.loop import Closed, close_loop
from beltwright.sizing.prices import Freed, constraint_prices
from beltwright.sizing.size import Sized, size
from beltwright.sizing.solve import Heard
from beltwright.sizing.transitions import transitions
from beltwright.sizing.variants import designed, variants_of
from beltwright.weights.steel import steel_weight


@dataclass(frozen=True, slots=True, kw_only=True)
class Study:
    """The sizing of a ship.

    ``design`` is the ship as described, ``arranged`` her design with the frames and stringers chosen. ``uniform``
    are the plates of the best uniform ship, joined by hull area. ``closed`` is the loop from steel weight back to
    draught and load, ``headroom`` how far the displacement may move before a plate changes.
    """

    design: Design
    arranged: Design
    sized: Sized
    saving: Saving
    uniform: PlateTable
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
    sized = size(design, heard=heard, stop=stop, seconds=seconds)
    saved, uniform = saving(design, sized)
    table, found = transitions(sized)
    given = design.ship.sizing
    reference = steel_weight(design).total_t if given.reference_steel_t is None else given.reference_steel_t
    other = design if not sized.arrangement else designed(design, _chosen(design, sized))
    closed = close_loop(other, cases, sized, hold=given.hold, reference_t=reference)
    return Study(
        design=design,
        arranged=other,
        sized=sized,
        saving=saved,
        uniform=uniform,
        freed=constraint_prices(other, sized),
        closed=closed,
        headroom=headroom(closed.sized),
        transitions=table,
        findings=found,
    )


def _chosen(design: Design, sized: Sized) -> Ship:
    """The ship with the arrangement that was chosen, her zones framed as described."""
    ship = next(one.ship for one in variants_of(design) if one.choices == sized.arrangement)
    assert ship is not None
    return ship
