"""What the shell of a class costs: steel of the grades the class asks for, work, welds, pieces, bending.

Plates are laid once for all classes, on the arrangement and without borders of hull areas, so that joints, pieces and
bending differ by thickness alone.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np

from beltwright.arrangement.model import Arrangement
from beltwright.core.columns import ColumnTable
from beltwright.core.units import FloatArray, LabelArray
from beltwright.scantlings.design import Design
from beltwright.ship.model import Ship
from beltwright.weights.choice_columns import numbers, words
from beltwright.weights.costing import KG_PER_T, Costing, Money, PlateWork, plate_work
from beltwright.weights.shellplates import Cover, PlateSizes, cover_of, lay_plates
from beltwright.weights.steel import SteelWeight

ASKED: Final = "as the class asks"
OWN: Final = "as offered: the document asks for no grade"
NO_GRADE: Final = ("no grade", "not checked")
_SIDES: Final = 2


@dataclass(frozen=True, slots=True, kw_only=True)
class ShellWork:
    """The plates that every class is priced on: what they cover, and their joints and bending."""

    cover: Cover
    work: PlateWork


@dataclass(frozen=True, slots=True, kw_only=True)
class ClassCost:
    """What plating and frames of a class cost, both sides, and the carbon dioxide of their steel [t].

    Steel and work count the stated allowances; ``kg`` are masses by grade without them. ``grades`` says which grades
    were priced.
    """

    plating: Money
    frames: Money
    co2_t: float
    kg: dict[str, float]
    grades: str

    @property
    def total(self) -> float:
        """Plating and frames, all causes."""
        return float(self.plating.total + self.frames.total)


def shell_work(ship: Ship, arrangement: Arrangement) -> ShellWork:
    """Return the plates of an arrangement that every class is priced on; sizes are those of ``sizing``."""
    sizes = PlateSizes(length_m=ship.sizing.plate_length_m, width_m=ship.sizing.plate_width_m)
    plates = lay_plates(arrangement, (), sizes)
    cover = cover_of(plates, arrangement)
    return ShellWork(cover=cover, work=plate_work(arrangement, plates, cover))


def class_cost(design: Design, weight: SteelWeight, shell: ShellWork, costing: Costing) -> ClassCost | None:
    """Return what the shell of a class's design costs; None where nothing of it is weighed.

    Raises InputError where a price is missing.
    """
    if weight.modelled_t <= 0.0:
        return None
    panels, frames = design.arrangement.panels, design.arrangement.frames
    plate_grade, frame_grade = _grades(design, panels.rows, frames.rows)
    share = weight.total_t / weight.modelled_t
    plates = _by_grade(plate_grade, weight.plate_mass_kg.sum(axis=1))
    bars = _by_grade(frame_grade, weight.frame_mass_kg.sum(axis=1))
    joints, bent, pieces = _work(shell, panels.values("net_area_m2"), design.plating["thickness_as_built_mm"].data)
    weighed = ~np.isnan(weight.frame_mass_kg[:, 0])
    kg = {grade: plates.get(grade, 0.0) + bars.get(grade, 0.0) for grade in sorted({*plates, *bars})}
    return ClassCost(
        plating=costing.plating(_scaled(plates, share), joints_m_mm=joints, bent_m2_mm=bent, pieces=pieces),
        frames=costing.frames(
            _scaled(bars, share), length_m=_SIDES * float(frames.values("length_m")[weighed].sum()),
            spans=_SIDES * int(weighed.sum()),
        ),
        co2_t=float(costing.co2_t(_scaled(kg, share))),
        kg=kg,
        grades=OWN if design.grades is None else ASKED,
    )  # fmt: skip


def _grades(design: Design, panels: int, frames: int) -> tuple[LabelArray, LabelArray]:
    """The grade that every panel and span is priced in: what is asked, where it is, else what is offered."""
    offered = design.plating.labels("grade"), design.frames.labels("grade")
    if design.grades is None:
        return offered
    asked = design.grades.labels("grade_demanded")
    found = [
        np.where(np.isin(part, NO_GRADE), own, part)
        for part, own in zip((asked[:panels], asked[panels : panels + frames]), offered, strict=True)
    ]
    return found[0].astype(np.str_), found[1].astype(np.str_)


def _by_grade(grade: LabelArray, kg: FloatArray) -> dict[str, float]:
    """Masses by grade; members without a mass are left out."""
    known = ~np.isnan(kg)
    return {str(one): float(kg[known & (grade == one)].sum()) for one in np.unique(grade[known])}


def _scaled(kg: dict[str, float], share: float) -> dict[str, float | FloatArray]:
    return {grade: mass * share for grade, mass in kg.items()}


def _work(shell: ShellWork, net_m2: FloatArray, thickness_mm: FloatArray) -> tuple[float, float, int]:
    """Joints times thickness, bent area times thickness, and pieces; a plate counts as far as its panels are weighed.

    A plate's thickness is the mean of its panels' by area.
    """
    cover, work = shell.cover, shell.work
    known = ~np.isnan(thickness_mm[cover.panel])
    area, moment = np.zeros(len(work.area_m2)), np.zeros(len(work.area_m2))
    part = (cover.share * net_m2[cover.panel])[known]
    np.add.at(area, cover.plate[known], part)
    np.add.at(moment, cover.plate[known], part * thickness_mm[cover.panel[known]])
    there = area > 0.0
    mean = np.divide(moment, area, out=np.zeros_like(area), where=there)
    weighed = np.divide(area, work.area_m2, out=np.zeros_like(area), where=there)
    return float((work.edge_m * weighed * mean).sum()), float(moment[work.bent].sum()), _SIDES * int(there.sum())


_CAUSES: Final = {
    "steel": "steel of the grades priced",
    "work": "work by weight",
    "welding": "welding",
    "pieces": "handling of pieces",
    "bending": "bending",
}
_TAKEN: Final = ("ice_class", "document", "own", "base", "outcome")


def cost_table(costs: Sequence[ClassCost | None], table: ColumnTable, currency: str) -> ColumnTable:
    """Return the cost of each class by cause, beside the columns of the choice that name it and sum it up."""
    columns = {name: table[name] for name in _TAKEN}
    for part in ("plating", "frames"):
        for cause, meaning in _CAUSES.items():
            if (part, cause) == ("frames", "bending"):
                continue
            values = [None if one is None else float(getattr(getattr(one, part), cause)) for one in costs]
            columns[f"{part}_{cause}"] = numbers(currency, f"{part}: {meaning}", values)
    columns |= {name: table[name] for name in ("steel_cost", "more_steel_cost", "engine_cost")}
    columns["co2_t"] = numbers(
        "t", "carbon dioxide of making the steel", [None if one is None else one.co2_t for one in costs]
    )
    columns["grades_priced"] = words("which grades are priced", ["" if one is None else one.grades for one in costs])
    columns["masses"] = words(
        "mass by grade without allowances, t",
        ["" if one is None else "; ".join(f"{g} {kg / KG_PER_T:.1f}" for g, kg in one.kg.items()) for one in costs],
    )
    return ColumnTable("class costs", columns)
