"""The structure that a search found, put into the description: plates and frame sections as offered, zone by zone.

A plate found covers panels of several bays; the description offers by zone, bay and frames, so that a bay's panels
between the same frames get the thickest plate that lies on them. What is offered is then checked like any other offer.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator, Mapping
from typing import Any, Final

import numpy as np

from beltwright.arrangement.levels import KEEL
from beltwright.scantlings.design import Design
from beltwright.ship.edit import Path
from beltwright.ship.model import Ship

_BESIDE: Final = 0.2  # of a frame spacing: how far beside its frames a run of frames reaches
_ARRANGEMENT: Final = ("frames", "levels", "zones")


def accepted(ship: Ship, found: Design, zones: Collection[str] | None = None) -> dict[Path, Any]:
    """Return the settings that take over what a search found.

    Parameters
    ----------
    ship : the ship as described now
    found : the design of the structure found
    zones : the framing zones of which plates and frames are taken over; all where None
    """
    taken = {zone.name for zone in found.ship.zones} if zones is None else set(zones)
    changes: dict[Path, Any] = {}
    for part in _ARRANGEMENT:
        before, after = getattr(ship, part), getattr(found.ship, part)
        if before != after:
            changes[(part,)] = [_told(row) for row in after]
    for name, rows in (("plates", _plates(found)), ("frame_sections", _sections(found))):
        kept = [_told(row) for row in getattr(ship, name) if row.zone not in taken]
        changes[(name,)] = [*kept, *(row for row in rows if row["zone"] in taken)]
    return {path: value for path, value in changes.items() if value or getattr(ship, str(path[0]))}


def _plates(found: Design) -> Iterator[dict[str, Any]]:
    """The plates by zone, bay and run of frames."""
    panels, table = found.arrangement.panels, found.plating
    thickness, grade = table["thickness_as_built_mm"].data, table.labels("grade")
    steel: dict[tuple[str, str, str], dict[tuple[float, float], tuple[float, str]]] = {}
    names = zip(*(panels.labels(name).tolist() for name in ("zone", "lower_level", "upper_level")), strict=True)
    spans = zip(panels["frame_aft"].data.tolist(), panels["frame_fore"].data.tolist(), strict=True)
    for row, (bay, span) in enumerate(zip(names, spans, strict=True)):
        if not np.isnan(thickness[row]):
            held = steel.setdefault(bay, {})
            held[span] = max(held.get(span, (0.0, "")), (float(thickness[row]), str(grade[row])))
    for bay, held in steel.items():
        pieces = [(aft, fore, what) for (aft, fore), what in sorted(held.items())]
        for aft, fore, (mm, name) in _runs(pieces):
            yield {**_place(bay, aft, fore), "thickness_as_built_mm": mm, "grade": name}


def _sections(found: Design) -> Iterator[dict[str, Any]]:
    """The frame sections by zone, bay and run of frames; the heaviest of a bay's frames between the same supports."""
    frames, table = found.arrangement.frames, found.frames
    section, grade, mass = table.labels("section"), table.labels("grade"), table["mass_kg_per_m"].data
    steel: dict[tuple[str, str, str], dict[float, tuple[float, str, str]]] = {}
    names = zip(*(frames.labels(name).tolist() for name in ("zone", "lower_level", "upper_level")), strict=True)
    for row, (bay, frame) in enumerate(zip(names, frames["frame"].data.tolist(), strict=True)):
        if section[row] and not np.isnan(mass[row]):
            held = steel.setdefault(bay, {})
            held[frame] = max(held.get(frame, (0.0, "", "")), (float(mass[row]), str(section[row]), str(grade[row])))
    for bay, held in steel.items():
        pieces = [(frame - _BESIDE, frame + _BESIDE, what) for frame, what in sorted(held.items())]
        for aft, fore, (_, name, steel_grade) in _runs(pieces):
            yield {**_place(bay, aft, fore), "section": name, "grade": steel_grade}


def _runs(pieces: Iterable[tuple[float, float, Any]]) -> Iterator[tuple[float, float, Any]]:
    """Pieces along the ship, in order, put together where the next is of the same steel."""
    last: tuple[float, float, Any] | None = None
    for aft, fore, what in pieces:
        if last is not None and last[2] == what:
            last = (last[0], max(last[1], fore), what)
            continue
        if last is not None:
            yield last
        last = (aft, fore, what)
    if last is not None:
        yield last


def _place(bay: tuple[str, str, str], aft: float, fore: float) -> dict[str, Any]:
    """Where a run lies, as ``ship.toml`` says it."""
    zone, lower, upper = bay
    made: dict[str, Any] = {"zone": zone, "from_frame": round(aft, 3), "to_frame": round(fore, 3)}
    if lower != KEEL:
        made["from_level"] = lower
    return {**made, "to_level": upper}


def _told(row: Any) -> Mapping[str, Any]:
    """A row of the description as plain values, without what is not given."""
    return {name: value for name, value in row.model_dump(mode="json").items() if value is not None}
