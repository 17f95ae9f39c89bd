"""Shell between keel and uppermost level that no framing zone covers."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from beltwright.arrangement import codes
from beltwright.arrangement.edges import EdgeTable
from beltwright.arrangement.levels import KEEL, LevelLine
from beltwright.arrangement.zones import KEEL_EDGE, ZoneLine
from beltwright.core.findings import Findings

_NO_SHELL_M = 0.01  # of girth: less is nothing to frame


def report_gaps(zones: Sequence[ZoneLine], levels: Sequence[LevelLine], edges: EdgeTable, findings: Findings) -> bool:
    """Return whether the zones hold all shell below the uppermost level; a finding for every stretch they leave out."""
    open_at: dict[tuple[int, int], list[int]] = {}
    stations = edges.grid.stations
    for a in range(stations.first, stations.last):
        first, last = edges.grid.index(a), edges.grid.index(a + 1)
        if last <= first:
            continue
        top = max((k for k, level in enumerate(levels) if level.runs_over(a, a + 1)), default=KEEL_EDGE)
        covered = sorted((z.lower, z.upper) for z in zones if z.first <= a and a + 1 <= z.last)
        reached = KEEL_EDGE
        for lower, upper in [*covered, (top, top)]:
            if lower > reached:
                room = edges.girth(lower + 1)[first : last + 1] - edges.girth(reached + 1)[first : last + 1]
                if float(room.max()) > _NO_SHELL_M:
                    open_at.setdefault((reached, lower), []).append(a)
            reached = max(reached, upper)
    for (lower, upper), frames in open_at.items():
        low = KEEL if lower == KEEL_EDGE else levels[lower].name
        for run in np.split(np.array(frames), np.flatnonzero(np.diff(frames) > 1) + 1):
            findings.add(
                codes.ZONE_GAP, f"frames {run[0]} to {run[-1] + 1}", f"no zone between {low} and {levels[upper].name}"
            )
    return not open_at
