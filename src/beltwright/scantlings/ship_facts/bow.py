"""Facts of the bow at both ice waterlines, as the engine output asks for them: rows are upper, lower.

Length and area of the bow end at the fore end of the parallel side. Angles are in the ship's axes, read where the
waterline reaches a quarter of the greatest breadth of the upper ice waterline.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Final

import numpy as np

from beltwright.core.errors import InputError
from beltwright.core.units import FloatArray, LabelArray
from beltwright.hull.bow_shape import BowPlace, bow_area_m2, place_at_half_breadth
from beltwright.hull.waterline import SideBorders
from beltwright.scantlings.design import IceWaterline
from beltwright.scantlings.ship_facts.described import fore_perpendicular_x_m
from beltwright.scantlings.ship_facts.reading import Reading, Told
from beltwright.scantlings.ship_facts.side import SIDE_TOLERANCE_MM

UPRIGHT_DEG = 90.0


def _lines(reading: Reading) -> tuple[IceWaterline, IceWaterline]:
    """The upper and the lower ice waterline."""
    return reading.measures.upper, reading.measures.lower


def _side(line: IceWaterline) -> SideBorders:
    """The ends of a waterline's parallel side."""
    return line.curve.side_borders(SIDE_TOLERANCE_MM)


def _both(words: str, upper: str, lower: str) -> str:
    """Where a fact was read on both waterlines."""
    return f"{words}: upper ice waterline {upper}, lower {lower}"


def _draught(reading: Reading) -> Told:
    """The ice draughts amidships."""
    x = 0.5 * fore_perpendicular_x_m(reading.ship)
    heights = [float(line.level.height(np.array([x]))[0]) for line in _lines(reading)]
    return Told(heights, f"ice waterlines half way between the perpendiculars, x {x:.3f} m")


def _bow_length(reading: Reading) -> Told:
    """The lengths from the stem to the parallel side."""
    ends = [(line.curve.stem_x_m, _side(line).fore_x_m) for line in _lines(reading)]
    places = [f"x {stem:.3f} to {fore:.3f} m" for stem, fore in ends]
    return Told([stem - fore for stem, fore in ends], _both("stem to the parallel side", *places))


def _parallel_length(reading: Reading) -> Told:
    """The lengths of the parallel side."""
    sides = [_side(line) for line in _lines(reading)]
    places = [f"x {side.fore_x_m:.3f} to {side.aft_x_m:.3f} m" for side in sides]
    words = f"half-breadth within {SIDE_TOLERANCE_MM:g} mm of its greatest"
    return Told([side.fore_x_m - side.aft_x_m for side in sides], _both(words, *places))


def _bow_area(reading: Reading) -> Told:
    """The waterplane areas of both sides forward of the parallel side."""
    ends = [_side(line).fore_x_m for line in _lines(reading)]
    areas = [bow_area_m2(line.curve, fore) for line, fore in zip(_lines(reading), ends, strict=True)]
    return Told(areas, _both("waterplane of both sides forward of", *(f"x {fore:.3f} m" for fore in ends)))


def _quarter(reading: Reading) -> tuple[BowPlace, BowPlace]:
    """Where the waterlines reach a quarter of the greatest breadth."""
    quarter = 0.5 * reading.measures.upper.curve.greatest_half_breadth_m
    upper, lower = (place_at_half_breadth(line.curve, quarter) for line in _lines(reading))
    return upper, lower


def _quarter_words(places: tuple[BowPlace, BowPlace]) -> str:
    """Where the angles were read."""
    upper, lower = (f"x {place.x_m:.3f} m, z {place.z_m:.3f} m" for place in places)
    return _both(f"shell at a quarter of the breadth, y {places[0].y_m:.3f} m", upper, lower)


def _waterline_angle(reading: Reading) -> Told:
    """The waterline angles at a quarter of the breadth."""
    places = _quarter(reading)
    values = [
        _angle(line, place, place.angles.alpha_deg, place.angles.alpha_reason, "waterline angle")
        for line, place in zip(_lines(reading), places, strict=True)
    ]
    return Told(values, _quarter_words(places))


def _bow_rake(reading: Reading) -> Told:
    """The rakes of the bow, buttock angles from horizontal, at a quarter of the breadth."""
    places = _quarter(reading)
    values = [
        _angle(line, place, place.angles.gamma_deg, place.angles.gamma_reason, "rake of the bow")
        for line, place in zip(_lines(reading), places, strict=True)
    ]
    return Told(values, _quarter_words(places))


def _angle(line: IceWaterline, place: BowPlace, degrees: FloatArray, reason: LabelArray, what: str) -> float:
    """One angle; InputError with the reason where it does not apply."""
    if reason[0] != "":
        raise InputError(
            f"hull: {what} at a quarter of the breadth, {line.name}", f"does not apply: {reason[0]}",
            value=f"x {place.x_m:.3f}, y {place.y_m:.3f}, z {place.z_m:.3f}", unit="m",
        )  # fmt: skip
    return float(degrees[0])


def _stem_rake(reading: Reading) -> Told:
    """The rakes of the stem from horizontal; one that leans back above a bulb counts as upright."""
    points = [reading.measures.profile.stem_point(line.level) for line in _lines(reading)]
    bulb = reading.ship.ice.bulbous_bow
    values = [min(point.angle_deg, UPRIGHT_DEG) if bulb else point.angle_deg for point in points]
    words = "stem profile, 90 degrees at most above a bulb" if bulb else "stem profile"
    return Told(values, _both(words, *(f"x {point.x_m:.3f} m, z {point.z_m:.3f} m" for point in points)))


SOURCES: Final[Mapping[str, Callable[[Reading], Told]]] = {
    "draught_m": _draught,
    "bow_length_m": _bow_length,
    "parallel_length_m": _parallel_length,
    "bow_waterline_area_m2": _bow_area,
    "waterline_angle_quarter_deg": _waterline_angle,
    "stem_rake_deg": _stem_rake,
    "bow_rake_quarter_deg": _bow_rake,
}
