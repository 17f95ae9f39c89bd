"""What the check of longitudinal strength in ice comes to, as the tables, the booklet and the figure read it."""

from __future__ import annotations

from dataclasses import dataclass

from beltwright.core.chain import Trace
from beltwright.core.columns import ColumnTable
from beltwright.core.outcome import NotApplicable
from beltwright.core.ruletable import Cell
from beltwright.hull.bow_fit import BowFit
from beltwright.rules.protocol import GirderForce, GirderRule
from beltwright.scantlings.members import MET, NOT_MET

NOT_CHECKED = "not checked"


@dataclass(frozen=True, slots=True, kw_only=True)
class MemberTrace:
    """The worst check of plates or of stiffeners, told in full: its name, its trace and the numbers wanted."""

    title: str
    trace: Trace
    wanted: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class GirderDesign:
    """Longitudinal strength in ice of one ship.

    ``fit`` is the bow's waterline as fitted, ``fits`` how the exponent moves with the tolerance at which the bow's
    length is read, ``exponent`` the one used. ``result`` is the force, or why ramming is not considered; ``stations``
    has a row per place along the ship and ``buckling`` one per member and check, both without rows then. ``told`` is
    the worst station's calculation, ``members_told`` the worst plate's and stiffener's.
    """

    rule: GirderRule
    fit: BowFit
    fits: ColumnTable
    exponent: float
    result: GirderForce | NotApplicable
    stations: ColumnTable
    buckling: ColumnTable
    told: Trace | None
    told_x_m: float
    members_told: tuple[MemberTrace, ...]
    cells: tuple[Cell, ...]

    @property
    def all_met(self) -> bool:
        """Whether every check that was asked for is met."""
        outcomes = [*self.stations.labels("outcome"), *self.buckling.labels("outcome")]
        return NOT_MET not in outcomes

    @property
    def outcome(self) -> str:
        """The outcome of the stresses in one word or two: met, not met, not checked, or not applicable."""
        if isinstance(self.result, NotApplicable):
            return "not applicable"
        if not self.all_met:
            return NOT_MET
        return MET if MET in self.stations.labels("outcome") else NOT_CHECKED
