"""The rule set of IACS UR I1 and I2, edition 2019, as the rest of the program sees it."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field, fields, replace
from functools import partial
from typing import Any

from beltwright.core.chain import Columns, Quantity
from beltwright.core.clause import Document
from beltwright.core.edition import AS_CODED, Edition
from beltwright.core.ruletable import Cell, RuleTable
from beltwright.core.units import FloatArray
from beltwright.rules.facts import SHIP
from beltwright.rules.polar_iacs_2019 import girder, hull_areas, loads
from beltwright.rules.polar_iacs_2019.bow_form import BOW_FORM_KEY
from beltwright.rules.polar_iacs_2019.checklist import CHECKLIST
from beltwright.rules.polar_iacs_2019.documents import DOCUMENT, DOCUMENT_I1
from beltwright.rules.polar_iacs_2019.girder import GIRDER_RULE
from beltwright.rules.polar_iacs_2019.grades import GRADING
from beltwright.rules.polar_iacs_2019.hull_areas import PolarHullAreas
from beltwright.rules.polar_iacs_2019.i1_application import CLASSES
from beltwright.rules.polar_iacs_2019.members import FRAMING, PLATING
from beltwright.rules.polar_iacs_2019.supports import PLATED_STRUCTURES, SUPPORTS
from beltwright.rules.polar_iacs_2019.tables import TABLES
from beltwright.rules.protocol import (
    ChecklistItem,
    DesignLoads,
    EditionDifference,
    GirderRule,
    HullAreas,
    MemberRule,
    Override,
    RuleSet,
    ShipChecks,
    SupportRule,
)
from beltwright.rules.steel_iacs.documents import DOCUMENT_S6
from beltwright.rules.steel_iacs.tables import NORMAL_TABLES as TABLES_S6
from beltwright.rules.strength_iacs.documents import DOCUMENT as DOCUMENT_S11
from beltwright.rules.strength_iacs.tables import TABLES as TABLES_S11


@dataclass(frozen=True, slots=True, kw_only=True)
class PolarRuleSet:
    """IACS UR I1 and UR I2 in one edition; see :class:`beltwright.rules.protocol.RuleSet`.

    ``edition`` says how it stands to the clauses as they are coded, which is in the edition of 2019.
    """

    id: str = "polar_iacs_2019"
    documents: tuple[Document, ...] = (DOCUMENT_I1, DOCUMENT_S6, DOCUMENT_S11, DOCUMENT)
    tables: tuple[RuleTable, ...] = (*TABLES, *TABLES_S6, *TABLES_S11)
    classes: tuple[str, ...] = CLASSES
    facts: tuple[Quantity, ...] = SHIP
    rule_length: str = "rule_length_m"
    edition: Edition = AS_CODED
    differences: tuple[EditionDifference, ...] = ()
    override_keys: tuple[str, ...] = (hull_areas.STERN_FACTORS_KEY, BOW_FORM_KEY)
    plating: MemberRule = field(default=PLATING)
    framing: MemberRule = field(default=FRAMING)
    girder: GirderRule | None = field(default=GIRDER_RULE)
    supports: tuple[SupportRule, ...] = SUPPORTS
    stem: MemberRule | None = None
    plated: MemberRule | None = field(default=PLATED_STRUCTURES)
    grading: MemberRule | None = field(default=GRADING)
    ship_checks: Callable[[Columns], ShipChecks] | None = None
    checklist: tuple[ChecklistItem, ...] = CHECKLIST

    def areas(self, facts: Columns, overrides: tuple[Override, ...]) -> PolarHullAreas:
        """Return the hull areas; InputError for facts that cannot be, ScopeError where the document ends."""
        return hull_areas.make(facts, overrides, self.edition)

    def stations(self, areas: HullAreas) -> FloatArray:
        """Return where the angles are read: the middles of the bow's four equal parts [m aft of the stem]."""
        return loads.stations(_own(areas))

    def loads(self, facts: Columns, areas: HullAreas, angles: Columns, overrides: tuple[Override, ...]) -> DesignLoads:
        """Return the design loads; ScopeError for a bow that the formulas do not cover and no reason carries."""
        return loads.make(facts, _own(areas), angles, overrides, self.edition)

    def unconfirmed(self, used: tuple[Cell, ...]) -> tuple[Cell, ...]:
        """Return those of the given cells that were not read in the document, each once, in the order given."""
        return tuple(dict.fromkeys(cell for cell in used if not cell.status.confirmed))

    def in_edition(self, rule_set_id: str, edition: Edition, differences: Sequence[EditionDifference]) -> PolarRuleSet:
        """Return this rule set in another edition: its documents, and every member's chain with its clauses."""
        changed: dict[str, Any] = {
            "id": rule_set_id,
            "edition": edition,
            "documents": tuple(edition.documents.get(one.id, one) for one in self.documents),
            "differences": tuple(differences),
            "facts": tuple(dict.fromkeys((*self.facts, *edition.inputs))),
        }
        for one in fields(self):
            rule = getattr(self, one.name)
            if isinstance(rule, MemberRule):
                changed[one.name] = _member(rule, edition)
        changed["supports"] = tuple(replace(one, rule=_member(one.rule, edition)) for one in self.supports)
        if self.girder is not None:
            changed["girder"] = replace(
                self.girder,
                force=partial(girder.force, edition=edition),
                along=edition.chain(self.girder.along),
                section=_member(self.girder.section, edition),
                plate=_member(self.girder.plate, edition),
                stiffener=_member(self.girder.stiffener, edition),
            )
        return replace(self, **changed)


def _member(rule: MemberRule, edition: Edition) -> MemberRule:
    """A member's rule with the clauses of an edition."""
    return replace(rule, chain=edition.chain(rule.chain))


def _own(areas: HullAreas) -> PolarHullAreas:
    """The areas as this rule set made them."""
    if not isinstance(areas, PolarHullAreas):
        raise TypeError("the hull areas were made by another rule set")
    return areas


POLAR_2019 = PolarRuleSet()
RULE_SET: RuleSet = POLAR_2019
