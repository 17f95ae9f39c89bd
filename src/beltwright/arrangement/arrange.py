"""From the description of a ship and its shell to the arrangement on the shell."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from beltwright.arrangement import codes
from beltwright.arrangement.across import Across, faces_across
from beltwright.arrangement.area_check import check_area
from beltwright.arrangement.edges import EdgeTable
from beltwright.arrangement.frames import frame_table
from beltwright.arrangement.gaps import report_gaps
from beltwright.arrangement.grid import make_grid
from beltwright.arrangement.layout import make_plan
from beltwright.arrangement.levels import LevelLine, level_lines
from beltwright.arrangement.model import Arrangement
from beltwright.arrangement.openings import with_openings
from beltwright.arrangement.panels import panel_table
from beltwright.arrangement.sectionlines import SectionCutter, SectionLines
from beltwright.arrangement.slivers import trimmed, without_slivers
from beltwright.arrangement.stations import WHERE, FrameStations, frame_stations
from beltwright.arrangement.traces import bulkhead_traces, frame_traces, level_traces, web_traces
from beltwright.arrangement.zones import ZoneLine, bulkhead_lines, zone_lines
from beltwright.core.errors import InputError
from beltwright.core.findings import Findings
from beltwright.hull.section import sections
from beltwright.hull.shell import Shell
from beltwright.ship.model import Ship

_REACH_M = 1e-3  # a hull may reach this far beyond the last frame (metres, or frames in the message)


def arrange(ship: Ship, shell: Shell, *, cut: SectionCutter = sections) -> Arrangement:
    """Return the structural arrangement of a ship on its shell.

    Parameters
    ----------
    ship : the description; frames, levels, zones, bulkheads and openings are read
    shell : the port half of the hull in ship axes
    cut : what cuts the shell into sections; one that keeps what it has cut saves time where only levels move

    Raises
    ------
    InputError : frames, levels, zones, bulkheads or openings that contradict each other or the hull, naming the field
    """
    findings = Findings()
    stations = frame_stations(ship.frames)
    hull_x = float(shell.bounds[0, 0]), float(shell.bounds[1, 0])
    _reaches(stations, hull_x)
    levels = level_lines(ship, stations)
    bulkheads = bulkhead_lines(ship, stations)
    zones = zone_lines(ship, stations, levels, bulkheads, hull_x)
    grid = make_grid(shell, stations, levels)
    across = faces_across(shell)
    sections = SectionLines(shell, grid.x_m, ship.hull.depth_m, across, cut)
    edges = EdgeTable(grid, sections, levels)
    _report_sections(edges, levels, across, findings)
    whole = report_gaps(zones, levels, edges, findings)
    plan = make_plan(zones, levels, edges)
    held = trimmed(plan.panels, edges)
    if not held:
        raise InputError(f"{WHERE}: zones", "no zone holds any part of the shell; look at its frames and levels")
    slots = without_slivers(held, zones, edges, findings)
    _report_empty(zones, {slot.zone for slot in slots}, findings)
    panels, shapes, measures = panel_table(slots, zones, levels, edges, findings)
    frames, frame_shapes = frame_table(plan.frames, slots, measures, zones, levels, edges, findings)
    panels = with_openings(ship.openings, panels, shapes, frames, frame_shapes, edges, findings)
    framed = check_area(shell, zones, levels, edges, across, float(panels.values("area_m2").sum()), whole, findings)
    return Arrangement(
        stations=stations,
        levels=levels,
        zones=zones,
        bulkheads=bulkheads,
        panels=panels,
        panel_shapes=shapes,
        frames=frames,
        frame_shapes=frame_shapes,
        level_traces=level_traces(levels, edges),
        frame_traces=frame_traces(frames, frame_shapes),
        web_traces=web_traces(frames, frame_shapes),
        bulkhead_traces=bulkhead_traces(bulkheads, edges),
        framed_area_m2=framed,
        findings=tuple(findings),
    )


def _reaches(stations: FrameStations, hull_x_m: tuple[float, float]) -> None:
    """Refuse a frame table that ends inside the hull."""
    aft, fore = (float(stations.frame_of(x)) for x in hull_x_m)
    for name, number, x, allowed, inside in (
        (
            "first",
            stations.first,
            hull_x_m[0],
            f"{np.floor(aft + _REACH_M):g} or less",
            stations.x_m[0] > hull_x_m[0] + _REACH_M,
        ),
        (
            "last",
            stations.last,
            hull_x_m[1],
            f"{np.ceil(fore - _REACH_M):g} or more",
            stations.x_m[-1] < hull_x_m[1] - _REACH_M,
        ),
    ):
        if inside:
            what = f"the {name} frame stands inside the hull, which reaches x = {x:.3f} m"
            raise InputError(f"{WHERE}: frames", what, value=number, allowed=allowed)


def _report_sections(edges: EdgeTable, levels: Sequence[LevelLine], across: Across, findings: Findings) -> None:
    """Findings about sections and levels."""
    findings.extend(edges.sections.found)
    if across.area_m2 > 0.0:
        where = f"x = {across.x_m[0]:.2f} to {across.x_m[1]:.2f} m"
        findings.add(codes.TRANSOM, where, f"{across.area_m2:.2f} m2 on the port side")
    x = edges.grid.x_m
    for k, level in enumerate(levels):
        here = level.present(x)
        several = here & edges.several[k]
        if several.any():
            at = x[several]
            findings.add(
                codes.MANY_CROSSINGS, level.name, f"{at.size} stations between x = {at.min():.2f} and {at.max():.2f} m"
            )
        if not (here & edges.meets[k]).any():
            findings.add(codes.LEVEL_MISSES_HULL, level.name, f"at height {level.height_aft_m:g} m")
    for code, rows in ((codes.LOOSE_PIECES, edges.sections.loose), (codes.DECK_LEFT_OUT, edges.sections.decks)):
        if rows:
            findings.add(
                code, "sections", f"{len(rows)} stations between x = {x[rows].min():.2f} and {x[rows].max():.2f} m"
            )


def _report_empty(zones: Sequence[ZoneLine], filled: set[int], findings: Findings) -> None:
    """A finding for every zone without shell."""
    for zone in zones:
        if zone.index not in filled:
            findings.add(codes.ZONE_EMPTY, zone.zone.name, f"frames {zone.first} to {zone.last}")
