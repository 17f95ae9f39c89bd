"""What the panels of a picture can be coloured by: a class for every panel, and what each class means.

A class is never told by its colour alone: every one has words, and the number of panels in it.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from itertools import pairwise
from typing import Literal

import numpy as np

from beltwright.arrangement.model import Arrangement
from beltwright.core.columns import ColumnTable
from beltwright.core.outcome import is_met
from beltwright.core.units import FloatArray, LabelArray
from beltwright.scantlings.members import NOT_MET

MOST_STEPS = 12  # distinct numbers shown one by one; more are put together
_UTILISATION = (0.7, 0.8, 0.9, 0.95)
NOTHING = "nothing asked"


@dataclass(frozen=True, slots=True, kw_only=True)
class Colouring:
    """One way to colour the panels.

    Attributes
    ----------
    kind : ``scale`` where the classes are steps of a number from low to high, ``names`` where they are words
    classes : (n,) unsigned bytes, the class of each panel, in the order of the plating table
    labels : what each class means; class 0 is always "nothing asked" or its like
    counts : panels in each class, one side
    failed : the class of panels that do not meet their requirement, None where this colouring does not tell
    """

    by: str
    title: str
    kind: Literal["scale", "names"]
    classes: np.ndarray
    labels: tuple[str, ...]
    counts: tuple[int, ...]
    failed: int | None = None


def colour_panels(by: str, arrangement: Arrangement, plating: ColumnTable, grades: ColumnTable | None) -> Colouring:
    """Return a colouring of the panels.

    Parameters
    ----------
    by : one of ``COLOURINGS``
    grades : the table of steel grades, whose first rows are the panels; None where there is none (yet)

    Raises
    ------
    KeyError : there is no such colouring
    """
    return COLOURINGS[by](arrangement, plating, grades)


def _by_area(_: Arrangement, plating: ColumnTable, __: ColumnTable | None) -> Colouring:
    """By hull area."""
    return _names("hull area", "Hull area", plating.labels("hull_area"), "outside the strengthened areas")


def _by_pressure(_: Arrangement, plating: ColumnTable, __: ColumnTable | None) -> Colouring:
    """By the pressure that the plating is held to: average pressure, area factor and peak factor together."""
    column = plating["pressure_avg_mpa"]
    value = np.where(column.applies, column.data, np.nan)
    for name in ("area_factor", "peak_pressure_factor"):
        if name in plating:
            value = value * np.where(plating[name].applies, plating[name].data, np.nan)
    return _steps("pressure", "Design pressure on the plate, MPa", value, "MPa", 2)


def _by_thickness(_: Arrangement, plating: ColumnTable, __: ColumnTable | None) -> Colouring:
    """By thickness as built."""
    column = plating["thickness_as_built_mm"]
    value = np.where(column.applies, column.data, np.nan)
    return _steps("thickness", "Plate thickness as built, mm", value, "mm", 1, none="no thickness")


def _by_utilisation(_: Arrangement, plating: ColumnTable, __: ColumnTable | None) -> Colouring:
    """By required over offered thickness; what is not met stands apart."""
    ratio, outcome = plating["ratio"].data, plating.labels("outcome")
    bounds = (*_UTILISATION, 1.0)
    labels = [NOTHING, *(f"up to {bound:.2f}" for bound in bounds), "NOT MET"]
    classes = np.zeros(plating.rows, dtype=np.uint8)
    asked = ~np.isnan(ratio)
    classes[asked] = 1 + np.searchsorted(bounds, ratio[asked])
    failed = len(labels) - 1
    classes[(asked & ~is_met(ratio)) | (outcome == NOT_MET)] = failed
    return _made("utilisation", "Required over offered thickness", "scale", classes, labels, failed)


def _by_framing(arrangement: Arrangement, _: ColumnTable, __: ColumnTable | None) -> Colouring:
    """By how the frames run, and how far apart."""
    panels = arrangement.panels
    column = panels["spacing_m"]
    spacing = np.where(column.applies, column.data, np.nan)
    run = panels.labels("orientation")
    zone = panels.labels("zone")
    words = np.empty(panels.rows, dtype=object)
    for name in np.unique(zone):
        here = zone == name
        apart = spacing[here & ~np.isnan(spacing)]
        told = f", {np.median(apart):.2f} m apart" if apart.size else ""
        words[here] = f"{name}: {run[here][0]}{told}"
    return _names("framing", "Framing zone", words.astype(np.str_), "no frames")


def _by_grade(_: Arrangement, plating: ColumnTable, grades: ColumnTable | None) -> Colouring:
    """By steel grade; panels whose grade does not do are a class of their own."""
    grade = plating.labels("grade")
    if grades is None:
        return _names("grade", "Steel grade", grade, "no grade")
    failed = grades.labels("outcome")[: plating.rows] == NOT_MET
    words = np.where(failed, "NOT MET", grade).astype(np.str_)
    made = _names("grade", "Steel grade", words, "no grade")
    bad = made.labels.index("NOT MET") if "NOT MET" in made.labels else None
    return Colouring(
        by=made.by, title=made.title, kind=made.kind, classes=made.classes, labels=made.labels, counts=made.counts,
        failed=bad,
    )  # fmt: skip


COLOURINGS: Mapping[str, Callable[[Arrangement, ColumnTable, ColumnTable | None], Colouring]] = {
    "hull area": _by_area,
    "pressure": _by_pressure,
    "thickness": _by_thickness,
    "utilisation": _by_utilisation,
    "framing": _by_framing,
    "grade": _by_grade,
}


def _names(by: str, title: str, words: LabelArray, none: str) -> Colouring:
    """Classes by words; an empty word is class 0."""
    known = [str(word) for word in np.unique(words) if word]
    classes = np.zeros(len(words), dtype=np.uint8)
    for number, word in enumerate(known, 1):
        classes[words == word] = number
    return _made(by, title, "names", classes, [none, *known], None)


def _steps(by: str, title: str, value: FloatArray, unit: str, decimals: int, none: str = NOTHING) -> Colouring:
    """Classes by a number (n,): one for each where there are few, equal shares of the range where there are many."""
    known = np.unique(np.round(value[np.isfinite(value)], decimals))
    classes = np.zeros(len(value), dtype=np.uint8)
    there = np.isfinite(value)
    rounded = np.round(value[there], decimals)
    if len(known) <= MOST_STEPS:
        classes[there] = 1 + np.searchsorted(known, rounded)
        labels = [f"{number:.{decimals}f} {unit}" for number in known]
    else:
        edges = np.linspace(known[0], known[-1], MOST_STEPS + 1)
        step = np.clip(np.searchsorted(edges, rounded, side="right") - 1, 0, MOST_STEPS - 1)
        classes[there] = 1 + step
        pairs = pairwise(edges)
        labels = [f"{low:.{decimals}f} to {high:.{decimals}f} {unit}" for low, high in pairs]
    return _made(by, title, "scale", classes, [none, *labels], None)


def _made(
    by: str, title: str, kind: Literal["scale", "names"], classes: np.ndarray, labels: list[str], failed: int | None
) -> Colouring:
    """A colouring with its counts."""
    counts = np.bincount(classes, minlength=len(labels))
    return Colouring(
        by=by, title=title, kind=kind, classes=classes, labels=tuple(labels),
        counts=tuple(int(count) for count in counts), failed=failed,
    )  # fmt: skip
