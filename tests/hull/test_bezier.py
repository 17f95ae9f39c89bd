"""Exact evaluation: second method is SciPy's own tensor spline; circles and errors by hand."""

from __future__ import annotations

import numpy as np
import pytest
from scipy.interpolate import NdBSpline
from tests.hull import closed_form as cf

from beltwright.core.errors import InputError
from beltwright.hull.bezier import BezierCells
from beltwright.hull.patch import SplinePatch


def random_patch(
    rng: np.random.Generator, counts: tuple[int, int], degrees: tuple[int, int], *, clamped: bool, rational: bool
) -> SplinePatch:
    """Return a patch with random poles and uneven knots, one of them double where there is room."""
    knots = []
    for n, p in zip(counts, degrees, strict=True):
        k = np.sort(rng.uniform(-2.0, 3.0, n + p + 1))
        if clamped:
            k[: p + 1], k[-p - 1 :] = -2.0, 3.0
        if n > p + 3:
            k[p + 2] = k[p + 1]
        knots.append(k)
    return SplinePatch(
        poles=rng.random((*counts, 3)),
        weights=rng.uniform(0.5, 2.0, counts) if rational else None,
        knots_u=knots[0],
        knots_v=knots[1],
        degree_u=degrees[0],
        degree_v=degrees[1],
    )


def test_positions_and_slopes_agree_with_scipy_on_mixed_faces() -> None:
    rng = np.random.default_rng(3)
    patches = [
        random_patch(rng, (20, 9), (3, 3), clamped=True, rational=False),
        random_patch(rng, (9, 8), (2, 4), clamped=False, rational=False),
        random_patch(rng, (2, 2), (1, 1), clamped=True, rational=False),
        random_patch(rng, (9, 7), (3, 3), clamped=True, rational=True),
    ]
    cells = BezierCells(patches)
    face = rng.integers(0, len(patches), 3000)
    u0, u1, v0, v1 = cells.domain(face)
    share = rng.random((3000, 2))
    uv = np.stack([u0 + (u1 - u0) * share[:, 0], v0 + (v1 - v0) * share[:, 1]], axis=1)
    p, su, sv = cells.slopes(face, uv)
    assert np.array_equal(p, cells.points(face, uv))
    for i, patch in enumerate(patches):
        rows = face == i
        w = np.ones(patch.poles.shape[:2]) if patch.weights is None else patch.weights
        homogeneous = np.concatenate([patch.poles * w[..., None], w[..., None]], axis=-1)
        spline = NdBSpline((patch.knots_u, patch.knots_v), homogeneous, (patch.degree_u, patch.degree_v))
        h = spline(uv[rows])
        hu, hv = spline(uv[rows], nu=(1, 0)), spline(uv[rows], nu=(0, 1))
        x = h[:, :3] / h[:, 3:]
        np.testing.assert_allclose(p[rows], x, atol=1e-13)
        np.testing.assert_allclose(su[rows], (hu[:, :3] - x * hu[:, 3:]) / h[:, 3:], rtol=1e-10, atol=1e-10)
        np.testing.assert_allclose(sv[rows], (hv[:, :3] - x * hv[:, 3:]) / h[:, 3:], rtol=1e-10, atol=1e-10)


def test_rational_arcs_lie_on_the_ellipsoid() -> None:
    hull = cf.half_ellipsoid()
    rng = np.random.default_rng(0)
    p = BezierCells(hull.patches).points(np.zeros(500, dtype=np.int64), rng.random((500, 2)))
    a, b, c = hull.length_m / 2, hull.breadth_m / 2, hull.draught_m
    radius = ((p[:, 0] - a) / a) ** 2 + (p[:, 1] / b) ** 2 + ((p[:, 2] - c) / c) ** 2
    np.testing.assert_allclose(radius, 1.0, atol=1e-14)


@pytest.mark.parametrize(
    ("change", "message"),
    [
        ({"knots_u": np.array([0.0, 0.0, 1.0])}, "knot count in u"),
        ({"knots_v": np.array([0.0, 1.0, 0.0, 1.0])}, "knots in v do not rise"),
        ({"knots_v": np.zeros(4)}, "knots in v do not rise"),
        ({"poles": np.full((2, 2, 3), np.nan)}, "not a finite number"),
        ({"weights": np.array([[1.0, 1.0], [0.0, 1.0]])}, "weight is not a positive number"),
    ],
)
def test_a_patch_that_does_not_fit_together_is_named(change: dict[str, np.ndarray], message: str) -> None:
    good: dict[str, object] = {
        "poles": np.zeros((2, 2, 3)),
        "knots_u": np.array([0.0, 0.0, 1.0, 1.0]),
        "knots_v": np.array([0.0, 0.0, 1.0, 1.0]),
        "degree_u": 1,
        "degree_v": 1,
        "name": "F7",
    }
    BezierCells([SplinePatch(**good)])  # type: ignore[arg-type]
    with pytest.raises(InputError, match=f"F7.*{message}"):
        BezierCells([SplinePatch(**(good | change))])  # type: ignore[arg-type]
