"""The chapter and the figure of longitudinal strength: what they show, and where the labels stand."""

from __future__ import annotations

import numpy as np
import pytest
from tests.scantlings.test_girder import PLATE, STIFFENER, doc, made

from beltwright.drawing.backends.svg import to_svg
from beltwright.drawing.lettering import boxes_overlap
from beltwright.drawing.scene import Layer, Lines
from beltwright.drawing.sheets.girder import HEIGHT, WIDTH, girder_figure, round_marks
from beltwright.report.girder import girder_clauses, girder_material, places_shown


def test_the_figure_shows_every_curve_inside_the_sheet() -> None:
    design, _ = made(doc(plates=[PLATE], stiffeners=[STIFFENER]))
    given = girder_material(design, {})
    assert given is not None
    assert given.picture is not None
    scene = girder_figure(given.picture)
    layers = [item.layer for group in scene.groups for item in group.items if isinstance(item, Lines)]
    for layer in (Layer.ICE_LOAD, Layer.STILL_WATER_LOAD, Layer.TOTAL_LOAD, Layer.CARRIED_LOAD):
        assert layer in layers
    words = list(scene.words())
    for number, one in enumerate(words):
        assert one.box.min() >= 0.0
        assert (one.box <= np.array([WIDTH, HEIGHT])).all()
        assert not any(boxes_overlap(one.box, other.box) for other in words[:number]), one.text
    assert "MNm" in to_svg(scene)


def test_without_sections_the_figure_shows_the_demand_only() -> None:
    given = girder_material(made(None)[0], {})
    assert given is not None
    assert given.picture is not None
    names = [curve.name for panel in given.picture.panels for curve in panel.curves]
    assert names == ["ice", "", "ice"]
    assert (given.outcome, [part.title for part in given.parts]) == ("not checked", ["Vertical ice force at the bow"])


@pytest.mark.parametrize(("low", "high"), [(-7.6, 46.0), (0.0, 0.013), (-3.0, 0.0), (0.0, 1e4)])
def test_marks_are_round_and_enclose(low: float, high: float) -> None:
    marks = round_marks(low, high, 6)
    assert marks[0] <= low
    assert marks[-1] >= high
    assert 3 <= len(marks) <= 10
    assert np.allclose(np.diff(marks), marks[1] - marks[0])


def test_the_booklet_shows_sections_nodes_and_the_worst_place() -> None:
    design, _ = made(doc())
    rows = places_shown(design.stations)
    places = design.stations.labels("place")[rows].tolist()
    assert {"section aft", "section middle", "section stem"} <= set(places)
    assert int(np.nanargmax(design.stations["ratio"].data)) in rows
    assert {clause.document.short for clause in girder_clauses(design)} >= {"UR I2", "UR S11"}
    assert girder_clauses(None) == []
    assert girder_material(None, {}) is None
