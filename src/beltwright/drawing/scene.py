"""The neutral scene: what is on a sheet, in millimetres of paper, y up, origin in the lower left corner.

Elements carry a layer by meaning, never a colour or a line width; a backend looks those up in ``pens.py``.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from enum import Enum

import numpy as np

from beltwright.core.units import FloatArray
from beltwright.drawing.lettering import text_box

Point = tuple[float, float]


class Layer(Enum):
    """What a line or a word means on the sheet."""

    BORDER_OF_SHEET = "sheet-border"
    RULE_LINE = "rule-line"
    SHELL = "shell"
    SHELL_THIN = "shell-thin"
    FRAME = "frame"
    INTERMEDIATE_FRAME = "intermediate-frame"
    WEB_FRAME = "web-frame"
    DECK = "deck"
    STRINGER = "stringer"
    DISTRIBUTING_STRINGER = "distributing-stringer"
    HULL_AREA_BORDER = "hull-area-border"
    BELT_EDGE = "belt-edge"
    UPPER_WATERLINE = "upper-ice-waterline"
    LOWER_WATERLINE = "lower-ice-waterline"
    BULKHEAD = "bulkhead"
    OPENING = "opening"
    ANGLE = "angle"
    TANGENT = "tangent"
    DIMENSION = "dimension"
    LEADER = "leader"
    AXIS = "axis"
    PLATE_BORDER = "plate-border"
    NOT_MET = "not-met"
    NOT_MET_WORDS = "not-met-words"
    WORDS = "words"
    QUIET_WORDS = "quiet-words"
    WATER_WORDS = "water-words"
    ANGLE_WORDS = "angle-words"
    BOX = "box"
    GRID = "grid"
    ICE_LOAD = "ice-load"
    STILL_WATER_LOAD = "still-water-load"
    TOTAL_LOAD = "total-load"
    CARRIED_LOAD = "carried-load"


class Anchor(Enum):
    """Which point of the words the given place is."""

    START = "start"
    MIDDLE = "middle"
    END = "end"


@dataclass(frozen=True, slots=True, kw_only=True)
class Lines:
    """Polylines of one layer, each (n, 2) [mm]; ``closed`` joins each last point to its first."""

    layer: Layer
    runs: tuple[FloatArray, ...]
    closed: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Filled:
    """Filled polygons, each (n, 2) [mm], in the tint and pattern of a key of the palette.

    ``rows`` (as many as rings, or none) are the panels that the polygons are; a page lets them be chosen and coloured.
    """

    fill: str
    rings: tuple[FloatArray, ...]
    rows: tuple[int, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Arc:
    """A circular arc about a centre, from one angle to another, anticlockwise from the sheet's right [deg]."""

    layer: Layer
    centre: Point
    radius_mm: float
    from_deg: float
    to_deg: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Dot:
    """A filled dot."""

    layer: Layer
    centre: Point
    radius_mm: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Words:
    """One line of words.

    ``size_mm`` is the type size; ``at`` the place of the baseline's ``anchor``; ``halo`` puts a light plate behind
    words that stand on a drawing.
    """

    at: Point
    text: str
    size_mm: float
    anchor: Anchor = Anchor.START
    turned_deg: float = 0.0
    bold: bool = False
    layer: Layer = Layer.WORDS
    halo: bool = False

    @property
    def box(self) -> FloatArray:
        """The corners (4, 2) of the box around the words [mm]."""
        return text_box(self.at, self.text, self.size_mm, self.anchor.value, self.turned_deg)


Element = Lines | Filled | Arc | Dot | Words


@dataclass(frozen=True, slots=True, kw_only=True)
class Group:
    """Elements that belong together under a name; ``window`` (x, y, width, height) [mm] cuts what lies outside."""

    name: str
    items: tuple[Element, ...]
    window: tuple[float, float, float, float] | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Scene:
    """A whole sheet: its size [mm], its title, what it shows in words, and its groups from back to front."""

    width_mm: float
    height_mm: float
    title: str
    description: str
    groups: tuple[Group, ...]

    def words(self) -> Iterator[Words]:
        """Give every line of words on the sheet."""
        for group in self.groups:
            for item in group.items:
                if isinstance(item, Words):
                    yield item


def line(layer: Layer, *points: Point) -> Lines:
    """One polyline through the given points."""
    return Lines(layer=layer, runs=(np.array(points, dtype=np.float64),))


def rectangle(layer: Layer, x: float, y: float, width: float, height: float) -> Lines:
    """A rectangle by its lower left corner and size."""
    corners = np.array([(x, y), (x + width, y), (x + width, y + height), (x, y + height)])
    return Lines(layer=layer, runs=(corners,), closed=True)


def arrow(layer: Layer, tip: Point, from_point: Point, size_mm: float = 1.8) -> Lines:
    """A slim open arrowhead at ``tip``, pointing away from ``from_point``."""
    direction = np.array(tip) - np.array(from_point)
    along = direction / max(float(np.hypot(*direction)), 1e-9)
    across = np.array([-along[1], along[0]])
    tail = np.array(tip) - size_mm * along
    wing = 0.25 * size_mm * across
    return Lines(layer=layer, runs=(np.array([tail + wing, tip, tail - wing]),))


def dimension(start: Point, end: Point, text: str, *, size_mm: float = 2.0) -> list[Element]:
    """A dimension between two points on one level or one vertical, with words above or left of the line.

    Where the words do not fit between the arrows they stand beyond the end.
    """
    level = abs(end[0] - start[0]) >= abs(end[1] - start[1])
    middle = (0.5 * (start[0] + end[0]), 0.5 * (start[1] + end[1]))
    place = (middle[0], middle[1] + 0.7) if level else (middle[0] - 0.7, middle[1])
    return [
        line(Layer.DIMENSION, start, end),
        arrow(Layer.DIMENSION, start, end),
        arrow(Layer.DIMENSION, end, start),
        Words(at=place, text=text, size_mm=size_mm, anchor=Anchor.MIDDLE, turned_deg=0.0 if level else 90.0),
    ]


@dataclass(frozen=True, slots=True, kw_only=True)
class Plot:
    """Where a picture in metres stands on the sheet: the paper place of a reference point, and its scale."""

    paper_x: float
    paper_y: float
    reference: Point = (0.0, 0.0)
    scale_mm_per_m: float

    def place(self, points: FloatArray | Sequence[Point]) -> FloatArray:
        """Return the paper places (n, 2) [mm] of points (n, 2) [m]."""
        offset = np.asarray(points, dtype=np.float64) - np.array(self.reference)
        placed: FloatArray = offset * self.scale_mm_per_m + np.array([self.paper_x, self.paper_y])
        return placed

    def at(self, x_m: float, y_m: float) -> Point:
        """Return the paper place [mm] of one point [m]."""
        x, y = self.place([(x_m, y_m)])[0]
        return float(x), float(y)
