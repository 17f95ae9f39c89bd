"""Which printed cell a demanded grade comes from: found on the chain itself, for every distinct row once."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray

from beltwright.core.chain import Chain, Step
from beltwright.core.ruletable import Cell
from beltwright.core.units import IntArray, LabelArray


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
    told = [_told(steps, values, int(rows[row]), result) for row in first]
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


def _told(steps: Mapping[str, Step], values: Mapping[str, NDArray[Any]], row: int, result: str) -> tuple[str, str]:
    """The cell that holds the word of a step, or the clause where no cell does, with its standing."""
    clause = steps[result].clause
    found = _cell(steps, values, row, result, _word(values, result, row))
    if found is None:
        named = next(
            (steps[parent].clause for parent in _like(steps, values, row, result)), clause
        )  # the step that made the word itself
        return f"{named.citation}: {named.title}", named.status.value
    return _place(found), found.status.value


def _place(cell: Cell) -> str:
    """A cell's place in few words: its table and keys, several of one key by the first and the last."""
    keys = [(key, word.split("|")) for key, word in cell.keys]
    told = [f"{words[0]} to {words[-1]}" if len(words) > 1 else words[0] for _, words in keys]
    units = [" mm" if key == "thickness" else "" for key, _ in keys]
    return f"{cell.table}: " + ", ".join(f"{word}{unit}" for word, unit in zip(told, units, strict=True))


def _cell(steps: Mapping[str, Step], values: Mapping[str, NDArray[Any]], row: int, name: str, word: str) -> Cell | None:
    """The cell from which a word came down to a step."""
    step = steps[name]
    keys = {p: _word(values, step.source(p), row) for p in step.clause.parameters}
    for cell in step.clause.cells(keys):
        if cell.value == word:
            return cell
    for parent in _like(steps, values, row, name):
        found = _cell(steps, values, row, parent, word)
        if found is not None:
            return found
    return None


def _like(steps: Mapping[str, Step], values: Mapping[str, NDArray[Any]], row: int, name: str) -> list[str]:
    """The parents of a step that are steps and have its word."""
    step, word = steps[name], _word(values, name, row)
    parents = [step.source(p) for p in step.clause.parameters]
    return [parent for parent in parents if parent in steps and _word(values, parent, row) == word]


def _word(values: Mapping[str, NDArray[Any]], name: str, row: int) -> str:
    """A value in words."""
    column = values[name]
    return str(column[0] if len(column) == 1 else column[row])
