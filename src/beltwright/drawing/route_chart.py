"""One picture of a route: for every class, by month and along the route, how the point-days divide by operation.

A cell is one class in one month, or on one stretch of the route; it is filled from below by the shares of its
point-days in normal operation, at elevated risk and subject to special consideration, and says the lowest index.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

from beltwright.core.units import FloatArray, IntArray
from beltwright.drawing.scene import Anchor, Element, Filled, Group, Layer, Scene, Words, line, rectangle

FILLS: Final = ("area-BI", "area-Ml", "area-Sb")
MEANINGS: Final = ("normal operation", "elevated operational risk", "operation subject to special consideration")
MARK: Final = "Decision support by POLARIS, no permission and no go/no-go."
_WIDTH, _LEFT, _RIGHT = 186.0, 24.0, 2.0
_CELL, _HEAD, _BETWEEN, _FOOT = 6.4, 9.0, 6.0, 16.0
_LEAST_MM = 6.0  # a narrower cell has no room for its number


@dataclass(frozen=True, slots=True, kw_only=True)
class Cells:
    """One block of cells: its title, what the columns are called, shares (classes, columns, 3) and lowest index."""

    title: str
    columns: tuple[str, ...]
    shares: FloatArray
    lowest: IntArray


def route_chart(classes: Sequence[str], blocks: Sequence[Cells], own: str, title: str) -> Scene:
    """Return the picture; ``own`` is the ship's class, or empty."""
    tall = _HEAD + _CELL * len(classes)
    height = _FOOT + len(blocks) * (tall + _BETWEEN) + 2.0
    groups = []
    top = height - 2.0
    for number, block in enumerate(blocks, 1):
        groups.append(Group(name=f"cells {number}", items=tuple(_block(classes, block, own, top))))
        top -= tall + _BETWEEN
    groups.append(Group(name="legend", items=tuple(_legend())))
    worst = "; ".join(f"{name} lowest index {int(blocks[0].lowest[k].min())}" for k, name in enumerate(classes))
    return Scene(width_mm=_WIDTH, height_mm=height, title=title, description=f"{MARK} {worst}.", groups=tuple(groups))


def _block(classes: Sequence[str], block: Cells, own: str, top: float) -> list[Element]:
    """One block: title, names of columns and classes, and the cells."""
    wide = (_WIDTH - _LEFT - _RIGHT) / max(len(block.columns), 1)
    first = top - _HEAD
    found: list[Element] = [Words(at=(_LEFT, top - 3.0), text=block.title, size_mm=2.6, bold=True)]
    step = -(-len(block.columns) * 12 // int(_WIDTH - _LEFT))  # names need about twelve millimetres
    for k, name in enumerate(block.columns):
        if k % step == 0:
            place = (_LEFT + (k + 0.5) * wide, first + 1.2)
            found.append(Words(at=place, text=name, size_mm=2.1, anchor=Anchor.MIDDLE, layer=Layer.QUIET_WORDS))
    for row, ice_class in enumerate(classes):
        y = first - (row + 1) * _CELL
        marked = ice_class == own
        name = f"{ice_class} (own)" if marked else ice_class
        found.append(Words(at=(_LEFT - 1.5, y + 2.2), text=name, size_mm=2.4, anchor=Anchor.END, bold=marked))
        for k in range(len(block.columns)):
            found += _cell(block, row, k, (_LEFT + k * wide, y, wide))
        if marked:
            found.append(rectangle(Layer.SHELL, _LEFT, y, wide * len(block.columns), _CELL))
    return found


def _cell(block: Cells, row: int, column: int, place: tuple[float, float, float]) -> list[Element]:
    """One cell, filled from below by its shares; its lowest index where there is room."""
    x, y, wide = place
    found: list[Element] = []
    base = y
    for fill, share in zip(FILLS, block.shares[row, column].tolist(), strict=True):
        if share > 0.0:
            found.append(Filled(fill=fill, rings=rectangle(Layer.BOX, x, base, wide, share * _CELL).runs))
            base += share * _CELL
    found.append(rectangle(Layer.BOX, x, y, wide, _CELL))
    if wide >= _LEAST_MM:
        text = f"{int(block.lowest[row, column])}".replace("-", "−")
        found.append(Words(at=(x + 0.5 * wide, y + 2.4), text=text, size_mm=2.1, anchor=Anchor.MIDDLE, halo=True))
    return found


def _legend() -> list[Element]:
    """What the fills mean, what the numbers are, and the caution."""
    found: list[Element] = [line(Layer.RULE_LINE, (_LEFT, _FOOT - 2.0), (_WIDTH - _RIGHT, _FOOT - 2.0))]
    x = _LEFT
    for fill, words in zip(FILLS, MEANINGS, strict=True):
        box = rectangle(Layer.BOX, x, _FOOT - 7.0, 4.0, 2.6)
        found += [Filled(fill=fill, rings=box.runs), box]
        found.append(Words(at=(x + 5.2, _FOOT - 6.4), text=words, size_mm=2.2))
        x += 10.0 + 1.34 * len(words)
    told = "Filled from below: shares of the point-days. Number: the lowest risk index outcome (RIO) among them."
    found.append(Words(at=(_LEFT, _FOOT - 10.6), text=told, size_mm=2.2, layer=Layer.QUIET_WORDS))
    found.append(Words(at=(_LEFT, _FOOT - 14.2), text=MARK, size_mm=2.2, bold=True))
    return found
