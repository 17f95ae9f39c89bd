"""The rule set of the Finnish-Swedish ice class rules, edition 2021, as the rest of the program sees it."""

from __future__ import annotations

from dataclasses import dataclass, field

from beltwright.core.chain import Columns, Quantity
from beltwright.core.clause import Document
from beltwright.core.ruletable import Cell, RuleTable
from beltwright.core.units import FloatArray
from beltwright.rules import facts as vocabulary
from beltwright.rules.baltic_traficom_2021 import facts_needed, hull_areas, loads, ship_checks
from beltwright.rules.baltic_traficom_2021.c1_application import CLASSES
from beltwright.rules.baltic_traficom_2021.checklist import CHECKLIST
from beltwright.rules.baltic_traficom_2021.documents import DOCUMENT
from beltwright.rules.baltic_traficom_2021.hull_areas import BalticHullAreas
from beltwright.rules.baltic_traficom_2021.members import FRAMING, PLATING, STEM, SUPPORTS
from beltwright.rules.baltic_traficom_2021.tables import TABLES
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

_SHARED = ("ice_class", "bulbous_bow", "azimuthing_propulsion", "waterline_extreme_length_m")
FACTS = (
    *(quantity for quantity in vocabulary.SHIP if quantity.name in _SHARED),
    *facts_needed.SHIP,
    *facts_needed.WATERLINES,
    *facts_needed.POWER,
    *facts_needed.POWER_DRAUGHTS,
)


@dataclass(frozen=True, slots=True, kw_only=True)
class BalticRuleSet:
    """Traficom regulation of 2021; see :class:`beltwright.rules.protocol.RuleSet`."""

    id: str = "baltic_traficom_2021"
    documents: tuple[Document, ...] = (DOCUMENT,)
    tables: tuple[RuleTable, ...] = TABLES
    classes: tuple[str, ...] = CLASSES
    facts: tuple[Quantity, ...] = FACTS
    differences: tuple[EditionDifference, ...] = ()
    rule_length: str = "class_rule_length_m"
    override_keys: tuple[str, ...] = (loads.ABRASION_KEY, loads.PROPORTIONS_KEY)
    plating: MemberRule = field(default=PLATING)
    framing: MemberRule = field(default=FRAMING)
    supports: tuple[SupportRule, ...] = SUPPORTS
    stem: MemberRule | None = field(default=STEM)
    plated: MemberRule | None = None
    girder: GirderRule | None = None
    grading: MemberRule | None = None
    checklist: tuple[ChecklistItem, ...] = CHECKLIST

    def areas(self, facts: Columns, overrides: tuple[Override, ...]) -> BalticHullAreas:
        """Return the hull areas; InputError for facts that are missing or cannot be."""
        return hull_areas.make(facts, overrides)

    def stations(self, areas: HullAreas) -> FloatArray:
        """Return no station: the hull's load needs no hull angles."""
        _own(areas)
        return loads.stations()

    def loads(self, facts: Columns, areas: HullAreas, angles: Columns, overrides: tuple[Override, ...]) -> DesignLoads:
        """Return the design loads; ``angles`` are not read. ScopeError for a lower addition without a reason."""
        return loads.make(facts, _own(areas), overrides)

    def ship_checks(self, facts: Columns) -> ShipChecks:
        """Return the checks of the ship as a whole: engine output, forward draught, clearance of the propeller."""
        return ship_checks.check_ship(facts)

    def unconfirmed(self, used: tuple[Cell, ...]) -> tuple[Cell, ...]:
        """Return those of the given cells that were not read in the document, each once, in the order given."""
        return tuple(dict.fromkeys(cell for cell in used if not cell.status.confirmed))


def _own(areas: HullAreas) -> BalticHullAreas:
    """The areas as this rule set made them."""
    if not isinstance(areas, BalticHullAreas):
        raise TypeError("the hull areas were made by another rule set")
    return areas


RULE_SET: RuleSet = BalticRuleSet()
