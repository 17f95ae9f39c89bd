"""What every rule set offers, whatever its document: facts in, borders, loads and requirements out.

The order of work is the same for every document, and each stage names what it reads:

1. :meth:`RuleSet.areas`      ship facts -> hull areas and their borders
2. :meth:`RuleSet.stations`   hull areas -> where hull angles on the upper ice waterline are wanted
3. :meth:`RuleSet.loads`      facts, areas, angles -> design loads and their patches
4. :attr:`RuleSet.plating`, :attr:`RuleSet.framing`   columns of panels and frames -> requirements and checks
5. :attr:`RuleSet.girder`     facts -> ice force at the bow; places along the ship -> shear, moment and checks

Longitudinal places are given as distance aft of the fore side of the stem at the upper ice waterline [m]. Heights are
given relative to the upper and lower ice waterlines at the same place.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from typing import Any, Protocol

import numpy as np
from numpy.typing import NDArray

from beltwright.core.chain import Chain, Columns, Quantity, Trace
from beltwright.core.clause import Document
from beltwright.core.errors import InputError, ScopeError
from beltwright.core.findings import Finding
from beltwright.core.outcome import NotApplicable
from beltwright.core.provenance import Status
from beltwright.core.ruletable import Cell, RuleTable
from beltwright.core.units import BoolArray, FloatArray, LabelArray


@dataclass(frozen=True, slots=True, kw_only=True)
class HullArea:
    """One hull area: its printed code, its title and whether the class asks for strengthening there."""

    code: str
    title: str
    strengthened: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class TransverseBorder:
    """A border that runs up and down the side: distance aft of the stem as a piecewise linear function of height.

    ``height_m`` and ``aft_of_stem_m`` (k,) give the line; a vertical border has one point.
    """

    name: str
    forward: str
    aft: str
    height_m: FloatArray
    aft_of_stem_m: FloatArray
    ref: str


@dataclass(frozen=True, slots=True, kw_only=True)
class HeightBorder:
    """A border that runs along the ship: an offset from an ice waterline, piecewise linear in distance aft of stem.

    ``waterline`` is "upper" or "lower"; ``offset_m`` is positive upward. The border exists between the first and the
    last ``aft_of_stem_m``.
    """

    name: str
    waterline: str
    above: str
    below: str
    aft_of_stem_m: FloatArray
    offset_m: FloatArray
    ref: str


@dataclass(frozen=True, slots=True, kw_only=True)
class InclinationBorder:
    """A border where the shell is inclined by a given angle from the horizontal plane."""

    name: str
    above: str
    below: str
    inclination_deg: float
    ref: str


Border = TransverseBorder | HeightBorder | InclinationBorder


class HullAreas(Protocol):
    """The hull areas of one ship under one class."""

    @property
    def areas(self) -> tuple[HullArea, ...]:
        """All areas of the document, in the document's order."""
        ...

    @property
    def borders(self) -> tuple[Border, ...]:
        """The borders, for drawing and for splitting areas."""
        ...

    @property
    def trace(self) -> Trace:
        """Where each border's place comes from."""
        ...

    def classify(
        self,
        aft_of_stem_m: FloatArray,
        above_upper_m: FloatArray,
        above_lower_m: FloatArray,
        inclination_deg: FloatArray,
        height_m: FloatArray,
    ) -> LabelArray:
        """Return the area code of each shell point (n,), or "" where it lies in none (above the belt).

        ``above_upper_m`` and ``above_lower_m`` are heights above the ice waterlines at the same station,
        ``inclination_deg`` the shell's inclination from the horizontal plane (90 = vertical, NaN where not known),
        ``height_m`` the height above the baseline.
        """
        ...

    def governing(self, touched: BoolArray) -> GoverningAreas:
        """Return, for members that touch several areas (n, areas), which area's factor and addition they take."""
        ...


@dataclass(frozen=True, slots=True, kw_only=True)
class GoverningAreas:
    """For each member (n,): the area whose factor it takes, and the area whose corrosion addition it takes."""

    factor_area: LabelArray
    addition_area: LabelArray
    ref: str


@dataclass(frozen=True, slots=True, kw_only=True)
class LoadPatch:
    """A design load patch: width along the waterline, height, mean pressure before the area factor, where used."""

    name: str
    width_m: float
    height_m: float
    pressure_mpa: float
    force_mn: float
    areas: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class DesignLoads:
    """The design loads of one ship under one class.

    ``columns`` are length-1 arrays that the member chains read; ``traces`` the calculation by name ("station 1" ..,
    "design"); ``choices`` sentences saying which formula was chosen and why; ``findings`` what the engineer must see.
    ``compared`` names the numbers of the trace "design" that are worth laying side by side for several classes.
    """

    columns: Columns
    patches: tuple[LoadPatch, ...]
    traces: Mapping[str, Trace]
    choices: tuple[str, ...]
    findings: tuple[Finding, ...] = ()
    compared: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class CheckSpec:
    """One check of a member: which column must not exceed which, and the clause that says so.

    Both are columns of the chain, except where ``offered`` names what the caller lays beside it (README of the rule
    set). ``applies`` names a flag column that says where the check is asked for; empty where it always is. Where it is
    not asked for, the two columns still compare as met.
    """

    name: str
    required: str
    offered: str
    ref: str
    applies: str = ""


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

    def check(self, values: Columns) -> None:
        """Raise ScopeError for the first row where the flag does not hold."""
        holds = np.asarray(values[self.column], dtype=bool)
        if not holds.all():
            row = int(np.flatnonzero(~holds)[0])
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


@dataclass(frozen=True, slots=True, kw_only=True)
class ChecklistItem:
    """A clause without a formula that the designer answers for: its id, clause and what it asks for, in our own words.

    ``classes`` are the ice classes for which it holds; empty for all.
    """

    id: str
    ref: str
    requirement: str
    classes: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class GirderForce:
    """The vertical ice force at the bow of one ship.

    ``columns`` are length-1 arrays that the chain along the ship reads; ``nodes_aft_of_stem_m`` (k,) are the places at
    which its distributions bend, aft first; ``choices`` are sentences on what was chosen and why.
    """

    columns: Columns
    trace: Trace
    nodes_aft_of_stem_m: FloatArray
    choices: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class GirderRule:
    """Longitudinal strength in ice: the force at the bow, what it brings along the ship, and what is held to it.

    ``force`` takes the ship's facts and those named in ``facts``, with the trace of the ship's loads, and returns the
    force or why there is none. ``along`` runs on places (n,) along the ship. ``section``, ``plate`` and ``stiffener``
    are the checks of hull sections, plate panels and longitudinal stiffeners.
    """

    facts: tuple[Quantity, ...]
    force: Callable[[Columns, Trace], GirderForce | NotApplicable]
    along: Chain
    section: MemberRule
    plate: MemberRule
    stiffener: MemberRule


@dataclass(frozen=True, slots=True, kw_only=True)
class EditionDifference:
    """Where two editions of a document differ: one clause, what each says in our words, and what it does to numbers.

    ``says`` gives the reading of each rule set by its id; ``status`` how far the difference is known.
    """

    document: str
    clause: str
    what: str
    says: Mapping[str, str]
    effect: str
    status: Status


@dataclass(frozen=True, slots=True, kw_only=True)
class Override:
    """A user's written reason to go on where a rule ends; printed in every output."""

    key: str
    reason: str


class RuleSet(Protocol):
    """One document in one edition."""

    @property
    def id(self) -> str:
        """The package's name, e.g. ``polar_iacs_2019``."""
        ...

    @property
    def documents(self) -> tuple[Document, ...]:
        """The documents it is made from, with edition and applicability."""
        ...

    @property
    def differences(self) -> tuple[EditionDifference, ...]:
        """Where it differs from other editions of the same document, as far as it states that itself.

        ``registry.differences`` gathers what all rule sets state.
        """
        ...

    @property
    def tables(self) -> tuple[RuleTable, ...]:
        """Every printed table it reads."""
        ...

    @property
    def classes(self) -> tuple[str, ...]:
        """The ice classes, strongest first."""
        ...

    @property
    def facts(self) -> tuple[Quantity, ...]:
        """What it wants to know of the ship as a whole; names in the vocabulary of ``facts.py``."""
        ...

    @property
    def plating(self) -> MemberRule:
        """Shell plating, one row per panel and touched load."""
        ...

    @property
    def framing(self) -> MemberRule:
        """Local frames with an offered section, one row per frame span, section and touched load."""
        ...

    @property
    def girder(self) -> GirderRule | None:
        """Longitudinal strength in ice; None where the document has no such chapter."""
        ...

    @property
    def supports(self) -> MemberRule | None:
        """Web frames and load-carrying stringers, one row per span and touched load; None without such rules.

        What a member does not bring (scantlings, a calculation's stresses) is NaN; its checks are then not known.
        """
        ...

    @property
    def plated(self) -> MemberRule | None:
        """Plated structures in contact with the shell, one row per piece and touched load; None without such rules."""
        ...

    @property
    def grading(self) -> MemberRule | None:
        """Steel grades of shell members, one row per member and hull area it touches; None without such rules.

        Reads the vocabulary ``GRADE`` of ``facts.py`` and the ship's facts, and gives as outputs ``category``,
        ``material_class``, ``weather_exposed``, ``submerged``, ``in_single_strake`` and ``grade_demanded``, a letter or
        ``none``. Its check compares ranks.
        """
        ...

    @property
    def checklist(self) -> tuple[ChecklistItem, ...]:
        """The clauses without a formula that the designer answers for, in the document's order; may be empty."""
        ...

    def areas(self, facts: Columns, overrides: tuple[Override, ...]) -> HullAreas:
        """Return the hull areas; raises ScopeError where the document does not cover the ship."""
        ...

    def stations(self, areas: HullAreas) -> FloatArray:
        """Return the stations (k,), distance aft of the stem [m], where angles on the upper ice waterline are read."""
        ...

    def loads(self, facts: Columns, areas: HullAreas, angles: Columns, overrides: tuple[Override, ...]) -> DesignLoads:
        """Return the design loads.

        ``angles`` has columns (k,): ``aft_of_stem_m``, ``alpha_deg``, ``gamma_deg``, ``beta_deg``, ``beta_prime_deg``,
        each NaN where it does not apply (the rule set says what that means).
        """
        ...

    def unconfirmed(self, used: tuple[Cell, ...]) -> tuple[Cell, ...]:
        """Return those of the given cells that are not confirmed from the printed page."""
        ...
