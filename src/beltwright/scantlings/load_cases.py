"""The load cases that are handed over to a direct calculation: where each load patch lies, how large, what pressure.

A web frame is loaded between what holds it and close to either end; a stringer on each web frame or bulkhead that holds
it and midway between them. One patch at a time, nothing else with it.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray

from beltwright.core.columns import Column, ColumnTable
from beltwright.core.units import FloatArray, IntArray, LabelArray, Unit
from beltwright.scantlings.support_run import KindRun, SupportRun
from beltwright.scantlings.support_spans import FREE_END, STRINGER, SupportSpans
from beltwright.scantlings.supports import NOT_GIVEN

NO_PLATE = "no plate with a thickness beside it"
_FRAME_DIGITS = 6
_FROM_RUN = (
    ("patch_width_m", "m", "width of the patch along the waterline"),
    ("patch_height_m", "m", "height of the patch along the shell"),
    ("area_factor", "-", "hull area factor in the pressure"),
    ("peak_pressure_factor", "-", "peak pressure factor in the pressure"),
    ("pressure_mpa", "MPa", "pressure on the patch"),
    ("patch_force_mn", "MN", "force of the whole patch"),
    ("yield_mpa", "MPa", "minimum upper yield stress of the member"),
)


def load_cases(supports: SupportRun) -> ColumnTable:
    """Return the load cases of every member for which a direct calculation is required, one row per patch position.

    A member that several areas touch is loaded with each of their patches. Where two bays of a stringer meet on one web
    frame, an equal patch on it is told once. Thickness is net: as built less the deduction for corrosion. Without rows
    where the rule set asks for no direct calculation.
    """
    handed = [one for one in supports.runs if one.asked.direct]
    if not handed:
        return no_cases()
    cases = list(_cases(supports, handed))
    share = np.array([case.share for case in cases])
    spans, given = supports.spans, supports.given
    span = np.array([case.of.run.rows.member[case.row] for case in cases], dtype=np.int64)
    places, girth = _places(spans.points, span, share), _places(spans.expansion, span, share)
    frame = spans.frame_aft[span] + share * (spans.frame_fore[span] - spans.frame_aft[span])
    basis = np.where(given.given[span], "net, as built less corrosion", NOT_GIVEN)
    columns = {
        "case": _word("load case", [f"LC{n:04d}" for n in range(1, len(cases) + 1)]),
        "grillage": _word("grillage to be calculated", spans.grillage[span]),
        "kind": _word("what the member is", spans.kind[span]),
        "member": _word("web frame span or stringer bay", spans.id[span]),
        "position": _word("where the patch lies on it", [case.words for case in cases]),
        "load_area": _word("hull area whose patch it is", [str(c.of.run.rows.load_area[c.row]) for c in cases]),
        "factor_area": _word("hull area whose factor it takes", [str(c.of.run.rows.factor_area[c.row]) for c in cases]),
        "frame": Column(unit=Unit("frame"), meaning="frame number at the patch's centre", data=frame),
    }
    for k, name in enumerate(("x, from the aft perpendicular", "y, to port", "z, above the baseline")):
        meaning = f"centre of the patch, {name}"
        columns[f"{name[0]}_m"] = Column(unit=Unit("m"), meaning=meaning, data=places[:, k])
    columns["girth_m"] = Column(unit=Unit("m"), meaning="centre of the patch, girth", data=girth[:, 1])
    for name, unit, meaning in _FROM_RUN:
        values = _numbers(cases, name)
        columns[name] = Column(unit=Unit(unit), meaning=meaning, data=values)
    columns["thickness_basis"] = _word("basis of the thicknesses", basis)
    columns["web_net_mm"] = _size("net web thickness of the member", given.numbers["web_net_mm"][span], NOT_GIVEN)
    columns["flange_net_mm"] = _size("its net flange thickness", given.numbers["flange_net_mm"][span], NOT_GIVEN)
    plate = _numbers(cases, "plate_net_fitted_mm")
    columns["plate_net_mm"] = _size("net shell thickness beside it", plate, NO_PLATE)
    return ColumnTable("direct calculation", columns)


def no_cases() -> ColumnTable:
    """Return the table without rows."""
    return ColumnTable("direct calculation", {"id": _word("none", [])})


@dataclass(frozen=True, slots=True)
class _Case:
    """One patch: the run and its row, share of the way along the span from its lower or aft end, position in words."""

    of: KindRun
    row: int
    share: float
    words: str


def _cases(supports: SupportRun, handed: Sequence[KindRun]) -> Iterator[_Case]:
    """The patches of every member that a direct calculation is required of."""
    spans = supports.spans
    told: set[tuple[object, ...]] = set()
    for of in handed:
        run, shown = of.run, of.asked.rule.shown
        needed = _whole(run.values[of.asked.direct], of)
        height, pressure = (_whole(run.values[shown[name]], of) for name in ("patch_height_m", "pressure_mpa"))
        for r in np.flatnonzero(needed).tolist():
            member = int(run.rows.member[r])
            stringer = spans.kind[member] == STRINGER
            found = _on_stringer(spans, member) if stringer else _on_web(spans, member, float(height[r]))
            for share, words in found:
                frame = spans.frame_aft[member] + share * (spans.frame_fore[member] - spans.frame_aft[member])
                load = (round(float(height[r]), 9), round(float(pressure[r]), 9))
                name = spans.level[member] if stringer else spans.id[member]
                key = (name, round(float(frame), _FRAME_DIGITS), words, load)
                if key not in told:
                    told.add(key)
                    yield _Case(of, r, share, words)


def _on_web(spans: SupportSpans, member: int, patch_height_m: float) -> Iterator[tuple[float, str]]:
    """A web frame's patch: centred between its supports, and touching either support where the span is long enough."""
    below, above = spans.one_end[member], spans.other_end[member]
    yield 0.5, f"centred between {below} and {above}"
    half = 0.5 * patch_height_m / float(spans.length_m[member])
    if half < 0.5:
        yield half, f"close to {below}"
        yield 1.0 - half, f"close to {above}"


def _on_stringer(spans: SupportSpans, member: int) -> Iterator[tuple[float, str]]:
    """A stringer's patch: centred on what holds it at either end, and midway between."""
    aft, fore = str(spans.one_end[member]), str(spans.other_end[member])
    if aft != FREE_END:
        yield 0.0, f"centred on {aft}"
    yield 0.5, f"midway between {aft} and {fore}"
    if fore != FREE_END:
        yield 1.0, f"centred on {fore}"


def _places(values: FloatArray, span: IntArray, share: FloatArray) -> FloatArray:
    """Places (n, c) at a share of the way along spans whose places (s, k, c) stand at equal steps."""
    last = values.shape[1] - 1
    step = np.minimum((share * last).astype(np.int64), last - 1)
    t = (share * last - step)[:, None]
    between: FloatArray = (1.0 - t) * values[span, step] + t * values[span, step + 1]
    return between


def _whole(values: NDArray[Any], of: KindRun) -> NDArray[Any]:
    """A column of a run for every row (r,); a ship-level one stands for all."""
    whole: NDArray[Any] = np.broadcast_to(values, of.run.rows.member.shape)
    return whole


def _numbers(cases: Sequence[_Case], name: str) -> FloatArray:
    """A number of the runs that the cases stand on (n,), under the name that each run's rule shows it by."""
    runs = {id(case.of): case.of for case in cases}
    belongs = np.array([id(case.of) for case in cases])
    row = np.array([case.row for case in cases], dtype=np.int64)
    found = np.empty(len(cases))
    for key, of in runs.items():
        at = np.flatnonzero(belongs == key)
        found[at] = _whole(of.run.values[of.asked.rule.shown.get(name, name)], of)[row[at]]
    return found


def _word(meaning: str, values: list[str] | LabelArray) -> Column:
    """A column of words."""
    return Column(unit=Unit("label"), meaning=meaning, data=np.array(values, dtype=np.str_))


def _size(meaning: str, data: FloatArray, missing: str) -> Column:
    """A thickness, or the reason why there is none."""
    return Column(unit=Unit("mm"), meaning=meaning, data=data, reason=np.where(np.isnan(data), missing, ""))
