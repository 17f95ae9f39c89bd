"""Gauss points on triangles, curved clipping, true areas: polynomials by hand, order of convergence measured."""

from __future__ import annotations

import numpy as np
import pytest
from tests.hull import closed_form as cf

from beltwright.core.errors import InputError
from beltwright.hull.areas import clipped_pieces, negated, sampled_areas, shell_area
from beltwright.hull.levels import WaterLevel
from beltwright.hull.marching import bracketed_root
from beltwright.hull.quadrature import clip_below, integrate, split_at
from beltwright.hull.shell import Pieces, PlaneLevel
from beltwright.hull.spline_shell import SplineShell

BOX = SplineShell(cf.box().patches)
ELLIPSOID = SplineShell(cf.half_ellipsoid().patches)


def grid_pieces(face: int, n: int) -> Pieces:
    """Return 2 n^2 triangles over the unit square of one face, counter-clockwise in (u, v)."""
    t = np.linspace(0.0, 1.0, n + 1)
    corner = np.stack(np.meshgrid(t, t, indexing="ij"), axis=-1)
    a, b, c, d = corner[:-1, :-1], corner[1:, :-1], corner[:-1, 1:], corner[1:, 1:]
    uv = np.concatenate([np.stack(k, axis=2).reshape(-1, 3, 2) for k in ((a, b, d), (a, d, c))])
    return Pieces(face=np.full(len(uv), face), uv=uv)


def test_gauss_points_are_exact_to_the_fourth_degree() -> None:
    # side of the box: x = 60 u, z = 7 v, y = 6; hand: integral of x^i z^j = 60^(i+1) 7^(j+1) / ((i+1)(j+1))
    side = grid_pieces(0, 1)
    for i in range(5):
        for j in range(5 - i):
            total = integrate(
                BOX, side.face, side.uv, lambda p, n, i=i, j=j: (p[:, 0] ** i * p[:, 2] ** j * n[:, 1])[:, None]
            )
            hand = 60.0 ** (i + 1) * 7.0 ** (j + 1) / ((i + 1) * (j + 1))
            assert total.sum() == pytest.approx(hand, rel=1e-13)


def test_a_curved_cut_converges_with_the_fourth_power() -> None:
    # hand: half ellipsoid a 40, b 8, c 6 filled to h = 4: V = pi a b (h^2/c)(1 - h/(3c)), half of it on the port side
    exact = np.pi * 40 * 8 * (16 / 6) * (1 - 4 / 18) / 2
    level = WaterLevel.even_keel(4.0)
    errors = []
    for n in (8, 16, 32):
        pieces = grid_pieces(0, n)
        cut = clip_below(ELLIPSOID, pieces, level)

        def flux(p: np.ndarray, a: np.ndarray) -> np.ndarray:
            return (p[:, 1] * a[:, 1])[:, None]

        total = integrate(ELLIPSOID, pieces.face[cut.whole], pieces.uv[cut.whole], flux).sum()
        total += integrate(ELLIPSOID, cut.face, cut.uv, flux, cut.middle).sum()
        errors.append(abs(total / exact - 1.0))
    orders = np.log2(np.array(errors[:-1]) / np.array(errors[1:]))
    assert np.all(orders > 3.0), orders
    assert errors[-1] < 1e-6


def test_splitting_at_planes_keeps_the_area() -> None:
    pieces = ELLIPSOID.pieces()
    untouched, parts = split_at(ELLIPSOID, pieces, (20.0, 33.3))

    def size(p: np.ndarray, a: np.ndarray) -> np.ndarray:
        return np.linalg.norm(a, axis=1)[:, None]

    whole = integrate(ELLIPSOID, pieces.face, pieces.uv, size).sum()
    kept = integrate(ELLIPSOID, pieces.face[untouched], pieces.uv[untouched], size).sum()
    assert kept < whole
    assert kept + integrate(ELLIPSOID, parts.face, parts.uv, size).sum() == pytest.approx(whole, rel=1e-7)
    x = ELLIPSOID.points(np.repeat(parts.face, 3), parts.uv.reshape(-1, 2))[:, 0].reshape(-1, 3)
    for plane in (20.0, 33.3):
        assert np.all((x.min(axis=1) >= plane - 1e-8) | (x.max(axis=1) <= plane + 1e-8))


def test_area_between_two_levels_of_a_box_by_hand() -> None:
    # hand: side 10 m x (4 - (1 + x/60 averaged over 20..30 -> 1.416667)) = 10 * 2.583333
    low = WaterLevel((0.0, 60.0), (1.0, 2.0))
    bounds = [
        WaterLevel.even_keel(4.0),
        negated(low),
        PlaneLevel(normal=(1.0, 0.0, 0.0), offset=30.0),
        PlaneLevel(normal=(-1.0, 0.0, 0.0), offset=-20.0),
    ]
    found = shell_area(BOX, bounds)
    assert found.area_m2 == pytest.approx(25.8333333333, rel=1e-10)
    # hand: centre height = (16 - mean of low^2)/2 / (4 - mean low); mean low^2 = 1.416667^2 + (1/6)^2/12
    mean = 1.4166666667
    assert found.centre_m[2] == pytest.approx((16 - mean**2 - (1 / 6) ** 2 / 12) / 2 / (4 - mean), rel=1e-8)
    assert found.centre_m[1] == pytest.approx(6.0)


def test_all_of_a_box_by_hand_and_an_empty_piece() -> None:
    assert shell_area(BOX, []).area_m2 == pytest.approx(60 * 7 + 60 * 6 + 2 * 6 * 7)
    nothing = shell_area(BOX, [WaterLevel.even_keel(-1.0)])
    assert nothing.area_m2 == 0.0
    assert np.isnan(nothing.centre_m).all()
    assert clipped_pieces(BOX, [WaterLevel.even_keel(-1.0), WaterLevel.even_keel(4.0)]).face.size == 0


def test_parts_sum_to_the_whole() -> None:
    level = WaterLevel((0.0, 40.0, 80.0), (3.0, 4.0, 3.5))
    total = shell_area(ELLIPSOID, []).area_m2
    parts = shell_area(ELLIPSOID, [level]).area_m2 + shell_area(ELLIPSOID, [negated(level)]).area_m2
    assert parts == pytest.approx(total, rel=1e-9)


def test_sampled_panels_of_a_cylinder() -> None:
    # hand: quarter of a cylinder radius 2, length 3: area 3 pi; centre of the arc 2 * 2/pi from both planes
    angle = np.linspace(0.0, np.pi / 2, 9)
    x = np.linspace(0.0, 3.0, 3)
    grid = np.stack(np.broadcast_arrays(x[:, None], 2 * np.sin(angle)[None, :], -2 * np.cos(angle)[None, :]), axis=-1)[
        None
    ]
    area, centre = sampled_areas(grid)
    assert area[0] == pytest.approx(3 * np.pi, rel=1e-5)
    np.testing.assert_allclose(centre[0], [1.5, 4 / np.pi, -4 / np.pi], rtol=2e-5)
    even, _ = sampled_areas(grid[:, :2, :])
    assert even[0] == pytest.approx(1.5 * np.pi, rel=5e-3)


def test_panel_points_of_the_wrong_shape_are_refused() -> None:
    with pytest.raises(InputError, match="panel points"):
        sampled_areas(np.zeros((3, 1, 4, 3)))


def test_many_roots_at_once() -> None:
    wanted = np.linspace(0.01, 0.99, 50)
    found = bracketed_root(lambda x, rows: x**3 - wanted[rows], -wanted, 1.0 - wanted)
    np.testing.assert_allclose(found, np.cbrt(wanted), atol=1e-11)
    ends = bracketed_root(lambda x, rows: x, np.array([0.0, -2.0]), np.array([1.0, 0.0]))
    assert ends.tolist() == [0.0, 1.0]
