"""The panels' areas against the shell's own area between the zones' edges."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from beltwright.arrangement import codes
from beltwright.arrangement.across import Across
from beltwright.arrangement.edges import EdgeTable
from beltwright.arrangement.levels import AboveLevel, LevelLine
from beltwright.arrangement.zones import ZoneLine
from beltwright.core.findings import Findings
from beltwright.hull.areas import negated, shell_area
from beltwright.hull.shell import LevelFunction, PlaneLevel, Shell

ALLOWED = 0.001  # share of the shell's area


def check_area(
    shell: Shell,
    zones: Sequence[ZoneLine],
    levels: Sequence[LevelLine],
    edges: EdgeTable,
    across: Across,
    panels_m2: float,
    whole: bool,
    findings: Findings,
) -> float:
    """Return the area of the shell between the zones' edges, one side [m2]; a finding if the panels miss it by 0.1 %.

    The shell itself is cut at the zones' frames and levels; faces that lie across the ship are no part of it. ``whole``
    says that the zones hold everything below the uppermost level, so that one cut is enough.
    """
    pieces = across.without(shell.pieces())
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
