"""The judgement of every plate and frame as tables, and the members that fail as discrepancies of their rows."""

from __future__ import annotations

from typing import Any

import numpy as np
from numpy.typing import NDArray

from beltwright.core.columns import Column, ColumnTable
from beltwright.core.findings import FindingCode
from beltwright.core.outcome import is_met
from beltwright.core.units import BoolArray, FloatArray, IntArray, LabelArray, Unit
from beltwright.rules.protocol import MemberRule
from beltwright.scantlings import offered_codes as kinds
from beltwright.scantlings.frames import known_or_infinite
from beltwright.scantlings.members import MET, NOT_MET, NOTHING_ASKED, MemberRun
from beltwright.scantlings.offered_match import Claims, Discrepancies, some

NO_ROW, NOT_JUDGED, NOT_HERE = "no row", "not judged", "not checked here"
_WHY_NO_ROW, _WHY_NOT_JUDGED = "no row names it", "its row cannot be used: see the discrepancies"
_WHY_NOT_HERE = "web frames and floors carry no check here"


def plate_failures(
    run: MemberRun, claims: Claims, owner: IntArray, judged: BoolArray, rule: MemberRule, found: Discrepancies
) -> None:
    """Tell the rows whose plates are too thin, each once with its worst panel, and those beyond the formula."""
    table = run.table
    ids, failed = table.labels("id"), judged & (table.labels("outcome") == NOT_MET)
    beyond = failed & ~np.isfinite(table["thickness_required_mm"].data)
    need, offered = table["thickness_required_mm"].data, table["thickness_as_built_mm"].data
    minus, margin = table["minus_tolerance_mm"].data, table["margin_mm"].data
    for number in np.unique(owner[failed]).tolist():
        row, own = claims.rows[number], owner == number
        thin = np.flatnonzero(own & failed & ~beyond)
        if len(thin):
            worst = thin[int(np.argmin(margin[thin]))]
            less = f" less minus tolerance {minus[worst]:g}" if minus[worst] > 0.0 else ""
            percent = 100.0 * margin[worst] / need[worst]
            told = (
                f"{len(thin)} of {int(own.sum())}; worst {ids[worst]}: {offered[worst]:g} mm{less} offered, "
                f"{need[worst]:.2f} mm required ({margin[worst]:+.2f} mm, {percent:+.1f} %), {rule.checks[0].ref}"
            )
            found.of_row(kinds.TOO_THIN, row, some(ids, thin), told)
        outside = np.flatnonzero(own & beyond)
        if len(outside):
            found.of_row(kinds.BEYOND_FORMULA, row, some(ids, outside), "the formula has no value here")


def frame_failures(
    run: MemberRun, claims: Claims, owner: IntArray, ratios: FloatArray, beyond: BoolArray, rule: MemberRule,
    found: Discrepancies,
) -> None:  # fmt: skip
    """Tell the rows whose frames fail, once per check with the worst span; ``ratios`` (rows run, checks).

    ``beyond`` (n,) are spans that fail whatever their section; ``found`` gets no line of a check for those.
    """
    ids, at = run.table.labels("id"), run.rows.member
    known = known_or_infinite(ratios)
    hopeless = np.unique(at[beyond[at]])
    for number in np.unique(owner[hopeless]).tolist():
        own = hopeless[owner[hopeless] == number]
        told = "simply supported in a strengthened area, or no net plate beside it"
        found.of_row(kinds.CANNOT_BE_MET, claims.rows[number], some(ids, own), told)
    for place, check in enumerate(rule.checks):
        failed = ~is_met(known[:, place]) & ~beyond[at]
        for number in np.unique(owner[at[failed]]).tolist():
            rows = np.flatnonzero(failed & (owner[at] == number))
            worst, spans = int(rows[int(np.argmax(known[rows, place]))]), np.unique(at[rows])
            need, have = (float(_row(run.values[name], worst)) for name in (check.required, check.offered))
            lacking = f"{100.0 * (have / need - 1.0):+.1f} %" if np.isfinite(have / need) else "no value"
            kind = _kind_of(check.name)
            told = f"{have:.4g} offered, {need:.4g} required"
            void = _no_value(run, rule, check.required)[worst]
            if void:
                told, lacking = f"{have:.4g} offered", str(void)
            if kind is kinds.STABILITY:  # what has to stay below what, whichever of the two the section has
                told = f"{need:.4g} is above {have:.4g}"
            told = (
                f"{check.name}, {len(spans)} of {len(claims.members[number])}; worst {ids[at[worst]]}: "
                f"{told} ({lacking}), {check.ref}"
            )
            found.of_row(kind, claims.rows[number], some(ids, spans), told)


def _row(values: NDArray[Any], row: int) -> float:
    """One row of a column that may serve every row."""
    return float(values[0] if len(values) == 1 else values[row])


def _no_value(run: MemberRun, rule: MemberRule, output: str) -> LabelArray:
    """Why a requirement has no value, for every row that was run (r,); "" where it has one."""
    count = len(run.rows.member)
    why = np.full(count, "", dtype=f"<U{max([1, *(len(end.words) for end in rule.no_value)])}")
    for end in rule.no_value:
        if end.output == output:
            why[end.beyond(run.values, count)] = end.words
    return why


def _member_void(run: MemberRun, rule: MemberRule, output: str) -> LabelArray:
    """The same for every member (n,), by its governing row."""
    why = _no_value(run, rule, output)
    found = np.full(run.table.rows, "", dtype=why.dtype)
    found[run.members] = why[run.governing]
    return found


def _kind_of(check: str) -> FindingCode:
    """The kind of discrepancy of a check, by its name."""
    return kinds.SHEAR if "shear" in check else kinds.MODULUS if "modulus" in check else kinds.STABILITY


class _Table:
    """Columns of the table of a kind; what is not judged has the reason for it."""

    def __init__(self, why: LabelArray) -> None:
        self._why = why
        self._columns: dict[str, Column] = {}

    def word(self, name: str, meaning: str, data: NDArray[Any]) -> None:
        """Add a column of words."""
        self._columns[name] = Column(unit=Unit("label"), meaning=meaning, data=data.astype(np.str_))

    def whole(self, name: str, unit: str, meaning: str, data: NDArray[Any]) -> None:
        """Add a column that every member has."""
        self._columns[name] = Column(unit=Unit(unit), meaning=meaning, data=data)

    def number(self, name: str, unit: str, meaning: str, data: FloatArray, reason: LabelArray | None = None) -> None:
        """Add a column of numbers; without a finite one stands the run's own reason, or why it is not judged."""
        own = np.full(len(data), "no ice strengthening is asked for here") if reason is None else reason
        why = np.where(self._why != "", self._why, np.where(np.isfinite(data), "", np.where(own == "", "none", own)))
        self._columns[name] = Column(unit=Unit(unit), meaning=meaning, data=data, reason=why.astype(np.str_))

    def of(self, run: ColumnTable, name: str, called: str = "", void: LabelArray | None = None) -> None:
        """Add a column of numbers of the run, under the same name or another; none where ``void`` (n,) says why."""
        column = run[name]
        data, reason = column.data, column.reason
        if void is not None and (void != "").any():
            own = np.full(len(data), "") if reason is None else reason
            data, reason = np.where(void != "", np.nan, data), np.where(void != "", void, own)
        self.number(called or name, column.unit.symbol, column.meaning, data, reason)

    def made(self, name: str) -> ColumnTable:
        """Return the table."""
        return ColumnTable(name, self._columns)


def _opening(
    run: MemberRun, claims: Claims, owner: IntArray, outcome: LabelArray, why: LabelArray, hull_area: LabelArray
) -> _Table:
    """The columns that plates and frames begin with: who it is, which row is judged, how it comes out."""
    table = _Table(why)
    lines, marks = [row.line for row in claims.rows], [row.mark for row in claims.rows]
    table.whole("id", "label", "panel or frame span", run.table.labels("id"))
    table.whole("row", "count", "row of the list, 0 for none", np.array([*lines, 0])[owner])
    table.word("mark", "mark on the drawing", np.array([*marks, ""])[owner])
    table.word("zone", "framing zone", run.table.labels("zone"))
    table.word("hull_area", "hull area whose factor it takes", hull_area)
    table.word("outcome", "whether the requirement is met", outcome)
    return table


def _outcomes(
    made: LabelArray, asked: BoolArray, owner: IntArray, judged: BoolArray, local: BoolArray
) -> tuple[LabelArray, LabelArray]:
    """How every member comes out, and why it is not judged ("" where it is)."""
    bare, spoilt = asked & (owner < 0), (owner >= 0) & ~judged
    outcome = np.select([~local, bare, spoilt, judged], [NOT_HERE, NO_ROW, NOT_JUDGED, made], NOTHING_ASKED)
    why = np.select([~local, bare, spoilt, judged], [_WHY_NOT_HERE, _WHY_NO_ROW, _WHY_NOT_JUDGED, ""], "")
    unnamed = (owner < 0) & ~asked & local
    return outcome.astype(np.str_), np.where(unnamed, "no ice strengthening is asked for here", why).astype(np.str_)


def plate_table(run: MemberRun, claims: Claims, owner: IntArray, judged: BoolArray, rule: MemberRule) -> ColumnTable:
    """Return the judgement of every panel; what a panel requires stands there with or without a row."""
    told = run.table
    asked = np.isin(np.arange(told.rows), run.members)
    outcome, why = _outcomes(told.labels("outcome"), asked, owner, judged, np.ones(told.rows, dtype=bool))
    table = _opening(run, claims, owner, outcome, why, told.labels("hull_area"))
    table.word("load_area", "hull area whose load governs", told.labels("load_area"))
    table.word("grade", "steel grade judged", told.labels("grade"))
    required = _Table(np.where(asked, "", NOTHING_ASKED).astype(np.str_))
    for name in ("spacing_m", "span_m", "thickness_net_required_mm", "addition_mm", "thickness_required_mm"):
        required.of(told, name)
    table.of(told, "thickness_as_built_mm", "thickness_offered_mm")
    net = told["thickness_as_built_mm"].data - told["addition_mm"].data
    table.number("thickness_net_offered_mm", "mm", "offered less the addition", net)
    for name in ("minus_tolerance_mm", "ratio", "margin_mm"):
        table.of(told, name)
    percent = 100.0 * told["margin_mm"].data / told["thickness_required_mm"].data
    table.number("margin_percent", "%", "margin over required", percent)
    clause = np.where(asked, rule.checks[0].ref, "")
    table.word("governing", "governing check", told.labels("governing"))
    table.word("clause", "clause of the governing check", clause)
    first, second = table.made("offered plates"), required.made("required")
    head = list(first)[:8]
    columns = {**{n: first[n] for n in head}, **{n: second[n] for n in second}, **{n: first[n] for n in first}}
    return ColumnTable("offered plates", columns)


def frame_table(
    run: MemberRun, claims: Claims, owner: IntArray, judged: BoolArray, local: BoolArray, asked: IntArray,
    on: LabelArray, ratios: FloatArray, rule: MemberRule, hull_area: LabelArray,
) -> ColumnTable:  # fmt: skip
    """Return the judgement of every frame span; ``asked`` are the spans of which the rule asks something."""
    told, count = run.table, run.table.rows
    wanted = np.isin(np.arange(count), asked)
    outcome, why = _outcomes(told.labels("outcome"), wanted, owner, judged, local)
    table = _opening(run, claims, owner, outcome, why, hull_area)
    table.word("load_area", "hull area whose load governs", told.labels("load_area"))
    table.word("section", "section as built", told.labels("section"))
    table.word("grade", "steel grade judged", told.labels("grade"))
    table.word("plates_from", "whose plates it stands on", np.where(judged, on, ""))
    for name in ("shear_area_required_cm2", "shear_area_offered_cm2", "modulus_required_cm3", "modulus_offered_cm3"):
        table.of(told, name, void=_member_void(run, rule, rule.shown.get(name, "")))
    most = np.full((count, len(rule.checks)), -np.inf)
    np.maximum.at(most, run.rows.member, known_or_infinite(ratios))
    for place, check in enumerate(rule.checks):
        name = f"ratio_{check.name.replace(' ', '_')}"
        void = _member_void(run, rule, check.required)
        ratio, why_none = np.where(void != "", np.nan, most[:, place]), None if (void == "").all() else void
        table.number(name, "-", f"required over offered, {check.name}, {check.ref}", ratio, why_none)
    table.of(told, "ratio")
    margin = np.divide(100.0, told["ratio"].data, out=np.full(count, np.nan), where=told["ratio"].data > 0.0) - 100.0
    table.number("margin_percent", "%", "offered over required less one, governing check", margin)
    table.word("governing", "governing check", told.labels("governing"))
    refs = {check.name: check.ref for check in rule.checks}
    clause = np.array([refs.get(str(name), "") for name in told.labels("governing")])
    table.word("clause", "clause of the governing check", clause)
    return table.made("offered frames")


def judged_here(table: ColumnTable) -> BoolArray:
    """Return which members (n,) a row of the list is judged for."""
    outcome = table.labels("outcome")
    return (table["row"].data > 0) & ~np.isin(outcome, (NO_ROW, NOT_JUDGED, NOT_HERE))


def tally(table: ColumnTable) -> dict[str, int]:
    """Return how many members came out which way, the judged ones first."""
    order = (MET, NOT_MET, NOT_JUDGED, NO_ROW, NOT_HERE, NOTHING_ASKED)
    outcome = table.labels("outcome")
    return {word: int((outcome == word).sum()) for word in order if (outcome == word).any()}
