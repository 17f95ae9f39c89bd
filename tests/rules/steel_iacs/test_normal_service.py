"""UR S6.1: categories, classes and grades in normal service, against a second copy written from the printed layout."""

from __future__ import annotations

import itertools

import numpy as np
import pytest

from beltwright.core.errors import InputError
from beltwright.core.provenance import Status
from beltwright.core.ruletable import parse_table
from beltwright.rules.steel_iacs import s6_1_normal_service as s6
from beltwright.rules.steel_iacs import tables
from beltwright.rules.steel_iacs.bands import ThicknessBands

# kind: second copy, written row by row: thickness up to, classes I, II, III as normal/higher strength
NORMAL = """
15: A/AH A/AH A/AH
20: A/AH A/AH B/AH
25: A/AH B/AH D/DH
30: A/AH D/DH D/DH
35: B/AH D/DH E/EH
40: B/AH D/DH E/EH
50: D/DH E/EH E/EH
"""
CLASSES = ("-", "I", "II", "III")
LETTERS = ("A", "B", "D", "E", "F", "none")


def words(*values: str) -> np.ndarray:
    return np.array(values, dtype=np.str_)


def grade(material_class: str, thickness_mm: float, strength: str) -> str:
    row = s6.normal_thickness_row(thickness_as_built_mm=np.array([thickness_mm]))
    found = s6.normal_service_grade(material_class=words(material_class), thickness=row, strength=words(strength))
    return str(found[0])


def rows() -> list[tuple[float, float, str, str, str]]:
    """Every printed cell: over, up to, class, letter of normal strength, letter of higher strength."""
    found, over = [], 0.0
    for line in NORMAL.strip().splitlines():
        upto, cells = line.split(": ")
        for name, cell in zip(("I", "II", "III"), cells.split(), strict=True):
            normal, higher = cell.split("/")
            found.append((over, float(upto), name, normal, higher[0]))
        over = float(upto)
    return found


@pytest.mark.parametrize(("over", "upto", "material_class", "normal", "higher"), rows())
def test_every_cell_of_table_7_on_both_sides_of_its_row(
    over: float, upto: float, material_class: str, normal: str, higher: str
) -> None:
    for thickness in (over + 1e-9, 0.5 * (over + upto), upto):
        assert grade(material_class, thickness, "normal") == normal
        assert grade(material_class, thickness, "higher") == higher


def test_table_7_has_no_other_cells() -> None:
    printed = {place for place in tables.NORMAL_SERVICE.cells if place[0] != "-" and place[1] != "over 50"}
    assert len(printed) == 2 * len(rows())


def test_beyond_fifty_millimetres_no_grade_suffices() -> None:
    for material_class, strength in itertools.product(CLASSES, ("normal", "higher")):
        assert grade(material_class, 50.0, strength) != "none"
        for thickness in (50.0 + 1e-9, 500.0, np.nan):
            assert grade(material_class, thickness, strength) == "none"
    assert tables.NORMAL_SERVICE.cell("I", "over 50", "normal").status is Status.CHOICE


def test_a_member_without_class_takes_a_or_ah() -> None:
    for thickness in (3.0, 15.0, 30.0, 50.0):
        assert grade("-", thickness, "normal") == grade("-", thickness, "higher") == "A"


def test_grades_grow_with_thickness_and_class() -> None:
    for strength in ("normal", "higher"):
        ranks = np.array(
            [[LETTERS.index(grade(c, t, strength)) for t in np.arange(1.0, 55.0)] for c in CLASSES]
        )  # fmt: skip
        assert (np.diff(ranks, axis=1) >= 0).all()
        assert (np.diff(ranks, axis=0) >= 0).all()


def test_breadth_of_a_single_strake_by_hand() -> None:
    """kind: hand. 800 + 5 x 92 = 1260 mm; at 200 m the limit 1800 mm, above it no more."""
    found = s6.single_strake_breadth(rule_length_m=np.array([92.0, 199.0, 200.0, 250.0]))
    assert found == pytest.approx([1.26, 1.795, 1.8, 1.8])


def category(**changed: object) -> str:
    given: dict[str, object] = {
        "declared_category": "derived", "plating": True, "below_strength_deck_m": 5.0, "single_strake_breadth_m": 1.26,
        "bilge": False, "bottom_shell": False,
    }  # fmt: skip
    return str(s6.structural_category(**{k: np.array([v]) for k, v in {**given, **changed}.items()})[0])


def test_categories() -> None:
    assert category() == "secondary"
    assert category(bottom_shell=True) == "primary"
    assert category(bilge=True) == category(bilge=True, bottom_shell=True) == "special"
    # the sheer strake: its upper edge less than a strake below the deck
    assert category(below_strength_deck_m=1.2599) == category(below_strength_deck_m=-0.1) == "special"
    assert category(below_strength_deck_m=1.26) == "secondary"
    assert category(below_strength_deck_m=np.inf) == "secondary"
    # framing is not listed; what the user declares stands over all
    assert category(plating=False, bilge=True) == "unlisted"
    assert category(declared_category="special", plating=False) == "special"
    assert category(declared_category="secondary", bilge=True) == "secondary"


def test_places_along_the_length_by_hand() -> None:
    """kind: hand. L = 100: middle 0.4 L is 30 to 70 m, middle 0.6 L 20 to 80 m aft of the stem."""
    x = np.array([-1.0, 19.99, 20.01, 29.99, 30.01, 50.0, 69.99, 70.01, 79.99, 80.01])
    found = s6.place_along(aft_of_stem_m=x, rule_length_m=np.array([100.0]))
    assert found.tolist() == ["ends", "ends", "next", "next", *3 * ["amidships"], "next", "next", "ends"]
    limits = s6.place_along(aft_of_stem_m=np.array([20.0, 30.0]), rule_length_m=np.array([100.0]))
    assert limits.tolist() == ["next", "amidships"]  # a limit belongs to the middle


def test_classes_of_every_category_and_place() -> None:
    """kind: second copy. Secondary I, primary II amidships and none outside; special III, II, I."""
    printed = {"secondary": "I - -", "primary": "II - -", "special": "III II I", "unlisted": "- - -"}
    for name, classes in printed.items():
        found = s6.category_class(category=words(name, name, name), place=words("amidships", "next", "ends"))
        assert found.tolist() == classes.split()
    with pytest.raises(InputError, match="no such category"):
        s6.category_class(category=words("tertiary"), place=words("ends"))


def test_the_higher_class() -> None:
    for one, other in itertools.product(CLASSES, CLASSES):
        found = s6.higher_class(one_class=words(one), other_class=words(other))
        assert found[0] == CLASSES[max(CLASSES.index(one), CLASSES.index(other))]


def test_least_classes_of_appendages() -> None:
    """kind: second copy. II for stern frame, rudder horn, rudder, bracket; III for stressed plates of a rudder."""
    printed = {
        "stern frame": "II", "rudder horn": "II", "rudder": "II", "shaft bracket": "II", "stem frame": "-",
        "propeller nozzle": "-", "ice skeg": "-", "ice knife": "-", "other ice-impacted appendage": "-",
        "no part of its own": "-",
    }  # fmt: skip
    names = words(*printed)
    for stressed in (False, True):
        row = s6.appendage_row(exposed_part=names, stress_concentration=np.full(len(names), stressed))
        found = s6.appendage_class(part=row).tolist()
        assert found == [("III" if stressed and name == "rudder" else one) for name, one in printed.items()]
    with pytest.raises(InputError, match="no such part; found funnel"):
        s6.appendage_class(part=words("funnel", "rudder"))


def long_ship(**changed: object) -> str:
    given: dict[str, object] = {
        "plating": True, "category": "special", "bilge": False, "below_strength_deck_m": 0.0,
        "single_strake_breadth_m": 1.8, "fore_place": "amidships", "aft_place": "amidships", "rule_length_m": 250.001,
    }  # fmt: skip
    return str(s6.long_ship_grade(**{k: np.array([v]) for k, v in {**given, **changed}.items()})[0])


def test_long_ships_have_e_at_the_sheer_and_d_at_the_bilge() -> None:
    assert long_ship() == "E"
    assert long_ship(rule_length_m=250.0) == "A"
    assert long_ship(bilge=True, below_strength_deck_m=1.8) == "D"
    assert long_ship(bilge=True, below_strength_deck_m=1.799) == "E"  # bilge and sheer strake at once
    assert long_ship(below_strength_deck_m=9.0) == "E"  # declared special, neither of the two
    assert long_ship(fore_place="next") == long_ship(aft_place="next") == "E"
    assert long_ship(fore_place="next", aft_place="next") == "A"
    assert long_ship(category="primary") == long_ship(plating=False) == "A"


def test_strakes_in_way_of_ice_strengthening_are_b_or_ah() -> None:
    for plating, ice, strength in itertools.product((True, False), (True, False), ("normal", "higher")):
        found = s6.ice_strake_grade(
            plating=np.array([plating]), ice_strengthened=np.array([ice]), strength=words(strength)
        )
        assert found[0] == ("B" if plating and ice and strength == "normal" else "A")


def test_ranks_follow_the_letters() -> None:
    found = s6.grade_rank(grade_letter=words(*LETTERS, "C", ""))
    assert found.tolist() == [1.0, 2.0, 3.0, 4.0, 5.0, 6.0, 6.0, 6.0]


HEAD = "# document: UR X\n# edition: 1\n# table: Table 1\n# title: rows\n# read_by: test\nthickness,value,status\n"


@pytest.mark.parametrize("names", ["5-10,10-20", "0-10,12-20", "0-10,10-20,over 30", "0-10,over 10,over 20"])
def test_rows_that_do_not_follow_on_are_refused(names: str) -> None:
    text = HEAD + "".join(f"{name},A,memory\n" for name in names.split(","))
    with pytest.raises(ValueError, match="UR X Table 1: the rows by thickness do not follow on"):
        ThicknessBands(parse_table(text, "rows.csv"))


def test_a_table_without_a_last_row_has_one_beyond_it() -> None:
    bands = ThicknessBands(parse_table(HEAD + "0-10,A,memory\n10-12.5,B,memory\n", "rows.csv"))
    assert bands.words(np.array([10.0, 12.5, 12.6])).tolist() == ["0-10", "10-12.5", "over 12.5"]
