"""The design of one ship under one rule set: everything the tables, drawings, booklet and pages read.

Rows of ``plating`` stand in the order of ``arrangement.panels``, rows of ``frames`` in that of ``arrangement.frames``.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from beltwright.arrangement.model import Arrangement
from beltwright.core.chain import Columns
from beltwright.core.columns import ColumnTable
from beltwright.core.findings import Finding
from beltwright.core.ruletable import Cell
from beltwright.core.units import FloatArray
from beltwright.hull.angles import HullAngles
from beltwright.hull.detect import PlacedHull
from beltwright.hull.hydrostatics import Hydrostatics
from beltwright.hull.shell import Shell
from beltwright.hull.stem import StemProfile
from beltwright.hull.waterline import Waterline
from beltwright.rules.protocol import Border, DesignLoads, HullAreas, Override, RuleSet
from beltwright.ship.model import Ship


@dataclass(frozen=True, slots=True, kw_only=True)
class IceWaterline:
    """An ice waterline of the ship: its points, where they come from, its curve and its hydrostatics.

    ``x_m`` and ``height_m`` (k,) are the points of the line; ``displacement_kt`` includes shell and appendages.
    ``displacement_from`` names the loading case or "the waterline" whose displacement is the greatest.
    """

    name: str
    x_m: FloatArray
    height_m: FloatArray
    source: str
    curve: Waterline
    hydrostatics: Hydrostatics
    displacement_kt: float
    displacement_from: str


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
    stem: StemProfile
    stem_angle_deg: float
    stem_x_m: float
    stations: StationAngles


@dataclass(frozen=True, slots=True, kw_only=True)
class BorderCurve:
    """A hull-area border on the shell: 3D points (n, 3) [m] and shell-expansion places (n, 2) = x, girth [m]."""

    border: Border
    points: FloatArray
    expansion: FloatArray


@dataclass(frozen=True, slots=True, kw_only=True)
class Design:
    """The design of one ship under one rule set.

    ``facts`` are the length-1 columns given to the rule set, with ``fact_origins`` saying where each was measured.
    ``area_table``: one row per hull area (see ``areas.area_table``). ``plating``, ``frames``: see the modules of the
    same name. ``cells`` are the cells of printed tables used.
    """

    ship: Ship
    rules: RuleSet
    measures: HullMeasures
    facts: Columns
    fact_origins: Mapping[str, str]
    arrangement: Arrangement
    areas: HullAreas
    borders: tuple[BorderCurve, ...]
    area_table: ColumnTable
    loads: DesignLoads
    plating: ColumnTable
    frames: ColumnTable
    overrides: tuple[Override, ...]
    cells: tuple[Cell, ...]
    findings: tuple[Finding, ...]

    @property
    def all_met(self) -> bool:
        """Whether every check of every offered scantling is met; NaN is never met."""
        met = [*self.plating.labels("outcome"), *self.frames.labels("outcome")]
        return all(outcome in ("met", "no ice requirement") for outcome in met)
