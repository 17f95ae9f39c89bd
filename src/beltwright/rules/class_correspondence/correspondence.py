"""What three published tables say of an ice class in another system, with the limits of what they say.

No entry makes two classes equal: Polar Class and Finnish-Swedish scantlings follow from different loads, and both must
be calculated where both are wanted.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import Final

import numpy as np

from beltwright.core.columns import Column, ColumnTable
from beltwright.core.provenance import Status
from beltwright.core.ruletable import Cell, load_table
from beltwright.core.units import Label, Unit
from beltwright.rules.class_correspondence.documents import CANADA_2017, CIRC_1056, TRAFICOM_2023

_PACKAGE: Final = "beltwright.rules.class_correspondence"
NOMINAL: Final = load_table(_PACKAGE, "circ_1056_nominal.csv")
FINNISH_SWEDISH: Final = load_table(_PACKAGE, "traficom_2023_annex_1.csv")
CANADIAN: Final = load_table(_PACKAGE, "canada_2017_286_schedule_2.csv")
TABLES: Final = (NOMINAL, FINNISH_SWEDISH, CANADIAN)
_LABEL: Final = Unit("label")


@CIRC_1056.clause("G-1.5", title="class named beside it", symbol="class", status=Status.TEXT, table=NOMINAL)
def class_named_beside(*, ice_class: Label, system: Label) -> Label:
    """Class of another system that the circular names beside this one; no equal strength. Source: G-1.5 (text)."""
    return NOMINAL.words(ice_class, system)


@TRAFICOM_2023.clause("Annex 1 Table 12", title="Finnish-Swedish class given for a Polar Class", symbol="class",
                      status=Status.SECONDARY, table=FINNISH_SWEDISH, note="engine output excluded")  # fmt: skip
def finnish_swedish_class(*, ice_class: Label) -> Label:
    """Finnish-Swedish class given for a Polar Class; the engine output must be checked by itself.

    Source: Annex 1 Table 12 (an extract).
    """
    return FINNISH_SWEDISH.words(ice_class)


@CANADA_2017.clause("Schedule 2", title="Canadian type by ice class", symbol="type", status=Status.SECONDARY,
                    table=CANADIAN)  # fmt: skip
def canadian_type(*, ice_class: Label) -> Label:
    """Canadian type of a ship with this ice class, for access by zone and date. Source: Schedule 2 (an extract)."""
    return CANADIAN.words(ice_class)


def correspondence_table(ice_class: str = "") -> ColumnTable:
    """Return what the tables say, of one class or (without a word) of all: class, document, system, named, limits.

    A class that no table knows gives a table without rows.
    """
    rows = [row for row in _rows() if ice_class in ("", row[0])]
    data = list(zip(*rows, strict=True)) if rows else [()] * 6
    names = ("ice_class", "document", "system", "named", "limits", "status")
    meanings = (
        "ice class",
        "document and table",
        "system of the named class",
        "class or type named",
        "what the table does not say",
        "how far the entry is known",
    )
    return ColumnTable(
        "class_correspondence",
        {
            name: Column(unit=_LABEL, meaning=meaning, data=np.array(words, dtype=np.str_))
            for name, meaning, words in zip(names, meanings, data, strict=True)
        },
    )


def _rows() -> Iterator[tuple[str, ...]]:
    """Every entry: class, document, system, what is named, the limits, the standing."""
    parts: tuple[tuple[dict[tuple[str, ...], Cell], Callable[[tuple[str, ...]], str], str], ...] = (
        (NOMINAL.cells, lambda keys: keys[1], CIRC_1056.applicability),
        (FINNISH_SWEDISH.cells, lambda _: "Finnish-Swedish", TRAFICOM_2023.applicability),
        (CANADIAN.cells, lambda _: "Canadian type", CANADA_2017.applicability),
    )
    for cells, system, limits in parts:
        for keys, cell in cells.items():
            yield keys[0], cell.table, system(keys), str(cell.value), limits, cell.status.value
