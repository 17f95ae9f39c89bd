"""The same ship with her transverse frames another distance apart, all of them or those of one zone's length.

Every frame number follows its place: what is named by frame (zones, bulkheads, lines of plates and sections, ..) moves
to the nearest new frame, and the spacing of web frames becomes the nearest whole number of frame spacings.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from itertools import pairwise
from typing import Any

import numpy as np

from beltwright.core.errors import InputError
from beltwright.ship.model import Ship

_ON = 1e-6  # a hull that ends on a frame (frames) needs the next one too
_NUMBERS = ("from_frame", "to_frame", "frame")


@dataclass(frozen=True, slots=True, kw_only=True)
class _Stretch:
    """A part of the frame table with one spacing: old ends and spacing, new first frame, frames and spacing."""

    first: float
    last: float
    old_m: float
    new_first: float
    frames: float
    new_m: float

    def moved(self, frame: float) -> float:
        """The new number of a frame inside; ends stay ends, and it is counted from the end nearer to frame 0."""
        if frame in (self.first, self.last):
            return self.new_first + (self.frames if frame == self.last else 0.0)
        ratio = self.old_m / self.new_m
        if self.last <= 0.0:
            return self.new_first + max(self.frames - round((self.last - frame) * ratio), 0.0)
        return self.new_first + min(float(round((frame - self.first) * ratio)), self.frames)


def respaced(ship: Ship, spacing_m: float, hull_x_m: tuple[float, float], where: str, zone: str = "") -> Ship:
    """Return a ship whose frames stand ``spacing_m`` apart, everywhere or over the length of a zone.

    Parameters
    ----------
    ship : the description
    spacing_m : the new spacing [m]
    hull_x_m : the ends of her hull; the table begins and ends with the first frames off it
    where : the setting, for error messages
    zone : the zone's name; the whole frame table where blank

    Raises
    ------
    InputError : a spacing below the least one, an unknown zone
    """
    least = ship.sizing.spacing_least_m
    if spacing_m < least:
        raise InputError(where, "below the least spacing", value=spacing_m, unit="m", allowed=f"{least:g} m or more")
    first, last = ship.frames[0].from_frame, ship.frames[-1].to_frame
    if zone:
        first, last = _ends(ship, zone, where)
    stretches = _stretches(ship, (first, last), spacing_m, hull_x_m)

    def at(frame: float) -> _Stretch:
        return next((one for one in stretches if frame <= one.last), stretches[-1])

    def web(x_m: float, zone_first: float, zone_last: float) -> float:
        own = at(0.5 * (zone_first + zone_last)).new_m
        return max(round(x_m / own), 1) * own

    plain = _moved(ship.model_dump(), lambda frame: at(frame).moved(frame))
    ends = {one.name: (one.from_frame, one.to_frame) for one in ship.zones}
    for part in (*plain["zones"], *plain["sizing"]["framing"]):
        old = ends.get(part.get("name", part.get("zone")))
        if old is not None and part["web_frame_spacing_m"] is not None:
            part["web_frame_spacing_m"] = web(part["web_frame_spacing_m"], *old)
    lines: list[dict[str, float]] = []
    for one in stretches:
        end = one.new_first + one.frames
        if lines and lines[-1]["spacing_m"] == one.new_m:
            lines[-1]["to_frame"] = end
        else:
            lines.append({"from_frame": one.new_first, "to_frame": end, "spacing_m": one.new_m})
    plain["frames"] = tuple(lines)
    return Ship.model_validate(plain)


def _ends(ship: Ship, zone: str, where: str) -> tuple[float, float]:
    """The frames of a zone."""
    for one in ship.zones:
        if one.name == zone:
            return one.from_frame, one.to_frame
    raise InputError(f"{where}.zone", "no such zone", value=zone, allowed=", ".join(one.name for one in ship.zones))


def _stretches(
    ship: Ship, part: tuple[float, float], spacing_m: float, hull_x_m: tuple[float, float]
) -> list[_Stretch]:
    """The new frame table: the old one cut at frame 0 and at the ends of the part, that part respaced."""
    ends = ship.frames[0].from_frame, ship.frames[-1].to_frame
    told = {0.0, *part, *(line.from_frame for line in ship.frames), ends[1]}
    cuts = sorted(cut for cut in told if ends[0] <= cut <= ends[1])
    pieces = []
    for first, last in pairwise(cuts):
        old = next(line.spacing_m for line in ship.frames if line.from_frame <= first < line.to_frame)
        inside = part[0] <= first and last <= part[1]
        pieces.append((first, last, old, spacing_m if inside else old))
    counts = [_count(piece) for piece in pieces]
    aft, fore = _reach(pieces, counts, hull_x_m)
    counts[0], counts[-1] = aft, fore
    number = -sum(count for (first, *_), count in zip(pieces, counts, strict=True) if first < 0.0)
    found = []
    for (first, last, old, new), count in zip(pieces, counts, strict=True):
        found.append(_Stretch(first=first, last=last, old_m=old, new_first=number, frames=count, new_m=new))
        number += count
    return found


def _count(piece: tuple[float, float, float, float]) -> float:
    """How many frames a piece has anew, at least one."""
    first, last, old, new = piece
    return float(max(round((last - first) * old / new), 1))


def _reach(pieces: list[tuple[float, float, float, float]], counts: list[float], hull_x_m: tuple[float, float]
           ) -> tuple[float, float]:  # fmt: skip
    """How many frames the aftmost and the foremost piece need to reach just off the hull."""
    inner_aft = sum(c * p[3] for p, c in zip(pieces[1:], counts[1:], strict=True) if p[0] < 0.0)
    inner_fore = sum(c * p[3] for p, c in zip(pieces[:-1], counts[:-1], strict=True) if p[0] >= 0.0)
    aft = float(np.ceil((-hull_x_m[0] - inner_aft) / pieces[0][3] + _ON))
    fore = float(np.ceil((hull_x_m[1] - inner_fore) / pieces[-1][3] + _ON))
    if pieces[0][0] >= 0.0:
        aft = counts[0]
    return max(aft, 1.0), max(fore, 1.0)


def _moved(value: Any, place: Callable[[float], float]) -> Any:
    """A part of the description with its frame numbers moved."""
    if isinstance(value, dict):
        moved = {name: _moved(one, place) for name, one in value.items()}
        for name in _NUMBERS:
            if isinstance(moved.get(name), float):
                moved[name] = place(moved[name])
        return moved
    if isinstance(value, (list, tuple)):
        return tuple(_moved(one, place) for one in value)
    return value
