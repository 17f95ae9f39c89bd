"""Vertical-sided and bulbous bows of PC6 and PC7: both sides of every limit, and the least load of a bulb, by hand."""

from __future__ import annotations

import math
from typing import Any

import pytest
from tests.rules.polar_iacs_2019.cases import angles, design, facts

from beltwright.core.errors import ScopeError
from beltwright.rules.polar_iacs_2019.bow_form import BOW_FORM_KEY, NO_RAMMING
from beltwright.rules.protocol import DesignLoads, Override

# Tables 1 and 2 (recalled): CFC, CFF, CFD and CFCV, CFQV, CFPV
FACTORS = {"PC6": (2.40, 5.49, 1.17, 3.43, 2.82, 0.65), "PC7": (1.80, 4.06, 1.11, 2.60, 2.33, 0.65)}
DISPLACEMENT, LENGTH = 14.0, 120.0
PLACES = (3.0, 9.0, 15.0, 21.0)
REASON = Override(key=BOW_FORM_KEY, reason="model tests agreed")


def vertical(ice_class: str, alpha: float) -> tuple[float, float, float]:
    """F, Q, P of I2.3.2.1(iv): F = alpha/30 CFCV D^0.47, Q = F^0.22 CFQV, P = F^0.56 CFPV."""
    *_, cfcv, cfqv, cfpv = FACTORS[ice_class]
    force = alpha / 30.0 * cfcv * DISPLACEMENT**0.47
    return force, force**0.22 * cfqv, force**0.56 * cfpv


def least(ice_class: str) -> tuple[float, float, float]:
    """F, Q, P of the standard formula with fa = 0.6 and AR = 1.3, I2.3.1(vii)."""
    cfc, _, cfd, *_ = FACTORS[ice_class]
    force = 0.6 * cfc * DISPLACEMENT**0.64
    return force, force**0.61 * cfd / 1.3**0.35, force**0.22 * cfd**2 * 1.3**0.3


def standard(ice_class: str, x: float, alpha: float, beta: float) -> tuple[float, float, float]:
    """F, Q, P of I2.3.2.1(iii) at one sub-region."""
    cfc, cff, cfd, *_ = FACTORS[ice_class]
    one = (0.097 - 0.68 * (x / LENGTH - 0.15) ** 2) * alpha / math.sqrt(beta)
    sine = math.sin(math.radians(beta))
    force = min(one, 1.2 * cff / (sine * cfc * DISPLACEMENT**0.64), 0.60) * cfc * DISPLACEMENT**0.64
    ratio = max(7.46 * sine, 1.3)
    return force, force**0.61 * cfd / ratio**0.35, force**0.22 * cfd**2 * ratio**0.3


def made(ice_class: str, alpha: float, beta: float, **changed: Any) -> DesignLoads:
    bow = angles(alpha=(alpha,) * 4, beta_prime=(beta,) * 4)
    return design(facts(ice_class=ice_class, **changed), bow)[1]


def told(loads: DesignLoads) -> tuple[float, float, float]:
    names = ("bow_force_mn", "bow_line_load_mn_per_m", "bow_greatest_pressure_mpa")
    return tuple(float(loads.traces["design"][name].value) for name in names)  # type: ignore[return-value]


@pytest.mark.parametrize("ice_class", ["PC6", "PC7"])
@pytest.mark.parametrize(("beta", "is_vertical"), [(9.99, True), (10.0, True), (10.01, False), (0.0, True)])
def test_both_sides_of_ten_degrees(ice_class: str, beta: float, is_vertical: bool) -> None:
    alpha = 20.0
    loads = made(ice_class, alpha, beta)
    if is_vertical:
        hand = vertical(ice_class, alpha)
    else:
        stations = [standard(ice_class, x, alpha, beta) for x in PLACES]
        hand = tuple(max(values) for values in zip(*stations, strict=True))  # type: ignore[assignment]
    assert told(loads) == pytest.approx(hand, rel=1e-12)
    width, height = hand[0] / hand[1], hand[1] / hand[2]
    patch = loads.patches[0]
    assert (patch.width_m, patch.height_m) == pytest.approx((width, height), rel=1e-12)
    assert patch.pressure_mpa == pytest.approx(hand[0] / (width * height), rel=1e-12)
    assert (NO_RAMMING in loads.choices) == is_vertical
    assert ("BW403" in [one.kind.code for one in loads.findings]) == is_vertical


@pytest.mark.parametrize("ice_class", ["PC6", "PC7"])
@pytest.mark.parametrize("stem", [79.99, 80.0, 80.01, 90.0, 0.0, 0.01])
def test_both_sides_of_the_stem_angles(ice_class: str, stem: float) -> None:
    inside = 0.0 < stem < 80.0
    # steep sides: outside (v) anyway, so the stem changes nothing
    assert told(made(ice_class, 20.0, 5.0, stem_angle_deg=stem)) == pytest.approx(vertical(ice_class, 20.0), rel=1e-12)
    # flared sides: (v) holds only within the stem angles; beyond them no formula is left without a reason
    if inside:
        hand = [max(v) for v in zip(*(standard(ice_class, x, 20.0, 30.0) for x in PLACES), strict=True)]
        assert told(made(ice_class, 20.0, 30.0, stem_angle_deg=stem)) == pytest.approx(hand, rel=1e-12)
    else:
        with pytest.raises(ScopeError, match=r"I2\.3\.1\(v\) to \(vii\)"):
            made(ice_class, 20.0, 30.0, stem_angle_deg=stem)


@pytest.mark.parametrize("ice_class", ["PC6", "PC7"])
@pytest.mark.parametrize("alpha", [5.0, 10.0, 15.0, 18.0, 20.0, 22.0, 25.0, 30.0, 60.0])
def test_each_load_of_a_bulb_has_its_own_least(ice_class: str, alpha: float) -> None:
    """hand, PC6 at 14 kt: least F 7.80 MN, Q 3.73 MN/m, P 2.33 MPa; the vertical F passes it at alpha 19.7 degrees."""
    for beta in (5.0, 40.0):  # whatever the frames
        loads = made(ice_class, alpha, beta, bulbous_bow=True)
        hand = [max(pair) for pair in zip(vertical(ice_class, alpha), least(ice_class), strict=True)]
        assert told(loads) == pytest.approx(hand, rel=1e-12)
        by_least = [low > own for own, low in zip(vertical(ice_class, alpha), least(ice_class), strict=True)]
        whence = next(choice for choice in loads.choices if choice.startswith("largest F"))
        parts = whence.split(", largest ")
        assert ["least of a bulbous bow" in part for part in parts] == by_least
        assert NO_RAMMING in loads.choices


def test_the_numbers_of_the_least_load() -> None:
    # 0.6 x 2.40 x 14^0.64 with 14^0.64 = exp(0.64 ln 14) = exp(1.688997) = 5.41404
    assert least("PC6")[0] == pytest.approx(7.7962, abs=1e-3)
    assert least("PC6")[1] == pytest.approx(3.735, abs=2e-3)
    assert least("PC6")[2] == pytest.approx(2.327, abs=2e-3)
    assert vertical("PC6", 19.7)[0] < least("PC6")[0] < vertical("PC6", 19.8)[0]


def test_no_load_of_a_bulb_jumps_where_its_least_takes_over() -> None:
    low, high = made("PC6", 19.73, 5.0, bulbous_bow=True), made("PC6", 19.74, 5.0, bulbous_bow=True)
    assert told(low) == pytest.approx(told(high), rel=2e-3)


def test_a_mixed_bow_carried_by_a_reason_is_limited_too() -> None:
    bow = angles(beta_prime=(9.0, 10.0, 10.1, 25.0))
    loads = design(facts(ice_class="PC6"), bow, (REASON,))[1]
    assert NO_RAMMING in loads.choices
    assert [one.kind.code for one in loads.findings if one.kind.code in ("BW403", "BW406")] == ["BW406", "BW403"]
    flared = design(facts(ice_class="PC6", stem_angle_deg=80.0), angles(), (REASON,))[1]
    assert NO_RAMMING not in flared.choices
    assert "BW403" not in [one.kind.code for one in flared.findings]


@pytest.mark.parametrize("ice_class", ["PC1", "PC5"])
def test_stronger_classes_have_no_formula_for_such_bows(ice_class: str) -> None:
    for beta, changed in ((10.0, {}), (30.0, {"bulbous_bow": True}), (30.0, {"stem_angle_deg": 80.0})):
        with pytest.raises(ScopeError, match=r"overrides\.bow_form"):
            made(ice_class, 20.0, beta, **changed)
