"""Steel grades of panels and frame spans tried at thicknesses that nobody has fitted, by the rule set's own chain."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from beltwright.arrangement.model import Arrangement
from beltwright.core.chain import Columns
from beltwright.core.findings import Findings
from beltwright.core.units import BoolArray, FloatArray, IntArray
from beltwright.materials.hull_steel import hull_steels
from beltwright.rules.protocol import HullAreas, MemberRule
from beltwright.scantlings.appendages import NO_PART
from beltwright.scantlings.choose import Places
from beltwright.scantlings.design import HullMeasures
from beltwright.scantlings.grade_places import grade_places
from beltwright.scantlings.grades import FRAME, PLATE, Offered, declared_categories, grade_columns, grade_rows
from beltwright.scantlings.members import chain_inputs, touched_words
from beltwright.ship.model import Ship

_ROWS = 40_000  # members run at a time
_LETTERS = "ABDEF"


class GradeTrial:
    """What grade members ask for at a thickness; members are the panels, then the frame spans.

    Parameters
    ----------
    ship, rule, measures, arrangement, areas : as for a design; ``rule`` is the one on steel grades
    ship_columns : the ship's facts and loads by name
    touched : the hull areas that panels and spans touch, (n, areas) each
    places : where the panels lie
    """

    def __init__(
        self, ship: Ship, rule: MemberRule, measures: HullMeasures, arrangement: Arrangement, areas: HullAreas,
        ship_columns: Columns, touched: tuple[BoolArray, BoolArray], places: Places,
    ) -> None:  # fmt: skip
        self._ship, self._rule, self._areas, self._columns = ship, rule, areas, ship_columns
        panels, frames = arrangement.panels, arrangement.frames
        self._panels, count = panels.rows, panels.rows + frames.rows
        self._id = np.concatenate([panels.labels("id"), frames.labels("id")])
        self._zone = np.concatenate([panels.labels("zone"), frames.labels("zone")])
        self._touched = np.concatenate([touched_words(areas, one) for one in touched])
        self._geometry = grade_places(ship, measures, arrangement).columns()
        self._ranks: dict[tuple[str, str], float] = {}
        self._declared = declared_categories(ship, lambda: places, arrangement, count, Findings())

    def ratio(self, members: IntArray, thickness_mm: FloatArray, grades: Sequence[str]) -> FloatArray:
        """Return rank demanded over rank offered (m, t, g) of members (m,) at as-built thicknesses (t,) [mm] in grades.

        The most severe of the hull areas that a member touches counts. Grades of one strength share what is demanded.
        """
        shape = len(members), len(thickness_mm)
        found = np.zeros((*shape, len(grades)))
        every, thick = np.repeat(members, shape[1]), np.tile(thickness_mm, shape[0])
        demanded: dict[str, FloatArray] = {}
        check = self._rule.checks[0]
        for number, grade in enumerate(grades):
            steel = hull_steels().steel(grade)
            if steel.strength not in demanded:
                parts = [self._demanded(every[k : k + _ROWS], thick[k : k + _ROWS], steel.strength)
                         for k in range(0, len(every), _ROWS)]  # fmt: skip
                demanded[steel.strength] = np.concatenate(parts) if parts else np.zeros(0)
            ranks = demanded[steel.strength]
            offered = np.full(len(ranks), self._offered(steel.grade[0], steel.strength))
            found[:, :, number] = check.ratio({check.required: ranks, check.offered: offered}).reshape(shape)
        return found

    def _demanded(self, members: IntArray, thickness_mm: FloatArray, strength: str) -> FloatArray:
        """The rank that members ask for."""
        values = self._run(members, thickness_mm, strength, _LETTERS[0])
        found = np.full(len(members), -np.inf)
        np.maximum.at(found, values[0], values[1])
        return found

    def _offered(self, letter: str, strength: str) -> float:
        """The rank of a letter, by the rule's own step."""
        if (letter, strength) not in self._ranks:
            self._ranks[letter, strength] = float(self._run(np.array([0]), np.array([10.0]), strength, letter)[2][0])
        return self._ranks[letter, strength]

    def _run(
        self, members: IntArray, thickness_mm: FloatArray, strength: str, letter: str
    ) -> tuple[IntArray, FloatArray, FloatArray]:
        """Rows of the chain: the member of each, the rank demanded and the rank offered."""
        count = len(members)
        offered = Offered(
            kind=np.where(members < self._panels, PLATE, FRAME), part=np.full(count, NO_PART),
            stress_concentration=np.zeros(count, dtype=bool), id=self._id[members], zone=self._zone[members],
            touched=self._touched[members], thickness_mm=thickness_mm, grade=np.full(count, letter),
            letter=np.full(count, letter), strength=np.full(count, strength),
        )  # fmt: skip
        rows = grade_rows(offered)
        geometry = {name: column[members] for name, column in self._geometry.items()}
        own = grade_columns(self._ship, self._areas, offered, geometry, self._declared[members], rows)
        out = self._rule.values(chain_inputs(self._rule.chain, self._columns, own), offered.id[rows.member])
        check = self._rule.checks[0]
        shape = len(rows.member)
        return (
            rows.member,
            np.broadcast_to(out[check.required], shape),
            np.broadcast_to(out[check.offered], shape),
        )
