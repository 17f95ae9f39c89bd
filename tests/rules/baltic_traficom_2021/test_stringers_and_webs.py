"""4.5 ice stringers, 4.6 web frames, 4.1 direct analysis, 4.8 stern. Expected numbers: by hand."""

from __future__ import annotations

import math
from typing import Any

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from tests.rules.baltic_traficom_2021.cases import AREA, P1, column, stringer, web

from beltwright.core.errors import InputError, ScopeError
from beltwright.core.outcome import is_met, utilisation
from beltwright.rules.baltic_traficom_2021 import c4_1_direct_analysis as direct
from beltwright.rules.baltic_traficom_2021 import c4_5_stringers as c4_5
from beltwright.rules.baltic_traficom_2021 import c4_6_web_frames as c4_6
from beltwright.rules.baltic_traficom_2021 import c4_8_stern as c4_8
from beltwright.rules.baltic_traficom_2021.members import STRINGERS, WEB_FRAMES

OUTSIDE = {"in_belt": False, "belt_distance_m": 0.5}


def asked(**changed: Any) -> tuple[float, float]:
    found = STRINGERS.run(stringer(**changed))
    return float(found["section_modulus_required_cm3"][0]), float(found["shear_area_required_cm2"][0])


@pytest.mark.parametrize(
    ("region", "load", "modulus", "area"),
    # p h = P1 x sqrt(0.6/3.2) x 0.3, at least 0.15
    [("Bow", 0.35250, 1238.5, 53.49), ("Midbody", 0.17430, 612.4, 26.45), ("Stern", 0.15, 527.0, 22.76)],
)
def test_stringer_in_the_belt_by_hand(region: str, load: float, modulus: float, area: float) -> None:
    ph = max(P1[region] * math.sqrt(0.6 / 3.2) * 0.3, 0.15)
    z = 0.9 * 1.8 * ph * 3.2**2 / (13.3 * 355.0) * 1e6
    a = math.sqrt(3.0) * 0.9 * 1.8 * 1.2 * ph * 3.2 / 710.0 * 1e4
    assert asked(load_area=AREA[region]) == (pytest.approx(z, rel=1e-12), pytest.approx(a, rel=1e-12))
    assert (ph, z, a) == (
        pytest.approx(load, abs=6e-6),
        pytest.approx(modulus, abs=0.06),
        pytest.approx(area, abs=0.006),
    )


@pytest.mark.parametrize("region", ["Bow", "Midbody", "Stern"])
def test_stringer_outside_the_belt_by_hand(region: str) -> None:
    # 1 - 0.5/2 = 0.75; 0.8 x 1.8 in place of 0.9 x 1.8
    z, a = asked(load_area=AREA[region])
    expected = pytest.approx(z * 0.8 / 0.9 * 0.75, rel=1e-12), pytest.approx(a * 0.8 / 0.9 * 0.75, rel=1e-12)
    assert asked(load_area=AREA[region], **OUTSIDE) == expected
    found = STRINGERS.run(stringer(load_area=AREA[region], **OUTSIDE))
    ph = found["line_load_mn_per_m"][0]
    assert found["stringer_modulus_outside_cm3"][0] == pytest.approx(0.8 * 1.8 * ph * 10.24 / (13.3 * 355) * 0.75e6)
    assert found["stringer_shear_outside_cm2"][0] == pytest.approx(
        math.sqrt(3.0) * 0.8 * 1.8 * 1.2 * ph * 3.2 / 710.0 * 0.75e4
    )


def test_hatch_strips_have_a_lower_floor() -> None:
    low = asked(load_area="S", member="deck strip at a very long hatch")
    # stern: P1 sqrt(0.6/3.2) 0.3 = 0.13329 lies between the floors
    ph = P1["Stern"] * math.sqrt(0.6 / 3.2) * 0.3
    assert 0.10 < ph < 0.15
    assert low[0] == pytest.approx(asked(load_area="S")[0] * ph / 0.15, rel=1e-12)


def test_a_stringer_farther_than_the_next_one_is_out_of_scope() -> None:
    changed = {"in_belt": False, "belt_distance_m": 2.0, "stringer_distance_m": 2.0}
    with pytest.raises(
        ScopeError, match=r"ice stringers: row 0: the next ice stringer is not farther .* \(FSICR 4.5.2\)"
    ):
        asked(**changed)
    bare = STRINGERS.chain.run(stringer(**changed))
    assert bare["section_modulus_required_cm3"][0] == bare["shear_area_required_cm2"][0] == math.inf
    assert asked(in_belt=False, belt_distance_m=1.999)[0] > 0.0


def test_stringer_clauses() -> None:
    given_ = {"line_load_mn_per_m": column(0.2), "span_m": column(3.0), "yield_mpa": column(300.0)}
    m = {"boundary_taken": column(13.3)}
    assert c4_5.stringer_modulus_inside(**given_, **m)[0] == pytest.approx(1.62 * 0.2 * 9.0 / (13.3 * 300.0) * 1e6)
    assert c4_5.stringer_shear_inside(**given_)[0] == pytest.approx(math.sqrt(3.0) * 1.944 * 0.6 / 600.0 * 1e4)
    assert c4_5.stringer_modulus_outside(**given_, **m, reach=column(0.5))[0] == pytest.approx(
        0.72 * 0.2 * 9.0 / (13.3 * 300.0) * 1e6
    )
    assert c4_5.stringer_shear_outside(**given_, reach=column(0.5))[0] == pytest.approx(
        math.sqrt(3.0) * 0.864 * 0.6 / 600.0 * 1e4
    )
    rows = {"in_scope": column([True, True, False]), "in_belt": column([True, False, True])}
    found = c4_5.stringer_modulus(
        **rows, stringer_modulus_inside_cm3=column(9.0), stringer_modulus_outside_cm3=column(5.0)
    )
    assert found.tolist() == [9.0, 5.0, math.inf]
    found = c4_5.stringer_shear(**rows, stringer_shear_inside_cm2=column(9.0), stringer_shear_outside_cm2=column(5.0))
    assert found.tolist() == [9.0, 5.0, math.inf]


# Web frames


def run(**changed: Any) -> dict[str, float]:
    out = WEB_FRAMES.run(web(**changed))
    return {name: values[0] for name, values in out.items()}


def ratios(**changed: Any) -> dict[str, float]:
    out = WEB_FRAMES.chain.run(web(**changed))
    return {c.name: float(utilisation(out[c.required], out[c.offered])[0]) for c in WEB_FRAMES.checks}


@pytest.mark.parametrize(
    ("region", "load", "area", "moment", "modulus"),
    [("Bow", 1.64114, 102.17, 1.90044, 6003.0), ("Midbody", 0.86400, 53.79, 1.00051, 2902.0),
     ("Stern", 0.86400, 53.79, 1.00051, 2902.0)],
)  # fmt: skip
def test_web_frame_by_hand(region: str, load: float, area: float, moment: float, modulus: float) -> None:
    # l_a = 6.4: c_a = 0.35 (sqrt(0.6/6.4) = 0.306); p h at least 0.15; A_f/A_w = 0.4: alpha 1.16, gamma 0.62
    ph = max(P1[region] * 0.35 * 0.3, 0.15)
    force = 1.8 * ph * 3.2
    a = math.sqrt(3.0) * 1.16 * 1.1 * force / 355.0 * 1e4
    m = 0.193 * force * 6.0
    z = m / 355.0 * math.sqrt(1.0 / (1.0 - (0.62 * a / 140.0) ** 2)) * 1e6
    found = run(load_area=AREA[region])
    for name, value in (("web_load_mn", force), ("shear_area_required_cm2", a), ("moment_mnm", m),
                        ("section_modulus_required_cm3", z)):  # fmt: skip
        assert found[name] == pytest.approx(value, rel=1e-12)
    assert force == pytest.approx(load, abs=6e-6)
    assert a == pytest.approx(area, abs=0.006)
    assert m == pytest.approx(moment, abs=6e-6)
    assert z == pytest.approx(modulus, abs=0.6)


def test_the_bow_web_of_the_example_fails_its_own_shear() -> None:
    found = ratios()
    assert found["shear area"] == pytest.approx(1.0217, abs=1e-4)
    assert found["section modulus"] < 1.0
    assert not is_met(np.array(found["shear area"]))


def test_outside_the_belt_the_load_falls() -> None:
    assert run(**OUTSIDE)["web_load_mn"] == pytest.approx(run()["web_load_mn"] * 0.75)
    with pytest.raises(ScopeError, match="web frames: row 0: the flange is more than twice the web"):
        run(in_belt=False, belt_distance_m=2.0)


ALPHA = (1.5, 1.23, 1.16, 1.11, 1.09, 1.07, 1.06, 1.05, 1.05, 1.04, 1.04)
GAMMA = (0.0, 0.44, 0.62, 0.71, 0.76, 0.80, 0.83, 0.85, 0.87, 0.88, 0.89)


@pytest.mark.parametrize("number", range(11))
def test_every_column_of_table_4_8(number: int) -> None:
    found = run(web_area_cm2=200.0, free_flange_area_cm2=40.0 * number)
    assert found["shear_factor"] == pytest.approx(ALPHA[number], abs=1e-12)
    assert found["interaction_factor"] == pytest.approx(GAMMA[number], abs=1e-12)


@given(st.floats(0.0, 2.0))
def test_between_columns_is_linear(ratio: float) -> None:
    grid = np.linspace(0.0, 2.0, 11)
    found = run(web_area_cm2=200.0, free_flange_area_cm2=200.0 * ratio)
    assert found["shear_factor"] == pytest.approx(np.interp(ratio, grid, ALPHA), abs=1e-9)
    assert found["interaction_factor"] == pytest.approx(np.interp(ratio, grid, GAMMA), abs=1e-9)


def test_beyond_table_4_8_is_out_of_scope() -> None:
    run(web_area_cm2=100.0, free_flange_area_cm2=200.0)
    with pytest.raises(ScopeError, match="beyond Table 4-8"):
        run(web_area_cm2=100.0, free_flange_area_cm2=200.01)
    bare = WEB_FRAMES.chain.run(web(web_area_cm2=100.0, free_flange_area_cm2=[200.01, 5000.0]))
    for check in WEB_FRAMES.checks:
        assert bare[check.required].tolist() == [math.inf, math.inf]


def test_no_modulus_suffices_where_shear_takes_the_section() -> None:
    # gamma A >= A_a: a web of 30 and flange of 15 cm2 under A of some 105 cm2
    found = ratios(web_area_cm2=30.0, free_flange_area_cm2=15.0, section_modulus_cm3=1e9)
    assert found["shear with bending"] > 1.0
    assert found["section modulus"] == math.inf
    assert run(web_area_cm2=30.0, free_flange_area_cm2=15.0)["section_modulus_required_cm3"] == math.inf


@pytest.mark.parametrize(("taken", "expected"), [(0.0, 1.0), (0.6, 1.25), (0.8, 1.0 / 0.6)])
def test_interaction(taken: float, expected: float) -> None:
    # 1/sqrt(1 - 0.6^2) = 1.25, 1/sqrt(1 - 0.8^2) = 1/0.6
    found = c4_6.web_modulus(
        moment_mnm=column(1.0), yield_mpa=column(250.0), area_for_shear_cm2=column(taken * 140.0),
        section_area_cm2=column(140.0),
    )  # fmt: skip
    assert found[0] == pytest.approx(4000.0 * expected, rel=1e-12)


@pytest.mark.parametrize(("used", "finite"), [(139.999, True), (140.0, False), (141.0, False), (math.inf, False)])
def test_both_sides_of_the_interaction_limit(used: float, finite: bool) -> None:
    found = c4_6.web_modulus(
        moment_mnm=column(1.0), yield_mpa=column(250.0), area_for_shear_cm2=column(used), section_area_cm2=column(140.0)
    )
    assert np.isfinite(found[0]) == finite
    assert not np.isnan(found[0])


def test_moment_is_that_of_a_propped_cantilever() -> None:
    # second way: clamped at 0, supported at l, load F at x: clamp moment F l (x^3/2 - 3 x^2/2 + x), greatest at
    # x = 1 - 1/sqrt 3 = 0.42265 with F l/(3 sqrt 3) = 0.19245; 0.193 is that number rounded up
    x = np.linspace(0.0, 1.0, 200001)
    moment = 0.5 * x**3 - 1.5 * x**2 + x
    assert x[np.argmax(moment)] == pytest.approx(1.0 - 1.0 / math.sqrt(3.0), abs=1e-5)
    assert moment.max() == pytest.approx(1.0 / (3.0 * math.sqrt(3.0)), abs=1e-9)
    coefficient = c4_6.web_moment(web_load_mn=column(1.0), span_m=column(1.0))[0]
    assert 0.0 <= coefficient - moment.max() < 0.001
    # clamp reaction 1 + x^3/2 - 3 x^2/2 is at most F, 0.770 F at the worst moment: Q = F is an upper bound
    shear = np.maximum(1.0 + 0.5 * x**3 - 1.5 * x**2, 1.5 * x**2 - 0.5 * x**3)
    assert shear.max() == pytest.approx(1.0)
    assert shear[np.argmax(moment)] == pytest.approx(0.770, abs=0.0005)
    assert c4_6.web_shear_force(shear_share=column(1.0), web_load_mn=column(1.0))[0] == shear.max()


def test_web_clauses() -> None:
    assert c4_6.web_load(line_load_mn_per_m=column(0.2), web_frame_spacing_m=column(3.0), reach=column(0.5))[0] == (
        pytest.approx(0.54)
    )
    rows = column([0.0, 0.19, 0.2, 0.39, 0.4, 0.6, 0.8, 1.0, 1.2, 1.4, 1.6, 1.79, 1.8, 2.0])
    below = c4_6.column_below(flange_over_web=rows).tolist()
    above = c4_6.column_above(flange_over_web=rows).tolist()
    assert below == ["0.0", "0.0", "0.2", "0.2", "0.4", "0.6", "0.8", "1.0", "1.2", "1.4", "1.6", "1.6", "1.8", "1.8"]
    assert above == ["0.2", "0.2", "0.4", "0.4", "0.6", "0.8", "1.0", "1.2", "1.4", "1.6", "1.8", "1.8", "2.0", "2.0"]
    assert c4_6.column_ratio(area_ratio=column(["0.4", "2.0"])).tolist() == [0.4, 2.0]
    assert c4_6.column_alpha(area_ratio=column("0.4"))[0] == 1.16
    assert c4_6.column_gamma(area_ratio=column("0.4"))[0] == 0.62
    part = c4_6.column_part(flange_over_web=column([0.5, 9.0]), ratio_below=column(0.4), ratio_above=column(0.6))
    assert part.tolist() == [pytest.approx(0.5), 1.0]
    assert c4_6.between_columns(value_below=column(1.0), value_above=column(2.0), part=column(0.25))[0] == 1.25
    assert c4_6.flange_over_web(free_flange_area_cm2=column(40.0), web_area_cm2=column(100.0))[0] == 0.4
    assert c4_6.web_section_area(free_flange_area_cm2=column(40.0), web_area_cm2=column(100.0))[0] == 140.0
    assert c4_6.web_in_table(flange_over_web=column([2.0, 2.001])).tolist() == [True, False]
    scope = c4_6.web_in_scope(reach_in_scope=column([True, True, False]), web_in_table=column([True, False, True]))
    assert scope.tolist() == [True, False, False]
    area = c4_6.web_shear_area(in_scope=column([True, False]), shear_factor=column(1.5), shear_force_mn=column(1.0),
                               yield_mpa=column(300.0))  # fmt: skip
    assert area.tolist() == [pytest.approx(math.sqrt(3.0) * 1.65 / 300.0 * 1e4), math.inf]
    taken = c4_6.area_for_shear(interaction_factor=column([0.5, 0.0]), shear_area_required_cm2=column([80.0, math.inf]))
    assert taken.tolist() == [40.0, math.inf]


def test_a_smaller_share_of_shear_may_be_given() -> None:
    whole, part = run(), run(shear_share=0.77)
    assert part["shear_area_required_cm2"] == pytest.approx(0.77 * whole["shear_area_required_cm2"])
    assert part["section_modulus_required_cm3"] < whole["section_modulus_required_cm3"]
    for share in (0.0, 1.01, math.nan):
        with pytest.raises(InputError, match="web frames: row 0: shear_share: outside its range"):
            run(shear_share=share)


@given(st.floats(2.0, 6.0), st.floats(3.0, 9.0), st.floats(1.0, 1.3))
def test_web_requirement_grows_with_spacing_span_and_load(spacing: float, span: float, m: float) -> None:
    own = {"web_frame_spacing_m": spacing, "span_m": span, "web_area_cm2": 400.0, "free_flange_area_cm2": 100.0}
    a, z = (run(**own)[name] for name in ("shear_area_required_cm2", "section_modulus_required_cm3"))
    wider, longer = run(**{**own, "web_frame_spacing_m": spacing * m}), run(**{**own, "span_m": span * m})
    assert wider["shear_area_required_cm2"] >= a * (1 - 1e-12)
    assert wider["section_modulus_required_cm3"] >= z * (1 - 1e-12)
    assert longer["section_modulus_required_cm3"] >= z * (1 - 1e-12)
    assert longer["shear_area_required_cm2"] == a
    heavier = run(**own, bow_size_factor=0.5 * m), run(**own, bow_size_factor=0.5)
    assert heavier[0]["section_modulus_required_cm3"] >= heavier[1]["section_modulus_required_cm3"] * (1 - 1e-12)


@pytest.mark.parametrize("rule", [STRINGERS, WEB_FRAMES], ids=lambda rule: rule.name)
def test_rules(rule: Any) -> None:
    given_ = {"ice stringers": stringer, "web frames": web}[rule.name]
    assert rule.result in rule.chain.outputs
    assert set(rule.shown.values()) <= set(rule.chain.outputs)
    for limit in rule.limits:
        with pytest.raises(InputError, match=f"{rule.name}: row 0: {limit.column}: outside its range; found nan"):
            rule.run(given_(**{limit.column: math.nan}))


# Direct analysis and stern


def test_direct_analysis() -> None:
    assert direct.direct_pressure(pressure_mpa=column(2.0))[0] == 3.6
    low = direct.lowest_patch_centre(lower_height_m=column(4.0), ice_thickness_m=column(0.8))
    assert low[0] == pytest.approx(3.6)
    centres = direct.patch_centre(
        upper_height_m=column(8.0), lowest_patch_m=low, part=column([0.0, 0.25, 0.5, 1.0])
    )  # fmt: skip
    assert centres.tolist() == pytest.approx([8.0, 6.9, 5.8, 3.6])
    tau = direct.shear_yield(yield_mpa=column(355.0))
    assert tau[0] == pytest.approx(204.96, abs=0.005)
    assert direct.shear_stress_limit(shear_yield_mpa=tau)[0] == pytest.approx(0.9 * 355.0 / math.sqrt(3.0))
    # pure shear at tau_y is just at yield
    assert direct.combined_stress(bending_stress_mpa=column(0.0), shear_stress_mpa=tau)[0] == pytest.approx(355.0)
    assert direct.combined_stress(bending_stress_mpa=column(300.0), shear_stress_mpa=column(0.0))[0] == 300.0
    assert direct.combined_stress(bending_stress_mpa=column(30.0), shear_stress_mpa=column(40.0))[0] == (
        pytest.approx(math.sqrt(900.0 + 4800.0))
    )


def test_stern() -> None:
    assert c4_8.least_propeller_clearance(ice_thickness_m=column(0.8))[0] == 0.8
    assert c4_8.side_propeller_reach(propeller_aft_of_stem_m=column(118.0))[0] == 116.5
