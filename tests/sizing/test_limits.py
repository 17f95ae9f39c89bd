"""What limits the choice on the small ship: supports that frames run through, depth, numbers, tapers, both sides."""

from __future__ import annotations

import re
from collections import defaultdict

import numpy as np
import pytest
from tests.scantlings import ships
from tests.sizing import small

from beltwright.core.errors import InputError
from beltwright.scantlings.sectionstock import SectionStock
from beltwright.sizing.fit import ask
from beltwright.sizing.size import Sized, size
from beltwright.sizing.solve import solve
from beltwright.sizing.transitions import transitions
from beltwright.weights.shellplates import least_width_m, widest_step_mm
from beltwright.weights.steel import steel_weight

pytestmark = pytest.mark.slow
STRINGERS = ("stringer", "upper stringer")


def changes(made: Sized) -> dict[str, set[tuple[str, str]]]:
    """The sections below and above every support of every transverse frame of the side, where they differ."""
    frames, table = made.design.arrangement.frames, made.design.frames
    local = (frames.labels("role") != "web frame") & (frames.labels("orientation") == "transverse")
    below = defaultdict(dict)
    for k in np.flatnonzero(local):
        section = str(table.labels("section")[k])
        if section:
            below[float(frames.values("frame")[k])][str(frames.labels("lower_level")[k])] = (
                section, str(frames.labels("upper_level")[k]),
            )  # fmt: skip
    found = defaultdict(set)
    for bays in below.values():
        for section, upper in bays.values():
            if upper in bays and bays[upper][0] != section:
                found[upper].add((section, bays[upper][0]))
    return found


def test_frames_run_on_through_stringers_and_change_at_decks_only() -> None:
    assert set(changes(small.sized())) == {"deck"}


def test_frames_run_on_through_every_support_where_that_is_asked_and_cost_more() -> None:
    made = size(small.with_settings(alike_through="every support"))
    assert changes(made) == {}
    assert made.found.price > small.sized().found.price
    free = size(small.with_settings(alike_through="nothing"))
    assert set(changes(free)) >= {"deck"}
    assert free.found.price <= small.sized().found.price


def test_no_frame_is_deeper_than_the_limit() -> None:
    stock = SectionStock(ships.ship())
    depth = {
        section: stock.columns(stock.rows_of(np.array([section])), ("stiffener_height_mm",))["stiffener_height_mm"][0]
        for section, _ in small.sized().sections.values()
    }
    limit = max(depth.values()) - 1.0
    made = size(small.with_settings(frame_depth_most_mm=limit))
    for section, _ in made.sections.values():
        deep = stock.columns(stock.rows_of(np.array([section])), ("stiffener_height_mm",))["stiffener_height_mm"][0]
        assert deep <= limit
    assert made.found.price > small.sized().found.price


def test_so_many_profiles_and_no_more() -> None:
    own = len({section for section, _ in small.sized().sections.values()})
    made = size(small.with_settings(most_profiles=own - 3))
    assert len({section for section, _ in made.sections.values()}) <= own - 3
    assert made.found.finished
    assert made.found.price > small.sized().found.price


def test_both_sides_are_alike() -> None:
    """One set of plates and groups stands for both sides; an opening on one side alone is all that differs."""
    weight = steel_weight(small.sized().design)
    panels = small.sized().design.arrangement.panels
    even = panels.values("opening_port_m2") == panels.values("opening_starboard_m2")
    assert even.all()
    assert np.array_equal(weight.plate_mass_kg[:, 0], weight.plate_mass_kg[:, 1], equal_nan=True)
    assert np.array_equal(weight.frame_mass_kg[:, 0], weight.frame_mass_kg[:, 1], equal_nan=True)
    assert weight.centre_m[1] == 0.0


def test_neighbours_differ_by_no_more_than_their_tapers_have_room_for() -> None:
    """hand: taper times the difference is less than half the narrower plate: a taper of 10 on 2 m leaves 100 mm.

    With a taper long enough to bind, no pair goes beyond its own limit, and no transition lacks its room.
    """
    plates = small.sized().laid.plates
    one, other = plates.beside[0].tolist()
    width = min(least_width_m(plates.outlines[one]), least_width_m(plates.outlines[other]))
    assert widest_step_mm(plates, one, other, 10.0) == pytest.approx(width / 20.0 * 1000.0)
    narrow = small.with_settings(neighbour_step_mm=None, taper=10.0, plate_length_m=2.0, plate_width_m=0.8)
    asked = ask(narrow)
    assert asked.step_limits, "narrow plates with long tapers bind each other"
    made = size(narrow, candidates=asked)
    thickness = made.laid.thickness_mm
    for a, b in made.laid.plates.beside.tolist():
        if not np.isnan(thickness[[a, b]]).any():
            assert abs(thickness[a] - thickness[b]) <= widest_step_mm(made.laid.plates, a, b, 10.0) + 1e-9
    assert transitions(made)[1] == ()


def test_transitions_tell_areas_and_frames_that_run_on() -> None:
    """Every pair of neighbours of different areas once; frames that cross the belt's edge, with their support."""
    table, _ = transitions(small.sized())
    rows = [table.row(k) for k in range(table.rows)]
    areas = [row for row in rows if row["kind"] == "area"]
    assert areas
    for row in areas:
        first, second = (re.sub(r" on .*", "", str(row[name])) for name in ("from", "to"))
        assert first != second
        assert row["taper_mm"] == pytest.approx(3.0 * (row["thick_mm"] - row["thin_mm"]))  # type: ignore[operator]
    running = [row for row in rows if row["kind"] == "runs on"]
    assert {row["to"] for row in running} == {"main deck"}, "the belt ends between upper stringer and main deck"
    assert sum("F" in str(row["frames"]) for row in running) == len(running)


def test_a_search_tells_how_far_it_is_and_takes_so_long_and_no_longer() -> None:
    heard: list[tuple[int | None, int | None]] = []
    problem = small.asked().problem()
    found = solve(problem, heard=lambda best, bound: heard.append((best, bound)))
    assert found.finished
    for best, bound in heard:
        assert best is None or best >= found.price
        assert bound is None or bound <= found.price + 1000, "the bound heard is rounded to thousands"
    with pytest.raises(InputError, match="stopped before any solution"):
        solve(problem, seconds=1e-9)
