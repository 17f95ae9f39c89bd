"""One document in one edition: what it offers, and where it differs from other editions."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Protocol

from beltwright.core.chain import Columns, Quantity
from beltwright.core.clause import Document
from beltwright.core.provenance import Status
from beltwright.core.ruletable import Cell, RuleTable
from beltwright.core.units import FloatArray
from beltwright.rules.protocol.areas import HullAreas
from beltwright.rules.protocol.girder import GirderRule
from beltwright.rules.protocol.loads import DesignLoads
from beltwright.rules.protocol.members import ChecklistItem, MemberRule, SupportRule
from beltwright.rules.protocol.ship import ShipChecks


@dataclass(frozen=True, slots=True, kw_only=True)
class EditionDifference:
    """Where two editions of a document differ: one clause, what each says in our words, and what it does to numbers.

    ``says`` gives the reading of each rule set by its id; ``status`` how far the difference is known.
    """

    document: str
    clause: str
    what: str
    says: Mapping[str, str]
    effect: str
    status: Status


@dataclass(frozen=True, slots=True, kw_only=True)
class Override:
    """A user's written reason to go on where a rule ends; printed in every output."""

    key: str
    reason: str


class RuleSet(Protocol):
    """One document in one edition."""

    @property
    def id(self) -> str:
        """The package's name, e.g. ``polar_iacs_2019``."""
        ...

    @property
    def documents(self) -> tuple[Document, ...]:
        """The documents it is made from, with edition and applicability."""
        ...

    @property
    def differences(self) -> tuple[EditionDifference, ...]:
        """Where it differs from other editions of the same document, as far as it states that itself.

        ``registry.differences`` gathers what all rule sets state.
        """
        ...

    @property
    def tables(self) -> tuple[RuleTable, ...]:
        """Every printed table it reads."""
        ...

    @property
    def classes(self) -> tuple[str, ...]:
        """The ice classes, strongest first."""
        ...

    @property
    def facts(self) -> tuple[Quantity, ...]:
        """What it wants to know of the ship as a whole; names in the vocabulary of ``facts.py``."""
        ...

    @property
    def rule_length(self) -> str:
        """The name of the document's length of the ship in the trace of the hull areas; empty where it has none."""
        ...

    @property
    def plating(self) -> MemberRule:
        """Shell plating, one row per panel and touched load."""
        ...

    @property
    def framing(self) -> MemberRule:
        """Local frames with an offered section, one row per frame span, section and touched load."""
        ...

    @property
    def girder(self) -> GirderRule | None:
        """Longitudinal strength in ice; None where the document has no such chapter."""
        ...

    @property
    def supports(self) -> tuple[SupportRule, ...]:
        """Web frames and load-carrying stringers, each kind in one rule at most; empty without such rules."""
        ...

    @property
    def stem(self) -> MemberRule | None:
        """A stem of shaped plates, one row; None where the document gives no formula for it.

        Reads the vocabulary ``STEM`` of ``facts.py``, the spacing and the yield stress of its plating.
        """
        ...

    @property
    def plated(self) -> MemberRule | None:
        """Plated structures in contact with the shell, one row per piece and touched load; None without such rules."""
        ...

    @property
    def grading(self) -> MemberRule | None:
        """Steel grades of shell members, one row per member and hull area it touches; None without such rules.

        Reads the vocabulary ``GRADE`` of ``facts.py`` and the ship's facts, and gives as outputs ``category``,
        ``material_class``, ``weather_exposed``, ``submerged``, ``in_single_strake`` and ``grade_demanded``, a letter or
        ``none``. Its check compares ranks.
        """
        ...

    @property
    def ship_checks(self) -> Callable[[Columns], ShipChecks] | None:
        """Give the checks of the ship as a whole by its facts; None where the document has none."""
        ...

    @property
    def checklist(self) -> tuple[ChecklistItem, ...]:
        """The clauses without a formula that the designer answers for, in the document's order; may be empty."""
        ...

    def areas(self, facts: Columns, overrides: tuple[Override, ...]) -> HullAreas:
        """Return the hull areas; raises ScopeError where the document does not cover the ship."""
        ...

    def stations(self, areas: HullAreas) -> FloatArray:
        """Return the stations (k,), distance aft of the stem [m], where angles on the upper ice waterline are read."""
        ...

    def loads(self, facts: Columns, areas: HullAreas, angles: Columns, overrides: tuple[Override, ...]) -> DesignLoads:
        """Return the design loads.

        ``angles`` has columns (k,): ``aft_of_stem_m``, ``alpha_deg``, ``gamma_deg``, ``beta_deg``, ``beta_prime_deg``,
        each NaN where it does not apply (the rule set says what that means).
        """
        ...

    def unconfirmed(self, used: tuple[Cell, ...]) -> tuple[Cell, ...]:
        """Return those of the given cells that are not confirmed from the printed page."""
        ...
