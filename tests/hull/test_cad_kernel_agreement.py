"""Second method: positions and normals of the CAD kernel itself, on rational and plain patches, equal to 1e-9."""

from __future__ import annotations

import numpy as np
import pytest
from tests.hull import closed_form as cf

from beltwright.hull.spline_shell import SplineShell

kernel = pytest.importorskip("bench._cad_kernel")


@pytest.mark.parametrize("hull", cf.all_hulls(), ids=lambda h: h.name)
def test_normals_equal_the_kernels(hull: cf.AnalyticHull) -> None:
    shell = SplineShell(hull.patches)
    rng = np.random.default_rng(8)
    for face, patch in enumerate(shell.patches):
        surface = kernel.kernel_surface(patch)
        uv = rng.uniform(0.02, 0.98, (20, 2))
        normal = shell.normals(np.full(20, face), uv)
        points = shell.points(np.full(20, face), uv)
        for k in range(20):
            u, v = float(uv[k, 0]), float(uv[k, 1])
            other = kernel.kernel_normal(surface, u, v)
            assert abs(abs(float(other @ normal[k])) - 1.0) < 1e-12
            assert min(np.linalg.norm(normal[k] - other), np.linalg.norm(normal[k] + other)) < 1e-9
            p = surface.Value(u, v)
            np.testing.assert_allclose(points[k], [p.X(), p.Y(), p.Z()], atol=1e-9)
