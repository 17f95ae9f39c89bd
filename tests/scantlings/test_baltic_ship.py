"""The small test ship under the Finnish-Swedish rules: what is open, what lies beyond a formula, what fails."""

from __future__ import annotations

import json
from functools import cache
from typing import Any

import numpy as np
import pytest
from tests.scantlings import ships

from beltwright.arrangement.arrange import arrange
from beltwright.arrangement.model import Arrangement
from beltwright.core.columns import ColumnTable
from beltwright.core.errors import InputError
from beltwright.core.findings import Findings
from beltwright.report.from_design import material_of
from beltwright.report.result_json import result_text
from beltwright.report.tables import csv_files
from beltwright.rules.facts import SEVERAL_LEVELS, TANK_TOP_TO_DECK, TWO_LEVELS
from beltwright.scantlings.areas import share_inside
from beltwright.scantlings.build import check_description, design_on
from beltwright.scantlings.design import Design
from beltwright.scantlings.explain import explain_frame, explain_panel
from beltwright.scantlings.member_facts import span_facts
from beltwright.scantlings.support_groups import support_groups
from beltwright.scantlings.support_spans import support_spans
from beltwright.scantlings.support_story import told_supports
from beltwright.weights.steel import steel_weight

WEB = {"web_height_mm": 600.0, "web_thickness_as_built_mm": 12.0, "flange_breadth_mm": 200.0,
       "flange_thickness_as_built_mm": 18.0}  # fmt: skip
STEM = {"plate_thickness_as_built_mm": 30.0, "spacing_m": 0.5, "vertical_support_spacing_m": 0.6,
        "floor_spacing_m": 0.5, "floor_thickness_as_built_mm": 15.0, "top_above_upper_m": 1.2}  # fmt: skip
REASON = {"proportions": "corners where strips run out at a stringer"}


def baltic(doc: ships.Document) -> None:
    """The small ship with what the Finnish-Swedish rules ask of it."""
    doc["ice"].update(rules="baltic_traficom_2021", ice_class="IA")
    doc["hull"].update(length_between_perpendiculars_m=47.0, class_rule_length_m=46.0)
    doc["propulsion"].update(
        engine_power_kw=2400.0, propeller_count=2, drive="fixed pitch", propeller_diameter_m=2.0,
        propeller_clearance_m=0.9, service_speed_kn=12.5,
    )  # fmt: skip
    doc["stock"] = {"floor_mm": 9.0}
    for zone in doc["zones"]:
        end = {"fixed": True, "bracket_m": 0.1}
        zone.update(lower_end=end, upper_end=end, tripping_support_m=0.7)


def narrow(doc: ships.Document) -> None:
    """Longitudinals 0.16 m apart in the side: h/s = 0.30/0.16 = 1.875."""
    doc["zones"][0].update(orientation="longitudinal", spacing_m=0.16)


@cache
def arranged() -> Arrangement:
    return arrange(ships.ship(baltic), ships.measured().shell)


def drawn(*edits: ships.Edit) -> Design:
    """The design after changes that leave the arrangement alone, with what drawings and tables of areas show."""
    given, findings = ships.ship(baltic, *edits), Findings()
    return design_on(given, check_description(given, findings), ships.measured(), arranged(), findings)


def designed(*edits: ships.Edit) -> Design:
    """The same without what only drawings show."""
    given, findings = ships.ship(baltic, *edits), Findings()
    return design_on(given, check_description(given, findings), ships.measured(), arranged(), findings, drawn=False)


@cache
def plain() -> Design:
    return designed()


def table(design: Design) -> ColumnTable:
    assert design.supports_run is not None
    return design.supports_run.table


def told(design: Design, code: str) -> list[str]:
    return [f"{f.where}: {f.message}" for f in design.findings if f.kind.code == code]


# What is open


def test_members_without_scantlings_are_open_and_told_for_each_kind() -> None:
    design = plain()
    asked = table(design).labels("outcome") != "no ice requirement"
    assert set(table(design).labels("outcome")[asked]) == {"open"}
    assert set(table(design).labels("strength_by")[asked]) == {"the formulas of the rule"}
    assert design.open_supports == int(asked.sum()) > 50
    assert [line.split(":")[0] for line in told(design, "BW482")] == ["web frames", "stringers"]
    assert told(design, "BW480") == []
    assert design.load_cases.rows == design.plated.rows == 0
    stringers = asked & (table(design).labels("kind") == "stringer")
    assert np.isfinite(table(design)["modulus_required_cm3"].data[stringers]).all()
    webs = asked & ~stringers
    reason = table(design)["modulus_required_cm3"].reason
    assert reason is not None
    assert set(reason[webs]) == {"no scantlings given"}, "what a web frame is asked for hangs on its flange and web"
    assert np.isfinite(table(design)["load_mn"].data[webs]).all()
    assert set(table(design)["load_mn"].reason[stringers]) == {"not asked of this kind of member"}


def test_an_open_stem_is_told_and_not_met_by_silence() -> None:
    design = plain()
    assert design.stem is not None
    assert design.open_stem
    assert set(design.stem.table.labels("outcome")) == {"open"}
    assert told(design, "BW483") == ["ship.toml: stem: the checks of FSICR 4.7 are open"]
    assert "stem" not in design.checked
    assert "strength of web frames and stringers" not in design.checked


def test_a_polar_ship_has_no_stem_formula() -> None:
    assert ships.baseline().stem is None
    assert not ships.baseline().open_stem


# What is given


@cache
def given() -> Design:
    return drawn(lambda doc: doc.update(web_frames=[WEB], stringers=[WEB], stem=STEM))


def test_given_members_are_judged_by_the_formulas() -> None:
    design = given()
    asked = table(design).labels("outcome") != "no ice requirement"
    assert design.open_supports == 0
    assert set(table(design).labels("outcome")[asked]) == {"met"}
    assert {"strength of web frames and stringers", "stem"} <= set(design.checked)
    groups = support_groups(table(design), [area.code for area in design.areas.areas], by_scantlings=True)
    assert set(groups.labels("kind")) == {"web frame", "stringer"}
    assert groups["strength_ratio"].data.max() == table(design)["strength_ratio"].data[asked].max()
    kinds = [story.kind for _, story in told_supports(design)]
    assert kinds == ["web frame", "stringer"]


def test_a_web_without_the_area_for_shear_and_bending_fails_and_is_told() -> None:
    # a bow web of 250 x 5: A_w = 12.5 cm2, A_f = 12 cm2, A_a = 24.5 cm2; gamma A is far above it, no modulus suffices
    weak = {**WEB, "web_height_mm": 250.0, "web_thickness_as_built_mm": 5.0, "flange_breadth_mm": 120.0,
            "flange_thickness_as_built_mm": 10.0}  # fmt: skip
    design = drawn(lambda doc: doc.update(web_frames=[weak], stem=STEM))
    webs = (table(design).labels("kind") == "web frame") & (table(design).labels("hull_area") == "B")
    assert set(table(design).labels("outcome")[webs]) == {"not met"}
    assert not design.all_met
    (line,) = [line for line in told(design, "BW440") if line.startswith("web frames")]
    assert "worst F" in line
    assert " at no finite ratio (given)" in line
    reason = table(design)["strength_ratio"].reason
    assert reason is not None
    assert "no result: the check fails" in set(reason[webs])
    text = json.loads(result_text(material_of(design, steel_weight(design), "0" * 64)))
    assert text["outcome"] == "not met"


def test_a_flange_beyond_table_4_8_is_named() -> None:
    # web 150 x 6: 9 cm2; flange 200 x 15: 30 cm2, more than twice the web
    wide = {**WEB, "web_height_mm": 150.0, "web_thickness_as_built_mm": 6.0, "flange_thickness_as_built_mm": 15.0}
    design = designed(lambda doc: doc.update(web_frames=[wide]))
    (line,) = [line for line in told(design, "BW442") if line.startswith("web frames: F")]
    assert "the flange is more than twice the web" in line
    assert "not met" in set(table(design).labels("outcome"))


def test_a_stem_that_fails_is_told() -> None:
    design = designed(
        lambda doc: doc.update(stem={**STEM, "plate_thickness_as_built_mm": 12.0, "floor_spacing_m": 0.7})
    )
    assert design.stem is not None
    assert design.stem.outcome == "not met"
    assert "stem: thickness, spacing of floors" in told(design, "BW440")
    assert not design.all_met
    with pytest.raises(InputError, match=r"ship\.toml: stem\.grade: no such hull steel grade"):
        designed(lambda doc: doc.update(stem={**STEM, "grade": "XH99"}))


# Beyond a formula


@pytest.mark.slow
def test_longitudinals_too_narrow_for_the_load_fail_and_are_named() -> None:
    design = ships.designed(baltic, narrow)
    plating = design.plating
    lost = plating.labels("outcome") == "not met"
    assert lost.any()
    reason = plating["thickness_required_mm"].reason
    assert reason is not None
    assert set(reason[lost]) == {"no result: the check fails"}
    lines = told(design, "BW442")
    assert [line.split(":")[0] for line in lines] == ["plating", "frames"]
    assert "h/s is above 1.8 with longitudinal framing, where f_2 is not defined (FSICR 4.3.2)" in lines[0]
    assert " more: " in lines[0]
    assert not design.all_met
    assert explain_panel(design, str(plating.labels("id")[np.flatnonzero(lost)[0]])).results
    held = ships.designed(baltic, narrow, lambda doc: doc.update(overrides=REASON))
    assert np.isfinite(held.plating["thickness_required_mm"].data[lost]).all()
    assert told(held, "BW523") == [f"overrides.proportions: reason: {REASON['proportions']}"]


def test_a_frame_shorter_than_the_load_is_high_leaves_the_others_their_section() -> None:
    """kind: hand. F88/L2 is a stub of less than 0.3 m at the stem; its group gets what the other frames need."""
    design = plain()
    (line,) = told(design, "BW442")
    assert line.startswith("frames: F88/L2: the load is higher than the span")
    assert any("none heals 2 of" in line and "is taken for the others" in line for line in told(design, "BW441"))
    frames = design.frames
    group = frames.labels("group")[frames.labels("id") == "F88/L2"][0]
    mates = (frames.labels("group") == group) & (frames.labels("id") != "F88/L2")
    asked = frames.labels("outcome")[mates] != "no ice requirement"
    assert set(frames.labels("outcome")[mates][asked]) == {"met"}
    assert "NOT met" in explain_frame(design, "F88/L2").headline
    assert design.arrangement.frames["span_m"].data[frames.labels("id") == "F88/L2"][0] < 0.3


def test_a_fact_that_is_missing_names_its_key() -> None:
    with pytest.raises(InputError, match=r"ship\.toml: propulsion\.engine_power_kw: this key is missing"):
        designed(lambda doc: doc["propulsion"].pop("engine_power_kw"))


# What members bring


def test_ends_of_frames_by_their_levels() -> None:
    def two(doc: ships.Document) -> None:
        doc["levels"] = [doc["levels"][0], doc["levels"][-1]]

    given_ = ships.ship(baltic, two)
    single = arrange(given_, ships.measured().shell)
    facts = span_facts(given_, single, plain().areas, ships.measured())
    across = (single.frames.labels("orientation") == "transverse") & (single.frames.labels("role") != "web frame")
    lower = single.frames.labels("lower_level")
    assert set(facts["boundary"][across & (lower == "tank top")]) == {TANK_TOP_TO_DECK}
    assert set(facts["boundary"][single.frames.labels("orientation") == "longitudinal"]) == {TWO_LEVELS}
    many = span_facts(ships.ship(baltic), arranged(), plain().areas, ships.measured())
    assert SEVERAL_LEVELS in set(many["boundary"])


def test_the_share_of_a_span_in_the_zone_of_the_framing() -> None:
    """kind: hand. Amidships the side is upright: from the stringer at 2.4 m to the deck at 3.8 m all but nothing, from
    the deck to 4.9 m up to 1.0 m above the waterline at 3.8 m: 1.0/1.1; a line of two places gives the same."""
    design, frames = plain(), arranged().frames
    share = span_facts(design.ship, arranged(), design.areas, design.measures)["strengthened_share"]
    (row,) = np.flatnonzero(frames.labels("id") == "F51/L4")
    assert (frames.labels("lower_level")[row], frames.labels("upper_level")[row]) == ("deck", "upper stringer")
    assert share[row] == pytest.approx(1.0 / 1.1, abs=2e-4)
    points, normals = (arranged().frame_shapes.samples[row], arranged().frame_shapes.sample_normals[row])
    ends = np.stack([points[[0, -1]]]), np.stack([normals[[0, -1]]])
    assert share_inside(design.areas, design.measures, *ends, ("M", "MA"))[0] == pytest.approx(1.0 / 1.1, abs=2e-3)
    assert share_inside(design.areas, design.measures, *ends, ())[0] == 0.0


def test_web_frames_run_through_the_stringers_they_carry() -> None:
    whole, parted = (support_spans(arranged(), through_stringers=through) for through in (True, False))
    webs, pieces = whole.kind == "web frame", parted.kind == "web frame"
    assert webs.sum() < pieces.sum()
    assert whole.length_m[webs].sum() == pytest.approx(parted.length_m[pieces].sum(), rel=1e-12)
    row = next(k for k in np.flatnonzero(webs) if whole.carries[k] == ("stringer",) and whole.frame_aft[k] > 40.0)
    assert (whole.one_end[row], whole.other_end[row]) == ("tank top", "deck")
    assert str(whole.id[row]).endswith("/L2-L3")
    mine = np.flatnonzero(
        pieces & (parted.frame_aft == whole.frame_aft[row]) & np.isin(parted.one_end, ["tank top", "stringer"])
    )
    assert len(mine) == 2
    assert whole.length_m[row] == pytest.approx(parted.length_m[mine].sum(), rel=1e-12)
    assert whole.points[row, 0] == pytest.approx(parted.points[mine[0], 0])
    assert whole.points[row, -1] == pytest.approx(parted.points[mine[1], -1])
    assert all(carries == () for carries in parted.carries)


# What is written


def test_every_table_and_the_result_file_are_written() -> None:
    design = given()
    material = material_of(design, steel_weight(design), "0" * 64)
    files = csv_files(material)
    assert {"stem.csv", "supports.csv", "ship_checks.csv"} <= set(files)
    assert not {"girder.csv", "grades.csv"} & set(files)
    result: dict[str, Any] = json.loads(result_text(material))
    assert result["rule_length_m"] == 46.0
    assert result["stations"]["rows"] == result["loads"]["rows"] == 0
    assert material.patches_are.startswith("The pressure of each region, its factor included")
    pressures = {patch["name"].split(",")[0]: patch["pressure_mpa"] for patch in result["patches"]}
    own = np.array(result["panels"]["columns"]["pressure_avg_mpa"]["values"], dtype=float)
    assert np.nanmax(own) <= max(pressures.values()) * (1.0 + 1e-12)
