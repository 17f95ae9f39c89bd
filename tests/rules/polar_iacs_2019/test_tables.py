"""The printed tables as data: every cell against a second copy, its standing, and what a changed cell does."""

from __future__ import annotations

import csv
import itertools
from collections.abc import Iterator
from dataclasses import replace
from functools import cache
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from tests.rules.polar_iacs_2019.cases import AREAS, CLASSES, POLAR, angles, facts, frame, panel

from beltwright.core.clause import Clause
from beltwright.core.errors import InputError
from beltwright.core.provenance import Status
from beltwright.core.ruletable import Cell, RuleTable
from beltwright.rules.polar_iacs_2019 import tables
from beltwright.rules.polar_iacs_2019.coverage import unread_cells
from beltwright.rules.polar_iacs_2019.documents import DOCUMENT
from beltwright.rules.polar_iacs_2019.i2_11_corrosion import internal_addition
from beltwright.rules.polar_iacs_2019.i2_12_materials import table_7_class, table_8_grade
from beltwright.rules.polar_iacs_2019.i2_13_longitudinal_strength import (
    allowed_stiffener_compression,
    counted_strength,
    usage_factor,
)
from beltwright.rules.protocol import GirderForce, HeightBorder
from beltwright.rules.steel_iacs.s6_1_normal_service import appendage_class, long_ship_grade, single_strake_breadth
from beltwright.rules.steel_iacs.tables import APPENDAGE_CLASSES
from beltwright.rules.strength_iacs.s11_5_2_elastic_buckling import stiffening_coefficient

COPY = Path(__file__).resolve().parents[2] / "second_way"


def second_copy(name: str) -> dict[str, dict[str, str]]:
    with (COPY / name).open(encoding="utf-8") as file:
        rows = list(csv.reader(file))
    return {row[0]: dict(zip(rows[0][1:], row[1:], strict=True)) for row in rows[1:]}


def test_table_1_and_2_equal_the_second_copy() -> None:
    for ice_class, row in second_copy("factors.csv").items():
        for factor, value in row.items():
            assert tables.CLASS_FACTORS.cell(ice_class, factor).value == float(value)
    for ice_class, row in second_copy("vertical.csv").items():
        for factor, value in row.items():
            assert tables.VERTICAL_BOW_FACTORS.cell(ice_class, factor).value == float(value)


@pytest.mark.parametrize(
    ("table", "name"),
    [(tables.AREA_FACTORS_GENERAL, "areas.csv"), (tables.AREA_FACTORS_ICEBREAKER, "areas_icebreaker.csv")],
)
def test_tables_4_and_5_equal_the_second_copy(table: RuleTable, name: str) -> None:
    copy = second_copy(name)
    assert list(copy) == list(AREAS)
    for area, row in copy.items():
        for ice_class, value in row.items():
            assert table.cell(ice_class, area).value == (None if value == "none" else float(value))


def test_table_6_equals_the_second_copy() -> None:
    for areas, row in second_copy("additions.csv").items():
        for (words, value), area in itertools.product(row.items(), areas.split()):
            column, *classes = words.split()
            for ice_class in classes:
                key = "unprotected" if column == "bare" else column
                assert tables.ADDITIONS.cell(ice_class, area, key).value == float(value)


def test_table_3_by_the_digest() -> None:
    # recalled: at no spacing, fall per metre of spacing, least
    rows = {
        "plating transverse": (1.8, 1.0, 1.2),
        "plating longitudinal": (2.2, 1.2, 1.5),
        "frame with stringers": (1.6, 1.0, 1.0),
        "frame without": (1.8, 1.0, 1.2),
        "frame in bottom": (1.0, 0.0, 1.0),
    }
    for member, values in rows.items():
        names = ("at no spacing", "fall per metre of spacing", "least")
        assert tuple(tables.PEAK_PRESSURE.cell(member, name).value for name in names) == values
    assert sorted(c.value for k, c in tables.PEAK_PRESSURE.cells.items() if k[0] == "longitudinals") == [
        0.5,
        1.0,
        2.0,
        2.0,
    ]


def test_every_cell_has_a_standing_and_only_what_was_read_is_confirmed() -> None:
    confirmed = {cell.where for table in POLAR.tables for cell in table.cells.values() if cell.status.confirmed}
    assert confirmed == {
        "UR I2 Figure 1 (ice_class PC1|PC2|PC3|PC4|PC5|PC6|PC7, angle bottom inclination)",
        "UR I2 I2.11.3 (structure internal)",
        *(f"UR I2 I2.13.3 (curve positive, node {n}, part {part})" for n in (1, 2) for part in ("place", "factor")),
        *(f"UR I2 I2.13.4 (node {n}, part {part})" for n in range(1, 6) for part in ("place", "factor")),
    }
    memory_checked = {
        cell.keys[1][1] for cell in tables.CLASS_FACTORS.cells.values() if cell.status is Status.MEMORY_CHECKED
    }
    assert memory_checked == {"CFC", "CFF", "CFD", "CFL"}


def test_no_table_is_seen_on_a_page_and_says_so() -> None:
    for table in POLAR.tables:
        assert table.header["page"] == "not seen"
        assert table.header["read_by"]
        assert table.name.startswith(("UR I2 ", "UR S6 ", "UR S11 "))


def test_values_are_ordered_by_class_and_notation() -> None:
    for area in AREAS:
        for table in (tables.AREA_FACTORS_GENERAL, tables.AREA_FACTORS_ICEBREAKER):
            row = [table.cell(c, area).value or 0.0 for c in CLASSES[: 7 if area != "BIi" else 5]]
            assert row == sorted(row, reverse=True), area
        for ice_class in CLASSES:
            general = tables.AREA_FACTORS_GENERAL.cell(ice_class, area).value or 0.0
            assert tables.AREA_FACTORS_ICEBREAKER.cell(ice_class, area).value >= general
    for area, protection in itertools.product(AREAS, ("protected", "unprotected")):
        row = [tables.ADDITIONS.cell(c, area, protection).value for c in CLASSES]
        assert row == sorted(row, reverse=True)


def test_every_cell_is_read_by_a_clause() -> None:
    assert unread_cells() == ()


# A changed cell


def results_of_areas(ice_class: str) -> list[Any]:
    found: list[Any] = []
    for icebreaker, ten, end in itertools.product((False, True), (24.0, 90.0), (40.0, 10.0)):
        made = POLAR.areas(
            facts(
                ice_class=ice_class,
                icebreaker=icebreaker,
                alpha_ten_aft_of_stem_m=ten,
                parallel_end_forward_of_ap_m=end,
            ),
            (),
        )
        found += [area.strengthened for area in made.areas]
        found += [border.offset_m.tolist() for border in made.borders if isinstance(border, HeightBorder)]
        found += [node.value for node in made.trace.values() if node.unit.symbol in ("m", "deg")]
    return found


def results_of_loads(ice_class: str) -> list[Any]:
    cases = [(d, False, (40.0, 34.0, 26.0, 14.0)) for d in (3.0, 14.0, 300.0)]
    if ice_class in ("PC6", "PC7"):
        cases += [(14.0, False, (2.0, 4.0, 6.0, 8.0)), (14.0, True, (2.0, 4.0, 6.0, 8.0))]
    found = []
    for d, bulb, beta in cases:
        ship = facts(ice_class=ice_class, displacement_upper_kt=d, bulbous_bow=bulb)
        found.append(POLAR.loads(ship, POLAR.areas(ship, ()), angles(beta_prime=beta), ()).patches)
    return found


def results_of_members(ice_class: str) -> list[Any]:
    found: list[Any] = []
    for icebreaker, protected in itertools.product((False, True), (False, True)):
        made = POLAR.areas(facts(ice_class=ice_class, icebreaker=icebreaker), ())
        codes = [area.code for area in made.areas if area.strengthened]
        rows = list(itertools.product(codes, (0.3, 1.1), (0.0, 90.0), (False, True), (0.2, 1.26, 4.0)))
        area, spacing, omega, stringer, web = (np.array(values) for values in zip(*rows, strict=True))
        given = {
            "ice_class": ice_class,
            "icebreaker": icebreaker,
            "load_area": area,
            "factor_area": area,
            "spacing_m": spacing,
            "omega_deg": omega,
            "load_distributing_stringer": stringer,
        }
        plates = POLAR.plating.run(panel(**given, addition_area=area, effective_protection=protected))
        frames = POLAR.framing.run(frame(**given, web_frame_spacing_m=web))
        found += [codes, plates["thickness_required_mm"].tolist(), frames["shear_area_required_cm2"].tolist()]
    return found


def result_of_internal_addition(_: str) -> list[Any]:
    """What the caller reads for internal structure; no chain reads it."""
    return internal_addition(structure=np.array(["internal"])).tolist()


def results_of_girder(ice_class: str) -> list[Any]:
    """Force, curves along the ship, limits and a plate's critical stress."""
    assert POLAR.girder is not None
    rule, ship = POLAR.girder, facts(ice_class=ice_class)
    before = POLAR.loads(ship, POLAR.areas(ship, ()), angles(), ()).traces["ship"]
    found: list[Any] = []
    for exponent in (0.0, 0.005, 0.39, 0.41, 0.59, 0.61, 0.99, 1.01):
        bow = {
            "waterplane_upper_m2": 2100.0, "breadth_upper_m": 20.0, "bow_length_m": 30.0, "bow_exponent": exponent,
            "stem_waterline_angle_deg": 85.0,
        }  # fmt: skip
        force = rule.force({**ship, **{name: np.array([value]) for name, value in bow.items()}}, before)
        assert isinstance(force, GirderForce)
        found += [node.value for name, node in force.trace.items() if name in ("printed_bow_form", "ice_force_mn")]
        found.append(force.trace["ramming_force_mn"].value)
    along = rule.along.run({**force.columns, "aft_of_stem_m": np.linspace(0.0, 120.0, 241)})
    found += [along[name].tolist() for name in ("ice_shear_positive_mn", "ice_shear_negative_mn", "ice_moment_mnm")]
    for icebreaker in (False, True):
        eta = usage_factor(icebreaker=np.array([icebreaker]))
        strength = counted_strength(yield_mpa=np.arange(330.0, 370.0), tensile_mpa=np.array([500.0]))
        found.append((eta * strength).tolist())
    found.append(allowed_stiffener_compression(critical_mpa=np.array([200.0])).tolist())
    found.append(stiffening_coefficient(edge_stiffener=np.array(["floor", "angle", "bulb", "flat"])).tolist())
    return found


def results_of_grades(ice_class: str) -> list[Any]:
    """Letters and classes of members of every category, place, position, strength and row of thickness."""
    assert POLAR.grading is not None
    thickness = (8.0, 12.0, 18.0, 22.0, 28.0, 32.0, 38.0, 42.0, 48.0, 60.0)
    kinds = ("secondary", "primary", "special", "derived")
    heights = ((-9.0, -0.35), (-0.25, 1.51), (-0.25, 1.49), (-0.305, -0.299))
    fore = np.array((5.0, 24.0, 24.1, 23.4, 36.0, 35.3, 60.0, 95.9))
    ends = tuple(zip(fore, fore + np.array((0.4, 0.2, 0.2, 0.4, 0.3, 0.4, 0.4, 0.4)), strict=True))
    rows = list(itertools.product(thickness, kinds, ("normal", "higher"), heights[:2], ends, (True,), (0.0,)))
    rows += itertools.product(thickness, ("derived",), ("normal", "higher"), heights[:2], ends, (False,), (0.0,))
    strake = (True, False), (0.0, 1.8, 1.81)
    rows += itertools.product((25.1, 28.0, 30.1), ("secondary",), ("higher",), heights, ends[:1], *strake)
    t, category, strength, height, end, plating, width = map(np.array, zip(*rows, strict=True))
    given = {
        **facts(ice_class=ice_class), "plating": plating, "hull_area": np.where(end[:, 0] < 10.0, "B", "Mi"),
        "ice_strengthened": np.array([True]), "fore_end_m": end[:, 0], "aft_end_m": end[:, 1],
        "lowest_above_lower_m": height[:, 0], "highest_above_lower_m": height[:, 1],
        "below_strength_deck_m": np.array([1.405]), "bottom_shell": np.array([False]), "bilge": np.array([False]),
        "declared_category": category, "single_strake_width_m": width, "thickness_as_built_mm": t, "strength": strength,
        "grade_offered": np.array(["A"]), "exposed_part": np.array(["no part of its own"]),
        "stress_concentration": np.array([False]),
    }  # fmt: skip
    try:
        out = POLAR.grading.run(given)
    except InputError as error:  # a changed limit may leave a member without a class
        return [str(error)]
    other = sorted({place[0] for place in tables.MATERIAL_CLASSES.cells})
    beyond = {"material_class": "II", "ice_class": ice_class, "thickness": "over 50", "strength": "higher"}
    found = [out[name].tolist() for name in ("grade_demanded", "material_class", "single_strake_breadth_m")]
    found.append(single_strake_breadth(rule_length_m=np.array([250.0])).tolist())
    found.append(table_8_grade(**{name: np.array([word]) for name, word in beyond.items()}).tolist())
    parts = np.array(sorted(place[0] for place in APPENDAGE_CLASSES.cells))
    found.append(appendage_class(part=parts).tolist())
    found.append([long_strake(length, bilge) for length in (249.0, 251.0) for bilge in (False, True)])
    return [*found, table_7_class(structure=np.array(other)).tolist()]


def long_strake(length_m: float, bilge: bool) -> str:
    """The least grade of a special strake amidships."""
    place = np.array(["amidships"])
    found = long_ship_grade(
        plating=np.array([True]), category=np.array(["special"]), bilge=np.array([bilge]),
        below_strength_deck_m=np.array([5.0]), single_strake_breadth_m=np.array([1.8]), fore_place=place,
        aft_place=place, rule_length_m=np.array([length_m]),
    )  # fmt: skip
    return str(found[0])


RESULTS = {
    "I2.11.3": result_of_internal_addition,
    "I2.1.2 and I2.3": results_of_loads,
    "Table 1": lambda ice_class: [*results_of_loads(ice_class), *results_of_girder(ice_class)],
    "I2.13.2": results_of_girder,
    "I2.13.3": results_of_girder,
    "I2.13.4": results_of_girder,
    "Table 9": results_of_girder,
    "S11.5.2.1": results_of_girder,
    "Table 2": results_of_loads,
    "Table 3": results_of_members,
    "Table 4": results_of_members,
    "Table 5": results_of_members,
    "Table 6": results_of_members,
    "Figure 1": results_of_areas,
    "I2.12": results_of_grades,
    "Table 7": results_of_grades,
    "Table 8": results_of_grades,
    "UR S6 S6.1": results_of_grades,
    "UR S6 Table 1": results_of_grades,
    "S6.1, appendages": results_of_grades,
    "UR S6 Table 4": results_of_grades,
    "UR S6 Table 6": results_of_grades,
    "UR S6 Table 7": results_of_grades,
}


def every_cell() -> Iterator[tuple[RuleTable, Cell]]:
    for table in POLAR.tables:
        for cell in dict.fromkeys(table.cells.values()):
            yield table, cell


@pytest.mark.parametrize(
    ("table", "cell"), list(every_cell()), ids=lambda item: item.where if isinstance(item, Cell) else ""
)
def test_a_changed_cell_changes_a_result_or_is_reported_as_unread(
    table: RuleTable, cell: Cell, monkeypatch: pytest.MonkeyPatch
) -> None:
    ice_class = dict(cell.keys).get("ice_class", "PC4").split("|")[0]
    name = table.name if table.name in RESULTS else table.header["table"]
    unread = cell in unread_cells()
    places = [place for place, other in table.cells.items() if other == cell]
    moved = []
    for value in changed_values(cell.value):
        for place in places:
            monkeypatch.setitem(table.cells, place, replace(cell, value=value))
        moved.append(RESULTS[name](ice_class) != unchanged(name, ice_class))
        if moved[-1]:
            break
    assert any(moved) != unread


def changed_values(value: float | str | None) -> list[float | str]:
    """Other values for a cell: two numbers near it, or the letters or classes that it might be."""
    if value is None:
        return [0.5]
    if isinstance(value, str):
        words = ("A", "B", "D", "E", "F", "none") if value in "ABDEF" or value == "none" else ("I", "II", "III")
        return [word for word in words if word != value]
    return [value * 1.01 + 0.01, value * 0.99 - 0.01]


@cache
def unchanged(name: str, ice_class: str) -> list[Any]:
    """The results with the tables as they are; asked for once before any cell is changed."""
    return RESULTS[name](ice_class)


@pytest.fixture(scope="module", autouse=True)
def _results_before_any_change() -> None:
    for name, ice_class in itertools.product(RESULTS, CLASSES):
        unchanged(name, ice_class)


# What a clause says it reads


STAND_IN = {"flag": True, "label": "any"}  # for what a clause takes besides its table's keys; a number is 1
READERS = [clause for clause in DOCUMENT.clauses.values() if clause.table is not None]


@pytest.mark.parametrize("clause", READERS, ids=lambda clause: clause.name)
def test_a_clause_reads_exactly_the_cells_it_names(clause: Clause[..., Any], monkeypatch: pytest.MonkeyPatch) -> None:
    assert clause.table is not None
    read: set[Cell] = set()
    look_up = RuleTable._look_up

    def recording(self: RuleTable, keys: tuple[Any, ...], dtype: type) -> Any:
        for row in np.broadcast(*keys):
            read.add(self.cell(*(str(word) for word in row)))
        return look_up(self, keys, dtype)

    monkeypatch.setattr(RuleTable, "_look_up", recording)
    by_parameter = [key for key in clause.table.keys if key in clause.parameters]
    options = [sorted({place[clause.table.keys.index(key)] for place in clause.table.cells}) for key in by_parameter]
    tried = 0
    for words in itertools.product(*options):
        keys = dict(zip(by_parameter, words, strict=True))
        try:
            named = clause.cells(keys)
        except ValueError:
            continue
        if any(cell.value is None for cell in named):
            continue
        read.clear()
        given = {p: np.array([keys.get(p, STAND_IN.get(unit.symbol, 1.0))]) for p, unit in clause.parameters.items()}
        clause(**given)
        assert read == set(named)
        tried += 1
    assert tried
