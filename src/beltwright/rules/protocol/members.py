"""What is asked of members: chains, the checks on their outputs, and where their formulas end."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from enum import Enum
from typing import Any

import numpy as np
from numpy.typing import NDArray

from beltwright.core.chain import Chain, Columns
from beltwright.core.errors import InputError, ScopeError
from beltwright.core.outcome import is_met, utilisation
from beltwright.core.units import BoolArray, FloatArray, LabelArray


class About(Enum):
    """What a check speaks of."""

    STRENGTH = "strength"
    STABILITY = "stability"
    STRESS = "stress of a calculation"


@dataclass(frozen=True, slots=True, kw_only=True)
class CheckSpec:
    """One check of a member: which column must not exceed which, and the clause that says so.

    Both are columns of the chain, except where ``offered`` names what the caller lays beside it (README of the rule
    set). ``applies`` names a flag column that says where the check is asked for; empty where it always is. Where it is
    not asked for, the two columns still compare as met. ``about`` says what it speaks of; a stress of a calculation is
    one that the caller brings. ``most`` says that the first is the member's own value and the second the most that is
    allowed, so that less is better. ``yes_or_no`` says that it is met or not and has no degree.
    """

    name: str
    required: str
    offered: str
    ref: str
    applies: str = ""
    about: About = About.STRENGTH
    most: bool = False
    yes_or_no: bool = False

    def told(self, first: str, second: str) -> str:
        """Return the check in words, from its two values in words."""
        values = f"{first}, at most {second}" if self.most else f"{first} required, {second} offered"
        return f"{self.name} ({self.ref}): {values}"

    def ratio(self, values: Columns) -> FloatArray:
        """Return required over offered (n,); of a check by yes or no 0 where it is met and infinite where not.

        NaN stays: what is not known is not met.
        """
        ratio = utilisation(values[self.required], values[self.offered])
        if not self.yes_or_no:
            return ratio
        answered: FloatArray = np.where(np.isnan(ratio), np.nan, np.where(is_met(ratio), 0.0, np.inf))
        return answered


@dataclass(frozen=True, slots=True, kw_only=True)
class InputLimit:
    """The range of a numeric input of a member, ends included; a value outside it, or NaN, is an InputError."""

    column: str
    unit: str
    least: float
    most: float

    def check(self, member: str, columns: Columns, names: LabelArray | None = None) -> None:
        """Raise InputError for the first row outside the range; ``names`` (n,) are what the rows are called."""
        values = np.asarray(columns[self.column], dtype=np.float64)
        inside = (values >= self.least) & (values <= self.most)
        if inside.all():
            return
        row = int(np.flatnonzero(~inside)[0])
        called = f"row {row}" if names is None else str(names[row]) if len(values) == len(names) else "all of them"
        raise InputError(
            f"{member}: {called}: {self.column}",
            "outside its range",
            value=float(values[row]),
            unit=self.unit,
            allowed=f"{self.least:g} to {self.most:g}",
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class Guard:
    """Where a formula ends: a flag output of the chain that must hold in every row."""

    column: str
    what: str
    reason: str
    ref: str

    def beyond(self, values: Columns, rows: int) -> BoolArray:
        """Return in which of the chain's rows (rows,) the flag does not hold."""
        return ~np.broadcast_to(np.asarray(values[self.column], dtype=bool), rows)

    def check(self, values: Columns) -> None:
        """Raise ScopeError for the first row where the flag does not hold."""
        beyond = self.beyond(values, len(values[self.column]))
        if beyond.any():
            row = int(np.flatnonzero(beyond)[0])
            raise ScopeError(f"{self.what}: row {row}", self.reason, ref=self.ref)


@dataclass(frozen=True, slots=True, kw_only=True)
class FormulaEnd:
    """Where a formula ends although its chain goes on: the output ``column`` above ``most``.

    ``output`` is the requirement that comes from the formula, ``words`` say what lies beyond its end.
    """

    column: str
    most: float
    output: str
    words: str

    def beyond(self, values: Columns, rows: int) -> BoolArray:
        """Return which of the chain's rows (rows,) lie beyond the end; what is not a number does not."""
        found: BoolArray = np.broadcast_to(np.asarray(values[self.column], dtype=np.float64) > self.most, rows)
        return found


@dataclass(frozen=True, slots=True, kw_only=True)
class MemberRule:
    """The requirements on one kind of member: a chain and the checks on its outputs.

    ``result`` names the chain's main output (e.g. the required as-built thickness). A chain's ship-level inputs are
    length-1 columns; member inputs are (n,). ``shown`` names the outputs that tables show, by the table's column.
    Beyond an end of ``no_value`` its output says nothing and another check fails; beyond one of ``rests_on`` the
    output stands on a reading of the rule, which the engineer is told.
    """

    name: str
    chain: Chain
    checks: tuple[CheckSpec, ...]
    result: str
    limits: tuple[InputLimit, ...] = ()
    guards: tuple[Guard, ...] = ()
    shown: Mapping[str, str] = field(default_factory=dict)
    no_value: tuple[FormulaEnd, ...] = ()
    rests_on: tuple[FormulaEnd, ...] = ()

    def check_inputs(self, columns: Columns, names: LabelArray | None = None) -> None:
        """Raise InputError for the first row with an input outside its range, NaN included; ``names`` as in a limit."""
        for limit in self.limits:
            limit.check(self.name, columns, names)

    def values(self, columns: Columns, names: LabelArray | None = None) -> dict[str, NDArray[Any]]:
        """Run the chain with its inputs checked; rows beyond a guard stay, with the infinite demand they have."""
        self.check_inputs(columns, names)
        return self.chain.run(columns)

    def run(self, columns: Columns) -> dict[str, NDArray[Any]]:
        """Run the chain with its inputs checked and its ends kept: InputError or ScopeError names the first row."""
        values = self.values(columns)
        for guard in self.guards:
            guard.check(values)
        return values


class SupportKind(Enum):
    """Members behind the frames."""

    WEB_FRAME = "web frame"
    STRINGER = "stringer"


@dataclass(frozen=True, slots=True, kw_only=True)
class SupportRule:
    """The requirements on members behind the frames, of the kinds named, one row per span and touched load.

    A member is asked where it touches an area in which plating and framing are strengthened; ``by_frames`` says that
    the areas touched by the frames that it carries count too. A web frame's span ends at the decks, stringers and inner
    bottom that hold it; ``through_stringers`` says that the rule takes it from deck to deck, through the stringers that
    it carries. ``direct`` names the output that says where a direct calculation is required, which is then handed the
    columns that ``rule`` shows; empty where the rule's own checks show the strength. What a member does not bring
    (scantlings, a calculation's stresses) is NaN; its checks are then not known.
    """

    kinds: tuple[SupportKind, ...]
    rule: MemberRule
    by_frames: bool = False
    through_stringers: bool = False
    direct: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class ChecklistItem:
    """A clause without a formula that the designer answers for: its id, clause and what it asks for, in our own words.

    ``classes`` are the ice classes for which it holds; empty for all.
    """

    id: str
    ref: str
    requirement: str
    classes: tuple[str, ...] = ()
