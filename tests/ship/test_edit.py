"""Editing the text of ship.toml: what is asked for changes, all else stays to the letter."""

from __future__ import annotations

import difflib
import tomllib
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from beltwright.core.errors import InputError
from beltwright.ship.edit import changed, with_row, without_row
from beltwright.ship.fields import FieldSpec, ship_fields

QUILLAN = Path("examples/quillan-frostmark/ship.toml").read_text(encoding="utf-8")
LIST = """[a]
rows = [{ x = 1.0 }, { x = 2.0 }]

# of the next
[[b]]
n = 1 # one

[[b]]
n = 2

# of c
[c]
k = 3
"""


def moved(new: str, old: str = QUILLAN) -> tuple[list[str], list[str]]:
    """The lines that went and the lines that came."""
    found = [line for line in difflib.ndiff(old.splitlines(), new.splitlines()) if line[0] in "+-"]
    return [line[2:] for line in found if line[0] == "-"], [line[2:] for line in found if line[0] == "+"]


def test_a_value_changes_and_its_comment_stays() -> None:
    new = changed(QUILLAN, {("zones", 0, "lower_end", "fixed"): False, ("ice", "ice_class"): "PC3"})
    assert moved(new) == (
        ['ice_class = "PC4"', "lower_end = { fixed = true }    # frames run through stringers and decks"],
        ['ice_class = "PC3"', "lower_end = { fixed = false }    # frames run through stringers and decks"],
    )


def test_none_takes_a_setting_away_and_a_missing_table_is_made() -> None:
    new = changed(QUILLAN, {("hull", "baseline_z_m"): None, ("readings", "oblique_frames"): "both in full"})
    assert moved(new) == (["baseline_z_m = 0.0"], ["", "[readings]", 'oblique_frames = "both in full"'])
    assert changed(QUILLAN, {("hull", "not_there"): None}) == QUILLAN


def test_lists_in_one_line_stay_in_one_line() -> None:
    new = changed(LIST, {("a", "rows"): [{"x": 5.0}], ("a", "more"): [1.0, 2.0]})
    assert "rows = [{x = 5.0}]" in new
    assert tomllib.loads(with_row(LIST, ("a", "rows"), {"x": 9.0}, 0))["a"]["rows"] == [
        {"x": 9.0},
        {"x": 1.0},
        {"x": 2.0},
    ]
    assert tomllib.loads(without_row(LIST, ("a", "rows"), 0))["a"]["rows"] == [{"x": 2.0}]


def test_a_row_before_another_and_at_the_end_leaves_comments_where_they_are() -> None:
    assert moved(with_row(LIST, ("b",), {"n": 7}, 0), LIST) == ([], ["[[b]]", "n = 7", ""])
    assert moved(with_row(LIST, ("b",), {"n": 7}), LIST) == ([], ["[[b]]", "n = 7", ""])
    assert "# of c\n[c]" in with_row(LIST, ("b",), {"n": 7})


def test_a_row_goes_with_its_own_comment_only() -> None:
    assert moved(without_row(LIST, ("b",), 0), LIST) == (["[[b]]", "n = 1 # one", ""], [])
    assert "# of c\n[c]" in without_row(LIST, ("b",), 1)
    once = without_row(without_row(LIST, ("b",), 0), ("b",), 0)
    assert tomllib.loads(once) == {"a": {"rows": [{"x": 1.0}, {"x": 2.0}]}, "c": {"k": 3}}


def test_rows_replaced_as_a_whole_keep_the_comments_of_those_that_stay() -> None:
    new = changed(LIST, {("b",): [{"n": 1}, {"n": 5}, {"n": 6}]})
    assert tomllib.loads(new)["b"] == [{"n": 1}, {"n": 5}, {"n": 6}]
    assert "n = 1 # one" in new


@pytest.mark.parametrize(
    ("text", "path"), [(LIST, ("b", 7, "n")), (LIST, ("c", 0, "n")), ("a = [", ("a",)), (LIST, ())]
)
def test_a_path_that_leads_nowhere_is_one_line(text: str, path: tuple[str | int, ...]) -> None:
    with pytest.raises(InputError, match=r"ship\.toml"):
        changed(text, {path: 1})


@pytest.mark.parametrize("row", [-1, 2])
def test_a_row_that_is_not_there(row: int) -> None:
    with pytest.raises(InputError, match=r"b.*no such row.*1 to 2"):
        without_row(LIST, ("b",), row)


TOP = {spec.name: spec for spec in ship_fields()}


def plain_settings(spec: FieldSpec) -> list[str]:
    """The number settings of one table."""
    return [part.name for part in spec.parts if part.kind == "number"]


@given(data=st.data())
def test_any_numbers_set_are_read_back_and_nothing_else_moves(data: st.DataObject) -> None:
    document: dict[str, Any] = tomllib.loads(QUILLAN)
    values: dict[tuple[str | int, ...], float] = {}
    for _ in range(data.draw(st.integers(1, 4))):
        name = data.draw(st.sampled_from(["hull", "water", "levels", "zones", "stock", "sizing", "openings"]))
        key = data.draw(st.sampled_from(plain_settings(TOP[name])))
        value = data.draw(st.floats(-1e6, 1e6, allow_nan=False))
        path: tuple[str | int, ...] = (name, key)
        if TOP[name].kind == "tables":
            path = (name, data.draw(st.integers(0, len(document[name]) - 1)), key)
        values[path] = value
    new = tomllib.loads(changed(QUILLAN, values))
    for path, value in values.items():
        held: Any = document
        for part in path[:-1]:
            held = held[part]
        held[path[-1]] = value
    assert new == document
