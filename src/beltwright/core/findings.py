"""Findings: what a reader, a check or the design itself noticed, numbered, collected, never one at a time.

A code is registered once, with its severity and what to do about it; the documentation lists them all.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field
from enum import Enum


class Severity(Enum):
    """How a finding bears on the result."""

    NOTE = "note"  # shown; nothing to do
    CAUTION = "caution"  # the result stands, but the engineer must look
    BLOCK = "block"  # no result is given until it is answered


@dataclass(frozen=True, slots=True, kw_only=True)
class FindingCode:
    """A kind of finding: its number, its severity, its title and what the engineer should do."""

    code: str
    severity: Severity
    title: str
    advice: str


_CODES: dict[str, FindingCode] = {}


def register(code: str, severity: Severity, title: str, advice: str) -> FindingCode:
    """Register a kind of finding; a number may be taken only once."""
    if code in _CODES:
        raise ValueError(f"finding code {code} is taken by {_CODES[code].title!r}")
    _CODES[code] = FindingCode(code=code, severity=severity, title=title, advice=advice)
    return _CODES[code]


def all_codes() -> tuple[FindingCode, ...]:
    """Return every registered kind of finding, by number."""
    return tuple(_CODES[key] for key in sorted(_CODES))


@dataclass(frozen=True, slots=True, kw_only=True)
class Finding:
    """One finding: its kind, where it is, and a sentence with the numbers."""

    kind: FindingCode
    where: str
    message: str

    def __str__(self) -> str:
        return f"{self.kind.code} {self.kind.severity.value}: {self.where}: {self.message}"


@dataclass(slots=True)
class Findings:
    """A collector of findings; keeps their order and drops exact repeats."""

    items: list[Finding] = field(default_factory=list)

    def add(self, kind: FindingCode, where: str, message: str) -> None:
        """Add one finding."""
        finding = Finding(kind=kind, where=where, message=message)
        if finding not in self.items:
            self.items.append(finding)

    def extend(self, others: Iterable[Finding]) -> None:
        """Add findings collected elsewhere."""
        for finding in others:
            if finding not in self.items:
                self.items.append(finding)

    def of(self, severity: Severity) -> tuple[Finding, ...]:
        """Return the findings of one severity."""
        return tuple(f for f in self.items if f.kind.severity is severity)

    def __iter__(self) -> Iterator[Finding]:
        return iter(self.items)

    def __len__(self) -> int:
        return len(self.items)
