"""What came out for each hull area, and where an area comes out thinner than the one behind it."""

from __future__ import annotations

from typing import Any

import numpy as np

from beltwright.core.columns import Column, ColumnTable
from beltwright.core.findings import Findings
from beltwright.core.units import Unit
from beltwright.rules.protocol import DesignLoads, TransverseBorder
from beltwright.scantlings import codes
from beltwright.scantlings.design import BorderCurve
from beltwright.scantlings.members import NO_RESULT, MemberRun

_LOAD = ("pressure_avg_mpa", "area_factor", "patch_width_m", "patch_height_m")
NOTICEABLE_MM = 0.5  # a step of the plate stock; less is scatter of the spacing


def with_results(table: ColumnTable, loads: DesignLoads, plating: MemberRun, framing: MemberRun) -> ColumnTable:
    """Return the hull areas with what came out for them.

    ``pressure_avg_mpa`` is that of the area's own load patch; a panel that touches another area too may be governed by
    that one's patch, which ``governing_load_area`` names for the panel that asks for most.
    """
    codes_ = table.labels("code")
    columns = {
        name: _column(unit, meaning, [_of(plating.table, name_in, code, pick) for code in codes_])
        for name, name_in, unit, meaning, pick in (
            ("area_factor", "area_factor", "-", "area factor", np.max),
            ("addition_mm", "addition_mm", "mm", "corrosion and abrasion addition", np.max),
            ("thickness_required_mm", "thickness_required_mm", "mm", "greatest requirement as built", np.max),
            ("thickness_least_mm", "thickness_as_built_mm", "mm", "least thickness as built", np.min),
            ("thickness_most_mm", "thickness_as_built_mm", "mm", "greatest thickness as built", np.max),
            ("net_least_mm", "thickness_net_required_mm", "mm", "least net thickness required", np.min),
            ("net_most_mm", "thickness_net_required_mm", "mm", "greatest net thickness required", np.max),
            ("renewal_least_mm", "renewal_mm", "mm", "least thickness below which plates are renewed", np.min),
            ("renewal_most_mm", "renewal_mm", "mm", "greatest thickness below which plates are renewed", np.max),
            ("plate_ratio", "ratio", "-", "greatest required over offered, plating", np.max),
        )
        if name_in in plating.table
    }
    patch_of = {code: patch.pressure_mpa for patch in loads.patches for code in patch.areas}
    has_panels = np.isin(codes_, plating.table.labels("hull_area"))
    own = [patch_of.get(str(code), np.nan) if has else np.nan for code, has in zip(codes_, has_panels, strict=True)]
    columns["pressure_avg_mpa"] = _column("MPa", "average pressure on the area's own load patch", own)
    columns["frame_ratio"] = _column(
        "-", "greatest required over offered, frames", [_of(framing.table, "ratio", code, np.max) for code in codes_]
    )
    words = {
        "governing_panel": (
            "panel with the greatest requirement",
            [_worst(plating.table, code, "id") for code in codes_],
        ),
        "governing_load_area": (
            "hull area whose load governs that panel",
            [_worst(plating.table, code, "load_area") for code in codes_],
        ),
        "frame_sections": ("sections, most used first", [_sections(framing.table, code) for code in codes_]),
        "frame_governing": ("governing check of the frames", [_governing(framing.table, code) for code in codes_]),
    }
    columns |= {
        name: Column(unit=Unit("label"), meaning=meaning, data=np.array(values, dtype=np.str_))
        for name, (meaning, values) in words.items()
    }
    return table.with_columns(columns)


def _column(unit: str, meaning: str, values: list[float]) -> Column:
    """A column of numbers, NaN where nothing lies in the area."""
    data = np.array(values, dtype=np.float64)
    return Column(
        unit=Unit(unit), meaning=meaning, data=data,
        reason=np.where(np.isnan(data), "no member with a requirement", np.where(np.isfinite(data), "", NO_RESULT)),
    )  # fmt: skip


def _of(table: ColumnTable, name: str, code: str, pick: Any) -> float:
    """The picked value of a column over the members of an area."""
    values = table[name].data[table.labels("hull_area") == code]
    values = values[~np.isnan(values)]
    return float(pick(values)) if len(values) else float("nan")


def _worst(table: ColumnTable, code: str, column: str) -> str:
    """A word of the panel of an area that asks for the thickest plate."""
    rows = np.flatnonzero(table.labels("hull_area") == code)
    if len(rows) == 0:
        return ""
    need = np.nan_to_num(table["thickness_required_mm"].data[rows], nan=np.inf)
    return str(table.labels(column)[rows[int(np.argmax(need))]])


def _sections(table: ColumnTable, code: str) -> str:
    """The sections of an area, most used first."""
    names = table.labels("section")[table.labels("hull_area") == code]
    kinds, count = np.unique(names[names != ""], return_counts=True)
    return ", ".join(str(kind) for kind in kinds[np.argsort(-count, kind="stable")])


def _governing(table: ColumnTable, code: str) -> str:
    """The check that governs the most loaded frame of an area."""
    rows = np.flatnonzero(table.labels("hull_area") == code)
    if len(rows) == 0:
        return ""
    ratio = np.nan_to_num(table["ratio"].data[rows], nan=np.inf)
    return str(table.labels("governing")[rows[int(np.argmax(ratio))]])


def compare_forward(plating: ColumnTable, borders: tuple[BorderCurve, ...], findings: Findings) -> None:
    """Explain a strake that comes out thinner forward of a border than behind it although its factor is not smaller.

    Panels of one framing zone and bay are compared that touch one area only, so that spacing and framing are alike.
    """
    area, touched = plating.labels("hull_area"), plating.labels("touched")
    group, need = plating.labels("group"), plating["thickness_required_mm"].data
    alone = (area == touched) & np.isfinite(need)
    strakes = np.array([name.replace(f" {code} ", " ", 1) for name, code in zip(group, area, strict=True)])
    pairs = dict.fromkeys(
        pair for curve in borders if isinstance(curve.border, TransverseBorder) for pair in curve.sides if all(pair)
    )
    for (aft, forward), strake in ((p, str(k)) for p in pairs for k in np.unique(strakes[alone])):
        front, back = ((np.flatnonzero(alone & (area == code) & (strakes == strake))) for code in (forward, aft))
        if not (len(front) and len(back)):
            continue
        one, other = front[int(np.argmax(need[front]))], back[int(np.argmax(need[back]))]
        factor = plating["area_factor"].data
        if factor[one] >= factor[other] and need[one] + NOTICEABLE_MM <= need[other]:
            findings.add(
                codes.THINNER_FORWARD, f"{strake}, hull areas {forward} and {aft}",
                f"{_patch(plating, one)} forward, {_patch(plating, other)} aft; {_why(plating, one, other)}",
            )  # fmt: skip


def _patch(plating: ColumnTable, panel: int) -> str:
    """A panel's requirement with the load behind it."""
    told = plating.row(panel)
    return (
        f"{told['thickness_required_mm']:.2f} mm from {told['pressure_avg_mpa']:.2f} MPa on "
        f"{told['patch_width_m']:.2f} x {told['patch_height_m']:.2f} m with factor {told['area_factor']:.2f}, "
        f"spacing {told['spacing_m']:.3f} m"
    )


def _why(plating: ColumnTable, one: int, other: int) -> str:
    """Why the plate forward comes out thinner: what the force is spread over, and what stays of pressure times factor.

    A vertical bow takes a larger force on a taller patch; the mean pressure falls, and the plate follows the pressure.
    """
    front, back = plating.row(one), plating.row(other)
    of = {name: float(str(front[name])) / float(str(back[name])) for name in _LOAD}
    load = of["pressure_avg_mpa"] * of["area_factor"]
    size = of["patch_width_m"] * of["patch_height_m"]
    return f"forward the patch has {size:.2f} times the area, pressure times factor is {load:.2f} of that aft"
