"""A reading of one ship: what several facts are taken from is measured once, and its findings are told once."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property

from beltwright.core.errors import InputError
from beltwright.core.findings import Findings
from beltwright.core.outcome import NotApplicable
from beltwright.hull.waterline import AlphaCrossing, SideBorders, Waterline
from beltwright.scantlings import codes
from beltwright.scantlings.design import HullMeasures
from beltwright.scantlings.ship_facts.side import SIDE_TOLERANCE_MM, SideByHeight, side_by_height
from beltwright.ship.model import Ship

BOW_ANGLE_DEG = 10.0
WANDERING_M = 0.5  # about a frame spacing


@dataclass(frozen=True, slots=True)
class Told:
    """A fact: its rows (one for most facts) and where it comes from."""

    values: Sequence[object]
    origin: str


def one(value: object, origin: str) -> Told:
    """Return a fact of one row."""
    return Told((value,), origin)


@dataclass(frozen=True, kw_only=True)
class Reading:
    """The ship, its measured hull, and where findings go."""

    ship: Ship
    measures: HullMeasures
    findings: Findings

    @property
    def stem_x_m(self) -> float:
        """The fore side of the stem at the upper ice waterline [m from AP]."""
        return self.measures.stem_x_m

    @cached_property
    def crossing(self) -> AlphaCrossing:
        """Where the waterline angle falls to 10 degrees on the upper ice waterline; InputError where it does not."""
        crossing, finding = self.measures.upper.curve.alpha_crossing(BOW_ANGLE_DEG, self.ship.hull.stem_rounding_m)
        if finding is not None:
            self.findings.extend([finding])
        if isinstance(crossing, NotApplicable):
            raise InputError(
                "hull",
                f"the place where the waterline angle is {BOW_ANGLE_DEG:g} degrees cannot be found: {crossing.reason}",
            )
        return crossing

    @cached_property
    def side(self) -> SideBorders:
        """The ends of the parallel side at the upper ice waterline; a loose reading is told."""
        curve = self.measures.upper.curve
        _note_sensitivity(curve, self.findings)
        return curve.side_borders(SIDE_TOLERANCE_MM)

    @cached_property
    def side_by_height(self) -> SideByHeight:
        """The ends of the parallel side on level waterlines."""
        return side_by_height(self.ship, self.measures, self.findings)

    @cached_property
    def baseline_x(self) -> float | NotApplicable:
        """Where the stem line meets the baseline [m from AP]."""
        found = self.measures.profile.baseline_x()
        if isinstance(found, NotApplicable):
            self.findings.add(codes.STEM_ABOVE_BASELINE, "hull", f"{found.reason}; the whole bow length is allowed")
        return found


def _note_sensitivity(curve: Waterline, findings: Findings) -> None:
    """Say how far the ends of the parallel side move with the tolerance at which they are read."""
    ends = curve.sensitivity()
    for end, places in (("fore", [e.fore_x_m for e in ends]), ("aft", [e.aft_x_m for e in ends])):
        if max(places) - min(places) > WANDERING_M:
            least, most = ends[0].tolerance_mm, ends[-1].tolerance_mm
            findings.add(
                codes.BORDER_SENSITIVE, f"{end} end of the parallel side",
                f"x {places[0]:.2f} m read within {least:g} mm, {places[-1]:.2f} m within {most:g} mm of the greatest "
                "half-breadth",
            )  # fmt: skip
