"""What ``ship.toml`` says of web frames and stringers: refused where it contradicts itself, laid on the spans else."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

import numpy as np

from beltwright.arrangement.levels import LevelLine
from beltwright.core.errors import InputError
from beltwright.core.findings import Findings
from beltwright.core.units import BoolArray, FloatArray, IntArray, LabelArray
from beltwright.materials.hull_steel import hull_steels
from beltwright.scantlings import codes
from beltwright.scantlings.choose import Places, speaks_of
from beltwright.scantlings.support_spans import STRINGER, WEB_FRAME, SupportSpans
from beltwright.scantlings.yields import by_thickness
from beltwright.ship.model import LevelKind, Ship
from beltwright.ship.supports import StringerScantlings, SupportScantlings

NUMBERS = (
    "web_height_mm", "web_as_built_mm", "web_net_mm", "flange_breadth_mm", "flange_as_built_mm", "flange_net_mm",
    "flange_outstand_mm", "penetrating_height_mm", "web_stiffener_spacing_mm", "calculated_shear_mpa",
    "calculated_von_mises_mpa",
)  # fmt: skip


@dataclass(frozen=True, slots=True, kw_only=True)
class GivenScantlings:
    """The scantlings of every span (n,): ``numbers`` by the names of ``NUMBERS``, NaN where nothing is given.

    ``given`` says where scantlings are given, ``line`` which of ``lines`` gives them (-1 for none), ``kind`` is the
    family of section, ``in_grillage`` whether the member is part of a grillage, as given or by the arrangement;
    ``calculation`` names the direct calculation of its stresses.
    """

    given: BoolArray
    line: IntArray
    lines: tuple[SupportScantlings, ...]
    kind: LabelArray
    grade: LabelArray
    yield_mpa: FloatArray
    in_grillage: BoolArray
    calculation: LabelArray
    numbers: dict[str, FloatArray] = field(default_factory=dict)


def support_lines(ship: Ship) -> list[tuple[str, str, SupportScantlings]]:
    """Return the lines as (kind of member, field, line), in the order of the file."""
    webs = [(WEB_FRAME, f"web_frames[{n}]", line) for n, line in enumerate(ship.web_frames, 1)]
    return [*webs, *((STRINGER, f"stringers[{n}]", line) for n, line in enumerate(ship.stringers, 1))]


def check_support_lines(ship: Ship) -> None:
    """Refuse lines that contradict themselves or name a stringer that is none: InputError naming the field."""
    stringers = [level.name for level in ship.levels if level.kind is LevelKind.LOAD_CARRYING_STRINGER]
    for _, name, line in support_lines(ship):
        where = f"ship.toml: {name}"
        if isinstance(line, StringerScantlings) and line.level is not None and line.level not in stringers:
            allowed = ", ".join(stringers) or "none: the ship has no load-carrying stringer"
            raise InputError(f"{where}.level", "no such load-carrying stringer", value=line.level, allowed=allowed)
        if line.grade is not None:
            hull_steels().steel(line.grade, where=f"{where}.grade")
        _check_sizes(where, line, ship.stock.frame_corrosion_mm)
        told = [line.calculated_shear_mpa, line.calculated_von_mises_mpa, line.calculation]
        if any(one is not None for one in told) and any(one is None for one in told):
            raise InputError(
                f"{where}.calculation", "a calculation's stresses and its name belong together",
                allowed="calculated_shear_mpa, calculated_von_mises_mpa and calculation, all three or none",
            )  # fmt: skip


def _check_sizes(where: str, line: SupportScantlings, deduction_mm: float) -> None:
    """Refuse a flange that is half given, framing higher than the web, and plates that corrosion eats up."""
    breadth, thickness, web = line.flange_breadth_mm, line.flange_thickness_as_built_mm, line.web_thickness_as_built_mm
    if (breadth > 0.0) != (thickness > 0.0):
        name, value = ("thickness_as_built", thickness) if breadth > 0.0 else ("breadth", breadth)
        raise InputError(
            f"{where}.flange_{name}_mm", "the flange is half given", value=value, unit="mm",
            allowed="both breadth and thickness above 0, or both 0",
        )  # fmt: skip
    if 0.0 < breadth <= web:
        raise InputError(
            f"{where}.flange_breadth_mm", "the flange is no wider than its web", value=breadth, unit="mm",
            allowed=f"above {web:g}",
        )  # fmt: skip
    if line.penetrating_height_mm >= line.web_height_mm:
        raise InputError(
            f"{where}.penetrating_height_mm", "framing cannot pass through a lower web",
            value=line.penetrating_height_mm, unit="mm", allowed=f"below {line.web_height_mm:g}",
        )  # fmt: skip
    for name, value in (("web", web), ("flange", thickness)):
        if 0.0 < value <= deduction_mm:
            raise InputError(
                f"{where}.{name}_thickness_as_built_mm", "nothing is left of it after corrosion", value=value,
                unit="mm", allowed=f"above {deduction_mm:g}, the deduction of stock.frame_corrosion_mm",
            )  # fmt: skip


def given_scantlings(
    ship: Ship, spans: SupportSpans, hull_area: LabelArray, levels: Sequence[LevelLine], findings: Findings
) -> GivenScantlings:
    """Return what is given for every span; later lines win. A line that speaks of none is finding BW443."""
    middle, count = spans.middle, spans.count
    places = Places(
        hull_area=hull_area, zone=spans.zone, bay=spans.level, frame=spans.frame, x_m=middle[:, 0],
        height_m=middle[:, 2],
    )  # fmt: skip
    numbers = {name: np.full(count, np.nan) for name in NUMBERS}
    given, in_grillage = np.zeros(count, dtype=bool), spans.crosses.copy()
    kind, grade = np.full(count, "flat", dtype="<U4"), np.full(count, ship.steel.frame_grade, dtype="<U80")
    calculation = np.full(count, "", dtype="<U500")
    of_line, lines = np.full(count, -1, dtype=np.int64), support_lines(ship)
    for number, (what, name, line) in enumerate(lines):
        chosen = (spans.kind == what) & speaks_of(line, places, ship, tuple(levels), name)
        if isinstance(line, StringerScantlings) and line.level is not None:
            chosen &= spans.level == line.level
        if not chosen.any():
            findings.add(codes.GIVEN_NOT_USED, f"ship.toml: {name}", f"no {what} lies there")
        for column, value in _numbers(line, ship.stock.frame_corrosion_mm).items():
            numbers[column][chosen] = value
        given[chosen] = True
        of_line[chosen] = number
        kind[chosen] = _family(line)
        grade[chosen] = line.grade or ship.steel.frame_grade
        calculation[chosen] = line.calculation or ""
        in_grillage[chosen] = spans.crosses[chosen] if line.part_of_grillage is None else line.part_of_grillage
    grades = grade.astype(np.str_)
    thickest = np.fmax(numbers["web_as_built_mm"], numbers["flange_as_built_mm"])
    yields = by_thickness(grades, thickest, where="ship.toml: grade of a web frame or stringer")
    return GivenScantlings(
        given=given, line=of_line, lines=tuple(line for _, _, line in lines), kind=kind, grade=grades, yield_mpa=yields,
        in_grillage=in_grillage, calculation=calculation, numbers=numbers,
    )  # fmt: skip


def _family(line: SupportScantlings) -> str:
    """The family of the built-up section."""
    if line.flange_breadth_mm == 0.0:
        return "flat"
    return "angle" if line.flange_one_sided else "tee"


def _numbers(line: SupportScantlings, deduction_mm: float) -> dict[str, float]:
    """As-built and net sizes; the outstand is measured from the net web's face, as for the frames."""
    web, flange = line.web_thickness_as_built_mm - deduction_mm, line.flange_thickness_as_built_mm
    beside = line.flange_breadth_mm - web
    outstand = beside if line.flange_one_sided else 0.5 * beside
    return {
        "web_height_mm": line.web_height_mm,
        "web_as_built_mm": line.web_thickness_as_built_mm,
        "web_net_mm": web,
        "flange_breadth_mm": line.flange_breadth_mm,
        "flange_as_built_mm": flange,
        "flange_net_mm": flange - deduction_mm if flange > 0.0 else 0.0,
        "flange_outstand_mm": outstand if flange > 0.0 else 0.0,
        "penetrating_height_mm": line.penetrating_height_mm,
        "web_stiffener_spacing_mm": _or_nan(line.web_stiffener_spacing_mm),
        "calculated_shear_mpa": _or_nan(line.calculated_shear_mpa),
        "calculated_von_mises_mpa": _or_nan(line.calculated_von_mises_mpa),
    }


def _or_nan(value: float | None) -> float:
    """A number, or NaN where it is not given."""
    return float("nan") if value is None else value
