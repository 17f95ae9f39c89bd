"""Chapter 2: the ice waterlines as broken lines, each the envelope of the waterlines at which the ship runs in ice."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import combinations

import numpy as np

from beltwright.core.errors import InputError
from beltwright.core.units import FloatArray


@dataclass(frozen=True, slots=True, kw_only=True)
class BrokenLine:
    """A waterline as a broken line: heights ``height_m`` (k,) [m] at the places ``aft_of_stem_m`` (k,) [m], aft.

    Raises InputError for places that do not go aft, numbers that are not finite, or arrays of different lengths.
    """

    aft_of_stem_m: FloatArray
    height_m: FloatArray

    def __post_init__(self) -> None:
        places, heights = self.aft_of_stem_m, self.height_m
        if len(places) != len(heights) or len(places) == 0:
            raise InputError("ice waterline", "places and heights do not match",
                             value=f"{len(places)} and {len(heights)}", allowed="one height for each")  # fmt: skip
        if not (np.isfinite(places).all() and np.isfinite(heights).all()):
            raise InputError("ice waterline", "is not a number", unit="m", allowed="finite places and heights")
        if not (np.diff(places) > 0.0).all():
            raise InputError("ice waterline: aft_of_stem_m", "the places are not in order", value=np.round(places, 3),
                             unit="m", allowed="going aft, each once")  # fmt: skip

    def at(self, aft_of_stem_m: FloatArray) -> FloatArray:
        """Return the height [m] at places (n,) [m aft of the stem]; beyond its ends the line goes on level."""
        return np.interp(aft_of_stem_m, self.aft_of_stem_m, self.height_m)


def upper_ice_waterline(lines: Sequence[BrokenLine]) -> BrokenLine:
    """Return the upper ice waterline: the envelope of the highest points of waterlines. Source: FSICR 2021, chapter 2.

    Raises InputError for no waterline at all.
    """
    return _envelope(lines, highest=True)


def lower_ice_waterline(lines: Sequence[BrokenLine]) -> BrokenLine:
    """Return the lower ice waterline: the envelope of the lowest points of waterlines. Source: FSICR 2021, chapter 2.

    Raises InputError for no waterline at all.
    """
    return _envelope(lines, highest=False)


def _envelope(lines: Sequence[BrokenLine], *, highest: bool) -> BrokenLine:
    """The envelope, with a knuckle where two waterlines cross."""
    if not lines:
        raise InputError("ice waterlines", "no waterline is given", allowed="one or more")
    places = np.unique(np.concatenate([line.aft_of_stem_m for line in lines]))
    crossings = [
        _crossings(places, one.at(places) - other.at(places)) for one, other in combinations(lines, 2)
    ]  # fmt: skip
    places = np.unique(np.concatenate([places, *crossings]))
    heights = np.stack([line.at(places) for line in lines])
    return BrokenLine(aft_of_stem_m=places, height_m=heights.max(axis=0) if highest else heights.min(axis=0))


def _crossings(places: FloatArray, difference: FloatArray) -> FloatArray:
    """Where a broken line's values change sign between its places."""
    before, after = difference[:-1], difference[1:]
    change = before * after < 0.0
    part = before[change] / (before[change] - after[change])
    crossings: FloatArray = places[:-1][change] + part * np.diff(places)[change]
    return crossings


@dataclass(frozen=True, slots=True, kw_only=True)
class IceDraughts:
    """The two ice waterlines; raises InputError where the upper one lies below the lower one."""

    upper: BrokenLine
    lower: BrokenLine

    def __post_init__(self) -> None:
        places = np.unique(np.concatenate([self.upper.aft_of_stem_m, self.lower.aft_of_stem_m]))
        below = np.flatnonzero(self.upper.at(places) < self.lower.at(places))
        if len(below):
            x = float(places[below[0]])
            raise InputError("ice waterlines", f"the upper one lies below the lower one {x:.2f} m aft of the stem",
                             value=float(self.upper.at(np.array([x]))[0]), unit="m",
                             allowed=f"{float(self.lower.at(np.array([x]))[0]):g} or more")  # fmt: skip

    def certificate(self, forward_m: float, midship_m: float, aft_m: float) -> dict[str, tuple[float, float]]:
        """Return the greatest and the least draught [m] fore, amidships and aft, for the class certificate.

        The places [m aft of the stem] are those of the perpendiculars and of the middle between them; heights count
        from the baseline. Source: FSICR 2021, chapter 2.
        """
        places = {"fore": forward_m, "amidships": midship_m, "aft": aft_m}
        return {
            name: (float(self.upper.at(np.array([x]))[0]), float(self.lower.at(np.array([x]))[0]))
            for name, x in places.items()
        }
