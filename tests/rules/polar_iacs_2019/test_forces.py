"""UR I2.3.1 and I2.3.2. Every expected number is worked out by hand with the math module, step by step."""

from __future__ import annotations

import math

import numpy as np
import pytest
from tests.rules.polar_iacs_2019.cases import CLASSES, column

from beltwright.core.errors import InputError
from beltwright.rules.polar_iacs_2019 import i2_3_2_forces as force

LENGTH, PC4 = 120.0, column("PC4")
EXACT = pytest.approx


def close(expected: float) -> object:
    return EXACT(expected, rel=1e-12)


@pytest.mark.parametrize(
    ("stem", "beta", "inside"),
    [
        (0.0, 40.0, False),
        (1e-6, 40.0, True),
        (79.999, 40.0, True),
        (80.0, 40.0, False),
        (-5.0, 40.0, False),
        (30.0, 10.0, False),
        (30.0, 10.001, True),
        (30.0, math.nan, False),
        (math.nan, 40.0, False),
    ],
)
def test_standard_bow_on_both_sides_of_each_limit(stem: float, beta: float, inside: bool) -> None:
    found = force.standard_bow(stem_angle_deg=column(stem), foremost_beta_prime_deg=column(beta))
    assert bool(found[0]) is inside


@pytest.mark.parametrize(("beta", "inside"), [(-0.001, False), (0.0, True), (10.0, True), (10.001, False)])
def test_vertical_side_on_both_sides_of_each_limit(beta: float, inside: bool) -> None:
    assert bool(force.vertical_side(beta_prime_deg=column(beta))[0]) is inside


def test_sub_region_middle_of_24_m() -> None:
    # hand: four parts of 6 m; middles 3, 9, 15, 21 m
    found = force.sub_region_middle(sub_region=np.arange(1, 5), bow_aft_m=column(24.0))
    assert found.tolist() == [3.0, 9.0, 15.0, 21.0]


def test_first_shape_factor_takes_degrees() -> None:
    # hand: (0.097 - 0.68 (9/120 - 0.15)^2) 27 / sqrt(33.94); (0.075 - 0.15)^2 = 0.005625; 0.097 - 0.003825 = 0.093175
    expected = 0.093175 * 27.0 / math.sqrt(33.94)
    found = force.shape_factor_angles(
        aft_of_stem_m=column(9.0),
        rule_length_m=column(LENGTH),
        alpha_deg=column(27.0),
        beta_prime_deg=column(33.94),
    )[0]
    assert found == close(expected)
    # in radians the factor would be sqrt(pi/180) = 0.132 times this: a plausible-looking but wrong load
    in_radians = 0.093175 * math.radians(27.0) / math.sqrt(math.radians(33.94))
    assert in_radians / found == EXACT(math.sqrt(math.pi / 180.0), rel=1e-12)


def test_first_shape_factor_is_greatest_at_fifteen_hundredths_of_the_length() -> None:
    x = np.array([0.10, 0.15, 0.20]) * LENGTH
    found = force.shape_factor_angles(
        aft_of_stem_m=x, rule_length_m=column(LENGTH), alpha_deg=column(20.0), beta_prime_deg=column(25.0)
    )
    assert found[1] == close(0.097 * 20.0 / 5.0)
    assert found[0] == EXACT(found[2], rel=1e-12)
    assert found[0] < found[1]


def test_second_shape_factor() -> None:
    # hand: 1.2 x 13.48 / (sin 30 x 4.50 x 14^0.64) = 16.176 / (0.5 x 4.5 x 14^0.64)
    expected = 16.176 / (2.25 * 14.0**0.64)
    found = force.shape_factor_flexure(
        flexural_factor=column(13.48),
        beta_prime_deg=column(30.0),
        crushing_factor=column(4.5),
        displacement_bow_kt=column(14.0),
    )[0]
    assert found == close(expected)


@pytest.mark.parametrize(
    ("first", "second", "expected"), [(0.4, 0.5, 0.4), (0.5, 0.4, 0.4), (0.7, 0.8, 0.60), (0.60, 0.61, 0.60)]
)
def test_shape_factor_is_the_least_of_three(first: float, second: float, expected: float) -> None:
    found = force.shape_factor(shape_factor_angles=column(first), shape_factor_flexure=column(second))
    assert found[0] == expected


def test_bow_force_line_load_and_pressure() -> None:
    # hand: F = 0.4318 x 4.5 x 14^0.64; AR = 7.46 x 0.5; Q = F^0.61 x 1.42/AR^0.35; P = F^0.22 x 1.42^2 AR^0.3
    f = 0.4318 * 4.5 * 14.0**0.64
    aspect = 7.46 * 0.5
    found = force.bow_force(shape_factor=column(0.4318), crushing_factor=column(4.5), displacement_bow_kt=column(14.0))
    assert found[0] == close(f)
    assert force.bow_aspect_ratio(beta_prime_deg=column(30.0))[0] == close(aspect)
    both = {"force_mn": column(f), "load_patch_factor": column(1.42), "aspect_ratio": column(aspect)}
    assert force.bow_line_load(**both)[0] == close(f**0.61 * 1.42 / aspect**0.35)
    assert force.bow_pressure(**both)[0] == close(f**0.22 * 1.42 * 1.42 * aspect**0.3)


def test_aspect_ratio_floor() -> None:
    # hand: 7.46 sin(beta') = 1.3 at beta' = asin(0.174263) = 10.0358 degrees
    at = math.degrees(math.asin(1.3 / 7.46))
    found = force.bow_aspect_ratio(beta_prime_deg=np.array([at - 0.1, at + 0.1]))
    assert found[0] == 1.3
    assert found[1] == close(7.46 * math.sin(math.radians(at + 0.1)))


def test_least_load_of_a_bulbous_bow() -> None:
    # hand, PC6, 14 kt: F = 0.6 x 2.40 x 14^0.64; Q = F^0.61 x 1.17 / 1.3^0.35; P = F^0.22 x 1.17^2 x 1.3^0.3
    f = 0.6 * 2.40 * 14.0**0.64
    found = force.bulb_least_force(crushing_factor=column(2.40), displacement_bow_kt=column(14.0))
    assert found[0] == close(f)
    q = force.bulb_least_line_load(force_least_mn=column(f), load_patch_factor=column(1.17))
    assert q[0] == close(f**0.61 * 1.17 / 1.3**0.35)
    p = force.bulb_least_pressure(force_least_mn=column(f), load_patch_factor=column(1.17))
    assert p[0] == close(f**0.22 * 1.17**2 * 1.3**0.3)


def test_class_factors_of_pc4() -> None:
    # recalled: UR I2 Table 1, row PC4; all cells are compared in test_tables
    assert force.crushing_factor(ice_class=PC4)[0] == 4.50
    assert force.flexural_factor(ice_class=PC4)[0] == 13.48
    assert force.load_patch_factor(ice_class=PC4)[0] == 1.42
    assert force.displacement_factor(ice_class=PC4)[0] == 130.0


def test_class_factors_fall_with_class() -> None:
    for clause in (force.crushing_factor, force.flexural_factor, force.load_patch_factor, force.displacement_factor):
        assert (np.diff(clause(ice_class=column(CLASSES))) < 0.0).all(), clause.name


@pytest.mark.parametrize(("ice_class", "factors"), [("PC6", (3.43, 2.82, 0.65)), ("PC7", (2.60, 2.33, 0.65))])
def test_vertical_bow_factors(ice_class: str, factors: tuple[float, float, float]) -> None:
    key = column(ice_class)
    assert force.vertical_crushing_factor(ice_class=key)[0] == factors[0]
    assert force.vertical_line_load_factor(ice_class=key)[0] == factors[1]
    assert force.vertical_pressure_factor(ice_class=key)[0] == factors[2]


@pytest.mark.parametrize("ice_class", CLASSES[:5])
def test_no_vertical_bow_factors_for_stronger_classes(ice_class: str) -> None:
    for clause in (
        force.vertical_crushing_factor,
        force.vertical_line_load_factor,
        force.vertical_pressure_factor,
    ):
        with pytest.raises(InputError, match="PC6, PC7"):
            clause(ice_class=column(ice_class))


def test_vertical_sided_bow() -> None:
    # hand, PC6, alpha 40, 14 kt: fa = 40/30; F = fa x 3.43 x 14^0.47 = 15.81; Q = F^0.22 x 2.82; P = F^0.56 x 0.65
    fa = 40.0 / 30.0
    f = fa * 3.43 * 14.0**0.47
    assert force.vertical_shape_factor(alpha_deg=column(40.0))[0] == close(fa)
    found = force.vertical_force(
        shape_factor=column(fa), vertical_crushing_factor=column(3.43), displacement_bow_kt=column(14.0)
    )
    assert found[0] == close(f)
    assert found[0] == EXACT(15.81, abs=0.005)
    q = force.vertical_line_load(force_mn=column(f), vertical_line_load_factor=column(2.82))
    assert q[0] == close(f**0.22 * 2.82)
    p = force.vertical_pressure(force_mn=column(f), vertical_pressure_factor=column(0.65))
    assert p[0] == close(f**0.56 * 0.65)


@pytest.mark.parametrize("greatest", [1, 2, 3, 4])
def test_each_maximum_is_taken_by_itself(greatest: int) -> None:
    values = {n: (9.0 if n == greatest else float(n)) for n in range(1, 5)}
    f = force.greatest_force(**{f"force_{n}_mn": column(v) for n, v in values.items()})
    q = force.greatest_line_load(**{f"line_load_{n}_mn_per_m": column(v) for n, v in values.items()})
    p = force.greatest_pressure(**{f"pressure_{n}_mpa": column(v) for n, v in values.items()})
    assert (f[0], q[0], p[0]) == (9.0, 9.0, 9.0)


@pytest.mark.parametrize(("sub_regions", "least", "expected"), [(5.0, 4.0, 5.0), (4.0, 5.0, 5.0)])
def test_bulbous_bow_not_less_than_its_least(sub_regions: float, least: float, expected: float) -> None:
    a, b = column(sub_regions), column(least)
    assert force.bulb_force(force_sub_regions_mn=a, force_least_mn=b)[0] == expected
    assert force.bulb_line_load(line_load_sub_regions_mn_per_m=a, line_load_least_mn_per_m=b)[0] == expected
    assert force.bulb_pressure(pressure_sub_regions_mpa=a, pressure_least_mpa=b)[0] == expected


def test_displacement_term_on_both_sides_of_its_branch() -> None:
    # hand, CFDIS = 22 kt: 20^0.64; 22^0.64; 22^0.64 + 0.10 x (25 - 22)
    found = force.displacement_term(
        displacement_other_kt=np.array([20.0, 22.0, 25.0]), displacement_factor=column(22.0)
    )
    assert found.tolist() == [close(20.0**0.64), close(22.0**0.64), close(22.0**0.64 + 0.3)]


def test_displacement_term_is_continuous() -> None:
    at = 22.0 * (1.0 + np.array([-1e-9, 0.0, 1e-9]))
    found = force.displacement_term(displacement_other_kt=at, displacement_factor=column(22.0))
    assert np.ptp(found) < 1e-6


def test_force_and_line_load_outside_the_bow() -> None:
    # hand, PC4, 14 kt: DF = 14^0.64 = 5.414; F = 0.36 x 4.50 x DF = 8.771; Q = 0.639 x F^0.61 x 1.42 = 3.412
    term = 14.0**0.64
    f = 0.36 * 4.50 * term
    found = force.other_force(crushing_factor=column(4.50), displacement_term=column(term))
    assert found[0] == close(f)
    assert found[0] == EXACT(8.771, abs=0.0005)
    q = force.other_line_load(other_force_mn=column(f), load_patch_factor=column(1.42))
    assert q[0] == close(0.639 * f**0.61 * 1.42)
    assert q[0] == EXACT(3.412, abs=0.0005)


# Rebuilt from a collision model: pressure P0 A^-0.1, ice edge A = C d^2. The values below are inferred from the table,
# so that this guards against typing errors and proves nothing about the printed page.
COLLISION = {  # class: P0 MPa, V m/s, flexural strength MPa, thickness m
    "PC1": (6.0, 5.70, 1.40, 7.0),
    "PC2": (4.2, 4.00, 1.30, 6.0),
    "PC3": (3.0, 3.00, 1.20, 4.2),
    "PC4": (2.45, 2.50, 1.10, 3.5),
    "PC5": (2.0, 2.00, 1.00, 3.0),
    "PC6": (1.5, 1.75, 0.70, 2.8),
    "PC7": (1.3, 1.50, 0.65, 2.5),
}


@pytest.mark.parametrize("ice_class", CLASSES)
def test_class_factors_fit_round_collision_numbers(ice_class: str) -> None:
    pressure, speed, strength, thickness = COLLISION[ice_class]
    key = column(ice_class)
    assert force.flexural_factor(ice_class=key)[0] == EXACT(strength * thickness**2, abs=0.005)
    assert force.load_patch_factor(ice_class=key)[0] == EXACT(pressure**0.389, abs=0.005)
    assert force.crushing_factor(ice_class=key)[0] == EXACT(pressure**0.36 * speed**1.28, rel=0.03)


def test_constants_of_the_patch_come_from_its_aspect_ratio() -> None:
    # 3.6^-0.35 = 0.6387, printed 0.639; 2 tan 75 = 7.464, printed 7.46
    q_fixed = force.bow_line_load(force_mn=column(1.0), load_patch_factor=column(1.0), aspect_ratio=column(3.6))
    q_other = force.other_line_load(other_force_mn=column(1.0), load_patch_factor=column(1.0))
    assert q_other[0] == EXACT(q_fixed[0], abs=0.0005)
    assert force.bow_aspect_ratio(beta_prime_deg=column(90.0))[0] == EXACT(
        2.0 * math.tan(math.radians(75.0)), abs=0.005
    )
