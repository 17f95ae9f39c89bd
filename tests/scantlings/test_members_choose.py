"""Rows of members that touch several areas, which row governs, and which members a line of ship.toml speaks of."""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from tests.scantlings import ships

from beltwright.core.columns import Column
from beltwright.core.errors import InputError
from beltwright.core.units import Unit
from beltwright.rules.polar_iacs_2019.hull_areas import CODES
from beltwright.rules.protocol import EVERYTHING, Strengthens
from beltwright.scantlings.choose import Places, group_names, speaks_of
from beltwright.scantlings.members import (
    MemberRows,
    Sheet,
    chain_inputs,
    member_rows,
    most_demanding,
    touched_words,
    with_angles,
)
from beltwright.ship.model import OfferedPlate


def touching(*members: tuple[str, ...]) -> np.ndarray:
    """Which areas each member touches."""
    return np.array([[code in codes for code in CODES] for codes in members], dtype=bool).reshape(-1, len(CODES))


def test_one_row_per_strengthened_area_touched() -> None:
    """kind: hand. PC4: factors B 1.00, BIi 0.80, BIl 0.60, Mi 0.55, Ml 0.35; Mb is not strengthened."""
    areas = ships.baseline().areas
    rows = member_rows(areas, touching(("B", "BIi"), (), ("Mb",), ("Ml", "Mb"), ("BIl", "Mi", "Ml")), *EVERYTHING)
    assert rows.member.tolist() == [0, 0, 3, 4, 4, 4]
    assert rows.load_area.tolist() == ["B", "BIi", "Ml", "BIl", "Mi", "Ml"]
    assert rows.factor_area.tolist() == ["B", "B", "Ml", "BIl", "BIl", "BIl"]


def test_largest_addition_is_taken_from_its_own_area() -> None:
    """kind: hand. PC4 protected: B and BIi 2.5, the others 2.0 mm: the addition of BIi stands with the factor of BIi,
    and a member in BIl and Mi takes 2.0 mm."""
    rows = member_rows(ships.baseline().areas, touching(("BIi", "BIl"), ("BIl", "Mi")), Strengthens.FRAMING)
    assert rows.addition_area.tolist()[:2] == ["BIi", "BIi"]
    assert set(rows.addition_area.tolist()[2:]) <= {"BIl", "Mi"}


def test_nothing_touched_gives_no_rows() -> None:
    rows = member_rows(ships.baseline().areas, touching((), ("Mb",)), Strengthens.PLATING)
    assert len(rows.member) == len(rows.load_area) == len(rows.factor_area) == 0
    assert len(most_demanding(rows, np.zeros(0))) == 0


def rows_of(*member: int) -> MemberRows:
    words = np.full(len(member), "B")
    return MemberRows(member=np.array(member, dtype=np.int64), load_area=words, factor_area=words, addition_area=words)


def test_the_most_demanding_row_governs() -> None:
    rows = rows_of(2, 2, 5, 7, 7, 7)
    demand = np.array([10.0, 12.0, 3.0, 4.0, 4.0, 1.0])
    assert most_demanding(rows, demand).tolist() == [1, 2, 3]  # the first of equals


@pytest.mark.parametrize("lost", [np.nan, np.inf])
def test_a_demand_without_a_number_governs(lost: float) -> None:
    rows = rows_of(0, 0, 1)
    chosen = most_demanding(rows, np.array([1e9, lost, 5.0]))
    assert chosen.tolist() == [1, 2]


@given(st.lists(st.tuples(st.integers(0, 5), st.floats(-1e3, 1e3) | st.just(float("nan"))), min_size=1, max_size=30))
def test_governing_is_the_greatest_of_its_member(pairs: list[tuple[int, float]]) -> None:
    member, demand = np.array([p[0] for p in pairs]), np.array([p[1] for p in pairs])
    chosen = most_demanding(rows_of(*member), demand)
    assert member[chosen].tolist() == sorted(set(member.tolist()))
    for row in chosen:
        of_member = demand[member == member[row]]
        assert np.isnan(demand[row]) == bool(np.isnan(of_member).any())
        if not np.isnan(demand[row]):
            assert demand[row] == of_member.max()


def test_flat_shell_is_tried_both_ways() -> None:
    omega = Column(
        unit=Unit("deg"), meaning="angle", data=np.array([80.0, np.nan, 10.0]), reason=np.array(["", "flat", ""])
    )
    rows, angles = with_angles(rows_of(0, 1, 1, 2), omega)
    assert rows.member.tolist() == [0, 1, 1, 1, 1, 2]
    assert sorted(angles[rows.member == 1].tolist()) == [0.0, 0.0, 90.0, 90.0]
    assert angles[rows.member == 0].tolist() == [80.0]
    assert not np.isnan(angles).any()


def test_a_missing_quantity_is_named() -> None:
    rule = ships.baseline().rules.plating
    with pytest.raises(KeyError, match="shell plating: nobody gives"):
        chain_inputs(rule.chain, {}, {})


def test_words_of_what_is_touched() -> None:
    words = touched_words(ships.baseline().areas, touching(("BIi", "B"), (), ("Ml",)))
    assert words.tolist() == ["B+BIi", "", "Ml"]


def test_sheet_fills_members_and_gives_reasons() -> None:
    sheet = Sheet(4, np.array([1, 3]), "above the belt")
    sheet.number("t_mm", "mm", "thickness", np.array([12.0, np.nan]))
    sheet.word("outcome", "met or not", np.array(["met", "not met"]), "not asked")
    sheet.maybe("offered_mm", "mm", "offered", np.array([1.0, 2.0, np.nan, 3.0]))
    table = sheet.table("plating")
    assert [table.row(n)["t_mm"] for n in range(4)] == [None, 12.0, None, None]
    assert table["t_mm"].reason is not None
    assert table["t_mm"].reason.tolist() == ["above the belt", "", "above the belt", "no result: the check fails"]
    assert table.labels("outcome").tolist() == ["not asked", "met", "not asked", "not met"]
    assert table.row(2)["offered_mm"] is None


# --- which members a line speaks of


def places() -> Places:
    """Four panels: two in the belt at the bow, one lower, one in the other zone."""
    return Places(
        hull_area=np.array(["B", "B", "BIl", ""]),
        zone=np.array(["side", "side", "side", "bottom"]),
        bay=np.array(["deck", "stringer", "tank top", "all"]),
        frame=np.array([90.5, 80.5, 70.5, 40.5]),
        height_m=np.array([4.5, 3.0, 1.7, 0.4]),
        x_m=np.array([45.0, 40.0, 35.0, 20.0]),
    )


@pytest.mark.parametrize(
    ("where", "chosen"),
    [
        ({}, [True, True, True, True]),
        ({"hull_area": "B"}, [True, True, False, False]),
        ({"hull_area": "Sb"}, [False] * 4),
        ({"zone": "bottom"}, [False, False, False, True]),
        ({"from_frame": 80.0}, [True, True, False, False]),
        ({"to_frame": 80.0}, [False, False, True, True]),
        ({"from_frame": 70.0, "to_frame": 81.0}, [False, True, True, False]),
        ({"from_level": "deck"}, [True, False, False, False]),
        ({"to_level": "stringer"}, [False, False, True, True]),
        ({"from_level": "stringer", "to_level": "deck"}, [False, True, False, False]),
        ({"zone": "side", "hull_area": "B", "to_level": "deck"}, [False, True, False, False]),
    ],
)
def test_selectors(where: dict[str, Any], chosen: list[bool]) -> None:
    line = OfferedPlate(thickness_as_built_mm=20.0, **where)
    found = speaks_of(line, places(), ships.ship(), ships.arranged().levels, "plates[1]")
    assert found.tolist() == chosen


@pytest.mark.parametrize(
    ("where", "told"),
    [
        ({"zone": "deckhouse"}, "ship.toml: plates[1].zone: no such zone; found deckhouse; allowed: side, bottom"),
        ({"from_level": "attic"}, "ship.toml: plates[1].from_level: no such level; found attic"),
        ({"to_level": "attic"}, "ship.toml: plates[1].to_level: no such level; found attic"),
    ],
)
def test_unknown_names_are_refused(where: dict[str, Any], told: str) -> None:
    line = OfferedPlate(thickness_as_built_mm=20.0, **where)
    with pytest.raises(InputError) as caught:
        speaks_of(line, places(), ships.ship(), ships.arranged().levels, "plates[1]")
    assert told in str(caught.value)


def test_group_names() -> None:
    assert group_names(places()).tolist() == ["side B deck", "side B stringer", "side BIl tank top",
                                              "bottom not strengthened all"]  # fmt: skip
