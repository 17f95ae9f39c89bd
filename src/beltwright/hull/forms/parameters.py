"""The numbers a designer gives for a parametric ice-going hull form, checked on the way in."""

from __future__ import annotations

import math
from dataclasses import dataclass
from itertools import pairwise

from beltwright.core.errors import InputError


def _between(where: str, value: float, low: float, high: float, unit: str) -> None:
    """Refuse a value that is not a finite number inside [low, high]."""
    if not (math.isfinite(value) and low <= value <= high):
        raise InputError(
            where, "outside the allowed range", value=value, unit=unit, allowed=f"{low:g} to {high:g} {unit}"
        )


def _rising(where: str, values: tuple[float, ...], unit: str) -> None:
    """Refuse a row that does not rise strictly."""
    if any(b <= a for a, b in pairwise(values)):
        raise InputError(where, "must rise strictly", value=values, unit=unit)


@dataclass(frozen=True, slots=True, kw_only=True)
class BowForm:
    """The bow through its hull angles at the upper ice waterline.

    Attributes
    ----------
    station_aft_of_stem_m : where the angles are given, distance aft of the stem at the waterline [m], rising
    waterline_angle_deg : alpha there [deg], falling
    buttock_angle_deg : gamma there, from horizontal [deg]
    length_m : distance aft of the stem at which alpha is 10 degrees [m]
    stem_angle_deg : gamma of the stem at the waterline [deg]; None takes what the table gives when it is carried on
    shoulder_buttock_angle_deg : gamma where the parallel side begins [deg]; sets the rake of the flat of side
    forefoot_fraction : share of the height between bottom and waterline in which a buttock turns from its straight
        rake into the bottom, 0.1 to 0.9
    forefoot_lead : how many times longer the turn is along the bottom than along the stem, 0.5 to 6
    """

    station_aft_of_stem_m: tuple[float, ...]
    waterline_angle_deg: tuple[float, ...]
    buttock_angle_deg: tuple[float, ...]
    length_m: float
    stem_angle_deg: float | None = None
    shoulder_buttock_angle_deg: float
    forefoot_fraction: float = 0.6
    forefoot_lead: float = 1.0

    def __post_init__(self) -> None:
        stations, alphas, gammas = self.station_aft_of_stem_m, self.waterline_angle_deg, self.buttock_angle_deg
        if not 2 <= len(stations) == len(alphas) == len(gammas):
            raise InputError("bow", "stations, waterline angles and buttock angles must be equally many, at least two")
        _rising("bow.station_aft_of_stem_m", (0.0, *stations, self.length_m), "m")
        for alpha in alphas:
            _between("bow.waterline_angle_deg", alpha, 10.0, 60.0, "deg")
        _rising("bow.waterline_angle_deg read from aft", (10.0, *alphas[::-1]), "deg")
        for gamma in (*gammas, self.shoulder_buttock_angle_deg):
            _between("bow.buttock_angle_deg", gamma, 10.0, 88.0, "deg")
        if self.stem_angle_deg is not None:
            _between("bow.stem_angle_deg", self.stem_angle_deg, 10.0, 88.0, "deg")
        _between("bow.forefoot_fraction", self.forefoot_fraction, 0.1, 0.9, "-")
        _between("bow.forefoot_lead", self.forefoot_lead, 0.5, 6.0, "-")


@dataclass(frozen=True, slots=True, kw_only=True)
class SternForm:
    """The run: a wedge of straight buttocks like the bow's, cut off by a transom.

    Attributes
    ----------
    parallel_side_end_x_m : x at which the parallel side of the waterline ends [m]
    transom_x_m : x of the transom at the waterline [m]
    transom_half_breadth_m : half-breadth of the transom at the waterline [m]
    fineness : 1 for the finest run; less makes the waterline blunter and the sections flatter at the centre line
    transom_rake_deg : lean of the transom aft, from vertical [deg]
    side_buttock_excess_deg : how much steeper than at the centre line the buttocks are at the side [deg]
    run_fraction : share of the height between bottom and waterline in which a buttock turns into the bottom
    """

    parallel_side_end_x_m: float
    transom_x_m: float
    transom_half_breadth_m: float
    fineness: float = 0.8
    transom_rake_deg: float = 0.0
    side_buttock_excess_deg: float = 0.0
    run_fraction: float = 0.6

    def __post_init__(self) -> None:
        _between("stern.parallel_side_end_x_m", self.parallel_side_end_x_m, self.transom_x_m + 1.0, 1000.0, "m")
        _between("stern.transom_half_breadth_m", self.transom_half_breadth_m, 0.1, 100.0, "m")
        _between("stern.fineness", self.fineness, 0.3, 1.0, "-")
        _between("stern.transom_rake_deg", self.transom_rake_deg, 0.0, 45.0, "deg")
        _between("stern.side_buttock_excess_deg", self.side_buttock_excess_deg, 0.0, 40.0, "deg")
        _between("stern.run_fraction", self.run_fraction, 0.1, 0.9, "-")


@dataclass(frozen=True, slots=True, kw_only=True)
class HullForm:
    """A whole hull form.

    Attributes
    ----------
    name : for messages and files
    stem_x_m : x of the stem at the upper ice waterline [m]
    beam_m, depth_m, draught_m : moulded beam, height of the main deck at side, draught at the waterline [m]
    midship_coefficient : midship section area over beam times draught
    bow, stern : the ends
    displaced_volume_m3 : moulded volume below the waterline [m3]; the run angle is solved for it
    run_angle_deg : buttock angle of the run at the centre line [deg]; give this or the volume, not both
    """

    name: str
    stem_x_m: float
    beam_m: float
    depth_m: float
    draught_m: float
    midship_coefficient: float
    bow: BowForm
    stern: SternForm
    displaced_volume_m3: float | None = None
    run_angle_deg: float | None = None

    def __post_init__(self) -> None:
        _between("beam_m", self.beam_m, 2.0, 100.0, "m")
        _between("draught_m", self.draught_m, 0.5, 50.0, "m")
        _between("depth_m", self.depth_m, self.draught_m * 1.02, 100.0, "m")
        _between("midship_coefficient", self.midship_coefficient, 0.70, 0.985, "-")
        _between("stem_x_m", self.stem_x_m, self.stern.parallel_side_end_x_m + self.bow.length_m, 1000.0, "m")
        _between("stern.transom_half_breadth_m", self.stern.transom_half_breadth_m, 0.1, 0.49 * self.beam_m, "m")
        if (self.displaced_volume_m3 is None) == (self.run_angle_deg is None):
            raise InputError(self.name, "give either displaced_volume_m3 or run_angle_deg")
        if self.displaced_volume_m3 is not None:
            block = self.displaced_volume_m3 / (self.beam_m * self.draught_m * self.waterline_length_m)
            _between("displaced_volume_m3 / (length * beam * draught)", block, 0.3, 0.95, "-")
        if self.run_angle_deg is not None:
            _between("run_angle_deg", self.run_angle_deg, 3.0, 45.0, "deg")

    @property
    def waterline_length_m(self) -> float:
        """Extreme length of the upper ice waterline [m]."""
        return self.stem_x_m - self.stern.transom_x_m
