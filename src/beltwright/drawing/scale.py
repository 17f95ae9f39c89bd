"""A scale of a picture with bars or points: from zero to a round number above the greatest value."""

from __future__ import annotations

import numpy as np

from beltwright.drawing.scene import Anchor, Element, Layer, Words, line

_STEPS = (1.0, 2.0, 5.0)


class Scale:
    """A scale from zero to a round number above the greatest value, on a part of the sheet's height."""

    def __init__(self, low_mm: float, high_mm: float, greatest: float) -> None:
        self.low_mm, self.high_mm = low_mm, high_mm
        greatest = max(1.12 * greatest, 1e-9)  # room for the number above
        rough = greatest / 4.0
        decade = 10.0 ** np.floor(np.log10(rough))
        self.step = float(next((s * decade for s in _STEPS if s * decade >= rough), 10.0 * decade))
        self.top = self.step * float(np.ceil(greatest / self.step))

    def at(self, value: float) -> float:
        """The height of a value on the sheet [mm]."""
        return self.low_mm + (self.high_mm - self.low_mm) * value / self.top

    def lines(self, left_mm: float, right_mm: float) -> list[Element]:
        """Level lines from left to right, with their numbers."""
        found: list[Element] = []
        for value in np.arange(0.0, self.top + 0.5 * self.step, self.step):
            y = self.at(float(value))
            found.append(line(Layer.FRAME, (left_mm, y), (right_mm, y)))
            found.append(
                Words(at=(left_mm - 1.5, y - 0.8), text=f"{value:g}", size_mm=2.2, anchor=Anchor.END,
                      layer=Layer.QUIET_WORDS)
            )  # fmt: skip
        return found
