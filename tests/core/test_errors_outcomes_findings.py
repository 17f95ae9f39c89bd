"""Errors are one line, outcomes fail closed, findings are collected and numbered once."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from beltwright.core import findings as findings_module
from beltwright.core.errors import ExitCode, InputError, ScopeError, SolverError, ToolError
from beltwright.core.findings import Findings, Severity, all_codes, register
from beltwright.core.outcome import Check, NotApplicable, at_ratio, is_met


@pytest.fixture
def note() -> findings_module.FindingCode:
    """A code of its own for these tests, taken out again afterwards."""
    code = register("BW999", Severity.NOTE, "a note", "nothing to do")
    yield code
    del findings_module._CODES["BW999"]


def test_input_error_names_everything_on_one_line() -> None:
    error = InputError("ship.toml: hull.depth_m", "is too deep", value=99.5, unit="m", allowed="at most 60")
    assert str(error) == "ship.toml: hull.depth_m: is too deep; found 99.5 m; allowed: at most 60"
    assert error.exit_code is ExitCode.BAD_INPUT
    assert isinstance(error, ToolError)
    assert isinstance(error, ValueError)


def test_input_error_without_value_or_limit() -> None:
    assert str(InputError("a", "b")) == "a: b"
    assert str(InputError("a", "b", value="x")) == "a: b; found x"


@given(st.text(max_size=300))
def test_no_input_can_break_the_line(text: str) -> None:
    line = str(InputError("file", "bad", value=text))
    assert "\n" not in line
    assert line.isprintable()


def test_long_values_are_cut() -> None:
    assert len(str(InputError("w", "x", value="a" * 500))) < 120


def test_scope_error_says_how_to_go_on() -> None:
    error = ScopeError("bow form", "gamma is 85 deg", ref="I2.3.1", override="overrides.bow")
    assert "outside the rule's scope" in str(error)
    assert str(error).endswith("write your reason under overrides.bow")
    assert error.exit_code is ExitCode.OUT_OF_SCOPE
    assert "write your reason" not in str(ScopeError("bow", "why", ref="x"))
    assert SolverError("no").exit_code is ExitCode.BAD_INPUT


def test_not_applicable_prints_its_reason() -> None:
    assert str(NotApplicable("alpha is 0", "I2.3")) == "not applicable: alpha is 0 (I2.3)"
    assert str(NotApplicable("alpha is 0")) == "not applicable: alpha is 0"


@given(st.floats(allow_nan=True, allow_infinity=True))
def test_met_means_at_most_one_and_never_nan(ratio: float) -> None:
    assert bool(is_met(np.array([ratio]))[0]) == (not math.isnan(ratio) and ratio <= 1.0)


@pytest.mark.parametrize(
    ("required", "offered", "ratio", "ok"),
    [
        (10.0, 20.0, 0.5, True),
        (20.0, 20.0, 1.0, True),
        (20.000001, 20.0, 1.00000005, False),
        (1.0, 0.0, math.inf, False),
        (0.0, 0.0, 0.0, True),
        (-1.0, -2.0, 0.0, True),
    ],
)
def test_check_on_both_sides_of_the_limit(required: float, offered: float, ratio: float, ok: bool) -> None:
    check = Check(name="plate", ref="I2.4", required=required, offered=offered, unit="mm")
    assert check.ratio == pytest.approx(ratio)
    assert check.ok is ok


@pytest.mark.parametrize("pair", [(math.nan, 1.0), (1.0, math.nan), (math.nan, math.nan)])
def test_nan_never_passes_a_check(pair: tuple[float, float]) -> None:
    check = Check(name="plate", ref="I2.4", required=pair[0], offered=pair[1], unit="mm")
    assert math.isnan(check.ratio)
    assert not check.ok


def test_findings_keep_order_and_drop_repeats(note: findings_module.FindingCode) -> None:
    found = Findings()
    found.add(note, "here", "one")
    found.add(note, "here", "one")
    found.add(note, "there", "two")
    other = Findings()
    other.extend(found)
    other.extend(found)
    assert [f.where for f in other] == ["here", "there"]
    assert len(other) == 2
    assert other.of(Severity.NOTE) == tuple(found)
    assert other.of(Severity.BLOCK) == ()
    assert str(found.items[0]) == "BW999 note: here: one"


def test_a_finding_number_is_taken_once(note: findings_module.FindingCode) -> None:
    with pytest.raises(ValueError, match="BW999 is taken"):
        register("BW999", Severity.BLOCK, "another", "")
    assert note in all_codes()
    assert [c.code for c in all_codes()] == sorted(c.code for c in all_codes())


def test_a_ratio_in_words_is_a_number_only_where_it_is_one() -> None:
    assert at_ratio(1.0634) == "at 1.063"
    assert at_ratio(float("inf")) == "at no finite ratio"
    assert at_ratio(float("nan")) == "at an unknown ratio"
