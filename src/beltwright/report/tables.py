"""The tables as CSV: UTF-8, names with their units, no text that a spreadsheet takes for a formula."""

from __future__ import annotations

import csv
import io
from collections.abc import Mapping

import numpy as np

from beltwright.core.columns import Column, ColumnTable
from beltwright.core.units import Unit
from beltwright.report.material import Material

_FORMULA_STARTS = ("=", "+", "-", "@", "\t", "\r", "\n", "\uff1d", "\uff0b", "\uff0d", "\uff20")


def csv_text(table: ColumnTable) -> str:
    """Return a table as CSV text.

    Names carry their unit (``spacing_m``). Numbers have ten significant digits. A cell where the quantity does not
    apply reads ``n/a: reason``.
    """
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\n")
    writer.writerow([safe_text(name) for name in table])
    writer.writerows(zip(*(_cells(table[name]) for name in table), strict=True))
    return out.getvalue()


def _cells(column: Column) -> list[str]:
    """A column's cells as text; raises ValueError for a number that is not finite where it should apply."""
    kind = column.data.dtype.kind
    if kind == "f":
        wrong = np.flatnonzero(column.applies & ~np.isfinite(column.data))
        if len(wrong):
            row = int(wrong[0])
            raise ValueError(f"{column.meaning}: row {row} is {column.data[row]} and gives no reason")
        cells = [f"{value:.10g}" for value in column.data.tolist()]
    elif kind == "b":
        cells = ["yes" if value else "no" for value in column.data.tolist()]
    elif kind in "USO":
        safe = {word: safe_text(str(word)) for word in set(column.data.tolist())}
        cells = [safe[word] for word in column.data.tolist()]
    else:
        cells = [str(value) for value in column.data.tolist()]
    if column.reason is not None:
        reasons = {reason: safe_text(f"n/a: {reason}") for reason in set(column.reason.tolist())}
        for place in np.flatnonzero(~column.applies):
            cells[place] = reasons[column.reason[place].item()]
    return cells


def safe_text(text: str) -> str:
    """Return words that a spreadsheet takes as words: one that could begin a formula gets an apostrophe in front."""
    clean = "".join(character if character.isprintable() else " " for character in text)
    return "'" + clean if clean.lstrip().startswith(_FORMULA_STARTS) or text.startswith(_FORMULA_STARTS) else clean


def findings_table(material: Material) -> ColumnTable:
    """Return the findings as a table."""
    rows = [(f.kind.code, f.kind.severity.value, f.where, f.message, f.kind.advice) for f in material.findings]
    names = (
        ("code", "number"),
        ("severity", "severity"),
        ("where", "where"),
        ("message", "what"),
        ("advice", "what to do"),
    )
    return ColumnTable(
        "findings",
        {
            name: Column(unit=Unit("label"), meaning=meaning, data=np.array([row[k] for row in rows], dtype=np.str_))
            for k, (name, meaning) in enumerate(names)
        },
    )


def all_tables(material: Material) -> Mapping[str, ColumnTable]:
    """Return every table by its name."""
    return {
        "hull_file": material.hull_file,
        "hydrostatics": material.hydrostatics,
        "side_ends": material.side_ends,
        "stations": material.stations,
        "loads": material.loads,
        "borders": material.borders,
        "areas": material.area_table,
        "panels": material.panels,
        "frames": material.frames,
        "weights": material.weights.table,
        "supports": material.supports,
        "direct_calculation": material.load_cases,
        "plated_structures": material.plated,
        "checklist": material.checklist,
        **({} if material.grades is None else {"grades": material.grades}),
        **({} if material.stem is None else {"stem": material.stem.table}),
        **({} if material.ship_checks is None else {"ship_checks": material.ship_checks.table}),
        "findings": findings_table(material),
        **({} if material.weights.icing is None else {"icing": material.weights.icing.table}),
        **_girder_tables(material),
    }


def _girder_tables(material: Material) -> Mapping[str, ColumnTable]:
    """The tables of longitudinal strength; none where the rule set has no such chapter."""
    given = material.girder
    if given is None:
        return {}
    return {"girder": given.stations, "girder_buckling": given.buckling, "girder_bow_fit": given.fits}


def csv_files(material: Material) -> dict[str, str]:
    """Return every table's CSV text by file name."""
    return {f"{name}.csv": csv_text(table) for name, table in all_tables(material).items()}
