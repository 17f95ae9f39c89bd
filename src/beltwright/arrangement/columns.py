"""Short ways to make the columns of the arrangement's tables."""

from __future__ import annotations

from collections.abc import Iterable

import numpy as np

from beltwright.core.columns import Column
from beltwright.core.units import BoolArray, FloatArray, IntArray, Unit


def words(meaning: str, values: Iterable[str]) -> Column:
    """Return a column of words."""
    return Column(unit=Unit("label"), meaning=meaning, data=np.array(list(values), dtype=np.str_))


def flags(meaning: str, values: BoolArray) -> Column:
    """Return a column of yes and no."""
    return Column(unit=Unit("flag"), meaning=meaning, data=np.asarray(values, dtype=np.bool_))


def counts(meaning: str, values: IntArray) -> Column:
    """Return a column of whole numbers."""
    return Column(unit=Unit("count"), meaning=meaning, data=np.asarray(values, dtype=np.int64))


def numbers(unit: str, meaning: str, values: FloatArray, missing: str = "") -> Column:
    """Return a column of numbers; where they are NaN the quantity does not apply, and ``missing`` says why.

    Raises ValueError for a NaN without a reason to give: nothing undefined leaks out as a number.
    """
    data = np.asarray(values, dtype=np.float64)
    lost = np.isnan(data)
    if not lost.any():
        return Column(unit=Unit(unit), meaning=meaning, data=data)
    if not missing:
        raise ValueError(f"{meaning}: undefined in row {int(np.flatnonzero(lost)[0])}")
    return Column(unit=Unit(unit), meaning=meaning, data=data, reason=np.where(lost, missing, ""))
