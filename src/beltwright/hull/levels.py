"""Level functions: ice waterlines (even keel, trimmed, broken), levels moved up or down, and moves onto a level."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from beltwright.core.errors import InputError
from beltwright.core.units import FloatArray, IntArray
from beltwright.hull.shell import LevelFunction, Shell


@dataclass(frozen=True, slots=True)
class WaterLevel:
    """A waterline as heights above the baseline at given x, straight between them and carried on beyond the ends.

    One pair is an even keel, two a trimmed waterline, three or more a broken one. The field is the height of a point
    above the level [m], so it is negative under water.

    Parameters
    ----------
    x_m : rising positions from the aft perpendicular [m]
    height_m : draughts there, above the baseline [m]
    name : how messages call it, e.g. "upper ice waterline"

    Raises
    ------
    InputError : not as many heights as positions, a value not finite, positions that do not rise

    >>> level = WaterLevel((0.0, 100.0), (6.6, 6.2))
    >>> float(level.height(np.array([50.0]))[0])
    6.4
    """

    x_m: tuple[float, ...]
    height_m: tuple[float, ...]
    name: str = "waterline"

    def __post_init__(self) -> None:
        if not self.x_m or len(self.x_m) != len(self.height_m):
            raise InputError(self.name, "as many draughts as positions are needed", value=len(self.height_m))
        for text, values in (("position", self.x_m), ("draught", self.height_m)):
            for value in values:
                if not np.isfinite(value):
                    raise InputError(self.name, f"{text} is not a finite number", value=value, unit="m")
        if any(b - a <= 0.0 for a, b in zip(self.x_m, self.x_m[1:], strict=False)):
            raise InputError(self.name, "positions must rise from aft forward", value=self.x_m, unit="m")

    @classmethod
    def even_keel(cls, draught_m: float, name: str = "waterline") -> WaterLevel:
        """Return the level at one draught everywhere."""
        return cls((0.0,), (float(draught_m),), name)

    def height(self, x: FloatArray) -> FloatArray:
        """Return the height of the level above the baseline at ``x`` [m]."""
        if len(self.x_m) == 1:
            return np.full(np.shape(x), self.height_m[0])
        xs, zs = np.array(self.x_m), np.array(self.height_m)
        i = np.clip(np.searchsorted(xs, x, side="right") - 1, 0, xs.size - 2)
        height: FloatArray = zs[i] + (x - xs[i]) * (zs[i + 1] - zs[i]) / (xs[i + 1] - xs[i])
        return height

    @property
    def breaks_m(self) -> tuple[float, ...]:
        """Positions where a broken level turns [m from AP]; empty for even and trimmed levels."""
        return self.x_m[1:-1]

    def raised(self, by_m: float) -> WaterLevel:
        """Return the level moved up by ``by_m`` [m]."""
        return WaterLevel(self.x_m, tuple(h + by_m for h in self.height_m), self.name)

    def __call__(self, points: FloatArray) -> FloatArray:
        """Return the height of points (n, 3) above the level [m]."""
        return points[:, 2] - self.height(points[:, 0])

    def __str__(self) -> str:
        heights = ", ".join(f"{h:.3f} m" + (f" at x {x:.2f} m" if len(self.x_m) > 1 else "")
                            for x, h in zip(self.x_m, self.height_m, strict=True))  # fmt: skip
        return f"{self.name} ({heights})"


def settle_on_level(
    shell: Shell, level: LevelFunction, face: IntArray, uv: FloatArray, *, steps: int = 12, tolerance_m: float = 1e-11
) -> FloatArray:
    """Return parameters moved on their faces, square to the level's trace, until the level function is zero.

    Starts must be near (a chord's middle); places that do not settle keep their start.
    """
    p, su, sv = shell.slopes(face, uv)
    f = level(p)
    eps = 1e-4  # metres, along each slope
    lu = np.sqrt(np.einsum("ni,ni->n", su, su)) + 1e-300
    lv = np.sqrt(np.einsum("ni,ni->n", sv, sv)) + 1e-300
    fu = (level(p + su * (eps / lu)[:, None]) - f) / eps
    fv = (level(p + sv * (eps / lv)[:, None]) - f) / eps
    size = fu * fu + fv * fv
    usable = size > 1e-16
    step = (
        np.where(usable, 1.0, 0.0)[:, None] * np.stack([fu / lu, fv / lv], axis=1) / np.maximum(size, 1e-300)[:, None]
    )
    t, f_old, t_old = -f, f, np.zeros_like(f)
    live = np.flatnonzero(usable & (np.abs(f) > tolerance_m))
    settled = np.zeros_like(f)
    for _ in range(steps):
        if live.size == 0:
            break
        f_new = level(shell.points(face[live], uv[live] + t[live, None] * step[live]))
        done = np.abs(f_new) <= tolerance_m
        settled[live[done]] = t[live[done]]
        slope = (f_new - f_old[live]) / np.where(t[live] == t_old[live], np.inf, t[live] - t_old[live])
        better = ~done & (np.abs(slope) > 0.1)
        rows = live[better]
        t_old[rows], f_old[rows] = t[rows], f_new[better]
        t[rows] = t[rows] - f_new[better] / slope[better]
        live = rows
    moved: FloatArray = uv + settled[:, None] * step
    return moved
