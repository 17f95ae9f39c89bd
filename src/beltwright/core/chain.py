"""Chains: a calculation as a table of named steps, run for whole columns or traced for one row.

The vectorised run, the trace, the booklet and "what would change it" all walk the same steps, so a number's parents
are names. The traced run passes length-1 arrays through the same functions and gives the same bits.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from typing import Any

import numpy as np
from numpy.typing import NDArray

from beltwright.core.clause import Clause
from beltwright.core.ruletable import Cell
from beltwright.core.units import Unit

Columns = Mapping[str, NDArray[Any]]


@dataclass(frozen=True, slots=True, kw_only=True)
class Quantity:
    """A named input of a chain: its symbol in the document, its unit and what it is."""

    name: str
    symbol: str
    unit: Unit
    meaning: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Step:
    """One step: the clause, the name of its output, and where each parameter comes from (default: the same name).

    ``symbol`` is the output's symbol where one clause gives several numbers of a calculation (``F_2``); empty for the
    clause's own.
    """

    output: str
    clause: Clause[Any, Any]
    inputs: Mapping[str, str] = field(default_factory=dict)
    symbol: str = ""

    def source(self, parameter: str) -> str:
        """Return the name of the column that feeds a parameter."""
        return self.inputs.get(parameter, parameter)


@dataclass(frozen=True, slots=True, kw_only=True)
class Node:
    """One number of a trace: what it is, where it comes from, its value and the names of its parents.

    ``step`` is None for an input, whose ``origin`` then says where it was measured or given.
    """

    name: str
    symbol: str
    unit: Unit
    meaning: str
    value: float | str | bool
    step: Step | None = None
    cells: tuple[Cell, ...] = ()
    origin: str = ""

    @property
    def parents(self) -> tuple[str, ...]:
        """The names of the numbers this one is made from, in the order of the clause's parameters."""
        if self.step is None:
            return ()
        return tuple(self.step.source(parameter) for parameter in self.step.clause.parameters)


class Trace(Mapping[str, Node]):
    """The numbers behind one row, by name; joins with the trace of an earlier chain that fed its inputs."""

    def __init__(self, nodes: Mapping[str, Node]) -> None:
        self._nodes = dict(nodes)

    def __getitem__(self, key: str) -> Node:
        return self._nodes[key]

    def __iter__(self) -> Any:
        return iter(self._nodes)

    def __len__(self) -> int:
        return len(self._nodes)

    def upstream(self, name: str) -> tuple[Node, ...]:
        """Return a number and everything it is made from, parents before children, each once."""
        ordered: dict[str, Node] = {}
        stack: list[tuple[str, bool]] = [(name, False)]
        while stack:
            current, expanded = stack.pop()
            if current in ordered:
                continue
            if expanded:
                ordered[current] = self._nodes[current]
                continue
            stack.append((current, True))
            stack.extend((parent, False) for parent in reversed(self._nodes[current].parents))
        return tuple(ordered.values())

    def with_origins(self, origins: Mapping[str, str]) -> Trace:
        """Return this trace with the origin of its inputs filled in where they have none; unknown names are ignored."""
        nodes = {
            name: replace(node, origin=origins[name])
            if node.step is None and not node.origin and name in origins
            else node
            for name, node in self._nodes.items()
        }
        return Trace(nodes)

    def after(self, earlier: Trace) -> Trace:
        """Return this trace with its inputs continued by an earlier one; a differing value is an error."""
        nodes = dict(earlier._nodes)
        for name, node in self._nodes.items():
            known = nodes.get(name)
            if known is not None and known.value != node.value:
                raise ValueError(f"trace: {name} is {known.value} in one chain and {node.value} in the next")
            if known is None or known.step is None:
                nodes[name] = node if known is None else _better(known, node)
        return Trace(nodes)


class Chain:
    """A calculation as named steps.

    Raises ValueError on making if a step reads something that is neither an input nor an earlier output, if units
    differ, or if a name is given twice.
    """

    def __init__(self, name: str, inputs: Sequence[Quantity], steps: Sequence[Step]) -> None:
        self.name = name
        self.inputs = {quantity.name: quantity for quantity in inputs}
        self.steps = tuple(steps)
        self._check()

    def _check(self) -> None:
        """Refuse a chain with loose ends."""
        known = {name: quantity.unit for name, quantity in self.inputs.items()}
        for step in self.steps:
            strange = set(step.inputs) - set(step.clause.parameters)
            if strange:
                raise ValueError(
                    f"chain {self.name}: {step.output}: {step.clause.name} has no parameter {sorted(strange)}"
                )
            for parameter, unit in step.clause.parameters.items():
                source = step.source(parameter)
                if source not in known:
                    raise ValueError(f"chain {self.name}: {step.output} reads {source}, which nothing gives")
                if known[source] != unit:
                    raise ValueError(
                        f"chain {self.name}: {step.output} reads {source} [{known[source].symbol}] "
                        f"as {parameter} [{unit.symbol}]"
                    )
            if step.output in known:
                raise ValueError(f"chain {self.name}: {step.output} is given twice")
            known[step.output] = step.clause.unit

    @property
    def outputs(self) -> tuple[str, ...]:
        """The names of all outputs, in order."""
        return tuple(step.output for step in self.steps)

    def until(self, output: str) -> Chain:
        """Return the chain up to and with one of its outputs."""
        last = self.outputs.index(output)
        return Chain(self.name, list(self.inputs.values()), self.steps[: last + 1])

    def run(self, columns: Columns) -> dict[str, NDArray[Any]]:
        """Run the chain on whole columns (n,) or (1,); returns inputs and outputs by name."""
        values = {name: np.asarray(columns[name]) for name in self.inputs}
        for step in self.steps:
            clause = step.clause
            values[step.output] = clause(**{p: values[step.source(p)] for p in clause.parameters})
        return values

    def trace(self, columns: Columns, row: int = 0, origins: Mapping[str, str] | None = None) -> Trace:
        """Run the chain for one row and keep every number; ``origins`` says where each input comes from."""
        origins = origins or {}
        values = {name: _one(np.asarray(columns[name]), row) for name in self.inputs}
        nodes = {
            name: Node(
                name=name,
                symbol=quantity.symbol,
                unit=quantity.unit,
                meaning=quantity.meaning,
                value=_scalar(values[name]),
                origin=origins.get(name, ""),
            )
            for name, quantity in self.inputs.items()
        }
        for step in self.steps:
            clause = step.clause
            given = {p: values[step.source(p)] for p in clause.parameters}
            values[step.output] = clause(**given)
            keys = {p: str(value[0]) for p, value in given.items()}
            nodes[step.output] = Node(
                name=step.output,
                symbol=step.symbol or clause.symbol,
                unit=clause.unit,
                meaning=clause.title,
                value=_scalar(values[step.output]),
                step=step,
                cells=clause.cells(keys),
            )
        return Trace(nodes)


def _one(values: NDArray[Any], row: int) -> NDArray[Any]:
    """One row as a length-1 array; a length-1 column serves every row."""
    return values if len(values) == 1 else values[row : row + 1]


def _scalar(values: NDArray[Any]) -> float | str | bool:
    """The only element as a plain value."""
    item: float | str | bool = values[0].item()
    return item


def _better(known: Node, node: Node) -> Node:
    """Of two nodes of equal value, the one that says where the number comes from."""
    return node if node.step is not None or (node.origin and not known.origin) else known
