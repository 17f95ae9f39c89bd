"""Which members a line of ``ship.toml`` speaks of: by hull area, zone, frames and levels."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from beltwright.arrangement.levels import LevelLine
from beltwright.core.errors import InputError
from beltwright.core.units import BoolArray, FloatArray, LabelArray
from beltwright.ship.model import Ship, Where


@dataclass(frozen=True, slots=True, kw_only=True)
class Places:
    """Where each member lies (n,): hull area, zone, bay between levels, frame number, x and height of its middle."""

    hull_area: LabelArray
    zone: LabelArray
    bay: LabelArray
    frame: FloatArray
    height_m: FloatArray
    x_m: FloatArray


def speaks_of(where: Where, places: Places, ship: Ship, levels: tuple[LevelLine, ...], field: str) -> BoolArray:
    """Return which members (n,) a line speaks of; an unknown area, zone or level is an InputError naming ``field``."""
    chosen = np.ones(len(places.zone), dtype=bool)
    if where.hull_area is not None:
        chosen &= places.hull_area == where.hull_area
    if where.zone is not None:
        known = [zone.name for zone in ship.zones]
        if where.zone not in known:
            raise InputError(f"ship.toml: {field}.zone", "no such zone", value=where.zone, allowed=", ".join(known))
        chosen &= places.zone == where.zone
    if where.from_frame is not None:
        chosen &= places.frame > where.from_frame
    if where.to_frame is not None:
        chosen &= places.frame < where.to_frame
    if where.from_level is not None:
        chosen &= places.height_m > _height(levels, where.from_level, places.x_m, f"{field}.from_level")
    if where.to_level is not None:
        chosen &= places.height_m < _height(levels, where.to_level, places.x_m, f"{field}.to_level")
    return chosen


def _height(levels: tuple[LevelLine, ...], name: str, x_m: FloatArray, field: str) -> FloatArray:
    """The height of a level at x (n,)."""
    for level in levels:
        if level.name == name:
            return level.height_at(x_m)
    known = ", ".join(level.name for level in levels)
    raise InputError(f"ship.toml: {field}", "no such level", value=name, allowed=known)


def group_names(places: Places) -> LabelArray:
    """Return the group of each member: framing zone, hull area and bay, e.g. ``side B L3``."""
    parts = [places.zone, np.where(places.hull_area == "", "not strengthened", places.hull_area), places.bay]
    names: LabelArray = parts[0]
    for part in parts[1:]:
        names = np.char.add(np.char.add(names, " "), part)
    return names
