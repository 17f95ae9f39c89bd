"""Waterline outlines: ends, side borders, angles along them, and what is refused or named."""

from __future__ import annotations

import numpy as np
import pytest
from scipy.interpolate import make_interp_spline
from tests.hull import closed_form as cf
from tests.hull import shapes

from beltwright.core.errors import InputError
from beltwright.core.outcome import NotApplicable
from beltwright.hull import codes
from beltwright.hull.levels import WaterLevel
from beltwright.hull.patch import SplinePatch
from beltwright.hull.spline_shell import SplineShell
from beltwright.hull.waterline import AlphaCrossing, Waterline, waterline

HULLS = {h.name: h for h in cf.all_hulls()}
SHELLS = {name: SplineShell(h.patches) for name, h in HULLS.items()}


def kinds(line: Waterline) -> set[str]:
    """Return the codes of a waterline's findings."""
    return {f.kind.code for f in line.findings}


@pytest.mark.parametrize("name", HULLS)
def test_ends_and_breadth_of_the_closed_forms(name: str) -> None:
    hull = HULLS[name]
    line = waterline(SHELLS[name], WaterLevel.even_keel(hull.draught_m))
    assert line.stem_x_m == pytest.approx(hull.length_m, abs=1e-9)
    assert line.aft_end_x_m == pytest.approx(0.0, abs=1e-9)
    assert line.extreme_length_m == pytest.approx(hull.length_m, abs=1e-9)
    assert 2 * line.greatest_half_breadth_m == pytest.approx(hull.breadth_m, abs=1e-5)
    assert line.points[0, 0] >= line.points[-1, 0]
    assert codes.OPEN_TRANSOM.code not in kinds(line)


@pytest.mark.parametrize("name", HULLS)
@pytest.mark.parametrize("broken", [False, True])
def test_breadth_and_alpha_along_it_are_exact(name: str, broken: bool) -> None:
    hull = HULLS[name]
    t, length = hull.draught_m, hull.length_m
    level = WaterLevel((0.0, 0.4 * length, length), (0.9 * t, 0.8 * t, 0.95 * t))
    if not broken:
        level = WaterLevel((0.0, length), (0.9 * t, 0.95 * t))
    line = waterline(SHELLS[name], level)
    x = np.linspace(0.1, 0.9, 17) * length
    np.testing.assert_allclose(line.half_breadth(x), hull.half_breadth(x, level.height(x)), atol=1e-8)
    normal = hull.normal(x, level.height(x))
    np.testing.assert_allclose(line.alpha(x), np.degrees(np.arctan2(normal[:, 0], normal[:, 1])), atol=1e-6)
    # every vertex lies on the level and on the hull; the chords lie within the stated 2 micrometres
    p = line.points
    assert np.max(np.abs(level(p))) < 1e-9
    inner = (p[:-1, 0] < 0.99 * length) & (p[1:, 0] > 0.01 * length) & (line.at.face[1:] == line.at.face[:-1])
    middle = 0.5 * (p[:-1] + p[1:])[inner]
    exact = hull.half_breadth(middle[:, 0], level.height(middle[:, 0]))
    on_side = np.abs(np.diff(p[:, 0])[inner]) > 1e-6
    assert np.max(np.abs(middle[:, 1] - exact)[on_side], initial=0.0) < 5e-6


def test_side_borders_of_a_parabola_by_hand() -> None:
    # hand: y = 5 (1 - s^2), s = (x - 50)/50: within 1 mm where |s| < sqrt(0.0002) -> 50 +- 0.70711
    line = waterline(SHELLS["wigley"], WaterLevel.even_keel(6.25))
    for mm in (0.1, 1.0, 10.0):
        border = line.side_borders(mm)
        half = 50 * np.sqrt(mm / 1000 / 5)
        assert border.fore_x_m == pytest.approx(50 + half, abs=0.02)
        assert border.aft_x_m == pytest.approx(50 - half, abs=0.02)
    fore = [s.fore_x_m for s in line.sensitivity()]
    assert fore == sorted(fore)
    assert kinds(line) == {codes.NO_PARALLEL_SIDE.code}
    assert "10 mm: x 52.24 to 47.76 m" in line.findings[0].message


def test_a_box_has_a_parallel_side_over_its_length() -> None:
    line = waterline(SHELLS["box"], WaterLevel.even_keel(4.0))
    border = line.side_borders()
    assert (border.fore_x_m, border.aft_x_m) == pytest.approx((60.0, 0.0))
    assert kinds(line) == set()


def test_alpha_crossing_of_a_parabola_by_hand() -> None:
    # hand: y' = -0.2 s; tan 10 deg = 0.176327 -> s = 0.881635 -> x = 94.081745
    line = waterline(SHELLS["wigley"], WaterLevel.even_keel(6.25))
    found, finding = line.alpha_crossing(10.0, stem_rounding_m=0.5)
    assert isinstance(found, AlphaCrossing)
    assert found.x_m == pytest.approx(94.0817452, abs=1e-6)
    assert found.count == 1
    assert finding is None
    steep, _ = line.alpha_crossing(12.0)  # greatest angle is atan 0.2 = 11.31 degrees
    assert isinstance(steep, NotApplicable)
    assert "11.31" in steep.reason


def test_a_rounded_stem_is_passed_over() -> None:
    # the ellipse's end is round: close to its tip the angle is 90 degrees and falls through every value
    line = waterline(SHELLS["half ellipsoid"], WaterLevel.even_keel(6.0))
    plain, _ = line.alpha_crossing(60.0)
    outside, _ = line.alpha_crossing(60.0, stem_rounding_m=2.0)
    assert isinstance(plain, AlphaCrossing)
    assert isinstance(outside, NotApplicable)


def test_several_crossings_of_an_angle_are_named() -> None:
    # y' = -4 (t - 1/3)(t - 2/3)... built as a cubic: angle falls, rises and falls again going aft
    t = np.array([0.0, 1 / 3, 2 / 3, 1.0])
    y = np.array([0.0, 4.5, 3.2, 7.0])  # Bernstein coefficients from the stem aft
    poles = np.array([[[60 - 60 * a, b, z] for z in (0.0, 8.0)] for a, b in zip(t, y, strict=True)])
    line = waterline(SplineShell([cf.bezier(poles)]), WaterLevel.even_keel(4.0))
    slope = 3 * np.array([4.5, -1.3, 3.8]) / 60  # Bernstein coefficients of dy/dt / 60
    s = np.linspace(0, 1, 200001)
    angle = np.degrees(np.arctan(slope[0] * (1 - s) ** 2 + 2 * slope[1] * s * (1 - s) + slope[2] * s**2))
    falls = np.flatnonzero((angle[:-1] > 5.0) & (angle[1:] <= 5.0))
    assert falls.size == 1  # falls once and rises again: only the fall counts
    found, finding = line.alpha_crossing(5.0)
    assert isinstance(found, AlphaCrossing)
    assert found.x_m == pytest.approx(60 - 60 * s[falls[0]], abs=1e-3)
    assert finding is None


def test_a_wave_of_angles_gets_a_finding() -> None:
    x = np.linspace(0.0, 60.0, 61)
    angle = 10.0 + 6.0 * np.cos(2 * np.pi * (60.0 - x) / 25.0)
    spline = make_interp_spline(x, np.tan(np.radians(angle)), k=3).antiderivative()
    width = spline(60.0) - spline(x)
    curve = make_interp_spline(x, width, k=3)
    poles = np.stack(
        [np.stack([make_interp_spline(x, x, k=3).c, curve.c, np.full(61, z)], axis=-1) for z in (0.0, 8.0)], 1
    )

    patch = SplinePatch(poles=poles, knots_u=curve.t, knots_v=np.array([0.0, 0.0, 1.0, 1.0]), degree_u=3, degree_v=1)
    line = waterline(SplineShell([patch]), WaterLevel.even_keel(4.0))
    found, finding = line.alpha_crossing(10.0)
    assert isinstance(found, AlphaCrossing)
    assert found.count >= 2
    assert found.x_m == pytest.approx(60.0 - 6.25, abs=0.01)  # cos = 0 a quarter wave aft of the stem
    assert finding is not None
    assert finding.kind is codes.ALPHA_CROSSED_AGAIN


def test_an_open_transom_is_named_and_an_open_bow_refused() -> None:
    flared = HULLS["flared"]
    line = waterline(SplineShell([flared.patches[0]]), WaterLevel.even_keel(5.0))
    assert codes.OPEN_TRANSOM.code in kinds(line)
    side_of_box = SplineShell([HULLS["box"].patches[0]])
    with pytest.raises(InputError, match=r"open at the bow.*6 m from the centre plane"):
        waterline(side_of_box, WaterLevel.even_keel(4.0))


def test_a_wide_gap_is_an_open_waterline_and_says_where() -> None:
    lower, upper = HULLS["wigley"].patches
    shell = SplineShell((*shapes.gapped(lower, 3, 1, 0.2), upper))
    with pytest.raises(InputError, match=r"open.*another piece begins at x"):
        waterline(shell, WaterLevel.even_keel(5.0))


def test_a_level_off_the_hull_names_its_value() -> None:
    with pytest.raises(InputError, match=r"does not reach the upper level \(9.250 m\)"):
        waterline(SHELLS["box"], WaterLevel.even_keel(9.25, "upper level"))


def test_a_self_crossing_outline_is_refused() -> None:
    # a cubic from the stem that loops over itself, upright
    strongly = np.array([[40.0, 0.0], [-60.0, 20.0], [100.0, 20.0], [0.0, 0.0]])
    poles = np.array([[[x, y, z] for z in (0.0, 8.0)] for x, y in strongly])
    with pytest.raises(InputError, match="crosses itself"):
        waterline(SplineShell([cf.bezier(poles)]), WaterLevel.even_keel(4.0))


def test_a_bulb_ahead_is_an_island_and_does_not_move_the_stem() -> None:
    patches, (x, z, a, _) = shapes.bulb_ahead_of_stem()
    line = waterline(SplineShell(patches), WaterLevel.even_keel(z))
    assert codes.WATERLINE_ISLANDS.code in kinds(line)
    (island,) = line.islands
    assert island.at.points[:, 0].max() == pytest.approx(x + a, abs=1e-6)
    wedge = HULLS["wedge"]
    stem = 20.0 + z * np.tan(np.radians(30.0)) / np.tan(np.radians(20.0))
    assert line.stem_x_m == pytest.approx(stem, abs=1e-9)
    assert wedge.length_m > stem


def test_a_demihull_off_the_centre_plane_is_refused() -> None:
    hull = shapes.ellipsoid_patch((40.0, 8.0, 5.0), (40.0, 3.0, 5.0), (0.0, -np.pi / 2, -np.pi), "demihull")
    with pytest.raises(InputError, match="closes on itself without meeting"):
        waterline(SplineShell([hull]), WaterLevel.even_keel(3.0))


def test_an_angle_that_is_never_reached_or_falls_at_a_knuckle() -> None:
    wedge = waterline(SplineShell([HULLS["wedge"].patches[0]]), WaterLevel.even_keel(4.0))
    found, _ = wedge.alpha_crossing(10.0)
    assert isinstance(found, NotApplicable)
    assert "stays above 10 degrees" in found.reason
    # two upright walls: 25 degrees from the stem at x = 40 to x = 30, then 5 degrees to x = 0
    y1 = 10 * np.tan(np.radians(25.0))
    y2 = y1 + 30 * np.tan(np.radians(5.0))
    walls = (
        cf.quad([30, y1, 0], [40, 0, 0], [30, y1, 8], [40, 0, 8], "fore"),
        cf.quad([0, y2, 0], [30, y1, 0], [0, y2, 8], [30, y1, 8], "aft"),
    )
    found, _ = waterline(SplineShell(walls), WaterLevel.even_keel(4.0)).alpha_crossing(10.0)
    assert isinstance(found, AlphaCrossing)
    assert found.at_knuckle
    assert found.x_m == pytest.approx(30.0, abs=1e-9)


def test_more_than_one_half_breadth_is_a_finding() -> None:
    patches, _ = shapes.twin_skeg()
    shell = SplineShell(patches)
    line = waterline(shell, WaterLevel.even_keel(4.0))
    rows, at, finding = line.places(np.array([10.0, 30.0]))
    assert rows.tolist() == [0, 1]
    assert finding is None
    low = waterline(shell, WaterLevel.even_keel(2.5))
    object.__setattr__(low.level, "height_m", (1.0,))
    rows, at, finding = low.places(np.array([10.0, 30.0]))
    assert rows.tolist() == [0]
    assert at.points[0, 1] == pytest.approx(3.0)
    assert finding is not None
    assert finding.kind.code == codes.HALF_BREADTH_MANY.code


def test_a_position_off_the_hull_is_refused() -> None:
    line = waterline(SHELLS["box"], WaterLevel.even_keel(4.0))
    with pytest.raises(InputError, match=r"no hull at this position.*60.5 m from AP.*0.000 to 60.000 m"):
        line.half_breadth(np.array([30.0, 60.5]))
