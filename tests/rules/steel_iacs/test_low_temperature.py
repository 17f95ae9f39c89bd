"""UR S6.2: classes and grades in low air temperature, against a second copy written from the printed layout."""

from __future__ import annotations

import numpy as np
import pytest

from beltwright.core.errors import InputError
from beltwright.core.provenance import Status
from beltwright.rules.steel_iacs import s6_2_low_temperature as cold
from beltwright.rules.steel_iacs import tables

# kind: second copy. Row: thickness up to; columns -11/-15, -16/-25, -26/-35, -36/-45, -46/-55; A is A/AH, .F is -/FH
COLD = {
    "I": "10: A A B D D; 15: A B D D D; 20: A B D D E; 25: B D D D E; 30: B D D E E; 35: D D D E E; 45: D D E E .F; "
    "50: D E E .F .F",
    "II": "10: A B D D E; 20: B D D E E; 30: D D E E .F; 40: D E E .F .F; 45: E E .F .F ..; 50: E E .F .F ..",
    "III": "10: B D D E E; 20: D D E E .F; 25: D E E .F .F; 30: D E E .F .F; 35: E E .F .F ..; 40: E E .F .F ..; "
    "50: E .F .F .. ..",
}
BANDS = ((-10.001, -15.0), (-15.001, -25.0), (-25.001, -35.0), (-35.001, -45.0), (-45.001, -55.0))
LETTERS = ("A", "B", "D", "E", "F", "none")


def grade(material_class: str, thickness_mm: float, temperature_c: float, strength: str) -> str:
    name = np.array([material_class])
    row = cold.cold_thickness_row(material_class=name, thickness_as_built_mm=np.array([thickness_mm]))
    column = cold.cold_column(design_temperature_c=np.array([temperature_c]))
    found = cold.low_temperature_grade(
        material_class=name, thickness=row, temperature=column, strength=np.array([strength])
    )
    return str(found[0])


def cells() -> list[tuple[str, float, float, int, str, str]]:
    """Every printed cell: class, over, up to, column, letter of normal strength, letter of higher strength."""
    found = []
    for name, text in COLD.items():
        over = 0.0
        for line in text.split("; "):
            upto, row = line.split(": ")
            for column, word in enumerate(row.split()):
                normal, higher = {".F": ("none", "F"), "..": ("none", "none")}.get(word, (word, word.replace("B", "A")))
                found.append((name, over, float(upto), column, normal, higher))
            over = float(upto)
    return found


def test_every_cell_of_table_9_on_both_sides_of_row_and_column() -> None:
    assert len(cells()) == 5 * (8 + 6 + 7)
    for name, over, upto, column, normal, higher in cells():
        for thickness in (over + 1e-9, upto):
            for temperature in BANDS[column]:
                assert grade(name, thickness, temperature, "normal") == normal, (name, thickness, temperature)
                assert grade(name, thickness, temperature, "higher") == higher, (name, thickness, temperature)


def test_the_doubtful_cells_say_so() -> None:
    noted = {place for place, cell in tables.COLD_SERVICE.cells.items() if "doubtful" in cell.note}
    assert {(place[0], place[1], place[2]) for place in noted} == {
        ("III", "20-25", "-36 to -45"), ("III", "25-30", "-36 to -45"),
    }  # fmt: skip


def test_grades_grow_with_thickness_class_and_cold() -> None:
    thickness, temperature = np.arange(2.0, 56.0, 2.5), -np.arange(11.0, 60.0, 4.0)
    for strength in ("normal", "higher"):
        ranks = np.array(
            [[[LETTERS.index(grade(c, t, d, strength)) for d in temperature] for t in thickness] for c in COLD]
        )
        for axis in range(3):
            assert (np.diff(ranks, axis=axis) >= 0).all()


def test_beyond_the_table_no_grade_suffices() -> None:
    for name, strength in ((c, s) for c in COLD for s in ("normal", "higher")):
        assert grade(name, 10.0, -55.1, strength) == "none"
        assert grade(name, 10.0, float("nan"), strength) == "none"
        assert grade(name, 50.1, -12.0, strength) == "none"
        assert grade(name, float("nan"), -12.0, strength) == "none"
    assert tables.COLD_SERVICE.cell("II", "over 50", "-11 to -15", "higher").status is Status.CHOICE


@pytest.mark.parametrize("temperature", [-10.0, 0.0])
def test_from_minus_ten_up_the_table_is_not_for(temperature: float) -> None:
    with pytest.raises(InputError, match="no such temperature; found -10 and warmer"):
        grade("I", 10.0, temperature, "higher")


def test_classes_in_the_cold() -> None:
    """kind: second copy. Within and outside the middle 0.4 L: secondary I, I; primary II, I; special III, II."""
    for name, classes in {"secondary": "I I", "primary": "II I", "special": "III II"}.items():
        found = cold.cold_class(category=np.array([name, name]), place=np.array(["amidships", "outside"]))
        assert found.tolist() == classes.split()


def test_places_in_the_cold_by_hand() -> None:
    """kind: hand. L = 100: the middle 0.4 L is 30 to 70 m aft of the stem."""
    x = np.array([0.0, 29.99, 30.01, 69.99, 70.01])
    found = cold.cold_place_along(aft_of_stem_m=x, rule_length_m=np.array([100.0]))
    assert found.tolist() == ["outside", "outside", "amidships", "amidships", "outside"]
