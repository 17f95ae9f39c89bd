"""The chains of web frames, load-carrying stringers and plated structures, and the checks on them."""

from __future__ import annotations

from typing import Final

from beltwright.core.chain import Chain, Step
from beltwright.rules.facts import PLATED, SHIP, SUPPORT
from beltwright.rules.polar_iacs_2019 import i1_application as i1
from beltwright.rules.polar_iacs_2019 import i2_3_3_patch_and_factors as i2_3
from beltwright.rules.polar_iacs_2019 import i2_8_web_frames as i2_8
from beltwright.rules.polar_iacs_2019 import i2_9_stability as i2_9
from beltwright.rules.polar_iacs_2019 import i2_10_plated as i2_10
from beltwright.rules.polar_iacs_2019 import i2_17_direct as i2_17
from beltwright.rules.polar_iacs_2019.load_chains import given_by
from beltwright.rules.protocol import About, CheckSpec, MemberRule, SupportKind, SupportRule

_LOAD_INPUTS: Final = [
    *(q for q in SHIP if q.name in ("ice_class", "icebreaker")),
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
    Step(output="patch_width_m", clause=i2_3.member_patch_width),
    Step(output="pressure_mpa", clause=i2_3.member_pressure),
    Step(output="notation", clause=i1.notation),
    Step(output="area_factor", clause=i2_3.area_factor, inputs={"hull_area": "factor_area"}),
)
_DEMAND_STEPS: Final = (
    Step(output="frame_peak_longitudinal", clause=i2_3.frame_peak_longitudinal),
    Step(output="support_peak", clause=i2_8.support_peak),
    Step(output="support_pressure_mpa", clause=i2_8.support_pressure),
    Step(output="patch_force_mn", clause=i2_17.patch_force),
    Step(output="direct_required", clause=i2_17.direct_required),
    Step(output="shear_limit_mpa", clause=i2_17.shear_limit),
    Step(output="von_mises_limit_mpa", clause=i2_17.von_mises_limit),
)
_STABILITY_STEPS: Final = (
    Step(output="web_slenderness", clause=i2_9.web_slenderness),
    Step(output="web_slenderness_limit", clause=i2_9.web_slenderness_limit),
    Step(output="unsupported_web_depth_mm", clause=i2_9.unsupported_web_depth),
    Step(output="stiffened_web_least_mm", clause=i2_9.stiffened_web_least),
    Step(output="relies_on_stiffeners", clause=i2_9.relies_on_stiffeners),
    Step(output="slenderness_asked", clause=i2_9.slenderness_asked),
    Step(output="stiffened_web_asked_mm", clause=i2_9.stiffened_web_asked),
    Step(output="web_thickness_least_mm", clause=i2_9.web_thickness_least),
    Step(output="has_flange", clause=i2_9.has_flange),
    Step(output="flange_breadth_least_mm", clause=i2_9.flange_breadth_least),
    Step(output="flange_breadth_offered_mm", clause=i2_9.flange_breadth_offered),
    Step(output="outstand_asked_mm", clause=i2_9.outstand_asked),
    Step(output="outstand_most_mm", clause=i2_9.outstand_most),
)
SUPPORT_CHAIN: Final = Chain(
    "web frames and load-carrying stringers",
    [*_LOAD_INPUTS, *SUPPORT],
    (*_LOAD_STEPS, *_DEMAND_STEPS, *_STABILITY_STEPS),
)
PLATED_CHAIN: Final = Chain(
    "plated structures",
    [*(q for q in _LOAD_INPUTS if "width" not in q.name), *PLATED],
    (
        *(step for step in _LOAD_STEPS if step.output != "patch_width_m"),
        Step(output="inboard_extent_m", clause=i2_10.inboard_extent),
        Step(output="edge_line_load_mn_per_m", clause=i2_10.edge_line_load),
    ),
)


def _check(name: str, required: str, offered: str, ref: str, applies: str = "", *, most: bool = False) -> CheckSpec:
    """One check of stability."""
    return CheckSpec(
        name=name, required=required, offered=offered, ref=f"UR I2 {ref}", applies=applies, about=About.STABILITY,
        most=most,
    )  # fmt: skip


def _stress(name: str, required: str, offered: str) -> CheckSpec:
    """One check of what a calculation gave."""
    return CheckSpec(name=name, required=required, offered=offered, ref="UR I2 I2.17.5", about=About.STRESS, most=True)


WEB_FRAMES_AND_STRINGERS: Final = MemberRule(
    name="web frames and load-carrying stringers",
    chain=SUPPORT_CHAIN,
    checks=(
        _check("web slenderness", "slenderness_asked", "web_slenderness_limit", "I2.9.1", most=True),
        _check("stiffened web", "stiffened_web_asked_mm", "web_net_mm", "I2.9.2", "relies_on_stiffeners"),
        _check("web thickness beside the plate", "web_thickness_least_mm", "web_net_mm", "I2.9.3"),
        _check("flange breadth", "flange_breadth_least_mm", "flange_breadth_offered_mm", "I2.9.4", "has_flange"),
        _check("flange outstand", "outstand_asked_mm", "outstand_most_mm", "I2.9.4", "has_flange", most=True),
        _stress("shear stress of a calculation", "calculated_shear_mpa", "shear_limit_mpa"),
        _stress("von Mises stress of a calculation", "calculated_von_mises_mpa", "von_mises_limit_mpa"),
    ),
    result="patch_force_mn",
    shown={
        "area_factor": "area_factor",
        "peak_pressure_factor": "support_peak",
        "pressure_mpa": "support_pressure_mpa",
        "patch_width_m": "patch_width_m",
        "patch_height_m": "patch_height_m",
        "patch_force_mn": "patch_force_mn",
    },
)
SUPPORTS: Final = (
    SupportRule(
        kinds=(SupportKind.WEB_FRAME, SupportKind.STRINGER), rule=WEB_FRAMES_AND_STRINGERS, direct="direct_required"
    ),
)
PLATED_STRUCTURES: Final = MemberRule(
    name="plated structures",
    chain=PLATED_CHAIN,
    checks=(),
    result="edge_line_load_mn_per_m",
    shown={
        "area_factor": "area_factor",
        "patch_height_m": "patch_height_m",
        "inboard_extent_m": "inboard_extent_m",
        "edge_line_load_mn_per_m": "edge_line_load_mn_per_m",
    },
)
