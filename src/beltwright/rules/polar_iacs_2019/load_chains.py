"""The chains of the design loads: ship, outside the bow, one per bow sub-region, and the bow's patch."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any, Final

from beltwright.core.chain import Chain, Quantity, Step
from beltwright.core.clause import Clause
from beltwright.core.units import Unit
from beltwright.rules.facts import SHIP, STATION
from beltwright.rules.polar_iacs_2019 import i2_1_definitions as i2_1
from beltwright.rules.polar_iacs_2019 import i2_2_hull_areas as i2_2
from beltwright.rules.polar_iacs_2019 import i2_3_2_forces as force
from beltwright.rules.polar_iacs_2019 import i2_3_3_patch_and_factors as patch

SUB_REGIONS: Final = 4

_CLASS: Final = next(quantity for quantity in SHIP if quantity.name == "ice_class")
_GIVEN: Final = {quantity.name: quantity for quantity in (*SHIP, *STATION)}


def given_by(clause: Clause[Any, Any], name: str, symbol: str = "") -> Quantity:
    """Return an input that a clause of an earlier chain gives: its symbol (or another one), unit and title."""
    return Quantity(name=name, symbol=symbol or clause.symbol, unit=clause.unit, meaning=clause.title)


def numbered(clause: Clause[Any, Any], number: int) -> str:
    """Return a clause's symbol in one sub-region, its number before any other subscript: ``F_2``, ``fa_2,1``."""
    letter, joint, subscript = clause.symbol.partition("_")
    return f"{letter}_{number}{',' if joint else ''}{subscript}"


_DISPLACEMENT_BOW: Final = given_by(i2_1.bow_displacement, "displacement_bow_kt")
_CRUSHING: Final = given_by(force.crushing_factor, "crushing_factor")
_FLEXURAL: Final = given_by(force.flexural_factor, "flexural_factor")
_PATCH: Final = given_by(force.load_patch_factor, "load_patch_factor")

SHIP_CHAIN: Final = Chain(
    "ship",
    [_CLASS, _GIVEN["displacement_upper_kt"]],
    (
        Step(output="displacement_bow_kt", clause=i2_1.bow_displacement),
        Step(output="displacement_other_kt", clause=i2_1.other_displacement),
        Step(output="crushing_factor", clause=force.crushing_factor),
        Step(output="flexural_factor", clause=force.flexural_factor),
        Step(output="load_patch_factor", clause=force.load_patch_factor),
        Step(output="displacement_factor", clause=force.displacement_factor),
    ),
)
VERTICAL_CHAIN: Final = Chain(
    "factors of vertical-sided bows",
    [_CLASS],
    (
        Step(output="vertical_crushing_factor", clause=force.vertical_crushing_factor),
        Step(output="vertical_line_load_factor", clause=force.vertical_line_load_factor),
        Step(output="vertical_pressure_factor", clause=force.vertical_pressure_factor),
    ),
)
OTHER_CHAIN: Final = Chain(
    "outside the bow",
    [
        _CRUSHING,
        _PATCH,
        given_by(i2_1.other_displacement, "displacement_other_kt"),
        given_by(force.displacement_factor, "displacement_factor"),
    ],
    (
        Step(output="displacement_term", clause=force.displacement_term),
        Step(output="other_force_mn", clause=force.other_force),
        Step(output="other_line_load_mn_per_m", clause=force.other_line_load),
        Step(output="other_patch_width_m", clause=patch.other_patch_width),
        Step(output="other_patch_height_m", clause=patch.other_patch_height),
        Step(
            output="other_pressure_mpa",
            symbol="P_avg,NonBow",
            clause=patch.average_pressure,
            inputs={
                "force_mn": "other_force_mn",
                "patch_height_m": "other_patch_height_m",
                "patch_width_m": "other_patch_width_m",
            },
        ),
    ),
)


def _station_inputs(number: int) -> list[Quantity]:
    """What every sub-region reads: its number, the bow's length and its angles."""
    angles = [
        Quantity(name=name, symbol=f"{given.symbol}_{number}", unit=given.unit, meaning=f"{given.meaning} there")
        for name, given in (
            (f"alpha_{number}_deg", _GIVEN["alpha_deg"]),
            (f"beta_prime_{number}_deg", _GIVEN["beta_prime_deg"]),
        )
    ]
    count = Quantity(
        name=f"sub_region_{number}", symbol="i", unit=Unit("count"), meaning="number of the sub-region, from the stem"
    )
    return [count, given_by(i2_2.bow_aft_border, "bow_aft_m"), *angles, _DISPLACEMENT_BOW]


def _step(number: int, output: str, clause: Clause[Any, Any], inputs: Mapping[str, str]) -> Step:
    """One step of a sub-region, its number in the output's name ({}) and in its symbol."""
    return Step(output=output.format(number), clause=clause, inputs=inputs, symbol=numbered(clause, number))


def _middle(number: int) -> Step:
    """The step that places a sub-region."""
    return _step(number, "aft_of_stem_{}_m", force.sub_region_middle, {"sub_region": f"sub_region_{number}"})


def standard_chain(number: int) -> Chain:
    """Return the chain of one sub-region by the standard formula, I2.3.2.1(iii)."""
    n = number
    angles = {"alpha_deg": f"alpha_{n}_deg", "beta_prime_deg": f"beta_prime_{n}_deg"}
    beta = {"beta_prime_deg": angles["beta_prime_deg"]}
    shape = {name: f"{name}_{n}" for name in ("shape_factor_angles", "shape_factor_flexure")}
    load = {"force_mn": f"force_{n}_mn", "aspect_ratio": f"aspect_ratio_{n}"}
    return Chain(
        f"sub-region {n}",
        [
            *_station_inputs(n),
            given_by(i2_1.rule_length, "rule_length_m"),
            _CRUSHING,
            _FLEXURAL,
            _PATCH,
        ],
        (
            _middle(n),
            _step(
                n, "shape_factor_angles_{}", force.shape_factor_angles,
                {"aft_of_stem_m": f"aft_of_stem_{n}_m", **angles},
            ),
            _step(n, "shape_factor_flexure_{}", force.shape_factor_flexure, beta),
            _step(n, "shape_factor_{}", force.shape_factor, shape),
            _step(n, "force_{}_mn", force.bow_force, {"shape_factor": f"shape_factor_{n}"}),
            _step(n, "aspect_ratio_{}", force.bow_aspect_ratio, beta),
            _step(n, "line_load_{}_mn_per_m", force.bow_line_load, load),
            _step(n, "pressure_{}_mpa", force.bow_pressure, load),
        ),
    )  # fmt: skip


def vertical_chain(number: int) -> Chain:
    """Return the chain of one sub-region by the formula for vertical-sided bows, I2.3.2.1(iv)."""
    n = number
    load = {"force_mn": f"force_{n}_mn"}
    return Chain(
        f"sub-region {n}",
        [
            *_station_inputs(n),
            given_by(force.vertical_crushing_factor, "vertical_crushing_factor"),
            given_by(force.vertical_line_load_factor, "vertical_line_load_factor"),
            given_by(force.vertical_pressure_factor, "vertical_pressure_factor"),
        ],
        (
            _middle(n),
            _step(n, "shape_factor_{}", force.vertical_shape_factor, {"alpha_deg": f"alpha_{n}_deg"}),
            _step(n, "force_{}_mn", force.vertical_force, {"shape_factor": f"shape_factor_{n}"}),
            _step(n, "line_load_{}_mn_per_m", force.vertical_line_load, load),
            _step(n, "pressure_{}_mpa", force.vertical_pressure, load),
        ),
    )


def design_chain(*, bulb: bool) -> Chain:
    """Return the chain from the four sub-regions to the bow's patch; with the least load of a bulbous bow if asked."""
    loads = [
        given_by(clause, name.format(n), numbered(clause, n))
        for clause, name in (
            (force.bow_force, "force_{}_mn"),
            (force.bow_line_load, "line_load_{}_mn_per_m"),
            (force.bow_pressure, "pressure_{}_mpa"),
        )
        for n in range(1, SUB_REGIONS + 1)
    ]
    inputs = [*loads, _CRUSHING, _PATCH, _DISPLACEMENT_BOW] if bulb else loads
    return Chain("bow", inputs, (*(_bulb_steps() if bulb else _plain_steps()), *_PATCH_STEPS))


def _plain_steps() -> tuple[Step, ...]:
    """The greatest of the sub-regions."""
    return (
        Step(output="bow_force_mn", clause=force.greatest_force),
        Step(output="bow_line_load_mn_per_m", clause=force.greatest_line_load),
        Step(output="bow_greatest_pressure_mpa", clause=force.greatest_pressure),
    )


def _bulb_steps() -> tuple[Step, ...]:
    """The greatest of the sub-regions, not less than the least load of a bulbous bow."""
    return (
        Step(output="force_sub_regions_mn", clause=force.greatest_force),
        Step(output="line_load_sub_regions_mn_per_m", clause=force.greatest_line_load),
        Step(output="pressure_sub_regions_mpa", clause=force.greatest_pressure),
        Step(output="force_least_mn", clause=force.bulb_least_force),
        Step(output="line_load_least_mn_per_m", clause=force.bulb_least_line_load),
        Step(output="pressure_least_mpa", clause=force.bulb_least_pressure),
        Step(output="bow_force_mn", clause=force.bulb_force),
        Step(output="bow_line_load_mn_per_m", clause=force.bulb_line_load),
        Step(output="bow_greatest_pressure_mpa", clause=force.bulb_pressure),
    )


_PATCH_STEPS: Final = (
    Step(output="bow_patch_width_m", clause=patch.bow_patch_width),
    Step(output="bow_patch_height_m", clause=patch.bow_patch_height),
    Step(
        output="bow_pressure_mpa",
        symbol="P_avg,Bow",
        clause=patch.average_pressure,
        inputs={
            "force_mn": "bow_force_mn",
            "patch_height_m": "bow_patch_height_m",
            "patch_width_m": "bow_patch_width_m",
        },
    ),
)
MEMBER_COLUMNS: Final = (
    "bow_patch_height_m",
    "bow_patch_width_m",
    "bow_pressure_mpa",
    "other_patch_height_m",
    "other_patch_width_m",
    "other_pressure_mpa",
)
COMPARED_COLUMNS: Final = (
    "displacement_bow_kt",
    "displacement_other_kt",
    "bow_force_mn",
    "bow_line_load_mn_per_m",
    "bow_greatest_pressure_mpa",
    "bow_patch_width_m",
    "bow_patch_height_m",
    "other_force_mn",
    "other_line_load_mn_per_m",
    "other_pressure_mpa",
    "other_patch_width_m",
    "other_patch_height_m",
)
