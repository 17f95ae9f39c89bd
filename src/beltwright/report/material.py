"""What the booklet, the tables and the result file print: tables, traces and words, already worked out."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from beltwright.core.chain import Trace
from beltwright.core.clause import Clause, Document
from beltwright.core.columns import ColumnTable
from beltwright.core.findings import Finding
from beltwright.core.ruletable import Cell
from beltwright.drawing.picture import ShipPicture
from beltwright.report.girder import GirderMaterial, ToldPart
from beltwright.rules.polar_code_imo_2017.icing import IcingAllowance
from beltwright.rules.protocol import HullArea, LoadPatch, Override


@dataclass(frozen=True, slots=True, kw_only=True)
class Calculation:
    """A calculation to be told: its title, its trace and the numbers wanted (none named: all)."""

    title: str
    trace: Trace
    wanted: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Sample:
    """One member told in full: its kind, id, hull area, the trace behind it and the results told.

    ``alternatives`` are what would change it: (change, before, after, unit, offered or None).
    """

    kind: str
    id: str
    hull_area: str
    headline: str
    trace: Trace
    results: tuple[str, ...]
    place: tuple[str, ...] = ()
    rounding: tuple[str, ...] = ()
    alternatives: tuple[tuple[str, float, float, str, float | None], ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class SteelMasses:
    """The steel weight: by hull area and kind, the allowances in words with their mass [t], the total and its centre.

    ``centre_m`` is (longitudinal from the aft perpendicular, transverse to port, vertical from the baseline).
    ``not_weighed_m2`` is the shell on both sides that has no thickness. ``icing`` is the ice that stability has to
    reckon with, by surface, with its mass and centre; None for a ship that names no surface.
    """

    table: ColumnTable
    allowances: tuple[tuple[str, float], ...]
    total_t: float
    centre_m: tuple[float, float, float]
    not_weighed_m2: float
    remarks: tuple[str, ...] = ()
    icing: IcingAllowance | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class ShipChecksMaterial:
    """The checks of the ship as a whole: their table, what was chosen, and the calculations in full."""

    table: ColumnTable
    choices: tuple[str, ...]
    parts: tuple[ToldPart, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class StemMaterial:
    """The stem as it is printed: its checks in a table, and its calculation, None where no scantlings are given."""

    table: ColumnTable
    calculation: Calculation | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Material:
    """Everything that is printed of one design.

    ``inputs`` echoes the ship as read; ``result_hash`` covers everything the numbers rest on. A number told in one
    calculation is not told again in a later one. ``decisions`` are sentences saying what was chosen where a document is
    silent or leaves a choice. ``supports`` are web frames and stringers; ``support_loads``, ``support_groups`` and
    ``grillages`` what the booklet shows of them and of their ``load_cases``; ``peak_in_grillage`` whether these carry a
    peak pressure factor. ``grades`` are the steel grades, None where the rule set has no rules on them, and
    ``grade_basis`` sentences on what the members count as. ``edition`` are the rule set, the contract date and whether
    the one applies to the other; ``edition_differences`` what differs between editions, None where only one is there.
    """

    picture: ShipPicture
    inputs: Mapping[str, Any]
    documents: tuple[Document, ...]
    outcome: str
    checked: tuple[str, ...]
    result_hash: str
    hull_file: ColumnTable
    hydrostatics: ColumnTable
    side_ends: ColumnTable
    stations: ColumnTable
    length_and_displacement: Calculation
    border_calculation: Calculation
    load_calculations: tuple[Calculation, ...]
    loads: ColumnTable
    patches: tuple[LoadPatch, ...]
    patches_are: str
    decisions: tuple[str, ...]
    areas: tuple[HullArea, ...]
    borders: ColumnTable
    area_table: ColumnTable
    panels: ColumnTable
    frames: ColumnTable
    samples: tuple[Sample, ...]
    weights: SteelMasses
    supports: ColumnTable
    support_loads: ColumnTable
    support_groups: ColumnTable
    load_cases: ColumnTable
    grillages: ColumnTable
    plated: ColumnTable
    checklist: ColumnTable
    peak_in_grillage: bool
    open_supports: int
    open_items: int
    findings: tuple[Finding, ...]
    overrides: tuple[Override, ...]
    unconfirmed_cells: tuple[Cell, ...]
    unconfirmed_clauses: tuple[Clause[Any, Any], ...]
    girder: GirderMaterial | None = None
    ship_checks: ShipChecksMaterial | None = None
    stem: StemMaterial | None = None
    open_stem: bool = False
    grades: ColumnTable | None = None
    grade_basis: tuple[str, ...] = ()
    edition: tuple[tuple[str, str], ...] = ()
    edition_differences: ColumnTable | None = None
