"""Web frames and load-carrying stringers: the load each is designed for, its stability, and what stays open.

A member whose strength is a matter of calculation (directly, in a grillage) and that has no result is open, never met.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray

from beltwright.arrangement.model import Arrangement
from beltwright.core.columns import Column, ColumnTable
from beltwright.core.findings import Findings
from beltwright.core.outcome import is_met, utilisation
from beltwright.core.units import BoolArray, FloatArray, LabelArray, Unit
from beltwright.rules.protocol import DesignLoads, HullAreas, MemberRule
from beltwright.scantlings import codes
from beltwright.scantlings.areas import touched_by_lines
from beltwright.scantlings.design import HullMeasures
from beltwright.scantlings.members import (
    GIVEN,
    MET,
    NO_REQUIREMENT,
    NOBODY,
    NOT_MET,
    NOTHING_ASKED,
    MemberRows,
    MemberRun,
    Sheet,
    chain_inputs,
    member_rows,
    most_demanding,
    touched_words,
)
from beltwright.scantlings.support_lines import GivenScantlings, given_scantlings
from beltwright.scantlings.support_spans import STRINGER, SupportSpans, support_spans
from beltwright.ship.model import Ship

OPEN = "open"
NOT_GIVEN, NOT_CALCULATED = "no scantlings given", "no calculation given"
DIRECT, OWN = "direct calculation", "calculation by the society's method"
_SIZES = (
    ("web_height_mm", "web height"),
    ("web_as_built_mm", "web thickness as built"),
    ("web_net_mm", "net web thickness"),
    ("flange_breadth_mm", "flange breadth"),
    ("flange_as_built_mm", "flange thickness as built"),
    ("flange_net_mm", "net flange thickness"),
)


@dataclass(frozen=True, slots=True, kw_only=True)
class SupportRun:
    """The web frames and stringers: their spans, what is given for them, and their run through the rule set.

    ``required`` (m,) says for ``run.members`` whether the rule set requires a direct calculation.
    """

    spans: SupportSpans
    given: GivenScantlings
    run: MemberRun
    required: BoolArray


def design_supports(
    ship: Ship, rule: MemberRule, areas: HullAreas, measures: HullMeasures, loads: DesignLoads,
    arrangement: Arrangement, plating: ColumnTable, findings: Findings,
) -> SupportRun:  # fmt: skip
    """Return the web frames and load-carrying stringers of the arrangement."""
    spans = support_spans(arrangement)
    hit = touched_by_lines(areas, measures, spans.points, spans.normals)
    rows = member_rows(areas, hit)
    hull_area = np.full(spans.count, "", dtype="<U8")
    hull_area[rows.member] = rows.factor_area
    given = given_scantlings(ship, spans, hull_area.astype(np.str_), arrangement.levels, findings)
    member = _columns(ship, spans, given, rows, *_plate_beside(spans, arrangement, plating))
    out = rule.chain.run(chain_inputs(rule.chain, loads.columns, member))
    governing = most_demanding(rows, out[rule.result])
    members = rows.member[governing]
    ratios = np.stack([utilisation(out[c.required], out[c.offered])[governing] for c in rule.checks], axis=1)
    required = np.broadcast_to(out["direct_required"], len(rows.member))[governing]
    table = _table(spans, areas, hit, given, rule, rows, out, ratios, governing, required)
    _report(table, members, ratios, required, given, findings)
    run = MemberRun(table=table, rows=rows, values=out, members=members, governing=governing)
    return SupportRun(spans=spans, given=given, run=run, required=required)


def _columns(
    ship: Ship, spans: SupportSpans, given: GivenScantlings, rows: MemberRows, plate_net_mm: FloatArray,
    plate_yield_mpa: FloatArray,
) -> dict[str, NDArray[Any]]:  # fmt: skip
    """The columns of the vocabulary, per row."""
    member: dict[str, NDArray[Any]] = {name: values[rows.member] for name, values in given.numbers.items()}
    member |= {
        "web_frame_spacing_m": spans.web_frame_spacing_m[rows.member],
        "part_of_grillage": given.in_grillage[rows.member],
        "peak_in_grillage": np.array([ship.direct.peak_in_grillage]),
        "section_kind": given.kind[rows.member],
        "yield_mpa": given.yield_mpa[rows.member],
        "plate_net_fitted_mm": plate_net_mm[rows.member],
        "plate_yield_mpa": plate_yield_mpa[rows.member],
    }
    return member | rows.columns()


def _plate_beside(spans: SupportSpans, arrangement: Arrangement, plating: ColumnTable) -> tuple[FloatArray, FloatArray]:
    """The net thickness and yield (n,) of that plate beside each span which asks for most; NaN without any."""
    panels = arrangement.panels
    addition = np.nan_to_num(plating["addition_mm"].data, nan=0.0)
    net, yields = plating["thickness_as_built_mm"].data - addition, plating["yield_mpa"].data
    weight = np.where(np.isnan(net), -np.inf, net * np.sqrt(yields))
    number = {name: k for k, name in enumerate(np.unique(panels.labels("zone")))}
    zone_of = np.array([number[z] for z in panels.labels("zone")])
    level = {one.name: k for k, one in enumerate(arrangement.levels)}
    low, high = (np.array([level.get(n, -1) for n in panels.labels(f"{end}_level")]) for end in ("lower", "upper"))
    aft, fore = panels.values("frame_aft"), panels.values("frame_fore")
    thickness, strength = np.full(spans.count, np.nan), np.full(spans.count, np.nan)
    for i in range(spans.count):
        if spans.kind[i] == STRINGER:
            k = level[str(spans.level[i])]
            beside = ((low == k) | (high == k)) & (fore > spans.frame_aft[i]) & (aft < spans.frame_fore[i])
        else:
            frame = spans.frame_aft[i]
            beside = (low == level.get(str(spans.one_end[i]), -1)) & (aft <= frame) & (fore >= frame)
            beside &= zone_of == number.get(str(spans.zone[i]), -1)
        here = np.flatnonzero(beside)
        if len(here) and weight[here].max() > -np.inf:
            best = here[int(np.argmax(weight[here]))]
            thickness[i], strength[i] = net[best], yields[best]
    return thickness, strength


def _outcomes(ratios: FloatArray) -> LabelArray:
    """Not met where a check fails, open where one is not known, met else (m,)."""
    unknown = np.isnan(ratios)
    failed = (~is_met(ratios) & ~unknown).any(axis=1)
    return np.where(failed, NOT_MET, np.where(unknown.any(axis=1), OPEN, MET)).astype(np.str_)


def _calculated(rule: MemberRule) -> BoolArray:
    """Which checks (c,) compare what a calculation gave: an input that the caller brings, not a number of the chain."""
    return np.array([check.required in rule.chain.inputs for check in rule.checks], dtype=bool)


def _table(
    spans: SupportSpans, areas: HullAreas, hit: BoolArray, given: GivenScantlings, rule: MemberRule, rows: MemberRows,
    out: dict[str, NDArray[Any]], ratios: FloatArray, governing: NDArray[np.int64], required: BoolArray,
) -> ColumnTable:  # fmt: skip
    """The members as a table."""
    members = rows.member[governing]
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
    sheet.word("strength_by", "how its strength is shown", np.where(required, DIRECT, OWN))
    sheet.word("outcome", "how it stands", _outcomes(ratios), NOTHING_ASKED)
    for name, output in rule.shown.items():
        clause = next(step.clause for step in rule.chain.steps if step.output == output)
        sheet.number(name, clause.unit.symbol, clause.title, np.broadcast_to(out[output], len(rows.member))[governing])
    sheet.whole("source", "label", "where the scantlings come from", np.where(given.given, GIVEN, NOBODY))
    sheet.whole("grade", "label", "steel grade", given.grade)
    sheet.whole("calculation", "label", "the calculation of its stresses", given.calculation)
    judged = _judged(spans.count, members, rule, ratios)
    sizes = {name: _given("mm", meaning, given.numbers[name], NOT_GIVEN) for name, meaning in _SIZES}
    return sheet.table("web frames and stringers").with_columns({**sizes, **judged})


def _judged(count: int, members: NDArray[np.int64], rule: MemberRule, ratios: FloatArray) -> dict[str, Column]:
    """The greatest ratio of stability and of the calculation's stresses, and the check that governs stability."""
    calculated = _calculated(rule)
    names = np.array([check.name for check in rule.checks], dtype=np.str_)
    found: dict[str, Column] = {}
    for name, meaning, chosen, missing in (
        ("stability_ratio", "greatest of required over offered, stability", ~calculated, NOT_GIVEN),
        ("stress_ratio", "greatest of stress over limit, calculation", calculated, NOT_CALCULATED),
    ):
        whole = np.full(count, np.nan)
        whole[members] = ratios[:, chosen].max(axis=1)
        found[name] = _given("-", meaning, whole, missing, members)
    stable = ratios[:, ~calculated]
    word = np.full(count, "", dtype="<U40")
    known = ~np.isnan(stable).any(axis=1)
    word[members[known]] = names[~calculated][np.argmax(stable[known], axis=1)]
    found["stability_governing"] = Column(unit=Unit("label"), meaning="governing check of stability", data=word)
    return found


def _given(unit: str, meaning: str, data: FloatArray, missing: str, members: NDArray[np.int64] | None = None) -> Column:
    """A column of numbers, with the reason where there is none."""
    reason = np.where(np.isnan(data), missing, "").astype("<U60")
    if members is not None:
        asked = np.zeros(len(data), dtype=bool)
        asked[members] = True
        reason[~asked] = NO_REQUIREMENT
    return Column(unit=Unit(unit), meaning=meaning, data=data, reason=reason)


def _report(
    table: ColumnTable, members: NDArray[np.int64], ratios: FloatArray, required: BoolArray, given: GivenScantlings,
    findings: Findings,
) -> None:  # fmt: skip
    """Name what fails and what stays open."""
    outcome = table.labels("outcome")[members]
    failed = np.flatnonzero(outcome == NOT_MET)
    if len(failed):
        greatest = np.nan_to_num(ratios[failed], nan=-np.inf).max(axis=1)
        worst = failed[int(np.argmax(greatest))]
        findings.add(
            codes.REQUIREMENT_NOT_MET, "web frames and stringers",
            f"{len(failed)} members; worst {table.labels('id')[members[worst]]} at {greatest.max():.3f} (given)",
        )  # fmt: skip
    unsolved = np.isnan(ratios).any(axis=1)
    if unsolved.any():
        no_result = given.calculation[members] == ""
        bare = ~given.given[members]
        told = (
            f"{int(unsolved.sum())} of {len(members)} under ice load are open: "
            f"{int((no_result & required).sum())} lie in a grillage and have no direct calculation, "
            f"{int((no_result & ~required).sum())} others no calculation by the society's method, "
            f"{int(bare.sum())} no scantlings"
        )
        findings.add(codes.SUPPORTS_OPEN, "web frames and load-carrying stringers", told)
