"""Where the work ends: members outside a formula, hulls without a bow, meshes, areas that come out thinner forward."""

from __future__ import annotations

import re
from dataclasses import replace

import numpy as np
import pytest
from tests.hull.closed_form import box
from tests.scantlings import ships
from tests.scantlings.demo import NAMES, project

from beltwright.core.columns import Column, ColumnTable
from beltwright.core.errors import InputError
from beltwright.core.findings import Findings, Severity
from beltwright.hull.patch import TrianglePatch
from beltwright.rules.registry import rule_set
from beltwright.scantlings.build import design_on
from beltwright.scantlings.design import Design
from beltwright.scantlings.explain import explain_panel
from beltwright.scantlings.measure import measure_hull, shell_of
from beltwright.scantlings.ship_facts import ship_facts


def with_column(table: ColumnTable, name: str, rows: list[int], value: float) -> ColumnTable:
    """A table with some numbers changed."""
    data = table[name].data.copy()
    data[rows] = value
    columns = {key: table[key] for key in table}
    return ColumnTable(table.name, {**columns, name: replace(table[name], data=data)})


def on(**tables: ColumnTable) -> Design:
    """The design on a changed arrangement."""
    given = ships.ship()
    arrangement = replace(ships.arranged(), **tables)  # type: ignore[arg-type]
    return design_on(given, rule_set(given.ice.rules), ships.measured(), arrangement, Findings())


def test_a_panel_outside_the_formula_is_not_met_and_says_why() -> None:
    """kind: hand. A span of 0.12 m at a spacing of 0.5 m leaves no patch height: 0.12 < 0.5 / 4."""
    base = ships.baseline()
    panel = int(np.flatnonzero(base.plating.labels("hull_area") == "Mi")[3])
    design = on(panels=with_column(base.arrangement.panels, "span_m", [panel], 0.12))
    assert design.plating.labels("outcome")[panel] == "not met"
    assert not design.all_met
    told = [f for f in design.findings if f.kind.code == "BW442"]
    name = str(design.plating.labels("id")[panel])
    assert [f.where for f in told] == ["plating"]
    assert told[0].message.startswith(f"{name}: the span is not more than a quarter of the spacing")
    assert "NOT met" in explain_panel(design, name).headline
    # its strake gets the plate that the other panels need, and they are met
    others = (design.plating.labels("group") == design.plating.labels("group")[panel]) & (
        np.arange(design.plating.rows) != panel
    )
    assert set(design.plating.labels("outcome")[others]) == {"met"}
    assert (
        design.plating["thickness_as_built_mm"].data[others]
        == base.plating["thickness_as_built_mm"].data[others]
    ).all()  # fmt: skip


@pytest.mark.parametrize(
    ("table", "column", "value", "told"),
    [
        ("frames", "spacing_greatest_m", float("nan"), "local frames: {}: spacing_m: outside its range; found nan m"),
        ("frames", "span_m", -1.0, "local frames: {}: span_m: outside its range; found -1 m; allowed: 0.001 to 1000"),
        ("panels", "spacing_m", float("nan"), "shell plating: {}: spacing_m: outside its range; found nan m"),
        ("panels", "span_m", 1450.0, "shell plating: {}: span_m: outside its range; found 1450 m; allowed: 0.001"),
    ],
)
def test_a_number_that_is_missing_or_absurd_names_the_member(table: str, column: str, value: float, told: str) -> None:
    """A member of which nothing is asked may lack it: nothing is calculated for it."""
    base = ships.baseline()
    run, member_table = (
        (base.framing_run, base.frames) if table == "frames" else (base.plating_run, base.plating)
    )  # fmt: skip
    member = int(run.members[40])
    measured = getattr(base.arrangement, table)
    with pytest.raises(InputError) as error:
        on(**{table: with_column(measured, column, [member], value)})
    assert told.format(member_table.labels("id")[member]) in str(error.value)
    spare = int(np.setdiff1d(np.arange(measured.rows), run.members)[0])
    assert on(**{table: with_column(measured, column, [spare], value)}).all_met


def test_a_frame_on_a_plate_thinner_than_its_addition_fails_with_a_reason() -> None:
    """kind: hand. A plate of 3 mm without protection in the bow: the addition is more, so no net plate is left. That is
    a scantling that does not meet its requirement, not bad input: numbers are missing with a reason, never NaN."""
    design = ships.redesigned(
        lambda doc: doc.update(effective_protection=False, plates=[{"hull_area": "B", "thickness_as_built_mm": 3.0}])
    )
    thin = design.plating.labels("hull_area") == "B"
    assert (design.plating["addition_mm"].data[thin] > 3.0).all()
    told = [f for f in design.findings if f.kind.code == "BW470"]
    assert len(told) == 1
    failed = design.frames.labels("outcome") == "not met"
    assert failed.any()
    assert f"{int(failed.sum())} spans, first " in told[0].message
    for column in ("ratio", "modulus_offered_cm3"):
        assert not design.frames[column].applies[failed].any()


def test_a_hull_without_a_bow_is_refused() -> None:
    """The waterline of a box turns from 90 to 0 degrees at its corner: a bow of no length."""
    given = ships.ship(
        lambda doc: doc.update(
            waterlines={"upper": [{"x_m": 0.0, "draught_m": 4.0}], "lower": [{"x_m": 0.0, "draught_m": 3.0}]}
        )
    )
    measures = measure_hull(given, (), ships.placed(tuple(box().patches)), Findings())
    facts, _ = ship_facts(given, measures, Findings(), rule_set(given.ice.rules).facts)
    with pytest.raises(InputError, match="waterline angle is 10 degrees; found 0 m"):
        rule_set(given.ice.rules).areas(facts, ())


def triangles(step: int = 1) -> TrianglePatch:
    """The small ship's shell as a mesh with its corners on the surface."""
    mesh = ships.measured().shell.tessellation()
    return TrianglePatch(vertices=mesh.vertices.points, triangles=mesh.triangles[::step], name="mesh")


def test_splines_and_meshes_in_one_file_are_refused() -> None:
    with pytest.raises(InputError, match="mixes spline faces and meshes"):
        shell_of(ships.placed((*ships.patches(), triangles())))


@pytest.mark.slow
def test_a_mesh_gives_nearly_the_same_design() -> None:
    """kind: second-method. The shell's own triangles as the hull: forces, areas and thicknesses within a few tenths."""
    base, mesh = ships.baseline(), ships.designed(faces=(triangles(),))
    assert mesh.measures.shell.kind == "mesh"
    for one, other in zip(mesh.loads.patches, base.loads.patches, strict=True):
        assert one.force_mn == pytest.approx(other.force_mn, rel=5e-3)
        assert one.pressure_mpa == pytest.approx(other.pressure_mpa, rel=2e-3)
    assert mesh.measures.upper.displacement_kt == pytest.approx(base.measures.upper.displacement_kt, rel=1e-3)
    for code in ("B", "BIi", "Mi", "Ml", "Si"):
        rows = base.area_table.labels("code") == code
        for column, near in (("thickness_required_mm", 5e-3), ("area_m2", 1e-2)):
            assert mesh.area_table[column].data[rows] == pytest.approx(base.area_table[column].data[rows], rel=near)


def wide_aft(doc: ships.Document) -> None:
    """Frames a metre apart aft of x = 10 m, half a metre forward of it."""
    doc["frames"] = [
        {"from_frame": -2, "to_frame": 10, "spacing_m": 1.0},
        {"from_frame": 10, "to_frame": 95, "spacing_m": 0.5},
    ]
    doc["zones"][0] |= {"from_frame": -2, "to_frame": 95}
    doc["zones"][1] |= {"from_frame": 7, "to_frame": 72}


def test_thinner_forward_is_explained_not_blocked() -> None:
    """Wider frames aft ask for more than the midbody with its smaller factor asks: the factor explains it, no note; in
    the stern itself nothing changes."""
    design = ships.designed(wide_aft)
    need = dict(
        zip(design.area_table.labels("code").tolist(), design.area_table["thickness_required_mm"].data, strict=True)
    )
    assert need["Si"] > need["Mi"]
    told = [f for f in design.findings if f.kind.code == "BW444"]
    assert not any("Mi and Si" in f.where for f in told)  # 0.55 forward is less than 0.60 aft


@pytest.mark.slow
@pytest.mark.parametrize("name", NAMES)
def test_what_comes_out_thinner_forward_is_told_with_both_patches(name: str) -> None:
    """Where the note is given, it is true and no more than a note."""
    told = [f for f in project(name).results.design.findings if f.kind.code == "BW444"]
    for finding in told:
        front, back = finding.message.split(" forward, ")
        need, factor = (
            [float(re.findall(p, t)[0]) for t in (front, back)] for p in (r"^([\d.]+) mm", r"factor ([\d.]+)")
        )
        assert need[0] < need[1]
        assert factor[0] >= factor[1]
        assert finding.kind.severity is Severity.NOTE


def test_columns_keep_their_reasons() -> None:
    """The helper of this file changes numbers only."""
    table = ships.arranged().panels
    changed = with_column(table, "span_m", [0], 1.25)
    assert isinstance(changed["span_m"], Column)
    assert changed["span_m"].unit == table["span_m"].unit
    assert changed["spacing_m"] is table["spacing_m"]
