"""Calculation lines: a trace as lines of symbol = formula (clause) = numbers = value and unit.

The formula is read from the clause's own source; numbers take the place of names by the trace's own parents.
"""

from __future__ import annotations

import ast
import math
import re
from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np

from beltwright.core.chain import Node, Trace
from beltwright.core.clause import Clause
from beltwright.core.formula import (
    Branch,
    branches,
    case_of,
    formula_of,
    intermediates,
    parameters_used,
    plain,
    reasons,
    typst,
    with_cell_values,
)
from beltwright.core.ruletable import Cell
from beltwright.report.cells import cell_words
from beltwright.report.numbers import told, unit_words
from beltwright.report.symbols import typst_name, typst_symbol, typst_word


@dataclass(frozen=True, slots=True, kw_only=True)
class Rendering:
    """A formula once with symbols and once with numbers, in the case that holds.

    ``where`` are its intermediate lines (name, symbols, numbers, value); ``conditions`` say in plain words why this
    case of a case distinction holds.
    """

    symbols: str
    numbers: str
    where: tuple[tuple[str, str, str, str], ...] = ()
    conditions: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class CalculationLine:
    """One number of a calculation.

    ``plain`` and ``typst`` are None for inputs and for values looked up in a table; ``origin`` then says where an
    input comes from and ``cells`` which cells were read, ``cell_words`` where each stands. ``confirmed`` is whether
    clause and cells have been confirmed.
    """

    name: str
    symbol: str
    meaning: str
    value: float | str | bool
    unit: str
    citation: str
    origin: str
    plain: Rendering | None
    typst: Rendering | None
    branches: tuple[Branch, ...]
    cells: tuple[Cell, ...]
    cell_words: tuple[str, ...]
    confirmed: bool

    @property
    def value_words(self) -> str:
        """The value with its unit."""
        finite = not isinstance(self.value, float) or math.isfinite(self.value)
        return f"{told(self.value)} {unit_words(self.unit) if finite else ''}".strip().replace(" °", "°")

    @property
    def governing(self) -> str:
        """The branch that governs, in words; empty where there is no branch."""
        return next((branch.text for branch in self.branches if branch.governs), "")


def calculation(
    trace: Trace, wanted: Iterable[str] | None = None, known: Collection[str] = ()
) -> list[CalculationLine]:
    """Return the lines of a trace, parents before children.

    ``wanted`` limits them to some numbers and all they are made from; ``known`` names are not repeated, nor anything
    that only they are made from.
    """
    names = list(trace) if wanted is None else list(wanted)
    lines: dict[str, CalculationLine] = {}
    for name in names:
        for node in _upstream(trace, name, known):
            if node.name not in lines:
                lines[node.name] = line_of(node, trace)
    return list(lines.values())


def names_told(trace: Trace, wanted: Iterable[str] | None = None, known: Collection[str] = ()) -> set[str]:
    """Return the names of the numbers that :func:`calculation` would tell."""
    names = list(trace) if wanted is None else list(wanted)
    return {node.name for name in names for node in _upstream(trace, name, known)}


def line_of(node: Node, trace: Trace) -> CalculationLine:
    """Return the line of one node, its parents taken from the trace."""
    made = node.step.clause if node.step is not None else None
    spelled = _renderings(node, trace)
    confirmed = (made is None or made.status.confirmed) and all(cell.status.confirmed for cell in node.cells)
    return CalculationLine(
        name=node.name,
        symbol=node.symbol,
        meaning=node.meaning,
        value=node.value,
        unit=node.unit.symbol,
        citation=made.citation if made is not None else "",
        origin=node.origin,
        plain=spelled[0] if spelled else None,
        typst=spelled[1] if spelled else None,
        branches=_branches(node, trace) if spelled else (),
        cells=node.cells,
        cell_words=tuple(cell_words(cell, _keys(node, trace)) for cell in node.cells),
        confirmed=confirmed,
    )


def _keys(node: Node, trace: Trace) -> dict[str, str]:
    """The words by which a number was looked up, by the parameter that took them."""
    if node.step is None:
        return {}
    labels = [p for p, unit in node.step.clause.parameters.items() if unit.symbol == "label"]
    return {parameter: str(trace[node.step.source(parameter)].value) for parameter in labels}


def _upstream(trace: Trace, name: str, known: Collection[str]) -> list[Node]:
    """A number and what it is made from, stopping at what is known already; what plays no part is left out."""
    ordered: dict[str, Node] = {}

    def visit(current: str) -> None:
        if current in ordered or current in known:
            return
        for parent in _playing(trace[current], trace):
            visit(parent)
        ordered[current] = trace[current]

    visit(name)
    return list(ordered.values())


def _playing(node: Node, trace: Trace) -> Iterable[str]:
    """The parents of a number that play a part in the case that holds."""
    if node.step is None:
        return ()
    used = parameters_used(node.step.clause, _arrays(node, trace))
    return [node.step.source(parameter) for parameter in node.step.clause.parameters if parameter in used]


def _renderings(node: Node, trace: Trace) -> tuple[Rendering, Rendering] | None:
    """The formula as plain text and as typst mathematics; None for inputs, mere look-ups and unprintable bodies."""
    if node.step is None or _is_look_up(node.step.clause):
        return None
    clause = node.step.clause
    try:
        formula = formula_of(clause)
    except ValueError:
        return None
    values = _arrays(node, trace)
    case = case_of(clause, values)
    parents = {parameter: trace[node.step.source(parameter)] for parameter in clause.parameters}
    inner = intermediates(clause, values)
    spelled = _distinct_symbols(parents)
    symbols = spelled | {name: name.replace("_", " ") for name in inner}
    numbers = {p: _plain_number(parent) for p, parent in parents.items()} | {n: told(v) for n, v in inner.items()}
    maths = {p: typst_symbol(s) for p, s in spelled.items()} | {n: typst_name(n) for n in inner}
    figures = {p: _typst_number(parent) for p, parent in parents.items()}
    figures |= {n: _typst_value(v, "") for n, v in inner.items()}
    used = _names_in(case.result, formula.where)
    parts = {n: case_of(clause, values, e) for n, e in formula.where if n in used}
    asked = [*case.conditions, *(condition for part in parts.values() for condition in part.conditions)]
    why = [
        plain(with_cell_values(clause, one, values), symbols)
        for condition, holds in asked
        for one in reasons(clause, values, condition, holds)
        if not inner.keys() & {part.id for part in ast.walk(one) if isinstance(part, ast.Name)}
    ]
    as_words = tuple(dict.fromkeys(why))
    filled = with_cell_values(clause, case.result, values)
    where = [(n, part.result, with_cell_values(clause, part.result, values)) for n, part in parts.items()]
    return (
        Rendering(
            symbols=plain(case.result, symbols),
            numbers=plain(filled, numbers),
            where=tuple((symbols[n], plain(e, symbols), plain(f, numbers), told(inner[n])) for n, e, f in where),
            conditions=as_words,
        ),
        Rendering(
            symbols=typst(case.result, maths),
            numbers=typst(filled, figures),
            where=tuple(
                (maths[n], typst(e, maths), typst(f, figures), _typst_value(inner[n], "")) for n, e, f in where
            ),
            conditions=as_words,
        ),
    )


def _distinct_symbols(parents: Mapping[str, Node]) -> dict[str, str]:
    """The parents' symbols; parents that share one are told apart by the number in their names."""
    symbols = {parameter: node.symbol for parameter, node in parents.items()}
    for parameter, node in parents.items():
        alike = [p for p, other in parents.items() if other.symbol == node.symbol and other.name != node.name]
        digits = re.findall(r"_(\d+)", node.name)
        if alike and digits:
            joint = "," if "_" in node.symbol else "_"
            symbols[parameter] = f"{node.symbol}{joint}{digits[-1]}"
    return symbols


def _is_look_up(clause: Clause[Any, Any]) -> bool:
    """Whether a clause does nothing but look a cell up."""
    if clause.table is None:
        return False
    try:
        formula = formula_of(clause)
    except ValueError:
        return True
    called = formula.result.func if isinstance(formula.result, ast.Call) and not formula.where else None
    return isinstance(called, ast.Attribute) and called.attr in ("numbers", "words", "has_value", "interp")


def _names_in(expression: ast.expr, where: Sequence[tuple[str, ast.expr]]) -> set[str]:
    """The intermediate names that an expression is made from, directly or through one another."""
    found = {node.id for node in ast.walk(expression) if isinstance(node, ast.Name)}
    for name, inner in reversed(where):
        if name in found:
            found |= {node.id for node in ast.walk(inner) if isinstance(node, ast.Name)}
    return found


def _branches(node: Node, trace: Trace) -> tuple[Branch, ...]:
    """The arguments of a min or max with the one that governs, in the case that holds."""
    assert node.step is not None
    symbols = _distinct_symbols({p: trace[node.step.source(p)] for p in node.step.clause.parameters})
    values = _arrays(node, trace)
    return branches(node.step.clause, values, symbols, case_of(node.step.clause, values).result)


def _arrays(node: Node, trace: Trace) -> Mapping[str, object]:
    """The parents' values as the length-1 arrays that a clause takes."""
    assert node.step is not None
    return {p: np.array([trace[node.step.source(p)].value]) for p in node.step.clause.parameters}


def _plain_number(node: Node) -> str:
    """A parent's value in place of its symbol."""
    text = told(node.value) + ("°" if node.unit.symbol == "deg" else "")
    return f"({text})" if text.startswith("-") else text


def _typst_number(node: Node) -> str:
    """A parent's value as typst mathematics."""
    return _typst_value(node.value, node.unit.symbol)


def _typst_value(value: float | str | bool, unit: str) -> str:
    """A value as typst mathematics; words are quoted, negative numbers bracketed."""
    if isinstance(value, str | bool):
        return typst_word(told(value))
    if not math.isfinite(value):
        return typst_word(told(value))
    text = told(value) + (" degree" if unit == "deg" else "")
    return f"({text})" if text.startswith("-") else text
