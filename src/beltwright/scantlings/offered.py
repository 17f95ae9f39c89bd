"""Offered scantlings: a submitted list of plates and frames held against the rule, with the same chains as the design.

Every member is judged by the row that names it. A plate that no usable row gives is taken from the design where a frame
stands on it; its own line says that it is not judged.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from beltwright.core.columns import ColumnTable
from beltwright.core.errors import InputError
from beltwright.core.findings import Finding, Findings
from beltwright.core.units import BoolArray, FloatArray, IntArray, LabelArray
from beltwright.materials.codes import grade_findings
from beltwright.materials.hull_steel import HullSteel, hull_steels
from beltwright.scantlings import offered_codes as kinds
from beltwright.scantlings.build import frame_setting, panel_places, span_places, unsupported_spans
from beltwright.scantlings.design import Design
from beltwright.scantlings.frames import frame_checker, framing_run
from beltwright.scantlings.member_facts import panel_facts, span_facts
from beltwright.scantlings.members import MemberRun
from beltwright.scantlings.offered_grades import with_grades
from beltwright.scantlings.offered_match import Claims, Discrepancies, Discrepancy, claims_of, owners, without_row
from beltwright.scantlings.offered_sections import ReadSection, read_sections
from beltwright.scantlings.offered_stated import Modelled, compare_sections, compare_ship, compare_stated, slipped
from beltwright.scantlings.offered_tables import frame_failures, frame_table, plate_failures, plate_table
from beltwright.scantlings.plating import FittedPlates, plating_demand, plating_run
from beltwright.scantlings.sectionstock import SectionStock
from beltwright.scantlings.submitted import MemberKind, Submission, SubmittedRow
from beltwright.sections.codes import section_findings

THINNEST_MM, THICKEST_MM = 3.0, 150.0  # what ship.toml takes for a shell plate; outside it is a slip
SUBMITTED, FROM_DESIGN = "submitted", "design"
_THICKNESS_SLIPS = {"cm": 0.1, "in": 1.0 / 25.4, "m": 0.001}


@dataclass(frozen=True, slots=True, kw_only=True)
class OfferedCheck:
    """A submitted list judged: a row per panel and per frame span, what differs, and what the list rests on.

    ``name``, ``sha256`` and ``rows`` are those of the file. ``plating`` and ``framing`` are the runs of the rule with
    the submitted scantlings; ``findings`` what is to be said about submitted grades and sections otherwise in order.
    """

    name: str
    sha256: str
    rows: int
    plates: ColumnTable
    frames: ColumnTable
    discrepancies: tuple[Discrepancy, ...]
    findings: tuple[Finding, ...]
    plating: MemberRun
    framing: MemberRun

    @property
    def clean(self) -> bool:
        """Whether every judged member is met, every member asked for is judged, and nothing differs."""
        good = {"met", "no ice requirement", "not checked here"}
        outcomes = {*self.plates.labels("outcome").tolist(), *self.frames.labels("outcome").tolist()}
        return outcomes <= good and not any(one.counts for one in self.discrepancies)


def check_offered(design: Design, submission: Submission) -> OfferedCheck:
    """Return a submitted list judged by the rule set of a design.

    Raises InputError where a measure of a member is not a number or out of its range; whatever is wrong with a row is
    a discrepancy, never an error.
    """
    found, findings = Discrepancies(), Findings()
    for row in submission.rows:
        for fault in row.faults:
            found.of_row(kinds.CELL_UNUSABLE, row, fault.column, fault.what)
    compare_ship(design, submission.rows, found)
    grades = _grades(submission.rows, found, findings)
    plating, plate_rows, plates = _plates(design, submission, grades, found)
    framing, frames = _frames(design, submission, grades, plating, plate_rows, found, findings)
    plates, frames = with_grades(design, plating, framing, plates, frames, submission.rows, found)
    return OfferedCheck(
        name=submission.name, sha256=submission.sha256, rows=len(submission.rows), plates=plates, frames=frames,
        discrepancies=found.ordered(), findings=tuple(findings), plating=plating, framing=framing,
    )  # fmt: skip


def _grades(rows: Sequence[SubmittedRow], found: Discrepancies, findings: Findings) -> dict[int, HullSteel]:
    """The steel that each row names, by its line; rows without a grade are left out, unknown ones are told."""
    steels: dict[int, HullSteel] = {}
    for row in rows:
        if "grade" not in row.words:
            continue
        try:
            steels[row.line] = hull_steels().steel(row.words["grade"])
        except InputError as error:
            told = f"{error.what}; {error.allowed.split(';', maxsplit=1)[0]}"
            found.of_row(kinds.GRADE_UNKNOWN, row, row.words["grade"], told)
            continue
        findings.extend(grade_findings(steels[row.line], where="submitted list"))
    return steels


def _steel(row: SubmittedRow, steels: Mapping[int, HullSteel], otherwise: str) -> HullSteel | None:
    """The steel of a row: its own, or the description's where it names none; None where its own is not known."""
    if "grade" in row.words:
        return steels.get(row.line)
    return hull_steels().steel(otherwise)


def _made_in(row: SubmittedRow, steel: HullSteel | None, thickness_mm: float, found: Discrepancies) -> bool:
    """Whether a steel is known and made in a thickness."""
    if steel is None:
        return False
    try:
        steel.band(thickness_mm)
    except InputError as error:
        told = f"{error.what} of {thickness_mm:g} mm: {error.allowed}"
        found.of_row(kinds.GRADE_UNKNOWN, row, steel.grade, told)
        return False
    return True


def _weaker(
    claims: Claims, steels: Mapping[int, HullSteel], grade: LabelArray, thickness_mm: FloatArray, found: Discrepancies
) -> None:
    """Tell rows whose own grade has less yield stress, or a warmer impact test, than the description's for a member."""
    for number, (row, members) in enumerate(zip(claims.rows, claims.members, strict=True)):
        steel = steels.get(row.line)
        if steel is None or not len(members) or not np.isfinite(thickness_mm[number]):
            continue
        for wanted in (hull_steels().steel(str(name)) for name in np.unique(grade[members])):
            less = _yield(steel, thickness_mm[number]) < _yield(wanted, thickness_mm[number])
            if less or steel.impact_temperature_C > wanted.impact_temperature_C:
                why = "less yield stress" if less else "a warmer impact test"
                found.of_row(kinds.GRADE_WEAKER, row, steel.grade, f"{why} than {wanted.grade} of ship.toml")


def _yield(steel: HullSteel, thickness_mm: float) -> float:
    """The yield stress at a thickness [MPa]; beyond what is made, that of the thickest that is."""
    inside = [b for b in steel.bands if b.over_mm < thickness_mm <= b.upto_mm]
    return (inside or [steel.bands[-1]])[0].yield_MPa


def _plates(
    design: Design, submission: Submission, steels: Mapping[int, HullSteel], found: Discrepancies
) -> tuple[MemberRun, IntArray, ColumnTable]:
    """The plating run with the submitted plates, the row that is judged for each panel (-1: none), and the table."""
    hit, places = panel_places(design.measures, design.arrangement, design.areas)
    panels, base = design.arrangement.panels, design.plating
    ids, count, grade = base.labels("id"), base.rows, base.labels("grade")
    claims = claims_of(design, MemberKind.PLATE, submission.rows, ids, places, np.ones(count, dtype=bool), found)
    need = np.full(count, np.nan)
    need[design.plating_run.members] = base["thickness_required_mm"].data[design.plating_run.members]
    thickness = np.array([_thickness(row, m, need, found) for row, m in zip(claims.rows, claims.members, strict=True)])
    otherwise = [str(grade[m[0]]) if len(m) else design.ship.steel.plate_grade for m in claims.members]
    steel = [_steel(row, steels, other) for row, other in zip(claims.rows, otherwise, strict=True)]
    for number, row in enumerate(claims.rows):
        if np.isfinite(thickness[number]) and not _made_in(row, steel[number], float(thickness[number]), found):
            thickness[number] = np.nan
    _weaker(claims, steels, grade, thickness, found)
    strength = [
        (float(t), _yield(one, float(t))) if one is not None and np.isfinite(t) else (np.inf, np.inf)
        for t, one in zip(thickness, steel, strict=True)
    ]
    owner = owners(claims, count, strength, _same(claims, thickness.tolist(), steel), ids, found)
    judged = owner >= 0
    judged[judged] = np.isfinite(thickness[owner[judged]])
    named = [one.grade if one is not None else "" for one in steel]
    plates = FittedPlates(
        thickness_mm=_laid(judged, owner, thickness.tolist(), base["thickness_as_built_mm"].data),
        grade=np.where(judged, np.array([*named, ""])[owner], grade).astype(np.str_),
        yield_mpa=_laid(judged, owner, [y for _, y in strength], base["yield_mpa"].data),
        source=np.where(judged, SUBMITTED, FROM_DESIGN),
    )
    rule, quiet = design.rules.plating, Findings()
    facts = panel_facts(design.arrangement)
    demand = plating_demand(rule, design.areas, design.loads, panels, facts, hit, plates.yield_mpa)
    run = plating_run(design.ship, rule, design.areas, design.loads, panels, hit, places, demand, plates, quiet)
    without_row("plate", ids, base.labels("group"), run.members, owner, bool(claims.rows), found)
    plate_failures(run, claims, owner, judged, rule, found)
    asked = run.table
    numbers = {
        "stated_spacing_m": panels["spacing_m"].data,
        "stated_span_m": panels["span_m"].data,
        "stated_required_mm": asked["thickness_required_mm"].data,
        "stated_net_mm": np.where(judged, asked["thickness_as_built_mm"].data - asked["addition_mm"].data, np.nan),
    }
    model = Modelled(ids=ids, hull_area=places.hull_area, x_m=places.x_m, numbers=numbers)
    compare_stated(design, claims, model, found)
    return run, np.where(judged, owner, -1), plate_table(run, claims, owner, judged, rule)


def _thickness(row: SubmittedRow, members: IntArray, need: FloatArray, found: Discrepancies) -> float:
    """The thickness a row is judged by [mm], NaN where it gives none that can be used."""
    if "thickness_mm" not in row.numbers:
        if not row.at_fault("thickness_mm"):
            found.of_row(kinds.NO_SCANTLING, row, "thickness_mm", "is blank")
        return np.nan
    value, wanted = row.numbers["thickness_mm"], need[members]
    wanted = wanted[np.isfinite(wanted)]
    for expected in [float(wanted.max()), float(wanted.min())] if len(wanted) else []:
        unit = slipped(value, expected, _THICKNESS_SLIPS, within=_FAR)
        if unit:
            told = f"{value:g} mm where {expected:.1f} mm is required; looks like {unit}"
            found.of_row(kinds.UNIT_SLIP, row, "thickness_mm", told)
            return np.nan
    if not THINNEST_MM <= value <= THICKEST_MM:
        told = f"{value:g} mm is no shell plate; {THINNEST_MM:g} to {THICKEST_MM:g} mm are"
        found.of_row(kinds.UNIT_SLIP, row, "thickness_mm", told)
        return np.nan
    return value


_FAR = 0.35  # an offered plate lies within this share of its requirement, in whatever unit


def _same(claims: Claims, values: Sequence[object], steel: Sequence[HullSteel | None]) -> _Same:
    """Whether two rows give the same scantling."""
    return _Same(claims=claims, values=tuple(values), steel=tuple(s.grade if s else None for s in steel))


@dataclass(frozen=True, slots=True, kw_only=True)
class _Same:
    """Compares two rows by what they give, as read; rows that cannot be read differ from all others."""

    claims: Claims
    values: tuple[object, ...]
    steel: tuple[str | None, ...]

    def __call__(self, one: int, other: int) -> bool:
        """Whether the two rows give the same."""
        return self.values[one] == self.values[other] and self.steel[one] == self.steel[other]


def _laid(judged: BoolArray, owner: IntArray, of_row: Sequence[float], otherwise: FloatArray) -> FloatArray:
    """The values of the rows laid on the members they are judged for, the others' own elsewhere."""
    return np.where(judged, np.array([*of_row, np.nan])[owner], otherwise)


def _frames(
    design: Design, submission: Submission, steels: Mapping[int, HullSteel], plating: MemberRun, plate_rows: IntArray,
    found: Discrepancies, findings: Findings,
) -> tuple[MemberRun, ColumnTable]:  # fmt: skip
    """The framing run with the submitted sections on the submitted plates, and the table."""
    hit, places = span_places(design.measures, design.arrangement, design.areas)
    frames, base, measures = design.arrangement.frames, design.frames, design.measures
    ids, count, grade = base.labels("id"), base.rows, base.labels("grade")
    local = frames.labels("role") != "web frame"
    claims = claims_of(design, MemberKind.FRAME, submission.rows, ids, places, local, found)
    read = read_sections(claims.rows, design.ship.stock.frame_corrosion_mm, found)
    otherwise = [str(grade[m[0]]) if len(m) else design.ship.steel.frame_grade for m in claims.members]
    steel = [_steel(row, steels, other) for row, other in zip(claims.rows, otherwise, strict=True)]
    thickest = np.array([one.thickest_mm if one else np.nan for one in read])
    for number, row in enumerate(claims.rows):
        if np.isfinite(thickest[number]) and not _made_in(row, steel[number], float(thickest[number]), found):
            read[number], thickest[number] = None, np.nan
    _weaker(claims, steels, grade, thickest, found)
    strength = [_lighter(one, s) for one, s in zip(read, steel, strict=True)]
    names = [one.section.name if one else None for one in read]
    owner = owners(claims, count, strength, _same(claims, names, steel), ids, found)
    judged = owner >= 0
    judged[judged] = np.isfinite(thickest[owner[judged]])
    stock = SectionStock(design.ship, tuple({one.section.name: one.section for one in read if one}.values()))
    row_of = np.array([*(stock.row_of(name) if name else -1 for name in names), -1])
    laid = np.where(judged, np.array([*(s.grade if s else "" for s in steel), ""])[owner], grade).astype(np.str_)
    setting = frame_setting(frames, plating, laid, base["yield_mpa"].data)
    rule, shapes, quiet = design.rules.framing, design.arrangement.frame_shapes, Findings()
    mask = hit & (local & judged)[:, None]
    facts = span_facts(design.ship, design.arrangement, design.areas, measures)
    checker = frame_checker(rule, design.areas, design.loads, frames, facts, mask, setting, stock)
    loose = unsupported_spans(design.areas, measures, frames, shapes.samples, shapes.sample_normals)
    section = np.where(judged, row_of[owner], -1)
    source = np.where(judged, SUBMITTED, "none")
    run = framing_run(checker, design.areas, frames, hit, loose, places, setting, section, source, quiet)
    findings.extend(section_findings(stock.used(section), where="submitted list"))
    asked = design.framing_run.members
    without_row("frame", ids, base.labels("group"), asked, owner, bool(claims.rows), found)
    beyond = loose | ~(setting.plate_net_mm > 0.0)
    frame_failures(run, claims, owner, checker.ratios(run.values, len(run.rows.member)), beyond, rule, found)
    numbers = {"stated_spacing_m": frames["spacing_greatest_m"].data, "stated_span_m": frames["span_m"].data}
    compare_stated(
        design, claims, Modelled(ids=ids, hull_area=places.hull_area, x_m=places.x_m, numbers=numbers), found
    )
    compare_sections(run.table, claims, owner, found)
    on = _standing_on(frames, plate_rows)
    ratios = checker.ratios(run.values, len(run.rows.member))
    table = frame_table(run, claims, owner, judged, local, asked, on, ratios, rule, places.hull_area)
    return run, table


def _lighter(read: ReadSection | None, steel: HullSteel | None) -> tuple[float, ...]:
    """What orders sections from the weaker on: their mass, then their yield stress."""
    if read is None or steel is None:
        return (np.inf, np.inf)
    return (read.section.mass_kg_per_m, _yield(steel, read.thickest_mm))


def _standing_on(frames: ColumnTable, plate_rows: IntArray) -> LabelArray:
    """Whose plates every span stands on: the submitted ones, the design's, or both."""
    row = np.append(plate_rows, -1)
    beside = np.stack([frames["panel_one"].data, frames["panel_other"].data], axis=1)
    there, given = beside >= 0, row[beside] >= 0
    every, some = (given | ~there).all(axis=1), (given & there).any(axis=1)
    return np.where(every & some, SUBMITTED, np.where(some, f"{SUBMITTED} and {FROM_DESIGN}", FROM_DESIGN))
