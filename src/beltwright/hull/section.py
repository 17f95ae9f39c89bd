"""Transverse sections: curves from the keel outward and up, with true girth, many sections in one sweep."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from beltwright.core.errors import InputError
from beltwright.core.findings import Finding, Findings
from beltwright.core.units import BoolArray, FloatArray, IntArray
from beltwright.hull.codes import SECTION_OFF_CENTRELINE, SECTION_PIECES
from beltwright.hull.marching import ON_LEVEL_M
from beltwright.hull.shell import PlaneLevel, Shell, SurfaceCurve, SurfacePoints
from beltwright.hull.surface_newton import settle_axes

_ACROSS = PlaneLevel(normal=(1.0, 0.0, 0.0), offset=0.0)


@dataclass(frozen=True, slots=True, kw_only=True)
class SectionPlaces:
    """Places on sections: row i lies on section ``section[i]``, answers value ``column[i]``, at ``girth_m[i]``.

    ``main`` is True on the section's main curve; on other curves girth is from that curve's own start.
    """

    section: IntArray
    column: IntArray
    curve: IntArray
    main: BoolArray
    girth_m: FloatArray
    at: SurfacePoints


@dataclass(frozen=True, slots=True, kw_only=True)
class Sections:
    """Transverse sections at ``x_m`` as one table of curves.

    Attributes
    ----------
    x_m : (sections,) positions from the aft perpendicular
    curve_section, curve_main, curve_closed : (curves,) which section, whether its main curve, whether a closed loop
    curve_start : (curves + 1,) first vertex of each curve
    at, normals : all vertices in order, from the keel outward and up
    girth_m : (vertices,) true length along the section from the curve's start, arcs not chords
    """

    shell: Shell
    x_m: FloatArray
    curve_section: IntArray
    curve_main: BoolArray
    curve_closed: BoolArray
    curve_start: IntArray
    at: SurfacePoints
    normals: FloatArray
    girth_m: FloatArray
    findings: tuple[Finding, ...]

    @property
    def empty(self) -> IntArray:
        """Sections that do not meet the hull."""
        return np.setdiff1d(np.arange(self.x_m.size), self.curve_section)

    @property
    def main_curve(self) -> IntArray:
        """The main curve's number for each section, -1 where the section does not meet the hull."""
        number = np.full(self.x_m.size, -1, dtype=np.int64)
        number[self.curve_section[self.curve_main]] = np.flatnonzero(self.curve_main)
        return number

    @property
    def girth_total_m(self) -> FloatArray:
        """Length of each section's main curve [m]; NaN where the section does not meet the hull."""
        number = self.main_curve
        total = np.full(number.size, np.nan)
        total[number >= 0] = self.girth_m[self.curve_start[number[number >= 0] + 1] - 1]
        return total

    def curves_of(self, section: int) -> tuple[slice, ...]:
        """Return the vertex ranges of one section's curves, the main one first."""
        numbers = np.flatnonzero(self.curve_section == section)
        return tuple(slice(int(self.curve_start[c]), int(self.curve_start[c + 1])) for c in numbers)

    def at_heights(self, z_m: FloatArray) -> SectionPlaces:
        """Return every place at the given heights above the baseline [m], of all sections, with girth."""
        return self._where(2, z_m)

    def at_half_breadths(self, y_m: FloatArray) -> SectionPlaces:
        """Return every place at the given half-breadths [m], of all sections, with girth."""
        return self._where(1, y_m)

    def at_girth(self, section: IntArray, girth_m: FloatArray) -> SectionPlaces:
        """Return the place at each girth [m] from the keel on the main curve of each section (pairs of n).

        Raises
        ------
        InputError : the girth is not on the section, or the section does not meet the hull
        """
        section, girth = np.asarray(section, dtype=np.int64), np.asarray(girth_m, dtype=np.float64)
        curve = self.main_curve[section]
        total = self.girth_total_m[section]
        bad = np.flatnonzero(~((girth >= -1e-9) & (girth <= total + 1e-9)))
        if bad.size:
            k = int(bad[0])
            raise InputError(f"section at x = {self.x_m[section[k]]:.3f} m", "girth not on this section",
                             value=float(girth[k]), unit="m", allowed=f"0 to {total[k]:.3f} m")  # fmt: skip
        stride = float(np.nanmax(self.girth_m, initial=0.0)) + 1.0
        owner = np.repeat(np.arange(self.curve_section.size), np.diff(self.curve_start))
        keys = owner * stride + self.girth_m
        i = np.searchsorted(keys, curve * stride + np.clip(girth, 0.0, total), side="right") - 1
        i = np.clip(i, self.curve_start[curve], self.curve_start[curve + 1] - 2)
        length = self.girth_m[i + 1] - self.girth_m[i]
        share = np.where(length > 0.0, (girth - self.girth_m[i]) / np.where(length > 0.0, length, 1.0), 0.0)
        step = np.abs(self.at.points[i + 1] - self.at.points[i])
        axis = np.where(step[:, 2] >= step[:, 1], 2, 1)
        at = self._settled(i, np.clip(share, 0.0, 1.0), axis, section, None)
        chord = np.linalg.norm(self.at.points[i + 1] - self.at.points[i], axis=1)
        part = np.linalg.norm(at.points - self.at.points[i], axis=1) / np.where(chord > 0.0, chord, 1.0)
        at = self._settled(i, np.clip(2.0 * share - part, 0.0, 1.0), axis, section, None)
        return SectionPlaces(
            section=section,
            column=np.arange(section.size),
            curve=curve,
            main=np.ones(section.size, dtype=np.bool_),
            girth_m=girth,
            at=at,
        )

    def girth_of(self, section: IntArray, points: FloatArray) -> tuple[FloatArray, FloatArray]:
        """Return the girth [m] on the main curve nearest to each point (n, 3), and its distance from the chord [m]."""
        curve = self.main_curve[np.asarray(section, dtype=np.int64)]
        if np.any(curve < 0):
            missing = self.x_m[np.asarray(section)[curve < 0][0]]
            raise InputError("section", "does not meet the hull", value=float(missing), unit="m from AP")
        first, count = self.curve_start[curve], np.diff(self.curve_start)[curve] - 1
        row = np.repeat(np.arange(count.size), count)
        begin = np.concatenate([[0], np.cumsum(count)[:-1]])
        i = first[row] + np.arange(row.size) - begin[row]
        a, b = self.at.points[i], self.at.points[i + 1]
        d = b - a
        size = np.einsum("ni,ni->n", d, d)
        share = np.einsum("ni,ni->n", points[row] - a, d) / np.where(size > 0.0, size, 1.0)
        share = np.clip(share, 0.0, 1.0)
        away = np.linalg.norm(points[row] - a - share[:, None] * d, axis=1)
        best = np.lexsort((away, row))
        best = best[np.flatnonzero(np.diff(row[best], prepend=-1))]
        g = self.girth_m[i[best]] + share[best] * (self.girth_m[i[best] + 1] - self.girth_m[i[best]])
        return g, away[best]

    def _where(self, axis: int, values: FloatArray) -> SectionPlaces:
        """Return every place where one coordinate equals each value."""
        values = np.atleast_1d(np.asarray(values, dtype=np.float64))
        order = np.argsort(values, kind="stable")
        owner = np.repeat(np.arange(self.curve_section.size), np.diff(self.curve_start))
        rank = np.searchsorted(values[order], self.at.points[:, axis] + ON_LEVEL_M, side="right")
        low, high = np.minimum(rank[:-1], rank[1:]), np.maximum(rank[:-1], rank[1:])
        count = np.where(owner[:-1] == owner[1:], high - low, 0)
        i = np.repeat(np.arange(count.size), count)
        begin = np.concatenate([[0], np.cumsum(count)[:-1]]) if count.size else np.zeros(0, dtype=np.int64)
        column = order[low[i] + np.arange(i.size) - begin[i]]
        wanted = values[column]
        a, b = self.at.points[i, axis], self.at.points[i + 1, axis]
        share = np.clip((wanted - a) / np.where(b == a, 1.0, b - a), 0.0, 1.0)
        section = self.curve_section[owner[i]]
        at = self._settled(i, share, np.full(i.size, axis), section, wanted)
        chord = np.linalg.norm(self.at.points[i + 1] - self.at.points[i], axis=1)
        part = np.linalg.norm(at.points - self.at.points[i], axis=1) / np.where(chord > 0.0, chord, 1.0)
        girth = self.girth_m[i] + np.clip(part, 0.0, 1.0) * (self.girth_m[i + 1] - self.girth_m[i])
        sort = np.lexsort((girth, ~self.curve_main[owner[i]], column, section))
        return SectionPlaces(
            section=section[sort],
            column=column[sort],
            curve=owner[i][sort],
            main=self.curve_main[owner[i]][sort],
            girth_m=girth[sort],
            at=SurfacePoints(face=at.face[sort], uv=at.uv[sort], points=at.points[sort]),
        )

    def _settled(
        self, i: IntArray, share: FloatArray, axis: IntArray, section: IntArray, wanted: FloatArray | None
    ) -> SurfacePoints:
        """Return surface places on segments i at a share of their length, put exactly on x and one coordinate."""
        j = i + 1
        same = self.at.face[i] == self.at.face[j]
        near = np.where(same | (share < 0.5), i, j)
        face = self.at.face[near]
        uv = np.where(same[:, None], self.at.uv[i] + share[:, None] * (self.at.uv[j] - self.at.uv[i]), self.at.uv[near])
        chord = self.at.points[i] + share[:, None] * (self.at.points[j] - self.at.points[i])
        goal = chord[np.arange(i.size), axis] if wanted is None else wanted
        points = self.shell.points(face, uv)
        low, high = self.shell.parameter_range(face)
        for a in (1, 2):
            rows = np.flatnonzero(axis == a)
            target = np.stack([self.x_m[section[rows]], goal[rows]], axis=1)
            new, p, _, _, good = settle_axes(self.shell, face[rows], uv[rows], (0, a), target, low[rows], high[rows])
            # a start that ran off to another place of the same coordinates is not taken
            good &= np.linalg.norm(p - chord[rows], axis=1) < 0.5 + np.linalg.norm(points[rows] - chord[rows], axis=1)
            uv[rows[good]], points[rows[good]] = new[good], p[good]
        return SurfacePoints(face=face, uv=uv, points=points)


def sections(shell: Shell, x_m: FloatArray) -> Sections:
    """Return the transverse sections of a hull at many positions [m from AP] in one sweep.

    A section that does not meet the hull is listed in ``empty``. Separate curves and sections that do not start at
    the centre plane are findings.
    """
    x = np.atleast_1d(np.asarray(x_m, dtype=np.float64))
    if not np.all(np.isfinite(x)):
        raise InputError("section", "position is not a finite number", unit="m from AP")
    families = shell.cut_family(_ACROSS, x)
    section: list[int] = []
    main: list[bool] = []
    closed: list[bool] = []
    chosen: list[SurfaceCurve] = []
    findings = Findings()
    for k, curves in enumerate(families):
        ordered = _ordered(curves, shell.gap_tolerance_m)
        for n, curve in enumerate(ordered):
            section.append(k)
            main.append(n == 0)
            closed.append(curve.closed)
            chosen.append(curve)
    _name_findings(x, section, main, chosen, shell.gap_tolerance_m, findings)
    return _table(shell, x, section, main, closed, chosen, tuple(findings))


def _table(
    shell: Shell,
    x: FloatArray,
    section: list[int],
    main: list[bool],
    closed: list[bool],
    chosen: list[SurfaceCurve],
    findings: tuple[Finding, ...],
) -> Sections:
    """Return the curves as one table with normals and girth."""
    if chosen:
        face = np.concatenate([c.at.face for c in chosen])
        uv = np.concatenate([c.at.uv for c in chosen])
        points = np.concatenate([c.at.points for c in chosen])
    else:
        face, uv, points = np.zeros(0, dtype=np.int64), np.zeros((0, 2)), np.zeros((0, 3))
    start = np.concatenate([[0], np.cumsum([c.at.face.size for c in chosen])]).astype(np.int64)
    normals = shell.normals(face, uv) if face.size else np.zeros((0, 3))
    return Sections(
        shell=shell,
        x_m=x,
        curve_section=np.array(section, dtype=np.int64),
        curve_main=np.array(main, dtype=np.bool_),
        curve_closed=np.array(closed, dtype=np.bool_),
        curve_start=start,
        at=SurfacePoints(face=face, uv=uv, points=points),
        normals=normals,
        girth_m=_girth(face, points, normals, start),
        findings=findings,
    )


def _girth(face: IntArray, points: FloatArray, normals: FloatArray, start: IntArray) -> FloatArray:
    """Return the length from each curve's start: chords stretched to arcs by the turn of the normal in the plane."""
    if face.size == 0:
        return np.zeros(0)
    chord = np.linalg.norm(np.diff(points, axis=0), axis=1)
    plane = normals[:, 1:]
    plane = plane / np.maximum(np.linalg.norm(plane, axis=1, keepdims=True), 1e-12)
    half = np.minimum(0.5 * np.linalg.norm(np.diff(plane, axis=0), axis=1), 0.5)  # sine of half the turn
    half = np.where(face[1:] == face[:-1], half, 0.0)
    arc = chord * np.where(half > 1e-8, np.arcsin(half) / np.maximum(half, 1e-12), 1.0)
    run = np.concatenate([[0.0], np.cumsum(arc)])
    owner = np.repeat(np.arange(start.size - 1), np.diff(start))
    girth: FloatArray = run - run[start[:-1]][owner]
    return girth


def _ordered(curves: Sequence[SurfaceCurve], gap_m: float) -> list[SurfaceCurve]:
    """Return a section's curves from the keel outward: main first (longest from the centre plane), then by height."""
    turned = [_from_the_keel(c) for c in curves]
    if len(turned) < 2:
        return turned

    def key(curve: SurfaceCurve) -> tuple[bool, float]:
        p = curve.at.points
        return (not curve.closed and p[0, 1] <= gap_m, float(np.sum(np.abs(np.diff(p, axis=0)))))

    sizes = [key(c)[1] for c in turned]
    turned = [c for c, s in zip(turned, sizes, strict=True) if s > 4 * gap_m or s == max(sizes)]
    best = max(range(len(turned)), key=lambda n: key(turned[n]))
    rest = [c for n, c in enumerate(turned) if n != best]
    return [turned[best], *sorted(rest, key=lambda c: float(c.at.points[:, 2].min()))]


def _from_the_keel(curve: SurfaceCurve) -> SurfaceCurve:
    """Return the curve from its lower end up (a closed one from its lowest place)."""
    p = curve.at.points
    if curve.closed:
        order = np.roll(np.arange(len(p)), -int(np.argmin(p[:, 2])))
        order = np.append(order, order[0])
        if p[order[1], 1] < p[order[-2], 1]:
            order = order[::-1]
    elif (p[0, 2], p[0, 1]) > (p[-1, 2], p[-1, 1]):
        order = np.arange(len(p))[::-1]
    else:
        return curve
    at = SurfacePoints(face=curve.at.face[order], uv=curve.at.uv[order], points=p[order])
    return SurfaceCurve(at=at, closed=curve.closed)


def _name_findings(
    x: FloatArray, section: list[int], main: list[bool], chosen: list[SurfaceCurve], gap_m: float, findings: Findings
) -> None:
    """Collect sections in several pieces and those that start off the centre plane, as one finding each."""
    pieces = np.bincount(np.array(section, dtype=np.int64), minlength=x.size)
    many = np.flatnonzero(pieces > 1)
    if many.size:
        where = f"x = {x[many].min():.2f} and {x[many].max():.2f} m"
        text = f"{many.size} sections between {where} have up to {pieces.max()} curves"
        findings.add(SECTION_PIECES, "sections", text)
    off = [k for k, m, c in zip(section, main, chosen, strict=True) if m and c.at.points[0, 1] > gap_m]
    if off:
        text = f"{len(off)} sections between x = {x[off].min():.2f} and {x[off].max():.2f} m start off the centre plane"
        findings.add(SECTION_OFF_CENTRELINE, "sections", text)
