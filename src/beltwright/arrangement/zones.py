"""Framing zones, bulkheads and web frames in frame numbers and levels, checked against each other."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from beltwright.arrangement.levels import LevelLine, frame_range, unique_name
from beltwright.arrangement.stations import WHERE, FrameStations, whole_frame
from beltwright.core.errors import InputError
from beltwright.ship.model import Orientation, Ship, Zone

_ON_FRAME_M = 1e-3  # a web frame stands on a frame if it is this near
KEEL_EDGE = -1  # the keel in place of a level's number


@dataclass(frozen=True, slots=True, kw_only=True)
class BulkheadLine:
    """A transverse bulkhead: its name, frame number and x [m]."""

    name: str
    frame: int
    x_m: float


@dataclass(frozen=True, slots=True, kw_only=True)
class ZoneLine:
    """A zone in frames and levels.

    ``lower`` and ``upper`` number the levels from the keel up; ``lower`` is -1 at the keel. ``supports`` are the
    numbers of the levels that end frame spans inside it, edges included. ``webs`` are the frames with web frames or
    floors, ``bulkheads`` those with bulkheads. ``intermediate`` is the pair of level numbers between which
    intermediate frames stand, or None.
    """

    zone: Zone
    index: int
    first: int
    last: int
    lower: int
    upper: int
    supports: tuple[int, ...]
    distributing: tuple[int, ...]
    webs: tuple[int, ...]
    bulkheads: tuple[int, ...]
    intermediate: tuple[int, int] | None


def bulkhead_lines(ship: Ship, stations: FrameStations) -> tuple[BulkheadLine, ...]:
    """Return the bulkheads from aft forward; raises InputError for equal names or frames, or a frame off the table."""
    lines: list[BulkheadLine] = []
    for i, bulkhead in enumerate(ship.bulkheads):
        field = f"{WHERE}: bulkheads[{i + 1}]"
        unique_name(f"{field}.name", bulkhead.name, [line.name for line in lines])
        frame = whole_frame(f"{field}.frame", bulkhead.frame)
        if not stations.first <= frame <= stations.last:
            raise InputError(
                f"{field}.frame", "lies outside the frame table", value=frame,
                allowed=f"{stations.first} to {stations.last}",
            )  # fmt: skip
        for line in lines:
            if line.frame == frame:
                raise InputError(f"{field}.frame", f"{line.name!r} stands at this frame already", value=frame)
        lines.append(BulkheadLine(name=bulkhead.name, frame=frame, x_m=float(stations.x_of(frame))))
    return tuple(sorted(lines, key=lambda line: line.frame))


def zone_lines(
    ship: Ship,
    stations: FrameStations,
    levels: Sequence[LevelLine],
    bulkheads: Sequence[BulkheadLine],
    hull_x_m: tuple[float, float],
) -> tuple[ZoneLine, ...]:
    """Return the zones, checked.

    Raises InputError naming the zone's field: equal names, frames outside the table or beyond the hull, unknown
    levels, edges that no support makes, framing that lacks its spacing or angle, web frames between frames, brackets
    shorter than their reduction, two zones over the same shell.
    """
    lines: list[ZoneLine] = []
    for i, zone in enumerate(ship.zones):
        field = f"{WHERE}: zones[{i + 1}]"
        unique_name(f"{field}.name", zone.name, [line.zone.name for line in lines])
        first, last = frame_range(field, zone.from_frame, zone.to_frame, stations)
        _on_hull(field, first, last, stations, hull_x_m)
        lower = (
            KEEL_EDGE if zone.from_level is None else _edge(f"{field}.from_level", zone.from_level, levels, first, last)
        )
        upper = _edge(f"{field}.to_level", zone.to_level, levels, first, last)
        if upper <= lower:
            raise InputError(f"{field}.to_level", "must lie above from_level", value=zone.to_level)
        _framing(field, zone)
        inside = [k for k in range(max(lower, 0), upper + 1) if levels[k].first < last and levels[k].last > first]
        inner_bulkheads = tuple(b.frame for b in bulkheads if first <= b.frame <= last)
        line = ZoneLine(
            zone=zone,
            index=i,
            first=first,
            last=last,
            lower=lower,
            upper=upper,
            supports=tuple(k for k in inside if levels[k].supports_frames),
            distributing=tuple(k for k in inside if not levels[k].supports_frames),
            webs=_webs(field, zone, first, last, inner_bulkheads, stations),
            bulkheads=inner_bulkheads,
            intermediate=_intermediate(field, zone, levels, first, last, lower, upper),
        )
        for other in lines:
            _not_over(field, line, other)
        lines.append(line)
    return tuple(lines)


def _on_hull(field: str, first: int, last: int, stations: FrameStations, hull_x_m: tuple[float, float]) -> None:
    """Refuse a zone whose ends lie two frame spacings or more beyond the hull."""
    allowed = f"{np.floor(stations.frame_of(hull_x_m[0])):g} to {np.ceil(stations.frame_of(hull_x_m[1])):g}"
    if float(stations.x_of(min(first + 2, stations.last))) <= hull_x_m[0]:
        raise InputError(f"{field}.from_frame", "lies aft of the hull", value=first, allowed=allowed)
    if float(stations.x_of(max(last - 2, stations.first))) >= hull_x_m[1]:
        raise InputError(f"{field}.to_frame", "lies forward of the hull", value=last, allowed=allowed)


def _named(field: str, name: str, levels: Sequence[LevelLine]) -> int:
    """A level's number by its name."""
    for k, level in enumerate(levels):
        if level.name == name:
            return k
    raise InputError(field, "no such level", value=name, allowed=", ".join(level.name for level in levels))


def _edge(field: str, name: str, levels: Sequence[LevelLine], first: int, last: int) -> int:
    """A zone's edge: a level that supports frames and runs over the whole zone."""
    k = _named(field, name, levels)
    level = levels[k]
    if not level.supports_frames:
        raise InputError(
            field, "a load-distributing stringer does not end frames, so it cannot be an edge", value=name,
            allowed="a deck, an inner bottom or a load-carrying stringer",
        )  # fmt: skip
    if not level.runs_over(first, last):
        raise InputError(
            field, f"the level runs from frame {level.first} to {level.last} only", value=name,
            allowed=f"a level from frame {first} to {last}",
        )  # fmt: skip
    return k


def _framing(field: str, zone: Zone) -> None:
    """Refuse framing that lacks what its orientation needs, or has what it does not use."""
    oblique = zone.orientation is Orientation.OBLIQUE
    along = zone.orientation is not Orientation.TRANSVERSE
    if along and zone.spacing_m is None:
        raise InputError(f"{field}.spacing_m", f"{zone.orientation.value} framing needs its girth spacing")
    if not along and zone.spacing_m is not None:
        raise InputError(
            f"{field}.spacing_m", "transverse frames follow the frame table", value=zone.spacing_m, unit="m",
            allowed="not given",
        )  # fmt: skip
    if oblique and zone.oblique_angle_deg is None:
        raise InputError(f"{field}.oblique_angle_deg", "oblique framing needs its angle to the waterline")
    if not oblique and zone.oblique_angle_deg is not None:
        raise InputError(
            f"{field}.oblique_angle_deg", f"framing here is {zone.orientation.value}", value=zone.oblique_angle_deg,
            unit="deg", allowed="given with oblique framing only",
        )  # fmt: skip
    if along and zone.intermediate_frames:
        raise InputError(f"{field}.intermediate_frames", "only transverse frames have intermediate ones", value=True)
    for name in ("intermediate_from_level", "intermediate_to_level"):
        if getattr(zone, name) is not None and not zone.intermediate_frames:
            raise InputError(f"{field}.{name}", "the zone has no intermediate frames", value=getattr(zone, name))
    for name, end in (("lower_end", zone.lower_end), ("upper_end", zone.upper_end)):
        if end.span_reduction_m > end.bracket_m:
            raise InputError(
                f"{field}.{name}.span_reduction_m", "is more than the bracket's arm", value=end.span_reduction_m,
                unit="m", allowed=f"at most {end.bracket_m:g}",
            )  # fmt: skip


def _intermediate(
    field: str, zone: Zone, levels: Sequence[LevelLine], first: int, last: int, lower: int, upper: int
) -> tuple[int, int] | None:
    """The levels between which intermediate frames stand."""
    if not zone.intermediate_frames:
        return None
    ends = [lower, upper]
    for i, name in enumerate(("intermediate_from_level", "intermediate_to_level")):
        value = getattr(zone, name)
        if value is not None:
            ends[i] = _edge(f"{field}.{name}", value, levels, first, last)
            if not lower <= ends[i] <= upper:
                raise InputError(f"{field}.{name}", "lies outside the zone", value=value)
    if ends[1] <= ends[0]:
        raise InputError(
            f"{field}.intermediate_to_level", "must lie above intermediate_from_level", value=zone.intermediate_to_level
        )
    return ends[0], ends[1]


def _webs(
    field: str, zone: Zone, first: int, last: int, bulkheads: Sequence[int], stations: FrameStations
) -> tuple[int, ...]:
    """Frames with web frames: counted from the zone's aft end, and anew from each bulkhead."""
    webs: list[int] = []
    starts = sorted({first, *bulkheads} - {last})
    for start, stop in zip(starts, [*starts[1:], last], strict=True):
        x0, x1 = float(stations.x_of(start)), float(stations.x_of(stop))
        count = int(np.floor((x1 - x0 + _ON_FRAME_M) / zone.web_frame_spacing_m))
        for x in x0 + zone.web_frame_spacing_m * np.arange(count + 1):
            number = int(np.round(stations.frame_of(x)))
            off = abs(float(stations.x_of(min(number, stations.last))) - x)
            if off > _ON_FRAME_M:
                raise InputError(
                    f"{field}.web_frame_spacing_m",
                    f"a web frame counted from frame {start} would stand between frames, near frame {number}",
                    value=zone.web_frame_spacing_m, unit="m",
                    allowed=f"a multiple of the frame spacing, {stations.spacing_at(min(number, last - 1)):g} m there",
                )  # fmt: skip
            webs.append(number)
    return tuple(sorted(set(webs) - set(bulkheads)))


def _not_over(field: str, one: ZoneLine, other: ZoneLine) -> None:
    """Refuse two zones over the same shell."""
    frames = max(one.first, other.first), min(one.last, other.last)
    if frames[1] > frames[0] and min(one.upper, other.upper) > max(one.lower, other.lower):
        raise InputError(
            field, f"lies over the zone {other.zone.name!r}, frames {frames[0]} to {frames[1]}", value=one.zone.name,
            allowed="zones that share edges only",
        )  # fmt: skip
