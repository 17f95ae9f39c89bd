"""The traced run gives the same bits as the vectorised one; checks, rule set, coverage list and registry."""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest
from tests.rules.polar_iacs_2019.cases import CLASSES, POLAR, column, design, frame, panel

from beltwright.core.errors import InputError
from beltwright.core.provenance import Status
from beltwright.core.ruletable import Cell
from beltwright.rules import registry
from beltwright.rules.polar_iacs_2019.coverage import STATUSES, CoverageRow, coverage_rows, join
from beltwright.rules.polar_iacs_2019.documents import DOCUMENT
from beltwright.rules.protocol import MemberRule

ROWS = 80


def random_columns(seed: int, make: Any, ice_class: str) -> dict[str, np.ndarray]:
    rng = np.random.default_rng(seed)
    areas = rng.choice(["B", "BIi", "BIl", "BIb", "Mi", "Ml", "Si", "Sl"], ROWS)
    given: dict[str, Any] = {
        "ice_class": ice_class,
        "icebreaker": bool(seed % 2),
        "load_area": areas,
        "factor_area": rng.permutation(areas),
        "spacing_m": rng.uniform(0.25, 0.9, ROWS),
        "span_m": rng.uniform(0.5, 5.0, ROWS),
        "omega_deg": rng.uniform(0.0, 90.0, ROWS),
        "yield_mpa": rng.choice([235.0, 315.0, 355.0, 390.0], ROWS),
        "load_distributing_stringer": rng.random(ROWS) < 0.5,
    }
    if make is panel:
        given["addition_area"] = rng.permutation(areas)
        given["support_distance_m"] = rng.uniform(0.5, 5.0, ROWS)
        given["stringer_to_support_m"] = rng.uniform(0.5, 5.0, ROWS)
    else:
        given |= {
            "web_height_mm": rng.uniform(100.0, 500.0, ROWS),
            "web_net_mm": rng.uniform(6.0, 25.0, ROWS),
            "web_angle_deg": rng.uniform(30.0, 90.0, ROWS),
            "plate_net_fitted_mm": rng.uniform(8.0, 40.0, ROWS),
            "flange_area_cm2": rng.uniform(0.0, 30.0, ROWS),
            "flange_offset_mm": rng.uniform(0.0, 60.0, ROWS),
            "section_kind": rng.choice(["flat", "bulb", "angle", "tee"], ROWS),
            "end_brackets": rng.random(ROWS) < 0.5,
            "one_end_simply_supported": rng.random(ROWS) < 0.5,
            "web_frame_spacing_m": rng.uniform(0.3, 4.0, ROWS),
        }
    columns = make(**given)
    _, loads = design()
    return {**columns, **{n: v for n, v in loads.columns.items() if n.endswith(("_m", "_mpa")) and n in columns}}


@pytest.mark.parametrize(("rule", "make"), [(POLAR.plating, panel), (POLAR.framing, frame)], ids=["plating", "framing"])
@pytest.mark.parametrize(("seed", "ice_class"), [(1, "PC1"), (2, "PC4"), (3, "PC7")])
def test_traced_rows_equal_the_vectorised_ones_bit_for_bit(
    rule: MemberRule, make: Any, seed: int, ice_class: str
) -> None:
    columns = random_columns(seed, make, ice_class)
    whole = rule.run(columns)
    for row in range(ROWS):
        trace = rule.chain.trace(columns, row)
        for name in rule.chain.outputs:
            values = whole[name]
            expected = values[row if len(values) > 1 else 0].item()
            assert trace[name].value == expected, (row, name)


def test_a_member_trace_joins_the_trace_of_the_loads() -> None:
    areas, loads = design()
    columns = {**panel(), **loads.columns}
    trace = POLAR.plating.chain.trace(columns).after(loads.traces["design"])
    names = {node.name for node in trace.upstream("thickness_required_mm")}
    assert {"displacement_upper_kt", "alpha_10_deg" if "alpha_10_deg" in names else "alpha_4_deg", "spacing_m"} <= names
    assert {"rule_length_m", "bow_aft_m", "area_factor", "addition_mm"} <= names
    cells = [cell for node in trace.upstream("thickness_required_mm") for cell in node.cells]
    assert "UR I2 Table 6" in {cell.table for cell in cells}
    unconfirmed = POLAR.unconfirmed(tuple(cells))
    assert len(unconfirmed) == len(set(unconfirmed)) > 10
    assert areas.trace["ice_class"].value == "PC4"


@pytest.mark.parametrize(("rule", "make"), [(POLAR.plating, panel), (POLAR.framing, frame)], ids=["plating", "framing"])
def test_the_pressure_on_a_member_is_told_apart_from_that_of_the_patches(rule: MemberRule, make: Any) -> None:
    _, loads = design()
    alone = rule.chain.trace({**make(), **loads.columns})
    for trace in (alone, alone.after(loads.traces["design"])):
        told = {name: trace[name].symbol for name in ("pressure_mpa", "bow_pressure_mpa", "other_pressure_mpa")}
        assert list(told.values()) == ["P_avg", "P_avg,Bow", "P_avg,NonBow"]


def test_unconfirmed_keeps_order_and_drops_repeats_and_confirmed_cells() -> None:
    a, b, c = (
        Cell(table="t", keys=(("k", name),), value=1.0, status=status)
        for name, status in (("a", Status.MEMORY), ("b", Status.TEXT), ("c", Status.CHOICE))
    )
    assert POLAR.unconfirmed((c, a, b, a, c)) == (c, a)


def test_checks_name_columns_that_are_there() -> None:
    offered_beside = {"thickness_as_built_mm"}
    for rule in (POLAR.plating, POLAR.framing, POLAR.grading):
        assert rule is not None
        known = set(rule.chain.inputs) | set(rule.chain.outputs)
        assert rule.result in known
        for spec in rule.checks:
            assert spec.required in known
            assert spec.offered in known | offered_beside
            assert not spec.applies or spec.applies in known
            assert spec.ref.startswith("UR I2 I2.")
        for guard in rule.guards:
            assert guard.column in known


def test_the_rule_set_says_what_it_is() -> None:
    assert registry.rule_set("polar_iacs_2019") is POLAR
    assert "polar_iacs_2019" in registry.available()
    assert POLAR.id == "polar_iacs_2019"
    assert POLAR.classes == CLASSES
    assert [document.short for document in POLAR.documents] == ["UR I1", "UR S6", "UR S11", "UR I2"]
    assert {quantity.name for quantity in POLAR.facts} >= {"displacement_upper_kt", "stem_angle_deg"}
    names = [table.name for table in POLAR.tables]
    assert {"UR I2 Figure 1", "UR S6 Table 7", *(f"UR I2 Table {number}" for number in range(1, 10))} <= set(names)
    assert POLAR.override_keys == ("overrides.azimuthing_stern_factors", "overrides.bow_form")  # type: ignore[attr-defined]


def test_an_unknown_rule_set_is_refused_with_the_list() -> None:
    with pytest.raises(InputError, match="polar_iacs_2019"):
        registry.rule_set("nothing")


def test_an_id_is_taken_once() -> None:
    with pytest.raises(ValueError, match="registered already"):
        registry.register("polar_iacs_2019", lambda: POLAR)


class Entry:
    """An entry point as an outside package would bring it."""

    def __init__(self, name: str, factory: Any) -> None:
        self.name, self.factory = name, factory

    def load(self) -> Any:
        if isinstance(self.factory, Exception):
            raise self.factory
        return self.factory


def test_outside_packages_enter_and_a_broken_one_only_warns(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(registry, "_FACTORIES", dict(registry._FACTORIES))
    with_outside = tuple(sorted((*registry.available(), "outside")))
    entries = [
        Entry("polar_iacs_2019", ImportError("never asked")),
        Entry("broken", ImportError("no such thing")),
        Entry("outside", lambda: POLAR),
    ]
    monkeypatch.setattr(registry, "entry_points", lambda group: entries if group == "beltwright.rules" else [])
    with pytest.warns(UserWarning, match="rule set broken cannot be loaded: no such thing"):
        assert registry.available() == with_outside
    with (
        pytest.warns(UserWarning, match="cannot be loaded"),
        pytest.raises(InputError, match=f"allowed: {', '.join(with_outside)}$"),
    ):
        registry.rule_set("nothing")
    entries.pop(1)
    assert registry.rule_set("outside") is POLAR


def test_coverage_lists_every_clause_in_the_order_of_the_document() -> None:
    rows = coverage_rows()
    numbers = [row.clause for row in rows]
    assert len(numbers) == len(set(numbers))
    assert {clause.ref for clause in DOCUMENT.clauses.values()} <= set(numbers)
    for earlier, later in (
        ("I1.1.1", "I2.1.1"), ("I2.3.1(iv)", "I2.3.1(ix)"), ("I2.9.1", "I2.11.2"), ("I2.3.2.1(i)", "I2.3.2 Table 1"),
        ("I2.2.7", "I2.2 Figure 1"), ("I2.2 Figure 1", "I2.3.1(i)"), ("I2.13.5", "I2.18.1"),
    ):  # fmt: skip
        assert numbers.index(earlier) < numbers.index(later), (earlier, later)
    by_number = {row.clause: row for row in rows}
    assert "vertical_ice_force" in " ".join(by_number["I2.13.2"].functions)
    assert "bow_force" in by_number["I2.3.2.1(iii)"].functions
    assert by_number["I2.1.2"].functions == ("rule_length", "bow_displacement", "other_displacement")
    assert "the third is 0.60" in by_number["I2.3.2.1(iii)"].remark
    assert {row.status for row in rows} <= {"coded", *STATUSES}
    assert all(bool(row.functions) == (row.status == "coded") for row in rows)


def row_(**changed: str) -> dict[str, str]:
    return {"document": "d", "ref": "I2.8", "what": "webs", "status": STATUSES[0], "remark": "r", **changed}


def test_coverage_refuses_lists_that_drift() -> None:
    coded = [CoverageRow(document="d", clause="I2.7", title="t", status="coded", functions=("f",), remark="")]
    assert [row.clause for row in join(coded, [row_()])] == ["I2.7", "I2.8"]
    with pytest.raises(InputError, match="unknown status"):
        join(coded, [row_(status="maybe")])
    with pytest.raises(InputError, match="coded, or listed twice"):
        join(coded, [row_(ref="I2.7")])
    with pytest.raises(InputError, match="coded, or listed twice"):
        join(coded, [row_(), row_()])


def test_a_column_helper_gives_one_row() -> None:
    assert column("B").shape == (1,)
