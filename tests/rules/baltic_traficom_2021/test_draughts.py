"""Chapter 2: ice waterlines as broken lines, least forward draught. Expected numbers: by hand."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from tests.rules.baltic_traficom_2021.cases import column

from beltwright.core.errors import InputError
from beltwright.rules.baltic_traficom_2021.c2_draughts import ice_thickness, least_forward_draught
from beltwright.rules.baltic_traficom_2021.draughts import (
    BrokenLine,
    IceDraughts,
    lower_ice_waterline,
    upper_ice_waterline,
)


def line(*points: tuple[float, float]) -> BrokenLine:
    places, heights = zip(*points, strict=True)
    return BrokenLine(aft_of_stem_m=np.array(places), height_m=np.array(heights))


@pytest.mark.parametrize(
    ("displacement", "expected"),  # IA, h_i = 0.8: (2 + 0.00025 D) 0.8, at most 3.2, reached at 8000 t
    [(4000.0, 2.4), (7999.0, 0.8 * 3.99975), (8000.0, 3.2), (8001.0, 3.2), (12000.0, 3.2)],
)
def test_least_forward_draught(displacement: float, expected: float) -> None:
    thickness = ice_thickness(ice_class=column("IA"))
    found = least_forward_draught(displacement_upper_t=column(displacement), ice_thickness_m=thickness)
    assert found[0] == pytest.approx(expected, abs=1e-12)


def test_ice_thickness_by_class() -> None:
    found = ice_thickness(ice_class=column(["IA Super", "IA", "IB", "IC"]))
    assert found.tolist() == [1.0, 0.8, 0.6, 0.4]


def test_envelopes_have_a_knuckle_where_waterlines_cross() -> None:
    # even keel at 6 m, and 5 m fore to 8 m aft over 90 m: they cross at 30 m
    even, trimmed = line((0.0, 6.0), (90.0, 6.0)), line((0.0, 5.0), (90.0, 8.0))
    upper = upper_ice_waterline([even, trimmed])
    assert upper.aft_of_stem_m.tolist() == pytest.approx([0.0, 30.0, 90.0])
    assert upper.height_m.tolist() == pytest.approx([6.0, 6.0, 8.0])
    lower = lower_ice_waterline([even, trimmed])
    assert lower.height_m.tolist() == pytest.approx([5.0, 6.0, 6.0])
    assert upper.at(np.array([60.0]))[0] == pytest.approx(7.0)
    draughts = IceDraughts(upper=upper, lower=lower)
    assert draughts.certificate(0.0, 45.0, 90.0) == {
        "fore": (6.0, 5.0),
        "amidships": (pytest.approx(6.5), 6.0),
        "aft": (8.0, 6.0),
    }


def test_one_waterline_is_its_own_envelope() -> None:
    only = line((0.0, 6.0), (40.0, 6.5), (90.0, 6.0))
    assert upper_ice_waterline([only]).height_m.tolist() == only.height_m.tolist()


@given(st.lists(st.tuples(st.floats(3.0, 9.0), st.floats(3.0, 9.0)), min_size=1, max_size=4), st.floats(0.0, 100.0))
def test_no_waterline_lies_outside_the_envelopes(ends: list[tuple[float, float]], x: float) -> None:
    lines = [line((0.0, fore), (100.0, aft)) for fore, aft in ends]
    at = np.array([x])
    heights = [one.at(at)[0] for one in lines]
    assert upper_ice_waterline(lines).at(at)[0] == pytest.approx(max(heights), abs=1e-9)
    assert lower_ice_waterline(lines).at(at)[0] == pytest.approx(min(heights), abs=1e-9)


def test_what_is_refused() -> None:
    with pytest.raises(InputError, match="one or more"):
        upper_ice_waterline([])
    with pytest.raises(InputError, match="found 2 and 1; allowed: one height for each"):
        BrokenLine(aft_of_stem_m=np.zeros(2), height_m=np.zeros(1))
    with pytest.raises(InputError, match="found 0 and 0"):
        BrokenLine(aft_of_stem_m=np.zeros(0), height_m=np.zeros(0))
    for places, heights in (((math.nan,), (1.0,)), ((0.0,), (math.inf,))):
        with pytest.raises(InputError, match="is not a number"):
            BrokenLine(aft_of_stem_m=np.array(places), height_m=np.array(heights))
    with pytest.raises(InputError, match="the places are not in order"):
        line((10.0, 5.0), (10.0, 6.0))
    with pytest.raises(InputError) as refused:
        IceDraughts(upper=line((0.0, 6.0), (90.0, 4.0)), lower=line((0.0, 5.0), (90.0, 5.0)))
    assert str(refused.value) == (
        "ice waterlines: the upper one lies below the lower one 90.00 m aft of the stem; found 4 m; allowed: 5 or more"
    )
    IceDraughts(upper=line((0.0, 5.0)), lower=line((0.0, 5.0)))  # equal is allowed
