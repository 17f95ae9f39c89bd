"""What pictures of the shell are made of: classes of panels that say what the tables say, and points on the shell."""

from __future__ import annotations

import json

import numpy as np
import pytest
from tests.scantlings.demo import project

from beltwright.app.colouring import COLOURINGS, Colouring, colour_panels
from beltwright.app.shellmesh import POINTS, shell_mesh
from beltwright.scantlings.design import Design

NAME = "quillan-frostmark"


@pytest.fixture(scope="module")
def design() -> Design:
    """The design of the demo ship."""
    return project(NAME).results.design


def coloured(design: Design, by: str) -> Colouring:
    """The panels coloured one way."""
    return colour_panels(by, design.arrangement, design.plating, design.grades)


@pytest.mark.parametrize("by", list(COLOURINGS))
def test_every_panel_has_one_class_with_words(design: Design, by: str) -> None:
    made = coloured(design, by)
    assert made.classes.dtype == np.uint8
    assert len(made.classes) == design.plating.rows
    assert sum(made.counts) == design.plating.rows
    assert made.classes.max() < len(made.labels)
    assert len(set(made.labels)) == len(made.labels)
    for number in np.unique(made.classes):
        assert made.counts[number] == int((made.classes == number).sum())


def test_thickness_classes_say_the_thickness_of_the_table(design: Design) -> None:
    made = coloured(design, "thickness")
    for row in range(0, design.plating.rows, 7):
        label, value = made.labels[made.classes[row]], float(design.plating["thickness_as_built_mm"].data[row])
        if np.isnan(value):
            assert label == "no thickness"
        elif " to " in label:
            low, high = (float(word) for word in label.removesuffix(" mm").split(" to "))
            assert low - 0.05 <= value <= high + 0.05
        else:
            assert float(label.removesuffix(" mm")) == pytest.approx(value, abs=0.05)


def test_utilisation_tells_what_is_not_met(design: Design) -> None:
    made = coloured(design, "utilisation")
    bad = design.plating.labels("outcome") == "not met"
    assert made.failed is not None
    assert np.array_equal(made.classes == made.failed, bad)
    ratio = design.plating["ratio"].data
    assert np.array_equal(made.classes == 0, np.isnan(ratio) & ~bad)


def test_the_pressure_is_the_product_of_its_factors(design: Design) -> None:
    """Hand: average pressure times area factor times peak factor, of one panel of the bow."""
    made = coloured(design, "pressure")
    row = int(np.flatnonzero(design.plating.labels("hull_area") == "B")[0])
    told = design.plating.row(row)
    value = told["pressure_avg_mpa"] * told["area_factor"] * told["peak_pressure_factor"]
    label = made.labels[made.classes[row]].removesuffix(" MPa")
    low, high = (float(word) for word in label.split(" to ")) if " to " in label else (float(label), float(label))
    assert low - 0.005 <= value <= high + 0.005


def test_the_block_of_bytes_holds_the_points_it_says(design: Design) -> None:
    block = shell_mesh(design)
    length = int.from_bytes(block[:4], "little")
    head = json.loads(block[4 : 4 + length])
    assert head["numbers_from"] == 4 + length
    assert head["numbers_from"] % 4 == 0
    numbers = np.frombuffer(block[4 + length :], dtype="<f4").reshape(-1, 3)
    panels = len(head["panels"])
    assert len(numbers) == POINTS * panels + sum(line["points"] for line in head["lines"])
    assert head["panels"] == design.plating.labels("id").tolist()
    shapes = design.arrangement.panel_shapes
    first = numbers[: POINTS * panels].reshape(panels, POINTS, 3)
    assert np.allclose(first[:, :16], shapes.outline, atol=1e-4)
    centre = np.column_stack([design.arrangement.panels.values(f"centroid_{axis}_m") for axis in "xyz"])
    assert np.median(np.linalg.norm(first[:, 16] - centre, axis=1)) < 0.05
    assert {line["kind"] for line in head["lines"]} == {"border", "water"}
