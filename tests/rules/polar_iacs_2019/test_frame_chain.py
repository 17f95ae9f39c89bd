"""The chain of local frames: a whole case by hand, its checks, its ends, and what must hold for any frame."""

from __future__ import annotations

import math
from typing import Any

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from tests.rules.polar_iacs_2019.cases import POLAR, frame

from beltwright.core.errors import InputError, ScopeError
from beltwright.core.outcome import Check, is_met

RULE = POLAR.framing


def run(**changed: Any) -> dict[str, np.ndarray]:
    return RULE.run(frame(**changed))


def checks(values: dict[str, np.ndarray]) -> dict[str, Check]:
    return {
        spec.name: Check(
            name=spec.name,
            ref=spec.ref,
            required=float(values[spec.required][0]),
            offered=float(values[spec.offered][0]),
            unit="",
        )
        for spec in RULE.checks
    }


def near(expected: float) -> object:
    return pytest.approx(expected, rel=1e-12)


def test_transverse_bow_frame_by_hand() -> None:
    # patch 0.8 m, 5 MPa; s 0.4, a 2.4, 355; tee 380 x 18 with 150 x 19; plate 26.5 mm; PPF 1.8 - 0.4
    found = run()
    area = 1e4 * 0.5 * 0.8 * 0.4 * (1.0 * 1.4 * 5.0) / (0.577 * 355.0)  # 54.68 cm2
    offered = 399.0 * 18.0 / 100.0  # 71.82 cm2
    modulus = 96.9 * 26.5 / 20.0 + 380.0**2 * 18.0 / 2000.0 + 28.5 * 389.5 / 10.0  # 2538.07 cm3, plate heavy
    y = 1.0 - 0.5 * 0.8 / 2.4
    a1 = area / offered
    kw = 1.0 / (1.0 + 2.0 * 28.5 / offered)
    a1a = 1.0 / (1.0 + 1.0 + kw * (math.sqrt(1.0 - a1**2) - 1.0))
    kz = (150.0 * 19.0**2 / 4.0 + 200.0 * 26.5**2 / 4.0) / 1000.0 / modulus
    a1b = (1.0 - 1.0 / (2.0 * a1 * y)) / (0.275 + 1.44 * kz**0.7)
    required = 1e6 * 0.8 * y * 0.4 * 7.0 * 2.4 * max(a1a, a1b) / (4.0 * 355.0)
    assert found["shear_area_required_cm2"][0] == near(area)
    assert found["shear_area_net_cm2"][0] == near(offered)
    assert found["plastic_modulus_net_cm3"][0] == near(modulus)
    assert found["plastic_modulus_required_cm3"][0] == near(required)
    assert all(check.ok for check in checks(found).values())


def test_midbody_longitudinal_by_hand() -> None:
    # patch 0.7 x 2.5 m, 4 MPa; Mi, PC4: 0.55; s 0.45, a 2.4; S_w 1.0 < 1.25: PPF = 2 - 2 x 1.0/2.5 = 1.2
    found = run(load_area="Mi", factor_area="Mi", omega_deg=5.0, spacing_m=0.45, web_frame_spacing_m=1.0)
    p = 0.55 * 1.2 * 4.0
    b1 = (1.0 - 0.3 / (0.7 / 0.45)) * 0.7 * (1.0 - 0.25 * 0.7 / 0.45)
    area = 1e4 * p * 0.5 * b1 * 2.4 / (0.577 * 355.0)
    kw = 1.0 / (1.0 + 2.0 * 28.5 / 71.82)
    a4 = 1.0 / (2.0 + kw * (math.sqrt(1.0 - (area / 71.82) ** 2) - 1.0))
    assert found["shear_area_required_cm2"][0] == near(area)
    assert found["plastic_modulus_required_cm3"][0] == near(1e6 * p * b1 * 2.4**2 * a4 / (8.0 * 355.0))


def test_bottom_frame_counts_as_transverse_with_peak_factor_one() -> None:
    found = run(load_area="BIb", factor_area="BIb", omega_deg=0.0)
    area = 1e4 * 0.5 * 0.7 * 0.4 * (0.40 * 1.0 * 4.0) / (0.577 * 355.0)
    assert found["frame_peak_transverse"][0] == 1.0
    assert found["shear_area_required_cm2"][0] == near(area)


def test_stringers_and_fixity_and_brackets_change_what_they_should() -> None:
    plain, stringers = run(), run(load_distributing_stringer=True)
    assert stringers["frame_peak_transverse"][0] == near(1.2)
    assert stringers["shear_area_required_cm2"][0] == near(plain["shear_area_required_cm2"][0] * 1.2 / 1.4)
    assert run(one_end_simply_supported=True)["mid_span_factor"][0] > plain["mid_span_factor"][0]
    assert run(end_brackets=True)["own_modulus_share"][0] == 0.0
    assert run(end_brackets=True)["end_shear_factor"][0] > plain["end_shear_factor"][0]


def test_oblique_frame_lies_half_way_at_45_degrees() -> None:
    low, half, high = (run(omega_deg=omega) for omega in (20.0, 45.0, 70.0))
    for name in ("shear_area_required_cm2", "plastic_modulus_required_cm3"):
        assert half[name][0] == near((low[name][0] + high[name][0]) / 2.0)


def test_too_little_shear_area_fails_and_is_never_nan() -> None:
    found = run(web_net_mm=5.0)
    made = checks(found)
    assert found["shear_area_required_cm2"][0] > found["shear_area_net_cm2"][0]
    assert not made["shear area"].ok
    assert not made["shear area in the modulus formula"].ok
    for check in made.values():
        assert math.isfinite(check.ratio)


def test_oblique_frame_fails_where_one_of_its_modulus_formulas_has_no_value() -> None:
    # nearly longitudinal: the interpolated area is met, the transverse one alone is not
    found = run(load_area="Mi", factor_area="B", omega_deg=21.0, web_frame_spacing_m=2.5, web_net_mm=9.0, span_m=0.8)
    offered = found["shear_area_net_cm2"][0]
    assert found["shear_area_required_cm2"][0] < offered < found["shear_area_transverse_cm2"][0]
    assert checks(found)["shear area"].ok
    assert not checks(found)["shear area in the modulus formula"].ok


def test_slenderness_checks_fail_beyond_their_limits() -> None:
    slender = checks(run(web_net_mm=8.0))
    assert not slender["web slenderness"].ok
    assert not slender["web thickness beside the plate"].ok
    narrow = checks(run(flange_breadth_mm=89.0))
    assert not narrow["flange breadth"].ok
    assert checks(run(flange_breadth_mm=90.0))["flange breadth"].ok
    limit = 19.0 * 155.0 / math.sqrt(355.0)
    assert checks(run(flange_outstand_mm=limit * 0.9999))["flange outstand"].ok
    assert not checks(run(flange_outstand_mm=limit * 1.0001))["flange outstand"].ok


@pytest.mark.parametrize(("kind", "limit"), [("flat", 282.0), ("bulb", 805.0), ("angle", 805.0), ("tee", 805.0)])
def test_web_slenderness_from_both_sides(kind: str, limit: float) -> None:
    web = 380.0 * math.sqrt(355.0) / limit
    assert checks(run(section_kind=kind, web_net_mm=web * 1.0001))["web slenderness"].ok
    assert not checks(run(section_kind=kind, web_net_mm=web * 0.9999))["web slenderness"].ok


def test_a_flat_bar_has_no_flange_checks() -> None:
    found = run(
        section_kind="flat",
        web_net_mm=30.0,
        flange_breadth_mm=0.0,
        flange_net_mm=0.0,
        flange_area_cm2=0.0,
        flange_centre_height_mm=0.0,
        flange_outstand_mm=0.0,
    )
    asked = {spec.name: spec.applies for spec in RULE.checks}
    assert not found[asked["flange breadth"]][0]
    assert not found[asked["flange outstand"]][0]
    assert checks(found)["flange breadth"].ratio == 0.0
    assert checks(found)["flange outstand"].ratio == 0.0


def test_a_longitudinal_far_apart_is_out_of_scope() -> None:
    with pytest.raises(ScopeError, match=r"0\.3 of the spacing"):
        run(load_area="Mi", factor_area="Mi", omega_deg=0.0, spacing_m=0.7 / 0.3 + 1e-9, span_m=5.0)
    bare = RULE.chain.run(frame(load_area="Mi", factor_area="Mi", omega_deg=0.0, spacing_m=2.5))
    assert bare["shear_area_required_cm2"][0] == math.inf
    assert bare["plastic_modulus_required_cm3"][0] == math.inf
    assert np.isfinite(run(load_area="Mi", factor_area="Mi", spacing_m=2.5)["shear_area_required_cm2"][0])


def test_a_section_beyond_its_formula_fails() -> None:
    # hand: a flange of 300 cm2 on a web of 68.4 cm2 and a plate of 40 cm2: z_na = 32840/36 = 912 mm > 380
    heavy = checks(run(flange_area_cm2=300.0, plate_net_fitted_mm=10.0))
    assert heavy["neutral axis in the web"].required == near(32840.0 / 36.0)
    assert not heavy["neutral axis in the web"].ok
    # a flange so far aside that the modulus would be negative
    aside = run(flange_offset_mm=9000.0, web_angle_deg=45.0)
    assert aside["plastic_modulus_net_cm3"][0] == 0.0
    assert not checks(aside)["plastic modulus"].ok


@pytest.mark.parametrize("limit", RULE.limits, ids=lambda limit: limit.column)
def test_impossible_inputs_are_refused(limit: Any) -> None:
    for bad in (math.nan, math.inf, -1.0, limit.most * 1.001):
        with pytest.raises(InputError, match=f"row 0: {limit.column}: outside its range"):
            run(**{limit.column: bad})
    for good in (limit.least, limit.most):
        limit.check("frame", {limit.column: np.array([good])})
    if limit.least > 0.0:
        with pytest.raises(InputError, match=f"{limit.least:g} to {limit.most:g}"):
            run(**{limit.column: limit.least * 0.999})


POSITIVE = {
    "spacing_m": st.floats(0.2, 1.0),
    "span_m": st.floats(0.8, 6.0),
    "omega_deg": st.floats(0.0, 90.0),
    "yield_mpa": st.floats(235.0, 500.0),
    "web_frame_spacing_m": st.floats(0.5, 5.0),
    "web_angle_deg": st.floats(30.0, 90.0),
    "flange_area_cm2": st.floats(0.0, 40.0),
    "plate_net_fitted_mm": st.floats(8.0, 50.0),
    "web_height_mm": st.floats(100.0, 600.0),
    "web_net_mm": st.floats(5.0, 30.0),
    "load_area": st.sampled_from(["B", "BIi", "Mi", "BIb"]),
    "end_brackets": st.booleans(),
    "one_end_simply_supported": st.booleans(),
    "load_distributing_stringer": st.booleans(),
}


@given(st.fixed_dictionaries(POSITIVE))
def test_every_check_of_any_frame_is_a_number(changed: dict[str, Any]) -> None:
    changed["stiffener_height_mm"] = changed["web_height_mm"] + 19.0
    found = run(**changed)
    for check in checks(found).values():
        assert not math.isnan(check.ratio)
        assert check.ok == (check.ratio <= 1.0)
    assert np.isfinite([found[spec.required][0] for spec in RULE.checks]).all()


@given(st.fixed_dictionaries(POSITIVE), st.floats(1.001, 1.5))
def test_more_pressure_or_less_strength_never_asks_less(changed: dict[str, Any], more: float) -> None:
    base = run(**changed)
    worse = run(**changed, bow_pressure_mpa=5.0 * more, other_pressure_mpa=4.0 * more)
    weaker = run(**{**changed, "yield_mpa": changed["yield_mpa"] / more})
    for name in ("shear_area_required_cm2", "plastic_modulus_required_cm3"):
        assert worse[name][0] > base[name][0]
        assert weaker[name][0] > base[name][0]


@given(st.fixed_dictionaries(POSITIVE), st.floats(1.001, 1.5))
def test_a_thicker_web_never_has_a_worse_ratio_of_shear(changed: dict[str, Any], more: float) -> None:
    base = checks(run(**changed))["shear area"].ratio
    thick = checks(run(**{**changed, "web_net_mm": changed["web_net_mm"] * more}))["shear area"].ratio
    assert thick < base


@given(st.fixed_dictionaries({n: st.one_of(st.floats(), s) for n, s in POSITIVE.items() if n.endswith(("_m", "_mm"))}))
def test_nan_never_passes_a_check(changed: dict[str, float]) -> None:
    try:
        found = run(**changed)
    except (InputError, ScopeError):
        return
    for check in checks(found).values():
        assert not math.isnan(check.ratio)
        assert bool(is_met(np.array([check.ratio]))[0]) == (check.ratio <= 1.0)
