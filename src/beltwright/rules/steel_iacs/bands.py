"""Printed rows and columns by thickness and temperature: where in a table a value stands."""

from __future__ import annotations

import numpy as np

from beltwright.core.ruletable import RuleTable
from beltwright.core.units import Celsius, Label, LabelArray, Millimetres

BEYOND = "over"
WARMER = "-10 and warmer"
WARMEST_C = -10.0


class TemperatureBands:
    """The columns of a table told by temperature in degrees Celsius: ``-16 to -25`` reaches down to and with -25.

    Between two printed columns the colder one holds. Warmer than -10 the table is not for: ``WARMER``.
    """

    def __init__(self, table: RuleTable) -> None:
        place = table.keys.index("temperature")
        names = sorted({keys[place] for keys in table.cells if " to " in keys[place]}, key=_coldest, reverse=True)
        coldest = [_coldest(name) for name in names]
        self.down_to_c: Celsius = np.array([WARMEST_C, *coldest])
        self.names: LabelArray = np.array([WARMER, *names, f"below {coldest[-1]:g}"], dtype=np.str_)

    def words(self, design_temperature_c: Celsius) -> Label:
        """Return the name of each temperature's column (n,); what is not a number stands below them all."""
        found: Label = self.names[np.searchsorted(-self.down_to_c, -np.asarray(design_temperature_c), side="left")]
        return found


class ThicknessBands:
    """The rows of a table told by thickness: over the lower limit, up to and with the upper one.

    Rows are named by their limits in mm (``15-20``) and follow on from zero; one named ``over 50`` stands for what lies
    beyond them. ``chosen`` keys pick a part of a table that has its own rows. Raises ValueError on making if they do
    not follow on.
    """

    def __init__(self, table: RuleTable, **chosen: str) -> None:
        place = {key: number for number, key in enumerate(table.keys)}
        picked = [keys for keys in table.cells if all(keys[place[key]] == word for key, word in chosen.items())]
        names = {keys[place["thickness"]] for keys in picked}
        inner = sorted((name for name in names if not name.startswith(BEYOND)), key=_upper)
        beyond = [name for name in names if name.startswith(BEYOND)]
        lower = [float(name.split("-")[0]) for name in inner]
        if lower != [0.0, *map(_upper, inner[:-1])] or beyond not in ([], [f"{BEYOND} {_upper(inner[-1]):g}"]):
            raise ValueError(f"{table.name}: the rows by thickness do not follow on: {', '.join(inner)}")
        self.upper_mm: Millimetres = np.array([_upper(name) for name in inner])
        self.names: LabelArray = np.array([*inner, f"{BEYOND} {_upper(inner[-1]):g}"], dtype=np.str_)

    def words(self, thickness_as_built_mm: Millimetres) -> Label:
        """Return the name of each thickness's row (n,); what is not a number stands beyond the table."""
        found: Label = self.names[np.searchsorted(self.upper_mm, thickness_as_built_mm, side="left")]
        return found


def _upper(name: str) -> float:
    """The upper limit of a row."""
    return float(name.split("-")[1])


def _coldest(name: str) -> float:
    """The lower limit of a column."""
    return float(name.split(" to ")[1])
