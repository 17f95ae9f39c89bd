"""One picture of a choice of class: steel weight, above it cost and where each class may go on the route, as bars."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import groupby
from typing import Final

from beltwright.drawing.lettering import wrap
from beltwright.drawing.scale import Scale
from beltwright.drawing.scene import Anchor, Element, Filled, Group, Layer, Scene, Words, line, rectangle

_WIDTH, _LEFT, _RIGHT = 168.0, 14.0, 1.0
_BARS = (20.0, 62.0)  # from and to on the sheet's height [mm]
_COST = (71.0, 101.0)
_ABOVE = 9.0  # from the top of one part to the foot of the next
_ROUTE_MM = 24.0
_BETWEEN = 0.55  # gap between documents, in slots
_SHARE_FILLS: Final = ("area-BI", "area-Ml", "area-Sb")
_MARK: Final = "decision support, no permission"
_LEAST_SAID = 0.16  # a share below this has no room for its number


@dataclass(frozen=True, slots=True, kw_only=True)
class ChoiceBar:
    """One class: name, document, masses [t] with the deadweight lost from and to, cost, and shares of the route.

    ``money`` are steel and work of the shell in thousands, None without a result; ``more_money`` is their sum less that
    of the class compared with. ``shares`` are normal, elevated, special, None where no route is given or the class is
    not known; ``said`` stands under the name, ``own`` marks the ship's own class, ``base`` that compared with.
    """

    name: str
    document: str
    plating_t: float | None
    frames_t: float | None
    lost_t: tuple[float, ...]
    money: tuple[float, float] | None
    more_money: float | None
    shares: tuple[float, float, float] | None
    said: str
    own: bool
    base: bool


def choice_chart(bars: Sequence[ChoiceBar], currency: str) -> Scene:
    """Return the picture; a part that no class has anything for is left out."""
    with_cost, with_route = any(bar.money for bar in bars), any(bar.shares is not None for bar in bars)
    places, slot = _places(bars)
    right, width, top = _WIDTH - _RIGHT, 0.62 * slot, _BARS[1]
    masses = Scale(*_BARS, 1.08 * max((_mass(bar) for bar in bars), default=0.0))
    groups = [
        Group(name="scale", items=tuple(masses.lines(_LEFT, right))),
        Group(name="weights", items=tuple(_weights(bars, places, width, masses))),
        Group(name="classes", items=tuple(_names(bars, places, slot))),
        Group(name="legend", items=_legend()),
    ]
    if with_cost:
        sums = Scale(*_COST, max(sum(bar.money) for bar in bars if bar.money))
        groups.append(Group(name="cost scale", items=tuple(sums.lines(_LEFT, right))))
        groups.append(Group(name="cost", items=tuple(_costs(bars, places, width, sums, currency))))
        top = _COST[1]
    if with_route:
        low = top + _ABOVE
        groups.append(Group(name="route", items=tuple(_route(bars, places, width, (low, low + _ROUTE_MM)))))
        top = low + _ROUTE_MM
    told = "; ".join(f"{bar.name} {_mass(bar):.0f} t" for bar in bars if bar.plating_t is not None)
    return Scene(
        width_mm=_WIDTH,
        height_mm=top + (8.0 if with_route else 7.0),
        title="Steel weight, cost and permitted operation by class",
        description=f"Steel of plating and frames, both sides: {told or 'no result'}.",
        groups=tuple(groups),
    )


def _places(bars: Sequence[ChoiceBar]) -> tuple[list[float], float]:
    """The middle of each class on the sheet, documents apart, and the width of a slot [mm]."""
    documents = [len(list(group)) for _, group in groupby(bars, key=lambda bar: bar.document)]
    slots = len(bars) + _BETWEEN * max(len(documents) - 1, 0)
    slot = (_WIDTH - _LEFT - _RIGHT) / max(slots, 1.0)
    places: list[float] = []
    for number, count in enumerate(documents):
        start = _LEFT + slot * (len(places) + _BETWEEN * number)
        places += [start + (k + 0.5) * slot for k in range(count)]
    return places, slot


def _mass(bar: ChoiceBar) -> float:
    """Plating and frames of a class [t], 0 without a result."""
    return (bar.plating_t or 0.0) + (bar.frames_t or 0.0)


def _weights(bars: Sequence[ChoiceBar], places: Sequence[float], width: float, axis: Scale) -> list[Element]:
    """Plating with frames on top, above them the sum and the deadweight lost against the class compared with."""
    found: list[Element] = []
    for bar, x in zip(bars, places, strict=True):
        if bar.plating_t is None or bar.frames_t is None:
            found.append(_word(x, axis.low_mm + 2.0, "no result", 2.1, Layer.NOT_MET_WORDS))
            continue
        parts = (("area-B", bar.plating_t), ("area-Ml", bar.frames_t))
        found += _stack(bar, x, width, axis, parts, f"{_mass(bar):.0f}", _range(bar.lost_t))
    return found


def _costs(
    bars: Sequence[ChoiceBar], places: Sequence[float], width: float, axis: Scale, currency: str
) -> list[Element]:
    """Steel with work on top, above them the sum and what is more than the class compared with."""
    found: list[Element] = [
        Words(at=(_LEFT, axis.high_mm + 2.2), text=f"cost of plating and frames [thousand {currency}]", size_mm=2.4),
        *_key(_LEFT + 64.0, axis.high_mm + 1.7, "area-BI", "steel of the grades asked"),
        *_key(_LEFT + 106.5, axis.high_mm + 1.7, "area-Sb", "work, joints, pieces, bending"),
    ]
    for bar, x in zip(bars, places, strict=True):
        if bar.money is not None:
            parts = (("area-BI", bar.money[0]), ("area-Sb", bar.money[1]))
            more = () if bar.more_money is None else (bar.more_money,)
            found += _stack(bar, x, width, axis, parts, f"{sum(bar.money):.0f}", _range(more))
    return found


def _stack(bar: ChoiceBar, x: float, width: float, axis: Scale, parts: Sequence[tuple[str, float]], told: str,
           against: str) -> list[Element]:  # fmt: skip
    """One bar of parts with its sum, and above it the difference to the class compared with."""
    found: list[Element] = []
    base, reached = axis.low_mm, 0.0
    for fill, value in parts:
        reached += value
        box = rectangle(Layer.SHELL if bar.own else Layer.BOX, x - 0.5 * width, base, width, axis.at(reached) - base)
        found += [Filled(fill=fill, rings=box.runs), box]
        base = axis.at(reached)
    found.append(Words(at=(x, base + 3.6), text=told, size_mm=2.6, anchor=Anchor.MIDDLE, bold=True, halo=True))
    mark = ("own" if bar.own else "base") if bar.base else against
    found.append(Words(at=(x, base + 1.0), text=mark, size_mm=2.1, anchor=Anchor.MIDDLE, halo=True,
                       layer=Layer.QUIET_WORDS))  # fmt: skip
    return found


def _range(values: Sequence[float]) -> str:
    """Whole tonnes with their sign, from and to where they differ; the second sign only where it is another."""
    told = list(dict.fromkeys(f"{value:+.0f}".replace("-", "−") for value in values))
    if len(told) == 2 and told[0][0] == told[1][0]:
        told[1] = told[1][1:]
    return "…".join(told)


def _route(
    bars: Sequence[ChoiceBar], places: Sequence[float], width: float, between: tuple[float, float]
) -> list[Element]:
    """Shares of the route's point-days as whole bars, normal operation lowest."""
    low, high = between
    found: list[Element] = [
        Words(at=(_LEFT, high + 4.6), text=f"share of the route's point-days by POLARIS ({_MARK})", size_mm=2.4)
    ]
    for share in (0.0, 0.5, 1.0):
        y = low + share * (high - low)
        found.append(line(Layer.FRAME, (_LEFT, y), (_WIDTH - _RIGHT, y)))
        found.append(Words(at=(_LEFT - 1.5, y - 0.8), text=f"{100 * share:.0f} %", size_mm=2.2, anchor=Anchor.END,
                           layer=Layer.QUIET_WORDS))  # fmt: skip
    for bar, x in zip(bars, places, strict=True):
        if bar.shares is None:
            found.append(_word(x, low + 2.0, "not known", 2.1, Layer.QUIET_WORDS))
            continue
        base = low
        for fill, share in zip(_SHARE_FILLS, bar.shares, strict=True):
            if share <= 0.0:
                continue
            height = share * (high - low)
            box = rectangle(Layer.SHELL if bar.own else Layer.BOX, x - 0.5 * width, base, width, height)
            found += [Filled(fill=fill, rings=box.runs), box]
            if share >= _LEAST_SAID:
                text = ">99" if 0.99 < share < 1.0 else f"{100 * share:.0f}"
                found.append(_word(x, base + 0.5 * height - 0.8, text, 2.3, Layer.WORDS))
            base += height
    x = _LEFT
    for fill, words in zip(_SHARE_FILLS, ("normal operation", "elevated operational risk",
                                          "operation subject to special consideration"), strict=True):  # fmt: skip
        found += _key(x, high + 1.0, fill, words)
        x += 9.0 + 1.32 * len(words)
    return found


def _names(bars: Sequence[ChoiceBar], places: Sequence[float], slot: float) -> list[Element]:
    """The classes under their bars with what is said of each, and the document under its classes."""
    found: list[Element] = []
    for bar, x in zip(bars, places, strict=True):
        found.append(Words(at=(x, 16.2), text=bar.name, size_mm=2.8, anchor=Anchor.MIDDLE, bold=bar.own))
        if bar.said:
            found.append(_word(x, 13.4, bar.said, 2.1, Layer.NOT_MET_WORDS))
    row = 0
    for document, group in groupby(bars, key=lambda bar: bar.document):
        count = len(list(group))
        first, last = places[row] - 0.42 * slot, places[row + count - 1] + 0.42 * slot
        found.append(line(Layer.RULE_LINE, (first, 12.2), (last, 12.2)))
        for number, words in enumerate(wrap(document, 2.2, last - first)[:2]):
            found.append(_word(0.5 * (first + last), 9.2 - 2.9 * number, words, 2.2, Layer.WORDS))
        row += count
    return found


def _legend() -> tuple[Element, ...]:
    """What the fills of the weights are."""
    return (
        *_key(_LEFT, 0.8, "area-B", "shell plating [t]"),
        *_key(_LEFT + 34.0, 0.8, "area-Ml", "local frames [t], both sides"),
        Words(at=(_LEFT + 82.0, 1.3), text="above: sum, and deadweight lost against the base [t]", size_mm=2.2),
        Words(at=(_LEFT, _BARS[1] + 2.2), text="steel weight [t]", size_mm=2.4),
    )


def _key(x: float, y: float, fill: str, words: str) -> list[Element]:
    """A fill with its words."""
    box = rectangle(Layer.BOX, x, y, 4.0, 2.4)
    return [Filled(fill=fill, rings=box.runs), box, Words(at=(x + 5.2, y + 0.5), text=words, size_mm=2.2)]


def _word(x: float, y: float, text: str, size: float, layer: Layer) -> Words:
    """Words about a middle."""
    return Words(at=(x, y), text=text, size_mm=size, anchor=Anchor.MIDDLE, layer=layer)
