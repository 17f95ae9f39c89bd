"""Submitted lists for the tests: what a drawing of a design would say, row by row, and changes made to it."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterable

import numpy as np

from beltwright.scantlings.areas import heights_at
from beltwright.scantlings.design import Design
from beltwright.scantlings.submitted import COLUMNS

Row = dict[str, str]
HEADER = [column.name for column in COLUMNS]


def text_of(rows: Iterable[Row]) -> str:
    """Rows as CSV."""
    out = io.StringIO()
    writer = csv.DictWriter(out, HEADER, lineterminator="\n", restval="")
    writer.writeheader()
    writer.writerows(rows)
    return out.getvalue()


def member_rows(design: Design, *, stated: bool = True) -> list[Row]:
    """A row per panel and frame span of which the rule asks something, with everything a drawing may state."""
    rows = []
    document = design.rules.documents[-1]
    for kind, table, run, measured in (
        ("plate", design.plating, design.plating_run, design.arrangement.panels),
        ("frame", design.frames, design.framing_run, design.arrangement.frames),
    ):
        x = measured.values("centroid_x_m")
        upper, lower = heights_at(design.measures, x)
        spacing = measured["spacing_m" if kind == "plate" else "spacing_greatest_m"].data
        for m in run.members.tolist():
            row = {"kind": kind, "mark": f"{kind[0].upper()}{m}", "member": str(table.labels("id")[m])}
            row["grade"] = str(table.labels("grade")[m])
            if kind == "plate":
                row["thickness_mm"] = f"{table['thickness_as_built_mm'].data[m]:g}"
            else:
                row["section"] = str(table.labels("section")[m])
            if stated:
                row |= {
                    "stated_hull_area": str(table.labels("hull_area")[m]),
                    "stated_spacing_m": f"{spacing[m]:.3f}",
                    "stated_span_m": f"{measured['span_m'].data[m]:.3f}",
                    "stated_class": design.ship.ice.ice_class,
                    "stated_edition": f"{document.short} {document.edition.split(',')[0]}",
                    "stated_upper_m": f"{upper[m]:.2f}",
                    "stated_lower_m": f"{lower[m]:.2f}",
                }
                if kind == "plate":
                    row["stated_required_mm"] = f"{table['thickness_required_mm'].data[m]:.2f}"
                    net = table["thickness_as_built_mm"].data[m] - table["addition_mm"].data[m]
                    row["stated_net_mm"] = f"{net:.2f}"
                else:
                    row["stated_shear_area_cm2"] = f"{table['shear_area_offered_cm2'].data[m]:.1f}"
                    row["stated_modulus_cm3"] = f"{table['modulus_offered_cm3'].data[m]:.0f}"
            rows.append(row)
    return rows


def group_rows(design: Design) -> list[Row]:
    """A row per group of plates and of frames with one thickness or section, by zone, hull area and levels."""
    rows: list[Row] = []
    for kind, table, run, measured in (
        ("plate", design.plating, design.plating_run, design.arrangement.panels),
        ("frame", design.frames, design.framing_run, design.arrangement.frames),
    ):
        groups = table.labels("group")
        for group in sorted(set(groups[run.members].tolist())):
            members = run.members[groups[run.members] == group]
            m = int(members[0])
            scantling = (
                {"thickness_mm": f"{table['thickness_as_built_mm'].data[m]:g}"}
                if kind == "plate"
                else {"section": str(table.labels("section")[m])}
            )
            across = measured.labels("orientation")[m] == "transverse"
            levels = {"from_level": measured.labels("lower_level")[m], "to_level": measured.labels("upper_level")[m]}
            rows.append(
                {
                    "kind": kind,
                    "mark": f"{kind[0].upper()}{len(rows) + 1:03d}",
                    "hull_area": str(table.labels("hull_area")[m]),
                    "zone": str(table.labels("zone")[m]),
                    **({name: str(level) for name, level in levels.items()} if across else {}),
                    **scantling,
                    "grade": str(table.labels("grade")[m]),
                    "stated_hull_area": str(table.labels("hull_area")[m]),
                    "stated_spacing_m": f"{np.nanmax(_spacing(kind, measured)[members]):.3f}",
                    "stated_class": design.ship.ice.ice_class,
                }
            )
    return rows


def _spacing(kind: str, measured: object) -> np.ndarray:
    """The spacing of members of a kind."""
    column = measured["spacing_m" if kind == "plate" else "spacing_greatest_m"]  # type: ignore[index]
    data: np.ndarray = column.data
    return data
