"""The design loads of whole ships. The first case is worked out step by step with the math module."""

from __future__ import annotations

import math
from dataclasses import replace
from typing import Any

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from tests.rules.polar_iacs_2019.cases import CLASSES, POLAR, angles, design, facts

from beltwright.core.errors import InputError, ScopeError
from beltwright.rules.polar_iacs_2019.load_chains import SUB_REGIONS
from beltwright.rules.polar_iacs_2019.loads import stations
from beltwright.rules.protocol import DesignLoads, Override

STEEP = (2.0, 4.0, 6.0, 8.0)
STATION_NAMES = (("alpha", "_deg"), ("beta_prime", "_deg"), ("sub_region", ""))


def value(loads: DesignLoads, name: str, trace: str = "design") -> float:
    return float(loads.traces[trace][name].value)


def near(expected: float) -> object:
    return pytest.approx(expected, rel=1e-12)


def test_pc4_ship_of_120_m_and_14_kt_by_hand() -> None:
    # hull angles: alpha and gamma given, tan beta = tan alpha/tan gamma, tan beta' = tan beta cos alpha
    x = (3.0, 9.0, 15.0, 21.0)
    alpha, gamma = (30.0, 27.0, 22.0, 15.0), (30.0, 34.0, 38.0, 45.0)
    rad, deg = math.radians, math.degrees
    beta_prime = [
        deg(math.atan(math.tan(rad(a)) / math.tan(rad(g)) * math.cos(rad(a))))
        for a, g in zip(alpha, gamma, strict=True)
    ]
    cfc, cff, cfd, d64 = 4.50, 13.48, 1.42, 14.0**0.64
    f, q, p, fa = [], [], [], []
    for xi, a, b in zip(x, alpha, beta_prime, strict=True):
        fa1 = (0.097 - 0.68 * (xi / 120.0 - 0.15) ** 2) * a / math.sqrt(b)
        fa2 = 1.2 * cff / (math.sin(rad(b)) * cfc * d64)
        fa.append(min(fa1, fa2, 0.60))
        f.append(fa[-1] * cfc * d64)
        ar = max(7.46 * math.sin(rad(b)), 1.3)
        q.append(f[-1] ** 0.61 * cfd / ar**0.35)
        p.append(f[-1] ** 0.22 * cfd**2 * ar**0.3)
    # the same case to the digits of a calculation by another hand
    assert fa == pytest.approx([0.405, 0.432, 0.420, 0.380], abs=0.0005)
    assert f == pytest.approx([9.872, 10.520, 10.227, 9.265], abs=0.0005)
    assert q == pytest.approx([3.295, 3.621, 3.893, 4.436], abs=0.0005)
    assert p == pytest.approx([5.370, 5.192, 4.779, 3.970], abs=0.0005)
    _, loads = design(bow=angles(alpha=alpha, beta_prime=beta_prime))
    for n in range(4):
        assert value(loads, f"shape_factor_{n + 1}", f"station {n + 1}") == near(fa[n])
        assert value(loads, f"force_{n + 1}_mn") == near(f[n])
        assert value(loads, f"line_load_{n + 1}_mn_per_m") == near(q[n])
        assert value(loads, f"pressure_{n + 1}_mpa") == near(p[n])
    # maxima from three different sub-regions: F of the second, Q of the fourth, P of the first
    assert loads.choices[1] == "largest F from sub-region 2, largest Q from sub-region 4, largest P from sub-region 1"
    bow = loads.patches[0]
    assert (bow.force_mn, bow.width_m, bow.height_m) == (near(f[1]), near(f[1] / q[3]), near(q[3] / p[0]))
    assert bow.pressure_mpa == near(p[0])
    assert (bow.width_m, bow.height_m) == (pytest.approx(2.372, abs=5e-4), pytest.approx(0.826, abs=5e-4))
    other = loads.patches[1]
    force = 0.36 * cfc * d64
    line = 0.639 * force**0.61 * cfd
    assert (other.force_mn, other.width_m) == (near(force), near(force / line))
    assert (other.height_m, other.pressure_mpa) == (near(force / line / 3.6), near(3.6 * line**2 / force))
    assert (bow.areas, other.areas) == (("B",), ("BIi", "BIl", "BIb", "Mi", "Ml", "Si", "Sl", "Sb"))
    assert (bow.name, other.name) == ("bow", "outside the bow")


def test_taking_all_three_from_one_station_would_be_less() -> None:
    _, loads = design()
    for n in range(1, 5):
        assert loads.patches[0].pressure_mpa >= value(loads, f"pressure_{n}_mpa")
    one = [value(loads, f"line_load_{n}_mn_per_m") for n in range(1, 5)]
    assert value(loads, "bow_line_load_mn_per_m") == max(one) != one[0]


def test_stations_are_the_middles_of_four_equal_parts() -> None:
    areas, _ = design()
    assert SUB_REGIONS == 4
    assert POLAR.stations(areas).tolist() == [3.0, 9.0, 15.0, 21.0]


def test_columns_are_what_the_members_read() -> None:
    _, loads = design()
    needed = {
        name
        for rule in (POLAR.plating, POLAR.framing)
        for name in rule.chain.inputs
        if name.startswith(("bow_", "other_")) or name in ("ice_class", "icebreaker", "effective_protection")
    }
    assert set(loads.columns) == needed
    assert all(len(values) == 1 for values in loads.columns.values())
    for patch, key in zip(loads.patches, ("bow", "other"), strict=True):
        assert loads.columns[f"{key}_pressure_mpa"][0] == patch.pressure_mpa
        assert loads.columns[f"{key}_patch_height_m"][0] == patch.height_m
        assert loads.columns[f"{key}_patch_width_m"][0] == patch.width_m


def test_vertical_sided_bow_by_hand() -> None:
    # hand, PC6, 14 kt: F = alpha/30 x 3.43 x 14^0.47; Q = F^0.22 x 2.82; P = F^0.56 x 0.65; greatest at alpha 40
    _, loads = design(
        facts(ice_class="PC6", stem_angle_deg=85.0), angles(alpha=(40.0, 30.0, 20.0, 12.0), beta_prime=STEEP)
    )
    f = 40.0 / 30.0 * 3.43 * 14.0**0.47
    q, p = f**0.22 * 2.82, f**0.56 * 0.65
    bow = loads.patches[0]
    assert (bow.force_mn, bow.width_m, bow.height_m, bow.pressure_mpa) == (near(f), near(f / q), near(q / p), near(p))
    assert (bow.force_mn, bow.width_m, bow.height_m, bow.pressure_mpa) == (
        pytest.approx(15.81, abs=0.005),
        pytest.approx(3.054, abs=0.0006),
        pytest.approx(1.697, abs=0.0006),
        pytest.approx(3.050, abs=0.0006),
    )
    assert bow.areas == ("B", "BIi")
    assert "aspect_ratio_1" not in loads.traces["design"]
    assert loads.choices[1] == "largest F from sub-region 1, largest Q from sub-region 1, largest P from sub-region 1"
    _, level = design(
        facts(ice_class="PC6", stem_angle_deg=85.0), angles(alpha=(20.0, 40.0, 40.0, 12.0), beta_prime=STEEP)
    )
    assert level.choices[1].startswith("largest F from sub-regions 2, 3, largest Q from sub-regions 2, 3, largest P")


def test_bulbous_bow_is_never_less_than_its_least() -> None:
    # hand, PC7, 14 kt, fine waterline: F = 4/30 x 2.60 x 14^0.47 = 1.2; least F = 0.6 x 1.80 x 14^0.64 = 5.8
    ship = facts(ice_class="PC7", bulbous_bow=True)
    _, loads = design(ship, angles(alpha=(4.0, 3.0, 2.0, 1.0)))
    f = 0.6 * 1.80 * 14.0**0.64
    q, p = f**0.61 * 1.11 / 1.3**0.35, f**0.22 * 1.11**2 * 1.3**0.3
    bow = loads.patches[0]
    assert (bow.force_mn, bow.width_m, bow.height_m, bow.pressure_mpa) == (near(f), near(f / q), near(q / p), near(p))
    least = "the least of a bulbous bow (I2.3.1(vii))"
    assert loads.choices[1] == f"largest F from {least}, largest Q from {least}, largest P from {least}"
    _, wide = design(ship, angles(alpha=(45.0, 30.0, 20.0, 12.0)))
    # hand: F 13.5, Q 13.5^0.22 x 2.33 = 4.1 > 3.0, P 13.5^0.56 x 0.65 = 2.8 > 2.0
    assert wide.choices[1] == "largest F from sub-region 1, largest Q from sub-region 1, largest P from sub-region 1"
    assert wide.patches[0].force_mn == near(45.0 / 30.0 * 2.60 * 14.0**0.47)


def test_floors_of_a_small_ship() -> None:
    # hand, 3 kt: bow formulas with 5 kt, others with 10 kt
    _, small = design(facts(displacement_upper_kt=3.0))
    _, five = design(facts(displacement_upper_kt=5.0))
    _, ten = design(facts(displacement_upper_kt=10.0))
    assert small.patches[0].force_mn == five.patches[0].force_mn < ten.patches[0].force_mn
    assert small.patches[1] == ten.patches[1]
    assert value(small, "displacement_upper_kt") == 3.0
    assert (value(small, "displacement_bow_kt"), value(small, "displacement_other_kt")) == (5.0, 10.0)


def codes(loads: DesignLoads) -> list[str]:
    return [finding.kind.code for finding in loads.findings]


@pytest.mark.parametrize(
    ("changed", "expected"),
    [
        ({}, []),
        ({"stem_to_rudder_m": 122.0}, ["BW401"]),
        ({"stem_to_rudder_m": 118.0}, ["BW401"]),
        ({"displacement_upper_kt": 9.99}, ["BW402"]),
        ({"displacement_upper_kt": 10.0}, []),
        ({"stem_baseline_aft_of_stem_m": 24.0}, []),
        ({"operates_astern": True}, ["BW405"]),
        ({"parallel_end_forward_of_ap_m": 110.0}, []),
        ({"parallel_end_forward_of_ap_m": 116.2}, ["BW407"]),
    ],
)
def test_findings(changed: dict[str, Any], expected: list[str]) -> None:
    assert codes(design(facts(**changed))[1]) == expected


def test_finding_of_a_limited_bow_border() -> None:
    ship = facts(alpha_ten_aft_of_stem_m=20.0, stem_baseline_aft_of_stem_m=24.0)
    assert codes(design(ship)[1]) == ["BW404"]


def test_finding_and_choice_of_the_stern_factors() -> None:
    reason = Override(key="overrides.azimuthing_stern_factors", reason="letter of the society")
    _, loads = design(facts(azimuthing_propulsion=True), overrides=(reason,))
    assert codes(loads) == ["BW406"]
    assert "letter of the society" in loads.findings[0].message
    assert "azimuthing units: stern factors Si and Sl from Table 4" in loads.choices[-1]
    _, unused = design(overrides=(reason,))
    assert not any("azimuthing" in choice for choice in unused.choices)


def test_choices_say_what_was_chosen() -> None:
    _, plain = design()
    assert plain.choices[2:] == ("area factors from Table 4",)
    _, breaker = design(facts(icebreaker=True))
    assert breaker.choices[2:] == ("area factors from Table 5 (notation Icebreaker)",)
    _, light = design(facts(ice_class="PC6"))
    assert light.choices[3].startswith("PC6: the icebelt of the bow intermediate region, BIi, takes the bow's load")
    _, astern = design(facts(operates_astern=True))
    assert "operates astern" in astern.choices[-1]


@pytest.mark.parametrize("bad", [0.0, -1.0, 1000.1, 14000.0, math.nan, math.inf])
def test_displacement_in_tonnes_is_refused(bad: float) -> None:
    with pytest.raises(InputError, match=r"1 kt = 1000 t.*more than 0 up to 1000"):
        design(facts(displacement_upper_kt=bad))


def test_displacement_of_a_thousand_kilotonnes_is_taken() -> None:
    assert design(facts(displacement_upper_kt=1000.0))[1].patches[1].force_mn > 0.0


@pytest.mark.parametrize("x", [(3.0, 9.0, 15.0, 21.1), (3.0, 9.0, 15.0, 21.00001), (27.0, 21.0, 15.0, 9.0)])
def test_angles_read_elsewhere_are_refused(x: tuple[float, ...]) -> None:
    with pytest.raises(InputError, match="middles of the bow's sub-regions"):
        design(bow=angles(x=x))


def test_too_few_stations_are_refused() -> None:
    short = {name: values[:3] for name, values in angles().items()}
    with pytest.raises(InputError, match="middles"):
        design(bow=short)


def test_stations_within_a_micrometre_are_taken() -> None:
    exact, near_ = design()[1], design(bow=angles(x=(3.0 + 9e-7, 9.0, 15.0, 21.0)))[1]
    assert exact.patches == near_.patches


def test_a_shape_factor_that_is_not_positive_is_out_of_scope() -> None:
    # the bow is drawn out to 100 m of 120 by the stem line: fa_1 at 87.5 m: 0.097 - 0.68 (0.729 - 0.15)^2 < 0
    ship = facts(stem_baseline_aft_of_stem_m=100.0, waterline_extreme_length_m=124.0)
    with pytest.raises(ScopeError, match="bow sub-region 4: the shape factor is not positive"):
        design(ship, angles(x=(12.5, 37.5, 62.5, 87.5)))


def test_areas_of_another_rule_set_are_refused() -> None:
    areas, _ = design()
    with pytest.raises(TypeError, match=r"^the hull areas were made by another rule set$"):
        POLAR.stations(object())  # type: ignore[arg-type]
    assert stations(areas).shape == (4,)  # type: ignore[arg-type]


def test_traces_reach_from_the_patch_to_what_was_given() -> None:
    areas, loads = design()
    names = {node.name for node in loads.traces["design"].upstream("bow_pressure_mpa")}
    assert {"displacement_upper_kt", "stem_to_rudder_m", "alpha_ten_aft_of_stem_m", "alpha_4_deg", "ice_class"} <= names
    assert set(loads.traces) == {"ship", *(f"station {n}" for n in range(1, 5)), "design"}
    inputs = [node for node in loads.traces["design"].values() if node.step is None]
    per_station = {f"{n}_{k}{u}" for n, u in STATION_NAMES for k in range(1, 5)}
    given_names = set(facts()) | per_station
    assert {node.name for node in inputs} <= given_names
    cells = [cell for node in loads.traces["design"].values() for cell in node.cells]
    assert {cell.table for cell in cells} == {"UR I2 Figure 1", "UR I2 Table 1", "UR I2 I2.1.2 and I2.3"}
    assert areas.trace["rule_length_m"] in loads.traces["design"].values()


BOW = st.tuples(*(st.floats(1.0, 60.0) for _ in range(4)))
BETA = st.tuples(st.floats(10.5, 60.0), *(st.floats(0.5, 60.0) for _ in range(3)))


@given(st.sampled_from(CLASSES), st.floats(0.5, 300.0), BOW, BETA)
def test_identities_of_any_standard_bow(ice_class: str, d: float, alpha: Any, beta: Any) -> None:
    _, loads = design(facts(ice_class=ice_class, displacement_upper_kt=d), angles(alpha=alpha, beta_prime=beta))
    pressures = [value(loads, f"pressure_{n}_mpa") for n in range(1, 5)]
    bow, other = loads.patches
    assert bow.pressure_mpa == pytest.approx(max(pressures), rel=1e-12)
    for patch in loads.patches:
        assert patch.pressure_mpa * patch.width_m * patch.height_m == pytest.approx(patch.force_mn, rel=1e-12)
    assert other.width_m / other.height_m == pytest.approx(3.6, rel=1e-12)
    assert all(0.0 < value(loads, f"shape_factor_{n}") <= 0.60 for n in range(1, 5))


@given(st.floats(1.0, 200.0), st.floats(1.0, 1.5), BOW, BETA, st.sampled_from(CLASSES[:-1]))
def test_more_displacement_or_a_stronger_class_never_loads_less(
    d: float, more: float, alpha: Any, beta: Any, ice_class: str
) -> None:
    bow = angles(alpha=alpha, beta_prime=beta)
    weaker = CLASSES[CLASSES.index(ice_class) + 1]
    base = design(facts(displacement_upper_kt=d, ice_class=ice_class), bow)[1].patches
    heavy = design(facts(displacement_upper_kt=d * more, ice_class=ice_class), bow)[1].patches
    light = design(facts(displacement_upper_kt=d, ice_class=weaker), bow)[1].patches
    for one, two, three in zip(base, heavy, light, strict=True):
        assert two.force_mn >= one.force_mn * (1.0 - 1e-12)
        assert two.pressure_mpa >= one.pressure_mpa * (1.0 - 1e-12)
        assert three.force_mn < one.force_mn
        assert three.pressure_mpa < one.pressure_mpa


def test_a_design_is_the_same_value_twice() -> None:
    one, two = design()[1], design()[1]
    assert one.patches == two.patches
    assert replace(one.patches[0], force_mn=0.0) != two.patches[0]
    assert np.array_equal(one.columns["bow_pressure_mpa"], two.columns["bow_pressure_mpa"])
