"""The same ship with other load-carrying stringers in one framing zone."""

from __future__ import annotations

from typing import Any

from beltwright.arrangement.stations import frame_stations
from beltwright.core.errors import InputError
from beltwright.ship.model import Level, LevelKind, Ship, Zone
from beltwright.ship.sizing import StringerChoice

_LEAST_M = 1e-6


def restringered(ship: Ship, choice: StringerChoice, where: str) -> Ship:
    """Return a ship with the stringers of a zone in place of those that lie between its edges there.

    Stringers that run on beyond the zone's length keep what lies outside it, under their own name.

    Raises
    ------
    InputError : an unknown zone, a height that is not between the zone's edges, or something in ship.toml that names a
        stringer which would be gone
    """
    zone = _zone(ship, choice, where)
    first, last = zone.from_frame, zone.to_frame
    kept: list[Level] = []
    gone: list[str] = []
    for level in ship.levels:
        pieces = [level]
        if level.kind is LevelKind.LOAD_CARRYING_STRINGER and _inside(ship, level, zone):
            pieces = _outside(ship, level, first, last)
            if not pieces:
                gone.append(level.name)
        kept += pieces
    for height in sorted(choice.heights_m):
        _between_edges(ship, zone, height, f"{where}.heights_m")
    made = [
        Level(name=f"{zone.name} stringer {number}", kind=LevelKind.LOAD_CARRYING_STRINGER, height_m=height,
              from_frame=first, to_frame=last)
        for number, height in enumerate(sorted(choice.heights_m), 1)
    ]  # fmt: skip
    other = ship.model_copy(update={"levels": (*kept, *made)})
    for name in gone:
        field = _named_by(other.model_dump(exclude={"levels": True}), name)
        if field:
            raise InputError(where, f"{field} names a stringer that would be gone", value=name,
                             allowed="a line that names no stringer of the zone")  # fmt: skip
    return other


def _zone(ship: Ship, choice: StringerChoice, where: str) -> Zone:
    for zone in ship.zones:
        if zone.name == choice.zone:
            return zone
    raise InputError(f"{where}.zone", "no such zone", value=choice.zone,
                     allowed=", ".join(zone.name for zone in ship.zones))  # fmt: skip


def _inside(ship: Ship, level: Level, zone: Zone) -> bool:
    """Whether a level lies between the edges of a zone somewhere on its length, and is no edge itself."""
    if level.name in (zone.from_level, zone.to_level):
        return False
    first, last = _ends(ship, level)
    if last <= zone.from_frame or first >= zone.to_frame:
        return False
    middle = 0.5 * (max(first, zone.from_frame) + min(last, zone.to_frame))
    low, high = _edges(ship, zone, middle)
    return low < _height(ship, level, middle) < high


def _outside(ship: Ship, level: Level, first: float, last: float) -> list[Level]:
    """What is left of a level aft and forward of a zone; of two pieces the forward one has a name of its own."""
    own_first, own_last = _ends(ship, level)
    pieces: list[Level] = []
    for from_frame, to_frame in ((own_first, min(own_last, first)), (max(own_first, last), own_last)):
        if to_frame > from_frame:
            name = level.name if not pieces else f"{level.name} forward"
            pieces.append(_cut(ship, level, from_frame, to_frame, name))
    return pieces


def _cut(ship: Ship, level: Level, from_frame: float, to_frame: float, name: str) -> Level:
    """A part of a level."""
    changed: dict[str, Any] = {"from_frame": from_frame, "to_frame": to_frame, "name": name}
    if level.height_forward_m is not None:
        changed |= {
            "height_m": _height(ship, level, from_frame), "height_forward_m": _height(ship, level, to_frame),
        }  # fmt: skip
    return level.model_copy(update=changed)


def _ends(ship: Ship, level: Level) -> tuple[float, float]:
    """The frames between which a level runs."""
    first, last = ship.frames[0].from_frame, ship.frames[-1].to_frame
    return (
        first if level.from_frame is None else level.from_frame,
        last if level.to_frame is None else level.to_frame,
    )


def _height(ship: Ship, level: Level, frame: float) -> float:
    """The height of a level at a frame [m]; a rising one is straight along the ship's axis."""
    if level.height_forward_m is None:
        return level.height_m
    stations = frame_stations(ship.frames)
    aft, fore, at = (float(stations.x_of(one)) for one in (*_ends(ship, level), frame))
    return level.height_m + (level.height_forward_m - level.height_m) * (at - aft) / (fore - aft)


def _edges(ship: Ship, zone: Zone, frame: float) -> tuple[float, float]:
    """The heights of a zone's edges at a frame [m]; the keel is lower than everything."""
    by_name = {level.name: level for level in ship.levels}
    low = float("-inf") if zone.from_level is None else _height(ship, by_name[zone.from_level], frame)
    return low, _height(ship, by_name[zone.to_level], frame)


def _between_edges(ship: Ship, zone: Zone, height: float, where: str) -> None:
    """Refuse a stringer that is not between the zone's edges all along."""
    for frame in (zone.from_frame, zone.to_frame):
        low, high = _edges(ship, zone, frame)
        if not low + _LEAST_M < height < high - _LEAST_M:
            told = f"above {low:g} and below {high:g}" if low > float("-inf") else f"below {high:g}"
            raise InputError(where, "is not between the edges of the zone", value=height, unit="m", allowed=told)


def _named_by(plain: Any, name: str, field: str = "") -> str:
    """The first setting that holds a name, as the user writes it; empty where none does."""
    if isinstance(plain, dict):
        for key, one in plain.items():
            if key in ("name", "sizing"):
                continue
            found = _named_by(one, name, f"{field}.{key}" if field else str(key))
            if found:
                return found
    elif isinstance(plain, (list, tuple)):
        for number, one in enumerate(plain, 1):
            found = _named_by(one, name, f"{field}[{number}]")
            if found:
                return found
    return field if plain == name and isinstance(plain, str) else ""
