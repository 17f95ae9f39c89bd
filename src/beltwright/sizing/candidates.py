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
from beltwright.core.units import BoolArray, FloatArray, IntArray
from beltwright.materials.hull_steel import hull_steels
from beltwright.sizing.framegroups import FrameChoices, Group, PlateSteel, frame_groups
from beltwright.sizing.problem import Need, Plate, PlateChoice, Problem, Solution, StepLimit, Zone
from beltwright.sizing.trial import Trial
from beltwright.sizing.values import Values
from beltwright.weights.costing import plate_work
from beltwright.weights.shellplates import Cover, ShellPlates


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
        allowed = {
            (z, k): self._allowed(z, one, steels) for z, mine in enumerate(options) for k, one in enumerate(mine)
        }
        windows = self._windows(steels, allowed)
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
        """Sections with their grades that ship.toml gives."""
        ship = self.options[0][0].trial.ship
        return {(line.section, line.grade or ship.steel.frame_grade) for line in ship.frame_sections}

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

    def _fixed(self) -> dict[int, PlateSteel]:
        """The plates that ship.toml gives, by row: a line that speaks of any of its panels binds the whole plate.

        Where several lines do, the thickest of them binds.
        """
        trial, cover = self.options[0][0].trial, self.options[0][0].cover
        given, lines = trial.given_plate(), trial.ship.plates
        found: dict[int, PlateSteel] = {}
        for plate, panel in zip(cover.plate.tolist(), cover.panel.tolist(), strict=True):
            if given[panel] < 0 or plate not in self._row_of:
                continue
            line, row = lines[int(given[panel])], self._row_of[plate]
            if row not in found or line.thickness_as_built_mm > found[row].thickness_mm:
                grade = line.grade or trial.ship.steel.plate_grade
                found[row] = PlateSteel(thickness_mm=line.thickness_as_built_mm, grade=grade)
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
        grades = list(dict.fromkeys((*self.values.plate_grades, *(one.grade for one in self.fixed.values()))))
        return sorted(steels | set(self.fixed.values()), key=lambda one: (one.thickness_mm, grades.index(one.grade)))

    def _allowed(self, zone: int, one: Option, steels: Sequence[PlateSteel]) -> BoolArray:
        """Which steels (c,) every sized plate (p,) may be for the sake of a zone's panels."""
        inside, found = one.trial.panel_zone == self.zones[zone], np.ones((len(self.sized), len(steels)), dtype=bool)
        for c, steel in enumerate(steels):
            failed = ~one.trial.meets(steel.thickness_mm, steel.grade) & inside
            for plate in np.unique(one.cover.plate[failed[one.cover.panel]]).tolist():
                if plate in self._row_of:
                    found[self._row_of[plate], c] = False
        return found

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
            least[row] = fixed.thickness_mm
        for _ in range(len(least)) if self.values.neighbour_step_mm is not None else ():
            before = least.copy()
            for one, other in self._beside():
                least[one] = max(least[one], least[other] - self.values.neighbour_step_mm)
                least[other] = max(least[other], least[one] - self.values.neighbour_step_mm)
            if (before == least).all():
                break
        cap = least + self.values.excess_mm
        if self.values.most_thicknesses is not None:
            cap = np.full(len(least), np.inf)
        window: BoolArray = easy & (thickness[None, :] <= cap[:, None] + 1e-9)
        for row, fixed in self.fixed.items():
            window[row] = [steel == fixed for steel in steels]
        empty = ~window.any(axis=1)
        window[empty, -1] = True  # no steel will do: the thickest stands for that and is refused by its need
        return window

    def _needs(self, allowed: Mapping[tuple[int, int], BoolArray], windows: BoolArray) -> list[Need]:
        """What every plate must be under every option of the zones it lies in."""
        needs = []
        for (z, k), table in allowed.items():
            one = self.options[z][k]
            here = (one.trial.panel_zone == self.zones[z]) & one.trial.panel_asked
            for plate in np.unique(one.cover.plate[here[one.cover.panel]]).tolist():
                row = self._row_of[plate]
                given = f" with the {self.fixed[row].thickness_mm:g} mm given" if row in self.fixed else ""
                why = f"the plating requirement in zone {self.zones[z]}{given}"
                needs.append(Need(plate=row, zone=z, option=k, allowed=table[row][windows[row]], why=why))
        return needs

    def _beside(self) -> list[tuple[int, int]]:
        """The neighbouring plates that are both sized, by row."""
        return [
            (self._row_of[int(a)], self._row_of[int(b)])
            for a, b in self.plates.beside
            if int(a) in self._row_of and int(b) in self._row_of
        ]

    def problem(self) -> Problem:
        """Return the problem as far as it is known by the hard spans."""
        most = self.values.neighbour_step_mm
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
            step_limits=()
            if most is None
            else tuple(StepLimit(one=a, other=b, most_mm=most) for a, b in self._beside()),
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
