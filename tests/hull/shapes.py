"""Untidy and awkward hull shapes for the checks of the surface: trimmed, split, gapped, tumblehome, bulb, twin skeg."""

from __future__ import annotations

import itertools
from dataclasses import replace

import numpy as np
from numpy.typing import NDArray
from tests.hull import closed_form as cf

from beltwright.hull.patch import SplinePatch

Array = NDArray[np.float64]


def resampled(patch: SplinePatch, u: tuple[float, float], v: tuple[float, float]) -> SplinePatch:
    """Return a polynomial Bezier patch on [0, 1]^2 re-expressed on another rectangle of its own parameters."""
    assert patch.weights is None

    def matrix(degree: int, a: float, b: float) -> Array:
        t = np.linspace(0.0, 1.0, degree + 1)

        def bernstein(x: Array) -> Array:
            i = np.arange(degree + 1)
            binomial = np.cumprod(np.concatenate([[1.0], (degree - i[:-1]) / (i[:-1] + 1.0)]))
            return binomial * x[:, None] ** i * (1.0 - x[:, None]) ** (degree - i)

        return np.linalg.solve(bernstein(t), bernstein(a + (b - a) * t))

    mu, mv = matrix(patch.degree_u, *u), matrix(patch.degree_v, *v)
    poles = np.einsum("ik,klc,jl->ijc", mu, patch.poles, mv)
    p, q = patch.degree_u, patch.degree_v
    return replace(patch, poles=poles, knots_u=np.repeat(u, p + 1), knots_v=np.repeat(v, q + 1))


def rectangle(u0: float, u1: float, v0: float, v1: float) -> Array:
    """Return a closed trim loop around a rectangle."""
    return np.array([[u0, v0], [u1, v0], [u1, v1], [u0, v1], [u0, v0]])


def wavy_split(patch: SplinePatch) -> tuple[SplinePatch, SplinePatch]:
    """Return two trimmed copies of a patch on [0, 1]^2 that meet along a wavy line."""
    v = np.linspace(0.0, 1.0, 201)
    u = 0.45 + 0.1 * np.sin(9.0 * v) + 0.05 * v
    line = np.stack([u, v], axis=1)
    left = np.concatenate([[[0.0, 0.0]], line, [[0.0, 1.0], [0.0, 0.0]]])
    right = np.concatenate([line, [[1.0, 1.0], [1.0, 0.0]], line[:1]])
    return replace(patch, trims=(left,), name="left"), replace(patch, trims=(right,), name="right")


def gapped(patch: SplinePatch, columns: int, rows: int, gap_m: float) -> tuple[SplinePatch, ...]:
    """Return a Bezier patch on [0, 1]^2 cut in columns by rows pieces, each moved away from its neighbour along x."""
    pieces = []
    for i in range(columns):
        for j in range(rows):
            part = resampled(patch, (i / columns, (i + 1) / columns), (j / rows, (j + 1) / rows))
            moved = part.poles + np.array([gap_m * ((i + j) % 2 - 0.5), 0.0, 0.0])
            pieces.append(replace(part, poles=moved, name=f"piece {i}.{j}"))
    return tuple(pieces)


def tumblehome(length: float = 60.0, breadth: float = 12.0, depth: float = 8.0) -> tuple[SplinePatch, ...]:
    """y = 2 B s (1 - s) (0.75 + z/D - (z/D)^2), s = x/L: widest at half depth, leaning inboard above it."""
    fx = np.array([0.0, 2.0, 0.0]) * breadth / 2
    gz = np.array([0.75, 1.25, 0.75])  # Bernstein coefficients of 0.75 + t - t^2
    x, z = np.array([0.0, 0.5, 1.0]) * length, np.array([0.0, 0.5, 1.0]) * depth
    side = np.stack(np.broadcast_arrays(x[:, None], fx[:, None] * gz, z[None, :]), axis=-1)
    flat = np.stack(
        np.broadcast_arrays(x[:, None], 0.75 * fx[:, None] * np.array([0.0, 1.0]), np.float64(0.0)), axis=-1
    )
    return cf.bezier(side, name="side"), cf.bezier(flat, name="bottom")


def twin_skeg() -> tuple[tuple[SplinePatch, ...], float]:
    """Return a box 60 x 12 with its bottom at z = 2, two skegs 1 m wide under it, and its volume up to z = 4."""
    b = 6.0
    box = (
        cf.quad([0, b, 2], [60, b, 2], [0, b, 7], [60, b, 7], "side"),
        cf.quad([0, 0, 2], [60, 0, 2], [0, b, 2], [60, b, 2], "bottom"),
        cf.quad([0, 0, 2], [0, b, 2], [0, 0, 7], [0, b, 7], "aft end"),
        cf.quad([60, 0, 2], [60, b, 2], [60, 0, 7], [60, b, 7], "fore end"),
    )
    skeg = (
        cf.quad([0, 3, 0], [20, 3, 0], [0, 3, 2], [20, 3, 2], "skeg outside"),
        cf.quad([0, 2, 0], [20, 2, 0], [0, 2, 2], [20, 2, 2], "skeg inside"),
        cf.quad([0, 2, 0], [20, 2, 0], [0, 3, 0], [20, 3, 0], "skeg foot"),
        cf.quad([0, 2, 0], [0, 3, 0], [0, 2, 2], [0, 3, 2], "skeg aft"),
        cf.quad([20, 2, 0], [20, 3, 0], [20, 2, 2], [20, 3, 2], "skeg fore"),
    )
    return box + skeg, 60 * 12 * 2 + 2 * 20 * 1 * 2


def _half_circle(steps: tuple[float, ...]) -> tuple[Array, Array, Array]:
    """Return poles (cos, sin), weights and knots of rational quadratic arcs through the given angles [rad]."""
    poles, weights = [[np.cos(steps[0]), np.sin(steps[0])]], [1.0]
    for a, b in itertools.pairwise(steps):
        half = 0.5 * (b - a)
        middle = 0.5 * (a + b)
        poles += [[np.cos(middle) / np.cos(half), np.sin(middle) / np.cos(half)], [np.cos(b), np.sin(b)]]
        weights += [np.cos(half), 1.0]
    inner = np.repeat(np.arange(1.0, len(steps) - 1), 2)
    knots = np.concatenate([[0.0] * 3, inner, [len(steps) - 1.0] * 3])
    return np.array(poles), np.array(weights), knots


def ellipsoid_patch(
    centre: tuple[float, float, float], axes: tuple[float, float, float], around: tuple[float, ...], name: str
) -> SplinePatch:
    """Return an ellipsoid of revolution-like patch: along x from aft to fore, around x through the given angles [rad].

    Angle 0 is to port, -pi/2 is the keel.
    """
    along, wa, ku = _half_circle((np.pi, np.pi / 2, 0.0))
    ring, wr, kv = _half_circle(around)
    a, b, c = axes
    x = centre[0] + a * along[:, None, 0] + 0.0 * ring[None, :, 0]
    y = centre[1] + b * along[:, None, 1] * ring[None, :, 0]
    z = centre[2] + c * along[:, None, 1] * ring[None, :, 1]
    return SplinePatch(
        poles=np.stack([x, y, z], axis=-1), weights=wa[:, None] * wr, knots_u=ku, knots_v=kv,
        degree_u=2, degree_v=2, name=name,
    )  # fmt: skip


def whole_ellipsoid(length: float = 80.0, breadth: float = 16.0, draught: float = 6.0) -> SplinePatch:
    """Return the half ellipsoid under water as one face over both sides; the keel is not on a knot."""
    ring = (0.0, -np.radians(110.0), -np.pi)
    return ellipsoid_patch((length / 2, 0.0, draught), (length / 2, breadth / 2, draught), ring, "both sides")


def bulb_ahead_of_stem() -> tuple[tuple[SplinePatch, ...], tuple[float, float, float, float]]:
    """Return the wedge hull with a separate bulb ahead of its stem, and the bulb's centre x, z and its two axes."""
    x, z, a, r = 23.0, 1.2, 1.8, 0.8
    bulb = ellipsoid_patch((x, 0.0, z), (a, r, r), (-np.pi / 2, 0.0, np.pi / 2), "bulb")
    return (*cf.wedge().patches, bulb), (x, z, a, r)
