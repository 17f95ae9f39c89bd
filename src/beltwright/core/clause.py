"""Clauses: a printed equation as a pure function that knows its document, number, symbol, unit and standing."""

from __future__ import annotations

import functools
import inspect
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from datetime import date
from typing import Any, Generic, ParamSpec, TypeVar

from beltwright.core.provenance import Status
from beltwright.core.ruletable import Cell, RuleTable
from beltwright.core.units import Unit, signature_units

P = ParamSpec("P")
R = TypeVar("R")


class Clause(Generic[P, R]):
    """A printed equation. Calling it calls the function; everything else is what the page says about it.

    Attributes
    ----------
    document, ref, title, symbol, page : where it stands and what it is called there
    unit, parameters : units of the result and of each parameter, read from the annotations
    status : how far the equation is known
    table : the printed table that the function looks up, if it is a look-up
    reads : one entry per cell read, with the keys that the function itself fixes; the others are parameters
    """

    def __init__(
        self,
        function: Callable[P, R],
        *,
        document: Document,
        ref: str,
        title: str,
        symbol: str,
        status: Status,
        page: str,
        table: RuleTable | None,
        reads: tuple[Mapping[str, str], ...],
        note: str,
    ) -> None:
        functools.update_wrapper(self, function)
        units = signature_units(function)
        missing = sorted(name for name, unit in units.items() if unit is None)
        positional = [p.name for p in inspect.signature(function).parameters.values() if p.kind != p.KEYWORD_ONLY]
        if missing or positional:
            raise TypeError(f"{function.__qualname__}: no unit on {missing}, not keyword-only {positional}")
        self.function = function
        self.document, self.ref, self.title, self.symbol = document, ref, title, symbol
        self.status, self.page, self.table, self.note = status, page, table, note
        self.reads = tuple(dict(fixed) for fixed in reads)
        self.unit: Unit = _known(units.pop("return"))
        self.parameters: dict[str, Unit] = {name: _known(unit) for name, unit in units.items()}

    def __call__(self, *args: P.args, **kwargs: P.kwargs) -> R:
        """Evaluate the equation."""
        return self.function(*args, **kwargs)

    @property
    def name(self) -> str:
        """The function's name."""
        return self.function.__name__

    @property
    def citation(self) -> str:
        """Document and clause number, e.g. ``UR I2 I2.3.4``."""
        return f"{self.document.short} {self.ref}"

    def cells(self, keys: dict[str, str]) -> tuple[Cell, ...]:
        """Return the table cells that the function reads for the given keys (parameter name: word)."""
        if self.table is None:
            return ()
        rows = [{**keys, **fixed} for fixed in self.reads]
        return tuple(self.table.cell(*(row[key] for key in self.table.keys)) for row in rows)


@dataclass(slots=True, kw_only=True)
class Document:
    """One published document in one edition, with the clauses coded from it.

    ``applicability`` says for which ships it holds; ``applies_from`` is the contract date from which it does, if known,
    ``applies_until`` the first contract date of the edition that follows it, if there is one.
    """

    id: str
    short: str
    title: str
    edition: str
    applicability: str
    applies_from: date | None = None
    applies_until: date | None = None
    clauses: dict[str, Clause[Any, Any]] = field(default_factory=dict)

    def applies_to(self, contract: date) -> bool:
        """Return whether it applies to ships contracted for construction on that day; unknown limits do not count."""
        late_enough = self.applies_from is None or contract >= self.applies_from
        return late_enough and (self.applies_until is None or contract < self.applies_until)

    def clause(
        self,
        ref: str,
        *,
        title: str,
        symbol: str,
        status: Status,
        page: str = "",
        table: RuleTable | None = None,
        reads: tuple[Mapping[str, str], ...] = ({},),
        note: str = "",
    ) -> Callable[[Callable[P, R]], Clause[P, R]]:
        """Return a decorator that makes a function a clause of this document; a name may be taken only once."""

        def decorate(function: Callable[P, R]) -> Clause[P, R]:
            if function.__name__ in self.clauses:
                raise ValueError(f"{self.id}: a clause named {function.__name__} is there already")
            made = Clause(
                function,
                document=self,
                ref=ref,
                title=title,
                symbol=symbol,
                status=status,
                page=page,
                table=table,
                reads=reads,
                note=note,
            )
            self.clauses[made.name] = made
            return made

        return decorate


def _known(unit: Unit | None) -> Unit:
    """A unit that has been checked to be there."""
    assert unit is not None
    return unit
