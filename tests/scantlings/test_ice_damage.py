"""The extent of ice damage from the measured waterline, against the percentages by hand."""

from __future__ import annotations

import pytest
from tests.scantlings import ships

from beltwright.core.findings import Findings
from beltwright.scantlings.ice_damage import ice_damage
from beltwright.scantlings.measure import measure_hull


def test_extent_of_the_small_ship_by_hand() -> None:
    """kind: hand. Waterline from the transom at x = -1.5 m (or where it ends) to the stem at 47.5 m; draught 3.8 m.

    4.5 % and 1.5 % of the length; height 0.2 x 3.8 = 0.76 m, elsewhere at most the length of the damage; up to 4.56 m.
    """
    made = ice_damage(ships.baseline().measures)
    curve = ships.baseline().measures.upper.curve
    length = float(curve.points[:, 0].max() - curve.points[:, 0].min())
    assert made.waterline_length_m == pytest.approx(length)
    assert 45.0 < length < 49.1
    assert made.draught_m == pytest.approx(3.8)
    assert made.table.values("length_m").tolist() == pytest.approx([0.045 * length, 0.015 * length])
    assert made.table.values("height_m").tolist() == pytest.approx([0.76, min(0.76, 0.015 * length)])
    assert made.table.values("depth_mm").tolist() == [760.0, 760.0]
    assert made.table.values("highest_place_m").tolist() == pytest.approx([4.56, 4.56])
    assert 10.0 < made.breadth.aft_x_m < made.breadth.fore_x_m < 40.0


def test_a_trimmed_waterline_counts_its_greatest_draught() -> None:
    """kind: hand. Decision C10: 3.8 m at the AP falling to 3.4 m at the stem, more than 3.8 m at the transom aft."""

    def trim(doc: ships.Document) -> None:
        doc["waterlines"]["upper"] = [{"x_m": 0.0, "draught_m": 3.8}, {"x_m": 47.5, "draught_m": 3.4}]

    measures = measure_hull(ships.ship(trim), (), ships.placed(), Findings())
    made = ice_damage(measures)
    aft = measures.upper.curve.aft_end_x_m
    assert made.draught_m == pytest.approx(3.8 - aft * 0.4 / 47.5)
    assert made.table.values("highest_place_m")[0] == pytest.approx(1.2 * made.draught_m)
