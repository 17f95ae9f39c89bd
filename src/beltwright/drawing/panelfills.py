"""The panels of a ship as filled polygons, one shape per hull area, each polygon knowing which panel it is."""

from __future__ import annotations

from collections.abc import Sequence

from beltwright.core.units import FloatArray
from beltwright.drawing.pens import tint_of_area
from beltwright.drawing.picture import PanelPicture
from beltwright.drawing.scene import Filled, Plot


def panel_fills(panels: Sequence[PanelPicture], outlines: Sequence[FloatArray], plot: Plot) -> list[Filled]:
    """Fill the outlines (n, 2) [m] of panels by hull area; shell outside every area has no tint.

    ``outlines`` stand in the order of ``panels``; an empty one is not seen in this view.
    """
    by_area: dict[str, list[int]] = {}
    for row, (panel, outline) in enumerate(zip(panels, outlines, strict=True)):
        if len(outline):
            by_area.setdefault(panel.hull_area, []).append(row)
    return [
        Filled(fill=tint_of_area(area), rings=tuple(plot.place(outlines[row]) for row in rows), rows=tuple(rows))
        for area, rows in sorted(by_area.items())
    ]
