"""Levels as heights along the ship, checked against each other and the hull's depth."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from beltwright.arrangement.stations import WHERE, FrameStations, whole_frame
from beltwright.core.errors import InputError
from beltwright.core.units import BoolArray, FloatArray
from beltwright.ship.model import Level, LevelKind, Ship

LEAST_GAP_M = 0.10  # two levels nearer than this are one level told twice
KEEL = "keel"


@dataclass(frozen=True, slots=True, kw_only=True)
class LevelLine:
    """A level as a straight line: from frame ``first`` to ``last``, at ``height_aft_m`` and ``height_fore_m`` there."""

    name: str
    kind: LevelKind
    first: int
    last: int
    x_aft_m: float
    x_fore_m: float
    height_aft_m: float
    height_fore_m: float

    @property
    def supports_frames(self) -> bool:
        """Whether frames end their span here."""
        return self.kind.supports_frames

    def height_at(self, x_m: FloatArray) -> FloatArray:
        """Return the height [m] at x [m]; beyond its ends the line goes on straight."""
        rise = (self.height_fore_m - self.height_aft_m) / (self.x_fore_m - self.x_aft_m)
        height: FloatArray = self.height_aft_m + rise * (np.asarray(x_m, dtype=np.float64) - self.x_aft_m)
        return height

    def runs_over(self, first: int, last: int) -> bool:
        """Whether it runs over the whole length between two frames."""
        return self.first <= first and last <= self.last

    def present(self, x_m: FloatArray) -> BoolArray:
        """Where it exists, by x [m]."""
        here: BoolArray = (x_m >= self.x_aft_m - 1e-9) & (x_m <= self.x_fore_m + 1e-9)
        return here


@dataclass(frozen=True, slots=True)
class AboveLevel:
    """The field of heights above a level [m], zero on it: what cuts the shell at the level."""

    level: LevelLine

    def __call__(self, points: FloatArray) -> FloatArray:
        """Return the heights of ``points`` (n, 3) above the level [m]."""
        above: FloatArray = points[:, 2] - self.level.height_at(points[:, 0])
        return above


def level_lines(ship: Ship, stations: FrameStations) -> tuple[LevelLine, ...]:
    """Return the levels from the keel upward.

    Raises InputError naming the level's field: equal names, the word "keel" as a name, ends outside the frame table or
    the wrong way round, a rising level without ends, a height above the depth, two levels that cross or lie within
    0.10 m of each other (and so also one height told twice with different kinds).
    """
    lines: list[LevelLine] = []
    for i, level in enumerate(ship.levels):
        field = f"{WHERE}: levels[{i + 1}]"
        unique_name(f"{field}.name", level.name, [line.name for line in lines])
        if level.name.casefold() == KEEL:
            raise InputError(f"{field}.name", "this word means the centreline at the bottom", value=level.name)
        lines.append(_line(level, field, stations, ship.hull.depth_m))
    for i, upper in enumerate(lines):
        for lower in lines[:i]:
            _apart(f"{WHERE}: levels[{i + 1}].height_m", upper, lower)
    return tuple(_sorted_upward(lines))


def unique_name(field: str, name: str, others: Sequence[str]) -> None:
    """Raise InputError naming ``field`` if the name is taken already."""
    if name.casefold() in [other.casefold() for other in others]:
        raise InputError(field, "this name is taken already", value=name, allowed="a name used once")


def frame_range(field: str, first: float | None, last: float | None, stations: FrameStations) -> tuple[int, int]:
    """Return two whole frame numbers inside the frame table, the ends of the table where not given."""
    ends: list[int] = []
    for name, value, otherwise in (("from_frame", first, stations.first), ("to_frame", last, stations.last)):
        number = otherwise if value is None else whole_frame(f"{field}.{name}", value)
        if not stations.first <= number <= stations.last:
            raise InputError(
                f"{field}.{name}", "lies outside the frame table", value=number,
                allowed=f"{stations.first} to {stations.last}",
            )  # fmt: skip
        ends.append(number)
    if ends[1] <= ends[0]:
        raise InputError(
            f"{field}.to_frame", "must lie forward of from_frame", value=ends[1], allowed=f"above {ends[0]}"
        )
    return ends[0], ends[1]


def _line(level: Level, field: str, stations: FrameStations, depth_m: float) -> LevelLine:
    """One level as a line."""
    if level.height_forward_m is not None and (level.from_frame is None or level.to_frame is None):
        raise InputError(
            f"{field}.height_forward_m", "a level that rises needs both its ends", value=level.height_forward_m,
            unit="m", allowed="from_frame and to_frame given",
        )  # fmt: skip
    first, last = frame_range(field, level.from_frame, level.to_frame, stations)
    forward = level.height_m if level.height_forward_m is None else level.height_forward_m
    for name, height in (("height_m", level.height_m), ("height_forward_m", forward)):
        if height > depth_m + 1e-6:
            raise InputError(
                f"{field}.{name}", "lies above the depth, hull.depth_m", value=height, unit="m",
                allowed=f"at most {depth_m:g}",
            )  # fmt: skip
    return LevelLine(
        name=level.name,
        kind=level.kind,
        first=first,
        last=last,
        x_aft_m=float(stations.x_of(first)),
        x_fore_m=float(stations.x_of(last)),
        height_aft_m=level.height_m,
        height_fore_m=forward,
    )


def _apart(field: str, one: LevelLine, other: LevelLine) -> None:
    """Refuse two levels that cross or nearly touch where both exist."""
    aft, fore = max(one.x_aft_m, other.x_aft_m), min(one.x_fore_m, other.x_fore_m)
    if fore <= aft:
        return
    x = np.array([aft, fore])
    gaps = one.height_at(x) - other.height_at(x)
    if gaps[0] * gaps[1] < 0.0:
        raise InputError(
            field, f"the level {one.name!r} crosses {other.name!r}", value=one.height_aft_m, unit="m",
            allowed="levels that stay above one another",
        )  # fmt: skip
    if float(np.abs(gaps).min()) < LEAST_GAP_M:
        kinds = "" if one.kind is other.kind else f", told as {other.kind.value} there and as {one.kind.value} here"
        raise InputError(
            field, f"the level {one.name!r} lies on {other.name!r}{kinds}", value=one.height_aft_m, unit="m",
            allowed=f"at least {LEAST_GAP_M:g} m from every other level",
        )  # fmt: skip


def _sorted_upward(lines: list[LevelLine]) -> list[LevelLine]:
    """Levels in an order that is upward wherever two of them exist together (mean heights where they never do)."""
    left = sorted(lines, key=lambda line: 0.5 * (line.height_aft_m + line.height_fore_m))
    done: list[LevelLine] = []
    while left:
        lowest = next(line for line in left if not any(_is_below(other, line) for other in left if other is not line))
        left.remove(lowest)
        done.append(lowest)
    return done


def _is_below(one: LevelLine, other: LevelLine) -> bool:
    """Whether both exist somewhere and the first is the lower there."""
    aft, fore = max(one.x_aft_m, other.x_aft_m), min(one.x_fore_m, other.x_fore_m)
    if fore <= aft:
        return False
    x = np.array([0.5 * (aft + fore)])
    return bool(one.height_at(x)[0] < other.height_at(x)[0])
