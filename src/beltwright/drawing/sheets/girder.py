"""Shear force and bending moment along the ship as a figure: from ice, in still water, both, and what is carried."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from beltwright.core.units import FloatArray, IntArray
from beltwright.drawing.lettering import text_width
from beltwright.drawing.scene import Anchor, Element, Group, Layer, Lines, Scene, Words, line, rectangle

WIDTH, HEIGHT = 168.0, 150.0
_LEFT, _RIGHT, _PANEL, _TOP = 17.0, 4.0, 56.0, 9.0
_STEPS = (1.0, 2.0, 2.5, 5.0, 10.0)
_SIZE = 2.6


@dataclass(frozen=True, slots=True, kw_only=True)
class Curve:
    """One curve: its name, its layer and its values (n,) over the figure's places, NaN where it has none."""

    name: str
    layer: Layer
    values: FloatArray


@dataclass(frozen=True, slots=True, kw_only=True)
class Panel:
    """One diagram: its title with the unit, and its curves."""

    title: str
    curves: tuple[Curve, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class GirderPicture:
    """Places along the ship (n,) [m from the aft perpendicular] and the diagrams over them, from the top down."""

    x_m: FloatArray
    panels: tuple[Panel, ...]


def girder_figure(picture: GirderPicture) -> Scene:
    """Return the diagrams one over the other, with a common scale along the ship, stern to the left."""
    groups = []
    for number, panel in enumerate(picture.panels):
        top = HEIGHT - number * (HEIGHT / len(picture.panels))
        groups.append(_panel(picture.x_m, panel, top, last=number == len(picture.panels) - 1))
    return Scene(
        width_mm=WIDTH,
        height_mm=HEIGHT,
        title="Shear force and bending moment along the ship",
        description="Shear force and sagging bending moment from ice and in still water over the ship's length.",
        groups=tuple(groups),
    )


def _panel(x_m: FloatArray, panel: Panel, top: float, *, last: bool) -> Group:
    """One diagram under ``top`` [mm]."""
    base, height = top - _TOP - _PANEL, _PANEL
    width = WIDTH - _LEFT - _RIGHT
    x_marks = round_marks(float(x_m.min()), float(x_m.max()), 10)
    finite = np.concatenate([curve.values[np.isfinite(curve.values)] for curve in panel.curves])
    y_marks = round_marks(min(float(finite.min()), 0.0), max(float(finite.max()), 0.0), 6)
    low_x, high_x = min(x_marks[0], float(x_m.min())), max(x_marks[-1], float(x_m.max()))
    per_x, per_y = width / (high_x - low_x), height / (y_marks[-1] - y_marks[0])

    def place(x: FloatArray, y: FloatArray) -> FloatArray:
        """Places on the paper (n, 2)."""
        placed: FloatArray = np.stack([_LEFT + (x - low_x) * per_x, base + (y - y_marks[0]) * per_y], axis=1)
        return placed

    items: list[Element] = [rectangle(Layer.BOX, _LEFT, base, width, height)]
    for mark in y_marks:
        level = base + (mark - y_marks[0]) * per_y
        items.append(line(Layer.AXIS if mark == 0.0 else Layer.GRID, (_LEFT, level), (_LEFT + width, level)))
        items.append(_words((_LEFT - 1.2, level - 0.9), f"{mark:g}".replace("-", "−"), Anchor.END))
    for mark in x_marks:
        across = _LEFT + (mark - low_x) * per_x
        items.append(line(Layer.GRID, (across, base), (across, base + height)))
        items.append(_words((across, base - 3.4), f"{mark:g}", Anchor.MIDDLE))
    for curve in panel.curves:
        runs = tuple(place(x_m[run], curve.values[run]) for run in _runs(curve.values))
        items.append(Lines(layer=curve.layer, runs=runs))
    items.append(Words(at=(_LEFT, top - 4.0), text=panel.title, size_mm=3.0, bold=True))
    items += _key(panel.curves, top - 4.0)
    if last:
        items.append(_words((_LEFT + width, base - 7.4), "x from the aft perpendicular, m", Anchor.END))
    return Group(name=panel.title, items=tuple(items))


def round_marks(low: float, high: float, about: int) -> tuple[float, ...]:
    """Return round numbers from at most ``low`` to at least ``high``, about so many steps.

    >>> round_marks(-7.6, 46.0, 6)
    (-10.0, 0.0, 10.0, 20.0, 30.0, 40.0, 50.0)
    """
    rough = max(high - low, 1e-6) / about
    power = 10.0 ** np.floor(np.log10(rough))
    step = float(next(power * one for one in _STEPS if power * one >= rough * (1.0 - 1e-9)))
    first, last = int(np.floor(low / step + 1e-9)), int(np.ceil(high / step - 1e-9))
    return tuple(step * number + 0.0 for number in range(first, max(last, first + 1) + 1))


def _runs(values: FloatArray) -> list[IntArray]:
    """The indices of the unbroken parts of a curve, two places or more."""
    known = np.flatnonzero(np.isfinite(values))
    parts = np.split(known, np.flatnonzero(np.diff(known) > 1) + 1)
    return [part for part in parts if len(part) > 1]


def _key(curves: Sequence[Curve], height: float) -> list[Element]:
    """What each line is, from the right end of the title's line to the left."""
    items: list[Element] = []
    right = WIDTH - _RIGHT
    for curve in reversed([curve for curve in curves if curve.name]):
        width = text_width(curve.name, _SIZE)
        items.append(_words((right, height), curve.name, Anchor.END))
        items.append(line(curve.layer, (right - width - 9.5, height + 0.8), (right - width - 1.2, height + 0.8)))
        right -= width + 12.0
    return items


def _words(at: tuple[float, float], text: str, anchor: Anchor) -> Words:
    """A line of small words."""
    return Words(at=at, text=text, size_mm=_SIZE, anchor=anchor)
