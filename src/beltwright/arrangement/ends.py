"""Ends of frames: fixity and brackets by zone, and the span they leave."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from beltwright.arrangement import codes
from beltwright.arrangement.zones import ZoneLine
from beltwright.core.findings import Findings
from beltwright.core.units import FloatArray, IntArray

_LEAST_SHARE = 0.5  # of the span that the brackets must leave


def reduced_span(
    length_m: FloatArray, zone: IntArray, zones: Sequence[ZoneLine], what: str, findings: Findings
) -> FloatArray:
    """Return the spans (n,) [m] less the bracket reductions of both ends, but not less than half of each."""
    less = np.array([z.zone.lower_end.span_reduction_m + z.zone.upper_end.span_reduction_m for z in zones])[zone]
    held = length_m - less < _LEAST_SHARE * length_m
    if np.any(held & (less > 0.0)):
        findings.add(
            codes.BRACKETS_LONGER_THAN_FRAME,
            what,
            f"{int(held.sum())} of them, the shortest {length_m[held].min():.3f} m",
        )
    span: FloatArray = np.maximum(length_m - less, _LEAST_SHARE * length_m)
    return span
