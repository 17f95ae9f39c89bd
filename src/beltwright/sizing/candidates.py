"""From a ship to the problem of its least structure: what each plate may be, what stands on it, and what it costs.

Everything that is allowed is found by a :class:`~beltwright.sizing.trial.Trial`, so by the rule set's own functions.
Frames are tried on the spans that are hardest first; a solution is then tried on all spans, and where one fails it is
added to the hard ones and the problem is solved again. What is left out of a problem this way can only make it easier,
so its bound holds, and the answer at the end meets every check.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from beltwright.core.errors import InputError
from beltwright.core.outcome import is_met
from beltwright.core.units import BoolArray, FloatArray, IntArray
from beltwright.materials.hull_steel import hull_steels
from beltwright.sizing.framegroups import FrameChoices, Group, PlateSteel, frame_groups
from beltwright.sizing.problem import Need, Plate, PlateChoice, Problem, Solution, StepLimit, Zone
from beltwright.sizing.trial import Trial
from beltwright.sizing.values import Values
from beltwright.weights.costing import plate_work
from beltwright.weights.shellplates import Cover, ShellPlates, widest_step_mm


@dataclass(frozen=True, slots=True, kw_only=True)
class Option:
    """A way to frame a zone: its name, the trial in which the zone is framed so, and what covers its panels."""

    name: str
    trial: Trial
    cover: Cover


class Candidates:
    """The problem of a ship, and the way back from its solution to plates and sections.

    ``zones`` names the framing zones, ``options`` are their ways to be framed, as described first.
    """

    def __init__(
        self, zones: Sequence[str], options: Sequence[Sequence[Option]], plates: ShellPlates, values: Values
    ) -> None:
        self.zones, self.options, self.plates, self.values = tuple(zones), options, plates, values
        self.support_prices = [[support_price(one.trial, zone, values) for one in mine]
                               for zone, mine in zip(self.zones, options, strict=True)]  # fmt: skip
        self.sized = self._sized()
        self._row_of = {int(plate): row for row, plate in enumerate(self.sized)}
        self._work = plate_work(options[0][0].trial.arrangement, plates, options[0][0].cover)
        self.areas_m2 = self._work.area_m2[self.sized]
        self.fixed = self._fixed()
        steels = self._steels()
        self.step_limits = self._limits(steels)
        allowed = {
            (z, k): self._allowed(z, one, steels) for z, mine in enumerate(options) for k, one in enumerate(mine)
        }
        windows = self._worth(steels, allowed, self._windows(steels, allowed))
        self.steels = [[steels[c] for c in np.flatnonzero(window)] for window in windows]
        self.needs = self._needs(allowed, windows)
        self.frames = [
            FrameChoices(group, self.options[group.zone][group.option].trial, self.steels, values)
            for z, mine in enumerate(options)
            for k, one in enumerate(mine)
            for group in frame_groups(one.trial, one.cover, self._row_of, self.zones[z], (z, k), values)
        ]

    @property
    def given(self) -> set[tuple[str, str]]:
        """Sections with their grades that ship.toml gives; where it gives no grade, the ship's and other letters."""
        ship = self.options[0][0].trial.ship
        grades = self.values.letters_of((ship.steel.frame_grade,))
        return {
            (line.section, grade)
            for line in ship.frame_sections
            for grade in (grades if line.grade is None else (line.grade,))
        }

    @property
    def section_rows(self) -> dict[str, int]:
        """The rows in stock of the sections to choose from and of those given, by name."""
        stock = self.options[0][0].trial.stock
        found = {self.values.section_name(int(row)): int(row) for row in self.values.sections}
        return {section: stock.row_of(section) for section, _ in self.given} | found

    @property
    def groups(self) -> list[Group]:
        """The groups of frames, in the problem's order."""
        return [one.group for one in self.frames]

    def _sized(self) -> IntArray:
        """The plates of which something is asked under any option; with a least thickness in stock, all."""
        if self.values.floor_mm > 0.0:
            return np.unique(self.options[0][0].cover.plate)
        found: set[int] = set()
        for z, mine in enumerate(self.options):
            for one in mine:
                asked = one.trial.panel_asked & (one.trial.panel_zone == self.zones[z])
                found |= set(one.cover.plate[asked[one.cover.panel]].tolist())
        return np.array(sorted(found), dtype=np.int64)

    def _fixed(self) -> dict[int, tuple[PlateSteel, ...]]:
        """The plates that ship.toml gives, by row: a line that speaks of any of its panels binds the whole plate.

        Where several lines do, the thickest of them binds. Where a line gives no grade, it is the ship's, or another
        letter of its strength.
        """
        trial, cover = self.options[0][0].trial, self.options[0][0].cover
        given, lines = trial.given_plate(), trial.ship.plates
        found: dict[int, tuple[PlateSteel, ...]] = {}
        for plate, panel in zip(cover.plate.tolist(), cover.panel.tolist(), strict=True):
            if given[panel] < 0 or plate not in self._row_of:
                continue
            line, row = lines[int(given[panel])], self._row_of[plate]
            if row not in found or line.thickness_as_built_mm > found[row][0].thickness_mm:
                own = self.values.letters_of((trial.ship.steel.plate_grade,)) if line.grade is None else (line.grade,)
                found[row] = tuple(PlateSteel(thickness_mm=line.thickness_as_built_mm, grade=grade) for grade in own)
        return found

    def _steels(self) -> list[PlateSteel]:
        """Thickness and grade of all plates to choose from: stock from the least to some above the greatest need."""
        least, most = np.inf, -np.inf
        for grade in self.values.plate_grades:
            for z, mine in enumerate(self.options):
                for one in mine:
                    needed = one.trial.required_mm(hull_steels().steel(grade).thinnest.yield_MPa)
                    needed = needed[(one.trial.panel_zone == self.zones[z]) & np.isfinite(needed)]
                    if len(needed):
                        least, most = min(least, float(needed.min())), max(most, float(needed.max()))
        steps, floor = self.values.steps_mm, self.values.floor_mm
        steps = steps[
            (steps >= (floor if floor > 0.0 else least) - 1e-6) & (steps <= most + self.values.excess_mm + 1.0)
        ]
        steels = {PlateSteel(thickness_mm=float(t), grade=grade) for t in steps for grade in self.values.plate_grades}
        fixed = [one for each in self.fixed.values() for one in each]
        grades = list(dict.fromkeys((*self.values.plate_grades, *(one.grade for one in fixed))))
        return sorted(steels | set(fixed), key=lambda one: (one.thickness_mm, grades.index(one.grade)))

    def _allowed(self, zone: int, one: Option, steels: Sequence[PlateSteel]) -> BoolArray:
        """Which steels (c,) every sized plate (p,) may be for the sake of a zone's panels, thickness and grade."""
        found = np.ones((len(self.sized), len(steels)), dtype=bool)
        inside = np.flatnonzero(one.trial.panel_zone == self.zones[zone])
        thickness = np.unique([steel.thickness_mm for steel in steels])
        grades = list(dict.fromkeys(steel.grade for steel in steels))
        cold = is_met(one.trial.panel_grades(inside, thickness, grades))
        for c, steel in enumerate(steels):
            failed = np.zeros(one.trial.arrangement.panels.rows, dtype=bool)
            t, g = int(np.searchsorted(thickness, steel.thickness_mm)), grades.index(steel.grade)
            failed[inside] = ~(one.trial.meets(steel.thickness_mm, steel.grade)[inside] & cold[:, t, g])
            for plate in np.unique(one.cover.plate[failed[one.cover.panel]]).tolist():
                if plate in self._row_of:
                    found[self._row_of[plate], c] = False
        return found

    def _worth(
        self, steels: Sequence[PlateSteel], allowed: Mapping[tuple[int, int], BoolArray], windows: BoolArray
    ) -> BoolArray:
        """The windows without letters that another of the same thickness and yield beats: no dearer, allowed wherever.

        Of letters that cost the same the least one stays.
        """
        worth = windows.copy()
        alike: dict[tuple[float, float], list[int]] = {}
        for c, steel in enumerate(steels):
            alike.setdefault((steel.thickness_mm, steel.yield_mpa), []).append(c)
        every = np.stack(list(allowed.values()))
        for row in range(len(worth)):
            for letters in alike.values():
                mine = [c for c in letters if windows[row, c]]
                kept: list[int] = []
                for c in sorted(mine, key=lambda c: (*self.plate_prices(row, steels[c]), steels[c].grade)):
                    own = self.plate_prices(row, steels[c])[1]
                    if any(self.plate_prices(row, steels[k])[1] <= own and (every[:, row, k] >= every[:, row, c]).all()
                           for k in kept):  # fmt: skip
                        worth[row, c] = False
                    else:
                        kept.append(c)
        return worth

    def _windows(self, steels: Sequence[PlateSteel], allowed: Mapping[tuple[int, int], BoolArray]) -> BoolArray:
        """The steels worth trying on every plate: from what its easiest options need to an excess over the hardest.

        The excess is over what the plate or, by the step between neighbours, a neighbour needs. Where the number of
        thicknesses is bounded, a plate may have to be as thick as any.
        """
        thickness = np.array([steel.thickness_mm for steel in steels])
        easy, hard = np.ones_like(next(iter(allowed.values()))), np.ones_like(next(iter(allowed.values())))
        for z, mine in enumerate(self.options):
            tables = [allowed[z, k] for k in range(len(mine))]
            easy &= np.logical_or.reduce(tables)
            hard &= np.logical_and.reduce(tables)
        least = np.where(hard, thickness[None, :], np.inf).min(axis=1)
        least = np.where(np.isfinite(least), least, thickness.max())
        for row, fixed in self.fixed.items():
            least[row] = fixed[0].thickness_mm
        for _ in range(len(least)):
            before = least.copy()
            for limit in self.step_limits:
                least[limit.one] = max(least[limit.one], least[limit.other] - limit.most_mm)
                least[limit.other] = max(least[limit.other], least[limit.one] - limit.most_mm)
            if (before == least).all():
                break
        cap = least + self.values.excess_mm
        if self.values.most_thicknesses is not None:
            cap = np.full(len(least), np.inf)
        window: BoolArray = easy & (thickness[None, :] <= cap[:, None] + 1e-9)
        for row, fixed in self.fixed.items():
            window[row] = [steel in fixed for steel in steels]
        empty = ~window.any(axis=1)
        window[empty, -1] = True  # no steel will do: the thickest stands for that and is refused by its need
        return window

    def _needs(self, allowed: Mapping[tuple[int, int], BoolArray], windows: BoolArray) -> list[Need]:
        """What every plate must be under every option of the zones it lies in."""
        needs = []
        for (z, k), table in allowed.items():
            one = self.options[z][k]
            here = one.trial.panel_zone == self.zones[z]
            asked = set(one.cover.plate[(here & one.trial.panel_asked)[one.cover.panel]].tolist())
            for plate in np.unique(one.cover.plate[here[one.cover.panel]]).tolist():
                row = self._row_of.get(plate)
                if row is None or (plate not in asked and table[row][windows[row]].all()):
                    continue
                given = f" with the {self.fixed[row][0].thickness_mm:g} mm given" if row in self.fixed else ""
                why = f"the plating requirement in zone {self.zones[z]}{given}"
                needs.append(Need(plate=row, zone=z, option=k, allowed=table[row][windows[row]], why=why))
        return needs

    def _limits(self, steels: Sequence[PlateSteel]) -> tuple[StepLimit, ...]:
        """How much neighbouring plates may differ: by the user's step, and so that the taper has room in either."""
        apart = max(steel.thickness_mm for steel in steels) - min(steel.thickness_mm for steel in steels)
        step = np.inf if self.values.neighbour_step_mm is None else self.values.neighbour_step_mm
        found = []
        for a, b in self.plates.beside.tolist():
            if a in self._row_of and b in self._row_of:
                most = min(step, widest_step_mm(self.plates, a, b, self.options[0][0].trial.ship.sizing.taper))
                if most < apart:
                    found.append(StepLimit(one=self._row_of[a], other=self._row_of[b], most_mm=float(most)))
        return tuple(found)

    def problem(self) -> Problem:
        """Return the problem as far as it is known by the hard spans."""
        return Problem(
            unit=self.values.unit,
            other_unit=self.values.second_unit,
            plates=tuple(
                Plate(
                    name=self.plates.names[p],
                    choices=tuple(self._choice(row, steel) for steel in steels),
                )
                for row, (p, steels) in enumerate(zip(self.sized, self.steels, strict=True))
            ),
            zones=tuple(
                Zone(
                    name=name, options=tuple(o.name for o in mine), prices=tuple(price for price, _ in priced),
                    others=tuple(other for _, other in priced),
                )
                for name, mine, priced in zip(self.zones, self.options, self.support_prices, strict=True)
            ),
            needs=tuple(self.needs),
            groups=tuple(one.as_group() for one in self.frames),
            step_limits=self.step_limits,
            most_thicknesses=self.values.most_thicknesses,
            most_profiles=self.values.most_profiles,
        )  # fmt: skip

    def harder(self, solution: Solution) -> int:
        """Try a solution on all spans; those that fail join the hard ones. Returns how many groups had such."""
        chosen = [steels[k] for steels, k in zip(self.steels, solution.choices, strict=True)]
        return sum(one.harder(k, chosen) for one, k in zip(self.frames, solution.candidates, strict=True) if k >= 0)

    def _choice(self, row: int, steel: PlateSteel) -> PlateChoice:
        """A sized plate, by row, in a steel."""
        price, other = self.plate_prices(row, steel)
        return PlateChoice(thickness_mm=steel.thickness_mm, grade=steel.grade, price=price, other=other)

    def plate_prices(self, row: int, steel: PlateSteel) -> tuple[int, int]:
        """Return what a sized plate, by row, costs on both sides in a steel, by the objective and the second one."""
        work, plate = self._work, self.sized[row]
        area, edge = float(work.area_m2[plate]), float(work.edge_m[plate])
        return self.values.plate(steel.thickness_mm, steel.grade, area, edge, area if work.bent[plate] else 0.0)

    def plate_steels(self, solution: Solution) -> tuple[FloatArray, list[str]]:
        """Return thickness [mm] and grade of every plate of the ship (p,); NaN and no grade where none is sized."""
        thickness, grade = np.full(len(self.plates.names), np.nan), [""] * len(self.plates.names)
        for plate, steels, k in zip(self.sized.tolist(), self.steels, solution.choices, strict=True):
            thickness[plate], grade[plate] = steels[k].thickness_mm, steels[k].grade
        return thickness, grade

    def sections(self, solution: Solution) -> dict[tuple[str, str], tuple[str, str]]:
        """Return section and grade by zone and group of spans, for the groups that are there."""
        found = {}
        for one, k in zip(self.frames, solution.candidates, strict=True):
            for member in one.group.members if k >= 0 else ():
                found[self.zones[one.group.zone], member] = one.choice(k)
        return found


def support_price(trial: Trial, zone: str, values: Values) -> tuple[int, int]:
    """Return what web frames and stringers of a zone cost, by both objectives; nothing where no choice moves them.

    Raises InputError where a choice moves them and their scantlings are not given.
    """
    if not values.with_supports:
        return 0, 0
    supports = trial.supports
    unknown = np.flatnonzero(supports.unknown & (supports.zone == zone))
    if len(unknown):
        raise InputError(
            f"ship.toml: sizing: zone {zone}",
            f"what a {supports.kind[unknown[0]]} weighs is not known, and a choice of spacing or stringers moves it",
            value=str(supports.id[unknown[0]]), allowed="web_frames and stringers that speak of all of them",
        )  # fmt: skip
    return values.supports(supports.by_grade(zone))
