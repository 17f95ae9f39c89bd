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
_KNUCKLE_M = 1e-4  # a knuckle nearer to an edge than this is the edge


@dataclass(frozen=True, slots=True)
class Nodes:
    """Panels at their stations: one row per panel and station, panels in order.

    ``panel``, ``station`` (n,); ``low_m``, ``high_m`` (n,) girths of the edges; ``first`` (p + 1,) where each panel's
    rows begin; ``girth_m`` (n, STEPS + 1) and ``points``, ``normals``, ``tangents`` (n, STEPS + 1, 3) from the lower to
    the upper edge, with places on the knuckles between.
    """

    panel: IntArray
    station: IntArray
    low_m: FloatArray
    high_m: FloatArray
    first: IntArray
    girth_m: FloatArray
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

    def only(self, panels: IntArray) -> Nodes:
        """Return the nodes of some panels (rising rows), numbered anew."""
        number = np.full(self.count, -1, dtype=np.int64)
        number[panels] = np.arange(len(panels))
        rows = np.flatnonzero(number[self.panel] >= 0)
        size = np.diff(self.first)[panels]
        return Nodes(
            panel=number[self.panel[rows]],
            station=self.station[rows],
            low_m=self.low_m[rows],
            high_m=self.high_m[rows],
            first=np.concatenate([[0], np.cumsum(size)]),
            girth_m=self.girth_m[rows],
            points=self.points[rows],
            normals=self.normals[rows],
            tangents=self.tangents[rows],
        )

    def bays(self, slots: Sequence[PanelSlot], frame: FloatArray) -> tuple[IntArray, IntArray]:
        """Return the bay of each cell, numbered over all panels, and the panel of each bay.

        A panel has one bay, but one to which slivers were joined has a bay between each two of its frames. ``frame`` is
        the frame number, with fraction, of every station.
        """
        j = self.cells
        bay = np.zeros(len(j), dtype=np.int64)
        middle = 0.5 * (frame[self.station[j]] + frame[self.station[j + 1]])
        for p in (p for p, slot in enumerate(slots) if len(slot.stops) > 2):
            rows = self.panel[j] == p
            bay[rows] = np.searchsorted(slots[p].stops[1:-1], middle[rows])
        many = np.array([len(slot.stops) - 1 for slot in slots])
        begin = np.concatenate([[0], np.cumsum(many)])
        return begin[self.panel[j]] + bay, np.repeat(np.arange(len(slots)), many)

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


def measured_nodes(slots: Sequence[PanelSlot], edges: EdgeTable, steps: int = STEPS) -> Nodes:
    """Return the panels' nodes, each divided into ``steps`` parts over its height."""
    panel, station, low, high = girths_of(slots, edges)
    size = np.bincount(panel, minlength=len(slots))
    share = np.linspace(0.0, 1.0, steps + 1)
    girth = low[:, None] + (high - low)[:, None] * share
    if steps > 2:
        _on_knuckles(girth, panel, station, edges)
    at = edges.sections.at(np.repeat(station, steps + 1), girth.ravel())
    shape = (len(panel), steps + 1, 3)
    return Nodes(
        panel=panel,
        station=station,
        low_m=low,
        high_m=high,
        first=np.concatenate([[0], np.cumsum(size)]),
        girth_m=girth,
        points=at.points.reshape(shape),
        normals=at.normals.reshape(shape),
        tangents=at.tangents.reshape(shape),
    )


def _on_knuckles(girth_m: FloatArray, panel: IntArray, station: IntArray, edges: EdgeTable) -> None:
    """Move the place nearest to each knuckle of a section onto it, so that no corner is cut; never ends or middle.

    All stations of a panel move the same place, unless a section has more knuckles than one there.
    """
    where, at = edges.sections.knuckles
    if len(where) == 0:
        return
    order = np.argsort(station, kind="stable")
    begin = np.searchsorted(station[order], where, side="left")
    end = np.searchsorted(station[order], where, side="right")
    knuckle = np.repeat(at, end - begin)
    rows = order[np.concatenate([np.arange(a, b) for a, b in zip(begin, end, strict=True)])]
    low, high = girth_m[rows, 0], girth_m[rows, -1]
    inside = (knuckle > low + _KNUCKLE_M) & (knuckle < high - _KNUCKLE_M)
    rows, knuckle = rows[inside], knuckle[inside]
    share = (knuckle - girth_m[rows, 0]) / (girth_m[rows, -1] - girth_m[rows, 0])
    _, of_panel, per_panel = np.unique(panel[rows], return_inverse=True, return_counts=True)
    single = np.bincount(rows, minlength=len(panel))[rows] == 1
    mean = np.bincount(of_panel, share) / per_panel
    share = np.where(single, mean[of_panel], share)
    place = np.clip(np.rint(share * STEPS), 1, STEPS - 1).astype(np.int64)
    middle = place == STEPS // 2
    place[middle] += np.where(share[middle] < 0.5, -1, 1)
    girth_m[rows, place] = knuckle


def areas_and_centres(nodes: Nodes) -> tuple[FloatArray, FloatArray]:
    """Return each panel's area (p,) [m2] and centre of area (p, 3) [m], from the strips between its stations."""
    j = nodes.cells
    size, centre = sampled_areas(np.stack([nodes.points[j], nodes.points[j + 1]], axis=1))
    chord = np.linalg.norm(np.diff(nodes.points, axis=1), axis=2).sum(axis=1)
    girth, chord = (nodes.high_m - nodes.low_m)[j] + (nodes.high_m - nodes.low_m)[j + 1], chord[j] + chord[j + 1]
    size = size * np.where(chord > 0.0, girth / np.where(chord > 0.0, chord, 1.0), 1.0)  # arcs, not chords
    area: FloatArray = np.bincount(nodes.panel[j], size, nodes.count).astype(np.float64)
    weight = np.where(size > 0.0, size, 0.0)[:, None] * np.where(size > 0.0, centre.T, 0.0).T
    moment = np.stack([np.bincount(nodes.panel[j], weight[:, k], nodes.count) for k in range(3)], axis=1)
    return area, moment / np.where(area > 0.0, area, 1.0)[:, None]
