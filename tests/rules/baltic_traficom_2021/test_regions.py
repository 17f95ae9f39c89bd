"""4.1.1, Tables 4-5 and 4-6: regions per waterline, belt, extra areas, framing. Expected places: by hand."""

from __future__ import annotations

import math
from typing import Any

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from tests.rules.baltic_traficom_2021.cases import BALTIC, CLASSES, column, facts

from beltwright.core.errors import InputError
from beltwright.rules.baltic_traficom_2021 import c4_1_1_regions as c4_1
from beltwright.rules.protocol import HeightBorder, TransverseBorder

# Table 4-5 (above UIWL, below LIWL for bow, midbody, stern) and Table 4-6, typed a second time
BELT = {"IA Super": (0.6, 1.2, 1.2, 1.0), "IA": (0.5, 0.9, 0.75, 0.75), "IB": (0.4, 0.7, 0.6, 0.6),
        "IC": (0.4, 0.7, 0.6, 0.6)}  # fmt: skip
FRAMING = {"IA Super": (1.2, math.inf, 2.0, 1.6), "IA": (1.0, 1.6, 1.3, 1.0), "IB": (1.0, 1.6, 1.3, 1.0),
           "IC": (1.0, 1.6, 1.3, 1.0)}  # fmt: skip
LETTERS = "BMS"


def code(x: float, up: float, down: float = 0.0, z: float = 6.0, **changed: Any) -> str:
    """The area of one point; by default between the waterlines (above LIWL, at or above UIWL as given)."""
    found = BALTIC.areas(facts(**changed), ()).classify(
        column(x), column(up), column(down), column(90.0), column(z)
    )  # fmt: skip
    return str(found[0])


@pytest.mark.parametrize(
    ("ice_class", "length", "expected"),
    # 0.04 L up to 6 m (150 m) or 5 m (125 m)
    [("IA Super", 149.0, 5.96), ("IA Super", 151.0, 6.0), ("IA", 200.0, 6.0), ("IB", 124.0, 4.96), ("IB", 126.0, 5.0),
     ("IC", 100.0, 4.0), ("IC", 300.0, 5.0)],
)  # fmt: skip
def test_overlap(ice_class: str, length: float, expected: float) -> None:
    trace = BALTIC.areas(facts(ice_class=ice_class, class_rule_length_m=length), ()).trace
    assert trace["overlap_m"].value == pytest.approx(expected, abs=1e-12)
    assert c4_1.overlap_limit(ice_class=column(ice_class))[0] == (6.0 if ice_class.startswith("IA") else 5.0)
    assert c4_1.overlap.ref == c4_1.bow_aft_border.ref == c4_1.midbody_aft_border.ref == "4.1.1"


def test_borders_differ_from_waterline_to_waterline() -> None:
    # overlap 4.8: bow to 44.8 at z = 4 and to 38.8 at z = 8; midbody to 84.8 and 88.8; level beyond
    for z, bow, midbody in (
        (3.0, 44.8, 84.8),
        (4.0, 44.8, 84.8),
        (6.0, 41.8, 86.8),
        (8.0, 38.8, 88.8),
        (9.0, 38.8, 88.8),
    ):
        for place, forward, aft in ((bow, "B", "M"), (midbody, "M", "S")):
            assert code(place - 1e-6, 0.0, z=z) == code(place, 0.0, z=z) == forward
            assert code(place + 1e-6, 0.0, z=z) == aft


def test_one_waterline_gives_one_upright_border() -> None:
    ship = {"waterline_height_m": 5.0, "side_start_aft_of_stem_m": 40.0, "side_end_aft_of_stem_m": 80.0}
    assert [code(44.7, 0.0, z=z, **ship) for z in (0.0, 5.0, 10.0)] == ["B", "B", "B"]
    assert [code(44.9, 0.0, z=z, **ship) for z in (0.0, 5.0, 10.0)] == ["M", "M", "M"]


@pytest.mark.parametrize("ice_class", CLASSES)
@pytest.mark.parametrize(("number", "x"), [(0, 30.0), (1, 60.0), (2, 100.0)])
def test_heights_of_belt_and_framing(ice_class: str, number: int, x: float) -> None:
    letter, top, bottom = LETTERS[number], BELT[ice_class][0], BELT[ice_class][number + 1]
    framing, depth = FRAMING[ice_class][0], FRAMING[ice_class][number + 1]
    ship = {"ice_class": ice_class, "keel_departure_aft_of_stem_m": 0.0, "floor_top_height_m": 0.0}
    assert code(x, top - 1e-9, **ship) == code(x, top, **ship) == letter
    assert code(x, top + 1e-9, **ship) == code(x, framing, **ship) == f"{letter}A"
    assert code(x, framing + 1e-9, **ship) == ""
    assert code(x, -9.0, -bottom + 1e-9, **ship) == code(x, -9.0, -bottom, **ship) == letter
    assert code(x, -9.0, -bottom - 1e-9, **ship) == f"{letter}L"
    if math.isfinite(depth):
        assert code(x, -9.0, -depth, **ship) == f"{letter}L"
        assert code(x, -9.0, -depth - 1e-9, **ship) == ""
    else:
        assert code(x, -20.0, -20.0, z=0.0, **ship) == f"{letter}L"


def test_unknown_height_above_the_lower_waterline_is_belt() -> None:
    assert code(30.0, -1.0, math.nan) == "B"


def test_bow_of_ia_super_is_framed_down_to_the_floors() -> None:
    ship = {"ice_class": "IA Super", "keel_departure_aft_of_stem_m": 0.0}
    assert code(30.0, -9.0, -3.0, z=1.6, **ship) == "BL"
    assert code(30.0, -9.0, -3.0, z=1.59, **ship) == ""
    assert code(60.0, -9.0, -2.0, z=1.0, **ship) == "ML"  # outside the bow the depth counts, not the floors


def test_fore_foot() -> None:
    # keel line left at 6.0 m; five spaces of 0.7 m: to 9.5 m aft of the stem
    for x, above, below in ((9.5, "FF", "FK"), (9.5 + 1e-9, "BL", "")):
        assert code(x, -9.0, -3.0, z=2.0, ice_class="IA Super") == above
        assert code(x, -9.0, -3.0, z=1.5, ice_class="IA Super") == below
    assert code(9.0, -1.0, -1.2, ice_class="IA Super") == "B"
    for ice_class in CLASSES[1:]:
        assert code(9.0, -9.0, -3.0, z=2.0, ice_class=ice_class) == ""
    listed = [area.code for area in BALTIC.areas(facts(ice_class="IA Super"), ()).areas]
    assert {"FF", "FK"} <= set(listed)
    listed = [area.code for area in BALTIC.areas(facts(ice_class="IA Super", floor_top_height_m=0.0), ()).areas]
    assert "FF" in listed
    assert "FK" not in listed
    assert not {"FF", "FK"} & {area.code for area in BALTIC.areas(facts(), ()).areas}


def test_fore_foot_clauses() -> None:
    found = c4_1.fore_foot_aft(keel_departure_aft_of_stem_m=column(6.0), main_frame_spacing_m=column(0.7))
    assert found[0] == pytest.approx(9.5)
    assert c4_1.fore_foot_word(ice_class=column(CLASSES)).tolist() == ["yes", "no", "no", "no"]


@pytest.mark.parametrize(
    ("ice_class", "speed", "asked"),
    [("IA Super", 18.0, True), ("IA Super", 17.99, False), ("IA", 18.0, True), ("IB", 30.0, False),
     ("IC", 30.0, False)],
)  # fmt: skip
def test_upper_bow_ice_belt_by_speed(ice_class: str, speed: float, asked: bool) -> None:
    areas = BALTIC.areas(facts(ice_class=ice_class, service_speed_kn=speed), ())
    assert ("UB" in [area.code for area in areas.areas]) is asked
    assert areas.trace["upper_belt"].value is asked
    least = c4_1.upper_belt_speed(ice_class=column(ice_class))
    assert bool(c4_1.upper_belt_asked(service_speed_kn=column(speed), upper_belt_speed_kn=least)[0]) is asked


def test_place_of_the_upper_bow_ice_belt() -> None:
    # FP 0.5 m aft of the stem, 0.2 x 120 m: to 24.5 m; IA: 0.5 + 2.0 m above UIWL
    ship = {"service_speed_kn": 20.0}
    assert code(24.5, 2.5, **ship) == code(24.5, 0.5 + 1e-9, **ship) == "UB"
    assert code(24.5, 2.5 + 1e-9, **ship) == ""
    assert code(24.5 + 1e-9, 0.9, **ship) == "BA"
    assert code(24.5 + 1e-9, 1.5, **ship) == ""
    assert code(20.0, 0.5, **ship) == "B"
    assert c4_1.upper_belt_top(belt_top_bow_m=column(0.5))[0] == 2.5
    found = c4_1.upper_belt_aft(fore_perpendicular_aft_of_stem_m=column(-1.0), class_rule_length_m=column(100.0))
    assert found[0] == 19.0


def test_extent_clauses() -> None:
    for ice_class in CLASSES:
        for number, region in enumerate(("Bow", "Midbody", "Stern"), 1):
            keys = {"ice_class": column(ice_class), "region": column(region)}
            assert c4_1.belt_top(**keys)[0] == BELT[ice_class][0]
            assert c4_1.belt_bottom(**keys)[0] == BELT[ice_class][number]
            assert c4_1.framing_top(**keys)[0] == FRAMING[ice_class][0]
            assert c4_1.framing_bottom(**keys)[0] == FRAMING[ice_class][number]


@given(st.floats(0.0, 124.0), st.floats(-12.0, 4.0), st.floats(0.0, 12.0), st.sampled_from(CLASSES), st.booleans())
def test_every_point_has_a_listed_area_or_none(x: float, up: float, z: float, ice_class: str, fast: bool) -> None:
    areas = BALTIC.areas(facts(ice_class=ice_class, service_speed_kn=20.0 if fast else 15.0), ())
    found = areas.classify(column(x), column(up), column(up + 4.0), column(90.0), column(z))[0]
    assert found in {"", *(area.code for area in areas.areas)}
    assert all(area.strengthened and area.title for area in areas.areas)


def test_governing() -> None:
    areas = BALTIC.areas(facts(ice_class="IA Super", service_speed_kn=20.0), ())
    codes = [area.code for area in areas.areas]
    assert codes == ["B", "FF", "FK", "BL", "BA", "UB", "M", "ML", "MA", "S", "SL", "SA"]
    touched = np.array([[one in wanted for one in codes] for wanted in (("M", "BL"), ("BA", "UB"), ("S",), ())])
    found = areas.governing(touched)
    assert found.factor_area.tolist() == ["BL", "BA", "S", ""]  # the greater load
    assert found.addition_area.tolist() == ["M", "UB", "S", ""]  # areas of plating first
    assert found.ref == "FSICR 4.2.2"


# Borders


def borders(**changed: Any) -> dict[str, TransverseBorder | HeightBorder]:
    found = BALTIC.areas(facts(**changed), ()).borders
    assert len({border.name for border in found}) == len(found)
    return {border.name: border for border in found}  # type: ignore[misc]


def test_borders_across() -> None:
    found = borders(ice_class="IA Super", service_speed_kn=20.0)
    bow = found["aft border of the bow region"]
    assert isinstance(bow, TransverseBorder)
    assert bow.height_m.tolist() == [4.0, 8.0]
    assert bow.aft_of_stem_m.tolist() == pytest.approx([44.8, 38.8])
    assert (bow.forward, bow.aft, bow.ref) == ("B, BA, BL", "M, MA, ML", "FSICR 4.1.1")
    midbody = found["aft border of the midbody region"]
    assert isinstance(midbody, TransverseBorder)
    assert midbody.aft_of_stem_m.tolist() == pytest.approx([84.8, 88.8])
    foot = found["aft end of the fore foot"]
    assert foot.aft_of_stem_m.tolist() == pytest.approx([9.5])
    upper = found["aft end of the upper bow ice belt"]
    assert upper.aft_of_stem_m.tolist() == pytest.approx([24.5])


def test_borders_along() -> None:
    found = borders(ice_class="IA Super", service_speed_kn=20.0)
    told = {
        name: (b.waterline, b.aft_of_stem_m.tolist(), b.offset_m.tolist(), b.above, b.below)
        for name, b in found.items()
        if isinstance(b, HeightBorder)
    }
    approx = pytest.approx
    assert told == {
        "upper edge of the ice belt": ("upper", [0.0, 124.0], [0.6, 0.6], "BA, MA, SA", "B, M, S"),
        "lower edge of the ice belt, bow and midbody": ("lower", [0.0, approx(88.8)], [-1.2, -1.2], "B, M", "BL, ML"),
        "lower edge of the ice belt, stern": ("lower", [approx(84.8), 124.0], [-1.0, -1.0], "S", "SL"),
        "top of the strengthened framing": ("upper", [0.0, 124.0], [1.2, 1.2], "", "BA, MA, SA"),
        "bottom of the strengthened framing, midbody": ("lower", [approx(38.8), approx(88.8)], [-2.0, -2.0], "ML", ""),
        "bottom of the strengthened framing, stern": ("lower", [approx(84.8), 124.0], [-1.6, -1.6], "SL", ""),
        "top of the upper bow ice belt": ("upper", [0.0, approx(24.5)], [2.6, 2.6], "", "UB"),
    }


def test_borders_of_a_class_without_extra_areas() -> None:
    names = list(borders())
    assert names == [
        "aft border of the bow region",
        "aft border of the midbody region",
        "upper edge of the ice belt",
        "lower edge of the ice belt, bow",
        "lower edge of the ice belt, midbody and stern",
        "top of the strengthened framing",
        "bottom of the strengthened framing, bow",
        "bottom of the strengthened framing, midbody",
        "bottom of the strengthened framing, stern",
    ]
    assert all(border.ref.startswith("FSICR ") for border in borders().values())


def test_stern_reaches_the_end_of_the_midbody_where_that_lies_behind_the_waterline() -> None:
    found = borders(waterline_extreme_length_m=50.0)["bottom of the strengthened framing, stern"]
    assert found.aft_of_stem_m.tolist() == pytest.approx([84.8, 88.8])


# Traces and refusals


def test_traces() -> None:
    areas = BALTIC.areas(facts(), ())
    assert areas.number("bow_aft_m") == pytest.approx(38.8)  # at the highest waterline
    assert list(areas.waterline_traces) == ["waterline 4.000 m", "waterline 8.000 m"]
    low = areas.waterline_traces["waterline 4.000 m"]
    assert low["bow_aft_m"].value == pytest.approx(44.8)
    parents = {node.name for node in low.upstream("bow_aft_m")}
    assert parents == {"bow_aft_m", "side_start_aft_of_stem_m", "overlap_m", "overlap_limit_m", "ice_class",
                       "class_rule_length_m"}  # fmt: skip
    assert low["bow_region"].origin == "regions of 4.1.1"
    assert low["belt_top_bow_m"].symbol == "belt top, bow"


@pytest.mark.parametrize(
    ("changed", "message"),
    [
        ({"ice_class": "II"}, "ship: ice_class: no such ice class; found II; allowed: IA Super, IA, IB, IC"),
        ({"class_rule_length_m": math.nan},
         (
             "ship: class_rule_length_m: rule length of the classification society; found nan m; allowed: "
             "1e-09 to 1000"
         )),
        ({"class_rule_length_m": 0.0},
         (
             "ship: class_rule_length_m: rule length of the classification society; found 0 m; allowed: 1e-09"
             " to 1000"
         )),
        ({"class_rule_length_m": 1001.0},
         (
             "ship: class_rule_length_m: rule length of the classification society; found 1001 m; allowed: "
             "1e-09 to 1000"
         )),
        ({"service_speed_kn": -1.0},
         (
             "ship: service_speed_kn: open water service speed; found -1 kn; allowed: 0 to 1000"
         )),
        ({"fore_perpendicular_aft_of_stem_m": -1001.0},
         (
             "ship: fore_perpendicular_aft_of_stem_m: forward perpendicular; found -1001 m; allowed: -1000 to"
             " 1000"
         )),
        ({"side_start_aft_of_stem_m": (40.0, math.inf)},
         (
             "ship: side_start_aft_of_stem_m: forward border of the side that is parallel to the centreline; "
             "found inf m; allowed: 0 to 1000"
         )),
        ({"side_end_aft_of_stem_m": 80.0},
         (
             "ship: side_end_aft_of_stem_m: one value for each waterline; found 1; allowed: 2 values"
         )),
        ({"waterline_height_m": (8.0, 8.0)},
         (
             "ship: waterline_height_m: the waterlines are not in order; found [8. 8.] m; allowed: upward, "
             "each once"
         )),
        ({"side_end_aft_of_stem_m": (80.0, 33.0)},
         (
             "ship: side_end_aft_of_stem_m: the parallel side at 8.000 m ends before it begins; found 33 m; "
             "allowed: from 34.000 aft"
         )),
        ({"main_frame_spacing_m": []}, "ship: main_frame_spacing_m: is missing; allowed: a value"),
    ],
)  # fmt: skip
def test_bad_facts_are_named(changed: dict[str, Any], message: str) -> None:
    with pytest.raises(InputError) as refused:
        BALTIC.areas(facts(**changed), ())
    assert str(refused.value) == message


@pytest.mark.parametrize("name", ["waterline_height_m", "ice_class", "class_rule_length_m"])
def test_a_missing_fact_is_named(name: str) -> None:
    ship = facts()
    del ship[name]
    with pytest.raises(InputError, match=f"ship: {name}: is missing; allowed: a value"):
        BALTIC.areas(ship, ())


@pytest.mark.parametrize("bad", [(math.nan, 0.0, 5.0), (30.0, math.nan, 5.0), (30.0, 0.0, math.inf)])
def test_points_that_are_no_numbers_are_refused(bad: tuple[float, float, float]) -> None:
    x, up, z = bad
    with pytest.raises(InputError, match="is not a number; allowed: finite metres"):
        code(x, up, z=z)
