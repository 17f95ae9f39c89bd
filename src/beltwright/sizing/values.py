"""What there is to choose from, and what it costs in whole units: grams, or thousandths of the ship's money."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence

import numpy as np

from beltwright.core.errors import InputError
from beltwright.core.units import FloatArray, IntArray
from beltwright.materials.hull_steel import hull_steels, plate_mass_kg_per_m2
from beltwright.scantlings.plating import stock_of
from beltwright.scantlings.sectionstock import SectionStock
from beltwright.ship.model import Ship
from beltwright.weights.costing import KG_PER_T, Costing, Money, prices_of

G_PER_KG = 1000.0
G_PER_T, THOUSANDTHS = 1e6, 1000.0
PORT_AND_STARBOARD = 2
Pair = tuple[int, int]


class Values:
    """Stock, grades, limits and prices of one ship's sizing.

    ``by_area`` makes all frames of a zone in one hull area alike: for comparison only. ``second`` is another objective
    in which everything is priced beside the ship's own. ``graded`` says that the rule set asks for letters of steel
    grades, so that other letters of the same strength are there to choose.

    Raises InputError for a mix that counts nothing, or sections that are not in stock.
    """

    def __init__(
        self, ship: Ship, stock: SectionStock, *, by_area: bool = False, second: str = "", graded: bool = False
    ) -> None:
        given = ship.sizing
        self.costing = Costing(prices_of(ship))
        self.objective, self.second, self._stock = given.objective, second, stock
        self.unit, self.second_unit = (unit_of(one, ship.cost.currency) for one in (given.objective, second))
        mix = given.mix
        self._mix = mix.points_per_t, mix.points_per_money, mix.points_per_t_co2
        if "mix" in (given.objective, second) and not any(self._mix):
            raise InputError("ship.toml: sizing.mix", "counts nothing", allowed="points for mass, money or CO2")
        self.steps_mm: FloatArray = np.asarray(stock_of(ship).thicknesses_mm, dtype=np.float64)
        self.floor_mm = ship.stock.floor_mm
        self._letters = given.grade_letters if graded else "as given"
        self.plate_grades = self.letters_of(given.plate_grades or (ship.steel.plate_grade,))
        self.frame_grades = self.letters_of(given.frame_grades or (ship.steel.frame_grade,))
        self.neighbour_step_mm = given.neighbour_step_mm
        self.most_thicknesses, self.most_profiles = given.most_thicknesses, given.most_profiles
        self.excess_mm = given.plate_excess_mm
        self.alike_through, self.by_area = given.alike_through, by_area
        self.sections = _sections(ship, stock)
        self.with_supports = _changes_supports(ship)

    def section_name(self, row: int) -> str:
        """Return the name of a section of the stock."""
        return self._stock.name(row)

    def letters_of(self, grades: Sequence[str]) -> tuple[str, ...]:
        """Return grades with the other letters of their strengths that may be chosen too, each once."""
        table, found = hull_steels(), dict[str, None]()
        for name in grades:
            own = table.steel(name, where="ship.toml: sizing")
            found[own.grade] = None
            for other in table.grades if self._letters != "as given" else ():
                alike = other[1:] == own.grade[1:] and table.steel(other).family == own.family
                if alike and (self._letters == "any" or other[0] > own.grade[0]):
                    found[other] = None
        return tuple(found)

    def plate(self, thickness_mm: float, grade: str, area_m2: float, edge_m: float, curved_m2: float) -> Pair:
        """Return what a plate costs on both sides, by the objective and by the second one (0 without one).

        ``edge_m`` is its share of the welds around it, ``curved_m2`` the area that has to be bent.
        """
        kg = plate_mass_kg_per_m2(np.array([thickness_mm])) * area_m2

        def money() -> Money:
            return self.costing.plating(
                {grade: kg}, joints_m_mm=edge_m * thickness_mm, bent_m2_mm=curved_m2 * thickness_mm,
                pieces=PORT_AND_STARBOARD,
            )  # fmt: skip

        price, other = self._whole(kg, grade, money)[0].tolist()
        return price, other

    def plate_rate(self, grade: str) -> float:
        """Return what a kilogram of plating of a grade costs by the objective, joints, pieces and bending left out."""
        kg = np.array([1.0])

        def money() -> Money:
            return self.costing.plating({grade: kg}, joints_m_mm=0.0, bent_m2_mm=0.0, pieces=0.0)

        return float(self._priced(self.objective, kg, grade, money)[0])

    def supports(self, by_grade: Mapping[str, tuple[float, float, int]]) -> Pair:
        """Return what web frames and stringers cost, as :meth:`plate`: mass [kg], length [m], number of both sides."""
        total = np.zeros(2, dtype=np.int64)
        for grade, (mass, length, number) in by_grade.items():
            kg = np.array([mass])

            def money(grade: str = grade, kg: FloatArray = kg, length: float = length, number: int = number) -> Money:
                return self.costing.frames({grade: kg}, length_m=length, spans=number)

            total += self._whole(kg, grade, money)[0]
        price, other = total.tolist()
        return price, other

    def frame(self, row: int, grade: str, length_m: float, spans: int) -> Pair:
        """Return what frames cost: ``length_m`` and ``spans`` on one side, the price for both; as :meth:`plate`."""
        price, other = self._frames(np.array([row]), grade, length_m, spans)[0].tolist()
        return price, other

    def frames(self, grade: str, length_m: float, spans: int) -> IntArray:
        """Return what frames cost (s, 2) with each section to choose from, in their order, as in :meth:`frame`."""
        return self._frames(self.sections, grade, length_m, spans)

    def _frames(self, rows: IntArray, grade: str, length_m: float, spans: int) -> IntArray:
        kg = PORT_AND_STARBOARD * length_m * self._stock.mass_kg_per_m(rows)

        def money() -> Money:
            return self.costing.frames(
                {grade: kg}, length_m=PORT_AND_STARBOARD * length_m, spans=PORT_AND_STARBOARD * spans
            )

        return self._whole(kg, grade, money)

    def _whole(self, kg: FloatArray, grade: str, money: Callable[[], Money]) -> IntArray:
        """What masses (n,) of a grade come to by the objective and the second one (n, 2), in whole units."""
        both = [self._priced(one, kg, grade, money) for one in (self.objective, self.second)]
        whole: IntArray = np.rint(np.stack(both, axis=-1)).astype(np.int64)
        return whole

    def _priced(self, objective: str, kg: FloatArray, grade: str, money: Callable[[], Money]) -> FloatArray:
        """What masses (n,) of a grade come to by an objective."""
        if objective == "mass":
            return kg * G_PER_KG
        if objective == "cost":
            return np.asarray(money().total) * THOUSANDTHS
        if objective == "co2":
            return np.asarray(self.costing.co2_t({grade: kg})) * G_PER_T
        points = np.zeros(len(kg))
        if objective == "mix":
            by_mass, by_money, by_co2 = self._mix
            points = by_mass * kg / KG_PER_T
            points = points + by_money * np.asarray(money().total) if by_money else points
            points = points + by_co2 * np.asarray(self.costing.co2_t({grade: kg})) if by_co2 else points
        return points * THOUSANDTHS


def _changes_supports(ship: Ship) -> bool:
    """Whether there is a choice that moves web frames or stringers, so that what they weigh counts."""
    given = ship.sizing
    moved = any(one.web_frame_spacing_m is not None for one in given.framing)
    return bool(given.frame_spacings_m or given.spacings or given.stringers or moved)


def unit_of(objective: str, currency: str) -> str:
    """Return what a price counts by an objective, nothing for none; InputError for one that is not known."""
    units = {
        "mass": "g", "cost": f"thousandths of {currency}", "co2": "g of carbon dioxide",
        "mix": "thousandths of points", "": "",
    }  # fmt: skip
    if objective not in units:
        known = ", ".join(name for name in units if name)
        raise InputError("sizing.objective", "is not known", value=objective, allowed=known)
    return units[objective]


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
