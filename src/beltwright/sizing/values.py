"""What there is to choose from, and what it costs in whole units: grams, or thousandths of the ship's money."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np

from beltwright.core.errors import InputError
from beltwright.core.units import FloatArray, IntArray
from beltwright.materials.hull_steel import plate_mass_kg_per_m2
from beltwright.scantlings.plating import stock_of
from beltwright.scantlings.sectionstock import SectionStock
from beltwright.ship.model import Ship
from beltwright.weights.costing import Costing, Money, prices_of

G_PER_KG = 1000.0
G_PER_T, THOUSANDTHS = 1e6, 1000.0
PORT_AND_STARBOARD = 2


class Values:
    """Stock, grades, limits and prices of one ship's sizing.

    ``by_area`` makes all frames of a zone in one hull area alike: for comparison only.
    """

    def __init__(self, ship: Ship, stock: SectionStock, *, by_area: bool = False) -> None:
        given = ship.sizing
        self.costing = Costing(prices_of(ship))
        self.objective, self._stock = given.objective, stock
        self.unit = unit_of(given.objective, ship.cost.currency)
        self.steps_mm: FloatArray = np.asarray(stock_of(ship).thicknesses_mm, dtype=np.float64)
        self.floor_mm = ship.stock.floor_mm
        self.plate_grades = given.plate_grades or (ship.steel.plate_grade,)
        self.frame_grades = given.frame_grades or (ship.steel.frame_grade,)
        self.neighbour_step_mm = given.neighbour_step_mm
        self.most_thicknesses, self.most_profiles = given.most_thicknesses, given.most_profiles
        self.excess_mm = given.plate_excess_mm
        self.alike_through, self.by_area = given.alike_through, by_area
        self.sections = _sections(ship, stock)

    def section_name(self, row: int) -> str:
        """Return the name of a section of the stock."""
        return self._stock.name(row)

    def plate(self, thickness_mm: float, grade: str, area_m2: float, edge_m: float, curved_m2: float) -> int:
        """Return what a plate costs on both sides.

        ``edge_m`` is its share of the welds around it, ``curved_m2`` the area that has to be bent.
        """
        kg = plate_mass_kg_per_m2(np.array([thickness_mm])) * area_m2

        def money() -> Money:
            return self.costing.plating(
                {grade: kg}, joints_m_mm=edge_m * thickness_mm, bent_m2_mm=curved_m2 * thickness_mm,
                pieces=PORT_AND_STARBOARD,
            )  # fmt: skip

        return int(self._whole(kg, grade, money)[0])

    def frame(self, row: int, grade: str, length_m: float, spans: int) -> int:
        """Return what frames cost: ``length_m`` and ``spans`` on one side, the price for both."""
        return int(self._frames(np.array([row]), grade, length_m, spans)[0])

    def frames(self, grade: str, length_m: float, spans: int) -> IntArray:
        """Return what frames cost with each section to choose from, in their order, as in :meth:`frame`."""
        return self._frames(self.sections, grade, length_m, spans)

    def _frames(self, rows: IntArray, grade: str, length_m: float, spans: int) -> IntArray:
        kg = PORT_AND_STARBOARD * length_m * self._stock.mass_kg_per_m(rows)

        def money() -> Money:
            return self.costing.frames(
                {grade: kg}, length_m=PORT_AND_STARBOARD * length_m, spans=PORT_AND_STARBOARD * spans
            )

        return self._whole(kg, grade, money)

    def _whole(self, kg: FloatArray, grade: str, money: Callable[[], Money]) -> IntArray:
        """What masses (n,) of a grade come to by the objective, in whole units."""
        if self.objective == "mass":
            price = kg * G_PER_KG
        elif self.objective == "cost":
            price = np.asarray(money().total) * THOUSANDTHS
        else:
            price = np.asarray(self.costing.co2_t({grade: kg})) * G_PER_T
        whole: IntArray = np.rint(price).astype(np.int64)
        return whole


def unit_of(objective: str, currency: str) -> str:
    """Return what a price counts by an objective."""
    return {"mass": "g", "cost": f"thousandths of {currency}", "co2": "g of carbon dioxide"}[objective]


def _sections(ship: Ship, stock: SectionStock) -> IntArray:
    """The sections to choose from, rows of the stock, lightest first."""
    rows, given = stock.candidates, ship.sizing
    if given.profiles:
        missing = sorted(set(given.profiles) - set(stock.names(rows).tolist()))
        if missing:
            kinds = f"sections of the kinds in stock: {', '.join(ship.stock.frame_kinds)}"
            raise InputError("ship.toml: sizing.profiles", "is not in stock", value=missing[0], allowed=kinds)
        rows = rows[np.isin(stock.names(rows), list(given.profiles))]
    if given.frame_depth_most_mm is not None:
        deep = stock.columns(rows, ("stiffener_height_mm",))["stiffener_height_mm"]
        rows = rows[deep <= given.frame_depth_most_mm]
    if not len(rows):
        kinds = f"sections of the kinds in stock: {', '.join(ship.stock.frame_kinds)}"
        raise InputError("ship.toml: sizing", "no section is left to choose from", allowed=kinds)
    return rows
