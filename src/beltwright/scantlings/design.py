"""The design of one ship under one rule set: everything the tables, drawings, booklet and pages read.

Rows of ``plating`` stand in the order of ``arrangement.panels``, rows of ``frames`` in that of ``arrangement.frames``.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray

from beltwright.arrangement.model import Arrangement
from beltwright.core.chain import Columns
from beltwright.core.columns import ColumnTable
from beltwright.core.findings import Finding
from beltwright.core.ruletable import Cell
from beltwright.core.units import FloatArray, IntArray
from beltwright.hull.angles import HullAngles
from beltwright.hull.hydrostatics import Hydrostatics
from beltwright.hull.levels import WaterLevel
from beltwright.hull.placing import PlacedHull
from beltwright.hull.shell import Shell
from beltwright.hull.stem import Profile, StemPoint
from beltwright.hull.waterline import Waterline
from beltwright.rules.protocol import About, Border, DesignLoads, HullAreas, Override, RuleSet, ShipChecks
from beltwright.scantlings.girder_design import GirderDesign
from beltwright.scantlings.members import MemberRun
from beltwright.scantlings.stem_design import StemDesign
from beltwright.scantlings.support_run import SupportRun
from beltwright.ship.model import Ship


@dataclass(frozen=True, slots=True, kw_only=True)
class IceWaterline:
    """An ice waterline of the ship: its line, where it comes from, its curve on the hull and its hydrostatics.

    ``displacement_kt`` includes shell and appendages; it is the greatest of the loading cases that make the line, and
    ``displacement_from`` names that case, or says that the line itself was used.
    """

    level: WaterLevel
    source: str
    curve: Waterline
    hydrostatics: Hydrostatics
    displacement_kt: float
    displacement_from: str

    @property
    def name(self) -> str:
        """What it is called: upper or lower ice waterline."""
        return self.level.name

    @property
    def x_m(self) -> FloatArray:
        """The places of the line's points (k,), from the aft perpendicular [m]."""
        return np.array(self.level.x_m)

    @property
    def height_m(self) -> FloatArray:
        """The heights of the line's points (k,) above the baseline [m]."""
        return np.array(self.level.height_m)


@dataclass(frozen=True, slots=True, kw_only=True)
class StationAngles:
    """Hull angles read on the upper ice waterline: where, the surface point (k, 3) and the angles."""

    aft_of_stem_m: FloatArray
    points: FloatArray
    angles: HullAngles


@dataclass(frozen=True, slots=True, kw_only=True)
class HullMeasures:
    """The hull and what was measured on it."""

    placed: PlacedHull
    shell: Shell
    upper: IceWaterline
    lower: IceWaterline
    profile: Profile
    stem: StemPoint

    @property
    def stem_x_m(self) -> float:
        """The fore side of the stem at the upper ice waterline, from the aft perpendicular [m]."""
        return self.upper.curve.stem_x_m


@dataclass(frozen=True, slots=True, kw_only=True)
class BorderCurve:
    """A hull-area border on the shell: 3D points (n, 3) [m] and shell-expansion places (n, 2) = x, girth [m].

    ``sides`` are the pairs of area codes that meet on it, in the sense aft/up/steeper first; "" is outside all areas.
    """

    border: Border
    sides: tuple[tuple[str, str], ...]
    points: FloatArray
    expansion: FloatArray


@dataclass(frozen=True, slots=True, kw_only=True)
class GradeRun:
    """The steel grades: the table of all members with the rows run, and what it rests on.

    Members are the panels, the frame spans and the plates of appendages, in that order. ``basis`` are sentences on how
    their part in the structure was settled. ``distinct`` (d,) are rows that together read every table
    cell that any row reads.
    """

    run: MemberRun
    basis: tuple[str, ...]
    distinct: IntArray

    @property
    def table(self) -> ColumnTable:
        """The steel grades, a row per panel, frame span and plate of an appendage."""
        return self.run.table

    def distinct_values(self) -> dict[str, NDArray[Any]]:
        """Return the chain's values in the distinct rows."""
        rows = len(self.run.rows.member)
        return {name: value[self.distinct] if len(value) == rows else value for name, value in self.run.values.items()}


@dataclass(frozen=True, slots=True, kw_only=True)
class Design:
    """The design of one ship under one rule set.

    ``facts`` are the columns given to the rule set, of length 1 or with a row per waterline or draught, and
    ``fact_origins`` says where each was measured. ``area_table``: one row per hull area. ``plating_run``,
    ``framing_run``: the requirements of all panels and frame spans. ``supports_run``: web frames and load-carrying
    stringers, None where the rule set has no rules for them; ``grades_run`` the steel grades, likewise;
    ``load_cases`` what is handed over to their direct calculation, ``plated`` the plated structures in
    contact with the shell, ``checklist`` the clauses without a formula with their answers. ``girder``:
    longitudinal strength in ice, None where the rule set has no such chapter. ``ship_checks``: what the ship as a whole
    is held to, None where the rule set asks for nothing; ``stem`` likewise. ``cells`` are the cells of
    printed tables used.
    """

    ship: Ship
    rules: RuleSet
    measures: HullMeasures
    stations: StationAngles
    facts: Columns
    fact_origins: Mapping[str, str]
    arrangement: Arrangement
    areas: HullAreas
    borders: tuple[BorderCurve, ...]
    area_table: ColumnTable
    loads: DesignLoads
    plating_run: MemberRun
    framing_run: MemberRun
    supports_run: SupportRun | None
    load_cases: ColumnTable
    plated: ColumnTable
    grades_run: GradeRun | None
    checklist: ColumnTable
    girder: GirderDesign | None
    ship_checks: ShipChecks | None
    stem: StemDesign | None
    overrides: tuple[Override, ...]
    cells: tuple[Cell, ...]
    findings: tuple[Finding, ...]

    @property
    def plating(self) -> ColumnTable:
        """The plating, a row per panel of the arrangement."""
        return self.plating_run.table

    @property
    def frames(self) -> ColumnTable:
        """The local frames, a row per frame span of the arrangement."""
        return self.framing_run.table

    @property
    def grades(self) -> ColumnTable | None:
        """The steel grades, a row per panel, frame span and plate of an appendage; None without rules on them."""
        return None if self.grades_run is None else self.grades_run.table

    @property
    def all_met(self) -> bool:
        """Whether every check of every offered scantling is met; NaN is never met.

        What is open (a web frame or stringer without scantlings or without its calculation, a clause of the checklist)
        is counted by ``open_supports`` and ``open_items``.
        """
        met = [*self.plating.labels("outcome"), *self.frames.labels("outcome")]
        failed = self.supports_run is not None and bool((self.supports_run.table.labels("outcome") == "not met").any())
        failed |= self.grades is not None and bool((self.grades.labels("outcome") == "not met").any())
        failed |= self.girder is not None and not self.girder.all_met
        failed |= self.ship_checks is not None and not self.ship_checks.all_met
        failed |= self.stem is not None and self.stem.outcome == "not met"
        return not failed and all(outcome in ("met", "no ice requirement") for outcome in met)

    @property
    def checked(self) -> tuple[str, ...]:
        """What ``all_met`` speaks of, in words."""
        more = (
            (self.grades is not None, "steel grades"),
            (self._supports_judged, f"{self._supports_by} of web frames and stringers"),
            (self.girder is not None and self.girder.outcome in ("met", "not met"), "hull girder in ice"),
            (self.stem is not None and self.stem.trace is not None, "stem"),
            (self.ship_checks is not None, "ship as a whole"),
        )
        return ("plating", "local frames", *(words for there, words in more if there))

    @property
    def _supports_judged(self) -> bool:
        """Whether anything is said of web frames and stringers: where formulas show their strength, of one at least."""
        run = self.supports_run
        return run is not None and (not run.shown_here or bool(run.given.given.any()))

    @property
    def _supports_by(self) -> str:
        """What the checks of web frames and stringers speak of."""
        whole = self.supports_run is not None and self.supports_run.shown_here
        about = About.STRENGTH if whole else About.STABILITY
        return str(about.value)

    @property
    def open_supports(self) -> int:
        """The number of web frame spans and stringer bays (one side) that are open: not shown to meet the rules."""
        if self.supports_run is None:
            return 0
        return int((self.supports_run.table.labels("outcome") == "open").sum())

    @property
    def open_stem(self) -> bool:
        """Whether the stem is open: the rule set has a formula for it and no scantlings are given."""
        return self.stem is not None and self.stem.trace is None

    @property
    def open_items(self) -> int:
        """The number of clauses of the checklist that are open."""
        return int((self.checklist.labels("status") == "open").sum()) if self.checklist.rows else 0
