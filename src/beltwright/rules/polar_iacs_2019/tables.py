"""The printed tables of UR I2, loaded once, every cell with its standing."""

from __future__ import annotations

from typing import Final

from beltwright.core.ruletable import ChosenTable, load_table
from beltwright.rules.steel_iacs.bands import ThicknessBands

_PACKAGE: Final = "beltwright.rules.polar_iacs_2019"

CLASS_FACTORS: Final = load_table(_PACKAGE, "table_1_class_factors.csv")
VERTICAL_BOW_FACTORS: Final = load_table(_PACKAGE, "table_2_vertical_bow_factors.csv")
PEAK_PRESSURE: Final = load_table(_PACKAGE, "table_3_peak_pressure_factors.csv")
AREA_FACTORS_GENERAL: Final = load_table(_PACKAGE, "table_4_area_factors.csv")
AREA_FACTORS_ICEBREAKER: Final = load_table(_PACKAGE, "table_5_area_factors_icebreaker.csv")
AREA_FACTORS: Final = ChosenTable("notation", {"general": AREA_FACTORS_GENERAL, "icebreaker": AREA_FACTORS_ICEBREAKER})
ADDITIONS: Final = load_table(_PACKAGE, "table_6_additions.csv")
INTERNAL_ADDITION: Final = load_table(_PACKAGE, "i2_11_internal.csv")
DISPLACEMENT_FLOORS: Final = load_table(_PACKAGE, "i2_1_floors.csv")
HEIGHTS: Final = load_table(_PACKAGE, "figure_1_heights.csv")
FRACTIONS: Final = load_table(_PACKAGE, "figure_1_fractions.csv")
ANGLES: Final = load_table(_PACKAGE, "figure_1_angles.csv")
MATERIAL_CLASSES: Final = load_table(_PACKAGE, "table_7_classes.csv")
GRADES: Final = load_table(_PACKAGE, "table_8_grades.csv")
MATERIAL_LIMITS: Final = load_table(_PACKAGE, "i2_12_limits.csv")
GRADE_BANDS: Final = ThicknessBands(GRADES)
BOW_EXPONENTS: Final = load_table(_PACKAGE, "i2_13_2_bow_exponents.csv")
SHEAR_DISTRIBUTION: Final = load_table(_PACKAGE, "i2_13_3_shear_distribution.csv")
MOMENT_DISTRIBUTION: Final = load_table(_PACKAGE, "i2_13_4_moment_distribution.csv")
GIRDER_CRITERIA: Final = load_table(_PACKAGE, "table_9_girder_criteria.csv")

TABLES: Final = (
    DISPLACEMENT_FLOORS,
    FRACTIONS,
    HEIGHTS,
    ANGLES,
    CLASS_FACTORS,
    VERTICAL_BOW_FACTORS,
    PEAK_PRESSURE,
    AREA_FACTORS_GENERAL,
    AREA_FACTORS_ICEBREAKER,
    INTERNAL_ADDITION,
    ADDITIONS,
    MATERIAL_LIMITS,
    MATERIAL_CLASSES,
    GRADES,
    BOW_EXPONENTS,
    SHEAR_DISTRIBUTION,
    MOMENT_DISTRIBUTION,
    GIRDER_CRITERIA,
)
