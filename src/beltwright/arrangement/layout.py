"""Panels and frame spans of each zone: across the ship, along it, or oblique."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise

from beltwright.arrangement.edges import EdgeTable
from beltwright.arrangement.levels import LevelLine
from beltwright.arrangement.oblique import add_oblique
from beltwright.arrangement.plan import (
    FrameSlot,
    PanelSlot,
    Plan,
    Role,
    bays_between,
    floor_bays,
    frame_label,
    row,
)
from beltwright.arrangement.zones import KEEL_EDGE, ZoneLine
from beltwright.ship.model import Orientation


def make_plan(zones: Sequence[ZoneLine], levels: Sequence[LevelLine], edges: EdgeTable) -> Plan:
    """Return the panels and frame spans of every zone; some may prove to hold no shell when measured."""
    plan = Plan(panels=[], frames=[])
    for zone in zones:
        if zone.zone.orientation is Orientation.TRANSVERSE:
            plan.panels.extend(_transverse_panels(zone, levels, edges))
            plan.frames.extend(_transverse_frames(zone, zones, levels, edges))
            continue
        plan.frames.extend(_floors(zone, zones, levels, edges))
        if zone.zone.orientation is Orientation.LONGITUDINAL:
            _longitudinal(plan, zone, levels, edges)
        else:
            add_oblique(plan, zone, levels, edges)
    return plan


def _has_intermediate(zone: ZoneLine, a: int, b: int) -> bool:
    """Whether intermediate frames stand in the bay between levels a and b."""
    return zone.intermediate is not None and zone.intermediate[0] <= a and b <= zone.intermediate[1]


def _transverse_panels(zone: ZoneLine, levels: Sequence[LevelLine], edges: EdgeTable) -> Iterator[PanelSlot]:
    """Panels between neighbouring frames and supports."""
    for f in range(zone.first, zone.last):
        for number, a, b in bays_between(zone, levels, f, f + 1):
            stops = [f, f + 0.5, f + 1] if _has_intermediate(zone, a, b) else [f, f + 1]
            for aft, fore in pairwise(stops):
                first, last = edges.grid.index(aft), edges.grid.index(fore)
                if last > first:
                    name = f"{frame_label(aft)}/L{number}"
                    low, high = row(a), row(b)
                    yield PanelSlot(name, zone.index, first, last, low, high, low, high, a, b, (aft, fore))


def _transverse_frames(
    zone: ZoneLine, zones: Sequence[ZoneLine], levels: Sequence[LevelLine], edges: EdgeTable
) -> Iterator[FrameSlot]:
    """Frame spans between neighbouring supports; a frame at a border belongs to the zone forward of it."""
    for f in range(zone.first, zone.last + 1):
        if f in zone.bulkheads:
            continue
        role = Role.WEB if f in zone.webs else Role.MAIN
        for number, a, b in bays_between(zone, levels, f, f):
            if f == zone.last and _goes_on(zone, zones, a, b):
                continue
            yield from _at_frame(zone, role, f, number, a, b, edges)
    if zone.intermediate is None:
        return
    for f in range(zone.first, zone.last):
        for number, a, b in bays_between(zone, levels, f, f + 1):
            if _has_intermediate(zone, a, b):
                yield from _at_frame(zone, Role.INTERMEDIATE, f + 0.5, number, a, b, edges)


def _floors(
    zone: ZoneLine, zones: Sequence[ZoneLine], levels: Sequence[LevelLine], edges: EdgeTable
) -> Iterator[FrameSlot]:
    """Web frames and floors of a zone whose frames do not stand across."""
    for f in zone.webs:
        for number, a, b in bays_between(zone, levels, f, f):
            if not (f == zone.last and _goes_on(zone, zones, a, b)):
                yield from _at_frame(zone, Role.WEB, f, number, a, b, edges)


def _at_frame(
    zone: ZoneLine, role: Role, frame: float, number: int, a: int, b: int, edges: EdgeTable
) -> Iterator[FrameSlot]:
    """One frame span, if the frame stands on the hull."""
    s = edges.grid.index(frame)
    if not 0 < s < len(edges.grid.x_m) - 1:
        return
    yield FrameSlot(f"{frame_label(frame)}/L{number}", zone.index, role, s, s, row(a), row(b), -1, a, b, frame)


def _goes_on(zone: ZoneLine, zones: Sequence[ZoneLine], a: int, b: int) -> bool:
    """Whether another zone begins where this one ends and has its own member there over the same levels."""
    return any(
        other.first == zone.last
        and other.lower < b
        and other.upper > a
        and (other.zone.orientation is Orientation.TRANSVERSE or zone.last in other.webs)
        for other in zones
    )


def _longitudinal(plan: Plan, zone: ZoneLine, levels: Sequence[LevelLine], edges: EdgeTable) -> None:
    """Panels between neighbouring longitudinals and floors, and the longitudinals between floors.

    Longitudinals are counted from the zone's lower edge and go on through the levels within it.
    """
    spacing = zone.zone.spacing_m
    assert spacing is not None
    traces = edges.longitudinals(row(zone.lower), row(zone.upper), spacing)
    for aft, fore in floor_bays(zone):
        first, last = edges.grid.index(aft), edges.grid.index(fore)
        if last <= first:
            continue
        for number, a, b in bays_between(zone, levels, aft, fore):
            prefix = f"{frame_label(aft)}/" + ("B" if a == KEEL_EDGE else f"L{number}-")
            low_row, high_row = row(a), row(b)
            rows = [low_row, *traces, high_row]
            begins, ends = edges.between(traces, low_row, high_row, first, last)
            for k, (low, high) in enumerate(pairwise(rows), start=1):
                if begins < k <= ends + 1:
                    name = f"{prefix}{k:02d}"
                    slot = PanelSlot(name, zone.index, first, last, low, high, low_row, high_row, a, b, (aft, fore))
                    plan.panels.append(slot)
            for k, trace in enumerate(traces, start=1):
                if begins < k <= ends:
                    name = f"{prefix}{k:02d}"
                    member = FrameSlot(
                        name, zone.index, Role.LONGITUDINAL, first, last, low_row, high_row, trace, a, b, aft
                    )
                    plan.frames.append(member)
