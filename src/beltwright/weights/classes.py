"""One ship under every class of its rule set, side by side: loads, plating, frames, weight, and what fails.

Hull and arrangement are measured once. Scantlings that ``ship.toml`` offers are left aside, so that every class gets
proposals by the same measure. A class that a requirement or the rule's scope stops is a row with its reason.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np

from beltwright.arrangement.model import Arrangement
from beltwright.core.chain import Node
from beltwright.core.columns import Column, ColumnTable
from beltwright.core.errors import ToolError
from beltwright.core.findings import Finding, Findings
from beltwright.core.units import Unit
from beltwright.rules.protocol import RuleSet
from beltwright.scantlings import codes, grade_codes
from beltwright.scantlings.build import design_on
from beltwright.scantlings.design import Design, HullMeasures
from beltwright.scantlings.ship_facts import ShipFacts, ship_facts
from beltwright.ship.model import Ship
from beltwright.weights.steel import SteelWeight, steel_weight

OFFERED = ("plates", "frame_sections", "web_frames", "stringers", "stem", "hull_girder")
MET, NOT_MET, NO_RESULT = "met", "not met", "no result"
_FAILURES = (
    codes.NO_CANDIDATE,
    codes.OUTSIDE_FORMULA,
    codes.SIMPLE_SUPPORT_IN_ICE,
    codes.REQUIREMENT_NOT_MET,
    grade_codes.GRADE_TOO_LOW,
    grade_codes.NO_GRADE_ALLOWED,
    codes.GIRDER_NOT_MET,
)
ENDLESS = "without limit: a check has no value, or what it needs is missing"
UNNAMED = "a requirement is not met that no finding names"
_AREA_NUMBERS = (
    "area_factor",
    "addition_mm",
    "thickness_required_mm",
    "thickness_least_mm",
    "thickness_most_mm",
    "plate_ratio",
    "frame_ratio",
)
_AREA_WORDS = ("governing_panel", "governing_load_area", "frame_sections", "frame_governing")
_FRAME_DEMANDS = ("shear_area_required_cm2", "modulus_required_cm3")


@dataclass(frozen=True, slots=True, kw_only=True)
class ClassResult:
    """What one class comes to: its design and weight, or None and the reason why there is none.

    ``outcome`` is "met", "not met" or "no result"; ``reasons`` say what fails, or what ended the calculation.
    """

    ice_class: str
    outcome: str
    reasons: tuple[str, ...]
    design: Design | None
    weight: SteelWeight | None

    def number(self, name: str) -> Node | None:
        """Return a number of the design loads' trace, None without a design."""
        return None if self.design is None else self.design.loads.traces["design"][name]


@dataclass(frozen=True, slots=True, kw_only=True)
class ClassComparison:
    """One ship under every class of its rule set.

    ``summary`` has a row per class: outcome, the loads that the rule set names for comparison, the greatest required
    thickness of each hull area, steel weight of both sides. ``areas`` has a row per class and hull area: factor,
    addition, plating, frames. ``loads`` are the names, symbols and meanings of the load columns.
    """

    ship: Ship
    rules: RuleSet
    results: tuple[ClassResult, ...]
    summary: ColumnTable
    areas: ColumnTable
    loads: tuple[tuple[str, str, str], ...]
    area_codes: tuple[str, ...]

    def of(self, ice_class: str) -> ClassResult:
        """Return the result of one class."""
        return next(result for result in self.results if result.ice_class == ice_class)


def compare_classes(ship: Ship, rules: RuleSet, measures: HullMeasures, arrangement: Arrangement) -> ClassComparison:
    """Return the ship under every class of its rule set, on a hull that is measured and arranged already."""
    facts = ship_facts(ship, measures, Findings(), rules.facts)
    results = tuple(_result(ship, name, rules, measures, arrangement, facts) for name in rules.classes)
    nodes = next((_compared(one.design) for one in results if one.design is not None), {})
    area_codes = _area_codes(results)
    return ClassComparison(
        ship=ship,
        rules=rules,
        results=results,
        summary=_summary(ship, results, nodes, area_codes),
        areas=_areas(results, area_codes),
        loads=tuple((name, node.symbol, node.meaning) for name, node in nodes.items()),
        area_codes=area_codes,
    )


def of_class(ship: Ship, ice_class: str) -> Ship:
    """Return the ship under another class, without any scantlings that it offers."""
    ice = ship.ice.model_copy(update={"ice_class": ice_class})
    aside = {name: Ship.model_fields[name].get_default(call_default_factory=True) for name in OFFERED}
    return ship.model_copy(update={"ice": ice, **aside})


def _result(
    ship: Ship,
    ice_class: str,
    rules: RuleSet,
    measures: HullMeasures,
    arrangement: Arrangement,
    measured: ShipFacts,
) -> ClassResult:
    """One class; what the program refuses is a reason here and not an error."""
    given, (facts, origins) = of_class(ship, ice_class), measured
    facts = {**facts, "ice_class": np.array([ice_class])}
    try:
        design = design_on(
            given, rules, measures, arrangement, Findings(), facts_measured=(facts, origins), drawn=False
        )
        weight = steel_weight(design)
    except ToolError as error:
        return ClassResult(ice_class=ice_class, outcome=NO_RESULT, reasons=(str(error),), design=None, weight=None)
    reasons = (*_reasons(design.findings), *_of_the_ship(design))
    return ClassResult(
        ice_class=ice_class,
        outcome=MET if design.all_met else NOT_MET,
        reasons=reasons or (() if design.all_met else (UNNAMED,)),
        design=design,
        weight=weight,
    )


def _reasons(findings: Sequence[Finding]) -> tuple[str, ...]:
    """What fails, in the order of the causes: no section, no formula, no support, members, grades, hull girder."""
    said = []
    for kind in _FAILURES:
        found = [one for one in findings if one.kind.code == kind.code]
        if found:
            more = f" (and {len(found) - 1} more)" if len(found) > 1 else ""
            said.append(f"{kind.title}: {found[0].where}: {found[0].message}{more}")
    return tuple(said)


def _of_the_ship(design: Design) -> tuple[str, ...]:
    """The checks of the ship as a whole that fail."""
    checks = () if design.ship_checks is None else design.ship_checks.checks
    return tuple(str(check) for check in checks if not check.ok)


def _compared(design: Design) -> dict[str, Node]:
    """The numbers of the loads that the rule set names for comparison."""
    trace = design.loads.traces["design"]
    return {name: trace[name] for name in design.loads.compared}


def _area_codes(results: Sequence[ClassResult]) -> tuple[str, ...]:
    """The hull areas that any class has, in the document's order: that of the class with the most, then any others."""
    of_class = [_own_codes(one) for one in results]
    longest = max(of_class, key=len, default=())
    return tuple(dict.fromkeys((*longest, *(code for codes_ in of_class for code in codes_))))


def _own_codes(result: ClassResult) -> tuple[str, ...]:
    """The hull areas of one class; a weaker class of a document may have fewer."""
    return () if result.design is None else tuple(area.code for area in result.design.areas.areas)


def _summary(
    ship: Ship, results: Sequence[ClassResult], nodes: dict[str, Node], area_codes: Sequence[str]
) -> ColumnTable:
    """A row per class."""
    columns = {
        "ice_class": _words("ice class", [one.ice_class for one in results]),
        "own": Column(
            unit=Unit("flag"), meaning="the class that the ship's description asks for",
            data=np.array([one.ice_class == ship.ice.ice_class for one in results]),
        ),
        "outcome": _words("whether every requirement on plating and local frames is met", [r.outcome for r in results]),
    }  # fmt: skip
    for name, node in nodes.items():
        found = [one.number(name) for one in results]
        values = [None if number is None else number.value for number in found]
        columns[name] = _numbers(node.unit.symbol, f"{node.symbol}, {node.meaning}", values)
    for code in area_codes:
        values = [_of_area(one, code, "thickness_required_mm") for one in results]
        columns[f"thickness_required_{code}_mm"] = _numbers(
            "mm",
            f"greatest requirement as built, hull area {code}",
            values,
            "no panel with a requirement, or no result",
        )
    columns |= _weights(ship, results)
    columns["reasons"] = _words("what fails, or what ended the calculation", ["; ".join(r.reasons) for r in results])
    return ColumnTable("classes", columns)


def _weights(ship: Ship, results: Sequence[ClassResult]) -> dict[str, Column]:
    """The steel weight of each class, and what it is more than the ship's own class."""
    weights = [one.weight for one in results]
    kinds = {kind: [None if w is None else mass_of(w, kind) for w in weights] for kind in ("plating", "frames")}
    modelled = [None if w is None else w.modelled_t for w in weights]
    own = next((w.modelled_t for one, w in zip(results, weights, strict=True)
                if w is not None and one.ice_class == ship.ice.ice_class), None)  # fmt: skip
    more = [None if own is None or mass is None else mass - own for mass in modelled]
    return {
        "plating_t": _numbers("t", "plating, both sides", kinds["plating"]),
        "frames_t": _numbers("t", "local frames, both sides", kinds["frames"]),
        "modelled_t": _numbers("t", "plating and frames, both sides", modelled),
        "total_t": _numbers("t", "with allowances", [None if w is None else w.total_t for w in weights]),
        "more_than_own_t": _numbers("t", "more than the ship's own class, before allowances", more),
    }


def mass_of(weight: SteelWeight, kind: str) -> float:
    """Return the mass of plating or of frames, both sides [t]."""
    return float(weight.table["mass_t"].data[weight.table.labels("kind") == kind].sum())


def _of_area(result: ClassResult, code: str, name: str) -> Any:
    """A cell of a class's table of hull areas, None where it has no such area or there is no number."""
    if result.design is None or code not in _own_codes(result):
        return None
    table = result.design.area_table
    value = table[name].data[int(np.flatnonzero(table.labels("code") == code)[0])]
    return None if value.dtype.kind == "f" and np.isnan(value) else value.item()


def _areas(results: Sequence[ClassResult], area_codes: Sequence[str]) -> ColumnTable:
    """A row per class and hull area that it has; classes without a result have none."""
    rows = [
        (one, one.design, code)
        for one in results
        if one.design is not None
        for code in area_codes
        if code in _own_codes(one)
    ]
    columns = {
        "ice_class": _words("ice class", [one.ice_class for one, _, _ in rows]),
        "hull_area": _words("hull area", [code for _, _, code in rows]),
        "strengthened": Column(
            unit=Unit("flag"), meaning="the class asks for ice strengthening",
            data=np.array([bool(_of_area(one, code, "strengthened")) for one, _, code in rows], dtype=bool),
        ),
    }  # fmt: skip
    model = rows[0][1].area_table if rows else None
    if model is None:
        return ColumnTable("class areas", columns)
    for name in _AREA_NUMBERS:
        values = [_of_area(one, code, name) for one, _, code in rows]
        columns[name] = _numbers(model[name].unit.symbol, model[name].meaning, values, "no member with a requirement")
    for name in _FRAME_DEMANDS if _FRAME_DEMANDS[0] in rows[0][1].frames else ():
        column = rows[0][1].frames[name]
        values = [_greatest(design, code, name) for _, design, code in rows]
        meaning = f"greatest of the area's frames: {column.meaning}"
        columns[name] = _numbers(column.unit.symbol, meaning, values, "no frame with a requirement")
    for name in _AREA_WORDS:
        columns[name] = _words(model[name].meaning, [_of_area(one, code, name) for one, _, code in rows])
    return ColumnTable("class areas", columns)


def _greatest(design: Design, code: str, name: str) -> float | None:
    """The greatest value of a column over the frames of an area, None where none has one."""
    values = design.frames[name].data[design.frames.labels("hull_area") == code]
    values = values[~np.isnan(values)]
    return float(values.max()) if len(values) else None


def _words(meaning: str, values: Sequence[str]) -> Column:
    """A column of words."""
    return Column(unit=Unit("label"), meaning=meaning, data=np.array(list(values), dtype=np.str_))


def _numbers(unit: str, meaning: str, values: Sequence[Any], reason: str = "no result for this class") -> Column:
    """A column of numbers, None where there is none; a ratio without a limit is a reason and no number."""
    given = np.array([np.nan if value is None else value for value in values], dtype=np.float64)
    data = np.where(np.isinf(given), np.nan, given)
    reasons = np.where(np.isinf(given), ENDLESS, np.where(np.isnan(data), reason, ""))
    return Column(unit=Unit(unit), meaning=meaning, data=data, reason=reasons)
