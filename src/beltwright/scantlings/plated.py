"""Plated structures in contact with the shell: decks and inner bottom between bulkheads, and the bulkheads.

For each that an ice-strengthened area touches: how far inboard it counts as strengthened, and the load on its edge.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise

import numpy as np

from beltwright.arrangement.model import Arrangement, Trace
from beltwright.arrangement.plan import frame_label
from beltwright.core.columns import Column, ColumnTable
from beltwright.core.units import BoolArray, FloatArray, Unit
from beltwright.rules.protocol import DesignLoads, HullAreas, MemberRule, Strengthens
from beltwright.scantlings.areas import touched_by_lines
from beltwright.scantlings.design import HullMeasures
from beltwright.scantlings.members import (
    NO_REQUIREMENT,
    MemberRun,
    Sheet,
    chain_inputs,
    member_rows,
    most_demanding,
    touched_words,
)
from beltwright.scantlings.support_framing import frame_depths
from beltwright.scantlings.support_run import SupportRun
from beltwright.scantlings.support_spans import STRINGER, WEB_FRAME
from beltwright.ship.model import LevelKind

NEITHER = "neither a parallel web nor framing with a section is known beside it"
_DECKS = (LevelKind.DECK.value, LevelKind.INNER_BOTTOM.value)
_PLACES = 17
_ON_IT_M = 0.02


@dataclass(frozen=True, slots=True, kw_only=True)
class _Piece:
    """One plated structure: its name and kind, its line on the shell, its neighbours' greatest heights [mm]."""

    name: str
    kind: str
    points: FloatArray
    normals: FloatArray
    web_mm: float
    framing_mm: float


def plated_structures(
    rule: MemberRule, areas: HullAreas, measures: HullMeasures, loads: DesignLoads, arrangement: Arrangement,
    framing: MemberRun, supports: SupportRun,
) -> ColumnTable:  # fmt: skip
    """Return the plated structures in contact with the shell, one row each.

    Where only one of the web beside it and the framing that meets it is known, that one gives the extent.
    """
    pieces = [*_decks(arrangement, framing, supports), *_bulkheads(arrangement, framing, supports)]
    points, normals = np.stack([p.points for p in pieces]), np.stack([p.normals for p in pieces])
    hit = touched_by_lines(areas, measures, points, normals)
    rows = member_rows(areas, hit, Strengthens.FRAMING)
    web, depth = np.array([p.web_mm for p in pieces]), np.array([p.framing_mm for p in pieces])
    neither = np.isnan(web) & np.isnan(depth)
    member = rows.columns() | {
        "adjacent_web_height_mm": _known(web, neither)[rows.member],
        "framing_depth_mm": _known(depth, neither)[rows.member],
    }
    out = rule.chain.run(chain_inputs(rule.chain, loads.columns, member))
    governing = most_demanding(rows, out[rule.result])
    members = rows.member[governing]
    sheet = Sheet(len(pieces), members, NO_REQUIREMENT)
    sheet.whole("id", "label", "plated structure", np.array([p.name for p in pieces]))
    sheet.whole("kind", "label", "what it is", np.array([p.kind for p in pieces]))
    sheet.word("hull_area", "hull area whose factor it takes", rows.factor_area[governing])
    sheet.whole("touched", "label", "hull areas that it touches", touched_words(areas, hit))
    for name, output in rule.shown.items():
        clause = next(step.clause for step in rule.chain.steps if step.output == output)
        sheet.number(name, clause.unit.symbol, clause.title, np.broadcast_to(out[output], len(rows.member))[governing])
    table = sheet.table("plated structures")
    extent = table["inboard_extent_m"]
    assert extent.reason is not None
    asked = np.isin(np.arange(len(pieces)), members)
    reason = np.where(asked & neither, NEITHER, extent.reason)
    columns = {name: table[name] for name in table}
    columns["inboard_extent_m"] = Column(unit=extent.unit, meaning=extent.meaning, data=extent.data, reason=reason)
    beside = {
        "adjacent_web_height_mm": _size("greatest web height of a parallel web frame or stringer beside it", web),
        "framing_depth_mm": _size("greatest depth of the framing that meets it", depth),
    }
    return ColumnTable("plated structures", {**columns, **beside})


def _size(meaning: str, data: FloatArray) -> Column:
    """A height beside the structure, or that none is known."""
    return Column(unit=Unit("mm"), meaning=meaning, data=data, reason=np.where(np.isnan(data), "none known", ""))


def _known(values: FloatArray, neither: BoolArray) -> FloatArray:
    """Heights with infinity where only the other one is known, so that it alone decides."""
    known: FloatArray = np.where(np.isnan(values) & ~neither, np.inf, values)
    return known


def _decks(arrangement: Arrangement, framing: MemberRun, supports: SupportRun) -> Iterator[_Piece]:
    """Decks and inner bottom, in lengths between bulkheads."""
    stations, levels = arrangement.stations, [level.name for level in arrangement.levels]
    table, depth = arrangement.frames, frame_depths(arrangement, framing)
    lower, upper, x_m = table.labels("lower_level"), table.labels("upper_level"), table.values("x_m")
    spans, heights = supports.spans, supports.given.numbers["web_height_mm"]
    for trace in arrangement.level_traces:
        if trace.kind not in _DECKS:
            continue
        x = trace.points[:, 0]
        at = [x[0], *(b.x_m for b in arrangement.bulkheads if x[0] < b.x_m < x[-1]), x[-1]]
        k = levels.index(trace.name)
        beside = np.isin(spans.level, levels[max(k - 1, 0) : k] + levels[k + 1 : k + 2]) & (spans.kind == STRINGER)
        for aft, fore in pairwise(at):
            meets = ((lower == trace.name) | (upper == trace.name)) & (x_m > aft) & (x_m < fore)
            middle = spans.middle[:, 0]
            points, normals = _line(trace, np.linspace(aft, fore, _PLACES), 0)
            ends = [frame_label(round(float(stations.frame_of(place)), 1)) for place in (aft, fore)]
            yield _Piece(
                name=f"{trace.name} {ends[0]} to {ends[1]}", kind=trace.kind, points=points, normals=normals,
                web_mm=_greatest(heights[beside & (middle > aft) & (middle < fore)]),
                framing_mm=_greatest(depth[meets]),
            )  # fmt: skip


def _bulkheads(arrangement: Arrangement, framing: MemberRun, supports: SupportRun) -> Iterator[_Piece]:
    """Transverse bulkheads over their whole height; the web frames next to each, the frames that end on it."""
    samples, depth = arrangement.frame_shapes.samples, frame_depths(arrangement, framing)
    spans, heights = supports.spans, supports.given.numbers["web_height_mm"]
    webs = spans.kind == WEB_FRAME
    for trace in arrangement.bulkhead_traces:
        assert trace.frame is not None
        x = float(trace.points[0, 0])
        meets = (np.abs(samples[:, [0, -1], 0] - x) < _ON_IT_M).any(axis=1)
        frames = spans.frame_aft[webs]
        near = [frames[frames < trace.frame].max(initial=-np.inf), frames[frames > trace.frame].min(initial=np.inf)]
        points, normals = _line(trace, np.linspace(0.0, 1.0, _PLACES), 1)
        yield _Piece(
            name=trace.name, kind="bulkhead", points=points, normals=normals,
            web_mm=_greatest(heights[webs & np.isin(spans.frame_aft, near)]), framing_mm=_greatest(depth[meets]),
        )  # fmt: skip


def _line(trace: Trace, wanted: FloatArray, along: int) -> tuple[FloatArray, FloatArray]:
    """Places and normals of a trace at x (``along`` 0) or at shares of its points (``along`` 1)."""
    at = trace.points[:, 0] if along == 0 else np.linspace(0.0, 1.0, len(trace.points))
    points = np.column_stack([np.interp(wanted, at, column) for column in trace.points.T])
    normals = np.column_stack([np.interp(wanted, at, column) for column in trace.normals.T])
    return points, normals / np.linalg.norm(normals, axis=1, keepdims=True)


def _greatest(values: FloatArray) -> float:
    """The greatest number, NaN without any."""
    known = values[~np.isnan(values)]
    return float(known.max()) if len(known) else float("nan")
