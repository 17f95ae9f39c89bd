"""The chain of steel grades: from place, structure and as-built thickness to the grade demanded, and its check."""

from __future__ import annotations

from typing import Final

from beltwright.core.chain import Chain, Step
from beltwright.rules.facts import GRADE, SHIP
from beltwright.rules.polar_iacs_2019 import i2_1_definitions as i2_1
from beltwright.rules.polar_iacs_2019 import i2_12_materials as i2_12
from beltwright.rules.protocol import CheckSpec, InputLimit, MemberRule
from beltwright.rules.steel_iacs import s6_1_normal_service as s6

_SHIP: Final = ("ice_class", "stem_to_rudder_m", "waterline_extreme_length_m")

_S6_STEPS: Final = (
    Step(output="rule_length_m", clause=i2_1.rule_length),
    Step(output="single_strake_breadth_m", clause=s6.single_strake_breadth),
    Step(output="category", clause=s6.structural_category),
    Step(output="fore_place", clause=s6.place_along, inputs={"aft_of_stem_m": "fore_end_m"}, symbol="place_fore"),
    Step(output="aft_place", clause=s6.place_along, inputs={"aft_of_stem_m": "aft_end_m"}, symbol="place_aft"),
    Step(output="class_fore", clause=s6.category_class, inputs={"place": "fore_place"}, symbol="class_fore"),
    Step(output="class_aft", clause=s6.category_class, inputs={"place": "aft_place"}, symbol="class_aft"),
    Step(output="class_along", clause=s6.higher_class,
         inputs={"one_class": "class_fore", "other_class": "class_aft"}, symbol="class_along"),
    Step(output="appendage_row", clause=s6.appendage_row),
    Step(output="class_of_appendage", clause=s6.appendage_class, inputs={"part": "appendage_row"}, symbol="class_app"),
    Step(output="class_s6", clause=s6.higher_class,
         inputs={"one_class": "class_along", "other_class": "class_of_appendage"}, symbol="class_S6"),
)  # fmt: skip
_CLASS_STEPS: Final = (
    Step(output="class_of_bow_shell", clause=i2_12.class_of_bow_shell, symbol="class_bow"),
    Step(output="outside", clause=i2_12.outside_amidships),
    Step(output="class_outside_amidships", clause=i2_12.class_outside_amidships, symbol="class_out"),
    Step(output="class_of_framing", clause=i2_12.class_of_framing, symbol="class_frm"),
    Step(output="in_fore_part", clause=i2_12.in_fore_part),
    Step(output="class_of_special_forward", clause=i2_12.class_of_special_forward, symbol="class_fwd"),
    Step(output="class_of_part", clause=i2_12.table_7_class, inputs={"structure": "exposed_part"},
         symbol="class_part"),
    Step(output="class_exposed", clause=i2_12.exposed_class),
    Step(output="material_class", clause=i2_12.governing_class),
)  # fmt: skip
_GRADE_STEPS: Final = (
    Step(output="weather_exposed", clause=i2_12.weather_exposed),
    Step(output="submerged", clause=i2_12.submerged),
    Step(output="row_of_table_8", clause=i2_12.grade_thickness_row),
    Step(output="table_8_grade", clause=i2_12.table_8_grade, inputs={"thickness": "row_of_table_8"}),
    Step(output="in_single_strake", clause=i2_12.in_single_strake),
    Step(output="exposed_grade", clause=i2_12.exposed_grade),
    Step(output="row_of_s6", clause=s6.normal_thickness_row),
    Step(output="normal_service_grade", clause=s6.normal_service_grade, inputs={"thickness": "row_of_s6"},
         symbol="grade_S6"),
    Step(output="submerged_grade", clause=i2_12.submerged_grade),
    Step(output="ship_grade", clause=s6.normal_service_grade,
         inputs={"material_class": "class_s6", "thickness": "row_of_s6"}, symbol="grade_ship"),
    Step(output="ice_grade", clause=s6.ice_strake_grade, symbol="grade_ice"),
    Step(output="long_ship_grade", clause=s6.long_ship_grade, symbol="grade_long"),
    Step(output="grade_demanded", clause=i2_12.demanded_grade),
    Step(output="rank_demanded", clause=s6.grade_rank, inputs={"grade_letter": "grade_demanded"},
         symbol="rank_dem"),
    Step(output="rank_offered", clause=s6.grade_rank, inputs={"grade_letter": "grade_offered"},
         symbol="rank_off"),
)  # fmt: skip
GRADING_CHAIN: Final = Chain(
    "steel grades",
    [*(q for q in SHIP if q.name in _SHIP), *GRADE],
    (*_S6_STEPS, *_CLASS_STEPS, *_GRADE_STEPS),
)
GRADING: Final = MemberRule(
    name="steel grades",
    chain=GRADING_CHAIN,
    checks=(CheckSpec(name="steel grade", required="rank_demanded", offered="rank_offered", ref="UR I2 I2.12.1"),),
    result="rank_demanded",
    limits=(
        InputLimit(column="thickness_as_built_mm", unit="mm", least=0.01, most=1000.0),
        InputLimit(column="fore_end_m", unit="m", least=-1000.0, most=1000.0),
        InputLimit(column="aft_end_m", unit="m", least=-1000.0, most=1000.0),
        InputLimit(column="highest_above_lower_m", unit="m", least=-100.0, most=100.0),
        InputLimit(column="lowest_above_lower_m", unit="m", least=-100.0, most=100.0),
    ),
    shown={"grade_demanded": "grade_demanded", "material_class": "material_class"},
)
