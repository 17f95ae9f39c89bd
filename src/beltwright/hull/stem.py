"""The centreline profile: keel, stem and aft end as the shell's border in the centre plane, with slopes."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from beltwright.core.errors import InputError
from beltwright.core.outcome import NotApplicable
from beltwright.core.units import FloatArray, IntArray
from beltwright.hull.levels import WaterLevel
from beltwright.hull.marching import bracketed_root, edge_table
from beltwright.hull.shell import Shell, SurfacePoints


@dataclass(frozen=True, slots=True, kw_only=True)
class StemPoint:
    """Where the stem meets a level: place [m] and stem angle from horizontal [deg] (90 upright, above 90 bulbous)."""

    x_m: float
    z_m: float
    angle_deg: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Profile:
    """Pieces of the shell's border that lie in the centre plane.

    ``start`` and ``end`` (n,) are surface places at the two ends of each piece, both on one face, so that any place
    between is exact.
    """

    shell: Shell
    start: SurfacePoints
    end: SurfacePoints

    def stem_point(self, level: WaterLevel) -> StemPoint:
        """Return the foremost place where the profile crosses a level, with the profile's slope there.

        Raises
        ------
        InputError : the profile does not meet the level
        """
        f0, f1 = level(self.start.points), level(self.end.points)
        rows = np.flatnonzero((f0 < 0.0) != (f1 < 0.0))
        if rows.size == 0:
            raise InputError("stem profile", f"does not meet the {level}", value=self._extent_text(), unit="m",
                             allowed="a waterline between keel and deck at the stem")  # fmt: skip
        _, _, points, tangent = self._roots(level, rows, f0[rows], f1[rows])
        k = int(np.argmax(points[:, 0]))
        t = tangent[k] if tangent[k, 2] >= 0.0 else -tangent[k]
        return StemPoint(
            x_m=float(points[k, 0]), z_m=float(points[k, 2]), angle_deg=float(np.degrees(np.arctan2(t[2], t[0])))
        )

    def lowest_m(self) -> float:
        """Least height of the profile above the baseline [m]."""
        return float(min(self.start.points[:, 2].min(), self.end.points[:, 2].min()))

    def baseline_x(self, baseline_m: float = 0.0, tolerance_m: float = 0.001) -> float | NotApplicable:
        """Return the foremost x [m from AP] where the profile lies on the baseline, within a tolerance.

        That is where the stem line meets the baseline. Not applicable where the profile stays above it.
        """
        level = WaterLevel.even_keel(baseline_m + tolerance_m, "baseline")
        f0, f1 = level(self.start.points), level(self.end.points)
        if min(float(f0.min()), float(f1.min())) > 0.0:
            return NotApplicable(
                f"the centreline profile stays above the baseline; its lowest point is at z = {self.lowest_m():.3f} m"
            )
        rows = np.flatnonzero((f0 < 0.0) != (f1 < 0.0))
        below = np.concatenate([self.start.points[f0 <= 0.0, 0], self.end.points[f1 <= 0.0, 0]])
        if rows.size:
            below = np.append(below, self._roots(level, rows, f0[rows], f1[rows])[2][:, 0])
        return float(below.max())

    def _roots(
        self, level: WaterLevel, rows: IntArray, f0: FloatArray, f1: FloatArray
    ) -> tuple[IntArray, FloatArray, FloatArray, FloatArray]:
        """Return face, parameters, points and tangents where pieces cross a level."""
        face = self.start.face[rows]
        a, step = self.start.uv[rows], self.end.uv[rows] - self.start.uv[rows]
        x = bracketed_root(lambda t, r: level(self.shell.points(face[r], a[r] + t[:, None] * step[r])), f0, f1)
        uv = a + x[:, None] * step
        points, su, sv = self.shell.slopes(face, uv)
        tangent = su * step[:, :1] + sv * step[:, 1:]
        short = np.linalg.norm(tangent, axis=1) < 1e-12
        tangent[short] = (self.end.points - self.start.points)[rows[short]]
        return face, uv, points, tangent

    def lines(self) -> tuple[FloatArray, ...]:
        """Return the profile as polylines (n, 3) [m] for drawing, pieces strung together, the longest first."""
        gap = self.shell.gap_tolerance_m
        ends = np.stack([self.start.points, self.end.points], axis=1)
        left = list(range(len(ends)))
        found: list[FloatArray] = []
        while left:
            first = left.pop(0)
            line = [ends[first, 0], ends[first, 1]]
            for front in (False, True):
                while left:
                    tip = line[0] if front else line[-1]
                    away = np.linalg.norm(ends[left] - tip, axis=2)
                    k, side = np.unravel_index(int(np.argmin(away)), away.shape)
                    if away[k, side] > gap:
                        break
                    other = ends[left.pop(int(k)), 1 - int(side)]
                    line = [other, *line] if front else [*line, other]
            found.append(np.array(line))
        return tuple(sorted(found, key=lambda p: -float(np.sum(np.linalg.norm(np.diff(p, axis=0), axis=1)))))

    def _extent_text(self) -> str:
        z = np.concatenate([self.start.points[:, 2], self.end.points[:, 2]])
        return f"profile from z = {z.min():.3f} to {z.max():.3f}"


def profile(shell: Shell) -> Profile:
    """Return the centreline profile of a hull: free edges of the shell within the gap tolerance of y = 0.

    Raises
    ------
    InputError : no part of the shell's border lies in the centre plane
    """
    mesh = shell.tessellation()
    table = edge_table(mesh.triangles)
    times = np.bincount(table.of_triangle.ravel(), minlength=len(table.ends))
    y = np.abs(mesh.vertices.points[:, 1])
    free = np.flatnonzero((times == 1) & np.all(y[table.ends] <= shell.gap_tolerance_m, axis=1))
    if free.size == 0:
        raise InputError("hull", "no border of the shell lies in the centre plane",
                         allowed=f"a border within {shell.gap_tolerance_m * 1000:.1f} mm of y = 0")  # fmt: skip
    owner = np.zeros(len(table.ends), dtype=np.int64)
    owner[table.of_triangle.ravel()] = np.repeat(np.arange(len(mesh.triangles)), 3)
    column = np.argmax(table.of_triangle[owner[free]] == free[:, None], axis=1)
    pieces = shell.pieces()
    uv = pieces.uv[owner[free]]
    face = pieces.face[owner[free]]
    k = np.arange(free.size)
    a, b = uv[k, column], uv[k, (column + 1) % 3]
    p, q = shell.points(face, a), shell.points(face, b)
    long = np.linalg.norm(q - p, axis=1) > 1e-9  # collapsed edges have no length
    start = SurfacePoints(face=face[long], uv=a[long], points=p[long])
    end = SurfacePoints(face=face[long], uv=b[long], points=q[long])
    return Profile(shell=shell, start=start, end=end)
