"""Hull areas on the real shell: borders where they should be, members that cross them, areas that add up."""

from __future__ import annotations

import math

import numpy as np
import pytest
from tests.scantlings import ships
from tests.second_way import hull_areas

from beltwright.hull.shell import Tessellation
from beltwright.rules.polar_iacs_2019.hull_areas import CODES
from beltwright.rules.protocol import HeightBorder, InclinationBorder, TransverseBorder
from beltwright.scantlings.areas import (
    BOTH_SIDES,
    classify,
    inclination_deg,
    shell_area_by_code,
    touched,
    touched_by_lines,
    triangle_areas,
)
from beltwright.scantlings.design import BorderCurve

# kind: hand. PC4: UR I2 Table 4 as the second way has it; only those that the small ship touches.
FACTOR = {"B": 1.00, "BIi": 0.80, "BIl": 0.60, "BIb": 0.40, "Mi": 0.55, "Ml": 0.35, "Si": 0.60, "Sl": 0.30}


def borders() -> dict[str, float]:
    """The borders of the small ship by the second way."""
    facts = {name: float(value[0]) for name, value in ships.baseline().facts.items() if name.endswith("_m")}
    length = min(max(facts["stem_to_rudder_m"], 0.96 * facts["waterline_extreme_length_m"]),
                 0.97 * facts["waterline_extreme_length_m"])  # fmt: skip
    return hull_areas.borders(  # type: ignore[no-any-return]
        "PC4", length=length, stem_to_ap=facts["stem_to_ap_m"], ten_degrees=facts["alpha_ten_aft_of_stem_m"],
        parallel_start=facts["parallel_start_aft_of_stem_m"], parallel_end=facts["parallel_end_forward_of_ap_m"],
        stem_at_baseline=facts["stem_baseline_aft_of_stem_m"],
    )  # fmt: skip


def code_of(point: np.ndarray, normal: np.ndarray) -> str:
    """The area of a point by the second way, "" above the belt."""
    x, z = float(point[0]), float(point[2])
    code = hull_areas.area(
        borders(), aft=ships.measured().stem_x_m - x, z=z, upper=3.8,
        lower=hull_areas.line([(0.0, 3.4), (47.5, 3.2)], x), nz=float(normal[2]),
    )  # fmt: skip
    return code or ""


def mesh() -> tuple[Tessellation, np.ndarray, np.ndarray]:
    """The shell's triangles with corners and normals."""
    shell = ships.measured().shell
    tessellation = shell.tessellation()
    normals = shell.normals(tessellation.vertices.face, tessellation.vertices.uv)
    return tessellation, tessellation.vertices.points[tessellation.triangles], normals[tessellation.triangles]


def test_every_vertex_of_the_shell_a_second_way() -> None:
    tessellation, _, _ = mesh()
    points = tessellation.vertices.points
    normals = ships.measured().shell.normals(tessellation.vertices.face, tessellation.vertices.uv)
    found = classify(ships.baseline().areas, ships.measured(), points, normals)
    wanted = np.array([code_of(p, n) for p, n in zip(points, normals, strict=True)])
    assert (found == wanted).all()
    assert set(np.unique(found)) >= {"", "B", "BIi", "BIl", "BIb", "Mi", "Ml", "Mb", "Si", "Sl"}


def test_areas_add_up_to_the_shell() -> None:
    """All hull areas and what lies above the belt make the whole shell, both sides."""
    _, corners, corner_normals = mesh()
    sizes = shell_area_by_code(ships.baseline().areas, ships.measured())
    whole = BOTH_SIDES * float(triangle_areas(corners).sum())
    middle, middle_normals = corners.mean(axis=1), corner_normals.mean(axis=1)
    codes = np.array([code_of(p, n) for p, n in zip(middle, middle_normals, strict=True)])
    by_middle = {code: BOTH_SIDES * float(triangle_areas(corners[codes == code]).sum()) for code in (*CODES, "")}
    assert sum(sizes.values()) + by_middle[""] == pytest.approx(whole, rel=2e-3)
    for code, size in sizes.items():  # triangles counted whole where their middle lies: a rougher second way
        assert size == pytest.approx(by_middle[code], rel=0.02, abs=1.5), code
    table = ships.baseline().area_table
    assert table.labels("code").tolist() == list(CODES)
    assert table.values("area_m2").tolist() == [sizes[code] for code in CODES]
    assert float(table.values("share").sum()) == pytest.approx(1.0, abs=1e-12)


def curves(kind: type) -> list[BorderCurve]:
    return [curve for curve in ships.baseline().borders if isinstance(curve.border, kind)]


def test_transverse_borders_stand_where_they_should() -> None:
    at, stem = borders(), ships.measured().stem_x_m
    found = {round(float(np.mean(stem - curve.points[:, 0])), 6) for curve in curves(TransverseBorder)}
    assert found == {round(at[key], 6) for key in ("bow", "middle", "stern")}
    for curve in curves(TransverseBorder):
        assert np.ptp(curve.points[:, 0]) < 1e-6


def test_belt_edges_follow_the_waterlines() -> None:
    at, stem = borders(), ships.measured().stem_x_m
    seen = set()
    for curve in curves(HeightBorder):
        assert isinstance(curve.border, HeightBorder)
        x, z = curve.points[:, 0], curve.points[:, 2]
        if curve.border.waterline == "upper":
            forward = np.clip((stem - x) / at["bow"], 0.0, 1.0)
            wanted = 3.8 + 2.0 - 0.5 * forward
        else:
            wanted = 3.4 - 0.2 * x / 47.5 - 1.5  # inclined with the trim of the lower ice waterline
        assert z == pytest.approx(wanted, abs=2e-5)
        seen.add(curve.border.waterline)
    assert seen == {"lower", "upper"}


def test_bottom_begins_at_seven_degrees() -> None:
    found = curves(InclinationBorder)
    assert found
    shell = ships.measured().shell
    for curve in found:
        crossings = shell.crossings(curve.points[:, 0], curve.points[:, 2])
        assert len(np.unique(crossings.query)) > 0.9 * len(curve.points)
        near = np.abs(crossings.at.points[:, 1] - curve.points[crossings.query, 1]) < 1e-4
        angles = inclination_deg(shell.normals(crossings.at.face[near], crossings.at.uv[near]))
        assert angles == pytest.approx(np.full(int(near.sum()), 7.0), abs=0.05)


def test_borders_part_different_areas_only() -> None:
    """A border is kept only where the areas on its two sides differ: none of the bow's inside the bow."""
    at, stem = borders(), ships.measured().stem_x_m
    for curve in [*curves(HeightBorder), *curves(InclinationBorder)]:
        if not (isinstance(curve.border, HeightBorder) and curve.border.waterline == "upper"):
            assert (stem - curve.points[:, 0] > at["bow"] - 1e-5).all()


def test_members_crossed_by_a_border_take_the_larger_factor() -> None:
    for run in (ships.baseline().plating_run, ships.baseline().framing_run):
        crossed = 0
        for member in run.members.tolist():
            codes = [c for c in str(run.table.labels("touched")[member]).split("+") if c in FACTOR]
            best = max(FACTOR[code] for code in codes)
            assert FACTOR[str(run.table.labels("hull_area")[member])] == best
            assert run.table["area_factor"].data[member] == best
            crossed += len(codes) > 1
        assert crossed > 10


def test_the_panel_across_the_bows_border() -> None:
    """kind: hand. The bow ends 13.60 m aft of the stem at x 33.90 m, between frames 67 (33.5 m) and 68 (34.0 m)."""
    panels = ships.baseline().arrangement.panels
    aft = ships.measured().stem_x_m - borders()["bow"]
    assert 33.5 < aft < 34.0
    side = panels.labels("orientation") == "transverse"
    across = np.flatnonzero(side & (panels.values("frame_aft") == 67.0) & (panels.values("frame_fore") == 68.0))
    assert len(across) >= 3
    for panel in across:
        assert str(ships.baseline().plating.labels("touched")[panel]).startswith("B+")
        assert ships.baseline().plating.labels("hull_area")[panel] == "B"
    beside = np.flatnonzero(side & (panels.values("frame_fore") == 67.0))
    assert not any("B" in str(ships.baseline().plating.labels("touched")[p]).split("+") for p in beside)


def square(x_aft: float, x_fore: float, z: float, steep: bool = True) -> tuple[np.ndarray, np.ndarray]:
    """Nine samples of a flat plate and their normals: corners, middles of the edges, centre."""
    x, height = np.meshgrid([x_aft, 0.5 * (x_aft + x_fore), x_fore], [z - 0.1, z, z + 0.1])
    points = np.stack([x.ravel(), np.full(9, 5.0), height.ravel()], axis=1)[None]
    normal = [0.0, 1.0, 0.0] if steep else [0.0, 0.0, -1.0]
    return points, np.broadcast_to(normal, (1, 9, 3)).copy()


def areas_touched(points: np.ndarray, normals: np.ndarray, lines: bool = False) -> set[str]:
    ask = touched_by_lines if lines else touched
    hit = ask(ships.baseline().areas, ships.measured(), points, normals)
    return {code for code, yes in zip(CODES, hit[0], strict=True) if yes}


def test_a_plate_that_only_meets_a_border_lies_on_one_side() -> None:
    aft = ships.measured().stem_x_m - borders()["bow"]
    assert areas_touched(*square(aft, aft + 0.5, 3.5)) == {"B"}
    assert areas_touched(*square(aft - 0.5, aft, 3.5)) == {"BIi"}
    assert areas_touched(*square(aft - 0.01, aft + 0.5, 3.5)) == {"B", "BIi"}


def test_a_frame_on_a_border_belongs_to_both_sides() -> None:
    aft = ships.measured().stem_x_m - borders()["bow"]
    on, beside = np.full(9, aft), np.full(9, aft - 0.01)
    for x, wanted in ((on, {"B", "BIi"}), (beside, {"BIi"})):
        points = np.stack([x, np.full(9, 5.0), np.linspace(3.0, 3.6, 9)], axis=1)[None]
        normals = np.broadcast_to([0.0, 1.0, 0.0], (1, 9, 3)).copy()
        assert areas_touched(points, normals, lines=True) == wanted


def test_a_plate_across_the_belts_lower_edge() -> None:
    """kind: hand. At x 20 m the lower ice waterline lies at 3.4 - 0.2 * 20 / 47.5 = 3.3158 m, the edge at 1.8158 m."""
    assert areas_touched(*square(19.9, 20.1, 1.8158)) == {"Mi", "Ml"}
    assert areas_touched(*square(19.9, 20.1, 1.95)) == {"Mi"}
    assert areas_touched(*square(19.9, 20.1, 1.65)) == {"Ml"}
    assert areas_touched(*square(19.9, 20.1, 1.65, steep=False)) == {"Mb"}
    assert areas_touched(*square(19.9, 20.1, 5.41)) == set()  # above 3.8 + 1.5


def test_inclination() -> None:
    """kind: hand. A normal straight down is flat bottom, one to the side a vertical wall."""
    normals = np.array(
        [[0.0, 0.0, -1.0], [0.0, 1.0, 0.0], [0.0, math.sin(math.radians(7)), -math.cos(math.radians(7))]]
    )
    assert inclination_deg(normals) == pytest.approx([0.0, 90.0, 7.0])
