"""The stations at which the shell is cut: frames, places midway, and finer ones where levels and hull end."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from beltwright.arrangement.levels import AboveLevel, LevelLine
from beltwright.arrangement.stations import FrameStations
from beltwright.core.units import FloatArray, IntArray
from beltwright.hull.shell import Shell

_INSIDE = 1e-7  # of the hull's length: how far inside its ends the end sections lie
_NEAR_M = 1e-4  # stations nearer than this are one
_BESIDE_M = 1e-3
_FINER = (0.5, 0.25, 0.125, 0.0625, 0.03, 0.01, 0.003, 0.001)  # of a frame spacing, from each end of the hull


@dataclass(frozen=True, slots=True, kw_only=True)
class Grid:
    """Stations ``x_m`` (s,), rising, from end to end of the hull, and the frame number with fraction at each.

    ``of_half`` gives the station of every whole and half frame of the table, from its first frame on.
    """

    x_m: FloatArray
    frame: FloatArray
    stations: FrameStations
    of_half: IntArray

    def index(self, frame: float) -> int:
        """Return the station of a frame (whole or midway); one beyond the hull is the hull's end."""
        return int(self.of_half[round(2.0 * frame) - 2 * self.stations.first])


def make_grid(shell: Shell, stations: FrameStations, levels: Sequence[LevelLine]) -> Grid:
    """Return the stations for a hull."""
    low, high = float(shell.bounds[0, 0]), float(shell.bounds[1, 0])
    edge = _INSIDE * (high - low)
    low, high = low + edge, high - edge
    frames = np.arange(2 * stations.first, 2 * stations.last + 1) / 2.0
    main = stations.x_of(frames)
    main = np.concatenate([[low], main[(main > low + 2 * _NEAR_M) & (main < high - 2 * _NEAR_M)], [high]])
    more = np.concatenate([_level_ends(shell, levels), _finer(stations, low, high)])
    near = np.abs(more[:, None] - main[None, :]).min(axis=1) < 2 * _NEAR_M
    more = more[~near & (more > low) & (more < high)]
    x = np.unique(np.concatenate([main, more]))
    x = x[np.concatenate([[True], np.diff(x) > _NEAR_M]) | np.isin(x, main)]
    at = np.searchsorted(x, np.clip(stations.x_of(frames), low, high) - 2 * _NEAR_M)
    return Grid(x_m=x, frame=stations.frame_of(x), stations=stations, of_half=np.minimum(at, len(x) - 1))


def _level_ends(shell: Shell, levels: Sequence[LevelLine]) -> FloatArray:
    """Just aft and forward of where levels leave the hull at stem and stern, where panels have their tips [m]."""
    ends: list[float] = []
    for level in levels:
        for curve in shell.cut(AboveLevel(level)):
            for x in (float(curve.at.points[:, 0].min()), float(curve.at.points[:, 0].max())):
                ends += [x - _BESIDE_M, x + _BESIDE_M]
    return np.array(ends)


def _finer(stations: FrameStations, low: float, high: float) -> FloatArray:
    """Stations that draw together towards both ends of the hull."""
    steps = np.array(_FINER)
    aft = low + steps * (stations.x_m[1] - stations.x_m[0])
    fore = high - steps * (stations.x_m[-1] - stations.x_m[-2])
    return np.concatenate([aft, fore])
