"""The arrangement of the demo ship on its shell: panels and frame spans with areas, spans, spacings, both tables.

The plain way measures some panels one at a time. The bench first checks that both ways give the same areas.
"""

from __future__ import annotations

import sys
import tomllib
from pathlib import Path

import numpy as np

from _harness import function_seconds, show
from beltwright.arrangement.across import faces_across
from beltwright.arrangement.arrange import arrange
from beltwright.arrangement.edges import EdgeTable
from beltwright.arrangement.grid import make_grid
from beltwright.arrangement.layout import make_plan
from beltwright.arrangement.levels import level_lines
from beltwright.arrangement.measure import areas_and_centres, measured_nodes
from beltwright.arrangement.sectionlines import SectionLines
from beltwright.arrangement.slivers import trimmed
from beltwright.arrangement.stations import frame_stations
from beltwright.arrangement.zones import bulkhead_lines, zone_lines
from beltwright.hull.forms.build import hull_patches
from beltwright.hull.forms.demo import QUILLAN_FROSTMARK
from beltwright.hull.spline_shell import SplineShell
from beltwright.ship.parse import parse_ship

SHIP = Path(__file__).resolve().parent.parent / "examples" / "quillan-frostmark" / "ship.toml"
BUDGET_S, ONE_BY_ONE = 1.0, 200


def main() -> None:
    """Time the arrangement, its sections, and the measuring of panels against a loop."""
    ship = parse_ship(tomllib.loads(SHIP.read_text("utf-8")))
    shell = SplineShell(hull_patches(QUILLAN_FROSTMARK))
    stations = frame_stations(ship.frames)
    levels = level_lines(ship, stations)
    reach = float(shell.bounds[0, 0]), float(shell.bounds[1, 0])
    zones = zone_lines(ship, stations, levels, bulkhead_lines(ship, stations), reach)
    grid, across = make_grid(shell, stations, levels), faces_across(shell)
    sections = SectionLines(shell, grid.x_m, ship.hull.depth_m, across)
    edges = EdgeTable(grid, sections, levels)
    slots = trimmed(make_plan(zones, levels, edges).panels, edges)
    some = slots[:: max(len(slots) // ONE_BY_ONE, 1)]
    together = areas_and_centres(measured_nodes(some, edges))[0]
    alone = np.array([areas_and_centres(measured_nodes([slot], edges))[0][0] for slot in some])
    if not np.allclose(together, alone, rtol=1e-12):
        sys.exit("panels measured together and one by one differ")

    loop = function_seconds(lambda: [areas_and_centres(measured_nodes([slot], edges)) for slot in some], runs=3)
    at_once = function_seconds(lambda: areas_and_centres(measured_nodes(slots, edges)))
    plain = loop / len(some) * len(slots)
    show("panels measured", at_once, plain_s=plain, plain="a loop over panels", count=len(slots))
    show(
        "sections",
        function_seconds(lambda: SectionLines(shell, grid.x_m, ship.hull.depth_m, across)),
        count=len(grid.x_m),
    )
    result = arrange(ship, shell)
    both = 2 * result.panels.rows
    seconds = function_seconds(lambda: arrange(ship, shell))
    show(f"arrangement, {both} panels on both sides", seconds, budget_s=BUDGET_S, count=both)


if __name__ == "__main__":
    main()
