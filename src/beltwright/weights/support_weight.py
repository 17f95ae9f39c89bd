"""What web frames, floors and load-carrying stringers weigh as designed: sizes given times lengths on the shell.

They are priced where a choice of structure changes them, so that a closer web frame or one more stringer is not free.
Cut-outs are not deducted, and brackets and stiffeners on the webs not added.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from beltwright.arrangement.model import Arrangement
from beltwright.core.findings import Findings
from beltwright.core.steel import steel_density
from beltwright.core.units import BoolArray, FloatArray, LabelArray
from beltwright.rules.protocol import EVERYTHING, HullAreas
from beltwright.scantlings.areas import touched_by_lines
from beltwright.scantlings.design import HullMeasures
from beltwright.scantlings.members import member_rows
from beltwright.scantlings.support_lines import given_scantlings
from beltwright.scantlings.support_spans import support_spans
from beltwright.ship.model import Ship

_MM2_PER_M2 = 1e6


@dataclass(frozen=True, slots=True, kw_only=True)
class SupportWeight:
    """Web frame spans and stringer bays of one side (n,): name, kind, zone, grade, length [m], mass per metre [kg/m].

    The mass is NaN where no scantlings are given.
    """

    id: LabelArray
    kind: LabelArray
    zone: LabelArray
    grade: LabelArray
    length_m: FloatArray
    kg_per_m: FloatArray

    @property
    def unknown(self) -> BoolArray:
        """Which of them have no scantlings."""
        return np.isnan(self.kg_per_m)

    def by_grade(self, zone: str) -> dict[str, tuple[float, float, int]]:
        """Return mass [kg], length [m] and number of both sides by grade, in one zone."""
        mine = self.zone == zone
        found = {}
        for grade in np.unique(self.grade[mine]):
            own = mine & (self.grade == grade)
            kg = 2.0 * float((self.length_m * self.kg_per_m)[own].sum())
            found[str(grade)] = kg, 2.0 * float(self.length_m[own].sum()), 2 * int(own.sum())
        return found


def support_weight(ship: Ship, arrangement: Arrangement, areas: HullAreas, measures: HullMeasures) -> SupportWeight:
    """Return what the supports of an arrangement weigh, by the lines of ``web_frames`` and ``stringers``."""
    spans = support_spans(arrangement)
    rows = member_rows(areas, touched_by_lines(areas, measures, spans.points, spans.normals), *EVERYTHING)
    hull_area = np.full(spans.count, "", dtype="<U8")
    hull_area[rows.member] = rows.factor_area
    given = given_scantlings(ship, spans, hull_area.astype(np.str_), arrangement.levels, Findings())
    size = given.numbers
    area_mm2 = size["web_height_mm"] * size["web_as_built_mm"] + size["flange_breadth_mm"] * size["flange_as_built_mm"]
    return SupportWeight(
        id=spans.id,
        kind=spans.kind,
        zone=spans.zone,
        grade=given.grade,
        length_m=spans.length_m,
        kg_per_m=area_mm2 / _MM2_PER_M2 * steel_density().kg_per_m3,
    )
