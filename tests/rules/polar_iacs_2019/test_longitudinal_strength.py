"""UR I2.13 by hand: force at the bow, every node of the distributions from both sides, Table 9 on both sides of 0.7."""

from __future__ import annotations

from math import radians, sin, sqrt, tan
from typing import Any

import numpy as np
import pytest
from tests.rules.polar_iacs_2019.cases import POLAR, column, design, facts

from beltwright.core.errors import InputError
from beltwright.core.outcome import NotApplicable, is_met, utilisation
from beltwright.rules.polar_iacs_2019 import i2_13_longitudinal_strength as i2_13
from beltwright.rules.protocol import GirderForce, GirderRule

NEAR = 1e-9


def rule() -> GirderRule:
    assert POLAR.girder is not None
    return POLAR.girder


def given(**changed: Any) -> dict[str, np.ndarray]:
    """A wedge bow of 30 degrees both ways: B = 20 m, L_B = 10/tan(30) m, waterplane 2100 m2."""
    girder = {
        "waterplane_upper_m2": 2100.0,
        "breadth_upper_m": 20.0,
        "bow_length_m": 10.0 / tan(radians(30.0)),
        "bow_exponent": 1.0,
        "stem_waterline_angle_deg": 30.0,
    }
    own = {name: column(changed.pop(name, value)) for name, value in girder.items()}
    return {**facts(**changed), **own}


def force(**changed: Any) -> GirderForce:
    columns = given(**changed)
    _, loads = design(ship={name: columns[name] for name in facts()})
    found = rule().force(columns, loads.traces["ship"])
    assert isinstance(found, GirderForce)
    return found


def test_force_of_the_wedge_by_hand() -> None:
    # hand: PC4 (CFL 3.15, CFF 13.48), D 14 kt, L 120 m, gamma = alpha = 30 degrees
    kf = (tan(radians(30.0)) / tan(radians(30.0)) ** 2) ** 0.9  # 1.73205^0.9 = 1.6395
    kh = 0.01 * 2100.0  # 21 MN/m
    ki = kf / kh  # 0.07807
    one = 0.534 * ki**0.15 * sin(radians(30.0)) ** 0.2 * sqrt(14.0 * kh) * 3.15
    two = 1.20 * 13.48  # 16.176
    assert (kf, ki, one, two) == pytest.approx((1.6395, 0.07807, 17.127, 16.176), rel=1e-4)
    trace = force().trace
    assert trace["form_parameter"].value == pytest.approx(kf, rel=1e-12)
    assert trace["indentation_parameter"].value == pytest.approx(ki, rel=1e-12)
    assert trace["ramming_force_mn"].value == pytest.approx(one, rel=1e-12)
    assert trace["flexural_limit_force_mn"].value == pytest.approx(two, rel=1e-12)
    assert trace["ice_force_mn"].value == pytest.approx(two, rel=1e-12)
    # hand: M_I = 0.1 * 1 * 120 * sin(30)^-0.2 * 16.176 = 222.98 MNm
    moment = i2_13.ice_bending_moment(
        moment_distribution=column(1.0),
        rule_length_m=column(120.0),
        stem_angle_deg=column(30.0),
        ice_force_mn=column(two),
    )
    assert moment[0] == pytest.approx(12.0 * 2.0**0.2 * 16.176, rel=1e-12)
    assert moment[0] == pytest.approx(222.98, abs=0.01)


def test_class_factor_of_every_class() -> None:
    """Table 1 as recalled, from a list of its own; falls with the class."""
    factors = i2_13.longitudinal_strength_factor(ice_class=np.array([f"PC{n}" for n in range(1, 8)]))
    assert factors.tolist() == [7.46, 5.46, 4.17, 3.15, 2.50, 2.37, 1.81]
    assert (np.diff(factors) < 0.0).all()


def test_the_parts_of_the_force_by_hand() -> None:
    """kind: hand. K_h = 0.01 x 2100 = 21; with K_I 1, gamma 90, D K_h 16, CFL 2: 0.534 x 4 x 2 = 4.272."""
    assert i2_13.waterplane_stiffness(waterplane_upper_m2=column(2100.0))[0] == pytest.approx(21.0, rel=1e-12)
    found = i2_13.ramming_force(
        indentation_parameter=column(1.0),
        stem_angle_deg=column(90.0),
        displacement_other_kt=column(8.0),
        waterplane_stiffness_mn_per_m=column(2.0),
        longitudinal_strength_factor=column(2.0),
    )
    assert found[0] == pytest.approx(4.272, rel=1e-12)
    assert i2_13.flexural_limit_force(flexural_factor=column(13.48))[0] == pytest.approx(16.176, rel=1e-12)


def test_the_wedge_is_the_blunt_bow_with_exponent_one() -> None:
    # tan(alpha) = (B/2)/L_B, so 2 C B^0 / 2 = tan(alpha)
    for alpha, gamma in ((12.0, 20.0), (30.0, 30.0), (45.0, 60.0)):
        length = 10.0 / tan(radians(alpha))
        c = i2_13.waterline_coefficient(
            bow_length_m=column(length), breadth_upper_m=column(20.0), bow_exponent=column(1.0)
        )
        blunt = i2_13.form_parameter_blunt(
            waterline_coefficient=c,
            breadth_upper_m=column(20.0),
            bow_exponent=column(1.0),
            stem_angle_deg=column(gamma),
        )
        wedge = i2_13.form_parameter_wedge(stem_waterline_angle_deg=column(alpha), stem_angle_deg=column(gamma))
        assert blunt == pytest.approx(wedge, rel=1e-12)


def test_a_spoon_by_hand() -> None:
    # hand: e_b 0.5, B 20, L_B 30, gamma 25: C = 1/(2 (1.5)^0.5) = 0.408248
    # K_f = (2 C 20^0.5 / 1.5)^0.9 tan(25)^-1.35 = 2.43432^0.9 * 0.466308^-1.35
    c = 1.0 / (2.0 * 1.5**0.5)
    kf = (2.0 * c * 20.0**0.5 / 1.5) ** 0.9 * tan(radians(25.0)) ** -1.35
    assert (c, kf) == pytest.approx((0.408248, 6.24), rel=2e-3)
    trace = force(bow_exponent=0.5, bow_length_m=30.0, stem_angle_deg=25.0).trace
    assert trace["waterline_coefficient"].value == pytest.approx(c, rel=1e-12)
    assert trace["form_parameter"].value == pytest.approx(kf, rel=1e-12)


def test_wedge_formula_only_for_an_exponent_of_one_and_a_sharp_stem() -> None:
    assert "waterline_coefficient" not in force().trace
    assert "waterline_coefficient" in force(bow_exponent=0.999).trace
    assert "waterline_coefficient" in force(stem_waterline_angle_deg=80.0).trace
    assert "waterline_coefficient" not in force(stem_waterline_angle_deg=79.99).trace


def test_displacement_is_not_less_than_ten_kilotonnes() -> None:
    low, floor = force(displacement_upper_kt=4.0).trace, force(displacement_upper_kt=10.0).trace
    assert low["ramming_force_mn"].value == floor["ramming_force_mn"].value
    above = force(displacement_upper_kt=10.1).trace["ramming_force_mn"].value
    assert above == pytest.approx(floor["ramming_force_mn"].value * sqrt(1.01), rel=1e-12)


def test_ramming_is_considered_below_eighty_degrees_only() -> None:
    flags = i2_13.ramming_considered(stem_angle_deg=np.array([30.0, 79.99, 80.0, 95.0]))
    assert flags.tolist() == [True, True, False, False]
    columns = given(stem_angle_deg=80.0)
    found = rule().force(columns, design()[1].traces["ship"])
    assert isinstance(found, NotApplicable)
    assert "80.0 degrees" in found.reason
    assert found.ref == "UR I2 I2.13.1"


@pytest.mark.parametrize("name", ["waterplane_upper_m2", "bow_exponent", "bow_length_m", "stem_waterline_angle_deg"])
def test_a_fact_outside_its_range_is_refused(name: str) -> None:
    for value in (-1.0, float("nan")):
        with pytest.raises(InputError, match=name):
            force(**{name: value})


@pytest.mark.parametrize(
    ("exponent", "form"),
    [
        (0.0, "landing craft"), (1e-6, "between landing craft and spoon"), (0.3999, "between landing craft and spoon"),
        (0.4, "spoon"), (0.6, "spoon"), (0.6001, "between spoon and wedge"), (0.9999, "between spoon and wedge"),
        (1.0, "wedge or hollow"), (1.4, "wedge or hollow"),
    ],
)  # fmt: skip
def test_printed_bow_form(exponent: float, form: str) -> None:
    assert i2_13.printed_bow_form(bow_exponent=column(exponent)).tolist() == [form]


POSITIVE = [(0.0, 0.0), (0.3, 0.0), (0.6, 0.0), (0.75, 0.5), (0.9, 1.0), (1.0, 1.0)]
NEGATIVE = [(0.0, 0.0), (0.1, -0.25), (0.2, -0.5), (0.4, -0.5), (0.6, -0.5), (0.7, -0.25), (0.8, 0.0), (1.0, 0.0)]
MOMENT = [(0.0, 0.0), (0.25, 0.5), (0.5, 1.0), (0.7, 1.0), (0.825, 0.65), (0.95, 0.3), (0.975, 0.15), (1.0, 0.0)]
CURVES = [
    (i2_13.shear_distribution_positive, POSITIVE),
    (i2_13.shear_distribution_negative, NEGATIVE),
    (i2_13.moment_distribution, MOMENT),
]


@pytest.mark.parametrize(("curve", "nodes"), CURVES, ids=["positive", "negative", "moment"])
def test_distributions_at_every_node_from_both_sides(curve: Any, nodes: list[tuple[float, float]]) -> None:
    places, factors = np.array(nodes).T
    assert curve(length_share=places) == pytest.approx(factors, abs=1e-12)
    for off in (-NEAR, NEAR):  # continuous: the steepest line rises by 6 over the length
        assert curve(length_share=np.clip(places + off, 0.0, 1.0)) == pytest.approx(factors, abs=7.0 * NEAR)
    fine = np.linspace(0.0, 1.0, 100_001)
    assert np.abs(np.diff(curve(length_share=fine))).max() <= 6.01e-5


def test_shear_force_and_place() -> None:
    share = i2_13.length_share(aft_of_stem_m=np.array([0.0, 30.0, 120.0]), rule_length_m=column(120.0))
    assert share.tolist() == [1.0, 0.75, 0.0]
    shear = i2_13.ice_shear_force(shear_distribution=np.array([1.0, -0.5]), ice_force_mn=column(16.176))
    assert shear == pytest.approx([16.176, -8.088], rel=1e-12)


def test_nodes_of_the_force_are_those_of_the_tables() -> None:
    share = 1.0 - force().nodes_aft_of_stem_m / 120.0
    assert share == pytest.approx([0.0, 0.2, 0.5, 0.6, 0.7, 0.8, 0.9, 0.95, 1.0], abs=1e-12)


def test_table_9_on_both_sides_of_its_border() -> None:
    # hand, sigma_u 500: 349.9/500 = 0.6998 -> sigma_y; 350 -> sigma_y; 350.1 -> 0.41 (500 + 350.1) = 348.541
    strength = i2_13.counted_strength(yield_mpa=np.array([349.9, 350.0, 350.1]), tensile_mpa=column(500.0))
    assert strength == pytest.approx([349.9, 350.0, 348.541], rel=1e-12)
    # the recorded step at the border: 0.41 (1 + 1/0.7) = 0.99571
    border = i2_13.counted_strength(yield_mpa=np.array([350.0, 350.0 * (1.0 + NEAR)]), tensile_mpa=column(500.0))
    assert border[1] / border[0] == pytest.approx(0.41 * (1.0 + 1.0 / 0.7), abs=1e-8)
    eta = i2_13.usage_factor(icebreaker=np.array([False, True]))
    assert eta.tolist() == [0.8, 0.6]
    assert i2_13.allowed_tension(usage_factor=eta, counted_strength_mpa=column(350.0)) == pytest.approx([280.0, 210.0])
    shear = i2_13.allowed_shear(usage_factor=eta, counted_strength_mpa=column(350.0))
    assert shear == pytest.approx([280.0 / sqrt(3.0), 210.0 / sqrt(3.0)], rel=1e-12)
    assert i2_13.allowed_stiffener_compression(critical_mpa=column(220.0)) == pytest.approx([200.0], rel=1e-12)


def section(**changed: Any) -> dict[str, np.ndarray]:
    """M_s 120 + M_I 173.4 on 2.1 and 2.6 m3; F_s 12 + F_I 15.25 on 0.30 m2; 355/490 MPa."""
    columns = {
        "icebreaker": False,
        "ice_shear_positive_mn": 15.25,
        "ice_shear_negative_mn": -7.6,
        "ice_moment_mnm": 173.4,
        "still_water_moment_mnm": 120.0,
        "still_water_shear_mn": 12.0,
        "modulus_deck_m3": 2.1,
        "modulus_bottom_m3": 2.6,
        "shear_area_m2": 0.30,
        "yield_mpa": 355.0,
        "tensile_mpa": 490.0,
    }
    assert set(changed) <= set(columns)
    return {name: column(changed.get(name, value)) for name, value in columns.items()}


def test_section_by_hand() -> None:
    out = rule().section.run(section())
    assert out["stress_deck_mpa"][0] == pytest.approx(293.4 / 2.1, rel=1e-12)  # 139.7
    assert out["stress_bottom_mpa"][0] == pytest.approx(293.4 / 2.6, rel=1e-12)
    assert out["stress_shear_mpa"][0] == pytest.approx(27.25 / 0.30, rel=1e-12)
    assert out["allowed_tension_mpa"][0] == pytest.approx(0.8 * 0.41 * 845.0, rel=1e-12)  # 355/490 = 0.724
    negative = rule().section.run(section(ice_shear_positive_mn=0.0))
    assert negative["stress_shear_mpa"][0] == pytest.approx(19.6 / 0.30, rel=1e-12)


def test_each_check_of_a_section_turns_where_its_limit_lies() -> None:
    allowed = 0.8 * 0.41 * 845.0
    limits = {
        "modulus_deck_m3": 293.4 / allowed,
        "modulus_bottom_m3": 293.4 / allowed,
        "shear_area_m2": 27.25 / (allowed / sqrt(3.0)),
    }
    for check, (name, least) in zip(rule().section.checks, limits.items(), strict=True):
        for share, met in ((1.0 + NEAR, True), (1.0 - NEAR, False)):
            out = rule().section.run(section(**{name: share * least}))
            assert bool(is_met(utilisation(out[check.required], out[check.offered]))[0]) is met
