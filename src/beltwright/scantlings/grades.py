"""The steel grade of every plate and frame: what the rule set demands of it, and whether the grade offered will do.

Members are the panels, then the frame spans of the arrangement, then plates of stem, stern frame and appendages. Each
is run once for every hull area it touches, and the most severe row governs. Thickness is as built: of a frame the
thicker of web and flange. What the rule set needs to know of a member's part in the structure is derived from levels
and shell, and said in words.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray

from beltwright.arrangement.model import Arrangement
from beltwright.core.chain import Columns
from beltwright.core.columns import Column
from beltwright.core.findings import Findings
from beltwright.core.outcome import is_met
from beltwright.core.units import BoolArray, FloatArray, IntArray, LabelArray, Unit
from beltwright.materials.hull_steel import hull_steels
from beltwright.rules.protocol import HullAreas, MemberRule
from beltwright.scantlings import grade_codes
from beltwright.scantlings.appendages import NO_PART, AppendagePlates, appendage_plates, report_unchecked
from beltwright.scantlings.choose import Places, speaks_of
from beltwright.scantlings.design import GradeRun, HullMeasures
from beltwright.scantlings.grade_cells import Governing, distinct_rows, governing_cells
from beltwright.scantlings.grade_places import grade_places
from beltwright.scantlings.members import MET, NOT_MET, MemberRows, MemberRun, Sheet, chain_inputs, most_demanding
from beltwright.ship.model import Ship

PLATE, FRAME, APPENDAGE = "plate", "frame", "appendage"
NO_THICKNESS = "no thickness is known"
NOT_CHECKED = "not checked"
NONE_ALLOWED = "none"
_POSITIONS = {(True, True): "both", (True, False): "exposed", (False, True): "submerged"}


@dataclass(frozen=True, slots=True, kw_only=True)
class Offered:
    """What is offered for each member (n,): kind, name, as-built thickness [mm], grade, its letter and strength.

    ``part`` and ``stress_concentration`` are those of an appendage.
    """

    kind: LabelArray
    part: LabelArray
    stress_concentration: BoolArray
    id: LabelArray
    zone: LabelArray
    touched: LabelArray
    thickness_mm: FloatArray
    grade: LabelArray
    letter: LabelArray
    strength: LabelArray


def design_grades(
    ship: Ship,
    rule: MemberRule,
    measures: HullMeasures,
    arrangement: Arrangement,
    areas: HullAreas,
    ship_columns: Columns,
    plating: MemberRun,
    framing: MemberRun,
    places: Callable[[], Places],
    findings: Findings,
) -> GradeRun:
    """Return the steel grades of all members; ``places`` gives those of the panels, where a category is declared.

    Raises InputError where a line of ``ship.toml`` names what is not there, or an input is out of its range.
    """
    beside = appendage_plates(ship, measures)
    offered = _offered(plating, framing, beside)
    geometry = grade_places(ship, measures, arrangement)
    whole = {name: np.concatenate([data, beside.columns[name]]) for name, data in geometry.columns().items()}
    declared = declared_categories(ship, places, arrangement, len(offered.id), findings)
    rows = grade_rows(offered)
    member = grade_columns(ship, areas, offered, whole, declared, rows)
    out = rule.values(chain_inputs(rule.chain, ship_columns, member), offered.id[rows.member])
    check = rule.checks[0]
    ratio = check.ratio(out)
    classes = np.unique(out["material_class"], return_inverse=True)[1]
    governing = most_demanding(rows, ratio + 1e-6 * classes)
    distinct = distinct_rows(rule.chain, out, len(rows.member))
    cells = governing_cells(rule.chain, out, governing, "grade_demanded")
    members = rows.member[governing]
    table = _table(offered, rows, out, governing, ratio[governing], cells)
    run = MemberRun(table=table, rows=rows, values=out, members=members, governing=governing)
    _report(findings, ship, run, offered, np.asarray(ratio[governing]))
    report_unchecked(ship, findings)
    return GradeRun(run=run, basis=geometry.basis, distinct=distinct)


def _offered(plating: MemberRun, framing: MemberRun, beside: AppendagePlates) -> Offered:
    """What is offered for panels, frames and appendages, one after the other."""
    plates, frames = plating.table, framing.table
    thickest = np.fmax(frames["web_as_built_mm"].data, frames["flange_as_built_mm"].data)
    counts = [plates.rows, frames.rows, len(beside.name)]
    shell, none = plates.rows + frames.rows, np.full(len(beside.name), "")
    grade = np.concatenate([plates.labels("grade"), frames.labels("grade"), beside.grade])
    names, inverse = np.unique(grade, return_inverse=True)
    steels = [hull_steels().steel(str(name)) for name in names]
    return Offered(
        kind=np.repeat(np.array([PLATE, FRAME, APPENDAGE]), counts),
        part=np.concatenate([np.full(shell, NO_PART), beside.part]),
        stress_concentration=np.concatenate([np.zeros(shell, dtype=bool), beside.stress_concentration]),
        id=np.concatenate([plates.labels("id"), frames.labels("id"), beside.name]),
        zone=np.concatenate([plates.labels("zone"), frames.labels("zone"), none]),
        touched=np.concatenate([plates.labels("touched"), frames.labels("touched"), none]),
        thickness_mm=np.concatenate([plates["thickness_as_built_mm"].data, thickest, beside.thickness_mm]),
        grade=np.array([steel.grade for steel in steels], dtype=np.str_)[inverse],
        letter=np.array([steel.grade[0] for steel in steels], dtype=np.str_)[inverse],
        strength=np.array([steel.strength for steel in steels], dtype=np.str_)[inverse],
    )


def declared_categories(
    ship: Ship, places: Callable[[], Places], arrangement: Arrangement, count: int, findings: Findings
) -> LabelArray:
    """Return the structural category that ``ship.toml`` gives each of ``count`` members, or ``derived``; later win."""
    declared = np.full(count, "derived", dtype="<U9")
    where = places() if ship.steel_grades.categories else None
    for number, line in enumerate(ship.steel_grades.categories, 1):
        field = f"steel_grades.categories[{number}]"
        assert where is not None
        chosen = np.flatnonzero(speaks_of(line, where, ship, arrangement.levels, field))
        declared[chosen] = line.category
        if not len(chosen):
            findings.add(grade_codes.CATEGORY_NOT_USED, f"ship.toml: {field}", "no panel lies there")
    return declared


def grade_rows(offered: Offered) -> MemberRows:
    """Return a row per member of known thickness and hull area that it touches; where it touches none, one without."""
    words, inverse = np.unique(offered.touched, return_inverse=True)
    areas = [str(word).split("+") for word in words]
    known = np.flatnonzero(~np.isnan(offered.thickness_mm))
    count = np.array([len(codes) for codes in areas], dtype=np.int64)[inverse[known]]
    member = np.repeat(known, count)
    order = np.arange(len(member)) - np.repeat(np.cumsum(count) - count, count)
    table = np.zeros((len(words), max((len(codes) for codes in areas), default=1)), dtype="<U8")
    for row, codes in enumerate(areas):
        table[row, : len(codes)] = codes
    hull_area = table[inverse[member], order].astype(np.str_)
    return MemberRows(member=member, load_area=hull_area, factor_area=hull_area, addition_area=hull_area)


def grade_columns(
    ship: Ship, areas: HullAreas, offered: Offered, geometry: Columns, declared: LabelArray, rows: MemberRows
) -> dict[str, NDArray[Any]]:
    """Return the vocabulary of steel grades, per row."""
    strengthened = [area.code for area in areas.areas if area.strengthened]
    in_ice = np.zeros(len(offered.id), dtype=bool)
    in_ice[rows.member[np.isin(rows.load_area, strengthened)]] = True
    width = ship.steel_grades.single_strake_width_m
    own: dict[str, NDArray[Any]] = {
        "plating": offered.kind == PLATE,
        "ice_strengthened": in_ice,
        "declared_category": declared,
        "exposed_part": offered.part,
        "stress_concentration": offered.stress_concentration,
        "single_strake_width_m": np.full(len(offered.id), 0.0 if width is None else width),
        "thickness_as_built_mm": offered.thickness_mm,
        "strength": offered.strength,
        "grade_offered": offered.letter,
        **geometry,
    }
    return {"hull_area": rows.load_area} | {name: values[rows.member] for name, values in own.items()}


def _table(
    offered: Offered, rows: MemberRows, out: Mapping[str, NDArray[Any]], governing: IntArray, ratio: FloatArray,
    cells: Governing,
) -> Any:  # fmt: skip
    """The table of all members."""
    members = rows.member[governing]
    letter = out["grade_demanded"][governing]
    suffix = np.array([grade[1:] for grade in np.unique(offered.grade)], dtype=np.str_)
    level = suffix[np.unique(offered.grade, return_inverse=True)[1]][members]
    demanded = np.where(letter == NONE_ALLOWED, "no grade", np.char.add(letter, level))
    exposed, below = out["weather_exposed"][governing], out["submerged"][governing]
    position = np.select([exposed & below, exposed], ["both", "exposed"], "submerged")
    sheet = Sheet(len(offered.id), members, NO_THICKNESS)
    sheet.whole("kind", "label", "plate, frame or appendage", offered.kind)
    own = np.where(offered.part == NO_PART, "", offered.part)
    sheet.whole("part", "label", "part of stem, stern frame or appendages", own)
    sheet.whole("id", "label", "panel, frame span or appendage", offered.id)
    sheet.whole("zone", "label", "framing zone", offered.zone)
    sheet.word("hull_area", "hull area that asks for most; none outside every area", rows.load_area[governing])
    sheet.word("outcome", "whether the grade will do", np.where(is_met(ratio), MET, NOT_MET), NOT_CHECKED)
    sheet.word("category", "structural category", out["category"][governing], NOT_CHECKED)
    sheet.word("material_class", "material class", out["material_class"][governing], NOT_CHECKED)
    sheet.word("position", "exposed to weather, submerged, or both", position, NOT_CHECKED)
    sheet.maybe("thickness_as_built_mm", "mm", "as built; of a frame the thicker of web and flange",
                offered.thickness_mm)  # fmt: skip
    sheet.word("grade_demanded", "least grade of the offered strength", demanded, NOT_CHECKED)
    sheet.whole("grade", "label", "grade offered", offered.grade)
    sheet.number("ratio", "-", "rank demanded over rank offered", ratio)
    sheet.word("governing", "table cell or clause that asks for most", cells.words, NOT_CHECKED)
    sheet.word("standing", "how far that cell is known", cells.standing, NOT_CHECKED)
    single = np.zeros(len(offered.id), dtype=bool)
    single[members] = out["in_single_strake"][governing]
    sheet.column("single_strake", Column(unit=Unit("flag"), meaning="lies in the declared single strake", data=single))
    groups = _groups(sheet, offered)
    sheet.whole("group", "label", "members of one demand", groups)
    return sheet.table("steel grades")


def _groups(sheet: Sheet, offered: Offered) -> LabelArray:
    """Members of one kind, hull area, category, class, position, demand and offer."""
    table = sheet.table("steel grades")
    parts = (
        "kind",
        "part",
        "hull_area",
        "category",
        "material_class",
        "position",
        "grade_demanded",
        "grade",
        "governing",
    )
    code = np.zeros(len(offered.id), dtype=np.int64)
    for name in parts:
        words, inverse = np.unique(table.labels(name), return_inverse=True)
        code = code * len(words) + inverse
    first, group = np.unique(code, return_index=True, return_inverse=True)[1:]
    named = [" ".join(filter(None, (str(table[name].data[row]) for name in parts[:-1]))) for row in first]
    counted = np.array([f"{name} {number}" for number, name in enumerate(named, 1)], dtype=np.str_)
    return counted[group]


def _report(findings: Findings, ship: Ship, run: MemberRun, offered: Offered, ratio: FloatArray) -> None:
    """Name the grades that will not do, the members beyond the tables, those not checked, and the single strake."""
    table, members = run.table, run.members
    failed = ~is_met(ratio)
    beyond = table.labels("grade_demanded")[members] == "no grade"
    for kind, words in ((PLATE, "plating"), (FRAME, "frames"), (APPENDAGE, "stem and appendages")):
        of_kind = offered.kind[members] == kind
        for chosen, code in ((failed & ~beyond, grade_codes.GRADE_TOO_LOW), (beyond, grade_codes.NO_GRADE_ALLOWED)):
            hit = np.flatnonzero(chosen & of_kind)
            if len(hit):
                worst = members[hit[int(np.argmax(ratio[hit]))]]
                told = table.row(int(worst))
                findings.add(
                    code, f"grades of {words}",
                    f"{len(hit)} members; worst {told['id']}: {told['grade']} at {told['thickness_as_built_mm']:g} mm "
                    f"as built, class {told['material_class']}, asked for {told['grade_demanded']} by "
                    f"{told['governing']}",
                )  # fmt: skip
    missing = len(offered.id) - len(members)
    if missing:
        findings.add(grade_codes.GRADE_NOT_CHECKED, "grades", f"{missing} of {len(offered.id)} members")
    _report_strake(findings, ship, table["single_strake"].data)


def _report_strake(findings: Findings, ship: Ship, single: BoolArray) -> None:
    """Say what the declared single strake does."""
    width = ship.steel_grades.single_strake_width_m
    if width is None:
        return
    where = "ship.toml: steel_grades.single_strake_width_m"
    if single.any():
        findings.add(
            grade_codes.SINGLE_STRAKE, where, f"{int(single.sum())} panels per side in a strake of {width:g} m"
        )
    else:
        findings.add(grade_codes.SINGLE_STRAKE_UNUSED, where, f"no panel lies wholly in a strake of {width:g} m")
