"""Columns of the choice of a class: numbers with their reasons, and how often a class may go by the risk index."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Final

import numpy as np

from beltwright.core.columns import Column
from beltwright.core.units import Unit
from beltwright.rules.polaris_imo_2016.tables import CLASSES, ELEVATED, NORMAL, SPECIAL
from beltwright.voyage.study import RegimeStudy, RouteStudy

RouteColumns = Mapping[str, Column]
NOT_KNOWN: Final = "POLARIS has no such class"
_SHARES: Final = {
    "share_normal": "share of the route's point-days in normal operation",
    "share_elevated": "share of the route's point-days at elevated operational risk",
    "share_special": "share of the route's point-days in operation subject to special consideration",
}
_COUNTS: Final = {"regimes_normal": NORMAL, "regimes_elevated": ELEVATED, "regimes_special": SPECIAL}


def words(meaning: str, values: Sequence[str]) -> Column:
    """Return a column of words."""
    return Column(unit=Unit("label"), meaning=meaning, data=np.array(list(values), dtype=np.str_))


def numbers(
    unit: str, meaning: str, values: Sequence[float | None], reasons: Sequence[str] | str = "no result for this class"
) -> Column:
    """Return a column of numbers, None where there is none, there with its reason."""
    data = np.array([np.nan if value is None else value for value in values], dtype=np.float64)
    reason = np.where(np.isnan(data), reasons if isinstance(reasons, str) else np.array(list(reasons)), "")
    return Column(unit=Unit(unit), meaning=meaning, data=data, reason=reason.astype(np.str_))


def route_columns(classes: Sequence[str], route: RouteStudy | None, regimes: RegimeStudy | None) -> RouteColumns:
    """Return how often each class may go on the route, and what the single regimes mean for it; none where not given.

    A class that the circular does not know has a reason in place of numbers.
    """
    columns: dict[str, Column] = {}
    if route is not None:
        table = route.tables["route_classes"]
        for name, meaning in _SHARES.items():
            columns[name] = _looked_up(classes, "-", meaning, table[name].data.astype(np.float64))
        lowest = table["lowest_index"].data.astype(np.float64)
        columns["lowest_index"] = _looked_up(classes, "-", "lowest risk index outcome on the route", lowest)
    if regimes is not None:
        table = regimes.tables["regimes"]
        means, of_class = table.labels("operation"), table.labels("ice_class")
        for name, operation in _COUNTS.items():
            count = np.array([np.count_nonzero((of_class == one) & (means == operation)) for one in CLASSES])
            meaning = f"single ice regimes: {operation}"
            columns[name] = _looked_up(classes, "count", meaning, count.astype(np.float64))
    return columns


def _looked_up(classes: Sequence[str], unit: str, meaning: str, by_class: np.ndarray) -> Column:
    """A value of the circular's classes for each of ours."""
    found = [float(by_class[CLASSES.index(one)]) if one in CLASSES else None for one in classes]
    return numbers(unit, meaning, found, NOT_KNOWN)
