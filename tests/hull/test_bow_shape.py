"""Bow length, bow waterline area and angles at a half-breadth: closed forms, and a second way on a real bow."""

from __future__ import annotations

import numpy as np
import pytest
from scipy.optimize import brentq
from tests.hull import closed_form as cf
from tests.scantlings import ships

from beltwright.core.errors import InputError
from beltwright.hull.bow_shape import bow_area_m2, place_at_half_breadth
from beltwright.hull.levels import WaterLevel
from beltwright.hull.spline_shell import SplineShell
from beltwright.hull.waterline import Waterline, waterline

BARGE = cf.wedge_barge()
LINE = waterline(SplineShell(BARGE.patches), WaterLevel.even_keel(4.0))
SMALL = waterline(ships.measured().shell, WaterLevel((0.0, 47.5), (3.4, 3.2), "trimmed"))


def test_a_wedge_bow() -> None:
    """kind: hand. Stem at 60 + 4 tan 35 / tan 25 = 66.0064 m; bow 6 / tan 25 = 12.8670 m; triangle 12 x 12.867 / 2."""
    assert LINE.stem_x_m == pytest.approx(66.00640, abs=1e-5)
    assert LINE.stem_x_m == pytest.approx(BARGE.stem_x_m(4.0), abs=1e-9)
    assert LINE.side_borders(0.0).fore_x_m == pytest.approx(66.00640 - 12.86704, abs=1e-5)
    assert bow_area_m2(LINE, LINE.stem_x_m - 12.86704) == pytest.approx(0.5 * 12.0 * 12.86704, rel=1e-6)
    place = place_at_half_breadth(LINE, 3.0)  # B/4: half way along the wedge
    assert place.x_m == pytest.approx(66.00640 - 0.5 * 12.86704, abs=1e-5)
    assert (place.y_m, place.z_m) == pytest.approx((3.0, 4.0), abs=1e-9)
    assert place.angles.alpha_deg[0] == pytest.approx(25.0, abs=1e-9)
    assert place.angles.gamma_deg[0] == pytest.approx(33.6619, abs=1e-4)  # atan(tan 25 / tan 35)


def test_part_of_the_wedge_and_the_whole_waterplane() -> None:
    """kind: hand. A quarter of the triangle's area in its fore half; bow, parallel side and stern add up."""
    half = LINE.stem_x_m - 0.5 * 12.86704
    assert bow_area_m2(LINE, half) == pytest.approx(0.25 * 0.5 * 12.0 * 12.86704, rel=1e-6)
    stern = 6.0 / np.tan(np.radians(20.0))
    whole = 12.0 * (0.5 * 12.86704 + 66.00640 - 12.86704 - stern + 0.5 * stern)
    assert bow_area_m2(LINE, LINE.aft_end_x_m) == pytest.approx(whole, rel=1e-6)


@pytest.mark.parametrize("x_m", [66.1, -0.1, float("nan")])
def test_a_place_off_the_waterline_is_refused(x_m: float) -> None:
    with pytest.raises(InputError, match="no waterline at this position"):
        bow_area_m2(LINE, x_m)


@pytest.mark.parametrize("wide_m", [6.01, float("nan")])
def test_a_width_that_is_not_there_is_refused(wide_m: float) -> None:
    with pytest.raises(InputError, match=r"is nowhere so wide on one side; found .*; allowed: at most 6\.000 m"):
        place_at_half_breadth(LINE, wide_m)


def test_the_greatest_width_and_the_stem_itself() -> None:
    assert place_at_half_breadth(LINE, 6.0).x_m == pytest.approx(66.00640 - 12.86704, abs=1e-5)
    assert place_at_half_breadth(LINE, 0.0).x_m == pytest.approx(66.00640, abs=1e-5)


def test_a_real_bow_by_half_breadths_alone() -> None:
    """kind: second-method. Half-breadths asked one by one: area by Simpson's rule, angles by differences of them."""
    aft = SMALL.side_borders().fore_x_m
    x = np.linspace(aft, SMALL.stem_x_m - 1e-9, 2001)
    y = SMALL.half_breadth(x)
    simpson = np.sum((x[2::2] - x[:-2:2]) / 6.0 * (y[:-2:2] + 4.0 * y[1::2] + y[2::2]))
    assert bow_area_m2(SMALL, aft) == pytest.approx(2.0 * simpson, rel=1e-5)
    quarter = 0.25 * ships.FORM.beam_m
    place = place_at_half_breadth(SMALL, quarter)
    found = brentq(lambda at: _half(SMALL, at) - quarter, aft, SMALL.stem_x_m - 1e-6, xtol=1e-12)
    assert place.x_m == pytest.approx(found, abs=1e-5)
    step = 1e-3  # slopes of the half-breadth along and up, on level waterlines through the place
    level = WaterLevel.even_keel(place.z_m)
    across = _at(level, found + step) - _at(level, found - step)
    up = _at(level.raised(step), found) - _at(level.raised(-step), found)
    assert place.angles.alpha_deg[0] == pytest.approx(np.degrees(np.arctan(-across / (2 * step))), abs=1e-3)
    assert place.angles.gamma_deg[0] == pytest.approx(np.degrees(np.arctan(-across / up)), abs=1e-3)


def _half(line: Waterline, x: float) -> float:
    return float(line.half_breadth(np.array([x]))[0])


def _at(level: WaterLevel, x: float) -> float:
    """The outermost half-breadth of the small hull at one place of a level."""
    found = SMALL.shell.crossings(np.array([x]), level.height(np.array([x])))
    return float(found.at.points[:, 1].max())
