"""Where local frames end inside an ice-strengthened area although the shell goes on.

Frames are carried on to a support outside the strengthened areas; where they are not, the support at which they end
has to hold them fixed. What ends there is named, by the level or the zone's border at which it ends.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import numpy as np

from beltwright.arrangement.frames import CENTRELINE, SHORTEST_M
from beltwright.arrangement.levels import KEEL, LevelLine
from beltwright.arrangement.model import Arrangement
from beltwright.arrangement.plan import Role
from beltwright.arrangement.zones import ZoneLine
from beltwright.core.findings import FindingCode, Findings, Severity, register
from beltwright.core.units import BoolArray, FloatArray
from beltwright.rules.protocol import HullAreas, Strengthens
from beltwright.scantlings.areas import classify, codes_strengthening
from beltwright.scantlings.design import HullMeasures
from beltwright.ship.model import Orientation, Ship

INTERMEDIATE_ENDS = register(
    "BW460",
    Severity.CAUTION,
    "Intermediate frames end inside an ice-strengthened area",
    "Carry them on to a support outside the strengthened areas. Beyond their ends plates and main frames stand at "
    "twice the spacing; their requirement counts that, but the support there has to hold fixed what ends at it.",
)
FRAMES_END = register(
    "BW461",
    Severity.CAUTION,
    "Frames end inside an ice-strengthened area and nothing takes over",
    "The shell goes on beyond their ends without framing: carry the frames on to a support outside the strengthened "
    "areas, or give the shell beyond a framing zone.",
)
FRAMING_CHANGES = register(
    "BW462",
    Severity.NOTE,
    "Framing changes inside an ice-strengthened area",
    "Both sets of frames end at this support: it has to hold them fixed, as ship.toml says it does (brackets, or a "
    "supporting section carried on), and the load has to find its way across.",
)
_NAMED = 3  # members named in a finding
_AT_END_M = 0.05  # an end this near the shell's own edge or a zone's end lies on it


def report_frame_ends(
    ship: Ship, areas: HullAreas, measures: HullMeasures, arrangement: Arrangement, findings: Findings
) -> None:
    """Name the local frames that end inside a strengthened area although the shell goes on."""
    strengthened = codes_strengthening(areas, Strengthens.FRAMING)
    shapes = arrangement.frame_shapes
    across = arrangement.frames.labels("orientation") == Orientation.TRANSVERSE.value
    told: dict[tuple[FindingCode, str], dict[str, list[str]]] = {}
    for far, place in ((False, 0), (True, -1)):
        rows = np.flatnonzero(_ends_here(ship, arrangement, across, far))
        points = shapes.samples[rows, place]
        inside = np.isin(classify(areas, measures, points, shapes.sample_normals[rows, place]), strengthened)
        for row, point in zip(rows[inside].tolist(), points[inside], strict=True):
            found = _across(arrangement, row, far) if across[row] else _along(arrangement, row, point, far)
            if found is not None:
                code, where, between = found
                name = str(arrangement.frames.labels("id")[row])
                told.setdefault((code, where), {}).setdefault(between, []).append(name)
    for (code, where), pairs in told.items():
        findings.add(code, where, "; ".join(f"{between}: {_some(names)}" for between, names in pairs.items()))


def _some(names: list[str]) -> str:
    """The first few names and how many more there are."""
    more = f" and {len(names) - _NAMED} more" if len(names) > _NAMED else ""
    return ", ".join(names[:_NAMED]) + more


def _ends_here(ship: Ship, arrangement: Arrangement, across: BoolArray, far: bool) -> BoolArray:
    """Which spans are the last of their frame at this end, although the shell may go on."""
    frames, line = arrangement.frames, arrangement.frame_shapes.samples
    local = frames.labels("role") != "web frame"
    if far:
        last = frames.labels("upper_level") == frames.labels("runs_to_level")
        edge = line[:, -1, 2] >= ship.hull.depth_m - _AT_END_M
    else:
        last = frames.labels("lower_level") == frames.labels("runs_from_level")
        contour = arrangement.frame_shapes.expansion[:, 0, 1] < SHORTEST_M  # the piece below it is left out
        edge = np.isin(frames.labels("lower_support"), (KEEL, CENTRELINE)) | contour
    zone_ends = {z.zone.name: float(arrangement.stations.x_of(z.last if far else z.first)) for z in arrangement.zones}
    wanted = np.array([zone_ends[str(name)] for name in frames.labels("zone")])
    at_zone_end = np.abs(line[:, -1 if far else 0, 0] - wanted) < _AT_END_M
    found: BoolArray = local & np.where(across, last & ~edge, at_zone_end)
    return found


_Found = tuple[FindingCode, str, str]


def _across(arrangement: Arrangement, row: int, up: bool) -> _Found:
    """What is said of the end of a frame in a transverse plane: the finding, where, and from which zone to which."""
    frames, zones = arrangement.frames, arrangement.zones
    name = str(frames.labels("upper_level" if up else "lower_level")[row])
    zone, frame = _zone(arrangement, row), float(frames["frame"].data[row])
    if str(frames.labels("role")[row]) == Role.INTERMEDIATE.value:
        return INTERMEDIATE_ENDS, name, zone.zone.name
    level = next(k for k, one in enumerate(arrangement.levels) if one.name == name)
    return _change(zone, next(_beyond_level(zones, zone, level, frame, up), None), name)


def _along(arrangement: Arrangement, row: int, point: FloatArray, forward: bool) -> _Found | None:
    """The same of a frame along the ship at the end of its zone; None where it goes on or the hull ends."""
    zone = _zone(arrangement, row)
    beyond = next(_beyond_end(arrangement.zones, arrangement.levels, zone, point, forward), None)
    if beyond is None or _goes_on(zone, beyond):
        return None
    return _change(zone, beyond, f"frame {zone.last if forward else zone.first}")


def _change(zone: ZoneLine, beyond: ZoneLine | None, where: str) -> _Found:
    """Which finding it is: another zone's framing takes over, or nothing does."""
    if beyond is None:
        return FRAMES_END, where, zone.zone.name
    return FRAMING_CHANGES, where, f"{zone.zone.name} to {beyond.zone.name}, {beyond.zone.orientation.value}"


def _zone(arrangement: Arrangement, row: int) -> ZoneLine:
    """The framing zone of a frame span."""
    name = str(arrangement.frames.labels("zone")[row])
    return next(zone for zone in arrangement.zones if zone.zone.name == name)


def _beyond_level(zones: Sequence[ZoneLine], own: ZoneLine, level: int, frame: float, up: bool) -> Iterator[ZoneLine]:
    """The zones that frame the shell beyond a level at a frame."""
    for zone in zones:
        held = zone.lower <= level < zone.upper if up else zone.lower < level <= zone.upper
        if zone is not own and zone.first <= frame <= zone.last and held:
            yield zone


def _beyond_end(
    zones: Sequence[ZoneLine], levels: Sequence[LevelLine], own: ZoneLine, point: FloatArray, forward: bool
) -> Iterator[ZoneLine]:
    """The zones that frame the shell beyond a zone's forward or aft end at a place (3,)."""
    for zone in zones:
        meets = zone.first == own.last if forward else zone.last == own.first
        low = -np.inf if zone.lower < 0 else float(levels[zone.lower].height_at(point[:1])[0])
        high = float(levels[zone.upper].height_at(point[:1])[0])
        if zone is not own and meets and low <= float(point[2]) <= high:
            yield zone


def _goes_on(own: ZoneLine, beyond: ZoneLine) -> bool:
    """Whether the next zone carries the same frames on: same direction and spacing from the same edge."""
    same: bool = (own.zone.orientation, own.zone.spacing_m, own.lower) == (
        beyond.zone.orientation, beyond.zone.spacing_m, beyond.lower,
    )  # fmt: skip
    return same
