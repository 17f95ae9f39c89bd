"""What every rule set offers, whatever its document: facts in, borders, loads and requirements out.

The order of work is the same for every document, and each stage names what it reads:

1. :meth:`RuleSet.areas`      ship facts -> hull areas and their borders
2. :meth:`RuleSet.stations`   hull areas -> where hull angles on the upper ice waterline are wanted
3. :meth:`RuleSet.loads`      facts, areas, angles -> design loads and their patches
4. :attr:`RuleSet.plating`, :attr:`RuleSet.framing`   columns of panels and frames -> requirements and checks
5. :attr:`RuleSet.supports`, :attr:`RuleSet.stem`   columns of the members behind the frames, and of the stem
6. :attr:`RuleSet.girder`     facts -> ice force at the bow; places along the ship -> shear, moment and checks
7. :attr:`RuleSet.ship_checks`   facts -> what the ship as a whole is held to, engine output for one

Longitudinal places are given as distance aft of the fore side of the stem at the upper ice waterline [m]. Heights are
given relative to the upper and lower ice waterlines at the same place.
"""

from __future__ import annotations

from beltwright.rules.protocol.areas import (
    EVERYTHING,
    Border,
    GoverningAreas,
    HeightBorder,
    HullArea,
    HullAreas,
    InclinationBorder,
    Strengthens,
    TransverseBorder,
)
from beltwright.rules.protocol.girder import GirderForce, GirderRule
from beltwright.rules.protocol.loads import DesignLoads, LoadPatch
from beltwright.rules.protocol.members import (
    About,
    ChecklistItem,
    CheckSpec,
    FormulaEnd,
    Guard,
    InputLimit,
    MemberRule,
    SupportKind,
    SupportRule,
)
from beltwright.rules.protocol.ruleset import EditionDifference, Override, RuleSet
from beltwright.rules.protocol.ship import ShipCheck, ShipChecks

__all__ = [
    "EVERYTHING",
    "About",
    "Border",
    "CheckSpec",
    "ChecklistItem",
    "DesignLoads",
    "EditionDifference",
    "FormulaEnd",
    "GirderForce",
    "GirderRule",
    "GoverningAreas",
    "Guard",
    "HeightBorder",
    "HullArea",
    "HullAreas",
    "InclinationBorder",
    "InputLimit",
    "LoadPatch",
    "MemberRule",
    "Override",
    "RuleSet",
    "ShipCheck",
    "ShipChecks",
    "Strengthens",
    "SupportKind",
    "SupportRule",
    "TransverseBorder",
]
