"""Openings as cut-outs of panels, by overlap in x and girth."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from beltwright.arrangement import codes
from beltwright.arrangement.columns import numbers
from beltwright.arrangement.edges import EdgeTable
from beltwright.arrangement.model import FrameShapes, PanelShapes
from beltwright.arrangement.plan import Role
from beltwright.core.columns import ColumnTable
from beltwright.core.findings import Findings
from beltwright.core.units import FloatArray
from beltwright.ship.model import Opening


def with_openings(
    openings: Sequence[Opening],
    panels: ColumnTable,
    shapes: PanelShapes,
    frames: ColumnTable,
    frame_shapes: FrameShapes,
    edges: EdgeTable,
    findings: Findings,
) -> ColumnTable:
    """Return the panel table with the area that openings take from each panel on port and on starboard."""
    cut = {"port": np.zeros(panels.rows), "starboard": np.zeros(panels.rows)}
    area = panels.values("area_m2")
    for opening in openings:
        box = _box(opening, edges)
        share = np.zeros(panels.rows) if box is None else _overlaps(box, shapes.outline_expansion)
        if box is None or not share.any():
            where = f"x = {opening.x_m:g} m, z = {opening.z_m:g} m"
            findings.add(codes.OPENING_OFF_HULL, opening.name, f"no panel at {where}")
            continue
        for side in ("port", "starboard"):
            if opening.side in (side, "both"):
                cut[side] = np.minimum(cut[side] + share * area, area)
        _report_cut_frames(opening, box, frames, frame_shapes, findings)
    net = 2.0 * area - cut["port"] - cut["starboard"]
    return panels.with_columns(
        {
            "opening_port_m2": numbers("m2", "area that openings take out on the port side", cut["port"]),
            "opening_starboard_m2": numbers(
                "m2", "area that openings take out on the starboard side", cut["starboard"]
            ),
            "net_area_m2": numbers("m2", "area of the shell plate, both sides, openings taken out", net),
        }
    )


Box = tuple[float, float, float, float]


def _box(opening: Opening, edges: EdgeTable) -> Box | None:
    """The opening as x and girth from and to, or None where its centre is off the shell."""
    x = edges.grid.x_m
    if not x[0] <= opening.x_m <= x[-1]:
        return None
    met = edges.sections.crossings(np.full(len(x), opening.z_m))
    s = int(np.searchsorted(x, opening.x_m))
    pair = [max(s - 1, 0), s]
    if not met.meets[pair].any():
        return None
    good = [i for i in pair if met.meets[i]]
    girth = float(np.interp(opening.x_m, x[good], met.girth_m[good]))
    half, up = 0.5 * opening.length_m, 0.5 * opening.height_m
    return opening.x_m - half, girth - up, opening.x_m + half, girth + up


def _overlaps(box: Box, outlines: FloatArray) -> FloatArray:
    """The share of each panel that the box covers on the expansion (p,)."""
    import shapely

    share = np.zeros(len(outlines))
    low, high = outlines.min(axis=1), outlines.max(axis=1)
    near = np.flatnonzero((high[:, 0] > box[0]) & (low[:, 0] < box[2]) & (high[:, 1] > box[1]) & (low[:, 1] < box[3]))
    if near.size:
        shapes = shapely.make_valid(shapely.polygons(outlines[near]))
        whole = shapely.area(shapes)
        part = shapely.area(shapely.intersection(shapes, shapely.box(*box)))
        share[near] = part / np.where(whole > 0.0, whole, 1.0)
    return share


def _report_cut_frames(
    opening: Opening, box: Box, frames: ColumnTable, shapes: FrameShapes, findings: Findings
) -> None:
    """A finding naming the frame spans that pass through an opening."""
    x, girth = shapes.expansion[..., 0], shapes.expansion[..., 1]
    across = (x.min(axis=1) < box[2]) & (x.max(axis=1) > box[0])
    across &= (girth.min(axis=1) < box[3]) & (girth.max(axis=1) > box[1])
    roles = frames.labels("role")
    for role, what in ((Role.WEB.value, "web frames"), ("", "frames")):
        rows = np.flatnonzero(across & ((roles == role) if role else (roles != Role.WEB.value)))
        if rows.size:
            ids = frames.labels("id")[rows]
            shown = ", ".join(ids[:4]) + (f" and {rows.size - 4} more" if rows.size > 4 else "")
            findings.add(codes.OPENING_CUTS_FRAME, opening.name, f"{what} {shown}")
