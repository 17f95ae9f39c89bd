"""A hull at first sight: body plan, profile and plan from its sections alone, to see if it was read the right way."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

import numpy as np

from beltwright.core.units import FloatArray
from beltwright.drawing.scene import Anchor, Element, Group, Layer, Lines, Plot, Scene, Words, arrow, line

_WIDTH, _GAP, _BODY = 230.0, 14.0, 62.0
_NAMES_MM: Final = 3.4


def hull_look(x_m: FloatArray, sections: Sequence[FloatArray]) -> Scene:
    """Return the picture of a hull's port half.

    Parameters
    ----------
    x_m : (k,) places of the sections from the aft perpendicular, rising [m]
    sections : points (n, 2) of each as half-breadth and height above the baseline [m], from the keel up
    """
    low = min(float(points[:, 1].min()) for points in sections)
    high = max(float(points[:, 1].max()) for points in sections)
    wide = max(float(points[:, 0].max()) for points in sections)
    long_mm = _WIDTH - _BODY - _GAP
    mm = min(long_mm / float(x_m[-1] - x_m[0]), _BODY / (2.0 * wide))
    plan = Plot(paper_x=0.0, paper_y=0.0, reference=(float(x_m[0]), 0.0), scale_mm_per_m=mm)
    tall = wide * mm + _GAP
    side = Plot(paper_x=0.0, paper_y=tall, reference=(float(x_m[0]), low), scale_mm_per_m=mm)
    body = Plot(paper_x=long_mm + _GAP + wide * mm, paper_y=tall, reference=(0.0, low), scale_mm_per_m=mm)
    top = tall + (high - low) * mm
    groups = (
        Group(name="plan", items=tuple(_outline(plan, x_m, [points[:, 0] for points in sections], "plan, port half"))),
        Group(
            name="side",
            items=tuple(_outline(side, x_m, [points[:, 1] for points in sections], "side, bow at the right")),
        ),
        Group(name="body", items=tuple(_body(body, x_m, sections, top))),
    )
    told = f"Plan, side and body plan of the hull as it was read, {x_m[-1] - x_m[0]:.1f} m long."
    return Scene(width_mm=_WIDTH, height_mm=top + 12.0, title="hull as it was read", description=told, groups=groups)


def _outline(plot: Plot, x_m: FloatArray, values: Sequence[FloatArray], name: str) -> list[Element]:
    """Least and greatest value of every section along the ship, with the sections as thin lines and the way forward."""
    least = np.array([part.min() for part in values])
    most = np.array([part.max() for part in values])
    ring = np.concatenate([np.column_stack([x_m, most]), np.column_stack([x_m, least])[::-1]])
    thin = tuple(plot.place([(x, a), (x, b)]) for x, a, b in zip(x_m[1:-1], least[1:-1], most[1:-1], strict=True))
    head = plot.at(float(x_m[-1]), float(most.max()))
    tip = (head[0] + 7.0, head[1] - 3.0)
    start = plot.at(float(x_m[0]), float(most.max()))
    return [
        Lines(layer=Layer.FRAME, runs=thin),
        Lines(layer=Layer.SHELL, runs=(plot.place(ring),), closed=True),
        line(Layer.DIMENSION, (head[0] - 5.0, head[1] - 3.0), tip),
        arrow(Layer.DIMENSION, tip, (head[0] - 5.0, head[1] - 3.0)),
        Words(at=(start[0], start[1] + 2.0), text=name, size_mm=_NAMES_MM),
    ]


def _body(plot: Plot, x_m: FloatArray, sections: Sequence[FloatArray], top: float) -> list[Element]:
    """Sections of the fore half to the right, of the aft half to the left."""
    middle = 0.5 * float(x_m[0] + x_m[-1])
    runs = tuple(
        plot.place(points * np.array([1.0 if x >= middle else -1.0, 1.0]))
        for x, points in zip(x_m, sections, strict=True)
    )
    return [
        Lines(layer=Layer.SHELL_THIN, runs=runs),
        Words(at=(plot.paper_x, top + 2.0), text="body plan", size_mm=_NAMES_MM, anchor=Anchor.MIDDLE),
    ]
