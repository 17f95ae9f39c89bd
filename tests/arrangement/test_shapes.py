"""Spans, spacings and angles on shells with closed formulas: a flared wedge, a barrel, blunt and curved hulls."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from tests.arrangement.ships import arranged, document, quarter_barrel, row_of, shell_of, wedge_document
from tests.hull.closed_form import AnalyticHull, all_hulls, box, flared, half_ellipsoid, wedge
from tests.hull.shapes import bulb_ahead_of_stem, tumblehome, twin_skeg

from beltwright.arrangement.model import Arrangement
from beltwright.hull.mesh_shell import MeshShell
from beltwright.hull.patch import TrianglePatch, mapped
from beltwright.hull.shell import Shell
from beltwright.hull.spline_shell import SplineShell

ALPHA, BETA = np.radians(28.0), np.radians(48.7)
ONE_OVER_NY = float(np.sqrt(1.0 + np.tan(ALPHA) ** 2 + np.tan(BETA) ** 2))


@pytest.fixture(scope="module")
def bow() -> Arrangement:
    return arranged(wedge_document(88), shell_of(wedge(alpha_deg=28.0, beta_deg=48.7)))


def test_spacing_along_the_shell_and_along_the_axis_are_told_apart(bow: Arrangement) -> None:
    """Slip E11: 0.400 m along the axis is 0.453 m along the waterline at alpha 28 degrees."""
    panel = row_of(bow.panels, "F20/L2")
    assert panel["spacing_axis_m"] == pytest.approx(0.400, abs=1e-9)
    assert panel["spacing_m"] == pytest.approx(0.400 / np.cos(ALPHA), abs=1e-6)
    assert round(float(panel["spacing_m"]), 3) == 0.453
    # hand: square to the frames 0.4 / sqrt(1 - nx^2), nx = tan alpha / 1.60574 = 0.33113
    assert panel["spacing_perpendicular_m"] == pytest.approx(0.42391, abs=1e-5)
    frame = row_of(bow.frames, "F20/L2")
    assert frame["spacing_m"] == pytest.approx(0.400 / np.cos(ALPHA), abs=1e-6)


def test_spans_run_along_the_shell(bow: Arrangement) -> None:
    """Slip E12: a bay 1.45 m high at beta 48.7 degrees has frames of 2.20 m."""
    panel, frame = row_of(bow.panels, "F20/L2"), row_of(bow.frames, "F20/L2")
    for row in (panel, frame):
        assert row["support_distance_m"] == pytest.approx(1.45 / np.cos(BETA), abs=1e-6)
        assert round(float(row["span_m"]), 2) == 2.20


def test_angles_come_from_the_surface(bow: Arrangement) -> None:
    panel, frame = row_of(bow.panels, "F20/L2"), row_of(bow.frames, "F20/L2")
    omega = np.degrees(np.arccos(np.sin(ALPHA) * np.sin(BETA)))
    web = np.degrees(np.arccos(np.tan(ALPHA) / ONE_OVER_NY))
    assert (round(float(omega), 2), round(float(web), 2)) == (69.35, 70.66)  # hand
    assert panel["omega_deg"] == pytest.approx(omega, abs=1e-6)
    assert frame["omega_deg"] == pytest.approx(omega, abs=1e-6)
    assert panel["web_angle_aft_deg"] == pytest.approx(web, abs=1e-6)
    assert frame["web_angle_deg"] == pytest.approx(web, abs=1e-6)


def test_a_whole_panel_has_its_true_area(bow: Arrangement) -> None:
    panel = row_of(bow.panels, "F20/L2")
    assert panel["area_m2"] == pytest.approx(0.4 * 1.45 * ONE_OVER_NY, rel=1e-9)


def test_panels_cut_short_by_the_stem_keep_their_area(bow: Arrangement) -> None:
    heights = {"L2": (1.0, 2.45), "L3": (2.45, 3.9), "L4": (3.9, 7.0)}
    ids, area = bow.panels.labels("id"), bow.panels.values("area_m2")
    rake = np.tan(BETA) / np.tan(ALPHA)
    for bay, (a, b) in heights.items():
        hand = ONE_OVER_NY * ((20.0 * b + rake * b * b / 2.0) - (20.0 * a + rake * a * a / 2.0))
        rows = np.char.endswith(ids, bay)
        assert float(area[rows].sum()) == pytest.approx(hand, rel=1e-4), bay
    # keel to 1.0 m: flat bottom 20 x c / 2 and the side above it
    hand = 20.0 * 20.0 * np.tan(ALPHA) / 2.0 + ONE_OVER_NY * (20.0 + rake / 2.0)
    assert float(area[np.char.endswith(ids, "L1")].sum()) == pytest.approx(hand, rel=1e-4)
    assert [f.kind.code for f in bow.findings if f.kind.code in ("BW202", "BW204")] == []


def test_no_panel_at_the_stem_is_wider_than_its_neighbours(bow: Arrangement) -> None:
    side = ~np.char.endswith(bow.panels.labels("id"), "L1")
    whole = 0.400 / np.cos(ALPHA)
    spacing = bow.panels.values("spacing_m")[side]
    joined = (bow.panels.values("frame_fore") - bow.panels.values("frame_aft"))[side] > 1.0
    assert float(spacing[~joined].max()) <= whole + 1e-4
    assert float(spacing[joined].max()) <= 2.0 * whole + 1e-4
    assert float(spacing.min()) > 0.05


def test_frames_that_begin_on_the_stem_say_so(bow: Arrangement) -> None:
    # the stem stands at x = 20 + z tan beta / tan alpha: 22.14 m at z = 1.0, 25.24 m at z = 2.45
    assert row_of(bow.frames, "F55/L2")["lower_support"] == "flat"
    begun = row_of(bow.frames, "F58/L2")  # x = 23.2: the section begins at z = 1.495
    assert begun["lower_support"] == "stem or stern contour"
    start = (23.2 - 20.0) * np.tan(ALPHA) / np.tan(BETA)
    assert begun["support_distance_m"] == pytest.approx((2.45 - start) / np.cos(BETA), abs=1e-6)


def test_samples_lie_on_the_shell(bow: Arrangement) -> None:
    hull = wedge(alpha_deg=28.0, beta_deg=48.7)
    for points, normals in (
        (bow.panel_shapes.samples, bow.panel_shapes.sample_normals),
        (bow.frame_shapes.samples, bow.frame_shapes.sample_normals),
    ):
        p, n = points.reshape(-1, 3), normals.reshape(-1, 3)
        side = (p[:, 2] > 0.01) & (p[:, 1] > 0.01)
        assert p[side, 1] == pytest.approx(hull.half_breadth(p[side, 0], p[side, 2]), abs=1e-7)
        assert np.abs(n[side] - hull.normal(p[side, 0], p[side, 2])).max() < 1e-9


def test_girth_on_a_barrel() -> None:
    doc = document(
        depth_m=9.0,
        frames=[(0, 40, 0.5)],
        levels=[("low", "inner bottom", 1.0), ("middle", "deck", 3.0), ("main deck", "deck", 9.0)],
        zones=[
            {"name": "side", "from_frame": 0, "to_frame": 40, "from_level": "low", "to_level": "main deck",
             "orientation": "transverse", "web_frame_spacing_m": 2.0},
            {"name": "bottom", "from_frame": 0, "to_frame": 40, "to_level": "low", "orientation": "longitudinal",
             "spacing_m": 0.7, "web_frame_spacing_m": 2.0},
        ],
    )  # fmt: skip
    result = arranged(doc, quarter_barrel())
    angle = {z: float(np.arccos(1.0 - z / 6.0)) for z in (1.0, 3.0)}
    span = 6.0 * (angle[3.0] - angle[1.0])
    panel = row_of(result.panels, "F20/L2")
    assert panel["support_distance_m"] == pytest.approx(span, abs=2e-6)
    assert panel["area_m2"] == pytest.approx(0.5 * span, rel=1e-4)
    assert panel["spacing_m"] == pytest.approx(0.5, abs=1e-6)
    strip = row_of(result.panels, "F20/B02")
    assert strip["spacing_m"] == pytest.approx(0.7, abs=1e-9)
    assert strip["centroid_y_m"] == pytest.approx(6.0 * np.sin(1.05 / 6.0), rel=1e-3)
    # hand: the centre of an arc of half angle 0.35 / 6 lies sin(t) / t of the radius from its centre
    half = 0.35 / 6.0
    assert strip["centroid_y_m"] == pytest.approx(6.0 * np.sin(half) / half * np.sin(1.05 / 6.0), rel=3e-5)
    bottom = result.panels.where(result.panels.labels("zone") == "bottom")
    assert float(bottom.values("area_m2").sum()) == pytest.approx(20.0 * 6.0 * angle[1.0], rel=1e-5)


def whole_ship(hull: AnalyticHull, spacing: float = 0.5, shell: Shell | None = None) -> Arrangement:
    shell = shell or shell_of(hull)
    first, last = np.floor(shell.bounds[0, 0] / spacing), np.ceil(shell.bounds[1, 0] / spacing - 1e-9)
    depth = hull.depth_m
    doc = document(
        depth_m=depth,
        frames=[(float(min(first, 0.0)), float(last), spacing)],
        levels=[("low", "inner bottom", 0.25 * depth), ("middle", "deck", 0.5 * depth), ("main deck", "deck", depth)],
        zones=[
            {"name": "side", "from_frame": float(min(first, 0.0)), "to_frame": float(last), "from_level": "low",
             "to_level": "main deck", "orientation": "transverse", "web_frame_spacing_m": 4 * spacing},
            {"name": "bottom", "from_frame": float(min(first, 0.0)), "to_frame": float(last), "to_level": "low",
             "orientation": "longitudinal", "spacing_m": 0.6, "web_frame_spacing_m": 4 * spacing},
        ],
    )  # fmt: skip
    return arranged(doc, shell)


@pytest.mark.parametrize("hull", all_hulls(), ids=lambda h: h.name)
def test_areas_add_up_on_every_hull(hull: AnalyticHull) -> None:
    result = whole_ship(hull)
    assert float(result.panels.values("area_m2").sum()) == pytest.approx(result.framed_area_m2, rel=1e-3)
    assert [str(f) for f in result.findings if f.kind.code in ("BW202", "BW203", "BW204", "BW207", "BW209")] == []
    assert len(set(result.panels.labels("id"))) == result.panels.rows
    assert len(set(result.frames.labels("id"))) == result.frames.rows


def test_spans_on_an_ellipsoid_amidships() -> None:
    """At midships the section is an ellipse of half-axes 8 and 6 m; its arc by Simpson's rule on 2,000 steps."""
    result = whole_ship(half_ellipsoid())
    frame = row_of(result.frames, "F80/L2")  # x = 40, z from 2.25 to 4.5
    angles = np.linspace(np.arccos(1.0 - 2.25 / 6.0), np.arccos(1.0 - 4.5 / 6.0), 2001)
    speed = np.hypot(8.0 * np.cos(angles), 6.0 * np.sin(angles))
    step = angles[1] - angles[0]
    arc = step / 3.0 * (speed[0] + speed[-1] + 4.0 * speed[1:-1:2].sum() + 2.0 * speed[2:-1:2].sum())
    assert frame["support_distance_m"] == pytest.approx(arc, abs=1e-4)  # second-method


def test_frames_are_counted_from_the_aft_perpendicular_on_a_turned_ship() -> None:
    """Slip E10: the same hull turned end for end has its panels at the mirrored frames, none at the old ones."""
    hull = flared()
    turn = np.diag([-1.0, 1.0, 1.0, 1.0])
    turn[0, 3] = hull.length_m
    turned = replace(hull, patches=tuple(mapped(p, turn) for p in hull.patches))  # type: ignore[arg-type]
    one, other = whole_ship(hull), whole_ship(turned)
    for frame in (4, 40, 100, 130):
        here, there = row_of(one.panels, f"F{frame}/L2"), row_of(other.panels, f"F{139 - frame}/L2")
        assert here["area_m2"] == pytest.approx(there["area_m2"], rel=1e-6)
        assert here["centroid_x_m"] == pytest.approx(hull.length_m - float(there["centroid_x_m"]), abs=1e-6)
        assert here["centroid_x_m"] == pytest.approx((frame + 0.5) * 0.5, abs=0.02)
    fore, aft = row_of(one.panels, "F130/L2"), row_of(one.panels, "F9/L2")
    assert abs(float(fore["spacing_m"]) - float(aft["spacing_m"])) > 0.005  # the ends do differ


def test_both_sides_are_told_by_one_row(bow: Arrangement) -> None:
    assert set(bow.panels["sides"].data.tolist()) == {2}
    assert float(bow.panel_shapes.samples[..., 1].min()) > -1e-9  # port only


@pytest.mark.parametrize("hull", [box(), flared(), wedge()], ids=lambda h: h.name)
def test_a_mesh_gives_the_same_arrangement(hull: AnalyticHull) -> None:
    spline = shell_of(hull)
    mesh = spline.tessellation()
    soup = TrianglePatch(vertices=mesh.vertices.points, triangles=mesh.triangles)
    one, other = whole_ship(hull, shell=spline), whole_ship(hull, shell=MeshShell([soup]))
    assert one.panels.labels("id").tolist() == other.panels.labels("id").tolist()
    for name, room in (("area_m2", 2e-3), ("spacing_m", 1e-3), ("support_distance_m", 1e-3), ("omega_deg", 0.2)):
        ours, theirs = one.panels[name], other.panels[name]
        assert np.array_equal(ours.applies, theirs.applies)
        assert np.abs(ours.data - theirs.data)[ours.applies].max() < room, name


def test_a_round_stern_of_triangles_is_no_transom() -> None:
    hull = half_ellipsoid()
    mesh = shell_of(hull).tessellation()
    soup = TrianglePatch(vertices=mesh.vertices.points, triangles=mesh.triangles)
    result = whole_ship(hull, shell=MeshShell([soup]))
    assert "BW213" not in {f.kind.code for f in result.findings}
    assert float(result.panels.values("area_m2").sum()) == pytest.approx(result.framed_area_m2, rel=1e-3)


def test_tumblehome_is_arranged_like_any_side() -> None:
    hull = replace(flared(), depth_m=8.0)
    result = whole_ship(hull, shell=SplineShell(tumblehome()))
    assert float(result.panels.values("area_m2").sum()) == pytest.approx(result.framed_area_m2, rel=1e-4)
    assert [f.kind.code for f in result.findings if f.kind.code in ("BW203", "BW204", "BW207", "BW213")] == []


def test_skegs_and_a_loose_bulb_are_named() -> None:
    """Where a section is not one curve from the keel up, a finding says where, and one says what area is not held."""
    skegs = whole_ship(replace(box(), depth_m=7.0), shell=SplineShell(twin_skeg()[0]))
    told = {f.kind.code: str(f) for f in skegs.findings}
    assert "sections between x = 0.00 and 20.00 m" in told["BW109"]
    assert {"BW203", "BW204"} <= set(told)
    bulb = whole_ship(replace(wedge(), depth_m=7.0), shell=SplineShell(bulb_ahead_of_stem()[0]))
    assert {"BW109", "BW203"} <= {f.kind.code for f in bulb.findings}
    plain = whole_ship(wedge())
    assert not {"BW109", "BW203", "BW204"} & {f.kind.code for f in plain.findings}  # the control
