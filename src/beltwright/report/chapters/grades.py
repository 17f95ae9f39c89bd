"""Steel grades: what the members' part rests on, the groups in a table, one member in full."""

from __future__ import annotations

import numpy as np

from beltwright.core.columns import ColumnTable
from beltwright.report.chapters.members import groups, samples
from beltwright.report.markup import Shown, bullets, column_table, heading, paragraph
from beltwright.report.material import Material
from beltwright.report.registry import Chapter, Written

_SHOWN = (
    Shown(name="kind", header="member"),
    Shown(name="hull_area", header="area"),
    Shown(name="category", header="category"),
    Shown(name="material_class", header="class"),
    Shown(name="position", header="position"),
    Shown(name="id", header="governing"),
    Shown(name="thickness_as_built_mm", header="as built"),
    Shown(name="governing", header="asked for by", width="fill"),
    Shown(name="grade_demanded", header="demanded"),
    Shown(name="grade", header="offered"),
    Shown(name="outcome", header="outcome"),
)
_APPENDAGES = (
    Shown(name="id", header="part", width="fill"),
    Shown(name="part", header="counts as", width="28"),
    Shown(name="material_class", header="class"),
    Shown(name="position", header="position"),
    Shown(name="thickness_as_built_mm", header="as built"),
    Shown(name="governing", header="asked for by", width="fill"),
    Shown(name="grade_demanded", header="demanded"),
    Shown(name="grade", header="offered"),
    Shown(name="outcome", header="outcome"),
)


def grades(material: Material) -> Written:
    """Steel grades."""
    table = material.grades
    parts = [heading(1, "Steel grades")]
    if table is None:
        return Written(markup="".join([*parts, paragraph("The rule set has no rules on steel grades.")]))
    outcome = table.labels("outcome")
    count = {word: int(np.count_nonzero(outcome == word)) for word in ("met", "not met", "not checked")}
    parts += [
        paragraph(
            "Grades go by thickness as built. A group is members of one hull area, category, class, position, table "
            "cell and grade; the member shown comes closest to its limit. All members are in grades.csv. "
            f"{count['met']} members (one side; appendages with them) are met, {count['not met']} not met, "
            f"{count['not checked']} not checked because no thickness is known."
        ),
        paragraph(
            "None of these tables has been seen on the document's own page; the cells are listed among the values not "
            "confirmed, and how each member's cell is known in grades.csv."
        ),
        heading(2, "What the members count as"),
        bullets(material.grade_basis),
        heading(2, "Demand and offer"),
        groups(material, table.where(np.flatnonzero(table.labels("part") == "")), _SHOWN),
        heading(2, "Stem, stern frame and appendages"),
        _appendages(table),
        samples(material, "grade"),
    ]
    return Written(markup="".join(parts))


def _appendages(table: ColumnTable) -> str:
    """The plates of stem, stern frame and appendages, each by itself."""
    own = table.where(np.flatnonzero(table.labels("part") != ""))
    if own.rows == 0:
        return paragraph("No plate of them is described with its thickness (appendages in ship.toml).")
    return column_table(own, _APPENDAGES, size_pt=7.2)


CHAPTERS = (Chapter(id="grades", title="Steel grades", write=grades),)
