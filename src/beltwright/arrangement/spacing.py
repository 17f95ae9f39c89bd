"""Lengths of panels on the shell: spacing along the waterline between frames, and lengths along the ship.

At several heights of a panel the waterline is followed from station to station; where a frame's trace ends at stem or
stern before that height, the waterline ends at the contour between the stations. Where the shell lies flatter than
30 degrees to the horizontal it has no useful waterline: there the distance square to the frames in the shell is taken.
A sliver joined to a panel does not widen it: the lengths are those between neighbouring frames.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from beltwright.arrangement.grid import Grid
from beltwright.arrangement.measure import STEPS, Nodes
from beltwright.arrangement.plan import PanelSlot
from beltwright.arrangement.sectionlines import SectionLines
from beltwright.core.units import BoolArray, FloatArray, IntArray

HEIGHTS = 7  # heights per panel
FLAT_NZ = float(np.cos(np.radians(30.0)))  # steeper than 30 degrees to the horizontal below this
_TOUCH_M = 1e-6
_LINES = (0, STEPS // 2, STEPS)  # edges and middle: places that no knuckle moves


@dataclass(frozen=True, slots=True)
class AlongShip:
    """Lengths of panels (p,) [m] between neighbouring frames, the greatest of each.

    ``waterline_m`` along the waterline, 0 where none is steep enough or frames are not transverse; ``flat_m`` square to
    transverse frames over flat places, 0 where there are none; ``axis_m`` along the ship's axis; ``line_m`` along both
    edges and the middle.
    """

    waterline_m: FloatArray
    flat_m: FloatArray
    axis_m: FloatArray
    line_m: FloatArray


def lengths_along(
    nodes: Nodes, slots: Sequence[PanelSlot], transverse: BoolArray, sections: SectionLines, grid: Grid
) -> AlongShip:
    """Return the lengths along the ship of every panel; ``transverse`` (p,) says which have transverse frames."""
    bay, panel_of_bay = nodes.bays(slots, grid.frame)
    j = nodes.cells
    step = grid.x_m[nodes.station[j + 1]] - grid.x_m[nodes.station[j]]
    axis = np.bincount(bay, step, len(panel_of_bay))
    line = np.zeros((len(panel_of_bay), len(_LINES)))
    lines = nodes.points[:, _LINES]
    np.add.at(line, bay, np.linalg.norm(lines[j + 1] - lines[j], axis=2))
    first = np.concatenate([[0], np.flatnonzero(np.diff(panel_of_bay)) + 1])
    rows = np.flatnonzero(transverse)
    water = np.zeros(nodes.count)
    if rows.size:
        water[rows] = _waterlines(nodes.only(rows), [slots[i] for i in rows.tolist()], sections, grid)
    return AlongShip(
        waterline_m=water,
        flat_m=np.maximum.reduceat(axis, first) * _flat_stretch(nodes),
        axis_m=np.maximum.reduceat(axis, first),
        line_m=np.maximum.reduceat(line.max(axis=1), first),
    )


def _waterlines(nodes: Nodes, slots: Sequence[PanelSlot], sections: SectionLines, grid: Grid) -> FloatArray:
    """The longest waterline across a bay of each panel (p,) [m]; 0 where none is steep enough."""
    bay, panel_of_bay = nodes.bays(slots, grid.frame)
    bays = len(panel_of_bay)
    z_low, z_high = nodes.points[:, 0, 2], nodes.points[:, -1, 2]
    bottom, top = nodes.least(z_low), nodes.greatest(z_high)
    share = np.linspace(0.0, 1.0, HEIGHTS)
    height = bottom[:, None] + (top - bottom)[:, None] * share
    wanted = height[nodes.panel]
    there = (wanted >= z_low[:, None] - _TOUCH_M) & (wanted <= z_high[:, None] + _TOUCH_M)
    points, steep = _at_height(nodes, sections, wanted)
    length, flat = _cell_lengths(nodes, points, there, steep, wanted)
    total = np.zeros((bays, HEIGHTS))
    spoiled = np.zeros((bays, HEIGHTS), dtype=bool)
    np.add.at(total, bay, length)
    np.logical_or.at(spoiled, bay, flat)
    first = np.concatenate([[0], np.flatnonzero(np.diff(panel_of_bay)) + 1])
    longest: FloatArray = np.maximum.reduceat(np.where(spoiled, 0.0, total).max(axis=1), first)
    return longest


def _at_height(nodes: Nodes, sections: SectionLines, wanted: FloatArray) -> tuple[FloatArray, BoolArray]:
    """Points (n, HEIGHTS, 3) of each node's section at the wanted heights, and whether the shell is steep there."""
    z = nodes.points[:, :, 2]
    k = np.clip((z[:, None, :] <= wanted[:, :, None]).sum(axis=2) - 1, 0, STEPS - 1)
    z0, z1 = np.take_along_axis(z, k, axis=1), np.take_along_axis(z, k + 1, axis=1)
    rise = z1 - z0
    t = np.clip(
        np.where(np.abs(rise) > _TOUCH_M, (wanted - z0) / np.where(np.abs(rise) > _TOUCH_M, rise, 1.0), 0.0), 0, 1
    )
    g0, g1 = np.take_along_axis(nodes.girth_m, k, axis=1), np.take_along_axis(nodes.girth_m, k + 1, axis=1)
    girth = g0 + t * (g1 - g0)
    station = np.repeat(nodes.station, HEIGHTS)
    for last in (False, True):
        at = sections.at(station, girth.ravel())
        if last:
            break
        climb = at.tangents[:, 2].reshape(girth.shape)
        off = wanted - at.points[:, 2].reshape(girth.shape)
        step = np.where(climb > 0.2, off / np.where(climb > 0.2, climb, 1.0), 0.0)
        girth = np.clip(girth + step, nodes.low_m[:, None], nodes.high_m[:, None])
    shape = (*girth.shape, 3)
    steep: BoolArray = np.abs(at.normals[:, 2].reshape(girth.shape)) <= FLAT_NZ
    return at.points.reshape(shape), steep


def _cell_lengths(
    nodes: Nodes, points: FloatArray, there: BoolArray, steep: BoolArray, wanted: FloatArray
) -> tuple[FloatArray, BoolArray]:
    """Lengths of the waterlines in each strip between two stations (cells, HEIGHTS), and where the shell is flat."""
    j = nodes.cells
    one, two = there[j], there[j + 1]
    length = np.where(one & two, np.linalg.norm(points[j + 1] - points[j], axis=2), 0.0)
    for rows, others, mask in ((j, j + 1, one & ~two), (j + 1, j, two & ~one)):
        end = _contour_point(nodes, rows, others, wanted[j])
        length = np.where(mask, np.linalg.norm(end - points[rows], axis=2), length)
    flat = (one & ~steep[j]) | (two & ~steep[j + 1])
    return length, flat


def _contour_point(nodes: Nodes, rows: IntArray, others: IntArray, wanted: FloatArray) -> FloatArray:
    """Where a waterline leaves the panel between a station that has it and one that has not, (cells, HEIGHTS, 3)."""
    found = np.zeros((*wanted.shape, 3))
    for edge, beyond in ((0, np.less), (-1, np.greater)):
        a, b = nodes.points[rows, edge], nodes.points[others, edge]
        run = (b[:, 2] - a[:, 2])[:, None]
        t = np.where(np.abs(run) > _TOUCH_M, (wanted - a[:, 2, None]) / np.where(np.abs(run) > _TOUCH_M, run, 1.0), 1.0)
        at = a[:, None, :] + np.clip(t, 0.0, 1.0)[..., None] * (b - a)[:, None, :]
        found = np.where(beyond(wanted, b[:, 2, None])[..., None], at, found)
    return found


def _flat_stretch(nodes: Nodes) -> FloatArray:
    """How much longer than the axis the shell is square to transverse frames at flat places (p,); 0 without any."""
    nx, nz = nodes.normals[..., 0], np.abs(nodes.normals[..., 2])
    holds = (nodes.high_m - nodes.low_m > _TOUCH_M)[:, None]
    stretch = np.where(holds & (nz > FLAT_NZ), 1.0 / np.sqrt(np.maximum(1.0 - nx * nx, 0.25)), 0.0).max(axis=1)
    return nodes.greatest(stretch)
