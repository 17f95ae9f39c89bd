"""One ship under the editions of 2016 and 2019: what must agree, what may differ. Expected numbers: by hand."""

from __future__ import annotations

import math
from dataclasses import fields, replace
from datetime import date
from typing import Any

import numpy as np
import pytest
from tests.rules.polar_iacs_2019.cases import CLASSES, POLAR, angles, column, facts, frame, panel

from beltwright.core.chain import Trace
from beltwright.core.errors import InputError, ScopeError
from beltwright.core.provenance import Status
from beltwright.rules.polar_iacs_2016.documents import DOCUMENT
from beltwright.rules.polar_iacs_2016.edition import EDITION
from beltwright.rules.polar_iacs_2016.measures import aft_of_fp, bow_limit, length_before_limits
from beltwright.rules.polar_iacs_2019 import documents as new_documents
from beltwright.rules.polar_iacs_2019 import i2_1_definitions as i2_1
from beltwright.rules.polar_iacs_2019.i2_3_3_patch_and_factors import area_factor
from beltwright.rules.polar_iacs_2019.ruleset import POLAR_2019
from beltwright.rules.protocol import GirderForce, MemberRule, Override, RuleSet
from beltwright.rules.registry import differences, editions_for, rule_set

OLD = rule_set("polar_iacs_2016")
AZIMUTH = Override(key="overrides.azimuthing_stern_factors", reason="agreed")


def ship(fp: float = 0.0, **changed: Any) -> dict[str, np.ndarray]:
    return facts(**changed) | {"fp_forward_of_stem_m": column(fp)}


def design_trace(rules: RuleSet, given: dict[str, np.ndarray], overrides: tuple[Override, ...] = ()) -> Trace:
    """The design's numbers, angles read at that edition's own stations."""
    areas = rules.areas(given, overrides)
    bow = angles(x=rules.stations(areas))
    return rules.loads(given, areas, bow, overrides).traces["design"]


@pytest.mark.parametrize("ice_class", CLASSES)
def test_a_ship_with_a_rudder_and_fp_at_the_stem_has_the_same_numbers_in_both(ice_class: str) -> None:
    given = ship(ice_class=ice_class, displacement_upper_kt=9.0)
    old, new = design_trace(OLD, given), design_trace(POLAR, given)
    numbers = {name for name, node in new.items() if isinstance(node.value, float)}
    assert len(numbers) > 60
    assert numbers <= set(old)
    assert {name: old[name].value for name in numbers} == {name: new[name].value for name in numbers}


def test_members_have_the_same_requirements_in_both() -> None:
    assert OLD.plating.run(panel())["thickness_required_mm"] == POLAR.plating.run(panel())["thickness_required_mm"]
    old, new = OLD.framing.run(frame()), POLAR.framing.run(frame())
    for check in POLAR.framing.checks:
        assert old[check.required] == new[check.required]
        assert old[check.offered] == new[check.offered]


@pytest.mark.parametrize(
    ("ten", "fp", "old", "new"),
    [  # 0.45 x 120 = 54 m from the FP or from the stem
        (60.0, 1.5, 52.5, 54.0),
        (60.0, -1.5, 55.5, 54.0),
        (60.0, 0.0, 54.0, 54.0),
        (53.0, 1.5, 52.5, 53.0),
        (52.4, 1.5, 52.4, 52.4),  # the bow ends before the limit: no difference
    ],
)
def test_the_limit_of_the_bow_counts_from_the_forward_perpendicular(
    ten: float, fp: float, old: float, new: float
) -> None:
    given = ship(fp, alpha_ten_aft_of_stem_m=ten)
    assert float(OLD.areas(given, ()).trace["bow_aft_m"].value) == pytest.approx(old, rel=1e-12)
    assert float(POLAR.areas(given, ()).trace["bow_aft_m"].value) == pytest.approx(new, rel=1e-12)


def test_x_of_the_shape_factor_counts_from_the_forward_perpendicular() -> None:
    # sub-region 1 of a 24 m bow: 3 m aft of the stem, alpha 30, beta' 40 degrees, L 120 m
    # from the stem: 0.097 - 0.68 (0.025 - 0.15)^2 = 0.086375; from an FP 1.5 m forward: x/L 0.0375, 0.08839375
    given = ship(1.5)
    old, new = design_trace(OLD, given), design_trace(POLAR, given)
    assert new["shape_factor_angles_1"].value == pytest.approx(0.086375 * 30.0 / math.sqrt(40.0), rel=1e-12)
    assert old["shape_factor_angles_1"].value == pytest.approx(0.08839375 * 30.0 / math.sqrt(40.0), rel=1e-12)
    assert old["aft_of_fp_of_aft_of_stem_1_m"].value == 4.5
    assert old["aft_of_stem_1_m"].value == new["aft_of_stem_1_m"].value == 3.0
    assert old["shape_factor_angles_1"].parents[0] == "aft_of_fp_of_aft_of_stem_1_m"
    # the load outside the bow does not know the shape
    assert old["other_force_mn"].value == new["other_force_mn"].value


def test_a_shape_factor_that_is_not_positive_from_the_fp_ends_the_rule() -> None:
    # x/L - 0.15 > sqrt(0.097 / 0.68) = 0.37768: from x/L = 0.52768 on, 63.32 m of 120; sub-region 4 stands at 47.25 m
    given = ship(alpha_ten_aft_of_stem_m=54.0)
    assert design_trace(OLD, given)["shape_factor_angles_4"].value > 0.0
    with pytest.raises(ScopeError, match=r"bow sub-region 4: .*so far aft"):
        design_trace(OLD, ship(16.1, alpha_ten_aft_of_stem_m=54.0, stem_baseline_aft_of_stem_m=54.0))


@pytest.mark.parametrize(
    ("azimuthing", "raw", "old", "new"),
    [  # extreme length 124 m: 0.96 gives 119.04, 0.97 gives 120.28
        (False, 120.0, 120.0, 120.0),
        (False, 110.0, 119.04, 119.04),
        (False, 123.0, 120.28, 120.28),
        (True, 120.0, 120.28, 120.0),
        (True, 110.0, 120.28, 119.04),
    ],
)
def test_length(azimuthing: bool, raw: float, old: float, new: float) -> None:
    given = ship(azimuthing_propulsion=azimuthing, stem_to_rudder_m=raw)
    for rules, expected in ((OLD, old), (POLAR, new)):
        trace = rules.areas(given, (AZIMUTH,)).trace
        assert trace["rule_length_m"].value == pytest.approx(expected, rel=1e-12)
    assert OLD.areas(given, (AZIMUTH,)).trace["rule_length_m"].symbol == "L"


def test_own_clauses_by_hand() -> None:
    assert aft_of_fp(aft_of_stem_m=column(3.0), fp_forward_of_stem_m=column(-1.0))[0] == 2.0
    limit = bow_limit(
        bow_limit_fraction=column(0.45), rule_length_m=column(100.0), fp_forward_of_stem_m=column([2.0, -2.0])
    )
    assert limit.tolist() == [43.0, 47.0]
    raw = length_before_limits(
        azimuthing_propulsion=column([True, False]), stem_to_rudder_m=column(95.0),
        waterline_extreme_length_m=column(100.0),
    )  # fmt: skip
    assert raw.tolist() == [100.0, 95.0]


@pytest.mark.parametrize("bad", [math.nan, math.inf, -1000.1, 1000.1])
def test_a_forward_perpendicular_that_cannot_be_is_refused(bad: float) -> None:
    with pytest.raises(InputError, match="fp_forward_of_stem_m"):
        OLD.areas(ship(bad), ())
    assert POLAR.areas(ship(bad), ()).trace["bow_aft_m"].value == 24.0, "the edition of 2019 does not read it"


def test_nothing_of_this_edition_counts_as_read() -> None:
    for rule in (getattr(OLD, one.name) for one in fields(OLD)):  # type: ignore[arg-type]
        if isinstance(rule, MemberRule):
            clauses = [step.clause for step in rule.chain.steps if step.clause.document.short == "UR I2"]
            assert clauses
            assert all(clause.document is DOCUMENT for clause in clauses)
            assert not any(clause.status in (Status.TEXT, Status.PRINTED) for clause in clauses)
    seven = POLAR.areas(facts(), ()).trace["bottom_inclination_deg"]
    taken = OLD.areas(ship(), ()).trace["bottom_inclination_deg"]
    assert [cell.status for cell in seven.cells] == [Status.TEXT]
    assert [cell.status for cell in taken.cells] == [Status.MEMORY]
    assert OLD.unconfirmed(taken.cells) == taken.cells
    assert EDITION.clause(area_factor).note.endswith("taken over from Rev.4, December 2019, not compared")
    assert EDITION.clause(i2_1.bow_displacement).symbol == "D_bow"


def test_the_hull_girder_takes_this_edition_along_the_ship() -> None:
    assert OLD.girder is not None
    assert POLAR.girder is not None
    for chain in (OLD.girder.along, OLD.girder.section.chain):
        clauses = [step.clause for step in chain.steps if step.clause.document.short == "UR I2"]
        assert clauses
        assert all(clause.document is DOCUMENT for clause in clauses)
    given = {name: column(3.0 if quantity.unit.symbol != "label" else "PC4") for name, quantity in
             POLAR.girder.along.inputs.items()}  # fmt: skip
    old, new = OLD.girder.along.run(given), POLAR.girder.along.run(given)
    assert {name: values.tolist() for name, values in new.items()} == {name: old[name].tolist() for name in new}
    assert replace(POLAR_2019, girder=None).in_edition("none", EDITION, ()).girder is None


def test_the_force_at_the_bow_cites_this_edition() -> None:
    """The same number by the same functions, every clause of UR I2 in Rev.3 and recalled."""
    bow = {
        "waterplane_upper_m2": 2100.0, "breadth_upper_m": 20.0, "bow_length_m": 30.0, "bow_exponent": 0.5,
        "stem_waterline_angle_deg": 30.0,
    }  # fmt: skip
    found = {}
    for rules in (OLD, POLAR):
        given = {**ship(), **{name: np.array([value]) for name, value in bow.items()}}
        before = design_trace(rules, given)
        assert rules.girder is not None
        made = rules.girder.force(given, before)
        assert isinstance(made, GirderForce)
        found[rules.id] = made
    old, new = found["polar_iacs_2016"], found["polar_iacs_2019"]
    assert old.columns["ice_force_mn"][0] == new.columns["ice_force_mn"][0]
    nodes = [node for node in old.trace.values() if node.step is not None]
    cited = {node.step.clause.document.edition for node in nodes if node.step.clause.document.short == "UR I2"}
    assert cited == {"Rev.3, April 2016"}
    assert not any(node.step.clause.status.confirmed for node in nodes if node.name == "ramming_force_mn")
    assert old.trace["displacement_other_kt"].meaning == "displacement for the formulas outside the bow"
    steps = [node for node in new.trace.values() if node.step is not None]
    assert {one.step.clause.document.edition for one in steps if one.step.clause.document.short == "UR I2"} == {
        "Rev.4, December 2019"
    }


def test_only_ur_i2_has_another_edition() -> None:
    assert new_documents.DOCUMENT_I1 in OLD.documents
    assert [one.id for one in POLAR.documents if one not in OLD.documents] == ["iacs_ur_i2_rev4"]
    assert [one.id for one in OLD.documents if one not in POLAR.documents] == ["iacs_ur_i2_rev3"]


def test_every_own_clause_and_conversion_has_its_row_in_the_table_of_differences() -> None:
    table = differences("polar_iacs_2016")
    assert table == differences("polar_iacs_2019") == OLD.differences
    assert POLAR.differences == ()
    told = {one.clause.split(" ")[0] for one in table}
    assert {"I2.1.1", "I2.1.2", "I2.2.4", "I2.3.2.1(iii)"} <= told
    replaced = {"bow_limit": "I2.2.4", "rule_length": "I2.1.2", "shape_factor_angles": "I2.3.2.1(iii)"}
    changed = {*EDITION.own, *(clause for clause, _ in EDITION.measured_from)}
    assert changed == set(replaced)
    for one in table:
        assert set(one.says) == {"polar_iacs_2016", "polar_iacs_2019"}
        assert all(one.says.values()), one.clause
        assert one.effect, one.clause
        assert one.status is Status.MEMORY
    with pytest.raises(InputError, match="no such rule set"):
        differences("polar_9")


@pytest.mark.parametrize(
    ("day", "expected"),
    [
        (date(2017, 6, 30), ()),
        (date(2017, 7, 1), ("polar_iacs_2016",)),
        (date(2020, 12, 31), ("polar_iacs_2016",)),
        (date(2021, 1, 1), ("polar_iacs_2019",)),
    ],
)
def test_which_edition_applies_on_a_contract_date(day: date, expected: tuple[str, ...]) -> None:
    assert editions_for("UR I2", day) == expected
    assert editions_for("UR I1", day) == (), "it carries no date of its own"
