"""The checks of the ship as a whole in the design: table, outcome, findings, traces, cells."""

from __future__ import annotations

from functools import cache

import pytest
from tests.scantlings import ships, whole_ship

from beltwright.core.errors import InputError
from beltwright.report.result_json import table_values
from beltwright.report.tables import csv_text
from beltwright.scantlings.design import Design
from beltwright.scantlings.ship_checks import ship_check_table
from beltwright.weights.classes import _of_the_ship


@cache
def met() -> Design:
    """The ship with enough of everything, designed once."""
    return whole_ship.designed()


def test_rules_without_such_checks_have_none() -> None:
    plain = ships.baseline()
    assert plain.ship_checks is None
    assert "ship as a whole" not in plain.checked


def test_the_checks_by_hand() -> None:
    """kind: hand. IA, 1166.6 t: (2 + 0.00025 x 1166.6) x 0.8 m = 1.833 m forward, clearance 0.8 m.

    Engine output: B 10.5 m, so H_F = 0.26 + sqrt(10.5) = 3.5004 m; the rest from the facts, number by number.
    """
    design = met()
    assert design.ship_checks is not None
    table = ship_check_table(design.ship_checks, design.fact_origins)
    required = dict(zip(table.labels("check").tolist(), table.values("required"), strict=True))
    tonnes = 1000.0 * ships.measured().upper.displacement_kt
    assert required["forward draught in ice"] == pytest.approx((2.0 + 0.00025 * tonnes) * 0.8, rel=1e-12)
    assert required["clearance of the propeller"] == 0.8
    assert table.labels("unit").tolist() == ["kW", "kW", "m", "m"]
    assert table.values("offered").tolist() == pytest.approx([4000.0, 4000.0, 3.2, 0.9])
    assert set(table.labels("outcome")) == {"met"}
    assert table.labels("offered_from")[0] == "ship.toml: propulsion.engine_power_kw"
    assert "forward perpendicular, x 47.500 m" in table.labels("offered_from")[2]
    facts = design.facts
    for row, name in enumerate(("engine output, upper ice waterline", "engine output, lower ice waterline")):
        trace = design.ship_checks.traces[name]
        h_f = 0.26 + 10.5**0.5
        bow = 845.0 * trace["bow_shape_factor"].value * (h_f + 1.0) ** 2
        bow *= 10.5 + trace["flare_factor"].value * h_f
        side = 42.0 * facts["parallel_length_m"][row] * h_f**2
        cube = min(max((47.5 * facts["draught_m"][row] / 10.5**2) ** 3, 5.0), 20.0)
        area = 825.0 * cube * facts["bow_waterline_area_m2"][row] / 47.5
        expected = max(2.03 * ((bow + side + area) / 1000.0) ** 1.5 / 2.2, 1000.0)
        assert required[name] == pytest.approx(expected, rel=1e-5)


def test_every_number_of_the_checks_says_where_it_comes_from() -> None:
    checks = met().ship_checks
    assert checks is not None
    for trace in checks.traces.values():
        for node in trace.values():
            assert node.step is not None or node.origin, node.name
    assert "x 23.750 m" in checks.traces["engine output, lower ice waterline"]["draught_m"].origin


def test_met_and_not_met_count_in_the_outcome() -> None:
    assert met().all_met
    assert met().checked[-1] == "ship as a whole"
    weak = whole_ship.designed(whole_ship.propulsion(engine_power_kw=1080.0))
    assert not weak.all_met
    assert weak.ship_checks is not None
    assert [check.ok for check in weak.ship_checks.checks] == [False, False, True, True]
    assert [one.where for one in weak.findings if one.kind.code == "BW515"] == ["engine output, upper ice waterline"]
    assert weak.plating.labels("outcome").tolist() == met().plating.labels("outcome").tolist()


def test_nothing_offered_is_not_met_and_can_be_written() -> None:
    bare = whole_ship.designed(whole_ship.propulsion(propeller_clearance_m=0.0))
    assert not bare.all_met
    assert bare.ship_checks is not None
    table = ship_check_table(bare.ship_checks, bare.fact_origins)
    assert table.labels("outcome").tolist() == ["met", "met", "met", "not met"]
    assert "n/a: nothing is offered" in csv_text(table)
    assert table_values(table)["columns"]["ratio"]["values"][-1] is None


def test_cells_of_the_checks_are_among_those_used() -> None:
    names = {cell.table for cell in met().cells} - {cell.table for cell in ships.baseline().cells}
    assert names >= {"FSICR Table 3-1", "FSICR 3.2.2 H_M", "FSICR 3.2.2 least output"}


def test_a_rule_set_that_asks_is_answered_before_the_hull_is_read() -> None:
    with pytest.raises(InputError, match=r"ship\.toml: propulsion\.engine_power_kw: this key is missing"):
        whole_ship.designed(lambda doc: doc["propulsion"].pop("engine_power_kw"))


def test_a_comparison_of_classes_gives_the_failing_checks_as_reasons() -> None:
    weak = whole_ship.designed(whole_ship.propulsion(engine_power_kw=1080.0))
    assert _of_the_ship(weak)[0].startswith("engine output, upper ice waterline: 1080.00 kW of 1103.8")
    assert len(_of_the_ship(weak)) == 2
    assert _of_the_ship(met()) == _of_the_ship(ships.baseline()) == ()
