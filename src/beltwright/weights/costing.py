"""What plates and frames cost and what carbon dioxide their steel made, by one table of prices for every comparison."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, fields

import numpy as np

from beltwright.arrangement.model import Arrangement
from beltwright.core.units import BoolArray, FloatArray
from beltwright.materials.prices import (
    ASSUMED,
    CO2,
    STEEL,
    PriceRow,
    PriceTable,
    package_prices,
    parse_prices,
    price_row,
)
from beltwright.ship.cost import Cost, PriceLine
from beltwright.ship.model import Ship
from beltwright.weights.shellplates import Cover, ShellPlates

Amount = FloatArray | float
KG_PER_T = 1000.0
PULLED_DEG = 5.0  # a plate that turns by less is pulled to shape, not bent; common practice, no source


def prices_of(ship: Ship) -> PriceTable:
    """Return the prices that hold for a ship: those of ``cost`` in ship.toml over those of the program.

    Of two lines on one thing the later one stands. Raises InputError for a line with an unknown grade, without a grade
    where the item is priced by it, or with one where it is not.
    """
    rows: dict[tuple[str, str], PriceRow] = {}
    for number, line in enumerate(ship.cost.prices, 1):
        where = f"ship.toml: cost.prices[{number}]"
        row = price_row(line.item, line.grade or "", line.amount, line.source, where)
        rows[row.item, row.grade] = row
    return package_prices().over(rows.values(), ship.cost.currency)


def with_prices(ship: Ship, text: str, filename: str) -> Ship:
    """Return the ship with the prices of a file over those that it has; InputError for what is no table of prices.

    The file's currency becomes the ship's: where it is another one, the ship's own prices in money go.
    """
    table = parse_prices(text, filename)
    kept = [line for line in ship.cost.prices if table.currency == ship.cost.currency or line.item == CO2]
    given = [
        PriceLine.model_validate(
            {"item": row.item, "grade": row.grade or None, "amount": row.amount, "source": row.source}
        )
        for row in table.rows
    ]
    cost = Cost.model_validate({"currency": table.currency, "prices": (*kept, *given)})
    return ship.model_copy(update={"cost": cost})


@dataclass(frozen=True, slots=True, kw_only=True)
class Money:
    """What something costs, by cause: steel, work by weight, welding, handling of pieces, bending.

    Numbers, or arrays of one shape.
    """

    steel: Amount = 0.0
    work: Amount = 0.0
    welding: Amount = 0.0
    pieces: Amount = 0.0
    bending: Amount = 0.0

    @property
    def total(self) -> Amount:
        """The sum of all causes."""
        return self.steel + self.work + self.welding + self.pieces + self.bending

    def __add__(self, other: Money) -> Money:
        return Money(**{part.name: getattr(self, part.name) + getattr(other, part.name) for part in fields(self)})


class Costing:
    """A table of prices put to use; it remembers which rows were asked for. All amounts are of both sides."""

    def __init__(self, table: PriceTable) -> None:
        self.table = table
        self._used: dict[tuple[str, str], PriceRow] = {}

    def _amount(self, item: str, grade: str = "") -> float:
        row = self.table.row(item, grade)
        self._used[row.item, row.grade] = row
        return row.amount

    def assumed(self) -> tuple[str, ...]:
        """Return in words what was used and is only assumed, grades of one item together."""
        found: dict[str, list[str]] = {}
        for row in self._used.values():
            if row.source == ASSUMED:
                found.setdefault(row.item, []).append(row.grade)
        return tuple(f"{item} {', '.join(sorted(set(grades)))}".strip() for item, grades in found.items())

    def used(self) -> Iterator[PriceRow]:
        """Yield every row that was asked for, in the table's order."""
        yield from (row for row in self.table.rows if (row.item, row.grade) in self._used)

    def plating(self, kg: Mapping[str, Amount], *, joints_m_mm: float, bent_m2_mm: float, pieces: float) -> Money:
        """Return what plates cost, masses by grade [kg].

        ``joints_m_mm`` is the length of joints times thickness [m mm], ``bent_m2_mm`` bent area times thickness
        [m2 mm], ``pieces`` the number of plates.
        """
        return Money(
            steel=self._steel(kg),
            work=sum(kg.values()) / KG_PER_T * self._amount("plate work"),
            welding=joints_m_mm * self._amount("plate weld"),
            pieces=pieces * self._amount("plate piece"),
            bending=bent_m2_mm * self._amount("bending"),
        )

    def frames(self, kg: Mapping[str, Amount], *, length_m: float, spans: float) -> Money:
        """Return what frames cost, masses by grade [kg], welded along their length [m], fitted span by span."""
        return Money(
            steel=self._steel(kg),
            work=sum(kg.values()) / KG_PER_T * self._amount("frame work"),
            welding=length_m * self._amount("frame weld"),
            pieces=spans * self._amount("frame piece"),
        )

    def _steel(self, kg: Mapping[str, Amount]) -> Amount:
        return sum(mass / KG_PER_T * self._amount(STEEL, grade) for grade, mass in kg.items())

    def co2_t(self, kg: Mapping[str, Amount]) -> Amount:
        """Return the carbon dioxide of making steel [t], masses by grade [kg]."""
        return sum(mass / KG_PER_T * self._amount(CO2, grade) for grade, mass in kg.items())

    def engine(self, kilowatts: float) -> float:
        """Return what an engine output costs, installed."""
        return kilowatts * self._amount("engine")


@dataclass(frozen=True, slots=True, kw_only=True)
class PlateWork:
    """What every plate (p,) brings: net area of both sides [m2], welded edge of both sides [m], whether it is bent.

    An edge is shared with a neighbour: half of it counts on each side of the joint.
    """

    area_m2: FloatArray
    edge_m: FloatArray
    bent: BoolArray


def plate_work(arrangement: Arrangement, plates: ShellPlates, cover: Cover) -> PlateWork:
    """Return area, edges and bending of the plates that cover an arrangement's panels."""
    count, net = len(plates.names), arrangement.panels.values("net_area_m2")
    area = np.zeros(count)
    np.add.at(area, cover.plate, cover.share * net[cover.panel])
    normals = arrangement.panel_shapes.sample_normals
    bent = np.zeros(count, dtype=bool)
    for plate in np.unique(cover.plate):
        own = normals[cover.panel[cover.plate == plate]].reshape(-1, 3)
        mean = own.mean(axis=0)
        bent[plate] = bool((own @ mean < np.cos(np.radians(PULLED_DEG)) * np.linalg.norm(mean)).any())
    return PlateWork(area_m2=area, edge_m=np.array([shape.length for shape in plates.outlines]), bent=bent)
