"""4.3.2 shell plating, 4.7 stem. Expected numbers: by hand."""

from __future__ import annotations

import math
from typing import Any

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from tests.rules.baltic_traficom_2021.cases import AREA, BALTIC, P1, REGIONS, column, panel, stem

from beltwright.core.errors import InputError, ScopeError
from beltwright.rules.baltic_traficom_2021 import c4_3_plating as c4_3
from beltwright.rules.baltic_traficom_2021 import c4_7_stem as c4_7
from beltwright.rules.baltic_traficom_2021.members import PLATING, STEM


def thickness(**changed: Any) -> float:
    return float(PLATING.run(panel(**changed))["thickness_required_mm"][0])


# s = 0.4, h = 0.3: h/s 0.75, f1 = 1.3 - 4.2/2.55^2 = 0.65409, f2 = 0.6 + 0.4/0.75 = 1.13333
F1, F2 = 1.3 - 4.2 / 2.55**2, 0.6 + 0.4 / 0.75
TRANSVERSE = {"Bow": 18.338, "Midbody": 13.488, "Stern": 12.046}
LONGITUDINAL = {"Bow": 23.236, "Midbody": 16.933, "Stern": 15.058}


@pytest.mark.parametrize("region", REGIONS)
def test_transverse_by_hand(region: str) -> None:
    # 667 x 0.4 x sqrt(f1 x 0.75 p / 355) + 2, c_a = 1
    expected = 667.0 * 0.4 * math.sqrt(F1 * 0.75 * P1[region] / 355.0) + 2.0
    assert thickness(load_area=AREA[region]) == pytest.approx(expected, rel=1e-12)
    assert expected == pytest.approx(TRANSVERSE[region], abs=0.0006)


@pytest.mark.parametrize("region", REGIONS)
def test_longitudinal_by_hand(region: str) -> None:
    # l_a = 1.7 x 0.4 = 0.68, c_a = sqrt(0.6/0.68) = 0.93934; 667 x 0.4 x sqrt(p / (f2 x 355)) + 2
    pressure = P1[region] * math.sqrt(0.6 / 0.68)
    expected = 667.0 * 0.4 * math.sqrt(pressure / (F2 * 355.0)) + 2.0
    assert thickness(load_area=AREA[region], omega_deg=0.0) == pytest.approx(expected, rel=1e-12)
    assert expected == pytest.approx(LONGITUDINAL[region], abs=0.0006)


def test_upper_bow_ice_belt_as_midbody_and_fore_foot_as_bow() -> None:
    # the class IA has no fore foot: the chain knows the area all the same
    assert thickness(load_area="UB") == thickness(load_area="M")
    assert thickness(load_area="FF") == thickness(load_area="FK") == thickness(load_area="B")


def test_nothing_is_asked_of_plating_beside_the_belt() -> None:
    codes = ["BA", "BL", "MA", "ML", "SA", "SL"]
    found = PLATING.run(panel(load_area=codes))
    assert found["thickness_required_mm"].tolist() == [0.0] * 6
    assert found["plating_asked"].tolist() == [False] * 6
    asked = c4_3.plating_asked(load_area=column(["B", "M", "S", "UB", "FF", "FK"]))
    assert asked.tolist() == [True] * 6
    # not even where the formula would have no value
    assert thickness(load_area="BL", spacing_m=0.15, omega_deg=0.0) == 0.0


@pytest.mark.parametrize(
    ("ratio", "factor"),
    # f1 = 1.3 - 4.2/(h/s + 1.8)^2, 1 from h/s = sqrt(14) - 1.8 = 1.94166
    [(0.75, 0.6540946), (1.0, 1.3 - 4.2 / 7.84), (1.94, 1.3 - 4.2 / 3.74**2), (1.95, 1.0), (5.0, 1.0)],
)
def test_factor_f1(ratio: float, factor: float) -> None:
    found = c4_3.plate_factor_transverse(height_over_spacing=column(ratio))[0]
    assert found == pytest.approx(factor, abs=5e-8)


@pytest.mark.parametrize(
    ("ratio", "factor"),
    [(0.5, 1.4), (0.75, 1.1333333), (1.0, 1.0), (1.2, 0.92), (1.8, 0.68)],
)
def test_factor_f2(ratio: float, factor: float) -> None:
    found = c4_3.plate_factor_longitudinal(height_over_spacing=column(ratio))[0]
    assert found == pytest.approx(factor, abs=5e-8)


def test_branches_of_f2_meet_at_one() -> None:
    found = c4_3.plate_factor_longitudinal(height_over_spacing=column([1.0 - 1e-9, 1.0, 1.0 + 1e-9]))
    assert found.tolist() == pytest.approx([1.0, 1.0, 1.0], abs=1e-8)


def test_above_1_8_longitudinal_plating_is_out_of_scope() -> None:
    # IA: h = 0.3, s = 0.3/1.8 = 0.16667
    at, beyond = 0.3 / 1.8 + 1e-9, 0.3 / 1.8 - 1e-9
    assert math.isfinite(thickness(spacing_m=at, omega_deg=0.0))
    assert math.isfinite(thickness(spacing_m=beyond, omega_deg=70.0))
    for omega in (0.0, 45.0, 69.9):
        with pytest.raises(ScopeError, match=r"h/s is above 1.8 with longitudinal framing, where f_2 is not defined"):
            thickness(spacing_m=beyond, omega_deg=omega)
    bare = PLATING.chain.run(panel(spacing_m=[0.02, 0.1, beyond], omega_deg=0.0))
    assert bare["thickness_required_mm"].tolist() == [math.inf] * 3
    assert all(np.isfinite(bare[name]).all() for name in bare if bare[name].dtype == float and "required" not in name)


@pytest.mark.parametrize(
    ("omega", "across", "along"), [(0.0, False, True), (20.0, False, True), (20.1, True, True), (69.9, True, True),
                                   (70.0, True, False), (90.0, True, False)]
)  # fmt: skip
def test_oblique_framing_takes_the_greater(omega: float, across: bool, along: bool) -> None:
    assert bool(c4_3.transverse_counts(omega_deg=column(omega))[0]) is across
    assert bool(c4_3.longitudinal_counts(omega_deg=column(omega))[0]) is along
    both = [thickness(omega_deg=90.0)] * across + [thickness(omega_deg=0.0)] * along
    assert thickness(omega_deg=omega) == max(both)


def test_greater_may_be_the_transverse_one() -> None:
    given_ = {"plating_asked": column(True), "transverse_counts": column(True), "longitudinal_counts": column(True)}
    for across, along in ((20.0, 10.0), (10.0, 20.0)):
        found = c4_3.net_thickness(
            net_thickness_transverse_mm=column(across), net_thickness_longitudinal_mm=column(along), **given_
        )
        assert found[0] == 20.0
    assert c4_3.net_thickness_transverse.symbol == c4_3.net_thickness_longitudinal.symbol == "t - t_c"


@pytest.mark.parametrize(
    ("alpha", "psi", "blunt"),
    [(30.0, 75.0, True), (29.99, 75.0, False), (30.0, 74.99, False), (80.0, 89.0, True)],
)
def test_blunt_bow_takes_the_whole_pressure(alpha: float, psi: float, blunt: bool) -> None:
    share = 1.0 if blunt else 0.75
    expected = 667.0 * 0.4 * math.sqrt(F1 * share * P1["Bow"] / 355.0) + 2.0
    assert thickness(waterline_angle_deg=alpha, flare_angle_deg=psi) == pytest.approx(expected, rel=1e-12)
    found = c4_3.blunt_bow(
        region=column(["Bow", "Midbody"]), waterline_angle_deg=column(alpha), flare_angle_deg=column(psi)
    )
    assert found.tolist() == [blunt, False]


def test_pressure_and_ratio() -> None:
    found = c4_3.plate_pressure(blunt_bow=column([True, False]), pressure_mpa=column(2.0))
    assert found.tolist() == [2.0, 1.5]
    assert c4_3.height_over_spacing(load_height_m=column(0.3), spacing_m=column(0.4))[0] == pytest.approx(0.75)


def test_addition() -> None:
    assert c4_3.abrasion_addition(surface=column("shell"))[0] == 2.0
    for approved, taken in ((1.0, 1.0), (2.0, 2.0), (3.0, 2.0)):
        found = c4_3.abrasion_taken(abrasion_addition_mm=column(2.0), approved_abrasion_mm=column(approved))
        assert found[0] == taken
    assert thickness(approved_abrasion_mm=1.0) == pytest.approx(thickness() - 1.0)
    found = c4_3.thickness_required(
        in_scope=column([True, True, False]), plating_asked=column([True, False, True]),
        thickness_net_mm=column(20.0), abrasion_mm=column(2.0),
    )  # fmt: skip
    assert found.tolist() == [22.0, 0.0, math.inf]
    scope = c4_3.plating_in_scope(
        plating_asked=column([True, True, False, True]), longitudinal_counts=column([True, False, True, True]),
        height_over_spacing=column([1.81, 1.81, 1.81, 1.8]), ends_held=column(False),
    )  # fmt: skip
    assert scope.tolist() == [False, True, True, True]


def test_a_written_reason_holds_f_2_at_its_end() -> None:
    # s = 0.15, h/s = 2: f2 = 1.4 - 0.4 x 1.8 = 0.68; l_a = 0.255, c_a = 1; 667 x 0.15 x sqrt(p / (f2 x 355))
    narrow = {"spacing_m": 0.15, "omega_deg": 0.0}
    with pytest.raises(ScopeError, match=r"h/s is above 1\.8"):
        thickness(**narrow)
    expected = 667.0 * 0.15 * math.sqrt(P1["Bow"] / (0.68 * 355.0)) + 2.0
    assert thickness(**narrow, ends_held=True) == pytest.approx(expected, rel=1e-12)


@pytest.mark.parametrize(
    ("omega", "length", "pressure"),
    [
        (90.0, 0.4, 0.75 * P1["Bow"]),  # transverse framing: l_a = s, three quarters of the pressure
        (0.0, 0.68, P1["Bow"] * math.sqrt(0.6 / 0.68)),  # longitudinal framing: l_a = 1.7 s
        (45.0, 0.68, P1["Bow"] * math.sqrt(0.6 / 0.68)),  # oblique framing: 21.2 mm against 16.3 mm net
    ],
)
def test_the_load_shown_is_that_of_the_formula_that_decides(omega: float, length: float, pressure: float) -> None:
    found = PLATING.run(panel(omega_deg=omega))
    assert found["deciding_length_m"][0] == pytest.approx(length, rel=1e-12)
    assert found["deciding_pressure_mpa"][0] == pytest.approx(pressure, rel=1e-12)


def test_which_formula_decides() -> None:
    found = c4_3.transverse_decides(
        transverse_counts=column([True, True, True, False]), longitudinal_counts=column([False, True, True, True]),
        net_thickness_transverse_mm=column([10.0, 12.0, 10.0, 30.0]),
        net_thickness_longitudinal_mm=column([20.0, 12.0, 11.0, 10.0]),
    )  # fmt: skip
    assert found.tolist() == [True, True, False, False]
    pressure = c4_3.deciding_pressure(
        transverse_decides=column([True, False]), plate_pressure_mpa=column(0.9), pressure_mpa=column(1.1)
    )
    assert pressure.tolist() == [0.9, 1.1]
    length = c4_3.deciding_length(
        transverse_decides=column([True, False]), length_across_m=column(0.4), length_along_m=column(0.68)
    )
    assert length.tolist() == [0.4, 0.68]


@given(st.floats(0.25, 1.2), st.floats(1.0, 1.4), st.floats(235.0, 500.0), st.sampled_from([0.0, 45.0, 90.0]))
def test_thickness_grows_with_spacing_and_load_and_falls_with_yield(s: float, m: float, y: float, omega: float) -> None:
    given_ = {"spacing_m": s, "yield_mpa": y, "omega_deg": omega}
    own = thickness(**given_)
    assert thickness(**{**given_, "spacing_m": s * m}) >= own - 1e-9
    assert thickness(**{**given_, "yield_mpa": y * m}) <= own + 1e-9
    assert thickness(bow_size_factor=0.48 * m, **given_) >= thickness(bow_size_factor=0.48, **given_) - 1e-9
    assert (
        thickness(load_area="B", **given_) >= thickness(load_area="M", **given_) >= thickness(load_area="S", **given_)
    )
    by_class = [thickness(ice_class=name, **given_) for name in ("IC", "IB", "IA", "IA Super")]
    assert by_class == sorted(by_class)


@pytest.mark.parametrize("name", ["spacing_m", "yield_mpa", "omega_deg", "waterline_angle_deg", "flare_angle_deg",
                                  "bow_size_factor", "abrasion_addition_mm"])  # fmt: skip
def test_a_number_that_is_none_is_refused(name: str) -> None:
    with pytest.raises(InputError, match=f"shell plating: row 0: {name}: outside its range; found nan"):
        thickness(**{name: math.nan})


def test_checks_and_tables() -> None:
    assert [(c.name, c.required, c.offered, c.ref) for c in PLATING.checks] == [
        ("thickness", "thickness_required_mm", "thickness_as_built_mm", "FSICR 4.3.2")
    ]
    assert BALTIC.plating is PLATING
    assert PLATING.result in PLATING.chain.outputs
    assert set(PLATING.shown.values()) <= set(PLATING.chain.outputs)


# Stem


def test_stem_by_hand() -> None:
    # s = 0.5: h/s 0.6, f1 = 1.3 - 4.2/2.4^2 = 0.570833; l_a = 0.9: c_a = sqrt(2/3); the whole pressure
    pressure = P1["Bow"] * math.sqrt(0.6 / 0.9)
    expected = 667.0 * 0.5 * math.sqrt((1.3 - 4.2 / 5.76) * pressure / 355.0) + 2.0
    found = STEM.run(stem())
    assert found["thickness_required_mm"][0] == pytest.approx(expected, rel=1e-12)
    assert found["floor_thickness_least_mm"][0] == 15.0
    assert found["stem_top_least_m"][0] == 0.75
    assert STEM.run(stem(upper_belt_above_upper_m=2.5))["stem_top_least_m"][0] == 2.5
    assert STEM.run(stem(load_area="UB"))["thickness_required_mm"][0] == pytest.approx(expected)


def test_stem_clauses() -> None:
    assert c4_7.stem_loaded_length(vertical_support_spacing_m=column(0.9))[0] == 0.9
    assert c4_7.stem_floor_spacing_most(limit=column("floors behind the stem"))[0] == 0.6
    assert c4_7.stem_floor_thickness_least(plate_fitted_mm=column(30.0))[0] == 15.0
    assert c4_7.stem_top_least(upper_belt_above_upper_m=column([0.0, 0.7, 0.8])).tolist() == [0.75, 0.75, 0.8]
    assert c4_7.stem_thickness.ref == "4.7"
    assert [(c.name, c.required, c.offered) for c in STEM.checks] == [
        ("thickness", "thickness_required_mm", "plate_fitted_mm"),
        ("spacing of floors", "floor_spacing_m", "floor_spacing_most_m"),
        ("thickness of floors", "floor_thickness_least_mm", "floor_thickness_mm"),
        ("height of the reinforcement", "stem_top_least_m", "stem_top_above_upper_m"),
    ]
