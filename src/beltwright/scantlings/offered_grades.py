"""The grades of a submitted list held against what the rule set demands of them, with the chain of the design."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

import numpy as np

from beltwright.core.columns import Column, ColumnTable
from beltwright.core.findings import Findings
from beltwright.core.units import BoolArray, LabelArray, Unit
from beltwright.scantlings import offered_codes as kinds
from beltwright.scantlings.build import panel_places
from beltwright.scantlings.design import Design
from beltwright.scantlings.grades import NOT_CHECKED, design_grades
from beltwright.scantlings.members import NOT_MET, MemberRun
from beltwright.scantlings.offered_match import Discrepancies, some
from beltwright.scantlings.offered_tables import judged_here
from beltwright.scantlings.submitted import SubmittedRow

GRADE = "steel grade"


def with_grades(
    design: Design, plating: MemberRun, framing: MemberRun, plates: ColumnTable, frames: ColumnTable,
    rows: Sequence[SubmittedRow], found: Discrepancies,
) -> tuple[ColumnTable, ColumnTable]:  # fmt: skip
    """Return the tables of plates and frames with the grade demanded of each judged member and how it comes out.

    A member whose grade will not do is not met, and its row is told. Without rules on grades nothing is added.
    """
    rule, arrangement = design.rules.grading, design.arrangement
    if rule is None:
        return plates, frames

    graded = design_grades(
        design.ship, rule, design.measures, arrangement, design.areas, {**design.facts, **design.loads.columns},
        plating, framing, lambda: panel_places(design.measures, arrangement, design.areas)[1], Findings(),
    ).table  # fmt: skip
    places = np.arange(graded.rows)
    return (
        _judged(plates, graded.where(places[: plates.rows]), rows, found),
        _judged(frames, graded.where(places[plates.rows : plates.rows + frames.rows]), rows, found),
    )


def _judged(table: ColumnTable, graded: ColumnTable, rows: Sequence[SubmittedRow], found: Discrepancies) -> ColumnTable:
    """One table with its grades; the rows whose grade will not do are told, each once with its worst member."""
    here = judged_here(table)
    failed = here & (graded.labels("outcome") == NOT_MET)
    line, ids = table["row"].data, table.labels("id")
    for row in rows:
        own = failed & (line == row.line)
        if own.any():
            found.of_row(kinds.GRADE_BELOW_RULE, row, some(ids, np.flatnonzero(own)), _words(graded, own))
    flipped = failed & (table.labels("outcome") != NOT_MET)
    columns = {name: table[name] for name in table}
    columns["outcome"] = _relabelled(table, "outcome", flipped, NOT_MET)
    columns["governing"] = _relabelled(table, "governing", flipped, GRADE)
    columns["clause"] = replace(
        table["clause"], data=np.where(flipped, graded.labels("governing"), table.labels("clause")).astype(np.str_)
    )
    for name, meaning, source in (
        ("grade_demanded", "least grade of the offered strength", "grade_demanded"),
        ("grade_clause", "table cell or clause that asks for it", "governing"),
        ("grade_outcome", "whether the grade will do", "outcome"),
    ):
        words = np.where(here, graded.labels(source), NOT_CHECKED).astype(np.str_)
        columns[name] = Column(unit=Unit("label"), meaning=meaning, data=words)
    return ColumnTable(table.name, columns)


def _words(graded: ColumnTable, own: BoolArray) -> str:
    """The worst of some members whose grade will not do."""
    ratio = graded["ratio"].data
    worst = graded.row(int(np.argmax(np.where(own & np.isfinite(ratio), ratio, np.where(own, np.inf, -np.inf)))))
    return (
        f"{int(own.sum())} members; worst {worst['id']}: {worst['grade']} at {worst['thickness_as_built_mm']:g} mm as "
        f"built, class {worst['material_class']}, asked for {worst['grade_demanded']} by {worst['governing']}"
    )


def _relabelled(table: ColumnTable, name: str, rows: BoolArray, word: str) -> Column:
    """A column of words with some rows replaced."""
    words: LabelArray = np.where(rows, word, table.labels(name)).astype(np.str_)
    return replace(table[name], data=words)
