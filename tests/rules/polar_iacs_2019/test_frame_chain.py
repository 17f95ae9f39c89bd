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
from beltwright.rules.polar_iacs_2019 import i2_5_framing as i2_5

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
    assert found["shear_utilisation"][0] == 1.0
    for check in made.values():
        assert math.isfinite(check.ratio)


def test_oblique_frame_counts_the_longitudinal_area_with_its_share_only() -> None:
    # Omega 66: q = 46/50 = 0.92. Hand, the transverse bow frame from above: A_t = 54.68, A_w = 71.82 cm2.
    # Longitudinal: S_w 2.4 > 1.2, PPF 1, p = 5; b' = 2, k_o = 1 - 0.15 = 0.85, b_2 = 0.4, b_1 = 0.34 m
    # A_L = 10^4 x 5 x 0.5 x 0.34 x 2.4/(0.577 x 355) = 99.59 cm2: more than A_w, but it counts with 0.08 only
    # A = 0.92 x 54.68 + 0.08 x 99.59 = 58.27 cm2 <= 71.82: met, ratio 0.811; at Omega 70 it is 54.68/71.82 = 0.761
    found = run(omega_deg=66.0)
    at = 1e4 * 0.5 * 0.8 * 0.4 * 7.0 / (0.577 * 355.0)
    al = 1e4 * 5.0 * 0.5 * 0.34 * 2.4 / (0.577 * 355.0)
    assert (at, 71.82, al) == (pytest.approx(54.678, abs=5e-4), 71.82, pytest.approx(99.592, abs=5e-4))
    assert found["shear_area_required_cm2"][0] == near(0.92 * at + 0.08 * al)
    # a_4 = 99.59/71.82 would be 1.387: taken at 1, A_4 = 1/(2 - k_w), Z_L = 10^6 x 5 x 0.34 x 2.4^2 x A_4/(8 x 355)
    kw = 1.0 / (1.0 + 2.0 * 28.5 / 71.82)
    zl = 1e6 * 5.0 * 0.34 * 5.76 / (2.0 - kw) / (8.0 * 355.0)
    zt = run()["plastic_modulus_required_cm3"][0]  # by hand above
    assert found["plastic_modulus_required_cm3"][0] == near(0.92 * zt + 0.08 * zl)
    made = checks(found)
    assert made["shear area"].ratio == pytest.approx(0.8114, abs=5e-5)
    assert found["oblique_utilisation"][0] == near(al / 71.82)  # 1.387: what is met here rests on D17
    assert found["lone_utilisation"][0] == 0.0
    assert all(check.ok for check in made.values())


def test_oblique_frame_counts_the_transverse_area_with_its_share_only() -> None:
    # Omega 21: q = 0.02; Mi's patch 0.7 x 2.5 m, 4 MPa, factor of B, 1.0; web 9 mm: A_w = 399 x 9/100 = 35.91 cm2
    # A_t = 10^4 x 0.5 x 0.7 x 0.4 x (1.4 x 4)/204.835 = 38.27 cm2: a_1 would be 1.066, taken at 1
    # b' = 1.75, k_o = 1 - 0.3/1.75, b_2 = 0.7 x 0.5625, b_1 = 0.32625 m; a = 0.8 m
    # A_L = 10^4 x 4 x 0.5 x 0.32625 x 0.8/204.835 = 25.48; A = 0.02 x 38.27 + 0.98 x 25.48 = 25.74 cm2 <= 35.91
    found = run(load_area="Mi", factor_area="B", omega_deg=21.0, web_frame_spacing_m=2.5, web_net_mm=9.0, span_m=0.8)
    at = 1e4 * 0.5 * 0.7 * 0.4 * 5.6 / 204.835
    al = 1e4 * 4.0 * 0.5 * 0.32625 * 0.8 / 204.835
    assert found["shear_utilisation"][0] == 1.0
    assert found["oblique_utilisation"][0] == near(at / 35.91)
    assert found["shear_area_required_cm2"][0] == near(0.02 * at + 0.98 * al)
    assert found["shear_area_required_cm2"][0] == pytest.approx(25.740, abs=5e-4)
    # A_p = 106 > 34.2 + 28.5: Z_p = 62.7 x 26.5/20 + 380^2 x 9/2000 + 28.5 x 38.95 = 1842.95 cm3
    # k_w = 1/(1 + 57/35.91); Y = 1 - 0.35/0.8 = 0.5625; A_1A = 1/(2 - k_w)
    # A_1B = (1 - 1/1.125)/(0.275 + 1.44 k_z^0.7)
    kw = 1.0 / (1.0 + 57.0 / 35.91)
    kz = (150.0 * 19.0**2 / 4.0 + 200.0 * 26.5**2 / 4.0) / 1000.0 / (62.7 * 26.5 / 20.0 + 649.8 + 28.5 * 38.95)
    a1 = max(1.0 / (2.0 - kw), (1.0 - 1.0 / 1.125) / (0.275 + 1.44 * kz**0.7))
    zt = 1e6 * 0.7 * 0.5625 * 0.4 * 5.6 * 0.8 * a1 / (4.0 * 355.0)
    zl = 1e6 * 4.0 * 0.32625 * 0.64 / (2.0 + kw * (math.sqrt(1.0 - (al / 35.91) ** 2) - 1.0)) / (8.0 * 355.0)
    assert found["plastic_modulus_required_cm3"][0] == near(0.02 * zt + 0.98 * zl)
    assert checks(found)["shear area"].ok
    assert checks(found)["plastic modulus"].ok


@pytest.mark.parametrize(
    ("changed", "area"),
    [
        ({"omega_deg": 70.0, "web_net_mm": 13.0}, "shear_area_transverse_cm2"),
        ({"omega_deg": 20.0}, "shear_area_longitudinal_cm2"),
    ],
)
def test_a_formula_that_counts_alone_without_a_value_is_a_failed_shear_check(
    changed: dict[str, Any], area: str
) -> None:
    # a_1 = 54.68/(399 x 13/100 = 51.87) > 1; a_4 = 99.59/71.82 > 1
    found = run(**changed)
    assert found[area][0] > found["shear_area_net_cm2"][0]
    shear = checks(found)["shear area"]
    assert not shear.ok
    assert shear.ratio == found[area][0] / found["shear_area_net_cm2"][0]
    assert checks(found)["plastic modulus"].ratio > 0.0
    assert (found["lone_utilisation"][0], found["oblique_utilisation"][0]) == (shear.ratio, 0.0)
    (end,) = RULE.no_value
    assert end.beyond(found, 1).tolist() == [True]
    assert end.output == next(spec.required for spec in RULE.checks if spec.name == "plastic modulus")


def test_both_sides_of_the_reading_of_oblique_frames() -> None:
    # Omega 66, A_L = 99.59 cm2 of 399 w/100: a_4 is above 1 with a web of 24.9 mm (99.35) and below with 25 (99.75)
    (end,) = RULE.rests_on
    assert end.beyond(run(omega_deg=66.0, web_net_mm=24.9), 1).tolist() == [True]
    assert end.beyond(run(omega_deg=66.0, web_net_mm=25.0), 1).tolist() == [False]
    assert end.beyond(run(omega_deg=70.0, web_net_mm=13.0), 1).tolist() == [False]  # one formula alone
    assert end.beyond({end.column: np.array([np.nan])}, 2).tolist() == [False, False]


def test_the_severe_reading_of_oblique_frames_by_hand() -> None:
    """kind: hand. A_t = 54.68, A_L = 99.59 cm2. Omega 66, q = 46/50: interpolated 0.92 x 54.68 + 0.08 x 99.59 = 58.27.

    In full: 99.59, which a web of 25 mm (399 x 25/100 = 99.75) meets and one of 24.9 mm (99.35) does not.
    """
    lighter, severe = run(omega_deg=66.0), run(omega_deg=66.0, both_in_full=True)
    assert lighter["shear_area_required_cm2"][0] == pytest.approx(58.27, abs=0.01)
    assert severe["shear_area_required_cm2"][0] == pytest.approx(99.59, abs=0.01)
    assert checks(lighter)["shear area"].ok  # 71.82 cm2 fitted
    assert not checks(severe)["shear area"].ok
    (rests,), (ends,) = RULE.rests_on, RULE.no_value
    for web, ok in ((24.9, False), (25.0, True)):
        found = run(omega_deg=66.0, web_net_mm=web, both_in_full=True)
        assert checks(found)["shear area"].ok is ok
        assert rests.beyond(found, 1).tolist() == [False]  # nothing rests on a limit
        assert ends.beyond(found, 1).tolist() == [not ok]  # short of shear the modulus has no value
        assert found["plastic_modulus_required_cm3"][0] == run(omega_deg=66.0, web_net_mm=web)[
            "plastic_modulus_required_cm3"
        ][0]  # fmt: skip
    # transverse formula greater: a wide spacing of web frames and a short patch change nothing in principle
    short = run(omega_deg=30.0, span_m=0.5, both_in_full=True)
    across, along = short["shear_area_transverse_cm2"][0], short["shear_area_longitudinal_cm2"][0]
    assert across > along
    assert short["shear_area_required_cm2"][0] == across


def test_checks_say_which_way_they_go() -> None:
    told = {spec.name: spec.told("2", "3") for spec in RULE.checks}
    assert told["shear area"] == "shear area (UR I2 I2.5.10): 2 required, 3 offered"
    assert told["web slenderness"] == "web slenderness (UR I2 I2.9.1): 2, at most 3"


def test_the_greater_shear_area_of_the_formulas_that_count() -> None:
    found = i2_5.greater_shear_area(
        transverse_share=np.array([0.0, 1e-9, 0.5, 1.0 - 1e-9, 1.0, 0.5]),
        shear_area_transverse_cm2=np.array([50.0, 50.0, 50.0, 50.0, 50.0, 70.0]),
        shear_area_longitudinal_cm2=np.full(6, 60.0),
    )
    assert found.tolist() == [60.0, 60.0, 60.0, 60.0, 50.0, 70.0]


@pytest.mark.parametrize("omega", [0.0, 20.0, 70.0, 90.0])
def test_where_one_formula_counts_alone_both_readings_are_one(omega: float) -> None:
    lighter, severe = run(omega_deg=omega), run(omega_deg=omega, both_in_full=True)
    for name in lighter:
        if name != "both_in_full":
            assert lighter[name][0] == severe[name][0], name


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


OBLIQUE = {name: strategy for name, strategy in POSITIVE.items() if name != "omega_deg"}


@given(st.fixed_dictionaries(OBLIQUE))
def test_every_ratio_is_continuous_at_20_and_70_degrees(changed: dict[str, Any]) -> None:
    # 0.001 degree of 50 moves a ratio by 2e-5 of what lies between the two ends, and nothing else
    changed["stiffener_height_mm"] = changed["web_height_mm"] + 19.0
    before, low, after, earlier, high, later = (
        {name: check.ratio for name, check in checks(run(**changed, omega_deg=omega)).items()}
        for omega in (19.999, 20.0, 20.001, 69.999, 70.0, 70.001)
    )
    assert before == low
    assert later == high
    for name in low:
        step = (0.001 / 50.0) * (high[name] - low[name])
        assert after[name] - low[name] == pytest.approx(step, rel=1e-6, abs=1e-12 * (low[name] + high[name]))
        assert high[name] - earlier[name] == pytest.approx(step, rel=1e-6, abs=1e-12 * (low[name] + high[name]))


@given(st.fixed_dictionaries(POSITIVE))
def test_no_ratio_of_an_oblique_frame_leaves_what_lies_between_the_two_ends(changed: dict[str, Any]) -> None:
    changed["stiffener_height_mm"] = changed["web_height_mm"] + 19.0
    found = {name: check.ratio for name, check in checks(run(**changed)).items()}
    ends = [checks(run(**{**changed, "omega_deg": omega})) for omega in (20.0, 70.0)]
    for name, ratio in found.items():
        least, most = sorted(end[name].ratio for end in ends)
        assert least * (1.0 - 1e-12) <= ratio <= most * (1.0 + 1e-12)


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
