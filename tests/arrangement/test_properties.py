"""Whatever the levels, spacings and orientation: the panels hold the shell once, and nothing undefined leaks out."""

from __future__ import annotations

import numpy as np
from hypothesis import given, settings
from hypothesis import strategies as st
from tests.arrangement.ships import Document, arranged, document, shell_of
from tests.hull.closed_form import wedge

SHELL = shell_of(wedge(alpha_deg=20.0, beta_deg=30.0))
LAST_M = float(SHELL.bounds[1, 0])

orientations = st.sampled_from(["transverse", "longitudinal", "oblique"])


def wedge_ship(
    spacing: float, heights: list[float], rise: float, orientation: str, girth: float, angle: float, webs: int
) -> Document:
    """A wedge with an inner bottom, a stringer that may rise, a main deck, and a side framed in any way."""
    last = float(np.ceil(LAST_M / spacing))
    low, middle = sorted(heights)
    side: Document = {
        "name": "side", "from_frame": 0.0, "to_frame": last, "from_level": "low", "to_level": "main deck",
        "orientation": orientation, "web_frame_spacing_m": webs * spacing,
    }  # fmt: skip
    if orientation != "transverse":
        side["spacing_m"] = girth
    if orientation == "oblique":
        side["oblique_angle_deg"] = angle
    doc = document(
        depth_m=7.0,
        frames=[(0.0, last, spacing)],
        levels=[("low", "inner bottom", low), ("middle", "load-carrying stringer", middle), ("main deck", "deck", 7.0)],
        zones=[
            side,
            {"name": "bottom", "from_frame": 0.0, "to_frame": last, "to_level": "low", "orientation": "longitudinal",
             "spacing_m": girth, "web_frame_spacing_m": webs * spacing},
        ],
    )  # fmt: skip
    doc["levels"][1] |= {"from_frame": 0.0, "to_frame": last, "height_forward_m": middle + rise}
    return doc


@settings(max_examples=15)
@given(
    spacing=st.floats(0.3, 0.9),
    low=st.floats(0.3, 2.0),
    middle=st.floats(2.5, 5.0),
    rise=st.floats(-0.4, 1.5),
    orientation=orientations,
    girth=st.floats(0.35, 1.2),
    angle=st.floats(20.0, 70.0),
    webs=st.integers(1, 5),
)
def test_panels_hold_the_shell_once(
    spacing: float, low: float, middle: float, rise: float, orientation: str, girth: float, angle: float, webs: int
) -> None:
    result = arranged(wedge_ship(spacing, [low, middle], rise, orientation, girth, angle, webs), SHELL)
    panels = result.panels
    area = panels.values("area_m2")
    assert abs(float(area.sum()) / result.framed_area_m2 - 1.0) < 1e-3
    assert len(set(panels.labels("id"))) == panels.rows
    assert len(set(result.frames.labels("id"))) == result.frames.rows
    for table in (panels, result.frames):
        for name, column in table.items():
            if column.data.dtype.kind == "f":
                assert np.all(np.isfinite(column.data[column.applies])), name
    assert float(area.min()) > 0.0
    assert float(panels.values("spacing_m").min()) > 0.0
    assert np.all(panels.values("span_m") <= panels.values("support_distance_m"))
    assert float(result.frames.values("length_m").min()) >= 0.15
    # a panel is never wider than a frame spacing along the waterline, or a girth spacing and the sliver joined to it
    transverse = panels.labels("orientation") == "transverse"
    most = np.where(transverse, spacing / np.cos(np.radians(20.0)), 1.4 * girth)
    steep = panels["spacing_m"].data <= np.maximum(most, 1.2 * spacing) + 1e-3
    assert np.all(steep)
    for frames in (result.frames["panel_one"].data, result.frames["panel_other"].data):
        assert int(frames.min()) >= -1
        assert int(frames.max()) < panels.rows
