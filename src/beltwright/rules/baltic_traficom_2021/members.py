"""The chains of shell panels, local frames, ice stringers, web frames and stem plating, and the checks on them."""

from __future__ import annotations

from typing import Any, Final

from beltwright.core.chain import Chain, Quantity, Step
from beltwright.core.clause import Clause
from beltwright.rules import facts as vocabulary
from beltwright.rules.baltic_traficom_2021 import c4_2_load as c4_2
from beltwright.rules.baltic_traficom_2021 import c4_3_plating as c4_3
from beltwright.rules.baltic_traficom_2021 import c4_4_2_transverse_frames as c4_4_2
from beltwright.rules.baltic_traficom_2021 import c4_4_3_longitudinal_frames as c4_4_3
from beltwright.rules.baltic_traficom_2021 import c4_4_4_framing_general as c4_4_4
from beltwright.rules.baltic_traficom_2021 import c4_5_stringers as c4_5
from beltwright.rules.baltic_traficom_2021 import c4_6_web_frames as c4_6
from beltwright.rules.baltic_traficom_2021 import c4_7_stem as c4_7
from beltwright.rules.baltic_traficom_2021 import loads
from beltwright.rules.protocol import CheckSpec, Guard, InputLimit, MemberRule, SupportKind, SupportRule

_LOAD_STEPS_OF_SHIP: Final = {step.output: step for step in loads.CHAIN.steps}
_MEMBERS: Final = {
    q.name: q
    for part in (
        vocabulary.FRAME, vocabulary.PANEL, vocabulary.SHELL, vocabulary.BUILT, vocabulary.BUILT_FRAME,
        vocabulary.BUILT_SUPPORT, vocabulary.STEM,
    )
    for q in part
}  # fmt: skip


def _inputs(*names: str) -> list[Quantity]:
    """Inputs of a chain: what the load gives, or a column of the member."""
    found = []
    for name in names:
        if name in _LOAD_STEPS_OF_SHIP:
            step = _LOAD_STEPS_OF_SHIP[name]
            symbol, unit, meaning = step.symbol or step.clause.symbol, step.clause.unit, step.clause.title
            found.append(Quantity(name=name, symbol=symbol, unit=unit, meaning=meaning))
        else:
            found.append(loads.CHAIN.inputs[name] if name in loads.CHAIN.inputs else _MEMBERS[name])
    return found


_LOAD: Final = ("ice_class", "bow_size_factor", "other_size_factor")
_SHELL_LOAD: Final = (*_LOAD, "ends_held")
_FACTOR_STEPS: Final = (
    Step(output="size_factor", clause=c4_2.member_size_factor),
    Step(output="region_factor", clause=c4_2.region_factor),
    Step(output="load_height_m", clause=c4_2.load_height),
)
_FRAME_REGION: Final = (
    Step(output="plating_region", clause=c4_2.plating_region),
    Step(output="region", clause=c4_2.framing_region),
)


def _pressure(suffix: str, length: Clause[Any, Any]) -> tuple[Step, ...]:
    """Loaded length, its factor and the pressure of one kind of member."""
    own = f"_{suffix}" if suffix else ""
    symbol = {"": "", "across": "T", "along": "L", "shell_across": "shell,T", "shell_along": "shell,L"}[suffix]
    mark = f",{symbol}" if symbol else ""
    return (
        Step(output=f"loaded_length{own}_m", clause=length, symbol=f"l_a{mark}"),
        Step(
            output=f"length_factor{own}",
            clause=c4_2.length_factor,
            inputs={"loaded_length_m": f"loaded_length{own}_m"},
            symbol=f"c_a{mark}",
        ),
        Step(
            output=f"pressure{own}_mpa",
            clause=c4_2.pressure,
            inputs={"length_factor": f"length_factor{own}"},
            symbol=f"p_{symbol}" if symbol else "p",
        ),
    )


_SHELL_STEPS: Final = (
    *_pressure("shell_across", c4_2.loaded_length_shell_transverse),
    *_pressure("shell_along", c4_2.loaded_length_shell_longitudinal),
    Step(output="height_over_spacing", clause=c4_3.height_over_spacing),
    Step(output="plate_factor_transverse", clause=c4_3.plate_factor_transverse),
    Step(output="plate_factor_longitudinal", clause=c4_3.plate_factor_longitudinal),
    Step(output="plating_asked", clause=c4_3.plating_asked),
    Step(output="transverse_counts", clause=c4_3.transverse_counts),
    Step(output="longitudinal_counts", clause=c4_3.longitudinal_counts),
    Step(output="plate_pressure_mpa", clause=c4_3.plate_pressure, inputs={"pressure_mpa": "pressure_shell_across_mpa"}),
    Step(output="net_thickness_transverse_mm", clause=c4_3.net_thickness_transverse, symbol="(t - t_c)_T"),
    Step(
        output="net_thickness_longitudinal_mm",
        clause=c4_3.net_thickness_longitudinal,
        inputs={"pressure_mpa": "pressure_shell_along_mpa"},
        symbol="(t - t_c)_L",
    ),
)
_BLUNT: Final = Step(output="blunt_bow", clause=c4_3.blunt_bow)
_ANGLES: Final = ("waterline_angle_deg", "flare_angle_deg")

PLATING_CHAIN: Final = Chain(
    "shell plating",
    _inputs(*_SHELL_LOAD, "abrasion_addition_mm", "approved_abrasion_mm", "load_area", "spacing_m", "omega_deg",
            "yield_mpa", *_ANGLES),
    (
        Step(output="region", clause=c4_2.plating_region),
        *_FACTOR_STEPS,
        _BLUNT,
        *_SHELL_STEPS,
        Step(output="thickness_net_mm", clause=c4_3.net_thickness),
        Step(output="transverse_decides", clause=c4_3.transverse_decides),
        Step(output="deciding_pressure_mpa", clause=c4_3.deciding_pressure,
             inputs={"pressure_mpa": "pressure_shell_along_mpa"}),
        Step(output="deciding_length_m", clause=c4_3.deciding_length,
             inputs={"length_across_m": "loaded_length_shell_across_m",
                     "length_along_m": "loaded_length_shell_along_m"}),
        Step(output="in_scope", clause=c4_3.plating_in_scope),
        Step(output="addition_mm", clause=c4_3.abrasion_taken),
        Step(output="thickness_required_mm", clause=c4_3.thickness_required, inputs={"abrasion_mm": "addition_mm"}),
    ),
)  # fmt: skip

FRAMING_CHAIN: Final = Chain(
    "local frames",
    _inputs(*_SHELL_LOAD, "boundary_longitudinal", "tripping_distance_most_m", "load_area", "spacing_m", "span_m",
            "omega_deg", "yield_mpa", *_ANGLES, "boundary", "agreed_boundary", "strengthened_share", "end_brackets",
            "web_angle_deg", "web_height_mm", "web_thickness_mm", "section_kind", "section_modulus_cm3",
            "shear_area_cm2", "tripping_support_m"),
    (
        *_FRAME_REGION,
        *_FACTOR_STEPS,
        _BLUNT,
        *_SHELL_STEPS,
        Step(output="shell_net_mm", clause=c4_3.net_thickness),
        Step(output="plating_in_scope", clause=c4_3.plating_in_scope),
        Step(output="framing_asked", clause=c4_4_2.framing_asked),
        Step(output="transverse_holds", clause=c4_4_2.transverse_holds),
        *_pressure("across", c4_2.loaded_length_transverse_frame),
        Step(output="boundary_transverse", clause=c4_4_2.boundary_transverse),
        Step(output="moment_factor_transverse", clause=c4_4_2.moment_factor_transverse),
        Step(output="modulus_transverse_cm3", clause=c4_4_2.modulus_transverse,
             inputs={"pressure_mpa": "pressure_across_mpa"}, symbol="Z_T"),
        Step(output="shear_area_transverse_cm2", clause=c4_4_2.shear_area_transverse,
             inputs={"pressure_mpa": "pressure_across_mpa"}, symbol="A_T"),
        Step(output="longitudinal_holds", clause=c4_4_3.longitudinal_holds),
        *_pressure("along", c4_2.loaded_length_longitudinal_frame),
        Step(output="boundary_taken", clause=c4_4_3.boundary_taken),
        Step(output="neighbour_factor", clause=c4_4_3.neighbour_factor),
        Step(output="modulus_longitudinal_cm3", clause=c4_4_3.modulus_longitudinal,
             inputs={"pressure_mpa": "pressure_along_mpa"}, symbol="Z_L"),
        Step(output="shear_area_longitudinal_cm2", clause=c4_4_3.shear_area_longitudinal,
             inputs={"pressure_mpa": "pressure_along_mpa"}, symbol="A_L"),
        Step(output="in_scope", clause=c4_4_4.framing_in_scope),
        Step(output="frame_strengthened", clause=c4_4_4.frame_strengthened),
        Step(output="section_modulus_required_cm3", clause=c4_4_4.modulus_required),
        Step(output="shear_area_required_cm2", clause=c4_4_4.shear_area_required),
        Step(output="web_constant", clause=c4_4_4.web_constant),
        Step(output="web_thickness_least_mm", clause=c4_4_4.web_thickness_least),
        Step(output="brackets_asked", clause=c4_4_3.brackets_asked),
        Step(output="brackets_fitted", clause=c4_4_3.brackets_fitted),
        Step(output="tripping_of_short_frames", clause=c4_4_4.tripping_of_short_frames),
        Step(output="tripping_asked", clause=c4_4_4.tripping_asked),
        Step(output="tripping_distance_m", clause=c4_4_4.tripping_distance),
        Step(output="section_modulus_offered_cm3", clause=c4_4_4.modulus_offered),
        Step(output="shear_area_offered_cm2", clause=c4_4_4.shear_area_offered),
    ),
)  # fmt: skip

_REACH_STEPS: Final = (
    Step(output="reach", clause=c4_2.reach_outside_belt),
    Step(output="reach_in_scope", clause=c4_2.reach_in_scope),
)
_REACH: Final = ("in_belt", "belt_distance_m", "stringer_distance_m")

STRINGERS_CHAIN: Final = Chain(
    "ice stringers",
    _inputs(*_LOAD, "boundary_longitudinal", "load_area", "member", "span_m", "yield_mpa", *_REACH, "agreed_boundary",
            "section_modulus_cm3", "shear_area_cm2"),
    (
        *_FRAME_REGION,
        *_FACTOR_STEPS,
        *_pressure("", c4_2.loaded_length_stringer),
        Step(output="least_line_load_mn_per_m", clause=c4_2.least_line_load),
        Step(output="line_load_mn_per_m", clause=c4_2.line_load),
        Step(output="boundary_taken", clause=c4_4_3.boundary_taken),
        *_REACH_STEPS,
        Step(output="stringer_modulus_inside_cm3", clause=c4_5.stringer_modulus_inside, symbol="Z_in"),
        Step(output="stringer_shear_inside_cm2", clause=c4_5.stringer_shear_inside, symbol="A_in"),
        Step(output="stringer_modulus_outside_cm3", clause=c4_5.stringer_modulus_outside, symbol="Z_out"),
        Step(output="stringer_shear_outside_cm2", clause=c4_5.stringer_shear_outside, symbol="A_out"),
        Step(output="section_modulus_required_cm3", clause=c4_5.stringer_modulus,
             inputs={"in_scope": "reach_in_scope"}),
        Step(output="shear_area_required_cm2", clause=c4_5.stringer_shear, inputs={"in_scope": "reach_in_scope"}),
        Step(output="section_modulus_offered_cm3", clause=c4_4_4.modulus_offered),
        Step(output="shear_area_offered_cm2", clause=c4_4_4.shear_area_offered),
    ),
)  # fmt: skip


def _between(output: str, column: str, symbol: str) -> tuple[Step, ...]:
    """A factor of Table 4-8: its two columns and the value between."""
    clause = {"alpha": c4_6.column_alpha, "gamma": c4_6.column_gamma}[column]
    return (
        Step(output=f"{column}_below", clause=clause, inputs={"area_ratio": "column_below"}, symbol=f"{symbol}_1"),
        Step(output=f"{column}_above", clause=clause, inputs={"area_ratio": "column_above"}, symbol=f"{symbol}_2"),
        Step(
            output=output,
            clause=c4_6.between_columns,
            inputs={"value_below": f"{column}_below", "value_above": f"{column}_above"},
            symbol=symbol,
        ),
    )


WEB_FRAMES_CHAIN: Final = Chain(
    "web frames",
    _inputs(*_LOAD, "web_least_line_load_mn_per_m", "load_area", "web_frame_spacing_m", "span_m", "yield_mpa", *_REACH,
            "shear_share", "free_flange_area_cm2", "web_area_cm2", "section_modulus_cm3"),
    (
        *_FRAME_REGION,
        *_FACTOR_STEPS,
        *_pressure("", c4_2.loaded_length_web_frame),
        Step(output="line_load_mn_per_m", clause=c4_2.line_load,
             inputs={"least_line_load_mn_per_m": "web_least_line_load_mn_per_m"}),
        *_REACH_STEPS,
        Step(output="web_load_mn", clause=c4_6.web_load),
        Step(output="shear_force_mn", clause=c4_6.web_shear_force),
        Step(output="flange_over_web", clause=c4_6.flange_over_web),
        Step(output="column_below", clause=c4_6.column_below),
        Step(output="column_above", clause=c4_6.column_above),
        Step(output="ratio_below", clause=c4_6.column_ratio, inputs={"area_ratio": "column_below"}, symbol="r_1"),
        Step(output="ratio_above", clause=c4_6.column_ratio, inputs={"area_ratio": "column_above"}, symbol="r_2"),
        Step(output="part", clause=c4_6.column_part),
        *_between("shear_factor", "alpha", "alpha"),
        *_between("interaction_factor", "gamma", "gamma"),
        Step(output="web_in_table", clause=c4_6.web_in_table),
        Step(output="in_scope", clause=c4_6.web_in_scope),
        Step(output="shear_area_required_cm2", clause=c4_6.web_shear_area),
        Step(output="moment_mnm", clause=c4_6.web_moment),
        Step(output="section_area_cm2", clause=c4_6.web_section_area),
        Step(output="area_for_shear_cm2", clause=c4_6.area_for_shear),
        Step(output="section_modulus_required_cm3", clause=c4_6.web_modulus),
        Step(output="section_modulus_offered_cm3", clause=c4_4_4.modulus_offered),
        Step(output="shear_area_offered_cm2", clause=c4_4_4.shear_area_offered,
             inputs={"shear_area_cm2": "web_area_cm2"}),
    ),
)  # fmt: skip

STEM_CHAIN: Final = Chain(
    "stem plating",
    _inputs(*_LOAD, "abrasion_addition_mm", "approved_abrasion_mm", "floor_spacing_most_m", "load_area", "spacing_m",
            "vertical_support_spacing_m", "yield_mpa", "plate_fitted_mm", "floor_spacing_m", "floor_thickness_mm",
            "stem_top_above_upper_m", "upper_belt_above_upper_m"),
    (
        *_FRAME_REGION,
        *_FACTOR_STEPS,
        *_pressure("", c4_7.stem_loaded_length),
        Step(output="height_over_spacing", clause=c4_3.height_over_spacing),
        Step(output="plate_factor_transverse", clause=c4_3.plate_factor_transverse),
        Step(output="addition_mm", clause=c4_3.abrasion_taken),
        Step(output="thickness_required_mm", clause=c4_7.stem_thickness, inputs={"abrasion_mm": "addition_mm"}),
        Step(output="floor_thickness_least_mm", clause=c4_7.stem_floor_thickness_least),
        Step(output="stem_top_least_m", clause=c4_7.stem_top_least),
    ),
)  # fmt: skip


def _check(name: str, required: str, offered: str, ref: str, applies: str = "", *, most: bool = False) -> CheckSpec:
    """One check."""
    return CheckSpec(name=name, required=required, offered=offered, ref=f"FSICR {ref}", applies=applies, most=most)


_RANGES: Final = {
    "m": (0.001, 1000.0),
    "mm": (0.01, 1e5),
    "cm2": (1e-6, 1e6),
    "cm3": (1e-6, 1e9),
    "MPa": (1.0, 1e5),
    "deg": (0.0, 90.0),
    "-": (0.0, 1.0),
    "MN/m": (1e-6, 100.0),
}
_OWN_RANGES: Final = {
    "boundary_longitudinal": (1.0, 100.0),
    "agreed_boundary": (0.0, 100.0),
    "approved_abrasion_mm": (0.0, 10.0),
    "free_flange_area_cm2": (0.0, 1e6),
    "belt_distance_m": (0.0, 1000.0),
    "shear_share": (0.01, 1.0),
    "web_angle_deg": (1.0, 90.0),
    "stem_top_above_upper_m": (0.0, 1000.0),
    "upper_belt_above_upper_m": (0.0, 1000.0),
}


def _limits(chain: Chain) -> tuple[InputLimit, ...]:
    """The range of each numeric input of a chain, by its name or its unit."""
    limits = []
    for name, quantity in chain.inputs.items():
        unit = quantity.unit.symbol
        if unit not in ("label", "flag"):
            least, most = _OWN_RANGES.get(name, _RANGES[unit])
            limits.append(InputLimit(column=name, unit=unit, least=least, most=most))
    return tuple(limits)


_NOT_DEFINED: Final = "h/s is above 1.8 with longitudinal framing, where f_2 is not defined"
_OUTSIDE: Final = "the next ice stringer is not farther than the ice belt: no part of the load is left"

PLATING: Final = MemberRule(
    name="shell plating",
    chain=PLATING_CHAIN,
    checks=(_check("thickness", "thickness_required_mm", "thickness_as_built_mm", "4.3.2"),),
    result="thickness_required_mm",
    limits=_limits(PLATING_CHAIN),
    guards=(Guard(column="in_scope", what="shell plating", reason=_NOT_DEFINED, ref="FSICR 4.3.2"),),
    shown={
        "patch_width_m": "deciding_length_m",
        "patch_height_m": "load_height_m",
        "pressure_avg_mpa": "deciding_pressure_mpa",
        "size_factor": "size_factor",
        "area_factor": "region_factor",
        "thickness_net_required_mm": "thickness_net_mm",
        "addition_mm": "addition_mm",
    },
)
FRAMING: Final = MemberRule(
    name="local frames",
    chain=FRAMING_CHAIN,
    checks=(
        _check("shear area", "shear_area_required_cm2", "shear_area_offered_cm2", "4.4.2, 4.4.3"),
        _check("section modulus", "section_modulus_required_cm3", "section_modulus_offered_cm3", "4.4.2, 4.4.3"),
        _check("web thickness", "web_thickness_least_mm", "web_thickness_mm", "4.4.4"),
        CheckSpec(name="brackets", required="brackets_asked", offered="brackets_fitted", ref="FSICR 4.4.4",
                  applies="longitudinal_holds", yes_or_no=True),
        _check("support against tripping", "tripping_distance_m", "tripping_distance_most_m", "4.4.4",
               "tripping_asked", most=True),
    ),
    result="section_modulus_required_cm3",
    limits=_limits(FRAMING_CHAIN),
    guards=(
        Guard(
            column="in_scope",
            what="local frames",
            reason=f"the load is higher than the span of a transverse frame, or five spacings of longitudinals high, "
            f"or {_NOT_DEFINED}",
            ref="FSICR 4.4.2, 4.4.3",
        ),
    ),
    shown={
        "size_factor": "size_factor",
        "area_factor": "region_factor",
        "shear_area_required_cm2": "shear_area_required_cm2",
        "shear_area_offered_cm2": "shear_area_offered_cm2",
        "modulus_required_cm3": "section_modulus_required_cm3",
        "modulus_offered_cm3": "section_modulus_offered_cm3",
    },
)  # fmt: skip
STRINGERS: Final = MemberRule(
    name="ice stringers",
    chain=STRINGERS_CHAIN,
    checks=(
        _check("shear area", "shear_area_required_cm2", "shear_area_offered_cm2", "4.5"),
        _check("section modulus", "section_modulus_required_cm3", "section_modulus_offered_cm3", "4.5"),
    ),
    result="section_modulus_required_cm3",
    limits=_limits(STRINGERS_CHAIN),
    guards=(Guard(column="reach_in_scope", what="ice stringers", reason=_OUTSIDE, ref="FSICR 4.5.2"),),
    shown={"pressure_mpa": "pressure_mpa", "line_load_mn_per_m": "line_load_mn_per_m", **FRAMING.shown},
)
WEB_FRAMES: Final = MemberRule(
    name="web frames",
    chain=WEB_FRAMES_CHAIN,
    checks=(
        _check("shear area", "shear_area_required_cm2", "shear_area_offered_cm2", "4.6.2"),
        _check("shear with bending", "area_for_shear_cm2", "section_area_cm2", "4.6.2"),
        _check("section modulus", "section_modulus_required_cm3", "section_modulus_offered_cm3", "4.6.2"),
    ),
    result="section_modulus_required_cm3",
    limits=_limits(WEB_FRAMES_CHAIN),
    guards=(
        Guard(
            column="in_scope",
            what="web frames",
            reason=f"the flange is more than twice the web, beyond Table 4-8, or {_OUTSIDE}",
            ref="FSICR 4.6.2",
        ),
    ),
    shown={
        "pressure_mpa": "pressure_mpa",
        "line_load_mn_per_m": "line_load_mn_per_m",
        "load_mn": "web_load_mn",
        "moment_mnm": "moment_mnm",
        **FRAMING.shown,
    },
)
SUPPORTS: Final = (
    SupportRule(kinds=(SupportKind.WEB_FRAME,), rule=WEB_FRAMES, through_stringers=True),
    SupportRule(kinds=(SupportKind.STRINGER,), rule=STRINGERS, by_frames=True),
)
STEM: Final = MemberRule(
    name="stem plating",
    chain=STEM_CHAIN,
    checks=(
        _check("thickness", "thickness_required_mm", "plate_fitted_mm", "4.7"),
        _check("spacing of floors", "floor_spacing_m", "floor_spacing_most_m", "4.7", most=True),
        _check("thickness of floors", "floor_thickness_least_mm", "floor_thickness_mm", "4.7"),
        _check("height of the reinforcement", "stem_top_least_m", "stem_top_above_upper_m", "4.7"),
    ),
    result="thickness_required_mm",
    limits=_limits(STEM_CHAIN),
    shown={"size_factor": "size_factor", "area_factor": "region_factor", "addition_mm": "addition_mm"},
)
