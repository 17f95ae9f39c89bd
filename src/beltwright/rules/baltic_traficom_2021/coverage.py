"""What is coded of the regulation, clause by clause, with the gaps shown."""

from __future__ import annotations

import csv
import re
from dataclasses import dataclass
from importlib.resources import files
from typing import Final

from beltwright.core.errors import InputError
from beltwright.core.ruletable import Cell
from beltwright.rules.baltic_traficom_2021 import c4_1_direct_analysis, ruleset  # noqa: F401 - they register every clause
from beltwright.rules.baltic_traficom_2021.documents import DOCUMENT
from beltwright.rules.baltic_traficom_2021.tables import TABLES

STATUSES: Final = ("handled without a function of its own", "checklist item", "not a formula", "out of scope")
_ROMAN: Final = {"I": 1, "II": 2, "III": 3}


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
    """Return every clause of the regulation in its own order: the coded ones and those of ``not_coded.csv``.

    A clause in both lists, or an unknown status, is an InputError: the list and the code may not drift apart.
    """
    text = files(__package__).joinpath("not_coded.csv").read_text(encoding="utf-8")
    lines = [line for line in text.splitlines() if not line.startswith("#")]
    return join(_coded(), list(csv.DictReader(lines)))


def unread_cells() -> tuple[Cell, ...]:
    """Return the cells of the printed tables that no clause reads: they wait for clauses that are not coded yet."""
    reads = [
        (clause.table, fixed)
        for clause in DOCUMENT.clauses.values()
        if clause.table is not None
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
    for clause in DOCUMENT.clauses.values():
        known = rows.get(clause.ref)
        rows[clause.ref] = CoverageRow(
            document=DOCUMENT.id,
            clause=clause.ref,
            title=known.title if known else clause.title,
            status="coded",
            functions=(*(known.functions if known else ()), clause.name),
            remark="; ".join(filter(None, (known.remark if known else "", clause.note))),
        )
    return list(rows.values())


def _place(clause: str) -> tuple[tuple[int, str], ...]:
    """A key that sorts clause numbers as the document does: 4.2 before 4.10, the annexes last."""
    annex, _, rest = clause.rpartition("Annex ")
    if rest != clause:
        return ((100, annex), (_ROMAN.get(rest.split()[0], 99), rest))
    parts = re.findall(r"\d+|[A-Za-z]+", clause)
    return tuple((int(p), "") if p.isdigit() else (99, p) for p in parts)
