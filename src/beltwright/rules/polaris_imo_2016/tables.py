"""The printed tables of the circular, every cell with its standing, and the classes and ice types in their order."""

from __future__ import annotations

from typing import Final

from beltwright.core.ruletable import ChosenTable, load_table

_PACKAGE: Final = "beltwright.rules.polaris_imo_2016"

BAND_LIMITS: Final = load_table(_PACKAGE, "table_1_1_limits.csv")
OPERATIONS: Final = load_table(_PACKAGE, "table_1_1_operation.csv")
SPEEDS: Final = load_table(_PACKAGE, "table_1_2_speeds.csv")
STANDARD_VALUES: Final = load_table(_PACKAGE, "table_1_3_risk_values.csv")
DECAYED_VALUES: Final = load_table(_PACKAGE, "table_1_4_risk_values_decayed.csv")
RISK_VALUES: Final = ChosenTable("ice_state", {"standard": STANDARD_VALUES, "decayed": DECAYED_VALUES})
ESCORT: Final = load_table(_PACKAGE, "escort_planning.csv")

TABLES: Final = (BAND_LIMITS, OPERATIONS, SPEEDS, STANDARD_VALUES, DECAYED_VALUES, ESCORT)

CLASSES: Final = tuple(dict.fromkeys(ice_class for ice_class, _ in STANDARD_VALUES.cells))
ICE_TYPES: Final = tuple(dict.fromkeys(ice_type for _, ice_type in STANDARD_VALUES.cells))
BANDS: Final = ("high", "middle", "low")
NORMAL: Final = "normal operation"
ELEVATED: Final = "elevated operational risk"
SPECIAL: Final = "special consideration"
