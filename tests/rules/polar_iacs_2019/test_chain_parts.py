"""How the chains are put together: called afresh here, since the package makes them once when it is read in."""

from __future__ import annotations

import numpy as np
import pytest
from tests.rules.polar_iacs_2019.cases import POLAR, column

from beltwright.core.chain import Quantity
from beltwright.core.units import Unit
from beltwright.rules import facts as vocabulary
from beltwright.rules.polar_iacs_2019 import coverage, load_chains, members
from beltwright.rules.polar_iacs_2019 import i2_3_2_forces as force
from beltwright.rules.polar_iacs_2019 import i2_3_3_patch_and_factors as patch
from beltwright.rules.polar_iacs_2019 import i2_4_plating as plating
from beltwright.rules.protocol import CheckSpec


def test_an_input_takes_symbol_unit_and_title_from_its_clause() -> None:
    assert load_chains.given_by(force.crushing_factor, "x") == Quantity(
        name="x", symbol="CFC", unit=Unit("-"), meaning="crushing failure class factor"
    )


@pytest.mark.parametrize("number", [1, 4])
@pytest.mark.parametrize("make", [load_chains.standard_chain, load_chains.vertical_chain])
def test_inputs_of_a_sub_region(make: object, number: int) -> None:
    chain = make(number)  # type: ignore[operator]
    assert chain.name == f"sub-region {number}"
    told = {q.name: (q.symbol, q.unit.symbol, q.meaning) for q in chain.inputs.values()}
    assert told[f"sub_region_{number}"] == ("i", "count", "number of the sub-region, from the stem")
    assert told[f"alpha_{number}_deg"] == (f"alpha_{number}", "deg", "waterline angle there")
    assert told[f"beta_prime_{number}_deg"] == (f"beta'_{number}", "deg", "normal frame angle from vertical there")
    assert told["bow_aft_m"] == ("x_B", "m", "aft border of the bow")
    assert told["displacement_bow_kt"] == ("D_UI,bow", "kt", "displacement for the bow formulas")


def test_inputs_that_only_one_formula_reads() -> None:
    standard = {q.name: q.symbol for q in load_chains.standard_chain(2).inputs.values()}
    symbols = {"rule_length_m": "L_UI", "crushing_factor": "CFC", "flexural_factor": "CFF", "load_patch_factor": "CFD"}
    assert symbols.items() <= standard.items()
    vertical = {q.name: q.symbol for q in load_chains.vertical_chain(2).inputs.values()}
    assert {
        "vertical_crushing_factor": "CFCV",
        "vertical_line_load_factor": "CFQV",
        "vertical_pressure_factor": "CFPV",
    }.items() <= vertical.items()


@pytest.mark.parametrize("bulb", [False, True])
def test_inputs_of_the_bow(bulb: bool) -> None:
    chain = load_chains.design_chain(bulb=bulb)
    assert chain.name == "bow"
    symbols = {q.name: q.symbol for q in chain.inputs.values()}
    expected = {f"force_{n}_mn": f"F_{n}" for n in range(1, 5)}
    expected |= {f"line_load_{n}_mn_per_m": f"Q_{n}" for n in range(1, 5)}
    expected |= {f"pressure_{n}_mpa": f"P_{n}" for n in range(1, 5)}
    if bulb:
        expected |= {"crushing_factor": "CFC", "load_patch_factor": "CFD", "displacement_bow_kt": "D_UI,bow"}
    assert symbols == expected


@pytest.mark.parametrize("make", [load_chains.standard_chain, load_chains.vertical_chain])
def test_no_two_numbers_of_the_sub_regions_share_a_symbol(make: object) -> None:
    steps = [step for n in range(1, 5) for step in make(n).steps]  # type: ignore[operator]
    symbols = [step.symbol for step in steps]
    assert len(set(symbols)) == len(symbols)
    named = {step.output: step.symbol for step in steps}
    assert [named[f"force_{n}_mn"] for n in range(1, 5)] == ["F_1", "F_2", "F_3", "F_4"]
    assert named["shape_factor_3"] == "fa_3"
    assert named.get("shape_factor_flexure_3", "fa_3,2") == "fa_3,2"  # the number of the sub-region stands first


def test_limits_follow_the_unit() -> None:
    limits = {limit.column: (limit.unit, limit.least, limit.most) for limit in members._limits(POLAR.framing.chain)}
    assert limits["spacing_m"] == ("m", 0.001, 1000.0)
    assert limits["web_net_mm"] == ("mm", 0.01, 1e5)
    assert limits["flange_breadth_mm"] == limits["flange_offset_mm"] == ("mm", 0.0, 1e5)
    assert limits["flange_area_cm2"] == ("cm2", 0.0, 1e5)
    assert limits["yield_mpa"] == ("MPa", 1e-6, 1e5)
    assert limits["omega_deg"] == ("deg", 0.0, 90.0)
    assert limits["web_angle_deg"] == ("deg", 1.0, 90.0)
    assert tuple(members._limits(POLAR.framing.chain)) == POLAR.framing.limits
    numeric = [n for n, q in POLAR.framing.chain.inputs.items() if q.unit.symbol not in ("label", "flag")]
    assert list(limits) == numeric


def test_a_check_carries_its_clause() -> None:
    assert members._check("n", "r", "o", "I2.9.1", "flag") == CheckSpec(
        name="n", required="r", offered="o", ref="UR I2 I2.9.1", applies="flag"
    )
    assert members._check("n", "r", "o", "I2.9.1").applies == ""


def test_a_row_of_table_3_has_three_cells() -> None:
    assert patch._row("m") == (
        {"member": "m", "quantity": "at no spacing"},
        {"member": "m", "quantity": "fall per metre of spacing"},
        {"member": "m", "quantity": "least"},
    )


def test_a_line_of_the_vocabulary() -> None:
    assert vocabulary._q("n", "s", Unit("m"), "w") == Quantity(name="n", symbol="s", unit=Unit("m"), meaning="w")


def test_peak_factor_shown_for_a_panel() -> None:
    found = plating.plating_peak(
        transverse_share=column([0.0, 0.49, 0.5, 1.0]),
        plating_peak_transverse=column(1.4),
        plating_peak_longitudinal=column(1.7),
    )
    assert found.tolist() == [1.7, 1.7, 1.4, 1.4]


def test_place_of_a_clause_number() -> None:
    assert coverage._place("I2.3.1(iv)") == ((2, ""), (3, ""), (1, ""), (4, "(iv)"))
    assert coverage._place("I2.3.2 Table 1") == ((2, ""), (3, ""), (2, ""), (99, "Table"), (1, ""))
    assert coverage._place("I2.2 Figure 1")[2] == (99, "Figure")


def test_a_coverage_row_is_whole() -> None:
    listed = {"document": "d", "ref": "I2.8", "what": "webs", "status": coverage.STATUSES[0], "remark": "r"}
    (row,) = coverage.join([], [listed])
    assert (row.document, row.clause, row.title, row.status) == ("d", "I2.8", "webs", coverage.STATUSES[0])
    assert (row.functions, row.remark) == ((), "r")
    coded = {row.clause: row for row in coverage._coded()}
    assert coded["I2.1.2"].document == "iacs_ur_i2_rev4"
    assert coded["I1.1.3"].document == "iacs_ur_i1_rev2"
    assert coded["I2.1.2"].title == "ship length at the upper ice waterline"
    assert coded["I2.1.2"].remark == ""
    two = coded["I2.5.9"].remark.split("; ")
    assert two[0] == "counts where the frame outweighs the plate flange"
    assert len(two) > 1


def test_coverage_refusals_word_for_word() -> None:
    listed = {"document": "d", "ref": "I2.8", "what": "webs", "status": "maybe", "remark": "r"}
    with pytest.raises(ValueError, match="unknown") as caught:
        coverage.join([], [listed])
    assert str(caught.value) == (
        "not_coded.csv: I2.8: unknown status; found maybe; allowed: "
        "handled without a function of its own, checklist item, not a formula, out of scope"
    )
    listed["status"] = coverage.STATUSES[1]
    with pytest.raises(ValueError, match="twice") as caught:
        coverage.join([], [listed, listed])
    assert str(caught.value) == "not_coded.csv: I2.8: the clause is coded, or listed twice"


def test_the_bow_keeps_a_border_that_three_regions_share() -> None:
    # bow intermediate shrinks to nothing at 24 m, and the aft one would reach forward of it
    made = POLAR.areas(
        {
            **{name: column(value) for name, value in _SHARED.items()},
        },
        (),
    )
    x = np.array([24.0, 24.001])
    found = made.classify(x, np.zeros(2), np.zeros(2), np.full(2, 90.0), np.zeros(2))
    assert found.tolist() == ["B", "BIi"]


_SHARED = {
    "ice_class": "PC4",
    "icebreaker": False,
    "operates_astern": True,
    "azimuthing_propulsion": False,
    "bulbous_bow": False,
    "effective_protection": True,
    "waterline_extreme_length_m": 124.0,
    "stem_to_rudder_m": 120.0,
    "stem_to_ap_m": 118.0,
    "alpha_ten_aft_of_stem_m": 24.0,
    "parallel_start_aft_of_stem_m": 10.0,
    "parallel_end_forward_of_ap_m": 100.0,
    "stem_baseline_aft_of_stem_m": 8.0,
}
