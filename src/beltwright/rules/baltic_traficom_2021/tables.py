"""The printed tables of the regulation, loaded once, every cell with its standing."""

from __future__ import annotations

from typing import Final

from beltwright.core.ruletable import load_table

_PACKAGE: Final = "beltwright.rules.baltic_traficom_2021"

PROPELLER_FACTORS: Final = load_table(_PACKAGE, "table_3_1_propeller_factors.csv")
RESISTANCE: Final = load_table(_PACKAGE, "table_3_2_resistance_factors.csv")
CHANNEL: Final = load_table(_PACKAGE, "c3_2_2_channel.csv")
LEAST_POWER: Final = load_table(_PACKAGE, "c3_2_2_least_power.csv")
RANGES: Final = load_table(_PACKAGE, "c3_2_ranges.csv")
RESISTANCE_EXISTING: Final = load_table(_PACKAGE, "table_3_3_resistance_factors_existing.csv")
EXISTING_BOW: Final = load_table(_PACKAGE, "c3_2_4_bow.csv")
OVERLAP: Final = load_table(_PACKAGE, "c4_1_1_overlap.csv")
ICE: Final = load_table(_PACKAGE, "table_4_1_ice.csv")
SIZE_FACTORS: Final = load_table(_PACKAGE, "table_4_2_size_factors.csv")
REGION_FACTORS: Final = load_table(_PACKAGE, "table_4_3_region_factors.csv")
LOADED_LENGTH: Final = load_table(_PACKAGE, "table_4_4_loaded_length.csv")
BELT: Final = load_table(_PACKAGE, "table_4_5_belt.csv")
FORE_FOOT: Final = load_table(_PACKAGE, "c4_3_1_fore_foot.csv")
UPPER_BELT: Final = load_table(_PACKAGE, "c4_3_1_upper_belt.csv")
ABRASION: Final = load_table(_PACKAGE, "c4_3_2_abrasion.csv")
FRAMING_EXTENT: Final = load_table(_PACKAGE, "table_4_6_framing.csv")
TRANSVERSE_BOUNDARY: Final = load_table(_PACKAGE, "table_4_7_boundary.csv")
LONGITUDINAL_BOUNDARY: Final = load_table(_PACKAGE, "c4_4_3_boundary.csv")
TRIPPING: Final = load_table(_PACKAGE, "c4_4_4_tripping.csv")
DISTANCES: Final = load_table(_PACKAGE, "c4_distances.csv")
LEAST_LINE_LOAD: Final = load_table(_PACKAGE, "c4_5_least_line_load.csv")
WEB_SHEAR: Final = load_table(_PACKAGE, "table_4_8_shear.csv")
ANNEX_POWERS: Final = load_table(_PACKAGE, "annex_ii_powers.csv")
ANNEX_PROPELLERS: Final = load_table(_PACKAGE, "annex_ii_propellers.csv")

TABLES: Final = (
    PROPELLER_FACTORS,
    RESISTANCE,
    CHANNEL,
    LEAST_POWER,
    RANGES,
    RESISTANCE_EXISTING,
    EXISTING_BOW,
    OVERLAP,
    ICE,
    SIZE_FACTORS,
    REGION_FACTORS,
    LOADED_LENGTH,
    BELT,
    FORE_FOOT,
    UPPER_BELT,
    ABRASION,
    FRAMING_EXTENT,
    TRANSVERSE_BOUNDARY,
    LONGITUDINAL_BOUNDARY,
    TRIPPING,
    DISTANCES,
    LEAST_LINE_LOAD,
    WEB_SHEAR,
    ANNEX_POWERS,
    ANNEX_PROPELLERS,
)
