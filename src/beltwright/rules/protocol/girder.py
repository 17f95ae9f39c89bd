"""Longitudinal strength in ice."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from beltwright.core.chain import Chain, Columns, Quantity, Trace
from beltwright.core.outcome import NotApplicable
from beltwright.core.units import FloatArray
from beltwright.rules.protocol.members import MemberRule


@dataclass(frozen=True, slots=True, kw_only=True)
class GirderForce:
    """The vertical ice force at the bow of one ship.

    ``columns`` are length-1 arrays that the chain along the ship reads; ``nodes_aft_of_stem_m`` (k,) are the places at
    which its distributions bend, aft first; ``choices`` are sentences on what was chosen and why.
    """

    columns: Columns
    trace: Trace
    nodes_aft_of_stem_m: FloatArray
    choices: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class GirderRule:
    """Longitudinal strength in ice: the force at the bow, what it brings along the ship, and what is held to it.

    ``force`` takes the ship's facts and those named in ``facts``, with the trace of the ship's loads, and returns the
    force or why there is none. ``along`` runs on places (n,) along the ship. ``section``, ``plate`` and ``stiffener``
    are the checks of hull sections, plate panels and longitudinal stiffeners.
    """

    facts: tuple[Quantity, ...]
    force: Callable[[Columns, Trace], GirderForce | NotApplicable]
    along: Chain
    section: MemberRule
    plate: MemberRule
    stiffener: MemberRule
