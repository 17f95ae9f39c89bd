"""4.2: size factor, region factor, loaded length, pressure. Expected numbers: by hand."""

from __future__ import annotations

import math
from typing import Any

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from tests.rules.baltic_traficom_2021.cases import BALTIC, BOW, CLASSES, OTHER, P1, K, column, facts

from beltwright.core.errors import InputError
from beltwright.rules.baltic_traficom_2021 import c4_2_load as c4_2


def size_factor(region: str, k: float) -> float:
    number = column(k)
    row = c4_2.k_range(size_and_power=number)
    found = c4_2.size_factor(
        size_slope=c4_2.size_slope(region=column(region), k_range=row),
        size_and_power=number,
        size_offset=c4_2.size_offset(region=column(region), k_range=row),
    )
    return float(found[0])


def test_size_and_power() -> None:
    found = c4_2.size_and_power(displacement_upper_t=column(12000.0), engine_power_kw=column(6000.0))
    assert found[0] == pytest.approx(8.485281374, abs=1e-9)
    assert (pytest.approx(0.48456, abs=5e-6), pytest.approx(0.28188, abs=5e-6)) == (BOW, OTHER)
    assert size_factor("Bow", K) == pytest.approx(BOW, rel=1e-14)
    assert size_factor("Stern", K) == size_factor("Midbody", K) == pytest.approx(OTHER, rel=1e-14)


@pytest.mark.parametrize(("region", "at_12"), [("Bow", 0.590), ("Midbody", 0.310), ("Stern", 0.310)])
def test_size_factor_is_continuous_at_12(region: str, at_12: float) -> None:
    # 30 x 12 + 230 = 6 x 12 + 518 = 590; 8 x 12 + 214 = 2 x 12 + 286 = 310
    assert c4_2.k_range(size_and_power=column([12.0, 12.0 + 1e-9])).tolist() == ["k <= 12", "k > 12"]
    for k in (12.0 - 1e-9, 12.0, 12.0 + 1e-9):
        assert size_factor(region, k) == pytest.approx(at_12, abs=1e-10)


@pytest.mark.parametrize(
    ("region", "cap"), [("Bow", (1000.0 - 518.0) / 6.0), ("Midbody", 357.0), ("Stern", (1000.0 - 286.0) / 2.0)]
)
def test_size_factor_is_held_at_one(region: str, cap: float) -> None:
    assert size_factor(region, cap * 0.999) < 1.0
    assert size_factor(region, cap * 1.001) == 1.0


@given(st.floats(0.1, 500.0), st.floats(0.1, 500.0))
def test_size_factor_grows_and_is_greatest_in_the_bow(one: float, other: float) -> None:
    low, high = sorted((one, other))
    for region in ("Bow", "Midbody", "Stern"):
        assert size_factor(region, low) <= size_factor(region, high) + 1e-12
    assert size_factor("Bow", one) >= size_factor("Midbody", one)


REGION = {"IA Super": (1.0, 1.0, 0.75), "IA": (1.0, 0.85, 0.65), "IB": (1.0, 0.70, 0.45), "IC": (1.0, 0.50, 0.25)}


@pytest.mark.parametrize("ice_class", CLASSES)
def test_region_factor(ice_class: str) -> None:
    found = c4_2.region_factor(ice_class=column(ice_class), region=column(["Bow", "Midbody", "Stern"]))
    assert tuple(found) == REGION[ice_class]


@pytest.mark.parametrize(("ice_class", "height"), [("IA Super", 0.35), ("IA", 0.30), ("IB", 0.25), ("IC", 0.22)])
def test_load_height(ice_class: str, height: float) -> None:
    assert c4_2.load_height(ice_class=column(ice_class))[0] == height


@pytest.mark.parametrize(
    ("length", "factor"),
    # sqrt(0.6/l): 1 up to 0.6 m, 0.5 at 2.4 m, 0.35 from 0.6/0.1225 = 4.898 m
    [(0.3, 1.0), (0.6, 1.0), (0.61, math.sqrt(0.6 / 0.61)), (2.4, 0.5), (4.89, math.sqrt(0.6 / 4.89)), (4.90, 0.35),
     (20.0, 0.35)],
)  # fmt: skip
def test_length_factor(length: float, factor: float) -> None:
    assert c4_2.length_factor(loaded_length_m=column(length))[0] == pytest.approx(factor, abs=1e-12)


def test_loaded_lengths() -> None:
    s = {"spacing_m": column(0.4)}
    assert c4_2.loaded_length_shell_transverse(**s)[0] == 0.4
    assert c4_2.loaded_length_shell_longitudinal(**s)[0] == pytest.approx(0.68)
    assert c4_2.loaded_length_transverse_frame(**s)[0] == 0.4
    assert c4_2.loaded_length_longitudinal_frame(span_m=column(2.4))[0] == 2.4
    assert c4_2.loaded_length_stringer(span_m=column(3.2))[0] == 3.2
    assert c4_2.loaded_length_web_frame(web_frame_spacing_m=column(3.2))[0] == 6.4


def test_pressure() -> None:
    found = c4_2.pressure(size_factor=column(0.5), region_factor=column(0.85), length_factor=column(0.5))
    assert found[0] == pytest.approx(0.5 * 0.85 * 0.5 * 5.6)
    assert P1["Bow"] == pytest.approx(2.71353, abs=5e-6)
    assert P1["Midbody"] == pytest.approx(1.34176, abs=5e-6)
    assert P1["Stern"] == pytest.approx(1.02605, abs=5e-6)


AREAS = {"Bow": ("B", "BA", "BL", "FF", "FK"), "Midbody": ("M", "MA", "ML", "UB"), "Stern": ("S", "SA", "SL")}


def test_region_of_an_area() -> None:
    for region, codes in AREAS.items():
        own = c4_2.plating_region(load_area=column(codes))
        assert set(own.tolist()) == {region}
        frames = c4_2.framing_region(load_area=column(codes), plating_region=own)
        assert frames.tolist() == ["Bow" if code == "UB" else region for code in codes]
    strange = c4_2.plating_region(load_area=column("BIi"))
    with pytest.raises(InputError, match="no such region; found BIi"):
        c4_2.region_factor(ice_class=column("IA"), region=strange)


def test_member_size_factor() -> None:
    found = c4_2.member_size_factor(
        region=column(["Bow", "Midbody", "Stern"]), bow_size_factor=column(0.6), other_size_factor=column(0.3)
    )
    assert found.tolist() == [0.6, 0.3, 0.3]


def test_line_load_floor() -> None:
    rows = column(["stringer or web frame", "deck strip at a very long hatch"])
    least = c4_2.least_line_load(member=rows)
    assert least.tolist() == [0.15, 0.10]
    for pressure, expected in ((0.49, [0.15, 0.147]), (0.51, [0.153, 0.153]), (0.2, [0.15, 0.10])):
        found = c4_2.line_load(
            pressure_mpa=column(pressure), load_height_m=column(0.3), least_line_load_mn_per_m=least
        )  # fmt: skip
        assert found.tolist() == pytest.approx(expected)


@pytest.mark.parametrize(
    ("inside", "distance", "reach", "scope"),
    [(True, 9.0, 1.0, True), (False, 0.5, 0.75, True), (False, 1.999, 0.0005, True), (False, 2.0, 0.0, False),
     (False, 3.0, -0.5, False)],
)  # fmt: skip
def test_reach_outside_the_belt(inside: bool, distance: float, reach: float, scope: bool) -> None:
    given_ = {"in_belt": column(inside), "belt_distance_m": column(distance), "stringer_distance_m": column(2.0)}
    assert c4_2.reach_outside_belt(**given_)[0] == pytest.approx(reach)
    assert bool(c4_2.reach_in_scope(**given_)[0]) is scope


# The loads of a ship


def design(**changed: Any) -> Any:
    ship = facts(**changed)
    return BALTIC.loads(ship, BALTIC.areas(ship, ()), {}, ())


def test_columns_of_the_members() -> None:
    columns = design().columns
    assert {name: values.tolist() for name, values in columns.items()} == {
        "ice_class": ["IA"],
        "bow_size_factor": [pytest.approx(BOW, rel=1e-14)],
        "other_size_factor": [pytest.approx(OTHER, rel=1e-14)],
        "abrasion_addition_mm": [2.0],
        "approved_abrasion_mm": [2.0],
        "boundary_longitudinal": [13.3],
        "web_least_line_load_mn_per_m": [0.15],
        "tripping_distance_most_m": [1.3],
        "floor_spacing_most_m": [0.6],
        "ends_held": [False],
    }


def test_patches() -> None:
    found = design().patches
    assert [patch.name for patch in found] == [
        f"{region}, loaded length up to 0.6 m" for region in ("bow", "midbody", "stern")
    ]
    for patch, region in zip(found, ("Bow", "Midbody", "Stern"), strict=True):
        assert (patch.width_m, patch.height_m) == (0.6, 0.3)
        assert patch.pressure_mpa == pytest.approx(P1[region], rel=1e-13)
        assert patch.force_mn == pytest.approx(P1[region] * 0.18, rel=1e-13)
    assert [patch.areas for patch in found] == [("B", "BL", "BA"), ("M", "ML", "MA"), ("S", "SL", "SA")]


def test_what_is_worth_comparing_is_in_the_trace() -> None:
    made = design()
    assert made.compared == ("load_height_m", "bow_pressure_mpa", "midbody_pressure_mpa", "stern_pressure_mpa")
    assert [made.traces["design"][name].value for name in made.compared[1:]] == [p.pressure_mpa for p in made.patches]


def test_the_actual_output_counts() -> None:
    low, high = (design(engine_power_kw=power).columns["bow_size_factor"][0] for power in (6000.0, 9000.0))
    assert low == pytest.approx((30.0 * K + 230.0) / 1000.0)
    assert high == pytest.approx((30.0 * math.sqrt(12.0 * 9.0) + 230.0) / 1000.0)


@given(st.floats(500.0, 200000.0), st.floats(500.0, 60000.0), st.floats(1.0, 1.5), st.sampled_from(CLASSES))
def test_pressure_grows_with_displacement_power_and_class(d: float, p: float, more: float, ice_class: str) -> None:
    def pressures(**changed: Any) -> np.ndarray:
        return np.array([patch.pressure_mpa for patch in design(**changed).patches])

    own = pressures(displacement_upper_t=d, engine_power_kw=p, ice_class=ice_class)
    assert (pressures(displacement_upper_t=d * more, engine_power_kw=p, ice_class=ice_class) >= own - 1e-12).all()
    assert (pressures(displacement_upper_t=d, engine_power_kw=p * more, ice_class=ice_class) >= own - 1e-12).all()
    assert (pressures(displacement_upper_t=d, engine_power_kw=p, ice_class="IA Super") >= own - 1e-12).all()
    assert own[0] >= own[1] >= own[2] > 0.0
