"""The choice of a class: the comparison's own numbers, cost and deadweight by hand, a reason for each gap."""

from __future__ import annotations

import csv
import io
import json
from collections.abc import Callable
from dataclasses import replace
from functools import cache
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from pypdf import PdfReader
from tests.scantlings.ships import Edit, arranged, measured, ship

from beltwright.core.columns import ColumnTable
from beltwright.core.errors import InputError
from beltwright.core.findings import Findings
from beltwright.drawing.choice_chart import ChoiceBar, choice_chart
from beltwright.materials.prices import parse_prices
from beltwright.report.choice import NOT_EQUAL, STATED, choice_documents, choice_lines
from beltwright.report.classes import class_documents
from beltwright.report.decision_support import WORDS
from beltwright.rules import registry
from beltwright.rules.polar_iacs_2019.ruleset import RULE_SET
from beltwright.rules.protocol.ship import ShipCheck, ShipChecks
from beltwright.rules.registry import rule_set
from beltwright.scantlings.ship_facts import ship_facts
from beltwright.voyage import regime_study, study
from beltwright.weights import codes
from beltwright.weights.choice import NO_BASE, NO_POWER, POWER_FACT, ClassChoice, choose_class, rule_sets, under
from beltwright.weights.choice_columns import NOT_KNOWN, route_columns
from beltwright.weights.classes import MET, NO_RESULT, compare_classes

ROOT = Path(__file__).resolve().parents[2]
POLAR = tuple(f"PC{number}" for number in range(1, 8))
GRADES = ("A", "B", "D", "E", "AH36", "DH36", "EH36", "FH36")
COST = {  # 40 a tonne of plating and 60 of frames, 1 more for each colder letter; nothing else but the engine
    "currency": "kr",
    "prices": [
        *({"item": "steel", "grade": grade, "amount": 10.0 + "ABDEF".index(grade[0])} for grade in GRADES),
        {"item": "plate work", "amount": 30.0},
        {"item": "frame work", "amount": 50.0},
        *({"item": item, "amount": 0.0} for item in ("plate weld", "frame weld", "plate piece", "frame piece",
                                                      "bending")),
        {"item": "engine", "amount": 9.0},
    ],
}  # fmt: skip


def engine(facts: Any) -> ShipChecks:
    """A stand-in for a document that states an engine output: 1000 kW for each step of class above PC8."""
    step = 8 - int(str(facts["ice_class"][0])[-1])
    check = ShipCheck(name="engine output", ref="X 1", required=1000.0 * step, offered=4500.0, unit="kW", trace="t",
                      output="o", fact=POWER_FACT)  # fmt: skip
    return ShipChecks(checks=(check,), traces={}, choices=(), findings=())


@pytest.fixture
def alone(monkeypatch: pytest.MonkeyPatch) -> Callable[..., None]:
    """Leave only some rule sets in the registry."""

    def keep(**factories: Any) -> None:
        monkeypatch.setattr(registry, "_FACTORIES", {name: (lambda one=one: one) for name, one in factories.items()})

    return keep


def chosen(*edits: Edit, **studies: Any) -> ClassChoice:
    return choose_class(ship(*edits), measured(), arranged(), **studies)


@cache
def plain() -> ClassChoice:
    """The small test ship under every registered document, with the demo route and regimes; made once."""
    return chosen(
        lambda doc: doc.update(cost=COST),
        route=study(ROOT / "examples/voyage/route.csv", ice_class="PC4"),
        regimes=regime_study(ROOT / "examples/voyage/regimes.csv"),
    )


def polar(made: ClassChoice) -> ColumnTable:
    """The rows of the polar classes."""
    return made.table.where(np.isin(made.table.labels("ice_class"), POLAR))


def test_the_numbers_are_those_of_the_comparison_of_classes() -> None:
    summary = compare_classes(ship(), rule_set("polar_iacs_2019"), measured(), arranged()).summary
    table = polar(plain())
    assert tuple(table.labels("ice_class").tolist()) == POLAR
    for name in ("plating_t", "frames_t", "total_t"):
        assert table[name].data.tolist() == summary[name].data.tolist()
    assert table.labels("outcome").tolist() == summary.labels("outcome").tolist()
    for row in range(7):  # force over width and height is the pressure; of both patches the greater one is told
        pressures = {
            name: summary[f"{name}_force_mn"].data[row]
            / (summary[f"{name}_patch_width_m"].data[row] * summary[f"{name}_patch_height_m"].data[row])
            for name in ("bow", "other")
        }
        patch = max(pressures, key=lambda name: pressures[name])
        assert table["load_pressure_mpa"].data[row] == pytest.approx(pressures[patch], rel=1e-9)
        assert table["load_force_mn"].data[row] == summary[f"{patch}_force_mn"].data[row]


def test_deadweight_and_cost_by_hand() -> None:
    """kind: hand. Cost: (plating x 40 + frames x 60 + letter) x total / both; deadweight: totals apart."""
    made = plain()
    table = polar(made)
    own = POLAR.index("PC4")
    share = table["total_t"].data / (table["plating_t"].data + table["frames_t"].data)
    cost = (table["plating_t"].data * 40.0 + table["frames_t"].data * 60.0) * share
    for row, name in enumerate(POLAR):
        found = next(one.cost for one in made.candidates if one.result.ice_class == name)
        assert found is not None
        cost[row] += sum("ABDEF".index(grade[0]) * kg / 1000.0 for grade, kg in found.kg.items()) * share[row]
    assert table["steel_cost"].data == pytest.approx(cost)
    assert table["steel_cost"].unit.symbol == "kr"
    assert table["more_steel_cost"].data == pytest.approx(cost - cost[own])
    total = table["total_t"].data
    assert table["deadweight_lost_t"].data == pytest.approx(total - total[own])
    assert table["own"].data.tolist() == [row == own for row in range(7)]
    assert table["base"].data.tolist() == table["own"].data.tolist()


def test_a_stronger_class_asks_for_colder_grades_and_pays_for_them() -> None:
    """Public text of UR I2.12: grades get colder with class, so a tonne of PC3 is dearer than one of PC7."""
    per_t = {}
    for one in plain().candidates:
        if one.cost is not None:
            weight = one.result.weight
            assert weight is not None
            per_t[one.result.ice_class] = (one.cost.plating.steel + one.cost.frames.steel) / weight.total_t
    assert per_t["PC3"] > per_t["PC5"] > per_t["PC7"]


def test_another_class_may_be_the_base(alone: Callable[..., None]) -> None:
    """kind: hand. The same table less the row of PC6."""
    alone(polar_iacs_2019=RULE_SET)
    made = chosen(lambda doc: doc.update(cost=COST), base="PC6")
    row = POLAR.index("PC6")
    assert made.base == row
    assert made.own == POLAR.index("PC4")
    for name, against in (("total_t", "deadweight_lost_t"), ("steel_cost", "more_steel_cost")):
        values = made.table[name].data
        assert made.table[against].data == pytest.approx(values - values[row])
    assert "compared with PC6 of UR I2" in next(choice_lines(made))
    assert json.loads(choice_documents(made, "ab" * 32)["choice.json"])["base"] == "PC6"
    with pytest.raises(InputError, match=r"--base: no such class; found PC9; allowed: PC1, PC2"):
        chosen(lambda doc: doc.update(cost=COST), base="PC9")


def test_costs_add_up_by_cause() -> None:
    """hand: the causes of a row add up to its cost; in a currency of its own every price has to be given."""
    costs = plain().costs
    causes = [name for name in costs if name.startswith(("plating_", "frames_"))]
    assert len(causes) == 9
    known = ~np.isnan(costs["steel_cost"].data)
    assert known.any()
    total = sum(costs[name].data for name in causes)
    assert total[known] == pytest.approx(costs["steel_cost"].data[known])
    for name in causes:
        assert costs[name].unit.symbol == "kr"
    with pytest.raises(InputError, match=r"no price in this currency; found steel .*H36"):
        chosen(lambda doc: doc.update(cost={"currency": "kr", "prices": COST["prices"][:4]}))


def test_deadweight_of_shared_members_by_a_slow_sum() -> None:
    """kind: second-method. Member by member in a loop; one that either class does not weigh is left out."""
    made = plain()
    assert made.own is not None
    base = made.candidates[made.own].result.weight
    assert base is not None
    for row, one in enumerate(made.candidates):
        weight = one.result.weight
        if weight is None:
            continue
        kg = 0.0
        for masses, others in ((weight.plate_mass_kg, base.plate_mass_kg), (weight.frame_mass_kg, base.frame_mass_kg)):
            for mass, other in zip(masses.ravel().tolist(), others.ravel().tolist(), strict=True):
                if mass == mass and other == other:
                    kg += mass - other
        expected = kg / 1000.0 * weight.total_t / weight.modelled_t
        assert made.table["deadweight_lost_shared_t"].data[row] == pytest.approx(expected, abs=1e-9)
    # a weaker class weighs less shell: the shared difference is the smaller one
    pc7 = made.table.labels("ice_class").tolist().index("PC7")
    both, shared = (made.table[f"deadweight_lost_{name}t"].data[pc7] for name in ("", "shared_"))
    assert both <= shared < 0.0
    told = {finding.kind for finding in made.findings}
    assert (codes.OTHER_SHELL in told) is bool(both != shared)


def test_a_document_that_cannot_be_applied_is_a_row_per_class_with_its_reason() -> None:
    """The small ship tells nothing of its engine, which the Finnish-Swedish rules ask for."""
    made = plain()
    baltic = [one for one in made.candidates if one.rules.id == "baltic_traficom_2021"]
    assert [one.result.ice_class for one in baltic] == ["IA Super", "IA", "IB", "IC"]
    for one in baltic:
        assert one.result.outcome == NO_RESULT
        assert "ship.toml: " in one.result.reasons[0]
        assert isinstance(one.power, str)
        assert "ship.toml: " in one.power
    rows = np.flatnonzero(np.isin(made.table.labels("ice_class"), ["IA Super", "IA", "IB", "IC"]))
    for name in ("total_t", "steel_cost", "deadweight_lost_t", "power_required_kw", "load_pressure_mpa"):
        reasons = made.table[name].reason
        assert reasons is not None
        assert (reasons[rows] != "").all(), name


def test_power_is_what_the_document_states_or_said_not_to_be(alone: Callable[..., None]) -> None:
    """kind: hand. A document with an engine output beside one without: 1000 kW a step, 9 per kW."""
    other = replace(RULE_SET, id="engine_rules", ship_checks=engine,
                    documents=(replace_short(RULE_SET.documents[-1], "Engine rules"),))  # fmt: skip
    alone(polar_iacs_2019=RULE_SET, engine_rules=other)
    made = chosen(lambda doc: doc.update(cost=COST))
    table = made.table
    assert [one.rules.id for one in made.candidates] == ["polar_iacs_2019"] * 7 + ["engine_rules"] * 7
    assert table["power_required_kw"].data[7:].tolist() == [7000.0, 6000.0, 5000.0, 4000.0, 3000.0, 2000.0, 1000.0]
    assert table["engine_cost"].data[7:].tolist() == [63000.0, 54000.0, 45000.0, 36000.0, 27000.0, 18000.0, 9000.0]
    assert table.labels("power_met").tolist() == [""] * 7 + ["no"] * 3 + ["yes"] * 4
    reasons = table["power_required_kw"].reason
    assert reasons is not None
    assert set(reasons[:7].tolist()) == {NO_POWER}
    assert table["own"].data.tolist() == [row == 3 for row in range(14)], "PC4 of the ship's own rules alone"


def replace_short(document: Any, short: str) -> Any:
    """A document under another short name."""
    from copy import copy

    other = copy(document)
    object.__setattr__(other, "short", short)
    return other


def test_one_edition_of_each_document_stands_for_its_classes() -> None:
    for rules, contract, expected in (
        ("polar_iacs_2019", "2024-03-01", "polar_iacs_2019"),
        ("polar_iacs_2016", "2024-03-01", "polar_iacs_2016"),
        ("baltic_traficom_2021", "2018-03-01", "polar_iacs_2016"),
        ("baltic_traficom_2021", "2024-03-01", "polar_iacs_2019"),
    ):
        findings = Findings()
        given = ship(lambda doc, r=rules: doc["ice"].update(rules=r), lambda doc, c=contract: _signed(doc, c))
        found = [one.id for one in rule_sets(given, findings)]
        assert found[0] == rules
        assert expected in found
        assert len([name for name in found if name.startswith("polar")]) == 1
        assert [one.kind for one in findings.items] == [codes.EDITION_CHOSEN]


def _signed(doc: dict[str, Any], day: str) -> None:
    from datetime import date

    doc["ship"]["contract_date"] = date.fromisoformat(day)


def test_under_other_rules_the_answers_of_its_own_checklist_are_left_aside() -> None:
    answer = {"item": "appendages", "answer": "met", "note": "see the drawing of the stern"}
    given = ship().model_copy(update={"checklist": (answer,)})
    other = under(given, rule_set("polar_iacs_2016"))
    assert (other.ice.rules, other.checklist) == ("polar_iacs_2016", ())
    assert under(given, RULE_SET) is given


def test_where_a_class_may_go_is_the_studies_own_number() -> None:
    made = plain()
    assert made.route is not None
    of_route = made.route.tables["route_classes"]
    names = of_route.labels("ice_class").tolist()
    for row, ice_class in enumerate(made.table.labels("ice_class").tolist()):
        for name in ("share_normal", "share_elevated", "share_special", "lowest_index"):
            assert made.table[name].data[row] == of_route[name].data[names.index(ice_class)]
    row = made.table.labels("ice_class").tolist().index("PC7")
    counts = [made.table[f"regimes_{name}"].data[row] for name in ("normal", "elevated", "special")]
    assert counts == [1.0, 1.0, 2.0], "20, -11, -1 and -19 in the demo's regimes"


def test_a_class_that_polaris_does_not_know_has_a_reason() -> None:
    columns = route_columns(["PC4", "Arc9"], plain().route, None)
    reasons = columns["share_normal"].reason
    assert reasons is not None
    assert reasons.tolist() == ["", NOT_KNOWN]
    assert route_columns(["PC4"], None, None) == {}


def test_own_class_without_a_result_is_named(alone: Callable[..., None]) -> None:
    alone(polar_iacs_2019=RULE_SET)
    made = chosen(lambda doc: doc["ice"].update(bulbous_bow=True))
    assert codes.BASE_NO_RESULT in {finding.kind for finding in made.findings}
    reasons = made.table["deadweight_lost_t"].reason
    assert reasons is not None
    assert reasons[6] == NO_BASE
    assert np.isfinite(made.table["total_t"].data[6])
    assert codes.COST_ASSUMED in {finding.kind for finding in made.findings}
    text = "\n".join(choice_lines(made))
    assert "Assumed, edit: steel " in text


def test_every_class_that_is_not_met_says_why() -> None:
    for one in plain().candidates:
        assert bool(one.result.reasons) is (one.result.outcome != MET)


def test_documents_say_that_nothing_is_equal() -> None:
    made = plain()
    written = choice_documents(made, "ab" * 32)
    assert written == choice_documents(made, "ab" * 32), "the same choice gives the same bytes"
    rows = list(csv.DictReader(io.StringIO(written["choice.csv"].decode("utf-8"))))
    assert [row["ice_class"] for row in rows] == made.table.labels("ice_class").tolist()
    told = json.loads(written["choice.json"])
    assert told["not_equal"] == NOT_EQUAL
    assert told["prices_assumed"] == ["co2 " + ", ".join(sorted({r["grade"] for r in told["prices"] if r["grade"]}))]
    assert written["choice.svg"].startswith(b"<svg")
    costs = list(csv.DictReader(io.StringIO(written["choice_costs.csv"].decode("utf-8"))))
    assert [row["ice_class"] for row in costs] == [row["ice_class"] for row in rows]
    assert parse_prices(written["prices.csv"].decode("utf-8"), "prices.csv").currency == "kr"
    assert told["classes"]["columns"]["deadweight_lost_t"]["unit"] == "t"
    beside = list(csv.DictReader(io.StringIO(written["choice_correspondence.csv"].decode("utf-8"))))
    assert {row["ice_class"] for row in beside} <= set(made.table.labels("ice_class").tolist())
    assert all(row["limits"] for row in beside)
    text = " ".join(
        " ".join(page.extract_text().split()) for page in PdfReader(io.BytesIO(written["choice.pdf"])).pages
    )
    assert "Nothing here is equal in strength" in text
    assert "nominal only" in text
    lines = list(choice_lines(made))
    assert NOT_EQUAL in lines
    assert WORDS in lines
    assert all(sentence in lines for sentence in STATED)
    whole = "\n".join(lines).lower()
    assert "equivalent" not in whole
    assert "PC4 *" in "\n".join(lines)


@pytest.mark.parametrize("with_route", [True, False])
def test_the_picture_keeps_its_words_on_the_sheet(with_route: bool) -> None:
    documents = {"A document with a long name and its edition": 7, "Another document of 2021": 4}
    bars = [
        ChoiceBar(
            name=f"Class {number}", document=document, plating_t=None if number == 3 else 1000.0 / (number + 1),
            frames_t=None if number == 3 else 100.0, lost_t=(-1400.0, 1894.0) if number else (),
            money=None if number == 3 else (1000.0, 2500.0 / (number + 1)), more_money=-120.0 if number else None,
            base=number == 2, shares=(0.6, 0.3, 0.1) if with_route and number != 2 else None, said="not met",
            own=number == 1,
        )
        for document, count in documents.items() for number in range(count)
    ]  # fmt: skip
    for some in (bars, bars[:1], []):
        scene = choice_chart(some, "EUR")
        for words in scene.words():
            assert words.box.min() >= 0.0, words.text
            assert words.box[:, 0].max() <= scene.width_mm, words.text
            assert words.box[:, 1].max() <= scene.height_mm, words.text


def with_engine(doc: dict[str, Any]) -> None:
    """What the Finnish-Swedish rules want to be told."""
    doc["hull"].update(length_between_perpendiculars_m=47.0, class_rule_length_m=46.0)
    doc["propulsion"].update(
        engine_power_kw=2400.0, propeller_count=2, drive="fixed pitch", propeller_diameter_m=2.0,
        propeller_clearance_m=0.7, service_speed_kn=12.5,
    )  # fmt: skip


@cache
def baltic() -> ClassChoice:
    """The small ship with an engine, under the Finnish-Swedish rules; their classes stand first then."""
    return chosen(with_engine, lambda doc: doc["ice"].update(rules="baltic_traficom_2021", ice_class="IA"))


def test_both_systems_side_by_side_with_the_engine_output_of_the_one() -> None:
    """kind: hand. Least outputs of 3.2.2: 2800 kW for IA Super, 1000 kW else; and what the rules' own check says."""
    made = baltic()
    assert made.table.labels("ice_class").tolist() == ["IA Super", "IA", "IB", "IC", *POLAR]
    assert made.own == 1
    power = made.table["power_required_kw"]
    assert power.reason is not None
    assert set(power.reason[4:].tolist()) == {NO_POWER}
    rules = rule_set("baltic_traficom_2021")
    assert rules.ship_checks is not None
    facts, _ = ship_facts(under(ship(with_engine), rules), measured(), Findings(), rules.facts)
    for row, ice_class in enumerate(("IA Super", "IA", "IB", "IC")):
        checks = rules.ship_checks({**facts, "ice_class": np.array([ice_class])}).checks
        assert power.data[row] == next(one.required for one in checks if one.fact == POWER_FACT)
    assert power.data[:4].tolist() == [2800.0, 1000.0, 1000.0, 1000.0], "so small a ship stands at the least outputs"
    whole = "\n".join(choice_lines(made))
    assert "IA beside PC7 (Polar Class); nominal only" in whole
    assert "PC6 beside IA Super (Finnish-Swedish); nominal only" in whole


def test_a_class_with_more_hull_areas_stands_beside_one_with_fewer() -> None:
    """IA Super alone has the fore foot and the forward upper belt; the others have a reason there."""
    made = next(one for one in baltic().comparisons if one.rules.id == "baltic_traficom_2021")
    pairs = set(zip(made.areas.labels("ice_class").tolist(), made.areas.labels("hull_area").tolist(), strict=True))
    assert ("IA Super", "FF") in pairs
    assert ("IA", "FF") not in pairs
    assert {"B", "M", "S", "FF"} <= set(made.area_codes)
    column = made.summary["thickness_required_FF_mm"]
    assert column.reason is not None
    assert (column.reason[1:] != "").all()
    assert next(name for name, _, _ in made.loads) == "load_height_m"
    assert made.summary["load_height_m"].data.tolist() == [0.35, 0.3, 0.25, 0.22]
    assert set(class_documents(made, "0" * 64)) == {"classes.csv", "class_areas.csv", "classes.json", "classes.pdf"}
