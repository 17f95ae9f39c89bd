"""Offered scantlings: how a submitted list comes out, what differs, and the member of each row nearest its limit."""

from __future__ import annotations

from collections.abc import Callable, Sequence

import numpy as np

from beltwright.core.columns import ColumnTable
from beltwright.report.markup import Shown, bullets, column_table, grid_table, heading, paragraph
from beltwright.report.material import Material
from beltwright.report.registry import Chapter, Written
from beltwright.scantlings.offered import OfferedCheck
from beltwright.scantlings.offered_tables import tally

LONGEST_TABLE = 300  # rows of a printed table; the CSV files have all
_HEAD = (Shown(name="row", header="row"), Shown(name="mark", header="mark"), Shown(name="id", header="member"),
         Shown(name="hull_area", header="area"))  # fmt: skip
_PLATES = (
    *_HEAD,
    Shown(name="thickness_required_mm", header="required", decimals=2),
    Shown(name="thickness_offered_mm", header="offered", decimals=1),
    Shown(name="thickness_net_required_mm", header="net req.", decimals=2),
    Shown(name="thickness_net_offered_mm", header="net off.", decimals=2),
    Shown(name="grade", header="grade"),
    Shown(name="grade_demanded", header="grade req."),
    Shown(name="ratio", header="ratio"),
    Shown(name="margin_mm", header="margin", decimals=2, width="15"),
    Shown(name="margin_percent", header="margin", decimals=1, width="15"),
    Shown(name="outcome", header="outcome", width="19"),
)
_FRAMES = (
    *_HEAD,
    Shown(name="section", header="section"),
    Shown(name="shear_area_required_cm2", header="shear req."),
    Shown(name="shear_area_offered_cm2", header="offered"),
    Shown(name="modulus_required_cm3", header="mod. req.", decimals=0),
    Shown(name="modulus_offered_cm3", header="offered", decimals=0),
    Shown(name="grade", header="grade"),
    Shown(name="grade_demanded", header="grade req."),
    Shown(name="ratio", header="ratio"),
    Shown(name="governing", header="governs", width="fill"),
    Shown(name="outcome", header="outcome", width="19"),
)


def offered_chapter(check: OfferedCheck) -> Chapter:
    """Return the chapter of one submitted list."""
    return Chapter(id="offered", title="Offered scantlings", write=_writer(check))


def _writer(check: OfferedCheck) -> Callable[[Material], Written]:
    """What writes the chapter; the material is that of the ship's own calculation."""

    def write(_: Material) -> Written:
        return Written(markup="".join(_parts(check)))

    return write


def _parts(check: OfferedCheck) -> Sequence[str]:
    """The chapter piece by piece."""
    counted = sum(one.counts for one in check.discrepancies)
    lines = [
        f"List: {check.name}, {check.rows} rows, SHA-256 begins {check.sha256[:16]}.",
        f"Plates: {_told(check.plates)}.",
        f"Frame spans: {_told(check.frames)}.",
        f"Discrepancies: {counted}" + (f", and {len(check.discrepancies) - counted} notes." if
                                       counted < len(check.discrepancies) else "."),
    ]  # fmt: skip
    parts = [
        heading(1, "Offered scantlings"),
        paragraph(
            "Each plate and each frame span is judged by the row of the submitted list that names it, with the same "
            "calculation as the ship's own design. A frame stands on the submitted plates; where the list gives none "
            "that can be used, on those of the design."
        ),
        bullets(lines),
        heading(2, "Discrepancies"),
        _discrepancies(check),
        heading(2, "Plates"),
        _nearest(check.plates, _PLATES, "offered_plates.csv"),
        heading(2, "Frames"),
        _nearest(check.frames, _FRAMES, "offered_frames.csv"),
    ]
    return parts


def _told(table: ColumnTable) -> str:
    """How many members came out which way."""
    return ", ".join(f"{count} {word}" for word, count in tally(table).items())


def _discrepancies(check: OfferedCheck) -> str:
    """The discrepancies as a table, numbered."""
    if not check.discrepancies:
        return paragraph("None.")
    headers = (("no.", "", "right", "auto"), ("code", "", "left", "auto"), ("row", "", "right", "auto"),
               ("mark", "", "left", "auto"), ("where", "", "left", "34"), ("what", "", "left", "fill"))  # fmt: skip
    shown = check.discrepancies[:LONGEST_TABLE]
    rows = [
        (str(n), one.kind.code, str(one.line) if one.line else "–", one.mark, one.where,
         f"{one.kind.title}: {one.message}")
        for n, one in enumerate(shown, 1)
    ]  # fmt: skip
    return grid_table(headers, rows, size_pt=7.5) + _rest(len(check.discrepancies), len(shown), "discrepancies.csv")


def _nearest(table: ColumnTable, shown: Sequence[Shown], filename: str) -> str:
    """Of each row of the list the member nearest its limit, the nearest first."""
    ratio = np.where(np.isfinite(table["ratio"].data), table["ratio"].data, np.inf)
    row, outcome = np.asarray(table["row"].data), table.labels("outcome")
    judged = np.flatnonzero((row > 0) & np.isin(outcome, ("met", "not met")))
    if not len(judged):
        return paragraph("None is judged.")
    order = judged[np.lexsort((row[judged], -ratio[judged]))]
    _, first = np.unique(row[order], return_index=True)
    rows = order[np.sort(first)]
    printed = rows[:LONGEST_TABLE]
    intro = paragraph(f"Of each row the member nearest its limit, nearest first; every member is in {filename}.")
    there = [column for column in shown if column.name in table]
    return intro + column_table(table, there, printed.tolist(), size_pt=7.0) + _rest(len(rows), len(printed), filename)


def _rest(count: int, printed: int, filename: str) -> str:
    """What is left out of a long table."""
    return paragraph(f"{count - printed} more are in {filename}.") if count > printed else ""
