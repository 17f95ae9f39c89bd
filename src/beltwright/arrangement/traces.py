"""Lines of structure on the shell for the drawings: levels, frames, web frames, bulkheads."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from beltwright.arrangement.edges import EdgeTable
from beltwright.arrangement.levels import LevelLine
from beltwright.arrangement.model import FrameShapes, Trace
from beltwright.arrangement.plan import Role
from beltwright.arrangement.zones import BulkheadLine
from beltwright.core.columns import ColumnTable
from beltwright.core.units import BoolArray, IntArray

_PLACES = 33  # points of a bulkhead's line


def level_traces(levels: Sequence[LevelLine], edges: EdgeTable) -> tuple[Trace, ...]:
    """Return the lines of the levels, in pieces where one leaves the shell and comes back."""
    traces = []
    x = edges.grid.x_m
    for k, level in enumerate(levels):
        for stations in _runs(level.present(x) & edges.meets[k]):
            girth = edges.girth(k + 1)[stations]
            at = edges.sections.at(stations, girth)
            traces.append(
                Trace(
                    name=level.name,
                    kind=level.kind.value,
                    frame=None,
                    points=at.points,
                    normals=at.normals,
                    expansion=np.stack([x[stations], girth], axis=1),
                )
            )
    return tuple(traces)


def frame_traces(frames: ColumnTable, shapes: FrameShapes) -> tuple[Trace, ...]:
    """Return the lines of ordinary frames: one per unbroken run of spans, or per longitudinal span."""
    return _members(frames, shapes, frames.labels("role") != Role.WEB.value)


def web_traces(frames: ColumnTable, shapes: FrameShapes) -> tuple[Trace, ...]:
    """Return the lines of web frames and floors."""
    return _members(frames, shapes, frames.labels("role") == Role.WEB.value)


def _members(frames: ColumnTable, shapes: FrameShapes, rows: BoolArray) -> tuple[Trace, ...]:
    """One trace per frame span of the given rows."""
    ids, roles, numbers = frames.labels("id"), frames.labels("role"), frames.values("frame")
    return tuple(
        Trace(
            name=str(ids[i]),
            kind=str(roles[i]),
            frame=float(numbers[i]),
            points=shapes.samples[i],
            normals=shapes.sample_normals[i],
            expansion=shapes.expansion[i],
        )
        for i in np.flatnonzero(rows)
    )


def bulkhead_traces(bulkheads: Sequence[BulkheadLine], edges: EdgeTable) -> tuple[Trace, ...]:
    """Return the lines of the bulkheads from the keel to the end of the section."""
    traces = []
    low, high = edges.grid.x_m[0], edges.grid.x_m[-1]
    for bulkhead in bulkheads:
        if not low < bulkhead.x_m < high:
            continue
        s = edges.grid.index(bulkhead.frame)
        girth = np.linspace(edges.sections.start_m[s], edges.sections.length_m[s], _PLACES)
        stations = np.full(_PLACES, s)
        at = edges.sections.at(stations, girth)
        traces.append(
            Trace(
                name=bulkhead.name,
                kind="bulkhead",
                frame=float(bulkhead.frame),
                points=at.points,
                normals=at.normals,
                expansion=np.stack([edges.grid.x_m[stations], girth], axis=1),
            )
        )
    return tuple(traces)


def _runs(there: BoolArray) -> list[IntArray]:
    """Stations in unbroken runs of at least two."""
    rows = np.flatnonzero(there)
    if rows.size == 0:
        return []
    return [run for run in np.split(rows, np.flatnonzero(np.diff(rows) > 1) + 1) if run.size > 1]
