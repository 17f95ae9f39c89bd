"""UR I2.3.3 to I2.3.5. Expected numbers: by hand."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from tests.rules.polar_iacs_2019.cases import AREAS, CLASSES, column

from beltwright.core.errors import InputError
from beltwright.rules.polar_iacs_2019 import i2_3_3_patch_and_factors as patch


def test_bow_patch() -> None:
    # hand: F 10, Q 4, P 5: w = 2.5 m, b = 0.8 m, P_avg = 10/(0.8 x 2.5) = 5
    w = patch.bow_patch_width(bow_force_mn=column(10.0), bow_line_load_mn_per_m=column(4.0))
    b = patch.bow_patch_height(bow_line_load_mn_per_m=column(4.0), bow_greatest_pressure_mpa=column(5.0))
    assert (w[0], b[0]) == (2.5, 0.8)
    assert patch.average_pressure(force_mn=column(10.0), patch_height_m=b, patch_width_m=w)[0] == 5.0


def test_other_patch() -> None:
    # hand: F 9, Q 2.5: w = 3.6 m, b = 1.0 m
    w = patch.other_patch_width(other_force_mn=column(9.0), other_line_load_mn_per_m=column(2.5))
    assert (w[0], patch.other_patch_height(other_patch_width_m=w)[0]) == (3.6, 1.0)


@given(st.floats(0.5, 200.0), st.floats(0.2, 40.0), st.floats(0.2, 15.0))
def test_bow_average_pressure_is_the_greatest_pressure(f: float, q: float, p: float) -> None:
    w = patch.bow_patch_width(bow_force_mn=column(f), bow_line_load_mn_per_m=column(q))
    b = patch.bow_patch_height(bow_line_load_mn_per_m=column(q), bow_greatest_pressure_mpa=column(p))
    found = patch.average_pressure(force_mn=column(f), patch_height_m=b, patch_width_m=w)[0]
    assert found == pytest.approx(p, rel=1e-12)


@pytest.mark.parametrize("ice_class", CLASSES)
def test_where_the_bow_load_acts(ice_class: str) -> None:
    acts = patch.bow_load_acts(ice_class=column(ice_class), load_area=column(AREAS))
    expected = {"B", "BIi"} if ice_class in ("PC6", "PC7") else {"B"}
    assert {area for area, yes in zip(AREAS, acts, strict=True) if yes} == expected


def test_the_patch_and_pressure_of_the_member() -> None:
    acts = np.array([True, False])
    height = patch.member_patch_height(
        bow_load_acts=acts, bow_patch_height_m=column(0.8), other_patch_height_m=column(0.7)
    )
    width = patch.member_patch_width(bow_load_acts=acts, bow_patch_width_m=column(2.4), other_patch_width_m=column(2.5))
    pressure = patch.member_pressure(bow_load_acts=acts, bow_pressure_mpa=column(5.0), other_pressure_mpa=column(4.0))
    assert (height.tolist(), width.tolist(), pressure.tolist()) == ([0.8, 0.7], [2.4, 2.5], [5.0, 4.0])


def test_area_factor_of_both_tables() -> None:
    # recalled: Table 4, Mi PC4 0.55; Table 5, Si PC4 0.80 against 0.60 in Table 4
    def factor(notation: str, area: str) -> float:
        found = patch.area_factor(notation=column(notation), ice_class=column("PC4"), hull_area=column(area))
        return float(found[0])

    assert factor("general", "Mi") == 0.55
    assert factor("general", "Si") == 0.60
    assert factor("icebreaker", "Si") == 0.80
    assert factor("icebreaker", "Mb") == 0.25


@pytest.mark.parametrize(("ice_class", "area"), [("PC4", "Mb"), ("PC7", "Mb"), ("PC6", "Sb"), ("PC7", "Sb")])
def test_an_area_without_strengthening_takes_no_load(ice_class: str, area: str) -> None:
    with pytest.raises(InputError, match="asks for nothing"):
        patch.area_factor(notation=column("general"), ice_class=column(ice_class), hull_area=column(area))


@pytest.mark.parametrize(
    ("spacing", "transverse", "longitudinal"),
    [  # hand: 1.8 - s, not less than 1.2; 2.2 - 1.2 s, not less than 1.5
        (0.30, 1.50, 1.84),
        (0.40, 1.40, 1.72),
        (0.58, 1.22, 1.504),
        (0.59, 1.21, 1.5),
        (0.60, 1.20, 1.5),
        (0.70, 1.20, 1.5),
    ],
)
def test_plating_peak_factors(spacing: float, transverse: float, longitudinal: float) -> None:
    assert patch.plating_peak_transverse(spacing_m=column(spacing))[0] == pytest.approx(transverse, rel=1e-12)
    assert patch.plating_peak_longitudinal(spacing_m=column(spacing))[0] == pytest.approx(longitudinal, rel=1e-12)


@pytest.mark.parametrize(
    ("bottom", "stringers", "spacing", "expected"),
    [  # hand: with stringers 1.6 - s, at least 1.0; without 1.8 - s, at least 1.2; bottom 1.0
        (False, True, 0.4, 1.2),
        (False, True, 0.6, 1.0),
        (False, True, 0.61, 1.0),
        (False, False, 0.4, 1.4),
        (False, False, 0.6, 1.2),
        (False, False, 0.61, 1.2),
        (True, False, 0.2, 1.0),
        (True, True, 0.2, 1.0),
    ],
)
def test_frame_peak_factors(bottom: bool, stringers: bool, spacing: float, expected: float) -> None:
    row = patch.frame_peak_row(bottom=column(bottom), load_distributing_stringer=column(stringers))
    found = patch.frame_peak_transverse(member=row, spacing_m=column(spacing))
    assert found[0] == pytest.approx(expected, rel=1e-12)


@pytest.mark.parametrize(
    ("web_spacing", "expected"),
    [(2.0, 1.0), (1.25, 1.0), (1.2499, 2.0 - 2.0 * 1.2499 / 2.5), (0.5, 1.6), (0.0, 2.0)],
)
def test_longitudinal_peak_factor(web_spacing: float, expected: float) -> None:
    # hand, patch 2.5 m wide: 1.0 from S_w = 1.25 m on; else 2 - 2 S_w/w
    found = patch.frame_peak_longitudinal(web_frame_spacing_m=column(web_spacing), patch_width_m=column(2.5))
    assert found[0] == pytest.approx(expected, rel=1e-12)


@given(st.floats(0.3, 6.0))
def test_longitudinal_peak_factor_is_continuous_at_half_the_width(width: float) -> None:
    at = 0.5 * width * np.array([1.0 - 1e-9, 1.0 + 1e-9])
    found = patch.frame_peak_longitudinal(web_frame_spacing_m=at, patch_width_m=column(width))
    assert found[0] == pytest.approx(found[1], abs=1e-8)


@given(st.floats(0.05, 2.0), st.floats(0.0, 1.0))
def test_peak_factors_never_rise_with_spacing(spacing: float, more: float) -> None:
    two = np.array([spacing, spacing + more])
    for found in (
        patch.plating_peak_transverse(spacing_m=two),
        patch.plating_peak_longitudinal(spacing_m=two),
        patch.frame_peak_transverse(member=column("frame without"), spacing_m=two),
        patch.frame_peak_transverse(member=column("frame with stringers"), spacing_m=two),
    ):
        assert found[1] <= found[0]
