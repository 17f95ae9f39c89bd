"""What the rules ask of plates and frames that are tried, by the same functions as every other check.

A trial is one way to frame the ship, arranged on its shell. It answers two questions, vectorised: which panels a plate
of some thickness and steel satisfies, and how frame spans come out with some section on some plate.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache, cached_property

import numpy as np

from beltwright.arrangement.model import Arrangement
from beltwright.core.chain import Columns
from beltwright.core.outcome import is_met
from beltwright.core.units import BoolArray, FloatArray, IntArray, LabelArray
from beltwright.materials.hull_steel import hull_steels
from beltwright.rules.protocol import DesignLoads, HullAreas, RuleSet
from beltwright.scantlings.build import panel_places, span_places, unsupported_spans
from beltwright.scantlings.choose import Places, group_names, speaks_of
from beltwright.scantlings.design import HullMeasures
from beltwright.scantlings.fitted import FrameSetting
from beltwright.scantlings.frames import Checker, frame_checker, known_or_infinite
from beltwright.scantlings.grade_trial import GradeTrial
from beltwright.scantlings.member_facts import panel_facts, span_facts
from beltwright.scantlings.plating import PlatingDemand, plate_ratio, plating_demand
from beltwright.scantlings.sectionstock import SectionStock
from beltwright.ship.model import Ship, Where
from beltwright.weights.support_weight import SupportWeight, support_weight

_ROWS = 400_000  # rows run at a time


@dataclass(frozen=True, slots=True, kw_only=True)
class OnPlates:
    """Spans (m,) by their row, each on a plate: net and as-built thickness [mm] and yield [MPa] of that plate."""

    span: IntArray
    net_mm: FloatArray
    as_built_mm: FloatArray
    yield_mpa: FloatArray

    def take(self, rows: IntArray) -> OnPlates:
        """Return some of them."""
        return OnPlates(
            span=self.span[rows], net_mm=self.net_mm[rows], as_built_mm=self.as_built_mm[rows],
            yield_mpa=self.yield_mpa[rows],
        )  # fmt: skip


class Trial:
    """One framing of the ship, with its hull areas and loads, which do not depend on plates and frames."""

    def __init__(
        self, ship: Ship, rules: RuleSet, measures: HullMeasures, arrangement: Arrangement, areas: HullAreas,
        loads: DesignLoads, stock: SectionStock, facts: Columns,
    ) -> None:  # fmt: skip
        self._facts = facts
        self.ship, self.rules, self.arrangement, self.stock = ship, rules, arrangement, stock
        self._measures, self._areas, self._loads = measures, areas, loads
        self._demand = cache(self._demand_at)

    @cached_property
    def _panels(self) -> tuple[BoolArray, Places]:
        return panel_places(self._measures, self.arrangement, self._areas)

    @cached_property
    def supports(self) -> SupportWeight:
        """What web frames and stringers weigh as designed."""
        return support_weight(self.ship, self.arrangement, self._areas, self._measures)

    @cached_property
    def _grades(self) -> GradeTrial | None:
        """What tries steel grades; None where the rule set has no rules on them."""
        if self.rules.grading is None:
            return None
        spans, _ = span_places(self._measures, self.arrangement, self._areas)
        hit, places = self._panels
        return GradeTrial(
            self.ship, self.rules.grading, self._measures, self.arrangement, self._areas,
            {**self._facts, **self._loads.columns}, (hit, spans), places,
        )  # fmt: skip

    @property
    def asks_grades(self) -> bool:
        """Whether the rule set has rules on steel grades."""
        return self.rules.grading is not None

    def panel_grades(self, panels: IntArray, thickness_mm: FloatArray, grades: Sequence[str]) -> FloatArray:
        """Return rank of grade demanded over offered (m, t, g) of panels (m,); 0 without rules on grades."""
        if self._grades is None:
            return np.zeros((len(panels), len(thickness_mm), len(grades)))
        return self._grades.ratio(panels, thickness_mm, grades)

    def span_grades(self, spans: IntArray, thickness_mm: FloatArray, grades: Sequence[str]) -> FloatArray:
        """Return the same of spans (m,) in sections whose thickest part is so thick."""
        if self._grades is None:
            return np.zeros((len(spans), len(thickness_mm), len(grades)))
        return self._grades.ratio(spans + self.arrangement.panels.rows, thickness_mm, grades)

    def given_plate(self) -> IntArray:
        """Return which line of ``plates`` in ship.toml gives the plate of every panel (n,), -1 for none."""
        return self._given(self.ship.plates, self._panels[1], "plates")

    def given_section(self) -> IntArray:
        """Return which line of ``frame_sections`` in ship.toml gives the section of every span (n,), -1 for none."""
        return self._given(self.ship.frame_sections, self._spans[1], "frame_sections")

    def _given(self, lines: Sequence[Where], places: Places, field: str) -> IntArray:
        """The last of the lines that speaks of each member."""
        found = np.full(len(places.zone), -1, dtype=np.int64)
        for number, line in enumerate(lines):
            found[speaks_of(line, places, self.ship, self.arrangement.levels, f"{field}[{number + 1}]")] = number
        return found

    @cached_property
    def _panel_facts(self):  # type: ignore[no-untyped-def]
        return panel_facts(self.arrangement)

    @cached_property
    def _span_facts(self):  # type: ignore[no-untyped-def]
        return span_facts(self.ship, self.arrangement, self._areas, self._measures)

    @cached_property
    def _spans(self) -> tuple[BoolArray, Places]:
        hit, places = span_places(self._measures, self.arrangement, self._areas)
        local = self.arrangement.frames.labels("role") != "web frame"
        return hit & local[:, None], places

    @property
    def panel_zone(self) -> LabelArray:
        """The zone of every panel (n,)."""
        return self.arrangement.panels.labels("zone")

    @property
    def group(self) -> LabelArray:
        """The group of every span (n,): framing zone, hull area and bay."""
        return group_names(self._spans[1])

    @property
    def span_area(self) -> LabelArray:
        """The hull area whose factor every span (n,) takes; "" where it touches none that is strengthened."""
        return self._spans[1].hull_area

    @cached_property
    def asked(self) -> IntArray:
        """The spans of local frames of which the rule asks something, in order."""
        columns = frame_checker(
            self.rules.framing, self._areas, self._loads, self.arrangement.frames, self._span_facts, self._spans[0],
            self._setting(np.zeros(self.arrangement.frames.rows, dtype=np.int64), None), self.stock,
        )  # fmt: skip
        return np.unique(columns.rows.member)

    def required_mm(self, yield_mpa: float) -> FloatArray:
        """Return the thickness as built that every panel (n,) needs at a yield stress; NaN where nothing is asked."""
        demand = self._demand(yield_mpa)
        found = np.full(self.arrangement.panels.rows, np.nan)
        found[demand.members] = demand.values[self.rules.plating.result][demand.governing]
        return found

    @cached_property
    def addition_mm(self) -> FloatArray:
        """The addition that is taken off every panel's plate (n,) for its net thickness; 0 where nothing is asked."""
        shown = self.rules.plating.shown
        found = np.zeros(self.arrangement.panels.rows)
        if "addition_mm" in shown:
            demand = self._demand(hull_steels().steel(self.ship.steel.plate_grade).thinnest.yield_MPa)
            values = np.broadcast_to(demand.values[shown["addition_mm"]], len(demand.rows.member))
            found[demand.members] = values[demand.governing]
        return found

    def meets(self, thickness_mm: float, grade: str) -> BoolArray:
        """Return which panels (n,) a plate satisfies; where nothing is asked, any plate does."""
        yields = hull_steels().yields_MPa(np.array([grade]), as_built_thickness_mm=np.array([thickness_mm]))
        required = self.required_mm(float(yields[0]))
        nothing = np.isnan(required) & ~self.panel_asked
        met = is_met(plate_ratio(self.ship, required, np.full(len(required), thickness_mm)))
        return nothing | met

    @cached_property
    def panel_asked(self) -> BoolArray:
        """Whether the rule asks anything of every panel (n,)."""
        found = np.zeros(self.arrangement.panels.rows, dtype=bool)
        found[self._demand(hull_steels().steel(self.ship.steel.plate_grade).thinnest.yield_MPa).members] = True
        return found

    def _demand_at(self, yield_mpa: float) -> PlatingDemand:
        panels = self.arrangement.panels
        return plating_demand(
            self.rules.plating, self._areas, self._loads, panels, self._panel_facts, self._panels[0],
            np.full(panels.rows, yield_mpa),
        )  # fmt: skip

    @cached_property
    def unsupported(self) -> BoolArray:
        """The spans (n,) that no section can heal: simply supported where the rule asks for fixity."""
        shapes = self.arrangement.frame_shapes
        return unsupported_spans(
            self._areas, self._measures, self.arrangement.frames, shapes.samples, shapes.sample_normals
        )

    def worst(self, on: OnPlates, sections: IntArray, grade: str) -> FloatArray:
        """Return the greatest ratio over all checks and loads of spans on plates (m,) with every section (m, s).

        Infinite where it is not known, where the span is unsupported or where it stands on no net plate.
        """
        step = max(_ROWS // max(len(sections), 1) // 4, 1)
        parts = [self._worst(on.take(np.arange(k, min(k + step, len(on.span)))), sections, grade)
                 for k in range(0, len(on.span), step)]  # fmt: skip
        return np.concatenate(parts) if parts else np.zeros((0, len(sections)))

    def _worst(self, on: OnPlates, sections: IntArray, grade: str) -> FloatArray:
        checker, bare = self._checker(on, grade)
        rows = np.arange(len(checker.rows.member))
        every, tried = (one.ravel() for one in np.meshgrid(rows, sections, indexing="ij"))
        ratios = known_or_infinite(checker.run(every, tried)[1]).max(axis=1).reshape(len(rows), len(sections))
        found = np.full((len(on.span), len(sections)), -np.inf)
        np.maximum.at(found, checker.rows.member, ratios)
        found[bare | self.unsupported[on.span]] = np.inf
        return found

    def _checker(self, on: OnPlates, grade: str) -> tuple[Checker, BoolArray]:
        """What runs the rule on spans on plates (m,), and where no net plate is left (m,)."""
        frames = self.arrangement.frames.where(on.span)
        bare = ~(on.net_mm > 0.0)
        setting = self._setting(on.span, OnPlates(
            span=on.span, net_mm=np.where(bare, np.nan, on.net_mm), as_built_mm=on.as_built_mm, yield_mpa=on.yield_mpa
        ), grade)  # fmt: skip
        checker = frame_checker(
            self.rules.framing, self._areas, self._loads, frames, self._span_facts.rows(on.span),
            self._spans[0][on.span], setting, self.stock,
        )  # fmt: skip
        return checker, bare

    def failing(self, on: OnPlates, section: int, grade: str) -> str:
        """Return the name of the check that comes out worst on spans on plates (m,) with one section."""
        if self.unsupported[on.span].any():
            return "end fixity: a span is simply supported, which no section heals"
        checker, bare = self._checker(on, grade)
        if bare.any():
            return "net plate: nothing is left of it"
        rows = np.arange(len(checker.rows.member))
        ratios = known_or_infinite(checker.run(rows, np.full(len(rows), section))[1])
        return checker.rule.checks[int(np.argmax(ratios.max(axis=0)))].name

    def _setting(self, span: IntArray, on: OnPlates | None, grade: str | None = None) -> FrameSetting:
        """The plates under spans (m,), and the grade of the frames."""
        name, nothing = grade or self.ship.steel.frame_grade, np.full(len(span), 1.0)
        return FrameSetting(
            grade=np.full(len(span), name),
            yield_mpa=np.full(len(span), hull_steels().steel(name).thinnest.yield_MPa),
            plate_net_mm=nothing if on is None else on.net_mm,
            plate_as_built_mm=nothing if on is None else on.as_built_mm,
            plate_yield_mpa=nothing if on is None else on.yield_mpa,
        )
