"""All rule checks of a ship of 4,000 panels and frames, and plating in bulk, beside a loop over single panels.

The plain way takes each panel by itself: once through the same chains on one row at a time, and once with ordinary
floats, by the second calculation that the tests keep.
"""

from __future__ import annotations

import sys
from importlib import import_module
from pathlib import Path
from typing import Any

import numpy as np
from numpy.typing import NDArray

from _harness import function_seconds, show
from beltwright.core.outcome import utilisation
from beltwright.rules.protocol import MemberRule
from beltwright.rules.registry import rule_set

sys.path.insert(0, str(Path(__file__).resolve().parent.parent / "tests" / "second_way"))
second: Any = import_module("loads_and_plating")

PANELS, BULK, SAMPLE = 4_000, 1_000_000, 200
Table = dict[str, NDArray[Any]]
LOAD: Table = {
    "ice_class": np.array(["PC4"]),
    "icebreaker": np.array([False]),
    "effective_protection": np.array([True]),
    "both_in_full": np.array([False]),
    "bow_patch_height_m": np.array([0.826]),
    "bow_patch_width_m": np.array([2.372]),
    "bow_pressure_mpa": np.array([5.37]),
    "other_patch_height_m": np.array([0.714]),
    "other_patch_width_m": np.array([2.570]),
    "other_pressure_mpa": np.array([4.779]),
}


def members(count: int) -> tuple[Table, Table]:
    """Make random panels and frames, with the load columns."""
    rng = np.random.default_rng(1)
    area = rng.choice(["B", "BIi", "BIl", "BIb", "Mi", "Ml", "Si", "Sl", "Sb"], count)
    common: Table = {
        "load_area": area,
        "factor_area": area,
        "spacing_m": rng.uniform(0.3, 0.8, count),
        "span_m": rng.uniform(1.0, 4.0, count),
        "omega_deg": rng.uniform(0.0, 90.0, count),
        "yield_mpa": np.full(count, 355.0),
        "load_distributing_stringer": rng.random(count) < 0.5,
    }
    length = rng.uniform(1.0, 4.0, count)
    panels = {"addition_area": area, "support_distance_m": length, "stringer_to_support_m": length}
    web = rng.uniform(200.0, 450.0, count)
    frames = {
        "plate_yield_mpa": np.full(count, 355.0),
        "web_frame_spacing_m": rng.uniform(1.2, 3.2, count),
        "one_end_simply_supported": np.zeros(count, dtype=bool),
        "end_brackets": rng.random(count) < 0.5,
        "web_angle_deg": rng.uniform(50.0, 90.0, count),
        "plate_net_fitted_mm": rng.uniform(12.0, 30.0, count),
        "web_height_mm": web,
        "web_net_mm": rng.uniform(10.0, 20.0, count),
        "stiffener_height_mm": web + 19.0,
        "flange_breadth_mm": np.full(count, 150.0),
        "flange_net_mm": np.full(count, 19.0),
        "flange_area_cm2": np.full(count, 28.5),
        "flange_centre_height_mm": web + 9.5,
        "flange_offset_mm": np.zeros(count),
        "flange_outstand_mm": np.full(count, 66.0),
        "section_kind": np.full(count, "tee"),
    }
    return {**LOAD, **common, **panels}, {**LOAD, **common, **frames}


def row(columns: Table, number: int) -> Table:
    """One row of the columns; ship columns serve every row."""
    return {name: values if len(values) == 1 else values[number : number + 1] for name, values in columns.items()}


def ratios(rule: MemberRule, columns: Table, offered: Table) -> NDArray[np.float64]:
    """Required over offered of every check of every member (n, checks)."""
    out = {**rule.run(columns), **offered}
    return np.stack([utilisation(out[check.required], out[check.offered]) for check in rule.checks], axis=1)


def plain_thickness(columns: Table, number: int) -> float:
    """The required thickness of one panel with ordinary floats."""
    given = {name: values[0].item() for name, values in row(columns, number).items()}
    key = "bow" if given["load_area"] == "B" else "other"
    load = {"height": given[f"{key}_patch_height_m"], "pressure": given[f"{key}_pressure_mpa"]}
    net = second.plate(
        load,
        second.area_factor("PC4", given["factor_area"]),
        s=given["spacing_m"],
        a=given["span_m"],
        length=given["support_distance_m"],
        omega=given["omega_deg"],
        sy=given["yield_mpa"],
        bottom=given["load_area"] in ("BIb", "Mb", "Sb"),
    )
    return float(net + second.addition("PC4", given["addition_area"], protected=True))


def main() -> None:
    """Check that the ways agree, then print one line per budget."""
    rules = rule_set("polar_iacs_2019")
    panels, frames = members(PANELS)
    fitted = {"thickness_as_built_mm": np.full(PANELS, 25.0)}
    whole = rules.plating.run(panels)["thickness_required_mm"]
    for n in range(SAMPLE):
        assert rules.plating.run(row(panels, n))["thickness_required_mm"][0] == whole[n]
        assert abs(plain_thickness(panels, n) - whole[n]) < 1e-9

    def all_checks() -> None:
        ratios(rules.plating, panels, fitted)
        ratios(rules.framing, frames, {})

    def one_by_one() -> None:
        for n in range(SAMPLE):
            ratios(rules.plating, row(panels, n), row(fitted, n))
            ratios(rules.framing, row(frames, n), {})

    def in_floats() -> None:
        for n in range(SAMPLE):
            plain_thickness(panels, n)

    loop = function_seconds(one_by_one, runs=3) * PANELS / SAMPLE
    show(
        f"all checks of {PANELS:,} panels and frames",
        function_seconds(all_checks),
        plain_s=loop,
        plain="the same chains one member at a time",
        budget_s=0.3,
        count=2 * PANELS,
    )
    bulk, _ = members(BULK)
    floats = function_seconds(in_floats, runs=3) * BULK / SAMPLE
    show(
        f"plating chain, {BULK:,} panels",
        function_seconds(lambda: rules.plating.chain.run(bulk), runs=3),
        plain_s=floats,
        plain="ordinary floats, panel by panel",
        budget_s=1.0,
        count=BULK,
    )


if __name__ == "__main__":
    main()
