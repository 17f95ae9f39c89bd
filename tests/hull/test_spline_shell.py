"""The spline shell against closed forms, and on untidy faces: trimmed, split, gapped, doubled, across the middle."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from tests.hull import closed_form as cf
from tests.hull import shapes

from beltwright.core.errors import InputError
from beltwright.hull import codes
from beltwright.hull.angles import hull_angles
from beltwright.hull.hydrostatics import hydrostatics
from beltwright.hull.levels import WaterLevel
from beltwright.hull.patch import SplinePatch
from beltwright.hull.shell import PlaneLevel
from beltwright.hull.spline_shell import SplineShell

HULLS = {h.name: h for h in cf.all_hulls()}
SHELLS = {name: SplineShell(h.whole()) for name, h in HULLS.items()}


def lines(hull: cf.AnalyticHull, count: int = 500, top: float = 1.0) -> tuple[np.ndarray, np.ndarray]:
    """Return random x and z where the hull has some breadth."""
    rng = np.random.default_rng(5)
    x = rng.uniform(0.02, 0.98, count) * hull.length_m
    z = rng.uniform(0.02, 0.98, count) * hull.draught_m * top
    keep = hull.half_breadth(x, z) > 0.02
    return x[keep], z[keep]


@pytest.mark.parametrize("name", HULLS)
def test_half_breadths_are_exact_and_one_per_line(name: str) -> None:
    hull, shell = HULLS[name], SHELLS[name]
    x, z = lines(hull)
    found = shell.crossings(x, z)
    assert np.array_equal(found.query, np.arange(x.size))
    np.testing.assert_allclose(found.at.points[:, 1], hull.half_breadth(x, z), atol=2e-8)
    np.testing.assert_allclose(found.at.points[:, [0, 2]], np.stack([x, z], axis=1), atol=1e-9)


@pytest.mark.parametrize("name", HULLS)
def test_angles_agree_within_a_hundredth_of_a_degree(name: str) -> None:
    hull, shell = HULLS[name], SHELLS[name]
    x, z = lines(hull)
    at = shell.crossings(x, z).at
    normal = shell.normals(at.face, at.uv)
    np.testing.assert_allclose(np.linalg.norm(normal, axis=1), 1.0, atol=1e-12)
    found, exact = hull_angles(normal), hull_angles(hull.normal(x, z))
    for angle in ("alpha_deg", "beta_deg", "beta_prime_deg"):
        assert np.max(np.abs(getattr(found, angle) - getattr(exact, angle))) < 1e-6  # claimed: 0.01


def test_wigley_is_upright_at_its_waterline() -> None:
    shell = SHELLS["wigley"]
    x = np.linspace(5.0, 95.0, 19)
    at = shell.crossings(x, np.full(19, 6.25 - 1e-9)).at
    assert np.max(np.abs(hull_angles(shell.normals(at.face, at.uv)).beta_prime_deg)) < 1e-6


@pytest.mark.parametrize("name", HULLS)
def test_cuts_lie_on_surface_and_level(name: str) -> None:
    hull, shell = HULLS[name], SHELLS[name]
    level = WaterLevel((0.0, hull.length_m), (0.5 * hull.draught_m, 0.8 * hull.draught_m))
    curves = shell.cut(level)
    assert len(curves) == 1
    for curve in curves:
        p = curve.at.points
        assert np.max(np.abs(level(p))) < 1e-9
        np.testing.assert_allclose(p, shell.points(curve.at.face, curve.at.uv), atol=1e-12)


@pytest.mark.parametrize("name", HULLS)
def test_a_level_through_a_patch_border_gives_one_clean_curve(name: str) -> None:
    hull, shell = HULLS[name], SHELLS[name]
    curves = shell.cut(PlaneLevel(normal=(0.0, 0.0, 1.0), offset=hull.draught_m))
    assert len(curves) == 1
    ends = curves[0].at.points[[0, -1]]
    assert np.max(np.abs(ends[:, 1])) < 1e-9


@pytest.mark.parametrize("offset", [0.0, 60.0])
def test_a_section_in_the_plane_of_an_end_gives_its_outline(offset: float) -> None:
    # hand: the box's end outline runs 6 m along the bottom and 7 m up
    curves = SHELLS["box"].cut(PlaneLevel(normal=(1.0, 0.0, 0.0), offset=offset))
    assert len(curves) == 1
    length = np.sum(np.linalg.norm(np.diff(curves[0].at.points, axis=0), axis=1))
    assert length == pytest.approx(13.0, abs=1e-9)


def test_a_family_of_cuts_equals_single_cuts() -> None:
    shell = SHELLS["flared"]
    offsets = np.array([40.0, 10.0, 69.0, 400.0])
    level = PlaneLevel(normal=(1.0, 0.0, 0.0), offset=0.0)
    family = shell.cut_family(level, offsets)
    assert family[3] == ()
    for offset, curves in zip(offsets[:3], family[:3], strict=True):
        single = shell.cut(PlaneLevel(normal=(1.0, 0.0, 0.0), offset=float(offset)))
        assert len(single) == len(curves) == 1
        np.testing.assert_allclose(single[0].at.points, curves[0].at.points, atol=1e-9)


def turned(patch: SplinePatch, kind: int) -> SplinePatch:
    """Return the same surface with its parameters run another way and an untrue orientation flag."""
    poles, weights = patch.poles, patch.weights
    if kind & 1:
        poles = poles[::-1]
        weights = None if weights is None else weights[::-1]
        patch = replace(patch, knots_u=(patch.knots_u[0] + patch.knots_u[-1]) - patch.knots_u[::-1])
    if kind & 2:
        poles = poles.transpose(1, 0, 2)
        weights = None if weights is None else weights.T
        patch = replace(
            patch, knots_u=patch.knots_v, knots_v=patch.knots_u, degree_u=patch.degree_v, degree_v=patch.degree_u
        )
    return replace(patch, poles=poles, weights=weights, reversed=bool(kind & 4))


@pytest.mark.parametrize("name", HULLS)
def test_orientation_is_found_whatever_the_file_says(name: str) -> None:
    hull = HULLS[name]
    rng = np.random.default_rng(11)
    patches = tuple(turned(p, int(k)) for p, k in zip(hull.whole(), rng.integers(0, 8, 20), strict=False))
    shell = SplineShell(patches)
    x, z = lines(hull, 100)
    at = shell.crossings(x, z).at
    np.testing.assert_allclose(shell.normals(at.face, at.uv), hull.normal(x, z), atol=1e-6)
    assert shell.uncertain == ()
    volume = hydrostatics(shell, WaterLevel.even_keel(hull.draught_m)).volume_m3
    assert volume == pytest.approx(hull.volume_m3, rel=1e-8)


def test_faces_that_disagree_with_the_file_are_named() -> None:
    hull = HULLS["box"]
    right = SplineShell(hull.patches)
    honest = tuple(replace(p, reversed=i in right.flipped) for i, p in enumerate(hull.patches))
    assert SplineShell(honest).flipped == ()
    liar = tuple(replace(p, reversed=not p.reversed) if i == 2 else p for i, p in enumerate(honest))
    found = SplineShell(liar)
    assert found.flipped == (2,)
    assert SplineShell(honest).findings == ()
    assert [str(f) for f in found.findings] == ["BW101 note: hull: 1 of 4: aft end"]


def test_ends_and_bottom_of_a_box_look_outward() -> None:
    mesh = SHELLS["box"].tessellation()
    corner = mesh.vertices.points[mesh.triangles]
    area = 0.5 * np.cross(corner[:, 1] - corner[:, 0], corner[:, 2] - corner[:, 0])
    away = corner.mean(axis=1) - np.array([30.0, 0.0, 3.5])
    assert np.all(np.einsum("ni,ni->n", area, away) > 0.0)


def test_trimmed_copies_give_what_the_whole_face_gives() -> None:
    hull = HULLS["wigley"]
    lower, upper = hull.patches
    wide = shapes.resampled(lower, (-0.2, 1.1), (-0.15, 1.2))
    trimmed = replace(wide, trims=(shapes.rectangle(0.0, 1.0, 0.0, 1.0),))
    for faces in ((trimmed, upper), (*shapes.wavy_split(lower), upper)):
        shell = SplineShell(faces)
        found = hydrostatics(shell, WaterLevel.even_keel(5.0))
        exact = hydrostatics(SHELLS["wigley"], WaterLevel.even_keel(5.0))
        assert found.volume_m3 == pytest.approx(exact.volume_m3, rel=1e-9)
        assert found.lcb_m == pytest.approx(exact.lcb_m, abs=1e-6)
        assert found.waterplane_m2 == pytest.approx(exact.waterplane_m2, rel=1e-9)
        x, z = lines(hull, 400, top=0.99)
        at = shell.crossings(x, z)
        assert np.array_equal(at.query, np.arange(x.size))
        np.testing.assert_allclose(at.at.points[:, 1], hull.half_breadth(x, z), atol=1e-8)
        assert len(shell.cut(WaterLevel.even_keel(5.0))) == 1


def test_a_hole_by_the_even_odd_rule_is_a_hole() -> None:
    side = replace(
        cf.box().patches[0],
        trims=(shapes.rectangle(0.0, 1.0, 0.0, 1.0), shapes.rectangle(0.25, 0.5, 0.25, 0.5)),
    )
    shell = SplineShell((side,))
    inside, outside = np.array([22.5, 22.5]), np.array([10.0, 40.0])
    assert shell.crossings(inside, np.array([2.5, 3.0])).query.size == 0
    assert shell.crossings(outside, np.array([2.5, 3.0])).query.size == 2
    pieces = shell.pieces()
    uv = pieces.uv
    a, b = uv[:, 1] - uv[:, 0], uv[:, 2] - uv[:, 0]
    area = 0.5 * np.sum(np.abs(a[:, 0] * b[:, 1] - a[:, 1] * b[:, 0]))
    assert area == pytest.approx(1.0 - 0.0625, abs=1e-12)


@pytest.mark.parametrize("gap_m", [0.0, 0.001])
def test_a_side_of_twelve_faces_with_gaps_is_one_hull(gap_m: float) -> None:
    hull = HULLS["wigley"]
    faces = (*shapes.gapped(hull.patches[0], 4, 3, gap_m), hull.patches[1])
    assert len(faces) == 13
    shell = SplineShell(faces)
    level = WaterLevel.even_keel(5.0)
    curves = shell.cut(level)
    assert len(curves) == 1
    assert not curves[0].closed
    whole = hydrostatics(SHELLS["wigley"], level)
    found = hydrostatics(shell, level)
    assert found.volume_m3 == pytest.approx(whole.volume_m3, rel=1e-3 if gap_m else 1e-9)
    x, z = lines(hull, 400, top=0.99)
    at = shell.crossings(x, z)
    assert np.array_equal(at.query, np.arange(x.size))
    normal = shell.normals(at.at.face, at.at.uv)
    turn = np.degrees(np.arccos(np.clip(np.einsum("ni,ni->n", normal, hull.normal(x, z)), -1.0, 1.0)))
    assert np.max(turn) < 0.05
    middle = shell.crossings(np.full(9, 25.0), np.linspace(1.0, 5.0, 9))  # along the gap itself
    assert np.array_equal(middle.query, np.arange(9))


def test_a_face_over_both_sides_is_cut_at_the_middle() -> None:
    hull = HULLS["half ellipsoid"]
    shell = SplineShell((shapes.whole_ellipsoid(), hull.patches[1]))
    assert shell.bounds[0, 1] > -1e-9
    found = hydrostatics(shell, WaterLevel.even_keel(hull.draught_m))
    assert found.volume_m3 == pytest.approx(hull.volume_m3, rel=1e-6)  # the cut at y = 0 is a chord
    x, z = lines(hull, 200)
    at = shell.crossings(x, z)
    assert np.array_equal(at.query, np.arange(x.size))
    np.testing.assert_allclose(at.at.points[:, 1], hull.half_breadth(x, z), atol=1e-7)
    (section,) = shell.cut(PlaneLevel(normal=(1.0, 0.0, 0.0), offset=30.0))
    assert min(section.at.points[0, 1], section.at.points[-1, 1]) == pytest.approx(0.0, abs=1e-9)


def test_doubled_and_starboard_and_centre_plane_faces_are_left_out() -> None:
    hull = HULLS["box"]
    centre = cf.quad([0, 0, 0], [60, 0, 0], [0, 0, 7], [60, 0, 7], "centre plane")
    shell = SplineShell((*hull.whole(), hull.patches[0], centre))
    assert shell.doubles == (8,)
    assert codes.FACES_DOUBLED in {f.kind for f in shell.findings}
    assert set(shell.left_out) == {4, 5, 6, 7, 9}
    volume = hydrostatics(shell, WaterLevel.even_keel(4.0)).volume_m3
    assert volume == pytest.approx(hull.volume_m3, rel=1e-12)


def test_no_port_side_is_an_error() -> None:
    starboard = cf.box().whole()[4:]
    with pytest.raises(InputError, match="no face lies on the port side"):
        SplineShell(starboard)


def test_a_knuckle_inside_a_face_keeps_both_normals() -> None:
    # one face of degree 1 across the ship: bottom rising 1 in 5 to y = 5, then a side leaning out 1 in 4
    ring = np.array([[0.0, 0.0], [5.0, 1.0], [6.0, 5.0]])
    poles = np.array([[[x, y, z] for y, z in ring] for x in (0.0, 40.0)])
    patch = SplinePatch(
        poles=poles, knots_u=np.array([0.0, 0, 1, 1]), knots_v=np.array([0.0, 0, 0.5, 1, 1]), degree_u=1, degree_v=1
    )
    shell = SplineShell((patch,))
    assert len(shell.patches) == 2
    assert shell.source == (0, 0)
    (curve,) = shell.cut(PlaneLevel(normal=(1.0, 0.0, 0.0), offset=20.0))
    normal = shell.normals(curve.at.face, curve.at.uv)
    at_knuckle = np.flatnonzero(np.linalg.norm(curve.at.points[:, 1:] - ring[1], axis=1) < 1e-9)
    assert at_knuckle.size == 2
    slopes = sorted(np.degrees(np.arctan2(-normal[at_knuckle, 2], normal[at_knuckle, 1])))
    # hand: side normal (4, -1)/sqrt 17 -> atan(1/4) = 14.036; bottom normal (1, -5)/sqrt 26 -> atan(5) = 78.690
    assert slopes == pytest.approx([14.0362, 78.6901], abs=1e-3)


def test_collapsed_ends_have_a_normal() -> None:
    shell = SHELLS["half ellipsoid"]
    uv = np.stack([np.repeat([0.0, 1.0], 11), np.tile(np.linspace(0.0, 1.0, 11), 2)], axis=1)
    normal = shell.normals(np.zeros(22, dtype=np.int64), uv)
    np.testing.assert_allclose(np.linalg.norm(normal, axis=1), 1.0, atol=1e-12)
    np.testing.assert_allclose(np.abs(normal[:, 0]), 1.0, atol=1e-3)
    assert np.all(normal[:11, 0] < 0)
    assert np.all(normal[11:, 0] > 0)


def test_mirrored_and_shifted_hulls_agree() -> None:
    hull = HULLS["flared"]
    shift = np.eye(4)
    shift[:3, 3] = [12.5, 0.0, 0.75]
    mirror = np.diag([1.0, -1.0, 1.0, 1.0])
    from beltwright.hull.patch import mapped

    moved = SplineShell([mapped(p, shift) for p in hull.patches])
    mirrored = SplineShell([mapped(mapped(p, mirror), mirror) for p in hull.patches])
    base = hydrostatics(SHELLS["flared"], WaterLevel.even_keel(5.0))
    again = hydrostatics(moved, WaterLevel.even_keel(5.75))
    twin = hydrostatics(mirrored, WaterLevel.even_keel(5.0))
    assert again.volume_m3 == pytest.approx(base.volume_m3, rel=1e-9)
    assert again.lcb_m - 12.5 == pytest.approx(base.lcb_m, rel=1e-9)
    assert again.vcb_m - 0.75 == pytest.approx(base.vcb_m, rel=1e-9)
    assert twin.volume_m3 == pytest.approx(base.volume_m3, rel=1e-9)


def test_skegs_are_met_on_both_faces_and_look_the_right_way() -> None:
    patches, volume = shapes.twin_skeg()
    shell = SplineShell(patches)
    found = shell.crossings(np.array([10.0, 40.0]), np.array([1.0, 3.0]))
    assert found.query.tolist() == [0, 0, 1]
    np.testing.assert_allclose(found.at.points[:, 1], [2.0, 3.0, 6.0])
    np.testing.assert_allclose(shell.normals(found.at.face, found.at.uv)[:, 1], [-1.0, 1.0, 1.0])
    assert hydrostatics(shell, WaterLevel.even_keel(4.0)).volume_m3 == pytest.approx(volume, rel=1e-12)


def test_lines_that_miss_the_hull_have_no_crossing() -> None:
    found = SHELLS["box"].crossings(np.array([-1.0, 61.0, 30.0, 1e6]), np.array([3.0, 3.0, 8.0, -1e6]))
    assert found.query.size == 0


def test_faces_whose_outer_side_cannot_be_told_are_named() -> None:
    # an inner wall that runs half inside the hull and half outside it: the lines across do not agree
    wall = cf.quad([20, 3, -7], [40, 3, -7], [20, 3, 7], [40, 3, 7], "inner wall")
    floor = cf.quad([0, 0, 0], [60, 0, 0], [0, 12, 0], [60, 12, 0], "wide floor")
    shell = SplineShell((*HULLS["box"].patches, wall, floor))
    names = {f.kind.code: f.message for f in shell.findings}
    assert "inner wall" in names[codes.FACE_SIDE_UNCERTAIN.code]


@settings(max_examples=10, deadline=None)
@given(seed=st.integers(0, 10_000))
def test_cuts_of_any_surface_lie_on_it_and_on_the_level(seed: int) -> None:
    rng = np.random.default_rng(seed)
    grid = np.stack(np.meshgrid(np.linspace(0, 50, 7), np.linspace(0, 9, 6), indexing="ij"), axis=-1)
    y = rng.uniform(1.0, 9.0, (7, 6))
    poles = np.stack([grid[..., 0], y, grid[..., 1]], axis=-1) + rng.normal(0.0, 0.4, (7, 6, 3))
    patch = SplinePatch(
        poles=poles,
        weights=rng.uniform(0.5, 2.0, (7, 6)),
        knots_u=np.concatenate([[0.0] * 4, np.sort(rng.uniform(0.1, 0.9, 3)), [1.0] * 4]),
        knots_v=np.concatenate([[0.0] * 4, np.sort(rng.uniform(0.1, 0.9, 2)), [1.0] * 4]),
        degree_u=3,
        degree_v=3,
    )
    shell = SplineShell([patch], chord_m=0.02)
    level = WaterLevel((0.0, 20.0, 50.0), tuple(rng.uniform(2.0, 7.0, 3)))
    curves = shell.cut(level)
    assert curves
    for curve in curves:
        p = curve.at.points
        assert np.max(np.abs(level(p))) < 1e-9
        np.testing.assert_allclose(shell.points(curve.at.face, curve.at.uv), p, atol=1e-12)
        on_border = np.min(np.minimum(curve.at.uv, 1.0 - curve.at.uv), axis=1) < 1e-9
        assert curve.closed or (on_border[0] and on_border[-1]) or min(p[0, 1], p[-1, 1]) < 1e-6
    x, z = rng.uniform(5.0, 45.0, 50), rng.uniform(1.0, 8.0, 50)
    found = shell.crossings(x, z)
    np.testing.assert_allclose(found.at.points[:, [0, 2]], np.stack([x, z], axis=1)[found.query], atol=1e-9)
    # random poles may fold the surface: a line then meets it more than once; every place found is a true one
    assert np.all(np.diff(found.query) >= 0)
