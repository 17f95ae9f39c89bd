"""Class tables side by side: every entry against the list as it was read, and what is not said stays unsaid."""

from __future__ import annotations

import numpy as np
import pytest

from beltwright.core.errors import InputError
from beltwright.rules.class_correspondence import correspondence
from beltwright.rules.class_correspondence.correspondence import (
    canadian_type,
    class_named_beside,
    correspondence_table,
    finnish_swedish_class,
)

TYPES = {
    "A": "PC1 PC2 PC3 PC4 PC5 PC6 PC7 IA_Super RS_UL RS_LU5 RS_Arc5",
    "B": "IA RS_L1 RS_LU4 RS_Arc4",
    "C": "IB RS_L2 RS_LU3 RS_Ice3",
    "D": "IC RS_L3 RS_LU2 RS_Ice2",
    "E": "Category_II RS_L4 RS_LU1 RS_Ice1",
}


def test_canadian_types() -> None:
    expected = {name.replace("_", " "): f"Type {word}" for word, names in TYPES.items() for name in names.split()}
    found = canadian_type(ice_class=np.array(list(expected)))
    assert found.tolist() == list(expected.values())
    assert len(correspondence.CANADIAN.cells) == len(expected)


def test_finnish_swedish_class_for_a_polar_class() -> None:
    classes = np.array([f"PC{k}" for k in range(1, 8)])
    assert finnish_swedish_class(ice_class=classes).tolist() == ["IA Super"] * 6 + ["IA"]
    with pytest.raises(InputError, match="no such ice_class; found IA Super"):
        finnish_swedish_class(ice_class=np.array("IA Super"))


@pytest.mark.parametrize(
    ("ice_class", "system", "named"),
    [
        ("PC6", "Finnish-Swedish", "IA Super"), ("PC6", "Canadian type", "Type A"), ("PC6", "Russian register", "UL"),
        ("PC7", "Finnish-Swedish", "IA"), ("PC7", "Canadian type", "Type B"), ("PC7", "Russian register", "L1"),
        ("IA Super", "Polar Class", "PC6"), ("IA", "Polar Class", "PC7"),
    ],
)  # fmt: skip
def test_classes_named_side_by_side(ice_class: str, system: str, named: str) -> None:
    assert str(class_named_beside(ice_class=np.array(ice_class), system=np.array(system))) == named
    assert len(correspondence.NOMINAL.cells) == 8


def test_the_two_documents_disagree_on_pc7_and_both_are_shown() -> None:
    """MSC/Circ.1056 names Type B beside PC7, the Canadian schedule says Type A."""
    table = correspondence_table("PC7")
    types = {
        str(table.labels("document")[k]): str(table.labels("named")[k])
        for k in range(table.rows)
        if table.labels("system")[k] == "Canadian type"
    }
    assert types == {"MSC/Circ.1056 G-1.5": "Type B", "SOR/2017-286 Schedule 2": "Type A"}


def test_every_entry_says_its_limits_and_none_says_equivalent() -> None:
    table = correspondence_table()
    assert table.rows == sum(len(one.cells) for one in correspondence.TABLES)
    assert all(table.labels("limits") != "")
    words = " ".join(str(word) for name in table for word in table.labels(name)).lower()
    assert "equivalent" not in words
    assert "engine output is excluded" in words
    assert set(table.labels("status")) == {"text", "secondary"}


def test_a_class_that_no_table_knows_has_no_rows() -> None:
    assert correspondence_table("PC9").rows == 0
    assert list(correspondence_table("PC9")) == list(correspondence_table())
