"""Which panels and frames there are, in stations and edges, before anything is measured.

Edges of a plate panel are frames (also longitudinals and oblique frames) and the levels that support frames. A
load-distributing stringer is not a panel's edge: it does not hold the plate.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from enum import Enum
from itertools import pairwise

from beltwright.arrangement.levels import LevelLine
from beltwright.arrangement.zones import ZoneLine


class Role(Enum):
    """What a member of the frame table is."""

    MAIN = "main frame"
    INTERMEDIATE = "intermediate frame"
    WEB = "web frame"
    LONGITUDINAL = "longitudinal"
    OBLIQUE = "oblique frame"


@dataclass(slots=True)
class PanelSlot:
    """A panel: from station ``first`` to ``last``, above edges ``low`` and ``clip_low``, below ``high``, ``clip_high``.

    ``lower`` and ``upper`` are level numbers, -1 for the keel; ``stops`` are the frame numbers at its ends, and those
    of the frames within it where slivers were joined.
    """

    name: str
    zone: int
    first: int
    last: int
    low: int
    high: int
    clip_low: int
    clip_high: int
    lower: int
    upper: int
    stops: tuple[float, ...]

    @property
    def frame_aft(self) -> float:
        """The frame number at its aft end."""
        return self.stops[0]

    @property
    def frame_fore(self) -> float:
        """The frame number at its forward end."""
        return self.stops[-1]


@dataclass(slots=True)
class FrameSlot:
    """A frame span: across the girth at one station from edge ``low`` to ``high``, or along edge ``along``.

    ``along`` is -1 for frames that stand in one transverse plane. ``frame`` is the frame number (aft end).
    """

    name: str
    zone: int
    role: Role
    first: int
    last: int
    low: int
    high: int
    along: int
    lower: int
    upper: int
    frame: float


@dataclass(frozen=True, slots=True)
class Plan:
    """All panels and frame spans."""

    panels: list[PanelSlot]
    frames: list[FrameSlot]


def frame_label(frame: float) -> str:
    """Return a frame number as it is written: ``F200``, ``F200.5``, ``F-3``."""
    return f"F{frame:g}"


def bays_between(zone: ZoneLine, levels: Sequence[LevelLine], first: float, last: float) -> list[tuple[int, int, int]]:
    """Return (bay number, lower level, upper level) of each bay of a zone between two frames, from below.

    The bay number counts the supports of the whole ship from the keel, so that it is the same in every zone there.
    """

    def runs(level: LevelLine) -> bool:
        return level.supports_frames and level.first <= first and last <= level.last

    present = [k for k in zone.supports if runs(levels[k])]
    edges = [zone.lower, *(k for k in present if zone.lower < k < zone.upper), zone.upper]
    below = [k for k, level in enumerate(levels) if runs(level)]
    return [(1 + sum(k <= a for k in below), a, b) for a, b in pairwise(edges)]


def floor_bays(zone: ZoneLine) -> Iterator[tuple[int, int]]:
    """Yield the frames between which longitudinals and oblique frames span: web frames, floors, bulkheads, ends."""
    stops = sorted({*zone.webs, *zone.bulkheads, zone.first, zone.last})
    yield from pairwise(stops)


def row(level: int) -> int:
    """Return the edge row of a level's number (-1: the keel)."""
    return level + 1
