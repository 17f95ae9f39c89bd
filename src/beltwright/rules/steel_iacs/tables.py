"""The printed tables of UR S6, loaded once, every cell with its standing."""

from __future__ import annotations

from typing import Final

from beltwright.core.ruletable import load_table
from beltwright.rules.steel_iacs.bands import TemperatureBands, ThicknessBands

_PACKAGE: Final = "beltwright.rules.steel_iacs"

CATEGORY_CLASSES: Final = load_table(_PACKAGE, "table_1_classes.csv")
APPENDAGE_CLASSES: Final = load_table(_PACKAGE, "s6_1_appendages.csv")
LONG_SHIPS: Final = load_table(_PACKAGE, "table_4_long_ships.csv")
ICE_STRAKES: Final = load_table(_PACKAGE, "table_6_ice_strengthening.csv")
NORMAL_SERVICE: Final = load_table(_PACKAGE, "table_7_normal_service.csv")
COLD_CLASSES: Final = load_table(_PACKAGE, "table_8_low_temperature_classes.csv")
COLD_SERVICE: Final = load_table(_PACKAGE, "table_9_low_temperature.csv")
LIMITS: Final = load_table(_PACKAGE, "s6_limits.csv")

NORMAL_BANDS: Final = ThicknessBands(NORMAL_SERVICE)
COLD_BANDS: Final = {word: ThicknessBands(COLD_SERVICE, material_class=word) for word in ("I", "II", "III")}
TEMPERATURES: Final = TemperatureBands(COLD_SERVICE)

NORMAL_TABLES: Final = (LIMITS, CATEGORY_CLASSES, APPENDAGE_CLASSES, LONG_SHIPS, ICE_STRAKES, NORMAL_SERVICE)
TABLES: Final = (*NORMAL_TABLES, COLD_CLASSES, COLD_SERVICE)
