"""Web frames and stringers of the small ship: spans, load, stability, what is open, and what is handed over."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import replace
from typing import Any

import numpy as np
import pytest
from tests.scantlings.demo import NAMES, project
from tests.scantlings.ships import Document, arranged, baseline, measured, redesigned, ship

from beltwright.core.errors import InputError
from beltwright.core.findings import Findings
from beltwright.hull.shell import PlaneLevel
from beltwright.rules.polar_iacs_2019.ruleset import POLAR_2019
from beltwright.scantlings.design import Design
from beltwright.scantlings.support_groups import grillages, support_groups, supports_table
from beltwright.scantlings.support_lines import check_support_lines
from beltwright.scantlings.support_results import support_results
from beltwright.scantlings.support_spans import FREE_END, support_spans
from beltwright.scantlings.support_story import explain_support, told_supports

WEB = {
    "web_height_mm": 800.0, "web_thickness_as_built_mm": 15.0, "flange_breadth_mm": 200.0,
    "flange_thickness_as_built_mm": 21.0, "web_stiffener_spacing_mm": 500.0, "penetrating_height_mm": 250.0,
}  # fmt: skip
HEAVY = WEB | {"web_thickness_as_built_mm": 25.0}
RESULT = {
    "calculated_shear_mpa": 150.0, "calculated_von_mises_mpa": 300.0,
    "calculation": "Grillage calculation, report 7",
}  # fmt: skip


def lines(key: str, *entries: dict[str, Any]) -> Callable[[Document], object]:
    """An edit that gives web frames or stringers."""
    return lambda doc: doc.update({key: list(entries)})


def table(design: Design) -> Any:
    """The table of web frames and stringers."""
    assert design.supports_run is not None
    return design.supports_run.table


def codes_of(design: Design) -> dict[str, str]:
    """The last message of each code."""
    return {finding.kind.code: f"{finding.where}: {finding.message}" for finding in design.findings}


def test_every_web_frame_span_is_there_and_stringers_are_cut_at_what_holds_them() -> None:
    spans, frames = support_spans(arranged()), arranged().frames
    webs = frames.labels("id")[frames.labels("role") == "web frame"]
    assert spans.id[spans.kind == "web frame"].tolist() == webs.tolist()
    of_upper = (spans.kind == "stringer") & (spans.level == "upper stringer")
    trace = next(t for t in arranged().level_traces if t.name == "upper stringer")
    whole = np.linalg.norm(np.diff(trace.points, axis=0), axis=1).sum()
    assert spans.length_m[of_upper].sum() == pytest.approx(whole, abs=0.15)  # at most one piece too short to count
    ends = spans.one_end[of_upper].tolist() + spans.other_end[of_upper].tolist()
    assert sum(end == FREE_END for end in ends) == 2
    assert all(end == FREE_END or end.startswith("web frame F") for end in ends)
    inner = of_upper & (spans.one_end != FREE_END) & (spans.other_end != FREE_END)
    assert (spans.frame_fore - spans.frame_aft)[inner].tolist() == [4.0] * int(inner.sum())  # 2.0 m of 0.5 m frames


def test_a_span_between_decks_without_a_stringer_is_no_grillage() -> None:
    spans = support_spans(arranged())
    for i in range(spans.count):
        stringers = {spans.one_end[i], spans.other_end[i]} & {"stringer", "upper stringer"}
        held = spans.kind[i] == "stringer" and any(e.startswith("web") for e in (spans.one_end[i], spans.other_end[i]))
        assert bool(spans.crosses[i]) is bool(held or stringers), spans.id[i]
    assert set(spans.grillage[spans.zone == "bottom"]) == {"aft end to fore end, keel to tank top"}
    assert set(spans.grillage[spans.level == "upper stringer"]) == {"aft end to fore end, deck to main deck"}


def test_bulkheads_divide_grillages_and_hold_stringers() -> None:
    def bulkhead(doc: Document) -> None:
        doc["bulkheads"] = [{"name": "collision bulkhead", "frame": 77}]

    from beltwright.arrangement.arrange import arrange

    spans = support_spans(arrange(ship(bulkhead), measured().shell))
    bays = (spans.kind == "stringer") & (
        (spans.one_end == "collision bulkhead") | (spans.other_end == "collision bulkhead")
    )
    assert bays.sum() == 4  # two stringers, a bay on either side
    assert {name.split(",")[0] for name in spans.grillage} == {"aft end to F77", "F77 to fore end"}


def test_load_is_that_of_the_hull_area() -> None:
    # hand: inside a grillage without peak factor the patch carries AF times the design force of its load
    design = baseline()
    force = {patch.name: patch.force_mn for patch in design.loads.patches}
    for area, name, factor in (("B", "bow", 1.00), ("Mi", "outside the bow", 0.55), ("Ml", "outside the bow", 0.35)):
        rows = (table(design).labels("load_area") == area) & (table(design).labels("hull_area") == area)
        assert rows.any()
        assert table(design)["patch_force_mn"].data[rows] == pytest.approx(factor * force[name], rel=1e-12)


def test_without_scantlings_all_are_open_and_none_is_met() -> None:
    design = baseline()
    outcome = table(design).labels("outcome")
    assert set(outcome) <= {"open", "no ice requirement"}
    assert design.open_supports == int((outcome == "open").sum()) > 100
    assert design.all_met
    grillage = int((table(design)["part_of_grillage"].data & (outcome == "open")).sum())
    told = codes_of(design)["BW480"]
    assert f"{design.open_supports} of {design.open_supports} under ice load are open" in told
    assert f"{grillage} lie in a grillage and have no direct calculation" in told
    assert f"{design.open_supports} no scantlings" in told


def test_stability_of_a_given_web_by_hand() -> None:
    # hand, net 14 and 20: hw/t = 800/14 = 57.1 beyond 805/sqrt(355) = 42.7, so that I2.9.2 judges it:
    # c1 = 800 - 0.8 x 250 = 600, c2 = 500: 2.63e-3 x 600 x sqrt(355/(5.34 + 4 x 1.44)) = 8.9240 mm of 14
    stiffened = 2.63e-3 * 600.0 * math.sqrt(355.0 / (5.34 + 5.76)) / 14.0
    outstand = (200.0 - 14.0) / 2.0 / (20.0 * 155.0 / math.sqrt(355.0))
    design = redesigned(lines("web_frames", WEB))
    webs = (table(design).labels("kind") == "web frame") & (table(design).labels("outcome") != "no ice requirement")
    ratio = table(design)["stability_ratio"].data[webs]
    assert stiffened == pytest.approx(8.9240 / 14.0, abs=1e-5)
    assert ratio.min() == pytest.approx(max(stiffened, outstand), rel=1e-12)
    assert table(design).labels("outcome")[webs].tolist() == ["open" if one <= 1.0 else "not met" for one in ratio]
    assert table(design)["web_net_mm"].data[webs].tolist() == [14.0] * int(webs.sum())
    bare = table(design).labels("kind") == "stringer"
    assert set(table(design)["stability_ratio"].reason[bare]) <= {
        "no scantlings given",
        "no ice strengthening is asked for here",
    }


def test_the_plate_beside_a_web_is_the_one_that_asks_for_most() -> None:
    design = redesigned(lines("web_frames", WEB))
    assert design.supports_run is not None
    (one,) = design.supports_run.runs
    run, panels, plating = one.run, design.arrangement.panels, design.plating
    span = int(np.flatnonzero(run.table.labels("id") == "F41/L4")[0])
    row = run.row_of(span)
    assert row is not None
    beside = (panels.labels("lower_level") == "deck") & (
        (panels.values("frame_aft") == 41) | (panels.values("frame_fore") == 41)
    )
    net = (plating["thickness_as_built_mm"].data - np.nan_to_num(plating["addition_mm"].data))[beside]
    assert len(net) == 2
    assert run.values["plate_net_fitted_mm"][row] == net.max()


def test_a_calculation_closes_a_member_and_only_its_own() -> None:
    design = redesigned(lines("web_frames", HEAVY | RESULT))
    kind, outcome = table(design).labels("kind"), table(design).labels("outcome")
    asked = outcome != "no ice requirement"
    assert set(outcome[asked & (kind == "web frame")]) == {"met"}
    assert set(outcome[asked & (kind == "stringer")]) == {"open"}
    ratio = table(design)["stress_ratio"].data[asked & (kind == "web frame")]
    assert ratio == pytest.approx(max(150.0 / (355.0 / math.sqrt(3.0)), 300.0 / (1.15 * 355.0)))
    both = redesigned(lines("web_frames", HEAVY | RESULT), lines("stringers", HEAVY | RESULT))
    assert both.open_supports == 0
    assert "BW480" not in codes_of(both)


@pytest.mark.parametrize(
    ("change", "governing"),
    [
        ({"web_thickness_as_built_mm": 9.0}, None),
        ({"web_stiffener_spacing_mm": None}, "web slenderness"),
        ({"flange_breadth_mm": 60.0}, "flange breadth"),
        ({"flange_thickness_as_built_mm": 8.0}, "flange outstand"),
        (RESULT | {"calculated_shear_mpa": 205.0}, None),
        (RESULT | {"calculated_von_mises_mpa": 409.0}, None),
    ],
)
def test_a_failed_check_is_not_met_and_not_open(change: dict[str, Any], governing: str | None) -> None:
    given = {key: value for key, value in (WEB | change).items() if value is not None}
    design = redesigned(lines("web_frames", given | {"from_level": "deck"}))
    failed = table(design).labels("outcome") == "not met"
    assert failed.any()
    assert not design.all_met
    assert codes_of(design)["BW440"].startswith(f"web frames and stringers: {int(failed.sum())} members; worst F")
    if governing is not None:
        assert set(table(design).labels("stability_governing")[failed]) == {governing}


def test_later_lines_win_and_a_line_without_members_is_named() -> None:
    design = redesigned(
        lines("web_frames", WEB, WEB | {"zone": "side", "web_height_mm": 700.0}, WEB | {"hull_area": "BIb"}),
        lines("stringers", WEB | {"level": "stringer", "flange_one_sided": True}, WEB | {"from_frame": 400.0}),
    )
    heights, zone = table(design)["web_height_mm"].data, table(design).labels("zone")
    webs = table(design).labels("kind") == "web frame"
    assert set(heights[webs & (zone == "side")]) == {700.0}
    assert set(heights[webs & (zone == "bottom")]) == {800.0}
    given = table(design).labels("source") == "given"
    assert set(table(design).labels("id")[given & ~webs]) == {
        i for i in table(design).labels("id") if i.endswith("/stringer")
    }
    told = [f.where for f in design.findings if f.kind.code == "BW443"]
    assert "ship.toml: stringers[2]" in told


def test_a_member_may_be_taken_out_of_the_grillage() -> None:
    inside = redesigned(lines("web_frames", WEB))
    outside = redesigned(lines("web_frames", WEB | {"part_of_grillage": False}))
    webs = table(outside).labels("kind") == "web frame"
    by = table(outside).labels("strength_by")[webs]
    assert set(by) <= {"calculation by the society's method", ""}
    assert "direct calculation" in set(table(inside).labels("strength_by")[webs])
    assert set(outside.load_cases.labels("kind")) == {"stringer"}
    assert outside.open_supports == inside.open_supports


def test_peak_factor_inside_a_grillage_when_asked_for() -> None:
    # hand: S_w 1.0 m on the patch 2.363 m wide outside the bow: 2 - 2 x 1.0/2.363 = 1.154
    from beltwright.scantlings.supports import design_supports

    design = baseline()
    given = ship(lambda doc: doc.update(direct={"peak_in_grillage": True}))
    closer = replace(
        design.arrangement, frames=design.arrangement.frames.where(np.arange(design.arrangement.frames.rows))
    )
    near = replace(closer.frames["web_frame_spacing_m"], data=np.full(closer.frames.rows, 1.0))
    columns = {name: near if name == "web_frame_spacing_m" else closer.frames[name] for name in closer.frames}
    closer = replace(closer, frames=type(closer.frames)("frames", columns))
    asked = design.rules.supports
    found = [
        design_supports(one, asked, design.areas, design.measures, design.loads, closer, design.plating, Findings())
        for one in (ship(), given)
    ]
    web = int(np.flatnonzero(found[0].table.labels("id") == "F41/L4")[0])
    plain, peak = (float(run.table["peak_pressure_factor"].data[web]) for run in found)
    width = float(found[0].table["patch_width_m"].data[web])
    assert plain == 1.0
    assert peak == pytest.approx(2.0 - 2.0 / width, rel=1e-12)
    assert peak > 1.1


@pytest.mark.parametrize(
    ("key", "change", "message"),
    [
        ("web_frames", {"flange_thickness_as_built_mm": 0.0},
         "ship.toml: web_frames[1].flange_thickness_as_built_mm: the flange is half given; found 0 mm; "
         "allowed: both breadth and thickness above 0, or both 0"),
        ("web_frames", {"flange_breadth_mm": 0.0},
         "ship.toml: web_frames[1].flange_breadth_mm: the flange is half given; found 0 mm; "
         "allowed: both breadth and thickness above 0, or both 0"),
        ("web_frames", {"flange_breadth_mm": 15.0},
         "ship.toml: web_frames[1].flange_breadth_mm: the flange is no wider than its web; found 15 mm; "
         "allowed: above 15"),
        ("web_frames", {"penetrating_height_mm": 800.0},
         "ship.toml: web_frames[1].penetrating_height_mm: framing cannot pass through a lower web; found 800 mm; "
         "allowed: below 800"),
        ("stringers", {"level": "deck"},
         "ship.toml: stringers[1].level: no such load-carrying stringer; found deck; "
         "allowed: stringer, upper stringer"),
        ("stringers", {"calculated_shear_mpa": 100.0},
         "ship.toml: stringers[1].calculation: a calculation's stresses and its name belong together; "
         "allowed: calculated_shear_mpa, calculated_von_mises_mpa and calculation, all three or none"),
    ],
)  # fmt: skip
def test_lines_that_contradict_themselves(key: str, change: dict[str, Any], message: str) -> None:
    with pytest.raises(InputError) as caught:
        check_support_lines(ship(lines(key, WEB | change)))
    assert str(caught.value) == message


def test_nothing_left_after_corrosion_and_an_unknown_grade() -> None:
    def thick(doc: Document) -> None:
        doc["stock"] = {"frame_corrosion_mm": 4.0}

    with pytest.raises(InputError, match=r"web_frames\[1\].web_thickness_as_built_mm: nothing is left of it"):
        check_support_lines(ship(lines("web_frames", WEB | {"web_thickness_as_built_mm": 4.0}), thick))
    with pytest.raises(InputError, match=r"web_frames\[1\].flange_thickness_as_built_mm: nothing is left of it"):
        check_support_lines(ship(lines("web_frames", WEB | {"flange_thickness_as_built_mm": 4.0}), thick))
    with pytest.raises(InputError, match=r"ship.toml: web_frames\[1\].grade"):
        check_support_lines(ship(lines("web_frames", WEB | {"grade": "XX99"})))


@pytest.mark.parametrize(
    ("key", "change", "field"),
    [
        ("web_frames", {"web_height_mm": 50.0}, "web_frames[1].web_height_mm"),
        ("web_frames", {"web_thickness_as_built_mm": -1.0}, "web_frames[1].web_thickness_as_built_mm"),
        ("stringers", {"web_stiffener_spacing_mm": float("nan")}, "stringers[1].web_stiffener_spacing_mm"),
        ("stringers", {"part_of_grillage": "yes"}, "stringers[1].part_of_grillage"),
        ("stringers", {"height": 1.0}, "stringers[1].height"),
    ],
)
def test_values_that_are_refused(key: str, change: dict[str, Any], field: str) -> None:
    with pytest.raises(InputError) as caught:
        ship(lines(key, WEB | change))
    assert str(caught.value).startswith(f"ship.toml: {field}: ")


def test_a_line_names_zones_and_levels_that_are_there() -> None:
    with pytest.raises(InputError, match=r"web_frames\[1\].zone: no such zone"):
        redesigned(lines("web_frames", WEB | {"zone": "sides"}))


def _on_the_shell(design: Design, rows: list[int]) -> float:
    """The greatest distance of the patches' centres from the shell, found on a section cut at each one's own x [m]."""
    cases, shell = design.load_cases, design.measures.shell
    worst = 0.0
    for row in rows:
        centre = np.array([float(cases[f"{axis}_m"].data[row]) for axis in "xyz"])
        lines_there = shell.cut(PlaneLevel(normal=(1.0, 0.0, 0.0), offset=float(centre[0])))
        near = []
        for line in lines_there:
            a, b = line.at.points[:-1], line.at.points[1:]
            along = ((centre - a) * (b - a)).sum(axis=1) / np.maximum(((b - a) ** 2).sum(axis=1), 1e-12)
            near.append(np.linalg.norm(centre - (a + np.clip(along, 0.0, 1.0)[:, None] * (b - a)), axis=1).min())
        worst = max(worst, min(near))
    return worst


def _on_their_members(design: Design) -> None:
    """Every patch lies on the member that it names, where its words say."""
    cases, stations = design.load_cases, design.arrangement.stations
    levels = {level.name: level for level in design.arrangement.levels}
    assert design.supports_run is not None
    members = {str(i): row for row, i in enumerate(design.supports_run.table.labels("id"))}
    told = design.supports_run.table
    for row in range(cases.rows):
        one = cases.row(row)
        member, x, z = told.row(members[str(one["member"])]), float(one["x_m"]), float(one["z_m"])  # type: ignore[arg-type]
        assert float(member["frame_aft"]) - 1e-6 <= float(one["frame"]) <= float(member["frame_fore"]) + 1e-6  # type: ignore[arg-type]
        assert x == pytest.approx(float(stations.x_of(min(float(one["frame"]), stations.last))), abs=1e-6)  # type: ignore[arg-type]
        if one["kind"] == "stringer":
            level = levels[str(one["member"]).split("/", 1)[1]]
            assert z == pytest.approx(float(level.height_at(np.array([x]))[0]), abs=2e-3)
        else:
            low, high = str(member["one_end"]), str(member["other_end"])
            below = -1.0 if low == "keel" else float(levels[low].height_at(np.array([x]))[0])
            assert below - 1e-6 <= z <= float(levels[high].height_at(np.array([x]))[0]) + 1e-6


def test_patches_lie_on_the_shell_and_on_their_members() -> None:
    design = baseline()
    assert _on_the_shell(design, list(range(0, design.load_cases.rows, 23))) < 0.005
    _on_their_members(design)


def test_positions_are_those_asked_for() -> None:
    cases = baseline().load_cases
    member = cases.labels("member") == "F41/L4"
    words = cases.labels("position")[member].tolist()
    assert words == ["centred between deck and upper stringer", "close to deck", "close to upper stringer"]
    girth, half = cases["girth_m"].data[member], 0.5 * cases["patch_height_m"].data[member][0]
    spans = support_spans(arranged())
    span = int(np.flatnonzero(spans.id == "F41/L4")[0])
    low, high = spans.expansion[span, 0, 1], spans.expansion[span, -1, 1]
    assert girth == pytest.approx([0.5 * (low + high), low + half, high - half])
    bay = cases.labels("member") == "F41/stringer"
    assert cases.labels("position")[bay].tolist() == [
        "midway between web frame F41 and web frame F45", "centred on web frame F45",
    ]  # fmt: skip  # the bay aft of it has told the patch on F41
    assert cases["frame"].data[bay].tolist() == [43.0, 45.0]
    held = (cases.labels("position") == "centred on web frame F41") & (cases.labels("kind") == "stringer")
    assert held.sum() == 2  # once on each stringer


def test_load_cases_are_told_apart_and_only_grillages_are_calculated() -> None:
    design = baseline()
    cases = design.load_cases
    assert len(set(cases.labels("case"))) == cases.rows
    inside = set(table(design).labels("id")[table(design)["part_of_grillage"].data])
    assert set(cases.labels("member")) <= inside
    required = table(design).labels("strength_by") == "direct calculation"
    assert set(cases.labels("member")) == set(table(design).labels("id")[required])
    force = cases["pressure_mpa"].data * cases["patch_width_m"].data * cases["patch_height_m"].data
    assert cases["patch_force_mn"].data == pytest.approx(force, rel=1e-12)


def test_groups_and_grillages_count_every_member_once() -> None:
    design = redesigned(lines("web_frames", WEB))
    codes = [area.code for area in design.areas.areas]
    asked = int((table(design).labels("outcome") != "no ice requirement").sum())
    for by_scantlings in (False, True):
        groups = support_groups(table(design), codes, by_scantlings=by_scantlings)
        assert int(groups["members"].data.sum()) == asked
        assert int(groups["open"].data.sum()) == design.open_supports
    assert int(grillages(design.load_cases)["load_cases"].data.sum()) == design.load_cases.rows


def test_any_member_can_be_asked_for() -> None:
    design = redesigned(lines("web_frames", WEB | RESULT))
    members = table(design)
    outcome = members.labels("outcome")
    asked = str(members.labels("id")[int(np.flatnonzero(outcome != "no ice requirement")[0])])
    told = explain_support(design, asked)
    assert told.headline.startswith(f"Web frame {asked}, hull area ")
    assert told.trace["support_pressure_mpa"].value == members["pressure_mpa"].data[members.labels("id") == asked][0]
    stringer = str(members.labels("id")[int(np.flatnonzero(members.labels("kind") == "stringer")[0])])
    assert explain_support(design, stringer).kind == "stringer"
    lighter = redesigned(lambda doc: doc["ice"].update(ice_class="PC6"))  # nothing is asked of its bottom amidships
    members = table(lighter)
    idle = str(members.labels("id")[int(np.flatnonzero(members.labels("outcome") == "no ice requirement")[0])])
    nothing = explain_support(lighter, idle)
    assert nothing.not_applicable is not None
    assert nothing.headline.startswith(f"Web frame {idle}: not applicable: ")
    with pytest.raises(InputError, match=r"web frame or stringer: there is none of this name; found F1/nowhere"):
        explain_support(design, "F1/nowhere")
    with pytest.raises(InputError, match="no rules for web frames"):
        explain_support(replace(design, supports_run=None), asked)


def test_the_story_is_of_the_member_nearest_to_its_limit() -> None:
    design = redesigned(lines("web_frames", WEB | RESULT))
    ((area, story),) = told_supports(design)
    ratio = table(design)["stability_ratio"].data
    member = int(np.flatnonzero(table(design).labels("id") == story.id)[0])
    assert ratio[member] == np.nanmax(ratio[table(design).labels("outcome") != "no ice requirement"])
    assert table(design).labels("hull_area")[member] == area
    assert float(story.trace["support_pressure_mpa"].value) == table(design)["pressure_mpa"].data[member]
    assert any("150, at most 205" in line for line in story.rounding)
    ((_, bare),) = told_supports(baseline())
    assert any("not given, at most" in line for line in bare.rounding)


def test_a_rule_set_without_such_rules_gives_empty_tables() -> None:
    design, findings = baseline(), Findings()
    for rules in (replace(POLAR_2019, supports=None), replace(POLAR_2019, plated=None)):
        found = support_results(
            design.ship, rules, design.areas, design.measures, design.loads, design.arrangement, design.plating_run,
            design.framing_run, findings,
        )  # fmt: skip
        assert found.plated.rows == 0
        assert (found.run is None) == (rules.supports is None)
    without = replace(design, supports_run=None)
    assert without.open_supports == 0
    assert told_supports(without) == ()
    assert supports_table(None).rows == support_groups(supports_table(None), []).rows == 0


def test_plated_structures_take_the_lesser_of_web_and_framing() -> None:
    design = redesigned(lines("stringers", WEB), lines("web_frames", WEB))
    plated = design.plated
    row = plated.labels("id").tolist().index(next(i for i in plated.labels("id") if i.startswith("deck F")))
    framing = float(plated["framing_depth_mm"].data[row])
    assert plated["adjacent_web_height_mm"].data[row] == 800.0
    assert plated["inboard_extent_m"].data[row] == pytest.approx(min(0.8, 2.5 * framing / 1000.0), rel=1e-12)
    assert baseline().plated["inboard_extent_m"].data[row] == pytest.approx(2.5 * framing / 1000.0, rel=1e-12)
    assert plated.labels("hull_area")[[i.startswith("main deck") for i in plated.labels("id")]].tolist() == [""]
    # the deck reaches from bow to stern: the bow's factor 1.0 goes with each touched area's patch, the severest counts
    line_load = max(patch.force_mn / patch.width_m for patch in design.loads.patches)
    assert plated["edge_line_load_mn_per_m"].data[row] == pytest.approx(1.0 * line_load, rel=1e-12)


@pytest.mark.slow
@pytest.mark.parametrize("name", NAMES)
def test_patches_of_the_demo_ships_lie_on_the_shell_and_on_their_members(name: str) -> None:
    design = project(name).results.design
    assert design.load_cases.rows > 300
    assert _on_the_shell(design, list(range(0, design.load_cases.rows, 97))) < 0.02
    _on_their_members(design)
    assert design.open_supports > 0
