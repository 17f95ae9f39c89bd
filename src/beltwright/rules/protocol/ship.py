"""Checks of the ship as a whole: what a document asks of the ship beside its structure."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from beltwright.core.chain import Trace
from beltwright.core.findings import Finding
from beltwright.core.outcome import Check


@dataclass(frozen=True, slots=True, kw_only=True)
class ShipCheck(Check):
    """One requirement on the ship as a whole, and where it comes from: ``output`` of the trace called ``trace``.

    What is offered is the first row of the fact ``fact``.
    """

    trace: str
    output: str
    fact: str

    def __str__(self) -> str:
        return f"{self.name}: {self.offered:.2f} {self.unit} of {self.required:.2f} {self.unit} ({self.ref})"


@dataclass(frozen=True, slots=True, kw_only=True)
class ShipChecks:
    """The checks of the ship as a whole.

    ``traces`` are the calculations by name, ``choices`` sentences on what was chosen and why, ``findings`` what the
    engineer must see.
    """

    checks: tuple[ShipCheck, ...]
    traces: Mapping[str, Trace]
    choices: tuple[str, ...]
    findings: tuple[Finding, ...]

    @property
    def all_met(self) -> bool:
        """Whether every requirement is met; NaN is never met."""
        return all(check.ok for check in self.checks)
