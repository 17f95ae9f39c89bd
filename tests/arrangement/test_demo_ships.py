"""The demo ships on their own forms: no area lost, every row whole, panels and frames that fit each other."""

from __future__ import annotations

import tomllib
from dataclasses import dataclass
from pathlib import Path

import numpy as np
import pytest

from beltwright.arrangement.arrange import arrange
from beltwright.arrangement.model import Arrangement
from beltwright.hull.forms.build import hull_patches
from beltwright.hull.forms.demo import MERROW_TARN, MERROW_TARN_UPRIGHT, OSTVIK_LARCH, QUILLAN_FROSTMARK
from beltwright.hull.forms.parameters import HullForm
from beltwright.hull.spline_shell import SplineShell
from beltwright.ship.model import Ship
from beltwright.ship.parse import parse_ship

DEMOS = {
    "quillan-frostmark": QUILLAN_FROSTMARK,
    "merrow-tarn": MERROW_TARN,
    "merrow-tarn-upright": MERROW_TARN_UPRIGHT,
    "ostvik-larch": OSTVIK_LARCH,
}
# Distance between frames along the axis at the upper ice waterline [m]: of Ostvik Larch with intermediate frames.
SPACING_M = {"quillan-frostmark": 0.4, "merrow-tarn": 0.4, "merrow-tarn-upright": 0.4, "ostvik-larch": 0.35}


@dataclass(frozen=True)
class Demo:
    name: str
    form: HullForm
    ship: Ship
    arrangement: Arrangement


@pytest.fixture(scope="module", params=list(DEMOS))
def demo(request: pytest.FixtureRequest, root: Path) -> Demo:
    name = str(request.param)
    document = tomllib.loads((root / "examples" / name / "ship.toml").read_text("utf-8"))
    ship = parse_ship(document)
    return Demo(name, DEMOS[name], ship, arrange(ship, SplineShell(hull_patches(DEMOS[name]))))


def test_no_area_is_lost(demo: Demo) -> None:
    panels = float(demo.arrangement.panels.values("area_m2").sum())
    assert panels == pytest.approx(demo.arrangement.framed_area_m2, rel=1e-4)


def test_the_only_findings_are_the_ones_that_are_there(demo: Demo) -> None:
    """The transom, joined slivers, short frame ends, and the thruster tunnel, which truly cuts frames."""
    told = {(f.kind.code, f.where if f.kind.code.startswith("BW205") else "") for f in demo.arrangement.findings}
    assert told == {("BW201", ""), ("BW208", ""), ("BW213", ""), ("BW205", "bow thruster tunnel")}


def test_panels_and_frames_are_whole(demo: Demo) -> None:
    panels, frames = demo.arrangement.panels, demo.arrangement.frames
    print(f"{demo.name}: {2 * panels.rows} panels and {2 * frames.rows} frame spans on both sides")
    assert 3000 < 2 * panels.rows < 6000
    for table in (panels, frames):
        assert len(set(table.labels("id"))) == table.rows
        for name, column in table.items():
            if column.data.dtype.kind == "f":
                assert np.all(np.isfinite(column.data[column.applies])), name
                assert column.reason is None or np.all(np.isnan(column.data[~column.applies])), name
    for name in ("area_m2", "spacing_m", "span_m", "support_distance_m"):
        assert float(panels.values(name).min()) > 0.0
    assert np.all(panels.values("span_m") <= panels.values("support_distance_m") + 1e-12)


def test_every_frame_stands_between_two_panels(demo: Demo) -> None:
    frames, panels = demo.arrangement.frames, demo.arrangement.panels
    one, other = frames["panel_one"].data, frames["panel_other"].data
    assert int(one.min()) >= 0
    assert int(other.min()) >= 0
    x = frames.values("x_m")
    transverse = frames.labels("role") != "longitudinal"
    aft, fore = panels.values("frame_aft"), panels.values("frame_fore")
    number = demo.arrangement.stations.frame_of(x)
    assert np.all(aft[one[transverse]] <= number[transverse] + 1e-6)
    assert np.all(fore[other[transverse]] >= number[transverse] - 1e-6)


def test_spacing_in_the_bow_is_that_of_the_waterline_angle(demo: Demo) -> None:
    """At the form's given stations alpha is known at the upper ice waterline: spacing there is s / cos alpha."""
    bow = demo.form.bow
    panels = demo.arrangement.panels
    aft, fore = panels.values("frame_aft"), panels.values("frame_fore")
    heights = demo.arrangement.panel_shapes.corners[..., 2]
    draught, axis = demo.form.draught_m, SPACING_M[demo.name]
    for distance, alpha in zip(bow.station_aft_of_stem_m, bow.waterline_angle_deg, strict=True):
        frame = float(demo.arrangement.stations.frame_of(demo.form.stem_x_m - distance))
        touching = (
            (aft <= frame) & (frame <= fore) & (heights.min(axis=1) <= draught) & (draught <= heights.max(axis=1))
        )
        spacing = panels.values("spacing_m")[touching]
        assert touching.any()
        assert float(spacing.max()) >= axis / np.cos(np.radians(alpha)) - 1e-3
        assert float(spacing.max()) <= axis / np.cos(np.radians(alpha + 2.5))


def test_frames_run_on_to_the_main_deck(demo: Demo) -> None:
    """No frame of the side ends at the edge of the ice belt: each goes on to the deck above it."""
    frames = demo.arrangement.frames
    side = (frames.labels("zone") == "side") & (frames.labels("role") == "main frame")
    assert set(frames.labels("runs_to_level")[side]) == {"main deck"}


def test_levels_are_drawn_at_their_height(demo: Demo) -> None:
    for trace in demo.arrangement.level_traces:
        height = next(level.height_aft_m for level in demo.arrangement.levels if level.name == trace.name)
        assert np.abs(trace.points[:, 2] - height).max() < 5e-3
    assert {t.name for t in demo.arrangement.level_traces} == {level.name for level in demo.arrangement.levels}


def test_openings_leave_their_area_out(demo: Demo) -> None:
    panels = demo.arrangement.panels
    want = sum(o.length_m * o.height_m * (2 if o.side == "both" else 1) for o in demo.ship.openings)
    lost = 2.0 * panels.values("area_m2") - panels.values("net_area_m2")
    # on the expansion an opening's length is measured along the axis: on the flared bow its true area is larger
    assert float(lost.sum()) == pytest.approx(want, rel=0.20)
    assert float(lost.sum()) >= want * (1.0 - 1e-3)
