"""Which printed cell a demanded grade comes from: found on the chain itself, for every distinct row once."""

from __future__ import annotations

import ast
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray

from beltwright.core.chain import Chain, Step
from beltwright.core.clause import Clause
from beltwright.core.formula import case_of, formula_of
from beltwright.core.ruletable import Cell
from beltwright.core.units import IntArray, LabelArray

_Known = dict[tuple[str, tuple[str, ...]], tuple[str, ...]]  # what a step is made from, by its words and flags


@dataclass(frozen=True, slots=True, kw_only=True)
class Governing:
    """Where each demand comes from (n,): the cell or clause in words, and its standing."""

    words: LabelArray
    standing: LabelArray


def distinct_rows(chain: Chain, values: Mapping[str, NDArray[Any]], count: int) -> IntArray:
    """Return the first row of each combination of words and flags that the chain's values show, of ``count`` rows."""
    return np.unique(_codes(chain, values, np.arange(count)), return_index=True)[1]


def governing_cells(chain: Chain, values: Mapping[str, NDArray[Any]], rows: IntArray, result: str) -> Governing:
    """Return for rows (m,) where the word of output ``result`` comes from."""
    first, inverse = np.unique(_codes(chain, values, rows), return_index=True, return_inverse=True)[1:]
    steps = {step.output: step for step in chain.steps}
    known: _Known = {}
    told = [_told(steps, values, int(rows[row]), result, known) for row in first]
    return Governing(
        words=np.array([words for words, _ in told], dtype=np.str_)[inverse],
        standing=np.array([standing for _, standing in told], dtype=np.str_)[inverse],
    )


def _codes(chain: Chain, values: Mapping[str, NDArray[Any]], rows: IntArray) -> IntArray:
    """A number for each combination of words and flags in rows (m,)."""
    code = np.zeros(len(rows), dtype=np.int64)
    for name in (*chain.inputs, *chain.outputs):
        column = values[name]
        if column.dtype.kind == "f" or len(column) == 1:
            continue
        words, inverse = np.unique(column[rows], return_inverse=True)
        if len(words) > 1:
            code = np.unique(code * len(words) + inverse, return_inverse=True)[1]
    return code


def _told(
    steps: Mapping[str, Step], values: Mapping[str, NDArray[Any]], row: int, result: str, known: _Known
) -> tuple[str, str]:
    """The cell that holds the word of a step, or the clause that made it where no cell does, with its standing.

    Where several parents have the word, the first that a cell gave it to is told.
    """
    word, made = _word(values, result, row), steps[result].clause
    parents = [steps[name] for name in map(steps[result].source, made.parameters) if name in steps]
    alike = [parent for parent in parents if _word(values, parent.output, row) == word]
    for parent in alike:
        found = _cell(steps, values, row, parent, word, known)
        if found is not None:
            return _place(found), found.status.value
    named = alike[0].clause if alike else made
    return f"{named.citation}: {named.title}", named.status.value


def _place(cell: Cell) -> str:
    """A cell's place in few words: its table and keys, several of one key by the first and the last."""
    keys = [(key, word.split("|")) for key, word in cell.keys]
    told = [f"{words[0]} to {words[-1]}" if len(words) > 1 else words[0] for _, words in keys]
    units = [" mm" if key == "thickness" else "" for key, _ in keys]
    return f"{cell.table}: " + ", ".join(f"{word}{unit}" for word, unit in zip(told, units, strict=True))


def _cell(
    steps: Mapping[str, Step], values: Mapping[str, NDArray[Any]], row: int, step: Step, word: str, known: _Known
) -> Cell | None:
    """The cell from which a word came down to a step, through the case of each clause that holds."""
    keys = {p: _word(values, step.source(p), row) for p in step.clause.parameters}
    for cell in step.clause.cells(keys):
        if cell.value == word:
            return cell
    words = tuple(keys[p] for p, unit in step.clause.parameters.items() if unit.symbol in ("label", "flag"))
    if (step.output, words) not in known:
        given = {p: _one(values[step.source(p)], row) for p in step.clause.parameters}
        known[step.output, words] = _made_from(step.clause, given)
    for parameter in known[step.output, words]:
        parent = steps.get(step.source(parameter))
        if parent is not None and _word(values, parent.output, row) == word:
            found = _cell(steps, values, row, parent, word, known)
            if found is not None:
                return found
    return None


def _made_from(clause: Clause[Any, Any], given: Mapping[str, NDArray[Any]]) -> tuple[str, ...]:
    """The parameters that the clause's value is made from in the case that holds, its conditions left out."""
    inner, found = dict(formula_of(clause).where), dict[str, None]()
    left = [case_of(clause, given).result]
    while left:
        for part in ast.walk(left.pop()):
            if isinstance(part, ast.Name) and part.id in inner:
                left.append(case_of(clause, given, inner[part.id]).result)
            elif isinstance(part, ast.Name) and part.id in clause.parameters:
                found[part.id] = None
    return tuple(found)


def _one(column: NDArray[Any], row: int) -> NDArray[Any]:
    """One value as a length-1 array."""
    return column if len(column) == 1 else column[row : row + 1]


def _word(values: Mapping[str, NDArray[Any]], name: str, row: int) -> str:
    """A value in words."""
    column = values[name]
    return str(column[0] if len(column) == 1 else column[row])
