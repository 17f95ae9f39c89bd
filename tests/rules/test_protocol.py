"""The protocol's own small rules: ratios of checks, guards, what an area strengthens, which kinds a rule set covers."""

from __future__ import annotations

import math

import numpy as np
import pytest

from beltwright.core.errors import ScopeError
from beltwright.rules.protocol import (
    EVERYTHING,
    CheckSpec,
    Guard,
    HullArea,
    RuleSet,
    Strengthens,
    SupportKind,
)
from beltwright.rules.registry import available, rule_set

RULE_SETS = [rule_set(name) for name in available()]


def check(**more: bool) -> CheckSpec:
    return CheckSpec(name="area", required="need", offered="have", ref="1.2", **more)


def test_a_ratio_is_required_over_offered() -> None:
    found = check().ratio({"need": np.array([1.0, 4.0, np.nan]), "have": np.array([2.0])})
    assert found[:2].tolist() == [0.5, 2.0]
    assert math.isnan(found[2])


def test_a_check_by_yes_or_no_has_no_degree() -> None:
    given = {"need": np.array([1.0, 0.0, 1.0, np.nan]), "have": np.array([1.0, 0.0, 0.0, 1.0])}
    found = check(yes_or_no=True).ratio(given)
    assert found[:3].tolist() == [0.0, 0.0, math.inf]
    assert math.isnan(found[3]), "what is not known is not met"


def test_a_guard_names_its_rows_and_raises_for_the_first() -> None:
    guard = Guard(column="inside", what="frames", reason="too short", ref="1.3")
    values = {"inside": np.array([True, False, False])}
    assert guard.beyond(values, 3).tolist() == [False, True, True]
    assert guard.beyond({"inside": np.array([False])}, 3).tolist() == [True] * 3
    with pytest.raises(ScopeError, match="frames: row 1: too short"):
        guard.check(values)
    guard.check({"inside": np.array([True])})


def test_what_an_area_strengthens() -> None:
    none, framing, both = (
        HullArea(code="X", title="x", strengthens=parts) for parts in ((), (Strengthens.FRAMING,), EVERYTHING)
    )
    assert [area.strengthened for area in (none, framing, both)] == [False, True, True]
    assert {part.value for part in EVERYTHING} == {"plating", "framing"}


@pytest.mark.parametrize("rules", RULE_SETS, ids=[rules.id for rules in RULE_SETS])
def test_every_kind_of_member_has_one_rule_at_most_and_shows_what_others_read(rules: RuleSet) -> None:
    kinds = [kind for one in rules.supports for kind in one.kinds]
    assert sorted(kind.value for kind in kinds) == sorted(kind.value for kind in SupportKind)
    for one in rules.supports:
        if one.direct:
            assert one.direct in one.rule.chain.outputs
            assert {"pressure_mpa", "patch_width_m", "patch_height_m", "patch_force_mn"} <= set(one.rule.shown)
    members = (rules.plating, rules.framing, *(one.rule for one in rules.supports))
    for rule in members:
        names = {*rule.chain.inputs, *rule.chain.outputs}
        assert set(rule.shown.values()) <= names
        assert {guard.column for guard in rule.guards} <= names
        for one_check in rule.checks[0 if rule is not rules.plating else 1 :]:
            assert {one_check.required, one_check.offered} <= names


def test_a_check_in_words() -> None:
    assert check().told("3", "4") == "area (1.2): 3 required, 4 offered"
    assert check(most=True).told("3", "4") == "area (1.2): 3, at most 4"
