"""Whole designs with the notation Icebreaker and for operation astern: borders, factors and requirements by hand."""

from __future__ import annotations

import math
from functools import cache

import numpy as np
import pytest
from tests.scantlings.demo import project
from tests.scantlings.ships import baseline, redesigned

from beltwright.arrangement.model import Arrangement
from beltwright.core.findings import Findings
from beltwright.report.from_design import material_of
from beltwright.scantlings.build import design_on
from beltwright.scantlings.design import Design, HullMeasures
from beltwright.ship.model import Ship
from beltwright.weights.steel import steel_weight

# UR I2 Table 5, notation Icebreaker, PC4 (recalled); the general Table 4 beside it where a test needs it
ICEBREAKER = {"B": 1.0, "BIi": 0.85, "BIl": 0.65, "BIb": 0.45, "Mi": 0.55, "Ml": 0.40, "Mb": 0.25, "Si": 0.80,
              "Sl": 0.45, "Sb": 0.30}  # fmt: skip
GENERAL = {"B": 1.0, "BIi": 0.80, "BIl": 0.60, "BIb": 0.40, "Mi": 0.55, "Ml": 0.35, "Si": 0.60, "Sl": 0.30, "Sb": 0.25}


@cache
def small(icebreaker: bool, astern: bool) -> Design:
    return redesigned(lambda doc: doc["ice"].update(icebreaker=icebreaker, operates_astern=astern))


def rule_length(design: Design) -> float:
    """L_UI: stem to rudder within 0.96 and 0.97 of the extreme length."""
    raw, extreme = (float(design.facts[name][0]) for name in ("stem_to_rudder_m", "waterline_extreme_length_m"))
    return min(max(raw, 0.96 * extreme), 0.97 * extreme)


def stern_border(design: Design, *, icebreaker: bool) -> float:
    """Distance aft of the stem: the larger of 0.7 b and 0.15 L from AP; an icebreaker's at least b + 0.04 L."""
    b, stem = (float(design.facts[name][0]) for name in ("parallel_end_forward_of_ap_m", "stem_to_ap_m"))
    length = max(0.7 * b, 0.15 * rule_length(design))
    return stem - (max(length, b + 0.04 * rule_length(design)) if icebreaker else length)


def wholly(design: Design, forward: float, aft: float) -> np.ndarray:
    """Panels whose sample points all lie between two distances aft of the stem [m]."""
    place = design.measures.stem_x_m - design.arrangement.panel_shapes.samples[:, :, 0]
    found: np.ndarray = ((place > forward + 1e-6) & (place < aft - 1e-6)).all(axis=1)
    return found


@pytest.mark.parametrize("icebreaker", [False, True])
def test_where_the_stern_begins(icebreaker: bool) -> None:
    design = small(icebreaker, astern=False)
    border = stern_border(design, icebreaker=icebreaker)
    assert float(design.areas.trace["stern_forward_m"].value) == pytest.approx(border, abs=1e-9)
    aft, forward = wholly(design, border, 1e3), wholly(design, 0.0, border)
    area = design.plating.labels("hull_area")
    assert {str(code)[:1] for code in area[aft] if code} == {"S"}
    assert "S" not in {str(code)[:1] for code in area[forward] if code}
    assert aft.sum() > 20


def test_the_stern_of_an_icebreaker_is_longer_by_hand() -> None:
    # b + 0.04 L against 0.7 b: by 0.3 b + 0.04 L
    b = float(baseline().facts["parallel_end_forward_of_ap_m"][0])
    length = rule_length(baseline())
    assert 0.7 * b > 0.15 * length, "else the shorter limit would govern and the sum below would be another"
    moved = stern_border(baseline(), icebreaker=False) - stern_border(baseline(), icebreaker=True)
    assert moved == pytest.approx(0.3 * b + 0.04 * length, abs=1e-9)


@pytest.mark.parametrize(("icebreaker", "table"), [(False, GENERAL), (True, ICEBREAKER)])
def test_every_member_takes_the_factor_of_its_table(icebreaker: bool, table: dict[str, float]) -> None:
    design = small(icebreaker, astern=False)
    for members in (design.plating, design.frames):
        area, factor = members.labels("hull_area"), members["area_factor"]
        found = {str(code): set(factor.data[(area == code) & factor.applies]) for code in np.unique(area) if code}
        assert {code: {table[code]} for code in found} == {code: values for code, values in found.items() if values}
    strengthened = {one.code for one in design.areas.areas if one.strengthened}
    assert strengthened == set(table)
    assert design.loads.choices[-1].endswith("Table 5 (notation Icebreaker)" if icebreaker else "Table 4")


def thickness_by_hand(design: Design, row: int, factor: float, addition: float) -> float:
    """A transversely framed plate: 500 s sqrt(AF PPF P / sy) / (1 + s / 2b) + t_s, with the patch of the bow."""
    panels = design.arrangement.panels
    s, a = float(panels["spacing_m"].data[row]), float(panels["span_m"].data[row])
    patch = design.loads.patches[0]
    b, peak = min(patch.height_m, a - s / 4.0), max(1.8 - s, 1.2)
    net = 500.0 * s * math.sqrt(factor * peak * patch.pressure_mpa / 355.0) / (1.0 + s / (2.0 * b))
    return net + addition


@pytest.mark.parametrize("icebreaker", [False, True])
def test_astern_the_aft_part_is_designed_as_a_bow(icebreaker: bool) -> None:
    design = small(icebreaker, astern=True)
    border = stern_border(design, icebreaker=icebreaker)
    plating = design.plating
    aft = wholly(design, border, 1e3) & plating["thickness_required_mm"].applies
    assert aft.sum() > 20
    assert set(plating.labels("hull_area")[aft]) == {"B"}
    assert set(plating.labels("load_area")[aft]) == {"B"}
    assert set(plating["area_factor"].data[aft]) == {1.0}
    assert set(plating["addition_mm"].data[aft]) == {2.5}, "Table 6: bow, PC4, effective protection"
    patch = design.loads.patches[0]
    assert set(plating["pressure_avg_mpa"].data[aft]) == {patch.pressure_mpa}
    assert (patch.name, "Si" in patch.areas) == ("bow", False)
    across = aft & (plating["omega_deg"].data >= 70.0)
    assert across.sum() > 10
    for row in np.flatnonzero(across):
        hand = thickness_by_hand(design, int(row), 1.0, 2.5)
        assert plating["thickness_required_mm"].data[row] == pytest.approx(hand, rel=1e-9)
    # the same panels ask for less where the stern is a stern
    stern = baseline().plating["thickness_required_mm"]
    both = across & stern.applies
    assert (plating["thickness_required_mm"].data[both] > stern.data[both]).all()
    frames = design.frames
    assert "S" not in {str(code)[:1] for code in (*frames.labels("hull_area"), *plating.labels("hull_area")) if code}
    assert [one.kind.code for one in design.findings].count("BW405") == 1


def test_bow_intermediate_lies_between_midbody_and_aft_bow() -> None:
    # astern without the notation: from 0.04 L forward of the end of the parallel side to the stern's border
    design = small(icebreaker=False, astern=True)
    b, stem = (float(design.facts[name][0]) for name in ("parallel_end_forward_of_ap_m", "stem_to_ap_m"))
    begins, ends = stem - b - 0.04 * rule_length(design), stern_border(design, icebreaker=False)
    assert begins < ends
    inside = wholly(design, begins, ends) & design.plating["thickness_required_mm"].applies
    assert inside.sum() > 10
    assert {str(code)[:2] for code in design.plating.labels("hull_area")[inside]} == {"BI"}
    names = [border.name for border in design.areas.borders]
    assert "aft bow intermediate begins" in names
    # an icebreaker's aft bow begins where the aft bow intermediate would: nothing lies between, and no border is drawn
    both = small(icebreaker=True, astern=True)
    assert "aft bow intermediate begins" not in [border.name for border in both.areas.borders]
    aft_bow = next(border for border in both.areas.borders if border.name == "forward border of the aft bow area")
    assert (aft_bow.forward, aft_bow.aft) == ("M", "B")  # type: ignore[union-attr]
    assert stern_border(both, icebreaker=True) == pytest.approx(begins, abs=1e-9)


def test_the_booklet_shows_notation_extent_and_titles() -> None:
    design = small(icebreaker=True, astern=True)
    material = material_of(design, steel_weight(design), "0" * 64)
    told = " ".join(material.decisions)
    assert "area factors from Table 5 (notation Icebreaker)" in told
    assert "operates astern: the aft part takes the requirements of bow and bow intermediate (I2.2.6)" in told
    titles = dict(zip(material.area_table.labels("code"), material.area_table.labels("title"), strict=True))
    assert titles["B"] == "bow and aft part"
    assert titles["BIi"].startswith("bow intermediate fore and aft")
    assert "forward border of the aft bow area" in material.borders.labels("border")
    assert any(finding.kind.code == "BW405" for finding in material.findings)


@pytest.mark.slow
def test_the_demo_ship_as_an_icebreaker_that_goes_astern() -> None:
    """Azimuthing units need no reason for stern factors then: no stern area is left."""
    made = project("quillan-frostmark").results.design
    design = _again(made.ship, made.measures, made.arrangement, made)
    border = stern_border(design, icebreaker=True)
    assert float(design.areas.trace["stern_forward_m"].value) == pytest.approx(border, abs=1e-9)
    plating = design.plating
    aft = wholly(design, border, 1e3) & plating["thickness_required_mm"].applies
    assert set(plating.labels("hull_area")[aft]) == {"B"}
    across = np.flatnonzero(aft & (plating["omega_deg"].data >= 70.0))
    assert len(across) > 20
    for row in across:
        hand = thickness_by_hand(design, int(row), 1.0, 2.5)
        assert plating["thickness_required_mm"].data[row] == pytest.approx(hand, rel=1e-9)
    assert steel_weight(design).modelled_t > steel_weight(made).modelled_t
    assert {str(outcome) for outcome in design.frames.labels("outcome")} <= {"met", "no ice requirement"}


def _again(ship: Ship, measures: HullMeasures, arrangement: Arrangement, made: Design) -> Design:
    """The demo design with both flags set and the reason for stern factors taken out."""
    ice = ship.ice.model_copy(update={"icebreaker": True, "operates_astern": True})
    overrides = ship.overrides.model_copy(update={"azimuthing_stern_factors": None})
    aside = {"plates": (), "frame_sections": (), "web_frames": (), "stringers": ()}
    given = ship.model_copy(update={"ice": ice, "overrides": overrides, **aside})
    return design_on(given, made.rules, measures, arrangement, Findings())
