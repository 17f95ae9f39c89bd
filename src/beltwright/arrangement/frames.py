"""The frame table: one row per span of a frame between two supports, measured on the shell of the port side."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from beltwright.arrangement import codes
from beltwright.arrangement.angles import NO_WATERLINE, omega_deg, transverse_web_deg
from beltwright.arrangement.columns import counts, flags, numbers, words
from beltwright.arrangement.edges import EdgeTable
from beltwright.arrangement.ends import reduced_span
from beltwright.arrangement.levels import KEEL, LevelLine
from beltwright.arrangement.model import FrameShapes
from beltwright.arrangement.neighbours import inside_a_panel, panels_beside
from beltwright.arrangement.panels import PanelMeasures, level_name
from beltwright.arrangement.plan import FrameSlot, PanelSlot, Role, row
from beltwright.arrangement.zones import ZoneLine
from beltwright.core.columns import Column, ColumnTable
from beltwright.core.findings import Findings
from beltwright.core.units import BoolArray, FloatArray, IntArray

SHORTEST_M = 0.15
CENTRELINE = "stem or stern contour"
_PLACES = 8
_CLEAR_M = 0.05
_AT_END_M = 1e-6


@dataclass(frozen=True, slots=True)
class _Lines:
    """Frame spans as places along them: ``points``, ``normals``, ``tangents`` (f, 9, 3), x and girth (f, 9, 2).

    ``length_m``, ``from_contour`` (starts on stem or stern) and ``station`` at mid-span are (f,).
    """

    points: FloatArray
    normals: FloatArray
    tangents: FloatArray
    expansion: FloatArray
    length_m: FloatArray
    from_contour: BoolArray
    station: FloatArray


def frame_table(
    slots: Sequence[FrameSlot],
    panel_slots: Sequence[PanelSlot],
    measures: PanelMeasures,
    zones: Sequence[ZoneLine],
    levels: Sequence[LevelLine],
    edges: EdgeTable,
    findings: Findings,
) -> tuple[ColumnTable, FrameShapes]:
    """Return the table and the shapes of the frame spans; pieces shorter than 0.15 m are left out with a finding."""
    kept, lines = _lines(slots, edges)
    long = lines.length_m >= SHORTEST_M
    if np.any(~long & (lines.length_m > _AT_END_M)):
        short = ~long & (lines.length_m > _AT_END_M)
        findings.add(
            codes.SHORT_FRAMES, "frames", f"{int(short.sum())} pieces, together {lines.length_m[short].sum():.2f} m"
        )
    neighbours = panels_beside(kept, lines.station, panel_slots, measures.nodes, edges)
    long &= ~inside_a_panel(kept, neighbours)
    rows = np.flatnonzero(long)
    slots = [kept[i] for i in rows]
    lines = _taken(lines, rows)
    one, other = neighbours[rows].T
    columns = {
        **_names(slots, zones, levels, lines),
        **_lengths(slots, zones, lines, measures, one, other, findings),
        **_ends(slots, zones),
        **_crossed(slots, zones, edges),
        **_angles(slots, lines),
        **_runs(slots, levels),
        "panel_one": counts("row of the panel aft of it, or below it; -1 for none", one),
        "panel_other": counts("row of the panel forward of it, or above it; -1 for none", other),
    }
    shapes = FrameShapes(samples=lines.points, sample_normals=lines.normals, expansion=lines.expansion)
    return ColumnTable("frames", columns), shapes


def _lines(slots: Sequence[FrameSlot], edges: EdgeTable) -> tuple[list[FrameSlot], _Lines]:
    """Places along every frame span that has any length."""
    table = edges.all_girths
    kept: list[FrameSlot] = []
    stations: list[FloatArray] = []
    girths: list[FloatArray] = []
    share = np.linspace(0.0, 1.0, _PLACES + 1)
    for slot in slots:
        if slot.along < 0:
            low, high = table[slot.low, slot.first], table[slot.high, slot.first]
            span = np.full(_PLACES + 1, float(slot.first)), low + max(high - low, 0.0) * share
        else:
            found = _along(slot, table)
            if found is None:
                continue
            span = found
        kept.append(slot)
        stations.append(span[0])
        girths.append(span[1])
    station = np.array(stations, dtype=np.float64).reshape(-1, _PLACES + 1)
    girth = np.array(girths, dtype=np.float64).reshape(-1, _PLACES + 1)
    across = np.array([slot.along < 0 for slot in kept], dtype=bool)
    points, normals, tangents = _between(edges, station, girth)
    chord = np.linalg.norm(np.diff(points, axis=1), axis=2).sum(axis=1)
    return kept, _Lines(
        points=points,
        normals=normals,
        tangents=np.where(across[:, None, None], tangents, _directions(points)),
        expansion=np.stack([np.interp(station, np.arange(len(edges.grid.x_m)), edges.grid.x_m), girth], axis=2),
        length_m=np.where(across, girth[:, -1] - girth[:, 0], chord),
        from_contour=np.array([_from_contour(slot, edges) for slot in kept], dtype=bool),
        station=station[:, _PLACES // 2],
    )


def _between(edges: EdgeTable, station: FloatArray, girth: FloatArray) -> tuple[FloatArray, FloatArray, FloatArray]:
    """Places (f, k, 3), normals and section tangents at stations with fractions, between the two sections beside."""
    behind = np.floor(station + _AT_END_M).astype(np.int64)
    t = np.clip(station - behind, 0.0, 1.0)[..., None]
    ahead = np.minimum(behind + 1, len(edges.grid.x_m) - 1)
    shape = (*station.shape, 3)
    aft, fore = (edges.sections.at(s.ravel(), girth.ravel()) for s in (behind, ahead))
    points = (1.0 - t) * aft.points.reshape(shape) + t * fore.points.reshape(shape)
    normals = (1.0 - t) * aft.normals.reshape(shape) + t * fore.normals.reshape(shape)
    normals /= np.maximum(np.linalg.norm(normals, axis=2, keepdims=True), _AT_END_M)
    return points, normals, aft.tangents.reshape(shape)


def _along(slot: FrameSlot, table: FloatArray) -> tuple[FloatArray, FloatArray] | None:
    """Stations with fractions and girths along a longitudinal or oblique frame, as far as it runs between its edges."""
    stations = np.arange(slot.first, slot.last + 1)
    girth = np.clip(table[slot.along, stations], -1e6, 1e6)
    room = np.minimum(girth - table[slot.low, stations], table[slot.high, stations] - girth)
    inside = np.flatnonzero(room > _AT_END_M)
    if inside.size == 0:
        return None
    ends = []
    for i, step in ((int(inside[0]), -1), (int(inside[-1]), 1)):
        j = i + step
        beyond = 0 <= j < len(room) and abs(girth[j]) < 1e6
        ends.append(i + step * (room[i] / (room[i] - room[j])) if beyond else float(i))
    places = np.linspace(ends[0], ends[1], _PLACES + 1)
    return slot.first + places, np.interp(places, np.arange(len(girth)), girth)


def _directions(points: FloatArray) -> FloatArray:
    """Directions along lines of places (f, k, 3), by the places before and after."""
    ahead = np.concatenate([points[:, 1:], points[:, -1:]], axis=1)
    behind = np.concatenate([points[:, :1], points[:, :-1]], axis=1)
    step = ahead - behind
    size = np.linalg.norm(step, axis=2, keepdims=True)
    found: FloatArray = step / np.where(size > 0.0, size, 1.0)
    return found


def _from_contour(slot: FrameSlot, edges: EdgeTable) -> bool:
    """Whether a transverse span starts on the stem or stern contour, its lower level lying below the section."""
    return slot.along < 0 and slot.lower >= 0 and not bool(edges.meets[slot.lower, slot.first])


def _taken(lines: _Lines, rows: IntArray) -> _Lines:
    """Some of the lines."""
    return _Lines(
        points=lines.points[rows],
        normals=lines.normals[rows],
        tangents=lines.tangents[rows],
        expansion=lines.expansion[rows],
        length_m=lines.length_m[rows],
        from_contour=lines.from_contour[rows],
        station=lines.station[rows],
    )


def _names(
    slots: Sequence[FrameSlot], zones: Sequence[ZoneLine], levels: Sequence[LevelLine], lines: _Lines
) -> dict[str, Column]:
    """The columns that say which span it is."""
    middle = lines.points[:, _PLACES // 2]
    return {
        "id": words("frame span: frame number (aft end) and bay above the keel, or strip", (s.name for s in slots)),
        "role": words("what it is", (s.role.value for s in slots)),
        "zone": words("framing zone", (zones[s.zone].zone.name for s in slots)),
        "orientation": words("how the frames of its zone run", (zones[s.zone].zone.orientation.value for s in slots)),
        "frame": numbers(
            "frame", "frame number; of its aft end for frames along the ship", np.array([s.frame for s in slots])
        ),
        "x_m": numbers("m", "x at mid-span from the aft perpendicular", middle[:, 0]),
        "lower_level": words("level below", (level_name(s.lower, levels) for s in slots)),
        "upper_level": words("level above", (level_name(s.upper, levels) for s in slots)),
        "lower_support": words("what holds its lower end, or its aft end", _lower_supports(slots, levels, lines)),
        "sides": counts("sides of the ship on which it occurs", np.full(len(slots), 2)),
    }


def _lower_supports(slots: Sequence[FrameSlot], levels: Sequence[LevelLine], lines: _Lines) -> list[str]:
    """What holds each frame's lower or aft end."""
    held = []
    for slot, contour in zip(slots, lines.from_contour, strict=True):
        if slot.along >= 0:
            held.append("floor or bulkhead")
        else:
            held.append(CENTRELINE if contour else level_name(slot.lower, levels))
    return held


def _lengths(
    slots: Sequence[FrameSlot],
    zones: Sequence[ZoneLine],
    lines: _Lines,
    measures: PanelMeasures,
    one: IntArray,
    other: IntArray,
    findings: Findings,
) -> dict[str, Column]:
    """Span, spacing, length and centre."""
    zone = np.array([slot.zone for slot in slots], dtype=np.int64)
    sides = np.stack([np.where(p >= 0, measures.spacing_m[p], np.nan) for p in (one, other)])
    alone = np.all(np.isnan(sides), axis=0)
    with_one = np.where(np.isnan(sides[0]), sides[1], sides[0])
    with_other = np.where(np.isnan(sides[1]), sides[0], sides[1])
    missing = "no panel on either side of it"
    weights = np.linalg.norm(np.diff(lines.points, axis=1), axis=2)
    middles = 0.5 * (lines.points[:, 1:] + lines.points[:, :-1])
    centre = (weights[..., None] * middles).sum(axis=1) / weights.sum(axis=1)[:, None]
    span = reduced_span(lines.length_m, zone, zones, "frames", findings)
    mean = np.where(alone, np.nan, 0.5 * (with_one + with_other))
    most = np.where(alone, np.nan, np.maximum(with_one, with_other))
    return {
        "spacing_m": numbers("m", "spacing along the shell, mean of both sides", mean, missing),
        "spacing_greatest_m": numbers("m", "spacing along the shell, the wider side", most, missing),
        "span_m": numbers("m", "span along the shell between supports, bracket reduction taken", span),
        "support_distance_m": numbers(
            "m", "distance between supports along the shell, no bracket reduction", lines.length_m
        ),
        "length_m": numbers("m", "true length along the shell, for weight", lines.length_m),
        "centroid_x_m": numbers("m", "centre of its line, x from the aft perpendicular", centre[:, 0]),
        "centroid_y_m": numbers("m", "centre of its line, y to port", centre[:, 1]),
        "centroid_z_m": numbers("m", "centre of its line, z above the baseline", centre[:, 2]),
        "web_frame_spacing_m": numbers(
            "m",
            "spacing of web frames or floors along the axis",
            np.array([zones[z].zone.web_frame_spacing_m for z in zone]),
        ),
    }


def _ends(slots: Sequence[FrameSlot], zones: Sequence[ZoneLine]) -> dict[str, Column]:
    """Fixity and brackets as the zone gives them."""
    ends = [(zones[s.zone].zone.lower_end, zones[s.zone].zone.upper_end) for s in slots]
    fixed = np.array([[a.fixed, b.fixed] for a, b in ends], dtype=bool).reshape(-1, 2)
    arms = np.array([[a.bracket_m, b.bracket_m] for a, b in ends]).reshape(-1, 2)
    return {
        "lower_end_fixed": flags("continuous or bracketed at the lower (aft) support, as given", fixed[:, 0]),
        "upper_end_fixed": flags("continuous or bracketed at the upper (forward) support, as given", fixed[:, 1]),
        "lower_bracket_m": numbers("m", "arm of the bracket at the lower (aft) support", arms[:, 0]),
        "upper_bracket_m": numbers("m", "arm of the bracket at the upper (forward) support", arms[:, 1]),
        "end_brackets": flags("both ends have end brackets", (arms[:, 0] > 0.0) & (arms[:, 1] > 0.0)),
    }


def _crossed(slots: Sequence[FrameSlot], zones: Sequence[ZoneLine], edges: EdgeTable) -> dict[str, Column]:
    """Whether load-distributing stringers support each transverse span."""
    found: BoolArray = np.zeros(len(slots), dtype=np.bool_)
    for i, slot in enumerate(slots):
        if slot.along >= 0:
            continue
        s = slot.first
        low, high = edges.girth(slot.low)[s], edges.girth(slot.high)[s]
        for k in zones[slot.zone].distributing:
            girth = edges.girth(row(k))[s]
            found[i] = found[i] or (edges.meets[k, s] and low + _CLEAR_M < girth < high - _CLEAR_M)
    return {"load_distributing_stringer": flags("load-distributing stringers support the frame", np.asarray(found))}


def _angles(slots: Sequence[FrameSlot], lines: _Lines) -> dict[str, Column]:
    """Omega and the web angle at mid-span."""
    middle = _PLACES // 2
    normals = lines.normals[:, middle]
    across = np.array([slot.along < 0 for slot in slots], dtype=bool)
    web = np.where(across, transverse_web_deg(normals), 90.0)
    return {
        "omega_deg": numbers(
            "deg", "smallest angle between the waterline and the frame, at mid-span",
            omega_deg(normals, lines.tangents[:, middle]), NO_WATERLINE,
        ),
        "web_angle_deg": numbers("deg", "smallest angle between shell and web at mid-span", web),
    }  # fmt: skip


def _runs(slots: Sequence[FrameSlot], levels: Sequence[LevelLine]) -> dict[str, Column]:
    """The levels between which each transverse frame runs without a break, whatever its zones."""
    low, high = [level_name(s.lower, levels) for s in slots], [level_name(s.upper, levels) for s in slots]
    groups: dict[float, list[int]] = {}
    for i, slot in enumerate(slots):
        if slot.role in (Role.MAIN, Role.INTERMEDIATE, Role.WEB):
            groups.setdefault(slot.frame, []).append(i)
    for rows in groups.values():
        rows.sort(key=lambda i: slots[i].lower)
        run: list[int] = []
        for i in [*rows, -1]:
            if run and (i < 0 or slots[i].lower != slots[run[-1]].upper):
                for r in run:
                    low[r], high[r] = level_name(slots[run[0]].lower, levels), level_name(slots[run[-1]].upper, levels)
                run = []
            if i >= 0:
                run.append(i)
    return {
        "runs_from_level": words(f"level at which the whole frame begins, or {KEEL}", low),
        "runs_to_level": words("level at which the whole frame ends", high),
    }
