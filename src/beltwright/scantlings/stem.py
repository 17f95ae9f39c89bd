"""The stem of shaped plates: its scantlings against the rule set's formula; open where none are given."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

import numpy as np
from numpy.typing import NDArray

from beltwright.core.columns import Column, ColumnTable
from beltwright.core.findings import Findings
from beltwright.core.outcome import is_met, utilisation
from beltwright.core.ruletable import Cell
from beltwright.core.units import FloatArray, LabelArray, Unit
from beltwright.materials.hull_steel import hull_steels
from beltwright.rules.protocol import DesignLoads, HullAreas, MemberRule, Strengthens
from beltwright.scantlings import codes
from beltwright.scantlings.areas import codes_strengthening
from beltwright.scantlings.design import HullMeasures
from beltwright.scantlings.members import MET, NOT_MET, chain_inputs
from beltwright.scantlings.stem_design import OPEN, StemDesign
from beltwright.scantlings.yields import by_thickness
from beltwright.ship.model import Ship
from beltwright.ship.supports import StemScantlings

WHERE = "ship.toml: stem"
NOT_GIVEN = "no scantlings given"
_HIGHEST_M, _STEP_M = 20.0, 0.001


def design_stem(
    ship: Ship, rule: MemberRule | None, areas: HullAreas, measures: HullMeasures, loads: DesignLoads,
    findings: Findings,
) -> StemDesign | None:  # fmt: skip
    """Return the stem, None where the rule set has no formula for it.

    Raises InputError naming the column where a number is out of its range.
    """
    if rule is None:
        return None
    if ship.stem is None:
        findings.add(codes.STEM_OPEN, WHERE, f"the checks of {rule.checks[0].ref} are open")
        return StemDesign(rule=rule, table=_table(rule, {}), trace=None, outcome=OPEN, cells=())
    given = _columns(ship, ship.stem, areas, measures)
    values = rule.run(chain_inputs(rule.chain, loads.columns, given))
    trace = rule.chain.trace(values, 0, _origins(ship)).after(loads.traces["design"])
    table = _table(rule, values)
    failed = [str(name) for name in table.labels("check")[table.labels("outcome") == NOT_MET]]
    if failed:
        findings.add(codes.REQUIREMENT_NOT_MET, "stem", ", ".join(failed))
    cells = tuple(cell for node in trace.values() for cell in node.cells)
    return StemDesign(rule=rule, table=table, trace=trace, outcome=NOT_MET if failed else MET, cells=cells)


def check_stem(ship: Ship) -> None:
    """Refuse a grade that is not known: InputError naming the field."""
    if ship.stem is not None and ship.stem.grade is not None:
        hull_steels().steel(ship.stem.grade, where=f"{WHERE}.grade")


def _columns(ship: Ship, given: StemScantlings, areas: HullAreas, measures: HullMeasures) -> dict[str, NDArray[Any]]:
    """The vocabulary of the stem, each of length one."""
    thickness = given.plate_thickness_as_built_mm
    grade = np.array([given.grade or ship.steel.plate_grade])
    heights = np.arange(0.0, _HIGHEST_M, _STEP_M)
    codes_above = _areas_at_stem(areas, measures, heights)
    strengthened = np.isin(codes_above, codes_strengthening(areas, Strengthens.PLATING))
    top = float(heights[strengthened].max(initial=0.0))
    numbers = {
        "spacing_m": given.spacing_m,
        "vertical_support_spacing_m": given.vertical_support_spacing_m,
        "plate_fitted_mm": thickness,
        "floor_spacing_m": given.floor_spacing_m,
        "floor_thickness_mm": given.floor_thickness_as_built_mm,
        "stem_top_above_upper_m": given.top_above_upper_m,
        "upper_belt_above_upper_m": top,
    }
    return {
        "load_area": codes_above[:1],
        "yield_mpa": by_thickness(grade, [thickness], where=WHERE),
        **{name: np.array([value]) for name, value in numbers.items()},
    }


def _areas_at_stem(areas: HullAreas, measures: HullMeasures, above_m: FloatArray) -> LabelArray:
    """The hull areas at the stem, so many metres above the upper ice waterline."""
    upper, lower = (float(line.level.height(np.array([measures.stem_x_m]))[0]) for line in
                    (measures.upper, measures.lower))  # fmt: skip
    count = len(above_m)
    return areas.classify(
        aft_of_stem_m=np.zeros(count), above_upper_m=above_m, above_lower_m=above_m + upper - lower,
        inclination_deg=np.full(count, 90.0), height_m=above_m + upper,
    )  # fmt: skip


def _table(rule: MemberRule, values: Mapping[str, NDArray[Any]]) -> ColumnTable:
    """The checks, one row each; open without values."""
    units = {step.output: step.clause.unit.symbol for step in rule.chain.steps}
    units |= {name: quantity.unit.symbol for name, quantity in rule.chain.inputs.items()}
    none = np.array([np.nan])
    need, have = (np.array([float(values.get(name, none)[0]) for name in names]) for names in
                  ([c.required for c in rule.checks], [c.offered for c in rule.checks]))  # fmt: skip
    ratio = utilisation(need, have)
    outcome = np.where(np.isnan(ratio), OPEN, np.where(is_met(ratio), MET, NOT_MET)).astype(np.str_)

    def words(meaning: str, data: list[str]) -> Column:
        return Column(unit=Unit("label"), meaning=meaning, data=np.array(data, dtype=np.str_))

    def numbers(meaning: str, data: FloatArray) -> Column:
        return Column(unit=Unit("-"), meaning=meaning, data=data, reason=np.where(np.isnan(data), NOT_GIVEN, ""))

    return ColumnTable(
        "stem",
        {
            "check": words("check of the stem", [check.name for check in rule.checks]),
            "ref": words("clause", [check.ref for check in rule.checks]),
            "required": numbers("required, or the greatest that is there, in the row's unit", need),
            "offered": numbers("offered, or the greatest that may be, in the row's unit", have),
            "unit": words("unit of required and offered", [units[check.required] for check in rule.checks]),
            "ratio": numbers("required over offered", ratio),
            "outcome": Column(unit=Unit("label"), meaning="how it stands", data=outcome),
        },
    )


def _origins(ship: Ship) -> dict[str, str]:
    """Where the inputs come from."""
    assert ship.stem is not None
    own = ("spacing_m", "vertical_support_spacing_m", "plate_fitted_mm", "floor_spacing_m", "floor_thickness_mm",
           "stem_top_above_upper_m")  # fmt: skip
    return {
        **dict.fromkeys(own, WHERE),
        "load_area": "hull area at the stem, at the upper ice waterline",
        "yield_mpa": f"grade {ship.stem.grade or ship.steel.plate_grade}, hull steel table",
        "upper_belt_above_upper_m": "hull areas at the stem",
    }


def stem_cells(stem: StemDesign | None) -> tuple[Cell, ...]:
    """Return the cells of printed tables that the stem was read from."""
    return () if stem is None else stem.cells
