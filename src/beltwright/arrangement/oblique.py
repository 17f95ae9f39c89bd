"""Oblique frames: traced forward over the shell at a constant angle to the waterline.

The first frames start at the zone's aft end, one girth spacing apart; as they rise, further ones start at the lower
edge, one spacing below the last. They are followed from station to station on the surface, so that their angle to the
waterline is the given one everywhere; their distance then follows from the shell.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

import numpy as np

from beltwright.arrangement.edges import EdgeTable
from beltwright.arrangement.levels import LevelLine
from beltwright.arrangement.plan import FrameSlot, PanelSlot, Plan, Role, bays_between, floor_bays, frame_label, row
from beltwright.arrangement.sectionlines import Places
from beltwright.arrangement.zones import ZoneLine
from beltwright.core.units import FloatArray

_LEAST_FORWARD = 0.05  # of a frame's direction that must point forward
_SETTLE = 3


def add_oblique(plan: Plan, zone: ZoneLine, levels: Sequence[LevelLine], edges: EdgeTable) -> None:
    """Add the panels and frame spans of a zone with oblique frames.

    Levels that run over only a part of the zone are not supports here.
    """
    traces = [edges.add(girth) for girth in oblique_girths(zone, edges)]  # from the uppermost down
    bays = bays_between(zone, levels, zone.first, zone.last)
    for aft, fore in floor_bays(zone):
        first, last = edges.grid.index(aft), edges.grid.index(fore)
        if last <= first:
            continue
        for number, a, b in bays:
            prefix = f"{frame_label(aft)}/L{number}-"
            rows = [row(b), *traces, row(a)]
            for k, (high, low) in enumerate(pairwise(rows), start=1):
                plan.panels.append(
                    PanelSlot(
                        f"{prefix}{k:02d}", zone.index, first, last, low, high, row(a), row(b), a, b, (aft, fore)
                    )
                )  # fmt: skip
            for k, trace in enumerate(traces, start=1):
                plan.frames.append(
                    FrameSlot(
                        f"{prefix}{k:02d}", zone.index, Role.OBLIQUE, first, last, row(a), row(b), trace, a, b, aft
                    )
                )  # fmt: skip


def oblique_girths(zone: ZoneLine, edges: EdgeTable) -> list[FloatArray]:
    """Return the girth of each oblique frame at every station (s,) [m], the uppermost first.

    Before a frame starts it lies below the lower edge, after it ends above the upper one.
    """
    spacing, angle = zone.zone.spacing_m, zone.zone.oblique_angle_deg
    assert spacing is not None
    assert angle is not None
    first, last = edges.grid.index(zone.first), edges.grid.index(zone.last)
    low, high = edges.girth(row(zone.lower)), edges.girth(row(zone.upper))
    count = max(int(np.floor((high[first] - low[first]) / spacing)), 0)
    here = low[first] + spacing * np.arange(count, 0, -1)
    found = [np.full(len(low), -np.inf) for _ in here]
    for s in range(first, last + 1):
        if s > first:
            here = _moved(edges, s, here, angle, low, high)
        while len(here) == 0 or here[-1] - spacing >= low[s] - spacing / 2.0:
            below = here[-1] - spacing if len(here) else low[s]
            here = np.append(here, below)
            found.append(np.full(len(low), -np.inf))
        for girth, g in zip(found, here, strict=True):
            girth[s] = g
    for girth in found:
        girth[last + 1 :] = np.inf
    return found


def _moved(
    edges: EdgeTable, s: int, girth: FloatArray, angle_deg: float, low: FloatArray, high: FloatArray
) -> FloatArray:
    """The girths at station s of frames that stood at ``girth`` at the station before."""
    before = np.full(len(girth), s - 1)
    held = np.clip(girth, low[s - 1], high[s - 1])
    at = edges.sections.at(before, held)
    ahead = _direction(at, angle_deg)
    dx = edges.grid.x_m[s] - edges.grid.x_m[s - 1]
    goal = at.points + ahead * (dx / np.maximum(ahead[:, 0], _LEAST_FORWARD))[:, None]
    now = np.full(len(girth), s)
    new = held + (edges.girth(0)[s] - edges.girth(0)[s - 1])
    for _ in range(_SETTLE):
        there = edges.sections.at(now, new)
        on = np.clip(new, edges.sections.start_m[s], edges.sections.length_m[s])
        new = on + np.einsum("ni,ni->n", there.tangents, goal - there.points)
    moved: FloatArray = new + (girth - held)
    return moved


def _direction(at: Places, angle_deg: float) -> FloatArray:
    """Unit directions (n, 3) on the shell, forward and up at an angle to the waterline."""
    n = at.normals
    water = np.stack([n[:, 1], -n[:, 0], np.zeros(len(n))], axis=1)
    size = np.linalg.norm(water, axis=1)
    level = size < 1e-6
    water[level] = (1.0, 0.0, 0.0)
    water /= np.where(level, 1.0, size)[:, None]
    rise = np.cross(n, water)
    rise *= np.sign(np.einsum("ni,ni->n", rise, at.tangents))[:, None]
    angle = np.radians(angle_deg)
    ahead: FloatArray = np.cos(angle) * water + np.sin(angle) * rise
    return ahead
