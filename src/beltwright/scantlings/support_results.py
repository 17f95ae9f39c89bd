"""All that is told of the structure behind the frames: web frames, stringers, their load cases, plated structures."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from beltwright.arrangement.model import Arrangement
from beltwright.core.columns import Column, ColumnTable
from beltwright.core.findings import Findings
from beltwright.core.units import Unit
from beltwright.rules.protocol import DesignLoads, HullAreas, RuleSet
from beltwright.scantlings.design import HullMeasures
from beltwright.scantlings.load_cases import load_cases, no_cases
from beltwright.scantlings.members import MemberRun
from beltwright.scantlings.plated import plated_structures
from beltwright.scantlings.support_framing import with_framing
from beltwright.scantlings.support_run import SupportRun
from beltwright.scantlings.supports import design_supports
from beltwright.ship.model import Ship


@dataclass(frozen=True, slots=True, kw_only=True)
class SupportResults:
    """Web frames and stringers (None where the rule set has no rules for them), load cases, plated structures."""

    run: SupportRun | None
    load_cases: ColumnTable
    plated: ColumnTable


def support_results(
    ship: Ship, rules: RuleSet, areas: HullAreas, measures: HullMeasures, loads: DesignLoads,
    arrangement: Arrangement, plating: MemberRun, framing: MemberRun, findings: Findings,
) -> SupportResults:  # fmt: skip
    """Return what the rule set asks of the structure behind the frames; tables are empty where it asks nothing."""
    if not rules.supports:
        return SupportResults(run=None, load_cases=no_cases(), plated=_none("plated structures"))
    supports = design_supports(ship, rules.supports, areas, measures, loads, arrangement, plating.table, findings)
    supports = with_framing(ship, supports, arrangement, framing, findings)
    plated = _none("plated structures")
    if rules.plated is not None:
        plated = plated_structures(rules.plated, areas, measures, loads, arrangement, framing, supports)
    return SupportResults(run=supports, load_cases=load_cases(supports), plated=plated)


def _none(name: str) -> ColumnTable:
    """A table without rows."""
    return ColumnTable(name, {"id": Column(unit=Unit("label"), meaning="none", data=np.zeros(0, dtype="<U1"))})
