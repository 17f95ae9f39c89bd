"""Where the load patch of a panel lies on the shell, to scale: for pictures, not for calculations."""

from __future__ import annotations

import numpy as np

from beltwright.core.units import FloatArray
from beltwright.hull.section import Sections, sections
from beltwright.scantlings.design import Design

_CENTRE = 4  # the sample of a panel that lies in its middle
ROWS, COLUMNS = 5, 5


def patch_on_panel(design: Design, row: int) -> FloatArray:
    """Return points of the load patch centred on a panel (rows along the girth, columns along the ship, 3) [m].

    Its width is laid along the waterline and its height along the girth, as the rule's rectangle is meant; where the
    section ends it is cut. Empty (0, 0, 3) where no load is asked of the panel.
    """
    table, shapes = design.plating, design.arrangement.panel_shapes
    width, height = table["patch_width_m"], table["patch_height_m"]
    if not (width.applies[row] and height.applies[row]) or np.isnan(width.data[row]):
        return np.zeros((0, 0, 3))
    centre, normal = shapes.samples[row, _CENTRE], shapes.sample_normals[row, _CENTRE]
    along = abs(float(normal[1])) / max(float(np.hypot(normal[0], normal[1])), 1e-9)
    half = 0.5 * float(width.data[row]) * along
    low, high = design.measures.shell.bounds[:, 0]
    x = np.clip(centre[0] + half * np.linspace(-1.0, 1.0, COLUMNS), low + 1e-3, high - 1e-3)
    cut = sections(design.measures.shell, x)
    total = cut.girth_total_m
    if np.isnan(total).any():
        return np.zeros((0, 0, 3))
    every = np.arange(COLUMNS)
    girth = _on_the_waterline(cut, centre)
    if girth is None:
        return np.zeros((0, 0, 3))
    reach = 0.5 * float(height.data[row]) * np.linspace(-1.0, 1.0, ROWS)
    wanted = np.clip(girth[None, :] + reach[:, None], 0.0, total[None, :])
    places = cut.at_girth(np.tile(every, ROWS), wanted.ravel())
    return np.asarray(places.at.points, dtype=np.float64).reshape(ROWS, COLUMNS, 3)


def _on_the_waterline(cut: Sections, centre: FloatArray) -> FloatArray | None:
    """The girth (sections,) at the centre's height, on each section the place nearest to the centre's; None if not met.

    A level that is met several times (a bulb, a flat bottom) is taken where the half-breadth is nearest.
    """
    met = cut.at_heights(np.array([centre[2]]))
    found = np.full(cut.x_m.size, np.nan)
    for section in range(cut.x_m.size):
        here = np.flatnonzero((met.section == section) & met.main)
        if not here.size:
            return None
        found[section] = met.girth_m[here[np.argmin(np.abs(met.at.points[here, 1] - centre[1]))]]
    return found
