"""Spline faces through an offset table.

1. Each station's girth is split at its knuckles; each piece is a cubic spline over its chord length. Straight
   stretches (three points in line, or a level first step from the centreline: the flat of bottom) stay straight.
2. Every piece is sampled at common fractions of its true arc length, so that stations with different heights match.
3. Along the hull every row of such points is a cubic spline over the mean chord length of all rows; stretches of
   four or more points in line stay straight, so that a parallel midbody and flats do not wave.
4. Position, both slopes and the twist at the nodes make bicubic faces (B-splines with double knots).

Where the number of knuckles changes, or a panel starts or ends, the hull is split at that station.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

import numpy as np
from scipy.interpolate import CubicHermiteSpline, CubicSpline

from beltwright.core.errors import InputError
from beltwright.core.units import BoolArray, FloatArray
from beltwright.hull.offset_station import OffsetStation
from beltwright.hull.patch import SplinePatch

_LINE_TOLERANCE = 1e-9  # of the piece's size: three points closer to one line than this are in line
_FINE = 32  # arc-length steps per interval
_GAUSS_X, _GAUSS_W = np.polynomial.legendre.leggauss(5)


def surface_patches(stations: Sequence[OffsetStation], where: str) -> tuple[tuple[SplinePatch, ...], tuple[str, ...]]:
    """Return the faces through the stations (port half, the table's own unit) and remarks for the user."""
    sections = [_Section(s) for s in stations]
    notes = [note for s in sections for note in s.notes]
    patches: list[SplinePatch] = []
    ends: list[SplinePatch] = []
    for first, last, pieces in _zones(sections):
        panels = _zone_patches(sections[first : last + 1], pieces)
        patches.extend(panels)
        if first == 0:
            ends.extend(_end_patch(p, 0, f"aft-most station {sections[0].x:g}") for p in panels)
        if last == len(sections) - 1:
            ends.extend(_end_patch(p, -1, f"foremost station {sections[-1].x:g}") for p in panels)
    if not patches:
        raise InputError(where, "the stations enclose no surface")
    return (*patches, *(p for p in ends if _has_area(p))), tuple(notes)


class _Piece:
    """One smooth stretch of a station: a cubic spline over chord length with its arc length."""

    def __init__(self, points: FloatArray) -> None:
        self.points = points
        steps = np.linalg.norm(np.diff(points, axis=0), axis=1)
        self.length = 0.0
        self.at = np.zeros(1)
        self.joints = np.zeros(0)
        self.straight = True
        if not float(steps.sum()) > 0.0:
            return
        t = np.concatenate([[0.0], np.cumsum(steps)])
        lines = _section_lines(t, points)
        self.curve = CubicHermiteSpline(t, points, node_slopes(t, points, lines))
        self._t = np.concatenate([np.linspace(a, b, _FINE + 1)[:-1] for a, b in pairwise(t.tolist())])
        self._t = np.concatenate([self._t, t[-1:]])
        half = 0.5 * np.diff(self._t)
        spots = self._t[:-1, None] + half[:, None] * (1.0 + _GAUSS_X)
        speed = np.linalg.norm(self.curve(spots.ravel(), 1), axis=1).reshape(spots.shape)
        self._s = np.concatenate([[0.0], np.cumsum(half * (speed @ _GAUSS_W))])
        self.length = float(self._s[-1])
        self.at = self._s[::_FINE] / self.length  # fraction of arc length of every given point
        self.joints = self.at[1:-1][lines[1:] != lines[:-1]]  # where a straight stretch meets a curved one
        self.straight = bool(np.all(lines)) or len(points) == 2

    def sample(self, fractions: FloatArray) -> tuple[FloatArray, FloatArray]:
        """Return positions (m, 2) and derivatives by the fraction (m, 2)."""
        if self.length == 0.0:
            return np.repeat(self.points[:1], fractions.size, axis=0), np.zeros((fractions.size, 2))
        speed = np.linalg.norm(self.curve(self._t, 1), axis=1)
        inverse = CubicHermiteSpline(self._s, self._t, 1.0 / np.maximum(speed, 1e-300))
        t = inverse(fractions * self.length)
        t = np.where(fractions <= 0.0, self._t[0], np.where(fractions >= 1.0, self._t[-1], t))
        slope = self.curve(t, 1)
        slope *= (self.length / np.linalg.norm(slope, axis=1))[:, None]
        return self.curve(t), slope


class _Section:
    """One station as its smooth pieces, from the centreline upwards."""

    def __init__(self, station: OffsetStation) -> None:
        self.x = station.x
        points = np.stack([station.half_breadth, station.height], axis=1)
        cuts = np.flatnonzero(station.knuckle).tolist()
        bounds = [0, *cuts, len(points) - 1]
        self.point_only = len(points) == 1
        self.pieces = [_Piece(points[a : b + 1]) for a, b in pairwise(bounds)]
        self.notes = _sharp_turns(station) if len(points) > 2 else []

    @property
    def length(self) -> float:
        """Girth of the whole station."""
        return sum(p.length for p in self.pieces)

    def sample(self, fractions: FloatArray) -> tuple[FloatArray, FloatArray]:
        """Sample all pieces as one curve by fraction of the whole girth."""
        total = self.length
        if total == 0.0:
            return self.pieces[0].sample(fractions)
        starts = np.concatenate([[0.0], np.cumsum([p.length for p in self.pieces])]) / total
        place, slope = np.empty((fractions.size, 2)), np.empty((fractions.size, 2))
        which = np.clip(np.searchsorted(starts[1:-1], fractions, side="right"), 0, len(self.pieces) - 1)
        for i, piece in enumerate(self.pieces):
            rows = which == i
            if piece.length > 0.0 and np.any(rows):
                share = piece.length / total
                local = np.clip((fractions[rows] - starts[i]) / share, 0.0, 1.0)
                place[rows], slope[rows] = piece.sample(local)
                slope[rows] /= share
        return place, slope


def _sharp_turns(station: OffsetStation) -> list[str]:
    """Remark on an unmarked corner: a turn of more than 60 degrees between two chords."""
    points = np.stack([station.half_breadth, station.height], axis=1)
    chord = np.diff(points, axis=0)
    chord = chord / np.linalg.norm(chord, axis=1)[:, None]
    turn = np.degrees(np.arccos(np.clip(np.sum(chord[1:] * chord[:-1], axis=1), -1.0, 1.0)))
    bad = np.flatnonzero((turn > 60.0) & ~station.knuckle[1:-1])
    return [
        f"station {station.x:g}: the section turns by {turn[i]:.0f} degrees at height {points[i + 1, 1]:g}, "
        "which is not marked as a knuckle and is drawn as a round bilge"
        for i in bad.tolist()
    ]  # fmt: skip


def _section_lines(t: FloatArray, points: FloatArray) -> BoolArray:
    """Return per interval whether it belongs to a straight stretch of the section."""
    line = straight_intervals(t, points, least=2)
    if points[0, 0] == 0.0 and len(points) > 2 and points[1, 1] == points[0, 1]:
        line[0] = True
    return line


def straight_intervals(t: FloatArray, values: FloatArray, *, least: int) -> BoolArray:
    """Return per interval (n-1,) whether it lies in a stretch of at least ``least`` intervals in one line.

    ``values`` is (n,) or (n, k); all components must be in line.
    """
    flat = values.reshape(len(t), -1)
    rate = np.diff(flat, axis=0) / np.diff(t)[:, None]
    size = max(float(np.max(np.abs(flat - flat[0]))), float(np.max(np.abs(flat))) * 1e-3, 1e-300)
    shorter = np.minimum(np.diff(t)[1:], np.diff(t)[:-1])[:, None]
    near = np.abs(np.diff(rate, axis=0)) * shorter <= _LINE_TOLERANCE * size
    same = np.all(near, axis=1)
    out = np.zeros(len(t) - 1, dtype=np.bool_)
    start = 0
    for i in range(len(out)):
        if i == len(out) - 1 or not same[i]:
            if i - start + 1 >= least:
                out[start : i + 1] = True
            start = i + 1
    return out


def node_slopes(t: FloatArray, values: FloatArray, line: BoolArray) -> FloatArray:
    """Return derivatives at the nodes: exact on straight stretches, those of cubic splines between them."""
    rate = np.diff(values, axis=0) / np.diff(t).reshape(-1, *([1] * (values.ndim - 1)))
    slope = np.zeros_like(values)
    known = np.zeros(len(t), dtype=np.int64)
    for i in np.flatnonzero(line).tolist():
        for node in (i, i + 1):
            slope[node] = (slope[node] * known[node] + rate[i]) / (known[node] + 1)
            known[node] += 1
    i = 0
    while i < len(line):
        if line[i]:
            i += 1
            continue
        j = i
        while j < len(line) and not line[j]:
            j += 1
        left = slope[i] if known[i] else None
        right = slope[j] if known[j] else None
        slope[i : j + 1] = _stretch(t[i : j + 1], values[i : j + 1], left, right)
        i = j
    return slope


def _stretch(t: FloatArray, values: FloatArray, left: FloatArray | None, right: FloatArray | None) -> FloatArray:
    """Return node slopes of one smooth stretch; a given end slope is kept, a free end is not-a-knot."""
    if len(t) == 2:
        rate = (values[1] - values[0]) / (t[1] - t[0])
        if left is None and right is None:
            return np.stack([rate, rate])
        return np.stack([2 * rate - right if left is None else left, 2 * rate - left if right is None else right])
    ends = tuple("not-a-knot" if s is None else (1, s) for s in (left, right))
    result: FloatArray = CubicSpline(t, values, bc_type=ends)(t, 1)
    return result


def _zones(sections: Sequence[_Section]) -> list[tuple[int, int, int]]:
    """Return (first, last, pieces) of stretches with a constant number of pieces; border stations are shared.

    A border is a station of the stretch with more pieces; single-point stations fit any stretch.
    """
    counts = [0 if s.point_only else len(s.pieces) for s in sections]
    zones: list[tuple[int, int, int]] = []
    start, current = 0, counts[0]
    for i in range(1, len(sections)):
        count = counts[i]
        if count == 0 or count == current:
            continue
        if current == 0:
            current = count
            continue
        border = i if count > current else i - 1
        if border > start:
            zones.append((start, border, current))
        start, current = border, count
    zones.append((start, len(sections) - 1, max(current, 1)))
    return [z for z in zones if z[1] > z[0]]


@dataclass(frozen=True, slots=True)
class _Strip:
    """A part of one station's girth, from fraction ``low`` to ``high`` of a piece or of a whole section."""

    curve: _Piece | _Section
    low: float
    high: float

    def sample(self, nodes: FloatArray) -> tuple[FloatArray, FloatArray]:
        """Return positions and slopes (m, 2) at shares 0..1 of the strip."""
        fractions = self.low + (self.high - self.low) * nodes
        fractions[-1] = self.high
        place, slope = self.curve.sample(fractions)
        return place, slope * (self.high - self.low)

    @property
    def marks(self) -> FloatArray:
        """Shares 0..1 of the given points inside the strip."""
        at = self.curve.at if isinstance(self.curve, _Piece) else np.array([0.0, 1.0])
        inside = at[(at > self.low) & (at < self.high)]
        share: FloatArray = (inside - self.low) / (self.high - self.low) if inside.size else inside
        return share


def _zone_patches(sections: Sequence[_Section], pieces: int) -> list[SplinePatch]:
    """Return one face per panel of a stretch of stations."""
    grids: list[tuple[FloatArray, FloatArray, FloatArray]] = []
    for strips in _panels(sections, pieces):
        nodes = _fractions(strips)
        place = np.empty((nodes.size, len(sections), 3))
        slope = np.zeros_like(place)
        for j, (section, strip) in enumerate(zip(sections, strips, strict=True)):
            place[:, j, 0] = section.x
            place[:, j, 1:], slope[:, j, 1:] = strip.sample(nodes)
        grids.append((nodes, place, slope))
    rows = np.concatenate([place for _, place, _ in grids])
    v = np.concatenate([[0.0], np.cumsum(np.linalg.norm(np.diff(rows, axis=1), axis=2).mean(axis=0))])
    label = f"stations {sections[0].x:g} to {sections[-1].x:g}"
    return [
        hermite_patch(nodes, v, place, slope, name=f"{label}, panel {k + 1}")
        for k, (nodes, place, slope) in enumerate(grids)
        if np.any(np.abs(slope) > 0.0)
    ]  # fmt: skip


def _panels(sections: Sequence[_Section], pieces: int) -> list[list[_Strip]]:
    """Return for every panel its strip at every station.

    A panel ends at a knuckle, and where a straight stretch of the section meets a curved one, if every station that
    is not wholly straight there has the same number of such joints; straight stations take their neighbour's.
    """
    panels: list[list[_Strip]] = []
    for k in range(pieces):
        curves: list[_Piece | _Section] = [s.pieces[k] if len(s.pieces) == pieces else s for s in sections]
        cuts = _cuts(curves)
        for low, high in pairwise(cuts):
            panels.append([
                _Strip(c, float(a), float(b)) for c, a, b in zip(curves, low, high, strict=True)
            ])  # fmt: skip
    return panels


def _cuts(curves: Sequence[_Piece | _Section]) -> list[FloatArray]:
    """Return the fractions at which a panel is cut, per cut one value per station; first zeros, last ones."""
    ends = [np.zeros(len(curves)), np.ones(len(curves))]
    bent = [i for i, c in enumerate(curves) if isinstance(c, _Piece) and not c.straight]
    joints = {len(c.joints) for i in bent if isinstance(c := curves[i], _Piece)}
    if len(joints) != 1 or joints == {0} or any(isinstance(c, _Section) and not c.point_only for c in curves):
        return ends
    table = np.array([c.joints for i in bent if isinstance(c := curves[i], _Piece)])
    nearest = np.array([int(np.argmin(np.abs(np.array(bent) - i))) for i in range(len(curves))])
    return [ends[0], *table[nearest].T, ends[1]]


def _fractions(strips: Sequence[_Strip]) -> FloatArray:
    """Return common shares of a panel's girth, half denser than the given points and spread as they are."""
    marks = [s.marks for s in strips]
    most = max((len(m) for m in marks), default=0) + 1
    if most == 1:
        return np.array([0.0, 1.0])
    pooled = np.sort(np.concatenate([[0.0, 1.0], *marks]))
    even = np.linspace(0.0, 1.0, 1 + int(np.ceil(1.5 * most)))
    nodes: FloatArray = 0.7 * np.quantile(pooled, even) + 0.3 * even  # blended, so that nodes never coincide
    nodes[0], nodes[-1] = 0.0, 1.0
    return nodes


def _row_slopes(v: FloatArray, grid: FloatArray) -> FloatArray:
    """Return derivatives along the hull of every row and component of ``grid`` (m, n, 3)."""
    rows = np.moveaxis(grid, 1, 0).reshape(len(v), -1)
    lines = np.stack([straight_intervals(v, rows[:, i], least=3) for i in range(rows.shape[1])], axis=1)
    out = np.empty_like(rows)
    masks, group = np.unique(lines, axis=1, return_inverse=True)
    for g in range(masks.shape[1]):
        members = np.flatnonzero(group.reshape(-1) == g)
        out[:, members] = node_slopes(v, rows[:, members], masks[:, g])
    slopes: FloatArray = np.moveaxis(out.reshape(len(v), grid.shape[0], 3), 0, 1)
    return slopes


def hermite_patch(u: FloatArray, v: FloatArray, place: FloatArray, by_u: FloatArray, *, name: str) -> SplinePatch:
    """Return the bicubic face with the given nodes, positions (m, n, 3) and slopes along u; slopes along v are solved.

    Poles of a cubic cell from position P and slope D at both ends: P0, P0 + h D0 / 3, P1 - h D1 / 3, P1.
    """
    by_v, twist = _row_slopes(v, place), _row_slopes(v, by_u)
    along_u, along_u_v = _doubled(u, place, by_u), _doubled(u, by_v, twist)
    poles = np.swapaxes(_doubled(v, np.swapaxes(along_u, 0, 1), np.swapaxes(along_u_v, 0, 1)), 0, 1)
    return SplinePatch(
        poles=np.ascontiguousarray(poles), knots_u=_double_knots(u), knots_v=_double_knots(v), degree_u=3, degree_v=3,
        name=name,
    )  # fmt: skip


def _doubled(t: FloatArray, value: FloatArray, slope: FloatArray) -> FloatArray:
    """Return the cubic poles along the first axis from nodes and slopes there."""
    h = np.diff(t).reshape(-1, *([1] * (value.ndim - 1)))
    out = np.empty((2 * len(t), *value.shape[1:]))
    out[0], out[-1] = value[0], value[-1]
    out[1:-1:2] = value[:-1] + h * slope[:-1] / 3.0
    out[2:-1:2] = value[1:] - h * slope[1:] / 3.0
    return out


def _double_knots(t: FloatArray) -> FloatArray:
    """Return the knot vector: four-fold ends, double inside."""
    return np.concatenate([np.repeat(t[:1], 4), np.repeat(t[1:-1], 2), np.repeat(t[-1:], 4)])


def _end_patch(panel: SplinePatch, column: int, name: str) -> SplinePatch:
    """Return the flat face between the first or last section of a panel and the centre plane."""
    rim = panel.poles[:, column]
    inner = rim * [1.0, 0.0, 1.0]
    return SplinePatch(
        poles=np.stack([inner, rim], axis=1), knots_u=panel.knots_u, knots_v=np.repeat([0.0, 1.0], 2), degree_u=3,
        degree_v=1, reversed=column < 0, name=name,
    )  # fmt: skip


def _has_area(patch: SplinePatch) -> bool:
    """Return whether an end face reaches off the centre plane and has a height."""
    _, reach, tall = np.ptp(patch.poles.reshape(-1, 3), axis=0)
    return bool(reach > 1e-9 and tall > 1e-9)
