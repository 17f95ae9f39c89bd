"""Offset tables of the closed-form hulls: points taken from their formulas, not from their spline faces."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray
from tests.hull import closed_form as cf

from beltwright.hull.offset_station import OffsetStation

Array = NDArray[np.float64]


def station(x: float, z: Array, y: Array | float, knuckle: Array | None = None) -> OffsetStation:
    height = np.asarray(z, dtype=np.float64)
    flags = np.zeros(height.shape, dtype=np.bool_) if knuckle is None else np.asarray(knuckle).astype(np.bool_)
    return OffsetStation(
        x=float(x),
        height=height,
        half_breadth=np.broadcast_to(np.asarray(y, float), height.shape).copy(),
        knuckle=flags,
    )


def crowded(length: float, n: int) -> Array:
    """Stations closer together at the ends, as offset tables have them."""
    return length * (0.5 - 0.5 * np.cos(np.pi * np.linspace(0.0, 1.0, n)))


def box(stations: int = 60, heights: int = 25) -> list[OffsetStation]:
    hull = cf.box()
    z = np.concatenate([[0.0], np.linspace(0.0, hull.depth_m, heights)])
    y = np.concatenate([[0.0], np.full(heights, hull.breadth_m / 2)])
    chine = np.arange(len(z)) == 1
    return [station(x, z, y, chine) for x in np.linspace(0.0, hull.length_m, stations)]


def wedge(stations: int = 60, heights: int = 25) -> list[OffsetStation]:
    """The flat bottom ends in a point at the stem's foot; from there the stem rises."""
    hull = cf.wedge()
    ta, tb, foot = np.tan(np.radians(20.0)), np.tan(np.radians(30.0)), 20.0
    tip = foot + hull.depth_m * tb / ta
    out = []
    for x in np.linspace(0.0, foot, stations // 2)[:-1]:
        z = np.linspace(0.0, hull.depth_m, heights)
        y = hull.half_breadth(np.full(heights, x), z)
        chine = np.arange(heights + 1) == 1
        out.append(station(x, np.concatenate([[0.0], z]), np.concatenate([[0.0], y]), chine))
    for x in np.linspace(foot, tip, stations - stations // 2 + 1)[:-1]:
        z = np.linspace((x - foot) * ta / tb, hull.depth_m, heights)
        y = hull.half_breadth(np.full(heights, x), z)
        y[0] = 0.0
        out.append(station(x, z, y, np.arange(heights) == 0 if x == foot else None))
    return [*out, station(tip, np.array([hull.depth_m]), 0.0)]


def wigley(stations: int = 60, heights: int = 25) -> list[OffsetStation]:
    hull = cf.wigley()
    z = np.sort(np.concatenate([np.linspace(0.0, hull.depth_m, heights), [hull.draught_m]]))
    return [station(x, z, hull.half_breadth(np.full(len(z), x), z)) for x in np.linspace(0.0, hull.length_m, stations)]


def half_ellipsoid(stations: int = 60, heights: int = 25) -> list[OffsetStation]:
    """Points at even angles round each section and four on the wall above: heights differ from station to station."""
    hull = cf.half_ellipsoid()
    a, b, c = hull.length_m / 2, hull.breadth_m / 2, hull.draught_m
    wall = np.linspace(c, hull.depth_m, 5)[1:]
    round_ = np.linspace(0.0, np.pi / 2, heights - 4)
    out = []
    for x in crowded(hull.length_m, stations):
        r = np.sqrt(max(0.0, 1.0 - ((x - a) / a) ** 2))
        if r < 1e-9:
            out.append(station(x, np.concatenate([[c], wall]), 0.0))
            continue
        z = np.concatenate([c - c * r * np.cos(round_), wall])
        out.append(station(x, z, np.concatenate([b * r * np.sin(round_), np.full(4, b * r)])))
    return out


def flared(stations: int = 60, heights: int = 25) -> list[OffsetStation]:
    hull = cf.flared()
    z = np.linspace(0.0, hull.depth_m, heights)
    out = []
    for x in np.linspace(0.0, hull.length_m, stations)[:-1]:
        y = np.concatenate([[0.0], hull.half_breadth(np.full(heights, x), z)])
        out.append(station(x, np.concatenate([[0.0], z]), y, np.arange(heights + 1) == 1))
    return [*out, station(hull.length_m, z, 0.0, np.arange(heights) == 0)]


TABLES = {"box": box, "wedge": wedge, "wigley": wigley, "half ellipsoid": half_ellipsoid, "flared": flared}
