"""From a ship, its hull and a rule set to the design: the stages of the main job, in order."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray

from beltwright.arrangement.arrange import arrange
from beltwright.arrangement.levels import level_lines
from beltwright.arrangement.model import Arrangement
from beltwright.arrangement.stations import frame_stations
from beltwright.core.chain import Columns, Step, Trace
from beltwright.core.columns import ColumnTable
from beltwright.core.errors import InputError
from beltwright.core.findings import Findings, Severity
from beltwright.core.ruletable import Cell
from beltwright.core.units import BoolArray, FloatArray, LabelArray
from beltwright.hull.placing import PlacedHull
from beltwright.materials.codes import grade_findings
from beltwright.materials.hull_steel import hull_steels
from beltwright.materials.plates import cells_used as plate_cells
from beltwright.rules.protocol import DesignLoads, HullAreas, Override, RuleSet, Strengthens
from beltwright.rules.registry import rule_set
from beltwright.scantlings import codes
from beltwright.scantlings.appendages import check_appendages
from beltwright.scantlings.area_results import compare_forward, with_results
from beltwright.scantlings.areas import (
    area_columns,
    border_curves,
    classify,
    codes_strengthening,
    shell_area_by_code,
    touched,
    touched_by_lines,
)
from beltwright.scantlings.checklist import check_checklist, checklist
from beltwright.scantlings.choose import Places
from beltwright.scantlings.chosen import Chosen
from beltwright.scantlings.design import BorderCurve, Design, GradeRun, HullMeasures
from beltwright.scantlings.fitted import FrameSetting
from beltwright.scantlings.frame_ends import report_frame_ends
from beltwright.scantlings.frames import design_frames, given_grades
from beltwright.scantlings.girder import bow_exponent_override, design_girder
from beltwright.scantlings.girder_given import check_girder
from beltwright.scantlings.grades import design_grades
from beltwright.scantlings.measure import angle_columns, check_rule_class, measure_hull, station_angles
from beltwright.scantlings.member_facts import panel_facts, span_facts
from beltwright.scantlings.members import MemberRun, member_rows
from beltwright.scantlings.plating import design_plating, stock_of, under_tolerance
from beltwright.scantlings.sectionstock import SectionStock
from beltwright.scantlings.ship_checks import check_ship, ship_check_cells
from beltwright.scantlings.ship_facts import ShipFacts, check_told, ship_facts
from beltwright.scantlings.stem import check_stem, design_stem, stem_cells
from beltwright.scantlings.support_lines import check_support_lines
from beltwright.scantlings.support_results import support_results
from beltwright.scantlings.support_run import SupportRun
from beltwright.scantlings.yields import by_thickness
from beltwright.sections.catalogue import cells_used as section_cells
from beltwright.ship.loading import LoadingCase
from beltwright.ship.model import LevelKind, Orientation, Ship


@dataclass(frozen=True, slots=True, kw_only=True)
class Drawn:
    """What only drawings and the table of hull areas show: the shell area of each [m2], None if not known; borders."""

    sizes_m2: Mapping[str, float] | None
    borders: tuple[BorderCurve, ...]


def drawn_parts(design: Design) -> Drawn:
    """Return what only drawings show of a design, to be given to another on the same hull with the same areas."""
    codes_, sizes = design.area_table.labels("code").tolist(), design.area_table.values("area_m2").tolist()
    return Drawn(sizes_m2=dict(zip(codes_, sizes, strict=True)), borders=design.borders)


def _drawn(areas: HullAreas, measures: HullMeasures) -> Drawn:
    """The borders as curves and the shell area of each hull area, found on the shell."""
    return Drawn(sizes_m2=shell_area_by_code(areas, measures), borders=border_curves(areas, measures))


def design_ship(ship: Ship, cases: tuple[LoadingCase, ...], placed: PlacedHull) -> Design:
    """Return the design of a ship.

    Raises
    ------
    InputError : something given contradicts itself, the hull or the rule set, or a blocking finding stands
    ScopeError : the ship lies outside what the rule set was written for, and no written reason carries it
    """
    findings = Findings()
    rules, measures, arrangement = prepare(ship, cases, placed, findings)
    return design_on(ship, rules, measures, arrangement, findings)


def prepare(
    ship: Ship, cases: tuple[LoadingCase, ...], placed: PlacedHull, findings: Findings
) -> tuple[RuleSet, HullMeasures, Arrangement]:
    """Return what every design of a ship stands on: its rule set, the measured hull, the arrangement on it.

    Raises InputError as :func:`design_ship` does.
    """
    rules = check_description(ship, findings)
    findings.extend(placed.findings)
    stop_at_blocks(findings)
    measures = measure_hull(ship, cases, placed, findings)
    arrangement = arrange(ship, measures.shell)
    findings.extend(arrangement.findings)
    stop_at_blocks(findings)
    return rules, measures, arrangement


def check_description(ship: Ship, findings: Findings) -> RuleSet:
    """Return the rule set, after refusing what the description alone shows to be wrong.

    Class, steel grades, sections and levels are looked at.

    Raises InputError naming the field, the value and what is allowed; no hull is needed for it.
    """
    rules = rule_set(ship.ice.rules)
    check_rule_class(rules, ship, findings)
    check_told(ship, rules.facts)
    for field, grade in (
        ("steel.plate_grade", ship.steel.plate_grade),
        ("steel.frame_grade", ship.steel.frame_grade),
        *((f"plates[{n}].grade", line.grade) for n, line in enumerate(ship.plates, 1)),
        *((f"frame_sections[{n}].grade", line.grade) for n, line in enumerate(ship.frame_sections, 1)),
    ):
        if grade is not None:
            steel = hull_steels().steel(grade, where=f"ship.toml: {field}")
            findings.extend(grade_findings(steel, where=f"ship.toml: {field}"))
    SectionStock(ship)
    check_support_lines(ship)
    check_stem(ship)
    check_girder(ship, findings)
    check_appendages(ship, findings)
    check_checklist(rules.checklist, ship)
    level_lines(ship, frame_stations(ship.frames))
    return rules


def design_on(
    ship: Ship,
    rules: RuleSet,
    measures: HullMeasures,
    arrangement: Arrangement,
    findings: Findings,
    *,
    facts_measured: ShipFacts | None = None,
    drawn: bool | Drawn = True,
    chosen: Chosen | None = None,
    heard: Callable[[MemberRun, MemberRun], None] | None = None,
) -> Design:
    """Return the design on a hull that is measured and arranged already: what an edit of ship.toml redoes.

    ``facts_measured`` are the ship's facts with their origins, where they have been measured before. ``drawn`` false
    leaves out what takes longest and only drawings and the table of hull areas show: the borders as curves on the
    shell, and the shell area of each hull area; these may be given where they stand already. ``chosen`` are plates
    and sections to fit in place of those given or proposed. ``heard`` is told plating and framing as soon as they
    stand, before all else.
    """
    overrides = tuple(
        Override(key=f"overrides.{name}", reason=reason)
        for name, reason in ship.overrides.model_dump().items()
        if reason is not None
    )
    overrides += bow_exponent_override(ship)
    facts, origins = ship_facts(ship, measures, findings, rules.facts) if facts_measured is None else facts_measured
    areas = rules.areas(facts, overrides)
    stations = station_angles(measures, rules.stations(areas))
    loads = rules.loads(facts, areas, angle_columns(stations), overrides)
    findings.extend(loads.findings)
    plating = _plating(ship, rules, measures, arrangement, areas, loads, findings, chosen)
    framing = _framing(ship, rules, measures, arrangement, areas, loads, plating, findings, chosen)
    if heard is not None:
        heard(plating, framing)
    supports = support_results(ship, rules, areas, measures, loads, arrangement, plating, framing, findings)
    grades = _grades(ship, rules, measures, arrangement, areas, {**facts, **loads.columns}, plating, framing, findings)
    report_frame_ends(ship, areas, measures, arrangement, findings)
    shown = _drawn(areas, measures) if drawn is True else drawn or Drawn(sizes_m2=None, borders=())
    table = with_results(area_columns(areas, shown.sizes_m2), loads, plating, framing)
    borders = shown.borders
    compare_forward(plating.table, borders, findings)
    girder = design_girder(ship, rules, measures, facts, loads, areas.trace, findings)
    stem = design_stem(ship, rules.stem, areas, measures, loads, findings)
    whole = check_ship(rules, facts, origins, findings)
    _name_unchecked(ship, rules, arrangement, supports.run, findings)
    return Design(
        ship=ship,
        rules=rules,
        measures=measures,
        stations=stations,
        facts=facts,
        fact_origins=origins,
        arrangement=arrangement,
        areas=areas,
        borders=borders,
        area_table=table,
        loads=loads,
        plating_run=plating,
        framing_run=framing,
        supports_run=supports.run,
        load_cases=supports.load_cases,
        plated=supports.plated,
        grades_run=grades,
        checklist=checklist(rules.checklist, ship, findings),
        overrides=overrides,
        girder=girder,
        ship_checks=whole,
        stem=stem,
        cells=tuple(
            dict.fromkeys(
                (
                    *_cells(ship, areas.trace, loads.traces, rules, plating, framing, supports.run, grades),
                    *(girder.cells if girder is not None else ()),
                    *ship_check_cells(whole),
                    *stem_cells(stem),
                )
            )
        ),
        findings=tuple(findings),
    )


def members_under(
    ship: Ship, rules: RuleSet, measures: HullMeasures, arrangement: Arrangement, areas: HullAreas, loads: DesignLoads,
    findings: Findings,
) -> tuple[MemberRun, MemberRun]:  # fmt: skip
    """Return plating and frames under loads that need not be the ship's own: for studies of what would be."""
    plating = _plating(ship, rules, measures, arrangement, areas, loads, findings, None)
    return plating, _framing(ship, rules, measures, arrangement, areas, loads, plating, findings, None)


def stop_at_blocks(findings: Findings) -> None:
    """Raise as an InputError the first blocking finding: no result is given until it is answered."""
    for finding in findings.of(Severity.BLOCK):
        raise InputError(finding.where, f"{finding.kind.title}: {finding.message}", allowed=finding.kind.advice)


def _plating(
    ship: Ship, rules: RuleSet, measures: HullMeasures, arrangement: Arrangement, areas: HullAreas, loads: DesignLoads,
    findings: Findings, chosen: Chosen | None,
) -> MemberRun:  # fmt: skip
    """The plating on the arrangement's panels."""
    hit, places = panel_places(measures, arrangement, areas)
    panels, facts = arrangement.panels, panel_facts(arrangement)
    return design_plating(
        ship, rules.plating, areas, loads, panels, facts, hit, places, arrangement.levels, findings, chosen
    )


def _framing(
    ship: Ship, rules: RuleSet, measures: HullMeasures, arrangement: Arrangement, areas: HullAreas, loads: DesignLoads,
    plating: MemberRun, findings: Findings, chosen: Chosen | None,
) -> MemberRun:  # fmt: skip
    """The frames on the arrangement's spans."""
    shapes, frames = arrangement.frame_shapes, arrangement.frames
    hit, places = span_places(measures, arrangement, areas)
    if chosen is None:
        grades, yields = given_grades(ship, places, arrangement.levels, findings)
    else:
        grades, yields = chosen.frame_grade, by_thickness(chosen.frame_grade, np.nan, where="sizing: grade of a frame")
    setting = frame_setting(frames, plating, grades, yields)
    facts = span_facts(ship, arrangement, areas, measures)
    loose = unsupported_spans(areas, measures, frames, shapes.samples, shapes.sample_normals)
    return design_frames(
        ship, rules.framing, areas, loads, frames, facts, hit, loose, places, arrangement.levels, setting,
        SectionStock(ship), findings, chosen,
    )  # fmt: skip


def _grades(
    ship: Ship, rules: RuleSet, measures: HullMeasures, arrangement: Arrangement, areas: HullAreas,
    ship_columns: Columns, plating: MemberRun, framing: MemberRun, findings: Findings,
) -> GradeRun | None:  # fmt: skip
    """The steel grades, None where the rule set has no rules on them."""
    if rules.grading is None:
        return None

    def places() -> Places:
        return panel_places(measures, arrangement, areas)[1]

    return design_grades(
        ship, rules.grading, measures, arrangement, areas, ship_columns, plating, framing, places, findings
    )


def panel_places(measures: HullMeasures, arrangement: Arrangement, areas: HullAreas) -> tuple[BoolArray, Places]:
    """Return which areas every panel touches (n, areas), and where the panels lie."""
    shapes, panels = arrangement.panel_shapes, arrangement.panels
    hit = touched(areas, measures, shapes.samples, shapes.sample_normals)
    centre = np.column_stack([panels.values(f"centroid_{axis}_m") for axis in "xyz"])
    middle = 0.5 * (panels.values("frame_aft") + panels.values("frame_fore"))
    return hit, _places(panels, _factor_area(areas, hit, Strengthens.PLATING), middle, centre)


def span_places(measures: HullMeasures, arrangement: Arrangement, areas: HullAreas) -> tuple[BoolArray, Places]:
    """Return which areas every frame span touches (n, areas), and where the spans lie."""
    shapes, frames = arrangement.frame_shapes, arrangement.frames
    hit = touched_by_lines(areas, measures, shapes.samples, shapes.sample_normals)
    centre = np.column_stack([frames.values(f"centroid_{axis}_m") for axis in "xyz"])
    return hit, _places(frames, _factor_area(areas, hit, Strengthens.FRAMING), frames.values("frame"), centre)


def _places(table: ColumnTable, hull_area: LabelArray, frame: FloatArray, centre: FloatArray) -> Places:
    """Where each member lies; the bay of frames across is named by the level below it."""
    across = table.labels("orientation") == Orientation.TRANSVERSE.value
    return Places(
        hull_area=hull_area,
        zone=table.labels("zone"),
        bay=np.where(across, table.labels("lower_level"), "all"),
        frame=frame,
        x_m=centre[:, 0],
        height_m=centre[:, 2],
    )


def _factor_area(areas: HullAreas, hit: BoolArray, part: Strengthens) -> LabelArray:
    """The hull area whose factor each member takes, "" where it touches none that is strengthened."""
    rows = member_rows(areas, hit, part)
    named = np.full(len(hit), "", dtype="<U8")
    named[rows.member] = rows.factor_area
    return named.astype(np.str_)


def frame_setting(frames: ColumnTable, plating: MemberRun, grade: LabelArray, yield_mpa: FloatArray) -> FrameSetting:
    """Return what every span brings (n,): its grade and yield, and the thinner (net) plate beside it; NaN without one.

    Where the rule set asks nothing of a plate, its net thickness is that as built.
    """
    table = plating.table
    built = table["thickness_as_built_mm"].data
    asked = ~np.isnan(table["addition_mm"].data)
    net = np.where(asked, table["thickness_net_fitted_mm"].data, built)
    one, other = frames["panel_one"].data, frames["panel_other"].data

    def beside(values: FloatArray) -> FloatArray:
        padded = np.append(values, np.nan)
        return np.stack([padded[one], padded[other]], axis=1)

    pair = beside(net)
    thinner = np.argmin(np.where(np.isnan(pair), np.inf, pair), axis=1)
    row = np.arange(len(pair))
    return FrameSetting(
        grade=grade, yield_mpa=yield_mpa, plate_net_mm=pair[row, thinner],
        plate_as_built_mm=beside(built)[row, thinner], plate_yield_mpa=beside(table["yield_mpa"].data)[row, thinner],
    )  # fmt: skip


def unsupported_spans(
    areas: HullAreas, measures: HullMeasures, frames: ColumnTable, points: FloatArray, normals: FloatArray
) -> BoolArray:
    """Which spans are simply supported inside a strengthened area, or at both ends."""
    strengthened = codes_strengthening(areas, Strengthens.FRAMING)
    loose = np.zeros(frames.rows, dtype=bool)
    fixed = [frames["lower_end_fixed"].data, frames["upper_end_fixed"].data]
    for end, held in zip((0, -1), fixed, strict=True):
        inside = np.isin(classify(areas, measures, points[:, end], normals[:, end]), strengthened)
        loose |= ~held & inside
    unheld: BoolArray = loose | ~(fixed[0] | fixed[1])
    return unheld


def _name_unchecked(
    ship: Ship, rules: RuleSet, arrangement: Arrangement, supports: SupportRun | None, findings: Findings
) -> None:
    """Say which members of the arrangement carry no check in these results."""
    told = ""
    if supports is None or not supports.shown_here:
        webs = int((arrangement.frames.labels("role") == "web frame").sum())
        names = [level.name for level in ship.levels if level.kind is LevelKind.LOAD_CARRYING_STRINGER]
        told = f"{webs} web frame and floor spans per side and load-carrying stringers ({', '.join(names) or 'none'}): "
        told += "their strength is not calculated here; "
    told += "" if rules.grading else "steel grades; "
    told += "" if rules.girder else "hull girder; "
    listed = ", which stand in the checklist" if rules.checklist else ""
    findings.add(codes.NOT_CHECKED, "arrangement", f"{told}details and appendages{listed}")


def _cells(
    ship: Ship,
    areas_trace: Trace,
    load_traces: Mapping[str, Trace],
    rules: RuleSet,
    plating: MemberRun,
    framing: MemberRun,
    supports: SupportRun | None,
    graded: GradeRun | None,
) -> tuple[Cell, ...]:
    """Every cell of a printed table that a number of the design was read from, each once."""
    found: dict[Cell, None] = {}
    for trace in (areas_trace, *load_traces.values()):
        for node in trace.values():
            found |= dict.fromkeys(node.cells)
    runs = [(rules.plating, plating), (rules.framing, framing)]
    if supports is not None:
        runs += [(one.asked.rule, one.run) for one in supports.runs]
    for rule, run in runs:
        for step in rule.chain.steps:
            found |= dict.fromkeys(_cells_of(step, run.values))
    if rules.grading is not None and graded is not None:
        some = graded.distinct_values()
        for step in rules.grading.chain.steps:
            found |= dict.fromkeys(_cells_of(step, some))
    grades = {str(grade) for run in (plating, framing) for grade in np.unique(run.table.labels("grade"))}
    sections = {str(name) for name in np.unique(framing.table.labels("section")) if name}
    found |= dict.fromkeys((*hull_steels().cells_used(grades), *section_cells(sections)))
    found |= dict.fromkeys(plate_cells(stock_of(ship).name, under_tolerance(ship)))
    return tuple(found)


def _cells_of(step: Step, values: Mapping[str, NDArray[Any]]) -> list[Cell]:
    """The cells that one look-up read over all rows."""
    if step.clause.table is None:
        return []
    names = [name for name, unit in step.clause.parameters.items() if unit.symbol == "label"]
    if not names:
        return list(step.clause.cells({}))
    columns = np.broadcast_arrays(*(values[step.source(name)] for name in names))
    rows = np.unique(np.stack(columns, axis=1), axis=0)
    return [cell for row in rows for cell in step.clause.cells(dict(zip(names, map(str, row), strict=True)))]
