"""The clauses without a formula: what each asks for, and how the designer answers it."""

from __future__ import annotations

from collections.abc import Sequence
from difflib import get_close_matches

import numpy as np

from beltwright.core.columns import Column, ColumnTable
from beltwright.core.errors import InputError
from beltwright.core.findings import Findings
from beltwright.core.units import Unit
from beltwright.rules.protocol import ChecklistItem
from beltwright.scantlings import codes
from beltwright.ship.model import Ship
from beltwright.ship.supports import ChecklistEntry

DONE, OPEN, NOT_APPLICABLE = "done", "open", "not applicable"
LEAST_NOTE = 10  # characters; less says nothing


def check_checklist(items: Sequence[ChecklistItem], ship: Ship) -> None:
    """Refuse an answer to no item, a second answer, and one without a note: InputError naming the field."""
    known = [item.id for item in items]
    answered: set[str] = set()
    for number, entry in enumerate(ship.checklist, 1):
        where = f"ship.toml: checklist[{number}]"
        if entry.item not in known:
            close = get_close_matches(entry.item, known, n=1)
            allowed = (
                f"did you mean {close[0]}?" if close else ", ".join(known) or "none: the rule set has no checklist"
            )
            raise InputError(
                f"{where}.item", "no such item of the rule set's checklist", value=entry.item, allowed=allowed
            )
        if entry.item in answered:
            raise InputError(f"{where}.item", "this item is answered already", value=entry.item)
        answered.add(entry.item)
        if entry.status != OPEN and len(entry.note.strip()) < LEAST_NOTE:
            raise InputError(
                f"{where}.note", f"an item that is {entry.status} needs a note", value=entry.note or "nothing",
                allowed=f"at least {LEAST_NOTE} characters that say how it was settled or why it does not apply",
            )  # fmt: skip


def checklist(items: Sequence[ChecklistItem], ship: Ship, findings: Findings) -> ColumnTable:
    """Return every item with its standing; an item without an answer is open. Open items are finding BW481."""
    given = {entry.item: entry for entry in ship.checklist}
    rows = [(item.id, item.ref, item.requirement, *_standing(item, given.get(item.id), ship)) for item in items]
    still = [row[0] for row in rows if row[3] == OPEN]
    if still:
        findings.add(codes.CHECKLIST_OPEN, "checklist", f"{len(still)} of {len(rows)} open: {', '.join(still)}")
    names = (
        ("item", "name of the item in ship.toml"), ("ref", "clause"), ("requirement", "what it asks for"),
        ("status", "done, open or not applicable"), ("note", "how it was settled, or why it does not apply"),
    )  # fmt: skip
    return ColumnTable(
        "checklist",
        {
            name: Column(unit=Unit("label"), meaning=meaning, data=np.array([row[k] for row in rows], dtype=np.str_))
            for k, (name, meaning) in enumerate(names)
        },
    )


def _standing(item: ChecklistItem, entry: ChecklistEntry | None, ship: Ship) -> tuple[str, str]:
    """Status and note: the designer's answer, else not applicable by class, else open."""
    if entry is not None:
        return entry.status, entry.note.strip()
    if item.classes and ship.ice.ice_class not in item.classes:
        return NOT_APPLICABLE, f"holds for {', '.join(item.classes)}"
    return OPEN, ""
