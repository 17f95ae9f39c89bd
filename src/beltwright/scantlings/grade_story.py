"""Why one member is asked for its steel grade: the trace behind the member that comes closest to its limit."""

from __future__ import annotations

import numpy as np

from beltwright.scantlings.design import Design
from beltwright.scantlings.explain import Explanation, member_trace


def told_grades(design: Design) -> tuple[tuple[str, Explanation], ...]:
    """Return the hull area and the story of the member with the greatest ratio of ranks; nothing without rules."""
    graded, rule = design.grades_run, design.rules.grading
    if graded is None or rule is None or not len(graded.run.members):
        return ()
    run, table = graded.run, graded.table
    member = int(run.members[int(np.argmax(table["ratio"].data[run.members]))])
    row = run.row_of(member)
    assert row is not None
    told = table.row(member)
    kind = told["kind"]
    trace = member_trace(design, rule, run, member, row, _origins(str(kind), str(told["grade"])))
    story = Explanation(
        kind="grade",
        id=str(told["id"]),
        headline=f"{str(kind).capitalize()} {told['id']}, {told['thickness_as_built_mm']:g} mm as built, class "
        f"{told['material_class']}, is asked for {told['grade_demanded']}; offered {told['grade']}: {told['outcome']}",
        place=(
            f"zone {told['zone']}, hull area {told['hull_area'] or 'none, above the belt'}, {told['position']}, "
            f"structural category {told['category']}",
            f"asked for by {told['governing']}, known from: {told['standing']}",
        ),
        trace=trace,
        results=(*dict.fromkeys(name for check in rule.checks for name in (check.required, check.offered)),),
        rounding=(),
        alternatives=(),
    )
    return ((str(told["hull_area"]), story),)


def _origins(kind: str, grade: str) -> dict[str, str]:
    """Where the inputs of the chain come from."""
    surface = "hull surface"
    names = ("fore_end_m", "aft_end_m", "highest_above_lower_m", "lowest_above_lower_m")
    part = "levels and hull surface, see above"
    return {
        **dict.fromkeys(names, surface),
        **dict.fromkeys(("below_strength_deck_m", "bottom_shell", "bilge"), part),
        "plating": f"a {kind}",
        "hull_area": "hull areas that the member touches, each in turn; this one asks for most",
        "declared_category": "ship.toml: steel_grades.categories",
        "single_strake_width_m": "ship.toml: steel_grades.single_strake_width_m",
        "thickness_as_built_mm": "plate as built" if kind == "plate" else "section as built",
        "strength": f"grade {grade}, hull steel table",
        "grade_offered": f"grade {grade} of ship.toml",
    }
