"""What stands in every output about a voyage: that it supports a decision, on which documents, with which values."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from typing import Any, Final

import numpy as np

from beltwright import __version__
from beltwright.core.cautions import CAUTIONS
from beltwright.core.clause import Document
from beltwright.core.columns import Column, ColumnTable
from beltwright.core.findings import Finding
from beltwright.core.ruletable import Cell
from beltwright.core.units import Unit
from beltwright.report.tables import csv_text

STANDING: Final = "decision support only, no go/no-go tool"
WORDS: Final = (
    "Decision support only: this is no go/no-go tool. The master and the ice information of the day decide, within "
    "the ship's certificates."
)


def marked_csv(table: ColumnTable) -> bytes:
    """Return a table as CSV with a column ``standing``, so that no row goes about without its mark."""
    mark = Column(unit=Unit("label"), meaning="what the row is", data=np.full(table.rows, STANDING))
    return csv_text(table.with_columns({"standing": mark})).encode("utf-8")


def words_column(values: Iterable[str]) -> Column:
    """Return a column of words for a table on the terminal."""
    return Column(unit=Unit("label"), meaning="shown", data=np.array(list(values), dtype=np.str_))


def finding_lines(findings: Sequence[Finding]) -> Iterator[str]:
    """Yield each finding in one line with what to do about it."""
    for one in findings:
        yield f"{one}. {one.kind.advice}"


def unconfirmed_line(cells: Sequence[Cell]) -> str:
    """Return how many values that were read are not confirmed from the printed page, and in which tables."""
    if not cells:
        return "Every printed value that was read is confirmed."
    tables = ", ".join(dict.fromkeys(cell.table for cell in cells))
    return f"{len(cells)} values that were read are not confirmed from the printed page: {tables}."


def provenance(documents: Sequence[Document], cells: Sequence[Cell], inputs_sha256: str) -> dict[str, Any]:
    """Return documents, unconfirmed cells, input and program of a study as plain values."""
    return {
        "documents": [{"id": d.id, "short": d.short, "title": d.title, "edition": d.edition} for d in documents],
        "unconfirmed_cells": [
            {"table": c.table, "keys": dict(c.keys), "value": c.value, "status": c.status.value, "note": c.note}
            for c in cells
        ],
        "input_hash": inputs_sha256,
        "program_version": __version__,
        "cautions": [f"{head}. {words}" for head, words in CAUTIONS],
    }


def finding_values(findings: Sequence[Finding]) -> list[dict[str, str]]:
    """Return findings as plain values."""
    return [
        {"code": f.kind.code, "severity": f.kind.severity.value, "where": f.where, "message": f.message,
         "advice": f.kind.advice}
        for f in findings
    ]  # fmt: skip
