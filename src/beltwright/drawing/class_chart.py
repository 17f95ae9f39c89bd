"""One picture of a ship under several classes: steel weight as stacked bars, required thickness as points above it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

from beltwright.drawing.scale import Scale
from beltwright.drawing.scene import Anchor, Dot, Element, Filled, Group, Layer, Scene, Words, line, rectangle

_WIDTH, _HEIGHT = 168.0, 92.0
_LEFT, _RIGHT = 17.0, 2.0
_BARS = (14.0, 56.0)  # from and to on the sheet's height [mm]
_POINTS = (66.0, 86.0)


@dataclass(frozen=True, slots=True, kw_only=True)
class ClassBar:
    """One class: its name, masses [t] and thickness [mm] (None without a result), what is said under it, own class."""

    name: str
    plating_t: float | None
    frames_t: float | None
    thickness_mm: float | None
    said: str
    own: bool


def class_chart(bars: Sequence[ClassBar], thickness_of: str) -> Scene:
    """Return the picture; ``thickness_of`` says of what the thickness is the greatest requirement."""
    heaviest = max((_mass(bar) for bar in bars), default=0.0)
    thickest = max((bar.thickness_mm or 0.0 for bar in bars), default=0.0)
    slot = (_WIDTH - _LEFT - _RIGHT) / max(len(bars), 1)
    places = [_LEFT + (number + 0.5) * slot for number in range(len(bars))]
    masses, thick = Scale(*_BARS, heaviest), Scale(*_POINTS, thickest)
    groups = (
        Group(name="scales", items=(*masses.lines(_LEFT, _WIDTH - _RIGHT), *thick.lines(_LEFT, _WIDTH - _RIGHT))),
        Group(name="weights", items=tuple(_stacked(bars, places, 0.56 * slot, masses))),
        Group(name="thickness", items=tuple(_points(bars, places, thick))),
        Group(name="classes", items=tuple(_names(bars, places))),
        Group(name="legend", items=_legend(thickness_of)),
    )
    told = "; ".join(f"{bar.name} {_mass(bar):.0f} t" for bar in bars if bar.plating_t is not None)
    return Scene(
        width_mm=_WIDTH,
        height_mm=_HEIGHT,
        title="Steel weight and thickness by class",
        description=f"Steel of plating and frames, both sides: {told or 'no result'}. Above: {thickness_of}.",
        groups=groups,
    )


def _mass(bar: ClassBar) -> float:
    """Plating and frames of a class [t], 0 without a result."""
    return (bar.plating_t or 0.0) + (bar.frames_t or 0.0)


def _stacked(bars: Sequence[ClassBar], places: Sequence[float], width: float, axis: Scale) -> list[Element]:
    """Plating with frames on top of it, the sum above; the ship's own class has a heavier outline."""
    found: list[Element] = []
    for bar, x in zip(bars, places, strict=True):
        if bar.plating_t is None or bar.frames_t is None:
            continue
        base = axis.low_mm
        for fill, upto in (("area-B", bar.plating_t), ("area-Ml", bar.plating_t + bar.frames_t)):
            box = rectangle(Layer.SHELL if bar.own else Layer.BOX, x - 0.5 * width, base, width, axis.at(upto) - base)
            found += [Filled(fill=fill, rings=box.runs), box]
            base = axis.at(upto)
        found.append(
            Words(at=(x, base + 1.2), text=f"{_mass(bar):.0f}", size_mm=2.6, anchor=Anchor.MIDDLE, bold=True, halo=True)
        )
    return found


def _points(bars: Sequence[ClassBar], places: Sequence[float], axis: Scale) -> list[Element]:
    """The thickness of each class, joined where neighbours have one."""
    at = [
        None if bar.thickness_mm is None else (x, axis.at(bar.thickness_mm))
        for bar, x in zip(bars, places, strict=True)
    ]
    found: list[Element] = [line(Layer.ANGLE, one, other) for one, other in pairwise(at) if one and other]
    for bar, point in zip(bars, at, strict=True):
        if point is not None:
            found.append(Dot(layer=Layer.ANGLE, centre=point, radius_mm=0.8))
            found.append(
                Words(at=(point[0], point[1] + 1.6), text=f"{bar.thickness_mm:.1f}", size_mm=2.4,
                      anchor=Anchor.MIDDLE, halo=True)
            )  # fmt: skip
    return found


def _names(bars: Sequence[ClassBar], places: Sequence[float]) -> list[Element]:
    """The classes under their bars, and what is said of each."""
    found: list[Element] = []
    for bar, x in zip(bars, places, strict=True):
        found.append(Words(at=(x, 9.6), text=bar.name, size_mm=3.0, anchor=Anchor.MIDDLE, bold=bar.own))
        if bar.said:
            found.append(
                Words(at=(x, 6.2), text=bar.said, size_mm=2.3, anchor=Anchor.MIDDLE, layer=Layer.NOT_MET_WORDS)
            )
    return found


def _legend(thickness_of: str) -> tuple[Element, ...]:
    """What the fills and the points are."""
    plating, frames = rectangle(Layer.BOX, _LEFT, 0.6, 4.0, 2.6), rectangle(Layer.BOX, _LEFT + 52.0, 0.6, 4.0, 2.6)
    return (
        Filled(fill="area-B", rings=plating.runs), plating,
        Words(at=(_LEFT + 5.5, 1.1), text="shell plating [t]", size_mm=2.4),
        Filled(fill="area-Ml", rings=frames.runs), frames,
        Words(at=(_LEFT + 57.5, 1.1), text="local frames [t], both sides", size_mm=2.4),
        Words(at=(_LEFT, _POINTS[1] + 2.6), text=f"{thickness_of} [mm]", size_mm=2.4),
        Words(at=(_LEFT, _BARS[1] + 1.8), text="steel weight [t]", size_mm=2.4, layer=Layer.WORDS),
    )  # fmt: skip
