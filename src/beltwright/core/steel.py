"""The density of steel: the one number that both the section catalogue and the weights need."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

from beltwright.core.provenance import Status
from beltwright.core.recordtable import load_records
from beltwright.core.ruletable import Cell


@dataclass(frozen=True, slots=True, kw_only=True)
class Density:
    """A density [kg/m3] with its source and standing, and its cell for the report's list."""

    kg_per_m3: float
    source: str
    status: Status
    cell: Cell


@cache
def steel_density() -> Density:
    """Return the density of hull steel, 7,850 kg/m3, from the data file.

    >>> steel_density().kg_per_m3
    7850.0
    """
    table = load_records("beltwright.core", "steel_density.csv")
    return Density(
        kg_per_m3=float(table.numbers("density_kg_per_m3")[0]),
        source=str(table.words("source")[0]),
        status=table.statuses()[0],
        cell=table.cells("material", ["hull steel"], ["density_kg_per_m3"])[0],
    )
