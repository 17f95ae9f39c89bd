"""The panel table: one row per plate panel of the port side, measured on the shell."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from beltwright.arrangement.angles import NO_WATERLINE, omega_deg, transverse_web_deg
from beltwright.arrangement.columns import counts, flags, numbers, words
from beltwright.arrangement.edges import EdgeTable
from beltwright.arrangement.ends import reduced_span
from beltwright.arrangement.levels import KEEL, LevelLine
from beltwright.arrangement.measure import STEPS, Nodes, areas_and_centres, measured_nodes
from beltwright.arrangement.model import PanelShapes
from beltwright.arrangement.plan import PanelSlot, row
from beltwright.arrangement.spacing import AlongShip, lengths_along
from beltwright.arrangement.zones import ZoneLine
from beltwright.core.columns import Column, ColumnTable
from beltwright.core.findings import Findings
from beltwright.core.units import BoolArray, FloatArray, IntArray
from beltwright.ship.model import Orientation

NOT_TRANSVERSE = "frames of this zone do not stand in transverse planes"
NO_DISTRIBUTING = "no load-distributing stringer crosses it"
_LEAST_SQUARE = 0.05  # least share by which a frame's plane may meet the shell
_CLEAR_M = 0.05  # a stringer nearer to a support than this does not divide the span


@dataclass(frozen=True, slots=True)
class PanelMeasures:
    """What the frame table takes over from the panels: nodes, spacing and support distance (p,) [m]."""

    nodes: Nodes
    spacing_m: FloatArray
    support_distance_m: FloatArray


def panel_table(
    slots: Sequence[PanelSlot],
    zones: Sequence[ZoneLine],
    levels: Sequence[LevelLine],
    edges: EdgeTable,
    findings: Findings,
) -> tuple[ColumnTable, PanelShapes, PanelMeasures]:
    """Return the table, the shapes and the measures of the panels."""
    nodes = measured_nodes(slots, edges)
    zone = np.array([slot.zone for slot in slots], dtype=np.int64)
    transverse = np.array([zones[z].zone.orientation is Orientation.TRANSVERSE for z in zone], dtype=bool)
    area, centre = areas_and_centres(nodes)
    shapes = _shapes(nodes, edges)
    middle = _middle_rows(nodes)
    normals = nodes.normals[middle, STEPS // 2]
    along = np.where(transverse[:, None], nodes.tangents[middle, STEPS // 2], _lengthwise(nodes, slots, edges, middle))
    omega = omega_deg(normals, along)
    lengths = _lengths(nodes, slots, transverse, edges)
    spacing = _spacing(transverse, lengths, normals)
    reduced = reduced_span(lengths.support_m, zone, zones, "panels", findings)
    crossed, remote = _distributing(slots, zones, nodes, edges)
    columns = {
        **_names(slots, zones, levels),
        "area_m2": numbers("m2", "area of the shell plate, one side, openings not taken out", area),
        "centroid_x_m": numbers("m", "centre of area, x from the aft perpendicular", centre[:, 0]),
        "centroid_y_m": numbers("m", "centre of area, y to port", centre[:, 1]),
        "centroid_z_m": numbers("m", "centre of area, z above the baseline", centre[:, 2]),
        **spacing,
        "span_m": numbers("m", "span of its frames along the shell, the longer one, bracket reduction taken", reduced),
        "support_distance_m": numbers(
            "m", "distance between the frames' supports along the shell, the longer one, no bracket reduction",
            lengths.support_m,
        ),
        "omega_deg": numbers(
            "deg", "smallest angle between the waterline and the framing, at the panel's middle", omega, NO_WATERLINE
        ),
        "web_frame_spacing_m": numbers(
            "m", "spacing of web frames or floors along the axis",
            np.array([zones[z].zone.web_frame_spacing_m for z in zone]),
        ),
        "load_distributing_stringer": flags("a load-distributing stringer crosses the panel's frames", crossed),
        "stringer_to_support_m": numbers(
            "m", "distance along the shell from the load-distributing stringer to the farther support", remote,
            NO_DISTRIBUTING,
        ),
        **_web_angles(nodes, transverse),
    }  # fmt: skip
    measures = PanelMeasures(
        nodes=nodes, spacing_m=np.asarray(columns["spacing_m"].data), support_distance_m=lengths.support_m
    )
    return ColumnTable("panels", columns), shapes, measures


def level_name(k: int, levels: Sequence[LevelLine]) -> str:
    """Return the name of a level by its number, or "keel"."""
    return KEEL if k < 0 else levels[k].name


def _names(slots: Sequence[PanelSlot], zones: Sequence[ZoneLine], levels: Sequence[LevelLine]) -> dict[str, Column]:
    """The columns that say which panel it is."""
    count = len(slots)
    return {
        "id": words("panel: frame at its aft edge and bay above the keel, or strip", (s.name for s in slots)),
        "zone": words("framing zone", (zones[s.zone].zone.name for s in slots)),
        "orientation": words("how its frames run", (zones[s.zone].zone.orientation.value for s in slots)),
        "lower_level": words("support below, or keel", (level_name(s.lower, levels) for s in slots)),
        "upper_level": words("support above", (level_name(s.upper, levels) for s in slots)),
        "frame_aft": numbers("frame", "frame at its aft edge", np.array([s.frame_aft for s in slots])),
        "frame_fore": numbers("frame", "frame at its forward edge", np.array([s.frame_fore for s in slots])),
        "sides": counts("sides of the ship on which it occurs", np.full(count, 2)),
    }


def _middle_rows(nodes: Nodes) -> IntArray:
    """The row of each panel's middle station; where the shell has run out there, the row with the most of it."""
    first, last = nodes.first[:-1], nodes.first[1:] - 1
    middle = (first + last) // 2
    width = nodes.high_m - nodes.low_m
    most = nodes.greatest(width)
    bare = np.flatnonzero(width[middle] < 0.25 * most)
    for p in bare:
        middle[p] = first[p] + int(np.argmax(width[first[p] : last[p] + 1]))
    return middle


def _lengthwise(nodes: Nodes, slots: Sequence[PanelSlot], edges: EdgeTable, middle: IntArray) -> FloatArray:
    """Direction (p, 3) of the longitudinal or oblique frame at the panel's edge, at its middle station.

    A panel without one (the only strip of a bay) takes the line halfway between its edges.
    """
    table = edges.all_girths
    here = nodes.station[middle]
    at_end = middle == nodes.first[1:] - 1
    one, two = np.where(at_end, here - 1, here), np.where(at_end, here, here + 1)
    low, high = np.array([s.low for s in slots]), np.array([s.high for s in slots])
    girths = []
    for s in (one, two):
        traced = np.where(
            high > edges.last_level_row, table[high, s], np.where(low > edges.last_level_row, table[low, s], np.nan)
        )
        girths.append(np.where(np.isfinite(traced), traced, np.nan))
    lost = np.isnan(girths[0]) | np.isnan(girths[1])
    for i, s in enumerate((one, two)):
        half = 0.5 * (np.clip(table[low, s], 0.0, 1e6) + np.clip(table[high, s], 0.0, 1e6))
        girths[i] = np.where(lost, half, girths[i])
    ahead: FloatArray = edges.sections.at(two, girths[1]).points - edges.sections.at(one, girths[0]).points
    return ahead


@dataclass(frozen=True, slots=True)
class _Lengths:
    """Lengths of panels (p,) [m]: across the girth, along the ship, between the supports of their frames."""

    girth_m: FloatArray
    along: AlongShip
    support_m: FloatArray


def _lengths(nodes: Nodes, slots: Sequence[PanelSlot], transverse: BoolArray, edges: EdgeTable) -> _Lengths:
    """The lengths of the panels."""
    girth = nodes.greatest(nodes.high_m - nodes.low_m)
    along = lengths_along(nodes, slots, transverse, edges.sections, edges.grid)
    return _Lengths(girth_m=girth, along=along, support_m=np.where(transverse, girth, along.line_m))


def _spacing(transverse: BoolArray, lengths: _Lengths, normals: FloatArray) -> dict[str, Column]:
    """Spacing along the shell, which governs, with the values along the axis and square to the frames beside it."""
    along = lengths.along
    governing = np.where(transverse, np.maximum(along.waterline_m, along.flat_m), lengths.girth_m)
    square = along.axis_m / np.sqrt(np.maximum(1.0 - normals[:, 0] ** 2, _LEAST_SQUARE))
    square = np.where(transverse, np.minimum(square, governing), lengths.girth_m)
    axis = np.where(transverse, along.axis_m, np.nan)
    words_for = "spacing along the shell: along the waterline, or the girth between longitudinals"
    return {
        "spacing_m": numbers("m", words_for, governing),
        "spacing_axis_m": numbers("m", "spacing of its frames along the ship's axis", axis, NOT_TRANSVERSE),
        "spacing_perpendicular_m": numbers("m", "spacing square to the frames in the shell", square),
        "length_along_m": numbers("m", "length along the ship on the shell, between frames or floors", along.line_m),
        "girth_m": numbers("m", "length across, along the girth, the longest", lengths.girth_m),
    }


def _web_angles(nodes: Nodes, transverse: BoolArray) -> dict[str, Column]:
    """Angles between the shell and the webs of the frames at both edges, at mid-span."""
    found = {}
    for name, rows in (("aft", nodes.first[:-1]), ("fore", nodes.first[1:] - 1)):
        angle = transverse_web_deg(nodes.normals[rows, STEPS // 2])
        found[f"web_angle_{name}_deg"] = numbers(
            "deg", f"angle between shell and web of the frame at the {name} edge, at mid-span",
            np.where(transverse, angle, np.nan), NOT_TRANSVERSE,
        )  # fmt: skip
    return found


def _distributing(
    slots: Sequence[PanelSlot], zones: Sequence[ZoneLine], nodes: Nodes, edges: EdgeTable
) -> tuple[BoolArray, FloatArray]:
    """Whether a load-distributing stringer crosses each panel, and the distance to the farther support [m]."""
    crossed = np.zeros(len(slots), dtype=bool)
    remote = np.full(len(slots), np.nan)
    for p, slot in enumerate(slots):
        for k in zones[slot.zone].distributing:
            rows = slice(nodes.first[p], nodes.first[p + 1])
            girth = edges.girth(row(k))[nodes.station[rows]]
            above, below = nodes.high_m[rows] - girth, girth - nodes.low_m[rows]
            inside = edges.meets[k][nodes.station[rows]] & (np.minimum(above, below) > _CLEAR_M)
            if inside.any():
                crossed[p] = True
                remote[p] = np.fmax(remote[p], np.maximum(above, below)[inside].max())
    return crossed, remote


def _shapes(nodes: Nodes, edges: EdgeTable) -> PanelShapes:
    """Corners, outlines and samples."""
    first, last = nodes.first[:-1], nodes.first[1:] - 1
    fifths = np.rint(first[:, None] + (last - first)[:, None] * np.linspace(0.0, 1.0, 5)).astype(np.int64)
    lower = np.stack([fifths, np.zeros_like(fifths)], axis=2)
    upper = np.stack([fifths[:, ::-1], np.full_like(fifths, STEPS)], axis=2)
    inner = np.array([STEPS // 4, STEPS // 2, 3 * STEPS // 4])
    up = np.stack(np.broadcast_arrays(last[:, None], inner[None, :]), axis=2)
    down = np.stack(np.broadcast_arrays(first[:, None], inner[None, ::-1]), axis=2)
    ring = np.concatenate([lower, up, upper, down], axis=1)
    outline = nodes.points[ring[..., 0], ring[..., 1]]
    girth = nodes.girth_m[ring[..., 0], ring[..., 1]]
    middle = (first + last) // 2
    rows = np.stack([first, middle, last], axis=1).repeat(3, axis=1)
    places = np.tile([0, STEPS // 2, STEPS], 3)[None, :]
    return PanelShapes(
        corners=outline[:, [0, 4, 8, 12]],
        outline=outline,
        outline_expansion=np.stack([edges.grid.x_m[nodes.station[ring[..., 0]]], girth], axis=2),
        samples=nodes.points[rows, places],
        sample_normals=nodes.normals[rows, places],
    )
