"""The arrangement on the shell: what the tables, drawings and requirements read."""

from __future__ import annotations

from dataclasses import dataclass

from beltwright.arrangement.levels import LevelLine
from beltwright.arrangement.stations import FrameStations
from beltwright.arrangement.zones import BulkheadLine, ZoneLine
from beltwright.core.columns import ColumnTable
from beltwright.core.findings import Finding
from beltwright.core.units import FloatArray


@dataclass(frozen=True, slots=True, kw_only=True)
class Trace:
    """A line of structure on the shell: ``points`` (k, 3) [m], ``expansion`` (k, 2) = x, girth [m].

    ``normals`` (k, 3) are unit outward normals of the shell there. ``kind`` is a level's kind, a member's role or
    "bulkhead"; ``frame`` is its frame number, or None for a level.
    """

    name: str
    kind: str
    frame: float | None
    points: FloatArray
    normals: FloatArray
    expansion: FloatArray


@dataclass(frozen=True, slots=True, kw_only=True)
class PanelShapes:
    """Geometry of the panels (port side), one row each.

    Attributes
    ----------
    corners : (p, 4, 3) aft lower, forward lower, forward upper, aft upper [m]
    outline : (p, 16, 3) closed implicitly: along the lower edge, up, back along the upper edge, down [m]
    outline_expansion : (p, 16, 2) the same as x and girth [m]
    samples : (p, 9, 3) corners, middles of the edges and centre on the shell [m]
    sample_normals : (p, 9, 3) unit outward normals there
    """

    corners: FloatArray
    outline: FloatArray
    outline_expansion: FloatArray
    samples: FloatArray
    sample_normals: FloatArray


@dataclass(frozen=True, slots=True, kw_only=True)
class FrameShapes:
    """Geometry of the frame spans (port side), one row each: the line along the shell and normals on it.

    Attributes
    ----------
    samples : (f, 9, 3) from the lower (or aft) to the upper (or forward) support [m]
    sample_normals : (f, 9, 3) unit outward normals there
    expansion : (f, 9, 2) the same as x and girth [m]
    """

    samples: FloatArray
    sample_normals: FloatArray
    expansion: FloatArray


@dataclass(frozen=True, slots=True, kw_only=True)
class Arrangement:
    """The structural arrangement of one ship on its shell (port half; ``sides`` says how often a row occurs).

    ``panels`` and ``panel_shapes`` have the same rows, as have ``frames`` and ``frame_shapes``; every column says its
    unit and meaning. ``level_traces`` are pieces of the levels' lines, ``frame_traces`` one line per frame,
    ``web_traces`` those of web frames and floors, ``bulkhead_traces`` those of bulkheads.
    ``framed_area_m2`` is the shell's own area between the zones' edges, one side, against which the panels' sum was
    checked.
    """

    stations: FrameStations
    levels: tuple[LevelLine, ...]
    zones: tuple[ZoneLine, ...]
    bulkheads: tuple[BulkheadLine, ...]
    panels: ColumnTable
    panel_shapes: PanelShapes
    frames: ColumnTable
    frame_shapes: FrameShapes
    level_traces: tuple[Trace, ...]
    frame_traces: tuple[Trace, ...]
    web_traces: tuple[Trace, ...]
    bulkhead_traces: tuple[Trace, ...]
    framed_area_m2: float
    findings: tuple[Finding, ...]
