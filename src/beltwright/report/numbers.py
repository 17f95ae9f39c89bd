"""How numbers are written: enough digits to recompute them by hand, never NaN, a dash where none applies."""

from __future__ import annotations

import math
from collections.abc import Mapping

from beltwright.core.columns import Column

SIGNIFICANT = 5
NOISE = 1e-12  # what rounding leaves of a zero, e.g. the cosine of 90 degrees
DASH = "–"
UNIT_WORDS: Mapping[str, str] = {
    "deg": "°", "m2": "m²", "m3": "m³", "m4": "m⁴", "cm2": "cm²", "cm3": "cm³", "cm4": "cm⁴", "kg/m2": "kg/m²",
    "cm6": "cm⁶", "C": "°C", "kg/m3": "kg/m³", "t/m3": "t/m³", "-": "", "flag": "", "label": "", "count": "",
}  # fmt: skip
DECIMALS: Mapping[str, int] = {
    "m": 3, "mm": 1, "m2": 1, "m3": 1, "cm2": 1, "cm3": 1, "cm4": 1, "MN": 3, "MN/m": 3, "MPa": 3, "kt": 3, "t": 2,
    "cm6": 1, "kg/m": 1, "deg": 2, "-": 3,
}  # fmt: skip


def number(value: float | str | bool, significant: int = SIGNIFICANT) -> str:
    """Return a value with a number of significant digits, without exponent; raises ValueError for NaN and infinities.

    >>> number(0.0123456), number(24.5), number(1234567.0), number(True)
    ('0.012346', '24.5', '1234567', 'yes')
    """
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, str):
        return value or DASH
    if not math.isfinite(value):
        raise ValueError(f"{value} cannot be printed")
    if abs(value) < NOISE:
        return "0"
    places = max(significant - 1 - math.floor(math.log10(abs(value))), 0)
    text = f"{value:.{places}f}"
    return text.rstrip("0").rstrip(".") if "." in text else text


def told(value: float | str | bool) -> str:
    """Return a value as :func:`number` does; a branch that has no finite value says so in words.

    >>> told(float("inf")), told(float("nan")), told(2.5)
    ('without limit', 'no value', '2.5')
    """
    if isinstance(value, float) and not math.isfinite(value):
        return "no value" if math.isnan(value) else ("without limit" if value > 0 else "without lower limit")
    return number(value)


def fixed(value: float, decimals: int) -> str:
    """Return a value with fixed decimals and a true minus sign; raises ValueError for NaN and infinities."""
    if not math.isfinite(value):
        raise ValueError(f"{value} cannot be printed")
    text = f"{value:.{decimals}f}"
    return text.replace("-", "−") if float(text) else text.lstrip("-")


def unit_words(symbol: str) -> str:
    """Return a unit as it is written after a number or in a table's header; nothing for pure numbers and words."""
    return UNIT_WORDS.get(symbol, symbol)


def cell(column: Column, row: int, decimals: int | None = None) -> str:
    """Return one cell of a table in words; a dash where the quantity does not apply."""
    if column.reason is not None and column.reason[row] != "":
        return DASH
    value = column.data[row].item() if hasattr(column.data[row], "item") else column.data[row]
    if isinstance(value, float):
        return fixed(value, DECIMALS.get(column.unit.symbol, 2) if decimals is None else decimals)
    return number(value)
