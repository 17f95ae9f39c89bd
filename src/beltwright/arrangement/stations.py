"""Frame stations: frame numbers and where they stand along the ship."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from beltwright.core.errors import InputError
from beltwright.core.units import FloatArray, IntArray
from beltwright.ship.model import FrameSpacing

WHERE = "ship.toml"


@dataclass(frozen=True, slots=True, kw_only=True)
class FrameStations:
    """Every main frame of the frame table: ``numbers`` (n,), rising by one, and ``x_m`` (n,) from the AP [m]."""

    numbers: IntArray
    x_m: FloatArray

    @property
    def first(self) -> int:
        """The aftmost frame's number."""
        return int(self.numbers[0])

    @property
    def last(self) -> int:
        """The foremost frame's number."""
        return int(self.numbers[-1])

    def x_of(self, frame: FloatArray | float) -> FloatArray:
        """Return x [m] of frame numbers; 200.5 is midway between frames 200 and 201.

        Raises ValueError for a frame outside the table.
        """
        asked = np.asarray(frame, dtype=np.float64)
        if np.any((asked < self.first) | (asked > self.last)) or np.any(np.isnan(asked)):
            raise ValueError(f"frame outside the table, {self.first} to {self.last}")
        x: FloatArray = np.interp(asked, self.numbers, self.x_m)
        return x

    def frame_of(self, x_m: FloatArray | float) -> FloatArray:
        """Return the frame number, with its fraction, at x [m]; beyond the table the end spacings go on."""
        asked = np.asarray(x_m, dtype=np.float64)
        number: FloatArray = np.interp(asked, self.x_m, self.numbers.astype(np.float64))
        aft, fore = self.x_m[1] - self.x_m[0], self.x_m[-1] - self.x_m[-2]
        number = np.where(asked < self.x_m[0], self.first - (self.x_m[0] - asked) / aft, number)
        return np.where(asked > self.x_m[-1], self.last + (asked - self.x_m[-1]) / fore, number)

    def spacing_at(self, frame: int) -> float:
        """Return the spacing along the axis forward of a frame [m]."""
        at = frame - self.first
        return float(self.x_m[at + 1] - self.x_m[at])


def frame_stations(entries: Sequence[FrameSpacing]) -> FrameStations:
    """Return the stations of a frame table; frame 0 stands at the aft perpendicular, x = 0.

    Raises InputError naming the entry: ends that are not whole numbers, an entry that runs backward, a gap or an
    overlap with the entry before, or a table without frame 0.
    """
    for i, entry in enumerate(entries):
        field = f"{WHERE}: frames[{i + 1}]"
        for name in ("from_frame", "to_frame"):
            whole_frame(f"{field}.{name}", getattr(entry, name))
        if entry.to_frame <= entry.from_frame:
            raise InputError(
                f"{field}.to_frame", "must lie forward of from_frame", value=entry.to_frame,
                allowed=f"above {entry.from_frame:g}",
            )  # fmt: skip
        if i and entry.from_frame != entries[i - 1].to_frame:
            fault = "leaves a gap after" if entry.from_frame > entries[i - 1].to_frame else "overlaps"
            raise InputError(
                f"{field}.from_frame", f"{fault} the entry before", value=entry.from_frame,
                allowed=f"{entries[i - 1].to_frame:g}",
            )  # fmt: skip
    first, last = int(entries[0].from_frame), int(entries[-1].to_frame)
    if not first <= 0 <= last:
        raise InputError(
            f"{WHERE}: frames", "frame 0 stands at the aft perpendicular and must be in the table",
            value=f"{first} to {last}", allowed="a table from 0 or below to 0 or above",
        )  # fmt: skip
    numbers = np.arange(first, last + 1)
    x = np.zeros(numbers.size)
    for entry in entries:  # each from its own start, so that rounding does not add up over the ship
        a, b = int(entry.from_frame) - first, int(entry.to_frame) - first
        x[a : b + 1] = x[a] + entry.spacing_m * np.arange(b - a + 1)
    return FrameStations(numbers=numbers, x_m=x - x[-first])


def whole_frame(field: str, value: float) -> int:
    """Return a frame number as an integer; raises InputError naming ``field`` if it is not whole."""
    if value != round(value):
        near = f"{np.floor(value):g} or {np.ceil(value):g}"
        raise InputError(field, "must be a whole frame number", value=value, allowed=near)
    return round(value)
