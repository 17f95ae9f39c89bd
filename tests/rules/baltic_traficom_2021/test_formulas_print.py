"""Every clause prints as a formula, as plain text and as typst mathematics that compiles."""

from __future__ import annotations

import os
import re
from typing import Any

import pytest

from beltwright.core.clause import Clause
from beltwright.core.formula import formula_of, plain, typst
from beltwright.rules.baltic_traficom_2021.coverage import coverage_rows
from beltwright.rules.baltic_traficom_2021.documents import DOCUMENT

if "MUTANT_UNDER_TEST" in os.environ:
    pytest.skip("the mutation test puts its own code in place of the formulas' source", allow_module_level=True)

coverage_rows()  # registers every clause
CLAUSES = [*DOCUMENT.clauses.values()]


def letters(clause: Clause[Any, Any]) -> dict[str, str]:
    """A typst letter for each name of a clause."""
    names = [*clause.parameters, *(name for name, _ in formula_of(clause).where)]
    return {name: chr(ord("a") + k) for k, name in enumerate(names)}


@pytest.mark.parametrize("clause", CLAUSES, ids=lambda clause: clause.name)
def test_every_clause_prints_and_uses_all_its_parameters(clause: Clause[Any, Any]) -> None:
    formula = formula_of(clause)
    parts = [plain(expression, {}) for _, expression in formula.where] + [plain(formula.result, {})]
    printed = " ".join(parts)
    for name in clause.parameters:
        assert re.search(rf"\b{name}\b", printed), name
    assert "None" not in printed
    assert typst(formula.result, letters(clause))


def test_a_known_formula_reads_as_printed() -> None:
    clause = DOCUMENT.clauses["net_thickness_longitudinal"]
    names = {"spacing_m": "s", "pressure_mpa": "p", "plate_factor_longitudinal": "f_2", "yield_mpa": "sigma_y"}
    assert plain(formula_of(clause).result, names) == "667·s·sqrt(p/(f_2·sigma_y))"


def test_every_clause_carries_what_the_page_says() -> None:
    for clause in CLAUSES:
        assert clause.title
        assert clause.symbol
        assert clause.__doc__
        assert re.match(r"[234]\.|Annex II", clause.ref), clause.ref
        assert clause.citation == f"FSICR {clause.ref}"


@pytest.mark.slow
def test_all_formulas_compile_as_typst(tmp_path: Any) -> None:
    import typst as compiler

    lines = []
    for clause in CLAUSES:
        formula = formula_of(clause)
        for _, expression in formula.where:
            lines.append(f"$ z = {typst(expression, letters(clause))} $")
        lines.append(f"$ z = {typst(formula.result, letters(clause))} $")
    source = tmp_path / "formulas.typ"
    source.write_text("\n\n".join(lines), encoding="utf-8")
    assert len(compiler.compile(str(source))) > 10_000
