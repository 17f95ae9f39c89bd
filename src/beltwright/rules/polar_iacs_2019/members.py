"""The chains of shell panels and local frames, and the checks on them."""

from __future__ import annotations

from typing import Final

from beltwright.core.chain import Chain, Step
from beltwright.rules.facts import FRAME, PANEL, SHIP
from beltwright.rules.polar_iacs_2019 import i1_application as i1
from beltwright.rules.polar_iacs_2019 import i2_3_3_patch_and_factors as i2_3
from beltwright.rules.polar_iacs_2019 import i2_4_plating as i2_4
from beltwright.rules.polar_iacs_2019 import i2_5_framing as i2_5
from beltwright.rules.polar_iacs_2019 import i2_6_transverse_frames as i2_6
from beltwright.rules.polar_iacs_2019 import i2_7_longitudinal_frames as i2_7
from beltwright.rules.polar_iacs_2019 import i2_9_stability as i2_9
from beltwright.rules.polar_iacs_2019 import i2_11_corrosion as i2_11
from beltwright.rules.polar_iacs_2019.load_chains import given_by
from beltwright.rules.protocol import CheckSpec, FormulaEnd, Guard, InputLimit, MemberRule

_SHIP_INPUTS: Final = [q for q in SHIP if q.name in ("ice_class", "icebreaker", "effective_protection")]
_LOAD_INPUTS: Final = [
    given_by(i2_3.bow_patch_height, "bow_patch_height_m"),
    given_by(i2_3.bow_patch_width, "bow_patch_width_m"),
    given_by(i2_3.average_pressure, "bow_pressure_mpa", "P_avg,Bow"),
    given_by(i2_3.other_patch_height, "other_patch_height_m"),
    given_by(i2_3.other_patch_width, "other_patch_width_m"),
    given_by(i2_3.average_pressure, "other_pressure_mpa", "P_avg,NonBow"),
]
_LOAD_STEPS: Final = (
    Step(output="bow_load_acts", clause=i2_3.bow_load_acts),
    Step(output="patch_height_m", clause=i2_3.member_patch_height),
    Step(output="pressure_mpa", clause=i2_3.member_pressure),
    Step(output="notation", clause=i1.notation),
    Step(output="area_factor", clause=i2_3.area_factor, inputs={"hull_area": "factor_area"}),
    Step(output="bottom", clause=i2_4.bottom),
    Step(output="transverse_share", clause=i2_4.transverse_share),
)

PLATING_CHAIN: Final = Chain(
    "shell plating",
    [*_SHIP_INPUTS, *(q for q in _LOAD_INPUTS if "width" not in q.name), *PANEL],
    (
        *_LOAD_STEPS,
        Step(output="plating_peak_transverse", clause=i2_3.plating_peak_transverse),
        Step(output="plate_patch_height_m", clause=i2_4.plate_patch_height),
        Step(output="thickness_net_transverse_mm", clause=i2_4.net_thickness_transverse),
        Step(output="plating_peak_longitudinal", clause=i2_3.plating_peak_longitudinal),
        Step(output="plate_length_m", clause=i2_4.plate_length),
        Step(output="thickness_net_longitudinal_mm", clause=i2_4.net_thickness_longitudinal),
        Step(
            output="thickness_net_mm",
            clause=i2_4.net_thickness,
            inputs={
                "net_thickness_transverse_mm": "thickness_net_transverse_mm",
                "net_thickness_longitudinal_mm": "thickness_net_longitudinal_mm",
            },
        ),
        Step(output="plating_peak", clause=i2_4.plating_peak),
        Step(output="protection", clause=i2_11.protection),
        Step(output="addition_mm", clause=i2_11.shell_addition, inputs={"hull_area": "addition_area"}),
        Step(output="in_scope", clause=i2_4.plating_in_scope),
        Step(output="thickness_required_mm", clause=i2_4.thickness_required),
        Step(output="renewal_mm", clause=i2_11.renewal_thickness),
    ),
)

_SECTION_STEPS: Final = (
    Step(output="web_angle_used_deg", clause=i2_5.web_angle_used),
    Step(output="shear_area_net_cm2", clause=i2_5.shear_area_net),
    Step(output="frame_area_net_cm2", clause=i2_5.frame_area_net),
    Step(output="plate_flange_area_cm2", clause=i2_5.plate_flange_area),
    Step(output="plate_outweighs", clause=i2_5.plate_outweighs),
    Step(output="plate_heavy_cm3", clause=i2_5.plastic_modulus_plate_heavy),
    Step(output="neutral_axis_mm", clause=i2_5.neutral_axis),
    Step(output="frame_heavy_cm3", clause=i2_5.plastic_modulus_frame_heavy),
    Step(output="plastic_modulus_net_cm3", clause=i2_5.plastic_modulus_net),
    Step(output="axis_in_web_mm", clause=i2_5.axis_in_web),
    Step(output="web_share", clause=i2_5.web_share),
)
_TRANSVERSE_STEPS: Final = (
    Step(output="peak_row", clause=i2_3.frame_peak_row),
    Step(output="frame_peak_transverse", clause=i2_3.frame_peak_transverse, inputs={"member": "peak_row"}),
    Step(output="loaded_length_m", clause=i2_6.loaded_length),
    Step(output="shear_area_transverse_cm2", clause=i2_6.shear_area_transverse),
    Step(output="span_factor", clause=i2_6.span_factor),
    Step(output="fixity", clause=i2_6.fixity),
    Step(output="shear_utilisation", clause=i2_6.shear_utilisation),
    Step(output="mid_span_factor", clause=i2_6.mid_span_factor),
    Step(output="own_modulus_cm3", clause=i2_6.own_modulus),
    Step(output="own_modulus_share", clause=i2_6.own_modulus_share),
    Step(output="end_shear_factor", clause=i2_6.end_shear_factor),
    Step(output="bending_factor", clause=i2_6.bending_factor),
    Step(output="modulus_transverse_cm3", clause=i2_6.modulus_transverse),
)
_LONGITUDINAL_STEPS: Final = (
    Step(output="patch_width_m", clause=i2_3.member_patch_width),
    Step(output="frame_peak_longitudinal", clause=i2_3.frame_peak_longitudinal),
    Step(output="patch_over_spacing", clause=i2_7.patch_over_spacing),
    Step(output="load_share", clause=i2_7.load_share),
    Step(output="load_height_m", clause=i2_7.load_height),
    Step(output="effective_load_height_m", clause=i2_7.effective_load_height),
    Step(output="shear_area_longitudinal_cm2", clause=i2_7.shear_area_longitudinal),
    Step(output="shear_utilisation_longitudinal", clause=i2_7.shear_utilisation_longitudinal),
    Step(output="bending_factor_longitudinal", clause=i2_7.bending_factor_longitudinal),
    Step(output="modulus_longitudinal_cm3", clause=i2_7.modulus_longitudinal),
)
_REQUIRED_STEPS: Final = (
    Step(output="in_scope", clause=i2_5.framing_in_scope),
    Step(output="greater_shear_area_cm2", clause=i2_5.greater_shear_area),
    Step(output="shear_area_required_cm2", clause=i2_5.shear_area_required),
    Step(output="plastic_modulus_required_cm3", clause=i2_5.plastic_modulus_required),
    Step(output="oblique_utilisation", clause=i2_5.oblique_utilisation),
    Step(output="lone_utilisation", clause=i2_5.lone_utilisation),
    Step(output="web_slenderness", clause=i2_9.web_slenderness),
    Step(output="web_slenderness_limit", clause=i2_9.web_slenderness_limit),
    Step(output="web_thickness_least_mm", clause=i2_9.web_thickness_least),
    Step(output="has_flange", clause=i2_9.has_flange),
    Step(output="flange_breadth_least_mm", clause=i2_9.flange_breadth_least),
    Step(output="flange_breadth_offered_mm", clause=i2_9.flange_breadth_offered),
    Step(output="outstand_asked_mm", clause=i2_9.outstand_asked),
    Step(output="outstand_most_mm", clause=i2_9.outstand_most),
    Step(output="web_renewal_mm", clause=i2_11.renewal_thickness, inputs={"thickness_net_mm": "web_net_mm"}),
    Step(output="flange_renewal_mm", clause=i2_11.renewal_thickness, inputs={"thickness_net_mm": "flange_net_mm"}),
)
FRAMING_CHAIN: Final = Chain(
    "local frames",
    [
        *(q for q in _SHIP_INPUTS if q.name != "effective_protection"),
        *_LOAD_INPUTS,
        *(q for q in FRAME if q.name not in ("addition_area", "support_distance_m")),
    ],
    (*_LOAD_STEPS, *_SECTION_STEPS, *_TRANSVERSE_STEPS, *_LONGITUDINAL_STEPS, *_REQUIRED_STEPS),
)


def _check(name: str, required: str, offered: str, ref: str, applies: str = "", *, most: bool = False) -> CheckSpec:
    """One check."""
    return CheckSpec(name=name, required=required, offered=offered, ref=f"UR I2 {ref}", applies=applies, most=most)


_RANGES: Final = {"m": (0.001, 1000.0), "mm": (0.01, 1e5), "cm2": (0.0, 1e5), "MPa": (1e-6, 1e5), "deg": (0.0, 90.0)}
_MAY_BE_ZERO: Final = (
    "flange_breadth_mm",
    "flange_net_mm",
    "flange_centre_height_mm",
    "flange_offset_mm",
    "flange_outstand_mm",
)
_WEB_ANGLE: Final = (1.0, 90.0)


def _limits(chain: Chain) -> tuple[InputLimit, ...]:
    """The range of each numeric input of a chain, by its unit."""
    limits = []
    for name, quantity in chain.inputs.items():
        unit = quantity.unit.symbol
        if unit not in ("label", "flag"):
            least, most = _WEB_ANGLE if name == "web_angle_deg" else _RANGES[unit]
            least = 0.0 if name in _MAY_BE_ZERO else least
            limits.append(InputLimit(column=name, unit=unit, least=least, most=most))
    return tuple(limits)


PLATING: Final = MemberRule(
    name="shell plating",
    chain=PLATING_CHAIN,
    checks=(_check("thickness", "thickness_required_mm", "thickness_as_built_mm", "I2.4.1"),),
    result="thickness_required_mm",
    limits=_limits(PLATING_CHAIN),
    shown={
        "area_factor": "area_factor",
        "peak_pressure_factor": "plating_peak",
        "thickness_net_required_mm": "thickness_net_mm",
        "addition_mm": "addition_mm",
        "renewal_mm": "renewal_mm",
    },
    guards=(
        Guard(
            column="in_scope",
            what="shell plating",
            reason="the span is not more than a quarter of the spacing: the transverse formula leaves no patch height",
            ref="UR I2 I2.4.2",
        ),
    ),
)
FRAMING: Final = MemberRule(
    name="local frames",
    chain=FRAMING_CHAIN,
    checks=(
        _check("shear area", "shear_area_required_cm2", "shear_area_net_cm2", "I2.5.10"),
        _check("plastic modulus", "plastic_modulus_required_cm3", "plastic_modulus_net_cm3", "I2.5.10"),
        _check("neutral axis in the web", "axis_in_web_mm", "web_height_mm", "I2.5.9", most=True),
        _check("web slenderness", "web_slenderness", "web_slenderness_limit", "I2.9.1", most=True),
        _check("web thickness beside the plate", "web_thickness_least_mm", "web_net_mm", "I2.9.3"),
        _check("flange breadth", "flange_breadth_least_mm", "flange_breadth_offered_mm", "I2.9.4", "has_flange"),
        _check("flange outstand", "outstand_asked_mm", "outstand_most_mm", "I2.9.4", "has_flange", most=True),
    ),
    result="plastic_modulus_required_cm3",
    limits=_limits(FRAMING_CHAIN),
    shown={
        "area_factor": "area_factor",
        "shear_area_required_cm2": "shear_area_required_cm2",
        "shear_area_offered_cm2": "shear_area_net_cm2",
        "modulus_required_cm3": "plastic_modulus_required_cm3",
        "modulus_offered_cm3": "plastic_modulus_net_cm3",
    },
    no_value=(
        FormulaEnd(
            column="lone_utilisation",
            most=1.0,
            output="plastic_modulus_required_cm3",
            words="no value: shear utilisation (a_1, longitudinal a_4) above 1",
        ),
    ),
    rests_on=(
        FormulaEnd(
            column="oblique_utilisation",
            most=1.0,
            output="plastic_modulus_required_cm3",
            words="oblique frames held to the interpolated requirement although the shear utilisation of one of its "
            "two formulas is above 1 (decision D17)",
        ),
    ),
    guards=(
        Guard(
            column="in_scope",
            what="local frames",
            reason="the patch height is not more than 0.3 of the spacing: the longitudinal formula leaves no load",
            ref="UR I2 I2.7.2",
        ),
    ),
)
