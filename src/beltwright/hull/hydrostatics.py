"""Volume, centres, waterplane and displacement under any ice waterline, by the divergence theorem on the shell.

With the field F = (0, y, 0), V = 2 * integral of y n_y over the port shell under the level. The flux through the
centre plane (y = 0), and through every plane or ruled surface that holds the y direction, is zero: an even, trimmed
or broken water level, an open deck and a transverse transom that is not modelled all add nothing, and small gaps
count only by their own area. First moments use (0, x y, 0), (0, y^2/2, 0) and (0, z y, 0) in the same way.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import cached_property

import numpy as np

from beltwright.core.errors import InputError
from beltwright.core.units import FloatArray
from beltwright.hull.levels import WaterLevel
from beltwright.hull.quadrature import Clipped, clip_below, integrate, split_at
from beltwright.hull.shell import Pieces, Shell

SEA_WATER_T_PER_M3 = 1.025


@dataclass(frozen=True, slots=True, kw_only=True)
class Hydrostatics:
    """What lies under one waterline; both sides of the ship.

    Attributes
    ----------
    volume_m3 : moulded volume
    lcb_m, vcb_m : centre of buoyancy from the aft perpendicular and above the baseline
    half_tcb_m : transverse centre of the port half, from the centre plane
    waterplane_m2, lcf_m : area of the waterplane seen from above, and its centre from the aft perpendicular
    """

    level: WaterLevel
    volume_m3: float
    lcb_m: float
    vcb_m: float
    half_tcb_m: float
    waterplane_m2: float
    lcf_m: float

    def displacement_t(self, density_t_per_m3: float = SEA_WATER_T_PER_M3, allowance_t: float = 0.0) -> float:
        """Return the displacement [t]: volume times water density, plus an allowance for shell and appendages [t]."""
        if not 0.95 <= density_t_per_m3 <= 1.05:
            raise InputError(
                "water density", "not that of water", value=density_t_per_m3, unit="t/m3", allowed="0.95 to 1.05"
            )
        if not (np.isfinite(allowance_t) and abs(allowance_t) <= 0.1 * self.volume_m3):
            raise InputError(
                "shell and appendage allowance", "not plausible", value=allowance_t, unit="t",
                allowed=f"within +-{0.1 * self.volume_m3:.0f} t",
            )  # fmt: skip
        return self.volume_m3 * density_t_per_m3 + allowance_t

    def displacement_kt(self, density_t_per_m3: float = SEA_WATER_T_PER_M3, allowance_t: float = 0.0) -> float:
        """Return the displacement in the ice rules' unit [kt]."""
        return self.displacement_t(density_t_per_m3, allowance_t) / 1000.0


class Floating:
    """Hydrostatics of one shell at many levels: the integrals of whole triangles are worked out once."""

    def __init__(self, shell: Shell) -> None:
        self.shell = shell
        self._pieces = shell.pieces()

    @cached_property
    def _corners(self) -> FloatArray:
        face = np.repeat(self._pieces.face, 3)
        return self.shell.points(face, self._pieces.uv.reshape(-1, 2))

    @cached_property
    def _moments(self) -> FloatArray:
        return integrate(self.shell, self._pieces.face, self._pieces.uv, _buoyancy)

    def at(self, level: WaterLevel) -> Hydrostatics:
        """Return the hydrostatics under a level.

        Raises
        ------
        InputError : the hull does not reach the level, or lies wholly under it
        """
        field = level(self._corners).reshape(-1, 3)
        require_reached(level, field)
        total, area, moment = np.zeros(4), 0.0, 0.0
        for pieces, heights, moments in self._smooth_parts(level, field):
            cut = clip_below(self.shell, pieces, level, heights)
            if moments is None:
                moments = integrate(self.shell, pieces.face, pieces.uv, _buoyancy)
            total += moments[cut.whole].sum(axis=0)
            total += integrate(self.shell, cut.face, cut.uv, _buoyancy, cut.middle).sum(axis=0)
            strip = _waterplane(self.shell, cut)
            area, moment = area + strip[0], moment + strip[1]
        volume = 2.0 * float(total[0])
        if not volume > 0.0:
            raise InputError("hull", f"encloses no volume under the {level}", value=volume, unit="m3")
        return Hydrostatics(
            level=level,
            volume_m3=volume,
            lcb_m=float(total[1] / total[0]),
            half_tcb_m=float(total[2] / total[0]),
            vcb_m=float(total[3] / total[0]),
            waterplane_m2=2.0 * area,
            lcf_m=moment / area,
        )

    def _smooth_parts(
        self, level: WaterLevel, field: FloatArray
    ) -> Iterator[tuple[Pieces, FloatArray | None, FloatArray | None]]:
        """Yield pieces on which the level is smooth, with known heights above it and known moments if there are any."""
        if not level.breaks_m:
            yield self._pieces, field, self._moments
            return
        untouched, parts = split_at(self.shell, self._pieces, level.breaks_m)
        whole = Pieces(face=self._pieces.face[untouched], uv=self._pieces.uv[untouched])
        yield whole, field[untouched], self._moments[untouched]
        yield parts, None, None


def require_reached(level: WaterLevel, field: FloatArray) -> None:
    """Raise InputError where a hull lies wholly above or wholly under a level; ``field`` holds heights above it [m]."""
    if field.size == 0 or np.min(field) >= 0.0:
        raise InputError("hull", f"lies wholly above the {level}", value=float(np.min(field, initial=0.0)), unit="m",
                         allowed="a lowest point under the waterline")  # fmt: skip
    if np.max(field) < -1e-9:
        raise InputError("hull", f"does not reach up to the {level}", value=float(np.max(field)), unit="m",
                         allowed="a highest point above the waterline")  # fmt: skip


def hydrostatics(shell: Shell, level: WaterLevel) -> Hydrostatics:
    """Return the hydrostatics of a shell under one level (for several levels of one shell use ``Floating``)."""
    return Floating(shell).at(level)


def _buoyancy(points: FloatArray, vectors: FloatArray) -> FloatArray:
    """Return the fluxes of (0, y, 0), (0, x y, 0), (0, y^2/2, 0) and (0, z y, 0)."""
    x, y, z = points.T
    flux = y * vectors[:, 1]
    return np.stack([flux, x * flux, 0.5 * y * flux, z * flux], axis=1)


def _waterplane(shell: Shell, cut: Clipped) -> tuple[float, float]:
    """Return area and x-moment of the port half of the waterplane, from the curved edges on the level.

    Seen from outside, the level runs against x along the top of a piece wound counter-clockwise by its corners 1, 2;
    area is the integral of y dx, by the quadratic through both ends and the middle, exact for quadratics.
    """
    rows = cut.on_level
    face = cut.face[rows]
    p = shell.points(face, cut.uv[rows, 1])
    m = shell.points(face, cut.middle[rows])
    q = shell.points(face, cut.uv[rows, 2])
    area = moment = 0.0
    for t, w in zip(*np.polynomial.legendre.leggauss(4), strict=True):
        shape = (0.5 * t * (t - 1.0), 1.0 - t * t, 0.5 * t * (t + 1.0))
        slope = (t - 0.5, -2.0 * t, t + 0.5)
        x, y = (sum(s * a[:, i] for s, a in zip(shape, (p, m, q), strict=True)) for i in (0, 1))
        dx = sum(s * a[:, 0] for s, a in zip(slope, (p, m, q), strict=True))
        strip = w * y * dx
        area += float(np.sum(strip))
        moment += float(np.sum(strip * x))
    return area, moment
