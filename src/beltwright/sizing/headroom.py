"""How far the displacement may move before a plate changes, and which goes first."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from beltwright.core.outcome import is_met
from beltwright.core.units import FloatArray
from beltwright.scantlings.design import Design
from beltwright.scantlings.measure import angle_columns, station_angles
from beltwright.scantlings.plating import plate_ratio, stock_of
from beltwright.scantlings.sectionstock import SectionStock
from beltwright.sizing.framegroups import PlateSteel
from beltwright.sizing.size import Sized
from beltwright.sizing.trial import OnPlates, Trial

DISPLACEMENT = "displacement_upper"
WIDEST = 0.5  # the displacement is tried up to this share above and below
_HALVINGS = 14


@dataclass(frozen=True, slots=True, kw_only=True)
class Headroom:
    """The band of displacement, as a share of the ship's own, in which every check stays met and no plate gets thinner.

    ``first_up`` names what fails first above the band, ``first_down`` the plate that could be thinner first below it;
    "nothing" where the band reaches as far as was tried.
    """

    up: float
    down: float
    first_up: str
    first_down: str


def headroom(sized: Sized) -> Headroom:
    """Return the headroom of a sized ship: framing and borders as they are, only the loads follow the displacement."""
    at = _Loaded(sized)
    up, first_up = _search(at.fails, 1.0 + WIDEST)
    down, first_down = _search(at.thinner, 1.0 - WIDEST)
    return Headroom(up=up, down=down, first_up=first_up, first_down=first_down)


def _search(found: Callable[[float], str], far: float) -> tuple[float, str]:
    """The last share towards ``far`` at which nothing is found, and what is found just beyond it."""
    inside, outside, word = 1.0, far, found(far)
    if not word:
        return far, "nothing"
    for _ in range(_HALVINGS):
        middle = 0.5 * (inside + outside)
        told = found(middle)
        if told:
            outside, word = middle, told
        else:
            inside = middle
    return inside, word


class _Loaded:
    """A sized ship under the loads of another displacement."""

    def __init__(self, sized: Sized) -> None:
        self._sized, self._design = sized, sized.design
        self._stock = SectionStock(self._design.ship)
        self._steps: FloatArray = np.asarray(stock_of(self._design.ship).thicknesses_mm)
        self._plates = [p for p, t in enumerate(sized.laid.thickness_mm) if not np.isnan(t)]
        self._own = self._least(1.0)

    def _trial(self, share: float) -> Trial:
        design: Design = self._design
        facts = {
            name: value * share if name.startswith(DISPLACEMENT) else value for name, value in design.facts.items()
        }
        areas = design.rules.areas(facts, design.overrides)
        columns = angle_columns(station_angles(design.measures, design.rules.stations(areas)))
        loads = design.rules.loads(facts, areas, columns, design.overrides)
        return Trial(design.ship, design.rules, design.measures, design.arrangement, areas, loads, self._stock, facts)

    def _required(self, trial: Trial) -> FloatArray:
        """What every plate (p,) needs at its own steel [mm]; NaN where nothing is asked."""
        laid, cover = self._sized.laid, self._sized.cover
        found = np.full(len(laid.thickness_mm), np.nan)
        for p in self._plates:
            steel = PlateSteel(thickness_mm=float(laid.thickness_mm[p]), grade=laid.grade[p])
            panels = cover.panel[cover.plate == p]
            needed = trial.required_mm(steel.yield_mpa)[panels]
            if not np.isnan(needed).all():
                found[p] = np.nanmax(needed)
        return found

    def _least(self, share: float) -> FloatArray:
        """The thinnest stock plate (p,) that meets what is asked [mm]."""
        needed = self._required(self._trial(share))
        found = np.full(len(needed), np.nan)
        for p in self._plates:
            met = is_met(plate_ratio(self._design.ship, np.full(len(self._steps), needed[p]), self._steps))
            found[p] = self._steps[int(np.argmax(met))] if met.any() else np.inf
        return found

    def thinner(self, share: float) -> str:
        """The first plate that is as thick as it needs and would need a step less."""
        laid, least = self._sized.laid, self._least(share)
        for p in self._plates:
            if laid.thickness_mm[p] == self._own[p] and least[p] < self._own[p]:
                return f"plate {laid.plates.names[p]} to {least[p]:g} mm"
        return ""

    def fails(self, share: float) -> str:
        """The first plate or frame that no longer meets."""
        trial, laid = self._trial(share), self._sized.laid
        needed = self._required(trial)
        ratio = plate_ratio(self._design.ship, needed, laid.thickness_mm)
        failed = [p for p in self._plates if not np.isnan(needed[p]) and not is_met(ratio[p : p + 1])[0]]
        if failed:
            worst = max(failed, key=lambda p: float(ratio[p]))
            return f"plate {laid.plates.names[worst]} of {laid.thickness_mm[worst]:g} mm"
        return self._frame_that_fails(trial)

    def _frame_that_fails(self, trial: Trial) -> str:
        """The first frame span whose section no longer meets on the plates beside it."""
        design = self._design
        frames, table, plating = design.arrangement.frames, design.frames, design.plating
        section, built = table.labels("section"), plating["thickness_as_built_mm"].data
        spans = np.array([s for s in trial.asked.tolist() if section[s]], dtype=np.int64)
        one, other = frames["panel_one"].data[spans], frames["panel_other"].data[spans]
        padded = np.append(built, np.nan)
        added = np.append(trial.addition_mm, np.nan)
        net = np.fmin(padded[one] - added[one], padded[other] - added[other])
        yields = np.append(plating["yield_mpa"].data, np.nan)
        on = OnPlates(
            span=spans, net_mm=net, as_built_mm=np.fmin(padded[one], padded[other]),
            yield_mpa=np.fmin(yields[one], yields[other]),
        )  # fmt: skip
        names, inverse = np.unique(section[spans], return_inverse=True)
        grades = table.labels("grade")[spans]
        for k, row in enumerate(self._stock.rows_of(names.astype(np.str_))):
            for grade in np.unique(grades[inverse == k]):
                mine = np.flatnonzero((inverse == k) & (grades == grade))
                ratio = trial.worst(on.take(mine), np.array([row]), str(grade))[:, 0]
                failed = mine[~is_met(ratio)]
                if len(failed):
                    return f"frame {table.labels('id')[spans[failed[0]]]} of {names[k]}"
        return ""
