"""The rule set of IACS UR I1 and I2, edition 2019, as the rest of the program sees it."""

from __future__ import annotations

from dataclasses import dataclass, field

from beltwright.core.chain import Columns, Quantity
from beltwright.core.clause import Document
from beltwright.core.ruletable import Cell, RuleTable
from beltwright.core.units import FloatArray
from beltwright.rules.facts import SHIP
from beltwright.rules.polar_iacs_2019 import hull_areas, loads
from beltwright.rules.polar_iacs_2019.bow_form import BOW_FORM_KEY
from beltwright.rules.polar_iacs_2019.documents import DOCUMENT, DOCUMENT_I1
from beltwright.rules.polar_iacs_2019.hull_areas import PolarHullAreas
from beltwright.rules.polar_iacs_2019.i1_application import CLASSES
from beltwright.rules.polar_iacs_2019.members import FRAMING, PLATING
from beltwright.rules.polar_iacs_2019.tables import TABLES
from beltwright.rules.protocol import DesignLoads, HullAreas, MemberRule, Override, RuleSet


@dataclass(frozen=True, slots=True, kw_only=True)
class PolarRuleSet:
    """IACS UR I1 Rev.2 and UR I2 Rev.4; see :class:`beltwright.rules.protocol.RuleSet`."""

    id: str = "polar_iacs_2019"
    documents: tuple[Document, ...] = (DOCUMENT_I1, DOCUMENT)
    tables: tuple[RuleTable, ...] = TABLES
    classes: tuple[str, ...] = CLASSES
    facts: tuple[Quantity, ...] = SHIP
    override_keys: tuple[str, ...] = (hull_areas.STERN_FACTORS_KEY, BOW_FORM_KEY)
    plating: MemberRule = field(default=PLATING)
    framing: MemberRule = field(default=FRAMING)

    def areas(self, facts: Columns, overrides: tuple[Override, ...]) -> PolarHullAreas:
        """Return the hull areas; InputError for facts that cannot be, ScopeError where the document ends."""
        return hull_areas.make(facts, overrides)

    def stations(self, areas: HullAreas) -> FloatArray:
        """Return where the angles are read: the middles of the bow's four equal parts [m aft of the stem]."""
        return loads.stations(_own(areas))

    def loads(self, facts: Columns, areas: HullAreas, angles: Columns, overrides: tuple[Override, ...]) -> DesignLoads:
        """Return the design loads; ScopeError for a bow that the formulas do not cover and no reason carries."""
        return loads.make(facts, _own(areas), angles, overrides)

    def unconfirmed(self, used: tuple[Cell, ...]) -> tuple[Cell, ...]:
        """Return those of the given cells that were not read in the document, each once, in the order given."""
        return tuple(dict.fromkeys(cell for cell in used if not cell.status.confirmed))


def _own(areas: HullAreas) -> PolarHullAreas:
    """The areas as this rule set made them."""
    if not isinstance(areas, PolarHullAreas):
        raise TypeError("the hull areas were made by another rule set")
    return areas


RULE_SET: RuleSet = PolarRuleSet()
