"""The local frames: what the rule set asks of every span, and the section that is given or proposed.

Spans are grouped like plates, by framing zone, hull area and bay. A section that ``ship.toml`` gives is checked; where
none is given, the lightest section of the catalogue that meets every check of every span of the group is proposed.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from typing import Any

import numpy as np
from numpy.typing import NDArray

from beltwright.arrangement.levels import LevelLine
from beltwright.core.columns import ColumnTable
from beltwright.core.findings import Findings
from beltwright.core.outcome import at_ratio, is_met
from beltwright.core.units import BoolArray, FloatArray, IntArray, LabelArray
from beltwright.rules.protocol import DesignLoads, HullAreas, MemberRule, Strengthens
from beltwright.scantlings import codes
from beltwright.scantlings.choose import Places, group_names, speaks_of
from beltwright.scantlings.chosen import Chosen
from beltwright.scantlings.fitted import ON_PLATE, FittedSections, FrameSetting
from beltwright.scantlings.members import (
    GIVEN,
    MET,
    NO_REQUIREMENT,
    NOBODY,
    NOT_MET,
    NOTHING_ASKED,
    PROPOSED,
    SIZED,
    MemberRows,
    MemberRun,
    Sheet,
    chain_inputs,
    member_rows,
    most_demanding,
    tell_beyond,
    touched_words,
    with_angles,
)
from beltwright.scantlings.netsections import net_section_columns
from beltwright.scantlings.on_demand import OnDemand
from beltwright.scantlings.sectionstock import SectionStock
from beltwright.scantlings.yields import SectionYields, by_thickness
from beltwright.sections.codes import section_findings
from beltwright.ship.model import Ship

_SOME = 200  # candidates tried on the hardest rows at a time
_BATCH = 4  # candidates tried on whole groups at a time


class Checker:
    """Runs the framing rule on rows of spans with sections, and says how each check comes out.

    ``member`` are the columns of the spans, one per row of ``rows``; ``fitted`` gives those that a section decides.
    """

    def __init__(self, rule: MemberRule, ship_columns: Mapping[str, NDArray[Any]], rows: MemberRows, member: OnDemand,
                 stock: SectionStock, fitted: FittedSections, yields: SectionYields) -> None:  # fmt: skip
        self.rule, self.rows, self.stock, self.yields = rule, rows, stock, yields
        self._ship, self._member, self._fitted = ship_columns, member, fitted

    def inputs(self, rows: IntArray, sections: IntArray) -> dict[str, NDArray[Any]]:
        """Return the chain's inputs for rows (m,) with sections (m,)."""
        spans = self.rows.member[rows]
        fitted = self._fitted.columns(spans, sections, self.rule.chain.inputs)
        own = self._member.rows(rows).joined({**fitted, "yield_mpa": self.yields.of(spans, sections)})
        return chain_inputs(self.rule.chain, self._ship, own)

    def ratios(self, out: Mapping[str, NDArray[Any]], rows: int) -> FloatArray:
        """Return required over offered of every check (rows, checks); a number of one length stands for all rows."""
        each = [check.ratio(out) for check in self.rule.checks]
        return np.stack([np.broadcast_to(one, rows) for one in each], axis=1)

    def run(self, rows: IntArray, sections: IntArray) -> tuple[dict[str, NDArray[Any]], FloatArray]:
        """Return the chain's numbers and the ratios for rows (m,) with sections (m,)."""
        out = self.rule.chain.run(self.inputs(rows, sections))
        return out, self.ratios(out, len(rows))

    def worst(self, tries: Sequence[tuple[IntArray, IntArray]]) -> list[FloatArray]:
        """Return for each try of rows (r,) with sections (s,) what every section comes to, all tries in one run.

        That is the greatest ratio over rows and checks (s,); NaN counts as infinite.
        """
        if not tries:
            return []
        pairs = [np.meshgrid(rows, sections) for rows, sections in tries]
        every, tried = (np.concatenate([pair[k].ravel() for pair in pairs]) for k in (0, 1))
        greatest = known_or_infinite(self.run(every, tried)[1]).max(axis=1)
        parts = np.split(greatest, np.cumsum([pair[0].size for pair in pairs])[:-1])
        return [part.reshape(pair[0].shape).max(axis=1) for part, pair in zip(parts, pairs, strict=True)]


def known_or_infinite(ratios: FloatArray) -> FloatArray:
    """Return ratios with NaN as infinite: what is not known is not met."""
    known: FloatArray = np.where(np.isnan(ratios), np.inf, ratios)
    return known


def design_frames(
    ship: Ship,
    rule: MemberRule,
    areas: HullAreas,
    loads: DesignLoads,
    frames: ColumnTable,
    facts: OnDemand,
    touched: BoolArray,
    unsupported: BoolArray,
    places: Places,
    levels: tuple[LevelLine, ...],
    plates: FrameSetting,
    stock: SectionStock,
    findings: Findings,
    chosen: Chosen | None = None,
) -> MemberRun:
    """Return the framing; sections that are ``chosen`` are fitted as they are, and checked.

    ``facts``, ``touched`` (n, areas), ``places`` and ``plates`` are those of the spans; ``unsupported`` (n,) marks
    spans whose end is simply supported where the rule asks for fixity, which no section can heal. Web frames carry no
    local check.
    """
    local = frames.labels("role") != "web frame"
    checker = frame_checker(rule, areas, loads, frames, facts, touched & local[:, None], plates, stock)
    if chosen is None:
        section, source = _sections(ship, places, levels, checker, group_names(places), findings)
    else:
        section = stock.rows_of(chosen.section)
        source = np.where(section < 0, NOBODY, SIZED)
    findings.extend(section_findings(stock.used(section), where="ship.toml: frame_sections"))
    return framing_run(checker, areas, frames, touched, unsupported, places, plates, section, source, findings)


def frame_checker(
    rule: MemberRule, areas: HullAreas, loads: DesignLoads, frames: ColumnTable, facts: OnDemand, touched: BoolArray,
    plates: FrameSetting, stock: SectionStock,
) -> Checker:  # fmt: skip
    """Return what runs the rule on spans; only those with an area in ``touched`` (n, areas) are run.

    Raises InputError naming the span where a measure of it is not a number or out of its range.
    """
    rows, omega = with_angles(member_rows(areas, touched, Strengthens.FRAMING), frames["omega_deg"])
    columns = facts.rows(rows.member).joined(
        {
            "omega_deg": omega,
            "plate_yield_mpa": plates.plate_yield_mpa[rows.member],
            "plate_net_fitted_mm": plates.plate_net_mm[rows.member],
            **rows.columns(),
        }
    )
    for limit in rule.limits:
        if limit.column in columns and limit.column not in ON_PLATE:  # without a net plate a span fails: no bad input
            limit.check(rule.name, columns, frames.labels("id")[rows.member])
    yields = SectionYields(plates.grade, stock.thickest_as_built_mm)
    fitted = FittedSections(stock, plates, facts)
    return Checker(rule, loads.columns, rows, columns, stock, fitted, yields)


def framing_run(
    checker: Checker, areas: HullAreas, frames: ColumnTable, touched: BoolArray, unsupported: BoolArray,
    places: Places, plates: FrameSetting, section: IntArray, source: LabelArray, findings: Findings,
) -> MemberRun:  # fmt: skip
    """Return the framing with the sections that are fitted (n,), rows of the stock.

    A span beside which no net plate stands fails, whatever its section.
    """
    rule, rows, stock, groups = checker.rule, checker.rows, checker.stock, group_names(places)
    thickest = np.where(section >= 0, stock.thickest_as_built_mm[section], np.nan)
    plates = replace(plates, yield_mpa=by_thickness(plates.grade, thickest, where="ship.toml: grade of a frame"))
    ids = frames.labels("id")
    inputs = checker.inputs(np.arange(len(rows.member)), section[rows.member])
    bare = ~(plates.plate_net_mm[rows.member] > 0.0)
    on_plate = [name for name in ON_PLATE if name in inputs]
    rule.check_inputs({**inputs, **{n: np.where(bare, 1.0, inputs[n]) for n in on_plate}}, ids[rows.member])
    out = rule.chain.run({**inputs, **{n: np.where(bare, np.nan, inputs[n]) for n in on_plate}})
    ratios = checker.ratios(out, len(rows.member))
    ratios[unsupported[rows.member] | bare] = np.inf
    worst = known_or_infinite(ratios).max(axis=1)
    governing = most_demanding(rows, worst)
    members = rows.member[governing]
    ratio = worst[governing]
    if bare.any():
        first = ids[rows.member[int(np.argmax(bare))]]
        findings.add(codes.NO_NET_PLATE, "frames", f"{len(np.unique(rows.member[bare]))} spans, first {first}")
    _report(findings, ids, members, ratio, unsupported, source)
    tell_beyond(rule, rows, out, ids, "frames", findings)
    _tell_readings(rule, rows, out, ids, findings)
    table = _table(frames, areas, touched, places, plates, stock, section, source, groups, rows, rule, out, ratios,
                   governing)  # fmt: skip
    return MemberRun(table=table, rows=rows, values=out, members=members, governing=governing)


def given_grades(
    ship: Ship, places: Places, levels: tuple[LevelLine, ...], findings: Findings
) -> tuple[LabelArray, FloatArray]:
    """Return the grade and yield of every span; later lines of ``frame_sections`` win."""
    grades = np.full(len(places.zone), ship.steel.frame_grade, dtype="<U40")
    for number, line in enumerate(ship.frame_sections, 1):
        chosen = speaks_of(line, places, ship, levels, f"frame_sections[{number}]")
        if not chosen.any():
            findings.add(codes.GIVEN_NOT_USED, f"ship.toml: frame_sections[{number}]", "no frame lies there")
        if line.grade is not None:
            grades[chosen] = line.grade
    named = grades.astype(np.str_)
    return named, by_thickness(named, np.nan, where="ship.toml: steel")


def _sections(
    ship: Ship, places: Places, levels: tuple[LevelLine, ...], checker: Checker, groups: LabelArray, findings: Findings
) -> tuple[IntArray, LabelArray]:
    """The section of every span (its row in the stock, -1 for none) and where it comes from."""
    section = np.full(len(groups), -1, dtype=np.int64)
    source = np.full(len(groups), NOBODY, dtype="<U8")
    for number, line in enumerate(ship.frame_sections, 1):
        chosen = speaks_of(line, places, ship, levels, f"frame_sections[{number}]")
        section[chosen] = checker.stock.row_of(line.section)
        source[chosen] = GIVEN
    member_groups = groups[checker.rows.member]
    free = section[checker.rows.member] < 0
    names = np.unique(member_groups[free])
    rows_of = [np.flatnonzero(free & (member_groups == name)) for name in names]
    healable = ~_hopeless(checker, np.flatnonzero(free))
    tried = [rows[healable[rows]] if healable[rows].any() else rows for rows in rows_of]
    taken = _lightest(checker, tried, names, findings)
    for rows, some, lightest, name in zip(rows_of, tried, taken, names, strict=True):
        if len(some) < len(rows):
            told = f"none heals {len(rows) - len(some)} of {len(rows)} cases of span and load"
            told += f"; {checker.stock.name(lightest)} is taken for the others"
            findings.add(codes.NO_CANDIDATE, f"frames {name}", told)
        section[checker.rows.member[rows]], source[checker.rows.member[rows]] = lightest, PROPOSED
    return section, source


def _lightest(checker: Checker, groups: Sequence[IntArray], names: LabelArray, findings: Findings) -> list[int]:
    """The lightest section of the stock that meets every check on all rows of each group.

    All candidates are tried on the hardest rows first; those that pass are tried on the whole group, lightest first.
    Where none passes, the one that misses by least is taken, a finding names it, and its check fails.
    """
    if not groups:
        return []
    candidates, hard = checker.stock.candidates, _hardest(checker, groups)
    found: dict[int, int] = {}
    nearest = [(np.inf, int(candidates[0]))] * len(groups)
    for start in range(0, len(candidates), _SOME):
        open_groups = [g for g in range(len(groups)) if g not in found]
        some = candidates[start : start + _SOME]
        first = checker.worst([(hard[g], some) for g in open_groups])
        passing: dict[int, tuple[IntArray, IntArray]] = {}
        for g, worst in zip(open_groups, first, strict=True):
            passing[g] = groups[g], some[is_met(worst)]
            best = int(np.argmin(worst))
            if worst[best] < nearest[g][0]:
                nearest[g] = float(worst[best]), int(some[best])
        found |= _met_throughout(checker, passing)
    for g in range(len(groups)):
        if g not in found:
            ratio, found[g] = nearest[g]
            check = _failing(checker, groups[g], found[g])
            told = f"nearest is {checker.stock.name(found[g])} {at_ratio(ratio)}, failing {check}"
            findings.add(codes.NO_CANDIDATE, f"frames {names[g]}", told)
    return [found[g] for g in range(len(groups))]


def _failing(checker: Checker, rows: IntArray, section: int) -> str:
    """The check that comes out worst on rows with a section."""
    ratios = known_or_infinite(checker.run(rows, np.full(len(rows), section))[1])
    return checker.rule.checks[int(np.argmax(ratios.max(axis=0)))].name


def _hopeless(checker: Checker, rows: IntArray) -> BoolArray:
    """Which of all rows no section can heal: of those given, beyond limit in a middling and in the heaviest section."""
    candidates = checker.stock.candidates
    found = np.zeros(len(checker.rows.member), dtype=bool)
    found[rows] = True
    for section in (candidates[len(candidates) // 2], candidates[-1]):
        worst = known_or_infinite(checker.run(rows, np.full(len(rows), section))[1]).max(axis=1)
        found[rows] &= np.isinf(worst)
    return found


def _met_throughout(checker: Checker, tries: Mapping[int, tuple[IntArray, IntArray]]) -> dict[int, int]:
    """The first section of each try that meets every check on all its rows; tries without one are left out."""
    found: dict[int, int] = {}
    for start in range(0, max((len(sections) for _, sections in tries.values()), default=0), _BATCH):
        left = {g: (rows, s[start : start + _BATCH]) for g, (rows, s) in tries.items() if g not in found}
        left = {g: pair for g, pair in left.items() if len(pair[1])}
        for (g, (_, batch)), worst in zip(left.items(), checker.worst(list(left.values())), strict=True):
            if is_met(worst).any():
                found[g] = int(batch[int(np.argmax(is_met(worst)))])
    return found


def _hardest(checker: Checker, groups: Sequence[IntArray]) -> list[IntArray]:
    """The rows of each group that ask for most, with a middling section: by each check, and by the web's angle."""
    middling = int(checker.stock.candidates[len(checker.stock.candidates) // 2])
    every = np.concatenate(groups)
    ratios = known_or_infinite(checker.run(every, np.full(len(every), middling))[1])
    parts = np.split(ratios, np.cumsum([len(rows) for rows in groups])[:-1])
    return [rows[np.unique(np.argmax(part, axis=0))] for rows, part in zip(groups, parts, strict=True)]


def _table(
    frames: ColumnTable, areas: HullAreas, touched: BoolArray, places: Places, plates: FrameSetting,
    stock: SectionStock, section: IntArray, source: LabelArray, groups: LabelArray, rows: MemberRows, rule: MemberRule,
    out: Mapping[str, NDArray[Any]], ratios: FloatArray, governing: IntArray,
) -> ColumnTable:  # fmt: skip
    """The frames as a table; rows as in the arrangement."""
    members = rows.member[governing]
    known = known_or_infinite(ratios[governing])
    check = np.argmax(known, axis=1)
    ratio = known.max(axis=1)
    names = np.array([spec.name for spec in rule.checks], dtype=np.str_)
    sheet = Sheet(frames.rows, members, NO_REQUIREMENT)
    sheet.whole("id", "label", "frame span", frames.labels("id"))
    sheet.whole("zone", "label", "framing zone", places.zone)
    sheet.word("hull_area", "hull area whose factor the span takes", rows.factor_area[governing])
    sheet.whole("touched", "label", "hull areas that the span touches", touched_words(areas, touched))
    sheet.word("load_area", "hull area whose load governs", rows.load_area[governing])
    sheet.word("outcome", "whether every check is met", np.where(is_met(ratio), MET, NOT_MET), NOTHING_ASKED)
    sheet.whole("source", "label", "where the section comes from", source)
    sheet.whole("group", "label", "spans of one section", groups)
    sheet.whole("section", "label", "section as built", stock.names(section))
    sheet.whole("grade", "label", "steel grade", plates.grade)
    sheet.whole("yield_mpa", "MPa", "minimum upper yield stress", plates.yield_mpa)
    for name, output in rule.shown.items():
        clause = next(step.clause for step in rule.chain.steps if step.output == output)
        sheet.number(name, clause.unit.symbol, clause.title, np.broadcast_to(out[output], len(rows.member))[governing])
    sheet.number("ratio", "-", "greatest of required over offered", ratio)
    sheet.word("governing", "governing check", names[check])
    net_section_columns(sheet, stock, section, members, governing, out)
    sheet.maybe("mass_kg_per_m", "kg/m", "mass as built", stock.mass_kg_per_m(section))
    return sheet.table("frames")


def _report(
    findings: Findings,
    ids: LabelArray,
    members: IntArray,
    ratio: FloatArray,
    unsupported: BoolArray,
    source: LabelArray,
) -> None:
    """Name the spans that fail."""
    loose = members[unsupported[members]]
    if len(loose):
        findings.add(
            codes.SIMPLE_SUPPORT_IN_ICE, "frames", f"{len(loose)} spans, first {ids[loose[0]]}",
        )  # fmt: skip
    failed = ~is_met(ratio)
    if failed.any():
        worst = int(np.argmax(np.where(failed, ratio, -np.inf)))
        findings.add(
            codes.REQUIREMENT_NOT_MET, "frames",
            f"{int(failed.sum())} spans; worst {ids[members[worst]]} {at_ratio(ratio[worst])} "
            f"({source[members[worst]]})",
        )  # fmt: skip


def _tell_readings(
    rule: MemberRule, rows: MemberRows, out: Mapping[str, NDArray[Any]], ids: LabelArray, findings: Findings
) -> None:
    """Name how many spans rest on a reading of the rule, by any load that they are held to, and the worst."""
    for end in rule.rests_on:
        beyond = end.beyond(out, len(rows.member))
        if beyond.any():
            value = np.broadcast_to(out[end.column], len(beyond))
            worst = int(np.argmax(np.where(beyond, value, -np.inf)))
            count, asked = len(np.unique(rows.member[beyond])), len(np.unique(rows.member))
            findings.add(
                codes.RESTS_ON_READING, "frames",
                f"{count} of {asked} spans: {end.words}; worst {value[worst]:.2f} at {ids[rows.member[worst]]}",
            )  # fmt: skip
