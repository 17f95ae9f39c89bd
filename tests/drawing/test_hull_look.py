"""A hull at first sight: lengths in the picture are to one scale, the fore body stands to the right."""

from __future__ import annotations

import numpy as np
import pytest

from beltwright.drawing.hull_look import hull_look
from beltwright.drawing.scene import Layer, Lines

X = np.linspace(0.0, 50.0, 11)
# a box 50 m long, 5 m half-breadth, 8 m high, whose fore end narrows to nothing over the last 20 m
BREADTH = np.clip((50.0 - X) / 20.0, 0.02, 1.0) * 5.0
SECTIONS = [np.array([(0.0, 0.0), (b, 0.0), (b, 8.0)]) for b in BREADTH]


def of(name: str, layer: Layer) -> list[np.ndarray]:
    """The lines of one layer in one group."""
    group = next(one for one in hull_look(X, SECTIONS).groups if one.name == name)
    return [run for item in group.items if isinstance(item, Lines) and item.layer is layer for run in item.runs]


def test_plan_and_side_are_to_one_scale() -> None:
    plan, side = of("plan", Layer.SHELL)[0], of("side", Layer.SHELL)[0]
    scale = np.ptp(plan[:, 0]) / 50.0
    assert np.ptp(side[:, 0]) / 50.0 == pytest.approx(scale)
    assert np.ptp(plan[:, 1]) / 5.0 == pytest.approx(scale)
    assert np.ptp(side[:, 1]) / 8.0 == pytest.approx(scale)


def test_the_body_plan_has_the_fore_half_to_the_right() -> None:
    runs = of("body", Layer.SHELL_THIN)
    middle = float(runs[0][0, 0])
    for x, run in zip(X, runs, strict=True):
        widest = run[np.argmax(np.abs(run[:, 0] - middle)), 0]
        assert (widest > middle) == (x >= 25.0)
