"""UR I2.7 and I2.5.10: side longitudinals and oblique frames. Expected numbers: by hand."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from tests.rules.polar_iacs_2019.cases import column

from beltwright.rules.polar_iacs_2019 import i2_5_framing as framing
from beltwright.rules.polar_iacs_2019 import i2_7_longitudinal_frames as longitudinal


def near(expected: float) -> object:
    return pytest.approx(expected, rel=1e-12)


def test_load_on_one_longitudinal() -> None:
    # hand, s 0.45: b 0.7: b' = 1.5556; k_o = 1 - 0.3/b' = 0.80714; b_2 = 0.7 (1 - 0.25 b') = 0.42778; b_1 = 0.34528
    ratio = longitudinal.patch_over_spacing(patch_height_m=column(0.7), spacing_m=column(0.45))
    assert ratio[0] == near(14.0 / 9.0)
    share = longitudinal.load_share(patch_over_spacing=ratio)
    assert share[0] == near(1.0 - 2.7 / 14.0)
    height = longitudinal.load_height(patch_over_spacing=ratio, patch_height_m=column(0.7), spacing_m=column(0.45))
    assert height[0] == near(0.7 * (1.0 - 14.0 / 36.0))
    found = longitudinal.effective_load_height(load_share=share, load_height_m=height)
    assert found[0] == near((11.3 / 14.0) * 0.7 * (22.0 / 36.0))


def test_patch_much_higher_than_the_spacing_loads_the_whole_spacing() -> None:
    found = longitudinal.load_height(
        patch_over_spacing=column([2.0, 2.5]), patch_height_m=column([0.8, 1.0]), spacing_m=column(0.4)
    )
    assert found.tolist() == [0.4, 0.4]


@given(st.floats(0.2, 1.0))
def test_load_height_is_continuous_at_two_spacings(spacing: float) -> None:
    at = 2.0 * (1.0 + np.array([-1e-9, 0.0, 1e-9]))
    found = longitudinal.load_height(patch_over_spacing=at, patch_height_m=at * spacing, spacing_m=column(spacing))
    assert np.ptp(found) < 1e-8


@pytest.mark.parametrize(("ratio", "share"), [(0.29, 1.0), (0.3, 1.0), (0.4, 0.25), (0.6, 0.5), (3.0, 0.9)])
def test_load_share_ends_at_three_tenths(ratio: float, share: float) -> None:
    assert longitudinal.load_share(patch_over_spacing=column(ratio))[0] == near(share)
    inside = framing.framing_in_scope(
        transverse_share=column([0.0, 0.99, 1.0]),
        patch_over_spacing=column(ratio),
    )
    assert inside.tolist() == [ratio > 0.3, ratio > 0.3, True]


def test_shear_area_and_modulus_by_hand() -> None:
    # hand: p = 0.55 x 1.0 x 4 = 2.2; A_L = 10^4 x 2.2 x 0.5 x 0.35 x 2.4/(0.577 x 355) = 9240/204.835
    area = longitudinal.shear_area_longitudinal(
        area_factor=column(0.55),
        frame_peak_longitudinal=column(1.0),
        pressure_mpa=column(4.0),
        effective_load_height_m=column(0.35),
        span_m=column(2.4),
        yield_mpa=column(355.0),
    )
    assert area[0] == near(9240.0 / 204.835)
    # hand: Z = 10^6 x 2.2 x 0.35 x 2.4^2 x 0.52/(8 x 355)
    modulus = longitudinal.modulus_longitudinal(
        area_factor=column(0.55),
        frame_peak_longitudinal=column(1.0),
        pressure_mpa=column(4.0),
        effective_load_height_m=column(0.35),
        span_m=column(2.4),
        bending_factor_longitudinal=column(0.52),
        yield_mpa=column(355.0),
    )
    assert modulus[0] == near(1e6 * 2.2 * 0.35 * 5.76 * 0.52 / 2840.0)


def test_shear_utilisation_is_held_at_one() -> None:
    found = longitudinal.shear_utilisation_longitudinal(
        shear_area_longitudinal_cm2=column([30.0, 60.0, 61.0]), shear_area_net_cm2=column(60.0)
    )
    assert found.tolist() == [0.5, 1.0, 1.0]


def test_bending_factor() -> None:
    # hand, k_w 0.5, a_4 0.6: 1/(2 + 0.5 (0.8 - 1)) = 1/1.9; a_4 0: 1/2, the clamped beam w a^2/16; a_4 1: 1/1.5
    found = longitudinal.bending_factor_longitudinal(
        web_share=column(0.5), shear_utilisation_longitudinal=column([0.6, 0.0, 1.0])
    )
    assert found.tolist() == [near(1.0 / 1.9), 0.5, near(1.0 / 1.5)]


@pytest.mark.parametrize(
    ("share", "area", "modulus"),
    [(0.0, 30.0, 900.0), (0.25, 32.5, 850.0), (1.0, 40.0, 700.0)],
)
def test_oblique_frames_interpolate(share: float, area: float, modulus: float) -> None:
    # hand: longitudinal 30 cm2, 900 cm3; transverse 40 cm2, 700 cm3
    inside = np.array([True, False])
    areas = {"shear_area_transverse_cm2": column(40.0), "shear_area_longitudinal_cm2": column(30.0)}
    for in_full, asked in ((False, area), (True, 60.0)):  # in full the greater of both, here a number of its own
        found = framing.shear_area_required(
            in_scope=inside, both_in_full=column(in_full), transverse_share=column(share),
            greater_shear_area_cm2=column(60.0), **areas,
        )  # fmt: skip
        assert found.tolist() == [asked, math.inf]
    required = framing.plastic_modulus_required(
        in_scope=inside,
        transverse_share=column(share),
        modulus_transverse_cm3=column(700.0),
        modulus_longitudinal_cm3=column(900.0),
    )
    assert required.tolist() == [modulus, math.inf]
