"""Angle marks: an arc between the reference direction and the tangent, and small figures of one station."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from beltwright.core.units import FloatArray
from beltwright.drawing.picture import ShipPicture, StationPicture
from beltwright.drawing.scene import (
    Anchor,
    Arc,
    Dot,
    Element,
    Group,
    Layer,
    Lines,
    Plot,
    Point,
    Scene,
    Words,
    arrow,
    dimension,
    line,
)

_RADIUS, _TANGENT = 11.0, 16.0
_HALF_WORDS = 15.0  # half the width of a station's name with its angle, and a little air
NOT_APPLICABLE = "n/a"


@dataclass(frozen=True, slots=True, kw_only=True)
class Marks:
    """The lines of one angle, the point it is measured at, and the words with the places where they may stand."""

    elements: tuple[Element, ...]
    point: Point
    words: str
    words_at: tuple[Point, ...]


def beta_marks(station: StationPicture, plot: Plot, radius_mm: float = _RADIUS) -> Marks:
    """The frame angle on a section (y, z): from the vertical to the tangent, up and outboard."""
    point = plot.at(station.point[1], station.point[2])
    return _marks(point, "β", station.beta_deg, reference_deg=90.0, turn=-1.0, radius_mm=radius_mm)


def alpha_marks(station: StationPicture, plot: Plot, radius_mm: float = _RADIUS) -> Marks:
    """The waterline angle on the plan (x, y): from the aft direction to the tangent, aft and outboard."""
    point = plot.at(station.point[0], station.point[1])
    return _marks(point, "α", station.alpha_deg, reference_deg=180.0, turn=-1.0, radius_mm=radius_mm)


def gamma_marks(station: StationPicture, plot: Plot, radius_mm: float = _RADIUS) -> Marks:
    """The buttock angle on the profile (x, z): from the forward horizontal to the tangent, forward and up."""
    point = plot.at(station.point[0], station.point[2])
    return _marks(point, "γ", station.gamma_deg, reference_deg=0.0, turn=1.0, radius_mm=radius_mm)


def _marks(
    point: Point, symbol: str, angle: float | None, *, reference_deg: float, turn: float, radius_mm: float
) -> Marks:
    """Reference line, tangent through the point, arc between them."""
    reach = radius_mm * _TANGENT / _RADIUS
    beyond = _off(point, reference_deg, reach + (2.5 if reference_deg == 90.0 else _HALF_WORDS))
    back = 1.0 if reference_deg == 180.0 else -1.0
    places: tuple[Point, ...] = (beyond, (beyond[0], beyond[1] - 3.5), (beyond[0], beyond[1] + 3.5))
    if reference_deg != 90.0:  # under the reference line, nearer and nearer to the point
        places += tuple((beyond[0] + back * shift, beyond[1] - 3.0) for shift in (4.0, 8.0, 12.0, 16.0, 20.0))
    if angle is None:
        return Marks(elements=(), point=point, words=f"{symbol} {NOT_APPLICABLE}", words_at=places)
    tangent = reference_deg + turn * angle
    low, high = sorted((reference_deg, tangent))
    elements: tuple[Element, ...] = (
        line(Layer.TANGENT, point, _off(point, reference_deg, reach)),
        line(Layer.TANGENT, _off(point, tangent + 180.0, 0.6 * reach), _off(point, tangent, reach)),
        Arc(layer=Layer.ANGLE, centre=point, radius_mm=radius_mm, from_deg=low, to_deg=high),
    )
    return Marks(elements=elements, point=point, words=f"{symbol} {angle:.1f}°", words_at=places)


def _off(point: Point, angle_deg: float, distance_mm: float) -> Point:
    """A place off a point in a direction."""
    turn = np.radians(angle_deg)
    return point[0] + distance_mm * float(np.cos(turn)), point[1] + distance_mm * float(np.sin(turn))


def angle_figure(picture: ShipPicture, station: StationPicture) -> Scene:
    """Three small views of one station for the booklet: section with beta, waterline with alpha, buttock with gamma."""
    width, height, gap = 56.0, 44.0, 3.0
    views = (
        ("section", station.section, (station.point[1], station.point[2]), beta_marks),
        ("waterline", picture.waterline_plan, (station.point[0], station.point[1]), alpha_marks),
        ("buttock", station.buttock, (station.point[0], station.point[2]), gamma_marks),
    )
    groups = []
    for number, (name, curve, centre, marks) in enumerate(views):
        left = number * (width + gap)
        plot = Plot(paper_x=left + 0.5 * width, paper_y=0.5 * (height - 6.0), reference=centre, scale_mm_per_m=5.0)
        mark = marks(station, plot, 13.0)
        drawn: tuple[Element, ...] = (
            *_waterline(name, plot, left, width),
            Lines(layer=Layer.SHELL, runs=_near(plot.place(curve), left, width, height - 6.0)),
            *mark.elements,
            Dot(layer=Layer.ANGLE, centre=mark.point, radius_mm=0.8),
        )
        words = Words(
            at=(left + 0.5 * width, height - 3.2), text=f"{name}: {mark.words}", size_mm=2.8, anchor=Anchor.MIDDLE,
            layer=Layer.ANGLE_WORDS,
        )  # fmt: skip
        groups.append(Group(name=name, items=drawn, window=(left, 0.0, width, height - 6.0)))
        groups.append(Group(name=f"{name} words", items=(words,)))
    return Scene(
        width_mm=3 * width + 2 * gap,
        height_mm=height,
        title=f"Hull angles at {station.name}",
        description=f"Section, waterline and buttock at {station.name}, {station.aft_of_stem_m:.2f} m aft of the stem.",
        groups=tuple(groups),
    )


def _waterline(name: str, plot: Plot, left: float, width: float) -> tuple[Element, ...]:
    """The waterline through a section or a buttock; the plan has none."""
    if name == "waterline":
        return ()
    y = plot.paper_y
    return (line(Layer.UPPER_WATERLINE, (left, y), (left + width, y)),)


def _near(run: FloatArray, left: float, width: float, height: float) -> tuple[FloatArray, ...]:
    """The part of a curve in or near a window, to keep figures small."""
    reach = 10.0
    inside = (
        (run[:, 0] > left - reach)
        & (run[:, 0] < left + width + reach)
        & (run[:, 1] > -reach)
        & (run[:, 1] < height + reach)
    )
    if not inside.any():
        return ()
    first, last = int(np.flatnonzero(inside)[0]), int(np.flatnonzero(inside)[-1])
    return (run[max(first - 1, 0) : last + 2],)


def conventions_figure(picture: ShipPicture) -> Scene:
    """The axes on the ship's own profile."""
    width, height = 168.0, 46.0
    outline = picture.profile_outline
    low, high = outline.min(axis=0), outline.max(axis=0)
    scale = min((width - 40.0) / float(high[0] - low[0]), (height - 20.0) / float(high[1] - low[1]))
    plot = Plot(paper_x=16.0, paper_y=11.0, reference=(float(low[0]), float(low[1])), scale_mm_per_m=scale)
    origin = plot.at(0.0, 0.0)
    top = plot.at(0.0, float(high[1]))[1]
    upper = plot.place(picture.upper.profile)
    stem = plot.at(picture.stem_x_m, float(picture.upper.profile[-1, 1]))
    items: list[Element] = [
        Lines(layer=Layer.SHELL, runs=(plot.place(outline),), closed=True),
        Lines(layer=Layer.UPPER_WATERLINE, runs=(upper,)),
        line(Layer.AXIS, (origin[0], 4.0), origin),
        *_axis(origin, (origin[0] + 22.0, origin[1]), "x, forward", (2.0, -3.5)),
        *_axis(origin, (origin[0], top + 6.0), "z, up", (1.5, -1.0)),
        *dimension(stem, (stem[0] - 30.0, stem[1]), "aft of stem"),
        Words(at=(origin[0] + 1.0, 5.0), text="aft perpendicular, x = 0; baseline, z = 0", size_mm=2.2),
        Words(at=(stem[0] + 2.5, stem[1] - 4.0), text="UIWL", size_mm=2.2, layer=Layer.WATER_WORDS),
    ]
    return Scene(
        width_mm=width,
        height_mm=height,
        title="Axes",
        description="Profile with the axes: x forward from the aft perpendicular, z up from the baseline.",
        groups=(Group(name="axes", items=tuple(items)),),
    )


def _axis(start: Point, end: Point, words: str, shift: Point) -> list[Element]:
    """An axis with its arrow and name."""
    return [
        line(Layer.ANGLE, start, end),
        arrow(Layer.ANGLE, end, start),
        Words(at=(end[0] + shift[0], end[1] + shift[1]), text=words, size_mm=2.2, layer=Layer.ANGLE_WORDS),
    ]
