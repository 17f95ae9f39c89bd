"""Plates given and proposed: stock, floor, tolerance, grades, what is too thin, what lies outside the formula."""

from __future__ import annotations

import math

import numpy as np
import pytest
from tests.scantlings import ships

from beltwright.core.errors import InputError
from beltwright.scantlings.design import Design
from beltwright.scantlings.explain import explain_panel
from beltwright.scantlings.plating import stock_of


def given(**line: object) -> ships.Edit:
    """A line of plates."""
    return lambda doc: doc.setdefault("plates", []).append(line)


def stock(**values: object) -> ships.Edit:
    return lambda doc: doc.setdefault("stock", {}).update(values)


def numbers(design: Design, name: str) -> np.ndarray:
    return design.plating[name].data


def asked() -> np.ndarray:
    """Which panels have a requirement in the unedited design."""
    return ships.baseline().plating["thickness_required_mm"].applies


def test_proposed_plates_are_the_least_of_the_stock() -> None:
    """Per group, the least half millimetre not below the greatest requirement; kind: second-method."""
    design = ships.baseline()
    need, have, groups = (numbers(design, "thickness_required_mm"), numbers(design, "thickness_as_built_mm"),
                          design.plating.labels("group"))  # fmt: skip
    for group in np.unique(groups[asked()]):
        rows = (groups == group) & asked()
        wanted = math.ceil(round(float(need[rows].max()), 6) / 0.5) * 0.5
        assert set(have[rows].tolist()) == {wanted}
    assert design.all_met
    assert set(design.plating.labels("outcome")) == {"met", "no ice requirement"}
    assert (numbers(design, "ratio")[asked()] <= 1.0).all()


def test_floor_lifts_the_thin_ones_only() -> None:
    floor = 20.0
    design = ships.redesigned(stock(floor_mm=floor))
    before, after = numbers(ships.baseline(), "thickness_as_built_mm"), numbers(design, "thickness_as_built_mm")
    rows = asked()
    assert (before[rows] < floor).any()
    assert (before[rows] > floor).any()
    assert after[rows].tolist() == np.maximum(before[rows], floor).tolist()
    # where no ice strengthening is asked for, the floor is the plate
    assert set(after[~rows].tolist()) == {floor}
    assert set(design.plating.labels("outcome")[~rows]) == {"no ice requirement"}
    assert numbers(design, "thickness_required_mm")[rows].tolist() == (
        numbers(ships.baseline(), "thickness_required_mm")[rows].tolist()
    )


def test_coarser_stock() -> None:
    """kind: hand. A 2 mm list starts at 5 mm: 5, 7, .. so that every plate is odd and not less than before."""
    after = numbers(ships.redesigned(stock(step_mm=2.0)), "thickness_as_built_mm")[asked()]
    before = numbers(ships.baseline(), "thickness_as_built_mm")[asked()]
    assert set(after % 2.0) == {1.0}
    assert (after >= before - 1e-9).all()
    assert (after < before + 2.0).all()


def test_minus_tolerance_is_added_before_rounding() -> None:
    """kind: hand. W13: 0.3 mm under nominal counts, so a group needs the least plate t with t - 0.3 >= required."""
    design = ships.redesigned(stock(under_tolerance="added"))
    need, groups = numbers(design, "thickness_required_mm"), design.plating.labels("group")
    raised = 0
    for group in np.unique(groups[asked()]):
        rows = (groups == group) & asked()
        most = round(float(need[rows].max()), 6)
        wanted = math.ceil(round((most + 0.3) / 0.5, 9)) * 0.5
        assert set(numbers(design, "thickness_as_built_mm")[rows].tolist()) == {wanted}
        raised += wanted > math.ceil(most / 0.5) * 0.5
    assert raised > 0


def test_a_given_plate_is_checked_not_changed() -> None:
    design = ships.redesigned(given(hull_area="Mi", thickness_as_built_mm=16.0))
    rows = design.plating.labels("hull_area") == "Mi"
    assert rows.sum() > 20
    assert set(numbers(design, "thickness_as_built_mm")[rows]) == {16.0}
    assert set(design.plating.labels("source")[rows]) == {"given"}
    ratio = numbers(design, "ratio")[rows]
    need = numbers(design, "thickness_required_mm")[rows]
    assert ratio == pytest.approx(need / 16.0, rel=1e-6)
    outcome = design.plating.labels("outcome")[rows]
    assert (outcome[ratio > 1.0] == "not met").all()
    assert (outcome[ratio <= 1.0] == "met").all()
    assert (ratio > 1.0).any()
    assert not design.all_met
    told = [f for f in design.findings if f.kind.code == "BW440"]
    assert len(told) == 1
    worst = str(design.plating.labels("id")[rows][int(np.argmax(ratio))])
    assert told[0].message == f"{int((ratio > 1.0).sum())} panels; worst {worst} at {ratio.max():.3f} (given)"
    # the others are as before
    others = ~rows & asked()
    assert (
        numbers(design, "thickness_as_built_mm")[others].tolist()
        == numbers(ships.baseline(), "thickness_as_built_mm")[others].tolist()
    )


def test_exactly_the_requirement_is_met_and_a_hundredth_less_is_not() -> None:
    need = numbers(ships.baseline(), "thickness_required_mm")
    panel = int(np.nanargmax(np.where(ships.baseline().plating.labels("hull_area") == "Mi", need, np.nan)))
    exact = float(np.round(need[panel], 6))
    for thickness, outcome in ((exact, "met"), (exact - 0.01, "not met")):
        design = ships.redesigned(given(hull_area="Mi", thickness_as_built_mm=thickness))
        assert design.plating.labels("outcome")[panel] == outcome
        assert design.all_met is (outcome == "met")


def test_a_given_plate_is_checked_less_the_minus_tolerance_where_that_is_added() -> None:
    """kind: hand. W13: 0.3 mm under nominal. Nominal = requirement + 0.3 is just met, a hundredth less is not; the
    margin is that of the plate as it may be delivered. Accepted by the rules, the same plate has 0.3 mm to spare."""
    need = numbers(ships.baseline(), "thickness_required_mm")
    panel = int(np.nanargmax(np.where(ships.baseline().plating.labels("hull_area") == "Mi", need, np.nan)))
    exact = float(np.round(need[panel] + 0.3, 6))
    for thickness, policy, minus, outcome in (
        (exact, "added", 0.3, "met"),
        (exact - 0.01, "added", 0.3, "not met"),
        (exact, "accepted by the rules", 0.0, "met"),
        (exact - 0.3, "accepted by the rules", 0.0, "met"),
    ):
        design = ships.redesigned(
            given(hull_area="Mi", thickness_as_built_mm=thickness), stock(under_tolerance=policy)
        )  # fmt: skip
        assert design.plating.labels("outcome")[panel] == outcome
        assert numbers(design, "minus_tolerance_mm")[panel] == minus
        assert numbers(design, "margin_mm")[panel] == pytest.approx(thickness - minus - need[panel], abs=1e-6)
        assert numbers(design, "ratio")[panel] == pytest.approx(need[panel] / (thickness - minus), rel=1e-6)
        story = explain_panel(design, str(design.plating.labels("id")[panel])).rounding[0]
        assert ("less minus tolerance 0.3 mm" in story) is (minus > 0.0)


def test_later_lines_win() -> None:
    design = ships.redesigned(
        given(zone="side", thickness_as_built_mm=60.0),
        given(zone="side", from_level="deck", thickness_as_built_mm=55.0, grade="DH36"),
    )
    side = design.plating.labels("zone") == "side"
    upper = side & np.isin(design.arrangement.panels.labels("lower_level"), ["deck", "upper stringer"])
    assert set(numbers(design, "thickness_as_built_mm")[upper]) == {55.0}
    assert set(numbers(design, "thickness_as_built_mm")[side & ~upper]) == {60.0}
    assert set(design.plating.labels("grade")[upper]) == {"DH36"}
    assert set(design.plating.labels("grade")[~upper]) == {"EH36"}


def test_a_grade_changes_the_requirement_by_the_root_of_the_yields() -> None:
    """kind: hand. Net thickness goes with 1 / sqrt(yield): EH40 has 390 for 355 MPa."""
    design = ships.redesigned(lambda doc: doc["steel"].update(plate_grade="EH40"))
    before = numbers(ships.baseline(), "thickness_net_required_mm")[asked()]
    after = numbers(design, "thickness_net_required_mm")[asked()]
    assert after == pytest.approx(before * math.sqrt(355.0 / 390.0), rel=1e-12)


def test_a_line_that_points_nowhere_is_named() -> None:
    design = ships.redesigned(given(hull_area="Sb", thickness_as_built_mm=20.0))
    told = [f for f in design.findings if f.kind.code == "BW443"]
    assert [f.where for f in told] == ["ship.toml: plates[1]"]
    assert numbers(design, "thickness_as_built_mm").tobytes() == (
        numbers(ships.baseline(), "thickness_as_built_mm").tobytes()
    )


def test_unknown_grade_names_the_field() -> None:
    with pytest.raises(InputError, match=r"plates\[1\]\.grade: no such hull steel grade; found EH36X"):
        ships.redesigned(given(zone="side", thickness_as_built_mm=20.0, grade="EH36X"))


def test_a_requirement_beyond_the_stock_is_refused() -> None:
    with pytest.raises(InputError, match="no plate is thick enough"):
        stock_of(ships.ship(stock(step_mm=5.0))).offer([1000.0])


def test_no_number_is_missing_without_a_reason() -> None:
    for name, column in ships.baseline().plating.items():
        if column.data.dtype.kind == "f":
            missing = np.isnan(column.data)
            assert (missing == ~column.applies).all(), name
            if missing.any():
                assert column.reason is not None
                assert (column.reason[missing] != "").all(), name
