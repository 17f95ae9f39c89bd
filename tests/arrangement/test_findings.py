"""Each finding of the arrangement, with the case that raises it; the box without the fault raises none of them."""

from __future__ import annotations

import numpy as np
import pytest
from tests.arrangement.ships import arranged, box_document, parsed, row_of, shell_of
from tests.hull.closed_form import box, quad

from beltwright.arrangement.columns import numbers
from beltwright.arrangement.levels import level_lines
from beltwright.arrangement.model import Arrangement
from beltwright.arrangement.stations import frame_stations
from beltwright.core.errors import InputError
from beltwright.hull.patch import mapped
from beltwright.hull.spline_shell import SplineShell


def told(result: Arrangement, code: str) -> list[str]:
    return [str(f) for f in result.findings if f.kind.code == code]


def test_a_level_below_the_hull_is_named() -> None:
    doc = box_document()
    doc["levels"].append({"name": "lost", "kind": "deck", "height_m": -1.0})
    result = arranged(doc, shell_of(box()))
    assert told(result, "BW207") == ["BW207 caution: lost: at height -1 m"]
    assert row_of(result.panels, "F50/L3")["upper_level"] == "stringer"  # it counts as a support below the others


def test_a_zone_without_shell_is_named() -> None:
    doc = box_document()
    doc["levels"].append({"name": "lost", "kind": "deck", "height_m": -1.0})
    doc["levels"].append({"name": "lower still", "kind": "deck", "height_m": -2.0})
    doc["zones"][1]["from_level"] = "lost"
    doc["zones"].append(
        {"name": "under", "from_frame": 0, "to_frame": 100, "from_level": "lower still", "to_level": "lost",
         "orientation": "transverse", "web_frame_spacing_m": 2.4},
    )  # fmt: skip
    assert told(arranged(doc, shell_of(box())), "BW211") == ["BW211 caution: under: frames 0 to 100"]


def test_zones_that_hold_nothing_at_all_are_refused() -> None:
    doc = box_document()
    doc["levels"] = [
        {"name": "lost", "kind": "deck", "height_m": -1.0},
        {"name": "lower still", "kind": "deck", "height_m": -2.0},
    ]
    doc["zones"] = [
        {"name": "under", "from_frame": 0, "to_frame": 100, "from_level": "lower still", "to_level": "lost",
         "orientation": "transverse", "web_frame_spacing_m": 2.4},
    ]  # fmt: skip
    with pytest.raises(InputError, match=r"ship.toml: zones: no zone holds any part of the shell"):
        arranged(doc, shell_of(box()))


def test_a_deck_in_the_hull_file_ends_the_sections() -> None:
    lid = quad(np.array([0, 0, 7]), np.array([60, 0, 7]), np.array([0, 6, 7]), np.array([60, 6, 7]), "deck")
    result = arranged(box_document(), SplineShell((*box().patches, lid)))
    assert len(told(result, "BW212")) == 1
    assert float(result.panels.values("area_m2").sum()) == pytest.approx(13.0 * 60.0, rel=1e-6)
    assert row_of(result.frames, "F50/L3")["span_m"] == pytest.approx(3.5)


def test_brackets_longer_than_the_frame_leave_half_of_it() -> None:
    doc = box_document()
    doc["zones"][0]["lower_end"] = {"bracket_m": 1.0, "span_reduction_m": 0.8}
    doc["zones"][0]["upper_end"] = {"bracket_m": 1.0, "span_reduction_m": 0.8}
    result = arranged(doc, shell_of(box()))
    assert row_of(result.frames, "F50/L2")["span_m"] == pytest.approx(1.0)  # 2.0 - 1.6 would leave 0.4
    assert row_of(result.frames, "F50/L3")["span_m"] == pytest.approx(1.9)
    assert row_of(result.frames, "F50/L3")["end_brackets"] is True
    assert len(told(result, "BW210")) == 2  # panels and frames


def test_frames_beyond_the_hull_hold_nothing_and_take_nothing() -> None:
    doc = box_document()
    doc["frames"][0] |= {"from_frame": -3, "to_frame": 104}
    plain, wide = arranged(box_document(), shell_of(box())), arranged(doc, shell_of(box()))
    assert plain.panels.labels("id").tolist() == wide.panels.labels("id").tolist()
    assert told(wide, "BW202") == []
    doc["bulkheads"] = [{"name": "outside", "frame": 103}, {"name": "inside", "frame": 48}]
    assert [t.name for t in arranged(doc, shell_of(box())).bulkhead_traces] == ["inside"]


def test_a_zone_aft_of_the_hull_is_refused() -> None:
    doc = box_document()
    doc["frames"][0]["from_frame"] = -10
    doc["zones"][0]["from_frame"] = -10
    with pytest.raises(InputError, match=r"zones\[1\].from_frame: lies aft of the hull; found -10; allowed: 0 to 100"):
        arranged(doc, shell_of(box()))


def test_a_frame_table_that_begins_inside_the_hull_is_refused() -> None:
    aft = np.eye(4)
    aft[0, 3] = -3.0
    shell = SplineShell(tuple(mapped(p, aft) for p in box().patches))  # type: ignore[arg-type]
    with pytest.raises(
        InputError, match=r"the first frame stands inside .* x = -3.000 m; found 0; allowed: -5 or less"
    ):
        arranged(box_document(), shell)


def test_levels_that_never_meet_each_other_may_stand_at_one_height() -> None:
    doc = box_document()
    doc["levels"][1] |= {"from_frame": 0, "to_frame": 40}
    doc["levels"].append(
        {"name": "fore stringer", "kind": "load-carrying stringer", "height_m": 3.5, "from_frame": 40, "to_frame": 100}
    )
    result = arranged(doc, shell_of(box()))
    assert row_of(result.panels, "F39/L2")["upper_level"] == "stringer"
    assert row_of(result.panels, "F40/L2")["upper_level"] == "fore stringer"
    assert row_of(result.panels, "F40/L2")["support_distance_m"] == pytest.approx(2.0)


def test_levels_are_put_in_order_from_the_keel() -> None:
    doc = box_document()
    doc["levels"].reverse()
    ship = parsed(doc)
    lines = level_lines(ship, frame_stations(ship.frames))
    assert [line.name for line in lines] == ["inner bottom", "stringer", "main deck"]


def test_a_number_without_value_needs_a_reason() -> None:
    with pytest.raises(ValueError, match="undefined in row 1"):
        numbers("m", "length", np.array([1.0, np.nan]))
    column = numbers("m", "length", np.array([1.0, np.nan]), "it has none")
    assert column.applies.tolist() == [True, False]


def test_an_opening_above_the_framed_shell_is_named() -> None:
    doc = box_document()
    doc["openings"] = [{"name": "high", "x_m": 30.0, "z_m": 9.0, "length_m": 0.4, "height_m": 0.4}]
    result = arranged(doc, shell_of(box()))
    assert told(result, "BW206") == ["BW206 caution: high: no panel at x = 30 m, z = 9 m"]
    assert float(result.panels.values("opening_port_m2").sum()) == 0.0


def test_an_opening_through_a_web_frame_is_named_as_such() -> None:
    doc = box_document()
    doc["openings"] = [{"name": "tunnel", "x_m": 28.8, "z_m": 2.5, "length_m": 1.0, "height_m": 1.0}]  # frame 48
    result = arranged(doc, shell_of(box()))
    assert told(result, "BW205") == ["BW205 caution: tunnel: web frames F48/L2"]
