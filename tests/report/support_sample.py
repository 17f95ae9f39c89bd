"""Web frames, stringers, load cases, plated structures and checklist of the invented ship, as columns."""

from __future__ import annotations

from typing import Any

import numpy as np
from tests.scantlings.ships import ship

from beltwright.core.columns import Column, ColumnTable
from beltwright.core.findings import Findings
from beltwright.core.units import Unit
from beltwright.rules.polar_iacs_2019.ruleset import RULE_SET
from beltwright.scantlings.checklist import checklist
from beltwright.scantlings.support_groups import grillages, support_groups

GRILLAGE = "F100 to F136, deck one to deck two"


def column(unit: str, meaning: str, data: Any, reason: Any = None) -> Column:
    """A column from plain values."""
    return Column(
        unit=Unit(unit), meaning=meaning, data=np.asarray(data), reason=None if reason is None else np.asarray(reason)
    )


def supports() -> ColumnTable:
    """Two web frame spans, one of them without scantlings, a stringer bay that fails, and one member without ice."""
    words = {
        "id": ["F104/L4", "F108/L4", "F104/middle stringer", "F104/L6"],
        "kind": ["web frame", "web frame", "stringer", "web frame"],
        "hull_area": ["Mi", "Mi", "Mi", ""],
        "load_area": ["Mi", "Mi", "Mi", ""],
        "strength_by": ["direct calculation"] * 3 + [""],
        "outcome": ["open", "open", "not met", "no ice requirement"],
        "stability_governing": ["stiffened web", "", "web slenderness", ""],
    }
    force = [3.89, 3.89, 3.89, np.nan]
    none = ["", "", "", "no ice strengthening is asked for here"]
    bare = ["", "no scantlings given", "", "no scantlings given"]
    sizes = {"web_height_mm": 900.0, "web_as_built_mm": 16.0, "flange_breadth_mm": 200.0, "flange_as_built_mm": 22.0}
    return ColumnTable(
        "web frames and stringers",
        {
            **{name: column("label", name, values) for name, values in words.items()},
            **{name: column("-", name, [0.55, 0.55, 0.55, np.nan], none)
               for name in ("area_factor", "peak_pressure_factor")},
            "pressure_mpa": column("MPa", "pressure", [2.507, 2.507, 2.507, np.nan], none),
            "patch_width_m": column("m", "width", [2.363, 2.363, 2.363, np.nan], none),
            "patch_height_m": column("m", "height", [0.656, 0.656, 0.656, np.nan], none),
            "patch_force_mn": column("MN", "force", force, none),
            **{name: column("mm", name, [value, np.nan, value, np.nan], bare) for name, value in sizes.items()},
            "penetrating_height_mm": column("mm", "h", [200.0, np.nan, 200.0, np.nan], bare),
            "framing_least_mm": column("mm", "least", [240.0, np.nan, 240.0, np.nan], ["", "none", "", "none"]),
            "stability_ratio": column("-", "stability", [0.62, np.nan, 1.31, np.nan], bare),
        },
    )  # fmt: skip


def load_cases(count: int = 60) -> ColumnTable:
    """More load cases of one grillage than the booklet prints."""
    numbers = np.arange(count)
    return ColumnTable(
        "direct calculation",
        {
            "case": column("label", "case", [f"LC{n:04d}" for n in numbers + 1]),
            "grillage": column("label", "grillage", [GRILLAGE] * count),
            "kind": column("label", "kind", ["web frame", "stringer"] * (count // 2)),
            "member": column("label", "member", [f"F{100 + n}/L4" for n in numbers]),
            "position": column("label", "position", ["centred between middle stringer and deck two"] * count),
            "load_area": column("label", "load", ["Mi"] * count),
            **{name: column(unit, name, 40.0 + 0.4 * numbers)
               for name, unit in (("frame", "frame"), ("x_m", "m"), ("z_m", "m"), ("girth_m", "m"))},
            "patch_width_m": column("m", "width", np.full(count, 2.363)),
            "patch_height_m": column("m", "height", np.full(count, 0.656)),
            "pressure_mpa": column("MPa", "pressure", np.full(count, 2.507)),
            "patch_force_mn": column("MN", "force", 3.0 + 0.01 * numbers),
        },
    )  # fmt: skip


def plated() -> ColumnTable:
    """A deck whose extent is known, a bulkhead whose is not, and a deck without ice."""
    none = ["", "nothing known", "no ice"]
    return ColumnTable(
        "plated structures",
        {
            "id": column("label", "id", ["deck one F100 to F136", "hold aft bulkhead", "main deck"]),
            "kind": column("label", "kind", ["deck", "bulkhead", "deck"]),
            "hull_area": column("label", "area", ["Mi", "Mi", ""]),
            "adjacent_web_height_mm": column("mm", "web", [900.0, np.nan, np.nan], none),
            "framing_depth_mm": column("mm", "framing", [286.0, np.nan, np.nan], none),
            "inboard_extent_m": column("m", "extent", [0.715, np.nan, np.nan], none),
            "edge_line_load_mn_per_m": column("MN/m", "load", [1.646, 1.646, np.nan], ["", "", "no ice"]),
        },
    )


def material_parts() -> dict[str, Any]:
    """The parts of the material that tell of them."""
    table, cases = supports(), load_cases()
    return {
        "supports": table,
        "support_loads": support_groups(table, ["Mi"]),
        "support_groups": support_groups(table, ["Mi"], by_scantlings=True),
        "load_cases": cases,
        "grillages": grillages(cases),
        "plated": plated(),
        "checklist": checklist(RULE_SET.checklist, ship(), Findings()),
        "peak_in_grillage": False,
        "open_supports": 2,
        "open_items": 14,
    }
