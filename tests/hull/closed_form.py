"""Hulls whose volume, centres, waterplane and angles are known in closed form, built exactly as spline patches.

Each function returns the **port half** in ship axes [m]: x forward from the aft perpendicular, y to port, z up from
the baseline. Volumes, areas and centres are of the whole ship (both sides) up to ``draught_m``. The formulas are
worked out by hand beside each hull.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from beltwright.hull.patch import SplinePatch, mapped

Array = NDArray[np.float64]
MIRROR = np.diag([1.0, -1.0, 1.0, 1.0])


@dataclass(frozen=True, slots=True, kw_only=True)
class AnalyticHull:
    """A hull with known answers; ``half_breadth(x, z)`` and ``normal(x, z)`` hold on its side below and above water."""

    name: str
    patches: tuple[SplinePatch, ...]
    length_m: float
    breadth_m: float
    draught_m: float
    depth_m: float
    volume_m3: float
    lcb_m: float
    vcb_m: float
    waterplane_m2: float
    lcf_m: float
    half_breadth: Callable[[Array, Array], Array]
    normal: Callable[[Array, Array], Array]

    def whole(self) -> tuple[SplinePatch, ...]:
        """Return both sides: the port half and its mirror image."""
        return self.patches + tuple(mapped(p, MIRROR) for p in self.patches)  # type: ignore[misc]


def bezier(poles: Array, weights: Array | None = None, *, reversed: bool = False, name: str = "") -> SplinePatch:  # noqa: A002
    """Return one Bezier patch as a spline patch on [0, 1] x [0, 1]."""
    p, q = poles.shape[0] - 1, poles.shape[1] - 1
    return SplinePatch(
        poles=np.asarray(poles, float),
        weights=weights,
        knots_u=np.repeat([0.0, 1.0], p + 1),
        knots_v=np.repeat([0.0, 1.0], q + 1),
        degree_u=p,
        degree_v=q,
        reversed=reversed,
        name=name,
    )


def quad(a: Array, b: Array, c: Array, d: Array, name: str = "") -> SplinePatch:
    """Return the bilinear patch with corners a=(0,0), b=(1,0), c=(0,1), d=(1,1)."""
    return bezier(np.array([[a, c], [b, d]], float), name=name)


def _unit(nx: Array, ny: Array, nz: Array) -> Array:
    n = np.stack(np.broadcast_arrays(nx, ny, nz), axis=-1).astype(float)
    return n / np.linalg.norm(n, axis=-1, keepdims=True)


def _normal_from_slopes(yx: Array, yz: Array) -> Array:
    """Outward normal of y = y(x, z) on the port side: (-y_x, 1, -y_z), made unit."""
    return _unit(-yx, np.ones_like(yx), -yz)


def box(length: float = 60.0, breadth: float = 12.0, draught: float = 4.0, depth: float = 7.0) -> AnalyticHull:
    """V = L B T; VCB T/2; LCB L/2; waterplane L B."""
    b = breadth / 2
    patches = (
        quad([0, b, 0], [length, b, 0], [0, b, depth], [length, b, depth], "side"),
        quad([0, 0, 0], [length, 0, 0], [0, b, 0], [length, b, 0], "bottom"),
        quad([0, 0, 0], [0, b, 0], [0, 0, depth], [0, b, depth], "aft end"),
        quad([length, 0, 0], [length, b, 0], [length, 0, depth], [length, b, depth], "fore end"),
    )
    return AnalyticHull(
        name="box", patches=patches, length_m=length, breadth_m=breadth, draught_m=draught, depth_m=depth,
        volume_m3=length * breadth * draught, lcb_m=length / 2, vcb_m=draught / 2,
        waterplane_m2=length * breadth, lcf_m=length / 2,
        half_breadth=lambda x, z: np.full(np.broadcast(x, z).shape, b),
        normal=lambda x, z: _unit(np.zeros(np.broadcast(x, z).shape), np.float64(1.0), np.float64(0.0)),
    )  # fmt: skip


def wedge(
    alpha_deg: float = 20.0, beta_deg: float = 30.0, stem_foot: float = 20.0, draught: float = 4.0, depth: float = 7.0
) -> AnalyticHull:
    """y = (x_f - x) tan a + z tan b for x >= 0: constant angles; raked stem x_s(z) = x_f + z tan b / tan a.

    With c = x_f tan a, y0(z) = c + z tan b: waterplane area at z = y0^2 / tan a, centroid x = y0 / (3 tan a).
    """
    ta, tb = np.tan(np.radians(alpha_deg)), np.tan(np.radians(beta_deg))
    c = stem_foot * ta

    def y0(z: float) -> float:
        return float(c + z * tb)

    xs = y0(depth) / ta
    patches = (
        quad([0, c, 0], [stem_foot, 0, 0], [0, y0(depth), depth], [xs, 0, depth], "side"),
        quad([0, 0, 0], [stem_foot, 0, 0], [0, c, 0], [stem_foot, 0, 0], "bottom"),
        quad([0, 0, 0], [0, c, 0], [0, 0, depth], [0, y0(depth), depth], "aft end"),
    )
    t = draught
    volume = (y0(t) ** 3 - c**3) / (3 * ta * tb)
    moment_x = (y0(t) ** 4 - c**4) / (12 * ta**2 * tb)
    moment_z = (c**2 * t**2 / 2 + 2 * c * tb * t**3 / 3 + tb**2 * t**4 / 4) / ta
    return AnalyticHull(
        name="wedge", patches=patches, length_m=y0(t) / ta, breadth_m=2 * y0(t), draught_m=t, depth_m=depth,
        volume_m3=volume, lcb_m=moment_x / volume, vcb_m=moment_z / volume,
        waterplane_m2=y0(t) ** 2 / ta, lcf_m=y0(t) / (3 * ta),
        half_breadth=lambda x, z: (stem_foot - x) * ta + z * tb,
        normal=lambda x, z: _normal_from_slopes(np.full(np.broadcast(x, z).shape, -ta), np.float64(tb)),
    )  # fmt: skip


def wigley(length: float = 100.0, breadth: float = 10.0, draught: float = 6.25, depth: float = 9.0) -> AnalyticHull:
    """y = B/2 (1 - (2x'/L)^2)(1 - (z'/T)^2) below the waterline (x' from midships, z' from the waterline); wall above.

    V = 4/9 L B T; VCB 3/8 T below the waterline; waterplane 2/3 L B; by symmetry LCB = LCF = L/2.
    """
    b = breadth / 2
    xs = np.array([0.0, 0.5, 1.0]) * length
    # 1 - (2s - 1)^2 = 4 s (1 - s): Bernstein (0, 2, 0);  1 - (t - 1)^2 = 2t - t^2: Bernstein (0, 1, 1)
    fx, fz = np.array([0.0, 2.0, 0.0]), np.array([0.0, 1.0, 1.0])
    zs = np.array([0.0, 0.5, 1.0]) * draught
    lower = np.stack(np.broadcast_arrays(xs[:, None], b * fx[:, None] * fz, zs[None, :]), axis=-1)
    zw = np.array([draught, depth])
    upper = np.stack(np.broadcast_arrays(xs[:, None], b * fx[:, None] * np.ones(2), zw[None, :]), axis=-1)

    def parts(x: Array, z: Array) -> tuple[Array, Array, Array, Array]:
        s, t = np.asarray(x) / length, np.minimum(np.asarray(z) / draught, 1.0)
        return 4 * s * (1 - s), 4 * (1 - 2 * s) / length, 2 * t - t * t, (2 - 2 * t) / draught

    def y(x: Array, z: Array) -> Array:
        fx_, _, fz_, _ = parts(x, z)
        return b * fx_ * fz_

    def n(x: Array, z: Array) -> Array:
        fx_, dx, fz_, dz = parts(x, z)
        return _normal_from_slopes(b * dx * fz_, b * fx_ * dz)

    return AnalyticHull(
        name="wigley", patches=(bezier(lower, name="below"), bezier(upper, name="above")),
        length_m=length, breadth_m=breadth, draught_m=draught, depth_m=depth,
        volume_m3=4 / 9 * length * breadth * draught, lcb_m=length / 2, vcb_m=5 / 8 * draught,
        waterplane_m2=2 / 3 * length * breadth, lcf_m=length / 2, half_breadth=y, normal=n,
    )  # fmt: skip


def half_ellipsoid(
    length: float = 80.0, breadth: float = 16.0, draught: float = 6.0, depth: float = 9.0
) -> AnalyticHull:
    """Half ellipsoid with semi-axes a = L/2, b = B/2, c = T, made of rational quadratic arcs; upright wall above.

    V = 2/3 pi a b c; VCB 3/8 c below the waterline; waterplane pi a b; LCB = LCF = L/2. Both ends are collapsed edges.
    """
    a, b, c = length / 2, breadth / 2, draught
    r = np.sqrt(0.5)
    # half circle from (-1, 0) over (0, 1) to (1, 0) along x; quarter circle from keel (0, -1) to waterline (1, 0)
    along = np.array([[-1.0, 0.0], [-1.0, 1.0], [0.0, 1.0], [1.0, 1.0], [1.0, 0.0]])
    w_along = np.array([1.0, r, 1.0, r, 1.0])
    around = np.array([[0.0, -1.0], [1.0, -1.0], [1.0, 0.0]])
    w_around = np.array([1.0, r, 1.0])
    px = np.broadcast_to(a + a * along[:, None, 0], (5, 3))
    py = b * along[:, None, 1] * around[None, :, 0]
    pz = c + c * along[:, None, 1] * around[None, :, 1]
    knots_u = np.array([0.0, 0, 0, 0.5, 0.5, 1, 1, 1])
    below = SplinePatch(
        poles=np.stack([px, py, pz], axis=-1), weights=w_along[:, None] * w_around,
        knots_u=knots_u, knots_v=np.repeat([0.0, 1.0], 3), degree_u=2, degree_v=2, name="below",
    )  # fmt: skip
    wall = np.stack(
        np.broadcast_arrays(a + a * along[:, None, 0], b * along[:, None, 1], np.array([[draught, depth]])), axis=-1
    )
    above = SplinePatch(
        poles=wall, weights=np.repeat(w_along[:, None], 2, axis=1),
        knots_u=knots_u, knots_v=np.repeat([0.0, 1.0], 2), degree_u=2, degree_v=1, name="above",
    )  # fmt: skip

    def y(x: Array, z: Array) -> Array:
        zz = np.minimum(np.asarray(z) - c, 0.0)
        return b * np.sqrt(np.maximum(1 - ((np.asarray(x) - a) / a) ** 2 - (zz / c) ** 2, 0.0))

    def n(x: Array, z: Array) -> Array:
        zz = np.minimum(np.asarray(z) - c, 0.0)
        return _unit((np.asarray(x) - a) / a**2, y(x, z) / b**2, zz / c**2)

    return AnalyticHull(
        name="half ellipsoid", patches=(below, above),
        length_m=length, breadth_m=breadth, draught_m=draught, depth_m=depth,
        volume_m3=2 / 3 * np.pi * a * b * c, lcb_m=a, vcb_m=5 / 8 * c,
        waterplane_m2=np.pi * a * b, lcf_m=a, half_breadth=y, normal=n,
    )  # fmt: skip


def flared(length: float = 70.0, breadth: float = 14.0, draught: float = 5.0, depth: float = 8.0) -> AnalyticHull:
    """y = B/2 (1 - s^3)(0.6 + 0.4 z/D), s = x/L: upright stem at x = L, flat transom at x = 0, flat bottom at z = 0.

    Not symmetric fore and aft. With k(z) = 0.6 + 0.4 z/D: waterplane at z = 3/4 L B k(z), its centroid
    (1/2 - 1/5) / (3/4) L = 0.4 L at every z; V = 3/4 L B (0.6 T + 0.2 T^2/D).
    """
    b, t, d = breadth / 2, draught, depth
    xs = np.arange(4) / 3.0 * length
    fx = np.array([1.0, 1.0, 1.0, 0.0])  # Bernstein coefficients of 1 - s^3
    kz = np.array([0.6, 1.0])
    zs = np.array([0.0, d])
    side = np.stack(np.broadcast_arrays(xs[:, None], b * fx[:, None] * kz, zs[None, :]), axis=-1)
    bottom = np.stack(
        np.broadcast_arrays(xs[:, None], b * 0.6 * fx[:, None] * np.array([0.0, 1.0]), np.float64(0.0)), axis=-1
    )
    transom = quad([0, 0, 0], [0, 0.6 * b, 0], [0, 0, d], [0, b, d], "transom")
    volume = 0.75 * length * breadth * (0.6 * t + 0.2 * t * t / d)
    moment_z = 0.75 * length * breadth * (0.3 * t**2 + 0.4 / 3 * t**3 / d)

    def y(x: Array, z: Array) -> Array:
        return b * (1 - (np.asarray(x) / length) ** 3) * (0.6 + 0.4 * np.asarray(z) / d)

    def n(x: Array, z: Array) -> Array:
        s, k = np.asarray(x) / length, 0.6 + 0.4 * np.asarray(z) / d
        return _normal_from_slopes(-b * 3 * s * s / length * k, b * (1 - s**3) * 0.4 / d)

    return AnalyticHull(
        name="flared", patches=(bezier(side, name="side"), bezier(bottom, name="bottom"), transom),
        length_m=length, breadth_m=breadth * (0.6 + 0.4 * t / d), draught_m=t, depth_m=d,
        volume_m3=volume, lcb_m=0.4 * length, vcb_m=moment_z / volume,
        waterplane_m2=0.75 * length * breadth * (0.6 + 0.4 * t / d), lcf_m=0.4 * length, half_breadth=y, normal=n,
    )  # fmt: skip


def all_hulls() -> tuple[AnalyticHull, ...]:
    """Return every hull of this module at its usual size."""
    return (box(), wedge(), wigley(), half_ellipsoid(), flared())


@dataclass(frozen=True, slots=True, kw_only=True)
class WedgeBarge:
    """A flat-sided barge with a flared wedge bow and an upright wedge stern; see :func:`wedge_barge`."""

    patches: tuple[SplinePatch, ...]
    breadth_m: float
    alpha_deg: float
    rake_deg: float
    bow_length_m: float
    side_end_x_m: float
    keel_end_x_m: float
    depth_m: float

    def stem_x_m(self, z: float) -> float:
        """The fore side of the stem at height z [m from AP]."""
        return float(self.keel_end_x_m + z / np.tan(np.radians(self.rake_deg)))


def wedge_barge(
    length: float = 60.0, breadth: float = 12.0, depth: float = 8.0, alpha_deg: float = 25.0, beta_deg: float = 35.0,
    stern_deg: float = 20.0,
) -> WedgeBarge:  # fmt: skip
    """Bow y = (x_s(z) - x) tan a with x_s = L + z tan b / tan a, side y = B/2, stern y = x tan s: planes throughout.

    On every waterline the bow is B / (2 tan a) long, its waterplane a triangle of that length and the breadth B; stem
    and buttocks of the bow rise by tan(rake) = tan a / tan b. The keel ends at x = L, where the flat bottom does.
    """
    half, ta, tb = breadth / 2, np.tan(np.radians(alpha_deg)), np.tan(np.radians(beta_deg))
    bow, shift, run = half / ta, depth * tb / ta, half / np.tan(np.radians(stern_deg))
    patches = (
        quad([length - bow, half, 0], [length, 0, 0], [length - bow + shift, half, depth], [length + shift, 0, depth],
             "bow"),
        quad([run, half, 0], [length - bow, half, 0], [run, half, depth], [length - bow + shift, half, depth], "side"),
        quad([0, 0, 0], [run, half, 0], [0, 0, depth], [run, half, depth], "stern"),
        quad([0, 0, 0], [length, 0, 0], [run, half, 0], [length - bow, half, 0], "bottom"),
    )  # fmt: skip
    return WedgeBarge(
        patches=patches, breadth_m=breadth, alpha_deg=alpha_deg, rake_deg=float(np.degrees(np.arctan(ta / tb))),
        bow_length_m=float(bow), side_end_x_m=float(run), keel_end_x_m=length, depth_m=depth,
    )  # fmt: skip
