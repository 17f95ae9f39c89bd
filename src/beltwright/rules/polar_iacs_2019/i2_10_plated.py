"""UR I2.10: plated structures in contact with the shell, as decks and bulkheads: how far inboard, what load."""

from __future__ import annotations

import numpy as np

from beltwright.core.provenance import Status
from beltwright.core.units import Metres, Millimetres, MNPerM, MPa, Ratio
from beltwright.rules.polar_iacs_2019.documents import DOCUMENT


@DOCUMENT.clause("I2.10", title="extent inboard of the shell", symbol="e", status=Status.MEMORY)
def inboard_extent(*, adjacent_web_height_mm: Millimetres, framing_depth_mm: Millimetres) -> Metres:
    """How far inboard a plated structure counts as ice-strengthened [m]. Source: UR I2.10, recalled.

    The lesser of the web height of the parallel web frame or stringer beside it and 2.5 times the depth of the framing
    that meets it.
    """
    return np.minimum(adjacent_web_height_mm, 2.5 * framing_depth_mm) / 1000.0


@DOCUMENT.clause("I2.10", title="load on the edge of the plated structure", symbol="q", status=Status.CHOICE,
                 note="follows from the patch; the clause asks for stability and gives no formula")  # fmt: skip
def edge_line_load(*, area_factor: Ratio, pressure_mpa: MPa, patch_height_m: Metres) -> MNPerM:
    """Load per metre of edge when the whole patch height bears on it [MN/m]. Source: the patch of UR I2.3."""
    return area_factor * pressure_mpa * patch_height_m
