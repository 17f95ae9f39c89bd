"""One picture of a trade-off: designs as points by two objectives; right of the stairs a point beats every design."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

import numpy as np

from beltwright.drawing.scene import Anchor, Dot, Element, Group, Layer, Scene, Words, line, rectangle

_WIDTH, _HEIGHT = 168.0, 96.0
_LEFT, _RIGHT, _LOW, _HIGH = 22.0, 8.0, 14.0, 86.0
_STEPS = (1.0, 2.0, 5.0)
_MARGIN = 0.12  # of the range, on each side


@dataclass(frozen=True, slots=True, kw_only=True)
class FrontPoint:
    """One design: its number, both values in the units of the axes, whether it is proved to lie on the front."""

    number: int
    first: float
    second: float
    proved: bool


class Axis:
    """An axis from below the least to above the greatest value, with round ticks."""

    def __init__(self, low_mm: float, high_mm: float, values: Sequence[float]) -> None:
        least, most = min(values), max(values)
        room = max(_MARGIN * (most - least), 1e-3 * max(abs(most), 1.0))
        self._least, self._most = least - room, most + room
        self.low_mm, self.high_mm = low_mm, high_mm
        rough = (self._most - self._least) / 5.0
        decade = 10.0 ** np.floor(np.log10(rough))
        step = float(next((s * decade for s in _STEPS if s * decade >= rough), 10.0 * decade))
        self.decimals = max(-int(np.floor(np.log10(step))), 0)
        first = np.ceil(self._least / step)
        self.ticks = [float(step * k) for k in np.arange(first, np.floor(self._most / step) + 1.0)]

    def at(self, value: float) -> float:
        """The place of a value on the sheet [mm]."""
        return self.low_mm + (self.high_mm - self.low_mm) * (value - self._least) / (self._most - self._least)


def front_chart(points: Sequence[FrontPoint], axes: tuple[str, str], title: str) -> Scene:
    """Return the picture of at least one point; ``axes`` are the words of the first and the second objective."""
    across = Axis(_LEFT, _WIDTH - _RIGHT, [point.first for point in points])
    up = Axis(_LOW, _HIGH, [point.second for point in points])
    told = "; ".join(
        f"{point.number}: {point.first:.{across.decimals + 1}f}, {point.second:.{up.decimals + 1}f}" for point in points
    )
    return Scene(
        width_mm=_WIDTH,
        height_mm=_HEIGHT,
        title=title,
        description=f"{axes[0]} against {axes[1]}. {told}.",
        groups=(
            Group(name="axes", items=tuple(_axes(across, up, axes))),
            Group(name="stairs", items=tuple(_stairs(points, across, up))),
            Group(name="points", items=tuple(_points(points, across, up))),
        ),
    )


def _axes(across: Axis, up: Axis, axes: tuple[str, str]) -> list[Element]:
    """The frame, the ticks with their numbers, and the words."""
    found: list[Element] = [rectangle(Layer.BOX, _LEFT, _LOW, _WIDTH - _RIGHT - _LEFT, _HIGH - _LOW)]
    for value in across.ticks:
        x = across.at(value)
        found.append(line(Layer.GRID, (x, _LOW), (x, _HIGH)))
        found.append(Words(at=(x, _LOW - 3.6), text=f"{value:.{across.decimals}f}", size_mm=2.2, anchor=Anchor.MIDDLE))
    for value in up.ticks:
        y = up.at(value)
        found.append(line(Layer.GRID, (_LEFT, y), (_WIDTH - _RIGHT, y)))
        found.append(Words(at=(_LEFT - 1.5, y - 0.8), text=f"{value:.{up.decimals}f}", size_mm=2.2, anchor=Anchor.END))
    middle = 0.5 * (_LEFT + _WIDTH - _RIGHT)
    found.append(Words(at=(middle, _LOW - 8.6), text=axes[0], size_mm=2.6, anchor=Anchor.MIDDLE))
    found.append(Words(at=(_LEFT, _HIGH + 2.4), text=axes[1], size_mm=2.6))
    told = "no design lies left of a point and below it"
    found.append(Words(at=(_WIDTH - _RIGHT, _HIGH + 2.4), text=told, size_mm=2.2, anchor=Anchor.END,
                       layer=Layer.QUIET_WORDS))  # fmt: skip
    return found


def _stairs(points: Sequence[FrontPoint], across: Axis, up: Axis) -> list[Element]:
    """From each point to the next: along, then down."""
    return [
        line(Layer.ANGLE, (across.at(a.first), up.at(a.second)), (across.at(b.first), up.at(a.second)),
             (across.at(b.first), up.at(b.second)))
        for a, b in pairwise(points)
    ]  # fmt: skip


def _points(points: Sequence[FrontPoint], across: Axis, up: Axis) -> list[Element]:
    """The points with their numbers."""
    found: list[Element] = []
    for point in points:
        x, y = across.at(point.first), up.at(point.second)
        found.append(Dot(layer=Layer.ANGLE if point.proved else Layer.NOT_MET, centre=(x, y), radius_mm=0.9))
        words = f"{point.number}" if point.proved else f"{point.number} not proved"
        found.append(Words(at=(x + 1.6, y + 1.2), text=words, size_mm=2.6, bold=True, halo=True))
    return found
