"""Web frames and stringers in groups of one load and one standing, and the grillages with their load cases."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from beltwright.core.columns import Column, ColumnTable
from beltwright.core.units import FloatArray, IntArray, LabelArray, Unit
from beltwright.scantlings.members import NO_RESULT, NOT_MET, NOTHING_ASKED
from beltwright.scantlings.support_run import SupportRun
from beltwright.scantlings.supports import FORMULA, NOT_GIVEN, OPEN

_BY = ("kind", "hull_area", "load_area", "strength_by")
_DEMAND = (
    "area_factor", "size_factor", "peak_pressure_factor", "pressure_mpa", "line_load_mn_per_m", "load_mn", "moment_mnm",
    "patch_width_m", "patch_height_m", "patch_force_mn", "shear_area_required_cm2", "shear_area_offered_cm2",
    "modulus_required_cm3", "modulus_offered_cm3",
)  # fmt: skip
_MODULUS = "modulus_required_cm3"
_FRAMING = ("penetrating_height_mm", "framing_least_mm")
_SIZES = ("web_height_mm", "web_as_built_mm", "flange_breadth_mm", "flange_as_built_mm")


def supports_table(run: SupportRun | None) -> ColumnTable:
    """Return the table of web frames and stringers; without rows where the rule set has no rules for them."""
    if run is not None:
        return run.table
    return ColumnTable("web frames and stringers", {"id": _words("none", [])})


def ratio_of(table: ColumnTable) -> str:
    """Return the name of the ratio that a table of members, or of their groups, is judged by: strength or stability."""
    return "strength_ratio" if "strength_ratio" in table else "stability_ratio"


def support_groups(table: ColumnTable, areas_in_order: Sequence[str], *, by_scantlings: bool = False) -> ColumnTable:
    """Return the members under ice load in groups of one kind, hull area and load, with the worst of each.

    ``table`` is that of the web frames and stringers; ``by_scantlings`` tells members of other scantlings
    apart too. The member named is the one with the greatest ratio, or the first where none has one. Where formulas show
    the strength, the load follows each member's own span and groups nothing.
    """
    if table.rows == 0:
        return ColumnTable("groups of web frames and stringers", {"id": _words("none", [])})
    rows = np.flatnonzero(table.labels("outcome") != NOTHING_ASKED)
    scantlings = _scantlings(table)
    told_apart = [scantlings] if by_scantlings else []
    load = np.where(table.labels("strength_by") == FORMULA, "", _text(table["pressure_mpa"].data))
    keys = np.stack([*(table.labels(name) for name in _BY), *told_apart, load], axis=1)
    found, inverse = np.unique(keys[rows], axis=0, return_inverse=True)
    order = {area: k for k, area in enumerate(areas_in_order)}
    groups = sorted(
        range(len(found)), key=lambda g: (found[g][0] != "web frame", order.get(found[g][1], 99), *found[g])
    )
    members = [rows[inverse.reshape(-1) == g] for g in groups]
    judged = ratio_of(table)
    ratio, governing = table[judged], judged.replace("ratio", "governing")
    worst = np.array([_worst(table, ratio, m) for m in members], dtype=int)
    outcome = table.labels("outcome")
    named = {name: _taken(table[name], worst) for name in ("id", *_BY, *(n for n in _DEMAND if n in table), governing)}
    return ColumnTable(
        "groups of web frames and stringers",
        {
            **named,
            **{name: _of_group(table, name, members) for name in _FRAMING if name in table},
            "scantlings": _words("as built: web, flange", scantlings[worst]),
            "members": _counts("members in the group", [len(m) for m in members]),
            "open": _counts("of these open", [int((outcome[m] == OPEN).sum()) for m in members]),
            "not_met": _counts("of these not met", [int((outcome[m] == NOT_MET).sum()) for m in members]),
            judged: Column(
                unit=ratio.unit, meaning=ratio.meaning, data=ratio.data[worst],
                reason=np.where(
                    np.isnan(ratio.data[worst]), NOT_GIVEN, np.where(np.isinf(ratio.data[worst]), NO_RESULT, "")
                ),
            ),
        },
    )  # fmt: skip


def _worst(table: ColumnTable, ratio: Column, members: IntArray) -> int:
    """The member of the greatest ratio; of members without one, that of the greatest modulus required, or the first."""
    weight = np.nan_to_num(ratio.data[members], nan=-np.inf)
    if not np.isfinite(weight).any() and _MODULUS in table:
        weight = np.nan_to_num(table[_MODULUS].data[members], nan=-np.inf)
    return int(members[int(np.argmax(weight))])


def _taken(column: Column, rows: IntArray) -> Column:
    """Some rows of a column."""
    reason = None if column.reason is None or not (column.reason[rows] != "").any() else column.reason[rows]
    return Column(unit=column.unit, meaning=column.meaning, data=column.data[rows], reason=reason)


def _of_group(table: ColumnTable, name: str, members: Sequence[IntArray]) -> Column:
    """The least of a height over the members of each group, with the reason where none of them has one."""
    column = table[name]
    least = [float(np.nanmin(column.data[m])) if np.isfinite(column.data[m]).any() else float("nan") for m in members]
    why = "" if column.reason is None else next((str(word) for word in np.unique(column.reason) if word), "")
    data = np.array(least)
    return Column(unit=column.unit, meaning=column.meaning, data=data, reason=np.where(np.isnan(data), why, ""))


def grillages(cases: ColumnTable) -> ColumnTable:
    """Return the grillages to be calculated: how many members and load cases, and the greatest pressure and force."""
    names = cases.labels("grillage") if "grillage" in cases else np.zeros(0, dtype=np.str_)
    found = list(dict.fromkeys(names.tolist()))
    rows: list[IntArray] = [np.flatnonzero(names == name) for name in found]

    def most(column: str) -> FloatArray:
        return np.array([float(cases[column].data[r].max()) for r in rows])

    members = [[len(set(cases.labels("member")[r][cases.labels("kind")[r] == kind])) for r in rows]
               for kind in ("web frame", "stringer")]  # fmt: skip
    return ColumnTable(
        "grillages",
        {
            "grillage": _words("from bulkhead to bulkhead, from deck to deck", found),
            "web_spans": _counts("web frame spans", members[0]),
            "stringer_bays": _counts("stringer bays", members[1]),
            "load_cases": _counts("load cases", [len(r) for r in rows]),
            "pressure_mpa": Column(unit=Unit("MPa"), meaning="greatest pressure", data=most("pressure_mpa")),
            "patch_force_mn": Column(unit=Unit("MN"), meaning="greatest force of a patch", data=most("patch_force_mn")),
        },
    )


def _scantlings(table: ColumnTable) -> LabelArray:
    """The scantlings of each member in words, e.g. ``900 x 12 + 200 x 20``."""
    height, web, breadth, flange = (table[name].data for name in _SIZES)
    words = []
    for h, t, b, f in zip(height.tolist(), web.tolist(), breadth.tolist(), flange.tolist(), strict=True):
        if h != h:
            words.append(NOT_GIVEN)
        else:
            words.append(f"{h:g} x {t:g}" + (f" + {b:g} x {f:g}" if b > 0.0 else ""))
    return np.array(words, dtype=np.str_)


def _text(values: FloatArray) -> LabelArray:
    """Numbers as words that group equal ones."""
    return np.array([f"{value:.9g}" for value in values.tolist()], dtype=np.str_)


def _words(meaning: str, data: Sequence[str] | LabelArray) -> Column:
    """A column of words."""
    return Column(unit=Unit("label"), meaning=meaning, data=np.array(data, dtype=np.str_))


def _counts(meaning: str, data: Sequence[int]) -> Column:
    """A column of whole numbers."""
    return Column(unit=Unit("count"), meaning=meaning, data=np.array(data, dtype=np.int64))
