"""Web frames and load-carrying stringers: the load each is designed for, its stability, and what stays open.

A member whose strength is a matter of calculation (directly, in a grillage) and that has no result is open, never met.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

import numpy as np
from numpy.typing import NDArray

from beltwright.arrangement.model import Arrangement
from beltwright.arrangement.plan import Role
from beltwright.core.clause import Clause
from beltwright.core.columns import Column, ColumnTable
from beltwright.core.findings import Findings
from beltwright.core.outcome import at_ratio, is_met
from beltwright.core.units import BoolArray, FloatArray, LabelArray, Unit
from beltwright.rules.protocol import EVERYTHING, About, DesignLoads, HullAreas, MemberRule, SupportRule
from beltwright.scantlings import codes
from beltwright.scantlings.areas import touched_by_lines
from beltwright.scantlings.design import HullMeasures
from beltwright.scantlings.members import (
    GIVEN,
    MET,
    NO_REQUIREMENT,
    NO_RESULT,
    NOBODY,
    NOT_MET,
    NOTHING_ASKED,
    MemberRows,
    MemberRun,
    Sheet,
    chain_inputs,
    member_rows,
    most_demanding,
    tell_beyond,
    touched_words,
)
from beltwright.scantlings.on_demand import OnDemand
from beltwright.scantlings.support_facts import SupportFacts
from beltwright.scantlings.support_lines import GivenScantlings, given_scantlings
from beltwright.scantlings.support_run import KindRun, SupportRun
from beltwright.scantlings.support_spans import STRINGER, SupportSpans, support_spans
from beltwright.ship.model import Orientation, Ship

OPEN = "open"
NOT_GIVEN, NOT_CALCULATED = "no scantlings given", "no calculation given"
OTHER_KIND = "not asked of this kind of member"
DIRECT, OWN = "direct calculation", "calculation by the society's method"
FORMULA = "the formulas of the rule"
_RATIOS = (
    (About.STRENGTH, "greatest of required over offered, strength", NOT_GIVEN),
    (About.STABILITY, "greatest of required over offered, stability", NOT_GIVEN),
    (About.STRESS, "greatest of stress over limit, calculation", NOT_CALCULATED),
)
_SIZES = (
    ("web_height_mm", "web height"),
    ("web_as_built_mm", "web thickness as built"),
    ("web_net_mm", "net web thickness"),
    ("flange_breadth_mm", "flange breadth"),
    ("flange_as_built_mm", "flange thickness as built"),
    ("flange_net_mm", "net flange thickness"),
)


def design_supports(
    ship: Ship, rules: tuple[SupportRule, ...], areas: HullAreas, measures: HullMeasures, loads: DesignLoads,
    arrangement: Arrangement, plating: ColumnTable, findings: Findings,
) -> SupportRun:  # fmt: skip
    """Return the web frames and load-carrying stringers of the arrangement, each kind by its own rule."""
    spans = support_spans(arrangement, through_stringers=any(one.through_stringers for one in rules))
    hit = touched_by_lines(areas, measures, spans.points, spans.normals)
    own = {one.kinds: _touched(one, spans, hit, arrangement, areas, measures) for one in rules}
    rows_of = [member_rows(areas, own[one.kinds], *EVERYTHING) for one in rules]
    hull_area = np.full(spans.count, "", dtype="<U8")
    for rows in rows_of:
        hull_area[rows.member] = rows.factor_area
    given = given_scantlings(ship, spans, hull_area.astype(np.str_), arrangement.levels, findings)
    facts = SupportFacts(ship, spans, given, arrangement, areas, measures, plating).columns()
    asked, tables = [], []
    for one, rows in zip(rules, rows_of, strict=True):
        out = _numbers(one, facts, rows, spans, given, loads)
        governing = most_demanding(rows, out[one.rule.result])
        members = rows.member[governing]
        ratios = np.stack([check.ratio(out)[governing] for check in one.rule.checks], axis=1)
        required = np.zeros(len(members), dtype=bool)
        if one.direct:
            required = np.broadcast_to(out[one.direct], len(rows.member))[governing]
        table = _table(spans, areas, own[one.kinds], given, one, rows, out, ratios, governing, required)
        _report(one, table, members, ratios, required, given, findings)
        bare = rows.take(np.flatnonzero(given.given[rows.member]))
        known = {name: v if len(v) == 1 else v[given.given[rows.member]] for name, v in out.items()}
        tell_beyond(one.rule, bare, known, spans.id, _called(one), findings)
        tables.append((np.isin(spans.kind, [kind.value for kind in one.kinds]), table))
        asked.append((one, rows, out, governing, members, required))
    whole = joined(tables)
    runs = tuple(
        KindRun(
            asked=one, required=required,
            run=MemberRun(table=whole, rows=rows, values=out, members=members, governing=governing),
        )
        for one, rows, out, governing, members, required in asked
    )  # fmt: skip
    return SupportRun(spans=spans, given=given, table=whole, runs=runs)


def _called(one: SupportRule) -> str:
    """The kinds of a rule in words."""
    return " and ".join(f"{kind.value}s" for kind in one.kinds)


def _touched(
    one: SupportRule, spans: SupportSpans, hit: BoolArray, arrangement: Arrangement, areas: HullAreas,
    measures: HullMeasures,
) -> BoolArray:  # fmt: skip
    """The areas that count for the spans of a rule's kinds (n, areas); none for other kinds."""
    mine = np.isin(spans.kind, [kind.value for kind in one.kinds])
    counted = hit & mine[:, None]
    if not one.by_frames:
        return counted
    frames, shapes = arrangement.frames, arrangement.frame_shapes
    carried = touched_by_lines(areas, measures, shapes.samples, shapes.sample_normals)
    local = frames.labels("role") != Role.WEB.value
    lower, upper, place = frames.labels("lower_level"), frames.labels("upper_level"), frames.values("frame")
    across = frames.labels("orientation") == Orientation.TRANSVERSE.value
    for i in np.flatnonzero(mine & (spans.kind == STRINGER)).tolist():
        between = (place >= spans.frame_aft[i]) & (place <= spans.frame_fore[i])
        meets = local & across & between & ((lower == spans.level[i]) | (upper == spans.level[i]))
        counted[i] |= carried[meets].any(axis=0)
    return counted


def _numbers(
    one: SupportRule, facts: OnDemand, rows: MemberRows, spans: SupportSpans, given: GivenScantlings,
    loads: DesignLoads,
) -> dict[str, NDArray[Any]]:  # fmt: skip
    """The numbers of a rule's chain; the inputs of members with scantlings are held to their ranges."""
    columns = chain_inputs(one.rule.chain, loads.columns, facts.rows(rows.member).joined(rows.columns()))
    there = np.flatnonzero(given.given[rows.member])
    if len(there):
        known = {name: values if len(values) == 1 else values[there] for name, values in columns.items()}
        one.rule.check_inputs(known, spans.id[rows.member[there]])
    return one.rule.chain.run(columns)


def _outcomes(ratios: FloatArray) -> LabelArray:
    """Not met where a check fails, open where one is not known, met else (m,)."""
    unknown = np.isnan(ratios)
    failed = (~is_met(ratios) & ~unknown).any(axis=1)
    return np.where(failed, NOT_MET, np.where(unknown.any(axis=1), OPEN, MET)).astype(np.str_)


def _table(
    spans: SupportSpans, areas: HullAreas, hit: BoolArray, given: GivenScantlings, one: SupportRule, rows: MemberRows,
    out: dict[str, NDArray[Any]], ratios: FloatArray, governing: NDArray[np.int64], required: BoolArray,
) -> ColumnTable:  # fmt: skip
    """All spans as a table, filled for those of a rule's kinds."""
    members, rule = rows.member[governing], one.rule
    sheet = Sheet(spans.count, members, NO_REQUIREMENT)
    for name, meaning in (
        ("id", "web frame span or stringer bay"), ("kind", "what it is"), ("zone", "framing zone"),
        ("one_end", "what holds it below, or aft"), ("other_end", "what holds it above, or forward"),
        ("grillage", "grillage in which it lies: bulkhead to bulkhead, deck to deck"),
    ):  # fmt: skip
        sheet.whole(name, "label", meaning, getattr(spans, name))
    sheet.whole("frame_aft", "frame", "frame number of its aft end", spans.frame_aft)
    sheet.whole("frame_fore", "frame", "frame number of its forward end", spans.frame_fore)
    for k, axis in enumerate("xyz"):
        sheet.whole(f"{axis}_m", "m", f"{axis} in its middle", spans.middle[:, k])
    sheet.whole("length_m", "m", "length along the shell between what holds it", spans.length_m)
    sheet.whole("web_frame_spacing_m", "m", "spacing of web frames along the axis", spans.web_frame_spacing_m)
    sheet.word("hull_area", "hull area whose factor the member takes", rows.factor_area[governing])
    sheet.whole("touched", "label", "hull areas that the member touches", touched_words(areas, hit))
    sheet.word("load_area", "hull area whose load is told", rows.load_area[governing])
    sheet.whole("part_of_grillage", "flag", "web frame and stringer carry each other", given.in_grillage)
    by = np.where(required, DIRECT, OWN) if one.direct else np.full(len(members), FORMULA)
    sheet.word("strength_by", "how its strength is shown", by)
    sheet.word("outcome", "how it stands", _outcomes(ratios), NOTHING_ASKED)
    for name, output in rule.shown.items():
        clause = next(step.clause for step in rule.chain.steps if step.output == output)
        values = np.broadcast_to(out[output], len(rows.member))[governing]
        if one.direct:
            sheet.number(name, clause.unit.symbol, clause.title, values)
        else:
            sheet.column(name, _asked(clause, spans.count, members, values, given.given))
    sheet.whole("source", "label", "where the scantlings come from", np.where(given.given, GIVEN, NOBODY))
    sheet.whole("grade", "label", "steel grade", given.grade)
    sheet.whole("calculation", "label", "the calculation of its stresses", given.calculation)
    judged = _judged(spans.count, members, rule, ratios)
    sizes = {name: _given("mm", meaning, given.numbers[name], NOT_GIVEN) for name, meaning in _SIZES}
    return sheet.table("web frames and stringers").with_columns({**sizes, **judged})


def _judged(count: int, members: NDArray[np.int64], rule: MemberRule, ratios: FloatArray) -> dict[str, Column]:
    """The greatest ratio of what the checks speak of, and the check that governs where it is not a calculation's."""
    about = np.array([check.about.name for check in rule.checks])
    names = np.array([check.name for check in rule.checks], dtype=np.str_)
    found: dict[str, Column] = {}
    for kind, meaning, missing in _RATIOS:
        chosen = about == kind.name
        if not chosen.any():
            continue
        whole = np.full(count, np.nan)
        whole[members] = ratios[:, chosen].max(axis=1)
        found[f"{kind.name.lower()}_ratio"] = _given("-", meaning, whole, missing, members)
    for kind, _, _ in _RATIOS:
        chosen = about == kind.name
        if not chosen.any() or kind is About.STRESS:
            continue
        word = np.full(count, "", dtype="<U40")
        known = ~np.isnan(ratios[:, chosen]).any(axis=1)
        word[members[known]] = names[chosen][np.argmax(ratios[known][:, chosen], axis=1)]
        meaning = f"governing check of {kind.value}"
        found[f"{kind.name.lower()}_governing"] = Column(unit=Unit("label"), meaning=meaning, data=word)
    return found


def joined(parts: Sequence[tuple[BoolArray, ColumnTable]]) -> ColumnTable:
    """Return the tables of the kinds as one: each span's row from the table of its own kind, by a mask (n,).

    A number that only other kinds have does not apply.
    """
    if len(parts) == 1:
        return parts[0][1]
    names = dict.fromkeys(name for _, table in parts for name in table)
    columns = {name: _joined_column([(mask, table.get(name)) for mask, table in parts])
               for name in names}  # fmt: skip
    return ColumnTable(parts[0][1].name, columns)


def _joined_column(parts: Sequence[tuple[BoolArray, Column | None]]) -> Column:
    """One column from those of the kinds."""
    model = next(column for _, column in parts if column is not None)
    words = model.data.dtype.kind in "US"
    data = np.full(len(parts[0][0]), "", dtype=object) if words else np.full(len(parts[0][0]), np.nan)
    reason = np.full(len(data), OTHER_KIND, dtype=object)
    for mask, column in parts:
        if column is not None:
            data[mask] = column.data[mask]
            reason[mask] = "" if column.reason is None else column.reason[mask]
    if words:
        return Column(unit=model.unit, meaning=model.meaning, data=data.astype(np.str_))
    if model.data.dtype.kind == "b":
        return Column(unit=model.unit, meaning=model.meaning, data=np.nan_to_num(data.astype(float)).astype(bool))
    lost = reason.astype(np.str_)
    return Column(unit=model.unit, meaning=model.meaning, data=data, reason=lost if (lost != "").any() else None)


def _given(unit: str, meaning: str, data: FloatArray, missing: str, members: NDArray[np.int64] | None = None) -> Column:
    """A column of numbers, with the reason where there is none."""
    reason = np.where(np.isnan(data), missing, np.where(np.isinf(data), NO_RESULT, "")).astype("<U60")
    if members is not None:
        asked = np.zeros(len(data), dtype=bool)
        asked[members] = True
        reason[~asked] = NO_REQUIREMENT
    return Column(unit=Unit(unit), meaning=meaning, data=data, reason=reason)


def _asked(
    clause: Clause[Any, Any], count: int, members: NDArray[np.int64], values: FloatArray, given: BoolArray
) -> Column:
    """A number that may hang on scantlings; where it has no value, whether for want of them or beyond a formula."""
    data, reason = np.full(count, np.nan), np.full(count, NO_REQUIREMENT, dtype="<U60")
    data[members] = values
    why = np.where(given[members], NO_RESULT, NOT_GIVEN)
    reason[members] = np.where(np.isfinite(values), "", why)
    return Column(unit=clause.unit, meaning=clause.title, data=data, reason=reason)


def _report(
    one: SupportRule, table: ColumnTable, members: NDArray[np.int64], ratios: FloatArray, required: BoolArray,
    given: GivenScantlings, findings: Findings,
) -> None:  # fmt: skip
    """Name what fails and what stays open."""
    outcome = table.labels("outcome")[members]
    failed = np.flatnonzero(outcome == NOT_MET)
    if len(failed):
        greatest = np.where(np.isnan(ratios[failed]), -np.inf, ratios[failed]).max(axis=1)
        worst = failed[int(np.argmax(greatest))]
        findings.add(
            codes.REQUIREMENT_NOT_MET, _called(one),
            f"{len(failed)} members; worst {table.labels('id')[members[worst]]} {at_ratio(greatest.max())} (given)",
        )  # fmt: skip
    unsolved = np.isnan(ratios).any(axis=1)
    if unsolved.any() and not one.direct:
        told = f"{int(unsolved.sum())} of {len(members)} under ice load are open: they have no scantlings"
        findings.add(codes.SUPPORTS_BARE, _called(one), told)
    elif unsolved.any():
        no_result = given.calculation[members] == ""
        bare = ~given.given[members]
        told = (
            f"{int(unsolved.sum())} of {len(members)} under ice load are open: "
            f"{int((no_result & required).sum())} lie in a grillage and have no direct calculation, "
            f"{int((no_result & ~required).sum())} others no calculation by the society's method, "
            f"{int(bare.sum())} no scantlings"
        )
        findings.add(codes.SUPPORTS_OPEN, "web frames and load-carrying stringers", told)
