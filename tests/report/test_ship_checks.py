"""The chapter on the ship as a whole, its table in the result, and its lines on the terminal."""

from __future__ import annotations

import pytest
from jsonschema import Draft202012Validator
from tests.scantlings import ships, whole_ship

from beltwright.report.chapters.ship_checks import ship_as_a_whole
from beltwright.report.from_design import material_of
from beltwright.report.material import Material
from beltwright.report.numbers import number
from beltwright.report.result_json import result, schema
from beltwright.report.ship_checks import ship_check_clauses, ship_checks_material
from beltwright.report.summary import summary
from beltwright.report.tables import csv_files
from beltwright.weights.steel import steel_weight


@pytest.fixture(scope="module")
def material() -> Material:
    design = whole_ship.designed(whole_ship.propulsion(propeller_clearance_m=0.75))
    return material_of(design, steel_weight(design), "0" * 64)


def test_the_chapter_tells_every_check_and_its_calculation(material: Material) -> None:
    given = material.ship_checks
    assert given is not None
    text = ship_as_a_whole(material).markup
    for name in given.table.labels("check"):
        assert name in text
    for part in given.parts:
        for output in part.wanted:
            value = part.trace[output].value
            assert isinstance(value, float)
            assert number(value) in text
    assert text.count("factor for the propellers") == 1  # the same at both draughts, told once
    assert text.count("resistance in the channel") == 2
    assert "Only what differs from the calculations above is told." in text
    assert "Engine output by 3.2.2, governed by the upper ice waterline." in text


def test_rules_that_ask_for_nothing_have_no_chapter_and_no_table() -> None:
    plain = ships.baseline()
    told = material_of(plain, steel_weight(plain), "0" * 64)
    assert ship_as_a_whole(told).markup == ""
    assert "ship_checks.csv" not in csv_files(told)
    assert "ship_checks" not in result(told)
    assert ship_checks_material(None, {}) is None
    assert ship_check_clauses(None) == []


def test_result_and_tables_carry_the_checks(material: Material) -> None:
    plain = result(material)
    Draft202012Validator(schema()).validate(plain)
    assert plain["outcome"] == "not met"
    columns = plain["ship_checks"]["columns"]
    assert columns["outcome"]["values"] == ["met", "met", "met", "not met"]
    assert columns["ratio"]["values"][-1] == pytest.approx(0.8 / 0.75)
    rows = csv_files(material)["ship_checks.csv"].splitlines()
    assert rows[0] == "check,ref,required,offered,unit,offered_from,ratio,outcome"
    assert rows[-1].startswith("clearance of the propeller,FSICR 4.8,0.8,0.75,m,ship.toml: propulsion.propeller_")
    assert "engine output by 3.2.2, governed by the upper ice waterline" in plain["decisions"]


def test_clauses_of_the_checks_count_among_those_used(material: Material) -> None:
    design = whole_ship.designed()
    names = {made.name for made in ship_check_clauses(design.ship_checks)}
    assert {"channel_resistance", "least_forward_draught", "least_propeller_clearance"} <= names
    waiting = {made.name for made in ship_check_clauses(design.ship_checks) if not made.status.confirmed}
    assert waiting <= {made.name for made in material.unconfirmed_clauses}


def test_the_terminal_shows_the_checks() -> None:
    design = whole_ship.designed(whole_ship.propulsion(propeller_clearance_m=0.75))
    lines = "\n".join(summary(design, steel_weight(design)))
    assert "Ship as a whole" in lines
    assert "clearance of the propeller" in lines
    assert "1.067" in lines
    assert "REQUIREMENTS NOT MET on plating" in lines
    assert "hull girder" not in lines.splitlines()[-3]
    assert "Ship as a whole" not in "\n".join(summary(ships.baseline(), steel_weight(ships.baseline())))
