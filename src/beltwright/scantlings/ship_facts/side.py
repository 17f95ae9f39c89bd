"""The side that is parallel to the centreline, waterline by waterline."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from beltwright.core.errors import InputError
from beltwright.core.findings import Findings
from beltwright.core.units import FloatArray
from beltwright.hull.levels import WaterLevel
from beltwright.hull.waterline import waterline
from beltwright.scantlings import codes
from beltwright.scantlings.design import HullMeasures
from beltwright.ship.model import Ship

SIDE_TOLERANCE_MM = 1.0
BEYOND_M = 2.0  # how far the level waterlines reach below the lower and above the upper ice waterline
STEP_M = 0.5  # they stand no farther apart
_CLEAR_M = 0.01  # and keep away from keel and deck by this


@dataclass(frozen=True, slots=True, kw_only=True)
class SideByHeight:
    """The side that is parallel to the centreline on level waterlines (k,): heights and ends, x from the AP [m]."""

    height_m: FloatArray
    fore_x_m: FloatArray
    aft_x_m: FloatArray


def level_heights(ship: Ship, measures: HullMeasures) -> FloatArray:
    """Return the heights (k,) of the level waterlines, upward: 2 m beyond the ice waterlines, inside the hull [m]."""
    shell = measures.shell
    ends = shell.bounds[:, 0]
    xs = [np.array(sorted({*ends.tolist(), *line.x_m.tolist()})) for line in (measures.lower, measures.upper)]
    least = float(measures.lower.level.height(xs[0]).min()) - BEYOND_M
    most = float(measures.upper.level.height(xs[1]).max()) + BEYOND_M
    least = max(least, float(shell.bounds[0, 2]) + _CLEAR_M)
    most = min(most, min(ship.hull.depth_m, float(shell.bounds[1, 2])) - _CLEAR_M)
    return np.linspace(least, most, int(np.ceil((most - least) / STEP_M)) + 1)


def side_by_height(ship: Ship, measures: HullMeasures, findings: Findings) -> SideByHeight:
    """Return the ends of the parallel side on level waterlines; those that cannot be read are told and left out.

    Raises InputError where none can be read.
    """
    rows: list[tuple[float, float, float]] = []
    failed: list[tuple[float, str]] = []
    for height in level_heights(ship, measures):
        try:
            curve = waterline(measures.shell, WaterLevel.even_keel(float(height), "level waterline"))
        except InputError as error:
            failed.append((float(height), str(error)))
            continue
        side = curve.side_borders(SIDE_TOLERANCE_MM)
        rows.append((float(height), side.fore_x_m, side.aft_x_m))
    if failed:
        heights = ", ".join(f"{height:.2f}" for height, _ in failed)
        told = f"at {heights} m above the baseline; the first: {failed[0][1]}"
        if not rows:
            raise InputError("hull", f"the parallel side cannot be read on any level waterline, {told}")
        findings.add(codes.SIDE_NOT_READ, "parallel side", told)
    height, fore, aft = np.array(rows).T
    return SideByHeight(height_m=height, fore_x_m=fore, aft_x_m=aft)
