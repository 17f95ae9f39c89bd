"""The small test ship under a rule set that also holds the ship as a whole to something: an engine output and more."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import numpy as np
from tests.scantlings import ships

from beltwright.core.chain import Columns
from beltwright.core.findings import Findings
from beltwright.rules.baltic_traficom_2021 import ruleset as baltic
from beltwright.rules.baltic_traficom_2021.ship_checks import check_ship
from beltwright.rules.polar_iacs_2019.ruleset import POLAR_2019, PolarRuleSet
from beltwright.rules.protocol import ShipChecks
from beltwright.scantlings.build import design_on
from beltwright.scantlings.design import Design


def as_ia(facts: Columns) -> ShipChecks:
    """The checks of the Finnish-Swedish rules for class IA, whatever the ship's own class."""
    return check_ship({**facts, "ice_class": np.array(["IA"])})


def rules() -> PolarRuleSet:
    """Structure by the polar rules, the ship as a whole by the Finnish-Swedish ones."""
    facts = dict.fromkeys((*POLAR_2019.facts, *baltic.FACTS))
    by_name = {quantity.name: quantity for quantity in facts}
    return replace(POLAR_2019, facts=tuple(by_name.values()), ship_checks=as_ia)


def told(doc: dict[str, Any]) -> None:
    """What the checks want to be told, enough for every one of them."""
    doc["hull"].update(length_between_perpendiculars_m=47.5, class_rule_length_m=46.8)
    doc["propulsion"].update(
        engine_power_kw=4000.0, propeller_count=1, drive="controllable pitch", propeller_diameter_m=2.2,
        propeller_clearance_m=0.9, service_speed_kn=12.0,
    )  # fmt: skip


def designed(*edits: ships.Edit) -> Design:
    """The design on the hull that is measured and arranged already."""
    findings = Findings()
    return design_on(ships.ship(told, *edits), rules(), ships.measured(), ships.arranged(), findings)


def propulsion(**changed: Any) -> ships.Edit:
    """An edit of the propulsion."""
    return lambda doc: doc["propulsion"].update(changed)
