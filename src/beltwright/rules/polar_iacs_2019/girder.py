"""Longitudinal strength in ice as chains: the force at the bow, shear and moment along the ship, and the checks."""

from __future__ import annotations

from typing import Final

import numpy as np

from beltwright.core.chain import Chain, Columns, Quantity, Step, Trace
from beltwright.core.edition import AS_CODED, Edition
from beltwright.core.outcome import NotApplicable
from beltwright.core.units import FloatArray
from beltwright.rules.facts import GIRDER, GIRDER_PLATE, GIRDER_SECTION, GIRDER_STIFFENER, SHIP, STATION
from beltwright.rules.polar_iacs_2019 import i2_1_definitions as i2_1
from beltwright.rules.polar_iacs_2019 import i2_3_2_forces as i2_3
from beltwright.rules.polar_iacs_2019 import i2_13_longitudinal_strength as i2_13
from beltwright.rules.polar_iacs_2019.load_chains import given_by
from beltwright.rules.polar_iacs_2019.tables import MOMENT_DISTRIBUTION, SHEAR_DISTRIBUTION
from beltwright.rules.protocol import CheckSpec, GirderForce, GirderRule, InputLimit, MemberRule
from beltwright.rules.strength_iacs import s11_5_2_2_torsion as torsion
from beltwright.rules.strength_iacs import s11_5_2_elastic_buckling as s11_5_2
from beltwright.rules.strength_iacs import s11_5_3_critical_stress as s11_5_3
from beltwright.rules.strength_iacs import s11_5_4_working_stress as s11_5_4

WEDGE_EXPONENT: Final = 1.0
WEDGE_ANGLE_DEG: Final = 80.0  # of the waterline at the stem; beyond it the wedge formula ends

_GIVEN: Final = {quantity.name: quantity for quantity in (*SHIP, *STATION, *GIRDER)}
_LENGTH: Final = given_by(i2_1.rule_length, "rule_length_m")
_STEM: Final = _GIVEN["stem_angle_deg"]
_FORCE: Final = given_by(i2_13.vertical_ice_force, "ice_force_mn")

_FORM_STEPS: Final = {
    False: (
        Step(output="waterline_coefficient", clause=i2_13.waterline_coefficient),
        Step(output="form_parameter", clause=i2_13.form_parameter_blunt),
    ),
    True: (Step(output="form_parameter", clause=i2_13.form_parameter_wedge),),
}
_FORM_INPUTS: Final = {False: ("breadth_upper_m", "bow_length_m"), True: ("stem_waterline_angle_deg",)}


def force_chain(*, wedge: bool) -> Chain:
    """Return the chain from the ship to the vertical force at the bow, by the blunt or by the wedge formula."""
    inputs: list[Quantity] = [
        *(_GIVEN[name] for name in ("ice_class", "displacement_upper_kt", "stem_angle_deg", "waterplane_upper_m2")),
        _GIVEN["bow_exponent"],
        *(_GIVEN[name] for name in _FORM_INPUTS[wedge]),
    ]
    return Chain(
        "vertical ice force at the bow",
        inputs,
        (
            Step(output="displacement_other_kt", clause=i2_1.other_displacement),
            Step(output="longitudinal_strength_factor", clause=i2_13.longitudinal_strength_factor),
            Step(output="flexural_factor", clause=i2_3.flexural_factor),
            Step(output="printed_bow_form", clause=i2_13.printed_bow_form),
            *_FORM_STEPS[wedge],
            Step(output="waterplane_stiffness_mn_per_m", clause=i2_13.waterplane_stiffness),
            Step(output="indentation_parameter", clause=i2_13.indentation_parameter),
            Step(output="ramming_force_mn", clause=i2_13.ramming_force),
            Step(output="flexural_limit_force_mn", clause=i2_13.flexural_limit_force),
            Step(output="ice_force_mn", clause=i2_13.vertical_ice_force),
        ),
    )


ALONG_CHAIN: Final = Chain(
    "ice shear force and bending moment along the ship",
    [_GIVEN["aft_of_stem_m"], _LENGTH, _STEM, _FORCE],
    (
        Step(output="length_share", clause=i2_13.length_share),
        Step(output="shear_distribution_positive", clause=i2_13.shear_distribution_positive),
        Step(
            output="ice_shear_positive_mn",
            symbol="F_I,pos",
            clause=i2_13.ice_shear_force,
            inputs={"shear_distribution": "shear_distribution_positive"},
        ),
        Step(output="shear_distribution_negative", clause=i2_13.shear_distribution_negative),
        Step(
            output="ice_shear_negative_mn",
            symbol="F_I,neg",
            clause=i2_13.ice_shear_force,
            inputs={"shear_distribution": "shear_distribution_negative"},
        ),
        Step(output="moment_distribution", clause=i2_13.moment_distribution),
        Step(output="ice_moment_mnm", clause=i2_13.ice_bending_moment),
    ),
)
SECTION_CHAIN: Final = Chain(
    "hull section",
    [
        _GIVEN["icebreaker"],
        given_by(i2_13.ice_shear_force, "ice_shear_positive_mn", "F_I,pos"),
        given_by(i2_13.ice_shear_force, "ice_shear_negative_mn", "F_I,neg"),
        given_by(i2_13.ice_bending_moment, "ice_moment_mnm"),
        *GIRDER_SECTION,
    ],
    (
        Step(output="usage_factor", clause=i2_13.usage_factor),
        Step(output="counted_strength_mpa", clause=i2_13.counted_strength),
        Step(
            output="stress_deck_mpa",
            symbol="sigma_a,deck",
            clause=s11_5_4.bending_stress,
            inputs={"modulus_m3": "modulus_deck_m3"},
        ),
        Step(
            output="stress_bottom_mpa",
            symbol="sigma_a,bottom",
            clause=s11_5_4.bending_stress,
            inputs={"modulus_m3": "modulus_bottom_m3"},
        ),
        Step(output="allowed_tension_mpa", clause=i2_13.allowed_tension),
        Step(output="stress_shear_mpa", clause=s11_5_4.shear_stress),
        Step(output="allowed_shear_mpa", clause=i2_13.allowed_shear),
    ),
)
PLATE_CHAIN: Final = Chain(
    "plate panel of the hull girder",
    GIRDER_PLATE,
    (
        Step(output="stiffening_coefficient", clause=s11_5_2.stiffening_coefficient),
        Step(output="factor_along", clause=s11_5_2.factor_along),
        Step(output="compression_factor", clause=s11_5_2.compression_factor),
        Step(output="elastic_compression_mpa", clause=s11_5_2.elastic_compression),
        Step(
            output="critical_compression_mpa",
            clause=s11_5_3.critical_compression,
            inputs={"elastic_mpa": "elastic_compression_mpa"},
        ),
        Step(output="shear_factor", clause=s11_5_2.shear_factor),
        Step(output="elastic_shear_mpa", clause=s11_5_2.elastic_shear),
        Step(output="shear_yield_mpa", clause=s11_5_3.shear_yield),
        Step(output="critical_shear_mpa", clause=s11_5_3.critical_shear),
    ),
)
_TORSION_STEPS: Final = (
    Step(output="factor_along", clause=s11_5_2.factor_along),
    Step(
        output="plate_elastic_mpa",
        symbol="sigma_Ep",
        clause=s11_5_2.elastic_compression,
        inputs={
            "compression_factor": "factor_along", "thickness_net_mm": "plate_net_mm", "short_side_m": "spacing_m",
        },
    ),
    Step(output="plate_fixity", clause=torsion.plate_fixity),
    Step(output="plate_spring", clause=torsion.plate_spring),
    Step(output="st_venant_inertia_cm4", clause=torsion.st_venant_inertia),
    Step(output="polar_inertia_cm4", clause=torsion.polar_inertia),
    Step(output="sectorial_inertia_cm6", clause=torsion.sectorial_inertia),
    Step(output="plate_ratio", clause=torsion.plate_ratio),
    Step(output="half_waves", clause=torsion.half_waves),
    Step(output="elastic_torsion_mpa", clause=torsion.elastic_torsion),
    Step(
        output="critical_torsion_mpa",
        symbol="sigma_c,tor",
        clause=s11_5_3.critical_compression,
        inputs={"elastic_mpa": "elastic_torsion_mpa"},
    ),
    Step(
        output="allowed_torsion_mpa",
        symbol="sigma_allow,tor",
        clause=i2_13.allowed_stiffener_compression,
        inputs={"critical_mpa": "critical_torsion_mpa"},
    ),
)  # fmt: skip
STIFFENER_CHAIN: Final = Chain(
    "longitudinal stiffener of the hull girder",
    GIRDER_STIFFENER,
    (
        Step(output="elastic_column_mpa", clause=s11_5_2.elastic_column),
        Step(
            output="critical_column_mpa",
            symbol="sigma_c,col",
            clause=s11_5_3.critical_compression,
            inputs={"elastic_mpa": "elastic_column_mpa"},
        ),
        Step(
            output="allowed_column_mpa",
            symbol="sigma_allow,col",
            clause=i2_13.allowed_stiffener_compression,
            inputs={"critical_mpa": "critical_column_mpa"},
        ),
        Step(output="elastic_web_mpa", clause=s11_5_2.elastic_web),
        Step(
            output="critical_web_mpa",
            symbol="sigma_c,web",
            clause=s11_5_3.critical_compression,
            inputs={"elastic_mpa": "elastic_web_mpa"},
        ),
        *_TORSION_STEPS,
    ),
)


def force(facts: Columns, before: Trace, edition: Edition = AS_CODED) -> GirderForce | NotApplicable:
    """Return the vertical ice force at the bow, or why ramming is not considered; ``edition`` has the clauses used.

    ``facts`` holds the ship's facts and those of the girder (length 1); ``before`` is the trace of the ship's loads, in
    which the length L_UI stands.

    Raises InputError for a fact outside its range.
    """
    for limit in _FORCE_LIMITS:
        limit.check("longitudinal strength", facts)
    stem = float(facts["stem_angle_deg"][0])
    if not bool(i2_13.ramming_considered(stem_angle_deg=facts["stem_angle_deg"])[0]):
        return NotApplicable(
            f"ramming is not considered with a stem of 80 degrees or more; the stem angle is {stem:.1f} degrees",
            "UR I2 I2.13.1",
        )
    exponent, alpha = float(facts["bow_exponent"][0]), float(facts["stem_waterline_angle_deg"][0])
    wedge = exponent == WEDGE_EXPONENT and alpha < WEDGE_ANGLE_DEG
    chain = edition.chain(force_chain(wedge=wedge))
    trace = chain.trace(facts).after(before)
    which = "simple wedge, from the waterline angle at the stem" if wedge else "blunt bow, from the bow exponent"
    form = trace["printed_bow_form"].value
    share = _nodes()
    length: FloatArray = np.array([trace["rule_length_m"].value])
    return GirderForce(
        columns={
            "ice_force_mn": np.array([trace["ice_force_mn"].value]),
            "rule_length_m": length,
            "stem_angle_deg": facts["stem_angle_deg"],
            "icebreaker": facts["icebreaker"],
        },
        trace=trace,
        nodes_aft_of_stem_m=(1.0 - share) * length,
        choices=(f"Bow form parameter K_f by the formula of the {which}; bow exponent {exponent:.3f}: {form}",),
    )


def _nodes() -> FloatArray:
    """The shares of the length at which a distribution bends, its ends with them, aft first."""
    tables = (SHEAR_DISTRIBUTION, MOMENT_DISTRIBUTION)
    places = {float(str(c.value)) for table in tables for key, c in table.cells.items() if key[-1] == "place"}
    return np.array(sorted({0.0, 1.0, *places}))


def _limit(column: str, unit: str, least: float, most: float) -> InputLimit:
    """The range of one input."""
    return InputLimit(column=column, unit=unit, least=least, most=most)


_FORCE_LIMITS: Final = (
    _limit("stem_angle_deg", "deg", 1.0, 180.0),
    _limit("waterplane_upper_m2", "m2", 1.0, 1e5),
    _limit("breadth_upper_m", "m", 1.0, 200.0),
    _limit("bow_length_m", "m", 0.1, 500.0),
    _limit("bow_exponent", "-", 0.0, 2.0),
    _limit("stem_waterline_angle_deg", "deg", 0.0, 90.0),
)
_TABLE_9: Final = "UR I2 I2.13.5 Table 9"
GIRDER_RULE: Final = GirderRule(
    facts=GIRDER,
    force=force,
    along=ALONG_CHAIN,
    section=MemberRule(
        name="hull section",
        chain=SECTION_CHAIN,
        checks=(
            CheckSpec(name="stress at deck", required="stress_deck_mpa", offered="allowed_tension_mpa", ref=_TABLE_9),
            CheckSpec(
                name="stress at bottom", required="stress_bottom_mpa", offered="allowed_tension_mpa", ref=_TABLE_9
            ),
            CheckSpec(name="shear stress", required="stress_shear_mpa", offered="allowed_shear_mpa", ref=_TABLE_9),
        ),
        result="stress_deck_mpa",
        limits=(
            _limit("modulus_deck_m3", "m3", 1e-4, 1e4),
            _limit("modulus_bottom_m3", "m3", 1e-4, 1e4),
            _limit("shear_area_m2", "m2", 1e-4, 1e3),
            _limit("still_water_moment_mnm", "MNm", 0.0, 1e6),
            _limit("still_water_shear_mn", "MN", 0.0, 1e5),
            _limit("yield_mpa", "MPa", 100.0, 1500.0),
            _limit("tensile_mpa", "MPa", 100.0, 2000.0),
        ),
    ),
    plate=MemberRule(
        name="plate panel of the hull girder",
        chain=PLATE_CHAIN,
        checks=(
            CheckSpec(
                name="plate in compression", required="compression_mpa", offered="critical_compression_mpa",
                ref=_TABLE_9,
            ),
            CheckSpec(name="plate in shear", required="shear_mpa", offered="critical_shear_mpa", ref=_TABLE_9),
        ),
        result="critical_compression_mpa",
        limits=(
            _limit("thickness_net_mm", "mm", 1.0, 200.0),
            _limit("short_side_m", "m", 0.05, 20.0),
            _limit("long_side_m", "m", 0.05, 50.0),
            _limit("stress_ratio", "-", 0.0, 1.0),
            _limit("yield_mpa", "MPa", 100.0, 1500.0),
        ),
    ),
    stiffener=MemberRule(
        name="longitudinal stiffener of the hull girder",
        chain=STIFFENER_CHAIN,
        checks=(
            CheckSpec(
                name="stiffener as a column", required="compression_mpa", offered="allowed_column_mpa", ref=_TABLE_9
            ),
            CheckSpec(name="stiffener's web", required="compression_mpa", offered="critical_web_mpa", ref=_TABLE_9),
            CheckSpec(
                name="stiffener turning over", required="compression_mpa", offered="allowed_torsion_mpa", ref=_TABLE_9
            ),
        ),
        result="allowed_column_mpa",
        limits=(
            _limit("span_m", "m", 0.05, 20.0),
            _limit("web_net_mm", "mm", 1.0, 200.0),
            _limit("web_height_mm", "mm", 10.0, 5000.0),
            _limit("inertia_net_cm4", "cm4", 1e-3, 1e9),
            _limit("area_net_cm2", "cm2", 1e-3, 1e6),
            _limit("plate_net_mm", "mm", 1.0, 200.0),
            _limit("spacing_m", "m", 0.05, 20.0),
            _limit("stress_ratio", "-", 0.0, 1.0),
            _limit("flange_breadth_mm", "mm", 0.0, 5000.0),
            _limit("flange_net_mm", "mm", 0.0, 200.0),
            _limit("yield_mpa", "MPa", 100.0, 1500.0),
        ),
    ),
)  # fmt: skip
