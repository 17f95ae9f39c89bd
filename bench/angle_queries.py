"""Hull angles at (x, z) on a spline hull: lines met with the exact surface by many Newton iterations at once.

The plain ways are the same query one line at a time, and the CAD kernel's general projection of a point followed by
its own derivatives. The bench first checks that the normals equal the kernel's to 1e-9.
"""

from __future__ import annotations

import sys

import numpy as np

from _cad_kernel import kernel_normal, kernel_projection, kernel_surface
from _harness import function_seconds, show
from beltwright.core.units import FloatArray
from beltwright.hull.angles import HullAngles, hull_angles
from beltwright.hull.forms.build import hull_patches
from beltwright.hull.forms.demo import QUILLAN_FROSTMARK
from beltwright.hull.spline_shell import SplineShell

COUNT, LOOP, PROJECTED = 100_000, 200, 60
BUDGET_PER_S = 100_000


def angles(shell: SplineShell, x: FloatArray, z: FloatArray) -> HullAngles:
    """Meet the lines with the hull and take the hull angles there."""
    at = shell.crossings(x, z).at
    return hull_angles(shell.normals(at.face, at.uv))


def main() -> None:
    """Check against the kernel, then time the three ways."""
    patches = hull_patches(QUILLAN_FROSTMARK)
    shell = SplineShell(patches)
    rng = np.random.default_rng(1)
    x, z = rng.uniform(20.0, 90.0, COUNT), rng.uniform(5.0, 9.0, COUNT)
    at = shell.crossings(x, z).at
    normal = shell.normals(at.face, at.uv)
    surfaces = [kernel_surface(p) for p in shell.patches]
    sample = np.flatnonzero(at.points[:, 1] > 0.1)[:PROJECTED]
    worst = 0.0
    for k in sample:
        other = kernel_normal(surfaces[at.face[k]], float(at.uv[k, 0]), float(at.uv[k, 1]))
        worst = max(worst, float(np.min([np.linalg.norm(normal[k] - s * other) for s in (1.0, -1.0)])))
    print(f"largest difference from the CAD kernel's normals: {worst:.1e}")
    if worst > 1e-9:
        sys.exit("the normals do not agree with the CAD kernel's")

    quick = function_seconds(lambda: angles(shell, x, z), runs=5)
    loop = function_seconds(lambda: [angles(shell, x[k : k + 1], z[k : k + 1]) for k in range(LOOP)], runs=3)

    def projections() -> list[FloatArray]:
        return [
            kernel_normal(surfaces[at.face[k]], *kernel_projection(surfaces[at.face[k]], at.points[k])) for k in sample
        ]

    kernel = function_seconds(projections, runs=3)
    budget = COUNT / BUDGET_PER_S
    show(f"{COUNT:,} angle queries", quick, plain_s=loop / LOOP * COUNT, plain="one line at a time", budget_s=budget,
         count=COUNT)  # fmt: skip
    show("the same", quick, plain_s=kernel / PROJECTED * COUNT, plain="the CAD kernel's projection", count=COUNT)


if __name__ == "__main__":
    main()
