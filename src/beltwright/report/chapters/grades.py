"""Steel grades: what the members' part rests on, the groups in a table, one member in full."""

from __future__ import annotations

import numpy as np

from beltwright.report.chapters.members import groups, samples
from beltwright.report.markup import Shown, bullets, heading, paragraph
from beltwright.report.material import Material
from beltwright.report.registry import Chapter, Written

_SHOWN = (
    Shown(name="kind", width="12", header="member"),
    Shown(name="hull_area", header="area"),
    Shown(name="category", header="category"),
    Shown(name="material_class", width="11", header="class"),
    Shown(name="position", width="18", header="position"),
    Shown(name="id", header="governing"),
    Shown(name="thickness_as_built_mm", header="as built"),
    Shown(name="governing", header="asked for by", width="fill"),
    Shown(name="standing", width="16", header="known from"),
    Shown(name="grade_demanded", width="18", header="demanded"),
    Shown(name="grade", header="offered"),
    Shown(name="outcome", width="14", header="outcome"),
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
            f"{count['met']} members (one side) are met, {count['not met']} not met, {count['not checked']} not "
            "checked because no thickness is known."
        ),
        paragraph(
            "What is known from memory, secondary or choice has not been seen on the document's own page; the cells "
            "are listed among the values not confirmed."
        ),
        heading(2, "What the members count as"),
        bullets(material.grade_basis),
        heading(2, "Demand and offer"),
        groups(material, table, _SHOWN),
        samples(material, "grade"),
    ]
    return Written(markup="".join(parts))


CHAPTERS = (Chapter(id="grades", title="Steel grades", write=grades),)
