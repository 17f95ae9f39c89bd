"""An invented ship through the real rule set: enough tables and traces to print every chapter without a hull file."""

from __future__ import annotations

import importlib.util
from functools import cache
from pathlib import Path
from typing import Any

import numpy as np

from beltwright.core.chain import Trace
from beltwright.core.columns import Column, ColumnTable
from beltwright.core.findings import Finding, FindingCode, Severity
from beltwright.core.units import Unit
from beltwright.report.material import Calculation, Material, Sample, SteelMasses
from beltwright.rules.polar_iacs_2019.ruleset import RULE_SET
from beltwright.rules.protocol import Override


def _load(name: str, path: Path) -> Any:
    """A helper module of another test folder."""
    spec = importlib.util.spec_from_file_location(name, path)
    assert spec is not None
    assert spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


drawing = _load("drawing_sample", Path(__file__).parent.parent / "drawing" / "sample.py")
supports = _load("support_sample", Path(__file__).parent / "support_sample.py")

FACTS = {
    "ice_class": "PC4",
    "icebreaker": False,
    "operates_astern": False,
    "azimuthing_propulsion": True,
    "bulbous_bow": False,
    "effective_protection": True,
    "displacement_upper_kt": 9.6694,
    "waterline_extreme_length_m": 98.0,
    "stem_to_rudder_m": 94.9,
    "stem_to_ap_m": 97.6,
    "alpha_ten_aft_of_stem_m": 27.2,
    "parallel_start_aft_of_stem_m": 32.6,
    "parallel_end_forward_of_ap_m": 23.0,
    "stem_baseline_aft_of_stem_m": 16.3,
    "stem_angle_deg": 25.0,
}
ANGLES = {
    "alpha_deg": (28.0, 23.0, 17.0, 12.0),
    "gamma_deg": (25.0, 29.0, 35.0, 42.0),
    "beta_deg": (48.7, 37.4, 23.6, 13.3),
    "beta_prime_deg": (45.2, 35.2, 22.7, 13.0),
}
OVERRIDES = (
    Override(
        key="overrides.azimuthing_stern_factors", reason="Demonstration only: general stern factors, to be agreed."
    ),
)


def column(unit: str, meaning: str, data: Any, reason: Any = None) -> Column:
    """A column from plain values."""
    return Column(
        unit=Unit(unit), meaning=meaning, data=np.asarray(data), reason=None if reason is None else np.asarray(reason)
    )


def _areas_and_loads() -> tuple[Any, Any, Any]:
    """Hull areas, loads and angle columns of the invented ship."""
    facts = {name: np.array([value]) for name, value in FACTS.items()}
    areas = RULE_SET.areas(facts, OVERRIDES)
    angles = {"aft_of_stem_m": RULE_SET.stations(areas), **{k: np.array(v) for k, v in ANGLES.items()}}
    return areas, RULE_SET.loads(facts, areas, angles, OVERRIDES), angles


def _members(codes: list[str], loads: Any) -> dict[str, Any]:
    """Member columns for a few panels in each area."""
    per = 6
    areas = np.repeat(codes, per)
    n = len(areas)
    spacing = 0.40 + 0.02 * (np.arange(n) % per)
    stringer = np.zeros(n, dtype=bool)
    return {
        **loads.columns,
        "load_area": areas,
        "factor_area": areas,
        "addition_area": areas,
        "spacing_m": spacing,
        "span_m": 1.45 + 0.1 * (np.arange(n) % 3),
        "support_distance_m": 1.45 + 0.1 * (np.arange(n) % 3),
        "stringer_to_support_m": 1.45 + 0.1 * (np.arange(n) % 3),
        "omega_deg": np.full(n, 88.0),
        "yield_mpa": np.full(n, 355.0),
        "load_distributing_stringer": stringer,
        "plate_yield_mpa": np.full(n, 355.0),
        "web_frame_spacing_m": np.full(n, 1.6),
        "one_end_simply_supported": stringer,
        "end_brackets": stringer,
        "web_angle_deg": np.full(n, 82.0),
        "plate_net_fitted_mm": np.full(n, 22.0),
        "web_height_mm": np.full(n, 300.0),
        "web_net_mm": np.full(n, 15.0),
        "stiffener_height_mm": np.full(n, 318.0),
        "flange_breadth_mm": np.full(n, 100.0),
        "flange_net_mm": np.full(n, 18.0),
        "flange_area_cm2": np.full(n, 18.0),
        "flange_centre_height_mm": np.full(n, 309.0),
        "flange_offset_mm": np.zeros(n),
        "flange_outstand_mm": np.full(n, 42.5),
        "section_kind": np.full(n, "tee"),
        "both_in_full": np.zeros(n, dtype=bool),
    }


def _inputs(chain: Any, member: dict[str, Any]) -> dict[str, Any]:
    """The columns that a chain asks for."""
    return {name: np.asarray(member[name]) for name in chain.inputs}


def _centroid() -> tuple[tuple[str, str, float], ...]:
    """The same centre for every member."""
    return (("centroid_x_m", "m", 60.0), ("centroid_y_m", "m", 8.0), ("centroid_z_m", "m", 5.0))


def panel_table(codes: list[str], loads: Any) -> tuple[ColumnTable, dict[str, Any]]:
    """Panels by the real chain; the last one has no ice requirement."""
    member = _members(codes, loads)
    out = RULE_SET.plating.chain.run(_inputs(RULE_SET.plating.chain, member))
    required = out["thickness_required_mm"]
    built = np.ceil(2.0 * required) / 2.0
    built[7] = required[7] - 1.0
    n = len(required)
    ratio = required / built
    words = {
        "id": [f"P{k:03d}" for k in range(n)],
        "zone": ["side"] * n,
        "hull_area": member["load_area"],
        "touched": member["load_area"],
        "load_area": member["load_area"],
        "outcome": np.where(ratio <= 1.0, "met", "not met"),
        "source": np.where(np.arange(n) % 2, "given", "proposed"),
        "grade": ["EH36"] * n,
        "group": [f"{a} {t:g} EH36" for a, t in zip(member["load_area"], built, strict=True)],
        "governing": ["thickness"] * n,
    }
    numbers = {
        "yield_mpa": ("MPa", member["yield_mpa"]),
        "spacing_m": ("m", member["spacing_m"]),
        "span_m": ("m", member["span_m"]),
        "omega_deg": ("deg", member["omega_deg"]),
        "pressure_avg_mpa": ("MPa", out["pressure_mpa"]),
        "peak_pressure_factor": ("-", out["plating_peak_transverse"]),
        "area_factor": ("-", out["area_factor"]),
        "patch_width_m": ("m", np.full(n, 2.0)),
        "patch_height_m": ("m", out["patch_height_m"]),
        "thickness_net_required_mm": ("mm", out["thickness_net_mm"]),
        "addition_mm": ("mm", out["addition_mm"]),
        "thickness_required_mm": ("mm", required),
        "thickness_as_built_mm": ("mm", built),
        "thickness_net_fitted_mm": ("mm", built - out["addition_mm"]),
        "renewal_mm": ("mm", out["renewal_mm"]),
        "ratio": ("-", ratio),
        "margin_mm": ("mm", built - required),
        "mass_kg": ("kg", 2.0 * 0.62 * built * 7.85),
    }
    columns = {
        name: column("label", name.replace("_", " "), np.array([*data, "X" if name == "id" else ""]))
        for name, data in words.items()
    }
    reason = np.array([""] * n + ["no ice requirement"])
    columns |= {
        name: column(unit, name.replace("_", " "), np.array([*data, np.nan]), reason)
        for name, (unit, data) in numbers.items()
    }
    columns["outcome"] = column("label", "outcome", np.array([*words["outcome"], "no ice requirement"]))
    columns |= {
        name: column(unit, name, np.full(n + 1, value))
        for name, unit, value in (
            ("spacing_axis_m", "m", 0.4), ("support_distance_m", "m", 1.45), ("area_m2", "m2", 0.62),
            ("net_area_m2", "m2", 1.24), *_centroid(),
        )
    }  # fmt: skip
    return ColumnTable("panels", columns), member


def frame_table(member: dict[str, Any]) -> ColumnTable:
    """Frames by the real chain."""
    out = RULE_SET.framing.chain.run(_inputs(RULE_SET.framing.chain, member))
    n = len(member["load_area"])
    ratio = np.maximum(
        out["shear_area_required_cm2"] / out["shear_area_net_cm2"],
        out["plastic_modulus_required_cm3"] / out["plastic_modulus_net_cm3"],
    )
    words = {
        "id": [f"F{k:03d}" for k in range(n)],
        "zone": ["side"] * n,
        "hull_area": member["load_area"],
        "touched": member["load_area"],
        "load_area": member["load_area"],
        "outcome": np.where(ratio <= 1.0, "met", "not met"),
        "source": ["proposed"] * n,
        "group": [f"{a} T300x16+100x19" for a in member["load_area"]],
        "section": ["T300x16+100x19"] * n,
        "grade": ["EH36"] * n,
        "governing": ["plastic modulus"] * n,
    }
    numbers = {
        "yield_mpa": ("MPa", member["yield_mpa"]),
        "shear_area_required_cm2": ("cm2", out["shear_area_required_cm2"]),
        "shear_area_offered_cm2": ("cm2", out["shear_area_net_cm2"]),
        "modulus_required_cm3": ("cm3", out["plastic_modulus_required_cm3"]),
        "modulus_offered_cm3": ("cm3", out["plastic_modulus_net_cm3"]),
        "ratio": ("-", ratio),
        "web_as_built_mm": ("mm", member["web_net_mm"] + 1.0),
        "web_net_mm": ("mm", member["web_net_mm"]),
        "web_renewal_mm": ("mm", out["web_renewal_mm"]),
        "flange_as_built_mm": ("mm", member["flange_net_mm"] + 1.0),
        "flange_net_mm": ("mm", member["flange_net_mm"]),
        "flange_renewal_mm": ("mm", out["flange_renewal_mm"]),
        "mass_kg_per_m": ("kg/m", np.full(n, 52.6)),
        "spacing_m": ("m", member["spacing_m"]),
        "span_m": ("m", member["span_m"]),
        "omega_deg": ("deg", member["omega_deg"]),
        "web_angle_deg": ("deg", member["web_angle_deg"]),
        "length_m": ("m", np.full(n, 1.5)),
        "mass_kg": ("kg", np.full(n, 2.0 * 1.5 * 52.6)),
        **{name: (unit, np.full(n, value)) for name, unit, value in _centroid()},
    }
    columns = {name: column("label", name, np.array(data)) for name, data in words.items()}
    columns |= {name: column(unit, name, data) for name, (unit, data) in numbers.items()}
    return ColumnTable("frames", columns)


def _samples(codes: list[str], member: dict[str, Any], whole: Trace) -> tuple[Sample, ...]:
    """One panel and one frame per area."""
    found = []
    for kind, rule, mark in (("plate", RULE_SET.plating, "P"), ("frame", RULE_SET.framing, "F")):
        for k, code in enumerate(codes):
            if code not in ("B", "BIi", "Mi", "Si"):
                continue
            trace = rule.chain.trace(_inputs(rule.chain, member), 6 * k, {"spacing_m": "arrangement, along the shell"})
            result = rule.result
            value = trace[result].value
            found.append(
                Sample(
                    kind=kind,
                    id=f"{mark}{6 * k:03d}",
                    hull_area=code,
                    headline=f"Required {value:.1f} {trace[result].unit.symbol}.",
                    trace=trace,
                    results=(result,),
                )
            )
    return tuple(found)


def load_table(loads: Any) -> ColumnTable:
    """The stations side by side."""
    names = (
        ("shape_factor_{}", "-"),
        ("force_{}_mn", "MN"),
        ("line_load_{}_mn_per_m", "MN/m"),
        ("pressure_{}_mpa", "MPa"),
    )
    whole = loads.traces["design"]
    columns = {"station": column("label", "station", [f"station {k}" for k in range(1, 5)])}
    for name, unit in names:
        columns[name.replace("_{}", "")] = column(unit, name, [whole[name.format(k)].value for k in range(1, 5)])
    return ColumnTable("loads", columns)


CAUTION = FindingCode(code="BW699", severity=Severity.CAUTION, title="an example", advice="Look at the drawing.")


@cache
def material() -> Material:
    """The whole material."""
    areas, loads, angles = _areas_and_loads()
    codes = [area.code for area in areas.areas if area.strengthened]
    panels, member = panel_table(codes, loads)
    pic = drawing.picture()
    k = len(areas.areas)
    traces = loads.traces
    cells = tuple(cell for node in traces["design"].values() for cell in node.cells)
    return Material(
        picture=pic,
        inputs={"ship": {"name": "Quillan Frostmark"}, "ice": {"ice_class": "PC4"}},
        documents=RULE_SET.documents,
        outcome="not met",
        checked=("plating", "local frames"),
        result_hash="c0ffee" * 10 + "0123",
        hull_file=ColumnTable(
            "hull file",
            {
                "what": column("label", "what", ["file", "length unit"]),
                "outcome": column("label", "outcome", ["hull.step, STEP", "m"]),
                "ground": column("label", "ground", ["SHA-256 0123", "stated in the file"]),
                "setting": column("label", "setting", ["hull.file", "hull.length_unit"]),
            },
        ),
        side_ends=ColumnTable(
            "side ends",
            {
                "tolerance_mm": column("mm", "tolerance", [0.1, 1.0]),
                "fore_x_m": column("m", "fore", [61.5, 62.2]),
                "aft_x_m": column("m", "aft", [27.8, 26.5]),
            },
        ),
        hydrostatics=ColumnTable(
            "hydrostatics",
            {
                "waterline": column("label", "waterline", ["upper ice waterline", "lower ice waterline"]),
                "volume_m3": column("m3", "moulded volume", [9384.1, 7431.8]),
                "displacement_kt": column("kt", "displacement", [9.6694, 7.6676]),
                "lcb_m": column("m", "centre of buoyancy", [49.12, 49.61]),
                "vcb_m": column("m", "centre of buoyancy", [4.21, 3.52]),
                "waterplane_m2": column("m2", "waterplane", [1652.0, 1580.4]),
            },
        ),
        stations=ColumnTable(
            "stations",
            {
                "station": column("label", "station", [s.name for s in pic.stations]),
                "aft_of_stem_m": column("m", "aft of stem", angles["aft_of_stem_m"]),
                "x_m": column("m", "x", 97.6 - angles["aft_of_stem_m"]),
                "y_m": column("m", "y", [1.9, 5.1, 7.8, 9.4]),
                "z_m": column("m", "z", [7.6] * 4),
                **{name: column("deg", name, angles[name]) for name in ANGLES},
            },
        ),
        length_and_displacement=Calculation(
            title="rule length and displacement",
            trace=traces["ship"],
            wanted=("rule_length_m", "displacement_bow_kt", "displacement_other_kt"),
        ),
        border_calculation=Calculation(title="borders", trace=areas.trace),
        load_calculations=tuple(Calculation(title=title, trace=trace) for title, trace in traces.items()),
        loads=load_table(loads),
        patches=loads.patches,
        patches_are=loads.patches_are,
        decisions=loads.choices,
        areas=areas.areas,
        borders=ColumnTable(
            "borders",
            {
                "border": column("label", "border", [b.name for b in areas.borders]),
                "sides": column("label", "areas on either side", ["BI | B"] * len(areas.borders)),
                "aft_of_stem_m": column("m", "aft of stem", [30.0] * len(areas.borders)),
                "x_m": column("m", "x", [67.6] * len(areas.borders)),
                "frame": column("label", "frame", ["Fr 169.0"] * len(areas.borders)),
                "height": column("label", "height", [""] * len(areas.borders)),
                "ref": column("label", "clause", [b.ref for b in areas.borders]),
                **{
                    name: column("m", name, [7.62] * len(areas.borders))
                    for name in ("z_at_stem_m", "z_at_bow_aft_m", "z_amidships_m", "z_at_ap_m")
                },
            },
        ),
        area_table=ColumnTable(
            "areas",
            {
                "code": column("label", "area", [a.code for a in areas.areas]),
                "title": column("label", "title", [a.title for a in areas.areas]),
                "strengthened": column("flag", "strengthened", [a.strengthened for a in areas.areas]),
                "area_m2": column("m2", "area", np.linspace(120.0, 480.0, k)),
                "share": column("-", "share", np.linspace(0.05, 0.15, k)),
                "area_factor": column("-", "AF", np.linspace(1.0, 0.3, k)),
                "addition_mm": column("mm", "addition", np.full(k, 2.0)),
                "pressure_avg_mpa": column("MPa", "pressure", np.full(k, 4.56)),
                "thickness_least_mm": column("mm", "least", np.full(k, 14.5)),
                "thickness_most_mm": column("mm", "most", np.full(k, 25.5)),
                "net_least_mm": column("mm", "net least", np.full(k, 12.1)),
                "net_most_mm": column("mm", "net most", np.full(k, 22.9)),
                "renewal_least_mm": column("mm", "renewal least", np.full(k, 12.6)),
                "renewal_most_mm": column("mm", "renewal most", np.full(k, 23.4)),
                "governing_panel": column("label", "governing panel", ["P000"] * k),
                "governing_load_area": column("label", "governing load", ["B"] * k),
                "frame_sections": column("label", "sections", ["T300x16+100x19"] * k),
                "frame_governing": column("label", "governing frame", ["F000"] * k),
            },
        ),
        panels=panels,
        frames=frame_table(member),
        samples=_samples(codes, member, traces["design"]),
        **supports.material_parts(),
        weights=SteelMasses(
            table=ColumnTable(
                "weights",
                {
                    "hull_area": column("label", "area", ["B", "B", "Mi", "Mi"]),
                    "kind": column("label", "kind", ["plating", "frames"] * 2),
                    "mass_t": column("t", "mass", [96.1, 41.0, 88.2, 30.9]),
                    "area_m2": column("m2", "weighed", [612.4, np.nan, 561.8, np.nan], ["", "none", "", "none"]),
                    "length_m": column("m", "weighed", [np.nan, 780.1, np.nan, 587.5], ["none", "", "none", ""]),
                    "lcg_m": column("m", "lcg", [82.1, 82.4, 48.8, 48.9]),
                    "tcg_m": column("m", "tcg", [0.0] * 4),
                    "vcg_m": column("m", "vcg", [5.2, 5.3, 7.0, 7.1]),
                },
            ),
            allowances=(("weld metal, 1.2 %", 3.1), ("mill tolerance, 0.7 %", 1.8)),
            total_t=261.1,
            centre_m=(66.0, 0.0, 6.1),
            not_weighed_m2=431.7,
            remarks=("Mass by 7,850 kg/m³.",),
        ),
        findings=(Finding(kind=CAUTION, where="hull", message="an example with <b>markup</b> and #code"),),
        overrides=OVERRIDES,
        unconfirmed_cells=RULE_SET.unconfirmed(cells),
        unconfirmed_clauses=tuple(c for d in RULE_SET.documents for c in d.clauses.values() if not c.status.confirmed),
    )
