"""Which edition was used, whether it applies to the contract, and what differs between editions: as printed tables."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

import numpy as np

from beltwright.core.columns import Column, ColumnTable
from beltwright.core.units import Unit
from beltwright.report.markup import grid_table, heading, paragraph
from beltwright.report.material import Material
from beltwright.rules.protocol import EditionDifference
from beltwright.scantlings.edition import EditionUsed

RULE_SET, CONTRACT_DATE, STANDING = "rule set", "contract date", "edition for this contract"


def edition_lines(used: EditionUsed) -> tuple[tuple[str, str], ...]:
    """Return rule set, contract date and whether the edition applies to it, each with its words."""
    return (
        (RULE_SET, used.rule_set),
        (CONTRACT_DATE, used.contract),
        (STANDING, used.standing),
    )


def difference_table(differences: Sequence[EditionDifference]) -> ColumnTable | None:
    """Return what differs between editions: a row per clause, a column per rule set; None where nothing is stated."""
    if not differences:
        return None
    names = list(dict.fromkeys(name for one in differences for name in one.says))
    columns = {
        "document": _words("document", (one.document for one in differences)),
        "clause": _words("clause", (one.clause for one in differences)),
        "what": _words("what differs", (one.what for one in differences)),
        **{name: _words(f"in rule set {name}", (one.says.get(name, "") for one in differences)) for name in names},
        "effect": _words("effect on numbers", (one.effect for one in differences)),
        "standing": _words("how far the difference is known", (one.status.value for one in differences)),
    }
    return ColumnTable("edition differences", columns)


def _words(meaning: str, values: Iterable[str]) -> Column:
    """A column of words."""
    return Column(unit=Unit("label"), meaning=meaning, data=np.array(list(values), dtype=np.str_))


def edition_markup(material: Material) -> str:
    """Return the part of the booklet on editions; empty where nothing is known of them."""
    if not material.edition:
        return ""
    parts = [
        heading(2, "Edition and contract date"),
        grid_table((("", "", "left", "44"), ("", "", "left", "fill")), material.edition),
    ]
    table = material.edition_differences
    if table is not None:
        sets = [name for name in table if name not in ("document", "clause", "what", "effect", "standing")]
        shown = ["clause", "what", *sets, "effect", "standing"]
        headers = [(name.replace("_", " "), "", "left", "22" if name == "clause" else "fill") for name in shown]
        headers[-1] = ("standing", "", "left", "18")
        rows = [[str(table[name].data[row]) for name in shown] for row in range(table.rows)]
        parts += [
            heading(2, "What differs between editions"),
            paragraph(
                "Clause by clause, in our own words; what is recalled has not been compared with a printed page."
            ),
            grid_table(headers, rows, size_pt=7.2),
        ]
    return "".join(parts)
