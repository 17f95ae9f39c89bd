"""Editions: a document's clauses coded once, and how another edition of it stands to them.

An edition names what differs: clauses of its own, quantities that it measures from elsewhere, words that it uses for
them. Everything else it takes over, with the standing that a clause has which nobody has compared with its page.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Any

from beltwright.core.chain import Chain, Quantity, Step
from beltwright.core.clause import Clause, Document
from beltwright.core.provenance import Status
from beltwright.core.ruletable import Cell


def taken_over(status: Status) -> Status:
    """Return the standing of what was read in one edition and is held to be the same in another: recalled.

    >>> taken_over(Status.TEXT).value, taken_over(Status.MEMORY_CHECKED).value
    ('memory', 'memory-checked')
    """
    return Status.MEMORY if status in (Status.PRINTED, Status.TEXT, Status.SECONDARY) else status


class TakenClause(Clause[Any, Any]):
    """A clause of one edition as another edition has it: the same function, its own document and standing."""

    def __init__(self, coded: Clause[Any, Any], document: Document, *, title: str = "", symbol: str = "") -> None:
        note = f"taken over from {coded.document.edition}, not compared"
        super().__init__(
            coded.function,
            document=document,
            ref=coded.ref,
            title=title or coded.title,
            symbol=symbol or coded.symbol,
            status=taken_over(coded.status),
            page="",
            table=coded.table,
            reads=coded.reads,
            note=f"{coded.note}; {note}" if coded.note else note,
        )

    def cells(self, keys: dict[str, str]) -> tuple[Cell, ...]:
        """Return the table cells that the function reads, with the standing that they have in this edition."""
        return tuple(replace(cell, status=taken_over(cell.status)) for cell in super().cells(keys))


@dataclass(frozen=True, slots=True, kw_only=True)
class MeasuredFrom:
    """A quantity that an edition measures otherwise: the clause and parameter that read it, and what comes between.

    ``converter`` is the edition's own clause. Its parameter of the same name takes what the coded clause would have
    read; its other parameters are inputs of the edition.
    """

    clause: str
    parameter: str
    converter: Clause[Any, Any]


@dataclass(frozen=True, slots=True, kw_only=True)
class Wording:
    """What an edition calls the result of a clause: its title and symbol."""

    title: str
    symbol: str


class Edition:
    """How an edition stands to the clauses as they are coded.

    Parameters
    ----------
    documents : by the id of the document under which clauses are coded, the document of this edition
    own : by the name of a coded clause, the clause of this edition that takes its place
    measured_from : quantities that this edition measures otherwise
    wording : by the name of a coded clause, what this edition calls its result
    inputs : what own clauses and converters read besides

    Without any of them it is the edition under which the clauses are coded: chains come back as they are.
    """

    def __init__(
        self,
        *,
        documents: Mapping[str, Document] | None = None,
        own: Mapping[str, Clause[Any, Any]] | None = None,
        measured_from: Sequence[MeasuredFrom] = (),
        wording: Mapping[str, Wording] | None = None,
        inputs: Sequence[Quantity] = (),
    ) -> None:
        self.documents, self.own, self.wording = dict(documents or {}), dict(own or {}), dict(wording or {})
        self.measured_from = {(one.clause, one.parameter): one.converter for one in measured_from}
        self.inputs = tuple(inputs)
        self._clauses: dict[int, Clause[Any, Any]] = {}

    def clause(self, coded: Clause[Any, Any]) -> Clause[Any, Any]:
        """Return a clause as this edition has it."""
        document = self.documents.get(coded.document.id)
        if document is None:
            return coded
        if coded.name in self.own:
            return self.own[coded.name]
        if id(coded) not in self._clauses:
            words = self.wording.get(coded.name, Wording(title="", symbol=""))
            self._clauses[id(coded)] = TakenClause(coded, document, title=words.title, symbol=words.symbol)
        return self._clauses[id(coded)]

    def chain(self, coded: Chain) -> Chain:
        """Return a chain as this edition has it: its clauses, its conversions, and the inputs that they read."""
        if not self.documents:
            return coded
        steps = [step for one in coded.steps for step in self._steps(one)]
        read = {step.source(parameter) for step in steps for parameter in step.clause.parameters}
        given = {*coded.inputs, *(step.output for step in steps)}
        more = [quantity for quantity in self.inputs if quantity.name in read - given]
        return Chain(coded.name, [*coded.inputs.values(), *more], steps)

    def _steps(self, coded: Step) -> list[Step]:
        """A step as this edition has it, what it measures otherwise before it."""
        before: list[Step] = []
        inputs = dict(coded.inputs)
        for parameter in coded.clause.parameters:
            converter = self.measured_from.get((coded.clause.name, parameter))
            if converter is None or coded.clause.document.id not in self.documents:
                continue
            source = coded.source(parameter)
            inputs[parameter] = f"{converter.name}_of_{source}"
            before.append(Step(output=inputs[parameter], clause=converter, inputs={parameter: source}))
        return [*before, replace(coded, clause=self.clause(coded.clause), inputs=inputs)]


AS_CODED = Edition()
