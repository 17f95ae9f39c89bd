"""What a rule set wants to know of the ship as a whole: measured on the hull or told in ``ship.toml``, on demand.

Each fact has one source by its name in the vocabulary. Only what a rule set names is measured and asked for.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from typing import Any, Final

import numpy as np
from numpy.typing import NDArray

from beltwright.core.chain import Quantity
from beltwright.core.findings import Findings
from beltwright.scantlings.design import HullMeasures
from beltwright.scantlings.ship_facts import bow, described, regions, upper_waterline
from beltwright.scantlings.ship_facts.reading import Reading, Told
from beltwright.ship.model import Ship

ShipFacts = tuple[dict[str, NDArray[Any]], dict[str, str]]
MEASURED: Final[Mapping[str, Callable[[Reading], Told]]] = {
    **upper_waterline.SOURCES,
    **regions.SOURCES,
    **bow.SOURCES,
}


def known_facts() -> frozenset[str]:
    """Return the names of all facts that have a source."""
    return frozenset((*described.SOURCES, *MEASURED))


def ship_facts(ship: Ship, measures: HullMeasures, findings: Findings, wanted: Iterable[Quantity]) -> ShipFacts:
    """Return the wanted facts of the ship as columns (k,) in the vocabulary of the rule sets, and their origins.

    Most columns have one row; what differs by waterline or draught has more. Findings are added to ``findings``.

    Raises
    ------
    InputError : something wanted is not told in ``ship.toml``, or the hull does not have it
    LookupError : a wanted fact has no source
    """
    reading = Reading(ship=ship, measures=measures, findings=findings)
    told = {quantity.name: _told(reading, quantity.name) for quantity in wanted}
    columns = {name: np.array(list(one.values)) for name, one in told.items()}
    return columns, {name: one.origin for name, one in told.items()}


def check_told(ship: Ship, wanted: Iterable[Quantity]) -> None:
    """Refuse a description that lacks what a rule set wants to be told; no hull is needed.

    Raises InputError naming the field and what is allowed.
    """
    for quantity in wanted:
        if quantity.name in described.SOURCES:
            described.SOURCES[quantity.name](ship)


def _told(reading: Reading, name: str) -> Told:
    """One fact from its source."""
    if name in described.SOURCES:
        return described.SOURCES[name](reading.ship)
    if name not in MEASURED:
        raise LookupError(f"fact {name}: nothing measures it")
    return MEASURED[name](reading)
