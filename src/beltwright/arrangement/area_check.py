"""The panels' areas against the shell's own area between the zones' edges."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

import numpy as np

from beltwright.arrangement import codes
from beltwright.arrangement.edges import EdgeTable
from beltwright.arrangement.levels import AboveLevel, LevelLine
from beltwright.arrangement.sectionlines import lies_across
from beltwright.arrangement.zones import ZoneLine
from beltwright.core.findings import Findings
from beltwright.hull.areas import negated, shell_area
from beltwright.hull.shell import LevelFunction, Pieces, PlaneLevel, Shell

ALLOWED = 0.001  # share of the shell's area


def check_area(
    shell: Shell,
    zones: Sequence[ZoneLine],
    levels: Sequence[LevelLine],
    edges: EdgeTable,
    panels_m2: float,
    whole: bool,
    findings: Findings,
) -> float:
    """Return the area of the shell between the zones' edges, one side [m2]; a finding if the panels miss it by 0.1 %.

    The shell itself is cut at the zones' frames and levels; faces that lie across the ship are no part of it. ``whole``
    says that the zones hold everything below the uppermost level, so that one cut is enough.
    """
    pieces = _not_across(shell, findings)
    top = levels[-1]
    if whole and top.runs_over(edges.grid.stations.first, edges.grid.stations.last):
        total = shell_area(shell, [AboveLevel(top)], pieces).area_m2
    else:
        total = sum(shell_area(shell, _bounds(zone, levels, edges), pieces).area_m2 for zone in zones)
    if total > 0.0 and abs(panels_m2 - total) > ALLOWED * total:
        off = 100.0 * (panels_m2 / total - 1.0)
        text = f"panels {panels_m2:.2f} m2, shell {total:.2f} m2 on the port side ({off:+.2f} %)"
        findings.add(codes.AREA_NOT_KEPT, "panels", text)
    return total


def _bounds(zone: ZoneLine, levels: Sequence[LevelLine], edges: EdgeTable) -> list[LevelFunction]:
    """The fields that are negative inside a zone."""
    x = edges.grid.stations.x_of(np.array([zone.first, zone.last]))
    inside: list[LevelFunction] = [
        PlaneLevel(normal=(-1.0, 0.0, 0.0), offset=-float(x[0])),
        PlaneLevel(normal=(1.0, 0.0, 0.0), offset=float(x[1])),
        AboveLevel(levels[zone.upper]),
    ]
    if zone.lower >= 0:
        inside.append(negated(AboveLevel(levels[zone.lower])))
    return inside


def _not_across(shell: Shell, findings: Findings) -> Pieces:
    """The shell without faces that lie across the ship, such as a transom, which a finding names with their area."""
    pieces = shell.pieces()
    corners = shell.points(np.repeat(pieces.face, 3), pieces.uv.reshape(-1, 2)).reshape(-1, 3, 3)
    vectors = np.cross(corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0])
    sizes = np.linalg.norm(vectors, axis=1)
    across = lies_across(vectors / np.where(sizes > 0.0, sizes, 1.0)[:, None])
    if across.any():
        x = corners[across][..., 0]
        where = f"x = {x.min():.2f} to {x.max():.2f} m"
        findings.add(codes.TRANSOM, where, f"{0.5 * sizes[across].sum():.2f} m2 on the port side")
    return replace(pieces, face=pieces.face[~across], uv=pieces.uv[~across])
