"""The checks of the ship as a whole: run by the rule set on the ship's facts, and laid out as a table."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import replace

import numpy as np

from beltwright.core.chain import Columns
from beltwright.core.columns import Column, ColumnTable
from beltwright.core.findings import Findings
from beltwright.core.ruletable import Cell
from beltwright.core.units import Unit
from beltwright.rules.protocol import RuleSet, ShipChecks
from beltwright.scantlings.members import MET, NOT_MET


def check_ship(
    rules: RuleSet, facts: Columns, origins: Mapping[str, str], findings: Findings
) -> ShipChecks | None:  # fmt: skip
    """Return the checks of the ship as a whole, None where the rule set has none; their findings are added.

    The traces say where each fact was measured (``origins``).

    Raises
    ------
    InputError : a fact cannot be
    ScopeError : the ship lies outside what a clause was written for
    """
    if rules.ship_checks is None:
        return None
    found = rules.ship_checks(facts)
    findings.extend(found.findings)
    return replace(found, traces={name: trace.with_origins(origins) for name, trace in found.traces.items()})


def ship_check_table(found: ShipChecks, origins: Mapping[str, str]) -> ColumnTable:
    """Return the checks as a table, a row per check; ``origins`` say where the ship's facts were measured."""
    checks = found.checks
    endless = ["" if np.isfinite(one.ratio) else "nothing is offered" for one in checks]

    def words(meaning: str, data: list[str]) -> Column:
        return Column(unit=Unit("label"), meaning=meaning, data=np.array(data, dtype=np.str_))

    def numbers(meaning: str, data: list[float]) -> Column:
        return Column(unit=Unit("-"), meaning=meaning, data=np.array(data, dtype=np.float64))

    return ColumnTable(
        "ship checks",
        {
            "check": words("check of the ship as a whole", [one.name for one in checks]),
            "ref": words("clause", [one.ref for one in checks]),
            "required": numbers("required, in the row's unit", [one.required for one in checks]),
            "offered": numbers("offered, in the row's unit", [one.offered for one in checks]),
            "unit": words("unit of required and offered", [one.unit for one in checks]),
            "offered_from": words("where the offered value comes from", [origins.get(one.fact, "") for one in checks]),
            "ratio": replace(
                numbers("required over offered", [one.ratio for one in checks]),
                reason=np.array(endless, dtype=np.str_),
            ),
            "outcome": words("outcome", [MET if one.ok else NOT_MET for one in checks]),
        },
    )


def ship_check_cells(found: ShipChecks | None) -> Iterator[Cell]:
    """Yield the cells of printed tables that the checks were read from."""
    if found is not None:
        yield from (cell for trace in found.traces.values() for node in trace.values() for cell in node.cells)
