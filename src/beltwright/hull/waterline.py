"""The outline of the hull at an ice waterline: ends, lengths, half-breadths and angles along it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from beltwright.core.errors import InputError
from beltwright.core.findings import Finding, Findings
from beltwright.core.outcome import NotApplicable
from beltwright.core.units import FloatArray, IntArray
from beltwright.hull.angles import HullAngles, hull_angles
from beltwright.hull.codes import (
    ALPHA_CROSSED_AGAIN,
    HALF_BREADTH_MANY,
    NO_PARALLEL_SIDE,
    OPEN_TRANSOM,
    WATERLINE_ISLANDS,
)
from beltwright.hull.levels import WaterLevel, settle_on_level
from beltwright.hull.marching import ON_LEVEL_M
from beltwright.hull.shell import Shell, SurfaceCurve, SurfacePoints
from beltwright.hull.surface_newton import settle_axes

_SAG_M = 2e-6  # how far the outline's chords may lie off the waterline
_MOST_PER_CHORD = 60
SENSITIVITY_MM = (0.1, 0.3, 1.0, 3.0, 10.0)


@dataclass(frozen=True, slots=True, kw_only=True)
class SideBorders:
    """Foremost and aftmost x where the half-breadth is within ``tolerance_mm`` of its maximum [m from AP]."""

    tolerance_mm: float
    fore_x_m: float
    aft_x_m: float


@dataclass(frozen=True, slots=True, kw_only=True)
class AlphaCrossing:
    """Where the waterline angle first falls to a value, going aft from the stem; ``count`` such falls were found."""

    alpha_deg: float
    x_m: float
    count: int
    at_knuckle: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Waterline:
    """The main outline of the port side at one level, in order from the stem to the aft end.

    Attributes
    ----------
    at : outline vertices on the surface; chords lie within 2 micrometres of the curve (spline hulls)
    normals : unit outward normals there (n, 3); at a face border both faces' are kept
    islands : other closed or open pieces at the same level
    """

    shell: Shell
    level: WaterLevel
    at: SurfacePoints
    normals: FloatArray
    islands: tuple[SurfaceCurve, ...]
    findings: tuple[Finding, ...]

    @property
    def points(self) -> FloatArray:
        """Outline vertices (n, 3) [m]."""
        return self.at.points

    @property
    def stem_x_m(self) -> float:
        """Foremost point of the outline: the fore side of the stem [m from AP]."""
        return float(self.points[:, 0].max())

    @property
    def aft_end_x_m(self) -> float:
        """Aftmost point of the outline [m from AP]."""
        return float(self.points[:, 0].min())

    @property
    def extreme_length_m(self) -> float:
        """Length from the fore side of the stem to the aftmost point [m]."""
        return self.stem_x_m - self.aft_end_x_m

    @property
    def greatest_half_breadth_m(self) -> float:
        """Greatest half-breadth of the outline [m]."""
        return float(self.points[:, 1].max())

    def side_borders(self, tolerance_mm: float = 1.0) -> SideBorders:
        """Return the fore and aft ends of the greatest half-breadth, within a tolerance."""
        limit = self.greatest_half_breadth_m - tolerance_mm / 1000.0
        x, y = self.points[:, 0], self.points[:, 1]
        inside = np.flatnonzero(y >= limit)
        i, j = int(inside[0]), int(inside[-1])
        return SideBorders(
            tolerance_mm=tolerance_mm,
            fore_x_m=_between(x, y, i - 1, i, limit),
            aft_x_m=_between(x, y, j + 1, j, limit),
        )

    def sensitivity(self, tolerances_mm: Sequence[float] = SENSITIVITY_MM) -> tuple[SideBorders, ...]:
        """Return the side borders for several tolerances [mm]."""
        return tuple(self.side_borders(t) for t in tolerances_mm)

    def places(self, x: FloatArray) -> tuple[IntArray, SurfacePoints, Finding | None]:
        """Return for positions ``x`` [m] the outermost surface place on the level.

        Returns the rows of ``x`` that meet the hull, the places, and a finding if some are met more than once.
        """
        x = np.atleast_1d(np.asarray(x, dtype=np.float64))
        found = self.shell.crossings(x, self.level.height(x))
        last: IntArray = np.flatnonzero(np.diff(found.query, append=-1))
        rows = found.query[last]
        many = np.flatnonzero(np.bincount(found.query, minlength=x.size) > 1)
        finding = None
        if many.size:
            finding = Finding(
                kind=HALF_BREADTH_MANY,
                where=str(self.level),
                message=f"{many.size} positions, from x = {x[many].min():.3f} to {x[many].max():.3f} m",
            )
        at = found.at
        return rows, SurfacePoints(face=at.face[last], uv=at.uv[last], points=at.points[last]), finding

    def half_breadth(self, x: FloatArray) -> FloatArray:
        """Return the outermost half-breadth at each ``x`` [m]; InputError where the outline is not met."""
        return self._all_places(x).points[:, 1]

    def angles(self, x: FloatArray) -> HullAngles:
        """Return the hull angles on the waterline at each ``x`` [m], from exact normals of the outermost place."""
        at = self._all_places(x)
        return hull_angles(self.shell.normals(at.face, at.uv))

    def alpha(self, x: FloatArray) -> FloatArray:
        """Return the waterline angle at each ``x`` [deg], negative in the aft body."""
        return self.angles(x).alpha_deg

    def _all_places(self, x: FloatArray) -> SurfacePoints:
        x = np.atleast_1d(np.asarray(x, dtype=np.float64))
        rows, at, _ = self.places(x)
        if rows.size != x.size:
            missing = np.setdiff1d(np.arange(x.size), rows)
            raise InputError(
                str(self.level), "no hull at this position", value=float(x[missing[0]]), unit="m from AP",
                allowed=f"{self.aft_end_x_m:.3f} to {self.stem_x_m:.3f} m",
            )  # fmt: skip
        return at

    def alpha_crossing(
        self, alpha_deg: float, stem_rounding_m: float = 0.0
    ) -> tuple[AlphaCrossing | NotApplicable, Finding | None]:
        """Return where the waterline angle falls to ``alpha_deg``, foremost, going aft from the stem.

        The outline within ``stem_rounding_m`` aft of the fore side of the stem is not looked at. Also returns a
        finding if the angle passes the value more than once before the greatest half-breadth's aft border.
        """
        angle = hull_angles(self.normals).alpha_deg
        x = self.points[:, 0]
        rows = np.flatnonzero((x <= self.stem_x_m - stem_rounding_m) & (x >= self.side_borders().aft_x_m))
        if rows.size == 0 or not angle[rows[0]] > alpha_deg:
            first = f"{angle[rows[0]]:.2f} degrees" if rows.size else "none"
            return NotApplicable(f"the waterline angle aft of the stem rounding starts at {first}"), None
        high = angle[rows] > alpha_deg
        falls = np.flatnonzero(high[:-1] & ~high[1:])
        if falls.size == 0:
            return NotApplicable(f"the waterline angle stays above {alpha_deg:g} degrees"), None
        i, j = int(rows[falls[0]]), int(rows[falls[0] + 1])
        place = self._fall(alpha_deg, i, j)
        crossing = AlphaCrossing(alpha_deg=alpha_deg, x_m=place[0], count=int(falls.size), at_knuckle=place[1])
        finding = None
        if falls.size > 1:
            others = ", ".join(f"{x[rows[k]]:.2f}" for k in falls[1:5])
            finding = Finding(
                kind=ALPHA_CROSSED_AGAIN,
                where=str(self.level),
                message=f"{alpha_deg:g} degrees at x = {place[0]:.3f} m and again at {others} m",
            )
        return crossing, finding

    def _fall(self, alpha_deg: float, i: int, j: int) -> tuple[float, bool]:
        """Return x where the angle equals the value between vertices i and j, by bisection on the exact surface."""
        at = self.at
        if at.face[i] != at.face[j]:
            return float(at.points[j, 0]), True
        low, high = 0.0, 1.0
        face = at.face[i : i + 1]
        uv = at.uv[i : i + 1]
        for _ in range(30):
            middle = 0.5 * (low + high)
            start = at.uv[i : i + 1] + middle * (at.uv[j : j + 1] - at.uv[i : i + 1])
            uv = settle_on_level(self.shell, self.level, face, start)
            above = hull_angles(self.shell.normals(face, uv)).alpha_deg[0] > alpha_deg
            low, high = (middle, high) if above else (low, middle)
        return float(self.shell.points(face, uv)[0, 0]), False


def waterline(shell: Shell, level: WaterLevel) -> Waterline:
    """Return the main outline of a hull at a waterline, with findings about islands and open ends.

    Raises
    ------
    InputError : the hull does not reach the level; the outline does not reach the centre plane at the bow, is broken,
        or crosses itself
    """
    curves = shell.cut(level)
    if not curves:
        low, high = shell.bounds[:, 2]
        raise InputError(
            "hull", f"does not reach the {level}", value=f"hull from z = {low:.3f} to {high:.3f}", unit="m",
            allowed="a waterline within the hull's depth",
        )  # fmt: skip
    sizes = [float(np.ptp(c.at.points[:, 0])) for c in curves]
    main = int(np.argmax(sizes))
    curve = _from_the_bow(curves[main])
    others = tuple(c for k, c in enumerate(curves) if k != main and _extent(c) > 4 * shell.gap_tolerance_m)
    findings = Findings()
    _check_outline(shell, level, curve, others, findings)
    at = refined(shell, level, curve)
    line = Waterline(
        shell=shell,
        level=level,
        at=at,
        normals=shell.normals(at.face, at.uv),
        islands=others,
        findings=(),
    )
    if line.side_borders().fore_x_m - line.side_borders().aft_x_m < 0.02 * line.extreme_length_m:
        findings.add(NO_PARALLEL_SIDE, str(level), _sensitivity_text(line))
    return Waterline(shell=shell, level=level, at=at, normals=line.normals, islands=others, findings=tuple(findings))


def refined(shell: Shell, level: WaterLevel, curve: SurfaceCurve) -> SurfacePoints:
    """Return the curve with exact places added until its chords lie within 2 micrometres of it (spline hulls)."""
    at = _with_corners(shell, level, curve.at)
    if shell.kind == "mesh" or at.face.size < 2:
        return at
    normal = shell.normals(at.face, at.uv)
    chord = np.linalg.norm(np.diff(at.points, axis=0), axis=1)
    flat = normal[:, :2] / np.maximum(np.linalg.norm(normal[:, :2], axis=1, keepdims=True), 1e-12)
    turn = np.linalg.norm(np.diff(flat, axis=0), axis=1)
    same = at.face[1:] == at.face[:-1]
    count = np.where(same, np.ceil(np.sqrt(chord * turn / (8.0 * _SAG_M))), 1.0)
    count = np.clip(count, 1, _MOST_PER_CHORD).astype(np.int64)
    owner = np.repeat(np.arange(count.size), count)
    begin = np.concatenate([[0], np.cumsum(count)[:-1]])
    share = (np.arange(owner.size) - begin[owner]) / count[owner]
    uv = np.where(same[owner][:, None], at.uv[owner] + share[:, None] * (at.uv[owner + 1] - at.uv[owner]), at.uv[owner])
    face = at.face[owner]
    new = np.flatnonzero(share > 0.0)
    uv[new] = settle_on_level(shell, level, face[new], uv[new])
    face, uv = np.concatenate([face, at.face[-1:]]), np.concatenate([uv, at.uv[-1:]])
    points = shell.points(face, uv)
    keep = np.abs(level(points)) <= ON_LEVEL_M
    keep[np.flatnonzero(np.concatenate([share == 0.0, [True]]))] = True
    return SurfacePoints(face=face[keep], uv=uv[keep], points=points[keep])


def _with_corners(shell: Shell, level: WaterLevel, at: SurfacePoints) -> SurfacePoints:
    """Return the outline with the exact places put in where a broken level turns."""
    for turn in level.breaks_m:
        x = at.points[:, 0]
        rows = np.flatnonzero(
            (np.minimum(x[:-1], x[1:]) < turn - ON_LEVEL_M)
            & (np.maximum(x[:-1], x[1:]) > turn + ON_LEVEL_M)
            & (at.face[1:] == at.face[:-1])
        )
        share = ((turn - x[rows]) / (x[rows + 1] - x[rows]))[:, None]
        start = at.uv[rows] + share * (at.uv[rows + 1] - at.uv[rows])
        goal = np.tile([turn, float(level.height(np.array([turn]))[0])], (rows.size, 1))
        low, high = shell.parameter_range(at.face[rows])
        uv, points, _, _, good = settle_axes(shell, at.face[rows], start, (0, 2), goal, low, high)
        after = rows[good] + 1
        at = SurfacePoints(
            face=np.insert(at.face, after, at.face[rows[good]]),
            uv=np.insert(at.uv, after, uv[good], axis=0),
            points=np.insert(at.points, after, points[good], axis=0),
        )
    return at


def _between(x: FloatArray, y: FloatArray, outside: int, inside: int, limit: float) -> float:
    """Return x where y reaches the limit between two neighbouring vertices (or the inner one at the outline's end)."""
    if outside < 0 or outside >= x.size or y[outside] >= y[inside]:
        return float(x[inside])
    share = (limit - y[outside]) / (y[inside] - y[outside])
    return float(x[outside] + share * (x[inside] - x[outside]))


def _extent(curve: SurfaceCurve) -> float:
    return float(np.max(np.ptp(curve.at.points, axis=0)))


def _from_the_bow(curve: SurfaceCurve) -> SurfaceCurve:
    """Return the curve with its fore end first."""
    if curve.at.points[0, 0] >= curve.at.points[-1, 0]:
        return curve
    at = curve.at
    turned = SurfacePoints(face=at.face[::-1], uv=at.uv[::-1], points=at.points[::-1])
    return SurfaceCurve(at=turned, closed=curve.closed)


def _check_outline(
    shell: Shell, level: WaterLevel, curve: SurfaceCurve, others: Sequence[SurfaceCurve], findings: Findings
) -> None:
    """Refuse an outline that is open, broken or crosses itself; note an open transom and islands."""
    gap = shell.gap_tolerance_m
    points = curve.at.points
    if curve.closed:
        raise InputError(
            str(level), "the main outline closes on itself without meeting the centre plane",
            value=f"x {points[:, 0].min():.2f} to {points[:, 0].max():.2f}", unit="m",
            allowed="a hull symmetric about y = 0",
        )  # fmt: skip
    broken = [c for c in others if not c.closed and _near(c, points, 100 * gap)]
    hint = ""
    if broken:
        start = broken[0].at.points[0]
        hint = (
            f"; another piece begins at x {start[0]:.3f}, y {start[1]:.3f} m (gaps above {gap * 1000:.1f} mm stay open)"
        )
    if points[0, 1] > gap:
        raise InputError(
            str(level), f"open at the bow: the outline ends off the centre plane at x {points[0, 0]:.3f} m{hint}",
            value=float(points[0, 1]), unit="m from the centre plane", allowed=f"within {gap * 1000:.1f} mm",
        )  # fmt: skip
    if points[-1, 1] > gap:
        if points[-1, 0] > points[:, 0].min() + gap or broken:
            raise InputError(
                str(level), f"open: the outline ends off the centre plane at x {points[-1, 0]:.3f} m{hint}",
                value=float(points[-1, 1]), unit="m from the centre plane", allowed=f"within {gap * 1000:.1f} mm",
            )  # fmt: skip
        text = f"outline ends at x = {points[-1, 0]:.3f} m, half-breadth {points[-1, 1]:.3f} m"
        findings.add(OPEN_TRANSOM, str(level), text)
    crossing = _self_crossing(points, gap)
    if crossing is not None:
        raise InputError(
            str(level), "the outline crosses itself", value=f"x {crossing[0]:.3f}, y {crossing[1]:.3f}", unit="m"
        )
    for other in others:
        p = other.at.points
        findings.add(
            WATERLINE_ISLANDS,
            str(level),
            f"a piece from x = {p[:, 0].min():.2f} to {p[:, 0].max():.2f} m, half-breadths {p[:, 1].min():.2f} to "
            f"{p[:, 1].max():.2f} m",
        )


def _near(curve: SurfaceCurve, points: FloatArray, reach: float) -> bool:
    """Return whether an end of the curve lies near an end of the outline."""
    ends = curve.at.points[[0, -1]]
    return bool(np.min(np.linalg.norm(ends[:, None] - points[[0, -1]][None], axis=2)) < reach)


def _self_crossing(points: FloatArray, gap_m: float) -> tuple[float, float] | None:
    """Return a place where the outline crosses itself in plan by more than the gap tolerance, if any."""
    import shapely

    flat = points[:, :2]
    step = np.linalg.norm(np.diff(flat, axis=0), axis=1)
    flat = flat[np.concatenate([[True], step > 1e-9])]
    line = shapely.LineString(flat)
    if len(flat) < 4 or line.is_simple:
        return None
    pieces = shapely.get_parts(shapely.node(line))
    for piece in pieces:
        ends = shapely.get_coordinates(piece)[[0, -1]]
        if np.allclose(ends[0], ends[1]) and piece.length > 4 * gap_m:
            return float(ends[0, 0]), float(ends[0, 1])
    return None


def _sensitivity_text(line: Waterline) -> str:
    parts = [f"{s.tolerance_mm:g} mm: x {s.fore_x_m:.2f} to {s.aft_x_m:.2f} m" for s in line.sensitivity()]
    return "greatest half-breadth within " + "; ".join(parts)
