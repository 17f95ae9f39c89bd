"""What is coded of the two documents, clause by clause, with the gaps shown."""

from __future__ import annotations

import csv
import re
from dataclasses import dataclass
from importlib.resources import files
from typing import Final

from beltwright.core.errors import InputError
from beltwright.core.ruletable import Cell
from beltwright.rules.polar_iacs_2019 import girder, grades, loads, members, supports  # noqa: F401 - all clauses
from beltwright.rules.polar_iacs_2019.documents import DOCUMENT, DOCUMENT_I1
from beltwright.rules.polar_iacs_2019.tables import TABLES

STATUSES: Final = (
    "handled without a function of its own",
    "checklist item",
    "not a formula",
    "out of scope",
)
_ROMAN: Final = {"i": 1, "ii": 2, "iii": 3, "iv": 4, "v": 5, "vi": 6, "vii": 7, "viii": 8, "ix": 9}


@dataclass(frozen=True, slots=True, kw_only=True)
class CoverageRow:
    """One clause: document, number, our title, how far it is coded, the functions that carry its number, a remark."""

    document: str
    clause: str
    title: str
    status: str
    functions: tuple[str, ...]
    remark: str


def coverage_rows() -> tuple[CoverageRow, ...]:
    """Return every clause of UR I1 and UR I2 in the documents' order: the coded ones and those of ``not_coded.csv``.

    A clause in both lists, or an unknown status, is an InputError: the list and the code may not drift apart.
    """
    text = files(__package__).joinpath("not_coded.csv").read_text(encoding="utf-8")
    lines = [line for line in text.splitlines() if not line.startswith("#")]
    return join(_coded(), list(csv.DictReader(lines)))


def unread_cells() -> tuple[Cell, ...]:
    """Return the cells of the printed tables that no clause reads: they wait for clauses that are not coded yet."""
    reads = [
        (table, fixed)
        for clause in DOCUMENT.clauses.values()
        if clause.table is not None
        for table in getattr(clause.table, "tables", {"": clause.table}).values()
        for fixed in clause.reads
    ]
    return tuple(
        dict.fromkeys(
            cell
            for table in TABLES
            for place, cell in table.cells.items()
            if not any(
                read is table and all(dict(zip(table.keys, place, strict=True))[k] == word for k, word in fixed.items())
                for read, fixed in reads
            )
        )
    )


def join(coded: list[CoverageRow], listed: list[dict[str, str]]) -> tuple[CoverageRow, ...]:
    """Return the coded clauses and the listed ones as one, in the documents' order."""
    numbers = {row.clause for row in coded}
    rows = list(coded)
    for row in listed:
        where = f"not_coded.csv: {row['ref']}"
        if row["status"] not in STATUSES:
            raise InputError(where, "unknown status", value=row["status"], allowed=", ".join(STATUSES))
        if row["ref"] in numbers:
            raise InputError(where, "the clause is coded, or listed twice")
        numbers.add(row["ref"])
        rows.append(
            CoverageRow(
                document=row["document"],
                clause=row["ref"],
                title=row["what"],
                status=row["status"],
                functions=(),
                remark=row["remark"],
            )
        )
    return tuple(sorted(rows, key=lambda row: _place(row.clause)))


def _coded() -> list[CoverageRow]:
    """The coded clauses, one row per number."""
    rows: dict[str, CoverageRow] = {}
    for document in (DOCUMENT_I1, DOCUMENT):
        for clause in document.clauses.values():
            known = rows.get(clause.ref)
            rows[clause.ref] = CoverageRow(
                document=document.id,
                clause=clause.ref,
                title=known.title if known else clause.title,
                status="coded",
                functions=(*(known.functions if known else ()), clause.name),
                remark="; ".join(filter(None, (known.remark if known else "", clause.note))),
            )
    return list(rows.values())


def _place(clause: str) -> tuple[tuple[int, str], ...]:
    """A key that sorts clause numbers as the document does: 2 before 11, (iv) before (ix), figures last."""
    parts = re.findall(r"\d+|\(\w+\)|[A-Z][a-z]+", clause)
    return tuple((int(p), "") if p.isdigit() else (_ROMAN.get(p.strip("()"), 99), p) for p in parts)
