"""What the rule's demands must grow with, where they must not jump, and where the rule itself is not monotonic.

Demands are the net thickness of a plate, and the shear area and plastic modulus required of a fixed section. The
formulas are run through the chains of plates and frames; where a limit lies is worked out by hand in each test.
"""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from tests.rules.polar_iacs_2019.cases import CLASSES, POLAR, design, facts, frame, panel

FRAME = ("shear_area_required_cm2", "plastic_modulus_required_cm3")
MORE = st.floats(1.0005, 1.6)
PLATES = {
    "spacing_m": st.floats(0.25, 0.6),
    "span_m": st.floats(1.2, 5.0),
    "support_distance_m": st.floats(1.2, 5.0),
    "omega_deg": st.floats(0.0, 90.0),
}
FRAMES = {
    "spacing_m": st.floats(0.25, 0.6),
    "span_m": st.floats(1.0, 5.0),
    "web_frame_spacing_m": st.floats(0.8, 4.0),
    "omega_deg": st.floats(0.0, 90.0),
    "load_distributing_stringer": st.booleans(),
    "one_end_simply_supported": st.booleans(),
    "end_brackets": st.booleans(),
}


def plate(**changed: Any) -> float:
    """Net thickness of one panel."""
    return float(POLAR.plating.run(panel(**changed))["thickness_net_mm"][0])


STRONG = {"web_height_mm": 600.0, "stiffener_height_mm": 619.0, "web_net_mm": 70.0, "flange_centre_height_mm": 609.5}
WEAK = {"web_height_mm": 100.0, "stiffener_height_mm": 119.0, "web_net_mm": 1.0, "flange_centre_height_mm": 109.5}
SIDES = st.sampled_from([STRONG, WEAK])


def demand(**changed: Any) -> np.ndarray:
    """Shear area and plastic modulus required of one frame; a deep section unless told, so that a_1 and a_4 are small.

    With the weak section one of them is above 1 and the modulus formula is taken at its limit.
    """
    found = POLAR.framing.run(frame(**{**STRONG, **changed}))
    return np.array([float(found[name][0]) for name in FRAME])


@given(st.fixed_dictionaries(FRAMES))
def test_the_two_sections_lie_on_either_side_of_shear_utilisation_one(case: dict[str, Any]) -> None:
    for section, above in ((STRONG, False), (WEAK, True)):
        found = POLAR.framing.run(frame(**{**section, **case}))
        a_1, a_4 = (found[f"shear_area_{way}_cm2"][0] / found["shear_area_net_cm2"][0]
                    for way in ("transverse", "longitudinal"))  # fmt: skip
        assert bool(max(a_1, a_4) > 1.0) is above


@given(st.fixed_dictionaries(PLATES), MORE)
def test_plate_grows_with_span_pressure_and_area_factor(case: dict[str, float], more: float) -> None:
    base = plate(**case)
    assert plate(**{**case, "span_m": case["span_m"] * more}) >= base
    assert plate(**{**case, "support_distance_m": case["support_distance_m"] * more}) >= base
    assert plate(**case, bow_pressure_mpa=5.0 * more) > base
    assert plate(**case, bow_patch_height_m=0.8 * more) >= base
    weaker = plate(**case, factor_area="BIi")  # 0.80 of a PC4, on the same load
    assert weaker == pytest.approx(base * 0.8**0.5, rel=1e-12)


@given(st.fixed_dictionaries(FRAMES), SIDES, MORE)
def test_frame_grows_with_span_pressure_and_area_factor(
    case: dict[str, Any], side: dict[str, Any], more: float
) -> None:
    case = {**case, **side}
    base = demand(**case)
    assert (demand(**{**case, "span_m": case["span_m"] * more}) >= base * (1.0 - 1e-12)).all()
    assert (demand(**case, bow_pressure_mpa=5.0 * more) > base).all()
    assert (demand(**case, factor_area="BIi") < base).all()


@given(st.fixed_dictionaries({**FRAMES, "bow_patch_height_m": st.floats(0.3, 1.5)}), SIDES, MORE)
def test_frame_grows_with_the_patch_height(case: dict[str, Any], side: dict[str, Any], more: float) -> None:
    case = {**case, **side}
    base = demand(**case)
    assert (demand(**{**case, "bow_patch_height_m": case["bow_patch_height_m"] * more}) >= base * (1.0 - 1e-12)).all()


@given(st.fixed_dictionaries({**FRAMES, "omega_deg": st.just(90.0), "end_brackets": st.just(True)}), MORE)
def test_transverse_frame_with_brackets_grows_with_spacing(case: dict[str, Any], more: float) -> None:
    """s (1.8 - s) and s (1.6 - s) grow up to s = 0.8: until the least factor from 0.6 m on, then s alone does."""
    assert (demand(**{**case, "spacing_m": case["spacing_m"] * more}) > demand(**case)).all()


@pytest.mark.parametrize(("omega", "way"), [(90.0, "transverse"), (0.0, "longitudinal")])
def test_across_shear_utilisation_one_the_modulus_neither_jumps_nor_falls(omega: float, way: str) -> None:
    """kind: hand. With the section held, A_t and A_L grow with the pressure p: a = 1 at p_1 = p A_w/A. Beyond it a is
    taken at 1, so that A_1 and A_4 stand still and the modulus grows with p alone: by 1.2 from p_1 to 1.2 p_1.
    """
    given = {**WEAK, "omega_deg": omega}
    found = POLAR.framing.run(frame(**given, bow_pressure_mpa=5.0))
    turn = 5.0 * float(found["shear_area_net_cm2"][0] / found[f"shear_area_{way}_cm2"][0])
    below, at, above, far = (
        demand(**given, bow_pressure_mpa=turn * share) for share in (1.0 - 1e-12, 1.0, 1.0 + 1e-12, 1.2)
    )
    assert below[1] == pytest.approx(at[1], rel=1e-5)  # the root at a = 1 is steep: 1e-12 moves it by 1.4e-6
    assert above[1] == pytest.approx(at[1], rel=1e-7)
    assert far == pytest.approx(1.2 * above, rel=1e-11)
    for share in (0.9, 0.99, 0.999):
        assert demand(**given, bow_pressure_mpa=turn * share)[1] < below[1]


def test_where_a_longitudinal_asks_for_less_at_a_wider_spacing() -> None:
    """kind: hand. b_1 = (b - 0.3 s)(1 - 0.25 b/s) for b < 2 s; its slope 0.25 b'^2 - 0.3 is zero at b' = 1.0954.

    Beyond that spacing (b' smaller) a wider one loads the longitudinal less: the rule's own behaviour.
    """
    height, turn = 0.8, 0.8 / 1.2**0.5
    at = {"omega_deg": 0.0, "bow_patch_height_m": height}
    below, here, above = (demand(**at, spacing_m=turn * share) for share in (0.97, 1.0, 1.03))
    assert below[0] < here[0] > above[0]
    b1 = (height - 0.3 * turn) * (1.0 - 0.25 * height / turn)
    found = POLAR.framing.run(frame(**at, spacing_m=turn))
    assert found["effective_load_height_m"][0] == pytest.approx(b1, rel=1e-12)


# name of what is moved, where its limit lies, the other numbers: each limit by hand
LIMITS = [
    ("plate", "spacing_m", 0.6, {}, "PPF: 1.8 - s = 1.2"),
    ("plate", "spacing_m", 0.7 / 1.2, {"omega_deg": 0.0}, "PPF: 2.2 - 1.2 s = 1.5"),
    ("plate", "bow_patch_height_m", 2.3, {}, "b = a - s/4 = 2.4 - 0.1"),
    ("plate", "span_m", 0.9, {}, "a = b + s/4 = 0.8 + 0.1"),
    ("plate", "spacing_m", 0.8, {"omega_deg": 0.0}, "b = s of longitudinal framing"),
    ("plate", "omega_deg", 20.0, {}, "oblique framing begins"),
    ("plate", "omega_deg", 70.0, {}, "oblique framing ends"),
    ("plate", "stringer_to_support_m", 2.5, {"omega_deg": 0.0, "load_distributing_stringer": True}, "l"),
    ("frame", "spacing_m", 0.6, {}, "PPF: 1.8 - s = 1.2 and 1.6 - s = 1.0"),
    ("frame", "spacing_m", 0.6, {"load_distributing_stringer": True}, "PPF: 1.6 - s = 1.0"),
    ("frame", "span_m", 0.8, {}, "LL: a = b"),
    ("frame", "spacing_m", 0.4, {"omega_deg": 0.0}, "b' = 2"),
    ("frame", "web_frame_spacing_m", 1.2, {"omega_deg": 0.0}, "PPF: S_w = 0.5 w = 1.2"),
    ("frame", "omega_deg", 20.0, {}, "oblique framing begins"),
    ("frame", "omega_deg", 70.0, {}, "oblique framing ends"),
    ("frame", "plate_net_fitted_mm", 49.125, {}, "case A and B: 4 t_pn = 600 x 28/100 + 28.5 = 196.5 cm2"),
]


@pytest.mark.parametrize(("what", "name", "limit", "other", "why"), LIMITS, ids=[f"{w} {y}" for w, *_, y in LIMITS])
def test_no_jump_at_a_limit(what: str, name: str, limit: float, other: dict[str, Any], why: str) -> None:
    """A step of 1e-9 to either side moves the demand by as little."""
    run = plate if what == "plate" else demand
    below, here, above = (np.atleast_1d(run(**{**other, name: limit * (1.0 + step)})) for step in (-1e-9, 0.0, 1e-9))
    assert below == pytest.approx(here, rel=1e-7), why
    assert above == pytest.approx(here, rel=1e-7), why


def test_the_web_angle_jumps_where_the_print_lets_75_count_as_90() -> None:
    """kind: hand. A_w = h t_w sin(phi): at 75 degrees 1, just below it sin 75 = 0.9659."""
    below, at = (
        float(POLAR.framing.run(frame(web_angle_deg=angle))["shear_area_net_cm2"][0]) for angle in (75.0 - 1e-9, 75.0)
    )
    assert below / at == pytest.approx(np.sin(np.radians(75.0)), rel=1e-9)


def test_the_modulus_jumps_between_the_cases_where_the_web_leans() -> None:
    """kind: hand. Both areas are 96.9 cm2 at t_pn = 24.225 mm: case A has A_p t/20, case B that times sin phi.

    At 60 degrees the modulus falls by 96.9 x 24.225/20 x (1 - sin 60) = 15.72 cm3 as the plate gets lighter.
    """
    plate_mm, angle = 96.9 / 4.0, 60.0
    heavy, light = (
        float(POLAR.framing.run(frame(web_angle_deg=angle, plate_net_fitted_mm=t))["plastic_modulus_net_cm3"][0])
        for t in (plate_mm * (1.0 + 1e-9), plate_mm * (1.0 - 1e-9))
    )
    assert heavy - light == pytest.approx(96.9 * plate_mm / 20.0 * (1.0 - 3.0**0.5 / 2.0), rel=1e-5)


def member_demands(ice_class: str, kilotonnes: float) -> np.ndarray:
    """Demands of a panel and a frame in the bow and amidships under the ship's own loads."""
    _, loads = design(facts(ice_class=ice_class, displacement_upper_kt=kilotonnes))
    found = []
    for area in ("B", "Mi"):
        where = {"load_area": np.array([area]), "factor_area": np.array([area]), "addition_area": np.array([area])}
        plates = POLAR.plating.run({**panel(), **loads.columns, **where})
        frames = POLAR.framing.run({**frame(web_net_mm=60.0), **loads.columns, **where})
        found += [plates["thickness_net_mm"][0], frames[FRAME[0]][0], frames[FRAME[1]][0]]
    return np.array(found)


@given(st.sampled_from(CLASSES), st.floats(1.0, 300.0), MORE)
def test_every_demand_grows_with_the_displacement(ice_class: str, kilotonnes: float, more: float) -> None:
    """Never less; above 10 kt always more outside the bow, where neither fa nor a floor holds the load."""
    base, heavier = member_demands(ice_class, kilotonnes), member_demands(ice_class, kilotonnes * more)
    assert (heavier >= base * (1.0 - 1e-12)).all()
    if kilotonnes > 10.0:
        assert (heavier[3:] > base[3:]).all()


@pytest.mark.parametrize("ice_class", CLASSES)
def test_demands_do_not_jump_at_the_limits_of_displacement(ice_class: str) -> None:
    """The floors of 5 and 10 kt, and CFDIS of each class by hand."""
    most = dict(zip(CLASSES, (250.0, 210.0, 180.0, 130.0, 70.0, 40.0, 22.0), strict=True))[ice_class]
    for limit in (5.0, 10.0, most):
        below, above = (member_demands(ice_class, limit * (1.0 + step)) for step in (-1e-9, 1e-9))
        assert below == pytest.approx(above, rel=1e-7)
    assert (member_demands(ice_class, 4.0) == member_demands(ice_class, 5.0)).all()


@given(st.floats(5.0, 200.0))
def test_every_demand_grows_with_the_class(kilotonnes: float) -> None:
    """PC1 asks for most of every member, PC7 for least, under each class's own loads and factors."""
    rows = np.array([member_demands(ice_class, kilotonnes) for ice_class in CLASSES])
    assert (np.diff(rows, axis=0) <= 0.0).all()
