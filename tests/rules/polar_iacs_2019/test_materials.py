"""UR I2.12: material classes and grades clause by clause, then the whole chain, against cases worked by hand.

The ship: L_UI = 120 m (stem to stock 120 m, waterline 124 m: 0.96 and 0.97 of it are 119.04 and 120.28 m). The middle
0.4 L_UI reaches from 36 to 84 m aft of the stem, the fore 0.2 L_UI to 24 m.
"""

from __future__ import annotations

import itertools
from typing import Any

import numpy as np
import pytest
from tests.rules.polar_iacs_2019.cases import AREAS, CLASSES, POLAR, column

from beltwright.core.errors import InputError
from beltwright.core.outcome import utilisation
from beltwright.rules.polar_iacs_2019 import i2_12_materials as i2_12
from beltwright.rules.polar_iacs_2019 import tables

# kind: second copy, written row by row. Columns: I PC1-5, I PC6-7, II PC1-5, II PC6-7, III PC1-3, III PC4-5, III PC6-7
TABLE_8 = """
10: B/AH B/AH B/AH B/AH E/EH E/EH B/AH
15: B/AH B/AH D/DH B/AH E/EH E/EH D/DH
20: D/DH B/AH D/DH B/AH E/EH E/EH D/DH
25: D/DH B/AH D/DH B/AH E/EH E/EH D/DH
30: D/DH B/AH E/EH D/DH E/EH E/EH E/EH
35: D/DH B/AH E/EH D/DH E/EH E/EH E/EH
40: D/DH D/DH E/EH D/DH none/FH E/EH E/EH
45: E/EH D/DH E/EH D/DH none/FH E/EH E/EH
50: E/EH D/DH E/EH D/DH none/FH none/FH E/EH
"""
COLUMNS = (("I", "12345"), ("I", "67"), ("II", "12345"), ("II", "67"), ("III", "123"), ("III", "45"), ("III", "67"))
LETTERS = ("A", "B", "D", "E", "F", "none")
RULE = POLAR.grading
assert RULE is not None


def member(**changed: Any) -> dict[str, np.ndarray]:
    """A side panel amidships, well above the water, 12 mm of AH36, with some columns changed."""
    given = {
        "ice_class": "PC4", "stem_to_rudder_m": 120.0, "waterline_extreme_length_m": 124.0, "plating": True,
        "hull_area": "Mi", "ice_strengthened": True, "fore_end_m": 58.0, "aft_end_m": 58.4,
        "highest_above_lower_m": 2.0, "lowest_above_lower_m": 0.5, "below_strength_deck_m": 4.0, "bottom_shell": False,
        "bilge": False, "declared_category": "derived", "single_strake_width_m": 0.0, "thickness_as_built_mm": 12.0,
        "strength": "higher", "grade_offered": "A", "exposed_part": "no part of its own", "stress_concentration": False,
    }  # fmt: skip
    assert set(changed) <= set(given)
    return {name: column(value) for name, value in {**given, **changed}.items()}


def graded(**changed: Any) -> tuple[str, str]:
    """The material class and the letter demanded."""
    out = RULE.run(member(**changed))
    return str(out["material_class"][0]), str(out["grade_demanded"][0])


def table_8(material_class: str, ice_class: str, thickness_mm: float, strength: str) -> str:
    row = i2_12.grade_thickness_row(thickness_as_built_mm=np.array([thickness_mm]))
    found = i2_12.table_8_grade(
        material_class=np.array([material_class]), ice_class=np.array([ice_class]), thickness=row,
        strength=np.array([strength]),
    )  # fmt: skip
    return str(found[0])


def printed_cells() -> list[tuple[float, float, str, str, str, str]]:
    """Every printed cell by class: over, up to, material class, ice class, letters of both strengths."""
    found, over = [], 0.0
    for line in TABLE_8.strip().splitlines():
        upto, cells = line.split(": ")
        for (name, numbers), cell in zip(COLUMNS, cells.split(), strict=True):
            normal, higher = cell.split("/")
            found += [(over, float(upto), name, f"PC{n}", normal, higher[0]) for n in numbers]
        over = float(upto)
    return found


def test_every_cell_of_table_8_on_both_sides_of_its_row() -> None:
    assert len(printed_cells()) == 9 * 3 * 7
    for over, upto, name, ice_class, normal, higher in printed_cells():
        for thickness in (over + 1e-9, 0.5 * (over + upto), upto):
            assert table_8(name, ice_class, thickness, "normal") == normal, (name, ice_class, thickness)
            assert table_8(name, ice_class, thickness, "higher") == higher, (name, ice_class, thickness)


def test_beyond_table_8_no_grade_suffices() -> None:
    for name, ice_class, strength in itertools.product(("I", "II", "III"), CLASSES, ("normal", "higher")):
        for thickness in (50.0 + 1e-9, 80.0, np.nan):
            assert table_8(name, ice_class, thickness, strength) == "none"


def test_a_member_without_class_is_not_in_table_8() -> None:
    with pytest.raises(InputError, match="no such material_class; found -"):
        table_8("-", "PC4", 12.0, "higher")


def test_grades_grow_with_thickness_and_both_classes() -> None:
    names, thickness = ("I", "II", "III"), np.arange(2.0, 56.0)
    for strength in ("normal", "higher"):
        ranks = np.array([[[LETTERS.index(table_8(m, c, t, strength)) for t in thickness] for c in reversed(CLASSES)]
                          for m in names])  # fmt: skip
        for axis in range(3):
            assert (np.diff(ranks, axis=axis) >= 0).all()


# Table 7


def test_shell_of_bow_and_bow_intermediate_icebelt_is_class_ii() -> None:
    for area, plating in itertools.product((*AREAS, ""), (True, False)):
        found = i2_12.class_of_bow_shell(plating=np.array([plating]), hull_area=np.array([area]))
        assert found[0] == ("II" if plating and area in ("B", "BIi") else "-")


def test_outside_amidships_by_hand() -> None:
    """kind: hand. Margins 0.3 x 120 = 36 m and 84 m; a member that reaches over one counts as outside."""
    fore = np.array([36.01, 35.99, 83.0, 83.0, 0.0, 90.0])
    aft = np.array([36.5, 36.5, 83.99, 84.01, 1.0, 91.0])
    found = i2_12.outside_amidships(fore_end_m=fore, aft_end_m=aft, rule_length_m=np.array([120.0]))
    assert found.tolist() == [False, True, False, True, True, True]
    on_the_limit = i2_12.outside_amidships(
        fore_end_m=np.array([36.0]), aft_end_m=np.array([84.0]), rule_length_m=np.array([120.0])
    )
    assert not on_the_limit[0]


def test_rows_of_table_7_by_category_and_place() -> None:
    for category, flag in itertools.product(("secondary", "primary", "special", "unlisted"), (True, False)):
        name, there = np.array([category]), np.array([flag])
        outside = i2_12.class_outside_amidships(outside=there, category=name)
        assert outside[0] == ("I" if flag and category in ("secondary", "primary") else "-")
        forward = i2_12.class_of_special_forward(category=name, in_fore_part=there)
        assert forward[0] == ("II" if flag and category == "special" else "-")
    parts = np.array(["no part of its own", "no part of its own", "rudder"])
    assert i2_12.class_of_framing(plating=np.array([True, False, False]), exposed_part=parts).tolist() == [
        "-",
        "I",
        "-",
    ]
    fore_end = np.array([23.99, 24.0, 24.01])  # the limit itself is in the fore part
    assert i2_12.in_fore_part(fore_end_m=fore_end, rule_length_m=np.array([120.0])).tolist() == [True, True, False]


def test_the_rows_for_other_structure() -> None:
    """kind: second copy."""
    printed = {
        "stem frame": "II", "stern frame": "II", "rudder horn": "II", "rudder": "II", "propeller nozzle": "II",
        "shaft bracket": "II", "ice skeg": "II", "ice knife": "II", "other ice-impacted appendage": "II",
        "exposed plating and framing of holds opened in the cold": "I", "no part of its own": "-",
    }  # fmt: skip
    assert i2_12.table_7_class(structure=np.array(list(printed))).tolist() == list(printed.values())
    with pytest.raises(InputError, match="no such structure"):
        i2_12.table_7_class(structure=np.array(["funnel"]))


def test_the_higher_class_governs() -> None:
    order = ("-", "I", "II", "III")
    for a, b, c, d, e in itertools.product(order[:3], repeat=5):
        found = i2_12.exposed_class(
            class_of_bow_shell=np.array([a]), class_of_framing=np.array([b]),
            class_outside_amidships=np.array([c]), class_of_special_forward=np.array([d]), class_of_part=np.array([e]),
        )  # fmt: skip
        assert found[0] == order[max(map(order.index, (a, b, c, d, e)))]
    for one, other in itertools.product(order, repeat=2):
        found = i2_12.governing_class(class_s6=np.array([one]), class_exposed=np.array([other]))
        assert found[0] == order[max(order.index(one), order.index(other))]


def test_exposed_from_0_3_m_below_the_lower_ice_waterline() -> None:
    """The level itself counts as exposed, and nothing of it as submerged."""
    heights = np.array([-0.3001, -0.3, -0.2999])
    assert i2_12.weather_exposed(highest_above_lower_m=heights).tolist() == [False, True, True]
    assert i2_12.submerged(lowest_above_lower_m=heights).tolist() == [True, False, False]


def test_the_most_severe_grade_is_demanded() -> None:
    names = ("exposed_grade", "submerged_grade", "ship_grade", "ice_grade", "long_ship_grade")
    for parts in itertools.product(LETTERS[::2] + LETTERS[-1:], repeat=5):
        found = i2_12.demanded_grade(**{name: np.array([word]) for name, word in zip(names, parts, strict=True)})
        assert found[0] == LETTERS[max(map(LETTERS.index, parts))]


# The whole chain, by hand


PART = {
    "plating": False, "exposed_part": "stem frame", "hull_area": "", "ice_strengthened": False, "fore_end_m": 0.0,
    "aft_end_m": 0.0, "below_strength_deck_m": np.inf,
}  # fmt: skip
DEEP = {"highest_above_lower_m": -0.5, "lowest_above_lower_m": -4.0}
CASES = [
    # side amidships, exposed: UR S6 secondary I; Table 8 I PC1-5: t 15 AH, 15.01 DH
    ({"thickness_as_built_mm": 15.0}, "I", "A"),
    ({"thickness_as_built_mm": 15.01}, "I", "D"),
    ({"thickness_as_built_mm": 15.01, "ice_class": "PC6"}, "I", "A"),
    # the bow: Table 7 II above UR S6, which gives none there. 12 mm DH, 10 mm AH, 25 mm DH, 25.01 mm EH
    ({"hull_area": "B", "fore_end_m": 5.0, "aft_end_m": 5.4}, "II", "D"),
    ({"hull_area": "B", "fore_end_m": 5.0, "aft_end_m": 5.4, "thickness_as_built_mm": 10.0}, "II", "A"),
    ({"hull_area": "BIi", "fore_end_m": 30.0, "aft_end_m": 30.4, "thickness_as_built_mm": 25.0}, "II", "D"),
    ({"hull_area": "BIi", "fore_end_m": 30.0, "aft_end_m": 30.4, "thickness_as_built_mm": 25.01}, "II", "E"),
    # the same below the water: UR S6 with class II whatever the ice class: 25 mm AH, 25.01 mm DH
    ({"hull_area": "B", "fore_end_m": 5.0, "aft_end_m": 5.4, "thickness_as_built_mm": 25.0,
      "highest_above_lower_m": -0.5, "lowest_above_lower_m": -2.0}, "II", "A"),
    ({"hull_area": "B", "fore_end_m": 5.0, "aft_end_m": 5.4, "thickness_as_built_mm": 25.01,
      "highest_above_lower_m": -0.5, "lowest_above_lower_m": -2.0, "ice_class": "PC1"}, "II", "D"),
    # over the level: the more severe of both, here Table 8
    ({"hull_area": "B", "fore_end_m": 5.0, "aft_end_m": 5.4, "thickness_as_built_mm": 25.01,
      "highest_above_lower_m": 0.5, "lowest_above_lower_m": -2.0}, "II", "E"),
    # over the level, PC6, class II, 45 mm: Table 8 DH, UR S6 II EH governs
    ({"hull_area": "B", "fore_end_m": 5.0, "aft_end_m": 5.4, "thickness_as_built_mm": 45.0, "ice_class": "PC6",
      "lowest_above_lower_m": -2.0}, "II", "E"),
    # exposed alone: UR S6 by itself gives the side outside amidships no class, Table 8 D
    ({"hull_area": "B", "fore_end_m": 5.0, "aft_end_m": 5.4, "thickness_as_built_mm": 45.0, "ice_class": "PC6"},
     "II", "D"),
    # sheer strake amidships: special III above Table 7: PC4 EH at any thickness, 45.01 mm FH; PC1 from 35.01 mm
    ({"below_strength_deck_m": 0.0}, "III", "E"),
    ({"below_strength_deck_m": 0.0, "thickness_as_built_mm": 45.01}, "III", "F"),
    ({"below_strength_deck_m": 0.0, "thickness_as_built_mm": 35.01, "ice_class": "PC1"}, "III", "F"),
    ({"below_strength_deck_m": 0.0, "thickness_as_built_mm": 35.01, "ice_class": "PC1", "strength": "normal"},
     "III", "none"),
    # the strake's depth: 800 + 5 x 120 = 1400 mm below the deck
    ({"below_strength_deck_m": 1.399}, "III", "E"),
    ({"below_strength_deck_m": 1.4}, "I", "A"),
    # sheer strake outside: between the middle 0.4 and 0.6 L special II, beyond it I; in the fore 0.2 L II
    ({"below_strength_deck_m": 0.0, "fore_end_m": 30.0, "aft_end_m": 30.4, "hull_area": "BIl"}, "II", "D"),
    ({"below_strength_deck_m": 0.0, "fore_end_m": 100.0, "aft_end_m": 100.4, "hull_area": "Si"}, "I", "A"),
    ({"below_strength_deck_m": 0.0, "fore_end_m": 23.0, "aft_end_m": 23.4, "hull_area": ""}, "II", "D"),
    # a panel that reaches over the middle's edge takes the class amidships
    ({"below_strength_deck_m": 0.0, "fore_end_m": 35.8, "aft_end_m": 36.2, "hull_area": "Mi"}, "III", "E"),
    # bottom amidships, below the water: primary II: 20 mm AH, 30 mm DH; outside secondary and primary I by Table 7
    ({"bottom_shell": True, "highest_above_lower_m": -3.0, "lowest_above_lower_m": -4.0, "hull_area": "Mb",
      "thickness_as_built_mm": 30.0}, "II", "D"),
    ({"bottom_shell": True, "highest_above_lower_m": -3.0, "lowest_above_lower_m": -4.0, "hull_area": "Sb",
      "thickness_as_built_mm": 30.0, "fore_end_m": 100.0, "aft_end_m": 100.4}, "I", "A"),
    # framing: class I everywhere; exposed 15.01 mm DH, submerged 40 mm AH
    ({"plating": False, "hull_area": "B", "fore_end_m": 5.0, "aft_end_m": 5.4, "thickness_as_built_mm": 15.01},
     "I", "D"),
    ({"plating": False, "highest_above_lower_m": -3.0, "lowest_above_lower_m": -4.0, "thickness_as_built_mm": 40.0},
     "I", "A"),
    # normal strength below the water in the ice area: B at least; elsewhere A
    ({"strength": "normal", "highest_above_lower_m": -3.0, "lowest_above_lower_m": -4.0, "hull_area": "Ml"}, "I", "B"),
    ({"strength": "normal", "highest_above_lower_m": -3.0, "lowest_above_lower_m": -4.0, "hull_area": "Ml",
      "ice_strengthened": False}, "I", "A"),
    # stem, stern frame and appendages, class II. Above the level, PC4: 25 mm DH, 25.01 mm EH; PC6 25.01 mm DH
    ({**PART, "thickness_as_built_mm": 25.0}, "II", "D"),
    ({**PART, "thickness_as_built_mm": 25.01}, "II", "E"),
    ({**PART, "thickness_as_built_mm": 25.01, "ice_class": "PC6"}, "II", "D"),
    # below it UR S6: 25 mm AH, 40 mm DH, 40.01 mm EH whatever the ice class
    ({**PART, **DEEP, "exposed_part": "ice knife", "thickness_as_built_mm": 25.0}, "II", "A"),
    ({**PART, **DEEP, "exposed_part": "ice knife", "thickness_as_built_mm": 40.0, "ice_class": "PC1"}, "II", "D"),
    ({**PART, **DEEP, "exposed_part": "ice knife", "thickness_as_built_mm": 40.01}, "II", "E"),
    # a rudder's plate under concentrated stress is class III by UR S6: 30 mm DH for II, EH over 30 mm for III
    ({**PART, **DEEP, "exposed_part": "rudder", "thickness_as_built_mm": 22.0}, "II", "A"),
    ({**PART, **DEEP, "exposed_part": "rudder", "thickness_as_built_mm": 22.0, "stress_concentration": True},
     "III", "D"),
    ({**PART, **DEEP, "exposed_part": "rudder", "thickness_as_built_mm": 30.01, "stress_concentration": True},
     "III", "E"),
    ({**PART, **DEEP, "exposed_part": "rudder horn", "thickness_as_built_mm": 22.0, "stress_concentration": True},
     "II", "A"),
    # above the level UR S6 holds by itself: normal strength, class II, 42 mm, PC7: Table 8 D, UR S6 E
    ({**PART, "exposed_part": "stern frame", "strength": "normal", "thickness_as_built_mm": 42.0, "ice_class": "PC7"},
     "II", "E"),
    ({**PART, "exposed_part": "propeller nozzle", "strength": "normal", "thickness_as_built_mm": 42.0,
      "ice_class": "PC7"}, "II", "D"),
    # beyond the tables
    ({"thickness_as_built_mm": 50.01}, "I", "none"),
    ({"thickness_as_built_mm": 50.01, "highest_above_lower_m": -3.0, "lowest_above_lower_m": -4.0}, "I", "none"),
]  # fmt: skip


@pytest.mark.parametrize(("changed", "material_class", "letter"), CASES)
def test_grade_demanded_by_hand(changed: dict[str, Any], material_class: str, letter: str) -> None:
    assert graded(**changed) == (material_class, letter)


def test_the_single_strake_of_lower_grade() -> None:
    """kind: hand. Class II, PC4, 28 mm: EH; in a declared strake up to 1.8 m from LIWL - 0.3 m, so to 1.5 m, DH."""
    bow = {"hull_area": "B", "fore_end_m": 5.0, "aft_end_m": 5.4, "thickness_as_built_mm": 28.0}
    assert graded(**bow, highest_above_lower_m=1.4) == ("II", "E")
    strake = {**bow, "single_strake_width_m": 1.8}
    assert graded(**strake, highest_above_lower_m=1.499) == ("II", "D")
    assert graded(**strake, highest_above_lower_m=1.501) == ("II", "E")  # reaches out of the strake
    assert graded(**{**strake, "single_strake_width_m": 1.801}, highest_above_lower_m=1.4) == ("II", "E")
    assert graded(**{**strake, "single_strake_width_m": 1.2}, highest_above_lower_m=0.899) == ("II", "D")
    assert graded(**{**strake, "single_strake_width_m": 1.2}, highest_above_lower_m=0.901) == ("II", "E")
    for thickness, letter in ((25.0, "D"), (25.01, "D"), (30.0, "D"), (30.01, "E")):
        assert graded(**{**strake, "thickness_as_built_mm": thickness}, highest_above_lower_m=1.4) == ("II", letter)
    # no other class, and no framing
    side = {"below_strength_deck_m": 0.0, "single_strake_width_m": 1.8, "thickness_as_built_mm": 28.0}
    assert graded(**side, highest_above_lower_m=1.4) == ("III", "E")
    frame = {**strake, "plating": False, "thickness_as_built_mm": 42.0}
    assert graded(**frame, highest_above_lower_m=1.4) == ("I", "E")


def test_limits_of_the_single_strake() -> None:
    """Its upper edge belongs to it, any width over nothing declares it, and no width declares none at its very foot."""

    def inside(width: float, top: float) -> bool:
        return bool(i2_12.in_single_strake(
            plating=np.array([True]), highest_above_lower_m=np.array([top]), single_strake_width_m=np.array([width])
        )[0])  # fmt: skip

    assert inside(1.8, 1.5)
    assert inside(0.5, 0.2)
    assert not inside(0.5, 0.2001)
    assert not inside(0.0, -0.3)


def test_the_exception_needs_all_it_names() -> None:
    given = {
        "weather_exposed": True, "table_8_grade": "E", "in_single_strake": True, "material_class": "II",
        "thickness_as_built_mm": 28.0,
    }  # fmt: skip
    others = {
        "in_single_strake": False, "material_class": "III", "thickness_as_built_mm": 31.0, "table_8_grade": "none",
    }  # fmt: skip

    def run(**changed: Any) -> str:
        return str(i2_12.exposed_grade(**{k: np.array([v]) for k, v in {**given, **changed}.items()})[0])

    assert run() == "D"
    assert run(weather_exposed=False) == "A"
    for name, value in others.items():
        assert run(**{name: value}) == (value if name == "table_8_grade" else "E")
    assert i2_12.submerged_grade(
        submerged=np.array([True, False]), normal_service_grade=np.array(["D", "D"])
    ).tolist() == ["D", "A"]


def test_strakes_of_ships_over_250_m() -> None:
    """kind: hand. 6 mm PC7, submerged: class III and II ask for A; the sheer strake of a long ship for E, the bilge D.

    The middle 0.4 of 260 m reaches from 78 to 182 m aft of the stem.
    """
    long = {
        "stem_to_rudder_m": 260.0, "waterline_extreme_length_m": 269.0, "thickness_as_built_mm": 6.0,
        "ice_class": "PC7", "fore_end_m": 130.0, "aft_end_m": 131.0, **DEEP,
    }  # fmt: skip
    sheer = {"below_strength_deck_m": 0.0}
    assert graded(**long, **sheer) == ("III", "E")
    assert graded(**long, bilge=True) == ("III", "D")
    assert graded(**long, bilge=True, **sheer) == ("III", "E")
    assert graded(**long, declared_category="special") == ("III", "E")
    assert graded(**long) == ("I", "A")
    assert graded(**long, plating=False, **sheer) == ("I", "A")
    assert graded(**{**long, "fore_end_m": 181.9, "aft_end_m": 182.5}, **sheer) == ("III", "E")
    assert graded(**{**long, "fore_end_m": 182.1, "aft_end_m": 182.5}, **sheer) == ("II", "A")
    assert graded(**{**long, "fore_end_m": 77.5, "aft_end_m": 78.1}, **sheer) == ("III", "E")
    short = {**long, "stem_to_rudder_m": 250.0, "waterline_extreme_length_m": 259.0}
    assert graded(**short, **sheer) == ("III", "A")
    assert graded(**{**short, "stem_to_rudder_m": 250.01}, **sheer) == ("III", "E")


def test_the_check_compares_ranks() -> None:
    (check,) = RULE.checks
    for demanded, offered in itertools.product("ADEF", "ABDEF"):
        thickness = {"A": 12.0, "D": 16.0, "E": 42.0}.get(demanded, 50.0)
        changed = {"thickness_as_built_mm": thickness, "grade_offered": offered}
        if demanded == "F":
            changed["below_strength_deck_m"] = 0.0
        out = RULE.run(member(**changed))
        assert out["grade_demanded"][0] == demanded
        ratio = utilisation(out[check.required], out[check.offered])
        assert (ratio[0] <= 1.0) == (offered >= demanded)
    out = RULE.run(member(thickness_as_built_mm=60.0, grade_offered="F"))
    assert utilisation(out[check.required], out[check.offered])[0] == pytest.approx(6.0 / 5.0)


@pytest.mark.parametrize(("thickness", "shown"), [(0.0, "0"), (-3.0, "-3"), (float("nan"), "nan")])
def test_a_thickness_that_cannot_be_is_refused(thickness: float, shown: str) -> None:
    with pytest.raises(
        InputError, match=f"steel grades: row 0: thickness_as_built_mm: outside its range; found {shown}"
    ):
        RULE.run(member(thickness_as_built_mm=thickness))


def test_net_thickness_in_the_place_of_as_built_would_show() -> None:
    """The slip: 28 mm as built less 3.5 mm addition is 24.5 mm net. By it the bow would get DH for EH."""
    bow = {"hull_area": "B", "fore_end_m": 5.0, "aft_end_m": 5.4, "ice_class": "PC1"}
    assert graded(**bow, thickness_as_built_mm=28.0) == ("II", "E")
    assert graded(**bow, thickness_as_built_mm=28.0 - 3.5) == ("II", "D")


def test_the_grade_never_falls_with_thickness() -> None:
    thickness = np.arange(3.0, 56.0, 0.5)
    for area, ice_class, strength, plating in itertools.product(
        ("B", "BIl", "Mi", ""), CLASSES, ("normal", "higher"), (True, False)
    ):
        for low, high, deck in ((-4.0, -2.0, 4.0), (-1.0, 1.0, 4.0), (1.0, 2.0, 0.0)):
            out = RULE.run(member(
                hull_area=area, ice_class=ice_class, strength=strength, plating=plating, lowest_above_lower_m=low,
                highest_above_lower_m=high, below_strength_deck_m=deck, thickness_as_built_mm=thickness,
            ))  # fmt: skip
            assert (np.diff(out["rank_demanded"]) >= 0.0).all()


def test_every_shell_member_has_a_class() -> None:
    """Table 8 has no column for members without one: the chain never asks it for that."""
    x = np.linspace(-5.0, 125.0, 131)
    for category, plating in itertools.product(("secondary", "primary", "special"), (True, False)):
        out = RULE.run(member(
            fore_end_m=x, aft_end_m=x + 0.4, plating=plating, declared_category=category if plating else "derived",
        ))  # fmt: skip
        assert set(out["material_class"].tolist()) <= {"I", "II", "III"}


def test_limits_of_the_chapter() -> None:
    """kind: second copy."""
    printed = {
        "exposed from below LIWL in m": 0.3, "share of the length amidships": 0.4,
        "share of the length of the fore part": 0.2, "single strake: greatest width in m": 1.8,
        "single strake: thickness over in mm": 25.0, "single strake: thickness up to in mm": 30.0,
    }  # fmt: skip
    assert {keys[0]: cell.value for keys, cell in tables.MATERIAL_LIMITS.cells.items()} == printed
