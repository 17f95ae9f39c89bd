"""From steel weight back to draught and load: the structure that carries the ship with its own weight in it.

Either the draught is held, and the deadweight takes the difference in steel, or the deadweight is held: then the ice
waterlines, and with them the belt and the load, move until nothing changes any more. Plates come in steps, so that the
passes may run in a circle; it is found, and settled on the heaviest ship in it.
"""

from __future__ import annotations

from collections.abc import Callable, Hashable
from dataclasses import dataclass

from scipy.optimize import brentq

from beltwright.core.errors import InputError
from beltwright.core.findings import Findings
from beltwright.hull.hydrostatics import Floating
from beltwright.hull.levels import WaterLevel
from beltwright.scantlings.build import design_on
from beltwright.scantlings.design import Design
from beltwright.scantlings.measure import measure_hull
from beltwright.ship.loading import LoadingCase
from beltwright.ship.model import DraughtPoint
from beltwright.sizing.fit import ask
from beltwright.sizing.size import Sized, size
from beltwright.weights.steel import steel_weight

SAME_T = 1e-6  # steel weights closer than this are one
_LESS, _MORE = 0.3, 2.0  # between these multiples of what the waterplane tells the rise lies


@dataclass(frozen=True, slots=True, kw_only=True)
class Pass:
    """One pass: the steel the ship was assumed to have [t], the steel it came to, and what was chosen."""

    assumed_t: float
    steel_t: float
    state: Hashable


@dataclass(frozen=True, slots=True, kw_only=True)
class Settled:
    """How the passes ended: all of them, the last one, and how many passes a circle had (0: there was none).

    Where there was a circle the last pass assumes no less steel than it comes to.
    """

    passes: tuple[Pass, ...]
    circle: int

    @property
    def last(self) -> Pass:
        """The pass that holds."""
        return self.passes[-1]


def settle(step: Callable[[float], Pass], start_t: float, *, most: int = 40) -> Settled:
    """Return the passes from an assumed steel weight until the steel is what was assumed.

    A pass whose choice was met before, with others in between, closes a circle; the passes then go on from its heaviest
    steel, and only upward, until a ship comes to no more steel than was assumed.

    Raises InputError where that does not happen within ``most`` passes.
    """
    passes: list[Pass] = []
    assumed, circle = start_t, 0
    while len(passes) < most:
        made = step(assumed)
        seen = [n for n, one in enumerate(passes) if one.state == made.state]
        passes.append(made)
        if abs(made.steel_t - made.assumed_t) <= SAME_T or (circle and made.steel_t <= made.assumed_t + SAME_T):
            return Settled(passes=tuple(passes), circle=circle)
        if not circle and seen and seen[-1] < len(passes) - 2:
            circle = len(passes) - 1 - seen[-1]
            assumed = max(one.steel_t for one in passes[seen[-1] :])
        else:
            assumed = max(made.steel_t, assumed) if circle else made.steel_t
    raise InputError("sizing", "steel weight and draught do not settle", value=len(passes), allowed="other stock steps")


@dataclass(frozen=True, slots=True, kw_only=True)
class Closed:
    """The loop closed: the last sizing, its passes, how far the waterlines rose [m], and what the deadweight takes [t].

    ``reference_t`` is the steel of plating and frames with which the ship as described floats at her waterlines.
    """

    sized: Sized
    settled: Settled
    reference_t: float
    rise_upper_m: float
    rise_lower_m: float
    deadweight_change_t: float


def close_loop(
    design: Design, cases: tuple[LoadingCase, ...], first: Sized, *, hold: str, reference_t: float | None = None
) -> Closed:
    """Return the loop closed for a designed ship.

    Parameters
    ----------
    design : the ship as described, with the frames and stringers chosen; the passes keep them
    cases : the loading cases that make her waterlines, if any
    first : her sizing at the waterlines as described
    hold : "draught" or "deadweight"
    reference_t : steel of plating and frames, allowances in it, that is in the ship as described; that of her own
        design where not given

    Raises
    ------
    InputError : nothing meets, the passes do not settle, or the hull ends below a waterline
    """
    reference = steel_weight(design).total_t if reference_t is None else reference_t
    made: dict[float, tuple[Sized, float, float]] = {}

    def step(assumed_t: float) -> Pass:
        raised, up, low = _raised(design, cases, assumed_t - reference)
        sized = first if raised is design else size(raised, candidates=ask(raised))
        made[assumed_t] = sized, up, low
        state = (tuple(sized.laid.thickness_mm.tolist()), tuple(sorted(sized.sections.items())))
        return Pass(assumed_t=assumed_t, steel_t=steel_weight(sized.design).total_t, state=state)

    if hold == "draught":
        only = step(reference)
        settled, change = Settled(passes=(only,), circle=0), reference - only.steel_t
    elif hold == "deadweight":
        settled, change = settle(step, reference), 0.0
    else:
        raise InputError("sizing.hold", "is not known", value=hold, allowed="draught, deadweight")
    sized, up, low = made[settled.last.assumed_t]
    return Closed(sized=sized, settled=settled, reference_t=reference, rise_upper_m=up, rise_lower_m=low,
                  deadweight_change_t=change)  # fmt: skip


def _raised(design: Design, cases: tuple[LoadingCase, ...], more_t: float) -> tuple[Design, float, float]:
    """The ship with so much more mass: waterlines risen, measured and designed anew, and the rises [m]."""
    if more_t == 0.0:
        return design, 0.0, 0.0
    ship, measures = design.ship, design.measures
    floating = Floating(measures.shell)

    def rise(level: WaterLevel, density: float) -> float:
        whole = floating.at(level)
        start, about = whole.displacement_kt(density, 0.0) * 1000.0, more_t / (density * whole.waterplane_m2)

        def left(by: float) -> float:
            return floating.at(_risen(level, by)).displacement_kt(density, 0.0) * 1000.0 - start - more_t

        try:
            return float(brentq(left, *sorted((_LESS * about, _MORE * about)), xtol=1e-7))
        except ValueError:
            raise InputError("sizing", "no waterline carries the change in steel weight", value=more_t, unit="t",
                             allowed="a change that the freeboard carries") from None  # fmt: skip

    water = ship.water.density_t_m3
    if cases:
        cases = tuple(_risen_case(case, rise) for case in cases)
        framed = ship
        up = low = rise(measures.upper.level, water)
    else:
        up, low = rise(measures.upper.level, water), rise(measures.lower.level, water)
        lines = {
            "upper": tuple(_risen_point(point, up) for point in ship.waterlines.upper),
            "lower": tuple(_risen_point(point, low) for point in ship.waterlines.lower),
        }
        framed = ship.model_copy(update={"waterlines": ship.waterlines.model_copy(update=lines)})
    findings = Findings()
    again = measure_hull(framed, cases, measures.placed, findings)
    return design_on(framed, design.rules, again, design.arrangement, findings), up, low


def _risen(level: WaterLevel, by: float) -> WaterLevel:
    return WaterLevel(level.x_m, tuple(height + by for height in level.height_m), level.name)


def _risen_point(point: DraughtPoint, by: float) -> DraughtPoint:
    return point.model_copy(update={"draught_m": point.draught_m + by})


def _risen_case(case: LoadingCase, rise: Callable[[WaterLevel, float], float]) -> LoadingCase:
    """A loading case with more mass."""
    names = ("aft", "mid", "fore")
    level = WaterLevel(
        tuple(getattr(case, f"x_{name}_m") for name in names),
        tuple(getattr(case, f"draught_{name}_m") for name in names),
        f"loading case {case.case}",
    )
    by = rise(level, case.density_t_m3)
    return case.model_copy(update={f"draught_{name}_m": getattr(case, f"draught_{name}_m") + by for name in names})
