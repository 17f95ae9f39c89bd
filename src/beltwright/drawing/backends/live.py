"""The scene for a page: the drawing as on paper without its sheet, each panel a shape of its own that can be chosen.

Lines and words carry the name of their layer and no colour; ``live_style`` is the style sheet that goes with it, once
for light and once for dark pages. Words are escaped as on paper; nothing in it runs or is fetched.
"""

from __future__ import annotations

from collections.abc import Sequence
from xml.sax.saxutils import quoteattr

import numpy as np

from beltwright.core.units import FloatArray
from beltwright.drawing.backends.svg import SvgWriter, printable
from beltwright.drawing.lettering import FALLBACK, FAMILY
from beltwright.drawing.pens import ACCENT, INK, NO_TINT, PENS, PLATES, QUIET, TINTS, WARNING
from beltwright.drawing.scene import Arc, Dot, Element, Filled, Group, Layer, Lines, Scene, Words

OF_THE_SHEET = frozenset({"border", "title block", "legend", "tables"})
_AIR_MM = 6.0
_DARK = {
    INK: "#e7ecef",
    QUIET: "#a9b5bc",
    ACCENT: "#7cc0f5",
    WARNING: "#ff9a70",
    PLATES: "#dd9bea",
    "#4a555c": "#b4c0c7",
    "#8b979e": "#7f8b92",
    "#c5ccd1": "#3a444b",
}
_LEAST_PX, _PX_PER_MM = 0.6, 3.2  # widths of lines on a screen


class _LiveWriter(SvgWriter):
    """Writes each panel as a shape of its own under its row and name."""

    def __init__(self, scene: Scene, prefix: str, names: Sequence[str]) -> None:
        super().__init__(scene, prefix)
        self.names = names

    def filled(self, item: Filled) -> str:
        """Write filled polygons; those that are panels one by one."""
        if item.rows:
            return "\n".join(
                f'<path data-row="{row}" data-name={quoteattr(printable(self.names[row]))} '
                f'd="{self.path((ring,), True)}"/>'
                for row, ring in zip(item.rows, item.rings, strict=True)
            )
        if item.fill == NO_TINT:
            return ""
        return f'<path class="tint-{item.fill}" d="{self.path(item.rings, True)}"/>'

    def element(self, item: Element) -> str:
        """Write one element; a dot by its layer's name."""
        if isinstance(item, Dot):
            x, y = item.centre
            place = f'cx="{x:.2f}" cy="{self.height - y:.2f}" r="{item.radius_mm:g}"'
            return f'<circle class="dot-{item.layer.value}" {place}/>'
        return super().element(item)


def to_live_svg(scene: Scene, *, prefix: str, names: Sequence[str]) -> str:
    """Return the scene as SVG for a page: groups of the sheet itself left out, cut to what remains.

    Parameters
    ----------
    prefix : stands before every id, so that several drawings can hang in one page
    names : the name of each panel, by its row in the plating table
    """
    groups = tuple(group for group in scene.groups if group.name not in OF_THE_SHEET)
    writer = _LiveWriter(scene, prefix, names)
    body = "\n".join(writer.group(number, group) for number, group in enumerate(groups))
    low, high = _bounds(groups)
    box = (low[0] - _AIR_MM, scene.height_mm - high[1] - _AIR_MM, *(high - low + 2.0 * _AIR_MM))
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="{" ".join(f"{value:.2f}" for value in box)}">\n'
        f"<defs>{''.join(writer.windows)}</defs>\n{body}\n</svg>\n"
    )


def _bounds(groups: Sequence[Group]) -> tuple[FloatArray, FloatArray]:
    """The lower left and upper right corner [mm] of everything in some groups; a window cuts its group."""
    corners: list[FloatArray] = []
    for group in groups:
        points = [place for item in group.items for place in _places(item)]
        if not points:
            continue
        found = np.concatenate(points)
        low, high = found.min(axis=0), found.max(axis=0)
        if group.window is not None:
            x, y, width, height = group.window
            low, high = np.maximum(low, (x, y)), np.minimum(high, (x + width, y + height))
        corners += [low, high]
    every = np.array(corners) if corners else np.zeros((1, 2))
    return every.min(axis=0), every.max(axis=0)


def _places(item: Element) -> Sequence[FloatArray]:
    """Points (n, 2) [mm] that span an element."""
    match item:
        case Lines():
            return item.runs
        case Filled():
            return item.rings
        case Words():
            return (item.box,)
        case Arc() | Dot():
            centre = np.array(item.centre)
            return (np.stack([centre - item.radius_mm, centre + item.radius_mm]),)


def live_style(selector: str, *, dark: bool = False) -> str:
    """Return the style sheet of live drawings under ``selector``: the pens and tints of paper, for one kind of page."""
    rows = [] if dark else [f"{selector} text{{font-family:'{FAMILY}',{FALLBACK};white-space:pre;pointer-events:none}}"]
    if not dark:
        rows += [f"{selector} .bold{{font-weight:bold}}", f"{selector} path{{vector-effect:non-scaling-stroke}}"]
        rows += [f"{selector} path:not([data-row]),{selector} circle,{selector} rect{{pointer-events:none}}"]
    rows.append(f"{selector} .plate{{fill:{'#171d21' if dark else '#ffffff'};fill-opacity:.72}}")
    for layer in Layer:
        pen = PENS[layer]
        colour = _DARK[pen.colour] if dark else pen.colour
        rows.append(f"{selector} .dot-{layer.value}{{fill:{colour}}}")
        if pen.width_mm == 0.0:
            rows.append(f"{selector} .{layer.value}{{fill:{colour}}}")
            continue
        width = max(_LEAST_PX, _PX_PER_MM * pen.width_mm)
        dash = "" if dark or not pen.dash else ";stroke-dasharray:" + " ".join(f"{1.6 * part:g}" for part in pen.dash)
        rows.append(f"{selector} .{layer.value}{{fill:none;stroke:{colour};stroke-width:{width:.2g}px{dash}}}")
    rows += [f"{selector} .tint-{name}{{fill:{'#222a30' if dark else tint.colour}}}" for name, tint in TINTS.items()]
    return "\n".join(rows)
