"""UR I1 and I2.1: notation, length and displacement. Expected numbers: by hand."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from tests.rules.polar_iacs_2019.cases import column

from beltwright.rules.polar_iacs_2019.i1_application import CLASSES, notation
from beltwright.rules.polar_iacs_2019.i2_1_definitions import bow_displacement, other_displacement, rule_length


def length(raw: float, extreme: float) -> float:
    return float(rule_length(stem_to_rudder_m=column(raw), waterline_extreme_length_m=column(extreme))[0])


@pytest.mark.parametrize(
    ("raw", "expected"),
    [  # hand: 0.96 x 100 = 96, 0.97 x 100 = 97
        (90.0, 96.0),
        (95.999, 96.0),
        (96.0, 96.0),
        (96.001, 96.001),
        (96.5, 96.5),
        (97.0, 97.0),
        (97.001, 97.0),
        (99.0, 97.0),
    ],
)
def test_rule_length_limits(raw: float, expected: float) -> None:
    assert length(raw, 100.0) == pytest.approx(expected, abs=1e-12)


@given(st.floats(1.0, 400.0), st.floats(1.0, 400.0))
def test_rule_length_lies_within_its_limits(raw: float, extreme: float) -> None:
    found = length(raw, extreme)
    assert 0.96 * extreme <= found <= 0.97 * extreme
    if 0.96 * extreme <= raw <= 0.97 * extreme:
        assert found == raw


@pytest.mark.parametrize(
    ("given_kt", "bow_kt", "other_kt"),
    [(3.0, 5.0, 10.0), (5.0, 5.0, 10.0), (5.1, 5.1, 10.0), (9.99, 9.99, 10.0), (10.0, 10.0, 10.0), (10.1, 10.1, 10.1)],
)
def test_displacement_floors(given_kt: float, bow_kt: float, other_kt: float) -> None:
    assert bow_displacement(displacement_upper_kt=column(given_kt))[0] == bow_kt
    assert other_displacement(displacement_upper_kt=column(given_kt))[0] == other_kt


def test_notation_chooses_the_table() -> None:
    assert notation(icebreaker=np.array([True, False])).tolist() == ["icebreaker", "general"]


def test_seven_classes_strongest_first() -> None:
    assert CLASSES == ("PC1", "PC2", "PC3", "PC4", "PC5", "PC6", "PC7")
