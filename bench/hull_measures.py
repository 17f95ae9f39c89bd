"""What the main job asks of a hull: shell, hydrostatics at two waterlines, two outlines, profile and 500 sections.

The plain way takes the sections one by one. The bench first checks that both ways give the same girths.
"""

from __future__ import annotations

import sys

import numpy as np

from _harness import function_seconds, show
from beltwright.core.units import FloatArray
from beltwright.hull.forms.build import hull_patches
from beltwright.hull.forms.demo import QUILLAN_FROSTMARK
from beltwright.hull.hydrostatics import Floating
from beltwright.hull.levels import WaterLevel
from beltwright.hull.section import sections
from beltwright.hull.spline_shell import SplineShell
from beltwright.hull.stem import profile
from beltwright.hull.waterline import waterline

UPPER, LOWER = WaterLevel.even_keel(7.6, "upper"), WaterLevel((0.0, 95.0), (6.6, 6.2), "lower")
STATIONS, ONE_BY_ONE, BUDGET_S, SECTIONS_BUDGET_S = 500, 25, 1.5, 0.7


def main() -> None:
    """Time each part and the whole."""
    patches = hull_patches(QUILLAN_FROSTMARK)
    shell = SplineShell(patches)
    x: FloatArray = np.linspace(-2.0, 94.0, STATIONS)
    some = x[:: STATIONS // ONE_BY_ONE]
    together = sections(shell, some).girth_total_m
    alone = np.array([sections(shell, some[k : k + 1]).girth_total_m[0] for k in range(some.size)])
    if not np.allclose(together, alone, atol=1e-9):
        sys.exit("sections taken together and one by one differ")

    def whole() -> None:
        hull = SplineShell(patches)
        floating = Floating(hull)
        for level in (UPPER, LOWER):
            floating.at(level)
            waterline(hull, level)
        profile(hull).stem_point(UPPER)
        sections(hull, x)

    show("shell from patches", function_seconds(lambda: SplineShell(patches)))
    show("hydrostatics, first level", function_seconds(lambda: Floating(shell).at(UPPER)))
    show("waterline outline", function_seconds(lambda: waterline(shell, UPPER)))
    one = function_seconds(lambda: [sections(shell, some[k : k + 1]) for k in range(some.size)], runs=3)
    many = function_seconds(lambda: sections(shell, x))
    plain = one / some.size * STATIONS
    what = f"{STATIONS} sections with girth"
    show(what, many, plain_s=plain, plain="one by one", budget_s=SECTIONS_BUDGET_S, count=STATIONS)
    show("all of it", function_seconds(whole, runs=3), budget_s=BUDGET_S)


if __name__ == "__main__":
    main()
