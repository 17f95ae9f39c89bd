"""Costs by hand: plates, frames, carbon dioxide, and the shell of a class with the grades it asks for."""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from typing import Any

import numpy as np
import pytest
from tests.scantlings import ships

from beltwright.core.errors import InputError
from beltwright.materials.prices import PriceRow, PriceTable
from beltwright.scantlings.design import Design
from beltwright.weights.class_costs import ASKED, OWN, ShellWork, class_cost, shell_work
from beltwright.weights.costing import Costing, prices_of, with_prices
from beltwright.weights.steel import steel_weight

ROUND = {"plate work": 1000.0, "frame work": 2000.0, "plate weld": 2.0, "frame weld": 20.0, "plate piece": 100.0,
         "frame piece": 50.0, "bending": 3.0, "engine": 900.0}  # fmt: skip
BY_GRADE = {"AH36": (700.0, 2.0), "DH36": (800.0, 2.1), "EH36": (900.0, 2.2), "FH36": (1500.0, 2.4)}


def costing() -> Costing:
    rows = [PriceRow(item=item, grade="", amount=amount, source="hand") for item, amount in ROUND.items()]
    for grade, (money, co2) in BY_GRADE.items():
        rows += [PriceRow(item="steel", grade=grade, amount=money, source="hand"),
                 PriceRow(item="co2", grade=grade, amount=co2, source="hand")]  # fmt: skip
    return Costing(PriceTable("EUR", rows))


def test_a_plate_and_a_frame_by_hand() -> None:
    """hand: 2 t of EH36; 6 m of joint 20 mm thick; 2 m2 bent; two plates. 1 t of frames, 10 m, 4 spans."""
    made = costing().plating({"EH36": 2000.0}, joints_m_mm=120.0, bent_m2_mm=40.0, pieces=2)
    assert (made.steel, made.work, made.welding, made.pieces, made.bending) == (1800.0, 2000.0, 240.0, 200.0, 120.0)
    assert made.total == 4360.0
    bars = costing().frames({"EH36": 500.0, "FH36": 500.0}, length_m=10.0, spans=4)
    assert (bars.steel, bars.work, bars.welding, bars.pieces) == (1200.0, 2000.0, 200.0, 200.0)
    assert (made + bars).total == 4360.0 + 3600.0
    assert costing().co2_t({"EH36": 2000.0, "FH36": 500.0}) == pytest.approx(4.4 + 1.2)
    assert costing().engine(10.0) == 9000.0


def test_what_was_used_is_remembered_and_only_assumptions_are_told() -> None:
    table = PriceTable("EUR", (
        PriceRow(item="steel", grade="EH36", amount=900.0, source="assumed, edit"),
        PriceRow(item="steel", grade="DH36", amount=800.0, source="assumed, edit"),
        PriceRow(item="frame work", grade="", amount=2.0, source="yard"),
        PriceRow(item="frame weld", grade="", amount=2.0, source="assumed, edit"),
        PriceRow(item="frame piece", grade="", amount=2.0, source="yard"),
    ))  # fmt: skip
    used = Costing(table)
    used.frames({"EH36": 1.0}, length_m=1.0, spans=1)
    assert used.assumed() == ("steel EH36", "frame weld")
    assert [row.item for row in used.used()] == ["steel", "frame work", "frame weld", "frame piece"]


def test_prices_of_a_ship_stand_over_those_of_the_program_and_a_file_over_both() -> None:
    line = {"item": "steel", "grade": "EH36", "amount": 1000.0, "source": "mill, May"}
    given = ships.ship(lambda d: d.update(cost={"prices": [line, {"item": "bending", "amount": 9.0}]}))
    assert prices_of(given).amount("steel", "EH36") == 1000.0
    assert prices_of(given).row("bending").source == "given in ship.toml"
    text = "# currency: EUR\nitem,grade,amount,unit,source\nsteel,EH36,1100,per t,mill\n"
    both = prices_of(with_prices(given, text, "mine.csv"))
    assert (both.amount("steel", "EH36"), both.amount("bending")) == (1100.0, 9.0)
    other = with_prices(given, text.replace("EUR", "NOK"), "mine.csv")
    assert prices_of(other).amount("steel", "EH36") == 1100.0
    with pytest.raises(InputError, match=r"no price in this currency; found bending"):
        prices_of(other).amount("bending")


@pytest.mark.parametrize(
    ("line", "told"),
    [
        ({"item": "steel", "grade": "EH37", "amount": 1.0}, "ship.toml: cost.prices[1]: grade"),
        ({"item": "steel", "amount": 1.0}, "ship.toml: cost.prices[1]: grade: steel is priced by grade"),
        ({"item": "engine", "grade": "EH36", "amount": 1.0}, "engine is priced without a grade"),
    ],
)
def test_a_line_that_prices_nothing_is_refused(line: dict[str, Any], told: str) -> None:
    with pytest.raises(InputError) as caught:
        prices_of(ships.ship(lambda d: d.update(cost={"prices": [line]})))
    assert told in str(caught.value)


@cache
def shell() -> ShellWork:
    return shell_work(ships.ship(), ships.arranged())


def test_plates_that_are_priced_cover_the_shell_and_their_joints_are_their_outlines() -> None:
    """hand: every panel is covered once, so the plates' areas add up to the shell's; a joint is half of two edges."""
    net = ships.arranged().panels.values("net_area_m2")
    assert shell().work.area_m2.sum() == pytest.approx(net.sum())
    narrow = ships.ship(lambda d: d.update(sizing={"plate_length_m": 3.0, "plate_width_m": 1.5}))
    bent = shell_work(narrow, ships.arranged()).work.bent
    assert bent.any()
    assert not bent.all(), "plates of the flat of side are only pulled to shape"


def test_the_shell_of_a_class_member_by_member() -> None:
    """kind: second-method. Steel in a loop over members by the grade that the class asks for each."""
    design = ships.baseline()
    weight, made = steel_weight(design), class_cost(ships.baseline(), steel_weight(design), shell(), costing())
    assert made is not None
    assert made.grades == ASKED
    share, steel, grades = weight.total_t / weight.modelled_t, [0.0, 0.0], set()
    assert design.grades is not None
    asked = design.grades.labels("grade_demanded")
    masses = (weight.plate_mass_kg.sum(axis=1), weight.frame_mass_kg.sum(axis=1))
    tables = (design.plating, design.frames)
    first = 0
    for kind, (kg, table) in enumerate(zip(masses, tables, strict=True)):
        for row, mass in enumerate(kg.tolist()):
            if mass == mass:
                word = str(asked[first + row])
                grade = word if word in BY_GRADE else str(table.labels("grade")[row])
                grades.add(grade)
                steel[kind] += mass / 1000.0 * BY_GRADE[grade][0] * share
        first += len(kg)
    assert made.plating.steel == pytest.approx(steel[0])
    assert made.frames.steel == pytest.approx(steel[1])
    assert len(grades) > 1, "more than one letter is asked for on this ship"
    frames = ~np.isnan(weight.frame_mass_kg[:, 0])
    length = design.arrangement.frames.values("length_m")[frames].sum()
    assert made.frames.welding == pytest.approx(2.0 * length * 20.0)
    assert made.frames.pieces == 2 * int(frames.sum()) * 50.0
    assert made.plating.work == pytest.approx(masses[0][~np.isnan(masses[0])].sum() * share / 1000.0 * 1000.0)
    assert sum(made.kg.values()) / 1000.0 == pytest.approx(weight.modelled_t)


def test_joints_grow_with_thickness_and_count_only_where_a_plate_is_weighed() -> None:
    """hand: every panel 20 mm: all edges times 20; and half as thick, half the money; nothing weighed, nothing paid."""
    design = ships.baseline()

    def with_thickness(mm: float) -> Design:
        run, table = design.plating_run, design.plating
        column = replace(table["thickness_as_built_mm"], data=np.full(table.rows, mm), reason=None)
        changed = type(table)(table.name, {**{n: table[n] for n in table}, "thickness_as_built_mm": column})
        return replace(design, plating_run=replace(run, table=changed))

    weight, work = steel_weight(design), shell().work
    for mm in (20.0, 10.0):
        made = class_cost(with_thickness(mm), weight, shell(), costing())
        assert made is not None
        assert made.plating.welding == pytest.approx(work.edge_m[work.area_m2 > 0.0].sum() * mm * 2.0)
        assert made.plating.bending == pytest.approx(work.area_m2[work.bent].sum() * mm * 3.0)
        assert made.plating.pieces == 2 * int((work.area_m2 > 0.0).sum()) * 100.0
    assert class_cost(design, replace(weight, modelled_t=0.0), shell(), costing()) is None


def test_a_document_without_grades_is_priced_as_offered() -> None:
    design = replace(ships.baseline(), grades_run=None)
    made = class_cost(design, steel_weight(design), shell(), costing())
    assert made is not None
    assert made.grades == OWN
    assert set(made.kg) == {"EH36"}
