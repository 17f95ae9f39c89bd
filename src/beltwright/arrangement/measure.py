"""Panels measured on the shell: true areas, centres, heights, from places at many girths of every station."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from beltwright.arrangement.edges import EdgeTable
from beltwright.arrangement.plan import PanelSlot
from beltwright.core.units import FloatArray, IntArray
from beltwright.hull.areas import sampled_areas

STEPS = 8  # parts into which a panel is divided over its height


@dataclass(frozen=True, slots=True)
class Nodes:
    """Panels at their stations: one row per panel and station, panels in order.

    ``panel``, ``station`` (n,); ``low_m``, ``high_m`` (n,) girths of the edges; ``first`` (p + 1,) where each panel's
    rows begin; ``points``, ``normals``, ``tangents`` (n, STEPS + 1, 3) from the lower to the upper edge.
    """

    panel: IntArray
    station: IntArray
    low_m: FloatArray
    high_m: FloatArray
    first: IntArray
    points: FloatArray
    normals: FloatArray
    tangents: FloatArray

    @property
    def count(self) -> int:
        """The number of panels."""
        return len(self.first) - 1

    @property
    def cells(self) -> IntArray:
        """Rows whose next row belongs to the same panel: the strips between two stations."""
        rows: IntArray = np.flatnonzero(self.panel[1:] == self.panel[:-1])
        return rows

    def greatest(self, values: FloatArray) -> FloatArray:
        """Return for each panel the greatest of values (n, ...) over its rows."""
        most: FloatArray = np.maximum.reduceat(values, self.first[:-1], axis=0)
        return most

    def least(self, values: FloatArray) -> FloatArray:
        """Return for each panel the least of values (n, ...) over its rows."""
        least: FloatArray = np.minimum.reduceat(values, self.first[:-1], axis=0)
        return least


def girths_of(slots: Sequence[PanelSlot], edges: EdgeTable) -> tuple[IntArray, IntArray, FloatArray, FloatArray]:
    """Return panel, station, lower girth and upper girth [m] of every panel at every station it reaches."""
    size = np.array([slot.last - slot.first + 1 for slot in slots])
    panel = np.repeat(np.arange(len(slots)), size)
    begin = np.concatenate([[0], np.cumsum(size)])
    station = np.arange(begin[-1]) - begin[panel] + np.array([slot.first for slot in slots])[panel]
    table = edges.all_girths

    def edge(rows: list[int]) -> FloatArray:
        girth: FloatArray = table[np.array(rows)[panel], station]
        return girth

    floor = edge([slot.clip_low for slot in slots])
    roof = np.maximum(edge([slot.clip_high for slot in slots]), floor)
    low = np.clip(edge([slot.low for slot in slots]), floor, roof)
    high = np.clip(edge([slot.high for slot in slots]), low, roof)
    return panel, station, low, high


def measured_nodes(slots: Sequence[PanelSlot], edges: EdgeTable) -> Nodes:
    """Return the panels' nodes."""
    panel, station, low, high = girths_of(slots, edges)
    size = np.bincount(panel, minlength=len(slots))
    share = np.linspace(0.0, 1.0, STEPS + 1)
    girth = low[:, None] + (high - low)[:, None] * share
    at = edges.sections.at(np.repeat(station, STEPS + 1), girth.ravel())
    shape = (len(panel), STEPS + 1, 3)
    return Nodes(
        panel=panel,
        station=station,
        low_m=low,
        high_m=high,
        first=np.concatenate([[0], np.cumsum(size)]),
        points=at.points.reshape(shape),
        normals=at.normals.reshape(shape),
        tangents=at.tangents.reshape(shape),
    )


def areas_and_centres(nodes: Nodes) -> tuple[FloatArray, FloatArray]:
    """Return each panel's area (p,) [m2] and centre of area (p, 3) [m], from the strips between its stations."""
    j = nodes.cells
    size, centre = sampled_areas(np.stack([nodes.points[j], nodes.points[j + 1]], axis=1))
    area: FloatArray = np.bincount(nodes.panel[j], size, nodes.count).astype(np.float64)
    weight = np.where(size > 0.0, size, 0.0)[:, None] * np.where(size > 0.0, centre.T, 0.0).T
    moment = np.stack([np.bincount(nodes.panel[j], weight[:, k], nodes.count) for k in range(3)], axis=1)
    return area, moment / np.where(area > 0.0, area, 1.0)[:, None]
