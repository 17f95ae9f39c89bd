"""Unit, axes, side, bow and origin: found where the file can tell, asked where it cannot."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest
from numpy.typing import NDArray
from tests.hull import closed_form as cf
from tests.hull.readers.files import triangles_of

from beltwright.core.errors import InputError
from beltwright.core.findings import Severity
from beltwright.hull.detect import HullSettings, PlacedHull, load_hull, place
from beltwright.hull.hydrostatics import Hydrostatics, hydrostatics
from beltwright.hull.levels import WaterLevel
from beltwright.hull.mesh_shell import MeshShell
from beltwright.hull.patch import Patch, RawHull, SplinePatch, TrianglePatch, mapped
from beltwright.hull.spline_shell import SplineShell

Array = NDArray[np.float64]
ASYMMETRIC = {"flared": cf.flared, "wedge": cf.wedge}
MIRROR_X, MIRROR_Y = np.diag([-1.0, 1.0, 1.0, 1.0]), np.diag([1.0, -1.0, 1.0, 1.0])


def _raw(patches: tuple[Patch, ...], unit: str | None = "m") -> RawHull:
    return RawHull(patches=patches, length_unit=unit, source="hull.stp", format="step")


def _moved(patches: tuple[Patch, ...], matrix: Array) -> tuple[Patch, ...]:
    return tuple(mapped(p, matrix) for p in patches)


def _shift(x: float = 0.0, y: float = 0.0, z: float = 0.0) -> Array:
    matrix = np.eye(4)
    matrix[:3, 3] = x, y, z
    return matrix


def _scale(factor: float) -> Array:
    return np.diag([factor, factor, factor, 1.0])


def _codes(placed: PlacedHull) -> set[str]:
    return {f.kind.code for f in placed.findings}


def _blocks(placed: PlacedHull) -> set[str]:
    return {f.kind.code for f in placed.findings if f.kind.severity is Severity.BLOCK}


def _values(placed: PlacedHull, draught: float) -> Array:
    splines = [p for p in placed.patches if isinstance(p, SplinePatch)]
    meshes = [p for p in placed.patches if isinstance(p, TrianglePatch)]
    shell = SplineShell(splines) if splines else MeshShell(meshes)
    h: Hydrostatics = hydrostatics(shell, WaterLevel.even_keel(draught))
    return np.array([h.volume_m3, h.lcb_m, h.vcb_m, h.waterplane_m2, h.lcf_m])


def _turned_parameters(patch: Patch) -> Patch:
    """The same face with its normal the other way round: u and v exchanged."""
    assert isinstance(patch, SplinePatch)
    return replace(
        patch, poles=patch.poles.transpose(1, 0, 2), knots_u=patch.knots_v, knots_v=patch.knots_u,
        weights=None if patch.weights is None else patch.weights.T, degree_u=patch.degree_v, degree_v=patch.degree_u,
    )  # fmt: skip


AP_FORWARD = np.diag([-1.0, -1.0, 1.0, 1.0])  # half a turn: x aft, y to starboard, as a right-handed file has it
COPIES: dict[str, tuple[Array, str, set[str]]] = {  # how the copy is made, its unit, the findings it must raise
    "as it is": (np.eye(4), "m", set()),
    "millimetres": (_scale(1000.0), "mm", set()),
    "inches": (_scale(1 / 0.0254), "in", set()),
    "starboard half": (MIRROR_Y, "m", {"BW127"}),
    "x aft from the aft end": (MIRROR_X, "m", {"BW124"}),
    "x aft from far ahead, starboard": (_shift(x=250.0) @ AP_FORWARD, "m", {"BW124", "BW125", "BW127"}),
    "shifted forward": (_shift(x=400.0), "m", {"BW125"}),
    "shifted up": (_shift(z=-3.7), "m", {"BW126"}),
    "all at once": (_scale(1000.0) @ _shift(x=900.0, z=12.0) @ AP_FORWARD, "mm", {"BW124", "BW125", "BW126", "BW127"}),
}


@pytest.mark.parametrize("copy", sorted(COPIES))
@pytest.mark.parametrize("name", sorted(ASYMMETRIC))
def test_copies_of_an_asymmetric_hull_are_found_out_and_agree(name: str, copy: str) -> None:
    hull = ASYMMETRIC[name]()
    matrix, unit, codes = COPIES[copy]
    want = _values(place(_raw(hull.patches)), hull.draught_m)
    placed = place(_raw(_moved(hull.patches, matrix), unit))
    assert _codes(placed) == codes
    placed = _answered(placed, _raw(_moved(hull.patches, matrix), unit), matrix)
    np.testing.assert_allclose(_values(placed, hull.draught_m), want, rtol=1e-9)


def _answered(placed: PlacedHull, raw: RawHull, matrix: Array) -> PlacedHull:
    """Where the aft perpendicular is asked for: state where the copy has it, in metres on the copy's own axis."""
    if not _blocks(placed):
        return placed
    assert _blocks(placed) == {"BW125"}
    assert placed.patches == ()
    size = abs(matrix[0, 0])
    answered = place(raw, HullSettings(ap_x_m=float(matrix[0, 3]) / size))
    assert _codes(answered) == _codes(placed) - {"BW125"}
    return answered


@pytest.mark.parametrize("name", sorted(ASYMMETRIC))
def test_flipped_normals_do_not_matter(name: str) -> None:
    hull = ASYMMETRIC[name]()
    want = _values(place(_raw(hull.patches)), hull.draught_m)
    for flipped in (
        tuple(replace(p, reversed=not p.reversed) for p in hull.patches),
        tuple(_turned_parameters(p) for p in hull.patches),
    ):
        np.testing.assert_allclose(_values(place(_raw(flipped)), hull.draught_m), want, rtol=1e-9)


@pytest.mark.parametrize("copy", sorted(COPIES))
def test_whole_hulls_agree_with_the_half(copy: str) -> None:
    hull = cf.flared()
    matrix, unit, codes = COPIES[copy]
    want = _values(place(_raw(hull.patches)), hull.draught_m)
    placed = place(_raw(_moved(hull.whole(), matrix), unit))
    assert _codes(placed) == codes - {"BW127"}
    placed = _answered(placed, _raw(_moved(hull.whole(), matrix), unit), matrix)
    np.testing.assert_allclose(_values(placed, hull.draught_m), want, rtol=1e-9)


def _mesh(hull: cf.AnalyticHull, *, single: bool) -> TrianglePatch:
    soup = triangles_of(hull.patches, 40)
    points, back = np.unique(soup.reshape(-1, 3), axis=0, return_inverse=True)
    return TrianglePatch(vertices=points, triangles=back.reshape(-1, 3).astype(np.int64), single_precision=single)


@pytest.mark.parametrize("copy", ["millimetres", "x aft from far ahead, starboard", "shifted up", "all at once"])
@pytest.mark.parametrize(("single", "tolerance"), [(False, 1e-9), (True, 1e-5)])
def test_copies_of_a_mesh_agree(copy: str, single: bool, tolerance: float) -> None:
    hull = cf.flared()
    mesh = _mesh(hull, single=single)
    matrix, unit, codes = COPIES[copy]
    want = _values(place(_raw((mesh,))), hull.draught_m)
    moved = mapped(mesh, matrix)
    assert isinstance(moved, TrianglePatch)
    if single:
        moved = replace(moved, vertices=moved.vertices.astype(np.float32).astype(np.float64))
    placed = place(_raw((moved,), unit))
    assert _codes(placed) == codes
    placed = _answered(placed, _raw((moved,), unit), matrix)
    np.testing.assert_allclose(_values(placed, hull.draught_m), want, rtol=tolerance)


@pytest.mark.parametrize("make", [cf.box, cf.wigley, cf.half_ellipsoid])
def test_bow_and_stern_of_a_symmetric_hull_are_asked_for(make: object) -> None:
    hull = make()  # type: ignore[operator]
    placed = place(_raw(hull.patches))
    assert _blocks(placed) == {"BW123"}
    assert placed.patches == ()
    answered = place(_raw(hull.patches), HullSettings(x_direction="forward"))
    assert _codes(answered) == set()
    assert len(answered.patches) == len(hull.patches)
    turned = place(_raw(hull.patches), HullSettings(x_direction="aft", ap_x_m=float(hull.length_m)))
    np.testing.assert_allclose(_values(turned, hull.draught_m), _values(answered, hull.draught_m), rtol=1e-9)


@pytest.mark.parametrize("scale", [1.0, 1000.0, 1 / 0.0254, 0.01])
def test_a_missing_unit_is_always_asked_for(scale: float) -> None:
    hull = cf.flared()
    placed = place(_raw(_moved(hull.patches, _scale(scale)), None))
    assert "BW120" in _blocks(placed)
    assert placed.patches == ()
    message = next(str(f) for f in placed.findings if f.kind.code == "BW120")
    assert "if in" in message or "none of" in message


def test_a_missing_unit_is_answered_by_the_setting() -> None:
    hull = cf.flared()
    placed = place(_raw(_moved(hull.patches, _scale(1000.0)), None), HullSettings(length_unit="mm"))
    assert _codes(placed) == set()
    want = _values(place(_raw(hull.patches)), hull.draught_m)
    np.testing.assert_allclose(_values(placed, hull.draught_m), want, rtol=1e-9)


@pytest.mark.parametrize(("unit", "scale"), [("mm", 1.0), ("m", 1000.0), ("m", 0.1), ("in", 1.0)])
def test_an_implausible_length_blocks(unit: str, scale: float) -> None:
    placed = place(_raw(_moved(cf.flared().patches, _scale(scale)), unit))
    assert "BW121" in _blocks(placed)
    assert placed.patches == ()


@pytest.mark.parametrize(("length", "fits"), [(9.99, False), (10.01, True), (499.0, True), (501.0, False)])
def test_the_plausible_length_from_both_sides(length: float, fits: bool) -> None:
    placed = place(_raw(_moved(cf.flared().patches, _scale(length / 70.0))))
    assert ("BW121" not in _codes(placed)) is fits


def test_a_setting_that_overrules_the_file_is_named() -> None:
    hull = cf.flared()
    placed = place(_raw(hull.patches, "mm"), HullSettings(length_unit="m"))
    assert _codes(placed) == {"BW122"}
    assert len(placed.patches) == len(hull.patches)


def test_an_unknown_unit_is_refused() -> None:
    with pytest.raises(InputError, match=r"hull.length_unit: unknown length unit; found furlong"):
        place(_raw(cf.flared().patches), HullSettings(length_unit="furlong"))


Y_UP = np.array([[1.0, 0, 0, 0], [0, 0, 1, 0], [0, -1, 0, 0], [0, 0, 0, 1]])  # file y is the ship's z
Z_DOWN = np.diag([1.0, -1.0, -1.0, 1.0])
ALONG_Y = np.array([[0.0, -1, 0, 0], [1, 0, 0, 0], [0, 0, 1, 0], [0, 0, 0, 1]])  # file y is the ship's x


@pytest.mark.parametrize(
    ("matrix", "code", "answer"),
    [
        (Y_UP, "BW131", HullSettings(up_axis="y")),
        (Z_DOWN, "BW131", HullSettings(up_axis="-z")),
        (ALONG_Y, "BW132", HullSettings(length_axis="y")),
    ],
)
@pytest.mark.parametrize("whole", [False, True])
def test_other_axes_are_asked_for_and_answered(matrix: Array, code: str, answer: HullSettings, whole: bool) -> None:
    hull = cf.flared()
    patches = _moved(hull.whole() if whole else hull.patches, matrix)
    asked = place(_raw(patches))
    assert code in _blocks(asked)
    assert asked.patches == ()
    placed = place(_raw(patches), answer)
    assert not _blocks(placed)
    want = _values(place(_raw(hull.patches)), hull.draught_m)
    np.testing.assert_allclose(_values(placed, hull.draught_m), want, rtol=1e-9)


def test_up_and_length_must_differ() -> None:
    with pytest.raises(InputError, match=r"is the same axis as hull\.up_axis"):
        place(_raw(cf.flared().patches), HullSettings(up_axis="-y", length_axis="y"))


def test_a_half_hull_off_the_centre_plane_is_asked_for() -> None:
    hull = cf.flared()
    moved = _moved(hull.patches, _shift(y=3.0))
    assert _blocks(place(_raw(moved))) == {"BW128"}
    placed = place(_raw(moved), HullSettings(centreline_y_m=3.0))
    assert _codes(placed) == set()
    want = _values(place(_raw(hull.patches)), hull.draught_m)
    np.testing.assert_allclose(_values(placed, hull.draught_m), want, rtol=1e-9)


def test_a_whole_hull_off_the_centre_plane_is_moved() -> None:
    hull = cf.flared()
    placed = place(_raw(_moved(hull.whole(), _shift(y=1.0))))
    assert _codes(placed) == {"BW130"}
    want = _values(place(_raw(hull.patches)), hull.draught_m)
    np.testing.assert_allclose(_values(placed, hull.draught_m), want, rtol=1e-9)


def test_different_sides_are_named_with_the_largest_difference() -> None:
    hull = cf.flared()
    fuller = np.diag([1.0, -1.05, 1.0, 1.0])  # 5 % broader on starboard: 0.33 m near the transom's top
    placed = place(_raw(hull.patches + _moved(hull.patches, fuller)))
    assert "BW129" in _codes(placed)
    message = next(str(f) for f in placed.findings if f.kind.code == "BW129")
    assert "by 0.3" in message
    want = _values(place(_raw(hull.patches)), hull.draught_m)
    np.testing.assert_allclose(_values(placed, hull.draught_m), want, rtol=1e-9)
    other = place(_raw(hull.patches + _moved(hull.patches, fuller)), HullSettings(side="starboard"))
    assert _values(other, hull.draught_m)[0] == pytest.approx(1.05 * want[0], rel=1e-9)


def test_x_aft_keeps_the_port_side_of_an_asymmetric_ship() -> None:
    """Half a turn brings a right-handed file with x aft to ship axes: port is the file's negative y."""
    hull = cf.flared()
    fuller = np.diag([1.0, -1.05, 1.0, 1.0])
    ship = hull.patches + _moved(hull.patches, fuller)
    want = _values(place(_raw(ship)), hull.draught_m)
    np.testing.assert_allclose(_values(place(_raw(_moved(ship, AP_FORWARD))), hull.draught_m), want, rtol=1e-9)


def test_places_given_by_the_user_go_before_detection() -> None:
    hull = cf.flared()
    base = _values(place(_raw(hull.patches)), hull.draught_m)
    placed = place(_raw(_moved(hull.patches, _shift(x=402.5, z=8.0))), HullSettings(ap_x_m=400.0, baseline_z_m=7.0))
    assert _codes(placed) == set()
    got = _values(placed, hull.draught_m + 1.0)
    np.testing.assert_allclose(got, base + np.array([0.0, 2.5, 1.0, 0.0, 2.5]), rtol=1e-9)
    aft = place(_raw(_moved(hull.patches, _shift(x=402.5) @ MIRROR_X)), HullSettings(ap_x_m=402.5))
    np.testing.assert_allclose(_values(aft, hull.draught_m), base, rtol=1e-9)


def _deck(hull: cf.AnalyticHull, z: float, name: str, camber: float = 0.0) -> SplinePatch:
    """A level or cambered face from the centre plane to 80 % of the side, over most of the length."""
    b = 0.8 * hull.breadth_m / 2 * 0.5
    return cf.quad([2, 0, z + camber], [50, 0, z + camber], [2, b, z], [50, b, z], name)


def test_decks_and_bulkheads_are_left_out_and_named() -> None:
    hull = cf.flared()
    b = 3.0
    inner = (
        _deck(hull, 8.0, "weather deck", camber=0.2),
        _deck(hull, 4.5, "tween deck"),
        cf.quad([30, 0, 0], [30, b, 0], [30, 0, 8], [30, b, 8], "bulkhead 40"),
        cf.quad([5, 2, 0.01], [40, 2, 0.01], [5, 2, 7.9], [40, 2, 7.9], "wing bulkhead"),
        cf.quad([0, 0, 0], [70, 0, 0], [0, 0, 8], [70, 0, 8], "centre plane"),
    )
    placed = place(_raw(hull.patches + inner))
    roles = {f.name: f.role for f in placed.left_out}
    assert roles == {
        "weather deck": "deck", "tween deck": "deck", "bulkhead 40": "bulkhead", "wing bulkhead": "bulkhead",
        "centre plane": "centre plane",
    }  # fmt: skip
    said = " ".join(f.message for f in placed.findings if f.kind.code == "BW133")
    assert all(name in said for name in roles)
    assert [p.name for p in placed.patches] == [p.name for p in hull.patches]  # transom and bottom stay


def test_the_same_inner_faces_leave_a_mesh() -> None:
    hull = cf.flared()
    inner = (_deck(hull, 8.0, "d"), _deck(hull, 4.5, "t"), cf.quad([30, 0, 0], [30, 3, 0], [30, 0, 8], [30, 3, 8], "b"))
    soup = triangles_of(hull.patches + inner, 30)
    points, back = np.unique(soup.reshape(-1, 3), axis=0, return_inverse=True)
    mesh = TrianglePatch(vertices=points, triangles=back.reshape(-1, 3).astype(np.int64), name="mesh")
    placed = place(_raw((mesh,)))
    assert sorted(f.role for f in placed.left_out) == ["bulkhead", "deck", "deck"]
    clean = place(_raw((_mesh_of(hull),)))
    np.testing.assert_allclose(_values(placed, hull.draught_m), _values(clean, hull.draught_m), rtol=1e-9)


def _mesh_of(hull: cf.AnalyticHull) -> TrianglePatch:
    soup = triangles_of(hull.patches, 30)
    points, back = np.unique(soup.reshape(-1, 3), axis=0, return_inverse=True)
    return TrianglePatch(vertices=points, triangles=back.reshape(-1, 3).astype(np.int64), name="mesh")


def test_a_bulb_and_twin_skegs_stay_shell() -> None:
    """A bulb ahead of the stem (closed tube) and a skeg below the hull: neither is a deck or a bulkhead."""
    hull = cf.flared()
    skeg = (
        cf.quad([5, 2, -3], [20, 2, -3], [5, 2, 0], [20, 2, 0], "skeg inner"),
        cf.quad([5, 3, -3], [20, 3, -3], [5, 3, 0], [20, 3, 0], "skeg outer"),
        cf.quad([5, 2, -3], [20, 2, -3], [5, 3, -3], [20, 3, -3], "skeg foot"),
    )
    arc = np.array([[0.0, -1.0], [1.0, -1.0], [1.0, 0.0], [1.0, 1.0], [0.0, 1.0]])
    x = np.array([60.0, 76.0])
    net = np.stack(np.broadcast_arrays(x[:, None], 1.0 * arc[:, 0], 2.0 + 1.0 * arc[:, 1]), axis=-1)
    bulb = SplinePatch(
        poles=net, weights=np.tile([1.0, np.sqrt(0.5), 1.0, np.sqrt(0.5), 1.0], (2, 1)), degree_u=1, degree_v=2,
        knots_u=np.repeat([0.0, 1.0], 2), knots_v=np.array([0.0, 0, 0, 0.5, 0.5, 1, 1, 1]), name="bulb",
    )  # fmt: skip
    placed = place(_raw((*hull.patches, *skeg, bulb)), HullSettings(baseline_z_m=0.0))
    assert placed.left_out == ()
    assert len(placed.patches) == len(hull.patches) + 4


def test_a_doubled_face_counts_once() -> None:
    hull = cf.flared()
    placed = place(_raw((*hull.patches, _turned_parameters(hull.patches[0]))))
    assert _codes(placed) == {"BW103"}
    want = _values(place(_raw(hull.patches)), hull.draught_m)
    np.testing.assert_allclose(_values(placed, hull.draught_m), want, rtol=1e-9)


def test_every_finding_has_a_control_run_without_it() -> None:
    """The clean hull raises nothing: each finding above is caused by what was done to it."""
    for make in ASYMMETRIC.values():
        assert _codes(place(_raw(make().patches))) == set()
        assert _codes(place(_raw(make().whole()))) == set()


def test_the_record_shows_what_was_settled_and_how_to_change_it() -> None:
    placed = place(_raw(cf.flared().patches))
    assert [r.what for r in placed.detection] == [
        "length unit", "up and length", "side", "x", "aft perpendicular", "baseline",
    ]  # fmt: skip
    assert all(r.setting.startswith("hull.") and r.outcome and r.ground for r in placed.detection)


def test_loading_a_file_records_its_digest(tmp_path: Path) -> None:
    import hashlib

    from tests.hull.readers.offset_hulls import flared

    from beltwright.hull.readers.offsets import write_offsets

    path = tmp_path / "hull.csv"
    write_offsets(path, flared(12, 9))
    placed = load_hull(path)
    assert placed.sha256 == hashlib.sha256(path.read_bytes()).hexdigest()
    assert placed.source == "hull.csv"
    assert placed.patches


def test_the_lowest_point_is_sought_on_the_surface_itself() -> None:
    """Keel z = (s - 0.37)^2 - 0.5 m over the length: its lowest point lies inside the face, off every grid line."""
    hull = cf.flared()
    side = hull.patches[0]
    x = np.linspace(0.0, 70.0, 3)
    keel = np.array([0.37**2, 0.37**2 - 0.37, 0.63**2]) - 0.5  # Bernstein poles of (s - 0.37)^2 - 0.5
    breadth = np.array([5.0, 5.0, 0.0])
    low = np.stack([x, np.zeros(3), keel], axis=1)
    high = np.stack([x, breadth, np.zeros(3)], axis=1)
    floor = cf.bezier(np.stack([low, high], axis=1), name="rising floor")
    placed = place(_raw(_moved((side, floor), _shift(z=20.0))))
    message = next(f.message for f in placed.findings if f.kind.code == "BW126")
    assert "lies at z = 19.5 m" in message
    moved = next(p for p in placed.patches if p.name == "rising floor")
    assert isinstance(moved, SplinePatch)
    np.testing.assert_allclose(moved.poles[:, 0, 2], keel + 0.5, atol=1e-9)
