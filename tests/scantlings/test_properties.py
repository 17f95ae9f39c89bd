"""How the whole design moves: with class, displacement, spacing, yield; and nothing is missing without a reason."""

from __future__ import annotations

from functools import cache
from itertools import pairwise

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from tests.scantlings import ships
from tests.scantlings.demo import NAMES, project

from beltwright.core.columns import ColumnTable
from beltwright.core.errors import ScopeError
from beltwright.core.findings import Findings
from beltwright.scantlings.build import check_description, design_on
from beltwright.scantlings.design import Design
from beltwright.scantlings.measure import angle_columns
from beltwright.ship.model import Ship

CLASSES = ("PC1", "PC2", "PC3", "PC4", "PC5", "PC6", "PC7")


def in_class(design: Design, ice_class: str) -> Design:
    """A design again in another class, on the same hull and arrangement."""
    ship: Ship = design.ship.model_copy(update={"ice": design.ship.ice.model_copy(update={"ice_class": ice_class})})
    findings = Findings()
    return design_on(ship, check_description(ship, findings), design.measures, design.arrangement, findings)


def falls_with_class(designs: list[Design]) -> None:
    """A stronger class asks for more everywhere: force, line load, pressure, the thickness of every panel.

    One place is the table's own exception: the belt of the bow intermediate region has the factor 0.80 in PC5 and, with
    the bow's load, 1.00 in PC6; on the PC4 demo ship it comes out 0.1 mm thicker in PC6.
    """
    for strong, weak in pairwise(designs):
        for one, other in zip(strong.loads.patches, weak.loads.patches, strict=True):
            assert one.force_mn > other.force_mn
            assert one.pressure_mpa > other.pressure_mpa
            assert one.force_mn / one.width_m > other.force_mn / other.width_m
        more, less = (np.nan_to_num(d.plating["thickness_required_mm"].data, nan=0.0) for d in (strong, weak))
        jump = strong.ship.ice.ice_class == "PC5"
        compared = ~((weak.plating.labels("hull_area") == "BIi") & jump)
        assert (more >= less)[compared].all()
        asked = (less > 0.0) & compared
        assert (more[asked] > less[asked]).all()
        assert (more[~compared] > less[~compared] - 0.2).all()


@pytest.mark.slow
def test_thickness_and_force_fall_with_class() -> None:
    falls_with_class([in_class(ships.baseline(), name) for name in CLASSES])


@pytest.mark.slow
@pytest.mark.parametrize("name", ["quillan-frostmark", "merrow-tarn"])
def test_thickness_and_force_fall_with_class_on_the_demo_ships(name: str) -> None:
    falls_with_class([in_class(project(name).results.design, ice_class) for ice_class in CLASSES])


@pytest.mark.slow
def test_the_upright_bow_is_for_the_two_lightest_classes() -> None:
    """Outside I2.3.1(v) only PC6 and PC7 have a formula: there the class still counts, above it the rule ends."""
    design = project("merrow-tarn-upright").results.design
    falls_with_class([in_class(design, "PC6"), in_class(design, "PC7")])
    for ice_class in CLASSES[:5]:
        with pytest.raises(ScopeError, match=r"I2\.3\.1"):
            in_class(design, ice_class)


@given(st.floats(0.3, 80.0), st.floats(1.0001, 3.0))
@settings(max_examples=25)
def test_more_displacement_never_asks_for_less(kilotonnes: float, by: float) -> None:
    """Loads and the thickness of every panel; below the floors of 5 and 10 kt they stand still."""
    one, other = loads_and_plates(kilotonnes), loads_and_plates(kilotonnes * by)
    for key in ("bow_force", "other_force", "bow_pressure", "other_pressure"):
        assert other[0][key] >= one[0][key] * (1.0 - 1e-12)
    if kilotonnes * by <= 5.0:
        assert other[0] == one[0]
    if kilotonnes >= 10.0:
        assert other[0]["bow_force"] > one[0]["bow_force"]
        assert other[0]["other_force"] > one[0]["other_force"]
    assert (other[1] >= one[1] * (1.0 - 1e-12)).all()


def loads_and_plates(kilotonnes: float) -> tuple[dict[str, float], np.ndarray]:
    """Loads of the small ship at another displacement, and the thickness that each panel row then asks for."""
    design = ships.baseline()
    facts = {**design.facts, "displacement_upper_kt": np.array([kilotonnes])}
    loads = design.rules.loads(facts, design.areas, angle_columns(design.stations), ())
    rule, run = design.rules.plating, design.plating_run
    columns = {name: run.values[name] for name in rule.chain.inputs} | {
        name: value for name, value in loads.columns.items() if name in rule.chain.inputs
    }
    bow, other = loads.patches
    told = {"bow_force": bow.force_mn, "other_force": other.force_mn, "bow_pressure": bow.pressure_mpa,
            "other_pressure": other.pressure_mpa}  # fmt: skip
    return told, rule.chain.run(columns)[rule.result]


@cache
def spaced(spacing_m: float) -> Design:
    """The small ship with its side frames further apart; the bottom follows."""

    def edit(doc: ships.Document) -> None:
        first, last = int(np.floor(-1.5 / spacing_m)), int(np.ceil(52.13 / spacing_m))
        doc["frames"] = [{"from_frame": first, "to_frame": last, "spacing_m": spacing_m}]
        doc["zones"][0] |= {"from_frame": first, "to_frame": last, "web_frame_spacing_m": 4.0 * spacing_m}
        ends = {"from_frame": round(6.5 / spacing_m), "to_frame": round(41.0 / spacing_m)}
        doc["zones"][1] |= {**ends, "web_frame_spacing_m": 4.0 * spacing_m}

    return ships.designed(edit)


@pytest.mark.slow
def test_wider_frames_ask_for_thicker_plates() -> None:
    areas = ("B", "BIi", "BIl", "Mi", "Si")
    need = {
        spacing: dict(
            zip(design.area_table.labels("code").tolist(), design.area_table["thickness_required_mm"].data, strict=True)
        )
        for spacing, design in ((s, spaced(s)) for s in (0.4, 0.5, 0.6))
    }
    for area in ("BIi", "Mi", "Si"):
        assert need[0.4][area] < need[0.5][area] < need[0.6][area]
    for area in areas:  # the bottom's longitudinals, which govern the bow, keep their own spacing
        assert need[0.4][area] <= need[0.6][area] + 1e-9


@given(st.sampled_from([235.0, 265.0, 315.0, 355.0, 390.0]), st.sampled_from([235.0, 265.0, 315.0, 355.0, 390.0]))
@settings(max_examples=15)
def test_stronger_steel_never_asks_for_more(one: float, other: float) -> None:
    """Every panel's thickness and every frame row's shear area and modulus, at the section it has."""
    low, high = sorted((one, other))
    design = ships.baseline()
    for rule, run, results in (
        (design.rules.plating, design.plating_run, ("thickness_required_mm",)),
        (design.rules.framing, design.framing_run, ("shear_area_required_cm2", "plastic_modulus_required_cm3")),
    ):
        columns = {name: run.values[name] for name in rule.chain.inputs}
        soft, hard = (
            rule.chain.run(columns | {"yield_mpa": np.full(len(columns["yield_mpa"]), stress)})
            for stress in (low, high)
        )
        for result in results:
            assert (hard[result] <= soft[result] * (1.0 + 1e-12)).all()


def no_number_is_lost(tables: dict[str, ColumnTable]) -> int:
    """Every NaN has a reason and every reason a NaN; no infinity hides in a table; returns how many cells apply."""
    count = 0
    for name, table in tables.items():
        for key, column in table.items():
            if column.data.dtype.kind != "f":
                continue
            missing = np.isnan(column.data)
            assert (missing == ~column.applies).all(), f"{name}: {key}"
            assert not np.isinf(column.data[~missing]).any(), f"{name}: {key}"
            count += int((~missing).sum())
            if missing.any():
                assert column.reason is not None
                assert (np.char.str_len(column.reason[missing]) > 5).all(), f"{name}: {key}"
    return count


@pytest.mark.slow
@pytest.mark.parametrize("name", NAMES)
def test_no_number_of_a_demo_ship_is_lost(name: str) -> None:
    results = project(name).results
    assert no_number_is_lost(results.tables) > 50_000
    assert set(results.tables) == {
        "hull areas", "plating", "panels", "frames", "frame spans", "web frames and stringers", "direct calculation",
        "plated structures", "checklist", "steel weight", "steel grades", "longitudinal strength", "girder buckling",
    }  # fmt: skip
    assert results.design.all_met


def test_no_number_of_the_small_ship_is_lost() -> None:
    design = ships.baseline()
    tables = {"areas": design.area_table, "plating": design.plating, "frames": design.frames,
              "panels": design.arrangement.panels, "spans": design.arrangement.frames}  # fmt: skip
    assert no_number_is_lost(tables) > 10_000
