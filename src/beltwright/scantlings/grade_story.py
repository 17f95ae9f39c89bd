"""Why a member is asked for its steel grade: the trace behind those that come closest to their limit."""

from __future__ import annotations

import numpy as np

from beltwright.core.errors import InputError
from beltwright.scantlings.design import Design
from beltwright.scantlings.explain import Explanation, member_trace
from beltwright.scantlings.grades import APPENDAGE


def told_grades(design: Design) -> tuple[tuple[str, Explanation], ...]:
    """Return the stories of the shell member and of the appendage with the greatest ratio of ranks, each by its area.

    Nothing without rules on grades; an appendage has no hull area and stands under its part.
    """
    graded = design.grades_run
    if graded is None or design.rules.grading is None:
        return ()
    table, members = graded.table, graded.run.members
    beside = table.labels("kind")[members] == APPENDAGE
    found = []
    for chosen in (members[~beside], members[beside]):
        if len(chosen):
            member = int(chosen[int(np.argmax(table["ratio"].data[chosen]))])
            told = table.row(member)
            found.append((str(told["part"] or told["hull_area"]), _story(design, member)))
    return tuple(found)


def explain_appendage(design: Design, name: str) -> Explanation:
    """Return why a plate of stem, stern frame or appendages is asked for its grade; InputError for an unknown name."""
    graded = design.grades_run
    if graded is None:
        raise InputError("appendage", "the rule set has no rules on steel grades", value=name)
    table = graded.table
    own = np.flatnonzero(table.labels("kind") == APPENDAGE)
    hit = own[table.labels("id")[own] == name]
    if not len(hit):
        known = ", ".join(map(str, table.labels("id")[own])) or "none is checked"
        raise InputError("appendage", "there is none of this name whose grade is checked", value=name, allowed=known)
    return _story(design, int(hit[0]))


def _story(design: Design, member: int) -> Explanation:
    """The story of one member's grade."""
    graded, rule = design.grades_run, design.rules.grading
    assert graded is not None
    assert rule is not None
    run, table = graded.run, graded.table
    row = run.row_of(member)
    assert row is not None
    told = table.row(member)
    kind = told["kind"]
    lies = f"zone {told['zone']}, hull area {told['hull_area'] or f'none, {design.areas.outside}'}"
    trace = member_trace(design, rule, run, member, row, _origins(str(kind), str(told["grade"])))
    return Explanation(
        kind="grade",
        id=str(told["id"]),
        headline=f"{str(kind).capitalize()} {told['id']}, {told['thickness_as_built_mm']:g} mm as built, class "
        f"{told['material_class']}, is asked for {told['grade_demanded']}; offered {told['grade']}: {told['outcome']}",
        place=(
            f"{told['part'] or lies}, {told['position']}, structural category {told['category']}",
            f"asked for by {told['governing']}, known from: {told['standing']}",
        ),
        trace=trace,
        results=(*dict.fromkeys(name for check in rule.checks for name in (check.required, check.offered)),),
        rounding=(),
        alternatives=(),
    )


def _origins(kind: str, grade: str) -> dict[str, str]:
    """Where the inputs of the chain come from."""
    surface = "hull surface"
    names = ("fore_end_m", "aft_end_m", "highest_above_lower_m", "lowest_above_lower_m")
    if kind == APPENDAGE:
        surface, thickness = "ship.toml: appendages, and the lower ice waterline there", "ship.toml: appendages"
    else:
        thickness = "plate as built" if kind == "plate" else "section as built"
    part = "levels and hull surface, see above"
    return {
        **dict.fromkeys(names, surface),
        **dict.fromkeys(("below_strength_deck_m", "bottom_shell", "bilge"), part),
        "plating": f"a {kind}",
        "hull_area": "hull areas that the member touches, each in turn; this one asks for most",
        "declared_category": "ship.toml: steel_grades.categories",
        "single_strake_width_m": "ship.toml: steel_grades.single_strake_width_m",
        "exposed_part": "ship.toml: appendages",
        "stress_concentration": "ship.toml: appendages",
        "thickness_as_built_mm": thickness,
        "strength": f"grade {grade}, hull steel table",
        "grade_offered": f"grade {grade} of ship.toml",
    }
