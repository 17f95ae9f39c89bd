"""Rulers: frame numbers with their spacing along the ship, metres of girth or height up the side."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from beltwright.drawing.lettering import text_width
from beltwright.drawing.picture import FrameMark
from beltwright.drawing.scene import Anchor, Element, Layer, Lines, Plot, Words, line

FRAME_RULER_HEIGHT = 15.0


def frame_ruler(marks: Sequence[FrameMark], plot: Plot, base: float, size_mm: float = 2.0) -> list[Element]:
    """A ruler of frames at height ``base`` [mm]: a tick at each, numbers where there is room, the spacing."""
    if not marks:
        return []
    ordered = sorted(marks, key=lambda mark: mark.x_m)
    places = [plot.at(mark.x_m, 0.0)[0] for mark in ordered]
    ticks = []
    items: list[Element] = [line(Layer.RULE_LINE, (places[0], base), (places[-1], base))]
    every = _numbered_every(ordered, places, size_mm)
    for mark, x in zip(ordered, places, strict=True):
        numbered = _is_multiple(mark.number, every)
        ticks.append(np.array([(x, base), (x, base + (2.4 if numbered else 1.2))]))
        if numbered:
            items.append(Words(at=(x, base + 3.2), text=mark.label, size_mm=size_mm, anchor=Anchor.MIDDLE))
    items.append(Lines(layer=Layer.RULE_LINE, runs=tuple(ticks)))
    items += _spacings(ordered, places, base + 3.2 + 1.6 * size_mm, size_mm)
    return items


def _numbered_every(marks: Sequence[FrameMark], places: Sequence[float], size_mm: float) -> int:
    """Number every 5th, 10th, 20th or 50th frame, whichever first leaves room."""
    pitch = abs(places[-1] - places[0]) / max(abs(marks[-1].number - marks[0].number), 1.0)
    widest = max(text_width(mark.label, size_mm) for mark in marks)
    return next((every for every in (5, 10, 20, 50) if pitch * every > 1.6 * widest), 100)


def _is_multiple(number: float, every: int) -> bool:
    """Whether a frame number is a whole multiple."""
    return abs(number / every - round(number / every)) < 1e-9


def _spacings(marks: Sequence[FrameMark], places: Sequence[float], y: float, size_mm: float) -> list[Element]:
    """The spacing of frames, once for each run of equal spacing that has room for the words."""
    steps = np.round(np.diff([mark.x_m for mark in marks]), 4)
    items: list[Element] = []
    start = 0
    for end in range(1, len(steps) + 1):
        if end < len(steps) and steps[end] == steps[start]:
            continue
        text = f"frame spacing {1000.0 * steps[start]:.0f} mm"
        left, right = places[start], places[end]
        if right - left > text_width(text, size_mm) + 4.0:
            items.append(Words(at=(0.5 * (left + right), y), text=text, size_mm=size_mm, anchor=Anchor.MIDDLE))
        start = end
    return items


def girth_ruler(
    plot: Plot, low_x: float, top_m: float, away_mm: float, caption: str, size_mm: float = 2.0
) -> list[Element]:
    """A ruler of whole metres up the sheet, left of the picture."""
    x, y0 = plot.at(low_x, 0.0)
    x -= away_mm
    y1 = plot.at(low_x, top_m)[1]
    every = 1 if plot.scale_mm_per_m >= 5.0 else 2
    heights = range(0, int(np.floor(top_m)) + 1, every)
    ticks = tuple(np.array([(x, plot.at(0.0, h)[1]), (x - 1.4, plot.at(0.0, h)[1])]) for h in heights)
    items: list[Element] = [line(Layer.RULE_LINE, (x, y0), (x, y1)), Lines(layer=Layer.RULE_LINE, runs=ticks)]
    items += [
        Words(at=(x - 2.0, plot.at(0.0, h)[1] - 0.7), text=f"{h}", size_mm=size_mm, anchor=Anchor.END) for h in heights
    ]
    items.append(
        Words(at=(x - 6.8, 0.5 * (y0 + y1)), text=caption, size_mm=size_mm, anchor=Anchor.MIDDLE, turned_deg=90.0,
              layer=Layer.QUIET_WORDS)
    )  # fmt: skip
    return items
