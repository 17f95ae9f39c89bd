"""Which panels lie on the two sides of each frame span."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from beltwright.arrangement.edges import EdgeTable
from beltwright.arrangement.measure import Nodes
from beltwright.arrangement.plan import FrameSlot, PanelSlot
from beltwright.core.units import BoolArray, FloatArray, IntArray

_AT_EDGE_M = 1e-6


def panels_beside(
    frames: Sequence[FrameSlot],
    middle_station: FloatArray,
    panels: Sequence[PanelSlot],
    nodes: Nodes,
    edges: EdgeTable,
) -> IntArray:
    """Return the rows of the panels beside each frame span (f, 2), -1 for none.

    The first is the panel aft of it, or below it where it runs along the ship; the second forward of it, or above it.
    ``middle_station`` (f,) is the station at mid-span, with its fraction. A span inside a panel has it on both sides.
    """
    across = np.array([f.along < 0 for f in frames], dtype=np.bool_)
    station = np.where(across, [f.first for f in frames], np.rint(middle_station)).astype(np.int64)
    table = edges.all_girths
    middle = 0.5 * (table[[f.low for f in frames], station] + table[[f.high for f in frames], station])
    girth = np.where(across, middle, table[[f.along for f in frames], station])
    frame, node = _at_one_station(station, nodes)
    panel = nodes.panel[node]
    one, other = _sides(frames, panels, frame, panel, across, station)
    g, low, high = girth[frame], nodes.low_m[node], nodes.high_m[node]
    crosses = across[frame]
    one &= np.where(crosses, (low <= g) & (g <= high), (low < g - _AT_EDGE_M) & (g <= high + _AT_EDGE_M))
    other &= np.where(crosses, (low <= g) & (g <= high), (low <= g + _AT_EDGE_M) & (g < high - _AT_EDGE_M))
    found = np.full((len(frames), 2), -1, dtype=np.int64)
    found[frame[one], 0] = panel[one]
    found[frame[other], 1] = panel[other]
    return found


def inside_a_panel(frames: Sequence[FrameSlot], beside: IntArray) -> BoolArray:
    """Return which longitudinals and oblique frames lie between a panel and a strip joined to it: they are left out."""
    same = (beside[:, 0] == beside[:, 1]) & (beside[:, 0] >= 0)
    along = np.array([f.along >= 0 for f in frames], dtype=np.bool_)
    inside: BoolArray = same & along
    return inside


def _at_one_station(station: IntArray, nodes: Nodes) -> tuple[IntArray, IntArray]:
    """Pairs of frame span and node at the same station."""
    order = np.argsort(nodes.station, kind="stable")
    begin = np.searchsorted(nodes.station[order], station, side="left")
    count = np.searchsorted(nodes.station[order], station, side="right") - begin
    frame = np.repeat(np.arange(len(station)), count)
    place = np.arange(len(frame)) - np.repeat(np.cumsum(count) - count, count) + begin[frame]
    return frame, order[place]


def _sides(
    frames: Sequence[FrameSlot],
    panels: Sequence[PanelSlot],
    frame: IntArray,
    panel: IntArray,
    across: BoolArray,
    station: IntArray,
) -> tuple[BoolArray, BoolArray]:
    """Whether each pair's panel may be the first or the second of its frame, by stations and zones alone."""
    first, last, zone = np.array([(p.first, p.last, p.zone) for p in panels]).T
    begins, ends, own = np.array([(f.first, f.last, f.zone) for f in frames]).T
    along = (zone[panel] == own[frame]) & (last[panel] > begins[frame]) & (first[panel] < ends[frame])
    crosses = across[frame]
    one: BoolArray = np.where(crosses, first[panel] < station[frame], along)
    other: BoolArray = np.where(crosses, last[panel] > station[frame], along)
    return one, other
