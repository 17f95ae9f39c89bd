"""The picture of a route: every cell's shares and lowest index counted again from the regimes, one at a time."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest

from beltwright.drawing.backends.svg import to_svg
from beltwright.drawing.scene import Filled, Lines
from beltwright.report.route_picture import MOST_STRETCHES, _cells, route_picture
from beltwright.rules.polaris_imo_2016.tables import CLASSES
from beltwright.voyage import study
from beltwright.voyage.study import RouteStudy

ROUTE = Path("examples/voyage/route.csv")


@pytest.fixture(scope="module")
def made() -> RouteStudy:
    """The demonstration route studied."""
    return study(ROUTE, ice_class="PC5")


def test_stretches_count_their_point_days_together(made: RouteStudy) -> None:
    """By hand: the point-days of three points added up one by one, and the least of their lowest indices."""
    table = made.tables["route_points"]
    block = _cells("", ["a", "b"], table, np.array([0, 3, 5, 40]))
    rows = [row for row in range(table.rows) if table.labels("ice_class")[row] == "PC6"][:3]
    days = [float(table["regimes"].data[row]) for row in rows]
    special = sum(float(table["share_special"].data[row]) * day for row, day in zip(rows, days, strict=True))
    k = CLASSES.index("PC6")
    assert block.shares[k, 0, 2] == pytest.approx(special / sum(days), abs=1e-12)
    assert block.lowest[k, 0] == min(int(table["lowest_index"].data[row]) for row in rows)
    assert block.shares.sum(axis=2) == pytest.approx(np.ones((len(CLASSES), 3)))


def test_the_picture_names_classes_months_and_its_standing(made: RouteStudy) -> None:
    scene = route_picture(made, "route.csv", "PC5")
    words = [item.text for item in scene.words()]
    assert {"PC5 (own)", "PC1", "none", "Jan", "Dec"} <= set(words)
    assert any("no permission" in word for word in words)
    assert f"40 points in {MOST_STRETCHES} stretches" in next(word for word in words if word.startswith("Along"))


def test_what_is_filled_is_as_large_as_its_share(made: RouteStudy) -> None:
    """All cells are filled whole, and the fill of special consideration has the share of its point-days."""
    scene = route_picture(made, "route.csv")
    group = next(group for group in scene.groups if group.name == "cells 1")
    area = {"area-BI": 0.0, "area-Ml": 0.0, "area-Sb": 0.0}
    for item in group.items:
        if isinstance(item, Filled):
            low, high = item.rings[0].min(axis=0), item.rings[0].max(axis=0)
            area[item.fill] += float(np.prod(high - low))
    months = made.tables["route_months"]
    count = months.rows
    whole = sum(area.values())
    assert area["area-Sb"] / whole == pytest.approx(float(months["share_special"].data.sum()) / count, rel=1e-9)
    assert area["area-BI"] / whole == pytest.approx(float(months["share_normal"].data.sum()) / count, rel=1e-9)


def test_words_of_the_file_are_escaped_and_nothing_leaves_the_sheet(made: RouteStudy) -> None:
    scene = route_picture(made, "<script>.csv", "PC5")
    assert "<script>" not in to_svg(scene)
    for group in scene.groups:
        for item in group.items:
            if isinstance(item, Lines):
                points = np.concatenate(item.runs)
                assert (points >= 0.0).all()
                assert (points <= [scene.width_mm, scene.height_mm]).all()
    for words in scene.words():
        assert (words.box >= 0.0).all()
        assert (words.box <= [scene.width_mm, scene.height_mm]).all()
