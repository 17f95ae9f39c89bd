"""What each constraint costs: the sizing solved again with one thing allowed more, and where the structure changes."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import Any

from beltwright.core.errors import InputError
from beltwright.materials.hull_steel import hull_steels
from beltwright.scantlings.design import Design
from beltwright.sizing.fit import ask
from beltwright.sizing.size import Sized, solved

_SHOWN = 4  # plates and groups named in an answer


@dataclass(frozen=True, slots=True, kw_only=True)
class Freed:
    """One constraint freed: in words, what that saves in the problem's unit, and where something changes.

    ``saves`` is None where nothing could be found, with the reason in ``note``. A saving is proved where ``proved``.
    """

    words: str
    saves: int | None
    proved: bool
    changes: tuple[str, ...]
    note: str = ""


def constraint_prices(design: Design, sized: Sized) -> tuple[Freed, ...]:
    """Return what each constraint of a ship's sizing costs, dearest first; ``design`` has the arrangement chosen."""
    found = [_freed(design, sized, words, change) for words, change in _changes(design)]
    return tuple(sorted(found, key=lambda one: -(one.saves or 0)))


def _changes(design: Design) -> Iterator[tuple[str, dict[str, Any]]]:
    """Each constraint that can be freed, in words, and the settings that free it."""
    given = design.ship.sizing
    if given.neighbour_step_mm is not None:
        yield f"neighbouring plates may differ by more than {given.neighbour_step_mm:g} mm", {"neighbour_step_mm": None}
    if given.alike_through != "nothing":
        yield "frames may change their section at every support", {"alike_through": "nothing"}
    if given.most_thicknesses is not None:
        yield "one more plate thickness", {"most_thicknesses": given.most_thicknesses + 1}
    if given.most_profiles is not None:
        yield "one more profile", {"most_profiles": given.most_profiles + 1}
    if given.frame_depth_most_mm is not None:
        deeper = given.frame_depth_most_mm + 50.0
        yield f"frames up to {deeper:g} mm deep", {"frame_depth_most_mm": deeper}
    grades = given.plate_grades or (design.ship.steel.plate_grade,)
    stronger = next_stronger(grades[0])
    if stronger is not None and stronger not in grades:
        yield f"plates of {stronger}", {"plate_grades": (*grades, stronger)}
    shorter = 0.75 * given.plate_length_m
    yield f"plates of {shorter:g} m instead of {given.plate_length_m:g} m", {"plate_length_m": shorter}


def next_stronger(grade: str) -> str | None:
    """Return the ordinary grade of the same letter and the next higher strength, None where there is none."""
    table, own = hull_steels(), hull_steels().steel(grade)
    alike = [
        one
        for one in table.grades
        if one[0] == grade[0] and one[-1].isdigit() and table.steel(one).thinnest.yield_MPa > own.thinnest.yield_MPa
    ]
    return min(alike, key=lambda g: table.steel(g).thinnest.yield_MPa) if alike else None


def _freed(design: Design, sized: Sized, words: str, change: dict[str, Any]) -> Freed:
    """The ship solved with some settings changed."""
    settings = design.ship.sizing.model_copy(update=change)
    freed = replace(design, ship=design.ship.model_copy(update={"sizing": settings}))
    try:
        asked = ask(freed)
        problem, found = solved(asked)[:2]
    except InputError as error:
        return Freed(words=words, saves=None, proved=False, changes=(), note=str(error))
    thickness, _ = asked.plate_steels(found.solution)
    changes = []
    if asked.plates.names == sized.laid.plates.names:
        for name, old, new in zip(asked.plates.names, sized.laid.thickness_mm, thickness, strict=True):
            if old != new and old == old and new == new:
                changes.append(f"{name} {old:g} to {new:g} mm")
    sections = asked.sections(found.solution)
    changes += [
        f"{group} {sized.sections[zone, group][0]} to {new[0]}"
        for (zone, group), new in sections.items()
        if (zone, group) in sized.sections and sized.sections[zone, group][0] != new[0]
    ]
    more = f"and {len(changes) - _SHOWN} more" if len(changes) > _SHOWN else ""
    shown = (*changes[:_SHOWN], more) if more else tuple(changes)
    return Freed(
        words=words, saves=sized.own.price - found.price, proved=found.finished and sized.own.finished,
        changes=shown, note="" if problem.unit == sized.problem.unit else "prices are of another kind",
    )  # fmt: skip
