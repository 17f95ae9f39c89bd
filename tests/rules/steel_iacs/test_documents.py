"""The package as a whole: standing of every cell, formulas that print, what is listed of UR W11."""

from __future__ import annotations

import csv
from importlib.resources import files

import pytest

from beltwright.core.clause import Clause
from beltwright.core.formula import formula_of, plain
from beltwright.materials.hull_steel import hull_steels
from beltwright.rules.steel_iacs import s6_2_low_temperature  # noqa: F401 - registers its clauses
from beltwright.rules.steel_iacs.documents import DOCUMENT_S6, DOCUMENT_W11
from beltwright.rules.steel_iacs.s6_1_normal_service import category_class
from beltwright.rules.steel_iacs.tables import TABLES


def test_no_cell_counts_as_confirmed_and_every_table_says_who_read_it() -> None:
    for table in TABLES:
        assert table.header["page"] == "not seen"
        assert table.header["read_by"]
        assert table.name.startswith("UR S6 ")
        assert not any(cell.status.confirmed for cell in table.cells.values())


@pytest.mark.parametrize("clause", DOCUMENT_S6.clauses.values(), ids=lambda clause: clause.name)
def test_every_clause_prints_with_all_its_parameters(clause: Clause[..., object]) -> None:
    formula = formula_of(clause)
    printed = " ".join(plain(part, {}) for part in (*(part for _, part in formula.where), formula.result))
    assert all(name in printed for name in clause.parameters)
    assert clause.ref.startswith("S6.")
    assert clause.__doc__


def test_the_two_documents_are_told_apart_in_the_list_of_what_is_not_coded() -> None:
    text = files("beltwright.rules.steel_iacs").joinpath("not_coded.csv").read_text(encoding="utf-8")
    listed = list(csv.DictReader(line for line in text.splitlines() if not line.startswith("#")))
    assert {row["document"] for row in listed} == {DOCUMENT_S6.id, DOCUMENT_W11.id}
    assert not DOCUMENT_W11.clauses
    assert all(row["what"] and row["status"] and row["remark"] for row in listed)


def test_strength_levels_of_w11_are_complete_in_the_steel_data() -> None:
    """kind: second copy. Normal A, B, D, E at 235; levels 32, 36, 40 at 315, 355, 390 in A, D, E, F."""
    levels = {"H32": 315.0, "H36": 355.0, "H40": 390.0}
    wanted = dict.fromkeys("ABDE", 235.0) | {f"{a}{name}": y for name, y in levels.items() for a in "ADEF"}
    table = hull_steels()
    for grade, stress in wanted.items():
        steel = table.steel(grade)
        assert [(band.over_mm, band.upto_mm, band.yield_MPa) for band in steel.bands] == [(0.0, 100.0, stress)]
        assert steel.strength == ("normal" if stress == 235.0 else "higher")
        assert steel.family in ("normal", "higher")
    others = {steel for steel in table.grades if table.steel(steel).family in ("normal", "higher")} - set(wanted)
    assert others == {"AH27S", "DH27S", "EH27S"}  # of some societies only, finding BW312


def test_a_clause_names_the_cells_it_reads() -> None:
    (cell,) = category_class.cells({"category": "special", "place": "next"})
    assert (cell.value, cell.table) == ("II", "UR S6 Table 1")
