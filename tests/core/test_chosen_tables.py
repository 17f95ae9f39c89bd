"""Printed rows that serve several words, tables of which one applies, and clauses that name the cells they read."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from beltwright.core.clause import Document
from beltwright.core.errors import InputError
from beltwright.core.provenance import Status
from beltwright.core.ruletable import ChosenTable, RuleTable, parse_table
from beltwright.core.units import Label, Ratio

HEADER = "# document: UR X\n# edition: 1\n# table: {}\n# title: factors\n# read_by: a test\n"


def table(number: str, body: str) -> RuleTable:
    return parse_table(HEADER.format(number) + body, "x.csv")


FIRST = "ice_class,area,value,status\nPC1|PC2,B|BIi,3.5,memory\nPC3,B|BIi,,memory\n"
SECOND = "ice_class,area,value,status\nPC1|PC2|PC3,B,7.0,text\n"


def test_a_printed_cell_stands_under_each_of_its_words() -> None:
    made = table("Table 1", FIRST)
    assert len(made.cells) == 6
    assert len(set(made.cells.values())) == 2
    assert made.cell("PC2", "BIi").where == "UR X Table 1 (ice_class PC1|PC2, area B|BIi)"
    found = made.numbers(np.array([["PC1"], ["PC2"]]), np.array(["B", "BIi"]))
    assert found.tolist() == [[3.5, 3.5], [3.5, 3.5]]


def test_overlapping_printed_cells_are_refused() -> None:
    with pytest.raises(InputError, match="there already"):
        table("Table 1", "ice_class,value,status\nPC1|PC2,1,text\nPC2|PC3,2,text\n")


def test_a_word_may_be_given_once_for_all_rows() -> None:
    made = table("Table 1", FIRST)
    assert made.numbers(np.array(["PC1", "PC2"]), "B").tolist() == [3.5, 3.5]
    assert made.numbers("PC1", "B") == 3.5


@pytest.mark.parametrize("word", ["PC0", "PC4", "Q", ""])
def test_unknown_words_are_refused_wherever_they_sort(word: str) -> None:
    made = table("Table 1", FIRST)
    with pytest.raises(InputError, match="no such ice_class"):
        made.numbers(np.array(["PC1", word]), np.array(["B"]))


def test_a_blank_in_any_row_is_refused() -> None:
    with pytest.raises(InputError, match=r"PC3.*blank"):
        table("Table 1", FIRST).numbers(np.array(["PC1", "PC3"]), "B")


def test_words_of_a_table() -> None:
    made = table("Table 8", "t,value,status\n10,B/AH,text\n20,D/DH,text\n")
    assert made.words(np.array(["20", "10", "20"])).tolist() == ["D/DH", "B/AH", "D/DH"]


def test_a_chosen_table_reads_the_one_that_applies() -> None:
    first, second = table("Table 1", FIRST), table("Table 2", SECOND)
    both = ChosenTable("which", {"a": first, "b": second})
    assert both.keys == ("which", "ice_class", "area")
    assert both.name == "UR X Table 1 or Table 2"
    assert both.numbers(np.array(["a", "b"]), "PC1", "B").tolist() == [3.5, 7.0]
    assert both.cell("b", "PC1", "B").table == "UR X Table 2"
    with pytest.raises(InputError, match="blank"):
        both.numbers("a", np.array(["PC3"]), "B")
    assert both.numbers("b", np.array(["PC3"]), "B").tolist() == [7.0]


def test_a_chosen_table_sees_a_change_in_its_tables() -> None:
    first, second = table("Table 1", FIRST), table("Table 2", SECOND)
    both = ChosenTable("which", {"a": first, "b": second})
    second.cells["PC1", "B"] = replace(second.cells["PC1", "B"], value=8.0)
    assert both.numbers("b", np.array(["PC1", "PC2"]), "B").tolist() == [8.0, 7.0]


def test_tables_of_different_shape_cannot_be_chosen_between() -> None:
    other = table("Table 3", "ice_class,value,status\nPC1,1,text\n")
    with pytest.raises(ValueError, match="different keys"):
        ChosenTable("which", {"a": table("Table 1", FIRST), "b": other})


def test_a_clause_names_the_cells_it_fixes_and_those_it_is_given() -> None:
    document = Document(id="x", short="UR X", title="t", edition="1", applicability="never")
    made = table("Table 1", FIRST)

    @document.clause("1", title="t", symbol="z", status=Status.TEXT, table=made, reads=({"area": "B"}, {"area": "BIi"}))
    def z(*, ice_class: Label) -> Ratio:
        """Both areas."""
        return made.numbers(ice_class, "B") + made.numbers(ice_class, "BIi")

    @document.clause("2", title="t", symbol="y", status=Status.TEXT, table=made)
    def y(*, ice_class: Label, area: Label) -> Ratio:
        """One cell."""
        return made.numbers(ice_class, area)

    assert z.cells({"ice_class": "PC2"}) == (made.cell("PC2", "B"), made.cell("PC2", "BIi"))
    assert y.cells({"ice_class": "PC1", "area": "BIi"}) == (made.cell("PC1", "BIi"),)
    assert z(ice_class=np.array(["PC1"])).tolist() == [7.0]
