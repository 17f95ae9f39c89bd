"""UR I2.2: borders, classification, governing areas. Expected numbers: by hand from the facts of cases.facts()."""

from __future__ import annotations

import math
from typing import Any

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from tests.rules.polar_iacs_2019.cases import AREAS, CLASSES, POLAR, column, facts

from beltwright.core.errors import InputError, ScopeError
from beltwright.rules.polar_iacs_2019 import i2_2_hull_areas as i2_2
from beltwright.rules.polar_iacs_2019.hull_areas import CODES, PolarHullAreas, override_for
from beltwright.rules.protocol import HeightBorder, InclinationBorder, Override, TransverseBorder

STERN = Override(key="overrides.azimuthing_stern_factors", reason="agreed with the society")


def areas(overrides: tuple[Override, ...] = (), **changed: Any) -> PolarHullAreas:
    made = POLAR.areas(facts(**changed), overrides)
    assert isinstance(made, PolarHullAreas)
    return made


def at(made: PolarHullAreas, x: Any, up: Any = 0.0, low: Any = 0.0, incl: Any = 90.0) -> list[str]:
    x, up, low, incl = np.broadcast_arrays(*(np.atleast_1d(np.asarray(v, dtype=float)) for v in (x, up, low, incl)))
    return made.classify(x, up, low, incl, np.zeros(x.shape)).tolist()


def test_borders_of_the_plain_ship() -> None:
    # hand: L_UI = 120 (0.96 x 124 = 119.04, 0.97 x 124 = 120.28); bow: 10 degrees at 24 < 0.45 x 120 = 54, > 8
    # bow intermediate: 32 + 0.04 x 120 = 36.8; stern: max(0.7 x 40, 0.15 x 120) = 28, so 118 - 28 = 90 aft of the stem
    made = areas()
    assert made.number("rule_length_m") == 120.0
    assert made.number("bow_aft_m") == 24.0
    assert made.number("intermediate_aft_m") == pytest.approx(36.8, rel=1e-12)
    assert made.number("stern_forward_m") == pytest.approx(90.0, rel=1e-12)
    assert made.number("bow_border_angle_deg") == 10.0


@pytest.mark.parametrize(
    ("ten", "baseline", "expected"),
    [
        (24.0, 8.0, 24.0),
        (53.9, 8.0, 53.9),
        (54.1, 8.0, 54.0),  # not beyond 0.45 L_UI
        (24.0, 24.1, 24.1),  # not forward of the stem line at the baseline
        (60.0, 57.0, 57.0),  # "never forward" wins over "need not be further aft"
    ],
)
def test_aft_border_of_the_bow(ten: float, baseline: float, expected: float) -> None:
    found = i2_2.bow_aft_border(
        alpha_ten_aft_of_stem_m=column(ten),
        bow_limit_m=i2_2.bow_limit(bow_limit_fraction=column(0.45), rule_length_m=column(120.0)),
        stem_baseline_aft_of_stem_m=column(baseline),
    )
    assert found[0] == pytest.approx(expected, rel=1e-12)


@pytest.mark.parametrize(("start", "expected"), [(32.0, 36.8), (19.0, 24.0), (20.0, 24.8)])
def test_aft_border_of_bow_intermediate(start: float, expected: float) -> None:
    found = i2_2.intermediate_aft_border(
        parallel_start_aft_of_stem_m=column(start),
        intermediate_fraction=column(0.04),
        rule_length_m=column(120.0),
        bow_aft_m=column(24.0),
    )
    assert found[0] == pytest.approx(expected, rel=1e-12)


@pytest.mark.parametrize(
    ("icebreaker", "end", "expected"),
    [
        (False, 40.0, 28.0),  # 0.7 x 40 = 28 > 18
        (False, 25.0, 18.0),  # 17.5 < 0.15 x 120 = 18
        (True, 40.0, 44.8),  # 40 + 0.04 x 120
        (True, 10.0, 18.0),  # 14.8 < 18
    ],
)
def test_length_of_the_stern(icebreaker: bool, end: float, expected: float) -> None:
    found = i2_2.stern_length(
        icebreaker=column(icebreaker),
        stern_breadth_fraction=column(0.7),
        parallel_end_forward_of_ap_m=column(end),
        stern_length_fraction=column(0.15),
        icebreaker_stern_fraction=column(0.04),
        rule_length_m=column(120.0),
    )
    assert found[0] == pytest.approx(expected, rel=1e-12)


@pytest.mark.parametrize(("length", "expected"), [(28.0, 90.0), (100.0, 36.8)])
def test_forward_border_of_the_stern(length: float, expected: float) -> None:
    found = i2_2.stern_forward_border(
        stem_to_ap_m=column(118.0), stern_length_m=column(length), intermediate_aft_m=column(36.8)
    )
    assert found[0] == expected


@pytest.mark.parametrize(
    ("astern", "end", "expected"),
    [
        (False, 40.0, 90.0),
        (True, 40.0, 73.2),  # 118 - 40 - 4.8
        (True, 20.0, 90.0),  # 93.2 would lie aft of the stern's border
        (True, 80.0, 36.8),  # 33.2 would lie in the forward bow intermediate region
    ],
)
def test_forward_border_of_the_aft_bow_intermediate(astern: bool, end: float, expected: float) -> None:
    found = i2_2.astern_intermediate_border(
        operates_astern=column(astern),
        stem_to_ap_m=column(118.0),
        parallel_end_forward_of_ap_m=column(end),
        intermediate_fraction=column(0.04),
        rule_length_m=column(120.0),
        stern_forward_m=column(90.0),
        intermediate_aft_m=column(36.8),
    )
    assert found[0] == pytest.approx(expected, rel=1e-12)


@pytest.mark.parametrize("ice_class", CLASSES)
def test_figure_1_numbers_by_class(ice_class: str) -> None:
    key = column(ice_class)
    assert i2_2.belt_top_at_stem(ice_class=key)[0] == 2.0
    assert i2_2.belt_top(ice_class=key)[0] == (1.5 if ice_class <= "PC4" else 1.0)
    assert i2_2.belt_bottom(ice_class=key)[0] == 1.5
    assert i2_2.bow_limit_fraction(ice_class=key)[0] == 0.45
    assert i2_2.intermediate_fraction(ice_class=key)[0] == 0.04
    assert i2_2.stern_breadth_fraction(ice_class=key)[0] == 0.7
    assert i2_2.stern_length_fraction(ice_class=key)[0] == 0.15
    assert i2_2.icebreaker_stern_fraction(ice_class=key)[0] == 0.04
    assert i2_2.bow_border_angle(ice_class=key)[0] == 10.0
    assert i2_2.bottom_inclination(ice_class=key)[0] == 7.0


def test_regions_along_the_ship_with_both_sides_of_each_border() -> None:
    made = areas()
    x = [-2.0, 0.0, 24.0, 24.001, 36.8, 36.801, 89.999, 90.0, 118.0, 130.0]
    assert at(made, x) == ["B", "B", "B", "BIi", "BIi", "Mi", "Mi", "Si", "Si", "Si"]


def test_levels_from_the_belt_down() -> None:
    made = areas()
    # above UIWL 1.5 m is the top aft of the bow; 1.5 m below LIWL the bottom of the belt; 7 degrees the bottom
    assert at(made, 60.0, up=[1.5, 1.501]) == ["Mi", ""]
    assert at(made, 60.0, up=-3.0, low=[-1.5, -1.501]) == ["Mi", "Ml"]
    assert at(made, 60.0, up=-5.0, low=-4.0, incl=[6.999, 7.0, 90.0, math.nan]) == ["Mb", "Ml", "Ml", "Ml"]
    assert at(made, 60.0, up=-1.0, low=0.0, incl=3.0) == ["Mi"]
    assert at(made, 100.0, up=-5.0, low=-4.0, incl=[3.0, 30.0]) == ["Sb", "Sl"]
    assert at(made, 30.0, up=-5.0, low=-4.0, incl=[3.0, 30.0]) == ["BIb", "BIl"]


def test_unknown_height_above_the_lower_waterline_counts_as_belt() -> None:
    assert at(areas(), 60.0, up=0.0, low=math.nan) == ["Mi"]


def test_the_bow_is_one_area_down_to_the_keel_and_its_top_falls_aft() -> None:
    made = areas()
    assert at(made, 12.0, up=-7.0, low=-6.0, incl=0.0) == ["B"]
    # hand: 2.0 at the stem, 1.5 at 24 m: 1.75 half-way
    assert at(made, [0.0, 0.0, 12.0, 12.0, 24.0, 24.0], up=[2.0, 2.001, 1.75, 1.751, 1.5, 1.501]) == [
        "B", "", "B", "", "B", "",
    ]  # fmt: skip
    assert at(made, -3.0, up=[2.0, 2.001]) == ["B", ""]
    assert at(areas(ice_class="PC6"), [12.0, 12.0], up=[1.5, 1.501]) == ["B", ""]


@pytest.mark.parametrize("name", ["aft_of_stem_m", "above_upper_m"])
def test_points_must_have_a_place(name: str) -> None:
    given_ = {"x": 60.0, "up": 0.0}
    given_["x" if name == "aft_of_stem_m" else "up"] = math.nan
    with pytest.raises(InputError, match=name):
        at(areas(), **given_)


def test_astern_the_aft_part_takes_bow_areas() -> None:
    made = areas(operates_astern=True)
    # hand: bow intermediate from 118 - 40 - 4.8 = 73.2, bow from 90
    assert at(made, [60.0, 73.199, 73.2, 89.99, 90.0, 118.0]) == ["Mi", "Mi", "BIi", "BIi", "B", "B"]
    assert at(made, [24.0, 24.1, 36.9]) == ["B", "BIi", "Mi"]
    assert at(made, [80.0, 100.0], up=-5.0, low=-4.0, incl=3.0) == ["BIb", "B"]
    # the top rises from 1.5 m at 90 m to 2.0 m at the waterline's aft end, 124 m
    assert at(made, [107.0, 107.0], up=[1.75, 1.751]) == ["B", ""]
    assert at(made, [124.0, 124.0], up=[2.0, 2.001]) == ["B", ""]


def test_astern_with_an_empty_midbody() -> None:
    made = areas(operates_astern=True, parallel_end_forward_of_ap_m=80.0)
    assert at(made, [24.1, 36.8, 36.9, 61.9, 62.0]) == ["BIi", "BIi", "BIi", "BIi", "B"]


def test_icebreaker_has_a_longer_stern_and_no_free_areas() -> None:
    made = areas(icebreaker=True)
    # hand: 118 - (40 + 4.8) = 73.2
    assert at(made, [73.1, 73.3]) == ["Mi", "Si"]
    assert all(area.strengthened for area in made.areas)


def test_areas_in_the_order_of_the_document() -> None:
    made = areas()
    assert tuple(area.code for area in made.areas) == AREAS == CODES
    assert [area.code for area in made.areas if not area.strengthened] == ["Mb"]
    assert [a.code for a in areas(ice_class="PC7").areas if not a.strengthened] == ["Mb", "Sb"]
    assert made.areas[0].title == "bow"


@pytest.mark.parametrize("astern", [False, True])
def test_borders_for_drawing(astern: bool) -> None:
    made = areas(operates_astern=astern)
    across = [b for b in made.borders if isinstance(b, TransverseBorder)]
    assert [float(b.aft_of_stem_m[0]) for b in across] == pytest.approx(
        [24.0, 36.8, 90.0, 73.2] if astern else [24.0, 36.8, 90.0]
    )
    assert all(b.height_m.tolist() == [0.0] for b in across)
    assert [(b.forward, b.aft) for b in across] == (
        [("B", "BI"), ("BI", "M"), ("BI", "B"), ("M", "BI")] if astern else [("B", "BI"), ("BI", "M"), ("M", "S")]
    )
    top, low = (b for b in made.borders if isinstance(b, HeightBorder))
    assert (top.waterline, low.waterline) == ("upper", "lower")
    assert top.aft_of_stem_m.tolist() == ([0.0, 24.0, 90.0, 124.0] if astern else [0.0, 24.0, 124.0])
    assert top.offset_m.tolist() == ([2.0, 1.5, 1.5, 2.0] if astern else [2.0, 1.5, 1.5])
    assert low.aft_of_stem_m.tolist() == [24.0, 90.0 if astern else 124.0]
    assert low.offset_m.tolist() == [-1.5, -1.5]
    (flat,) = (b for b in made.borders if isinstance(b, InclinationBorder))
    assert flat.inclination_deg == 7.0
    assert all(b.ref.startswith("UR I2") for b in made.borders)


# Which area's factor and addition a member takes


def touched(*names: str) -> np.ndarray:
    return np.array([[code in row.split() for code in CODES] for row in names])


def test_the_larger_factor_governs() -> None:
    # PC4, Table 4: BIi 0.80, Mi 0.55, Ml 0.35, Si 0.60, Sl 0.30; Table 6: B, BIi 2.5, others 2.0
    found = areas().governing(touched("BIi Mi", "Mi Ml", "Mi Si", "Ml Sl", "B BIi BIl", "Ml Mb", "Mb", ""))
    assert found.factor_area.tolist() == ["BIi", "Mi", "Si", "Ml", "B", "Ml", "", ""]
    assert found.addition_area.tolist() == ["BIi", "Mi", "Mi", "Ml", "B", "Ml", "", ""]
    assert found.ref == "UR I2 I2.3.5(ii)"


def test_factor_and_addition_may_come_from_different_areas() -> None:
    # PC1 Table 4: BIl 0.70, Si 0.75; Ml 0.50, Sl 0.45; Table 6, PC1: Mi 2.5, Ml 2.0; BIb 0.55 with 2.0, Si with 2.5
    found = areas(ice_class="PC1").governing(touched("Si BIb", "BIb Ml", "Sl BIb"))
    assert found.factor_area.tolist() == ["Si", "BIb", "BIb"]
    assert found.addition_area.tolist() == ["Si", "BIb", "BIb"]
    mixed = areas(ice_class="PC5").governing(touched("BIl Si"))
    assert (mixed.factor_area[0], mixed.addition_area[0]) == ("BIl", "BIl")


def test_icebreaker_table_governs_with_the_notation() -> None:
    # PC4: Table 4 BIi 0.80 > Si 0.60; Table 5 BIi 0.85 > Si 0.80; Mi 0.55 < BIl 0.60 against 0.55 < 0.65
    assert areas().governing(touched("BIl Si")).factor_area[0] == "BIl"
    assert areas(icebreaker=True).governing(touched("BIl Si")).factor_area[0] == "Si"


@pytest.mark.parametrize("protected", [True, False])
@given(st.lists(st.sampled_from(CODES), min_size=1, max_size=6), st.sampled_from(CLASSES))
def test_the_governing_factor_is_never_less_than_any_touched(protected: bool, names: list[str], ice_class: str) -> None:
    made = areas(ice_class=ice_class, effective_protection=protected)
    found = made.governing(touched(" ".join(names)))
    counted = [code for code in names if made.areas[CODES.index(code)].strengthened]
    if not counted:
        assert found.factor_area[0] == found.addition_area[0] == ""
        return
    by_code = {area.code: area for area in made.areas}
    for value, chosen in ((made._factor, found.factor_area[0]), (made._addition, found.addition_area[0])):
        assert chosen in counted
        assert value(by_code[str(chosen)]) == max(value(by_code[code]) for code in counted)


# Refusals


def test_azimuthing_units_need_a_written_reason() -> None:
    with pytest.raises(ScopeError, match=r"Si and Sl.*overrides\.azimuthing_stern_factors"):
        areas(azimuthing_propulsion=True)
    assert areas((STERN,), azimuthing_propulsion=True).overrides == (STERN,)
    assert areas(azimuthing_propulsion=True, operates_astern=True).number("stern_forward_m") == pytest.approx(90.0)


def test_an_empty_reason_is_no_reason() -> None:
    with pytest.raises(InputError, match="reason is empty"):
        areas((Override(key=STERN.key, reason="  "),), azimuthing_propulsion=True)


def test_overrides_are_found_by_their_key() -> None:
    assert override_for("a", ()) is None
    assert override_for("a", (Override(key="b", reason="x"),)) is None
    assert override_for("b", (Override(key="a", reason="y"), Override(key="b", reason="x"))) == Override(
        key="b", reason="x"
    )


def test_an_unknown_class_is_refused_with_the_list() -> None:
    with pytest.raises(InputError, match="found PC8; allowed: PC1, PC2, PC3, PC4, PC5, PC6, PC7"):
        areas(ice_class="PC8")


LENGTHS = (
    "waterline_extreme_length_m", "stem_to_rudder_m", "stem_to_ap_m", "alpha_ten_aft_of_stem_m",
    "parallel_start_aft_of_stem_m", "parallel_end_forward_of_ap_m", "stem_baseline_aft_of_stem_m",
)  # fmt: skip
MAY_BE_ZERO = ("stem_baseline_aft_of_stem_m", "parallel_end_forward_of_ap_m")


@pytest.mark.parametrize("name", LENGTHS)
def test_lengths_that_cannot_be_are_refused(name: str) -> None:
    for bad in (math.nan, math.inf, -0.001, 1000.1):
        with pytest.raises(InputError, match=name):
            areas(**{name: bad})
    if name in MAY_BE_ZERO:
        areas(**{name: 0.0})
    else:
        with pytest.raises(InputError, match=name):
            areas(**{name: 0.0})
    areas(**{name: 1000.0})


@given(
    st.floats(5.0, 90.0),
    st.floats(5.0, 90.0),
    st.floats(0.0, 90.0),
    st.floats(0.0, 60.0),
    st.booleans(),
    st.booleans(),
    st.sampled_from(CLASSES),
)
def test_borders_keep_their_order_and_every_point_has_an_area(
    ten: float, start: float, end: float, baseline: float, icebreaker: bool, astern: bool, ice_class: str
) -> None:
    made = areas(
        alpha_ten_aft_of_stem_m=ten,
        parallel_start_aft_of_stem_m=start,
        parallel_end_forward_of_ap_m=end,
        stem_baseline_aft_of_stem_m=baseline,
        icebreaker=icebreaker,
        operates_astern=astern,
        ice_class=ice_class,
    )
    places = [made.number(n) for n in ("bow_aft_m", "intermediate_aft_m", "astern_intermediate_m", "stern_forward_m")]
    assert places == sorted(places)
    x = np.linspace(0.0, 124.0, 41)
    found = at(made, x, up=-5.0, low=-4.0, incl=20.0) + at(made, x)
    assert set(found) <= set(CODES)
