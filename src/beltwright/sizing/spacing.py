"""The same ship with her transverse frames another distance apart: every frame number follows its place."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import numpy as np

from beltwright.arrangement.arrange import arrange
from beltwright.core.errors import InputError
from beltwright.core.findings import Findings
from beltwright.scantlings.build import design_on
from beltwright.scantlings.design import Design
from beltwright.ship.model import Ship

_ON = 1e-6  # a hull that ends on a frame (frames) needs the next one too
_NUMBERS = ("from_frame", "to_frame", "frame")


def respaced(ship: Ship, spacing_m: float, hull_x_m: tuple[float, float]) -> Ship:
    """Return a ship whose frames stand ``spacing_m`` apart; ``hull_x_m`` are the ends of her hull.

    The table, and what began or ended with it, begins and ends with the first frames off the hull. What is named by
    frame (zones, bulkheads, lines of plates and sections, ..) moves to the nearest new frame; the spacing of web frames
    becomes the nearest whole number of frame spacings, at least one.

    Raises InputError for a spacing below the least one, and for a ship whose frame table has more than one spacing.
    """
    least = ship.sizing.spacing_least_m
    where = "ship.toml: sizing.frame_spacings_m"
    if spacing_m < least:
        raise InputError(where, "below the least spacing", value=spacing_m, unit="m", allowed=f"{least:g} m or more")
    spacings = {line.spacing_m for line in ship.frames}
    if len(spacings) > 1:
        raise InputError(where, "the frame table has several spacings", allowed="a ship with one")
    ratio = spacings.pop() / spacing_m
    first, last = ship.frames[0].from_frame, ship.frames[-1].to_frame
    ends = float(np.floor(hull_x_m[0] / spacing_m - _ON)), float(np.ceil(hull_x_m[1] / spacing_m + _ON))

    def moved(frame: float) -> float:
        return {first: ends[0], last: ends[1]}.get(frame, float(round(frame * ratio)))

    plain = _moved(ship.model_dump(), moved, spacing_m)
    plain["frames"] = ({"from_frame": ends[0], "to_frame": ends[1], "spacing_m": spacing_m},)
    return Ship.model_validate(plain)


def _moved(value: Any, place: Callable[[float], float], spacing_m: float) -> Any:
    """A part of the description with its frame numbers and web spacings moved."""
    if isinstance(value, dict):
        moved = {name: _moved(one, place, spacing_m) for name, one in value.items()}
        for name in _NUMBERS:
            if isinstance(moved.get(name), float):
                moved[name] = place(moved[name])
        web = moved.get("web_frame_spacing_m")
        if isinstance(web, float):
            moved["web_frame_spacing_m"] = max(round(web / spacing_m), 1) * spacing_m
        return moved
    if isinstance(value, (list, tuple)):
        return tuple(_moved(one, place, spacing_m) for one in value)
    return value


def design_respaced(design: Design, spacing_m: float) -> Design:
    """Return the design of a ship with her frames another distance apart, on the same hull and waterlines."""
    bounds = design.measures.shell.bounds
    ship = respaced(design.ship, spacing_m, (float(bounds[0, 0]), float(bounds[1, 0])))
    findings = Findings()
    arrangement = arrange(ship, design.measures.shell)
    findings.extend(arrangement.findings)
    return design_on(
        ship, design.rules, design.measures, arrangement, findings,
        facts_measured=(dict(design.facts), dict(design.fact_origins)),
    )  # fmt: skip
