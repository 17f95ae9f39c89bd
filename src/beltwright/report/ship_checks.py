"""What is printed of the checks of the ship as a whole, taken from the design."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from beltwright.core.clause import Clause
from beltwright.report.girder import ToldPart
from beltwright.report.material import ShipChecksMaterial
from beltwright.rules.protocol import ShipChecks
from beltwright.scantlings.ship_checks import ship_check_table


def ship_checks_material(found: ShipChecks | None, origins: Mapping[str, str]) -> ShipChecksMaterial | None:
    """Return what is printed, None where the rule set asks nothing of the ship as a whole.

    ``origins`` say where the ship's facts were measured.
    """
    if found is None:
        return None
    parts = tuple(
        ToldPart(
            title=f"{name[:1].upper()}{name[1:]}",
            trace=trace,
            wanted=tuple(dict.fromkeys(one.output for one in found.checks if one.trace == name)),
        )
        for name, trace in found.traces.items()
    )
    return ShipChecksMaterial(table=ship_check_table(found, origins), choices=found.choices, parts=parts)


def ship_check_clauses(found: ShipChecks | None) -> list[Clause[Any, Any]]:
    """Return the clauses that the checks were worked out by."""
    if found is None:
        return []
    nodes = (node for trace in found.traces.values() for node in trace.values())
    return [node.step.clause for node in nodes if node.step is not None]
