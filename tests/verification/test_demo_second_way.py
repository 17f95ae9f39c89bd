"""The demo ships recomputed by scripts that import nothing of the program and read their own copy of the tables.

From the program they take only what was measured: the ship's facts, the angles at the four stations, and the geometry
of every panel and frame span. Areas, loads, thicknesses, shear areas and moduli are worked out again, one member at a
time in plain Python, and must agree to 1e-9. kind: second-method.
"""

from __future__ import annotations

import math
import re
from functools import cache
from typing import Any

import numpy as np
import pytest
from tests.scantlings.demo import NAMES, project
from tests.second_way import hull_areas, loads_and_plating

from beltwright.scantlings.design import Design

TOLERANCE = 1e-9
EH36_YIELD_MPA = 355.0
pytestmark = [pytest.mark.slow, pytest.mark.parametrize("name", NAMES)]


def design_of(name: str) -> Design:
    return project(name).results.design


def close(found: float, wanted: float) -> bool:
    return math.isclose(found, wanted, rel_tol=TOLERANCE, abs_tol=0.0)


@cache
def ship_of(name: str) -> dict[str, Any]:
    """The ship as the script wants it, from the facts and the station angles."""
    design = design_of(name)
    facts = {key: value[0].item() for key, value in design.facts.items()}
    stations = design.stations
    return {
        "ship": {
            "ice_class": facts["ice_class"],
            "icebreaker": facts["icebreaker"],
            "protected": facts["effective_protection"],
            "d": facts["displacement_upper_kt"],
            "stem_to_rudder": facts["stem_to_rudder_m"],
            "extreme": facts["waterline_extreme_length_m"],
            "vertical": name == "merrow-tarn-upright",  # beta' within 10 degrees at every station, stem at 86 degrees
        },
        "bow": [
            {"x": float(x), "alpha": float(alpha), "beta_prime": float(beta)}
            for x, alpha, beta in zip(
                stations.aft_of_stem_m, stations.angles.alpha_deg, stations.angles.beta_prime_deg, strict=True
            )
        ],
    }


@cache
def loads_of(name: str) -> dict[str, Any]:
    case = ship_of(name)
    return loads_and_plating.loads(case["ship"], case["bow"])  # type: ignore[no-any-return]


@cache
def borders_of(name: str) -> dict[str, float]:
    facts = design_of(name).facts
    return hull_areas.borders(  # type: ignore[no-any-return]
        ship_of(name)["ship"]["ice_class"],
        length=loads_of(name)["length"],
        stem_to_ap=float(facts["stem_to_ap_m"][0]),
        ten_degrees=float(facts["alpha_ten_aft_of_stem_m"][0]),
        parallel_start=float(facts["parallel_start_aft_of_stem_m"][0]),
        parallel_end=float(facts["parallel_end_forward_of_ap_m"][0]),
        stem_at_baseline=float(facts["stem_baseline_aft_of_stem_m"][0]),
    )


def point_area(name: str, point: np.ndarray, normal: np.ndarray, aft: float = 0.0) -> str | None:
    """The area of one point of the shell."""
    design = design_of(name)
    given = design.ship.waterlines
    x, z = float(point[0]), float(point[2])
    return hull_areas.area(  # type: ignore[no-any-return]
        borders_of(name),
        aft=float(design.facts["stem_to_ap_m"][0]) - x + aft,
        z=z,
        upper=hull_areas.line([(p.x_m, p.draught_m) for p in given.upper], x),
        lower=hull_areas.line([(p.x_m, p.draught_m) for p in given.lower], x),
        nz=float(normal[2]),
    )


def areas_of(name: str, points: np.ndarray, normals: np.ndarray, afts: tuple[float, ...]) -> tuple[str, ...]:
    """The areas that one member touches, in the document's order; its samples drawn a micrometre to their mean."""
    mean = points.mean(axis=0)
    found = {
        point_area(name, point + 1e-6 * (mean - point), normal, aft)
        for aft in afts
        for point, normal in zip(points, normals, strict=True)
    }
    return tuple(code for code in hull_areas.FACTOR_ORDER if code in found)


@cache
def touched(name: str, kind: str) -> tuple[tuple[str, ...], ...]:
    """The strengthened areas that each panel or frame span touches."""
    arrangement = design_of(name).arrangement
    shapes = arrangement.panel_shapes if kind == "panels" else arrangement.frame_shapes
    afts = (0.0,) if kind == "panels" else (-1e-6, 1e-6)
    case = ship_of(name)["ship"]
    rows = []
    for points, normals in zip(shapes.samples, shapes.sample_normals, strict=True):
        codes = areas_of(name, points, normals, afts)
        rows.append(tuple(c for c in codes if factor_word(case, c) != "none"))
    return tuple(rows)


@cache
def table(name: str) -> dict[str, dict[str, str]]:
    return loads_and_plating.table(name)  # type: ignore[no-any-return]


def factor_word(case: dict[str, Any], code: str) -> str:
    return table("areas_icebreaker.csv" if case["icebreaker"] else "areas.csv")[code][case["ice_class"]]


def factor(case: dict[str, Any], codes: tuple[str, ...]) -> float:
    return max(float(factor_word(case, code)) for code in codes)


@cache
def addition_of(ice_class: str, code: str, protected: bool) -> float:
    return loads_and_plating.addition(ice_class, code, protected=protected)  # type: ignore[no-any-return]


def addition(case: dict[str, Any], codes: tuple[str, ...]) -> float:
    return max(addition_of(case["ice_class"], code, case["protected"]) for code in codes)


def omegas(column: Any, row: int) -> tuple[float, ...]:
    """The framing angle of a member, or both extremes where the shell is flat and has none."""
    return (float(column.data[row]),) if bool(column.applies[row]) else (0.0, 90.0)


def thickness(name: str, panel: int) -> float | None:
    """The required as-built thickness of one panel, None where nothing is asked."""
    codes = touched(name, "panels")[panel]
    if not codes:
        return None
    case, both, panels = ship_of(name)["ship"], loads_of(name), design_of(name).arrangement.panels
    s, a, length = (float(panels[key].data[panel]) for key in ("spacing_m", "span_m", "support_distance_m"))
    if bool(panels["load_distributing_stringer"].data[panel]):
        length = min(length, float(panels["stringer_to_support_m"].data[panel]))
    net = max(
        loads_and_plating.plate(
            loads_and_plating.acting(case["ice_class"], code, both), factor(case, codes),
            s=s, a=a, length=length, omega=omega, sy=EH36_YIELD_MPA, bottom=code in ("BIb", "Mb", "Sb"),
        )
        for code in codes
        for omega in omegas(panels["omega_deg"], panel)
    )  # fmt: skip
    return float(net + addition(case, codes))


def test_loads(name: str) -> None:
    design, both = design_of(name), loads_of(name)
    trace = design.loads.traces["design"]
    assert close(float(trace["rule_length_m"].value), both["length"])
    for patch, key in zip(design.loads.patches, ("bow", "other"), strict=True):
        assert close(patch.force_mn, both[key]["force"])
        assert close(patch.width_m, both[key]["width"])
        assert close(patch.height_m, both[key]["height"])
        assert close(patch.pressure_mpa, both[key]["pressure"])


def test_borders(name: str) -> None:
    trace, at = design_of(name).areas.trace, borders_of(name)
    for key, ours in (("bow", "bow_aft_m"), ("middle", "intermediate_aft_m"), ("stern", "stern_forward_m")):
        assert close(float(trace[ours].value), at[key])


@pytest.mark.parametrize("kind", ["panels", "frames"])
def test_hull_area_of_every_member(name: str, kind: str) -> None:
    design = design_of(name)
    run = design.plating_run if kind == "panels" else design.framing_run
    local = (
        np.ones(run.table.rows, bool) if kind == "panels" else design.arrangement.frames.labels("role") != "web frame"
    )
    found = [set() for _ in range(run.table.rows)]  # type: list[set[str]]
    for member, code in zip(run.rows.member, run.rows.load_area, strict=True):
        found[member].add(str(code))
    different = [
        (str(run.table.labels("id")[row]), sorted(found[row]), wanted)
        for row, wanted in enumerate(touched(name, kind))
        if local[row] and found[row] != set(wanted)
    ]
    assert not different
    assert sum(bool(codes) for codes in found) > 800  # of about 1,500 to 2,000 on one side


def test_every_required_thickness(name: str) -> None:
    design = design_of(name)
    ours = design.plating["thickness_required_mm"]
    different, asked = [], 0
    for panel in range(design.plating.rows):
        wanted = thickness(name, panel)
        asked += wanted is not None
        if (wanted is not None) != bool(ours.applies[panel]) or (
            wanted is not None and not close(float(ours.data[panel]), wanted)
        ):
            different.append((str(design.plating.labels("id")[panel]), float(ours.data[panel]), wanted))
    assert not different, f"{len(different)} of {design.plating.rows}: {different[:5]}"
    assert asked > 800


def test_every_proposed_plate(name: str) -> None:
    """One plate per zone, area and bay: the least half millimetre that meets the greatest requirement of the group."""
    design = design_of(name)
    panels, plating = design.arrangement.panels, design.plating
    groups: dict[tuple[str, ...], list[int]] = {}
    case = ship_of(name)["ship"]
    for panel, codes in enumerate(touched(name, "panels")):
        if codes:
            across = panels.labels("orientation")[panel] == "transverse"
            bay = str(panels.labels("lower_level")[panel]) if across else "all"
            area = next(code for code in codes if float(factor_word(case, code)) == factor(case, codes))
            groups.setdefault((str(panels.labels("zone")[panel]), area, bay), []).append(panel)
    for members in groups.values():
        need = max(thickness(name, panel) or 0.0 for panel in members)
        wanted = math.ceil(round(need, 6) / 0.5) * 0.5
        assert {float(plating["thickness_as_built_mm"].data[panel]) for panel in members} == {wanted}
    assert set(plating.labels("source")) == {"proposed", "none"}
    assert len(groups) > 20


TEE = re.compile(r"T(\d+)x([\d.]+)\+(\d+)x([\d.]+)")
LESS_MM = 1.0  # corrosion deduction of frames


def test_net_tees(name: str) -> None:
    """Every tee that is used, net: a millimetre off web and flange; heights and breadth stay."""
    run = design_of(name).framing_run
    seen = set()
    for row, member in enumerate(run.rows.member):
        found = TEE.fullmatch(str(run.table.labels("section")[member]))
        if found is None or found.group(0) in seen:
            continue
        seen.add(found.group(0))
        height, web, breadth, flange = (float(word) for word in found.groups())
        told = {key: float(run.values[key][row]) for key in NET_COLUMNS}
        net_flange = flange - LESS_MM
        assert told["web_height_mm"] == height
        assert told["web_net_mm"] == web - LESS_MM
        assert told["flange_breadth_mm"] == breadth
        assert told["flange_net_mm"] == net_flange
        assert told["stiffener_height_mm"] == height + net_flange
        assert close(told["flange_area_cm2"], breadth * net_flange / 100.0)
        assert told["flange_centre_height_mm"] == height + net_flange / 2.0
        assert told["flange_offset_mm"] == 0.0
    assert len(seen) > 3


NET_COLUMNS = ("web_height_mm", "web_net_mm", "stiffener_height_mm", "flange_breadth_mm", "flange_net_mm",
               "flange_area_cm2", "flange_centre_height_mm", "flange_offset_mm")  # fmt: skip


def attached_plate(name: str, frame: int) -> float:
    """Net thickness of the thinner plate beside a frame, as built less its own addition."""
    design, case = design_of(name), ship_of(name)["ship"]
    beside = []
    for key in ("panel_one", "panel_other"):
        panel = int(design.arrangement.frames[key].data[frame])
        if panel >= 0 and bool(design.plating["thickness_as_built_mm"].applies[panel]):
            codes = touched(name, "panels")[panel]
            less = addition(case, codes) if codes else 0.0
            beside.append(float(design.plating["thickness_as_built_mm"].data[panel]) - less)
    return min(beside)


def test_every_shear_area_and_modulus(name: str) -> None:
    """Each row on which the frames were run: requirement and offer, transverse, longitudinal and between."""
    design = design_of(name)
    run, spans = design.framing_run, design.arrangement.frames
    case, both = ship_of(name)["ship"], loads_of(name)
    used = {name: np.broadcast_to(run.values[name], len(run.rows.member)) for name in run.values}
    different, count = [], 0
    for row, member in enumerate(run.rows.member.tolist()):
        codes = touched(name, "frames")[member]
        code = str(run.rows.load_area[row])
        built = {key: float(used[key][row]) for key in NET_COLUMNS}
        s, a = float(spans["spacing_greatest_m"].data[member]), float(spans["span_m"].data[member])
        tp = attached_plate(name, member)
        aw, zp = loads_and_plating.section(
            hw=built["web_height_mm"], tw=built["web_net_mm"], h=built["stiffener_height_mm"],
            phi=float(spans["web_angle_deg"].data[member]), tp=tp, s=s, flange_area=built["flange_area_cm2"],
            flange_height=built["flange_centre_height_mm"], flange_offset=built["flange_offset_mm"],
        )  # fmt: skip
        need_aw, need_zp = loads_and_plating.frame(
            loads_and_plating.acting(case["ice_class"], code, both), factor(case, codes), aw, zp,
            s=s, a=a, omega=float(used["omega_deg"][row]), sy=EH36_YIELD_MPA, tp=tp,
            flange_area=built["flange_area_cm2"], bf=built["flange_breadth_mm"], tf=built["flange_net_mm"],
            web_spacing=float(spans["web_frame_spacing_m"].data[member]),
            brackets=bool(spans["end_brackets"].data[member]),
            stringers=bool(spans["load_distributing_stringer"].data[member]), bottom=code in ("BIb", "Mb", "Sb"),
        )  # fmt: skip
        assert float(used["omega_deg"][row]) in omegas(spans["omega_deg"], member)
        count += 1
        for key, wanted in (
            ("shear_area_net_cm2", aw),
            ("plastic_modulus_net_cm3", zp),
            ("shear_area_required_cm2", need_aw),
            ("plastic_modulus_required_cm3", need_zp),
        ):
            if not close(float(used[key][row]), wanted):
                different.append((str(spans.labels("id")[member]), code, key, float(used[key][row]), wanted))
    assert not different, f"{len(different)} of {count} rows: {different[:5]}"
    assert count > 800
