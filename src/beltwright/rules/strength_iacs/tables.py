"""The printed coefficients of UR S11, loaded once, every cell with its standing."""

from __future__ import annotations

from typing import Final

from beltwright.core.ruletable import load_table

STIFFENING: Final = load_table("beltwright.rules.strength_iacs", "s11_5_2_stiffening.csv")
TABLES: Final = (STIFFENING,)
