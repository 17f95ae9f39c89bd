"""The choice of a class: classes of every registered document side by side for one ship, and what each one costs.

Each rule set's classes come from :mod:`beltwright.weights.classes`, on the hull measured and arranged once. A class
that cannot be designed is a row with its reason. What published tables name side by side is told with its limits and
is nowhere used in a number.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np

from beltwright.arrangement.model import Arrangement
from beltwright.core.columns import Column, ColumnTable
from beltwright.core.errors import InputError, ToolError
from beltwright.core.findings import Finding, Findings
from beltwright.core.units import Unit
from beltwright.rules.class_correspondence.correspondence import correspondence_table
from beltwright.rules.protocol import RuleSet
from beltwright.rules.protocol.ship import ShipCheck
from beltwright.rules.registry import available, editions_for, rule_set
from beltwright.scantlings.design import HullMeasures
from beltwright.scantlings.ship_facts import ship_facts
from beltwright.ship.model import Ship
from beltwright.voyage.study import RegimeStudy, RouteStudy
from beltwright.weights import codes
from beltwright.weights.choice_columns import RouteColumns, numbers, route_columns, words
from beltwright.weights.class_costs import ClassCost, ShellWork, class_cost, cost_table, shell_work
from beltwright.weights.classes import NO_RESULT, ClassComparison, ClassResult, compare_classes, mass_of
from beltwright.weights.costing import Costing, prices_of
from beltwright.weights.steel import KG_PER_T, SteelWeight

POWER_FACT: Final = "engine_power_kw"
NO_POWER: Final = "not stated by the rule"
NO_CLASS_RESULT: Final = "no result for this class"
NO_BASE: Final = "the class compared with has no result"


@dataclass(frozen=True, slots=True, kw_only=True)
class Candidate:
    """One class of one document: its rule set, what it came to, the check of its engine output, and what it costs.

    ``power`` is the reason in words where the document states no engine output, or it cannot be worked out. ``cost``
    is None without a result.
    """

    rules: RuleSet
    result: ClassResult
    power: ShipCheck | str
    cost: ClassCost | None = None

    @property
    def document(self) -> str:
        """The document the class comes from, with its edition."""
        return f"{self.rules.documents[-1].short} {self.rules.documents[-1].edition}"


@dataclass(frozen=True, slots=True, kw_only=True)
class ClassChoice:
    """The choice of a class for one ship.

    ``table`` has a row per class, strongest first within its document: outcome, greatest load patch, steel weight,
    cost, deadweight lost against the class compared with, engine output required, and shares of the route and regimes
    where given. ``costs`` has the cost of each class by cause. ``correspondence`` says what published tables name
    beside each class, with their limits. ``comparisons`` are the rule sets' own comparisons, one each that gave a
    result. ``base`` is the row of the class that the others are compared with, None where there is none; ``costing``
    holds the prices.
    """

    ship: Ship
    candidates: tuple[Candidate, ...]
    comparisons: tuple[ClassComparison, ...]
    table: ColumnTable
    costs: ColumnTable
    correspondence: ColumnTable
    costing: Costing
    base: int | None
    route: RouteStudy | None
    regimes: RegimeStudy | None
    findings: tuple[Finding, ...]

    @property
    def own(self) -> int | None:
        """The row of the ship's own class."""
        return own_row(self.ship, self.candidates)


def choose_class(
    ship: Ship,
    measures: HullMeasures,
    arrangement: Arrangement,
    *,
    route: RouteStudy | None = None,
    regimes: RegimeStudy | None = None,
    base: str | None = None,
) -> ClassChoice:
    """Return the classes of every registered document side by side, on a hull that is measured and arranged already.

    ``base`` is the class that the others are compared with; the ship's own where not given.

    Raises InputError for a base that no document has, and for a price that is missing.
    """
    if base is not None:
        check_base(ship, base)
    findings = Findings()
    costing, shell = Costing(prices_of(ship)), shell_work(ship, arrangement)
    candidates: list[Candidate] = []
    comparisons: list[ClassComparison] = []
    for rules in rule_sets(ship, findings):
        made = _compared(under(ship, rules), rules, measures, arrangement)
        if isinstance(made, ClassComparison):
            comparisons.append(made)
            results = made.results
        else:
            results = made
        power = engine_outputs(under(ship, rules), rules, measures, results)
        candidates += [
            Candidate(rules=rules, result=one, power=check, cost=_cost(one, shell, costing))
            for one, check in zip(results, power, strict=True)
        ]
    own = own_row(ship, candidates)
    beside_this = own if base is None else _base_row(ship, candidates, base)
    if beside_this is None or candidates[beside_this].result.weight is None:
        findings.add(codes.BASE_NO_RESULT, "classes", base or ship.ice.ice_class)
    beside = _correspondence([one.result.ice_class for one in candidates])
    message = f"{beside.rows} entries of published tables are told; no number here comes from them"
    findings.add(codes.CORRESPONDENCE_ONLY, "classes", message)
    _name_unshared(candidates, beside_this, findings)
    for study in (route, regimes):
        findings.extend(study.findings if study is not None else ())
    shares = route_columns([one.result.ice_class for one in candidates], route, regimes)
    table = _table(ship, candidates, shares, beside_this, costing)
    if costing.assumed():
        findings.add(codes.COST_ASSUMED, "prices", f"not given: {'; '.join(costing.assumed())}")
    return ClassChoice(
        ship=ship,
        candidates=tuple(candidates),
        comparisons=tuple(comparisons),
        table=table,
        costs=cost_table([one.cost for one in candidates], table, costing.table.currency),
        correspondence=beside,
        costing=costing,
        base=beside_this,
        route=route,
        regimes=regimes,
        findings=tuple(findings),
    )


def rule_sets(ship: Ship, findings: Findings) -> tuple[RuleSet, ...]:
    """Return one rule set for each document of the registry, the ship's own document first.

    Of several editions the ship's own stands; else one that applies to the contract date; else the last by its id.
    """
    by_document: dict[str, list[str]] = {}
    for name in available():
        by_document.setdefault(rule_set(name).documents[-1].short, []).append(name)
    chosen = []
    for short, editions in by_document.items():
        dated = () if ship.ship.contract_date is None else editions_for(short, ship.ship.contract_date)
        fitting = [name for name in editions if name in dated] or editions
        name = ship.ice.rules if ship.ice.rules in editions else fitting[-1]
        if len(editions) > 1:
            findings.add(codes.EDITION_CHOSEN, short, f"{name}, of {', '.join(editions)}")
        chosen.append(rule_set(name))
    return tuple(sorted(chosen, key=lambda rules: rules.id != ship.ice.rules))


def under(ship: Ship, rules: RuleSet) -> Ship:
    """Return the ship under another rule set; answers to the checklist of its own are left aside."""
    if rules.id == ship.ice.rules:
        return ship
    ice = ship.ice.model_copy(update={"rules": rules.id})
    return ship.model_copy(update={"ice": ice, "checklist": ()})


def engine_outputs(
    ship: Ship, rules: RuleSet, measures: HullMeasures, results: Sequence[ClassResult]
) -> list[ShipCheck | str]:
    """Return the check of the engine output for each class, or in words why there is none.

    The output follows from hull and propulsion, so that a class without scantlings may have one all the same.
    """
    if rules.ship_checks is None:
        return [NO_POWER for _ in results]
    found: list[ShipCheck | str] = []
    for one in results:
        checks = None if one.design is None else one.design.ship_checks
        try:
            if checks is None:
                facts, _ = ship_facts(ship, measures, Findings(), rules.facts)
                checks = rules.ship_checks({**facts, "ice_class": np.array([one.ice_class])})
        except ToolError as error:
            found.append(str(error))
            continue
        found.append(next((check for check in checks.checks if check.fact == POWER_FACT), NO_POWER))
    return found


def own_row(ship: Ship, candidates: Sequence[Candidate]) -> int | None:
    """Return the row of the class that the ship's description asks for."""
    wanted = (ship.ice.rules, ship.ice.ice_class)
    rows = (row for row, one in enumerate(candidates) if (one.rules.id, one.result.ice_class) == wanted)
    return next(rows, None)


def check_base(ship: Ship, base: str) -> None:
    """Refuse a class to compare with that no document has; InputError. No hull is needed for it."""
    known = dict.fromkeys(name for rules in rule_sets(ship, Findings()) for name in rules.classes)
    if base not in known:
        raise InputError("--base", "no such class", value=base, allowed=", ".join(known))


def _base_row(ship: Ship, candidates: Sequence[Candidate], base: str) -> int:
    """The row of a class by its name, that of the ship's own rule set first."""
    rows = [row for row, one in enumerate(candidates) if one.result.ice_class == base]
    return min(rows, key=lambda row: candidates[row].rules.id != ship.ice.rules)


def _cost(result: ClassResult, shell: ShellWork, costing: Costing) -> ClassCost | None:
    """What a class costs, None without a result."""
    if result.design is None or result.weight is None:
        return None
    return class_cost(result.design, result.weight, shell, costing)


def _name_unshared(candidates: Sequence[Candidate], row: int | None, findings: Findings) -> None:
    """Name classes that weigh another part of the shell than the class compared with."""
    base = None if row is None else candidates[row].result.weight
    if base is None or row is None:
        return
    other = [
        one.result.ice_class
        for one in candidates
        if one.result.weight is not None
        and not all(
            np.array_equal(np.isnan(getattr(one.result.weight, mass)), np.isnan(getattr(base, mass)))
            for mass in ("plate_mass_kg", "frame_mass_kg")
        )
    ]
    if other:
        findings.add(
            codes.OTHER_SHELL, "classes",
            f"{', '.join(other)} against {candidates[row].result.ice_class}: deadweight lost lies between its value on "
            "members that both weigh and that of all that is weighed",
        )  # fmt: skip


def _compared(
    ship: Ship, rules: RuleSet, measures: HullMeasures, arrangement: Arrangement
) -> ClassComparison | tuple[ClassResult, ...]:
    """The classes of one rule set; where it cannot be applied to the ship at all, each class with that reason."""
    try:
        return compare_classes(ship, rules, measures, arrangement)
    except ToolError as error:
        reasons = (str(error),)
        return tuple(
            ClassResult(ice_class=name, outcome=NO_RESULT, reasons=reasons, design=None, weight=None)
            for name in rules.classes
        )


def _table(
    ship: Ship, candidates: Sequence[Candidate], route: RouteColumns, base: int | None, costing: Costing
) -> ColumnTable:
    """A row per class."""
    own = own_row(ship, candidates)
    rows = np.arange(len(candidates))
    columns = {
        "ice_class": words("ice class", [one.result.ice_class for one in candidates]),
        "document": words("document and edition of the class", [one.document for one in candidates]),
        "own": Column(unit=Unit("flag"), meaning="the class that the ship's description asks for", data=rows == own),
        "base": Column(unit=Unit("flag"), meaning="the class that the others are compared with", data=rows == base),
        "outcome": words(
            "whether every requirement that was checked is met", [one.result.outcome for one in candidates]
        ),
        **_loads(candidates),
        **_weights(candidates, base),
        **_costs(candidates, base, costing.table.currency),
        **_power(candidates, costing),
        **route,
        "reasons": words(
            "what fails, or what ended the calculation", ["; ".join(one.result.reasons) for one in candidates]
        ),
    }
    return ColumnTable("class choice", columns)


def _loads(candidates: Sequence[Candidate]) -> dict[str, Column]:
    """The load patch with the greatest mean pressure: its name, pressure, height and force."""
    patches = [
        None if one.result.design is None else max(one.result.design.loads.patches, key=lambda p: p.pressure_mpa)
        for one in candidates
    ]
    names = ("width_m", "height_m", "pressure_mpa", "force_mn")
    found = {name: [None if p is None else float(getattr(p, name)) for p in patches] for name in names}
    return {
        "load_patch": words("load patch of the greatest mean pressure", ["" if p is None else p.name for p in patches]),
        "load_pressure_mpa": numbers("MPa", "its mean pressure before the area factor", found["pressure_mpa"]),
        "load_height_m": numbers("m", "its height", found["height_m"]),
        "load_width_m": numbers("m", "its width along the ship", found["width_m"]),
        "load_force_mn": numbers("MN", "its force", found["force_mn"]),
    }


def _weights(candidates: Sequence[Candidate], base: int | None) -> dict[str, Column]:
    """Steel weight of both sides, and the deadweight that a class takes from the ship against that compared with."""
    weights = [one.result.weight for one in candidates]
    kinds = {kind: [None if w is None else mass_of(w, kind) for w in weights] for kind in ("plating", "frames")}
    total = [None if w is None else w.total_t for w in weights]
    bare = [None if w is None else w.not_weighed_m2 for w in weights]
    return {
        "plating_t": numbers("t", "plating, both sides", kinds["plating"]),
        "frames_t": numbers("t", "local frames, both sides", kinds["frames"]),
        "total_t": numbers("t", "plating and local frames with allowances", total),
        "deadweight_lost_t": _against(
            "t",
            "deadweight lost against the class compared with at the same displacement, of all that is weighed",
            total,
            base,
        ),
        "deadweight_lost_shared_t": _shared(weights, base),
        "not_weighed_m2": numbers("m2", "shell without a thickness, not weighed, both sides", bare),
    }


def _shared(weights: Sequence[SteelWeight | None], row: int | None) -> Column:
    """Deadweight lost of the plates and frames that both the class and that compared with ask for and weigh."""
    base = None if row is None else weights[row]
    found: list[float | None] = []
    for one in weights:
        if one is None or base is None or one.modelled_t <= 0.0:
            found.append(None)
            continue
        kg = sum(
            float(np.nansum(mass - other))  # a member that one of them does not weigh is NaN, and left out
            for mass, other in (
                (one.plate_mass_kg, base.plate_mass_kg),
                (one.frame_mass_kg, base.frame_mass_kg),
            )
        )
        found.append(kg / KG_PER_T * one.total_t / one.modelled_t)
    reasons = [NO_CLASS_RESULT if one is None else NO_BASE for one in weights]
    return numbers("t", "deadweight lost, of the members alone that both classes weigh", found, reasons)


def _costs(candidates: Sequence[Candidate], base: int | None, currency: str) -> dict[str, Column]:
    """Cost of plating and frames with allowances, by the table of prices; its parts stand in a table of their own."""
    steel = [None if one.cost is None else one.cost.total for one in candidates]
    return {
        "steel_cost": numbers(currency, "plating and local frames with allowances, as built in", steel),
        "more_steel_cost": _against(currency, "more than the class compared with", steel, base),
    }


def _power(candidates: Sequence[Candidate], costing: Costing) -> dict[str, Column]:
    """The engine output that the document asks for, whether it is met, and what that output costs."""
    checks = [one.power if isinstance(one.power, ShipCheck) else None for one in candidates]
    reasons = ["" if isinstance(one.power, ShipCheck) else one.power for one in candidates]
    required = [None if check is None else float(check.required) for check in checks]
    met = ["" if check is None else "yes" if check.ok else "no" for check in checks]
    return {
        "power_required_kw": numbers("kW", "engine output required", required, reasons),
        "power_met": words("whether the engine output given is enough", met),
        "engine_cost": numbers(
            costing.table.currency,
            "the engine output required, installed",
            [None if value is None else costing.engine(value) for value in required],
            reasons,
        ),
    }


def _against(unit: str, meaning: str, values: Sequence[float | None], row: int | None) -> Column:
    """Values less that of the class compared with."""
    base = None if row is None else values[row]
    reasons = ["" if v is not None and base is not None else NO_CLASS_RESULT if v is None else NO_BASE for v in values]
    return numbers(unit, meaning, [None if v is None or base is None else v - base for v in values], reasons)


def _correspondence(classes: Sequence[str]) -> ColumnTable:
    """What published tables name beside any of the classes."""
    table = correspondence_table()
    return table.where(np.isin(table.labels("ice_class"), list(dict.fromkeys(classes))))
