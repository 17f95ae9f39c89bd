"""Panels trimmed to the shell they hold, and slivers joined to a neighbour so that no area is lost."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from beltwright.arrangement import codes
from beltwright.arrangement.edges import EdgeTable
from beltwright.arrangement.measure import areas_and_centres, girths_of, measured_nodes
from beltwright.arrangement.plan import PanelSlot
from beltwright.arrangement.zones import ZoneLine
from beltwright.core.findings import Findings
from beltwright.core.units import BoolArray, FloatArray
from beltwright.ship.model import Orientation

SLIVER_SHARE = 0.05  # of the median panel of the zone, where frames stand across
_STUB_SHARE = 0.02  # where they run along the ship: joining takes the longitudinal away
_NARROW = 0.15  # of the girth spacing: a strip narrower than this beside a level is a sliver
_COARSE = 2  # parts over the height: enough to tell a sliver
_NOTHING_M = 1e-6
_NOTHING_M2 = 1e-6


@dataclass(slots=True)
class _Candidate:
    """A panel that may take slivers, with its area and whether it is itself a sliver."""

    slot: PanelSlot
    area_m2: float
    sliver: bool
    gone: bool = False


def trimmed(slots: Sequence[PanelSlot], edges: EdgeTable) -> list[PanelSlot]:
    """Return the panels that hold shell, each cut back to the stations where it does and one more at a tip."""
    if not slots:
        return []
    panel, station, low, high = girths_of(slots, edges)
    holds = np.flatnonzero(high - low > _NOTHING_M)
    first = np.full(len(slots), len(edges.grid.x_m))
    last = np.full(len(slots), -1)
    np.minimum.at(first, panel[holds], station[holds])
    np.maximum.at(last, panel[holds], station[holds])
    kept = []
    for slot, a, b in zip(slots, first.tolist(), last.tolist(), strict=True):
        if b < 0:
            continue
        slot.first, slot.last = max(slot.first, a - 1), min(slot.last, b + 1)
        if slot.last > slot.first:
            kept.append(slot)
    return kept


def without_slivers(
    slots: Sequence[PanelSlot], zones: Sequence[ZoneLine], edges: EdgeTable, findings: Findings
) -> list[PanelSlot]:
    """Return the panels with slivers joined to a neighbour; a finding says how many and how much."""
    nodes = measured_nodes(slots, edges, _COARSE)
    area, _ = areas_and_centres(nodes)
    width = nodes.greatest(nodes.high_m - nodes.low_m)
    thin = _thin(slots, zones, area, width)
    pool = [_Candidate(s, float(a), bool(t)) for s, a, t in zip(slots, area, thin, strict=True) if a > _NOTHING_M2]
    joined, moved = 0, 0.0
    for one in sorted((c for c in pool if c.sliver), key=lambda c: c.area_m2):
        target = _neighbour(one, pool, zones) if one.sliver else None
        if target is None:
            continue
        _join(one, target)
        joined += 1
        moved += one.area_m2
    if joined:
        findings.add(
            codes.SLIVERS, "panels", f"{joined} slivers of {moved:.3f} m2 on the port side joined to neighbours"
        )
    return [c.slot for c in pool if not c.gone]


def _thin(slots: Sequence[PanelSlot], zones: Sequence[ZoneLine], area: FloatArray, width: FloatArray) -> BoolArray:
    """Which panels are slivers: little area for their zone, or narrow beside their girth spacing."""
    zone = np.array([slot.zone for slot in slots])
    thin = np.zeros(len(slots), dtype=bool)
    for line in zones:
        rows = zone == line.index
        if rows.any():
            across = line.zone.spacing_m is None
            thin[rows] = area[rows] < (SLIVER_SHARE if across else _STUB_SHARE) * float(np.median(area[rows]))
            if line.zone.spacing_m is not None:
                thin[rows] |= width[rows] < _NARROW * line.zone.spacing_m
    return thin


def _neighbour(one: _Candidate, pool: Sequence[_Candidate], zones: Sequence[ZoneLine]) -> _Candidate | None:
    """The neighbour that takes a sliver: along the ship for transverse framing, else across; never another zone's."""
    s = one.slot
    along, across = [], []
    transverse = zones[s.zone].zone.orientation is Orientation.TRANSVERSE
    for other in pool:
        o = other.slot
        if other.gone or other is one or o.zone != s.zone:
            continue
        if (o.low, o.high, o.clip_low, o.clip_high) == (s.low, s.high, s.clip_low, s.clip_high):
            if o.last == s.first or o.first == s.last:
                along.append(other)
            continue
        beside = (o.frame_aft, o.frame_fore) == (s.frame_aft, s.frame_fore) and (o.high == s.low or o.low == s.high)
        if beside and (transverse or (o.clip_low, o.clip_high) == (s.clip_low, s.clip_high)):
            across.append(other)
    for choice in (along, across) if transverse else (across, along):
        if choice:
            return max(choice, key=lambda c: c.area_m2)
    return None


def _join(one: _Candidate, target: _Candidate) -> None:
    """Give a sliver's stations and edges to its neighbour."""
    s, o = one.slot, target.slot
    if (o.low, o.high) == (s.low, s.high):
        o.stops = tuple(sorted({*o.stops, *s.stops}))
    elif o.high == s.low:
        o.high, o.clip_high, o.upper = s.high, s.clip_high, s.upper
    else:
        o.low, o.clip_low, o.lower = s.low, s.clip_low, s.lower
    o.first, o.last = min(o.first, s.first), max(o.last, s.last)
    target.area_m2 += one.area_m2
    target.sliver = False
    one.gone = True
