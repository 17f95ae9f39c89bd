"""The clauses that have no formula, with the designer's answer to each."""

from __future__ import annotations

from beltwright.report.markup import Shown, column_table, heading, lead, paragraph
from beltwright.report.material import Material
from beltwright.report.registry import Chapter, Written

_SHOWN = (
    Shown(name="ref", header="clause", width="26"),
    Shown(name="requirement", header="what it asks for, in our words", width="fill"),
    Shown(name="status", header="status", width="18"),
    Shown(name="note", header="note", width="44"),
)
TITLE = "Checklist of clauses without formula"


def checklist(material: Material) -> Written:
    """Every item with its standing."""
    if material.checklist.rows == 0:
        return Written(markup=heading(1, TITLE) + paragraph("The rule set has no such clauses."))
    told = (
        f"{material.open_items} of {material.checklist.rows} items are open. The designer answers each in ship.toml "
        "under checklist; the program checks none of them."
    )
    return Written(markup=heading(1, TITLE) + lead(told) + column_table(material.checklist, _SHOWN, size_pt=7.5))


CHAPTERS = (Chapter(id="checklist", title=TITLE, write=checklist),)
