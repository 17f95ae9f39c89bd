"""What the check of the stem comes to, as the tables and the booklet read it."""

from __future__ import annotations

from dataclasses import dataclass

from beltwright.core.chain import Trace
from beltwright.core.columns import ColumnTable
from beltwright.core.ruletable import Cell
from beltwright.rules.protocol import MemberRule

OPEN = "open"


@dataclass(frozen=True, slots=True, kw_only=True)
class StemDesign:
    """The stem of one ship: its checks, a row each, with their trace (None where no scantlings are given)."""

    rule: MemberRule
    table: ColumnTable
    trace: Trace | None
    outcome: str
    cells: tuple[Cell, ...]
