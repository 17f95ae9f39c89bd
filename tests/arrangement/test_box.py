"""A box of 60 x 12 x 7 m, where every area, span and spacing is known by hand."""

from __future__ import annotations

import numpy as np
import pytest
from tests.arrangement.ships import arranged, box_document, row_of, shell_of
from tests.hull.closed_form import box

from beltwright.arrangement.model import Arrangement


@pytest.fixture(scope="module")
def plain() -> Arrangement:
    return arranged(box_document(), shell_of(box()))


def test_counts(plain: Arrangement) -> None:
    # side: 100 bays x 2; bottom girth 6 + 1.5 = 7.5 m: 15 strips x 25 floor bays
    assert plain.panels.rows == 100 * 2 + 15 * 25
    roles, counts = np.unique(plain.frames.labels("role"), return_counts=True)
    # frames 1..99 x 2 spans, every fourth a web (24 of them); floors at 4, 8 .. 96; 14 longitudinals x 25 bays
    assert dict(zip(roles.tolist(), counts.tolist(), strict=True)) == {
        "main frame": 75 * 2, "web frame": 24 * 2 + 24, "longitudinal": 14 * 25,
    }  # fmt: skip
    assert len(set(plain.panels.labels("id"))) == plain.panels.rows
    assert len(set(plain.frames.labels("id"))) == plain.frames.rows
    # the two flat ends lie across the ship
    assert [str(f) for f in plain.findings] == [
        "BW213 caution: x = 0.00 to 60.00 m: 84.00 m2 on the port side",
    ]


def test_a_side_panel(plain: Arrangement) -> None:
    panel = row_of(plain.panels, "F50/L2")
    assert panel["zone"] == "side"
    assert (panel["lower_level"], panel["upper_level"]) == ("inner bottom", "stringer")
    assert (panel["frame_aft"], panel["frame_fore"]) == (50.0, 51.0)
    assert panel["area_m2"] == pytest.approx(0.6 * 2.0, rel=1e-9)
    centre = [panel[f"centroid_{k}_m"] for k in "xyz"]
    assert centre == pytest.approx([30.3, 6.0, 2.5], abs=1e-9)
    for name in ("spacing_m", "spacing_axis_m", "spacing_perpendicular_m"):
        assert panel[name] == pytest.approx(0.6, abs=1e-9)
    assert panel["span_m"] == panel["support_distance_m"] == pytest.approx(2.0, abs=1e-9)
    assert panel["omega_deg"] == pytest.approx(90.0, abs=1e-9)
    assert panel["web_angle_aft_deg"] == panel["web_angle_fore_deg"] == pytest.approx(90.0, abs=1e-9)
    assert panel["sides"] == 2
    assert panel["stringer_to_support_m"] is None


def test_bottom_panels(plain: Arrangement) -> None:
    flat, side = row_of(plain.panels, "F48/B03"), row_of(plain.panels, "F48/B14")
    for panel in (flat, side):
        assert panel["area_m2"] == pytest.approx(2.4 * 0.5, rel=1e-9)
        assert panel["spacing_m"] == pytest.approx(0.5, abs=1e-9)
        assert panel["span_m"] == pytest.approx(2.4, abs=1e-9)
        assert panel["spacing_axis_m"] is None
    assert [flat[f"centroid_{k}_m"] for k in "xyz"] == pytest.approx([30.0, 1.25, 0.0], abs=1e-9)
    assert flat["omega_deg"] is None  # flat bottom: no waterline direction
    reasons = plain.panels["omega_deg"].reason
    assert reasons is not None
    assert "flatter than 7 degrees" in set(reasons.tolist()).pop() + "".join(set(reasons.tolist()))
    # girth 6.5 .. 7.0 is the side from z = 0.5 to 1.0, longitudinals run along the waterline
    assert side["centroid_z_m"] == pytest.approx(0.75, abs=1e-9)
    assert side["omega_deg"] == pytest.approx(0.0, abs=1e-9)


def test_no_area_is_lost(plain: Arrangement) -> None:
    # hand: (6 + 7) x 60 on one side
    assert float(plain.panels.values("area_m2").sum()) == pytest.approx(13.0 * 60.0, rel=1e-6)
    assert plain.framed_area_m2 == pytest.approx(13.0 * 60.0, rel=1e-6)


def test_a_frame(plain: Arrangement) -> None:
    frame = row_of(plain.frames, "F50/L3")
    assert frame["role"] == "main frame"
    assert frame["x_m"] == pytest.approx(30.0)
    assert frame["span_m"] == frame["length_m"] == pytest.approx(3.5)
    assert frame["spacing_m"] == frame["spacing_greatest_m"] == pytest.approx(0.6)
    assert frame["web_angle_deg"] == pytest.approx(90.0)
    assert frame["omega_deg"] == pytest.approx(90.0)
    assert [frame[f"centroid_{k}_m"] for k in "xyz"] == pytest.approx([30.0, 6.0, 5.25])
    assert (frame["lower_support"], frame["runs_from_level"], frame["runs_to_level"]) == (
        "stringer", "inner bottom", "main deck",
    )  # fmt: skip
    ids = plain.panels.labels("id")
    assert (ids[frame["panel_one"]], ids[frame["panel_other"]]) == ("F49/L3", "F50/L3")
    assert row_of(plain.frames, "F52/L3")["role"] == "web frame"


def test_a_longitudinal(plain: Arrangement) -> None:
    frame = row_of(plain.frames, "F48/B03")
    assert frame["span_m"] == pytest.approx(2.4)
    assert frame["spacing_m"] == pytest.approx(0.5)
    assert [frame[f"centroid_{k}_m"] for k in "xyz"] == pytest.approx([30.0, 1.5, 0.0], abs=1e-9)
    ids = plain.panels.labels("id")
    assert (ids[frame["panel_one"]], ids[frame["panel_other"]]) == ("F48/B03", "F48/B04")


def test_girth_on_the_expansion(plain: Arrangement) -> None:
    at = int(np.flatnonzero(plain.panels.labels("id") == "F50/L2")[0])
    ring = plain.panel_shapes.outline_expansion[at]
    assert (ring[:, 0].min(), ring[:, 0].max()) == pytest.approx((30.0, 30.6))
    assert (ring[:, 1].min(), ring[:, 1].max()) == pytest.approx((7.5, 9.5))  # 6 m of bottom, then heights
    deck = [t for t in plain.level_traces if t.name == "stringer"]
    assert len(deck) == 1
    assert deck[0].expansion[:, 1] == pytest.approx(np.full(len(deck[0].expansion), 9.5))
    assert deck[0].points[:, 2] == pytest.approx(np.full(len(deck[0].points), 3.5))


def test_a_narrow_strip_is_joined_to_its_neighbour() -> None:
    doc = box_document()
    doc["zones"][1]["spacing_m"] = 0.74  # 7.5 = 10 x 0.74 + 0.10
    result = arranged(doc, shell_of(box()))
    bottom = result.panels.where(result.panels.labels("zone") == "bottom")
    assert bottom.rows == 10 * 25
    assert float(bottom.values("spacing_m").max()) == pytest.approx(0.84)
    assert float(result.panels.values("area_m2").sum()) == pytest.approx(13.0 * 60.0, rel=1e-6)
    # the chine at girth 6 m lies inside the ninth strip: it bends the plate, not its length
    assert bottom.values("support_distance_m") == pytest.approx(np.full(bottom.rows, 2.4), abs=1e-4)
    assert not np.any(result.frames.labels("id") == "F48/B10")  # the longitudinal between them is left out
    assert [str(f) for f in result.findings if f.kind.code == "BW201"] == [
        "BW201 note: panels: 25 slivers of 6.000 m2 on the port side joined to neighbours",
    ]


def test_intermediate_frames_stand_between_their_levels_only() -> None:
    doc = box_document()
    doc["zones"][0] |= {"intermediate_frames": True, "intermediate_to_level": "stringer"}
    result = arranged(doc, shell_of(box()))
    assert row_of(result.panels, "F50.5/L2")["spacing_m"] == pytest.approx(0.3)
    assert row_of(result.panels, "F50/L3")["spacing_m"] == pytest.approx(0.6)
    between = row_of(result.frames, "F50.5/L2")
    assert between["role"] == "intermediate frame"
    assert (between["runs_from_level"], between["runs_to_level"]) == ("inner bottom", "stringer")
    assert not np.any(result.frames.labels("id") == "F50.5/L3")
    assert row_of(result.frames, "F50/L2")["spacing_m"] == pytest.approx(0.3)


def test_a_load_distributing_stringer_does_not_end_a_span() -> None:
    doc = box_document()
    doc["levels"][1]["kind"] = "load-distributing stringer"
    result = arranged(doc, shell_of(box()))
    panel, frame = row_of(result.panels, "F50/L2"), row_of(result.frames, "F50/L2")
    for row in (panel, frame):
        assert row["support_distance_m"] == pytest.approx(5.5)
        assert row["load_distributing_stringer"] is True
    assert panel["stringer_to_support_m"] == pytest.approx(3.5)  # stringer at 3.5 m, farther support at 7.0 m
    assert not np.any(result.panels.labels("id") == "F50/L3")
    assert row_of(result.panels, "F48/B03")["load_distributing_stringer"] is False


def test_brackets_shorten_the_span_but_not_the_support_distance() -> None:
    doc = box_document()
    doc["zones"][0]["lower_end"] = {"bracket_m": 0.4, "span_reduction_m": 0.2}
    doc["zones"][0]["upper_end"] = {"fixed": False}
    result = arranged(doc, shell_of(box()))
    for row in (row_of(result.panels, "F50/L2"), row_of(result.frames, "F50/L2")):
        assert row["span_m"] == pytest.approx(1.8)
        assert row["support_distance_m"] == pytest.approx(2.0)
    frame = row_of(result.frames, "F50/L2")
    assert (frame["lower_end_fixed"], frame["upper_end_fixed"], frame["end_brackets"]) == (True, False, False)


def test_web_frames_are_counted_anew_from_a_bulkhead() -> None:
    doc = box_document()
    doc["bulkheads"] = [{"name": "bulkhead", "frame": 50}]
    result = arranged(doc, shell_of(box()))
    side = result.zones[0]
    assert side.webs[:3] == (0, 4, 8)
    assert [f for f in side.webs if 44 <= f <= 58] == [44, 48, 54, 58]  # 48, then 50 + 4, 50 + 8
    assert not np.any(result.frames.labels("id") == "F50/L2")
    assert row_of(result.panels, "F48/B03")["span_m"] == pytest.approx(1.2)
    assert len(result.bulkhead_traces) == 1
    assert result.bulkhead_traces[0].expansion[-1] == pytest.approx([30.0, 13.0])


def test_a_level_that_ends_opens_the_bays_beyond_it() -> None:
    doc = box_document()
    doc["levels"][1] |= {"from_frame": 0, "to_frame": 40}
    result = arranged(doc, shell_of(box()))
    assert row_of(result.panels, "F39/L2")["support_distance_m"] == pytest.approx(2.0)
    assert row_of(result.panels, "F40/L2")["support_distance_m"] == pytest.approx(5.5)
    assert row_of(result.frames, "F40/L2")["support_distance_m"] == pytest.approx(2.0)  # the level reaches frame 40
    assert row_of(result.frames, "F41/L2")["support_distance_m"] == pytest.approx(5.5)
    assert float(result.panels.values("area_m2").sum()) == pytest.approx(13.0 * 60.0, rel=1e-6)
    trace = next(t for t in result.level_traces if t.name == "stringer")
    assert trace.points[:, 0].max() == pytest.approx(24.0)


def test_a_rising_level() -> None:
    doc = box_document()
    doc["levels"][1] |= {"from_frame": 0, "to_frame": 100, "height_forward_m": 5.5}
    result = arranged(doc, shell_of(box()))
    # hand: at x = 30 it is 4.5 m high, at 30.6 m 4.52 m; the panel's longer frame is the forward one
    assert row_of(result.frames, "F50/L2")["support_distance_m"] == pytest.approx(3.0, abs=1e-9)
    assert row_of(result.panels, "F50/L2")["support_distance_m"] == pytest.approx(3.02, abs=1e-9)
    assert row_of(result.panels, "F50/L2")["area_m2"] == pytest.approx(0.6 * 3.01, rel=1e-9)


def test_openings_are_taken_out_of_area() -> None:
    doc = box_document()
    doc["openings"] = [
        {"name": "small", "x_m": 30.3, "z_m": 2.5, "length_m": 0.4, "height_m": 0.5, "side": "port"},
        {"name": "wide", "x_m": 30.0, "z_m": 5.0, "length_m": 0.8, "height_m": 1.0},
        {"name": "lost", "x_m": 70.0, "z_m": 2.0, "length_m": 0.4, "height_m": 0.4},
    ]
    result = arranged(doc, shell_of(box()))
    small, aft, fore = (row_of(result.panels, name) for name in ("F50/L2", "F49/L3", "F50/L3"))
    assert small["opening_port_m2"] == pytest.approx(0.2)
    assert small["opening_starboard_m2"] == 0.0
    assert small["net_area_m2"] == pytest.approx(2 * 1.2 - 0.2)
    for half in (aft, fore):
        assert half["opening_port_m2"] == half["opening_starboard_m2"] == pytest.approx(0.4)
    words = [str(f) for f in result.findings if f.kind.code in ("BW205", "BW206")]
    assert words == [
        "BW205 caution: wide: frames F50/L3",
        "BW206 caution: lost: no panel at x = 70 m, z = 2 m",
    ]


def test_shell_without_a_zone_is_a_finding() -> None:
    doc = box_document()
    doc["zones"][0]["from_level"] = "stringer"
    doc["zones"][1]["to_frame"] = 80
    result = arranged(doc, shell_of(box()))
    assert [str(f) for f in result.findings if f.kind.code == "BW202"] == [
        "BW202 caution: frames 0 to 80: no zone between inner bottom and stringer",
        "BW202 caution: frames 80 to 100: no zone between keel and stringer",
    ]
    # the check of areas counts what the zones hold
    hand = 60.0 * 3.5 + 48.0 * 7.5
    assert result.framed_area_m2 == pytest.approx(hand, rel=1e-6)
    assert float(result.panels.values("area_m2").sum()) == pytest.approx(hand, rel=1e-6)


def test_oblique_frames_keep_their_angle_to_the_waterline() -> None:
    doc = box_document()
    doc["zones"][0] |= {"orientation": "oblique", "spacing_m": 0.8, "oblique_angle_deg": 40.0}
    result = arranged(doc, shell_of(box()))
    side = result.panels.where(result.panels.labels("zone") == "side")
    assert float(side.values("area_m2").sum()) == pytest.approx(60.0 * 5.5, rel=1e-6)
    full = side.values("girth_m") > 0.79
    omega = side.values("omega_deg")
    frames = result.frames.where(result.frames.labels("role") == "oblique frame")
    assert frames.values("omega_deg") == pytest.approx(np.full(frames.rows, 40.0), abs=1e-6)
    assert full.any()
    # a panel bounded by two frames; at the edges of the zone it is cut to a triangle
    assert float(np.median(omega[full])) == pytest.approx(40.0, abs=0.01)
    # a frame that crosses a whole web bay of 2.4 m: 2.4 / cos 40
    assert float(frames.values("span_m").max()) == pytest.approx(2.4 / np.cos(np.radians(40.0)), rel=1e-6)
