"""The label placer: greedy, in the order given, with leader lines; no label ever covers another.

A label first tries its own preferred places, then wider and wider rings around its point. What it must avoid are
boxes (other words); what it would rather avoid are points of lines that matter (borders, waterlines).
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field

import numpy as np

from beltwright.core.units import FloatArray
from beltwright.drawing.lettering import ASCENT, DESCENT, boxes_overlap, text_width
from beltwright.drawing.scene import Anchor, Dot, Element, Layer, Point, Words, line

_ON_POINT = 1.0  # the greatest cost of a place that needs no leader


@dataclass(frozen=True, slots=True, kw_only=True)
class Label:
    """Words in lines to be placed at one of the ``points`` (the first that is free), centred on it.

    ``leader`` allows the words to stand apart from their point, joined to it by a line. ``turns_deg`` gives each point
    the angle at which a single line of words stands there; such words have no leader.
    """

    lines: tuple[str, ...]
    points: tuple[Point, ...]
    size_mm: float
    bold: bool = False
    leader: bool = True
    layer: Layer = Layer.WORDS
    turns_deg: tuple[float, ...] = ()

    def turn_at(self, point: Point) -> float:
        """The angle at which the words stand at one of the points."""
        return self.turns_deg[self.points.index(point)] if self.turns_deg else 0.0


@dataclass(slots=True)
class LabelPlacer:
    """Places labels in a window (x, y, width, height) [mm] and remembers every box taken."""

    window: tuple[float, float, float, float]
    clearance_mm: float = 0.5
    taken: list[FloatArray] = field(default_factory=list)
    shunned: FloatArray = field(default_factory=lambda: np.zeros((0, 2)))
    _bounds: list[tuple[float, float, float, float]] = field(default_factory=list)

    def take(self, boxes: Iterable[FloatArray]) -> None:
        """Mark boxes (4, 2) as taken."""
        for box in boxes:
            self.taken.append(box)
            low, high = box.min(axis=0), box.max(axis=0)
            self._bounds.append((float(low[0]), float(low[1]), float(high[0]), float(high[1])))

    def shun(self, runs: Iterable[FloatArray], step_mm: float = 1.5) -> None:
        """Mark lines that labels should rather not cover."""
        sampled = [_sampled(run, step_mm) for run in runs if len(run)]
        if sampled:
            self.shunned = np.concatenate([self.shunned, *sampled])

    def place(self, label: Label) -> list[Element]:
        """Return the placed label's elements; nothing if it finds no room."""
        width = max(text_width(text, label.size_mm) for text in label.lines)
        height = label.size_mm * (1.25 * (len(label.lines) - 1) + 1.0)
        best: tuple[float, FloatArray, Point] | None = None
        for cost, centre, point in _candidates(label, width, height):
            if best is not None and cost >= best[0]:
                break
            box = _box(centre, width, height, label.turn_at(point))
            if not self._free(box, point if cost > _ON_POINT else None):
                continue
            total = cost + 0.4 * self._covered(box)
            if best is None or total < best[0]:
                best = (total, box, point)
        if best is None:
            return []
        _, box, point = best
        self.take([box])
        return [*([] if label.turns_deg else _leader(box, point)), *_words(label, box, label.turn_at(point))]

    def _free(self, box: FloatArray, leader_to: Point | None) -> bool:
        """Whether a box lies in the window and clear of every box taken, and its leader crosses none."""
        x, y, width, height = self.window
        left, low = (float(v) for v in box.min(axis=0))
        right, high = (float(v) for v in box.max(axis=0))
        if left < x or low < y or right > x + width or high > y + height:
            return False
        c = self.clearance_mm
        for other, (a, b, d, e) in zip(self.taken, self._bounds, strict=True):
            if left < d + c and right > a - c and low < e + c and high > b - c and boxes_overlap(box, other, c):
                return False
        if leader_to is None or _inside(box, leader_to):
            return True
        run = _sampled(np.array([_nearest(box, leader_to), leader_to]), 1.0)
        return not any(bool(_within(run, bounds).any()) for bounds in self._bounds)

    def _covered(self, box: FloatArray) -> float:
        """How many sampled points of shunned lines a box covers."""
        low, high = box.min(axis=0), box.max(axis=0)
        return float(np.count_nonzero(_within(self.shunned, (low[0], low[1], high[0], high[1]))))


def _candidates(label: Label, width: float, height: float) -> Iterable[tuple[float, Point, Point]]:
    """Centres to try, cheapest first: on each point, then (with a leader) on rings around each."""
    for rank, point in enumerate(label.points):
        yield min(0.02 * rank, _ON_POINT), point, point
    if not label.leader or label.turns_deg:
        return
    for ring in range(1, 14):
        reach = 3.0 * ring
        for point in label.points[:6]:
            for turn in np.radians([90, 60, 120, 30, 150, 0, 180, -30, 210, -60, 240, -90]):
                shift_x = float(np.cos(turn)) * (reach + 0.5 * width)
                shift_y = float(np.sin(turn)) * (reach + 0.5 * height)
                yield 2.0 + reach, (point[0] + shift_x, point[1] + shift_y), point


def _box(centre: Point, width: float, height: float, turned_deg: float = 0.0) -> FloatArray:
    """A box by its centre, size and angle, from the lower left corner anticlockwise."""
    a, b = 0.5 * width, 0.5 * height
    cosine, sine = float(np.cos(np.radians(turned_deg))), float(np.sin(np.radians(turned_deg)))
    corners = np.array([(-a, -b), (a, -b), (a, b), (-a, b)]) @ np.array([(cosine, sine), (-sine, cosine)])
    turned: FloatArray = corners + np.array(centre)
    return turned


def _words(label: Label, box: FloatArray, turned_deg: float) -> Sequence[Element]:
    """The label's lines in its box, top line first."""
    if turned_deg:
        rise = DESCENT * label.size_mm
        up = np.array([-np.sin(np.radians(turned_deg)), np.cos(np.radians(turned_deg))])
        x, y = 0.5 * (box[0] + box[1]) + rise * up
        return [
            Words(
                at=(float(x), float(y)), text=label.lines[0], size_mm=label.size_mm, anchor=Anchor.MIDDLE,
                turned_deg=turned_deg, bold=label.bold, layer=label.layer, halo=True,
            )
        ]  # fmt: skip
    middle = 0.5 * float(box[0, 0] + box[1, 0])
    top = float(box[2, 1]) - ASCENT * label.size_mm
    return [
        Words(
            at=(middle, top - 1.25 * label.size_mm * number),
            text=text,
            size_mm=label.size_mm,
            anchor=Anchor.MIDDLE,
            bold=label.bold,
            layer=label.layer,
            halo=True,
        )
        for number, text in enumerate(label.lines)
    ]


def _leader(box: FloatArray, point: Point) -> list[Element]:
    """A leader from the box to its point, unless the point is inside."""
    if _inside(box, point):
        return []
    start = _nearest(box, point)
    return [line(Layer.LEADER, start, point), Dot(layer=Layer.LEADER, centre=point, radius_mm=0.4)]


def _nearest(box: FloatArray, point: Point) -> Point:
    """The place on the box's edge from which a leader starts: the middle of the nearest side."""
    sides = 0.5 * (box + np.roll(box, -1, axis=0))
    nearest = sides[int(np.argmin(np.hypot(*(sides - np.array(point)).T)))]
    return float(nearest[0]), float(nearest[1])


def _inside(box: FloatArray, point: Point) -> bool:
    """Whether a point lies in a level box."""
    return bool(box[0, 0] <= point[0] <= box[2, 0] and box[0, 1] <= point[1] <= box[2, 1])


def _within(points: FloatArray, bounds: tuple[float, float, float, float]) -> np.ndarray:
    """Which points lie in the bounds."""
    x, y = points[:, 0], points[:, 1]
    inside: np.ndarray = (x > bounds[0]) & (y > bounds[1]) & (x < bounds[2]) & (y < bounds[3])
    return inside


def _sampled(run: FloatArray, step_mm: float) -> FloatArray:
    """Points along a polyline, a step apart."""
    length = np.concatenate([[0.0], np.cumsum(np.hypot(*np.diff(run, axis=0).T))])
    if length[-1] == 0.0:
        return run[:1]
    at = np.linspace(0.0, length[-1], max(int(length[-1] / step_mm), 1) + 1)
    return np.stack([np.interp(at, length, run[:, 0]), np.interp(at, length, run[:, 1])], axis=1)
