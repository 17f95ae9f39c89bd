"""The bow at a waterline: its length, the area of its waterplane, and the shell's angles at a given half-breadth."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from beltwright.core.errors import InputError
from beltwright.core.units import FloatArray, IntArray
from beltwright.hull.angles import HullAngles, hull_angles
from beltwright.hull.levels import settle_on_level
from beltwright.hull.shell import SurfacePoints
from beltwright.hull.waterline import Waterline


@dataclass(frozen=True, slots=True, kw_only=True)
class BowPlace:
    """A place on the bow's waterline: x [m from AP], half-breadth and height [m], and the hull angles there (1,)."""

    x_m: float
    y_m: float
    z_m: float
    angles: HullAngles


def bow_area_m2(line: Waterline, aft_x_m: float) -> float:
    """Return the waterplane area of both sides between the stem and ``aft_x_m`` [m from AP].

    The outline's chords are integrated, which lie within 2 micrometres of the curve.

    Raises
    ------
    InputError : the place is not on the waterline
    """
    x, y = line.points[:, 0], line.points[:, 1]
    past = np.flatnonzero(x < aft_x_m)
    end = int(past[0]) if past.size else x.size
    if end == 0 or not aft_x_m >= line.aft_end_x_m:
        raise InputError(
            str(line.level), "no waterline at this position", value=aft_x_m, unit="m from AP",
            allowed=f"{line.aft_end_x_m:.3f} to {line.stem_x_m:.3f} m",
        )  # fmt: skip
    xs, ys = x[:end], y[:end]
    if past.size:
        share = (x[end - 1] - aft_x_m) / (x[end - 1] - x[end])
        xs, ys = np.append(xs, aft_x_m), np.append(ys, y[end - 1] + share * (y[end] - y[end - 1]))
    return float(-np.sum((ys[1:] + ys[:-1]) * np.diff(xs)))


def place_at_half_breadth(line: Waterline, half_breadth_m: float) -> BowPlace:
    """Return the first place aft of the stem where the waterline is as wide as ``half_breadth_m``.

    Raises
    ------
    InputError : the waterline is nowhere so wide
    """
    y = line.points[:, 1]
    wide = np.flatnonzero(y >= half_breadth_m)
    if wide.size == 0:
        raise InputError(
            str(line.level), "is nowhere so wide on one side", value=half_breadth_m, unit="m",
            allowed=f"at most {line.greatest_half_breadth_m:.3f} m",
        )  # fmt: skip
    j = int(wide[0])
    i = max(j - 1, 0)
    face, uv = _between(line.at, i, j, 0.0 if i == j else (half_breadth_m - y[i]) / (y[j] - y[i]))
    uv = settle_on_level(line.shell, line.level, face, uv)
    x, wide_m, z = (float(value) for value in line.shell.points(face, uv)[0])
    return BowPlace(x_m=x, y_m=wide_m, z_m=z, angles=hull_angles(line.shell.normals(face, uv)))


def _between(at: SurfacePoints, i: int, j: int, share: float) -> tuple[IntArray, FloatArray]:
    """The place part of the way from one vertex to the next; the next one itself where a face ends between them."""
    face = at.face[j : j + 1]
    if at.face[i] != at.face[j]:
        return face, at.uv[j : j + 1]
    return face, at.uv[i : i + 1] + share * (at.uv[j : j + 1] - at.uv[i : i + 1])
