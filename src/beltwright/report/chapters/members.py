"""What plating and frames share: samples told in full, and the table of groups by their governing member."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from beltwright.core.columns import Column, ColumnTable
from beltwright.core.units import Unit
from beltwright.report.calculation import calculation
from beltwright.report.chapters.told import told_names
from beltwright.report.markup import Shown, bullets, calculation_lines, column_table, grid_table, heading, paragraph
from beltwright.report.material import Material, Sample
from beltwright.report.numbers import told, unit_words
from beltwright.report.selection import governing_rows


def samples(material: Material, kind: str) -> str:
    """Each sample of a kind in full; what hydrostatics, loads and borders told is not told again."""
    known = told_names(material)
    parts = []
    for sample in material.samples:
        if sample.kind != kind:
            continue
        parts.append(heading(2, f"{sample.hull_area}: {sample.id}"))
        parts.append(paragraph(sample.headline))
        parts.append(bullets(sample.place))
        parts.append(calculation_lines(calculation(sample.trace, sample.results, known=known)))
        parts.append(bullets(sample.rounding))
        parts.append(_alternatives(sample))
    return "".join(parts)


def _alternatives(sample: Sample) -> str:
    """What would change a member, as a table."""
    if not sample.alternatives:
        return ""
    headers = (
        ("what would change it", "", "left", "56"),
        ("now", "", "right", "20"),
        ("then", "", "right", "20"),
        ("", "", "left", "12"),
        ("stock plate", "mm", "right", "24"),
    )
    rows = [
        (
            change,
            told(round(before, 3)),
            told(round(after, 3)),
            unit_words(unit),
            "" if offered is None else told(offered),
        )
        for change, before, after, unit, offered in sample.alternatives
    ]
    return grid_table(headers, rows)


def groups(material: Material, table: ColumnTable, shown: Sequence[Shown]) -> str:
    """The table of groups: the member of each that comes closest to its limit, and how many there are.

    A column that the rule set's members do not have is left out.
    """
    chosen = governing_rows(table, areas_in_order=[area.code for area in material.areas])
    if not chosen:
        return paragraph("None.")
    rows = np.array([row for row, _ in chosen])
    counts = Column(unit=Unit("count"), meaning="members in the group", data=np.array([count for _, count in chosen]))
    listed = table.where(rows).with_columns({"members": counts})
    shown = [column for column in shown if column.name in table]
    return column_table(listed, [*shown[:2], Shown(name="members", header="no."), *shown[2:]], size_pt=7.2)
