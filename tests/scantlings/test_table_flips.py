"""Flip any one cell of a table: the result's fingerprint moves, and the printed list does where the cell was used."""

from __future__ import annotations

import os
import random
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import replace

import pytest
from tests.scantlings import ships

from beltwright.core.provenance import Status
from beltwright.core.ruletable import Cell, RuleTable
from beltwright.rules.registry import rule_set
from beltwright.scantlings.design import Design
from beltwright.scantlings.fingerprint import result_fingerprint

INPUTS = "1" * 64
RULES = rule_set("polar_iacs_2019")
PLACES = [(table, place) for table in RULES.tables for place in table.cells]
OTHER_CLASS = {"I": "III", "II": "III", "III": "I", "-": "III"}
NAMES = [f"{table.name} {' '.join(place)}" for table, place in PLACES]


@contextmanager
def flipped(table: RuleTable, place: tuple[str, ...], **change: object) -> Iterator[None]:
    """One cell with another value or standing, for a while; a cell that serves several keys changes under all."""
    before = dict(table.cells)
    old = before[place]
    new = replace(old, **change)  # type: ignore[arg-type]
    try:
        for key, cell in before.items():
            if cell is old:
                table.cells[key] = new
        yield
    finally:
        table.cells.clear()
        table.cells.update(before)


def other_value(cell: Cell) -> float | str:
    """Another number for a cell, or another letter or class; a blank gets a number."""
    if isinstance(cell.value, str):
        return OTHER_CLASS.get(cell.value) or ("F" if cell.value in "ABDE" else "A")
    return 0.5 if not isinstance(cell.value, float) else cell.value * 1.02 + 0.001


def fingerprint(design: Design) -> str:
    return result_fingerprint(design, INPUTS)


def used() -> list[tuple[RuleTable, tuple[str, ...]]]:
    """The places of the tables that the small ship's design read, each cell once."""
    cells = set(ships.baseline().cells)
    found: dict[Cell, tuple[RuleTable, tuple[str, ...]]] = {}
    for table, place in PLACES:
        if table.cells[place] in cells:
            found.setdefault(table.cells[place], (table, place))
    return list(found.values())


def test_every_cell_is_in_the_fingerprint() -> None:
    design = ships.baseline()
    before = fingerprint(design)
    still = []
    for number, ((table, place), name) in enumerate(zip(PLACES, NAMES, strict=True)):
        with flipped(table, place, value=other_value(table.cells[place])):
            if fingerprint(design) == before:
                still.append(f"value of {name}")
        if number % 4:
            continue
        status = Status.MEMORY if table.cells[place].status is not Status.MEMORY else Status.PRINTED
        with flipped(table, place, status=status):
            if fingerprint(design) == before:
                still.append(f"standing of {name}")
    assert not still
    assert len(PLACES) > 250
    assert fingerprint(design) == before


def test_inputs_and_reasons_are_in_the_fingerprint() -> None:
    design = ships.baseline()
    assert result_fingerprint(design, "2" * 64) != fingerprint(design)
    reason = "Written by the society for this ship."
    podded = ships.redesigned(
        lambda doc: doc["propulsion"].update(kind="azimuthing units"),
        lambda doc: doc.update(overrides={"azimuthing_stern_factors": reason}),
    )
    other = ships.redesigned(
        lambda doc: doc["propulsion"].update(kind="azimuthing units"),
        lambda doc: doc.update(overrides={"azimuthing_stern_factors": f"{reason} Letter 2."}),
    )
    assert len({fingerprint(design), fingerprint(podded), fingerprint(other)}) == 3


def test_the_design_says_which_cells_it_used() -> None:
    """hand: a PC4 ship with protection, a standard bow and no icebreaker notation reads these and no other rows."""
    tables: dict[str, set[str]] = {}
    for cell in ships.baseline().cells:
        tables.setdefault(cell.table, set()).update(value for _, value in cell.keys)
    factors = [words for name, words in tables.items() if name.endswith("UR I2 Table 1")]
    assert len(factors) == 1
    assert factors[0] >= {"PC4", "CFC", "CFF", "CFD", "CFDIS"}
    assert not factors[0] & {"PC3", "PC5"}
    assert not [name for name in tables if name.endswith(("UR I2 Table 2", "UR I2 Table 5"))]
    additions = [words for name, words in tables.items() if name.endswith("UR I2 Table 6")]
    assert len(additions) == 1
    assert any("unprotected" not in word.split("|") for word in additions[0] if "protected" in word)


def value_moves(table: RuleTable, place: tuple[str, ...]) -> None:
    """Flip the value of a cell that the design used: the lists that are printed move."""
    before = ships.baseline()
    cell = table.cells[place]
    with flipped(table, place, value=other_value(cell)):
        after = ships.redesigned()
    assert after.cells != before.cells, cell.where
    if not cell.status.confirmed:
        assert after.rules.unconfirmed(after.cells) != before.rules.unconfirmed(before.cells), cell.where


def standing_moves(table: RuleTable, place: tuple[str, ...]) -> None:
    """Flip the standing of a cell that the design used: the list of what is not confirmed gains or loses it."""
    before = ships.baseline()
    cell = table.cells[place]
    status = Status.MEMORY if cell.status.confirmed else Status.PRINTED
    with flipped(table, place, status=status):
        retold = ships.redesigned()
    listed, listed_before = retold.rules.unconfirmed(retold.cells), before.rules.unconfirmed(before.cells)
    assert len(listed) - len(listed_before) == (1 if cell.status.confirmed else -1)
    assert retold.plating["thickness_required_mm"].data.tobytes() == (
        before.plating["thickness_required_mm"].data.tobytes()
    )


def test_a_used_cell_moves_the_lists() -> None:
    places = used()
    assert len(places) > 25
    for table, place in (places[0], places[-1]):
        value_moves(table, place)
        standing_moves(table, place)


def sample() -> list[tuple[RuleTable, tuple[str, ...]]]:
    """Some used cells of every table, drawn by seed: each costs a design of the ship."""
    drawn = random.Random(2024)
    by_table: dict[str, list[tuple[RuleTable, tuple[str, ...]]]] = {}
    for table, place in used():
        by_table.setdefault(table.name, []).append((table, place))
    return [one for places in by_table.values() for one in drawn.sample(places, min(3, len(places)))]


@pytest.mark.slow
def test_used_cells_of_every_table_move_the_lists() -> None:
    """Every cell is looked at in ``test_every_cell_is_in_the_fingerprint``; here some of each table, by whole designs.

    With BELTWRIGHT_SEARCH=1 every used cell has its turn.
    """
    some = used() if os.environ.get("BELTWRIGHT_SEARCH") else sample()
    assert len({table.name for table, _ in some}) > 6
    for table, place in some:
        value_moves(table, place)
