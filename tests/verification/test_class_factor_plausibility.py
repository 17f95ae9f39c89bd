"""Plausibility, not verification: do the recalled class factors hang together as one collision model would have it?

The factors are powers of a few parents per class: the ice's flexural strength and thickness, its pressure over one
square metre, and a ship speed. The parents used here are round numbers that were inferred from the factors themselves
or recalled beside them. That round parents fit several columns at once catches a slip in a digit; it proves nothing of
the printed table, which was not seen. The two pairs of speed and pressure differ: CFL and CFC were tuned apart.
"""

from __future__ import annotations

import numpy as np
import pytest
from tests.rules.polar_iacs_2019.cases import CLASSES

from beltwright.rules.polar_iacs_2019.tables import TABLES

STRENGTH_MPA = (1.4, 1.3, 1.2, 1.1, 1.0, 0.7, 0.65)
THICKNESS_M = (7.0, 6.0, 4.2, 3.5, 3.0, 2.8, 2.5)
GIRDER_SPEED_M_S = (5.7, 4.4, 3.5, 2.75, 2.25, 2.25, 1.75)
GIRDER_PRESSURE_MPA = (6.0, 4.2, 3.2, 2.45, 2.0, 1.4, 1.25)
LOAD_SPEED_M_S = (5.70, 4.00, 3.00, 2.50, 2.00, 1.75, 1.50)
LOAD_PRESSURE_MPA = (6.0, 4.2, 3.0, 2.45, 2.0, 1.5, 1.3)


def factors(word: str) -> list[float]:
    """A column of Table 1, strongest class first."""
    table = next(table for table in TABLES if table.name == "UR I2 Table 1")
    return [float(value) for value in table.numbers(np.array(CLASSES), word)]


def test_plausibility_of_the_flexural_factor() -> None:
    """CFF = strength x thickness squared, to the two digits given."""
    rebuilt = [s * h**2 for s, h in zip(STRENGTH_MPA, THICKNESS_M, strict=True)]
    assert rebuilt == pytest.approx(factors("CFF"), abs=0.0051)


def test_plausibility_of_the_longitudinal_strength_factor() -> None:
    """CFL = speed x pressure^0.15, to the two digits given."""
    rebuilt = [v * p**0.15 for v, p in zip(GIRDER_SPEED_M_S, GIRDER_PRESSURE_MPA, strict=True)]
    assert rebuilt == pytest.approx(factors("CFL"), abs=0.0051)


def test_plausibility_of_the_patch_and_crushing_factors() -> None:
    """CFD = pressure^0.389 to rounding; CFC = pressure^0.36 speed^1.28 within 3 % only."""
    patch = [p**0.389 for p in LOAD_PRESSURE_MPA]
    crushing = [p**0.36 * v**1.28 for p, v in zip(LOAD_PRESSURE_MPA, LOAD_SPEED_M_S, strict=True)]
    assert patch == pytest.approx(factors("CFD"), abs=0.0051)
    assert crushing == pytest.approx(factors("CFC"), rel=0.03)


def test_plausibility_notices_a_slip_in_one_digit() -> None:
    """A column with one digit wrong no longer fits: the comparison can fail."""
    slipped = factors("CFF")
    slipped[3] = 13.84  # two digits of 13.48 the wrong way round
    rebuilt = [s * h**2 for s, h in zip(STRENGTH_MPA, THICKNESS_M, strict=True)]
    assert rebuilt != pytest.approx(slipped, abs=0.0051)


@pytest.mark.parametrize("name", ["CFC", "CFF", "CFD", "CFDIS", "CFL"])
def test_plausibility_of_the_order_of_classes(name: str) -> None:
    column = factors(name)
    assert column == sorted(column, reverse=True)
    assert len(set(column)) == len(CLASSES)
