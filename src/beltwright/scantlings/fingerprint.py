"""The fingerprint of a result: one hash over everything that its numbers rest on."""

from __future__ import annotations

import math
from collections.abc import Iterable

from beltwright import __version__
from beltwright.core.canonical import fingerprint
from beltwright.core.ruletable import Cell
from beltwright.scantlings.design import Design


def result_fingerprint(design: Design, inputs_sha256: str) -> str:
    """Return the SHA-256 of what a result rests on, as 64 hexadecimal digits.

    It covers the user's inputs (``inputs_sha256``), the program's version, the documents and editions, all cells of the
    rule set's tables with its standing, the cells of steel, plate and section tables that were used, and the written
    reasons that carry the design past a rule's end. Two results of one hash have the same numbers on one machine.
    """
    return fingerprint(
        {
            "inputs": inputs_sha256,
            "program": __version__,
            "rules": design.rules.id,
            "documents": [[document.id, document.edition] for document in design.rules.documents],
            "tables": [
                [table.name, table.header["title"], _told(table.cells.values())] for table in design.rules.tables
            ],
            "cells": _told(design.cells),
            "overrides": [[override.key, override.reason] for override in design.overrides],
        }
    )


def _told(cells: Iterable[Cell]) -> list[list[object]]:
    """Cells as plain values, in the order given, each once."""
    return [[cell.table, cell.keys, _value(cell), cell.status.value] for cell in dict.fromkeys(cells)]


def _value(cell: Cell) -> object:
    """The value of a cell; one without end as a word."""
    return str(cell.value) if isinstance(cell.value, float) and not math.isfinite(cell.value) else cell.value
