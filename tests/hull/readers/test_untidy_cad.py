"""Untidy CAD: 16 trimmed faces with 1 mm gaps, a knuckle, transom, decks, a bulkhead, nested placements, inches."""

from __future__ import annotations

import subprocess
import sys

import numpy as np
import pytest
from numpy.typing import NDArray
from tests.hull import closed_form as cf
from tests.hull.readers import untidy_cad

from beltwright.hull.detect import PlacedHull, load_hull
from beltwright.hull.hydrostatics import hydrostatics
from beltwright.hull.levels import WaterLevel
from beltwright.hull.patch import SplinePatch
from beltwright.hull.spline_shell import SplineShell

Array = NDArray[np.float64]


def _reference() -> SplineShell:
    """The same hull as whole faces, made without the CAD kernel."""
    return SplineShell([cf.bezier(poles, name=name) for name, poles in untidy_cad.strakes().items()])


@pytest.fixture(scope="module", params=["step", "iges"])
def placed(request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory) -> PlacedHull:
    path = tmp_path_factory.mktemp("untidy") / f"hull.{request.param}"
    subprocess.run(
        [sys.executable, untidy_cad.__file__, str(request.param), str(path)], check=True, capture_output=True
    )
    return load_hull(path)


@pytest.fixture(scope="module")
def shell(placed: PlacedHull) -> SplineShell:
    return SplineShell([p for p in placed.patches if isinstance(p, SplinePatch)])


def test_reference_hull_is_worked_out_by_hand() -> None:
    """Waterplane at z: 3/4 L B k(z), k = 0.6 + 0.1 z below the knuckle and 1 + 0.025 (z - 4) above (B = 14 m).

    Volume to 6 m: 3/4 * 70 * 14 * ((0.6 * 4 + 0.05 * 16) + (2 + 0.0125 * 4)) = 735 * 5.25 = 3858.75 m3.
    """
    got = hydrostatics(_reference(), WaterLevel.even_keel(untidy_cad.DRAUGHT))
    assert got.volume_m3 == pytest.approx(3858.75, rel=1e-6)
    assert got.lcb_m == pytest.approx(0.4 * 70.0, rel=1e-6)


def test_inner_faces_are_left_out_by_name(placed: PlacedHull) -> None:
    assert len(placed.patches) == 13
    assert sorted(f.role for f in placed.left_out) == ["bulkhead", "deck", "deck"]
    assert {f.kind.code for f in placed.findings} == {"BW133"}
    said = " ".join(f.message for f in placed.findings)
    assert all(f.name in said for f in placed.left_out)
    if placed.format == "step":
        assert {f.name for f in placed.left_out} == {"plate 14", "plate 15", "plate 16"}


def test_inches_and_millimetres_are_read_from_the_file(placed: PlacedHull) -> None:
    unit = placed.detection[0]
    assert unit.outcome.startswith("in," if placed.format == "step" else "mm,")
    points = np.concatenate([p.poles.reshape(-1, 3) for p in placed.patches if isinstance(p, SplinePatch)])
    np.testing.assert_allclose(np.ptp(points, axis=0), [70.0, 7.7, 8.0], rtol=1e-6)


def test_displacement_and_centres_agree_with_the_whole_faces(shell: SplineShell) -> None:
    level = WaterLevel.even_keel(untidy_cad.DRAUGHT)
    got, want = hydrostatics(shell, level), hydrostatics(_reference(), level)
    assert got.volume_m3 == pytest.approx(want.volume_m3, rel=1e-3)
    assert got.lcb_m == pytest.approx(want.lcb_m, rel=1e-3)
    assert got.vcb_m == pytest.approx(want.vcb_m, rel=1e-3)
    assert got.waterplane_m2 == pytest.approx(want.waterplane_m2, rel=1e-3)
    assert got.lcf_m == pytest.approx(want.lcf_m, rel=1e-3)


def test_angles_agree_with_the_whole_faces(shell: SplineShell) -> None:
    x, z = (a.ravel() for a in np.meshgrid(np.linspace(0.7, 68.0, 83), np.linspace(0.1, 7.9, 40), indexing="ij"))
    assert np.min(np.abs(z - untidy_cad.KNUCKLE)) > 0.01  # at the knuckle itself both directions hold
    got, want = shell.crossings(x, z), _reference().crossings(x, z)
    assert np.array_equal(np.unique(want.query), np.arange(len(x)))
    assert np.max(np.bincount(got.query)) == 1  # a line across the ship meets the shell once: no deck, no bulkhead
    assert len(got.query) > 0.99 * len(x)  # the rest falls into the gaps
    first = {int(q): i for i, q in enumerate(want.query)}
    rows = np.array([first[int(q)] for q in got.query])
    a, b = shell.normals(got.at.face, got.at.uv), _reference().normals(want.at.face, want.at.uv)[rows]
    turn = np.degrees(np.arccos(np.clip(np.sum(a * b, axis=1), -1.0, 1.0)))
    assert np.max(turn) < 0.05
    np.testing.assert_allclose(got.at.points, want.at.points[rows], atol=1e-6)


def test_the_knuckle_keeps_both_directions(shell: SplineShell) -> None:
    for z, slope in ((3.9, 0.1 * 7.0), (4.1, 0.025 * 7.0)):
        found = shell.crossings(np.array([1.0]), np.array([z]))
        n = shell.normals(found.at.face, found.at.uv)[0]
        assert -n[2] / n[1] == pytest.approx(slope * (1 - (1 / 70) ** 3), rel=1e-6)
