"""Many transverse sections as one set of lines: places, normals and heights at any girth of any station.

A section starts on the centreline at its lowest point and runs outboard and up; girth is counted from there. Between
two vertices of the surface a section is followed by the cubic that has the surface's own tangents at both.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from beltwright.arrangement.across import Across
from beltwright.core.units import BoolArray, FloatArray, IntArray
from beltwright.hull.section import Sections, sections
from beltwright.hull.shell import Shell

_DECK_NZ = 0.9  # a shell that faces up more than this near the depth is a deck
_DECK_BELOW_M = 0.3
_AT_TOP_M = 0.005  # a section that ends this near to a level ends on it
_CORNER = float(np.cos(np.radians(5.0)))  # a section turns a corner if its direction changes by more than 5 degrees


@dataclass(frozen=True, slots=True, kw_only=True)
class Places:
    """Points on sections: ``points``, unit ``normals`` and unit ``tangents`` outboard and up, each (n, 3)."""

    points: FloatArray
    normals: FloatArray
    tangents: FloatArray


@dataclass(frozen=True, slots=True, kw_only=True)
class LevelCrossings:
    """Where one level meets each station (s,).

    ``girth_m`` is the section's start where all of it lies above the level and its end where all of it lies below;
    ``meets`` says where it is a true crossing, ``several`` where there is more than one.
    """

    girth_m: FloatArray
    meets: BoolArray
    several: BoolArray


SectionCutter = Callable[[Shell, FloatArray], Sections]
"""What cuts a shell into sections at stations (s,): ``hull.section.sections``, or one that keeps what it has cut."""


class SectionLines:
    """Sections at stations ``x_m`` (s,) as vertices one after the other.

    Open curves of one section follow each other from the keel up, the girth of the next going on where the one before
    ends; closed curves are left out, and so is the part of a section on a transom. ``start_m`` and ``length_m`` (s,)
    are the girths at which each section begins and ends; ``loose`` and ``decks`` are the stations with closed curves
    and with deck faces that were left out; ``empty`` those without any section.
    """

    def __init__(
        self, shell: Shell, x_m: FloatArray, depth_m: float, across: Across, cut: SectionCutter = sections
    ) -> None:
        self.x_m = x_m
        table = cut(shell, x_m)
        self.found = table.findings
        self.loose = np.unique(table.curve_section[table.curve_closed]).tolist()
        order, jump = _open_curves(table)
        station = np.repeat(table.curve_section, np.diff(table.curve_start))[order]
        points, normals, girth = table.at.points[order], table.normals[order], table.girth_m[order]
        deck = (normals[:, 2] > _DECK_NZ) & (points[:, 2] > depth_m - _DECK_BELOW_M)
        transom = across.faces[table.at.face[order]]
        keep = _side_only(station, transom, deck, len(x_m))
        self.decks = np.unique(station[deck & ~keep]).tolist()
        self.station, self.points, self.normals = station[keep], points[keep], normals[keep]
        self._jump, self._transom = jump[keep], transom[keep]
        self._steps(shell.kind == "spline", girth[keep])

    def _steps(self, smooth: bool, curve_girth: FloatArray) -> None:
        """Store the girths along whole sections and each step's tangents."""
        stations = len(self.x_m)
        count = np.bincount(self.station, minlength=stations)
        self.empty = np.flatnonzero(count == 0).tolist()
        self._first = np.concatenate([[0], np.cumsum(count)])
        inner = np.concatenate([self.station[1:] == self.station[:-1], [False]]) & ~self._jump
        step, arc = np.zeros_like(self.points), np.zeros(len(self.points))
        step[:-1], arc[:-1] = np.diff(self.points, axis=0), np.diff(curve_girth)
        step[~inner], arc[~inner] = 0.0, 0.0
        chord = np.linalg.norm(step, axis=1)
        ahead = step / np.where(chord > 0.0, chord, 1.0)[:, None]
        self._start, self._end = ahead, ahead
        if smooth:
            self._start = _tangent(self.normals, ahead)
            self._end = _tangent(np.concatenate([self.normals[1:], self.normals[-1:]]), ahead)
        self._step = arc
        before = np.concatenate([[0.0], np.cumsum(arc)[:-1]])
        has = np.flatnonzero(count > 0)
        start = np.zeros(stations)
        start[has] = before[self._first[has]]
        self.start_m = np.zeros(stations)
        self.start_m[has] = curve_girth[self._first[has]]  # above zero where a transom is left out
        self.girth_m = before - start[self.station] + self.start_m[self.station]
        self.length_m = np.zeros(stations)
        self.length_m[has] = self.girth_m[self._first[has + 1] - 1]
        self._key = before + self.station  # one metre between stations, so that the key rises over all of them
        self._base = start - self.start_m + np.arange(stations)
        side = np.bincount(self.station, ~self._transom, stations)
        self.start_m = np.where(side > 0, self.start_m, self.length_m)  # all of it on the transom: nothing to frame

    @property
    def knuckles(self) -> tuple[IntArray, FloatArray]:
        """Stations and girths (k,) of places where a section turns a corner."""
        corner = np.einsum("ni,ni->n", self._end[:-1], self._start[1:]) < _CORNER
        corner &= (self._step[:-1] > 0.0) & (self.station[1:] == self.station[:-1])
        found = self._corner_after_gap()
        rows = np.unique(np.concatenate([np.flatnonzero(corner) + 1, found]))
        return self.station[rows], self.girth_m[rows]

    def _corner_after_gap(self) -> IntArray:
        """Vertices at face borders, where one place stands twice, whose two normals differ."""
        double = (self._step[:-1] == 0.0) & (self.station[1:] == self.station[:-1]) & ~self._jump[:-1]
        turn = np.einsum("ni,ni->n", self.normals[:-1], self.normals[1:]) < _CORNER
        rows: IntArray = np.flatnonzero(double & turn)
        return rows

    def at(self, station: IntArray, girth_m: FloatArray) -> Places:
        """Return the places at girths (n,) of stations (n,); girths beyond the ends are held at them."""
        seg, t = self._find(station, girth_m)
        p0, p1 = self.points[seg], self.points[seg + 1]
        size = self._step[seg][:, None]
        m0, m1 = self._start[seg] * size, self._end[seg] * size
        t = t[:, None]
        t2, t3 = t * t, t * t * t
        points = (2 * t3 - 3 * t2 + 1) * p0 + (t3 - 2 * t2 + t) * m0 + (3 * t2 - 2 * t3) * p1 + (t3 - t2) * m1
        tangents = (1 - t) * self._start[seg] + t * self._end[seg]
        normals = (1 - t) * self.normals[seg] + t * self.normals[seg + 1]
        return Places(points=points, normals=_unit(normals), tangents=_unit(tangents))

    def _find(self, station: IntArray, girth_m: FloatArray) -> tuple[IntArray, FloatArray]:
        """The step that holds each girth, and how far along it."""
        wanted = self._base[station] + np.clip(girth_m, self.start_m[station], self.length_m[station])
        seg = np.searchsorted(self._key, wanted, side="right") - 1
        last = np.maximum(self._first[station + 1] - 2, self._first[station])
        seg = np.clip(seg, self._first[station], last)
        seg = np.minimum(seg, len(self._key) - 2)
        size = self._step[seg]
        t = np.where(size > 0.0, (wanted - self._key[seg]) / np.where(size > 0.0, size, 1.0), 0.0)
        return seg, np.clip(t, 0.0, 1.0)

    def crossings(self, height_m: FloatArray) -> LevelCrossings:
        """Return where a level of heights (s,) meets the sections; the outermost place where there are several."""
        above = self.points[:, 2] - height_m[self.station] >= 0.0
        change = np.zeros(len(above), dtype=bool)
        change[:-1] = (above[1:] != above[:-1]) & (self.station[1:] == self.station[:-1])
        rows = np.flatnonzero(change)
        number = np.bincount(self.station[rows], minlength=len(self.x_m))
        girth = np.where(self._first_above(above), self.start_m, self.length_m)
        outermost = np.full(len(self.x_m), -1, dtype=np.int64)
        outermost[self.station[rows]] = rows
        meets = number > 0
        seg = outermost[meets]
        girth[meets] = self.girth_m[seg] + self._step[seg] * self._root(seg, height_m[meets])
        ends = self.points[np.maximum(self._first[1:] - 1, 0), 2]
        meets |= (np.abs(ends - height_m) < _AT_TOP_M) & (np.diff(self._first) > 0)  # the shell's own upper edge
        return LevelCrossings(girth_m=girth, meets=meets, several=number > 1)

    def _first_above(self, above: BoolArray) -> BoolArray:
        """Whether each section's first vertex lies above the level."""
        first = np.minimum(self._first[:-1], len(above) - 1)
        found: BoolArray = above[first]
        return found

    def _root(self, seg: IntArray, height_m: FloatArray) -> FloatArray:
        """How far along its step each height is met, by bisection on the cubic's height."""
        z0, z1 = self.points[seg, 2], self.points[seg + 1, 2]
        size = self._step[seg]
        m0, m1 = self._start[seg, 2] * size, self._end[seg, 2] * size
        a, b = 2 * z0 + m0 - 2 * z1 + m1, -3 * z0 - 2 * m0 + 3 * z1 - m1
        low, high = np.zeros(len(seg)), np.ones(len(seg))
        rising = z1 > z0
        for _ in range(45):
            mid = 0.5 * (low + high)
            under = (((a * mid + b) * mid + m0) * mid + z0 < height_m) == rising
            low, high = np.where(under, mid, low), np.where(under, high, mid)
        found = np.where(self._jump[seg], 0.0, 0.5 * (low + high))
        return found


def _open_curves(table: Sections) -> tuple[IntArray, BoolArray]:
    """Vertices of the open curves, each section's from the keel up, and where the next vertex is another curve's."""
    height = table.at.points[table.curve_start[:-1], 2]
    chosen = np.flatnonzero(~table.curve_closed)
    chosen = chosen[np.lexsort((height[chosen], table.curve_section[chosen]))]
    parts = [np.arange(table.curve_start[c], table.curve_start[c + 1]) for c in chosen]
    order = np.concatenate(parts) if parts else np.zeros(0, dtype=np.int64)
    jump = np.zeros(len(order), dtype=bool)
    jump[np.cumsum([len(part) for part in parts]) - 1] = True
    return order, jump


def _side_only(station: IntArray, across: BoolArray, deck: BoolArray, stations: int) -> BoolArray:
    """Which vertices to keep: from the first to the last that is neither transom nor deck; all where there is none."""
    rows = np.flatnonzero(~across & ~deck)
    first, last = np.full(stations, len(station)), np.full(stations, -1)
    np.minimum.at(first, station[rows], rows)
    np.maximum.at(last, station[rows], rows)
    number = np.arange(len(station))
    keep: BoolArray = ((number >= first[station]) & (number <= last[station])) | (last[station] < 0)
    return keep


def _tangent(normals: FloatArray, ahead: FloatArray) -> FloatArray:
    """Unit tangents in planes x = const, on the side of ``ahead``; the chord itself where the surface gives none."""
    across = np.stack([np.zeros(len(normals)), -normals[:, 2], normals[:, 1]], axis=1)
    length = np.linalg.norm(across, axis=1)
    across /= np.where(length > 0.0, length, 1.0)[:, None]
    along = np.einsum("ni,ni->n", across, ahead)
    across *= np.sign(along)[:, None]
    found: FloatArray = np.where((np.abs(along) > 0.5)[:, None] & (length > 1e-6)[:, None], across, ahead)
    return found


def _unit(vectors: FloatArray) -> FloatArray:
    """Vectors made unit; zero ones stay zero."""
    length = np.linalg.norm(vectors, axis=1)
    unit: FloatArray = vectors / np.where(length > 0.0, length, 1.0)[:, None]
    return unit
