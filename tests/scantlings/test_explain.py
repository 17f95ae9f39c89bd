"""Why a plate or a frame is what it is: the story ends at the hull and the user's file, and its what-ifs come true."""

from __future__ import annotations

import re

import numpy as np
import pytest
from tests.scantlings import ships

from beltwright.core.chain import Trace
from beltwright.core.errors import InputError
from beltwright.core.outcome import is_met
from beltwright.scantlings.explain import Alternative, Explanation, explain_frame, explain_panel


def panel_in(area: str) -> str:
    """The panel of an area that asks for most."""
    return str(
        ships.baseline().area_table.labels("governing_panel")[ships.baseline().area_table.labels("code") == area][0]
    )


def row_of(table: object, name: str) -> int:
    return int(np.flatnonzero(table.labels("id") == name)[0])  # type: ignore[attr-defined]


def named(told: Explanation, change: str) -> Alternative:
    return next(one for one in told.alternatives if one.change == change)


AREAS = ("B", "BIi", "BIl", "BIb", "Mi", "Ml", "Si", "Sl")


@pytest.mark.parametrize("area", AREAS)
def test_the_story_of_a_plate(area: str) -> None:
    design, name = ships.baseline(), panel_in(area)
    told = explain_panel(design, name)
    row = design.plating.row(row_of(design.plating, name))
    assert told.kind == "plate"
    assert told.id == name
    assert f"{row['thickness_as_built_mm']:g} mm EH36 (proposed)" in told.headline
    assert f"{row['hull_area']} asks for {row['thickness_required_mm']:.2f} mm as built" in told.headline
    assert told.trace["thickness_required_mm"].value == row["thickness_required_mm"]
    assert told.results == ("thickness_required_mm",)
    assert told.not_applicable is None
    assert "(this panel)" in told.rounding[0]
    assert f"{row['thickness_as_built_mm']:g} mm" in told.rounding[1]
    assert f"hull areas touched: {row['touched']}" in told.place


def ends_at_the_source(trace: Trace, result: str) -> set[str]:
    """Every number that a result rests on has parents or says where it was read; returns the inputs' origins."""
    origins = set()
    for node in trace.upstream(result):
        if node.step is None:
            assert node.origin, f"{node.name} comes from nowhere"
            origins.add(node.origin)
        else:
            assert all(parent in trace for parent in node.parents)
            assert node.step.clause.citation.startswith("UR I")
    return origins


@pytest.mark.parametrize("area", ["B", "Mi"])
def test_the_story_ends_at_the_hull_and_the_file(area: str) -> None:
    told = explain_panel(ships.baseline(), panel_in(area))
    origins = " | ".join(ends_at_the_source(told.trace, told.results[0]))
    for part in ("ship.toml: ice.ice_class", "hull surface, along the shell", "EH36", "under the upper ice waterline",
                 "on the upper ice waterline, 1.700 m aft of the stem"):  # fmt: skip
        assert part in origins


def test_the_story_of_a_frame() -> None:
    design = ships.baseline()
    members = design.framing_run.members
    worst = int(members[np.argmax(design.frames["ratio"].data[members])])
    name = str(design.frames.labels("id")[worst])
    told = explain_frame(design, name)
    row = design.frames.row(worst)
    assert told.headline == (
        f"Frame {name} is {row['section']} EH36 (proposed), met at {row['ratio']:.3f}: {row['governing']} governs"
    )
    for result in told.results:
        ends_at_the_source(told.trace, result)
    wording = re.compile(r": ([\d.e+]+)(?: required, ([\d.e+]+) offered|, at most ([\d.e+]+))$")
    pairs = [wording.search(line) for line in told.rounding]
    ratios = [float(p[1]) / float(p[2] or p[3]) for p in pairs if p is not None and float(p[2] or p[3]) > 0.0]
    limits = [line for line in told.rounding if "at most" in line]
    assert [line.split(" (")[0] for line in limits] == ["neutral axis in the web", "web slenderness", "flange outstand"]
    assert len(told.rounding) == len(design.rules.framing.checks)
    assert max(ratios) == pytest.approx(row["ratio"], rel=2e-3)  # four figures are printed


def test_a_plate_that_fails_says_so() -> None:
    design = ships.redesigned(lambda doc: doc.update(plates=[{"hull_area": "Mi", "thickness_as_built_mm": 12.0}]))
    told = explain_panel(design, panel_in("Mi"))
    assert "the requirement is NOT met" in told.headline
    assert told.rounding[0].startswith("given in ship.toml: 12 mm, margin -")


def test_where_nothing_is_asked() -> None:
    design = ships.baseline()
    quiet = str(design.plating.labels("id")[~design.plating["ratio"].applies][0])
    told = explain_panel(design, quiet)
    assert told.not_applicable is not None
    assert any(word in str(told.not_applicable) for word in ("asks for no strengthening in", "outside all hull areas"))
    assert len(told.trace) == 0
    assert told.alternatives == ()
    web = str(design.frames.labels("id")[design.arrangement.frames.labels("role") == "web frame"][0])
    assert "need a direct calculation" in str(explain_frame(design, web).not_applicable)


@pytest.mark.parametrize("explain", [explain_panel, explain_frame])
def test_an_unknown_name_is_refused_with_near_ones(explain: object) -> None:
    with pytest.raises(InputError) as caught:
        explain(ships.baseline(), "F60/L33")  # type: ignore[operator]
    assert "there is none of this name; found F60/L33; allowed: F" in str(caught.value)


# --- what-ifs, each against a fresh design with that change


@pytest.mark.parametrize("area", AREAS)
def test_another_grade_comes_true_for_plates(area: str) -> None:
    """The next steels of 315 and 390 MPa: AH32 and EH40."""
    name = panel_in(area)
    told = explain_panel(ships.baseline(), name)
    for grade, change in (("EH32", "steel of 315 MPa"), ("EH40", "steel of 390 MPa")):
        fresh = with_grade(grade)
        panel = row_of(fresh.plating, name)
        assert named(told, change).after == fresh.plating["thickness_required_mm"].data[panel]
        assert named(told, change).before == ships.baseline().plating["thickness_required_mm"].data[panel]


GRADES: dict[str, object] = {}


def with_grade(grade: str) -> object:
    """A fresh design in another grade of plates, made once."""
    if grade not in GRADES:
        GRADES[grade] = ships.redesigned(lambda doc: doc["steel"].update(plate_grade=grade))
    return GRADES[grade]


def test_less_spacing_comes_true() -> None:
    """Frames 0.450 m apart instead of 0.500 m on the parallel side, where spacing along shell and axis agree."""
    fresh = ships.designed(closer_frames)
    base, after = ships.baseline(), fresh
    compared = 0
    for panel in np.flatnonzero(base.plating.labels("hull_area") == "Mi"):
        where = base.arrangement.panels.row(int(panel))
        if abs(float(str(where["spacing_m"])) - 0.5) > 1e-9:
            continue
        told = named(explain_panel(base, str(where["id"])), "spacing -50 mm")
        near = np.abs(after.arrangement.panels.values("centroid_x_m") - float(str(where["centroid_x_m"]))) < 0.5
        same = near & (after.arrangement.panels.labels("lower_level") == where["lower_level"]) & (
            after.plating.labels("touched") == base.plating.labels("touched")[panel])  # fmt: skip
        for other in np.flatnonzero(same):
            now = after.arrangement.panels.row(int(other))
            if now["span_m"] == pytest.approx(where["span_m"], abs=1e-9) and now["spacing_m"] == pytest.approx(0.45):
                assert told.after == pytest.approx(after.plating["thickness_required_mm"].data[other], rel=1e-9)
                compared += 1
    assert compared > 5


def closer_frames(doc: ships.Document) -> None:
    """0.45 m instead of 0.5 m, the zones' frames moved with it."""
    doc["frames"] = [{"from_frame": -4, "to_frame": 116, "spacing_m": 0.45}]
    doc["zones"][0] |= {"from_frame": -4, "to_frame": 116, "web_frame_spacing_m": 1.8}
    doc["zones"][1] |= {"from_frame": 14, "to_frame": 91, "web_frame_spacing_m": 1.8}


def test_another_area_is_what_a_panel_would_need_there() -> None:
    """kind: hand. Net thickness goes with the root of the factor: a belt panel of the bow intermediate at 0.80 moved to
    the midbody at 0.55, where the addition is 2.0 mm for 2.5 mm."""
    name = panel_in("BIi")
    told = explain_panel(ships.baseline(), name)
    net = float(told.trace["thickness_net_mm"].value)
    assert told.trace["area_factor"].value == 0.80
    lower = named(told, "in hull area BIl")
    assert lower.after == pytest.approx(net * np.sqrt(0.60 / 0.80) + 2.0, rel=1e-12)


def test_offered_plates_of_what_ifs_follow_the_stock() -> None:
    for one in explain_panel(ships.baseline(), panel_in("Mi")).alternatives:
        assert one.offered is not None
        assert 0.0 <= one.offered - one.after < 0.5
        assert one.offered % 0.5 == 0.0
        assert one.unit == "mm"


def test_frame_what_ifs() -> None:
    design = ships.baseline()
    members = design.framing_run.members
    frame = int(members[np.argmax(design.frames["ratio"].data[members])])
    told = explain_frame(design, str(design.frames.labels("id")[frame]))
    assert {one.change for one in told.alternatives} == {
        "spacing -50 mm", "span 10 % shorter", "steel of 315 MPa", "steel of 390 MPa", "a load-distributing stringer"
    }  # fmt: skip
    assert all(one.before == design.frames["ratio"].data[frame] for one in told.alternatives)
    assert named(told, "spacing -50 mm").after < told.alternatives[0].before
    assert named(told, "steel of 315 MPa").after > told.alternatives[0].before
    fresh = ships.redesigned(
        lambda doc: doc["steel"].update(frame_grade="EH40"),
        lambda doc: doc.update(frame_sections=[{"section": str(design.frames.labels("section")[frame])}]),
    )
    again = fresh.framing_run.row_of(frame)
    assert again is not None
    # the attached plate keeps its own grade in the fresh design, as in the what-if
    assert named(told, "steel of 390 MPa").after == pytest.approx(fresh.frames["ratio"].data[frame], rel=1e-12)
    assert is_met(fresh.frames["ratio"].data[[frame]]).all()
