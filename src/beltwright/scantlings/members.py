"""From members that touch several hull areas to the rows on which the rule set's chains run, and back.

A member that a border crosses takes the largest area factor of the areas it touches. Which area's load then acts is
left open by the documents, so each touched area's load is tried with that factor, and the most demanding row governs.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray

from beltwright.core.chain import Chain, Columns
from beltwright.core.columns import Column, ColumnTable
from beltwright.core.findings import Findings
from beltwright.core.units import BoolArray, FloatArray, IntArray, LabelArray, Unit
from beltwright.rules.protocol import HullAreas, MemberRule, Strengthens
from beltwright.scantlings import codes

NO_REQUIREMENT = "no ice strengthening is asked for here"
NO_RESULT = "no result: the check fails"
MET, NOT_MET, NOTHING_ASKED = "met", "not met", "no ice requirement"
_NAMED = 5  # members named in a finding
GIVEN, PROPOSED, SIZED, NOBODY = "given", "proposed", "sized", "none"


@dataclass(frozen=True, slots=True, kw_only=True)
class MemberRows:
    """Rows to run: which member each belongs to (r,), and the areas of its load, factor and addition (r,)."""

    member: IntArray
    load_area: LabelArray
    factor_area: LabelArray
    addition_area: LabelArray

    def columns(self) -> dict[str, NDArray[Any]]:
        """Return the area columns of the vocabulary."""
        return {"load_area": self.load_area, "factor_area": self.factor_area, "addition_area": self.addition_area}

    def take(self, rows: IntArray) -> MemberRows:
        """Return some of the rows."""
        return MemberRows(
            member=self.member[rows],
            load_area=self.load_area[rows],
            factor_area=self.factor_area[rows],
            addition_area=self.addition_area[rows],
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class MemberRun:
    """The requirements of all members of one kind: the table, and the rows the rule set was run on.

    ``table`` has a row per member. ``rows`` and ``values`` (r,) are the rows that were run, with every input and output
    of the chain by name. ``members`` (m,) are those that have a requirement, ``governing`` (m,) the row that
    governs each.
    """

    table: ColumnTable
    rows: MemberRows
    values: Mapping[str, NDArray[Any]]
    members: IntArray
    governing: IntArray

    def row_of(self, member: int) -> int | None:
        """Return the governing row of a member, or None where nothing is asked of it."""
        place = int(np.searchsorted(self.members, member))
        found = place < len(self.members) and self.members[place] == member
        return int(self.governing[place]) if found else None


def member_rows(areas: HullAreas, touched: BoolArray, part: Strengthens, *more: Strengthens) -> MemberRows:
    """Return one row per member and area it touches (n, areas) in which all these parts are strengthened.

    Members stand in order.
    """
    strengthened = touched & np.array([{part, *more} <= set(area.strengthens) for area in areas.areas])[None, :]
    member, area = np.nonzero(strengthened)
    codes = np.array([one.code for one in areas.areas], dtype=np.str_)
    any_touched = np.flatnonzero(strengthened.any(axis=1))
    governing = areas.governing(strengthened[any_touched])
    place = np.searchsorted(any_touched, member)
    return MemberRows(
        member=member,
        load_area=codes[area],
        factor_area=governing.factor_area[place],
        addition_area=governing.addition_area[place],
    )


def with_angles(rows: MemberRows, omega_deg: Column) -> tuple[MemberRows, FloatArray]:
    """Return the rows and the framing angle [deg] of each.

    A flat shell has no waterline and so no angle between it and the framing: such a member is tried both ways, along
    (0) and across (90), and the more demanding row governs.
    """
    applies = omega_deg.applies[rows.member]
    flat = np.flatnonzero(~applies)
    order = np.concatenate([np.arange(len(rows.member)), flat])
    omega = np.concatenate([np.where(applies, omega_deg.data[rows.member], 0.0), np.full(len(flat), 90.0)])
    sort = np.argsort(rows.member[order], kind="stable")
    return rows.take(order[sort]), omega[sort]


def chain_inputs(chain: Chain, ship: Columns, member: Mapping[str, NDArray[Any]]) -> dict[str, NDArray[Any]]:
    """Return the columns that a chain reads: the member's own, else the ship's.

    Raises KeyError naming the chain and the quantity where nobody gives one: a rule set that asks for something new
    needs a line here and in the vocabulary.
    """
    given: dict[str, NDArray[Any]] = {}
    for name in chain.inputs:
        if name in member:
            given[name] = member[name]
        elif name in ship:
            given[name] = ship[name]
        else:
            raise KeyError(f"chain {chain.name}: nobody gives {name}")
    return given


def most_demanding(rows: MemberRows, demand: FloatArray) -> IntArray:
    """Return for each member that has rows the index of its row with the greatest demand (the first of equals).

    A demand that is not a number governs over every number: it must not be lost.
    """
    weight = np.where(np.isnan(demand), np.inf, demand)
    order = np.lexsort((np.arange(len(weight)), -weight, rows.member))
    first = np.ones(len(order), dtype=bool)
    first[1:] = rows.member[order][1:] != rows.member[order][:-1]
    chosen: IntArray = order[first]
    return chosen


def tell_beyond(
    rule: MemberRule, rows: MemberRows, out: Mapping[str, NDArray[Any]], ids: LabelArray, what: str, findings: Findings
) -> None:
    """Name the members that lie beyond a guard of their rule, with its reason: no result, so their check fails."""
    for guard in rule.guards:
        beyond = rows.member[guard.beyond(out, len(rows.member))]
        if len(beyond):
            names = [str(ids[member]) for member in dict.fromkeys(beyond.tolist())]
            more = f" and {len(names) - _NAMED} more" if len(names) > _NAMED else ""
            findings.add(
                codes.OUTSIDE_FORMULA, what, f"{', '.join(names[:_NAMED])}{more}: {guard.reason} ({guard.ref})"
            )


def touched_words(areas: HullAreas, touched: BoolArray) -> LabelArray:
    """Return the touched area codes of each member joined by +, e.g. ``B+BIi``."""
    codes = [area.code for area in areas.areas]
    patterns, inverse = np.unique(touched, axis=0, return_inverse=True)
    words = ["+".join(code for code, hit in zip(codes, row, strict=True) if hit) for row in patterns]
    return np.array(words, dtype=np.str_)[inverse.reshape(-1)] if len(words) else np.zeros(0, dtype=np.str_)


class Sheet:
    """Columns of a table of all members, filled for those that have a requirement; the rest carry the reason."""

    def __init__(self, count: int, members: IntArray, reason: str) -> None:
        self._count, self._members, self._reason = count, members, reason
        self._columns: dict[str, Column] = {}

    def number(self, name: str, unit: str, meaning: str, values: FloatArray) -> None:
        """Add a column of numbers given for the members that have a requirement."""
        data = np.full(self._count, np.nan)
        data[self._members] = values
        self._columns[name] = Column(unit=Unit(unit), meaning=meaning, data=data, reason=self._reasons(values))

    def maybe(self, name: str, unit: str, meaning: str, data: FloatArray) -> None:
        """Add a column given for all members, NaN where there is none and the reason of the sheet holds."""
        reason = np.where(np.isnan(data), self._reason, "")
        column = Column(unit=Unit(unit), meaning=meaning, data=data, reason=reason if (reason != "").any() else None)
        self._columns[name] = column

    def word(self, name: str, meaning: str, values: LabelArray, otherwise: str = "") -> None:
        """Add a column of words; the members without a requirement get the given word."""
        width = max([len(otherwise), 1, *(len(str(v)) for v in np.unique(values))])
        data = np.full(self._count, otherwise, dtype=f"<U{width}")
        data[self._members] = values
        self._columns[name] = Column(unit=Unit("label"), meaning=meaning, data=data)

    def whole(self, name: str, unit: str, meaning: str, data: NDArray[Any]) -> None:
        """Add a column that every member has."""
        self._columns[name] = Column(unit=Unit(unit), meaning=meaning, data=data)

    def column(self, name: str, column: Column) -> None:
        """Add a column as it is, with its own reasons."""
        self._columns[name] = column

    def _reasons(self, values: FloatArray) -> LabelArray:
        """Why a number is missing: no requirement, or a calculation without a finite result."""
        reasons = np.full(self._count, self._reason, dtype=f"<U{max(len(self._reason), len(NO_RESULT))}")
        reasons[self._members] = np.where(np.isfinite(values), "", NO_RESULT)
        return reasons

    def table(self, name: str) -> ColumnTable:
        """Return the table."""
        return ColumnTable(name, self._columns)
