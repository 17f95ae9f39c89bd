"""Transverse sections, true girth, shell expansion and the centreline profile, by hand on closed-form hulls."""

from __future__ import annotations

import numpy as np
import pytest
from tests.hull import closed_form as cf
from tests.hull import shapes

from beltwright.core.errors import InputError
from beltwright.core.outcome import NotApplicable
from beltwright.hull import codes
from beltwright.hull.expansion import expanded, expanded_lines
from beltwright.hull.levels import WaterLevel
from beltwright.hull.section import Sections, sections
from beltwright.hull.spline_shell import SplineShell
from beltwright.hull.stem import profile

HULLS = {h.name: h for h in cf.all_hulls()}
SHELLS = {name: SplineShell(h.patches) for name, h in HULLS.items()}


def ellipse_girth(x: float) -> float:
    """Return the girth of the half ellipsoid's section up to z = 9 by fine summation of its own parametric form."""
    share = np.sqrt(1.0 - ((x - 40.0) / 40.0) ** 2)
    t = np.linspace(0.0, np.pi / 2, 400_001)
    y, z = 8.0 * share * np.sin(t), -6.0 * share * np.cos(t)
    return float(np.sum(np.hypot(np.diff(y), np.diff(z)))) + 3.0


@pytest.mark.parametrize("name", HULLS)
def test_sections_run_from_the_keel_outward_and_up(name: str) -> None:
    hull = HULLS[name]
    table = sections(SHELLS[name], np.linspace(0.05, 0.9, 11) * hull.length_m)
    assert table.empty.size == 0
    assert table.findings == ()
    for k in range(11):
        (main,) = table.curves_of(k)
        p = table.at.points[main]
        assert p[0, 1] == pytest.approx(0.0, abs=1e-9)
        assert p[0, 2] == pytest.approx(p[:, 2].min(), abs=1e-9)
        assert p[-1, 2] == pytest.approx(hull.depth_m, abs=1e-9)
        assert np.all(np.diff(table.girth_m[main]) >= 0.0)
        assert table.girth_m[main][0] == 0.0


def test_girth_is_the_arc_not_the_chord() -> None:
    x = np.array([10.0, 40.0, 65.0])
    table = sections(SHELLS["half ellipsoid"], x)
    np.testing.assert_allclose(table.girth_total_m, [ellipse_girth(v) for v in x], atol=3e-6)
    chords = [np.sum(np.linalg.norm(np.diff(table.at.points[s], axis=0), axis=1)) for s in
              (table.curves_of(k)[0] for k in range(3))]  # fmt: skip
    assert np.all(table.girth_total_m > np.array(chords) + 1e-5)


def test_girth_of_the_box_and_of_flared_frames_by_hand() -> None:
    assert sections(SHELLS["box"], np.array([30.0])).girth_total_m[0] == pytest.approx(13.0, abs=1e-12)
    # flared at x = 35: b = 7 (1 - 0.125) = 6.125; bottom 0.6 b = 3.675, side hypot(0.4 b, 8) = hypot(2.45, 8)
    found = sections(SHELLS["flared"], np.array([35.0])).girth_total_m[0]
    assert found == pytest.approx(3.675 + np.hypot(2.45, 8.0), abs=1e-9)


@pytest.mark.parametrize("name", HULLS)
def test_places_at_heights_are_exact_and_found_again_by_girth(name: str) -> None:
    hull = HULLS[name]
    table = sections(SHELLS[name], np.linspace(0.2, 0.8, 9) * hull.length_m)
    z = np.array([0.7, 0.45]) * hull.draught_m
    found = table.at_heights(z)
    p = found.at.points
    assert len(p) == 18
    assert found.main.all()
    np.testing.assert_allclose(p[:, 0], table.x_m[found.section], atol=1e-9)
    np.testing.assert_allclose(p[:, 2], z[found.column], atol=1e-9)
    np.testing.assert_allclose(p[:, 1], hull.half_breadth(p[:, 0], p[:, 2]), atol=1e-8)
    again = table.at_girth(found.section, found.girth_m)
    np.testing.assert_allclose(again.at.points, p, atol=5e-6)
    girth, away = table.girth_of(found.section, p)
    np.testing.assert_allclose(girth, found.girth_m, atol=5e-5)
    assert np.max(away) < 0.003  # chord height of the section's vertices


def test_half_breadths_on_tumblehome_are_met_twice() -> None:
    # hand: half-breadth at midships 6 (0.75 + t - t^2), t = z/8; 5.5 at t - t^2 = 1/6 -> t = 0.21132, 0.78868
    shell = SplineShell(shapes.tumblehome())
    table = sections(shell, np.array([30.0]))
    found = table.at_half_breadths(np.array([5.5, 2.0]))
    side = found.at.points[found.column == 0]
    np.testing.assert_allclose(np.sort(side[:, 2]), [8 * 0.2113249, 8 * 0.7886751], atol=1e-6)
    bottom = found.at.points[found.column == 1]
    np.testing.assert_allclose(bottom, [[30.0, 2.0, 0.0]], atol=1e-9)


def test_a_skeg_is_met_on_both_its_faces() -> None:
    shell = SplineShell(shapes.twin_skeg()[0])
    table = sections(shell, np.array([10.0, 40.0]))
    found = table.at_heights(np.array([1.0, 3.0]))
    skeg = found.at.points[(found.section == 0) & (found.column == 0)]
    np.testing.assert_allclose(np.sort(skeg[:, 1]), [2.0, 3.0], atol=1e-12)
    assert [f.kind.code for f in table.findings] == [codes.SECTION_PIECES.code]
    assert "1 sections between x = 10.00 and 10.00 m have up to 2 curves" in table.findings[0].message
    side = found.at.points[(found.section == 1) & (found.column == 1)]
    np.testing.assert_allclose(side, [[40.0, 6.0, 3.0]], atol=1e-12)


def test_a_bulb_under_the_overhang_is_a_second_curve() -> None:
    patches, (x, z, _, r) = shapes.bulb_ahead_of_stem()
    table = sections(SplineShell(patches), np.array([x]))
    assert table.curve_section.tolist() == [0, 0]
    main, other = table.curves_of(0)
    assert table.at.points[main, 2].min() > table.at.points[other, 2].min()
    ring = table.at.points[other]
    np.testing.assert_allclose(np.hypot(ring[:, 1], ring[:, 2] - z), r, atol=1e-9)
    assert table.girth_m[other][-1] == pytest.approx(np.pi * r, abs=1e-5)
    assert codes.SECTION_PIECES.code in {f.kind.code for f in table.findings}


def test_a_pod_is_a_closed_curve_measured_from_its_lowest_place() -> None:
    pod = shapes.ellipsoid_patch(
        (10.0, 3.0, 1.0), (3.0, 0.7, 0.7), (-np.pi / 2, -np.pi / 6, np.pi / 3, 5 * np.pi / 6, 3 * np.pi / 2), "pod"
    )
    shell = SplineShell((*shapes.twin_skeg()[0][:4], pod))
    table = sections(shell, np.array([10.0]))
    assert table.curve_closed.tolist() == [False, True]
    ring = table.curves_of(0)[1]
    assert table.at.points[ring][0, 2] == pytest.approx(0.3, abs=1e-3)
    assert table.girth_m[ring][-1] == pytest.approx(2 * np.pi * 0.7, abs=1e-5)
    normal = table.normals[ring]
    np.testing.assert_allclose(normal[:, 1], (table.at.points[ring][:, 1] - 3.0) / 0.7, atol=1e-6)


def test_a_section_off_the_centre_plane_is_named() -> None:
    table = sections(SplineShell([HULLS["box"].patches[0]]), np.array([20.0, 30.0]))
    assert {f.kind.code for f in table.findings} == {codes.SECTION_OFF_CENTRELINE.code}
    assert "2 sections between x = 20.00 and 30.00 m" in table.findings[0].message


def test_sections_off_the_hull_are_empty_and_refuse_girth() -> None:
    table = sections(SHELLS["box"], np.array([-5.0, 30.0]))
    assert table.empty.tolist() == [0]
    assert np.isnan(table.girth_total_m[0])
    with pytest.raises(InputError, match="girth not on this section"):
        table.at_girth(np.array([0]), np.array([1.0]))
    with pytest.raises(InputError, match=r"x = 30.000 m: girth not on this section.*13.5 m; allowed: 0 to 13.000 m"):
        table.at_girth(np.array([1]), np.array([13.5]))
    with pytest.raises(InputError, match="does not meet the hull"):
        table.girth_of(np.array([0]), np.zeros((1, 3)))
    with pytest.raises(InputError, match="not a finite number"):
        sections(SHELLS["box"], np.array([np.nan]))


def test_nothing_but_misses_is_an_empty_table() -> None:
    table: Sections = sections(SHELLS["box"], np.array([99.0]))
    assert table.at.face.size == 0
    assert table.at_heights(np.array([1.0])).section.size == 0


def test_expansion_of_a_box_by_hand() -> None:
    points = np.array([[10.0, 3.0, 0.0], [25.0, 6.0, 2.5], [25.0, 6.0, 7.0]])
    found = expanded(SHELLS["box"], points)
    np.testing.assert_allclose(found.x_m, [10.0, 25.0, 25.0])
    np.testing.assert_allclose(found.girth_m, [3.0, 8.5, 13.0], atol=1e-9)
    assert found.on_main.all()


def test_expansion_says_what_is_off_the_main_curve_or_off_the_hull() -> None:
    shell = SplineShell(shapes.twin_skeg()[0])
    found = expanded(shell, np.array([[10.0, 3.0, 0.5], [10.0, 6.0, 5.0], [70.0, 0.0, 0.0]]))
    assert found.on_main.tolist() == [False, True, False]
    assert np.isnan(found.girth_m[2])
    assert expanded(shell, np.zeros((0, 3))).x_m.size == 0


def test_lines_of_the_expansion_keep_within_a_millimetre_of_all_their_points() -> None:
    # second way: every point's own section; the line at z = 1 of the half ellipsoid ends steeply at both tips
    shell = SHELLS["half ellipsoid"]
    waterline = shell.cut(WaterLevel.even_keel(1.0))[0].at.points
    section = sections(shell, np.array([22.0])).at.points
    found = expanded_lines(shell, [waterline, section[:1], section])
    every = expanded(shell, waterline)
    order, kept = np.argsort(every.x_m), np.argsort(found[0][:, 0])
    drawn = np.interp(every.x_m[order], found[0][kept, 0], found[0][kept, 1])
    assert np.abs(drawn - every.girth_m[order]).max() < 2e-3
    np.testing.assert_allclose(found[1], [[22.0, 0.0]], atol=1e-9)
    np.testing.assert_allclose(found[2][-1], [22.0, ellipse_girth(22.0)], atol=3e-6)
    straight = np.stack([np.linspace(5.0, 45.0, 401), np.full(401, 6.0), np.full(401, 2.5)], axis=1)
    (flat,) = expanded_lines(SHELLS["box"], [straight])
    np.testing.assert_allclose(flat[:, 1], 8.5, atol=1e-9)  # hand: 6.0 + 2.5
    assert len(flat) < 401 / 3
    assert expanded_lines(shell, ()) == ()


def test_lines_of_the_expansion_leave_out_what_is_off_the_main_curve() -> None:
    shell = SplineShell(shapes.twin_skeg()[0])
    line = np.array([[10.0, 3.0, 0.5], [10.0, 6.0, 5.0], [70.0, 0.0, 0.0]])
    (flat,) = expanded_lines(shell, [line])
    np.testing.assert_allclose(flat[:, 0], [10.0])
    assert np.isfinite(flat).all()


def test_the_stem_of_the_wedge_by_hand() -> None:
    # hand: x_s = 20 + z tan 30 / tan 20; angle from horizontal atan(tan 20 / tan 30) = 32.228 degrees
    line = profile(SHELLS["wedge"])
    for z in (1.0, 4.0, 6.5):
        found = line.stem_point(WaterLevel.even_keel(z))
        assert found.x_m == pytest.approx(20.0 + z * np.tan(np.radians(30)) / np.tan(np.radians(20)), abs=1e-8)
        assert found.angle_deg == pytest.approx(32.2279438, abs=1e-6)
    assert line.baseline_x(0.0, 0.0) == pytest.approx(20.0, abs=1e-8)
    assert line.baseline_x() == pytest.approx(20.0 + 0.001 / np.tan(np.radians(32.2279438)), abs=1e-8)


def test_the_stem_of_an_ellipse_by_hand() -> None:
    # hand: z' = -3 of 6: x = 40 + 40 sqrt(0.75) = 74.641; slope dz/dx = -(c^2/a^2) x'/z' = 0.0225 * 34.641/3
    found = profile(SHELLS["half ellipsoid"]).stem_point(WaterLevel.even_keel(3.0))
    assert found.x_m == pytest.approx(74.6410162, abs=1e-6)
    assert found.angle_deg == pytest.approx(np.degrees(np.arctan(0.0225 * 34.6410162 / 3.0)), abs=1e-4)


def test_upright_stems_and_a_profile_above_the_baseline() -> None:
    for name in ("box", "wigley", "flared"):
        found = profile(SHELLS[name]).stem_point(WaterLevel.even_keel(3.0))
        assert found.angle_deg == pytest.approx(90.0, abs=1e-9)
        assert found.x_m == pytest.approx(HULLS[name].length_m)
    high = profile(SplineShell(shapes.twin_skeg()[0])).baseline_x()
    assert isinstance(high, NotApplicable)
    assert "z = 2.000 m" in high.reason


def test_profile_lines_string_keel_stem_and_deck_ends_together() -> None:
    longest = profile(SHELLS["wigley"]).lines()[0]
    # hand: down the stem from deck to keel (9 m), along the keel (100 m), up the stern (9 m)
    length = np.sum(np.linalg.norm(np.diff(longest, axis=0), axis=1))
    assert length == pytest.approx(118.0, abs=1e-6)


def test_profile_errors() -> None:
    with pytest.raises(InputError, match="does not meet the waterline"):
        profile(SHELLS["box"]).stem_point(WaterLevel.even_keel(8.0))
    with pytest.raises(InputError, match="no border of the shell lies in the centre plane"):
        profile(SplineShell([HULLS["box"].patches[0]]))
