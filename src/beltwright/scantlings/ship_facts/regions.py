"""Facts behind the regions of the hull: perpendicular, keel, main frames, tank top, and the side by waterlines."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Final

import numpy as np

from beltwright.arrangement.levels import level_lines
from beltwright.arrangement.stations import frame_stations
from beltwright.core.errors import InputError
from beltwright.core.outcome import NotApplicable
from beltwright.scantlings import codes
from beltwright.scantlings.ship_facts.described import fore_perpendicular_x_m
from beltwright.scantlings.ship_facts.reading import Reading, Told, one
from beltwright.scantlings.ship_facts.side import SIDE_TOLERANCE_MM
from beltwright.ship.model import LevelKind

FRAME_SPACES = 5  # main frame spaces abaft the keel's end over which their length is taken


def _fore_perpendicular(reading: Reading) -> Told:
    """How far aft of the stem the forward perpendicular lies; negative forward of it."""
    x = fore_perpendicular_x_m(reading.ship)
    return one(
        reading.stem_x_m - x,
        f"stem on the upper ice waterline at x {reading.stem_x_m:.3f} m, perpendicular by ship.toml: "
        f"hull.length_between_perpendiculars_m at x {x:.3f} m",
    )


def _forward_draught(reading: Reading) -> Told:
    """The draught at the forward perpendicular on the lower ice waterline."""
    x = fore_perpendicular_x_m(reading.ship)
    height = float(reading.measures.lower.level.height(np.array([x]))[0])
    return one(height, f"lower ice waterline at the forward perpendicular, x {x:.3f} m")


def keel_end_x_m(reading: Reading) -> tuple[float, str]:
    """Return where the bow profile leaves the keel line [m from AP], and how it was read."""
    profile = reading.measures.profile
    found = profile.baseline_x()
    if not isinstance(found, NotApplicable):
        return found, f"bow profile leaves the baseline by 1 mm at x {found:.3f} m"
    lowest = profile.lowest_m()
    found = profile.baseline_x(lowest)
    if isinstance(found, NotApplicable):
        raise InputError("hull", f"the place where the bow profile leaves the keel line cannot be found: {found}")
    text = f"bow profile leaves its lowest height, z {lowest:.3f} m, by 1 mm at x {found:.3f} m"
    return found, text


def _keel_departure(reading: Reading) -> Told:
    """How far aft of the stem the bow profile leaves the keel line; 0 where it does so forward of the stem."""
    x, text = keel_end_x_m(reading)
    if reading.measures.profile.lowest_m() > 0.001:
        reading.findings.add(codes.KEEL_ABOVE_BASELINE, "hull", text)
    return one(max(reading.stem_x_m - x, 0.0), text)


def _main_frame_spacing(reading: Reading) -> Told:
    """The mean of the five main frame spaces abaft the place where the bow profile leaves the keel line."""
    stations = frame_stations(reading.ship.frames)
    x, _ = keel_end_x_m(reading)
    frame = float(stations.frame_of(x))
    aft = frame - FRAME_SPACES
    if not (stations.first <= aft and frame <= stations.last):
        raise InputError(
            "ship.toml: frames", "does not reach over the fore foot", value=f"{stations.first} to {stations.last}",
            allowed=f"a table that holds frames {aft:.2f} to {frame:.2f}",
        )  # fmt: skip
    return one(
        (x - float(stations.x_of(aft))) / FRAME_SPACES,
        f"frame table, mean of the spaces from frame {aft:.2f} to {frame:.2f}, where the keel line ends",
    )


def _floor_top(reading: Reading) -> Told:
    """Height of the tank top or top of floors in the bow; 0 where there is none."""
    given = reading.ship.hull.floor_top_height_m
    if given is not None:
        return one(given, "ship.toml: hull.floor_top_height_m")
    lines = level_lines(reading.ship, frame_stations(reading.ship.frames))
    fore, aft = reading.stem_x_m, reading.side.fore_x_m
    found = [
        (float(height), line.name)
        for line in lines
        if line.kind is LevelKind.INNER_BOTTOM and line.x_fore_m > aft and line.x_aft_m < fore
        for height in line.height_at(np.array([max(line.x_aft_m, aft), min(line.x_fore_m, fore)]))
    ]
    if not found:
        return one(0.0, "ship.toml: no inner bottom forward of the parallel side and no hull.floor_top_height_m")
    height, name = min(found)
    return one(height, f"ship.toml: levels, {name}, its lowest place forward of the parallel side")


def _waterline_height(reading: Reading) -> Told:
    """The heights of the level waterlines."""
    height = reading.side_by_height.height_m
    return Told(height.tolist(), f"{height.size} level waterlines from z {height[0]:.3f} m to z {height[-1]:.3f} m")


def _side_start(reading: Reading) -> Told:
    """From the stem to the fore end of the parallel side, by waterline."""
    return Told((reading.stem_x_m - reading.side_by_height.fore_x_m).tolist(), _side_words("fore"))


def _side_end(reading: Reading) -> Told:
    """From the stem to the aft end of the parallel side, by waterline."""
    return Told((reading.stem_x_m - reading.side_by_height.aft_x_m).tolist(), _side_words("aft"))


def _side_words(end: str) -> str:
    """How an end of the side was read."""
    return (
        f"level waterlines, {end} end of the half-breadth within {SIDE_TOLERANCE_MM:g} mm of its greatest, from the "
        "stem at the upper ice waterline"
    )


SOURCES: Final[Mapping[str, Callable[[Reading], Told]]] = {
    "fore_perpendicular_aft_of_stem_m": _fore_perpendicular,
    "forward_draught_lower_m": _forward_draught,
    "keel_departure_aft_of_stem_m": _keel_departure,
    "main_frame_spacing_m": _main_frame_spacing,
    "floor_top_height_m": _floor_top,
    "waterline_height_m": _waterline_height,
    "side_start_aft_of_stem_m": _side_start,
    "side_end_aft_of_stem_m": _side_end,
}
