"""Rounding a required thickness up to stock: never below, never a step too far."""

import math
from importlib.resources import files

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from beltwright.core.errors import InputError
from beltwright.core.recordtable import parse_records
from beltwright.materials.plates import (
    RESOLUTION_MM,
    PlateStock,
    UnderTolerance,
    cells_used,
    minus_tolerance_mm,
    own_stock,
    plate_stock,
    read_stocks,
    read_tolerances,
    stated_mm,
    tolerances,
)

HALF = plate_stock("half millimetre")


def offered(required, **kw) -> float:
    return float(HALF.offer(required, **kw).offered_mm[0])


@pytest.mark.parametrize(
    ("required", "expected"),
    [  # hand: each side of a step, and of the resolution
        (24.5, 24.5),
        (24.5 + 1e-10, 24.5),
        (24.5 - 1e-10, 24.5),
        (24.5 + 4e-7, 24.5),
        (24.5 + 6e-7, 25.0),
        (24.500001, 25.0),
        (24.51, 25.0),
        (24.49, 24.5),
        (25.93, 26.0),
        (0.0, 5.0),
        (40.0, 40.0),
        (40.1, 41.0),
        (50.1, 55.0),
        (100.0, 100.0),
        (0.1 + 0.2 + 23.2, 23.5),
    ],
)
def test_each_side_of_a_step(required: float, expected: float) -> None:
    assert offered(required) == expected


def test_the_lists() -> None:
    assert HALF.thicknesses_mm[:3].tolist() == [5.0, 5.5, 6.0]
    assert HALF.thicknesses_mm[-12:].tolist() == [49, 50, 55, 60, 65, 70, 75, 80, 85, 90, 95, 100]
    assert len(HALF.thicknesses_mm) == 71 + 10 + 10  # hand: 5 to 40 by halves, 41 to 50, 55 to 100
    yard = plate_stock("yard")
    assert yard.offer([19.6, 20.1, 25.5]).offered_mm.tolist() == [20.0, 21.0, 26.0]
    with pytest.raises(InputError, match="plate stock: no such list; found mill; allowed: half millimetre, yard"):
        plate_stock("mill")


def test_floor() -> None:
    offer = HALF.offer([18.2, 18.2, 18.5], floor_mm=[0.0, 20.3, 18.4])
    assert offer.offered_mm.tolist() == [18.5, 20.5, 18.5]
    assert offer.by_floor.tolist() == [False, True, False]
    assert offer.floor_mm.tolist() == [0.0, 20.3, 18.4]
    assert HALF.offer([10.0, 12.0], floor_mm=11.0).offered_mm.tolist() == [11.0, 12.0]


def test_under_tolerance_by_hand() -> None:
    # UR W13: -0.3 mm, recalled
    assert offered(24.5) == 24.5
    assert offered(24.5, under_tolerance=UnderTolerance.ADD_W13) == 25.0
    assert offered(24.2, under_tolerance=UnderTolerance.ADD_W13) == 24.5  # 24.5 - 0.3 = 24.2, met exactly
    # EN 10029:1991 Table 1 (read in a summary): class A -0.5 from 8, -0.6 from 15, -0.8 from 25; C 0; D -0.92 from 15
    assert offered(14.0, under_tolerance=UnderTolerance.ADD_CLASS_A) == 14.5
    assert offered(14.1, under_tolerance=UnderTolerance.ADD_CLASS_A) == 15.0  # 15.0 - 0.6 = 14.4
    assert offered(24.2, under_tolerance=UnderTolerance.ADD_CLASS_A) == 25.0  # 25.0 - 0.8 = 24.2
    assert offered(24.2, under_tolerance=UnderTolerance.ADD_CLASS_B) == 24.5
    assert offered(24.5, under_tolerance=UnderTolerance.ADD_CLASS_C) == 24.5
    assert offered(19.0, under_tolerance=UnderTolerance.ADD_CLASS_D) == 20.0  # 20.0 - 0.92 = 19.08
    offer = HALF.offer([14.1], under_tolerance=UnderTolerance.ADD_CLASS_A)
    assert offer.minus_tolerance_mm.tolist() == [0.6]
    assert HALF.offer([14.1], under_tolerance=UnderTolerance.ADD_CLASS_C).minus_tolerance_mm.tolist() == [0.0]


def test_the_floor_gets_no_tolerance() -> None:
    offer = HALF.offer([10.0], floor_mm=20.0, under_tolerance=UnderTolerance.ADD_W13)
    assert offer.offered_mm.tolist() == [20.0]
    assert offer.by_floor.tolist() == [True]


POLICIES = st.sampled_from(list(UnderTolerance))


@given(required=st.lists(st.floats(0.0, 95.0), min_size=1, max_size=20), policy=POLICIES, floor=st.floats(0.0, 60.0))
def test_never_below_and_the_thinnest_that_is_not(required: list[float], policy: UnderTolerance, floor: float) -> None:
    offer = HALF.offer(required, floor_mm=floor, under_tolerance=policy)
    assert np.all(np.round(offer.offered_mm - offer.minus_tolerance_mm, 6) >= offer.required_mm)
    assert np.all(offer.offered_mm >= offer.floor_mm)
    assert np.all(np.abs(offer.required_mm - required) <= RESOLUTION_MM / 2 * (1 + 1e-6))
    for row, plate in enumerate(offer.offered_mm):
        for thinner in HALF.thicknesses_mm[HALF.thicknesses_mm < plate]:
            minus = 0.0 if policy is UnderTolerance.ACCEPTED else float(tolerances()[policy.value].minus_mm(thinner))
            short = round(float(thinner) - minus, 6) < offer.required_mm[row]
            assert short or thinner < offer.floor_mm[row]


@given(a=st.floats(0.0, 100.0), b=st.floats(0.0, 100.0))
def test_more_required_is_never_less_offered(a: float, b: float) -> None:
    low, high = sorted((a, b))
    assert offered(low) <= offered(high)


@given(step=st.integers(0, 90), noise=st.floats(-4e-7, 4e-7))
def test_round_off_never_moves_a_stock_thickness(step: int, noise: float) -> None:
    plate = float(HALF.thicknesses_mm[step])
    assert offered(plate + noise) == plate


@pytest.mark.parametrize("bad", [float("nan"), float("inf"), -1.0])
def test_what_is_no_thickness_is_refused(bad: float) -> None:
    with pytest.raises(InputError, match="required thickness: not a thickness"):
        HALF.offer([20.0, bad])
    with pytest.raises(InputError, match="floor of the thickness: not a thickness"):
        HALF.offer([20.0], floor_mm=bad)
    with pytest.raises(InputError, match="thickness: not a thickness"):
        stated_mm(bad)


def test_beyond_the_stock_is_refused_not_clipped() -> None:
    with pytest.raises(
        InputError,
        match=r"plate stock 'half millimetre': no plate is thick enough.*found 100.1 mm; allowed: plates up to 100 mm",
    ):
        HALF.offer([20.0, 100.1])
    with pytest.raises(InputError, match="no plate is thick enough"):
        HALF.offer([99.9], under_tolerance=UnderTolerance.ADD_W13)
    with pytest.raises(InputError, match="no plate is thick enough"):
        HALF.offer([20.0], floor_mm=120.0)


def test_own_list() -> None:
    stock = own_stock([20.0, 12.0, 12.0, 16.0])
    assert stock.thicknesses_mm.tolist() == [12.0, 16.0, 20.0]
    assert stock.offer([12.1]).offered_mm.tolist() == [16.0]
    for bad in ([], [0.0, 12.0]):
        with pytest.raises(InputError, match="must hold thicknesses above zero"):
            own_stock(bad)
    with pytest.raises(InputError, match=r"yard.csv: not a thickness"):
        own_stock([12.0, float("nan")], where="yard.csv")


def test_a_list_whose_guaranteed_thickness_dips_still_gives_the_thinnest() -> None:
    """14.99 mm less 0.5 is 14.49; 15.0 less 0.6 is 14.4: a requirement of 14.45 takes 14.99, one of 14.5 takes 15.5."""
    stock = own_stock([14.0, 14.99, 15.0, 15.5])
    offer = stock.offer([14.45, 14.5], under_tolerance=UnderTolerance.ADD_CLASS_A)
    assert offer.offered_mm.tolist() == [14.99, 15.5]


def test_a_plate_outside_the_tolerance_table_is_refused() -> None:
    with pytest.raises(InputError, match="EN 10029 class A: no tolerance for this nominal thickness; found 2 mm"):
        own_stock([2.0, 10.0]).offer([1.0], under_tolerance=UnderTolerance.ADD_CLASS_A)
    with pytest.raises(InputError, match="found 250 mm; allowed: 3 mm to below 250 mm"):
        tolerances()["UR W13"].minus_mm([10.0, 250.0])


def text(filename: str) -> str:
    return files("beltwright.materials").joinpath("data", filename).read_text(encoding="utf-8")


def test_every_policy_has_its_table_and_all_bands_join() -> None:
    assert {policy.value for policy in UnderTolerance} - {"accepted"} == set(tolerances())
    for tolerance in tolerances().values():
        assert tolerance.from_mm[1:].tolist() == tolerance.below_mm[:-1].tolist()
        assert np.all(tolerance.minus_mm(tolerance.from_mm) >= 0.0)


def test_one_changed_cell_moves_the_offer() -> None:
    changed = read_tolerances(
        parse_records(text("plate_tolerance.csv").replace("UR W13,3,250,-0.3", "UR W13,3,250,-0.4"), "c")
    )
    assert changed["UR W13"].minus_mm(20.0) == 0.4
    steps = read_stocks(
        parse_records(text("plate_steps.csv").replace("half millimetre,5,40,0.5", "half millimetre,5,40,1"), "c")
    )
    assert isinstance(steps["half millimetre"], PlateStock)
    assert steps["half millimetre"].offer([24.5]).offered_mm.tolist() == [25.0]


def test_cells_used() -> None:
    plain = cells_used("yard", UnderTolerance.ACCEPTED)
    assert [cell.value for cell in plain[:3]] == [5, 20, 0.5]
    assert len(plain) == 9
    with_w13 = cells_used("yard", UnderTolerance.ADD_W13)
    assert [cell.value for cell in with_w13[9:]] == [3, 250, -0.3]


def test_minus_tolerance_of_nominal_thicknesses() -> None:
    """kind: hand. EN 10029 class A: 0.6 mm from 15 mm, 0.8 mm from 25 mm; accepted counts nothing; no plate, no number;
    class B has none below 3 mm."""
    found = minus_tolerance_mm([24.9, 25.0, math.nan], UnderTolerance.ADD_CLASS_A)
    assert found[:2].tolist() == [0.6, 0.8]
    assert math.isnan(found[2])
    accepted = minus_tolerance_mm([24.9, math.nan], UnderTolerance.ACCEPTED)
    assert accepted[0] == 0.0
    assert math.isnan(accepted[1])
    with pytest.raises(InputError, match=r"no tolerance for this nominal thickness; found 2\.9 mm"):
        minus_tolerance_mm([20.0, 2.9], UnderTolerance.ADD_CLASS_B)
