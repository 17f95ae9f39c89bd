"""POLARIS: every cell against a second copy, the published worked values, both sides of each limit."""

from __future__ import annotations

import itertools
import os
import re

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from beltwright.core.errors import InputError
from beltwright.core.formula import formula_of, plain, typst
from beltwright.core.provenance import Status
from beltwright.rules.polaris_imo_2016 import tables
from beltwright.rules.polaris_imo_2016.documents import DOCUMENT
from beltwright.rules.polaris_imo_2016.operation import elevated_speed, index_band, operation, planning_index
from beltwright.rules.polaris_imo_2016.risk_index import ice_state, risk_index_outcome, risk_value

# As the table is printed, one line per class; a gap after the types that are one column group on the page.
STANDARD = """
PC1       3  3 3 3  2 2  2 2 2  2 1 1
PC2       3  3 3 3  2 2  2 2 2  1 1 0
PC3       3  3 3 3  2 2  2 2 2  1 0 -1
PC4       3  3 3 3  2 2  2 2 1  0 -1 -2
PC5       3  3 3 3  2 2  1 1 0  -1 -2 -2
PC6       3  2 2 2  2 1  1 0 -1  -2 -3 -3
PC7       3  2 2 2  1 1  0 -1 -2  -3 -3 -3
IA_Super  3  2 2 2  2 1  0 -1 -2  -3 -4 -4
IA        3  2 2 2  1 0  -1 -2 -3  -4 -5 -5
IB        3  2 2 1  0 -1  -2 -3 -4  -5 -6 -6
IC        3  2 1 0  -1 -2  -3 -4 -5  -6 -7 -8
none      3  1 0 -1  -2 -3  -4 -5 -6  -7 -8 -8
"""
ROWS = {
    words[0].replace("_", " "): [int(word) for word in words[1:]]
    for line in STANDARD.split("\n")
    if (words := line.split())
}
TYPES = [
    "ice_free",
    "new_ice",
    "grey_ice",
    "grey_white_ice",
    "thin_first_year_1",
    "thin_first_year_2",
    "medium_first_year_under_1m",
    "medium_first_year",
    "thick_first_year",
    "second_year",
    "light_multi_year",
    "heavy_multi_year",
]
WEAKER = ("PC5", "PC6", "PC7", "IA Super", "IA", "IB", "IC", "none")
GAIN_IN_DECAY = ("medium_first_year_under_1m", "medium_first_year", "thick_first_year")


def value(state: str, ice_class: str, ice_type: str) -> float:
    given = {"ice_state": state, "ice_class": ice_class, "ice_type": ice_type}
    return float(risk_value(**{name: np.array(word) for name, word in given.items()}))


def index(state: str, ice_class: str, tenths: dict[str, int]) -> float:
    concentration = np.array([[float(count)] for count in tenths.values()])
    values = np.array([[value(state, ice_class, name)] for name in tenths])
    return float(risk_index_outcome(concentration_tenths=concentration, risk_value=values)[0])


def test_classes_and_ice_types_in_printed_order() -> None:
    assert list(ROWS) == list(tables.CLASSES)
    assert list(tables.ICE_TYPES) == TYPES


@pytest.mark.parametrize("ice_class", ROWS)
def test_table_1_3_equals_the_second_copy(ice_class: str) -> None:
    assert [value("standard", ice_class, name) for name in TYPES] == ROWS[ice_class]


@pytest.mark.parametrize("ice_class", ROWS)
def test_table_1_4_is_one_more_in_three_columns_from_pc5_down(ice_class: str) -> None:
    expected = [
        number + (ice_class in WEAKER and name in GAIN_IN_DECAY)
        for name, number in zip(TYPES, ROWS[ice_class], strict=True)
    ]
    assert [value("decayed", ice_class, name) for name in TYPES] == expected


@pytest.mark.parametrize(
    ("ice_class", "published"), [("PC4", 19), ("PC5", 9), ("PC6", -1), ("PC7", -11), ("IA Super", -11), ("IA", -21)]
)
def test_published_worked_values(ice_class: str, published: int) -> None:
    """9/10 medium and 1/10 thick first-year ice; e.g. PC4: 9 x 2 + 1 x 1 = 19, IA: 9 x -2 + 1 x -3 = -21."""
    assert index("standard", ice_class, {"medium_first_year": 9, "thick_first_year": 1}) == published


def test_the_same_regime_with_confirmed_decay() -> None:
    # hand: PC6 9 x 1 + 1 x 0 = 9; PC7 9 x 0 + 1 x -1 = -1; PC4 is not touched: 19
    regime = {"medium_first_year": 9, "thick_first_year": 1}
    assert [index("decayed", name, regime) for name in ("PC4", "PC6", "PC7")] == [19, 9, -1]


def test_decay_is_never_the_default() -> None:
    assert ice_state(decay_confirmed=np.array([False, True])).tolist() == ["standard", "decayed"]
    with pytest.raises(TypeError):
        ice_state()


def test_the_extremes_of_the_index_fit_eight_bits() -> None:
    """Ten tenths of the worst and the best cell: 10 x -8 = -80 and 10 x 3 = 30, and 40 when planned under escort."""
    ten = np.array([[10]], dtype=np.int8)
    cells = [
        float(cell.value) for table in (tables.STANDARD_VALUES, tables.DECAYED_VALUES) for cell in table.cells.values()
    ]
    found = [
        risk_index_outcome(concentration_tenths=ten, risk_value=np.array([[worth]], dtype=np.int8))
        for worth in (min(cells), max(cells))
    ]
    assert [int(one[0]) for one in found] == [-80, 30]
    assert all(one.dtype == np.int8 for one in found)


@pytest.mark.parametrize("state", ["standard", "decayed"])
def test_values_fall_with_thickness_but_in_one_cell(state: str) -> None:
    rises = [
        (name, thicker)
        for name in ROWS
        for thinner, thicker in itertools.pairwise(TYPES)
        if value(state, name, thicker) > value(state, name, thinner)
    ]
    assert rises == ([] if state == "standard" else [("PC6", "medium_first_year_under_1m")])


@pytest.mark.parametrize("state", ["standard", "decayed"])
def test_a_weaker_class_is_never_worth_more(state: str) -> None:
    """Down the polar classes, and down the others; IA Super is not ordered against PC7."""
    for group in (list(ROWS)[:7], list(ROWS)[7:]):
        for stronger, weaker in itertools.pairwise(group):
            assert all(value(state, stronger, name) >= value(state, weaker, name) for name in TYPES)


@given(
    st.sampled_from(list(ROWS)),
    st.sampled_from(["standard", "decayed"]),
    st.lists(st.integers(0, 11), min_size=10, max_size=10),
    st.integers(0, 9),
    st.integers(1, 11),
)
def test_thicker_ice_never_raises_the_index(
    ice_class: str, state: str, types: list[int], place: int, step: int
) -> None:
    """One tenth exchanged for thicker ice, except for PC6 in decayed ice across the one cell that rises."""
    thicker = [*types[:place], min(types[place] + step, 11), *types[place + 1 :]]
    before, after = (
        index(state, ice_class, {name: chosen.count(k) for k, name in enumerate(TYPES)}) for chosen in (types, thicker)
    )
    if (state, ice_class) == ("decayed", "PC6") and types[place] == 5 and thicker[place] == 6:
        assert after == before + 1
    else:
        assert after <= before


@pytest.mark.parametrize(
    ("number", "band"),
    [(30, "high"), (0.0, "high"), (-0.001, "middle"), (-1, "middle"), (-10, "middle"), (-10.001, "low"), (-11, "low"),
     (-80, "low"), (np.nan, "low")],
)  # fmt: skip
def test_bands_from_both_sides(number: float, band: str) -> None:
    assert index_band(risk_index_outcome=np.array([number])).tolist() == [band]


@pytest.mark.parametrize("ice_class", ROWS)
def test_what_the_bands_mean(ice_class: str) -> None:
    found = operation(ice_class=np.array(ice_class), band=np.array(["high", "middle", "low"])).tolist()
    middle = tables.ELEVATED if ice_class.startswith("PC") else tables.SPECIAL
    assert found == [tables.NORMAL, middle, tables.SPECIAL]


def test_limits_of_speed() -> None:
    classes = np.array(["PC1", "PC2", "PC3", "PC4", "PC5", "PC6", "PC7"])
    assert elevated_speed(ice_class=classes).tolist() == [11.0, 8.0, 5.0, 5.0, 5.0, 3.0, 3.0]


@pytest.mark.parametrize("ice_class", ["IA Super", "IA", "IB", "IC", "none"])
def test_no_speed_where_there_is_no_elevated_band(ice_class: str) -> None:
    with pytest.raises(InputError, match="blank"):
        elevated_speed(ice_class=np.array([ice_class]))


def test_escort_raises_the_planned_index_only_where_it_is_planned() -> None:
    found = planning_index(risk_index_outcome=np.array([-11, -11]), escort_planned=np.array([False, True]))
    assert found.tolist() == [-11, -1]


def test_an_unknown_class_or_type_is_named() -> None:
    with pytest.raises(InputError, match="no such ice_class; found PC8; allowed: IA"):
        value("standard", "PC8", "new_ice")
    with pytest.raises(InputError, match="no such ice_type; found brash"):
        value("standard", "PC1", "brash")


def test_every_cell_has_a_standing_short_of_the_printed_page() -> None:
    cells = [cell for table in tables.TABLES for cell in table.cells.values()]
    assert {cell.status for cell in cells} == {Status.SECONDARY, Status.CHOICE}
    assert all((cell.status is Status.CHOICE) == (cell.value is None) for cell in cells)
    assert len(tables.STANDARD_VALUES.cells) == len(tables.DECAYED_VALUES.cells) == 12 * 12


@pytest.mark.skipif("MUTANT_UNDER_TEST" in os.environ, reason="the formulas' source is then not the clause's own")
def test_every_clause_prints() -> None:
    for clause in DOCUMENT.clauses.values():
        formula = formula_of(clause)
        printed = plain(formula.result, {})
        assert all(re.search(rf"\b{name}\b", printed) for name in clause.parameters)
        assert typst(formula.result, {name: chr(97 + k) for k, name in enumerate(clause.parameters)})
        assert clause.title
        assert clause.__doc__
    rio = DOCUMENT.clauses["risk_index_outcome"]
    assert plain(formula_of(rio).result, {"concentration_tenths": "C", "risk_value": "RIV"}) == "sum(C·RIV)"


def test_the_cells_behind_a_value_are_those_of_its_own_table() -> None:
    (cell,) = DOCUMENT.clauses["risk_value"].cells({"ice_state": "decayed", "ice_class": "PC6", "ice_type": "new_ice"})
    assert cell.table == "POLARIS Table 1.4"
    assert cell.value == 2.0
