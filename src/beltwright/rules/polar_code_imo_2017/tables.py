"""The values that stand in the Code's text, every one with its standing."""

from __future__ import annotations

from typing import Final

from beltwright.core.ruletable import load_table

_PACKAGE: Final = "beltwright.rules.polar_code_imo_2017"

CATEGORY_BY_ICE: Final = load_table(_PACKAGE, "category_by_ice.csv")
CATEGORY_BY_CLASS: Final = load_table(_PACKAGE, "category_by_class.csv")
RECORD_LENGTH: Final = load_table(_PACKAGE, "record_length.csv")
TEMPERATURES: Final = load_table(_PACKAGE, "temperature_limits.csv")
ICING_LOADS: Final = load_table(_PACKAGE, "icing_loads.csv")
SMALL_PARTS: Final = load_table(_PACKAGE, "icing_small_parts.csv")
DAMAGE: Final = load_table(_PACKAGE, "ice_damage.csv")
DAMAGE_DEPTH: Final = load_table(_PACKAGE, "ice_damage_depth.csv")

TABLES: Final = (
    CATEGORY_BY_ICE,
    CATEGORY_BY_CLASS,
    RECORD_LENGTH,
    TEMPERATURES,
    ICING_LOADS,
    SMALL_PARTS,
    DAMAGE,
    DAMAGE_DEPTH,
)
