"""Frames given and proposed: the lightest really is the lightest, failures are outcomes with a reason, never NaN."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from tests.scantlings import ships
from tests.scantlings.demo import project

from beltwright.core.errors import InputError
from beltwright.core.outcome import utilisation
from beltwright.scantlings.design import Design
from beltwright.scantlings.explain import explain_frame
from beltwright.scantlings.readings import reading_words
from beltwright.scantlings.sectionstock import SectionStock


def given(**line: object) -> ships.Edit:
    """A line of frame sections."""
    return lambda doc: doc.setdefault("frame_sections", []).append(line)


def kinds(*names: str) -> ships.Edit:
    return lambda doc: doc.setdefault("stock", {}).update(frame_kinds=list(names))


def asked(design: Design) -> np.ndarray:
    return design.frames["ratio"].applies


def worst_of(design: Design, rows: np.ndarray, stock: SectionStock, sections: np.ndarray) -> np.ndarray:
    """The greatest ratio of each section over rows and checks: every section on every row, no short cut."""
    rule, run = design.rules.framing, design.framing_run
    every, tried = np.tile(rows, len(sections)), np.repeat(sections, len(rows))
    columns = {}
    for name in rule.chain.inputs:
        column = np.asarray(run.values[name])
        columns[name] = column if len(column) == 1 else column[every]
    out = rule.chain.run(columns | stock.columns(tried, rule.chain.inputs))
    ratios = [np.broadcast_to(utilisation(out[c.required], out[c.offered]), len(tried)) for c in rule.checks]
    worst: np.ndarray = np.where(np.isnan(ratios), np.inf, ratios).max(axis=0)
    return worst.reshape(len(sections), len(rows)).max(axis=1)


def groups_of(design: Design) -> dict[str, np.ndarray]:
    """The rows of each group for which a section was proposed."""
    run = design.framing_run
    names = run.table.labels("group")[run.rows.member]
    proposed = run.table.labels("source")[run.rows.member] == "proposed"
    return {str(name): np.flatnonzero((names == name) & proposed) for name in np.unique(names[proposed])}


def lightest_by_trying_all(design: Design, rows: np.ndarray, stock: SectionStock) -> float:
    """The least mass of the sections that meet every check on every row: every candidate tried."""
    met = stock.candidates[worst_of(design, rows, stock, stock.candidates) <= 1.0]
    return float(min(stock.mass_kg_per_m(met)))


def test_the_proposed_section_is_the_lightest_of_all() -> None:
    """Three groups here, every group in the slow test."""
    check_groups(ships.baseline(), every=5)


@pytest.mark.slow
@pytest.mark.parametrize("names", [("tee", "bulb"), ("flat", "angle"), ("flat", "bulb", "angle", "tee")])
def test_every_proposed_section_is_the_lightest_of_all(names: tuple[str, ...]) -> None:
    check_groups(ships.redesigned(kinds(*names)), every=1)


@pytest.mark.slow
def test_every_proposed_section_of_a_demo_ship_is_the_lightest() -> None:
    check_groups(project("quillan-frostmark").results.design, every=1)


def check_groups(design: Design, *, every: int) -> None:
    stock = SectionStock(design.ship)
    none = {f.where.removeprefix("frames ") for f in design.findings if f.kind.code == "BW441"}
    groups = {name: rows for name, rows in groups_of(design).items() if name not in none}
    assert len(groups) > 3
    for name, rows in list(groups.items())[::every]:
        members = design.framing_run.rows.member[rows]
        mass = set(design.frames["mass_kg_per_m"].data[members].tolist())
        assert mass == {lightest_by_trying_all(design, rows, stock)}, name
    for name in none:
        assert all(worst_of(design, groups_of(design)[name], stock, int(c)) > 1.0 for c in stock.candidates), (
            name
        )  # where it says that none does, none does


def test_ratios_of_the_table_are_those_of_the_checks() -> None:
    design = ships.baseline()
    run, rule = design.framing_run, design.rules.framing
    for member, row in zip(run.members.tolist(), run.governing.tolist(), strict=True):
        found = {
            c.name: float(np.broadcast_to(utilisation(run.values[c.required], run.values[c.offered]),
                                          len(run.rows.member))[row])
            for c in rule.checks
        }  # fmt: skip
        assert design.frames["ratio"].data[member] == max(found.values())
        assert found[str(design.frames.labels("governing")[member])] == max(found.values())
    assert set(design.frames.labels("outcome")) == {"met", "no ice requirement"}


def test_web_frames_carry_no_local_check() -> None:
    design = ships.baseline()
    webs = design.arrangement.frames.labels("role") == "web frame"
    assert webs.any()
    assert set(design.frames.labels("outcome")[webs]) == {"no ice requirement"}
    assert set(design.frames.labels("section")[webs]) == {""}
    assert not asked(design)[webs].any()


def test_a_given_section_that_fails_in_shear_is_an_outcome() -> None:
    """A thin flat bar: the shear area needed is more than there is, so the modulus formula has no value of its own."""
    design = ships.redesigned(given(zone="side", section="FB150x8"))
    side = (design.frames.labels("zone") == "side") & asked(design)
    ratio = design.frames["ratio"].data[side]
    assert np.isfinite(ratio).all()
    need, have = (design.frames[f"shear_area_{word}_cm2"].data[side] for word in ("required", "offered"))
    short = need > have
    assert short.sum() > 20
    assert (ratio[short] >= need[short] / have[short] - 1e-12).all()
    assert set(design.frames.labels("outcome")[side][short]) == {"not met"}
    assert set(design.frames.labels("source")[side]) == {"given"}
    assert not design.all_met
    told = [f for f in design.findings if f.kind.code == "BW440"]
    assert len(told) == 1
    worst = int(np.nanargmax(np.where(side, design.frames["ratio"].data, np.nan)))
    assert str(design.frames.labels("id")[worst]) in told[0].message
    assert f"{ratio.max():.3f} (given)" in told[0].message
    # the bottom, of which nothing is given, keeps its sections
    bottom = design.frames.labels("zone") == "bottom"
    assert design.frames.labels("section")[bottom].tolist() == (
        ships.baseline().frames.labels("section")[bottom].tolist()
    )


@pytest.mark.parametrize("section", ["FB150x8", "T500x60+200x40"])
def test_spans_that_rest_on_a_reading_of_the_rule_are_named(section: str) -> None:
    """Counted a second way, from the two shear areas and the share of each formula: some spans, and none."""
    design = ships.redesigned(given(zone="side", section=section), given(zone="bottom", section=section))
    run, count = design.framing_run, len(design.framing_run.rows.member)
    share, across, along, net = (
        np.broadcast_to(run.values[name], count)
        for name in (
            "transverse_share", "shear_area_transverse_cm2", "shear_area_longitudinal_cm2", "shear_area_net_cm2",
        )
    )  # fmt: skip
    short = (share > 0.0) & (share < 1.0) & ((across > net) | (along > net))
    told = [f.message for f in design.findings if f.kind.code == "BW463"]
    assert short.any() == (section == "FB150x8") == bool(told)
    for message in told:
        worst = np.maximum(across, along)[short] / net[short]
        spans = len(set(run.rows.member[short].tolist()))
        assert message.startswith(f"{spans} of {len(run.members)} spans: oblique frames")
        assert f"worst {worst.max():.2f} at F" in message


def test_the_severe_reading_demands_either_shear_area_in_full() -> None:
    """Counted a second way: every oblique row is asked for the greater area, no other row for anything else."""
    edits = given(zone="side", section="FB150x8"), given(zone="bottom", section="FB150x8")
    lighter = ships.redesigned(*edits)
    severe = ships.redesigned(*edits, lambda doc: doc.update(readings={"oblique_frames": "both in full"}))
    run, count = severe.framing_run, len(severe.framing_run.rows.member)
    share, across, along, need = (
        np.broadcast_to(run.values[name], count)
        for name in (
            "transverse_share", "shear_area_transverse_cm2", "shear_area_longitudinal_cm2", "shear_area_required_cm2",
        )
    )  # fmt: skip
    oblique = (share > 0.0) & (share < 1.0)
    assert oblique.any()
    assert (need[oblique] == np.maximum(across, along)[oblique]).all()
    before = np.broadcast_to(lighter.framing_run.values["shear_area_required_cm2"], count)
    assert (need[~oblique] == before[~oblique]).all()
    assert (need[oblique] > before[oblique]).all()
    assert not [f for f in severe.findings if f.kind.code == "BW463"]
    assert [f for f in lighter.findings if f.kind.code == "BW463"]
    (words,) = reading_words(severe.ship, severe.rules.framing)
    assert "the severe reading" in words
    assert "the lighter reading" in reading_words(lighter.ship, lighter.rules.framing)[0]
    bare = replace(severe.rules.framing, chain=severe.rules.plating.chain)  # a rule set without such a choice
    assert reading_words(severe.ship, bare) == ()
    origin = explain_frame(severe, str(severe.frames.labels("id")[run.rows.member[oblique][0]])).trace["both_in_full"]
    assert (origin.value, origin.origin) == (True, "ship.toml: readings.oblique_frames")


def test_proposed_frames_grow_with_the_severe_reading() -> None:
    severe = ships.redesigned(lambda doc: doc.update(readings={"oblique_frames": "both in full"}))
    assert severe.all_met
    assert severe.framing_run.values["lone_utilisation"].max() <= 1.0
    mass = [float(np.nansum(d.frames["mass_kg_per_m"].data)) for d in (ships.baseline(), severe)]
    assert mass[1] >= mass[0]


def test_a_section_that_meets_everything_is_met() -> None:
    design = ships.redesigned(given(zone="side", section="T600x25+200x25"))
    side = (design.frames.labels("zone") == "side") & asked(design)
    assert set(design.frames.labels("outcome")[side]) == {"met"}
    assert design.all_met
    assert not [f for f in design.findings if f.kind.code == "BW440"]


def test_no_section_of_the_allowed_kinds_meets_the_checks() -> None:
    design = ships.redesigned(kinds("flat"), lambda doc: doc["ice"].update(ice_class="PC1"))
    told = [f for f in design.findings if f.kind.code == "BW441"]
    assert told
    assert not design.all_met
    stock = SectionStock(design.ship)
    groups = groups_of(design)
    for finding in told:
        rows = groups[finding.where.removeprefix("frames ")]
        members = design.framing_run.rows.member[rows]
        assert "not met" in set(design.frames.labels("outcome")[members])
        assert set(design.frames.labels("section")[members]) != {""}
        assert (worst_of(design, rows, stock, stock.candidates) > 1.0).all()


def test_simple_support_in_the_ice_belt_fails_whatever_the_section() -> None:
    """Fixity is asked for inside the strengthened areas: no section heals a loose end there."""
    design = ships.designed(
        lambda doc: doc["zones"][0].update(upper_end={"fixed": False}), given(zone="side", section="T600x25+200x25")
    )
    assert [f for f in design.findings if f.kind.code == "BW446"]
    failed = (design.frames.labels("zone") == "side") & (design.frames.labels("outcome") == "not met")
    assert failed.any()
    assert np.isinf(design.frames["ratio"].data[failed]).all()
    assert not design.frames["ratio"].applies[failed].any()  # no number stands there in a table, but the reason
    assert not design.all_met


def test_later_lines_win_and_grades_count() -> None:
    design = ships.redesigned(
        given(zone="side", section="T600x25+200x25"),
        given(zone="side", from_frame=60.0, section="T550x25+150x25", grade="EH40"),
    )
    frames = design.frames
    fore = (frames.labels("zone") == "side") & (design.arrangement.frames.values("frame") > 60.0)
    aft = (frames.labels("zone") == "side") & ~fore
    assert set(frames.labels("section")[fore]) == {"T550x25+150x25"}
    assert set(frames.labels("section")[aft]) == {"T600x25+200x25"}
    assert set(frames["yield_mpa"].data[fore]) == {390.0}
    assert set(frames["yield_mpa"].data[aft]) == {355.0}


def test_a_line_that_points_nowhere_and_a_name_that_is_none() -> None:
    design = ships.redesigned(given(hull_area="Sb", section="HP240x11"))
    assert [f.where for f in design.findings if f.kind.code == "BW443"] == ["ship.toml: frame_sections[1]"]
    with pytest.raises(InputError, match=r"ship.toml: frame_sections\[1\]\.section"):
        ships.redesigned(given(zone="side", section="a stout one"))


def test_deduction_for_corrosion_thins_web_and_flange() -> None:
    """kind: hand. T600x25+200x25 at 3 mm: web 22 mm; shear area (600 + 22) 22 / 100 = 136.84 cm2 where it stands
    square to the shell; at 1 mm (600 + 24) 24 / 100 = 149.76 cm2."""
    section = given(zone="side", section="T600x25+200x25")
    for deduction, area in ((1.0, 149.76), (3.0, 136.84)):
        design = ships.redesigned(section, lambda doc, d=deduction: doc.update(stock={"frame_corrosion_mm": d}))
        offered = design.frames["shear_area_offered_cm2"].data
        assert np.nanmax(offered) == pytest.approx(area, rel=1e-12)


def test_no_number_is_missing_without_a_reason() -> None:
    for name, column in ships.baseline().frames.items():
        if column.data.dtype.kind == "f":
            missing = np.isnan(column.data)
            assert (missing == ~column.applies).all(), name
            if missing.any():
                assert column.reason is not None
                assert (column.reason[missing] != "").all(), name
