"""The upper and lower ice waterline: given as points, or as the envelope of loading cases."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import combinations

import numpy as np

from beltwright.core.errors import InputError
from beltwright.hull.hydrostatics import Floating
from beltwright.hull.levels import WaterLevel
from beltwright.hull.shell import Shell
from beltwright.hull.waterline import waterline
from beltwright.scantlings.design import IceWaterline
from beltwright.ship.loading import LoadingCase
from beltwright.ship.model import DraughtPoint, Ship

UPPER, LOWER = "upper ice waterline", "lower ice waterline"
THE_LINE_ITSELF = "the waterline itself"


@dataclass(frozen=True, slots=True, kw_only=True)
class FloatingLine:
    """One line the ship floats at: its level, its water's density and the case it belongs to."""

    level: WaterLevel
    density_t_m3: float
    case: str


def ice_waterlines(ship: Ship, cases: tuple[LoadingCase, ...], shell: Shell) -> tuple[IceWaterline, IceWaterline]:
    """Return the upper and the lower ice waterline.

    Raises InputError where neither points nor cases are given or both are, where the lower line lies above the upper
    one, and where the hull does not reach a line.
    """
    ends = float(shell.bounds[0, 0]), float(shell.bounds[1, 0])
    upper, upper_lines, source = _line(ship, cases, UPPER, ends)
    lower, lower_lines, lower_source = _line(ship, cases, LOWER, ends)
    _check_order(upper, lower, ends)
    floating = Floating(shell)
    return (
        _measured(ship, shell, floating, upper, upper_lines, source),
        _measured(ship, shell, floating, lower, lower_lines, lower_source),
    )


def _line(
    ship: Ship, cases: tuple[LoadingCase, ...], name: str, ends_m: tuple[float, float]
) -> tuple[WaterLevel, tuple[FloatingLine, ...], str]:
    """One ice waterline, the lines that make it, and where it comes from; ``ends_m`` are the hull's."""
    side = name.split()[0]
    points: tuple[DraughtPoint, ...] = ship.waterlines.upper if side == "upper" else ship.waterlines.lower
    field = f"ship.toml: waterlines.{side}"
    if not cases:
        if not points:
            raise InputError(field, f"the {name} is not given", allowed="points, or waterlines.loading_cases")
        level = WaterLevel(tuple(p.x_m for p in points), tuple(p.draught_m for p in points), name)
        line = FloatingLine(level=level, density_t_m3=ship.water.density_t_m3, case=THE_LINE_ITSELF)
        return level, (line,), field
    if points:
        raise InputError(
            field, f"the {name} is given twice, here and by waterlines.loading_cases", allowed="one of them"
        )
    own = [case for case in cases if case.use in (side, "both")]
    if not own:
        raise InputError(
            str(ship.waterlines.loading_cases), f"no case makes the {name}", allowed=f"use = {side} or both"
        )
    lines = tuple(FloatingLine(level=_level(case), density_t_m3=case.density_t_m3, case=case.case) for case in own)
    return (
        _envelope(lines, name, ends_m),
        lines,
        f"envelope of {len(own)} loading cases in {ship.waterlines.loading_cases}",
    )


def _level(case: LoadingCase) -> WaterLevel:
    """The waterline of a loading case: straight from aft to midship and from midship forward."""
    return WaterLevel(
        (case.x_aft_m, case.x_mid_m, case.x_fore_m),
        (case.draught_aft_m, case.draught_mid_m, case.draught_fore_m),
        f"loading case {case.case}",
    )


def _envelope(lines: tuple[FloatingLine, ...], name: str, ends_m: tuple[float, float]) -> WaterLevel:
    """The highest (upper) or lowest (lower) of several lines, exact from end to end of the hull.

    It breaks where any of them does and where two of them cross; a single line stands as it is.
    """
    if len(lines) == 1:
        return WaterLevel(lines[0].level.x_m, lines[0].level.height_m, name)
    breaks = {*ends_m, *(x for line in lines for x in line.level.x_m)}
    for one, other in combinations(lines, 2):
        breaks |= set(_crossings(one.level, other.level, ends_m))
    xs = np.array(sorted(breaks))
    heights = np.array([line.level.height(xs) for line in lines])
    edge = heights.max(axis=0) if name == UPPER else heights.min(axis=0)
    return WaterLevel(tuple(xs.tolist()), tuple(edge.tolist()), name)


def _crossings(one: WaterLevel, other: WaterLevel, ends_m: tuple[float, float]) -> list[float]:
    """Where two lines cross."""
    xs = np.array(sorted({*one.x_m, *other.x_m, *ends_m}))
    gap = one.height(xs) - other.height(xs)
    change = np.flatnonzero(gap[:-1] * gap[1:] < 0.0)
    found: list[float] = (
        xs[change] + (xs[change + 1] - xs[change]) * gap[change] / (gap[change] - gap[change + 1])
    ).tolist()
    return found


def _check_order(upper: WaterLevel, lower: WaterLevel, ends_m: tuple[float, float]) -> None:
    """Refuse a lower ice waterline that lies above the upper one anywhere on the hull."""
    xs = np.array(sorted({*upper.x_m, *lower.x_m, *ends_m}))
    over = lower.height(xs) - upper.height(xs)
    worst = int(np.argmax(over))
    if over[worst] > 0.0:
        raise InputError(
            "ship.toml: waterlines.lower",
            f"lies above the upper ice waterline at x {xs[worst]:.3f} m",
            value=float(lower.height(xs)[worst]),
            unit="m",
            allowed=f"at most {float(upper.height(xs)[worst]):.3f} m there",
        )


def _measured(
    ship: Ship, shell: Shell, floating: Floating, level: WaterLevel, lines: tuple[FloatingLine, ...], source: str
) -> IceWaterline:
    """The waterline with its curve, its hydrostatics and its greatest displacement."""
    allowance = ship.water.shell_and_appendages_t
    whole = floating.at(level)
    under = [whole if line.level == level else floating.at(line.level) for line in lines]
    displacements = [h.displacement_kt(line.density_t_m3, allowance) for h, line in zip(under, lines, strict=True)]
    greatest = int(np.argmax(displacements))
    return IceWaterline(
        level=level,
        source=source,
        curve=waterline(shell, level),
        hydrostatics=whole,
        displacement_kt=displacements[greatest],
        displacement_from=lines[greatest].case,
    )
