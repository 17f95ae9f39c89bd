"""The load patch in a picture has the size that the rule gives it."""

from __future__ import annotations

import numpy as np
import pytest
from tests.scantlings.demo import project

from beltwright.app.loadpatch import COLUMNS, ROWS, patch_on_panel
from beltwright.scantlings.design import Design


@pytest.fixture(scope="module")
def design() -> Design:
    """The design of the PC4 demo ship."""
    return project("quillan-frostmark").results.design


@pytest.mark.parametrize("area", ["B", "BIi", "Mi", "Si"])
def test_width_along_the_waterline_and_height_along_the_girth(design: Design, area: str) -> None:
    """Measured on the points themselves: the middle row's horizontal length, the middle column's length."""
    rows = np.flatnonzero(design.plating.labels("hull_area") == area)
    row = int(rows[len(rows) // 2])
    points = patch_on_panel(design, row)
    assert points.shape == (ROWS, COLUMNS, 3)
    middle = points[ROWS // 2, :, :2]
    width = float(np.linalg.norm(np.diff(middle, axis=0), axis=1).sum())
    column = points[:, COLUMNS // 2]
    height = float(np.linalg.norm(np.diff(column, axis=0), axis=1).sum())
    assert width == pytest.approx(float(design.plating["patch_width_m"].data[row]), rel=0.03)
    assert height == pytest.approx(float(design.plating["patch_height_m"].data[row]), rel=0.01)
    centre = design.arrangement.panel_shapes.samples[row, 4]
    assert points[ROWS // 2, COLUMNS // 2] == pytest.approx(centre, abs=0.01)


def test_where_nothing_is_asked_there_is_no_patch(design: Design) -> None:
    row = int(np.flatnonzero(design.plating.labels("outcome") == "no ice requirement")[0])
    assert patch_on_panel(design, row).size == 0
