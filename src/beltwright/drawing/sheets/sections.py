"""What the body plan shows on its sections: frame numbers, ice waterlines and the borders that run along the side."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import numpy as np

from beltwright.core.units import FloatArray
from beltwright.drawing.labels import Label, LabelPlacer
from beltwright.drawing.picture import SectionPicture, ShellCurve, ShipPicture
from beltwright.drawing.scene import Anchor, Element, Layer, Lines, Plot, Words

_TICK_MM = 1.3  # half the length of a tick
_ALIKE_M = 0.05  # sections nearer to each other than this at every height share one number
_NUMBER_MM = 1.8
_ON_STEM_M = 0.1  # a line that ends nearer than this to the outline of the profile ends on the stem


def breadth_at(points: FloatArray, height_m: float) -> float | None:
    """Return the greatest half-breadth of a section (n, 2) of (y, z) at a height [m]; None where it does not reach."""
    (y0, z0), (y1, z1) = points[:-1].T, points[1:].T
    crossed = (np.minimum(z0, z1) <= height_m) & (np.maximum(z0, z1) >= height_m)
    if not crossed.any():
        return None
    rise = np.where(z1 == z0, 1.0, z1 - z0)
    share = np.where(z1 == z0, 1.0, (height_m - z0) / rise)
    return float((y0 + share * (y1 - y0))[crossed].max())


def height_of(curves: Sequence[ShellCurve], x_m: float) -> float | None:
    """Return the height of a line on the profile at a place along the ship [m]; None where it does not run."""
    for curve in curves:
        x, z = curve.profile.T
        if x.min() <= x_m <= x.max() and np.ptp(x) > 0.0:
            order = np.argsort(x, kind="stable")
            return float(np.interp(x_m, x[order], z[order]))
    return None


def belt_edges(picture: ShipPicture, plot: Plot, middle_x: float) -> list[Element]:
    """A tick where each border along the side crosses each section, the ticks of one side joined by a line."""
    ticks: list[FloatArray] = []
    joined: list[FloatArray] = []
    items: list[Element] = []
    for name in dict.fromkeys(b.curve.name for b in picture.borders if not b.transverse):
        curves = [border.curve for border in picture.borders if border.curve.name == name]
        for run in _crossings(picture, curves, plot, middle_x):
            joined.append(run)
            ticks += [point + np.array([(0.0, -_TICK_MM), (0.0, _TICK_MM)]) for point in run]
    if ticks:
        items += [
            Lines(layer=Layer.BELT_EDGE, runs=tuple(joined)),
            Lines(layer=Layer.DIMENSION, runs=tuple(ticks)),
        ]
    return items


def waterline_across(picture: ShipPicture, plot: Plot, middle_x: float) -> list[Element]:
    """Both ice waterlines through the sections, their names beyond the broadest ones."""
    items: list[Element] = []
    for curve, layer in ((picture.upper, Layer.UPPER_WATERLINE), (picture.lower, Layer.LOWER_WATERLINE)):
        runs = tuple(_crossings(picture, [curve], plot, middle_x))
        items.append(Lines(layer=layer, runs=runs))
        points = np.concatenate(runs) if runs else np.zeros((0, 2))
        if len(points):
            end = points[int(np.argmax(points[:, 0]))]
            at = (float(end[0]) + 1.2, float(end[1]) - 0.6)
            items.append(
                Words(at=at, text=curve.name, size_mm=1.8, anchor=Anchor.START, layer=Layer.WATER_WORDS, halo=True)
            )
    return items


def _crossings(picture: ShipPicture, curves: Sequence[ShellCurve], plot: Plot, middle_x: float) -> Iterator[FloatArray]:
    """The places (n, 2) [mm] where a line crosses the sections, the aft side then the fore side."""
    for aft in (True, False):
        found = []
        for section in picture.sections:
            height = height_of(curves, section.x_m) if (section.x_m < middle_x) is aft else None
            breadth = None if height is None else breadth_at(section.points, height)
            if height is not None and breadth is not None:
                found.append((-breadth if aft else breadth, height))
        if found and not aft:
            found += _ends_at_stem(picture, curves)
        if len(found) > 1:
            yield plot.place(found)


def _ends_at_stem(picture: ShipPicture, curves: Sequence[ShellCurve]) -> list[tuple[float, float]]:
    """The centreline place where a line ends on the stem; none for a line that ends on the side."""
    import shapely

    ends = [curve.profile[int(np.argmax(curve.profile[:, 0]))] for curve in curves]
    x, z = max(ends, key=lambda end: float(end[0]))
    at_stem = shapely.LineString(picture.profile_outline).distance(shapely.Point(x, z)) < _ON_STEM_M
    return [(0.0, float(z))] if at_stem else []


def section_numbers(picture: ShipPicture, plot: Plot, middle_x: float, placer: LabelPlacer) -> list[Element]:
    """The frame number on each section; sections too near to each other share one."""
    items: list[Element] = []
    for members in _alike(picture.sections, middle_x):
        first, last = members[0], members[-1]
        words = first.frame if first is last else f"{first.frame} to {last.frame}"
        side = -1.0 if first.x_m < middle_x else 1.0
        run = plot.place(first.points * np.array([side, 1.0]))
        length = np.concatenate([[0.0], np.cumsum(np.hypot(*np.diff(run, axis=0).T))])
        shares = (0.86, 0.92, 0.8, 0.74, 0.68, 0.62, 0.97, 0.56, 0.5, 0.44, 0.38, 0.3, 0.22)
        points = tuple(
            (float(np.interp(s * length[-1], length, run[:, 0])), float(np.interp(s * length[-1], length, run[:, 1])))
            for s in shares
        )
        items += placer.place(Label(lines=(words,), points=points, size_mm=_NUMBER_MM, leader=True))
    return items


def _alike(sections: Sequence[SectionPicture], middle_x: float) -> list[list[SectionPicture]]:
    """Neighbouring sections on one side that lie so near to each other that they draw one line."""
    groups: list[list[SectionPicture]] = []
    for section in sections:
        before = groups[-1] if groups else []
        same_side = bool(before) and (before[0].x_m < middle_x) == (section.x_m < middle_x)
        if same_side and _apart(before[0].points, section.points) < _ALIKE_M:
            before.append(section)
        else:
            groups.append([section])
    return groups


def _apart(one: FloatArray, other: FloatArray) -> float:
    """How far two sections lie apart at the most, compared at heights that both reach [m]."""
    low = max(float(one[:, 1].min()), float(other[:, 1].min()))
    high = min(float(one[:, 1].max()), float(other[:, 1].max()))
    ends = abs(float(one[:, 1].min()) - float(other[:, 1].min()))
    widths = [(breadth_at(one, z), breadth_at(other, z)) for z in np.linspace(low, high, 13)]
    return max([ends, *(abs(a - b) for a, b in widths if a is not None and b is not None)])
