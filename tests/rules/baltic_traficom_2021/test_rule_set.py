"""The rule set as the rest of the program sees it: findings, choices, checks of the ship, traces, coverage."""

from __future__ import annotations

import math
from typing import Any

import numpy as np
import pytest
from tests.rules.baltic_traficom_2021.cases import BALTIC, CLASSES, facts, frame, panel, stem, stringer, web

from beltwright.core.chain import Quantity
from beltwright.core.errors import InputError, ScopeError
from beltwright.core.units import Unit
from beltwright.rules.baltic_traficom_2021 import coverage, facts_needed, members
from beltwright.rules.baltic_traficom_2021.documents import DOCUMENT
from beltwright.rules.baltic_traficom_2021.loads import ABRASION_KEY, PROPORTIONS_KEY
from beltwright.rules.baltic_traficom_2021.ruleset import FACTS, RULE_SET
from beltwright.rules.facts import BUILT, BUILT_FRAME, BUILT_SUPPORT, FRAME, PANEL, SHELL, SHIP, STEM
from beltwright.rules.protocol import DesignLoads, Override, RuleSet

RULES = (BALTIC.plating, BALTIC.framing, *(one.rule for one in BALTIC.supports), members.STEM)
REASON = Override(key=ABRASION_KEY, reason="coating approved, letter 12")


def design(overrides: tuple[Override, ...] = (), **changed: Any) -> DesignLoads:
    ship = facts(**changed)
    return BALTIC.loads(ship, BALTIC.areas(ship, overrides), {}, overrides)


def test_it_meets_the_protocol() -> None:
    rules: RuleSet = BALTIC
    assert RULE_SET == BALTIC
    assert rules.id == "baltic_traficom_2021"
    assert rules.classes == CLASSES
    assert rules.documents == (DOCUMENT,)
    assert str(DOCUMENT.applies_from) == "2021-07-05"
    ship = facts()
    assert rules.stations(rules.areas(ship, ())).shape == (0,)
    for rule in RULES:
        assert rule.checks
        assert rule.result == rule.checks[0].required or rule.result in rule.chain.outputs


def test_every_ship_fact_it_reads_is_listed_once() -> None:
    names = [quantity.name for quantity in FACTS]
    assert len(set(names)) == len(names)
    assert set(names) == set(facts())
    assert [q.name for q in SHIP if q.name in names] == [
        "ice_class", "azimuthing_propulsion", "bulbous_bow", "waterline_extreme_length_m",
    ]  # fmt: skip


def test_columns_of_members_are_in_one_of_the_vocabularies() -> None:
    known = {q.name for q in (*PANEL, *FRAME, *SHELL, *BUILT, *BUILT_FRAME, *BUILT_SUPPORT, *STEM)}
    for rule in RULES:
        assert set(rule.chain.inputs) <= known | set(design().columns)
    taken = {q.name for q in (*SHIP, *PANEL, *FRAME)}
    added = [q.name for q in (*facts_needed.SHIP, *facts_needed.WATERLINES, *facts_needed.POWER,
                              *facts_needed.POWER_DRAUGHTS)]  # fmt: skip
    assert not taken & set(added)
    assert len(set(added)) == len(added)
    assert facts_needed._q("n", "s", Unit("m"), "w") == Quantity(name="n", symbol="s", unit=Unit("m"), meaning="w")


def test_areas_of_another_rule_set_are_refused() -> None:
    for call in (lambda: BALTIC.stations(None), lambda: BALTIC.loads(facts(), None, {}, ())):  # type: ignore[arg-type]
        with pytest.raises(TypeError, match="made by another rule set"):
            call()


# Loads: what is said and what is refused


def told(loads: DesignLoads) -> list[str]:
    """What is said beside the caution on open water, which closes every list."""
    *notes, last = (str(note) for note in loads.findings)
    assert last.startswith(
        "BW522 caution: open-water scantlings: those of the society's rules hold where they are greater"
    )
    return notes


def test_nothing_to_say_of_a_plain_ship() -> None:
    assert told(design()) == []
    assert design().choices == (
        "size factors from the half k <= 12 of Table 4-2, k = 8.485, with the actual engine output",
        "pressure by the loaded length of each member (Table 4-4); no hull angles are needed",
    )


@pytest.mark.parametrize(
    ("changed", "note"),
    [
        ({"class_rule_length_m": 150.5}, "BW510 note: regions: 6 m for a rule length of 150.50 m"),
        ({"side_end_aft_of_stem_m": (80.0, 34.0)}, "BW511 caution: regions: 1 of 2 waterlines"),
        ({"service_speed_kn": 18.5}, "BW512 note: upper bow ice belt: service speed 18.5 kn, 18 kn or more"),
        ({"ice_class": "IA Super", "floor_top_height_m": 0.0}, "BW513 caution: bow: floor_top_height_m is 0"),
        ({"azimuthing_propulsion": True}, "BW518 caution: stern: 4.8"),
    ],
)
def test_findings_of_the_loads(changed: dict[str, Any], note: str) -> None:
    assert told(design(**changed)) == [note]


def test_choices_of_the_extra_areas() -> None:
    assert design(ice_class="IA Super", service_speed_kn=18.0).choices[2:] == (
        "fore foot to 9.50 m aft of the stem (4.3.1)",
        "upper bow ice belt to 24.50 m aft of the stem: plating as midbody, framing as bow",
    )


def test_azimuth_is_not_asked_of_a_ship_that_does_not_say() -> None:
    ship = facts()
    del ship["azimuthing_propulsion"]
    assert told(BALTIC.loads(ship, BALTIC.areas(ship, ()), {}, ())) == []


def test_a_lower_addition_needs_a_written_reason() -> None:
    with pytest.raises(ScopeError) as refused:
        design(approved_abrasion_mm=1.0)
    assert str(refused.value) == (
        "outside the rule's scope: addition for abrasion and corrosion: 1 mm is less than 2 mm, for which a coating is "
        "to be approved (FSICR 4.3.2); to go on, write your reason under overrides.abrasion_addition"
    )
    for useless in (Override(key=ABRASION_KEY, reason=" "), Override(key="overrides.other", reason="words")):
        with pytest.raises(ScopeError):
            design((useless,), approved_abrasion_mm=1.0)
    found = design((REASON,), approved_abrasion_mm=1.0)
    assert found.columns["approved_abrasion_mm"].tolist() == [1.0]
    assert told(found) == ["BW514 caution: overrides.abrasion_addition: 1 mm; reason: coating approved, letter 12"]
    assert told(design(approved_abrasion_mm=2.5)) == []
    assert BALTIC.override_keys == (ABRASION_KEY, PROPORTIONS_KEY)


def test_a_reason_for_narrow_and_short_members_reaches_them_and_is_told() -> None:
    assert design().columns["ends_held"].tolist() == [False]
    held = design((Override(key=PROPORTIONS_KEY, reason="corners of strips"),))
    assert held.columns["ends_held"].tolist() == [True]
    assert told(held) == ["BW523 caution: overrides.proportions: reason: corners of strips"]
    assert held.traces["design"]["ends_held"].origin == "ship.toml: overrides.proportions"
    assert told(design((Override(key=PROPORTIONS_KEY, reason=" "),))) == []


@pytest.mark.parametrize(
    ("changed", "message"),
    [
        ({"engine_power_kw": math.nan},
         (
             "ship: engine_power_kw: engine output that can be delivered continuously in ice, additional "
             "sources too; found nan kW; allowed: 50 to 200000"
         )),
        ({"engine_power_kw": 6.0},
         (
             "ship: engine_power_kw: engine output that can be delivered continuously in ice, additional "
             "sources too; found 6 kW; allowed: 50 to 200000"
         )),
        ({"engine_power_kw": 6e6},
         (
             "ship: engine_power_kw: engine output that can be delivered continuously in ice, additional "
             "sources too; found 6000000 kW; allowed: 50 to 200000"
         )),
        ({"engine_power_kw": []}, "ship: engine_power_kw: is missing; allowed: a value"),
        ({"displacement_upper_t": 12.0},
         (
             "ship: displacement_upper_t: greatest displacement at the upper ice waterline; found 12 t; "
             "allowed: 50 to 1e+06"
         )),
        ({"approved_abrasion_mm": -0.1},
         (
             "ship: approved_abrasion_mm: addition approved for an abrasion-resistant coating; 2 without one;"
             " found -0.1 mm; allowed: 0 to 10"
         )),
    ],
)  # fmt: skip
def test_bad_facts_of_the_load_are_named(changed: dict[str, Any], message: str) -> None:
    with pytest.raises(InputError) as refused:
        design(**changed)
    assert str(refused.value) == message


def test_a_missing_engine_output_is_named() -> None:
    ship = facts()
    del ship["engine_power_kw"]
    areas = BALTIC.areas(ship, ())
    for call in (lambda: BALTIC.loads(ship, areas, {}, ()), lambda: BALTIC.ship_checks(ship)):
        with pytest.raises(InputError, match="ship: engine_power_kw: is missing"):
            call()


# The ship as a whole


def test_checks_of_the_ship() -> None:
    found = BALTIC.ship_checks(facts())
    assert [(c.name, c.ref, c.unit) for c in found.checks] == [
        ("engine output, upper ice waterline", "FSICR 3.2.2", "kW"),
        ("engine output, lower ice waterline", "FSICR 3.2.2", "kW"),
        ("forward draught in ice", "FSICR 2.2", "m"),
        ("clearance of the propeller", "FSICR 4.8", "m"),
    ]
    assert [check.required for check in found.checks[2:]] == [pytest.approx(3.2), 0.8]
    assert [check.offered for check in found.checks] == [6000.0, 6000.0, 4.5, 1.2]
    assert found.all_met
    assert found.findings == ()
    assert list(found.traces) == [
        "engine output, upper ice waterline", "engine output, lower ice waterline", "draught and clearance",
    ]  # fmt: skip
    assert found.choices == ("engine output by 3.2.2, governed by the upper ice waterline",)
    for check in found.checks:
        assert check.required == found.traces[check.trace][check.output].value
    assert found.checks[0].required > found.checks[1].required
    assert str(found.checks[2]) == "forward draught in ice: 4.50 m of 3.20 m (FSICR 2.2)"


@pytest.mark.parametrize(
    ("name", "number", "code"),
    [("engine_power_kw", 0, "BW515"), ("forward_draught_lower_m", 2, "BW517"), ("propeller_clearance_m", 3, "BW520")],
)
def test_both_sides_of_each_check(name: str, number: int, code: str) -> None:
    least = BALTIC.ship_checks(facts()).checks[number].required
    for part, ok in ((1.0, True), (0.999, False)):
        found = BALTIC.ship_checks(facts(**{name: least * part}))
        assert found.checks[number].ok is ok
        assert found.all_met is ok
        assert [note.kind.code for note in found.findings] == ([] if ok else [code])
    if number == 2:
        assert str(found.findings[0]) == "BW517 caution: forward draught in ice: 3.20 m of 3.20 m (FSICR 2.2)"


@pytest.mark.parametrize("count", ["2", "3"])
def test_side_propellers_are_named(count: str) -> None:
    found = BALTIC.ship_checks(facts(propeller_count=count))
    assert [str(note) for note in found.findings] == [f"BW519 caution: stern: {count} propellers"]


def test_annex_ii_reads_no_propeller_table_yet_the_count_is_checked() -> None:
    ship = facts(ice_class="IC", power_basis="Annex II", propeller_count="five")
    with pytest.raises(InputError, match="ship: propeller_count: number of propellers; found five; allowed: 1, 2, 3"):
        BALTIC.ship_checks(ship)


@pytest.mark.parametrize("name", ["displacement_upper_t", "engine_power_kw", "forward_draught_lower_m",
                                  "propeller_clearance_m"])  # fmt: skip
def test_bad_facts_of_the_ship_are_named(name: str) -> None:
    with pytest.raises(InputError, match=f"ship: row 0: {name}: outside its range; found nan"):
        BALTIC.ship_checks(facts(**{name: math.nan}))


# Traces


CASES = [("PLATING", panel), ("FRAMING", frame), ("STRINGERS", stringer), ("WEB_FRAMES", web), ("STEM", stem)]


@pytest.mark.parametrize(("name", "make"), CASES)
@pytest.mark.parametrize("omega", [0.0, 45.0, 90.0])
def test_a_traced_row_equals_the_run(name: str, make: Any, omega: float) -> None:
    changed: dict[str, Any] = {"load_area": ["B", "M", "S"]}
    if name in ("PLATING", "FRAMING"):
        changed["omega_deg"] = omega
    rule, columns = getattr(members, name), make(**changed)
    values = rule.run(columns)
    for row in range(3):
        trace = rule.chain.trace(columns, row)
        for output in rule.chain.outputs:
            whole = np.broadcast_to(values[output], 3)[row]
            assert trace[output].value == whole.item()


def test_a_requirement_is_followed_to_the_ship() -> None:
    loads = design()
    columns = {**{k: v for k, v in panel().items() if k not in loads.columns}, **loads.columns}
    trace = BALTIC.plating.chain.trace(columns).after(loads.traces["design"])
    names = {node.name for node in trace.upstream("thickness_required_mm")}
    assert {"displacement_upper_t", "engine_power_kw", "k_range", "spacing_m", "surface"} <= names
    assert all(node.origin for node in trace.values() if node.step is None and node.symbol == "row")
    assert [node.name for node in trace.values() if node.step is None and node.name == "nominal_length_m"]
    assert trace["bow_size_factor"].symbol == "c_d,Bow"


def test_cells_of_a_trace() -> None:
    trace = members.WEB_FRAMES.chain.trace(web())
    used = tuple(cell for node in trace.values() for cell in node.cells)
    assert {cell.keys[0][1] for cell in used if cell.table == "FSICR Table 4-8"} == {"0.4", "0.6"}
    assert BALTIC.unconfirmed(used) == ()
    frames = BALTIC.framing.chain.trace(frame())
    doubtful = BALTIC.unconfirmed(tuple(cell for node in frames.values() for cell in node.cells) * 2)
    assert [cell.where for cell in doubtful] == ["FSICR Table 4-7 (boundary tank top to one deck)"]


@pytest.mark.parametrize(("name", "make"), CASES)
def test_no_symbol_stands_for_two_numbers_of_a_chain_in_one_unit(name: str, make: Any) -> None:
    chain = getattr(members, name).chain
    words = ("region", "transverse", "longitudinal", "holds", "in scope", "t - t_c", "c_d")
    symbols = [(s.symbol or s.clause.symbol, s.clause.unit) for s in chain.steps]
    twice = {symbol for symbol, _ in symbols if sum(other == symbol for other, _ in symbols) > 1}
    assert twice <= set(words), twice


def test_limits_follow_name_and_unit() -> None:
    limits = {
        limit.column: (limit.unit, limit.least, limit.most) for limit in members._limits(members.WEB_FRAMES.chain)
    }
    assert limits["span_m"] == ("m", 0.001, 1000.0)
    assert limits["free_flange_area_cm2"] == ("cm2", 0.0, 1e6)
    assert limits["shear_share"] == ("-", 0.01, 1.0)
    assert limits["web_least_line_load_mn_per_m"] == ("MN/m", 1e-6, 100.0)
    assert members._check("n", "r", "o", "4.5").ref == "FSICR 4.5"


# Coverage


def test_coverage_is_whole_and_in_order() -> None:
    rows = coverage.coverage_rows()
    coded = [row for row in rows if row.status == "coded"]
    assert sum(len(row.functions) for row in coded) == len(DOCUMENT.clauses)
    numbers = [row.clause for row in rows]
    assert len(set(numbers)) == len(numbers)
    assert numbers.index("4.2.2") < numbers.index("4.2.2 Table 4-2") < numbers.index("4.3.1") < numbers.index("4.4.2")
    assert numbers[-3:] == ["Annex I", "Annex II", "Annex III"]
    assert all(row.title and (row.remark or row.status == "coded") for row in rows)
    whole = next(row for row in rows if row.clause == "4.6.2 Table 4-8")
    assert "column_alpha" in whole.functions
    assert whole.remark.startswith("linear between")


def test_the_list_and_the_code_may_not_drift_apart() -> None:
    def row(ref: str, status: str = "not a formula") -> dict[str, str]:
        return {"document": DOCUMENT.id, "ref": ref, "what": "w", "status": status, "remark": "r"}

    coded = coverage._coded()
    with pytest.raises(InputError, match=r"not_coded.csv: 4.3.2: the clause is coded, or listed twice"):
        coverage.join(coded, [row("4.3.2")])
    with pytest.raises(InputError, match=r"not_coded.csv: 9: the clause is coded, or listed twice"):
        coverage.join(coded, [row("9"), row("9")])
    with pytest.raises(InputError, match="unknown status; found perhaps"):
        coverage.join(coded, [row("9", "perhaps")])
    assert coverage._place("4.10 x") > coverage._place("4.2")
    assert coverage._place("Annex II f1") < coverage._place("Annex III")
