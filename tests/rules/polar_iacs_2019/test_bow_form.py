"""UR I2.3.1(v) to (viii): which formula the bow takes, and where none is left."""

from __future__ import annotations

import math
from typing import Any

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from tests.rules.polar_iacs_2019.cases import CLASSES, angles, facts

from beltwright.core.errors import InputError, ScopeError
from beltwright.rules.polar_iacs_2019.bow_form import BOW_FORM_KEY, BowForm, bow_form
from beltwright.rules.protocol import Override

REASON = Override(key=BOW_FORM_KEY, reason="model tests agreed")
FLARED, STEEP = (40.0, 34.0, 26.0, 14.0), (2.0, 4.0, 6.0, 8.0)
STANDARD, VERTICAL = (False,) * 4, (True,) * 4


def form(
    ice_class: str = "PC6",
    beta: Any = FLARED,
    overrides: tuple[Override, ...] = (),
    alpha: Any = (30.0, 27.0, 22.0, 15.0),
    **changed: Any,
) -> BowForm:
    return bow_form(facts(ice_class=ice_class, **changed), angles(alpha=alpha, beta_prime=beta), overrides)


@pytest.mark.parametrize("ice_class", CLASSES)
def test_a_flared_bow_takes_the_standard_formula_in_every_class(ice_class: str) -> None:
    found = form(ice_class)
    assert (found.vertical, found.bulb, found.findings) == (STANDARD, False, ())
    (choice,) = found.choices
    assert choice.startswith("standard bow formula: stem angle 30.0 degrees, beta' at the foremost sub-region 40.0 deg")
    assert choice.endswith("within I2.3.1(v)")


def test_a_standard_bow_stays_standard_where_it_grows_steep_aft() -> None:
    assert form("PC6", beta=(27.5, 18.9, 11.0, 6.0)).vertical == STANDARD
    assert form("PC4", beta=(27.5, 18.9, 11.0, 0.5)).vertical == STANDARD


@pytest.mark.parametrize("ice_class", ["PC6", "PC7"])
@pytest.mark.parametrize(("stem", "beta"), [(84.0, STEEP), (30.0, STEEP), (80.0, (0.0, 10.0, 5.0, 5.0)), (-3.0, STEEP)])
def test_a_vertical_sided_bow_of_pc6_and_pc7(ice_class: str, stem: float, beta: Any) -> None:
    found = form(ice_class, beta=beta, stem_angle_deg=stem)
    assert (found.vertical, found.bulb) == (VERTICAL, False)
    assert "formula for vertical sides (I2.3.1(vi))" in found.choices[0]
    assert f"stem angle {stem:.1f} degrees" in found.choices[0]
    assert [f.kind.code for f in found.findings] == ["BW403"]


@pytest.mark.parametrize("ice_class", ["PC6", "PC7"])
@pytest.mark.parametrize("beta", [FLARED, STEEP, (-5.0, math.nan, 3.0, 20.0)])
def test_a_bulbous_bow_of_pc6_and_pc7_whatever_its_frame_angles(ice_class: str, beta: Any) -> None:
    found = form(ice_class, beta=beta, bulbous_bow=True)
    assert (found.vertical, found.bulb) == (VERTICAL, True)
    assert "I2.3.1(vii)" in found.choices[0]
    assert [f.kind.code for f in found.findings] == ["BW403"]


@pytest.mark.parametrize("ice_class", CLASSES[:5])
@pytest.mark.parametrize(
    ("beta", "changed"),
    [
        (STEEP, {}),
        (FLARED, {"stem_angle_deg": 80.0}),
        (FLARED, {"stem_angle_deg": 0.0}),
        (FLARED, {"bulbous_bow": True}),
        ((10.0, 20.0, 20.0, 20.0), {}),
    ],
)
def test_other_bows_of_pc1_to_pc5_need_a_written_reason(ice_class: str, beta: Any, changed: dict[str, Any]) -> None:
    with pytest.raises(ScopeError, match=r"not covered by I2\.3\.1\(v\) to \(vii\).*overrides\.bow_form"):
        form(ice_class, beta=beta, **changed)
    found = form(ice_class, beta=beta, overrides=(REASON,), **changed)
    assert (found.vertical, found.bulb) == (STANDARD, False)
    assert "carried on by the written reason" in found.choices[0]
    assert [f.kind.code for f in found.findings] == ["BW406"]
    assert "model tests agreed" in found.findings[0].message
    assert ("with a bulbous bow" in found.choices[0]) == ("bulbous_bow" in changed)


def test_a_mixed_bow_of_pc6_needs_a_reason_and_then_each_sub_region_takes_its_own_formula() -> None:
    mixed = (9.0, 10.0, 10.1, 25.0)
    with pytest.raises(ScopeError, match="not covered"):
        form("PC6", beta=mixed)
    found = form("PC6", beta=mixed, overrides=(REASON,))
    assert found.vertical == (True, True, False, False)
    assert found.choices[0].endswith("vertical-sided, vertical-sided, standard, standard")


def test_an_empty_reason_is_refused() -> None:
    with pytest.raises(InputError, match="reason is empty"):
        form("PC4", beta=STEEP, overrides=(Override(key=BOW_FORM_KEY, reason=" "),))


@pytest.mark.parametrize("bad", [0.0, -3.0, math.nan, 90.1])
@pytest.mark.parametrize("station", [0, 1, 2, 3])
def test_the_standard_formula_never_meets_an_angle_it_cannot_take(bad: float, station: int) -> None:
    beta = list(FLARED)
    beta[station] = bad
    with pytest.raises(ScopeError) as caught:
        form("PC4", beta=beta, overrides=(REASON,))
    assert f"bow sub-region {station + 1}: beta'" in str(caught.value)
    assert ("does not apply" if math.isnan(bad) else f"is {bad:.2f} degrees") in str(caught.value)
    assert caught.value.override == ""


@pytest.mark.parametrize("bad", [0.0, -3.0, math.nan, 90.1])
@pytest.mark.parametrize("bulb", [True, False])
def test_no_formula_takes_a_waterline_angle_that_does_not_apply(bad: float, bulb: bool) -> None:
    with pytest.raises(ScopeError, match="sub-region 4: alpha"):
        form("PC6", alpha=(30.0, 27.0, 22.0, bad), bulbous_bow=bulb)


def test_a_waterline_angle_of_ninety_is_taken() -> None:
    assert form("PC4", alpha=(90.0, 27.0, 22.0, 15.0), beta=(90.0, 34.0, 26.0, 14.0)).vertical == STANDARD


@given(
    st.sampled_from(CLASSES),
    st.floats(-10.0, 100.0),
    st.lists(st.one_of(st.floats(-20.0, 89.0), st.just(math.nan)), min_size=4, max_size=4),
    st.booleans(),
    st.booleans(),
)
def test_whatever_the_bow_a_standard_sub_region_has_a_positive_angle(
    ice_class: str, stem: float, beta: list[float], bulb: bool, written: bool
) -> None:
    try:
        found = form(
            ice_class,
            beta=beta,
            overrides=(REASON,) if written else (),
            stem_angle_deg=stem,
            bulbous_bow=bulb,
        )
    except ScopeError:
        return
    for vertical, angle in zip(found.vertical, beta, strict=True):
        if vertical:
            assert ice_class in ("PC6", "PC7")
            assert bulb or 0.0 <= angle <= 10.0
        else:
            assert angle > 0.0
    assert found.choices
    assert np.isin(found.vertical, (True, False)).all()
