"""Which members each submitted row speaks of, and which row is judged for each member."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, field

import numpy as np

from beltwright.core.errors import InputError
from beltwright.core.findings import FindingCode, Severity
from beltwright.core.units import BoolArray, IntArray, LabelArray
from beltwright.scantlings import offered_codes as kinds
from beltwright.scantlings.choose import Places, speaks_of
from beltwright.scantlings.design import Design
from beltwright.scantlings.submitted import RANGE_COLUMNS, MemberKind, SubmittedRow
from beltwright.ship.model import Where


@dataclass(frozen=True, slots=True, kw_only=True)
class Discrepancy:
    """One discrepancy: its kind, the row (0 where it belongs to none), its mark, the members, the numbers in words."""

    kind: FindingCode
    line: int
    mark: str
    where: str
    message: str

    @property
    def counts(self) -> bool:
        """Whether it stands against the drawing; a note does not."""
        return self.kind.severity is not Severity.NOTE

    def __str__(self) -> str:
        place = f"row {self.line}" if self.line else "list"
        mark = f" ({self.mark})" if self.mark else ""
        return f"{self.kind.code} {place}{mark}: {self.where}: {self.message}"


@dataclass(slots=True)
class Discrepancies:
    """A collector of discrepancies, in the order found."""

    items: list[Discrepancy] = field(default_factory=list)

    def of_row(self, kind: FindingCode, row: SubmittedRow, where: str, message: str) -> None:
        """Add one that belongs to a row."""
        self.items.append(Discrepancy(kind=kind, line=row.line, mark=row.mark, where=where, message=message))

    def of_list(self, kind: FindingCode, where: str, message: str) -> None:
        """Add one that belongs to no row."""
        self.items.append(Discrepancy(kind=kind, line=0, mark="", where=where, message=message))

    def ordered(self) -> tuple[Discrepancy, ...]:
        """Return them by row, those of the whole list last, each once."""
        return tuple(sorted(dict.fromkeys(self.items), key=lambda one: (one.line == 0, one.line)))


@dataclass(frozen=True, slots=True, kw_only=True)
class Claims:
    """Which members (of one kind) each row speaks of: the rows of that kind, and an index array per row."""

    rows: tuple[SubmittedRow, ...]
    members: tuple[IntArray, ...]


def claims_of(
    design: Design, kind: MemberKind, rows: Iterable[SubmittedRow], ids: LabelArray, places: Places, local: BoolArray,
    found: Discrepancies,
) -> Claims:  # fmt: skip
    """Return which members every row of a kind speaks of; ``local`` (n,) are the members that are judged at all.

    Rows that name nothing, or only members that carry no check here, are told.
    """
    place_of = {str(name): place for place, name in enumerate(ids)}
    own = tuple(row for row in rows if row.kind is kind)
    members = []
    for row in own:
        named = _named(design, row, place_of, places, found)
        judged = named[local[named]]
        if len(named) and not len(judged):
            found.of_row(kinds.NOT_CHECKED_HERE, row, some(ids, named), "web frames or floors")
        members.append(judged)
    return Claims(rows=own, members=tuple(members))


def _named(
    design: Design, row: SubmittedRow, place_of: dict[str, int], places: Places, found: Discrepancies
) -> IntArray:
    """The members a row names; none, with a discrepancy, where there are none."""
    nobody = np.zeros(0, dtype=np.int64)
    word = row.kind.value if row.kind else ""
    if "member" in row.words:
        name = row.words["member"]
        if name in place_of:
            return np.array([place_of[name]], dtype=np.int64)
        near = [known for known in place_of if known.split("/")[0] == name.split("/")[0]]
        hint = f"; there are {', '.join(near[:4])}" if near else ""
        found.of_row(kinds.NOT_ON_SHIP, row, name, f"no {word} of this id{hint}")
        return nobody
    if row.at_fault("member", *RANGE_COLUMNS):
        return nobody  # the cell's own discrepancy says so
    given = {name: value for name, value in {**row.words, **row.numbers}.items() if name in RANGE_COLUMNS}
    if not given:
        told = "the row gives neither member nor hull area, zone, frames or levels"
        found.of_row(kinds.NOT_ON_SHIP, row, "no place", told)
        return nobody
    try:
        chosen = speaks_of(Where.model_validate(given), places, design.ship, design.arrangement.levels, row.called)
    except InputError as error:
        allowed = f"; there are {error.allowed}" if error.allowed else ""
        found.of_row(kinds.NOT_ON_SHIP, row, str(error.value), f"{error.what}{allowed}")
        return nobody
    if not chosen.any():
        told = ", ".join(f"{name} {value}" for name, value in given.items())
        found.of_row(kinds.NOT_ON_SHIP, row, told, f"no {word} lies there")
    return np.flatnonzero(chosen)


def owners(
    claims: Claims, count: int, strength: Sequence[tuple[float, ...]], same: Callable[[int, int], bool],
    ids: LabelArray, found: Discrepancies,
) -> IntArray:  # fmt: skip
    """Return which row (its place in ``claims``) is judged for each of ``count`` members, -1 for none.

    ``strength`` orders the rows: of several rows on one member the weakest is judged; ``same`` says whether two rows
    give the same scantling. Every pair of rows that share members is told once.
    """
    owner = np.full(count, -1, dtype=np.int64)
    for row, members in enumerate(claims.members):
        before = owner[members]
        for other in np.unique(before[before >= 0]).tolist():
            shared = members[before == other]
            kind = kinds.REPEATED if same(row, other) else kinds.CONTRADICTING
            first, second = claims.rows[other].called, claims.rows[row].called
            weaker = row if strength[row] < strength[other] else other
            told = f"{first} and {second} name {len(shared)} of the same members"
            counts = (
                f"{claims.rows[weaker].called} counts" if np.isfinite(strength[weaker]).all() else "neither is usable"
            )
            told += "" if kind is kinds.REPEATED else f"; {counts}"
            found.of_row(kind, claims.rows[row], some(ids, shared), told)
            if weaker == row:
                owner[shared] = row
        owner[members[before < 0]] = row
    return owner


def some(ids: LabelArray, members: IntArray) -> str:
    """Return members in words: one by its id, several by the first, the last and their number."""
    if len(members) == 1:
        return str(ids[members[0]])
    return f"{ids[members[0]]} to {ids[members[-1]]}, {len(members)} members"


def without_row(
    word: str, ids: LabelArray, groups: LabelArray, asked: IntArray, owner: IntArray, any_row: bool,
    found: Discrepancies,
) -> None:  # fmt: skip
    """Tell the members of which something is asked and that no row names, a line per group."""
    bare = asked[owner[asked] < 0]
    if not any_row and len(bare):
        told = f"the list has no {word} at all; the rule asks something of {len(bare)}"
        found.of_list(kinds.NO_ROW, f"{word}s", told)
        return
    for group in dict.fromkeys(groups[bare].tolist()):
        rows = bare[groups[bare] == group]
        found.of_list(kinds.NO_ROW, f"{word}s {group}", some(ids, rows))
