"""The shell plating: what the rule set asks of every panel, and the plate that is given or proposed.

Panels are grouped by framing zone, hull area and the bay between two levels, as strakes run; the panels of a group get
one thickness. A thickness that ``ship.toml`` gives is checked; where none is given, the least stock plate that meets
every panel of the group is taken and called proposed.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray

from beltwright.arrangement.levels import LevelLine
from beltwright.core.columns import ColumnTable
from beltwright.core.findings import Findings
from beltwright.core.outcome import at_ratio, is_met, utilisation
from beltwright.core.units import BoolArray, FloatArray, IntArray, LabelArray
from beltwright.materials.plates import (
    PlateStock,
    UnderTolerance,
    minus_tolerance_mm,
    own_stock,
    plate_stock,
    stated_mm,
)
from beltwright.rules.protocol import DesignLoads, HullAreas, MemberRule, Strengthens
from beltwright.scantlings import codes
from beltwright.scantlings.choose import Places, group_names, speaks_of
from beltwright.scantlings.chosen import Chosen
from beltwright.scantlings.members import (
    GIVEN,
    MET,
    NO_REQUIREMENT,
    NOBODY,
    NOT_MET,
    NOTHING_ASKED,
    PROPOSED,
    SIZED,
    MemberRows,
    MemberRun,
    Sheet,
    chain_inputs,
    member_rows,
    most_demanding,
    tell_beyond,
    touched_words,
    with_angles,
)
from beltwright.scantlings.on_demand import OnDemand
from beltwright.scantlings.yields import by_thickness
from beltwright.ship.model import Ship


def design_plating(
    ship: Ship,
    rule: MemberRule,
    areas: HullAreas,
    loads: DesignLoads,
    panels: ColumnTable,
    facts: OnDemand,
    touched: BoolArray,
    places: Places,
    levels: tuple[LevelLine, ...],
    findings: Findings,
    chosen: Chosen | None = None,
) -> MemberRun:
    """Return the plating; ``facts``, ``touched`` (n, areas) and ``places`` are those of the panels.

    Plates that are ``chosen`` are fitted as they are, and checked.
    """
    if chosen is not None:
        yields = by_thickness(chosen.plate_grade, chosen.thickness_mm, where="sizing: grade of a plate")
        demand = plating_demand(rule, areas, loads, panels, facts, touched, yields)
        source = np.where(np.isnan(chosen.thickness_mm), NOBODY, SIZED)
        plates = FittedPlates(
            thickness_mm=chosen.thickness_mm, grade=chosen.plate_grade, yield_mpa=yields, source=source,
            mean_mm=chosen.mean_mm,
        )  # fmt: skip
        return plating_run(ship, rule, areas, loads, panels, touched, places, demand, plates, findings)
    grades, given = _given(ship, places, levels, findings)
    groups, where = group_names(places), "ship.toml: grade of a plate"
    yields = by_thickness(grades, given, where=where)
    while True:  # a thicker plate may be weaker and so has to be thicker still; the yield only falls
        demand = plating_demand(rule, areas, loads, panels, facts, touched, yields)
        required = demand.values[rule.result][demand.governing]
        thickness, source = _thickness(ship, required, demand.members, groups, given)
        as_thick = np.minimum(yields, by_thickness(grades, thickness, where=where))
        if (as_thick == yields).all():
            break
        yields = as_thick
    plates = FittedPlates(thickness_mm=thickness, grade=grades, yield_mpa=yields, source=source)
    return plating_run(ship, rule, areas, loads, panels, touched, places, demand, plates, findings)


@dataclass(frozen=True, slots=True, kw_only=True)
class FittedPlates:
    """The plate of every panel (n,): as-built thickness [mm] (NaN for none), grade, yield [MPa], and its origin.

    Where a panel lies on several plates the thickness is the least one and ``mean_mm`` the mean over its area.
    """

    thickness_mm: FloatArray
    grade: LabelArray
    yield_mpa: FloatArray
    source: LabelArray
    mean_mm: FloatArray | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class PlatingDemand:
    """What the rule asks of the panels: the rows run, the chain's numbers, the members asked, their governing row."""

    rows: MemberRows
    values: Mapping[str, NDArray[Any]]
    members: IntArray
    governing: IntArray


def plating_demand(
    rule: MemberRule, areas: HullAreas, loads: DesignLoads, panels: ColumnTable, facts: OnDemand, touched: BoolArray,
    yield_mpa: FloatArray,
) -> PlatingDemand:  # fmt: skip
    """Return what the rule asks of panels of a yield stress (n,) [MPa], with their facts; ``touched`` (n, areas).

    Raises InputError naming the panel where an input is not a number or out of its range.
    """
    rows, omega = with_angles(member_rows(areas, touched, Strengthens.PLATING), panels["omega_deg"])
    own = rows.columns() | {"omega_deg": omega, "yield_mpa": yield_mpa[rows.member]}
    member = facts.rows(rows.member).joined(own)
    out = rule.values(chain_inputs(rule.chain, loads.columns, member), panels.labels("id")[rows.member])
    governing = most_demanding(rows, out[rule.result])
    return PlatingDemand(rows=rows, values=out, members=rows.member[governing], governing=governing)


def plating_run(
    ship: Ship, rule: MemberRule, areas: HullAreas, loads: DesignLoads, panels: ColumnTable, touched: BoolArray,
    places: Places, demand: PlatingDemand, plates: FittedPlates, findings: Findings,
) -> MemberRun:  # fmt: skip
    """Return the plating with the plates that are fitted, each beside its demand.

    Where ``ship.toml`` has the mill's minus tolerance added, it is taken off the fitted plate before the two compare.
    """
    rows, out, members, governing = demand.rows, demand.values, demand.members, demand.governing
    thickness, grades, yields, source = plates.thickness_mm, plates.grade, plates.yield_mpa, plates.source
    required, groups = out[rule.result], group_names(places)
    minus = minus_tolerance_mm(thickness, under_tolerance(ship))
    counted = _stated(thickness - minus)
    ratio = plate_ratio(ship, required[governing], thickness[members])
    outcome = np.where(is_met(ratio), MET, NOT_MET)
    _report(findings, panels.labels("id"), members, required[governing], ratio, source)
    tell_beyond(rule, rows, out, panels.labels("id"), "plating", findings)

    sheet = Sheet(panels.rows, members, NO_REQUIREMENT)
    sheet.whole("id", "label", "panel", panels.labels("id"))
    sheet.whole("zone", "label", "framing zone", places.zone)
    sheet.word("hull_area", "hull area whose factor the panel takes", rows.factor_area[governing])
    sheet.whole("touched", "label", "hull areas that the panel touches", touched_words(areas, touched))
    sheet.word("load_area", "hull area whose load governs", rows.load_area[governing])
    sheet.word("outcome", "whether the requirement is met", outcome, NOTHING_ASKED)
    sheet.whole("source", "label", "where the thickness comes from", source)
    sheet.whole("group", "label", "panels of one thickness", groups)
    sheet.whole("grade", "label", "steel grade", grades)
    sheet.whole("yield_mpa", "MPa", "minimum upper yield stress", yields)
    for name in ("spacing_m", "span_m", "omega_deg"):
        sheet.maybe(name, panels[name].unit.symbol, panels[name].meaning, panels[name].data)
    _patch_columns(sheet, loads, rows.load_area[governing], rule)
    for name, output in rule.shown.items():
        clause = next(step.clause for step in rule.chain.steps if step.output == output)
        sheet.number(name, clause.unit.symbol, clause.title, np.broadcast_to(out[output], required.shape)[governing])
    sheet.number("thickness_required_mm", "mm", "required as built, before rounding", required[governing])
    sheet.maybe("thickness_as_built_mm", "mm", "offered as built", thickness)
    if plates.mean_mm is not None:
        sheet.maybe("thickness_mean_mm", "mm", "as built, mean over the plates on the panel", plates.mean_mm)
    if "addition_mm" in rule.shown:
        addition = np.broadcast_to(out[rule.shown["addition_mm"]], required.shape)[governing]
        sheet.number("thickness_net_fitted_mm", "mm", "fitted net of the addition", thickness[members] - addition)
    sheet.number("ratio", "-", "required over offered", ratio)
    sheet.number("minus_tolerance_mm", "mm", "mill's minus tolerance taken off the offered", minus[members])
    sheet.number("margin_mm", "mm", "offered less minus tolerance and required", counted[members] - required[governing])
    sheet.word("governing", "governing check", np.full(len(members), rule.checks[0].name))
    return MemberRun(table=sheet.table("plating"), rows=rows, values=out, members=members, governing=governing)


def plate_ratio(ship: Ship, required_mm: FloatArray, thickness_mm: FloatArray) -> FloatArray:
    """Return required over offered thickness (n,), the mill's minus tolerance taken off where the ship counts it."""
    minus = minus_tolerance_mm(thickness_mm, under_tolerance(ship))
    return utilisation(_stated(required_mm), _stated(thickness_mm - minus))


def _stated(required: FloatArray) -> FloatArray:
    """Requirements at the resolution at which plates are compared; what has no value keeps none."""
    known = np.isfinite(required)
    return np.where(known, stated_mm(np.where(known, required, 0.0)), required)


def stock_of(ship: Ship) -> PlateStock:
    """Return the plate stock that the ship's description asks for."""
    if ship.stock.step_mm == 0.5:
        return plate_stock("half millimetre")
    steps = np.arange(5.0, 100.0 + 1e-9, ship.stock.step_mm)
    return own_stock(steps.tolist(), name=f"{ship.stock.step_mm:g} mm steps", where="ship.toml: stock.step_mm")


def _given(
    ship: Ship, places: Places, levels: tuple[LevelLine, ...], findings: Findings
) -> tuple[LabelArray, FloatArray]:
    """The grade of each panel and the thickness given for it (NaN where none is); later lines win."""
    grades = np.full(len(places.zone), ship.steel.plate_grade, dtype="<U40")
    thickness = np.full(len(places.zone), np.nan)
    for number, line in enumerate(ship.plates, 1):
        chosen = speaks_of(line, places, ship, levels, f"plates[{number}]")
        if not chosen.any():
            findings.add(codes.GIVEN_NOT_USED, f"ship.toml: plates[{number}]", "no panel lies there")
        thickness[chosen] = line.thickness_as_built_mm
        if line.grade is not None:
            grades[chosen] = line.grade
    return grades.astype(np.str_), thickness


def _thickness(
    ship: Ship, required: FloatArray, members: IntArray, groups: LabelArray, given: FloatArray
) -> tuple[FloatArray, LabelArray]:
    """The as-built thickness of every panel (NaN where nobody asks for one) and where it comes from."""
    thickness, source = given.copy(), np.where(np.isnan(given), NOBODY, GIVEN).astype("<U8")
    need = np.full(len(groups), -np.inf)
    need[members] = np.where(np.isfinite(required), required, -np.inf)
    names, inverse = np.unique(groups, return_inverse=True)
    greatest = np.full(len(names), -np.inf)
    free = np.isnan(given)
    np.maximum.at(greatest, inverse[free], need[free])
    asked = np.isfinite(greatest)
    offer = stock_of(ship).offer(
        np.where(asked, greatest, 0.0)[asked], floor_mm=ship.stock.floor_mm, under_tolerance=under_tolerance(ship)
    )
    offered = np.full(len(names), np.nan)
    offered[asked] = offer.offered_mm
    offered[~asked] = ship.stock.floor_mm if ship.stock.floor_mm > 0.0 else np.nan
    thickness[free] = offered[inverse[free]]
    source[free & ~np.isnan(thickness)] = PROPOSED
    return thickness, source


def under_tolerance(ship: Ship) -> UnderTolerance:
    """Return what is done about the mill's minus tolerance."""
    added = ship.stock.under_tolerance == "added"
    return UnderTolerance.ADD_W13 if added else UnderTolerance.ACCEPTED


def _patch_columns(sheet: Sheet, loads: DesignLoads, load_area: LabelArray, rule: MemberRule) -> None:
    """Add the load patch that acts on each member; what a rule shows of each member's own load comes with the rest."""
    patch_of = {code: patch for patch in loads.patches for code in patch.areas}
    for name, unit, meaning, attribute in (
        ("patch_width_m", "m", "width of the load patch", "width_m"),
        ("patch_height_m", "m", "height of the load patch", "height_m"),
        ("pressure_avg_mpa", "MPa", "average pressure on the load patch", "pressure_mpa"),
    ):
        if name in rule.shown:
            continue
        by_code = {code: getattr(patch, attribute) for code, patch in patch_of.items()}
        sheet.number(name, unit, meaning, np.array([by_code[str(code)] for code in load_area], dtype=np.float64))


def _report(
    findings: Findings, ids: LabelArray, members: IntArray, required: FloatArray, ratio: FloatArray, source: LabelArray
) -> None:
    """Name the given plates that are too thin."""
    outside = ~np.isfinite(required)
    failed = ~is_met(ratio) & ~outside
    if failed.any():
        worst = int(np.argmax(np.where(failed, ratio, -np.inf)))
        findings.add(
            codes.REQUIREMENT_NOT_MET, "plating",
            f"{int(failed.sum())} panels; worst {ids[members[worst]]} {at_ratio(ratio[worst])} "
            f"({source[members[worst]]})",
        )  # fmt: skip
