"""What there is to choose from, and what it costs in whole units: grams, or thousandths of the ship's money."""

from __future__ import annotations

from collections.abc import Mapping

import numpy as np

from beltwright.core.errors import InputError
from beltwright.core.units import FloatArray, IntArray
from beltwright.materials.hull_steel import plate_mass_kg_per_m2
from beltwright.scantlings.plating import stock_of
from beltwright.scantlings.sectionstock import SectionStock
from beltwright.ship.model import Ship
from beltwright.ship.sizing import Prices

G_PER_KG = 1000.0
UNITS = {"mass": "g", "cost": "thousandths of the ship's money", "co2": "g of carbon dioxide"}


class Values:
    """Stock, grades, limits and prices of one ship's sizing.

    ``by_area`` makes all frames of a zone in one hull area alike: for comparison only.
    """

    def __init__(self, ship: Ship, stock: SectionStock, *, by_area: bool = False) -> None:
        given = ship.sizing
        self.objective, self.unit, self._stock = given.objective, UNITS[given.objective], stock
        self.steps_mm: FloatArray = np.asarray(stock_of(ship).thicknesses_mm, dtype=np.float64)
        self.floor_mm = ship.stock.floor_mm
        self.plate_grades = given.plate_grades or (ship.steel.plate_grade,)
        self.frame_grades = given.frame_grades or (ship.steel.frame_grade,)
        self.neighbour_step_mm = given.neighbour_step_mm
        self.most_thicknesses, self.most_profiles = given.most_thicknesses, given.most_profiles
        self.excess_mm = given.plate_excess_mm
        self.alike_through, self.by_area = given.alike_through, by_area
        self.sections = _sections(ship, stock)
        self._prices = given.prices
        self._per_kg = _per_kg(given.prices)

    def section_name(self, row: int) -> str:
        """Return the name of a section of the stock."""
        return self._stock.name(row)

    def plate(self, thickness_mm: float, grade: str, area_m2: float, edge_m: float, curved_m2: float) -> int:
        """Return what a plate costs on both sides.

        ``edge_m`` is its share of the welds around it, ``curved_m2`` the area that has to be bent.
        """
        kg, work = float(plate_mass_kg_per_m2(np.array([thickness_mm]))[0]) * area_m2, 0.0
        if self.objective == "cost":
            weld, bend = self._prices.plate_weld_money_per_m_mm, self._prices.bending_money_per_m2_mm
            work = (edge_m * weld + curved_m2 * bend) * thickness_mm * 1000.0
        return round(self._steel(kg, grade) + work)

    def frame(self, row: int, grade: str, length_m: float, spans: int) -> int:
        """Return what frames cost: ``length_m`` and ``spans`` on one side, the price for both."""
        return int(self._frames(np.array([row]), grade, length_m, spans)[0])

    def frames(self, grade: str, length_m: float, spans: int) -> IntArray:
        """Return what frames cost with each section to choose from, in their order, as in :meth:`frame`."""
        return self._frames(self.sections, grade, length_m, spans)

    def _frames(self, rows: IntArray, grade: str, length_m: float, spans: int) -> IntArray:
        kg, work = 2.0 * length_m * self._stock.mass_kg_per_m(rows), 0.0
        if self.objective == "cost":
            prices = self._prices
            work = 2.0 * (length_m * prices.frame_weld_money_per_m + spans * prices.frame_piece_money) * 1000.0
        whole: IntArray = np.rint(self._steel(1.0, grade) * kg + work).astype(np.int64)
        return whole

    def _steel(self, kg: float, grade: str) -> float:
        """The price of steel."""
        if self.objective == "mass":
            return kg * G_PER_KG
        money, co2 = self._per_kg.get(grade, self._per_kg[""])
        return kg * (money * 1000.0 if self.objective == "cost" else co2 * G_PER_KG)


def _per_kg(prices: Prices) -> Mapping[str, tuple[float, float]]:
    """Money and carbon dioxide of a kilogram by grade; "" for all others."""
    listed = {one.grade: (one.money_per_t / 1000.0, one.co2_t_per_t) for one in prices.grades}
    return {**listed, "": (prices.other_grades_money_per_t / 1000.0, prices.other_grades_co2_t_per_t)}


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
