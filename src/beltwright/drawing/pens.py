"""Pens and tints: how each layer and each kind of hull area looks. Line widths follow meaning; one accent colour.

The tints differ in lightness and carry a pattern or a label as well, so that no meaning hangs on colour alone.
"""

from __future__ import annotations

from dataclasses import dataclass

from beltwright.drawing.scene import Layer

INK, QUIET, ACCENT, WARNING = "#1b2227", "#515d65", "#14609b", "#b3340f"
PLATES = "#7a2f8a"  # where plates change: it must stand out on levels and frames, on which it often lies


@dataclass(frozen=True, slots=True)
class Pen:
    """A line's width [mm], colour and dash pattern [mm] (empty: solid)."""

    width_mm: float
    colour: str = INK
    dash: tuple[float, ...] = ()


@dataclass(frozen=True, slots=True)
class Tint:
    """A fill: its colour, and its pattern ("", "lines" or "dots") in a second colour."""

    colour: str
    pattern: str = ""
    mark: str = ""


PENS: dict[Layer, Pen] = {
    Layer.BORDER_OF_SHEET: Pen(0.7),
    Layer.RULE_LINE: Pen(0.18),
    Layer.SHELL: Pen(0.5),
    Layer.SHELL_THIN: Pen(0.25),
    Layer.FRAME: Pen(0.1, "#8b979e"),
    Layer.INTERMEDIATE_FRAME: Pen(0.1, "#8b979e", (0.8, 0.8)),
    Layer.WEB_FRAME: Pen(0.3, "#4a555c"),
    Layer.DECK: Pen(0.3, "#4a555c"),
    Layer.STRINGER: Pen(0.2, "#4a555c", (5.0, 1.2)),
    Layer.DISTRIBUTING_STRINGER: Pen(0.2, "#4a555c", (1.6, 1.2)),
    Layer.HULL_AREA_BORDER: Pen(0.7, INK, (7.0, 1.4, 1.4, 1.4)),
    Layer.BELT_EDGE: Pen(0.25, INK, (3.0, 0.8, 0.8, 0.8)),
    Layer.UPPER_WATERLINE: Pen(0.45, ACCENT),
    Layer.LOWER_WATERLINE: Pen(0.45, ACCENT, (4.0, 1.5)),
    Layer.BULKHEAD: Pen(0.25, "#4a555c", (3.0, 1.0, 0.8, 1.0)),
    Layer.OPENING: Pen(0.3),
    Layer.ANGLE: Pen(0.35, ACCENT),
    Layer.TANGENT: Pen(0.18, ACCENT),
    Layer.DIMENSION: Pen(0.13),
    Layer.LEADER: Pen(0.13),
    Layer.AXIS: Pen(0.13, QUIET),
    Layer.PLATE_BORDER: Pen(0.3, PLATES, (3.0, 0.8)),
    Layer.NOT_MET: Pen(0.5, WARNING),
    Layer.NOT_MET_WORDS: Pen(0.0, WARNING),
    Layer.WORDS: Pen(0.0, INK),
    Layer.QUIET_WORDS: Pen(0.0, QUIET),
    Layer.WATER_WORDS: Pen(0.0, ACCENT),
    Layer.ANGLE_WORDS: Pen(0.0, ACCENT),
    Layer.BOX: Pen(0.13, QUIET),
    Layer.GRID: Pen(0.1, "#c5ccd1"),
    Layer.ICE_LOAD: Pen(0.35, ACCENT),
    Layer.STILL_WATER_LOAD: Pen(0.3, QUIET, (3.0, 1.2)),
    Layer.TOTAL_LOAD: Pen(0.5, INK),
    Layer.CARRIED_LOAD: Pen(0.5, PLATES, (6.0, 1.2, 1.2, 1.2)),
}

_THICKNESS = ("#f4f7f9", "#e1eaf0", "#cbdbe6", "#b2c9d9", "#97b5ca", "#84a6be", "#6f95b0")  # thin to thick

_FAMILIES = {
    "B": ("#d3e2ee", "#9fbdd3"),
    "BI": ("#d9ece1", "#a5c9b5"),
    "M": ("#f3ecd6", "#d3c596"),
    "S": ("#ecdfea", "#c9afc4"),
}
_BELTS = {"i": "", "l": "lines", "b": "dots"}

NO_TINT = "none"  # of shell outside every hull area: nothing is drawn on paper

TINTS: dict[str, Tint] = {
    NO_TINT: Tint("#ffffff"),
    "plain": Tint("#f1f3f4"),
    "paper": Tint("#ffffff"),
    "ink": Tint(INK),
    "opening": Tint("#ffffff"),
    "water": Tint("#e4eef5"),
    **{f"thickness-{step}": Tint(colour) for step, colour in enumerate(_THICKNESS)},
} | {
    f"area-{family}{belt}": Tint(tint, pattern, mark)
    for family, (tint, mark) in _FAMILIES.items()
    for belt, pattern in (_BELTS | {"": ""}).items()
}


def tint_of_area(code: str) -> str:
    """Return the palette key of a hull area; an area of another document takes the plain tint."""
    key = f"area-{code}"
    return key if key in TINTS else ("plain" if code else NO_TINT)
