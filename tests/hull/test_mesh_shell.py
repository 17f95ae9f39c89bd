"""The mesh shell: closed forms with measured order of convergence, creases, untidy windings, cut at the middle."""

from __future__ import annotations

import numpy as np
import pytest
from tests.hull import closed_form as cf

from beltwright.core.errors import InputError
from beltwright.hull.angles import hull_angles
from beltwright.hull.hydrostatics import hydrostatics
from beltwright.hull.levels import WaterLevel
from beltwright.hull.mesh_shell import MeshShell
from beltwright.hull.patch import TrianglePatch
from beltwright.hull.section import sections
from beltwright.hull.shell import PlaneLevel
from beltwright.hull.spline_shell import SplineShell
from beltwright.hull.stem import profile
from beltwright.hull.waterline import waterline

HULLS = {h.name: h for h in cf.all_hulls()}


def grid_mesh(hull: cf.AnalyticHull, n: int, *, both_sides: bool = True) -> TrianglePatch:
    """Return a hull of n by n quadrangles per face, each two triangles; the mirror image is added."""
    t = np.linspace(0.0, 1.0, n + 1)
    uv = np.stack(np.meshgrid(t, t, indexing="ij"), axis=-1).reshape(-1, 2)
    i, j = np.meshgrid(np.arange(n), np.arange(n), indexing="ij")
    a = (i * (n + 1) + j).ravel()
    quads = np.concatenate([np.stack([a, a + n + 1, a + n + 2], 1), np.stack([a, a + n + 2, a + 1], 1)])
    points, triangles = [], []
    at = 0
    for patch in hull.patches:
        u0, u1 = patch.knots_u[0], patch.knots_u[-1]
        p = SplineShell([patch]).points if patch.poles[..., 1].max() > 0.01 else None
        assert p is not None
        scaled = np.stack([u0 + (u1 - u0) * uv[:, 0], uv[:, 1]], axis=1)
        points.append(p(np.zeros(len(uv), dtype=np.int64), scaled))
        triangles.append(quads + at)
        at += len(uv)
    v, f = np.concatenate(points), np.concatenate(triangles)
    if both_sides:
        v, f = np.concatenate([v, v * [1.0, -1.0, 1.0]]), np.concatenate([f, f[:, ::-1] + len(v)])
    return TrianglePatch(vertices=v, triangles=f)


def places(hull: cf.AnalyticHull) -> tuple[np.ndarray, np.ndarray]:
    """Return x and z spread over the hull, without the nearly flat bottom, where alpha hangs on the last digits."""
    rng = np.random.default_rng(2)
    x, z = rng.uniform(0.06, 0.94, 800) * hull.length_m, rng.uniform(0.06, 0.94, 800) * hull.draught_m
    keep = hull.half_breadth(x, z) > 0.12 * hull.breadth_m
    return x[keep], z[keep]


@pytest.mark.parametrize(("name", "finest"), [("wigley", 96), ("half ellipsoid", 128), ("flared", 96)])
def test_angles_and_volume_converge_and_are_within_a_tenth_of_a_degree(name: str, finest: int) -> None:
    hull = HULLS[name]
    x, z = places(hull)
    exact = hull_angles(hull.normal(x, z))
    both = ("alpha_deg", "beta_prime_deg")
    sizes, angle_errors, volume_errors = (finest // 4, finest // 2, finest), [], []
    for n in sizes:
        shell = MeshShell([grid_mesh(hull, n)])
        found = shell.crossings(x, z)
        assert np.array_equal(found.query, np.arange(x.size))
        angles = hull_angles(shell.normals(found.at.face, found.at.uv))
        angle_errors.append(max(np.sqrt(np.mean((getattr(angles, k) - getattr(exact, k)) ** 2)) for k in both))
        volume = hydrostatics(shell, WaterLevel.even_keel(hull.draught_m)).volume_m3
        volume_errors.append(abs(volume / hull.volume_m3 - 1.0))
        worst = max(np.max(np.abs(getattr(angles, k) - getattr(exact, k))) for k in both)
    assert worst < 0.1  # on the finest mesh, about 100 x 100 per face
    assert volume_errors[-1] < 1e-3
    angle_order = np.log2(angle_errors[0] / angle_errors[2]) / 2
    volume_order = np.log2(volume_errors[0] / volume_errors[2]) / 2
    assert volume_order == pytest.approx(2.0, abs=0.25)
    assert angle_order > 1.6


def test_plane_faced_hulls_are_exact() -> None:
    for name in ("box", "wedge"):
        hull = HULLS[name]
        shell = MeshShell([grid_mesh(hull, 6)])
        level = WaterLevel.even_keel(hull.draught_m)
        found = hydrostatics(shell, level)
        assert found.volume_m3 == pytest.approx(hull.volume_m3, rel=1e-12)
        assert found.lcb_m == pytest.approx(hull.lcb_m, rel=1e-12)
        assert found.waterplane_m2 == pytest.approx(hull.waterplane_m2, rel=1e-12)
        x, z = places(hull)
        at = shell.crossings(x, z).at
        np.testing.assert_allclose(shell.normals(at.face, at.uv), hull.normal(x, z), atol=1e-12)
        line = waterline(shell, level)
        assert line.extreme_length_m == pytest.approx(hull.length_m, abs=1e-9)
        assert profile(shell).stem_point(level).x_m == pytest.approx(hull.length_m, abs=1e-9)
        np.testing.assert_allclose(line.half_breadth(x), hull.half_breadth(x, 0.0 * x + hull.draught_m), atol=1e-9)


def test_knuckles_stay_sharp_and_keep_both_normals() -> None:
    shell = MeshShell([grid_mesh(HULLS["box"], 4)])
    (curve,) = shell.cut(PlaneLevel(normal=(1.0, 0.0, 0.0), offset=31.0))
    normal = shell.normals(curve.at.face, curve.at.uv)
    corner = np.linalg.norm(curve.at.points - [31.0, 6.0, 0.0], axis=1) < 1e-9
    assert {tuple(np.round(n, 12) + 0.0) for n in normal[corner]} == {(0.0, 1.0, 0.0), (0.0, 0.0, -1.0)}
    flat = MeshShell([grid_mesh(HULLS["box"], 4)], crease_deg=100.0)
    (curve,) = flat.cut(PlaneLevel(normal=(1.0, 0.0, 0.0), offset=31.0))
    normal = flat.normals(curve.at.face, curve.at.uv)
    corner = np.linalg.norm(curve.at.points - [31.0, 6.0, 0.0], axis=1) < 1e-9
    assert np.all(np.abs(normal[corner][:, 1]) < 0.99)


def test_sections_of_a_mesh_run_from_the_keel() -> None:
    shell = MeshShell([grid_mesh(HULLS["box"], 4)])
    table = sections(shell, np.array([15.0, 31.0]))  # 15 lies on vertices
    np.testing.assert_allclose(table.girth_total_m, 13.0, atol=1e-9)
    assert table.findings == ()
    found = table.at_heights(np.array([3.3]))
    np.testing.assert_allclose(found.at.points, [[15.0, 6.0, 3.3], [31.0, 6.0, 3.3]], atol=1e-9)
    np.testing.assert_allclose(found.girth_m, 9.3, atol=1e-9)
    np.testing.assert_allclose(table.at_girth(np.array([1]), np.array([2.5])).at.points, [[31.0, 2.5, 0.0]], atol=1e-9)


def test_mixed_and_inward_windings_are_mended() -> None:
    hull = HULLS["flared"]
    good = grid_mesh(hull, 12)
    rng = np.random.default_rng(1)
    turned = good.triangles.copy()
    pick = rng.random(len(turned)) < 0.5
    turned[pick] = turned[pick][:, ::-1]
    inward = good.triangles[:, ::-1]
    base = MeshShell([good])
    x, z = places(hull)
    reference = base.crossings(x, z).at
    expected = base.normals(reference.face, reference.uv)
    assert np.all(expected[:, 1] > 0.0)
    for triangles in (turned, inward):
        shell = MeshShell([TrianglePatch(vertices=good.vertices, triangles=triangles)])
        at = shell.crossings(x, z).at
        np.testing.assert_allclose(shell.normals(at.face, at.uv), expected, atol=1e-9)
        volume = hydrostatics(shell, WaterLevel.even_keel(5.0)).volume_m3
        assert volume == pytest.approx(hydrostatics(base, WaterLevel.even_keel(5.0)).volume_m3, rel=1e-12)


def test_triangles_across_the_centre_plane_are_cut_there() -> None:
    # a prism over both sides: bottom one strip from y = -6 to 6, sides at y = +-6
    v = np.array([[x, y, z] for x in (0.0, 60.0) for y in (-6.0, 6.0) for z in (0.0, 7.0)])

    def quad(a: int, b: int, c: int, d: int) -> list[list[int]]:
        return [[a, b, c], [a, c, d]]

    f = np.array(quad(2, 6, 7, 3) + quad(0, 1, 5, 4) + quad(0, 4, 6, 2) + quad(0, 2, 3, 1) + quad(4, 5, 7, 6))
    shell = MeshShell([TrianglePatch(vertices=v, triangles=f)])
    assert shell.bounds[0, 1] == 0.0
    found = hydrostatics(shell, WaterLevel.even_keel(4.0))
    assert found.volume_m3 == pytest.approx(60 * 12 * 4, rel=1e-12)
    table = sections(shell, np.array([20.0]))
    assert table.girth_total_m[0] == pytest.approx(13.0)
    assert table.findings == ()
    assert waterline(shell, WaterLevel.even_keel(4.0)).extreme_length_m == pytest.approx(60.0)


def test_tessellation_of_a_mesh_is_the_mesh() -> None:
    shell = MeshShell([grid_mesh(HULLS["wedge"], 5)])
    mesh = shell.tessellation()
    np.testing.assert_allclose(shell.points(mesh.vertices.face, mesh.vertices.uv), mesh.vertices.points, atol=1e-12)
    corner = mesh.vertices.points[mesh.triangles]
    np.testing.assert_allclose(corner, shell.points(np.repeat(shell.pieces().face, 3),
                               shell.pieces().uv.reshape(-1, 2)).reshape(-1, 3, 3), atol=1e-12)  # fmt: skip


def test_bad_meshes_are_named() -> None:
    good = grid_mesh(HULLS["box"], 2)
    bad = good.vertices.copy()
    bad[3, 1] = np.nan
    with pytest.raises(InputError, match="not a finite number"):
        MeshShell([TrianglePatch(vertices=bad, triangles=good.triangles)])
    with pytest.raises(InputError, match="a vertex that is not there"):
        MeshShell([TrianglePatch(vertices=good.vertices, triangles=good.triangles + 7)])
    with pytest.raises(InputError, match="no triangle lies on the port side"):
        MeshShell([TrianglePatch(vertices=good.vertices - [0.0, 50.0, 0.0], triangles=good.triangles)])
    with pytest.raises(InputError, match="no triangles given"):
        MeshShell([])
