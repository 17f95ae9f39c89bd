"""The hull areas of one ship: borders from the chain of I2.2, classification of shell points, the larger factor."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

import numpy as np

from beltwright.core.chain import Chain, Columns, Step, Trace
from beltwright.core.edition import AS_CODED, Edition
from beltwright.core.errors import InputError, ScopeError
from beltwright.core.units import BoolArray, FloatArray, LabelArray
from beltwright.rules.facts import SHIP
from beltwright.rules.polar_iacs_2019 import i1_application as i1
from beltwright.rules.polar_iacs_2019 import i2_1_definitions as i2_1
from beltwright.rules.polar_iacs_2019 import i2_2_hull_areas as i2_2
from beltwright.rules.polar_iacs_2019 import i2_11_corrosion as i2_11
from beltwright.rules.polar_iacs_2019.tables import ADDITIONS, AREA_FACTORS
from beltwright.rules.protocol import (
    EVERYTHING,
    Border,
    GoverningAreas,
    HeightBorder,
    HullArea,
    InclinationBorder,
    Override,
    TransverseBorder,
)

TITLES: Final = {
    "B": "bow",
    "BIi": "bow intermediate, icebelt",
    "BIl": "bow intermediate, lower",
    "BIb": "bow intermediate, bottom",
    "Mi": "midbody, icebelt",
    "Ml": "midbody, lower",
    "Mb": "midbody, bottom",
    "Si": "stern, icebelt",
    "Sl": "stern, lower",
    "Sb": "stern, bottom",
}
CODES: Final = tuple(TITLES)
ASTERN_TITLES: Final = {
    "B": "bow and aft part",
    "BIi": "bow intermediate fore and aft, icebelt",
    "BIl": "bow intermediate fore and aft, lower",
    "BIb": "bow intermediate fore and aft, bottom",
}
STERN_FACTORS_KEY: Final = "overrides.azimuthing_stern_factors"
_LEAST_M: Final = {
    "stem_baseline_aft_of_stem_m": 0.0,
    "parallel_end_forward_of_ap_m": 0.0,
    "fp_forward_of_stem_m": -1000.0,
}

_NAMES: Final = (
    "ice_class",
    "icebreaker",
    "operates_astern",
    "effective_protection",
    "waterline_extreme_length_m",
    "stem_to_rudder_m",
    "stem_to_ap_m",
    "alpha_ten_aft_of_stem_m",
    "parallel_start_aft_of_stem_m",
    "parallel_end_forward_of_ap_m",
    "stem_baseline_aft_of_stem_m",
)
FRACTION_STEPS: Final = (
    Step(output="bow_limit_fraction", clause=i2_2.bow_limit_fraction),
    Step(output="intermediate_fraction", clause=i2_2.intermediate_fraction),
    Step(output="stern_breadth_fraction", clause=i2_2.stern_breadth_fraction),
    Step(output="stern_length_fraction", clause=i2_2.stern_length_fraction),
    Step(output="icebreaker_stern_fraction", clause=i2_2.icebreaker_stern_fraction),
)
CHAIN: Final = Chain(
    "hull areas",
    [quantity for quantity in SHIP if quantity.name in _NAMES],
    (
        Step(output="rule_length_m", clause=i2_1.rule_length),
        *FRACTION_STEPS,
        Step(output="bow_border_angle_deg", clause=i2_2.bow_border_angle),
        Step(output="bow_limit_m", clause=i2_2.bow_limit),
        Step(output="bow_aft_m", clause=i2_2.bow_aft_border),
        Step(output="intermediate_aft_m", clause=i2_2.intermediate_aft_border),
        Step(output="stern_length_m", clause=i2_2.stern_length),
        Step(output="stern_forward_m", clause=i2_2.stern_forward_border),
        Step(output="astern_intermediate_m", clause=i2_2.astern_intermediate_border),
        Step(output="belt_top_at_stem_m", clause=i2_2.belt_top_at_stem),
        Step(output="belt_top_m", clause=i2_2.belt_top),
        Step(output="belt_bottom_m", clause=i2_2.belt_bottom),
        Step(output="bottom_inclination_deg", clause=i2_2.bottom_inclination),
        Step(output="notation", clause=i1.notation),
        Step(output="protection", clause=i2_11.protection),
    ),
)


@dataclass(frozen=True, slots=True, kw_only=True)
class PolarHullAreas:
    """The hull areas of one ship under one Polar Class; see :class:`beltwright.rules.protocol.HullAreas`."""

    areas: tuple[HullArea, ...]
    borders: tuple[Border, ...]
    trace: Trace
    overrides: tuple[Override, ...]
    outside: str = "above the belt"

    def number(self, name: str) -> float:
        """Return a number of the trace."""
        return float(self.trace[name].value)

    def word(self, name: str) -> str:
        """Return a word of the trace."""
        return str(self.trace[name].value)

    def classify(
        self,
        aft_of_stem_m: FloatArray,
        above_upper_m: FloatArray,
        above_lower_m: FloatArray,
        inclination_deg: FloatArray,
        height_m: FloatArray,
    ) -> LabelArray:
        """Return the area code of each shell point (n,), or "" above the belt.

        A point on a border belongs to the region forward of it, at the stern's border to the stern; to the belt; to
        lower rather than bottom. An unknown inclination counts as lower. No border depends on the height above the
        baseline.
        """
        for name, values in (("aft_of_stem_m", aft_of_stem_m), ("above_upper_m", above_upper_m)):
            if not np.isfinite(values).all():
                raise InputError(f"hull areas: {name}", "is not a number", allowed="finite metres")
        region = self._region(aft_of_stem_m)
        # A NaN height above the lower waterline compares as not below the belt: the belt has the larger factor.
        below_belt = above_lower_m < -self.number("belt_bottom_m")
        flat = inclination_deg < self.number("bottom_inclination_deg")
        level = np.where(~below_belt, "i", np.where(flat, "b", "l"))
        code = np.where(region == "B", "B", np.char.add(region, level))
        return np.where(above_upper_m <= self._top(aft_of_stem_m), code, "").astype(np.str_)

    def _region(self, x: FloatArray) -> LabelArray:
        """The longitudinal region of each place."""
        region = np.where(
            x <= self.number("bow_aft_m"),
            "B",
            np.where(
                x <= self.number("intermediate_aft_m"), "BI", np.where(x < self.number("stern_forward_m"), "M", "S")
            ),
        )
        if not self.trace["operates_astern"].value:
            return region
        aft = np.where(x >= self.number("stern_forward_m"), "B", "BI")
        taken = (x >= self.number("astern_intermediate_m")) & (region != "B")
        return np.where(taken, aft, region)

    def _top(self, x: FloatArray) -> FloatArray:
        """Height of the belt's upper edge above UIWL at each place [m]."""
        border = self.borders[3]
        assert isinstance(border, HeightBorder)
        return np.interp(x, border.aft_of_stem_m, border.offset_m)

    def governing(self, touched: BoolArray) -> GoverningAreas:
        """Return, for members touching several areas (n, 10), the areas with the largest factor and addition.

        Areas that need no strengthening do not count; a member that touches no other gets "". Equal factors give the
        area that comes first in the document. Source: UR I2.3.5(ii) (text); the same for the addition is our choice.
        """
        counts = touched & np.array([area.strengthened for area in self.areas])
        factors = np.array([self._factor(area) for area in self.areas])
        additions = np.array([self._addition(area) for area in self.areas])
        return GoverningAreas(
            factor_area=_largest(factors, counts),
            addition_area=_largest(additions, counts),
            ref="UR I2 I2.3.5(ii)",
        )

    def _factor(self, area: HullArea) -> float:
        """The area factor, 0 where none is given."""
        value = AREA_FACTORS.cell(self.word("notation"), self.word("ice_class"), area.code).value
        return 0.0 if value is None else float(value)

    def _addition(self, area: HullArea) -> float:
        """The corrosion addition of an area."""
        value = ADDITIONS.numbers(self.word("ice_class"), area.code, self.word("protection"))
        return float(value)


def _largest(values: FloatArray, counts: BoolArray) -> LabelArray:
    """The code of the area with the largest value among those that count, "" where none does."""
    best = np.argmax(np.where(counts, values, -1.0), axis=1)
    return np.where(counts.any(axis=1), np.array(CODES)[best], "").astype(np.str_)


def make(facts: Columns, overrides: tuple[Override, ...], edition: Edition = AS_CODED) -> PolarHullAreas:
    """Return the hull areas of a ship; raises InputError for facts that cannot be, ScopeError beyond the rule."""
    chain = edition.chain(CHAIN)
    _check_facts(facts, chain)
    _check_azimuthing(facts, overrides)
    trace = chain.trace(facts)
    titles = {**TITLES, **(ASTERN_TITLES if trace["operates_astern"].value else {})}
    areas = tuple(
        HullArea(code=code, title=title, strengthens=EVERYTHING if _strengthened(trace, code) else ())
        for code, title in titles.items()
    )
    return PolarHullAreas(areas=areas, borders=_borders(trace), trace=trace, overrides=overrides)


def _strengthened(trace: Trace, code: str) -> bool:
    """Whether the class asks for strengthening in an area."""
    return AREA_FACTORS.cell(str(trace["notation"].value), str(trace["ice_class"].value), code).value is not None


def _check_facts(facts: Columns, chain: Chain) -> None:
    """Refuse facts that are missing, not finite or impossible."""
    word = str(facts["ice_class"][0])
    if word not in i1.CLASSES:
        raise InputError("ship: ice_class", "no such Polar Class", value=word, allowed=", ".join(i1.CLASSES))
    for quantity in chain.inputs.values():
        if quantity.unit.symbol != "m":
            continue
        value = float(facts[quantity.name][0])
        least = _LEAST_M.get(quantity.name, 1e-9)
        if not (np.isfinite(value) and least <= value <= 1000.0):
            raise InputError(
                f"ship: {quantity.name}", quantity.meaning, value=value, unit="m", allowed=f"{least:g} to 1000"
            )


def override_for(key: str, overrides: tuple[Override, ...]) -> Override | None:
    """Return the written reason under a key, or None; an empty reason is an InputError."""
    for override in overrides:
        if override.key == key:
            if not override.reason.strip():
                raise InputError(key, "the reason is empty", allowed="a written reason")
            return override
    return None


def stern_factors_open(facts: Columns) -> bool:
    """Whether the stern factors are specially considered: azimuthing units, and a stern that does not act as a bow."""
    return bool(facts["azimuthing_propulsion"][0]) and not bool(facts["operates_astern"][0])


def _check_azimuthing(facts: Columns, overrides: tuple[Override, ...]) -> None:
    """I2.3.5(iii): with azimuthing units the stern factors are specially considered."""
    if stern_factors_open(facts) and override_for(STERN_FACTORS_KEY, overrides) is None:
        raise ScopeError(
            "stern area factors Si and Sl",
            "the ship has azimuthing or podded units, for which these factors are specially considered",
            ref="UR I2 I2.3.5(iii)",
            override=STERN_FACTORS_KEY,
        )


def _borders(trace: Trace) -> tuple[Border, ...]:
    """The borders in the order of Figure 1: three (or five) across, the belt's edges, the bottom."""
    at = {name: float(trace[name].value) for name in trace if trace[name].unit.symbol == "m"}
    astern = bool(trace["operates_astern"].value)
    between = astern and at["astern_intermediate_m"] < at["stern_forward_m"]
    end = max(at["waterline_extreme_length_m"], at["stern_forward_m"])
    top_x, top = [0.0, at["bow_aft_m"], end], [at["belt_top_at_stem_m"], at["belt_top_m"], at["belt_top_m"]]
    if astern:
        top_x, top = [*top_x[:2], at["stern_forward_m"], end], [*top[:2], top[1], top[0]]
    aft_region = "B" if astern else "S"
    borders: list[Border] = [
        _across("aft border of the bow", "B", "BI", at["bow_aft_m"], "UR I2 I2.2.4"),
        _across("aft border of bow intermediate", "BI", "M", at["intermediate_aft_m"], "UR I2 Figure 1"),
        _across(
            "forward border of the aft bow area" if astern else "forward border of the stern",
            "BI" if between else "M",
            aft_region,
            at["stern_forward_m"],
            "UR I2 Figure 1",
        ),
        HeightBorder(
            name="upper edge of the ice belt",
            waterline="upper",
            above="",
            below="B, BIi, Mi, Si",
            aft_of_stem_m=np.array(top_x),
            offset_m=np.array(top),
            ref="UR I2 Figure 1",
        ),
        HeightBorder(
            name="lower edge of the ice belt",
            waterline="lower",
            above="BIi, Mi, Si",
            below="BIl, Ml, Sl",
            aft_of_stem_m=np.array([at["bow_aft_m"], at["stern_forward_m"] if astern else end]),
            offset_m=np.array([-at["belt_bottom_m"], -at["belt_bottom_m"]]),
            ref="UR I2 Figure 1",
        ),
        InclinationBorder(
            name="border of lower and bottom areas",
            above="BIl, Ml, Sl",
            below="BIb, Mb, Sb",
            inclination_deg=float(trace["bottom_inclination_deg"].value),
            ref="UR I2 I2.2.5",
        ),
    ]
    if between:
        borders.append(_across("aft bow intermediate begins", "M", "BI", at["astern_intermediate_m"], "UR I2 I2.2.6"))
    return tuple(borders)


def _across(name: str, forward: str, aft: str, place_m: float, ref: str) -> TransverseBorder:
    """A vertical border across the side."""
    return TransverseBorder(
        name=name, forward=forward, aft=aft, height_m=np.zeros(1), aft_of_stem_m=np.array([place_m]), ref=ref
    )
