"""Clauses, chains, traces and printed formulas on a small invented document."""

from __future__ import annotations

from typing import Annotated, Any

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from beltwright.core.chain import Chain, Quantity, Step, Trace
from beltwright.core.clause import Document
from beltwright.core.provenance import Status
from beltwright.core.ruletable import parse_table
from beltwright.core.units import (
    Degrees,
    Flag,
    FloatArray,
    Label,
    Metres,
    Millimetres,
    MPa,
    Ratio,
    Unit,
    signature_units,
    unit_of,
)

TABLE = parse_table(
    "# document: UR X\n# edition: 1\n# table: Table 1\n# title: t\n# read_by: test\n"
    "area,value,status\nB,1.0,memory\nM,0.5,text\n",
    "t.csv",
)
DOC = Document(id="x_1", short="UR X", title="An invented rule", edition="1", applicability="tests")


@DOC.clause("X1", title="area factor", symbol="AF", status=Status.MEMORY, table=TABLE)
def area_factor(*, area: Label) -> Ratio:
    """Look the factor up."""
    return TABLE.numbers(area)


@DOC.clause("X2", title="peak factor", symbol="PPF", status=Status.TEXT)
def peak_factor(*, spacing: Metres) -> Ratio:
    """Limit the factor from below."""
    return np.maximum(1.8 - spacing, np.maximum(1.2, 0.5 * spacing))


@DOC.clause("X3", title="net thickness", symbol="t_net", status=Status.TEXT)
def net_thickness(*, spacing: Metres, factor: Ratio, peak: Ratio, pressure: MPa, yield_stress: MPa) -> Millimetres:
    """Return the thickness."""
    load = factor * peak * pressure
    return 500.0 * spacing * np.sqrt(load / yield_stress) / (1.0 + spacing / 2.0)


@DOC.clause("X4", title="chosen", symbol="c", status=Status.CHOICE)
def chosen(*, angle: Degrees, thick: Millimetres, wide: Flag) -> Millimetres:
    """Choose by angle."""
    return np.where((angle >= 70.0) & ~wide, thick, -thick * np.sin(np.radians(angle)) ** 2.0)


CHAIN = Chain(
    "demo",
    [
        Quantity(name="hull_area", symbol="area", unit=Unit("label"), meaning="area"),
        Quantity(name="spacing", symbol="s", unit=Unit("m"), meaning="spacing"),
        Quantity(name="pressure", symbol="p", unit=Unit("MPa"), meaning="pressure"),
        Quantity(name="yield_stress", symbol="sigma_y", unit=Unit("MPa"), meaning="yield"),
    ],
    [
        Step(output="factor", clause=area_factor, inputs={"area": "hull_area"}),
        Step(output="peak", clause=peak_factor),
        Step(output="net_mm", clause=net_thickness),
    ],
)


def columns(count: int = 3) -> dict[str, Any]:
    return {
        "hull_area": np.array(["B", "M", "B"])[:count],
        "spacing": np.array([0.4, 0.7, 0.35])[:count],
        "pressure": np.array([5.0]),
        "yield_stress": np.array([355.0]),
    }


def test_units_are_read_from_annotations() -> None:
    assert net_thickness.unit == Unit("mm")
    assert net_thickness.parameters["pressure"] == Unit("MPa")
    assert unit_of(float) is None
    assert unit_of(Metres) == Unit("m")
    assert unit_of(Annotated[float, "a remark", Unit("kt")]) == Unit("kt")
    assert unit_of(Annotated[float, "a remark"]) is None
    assert signature_units(net_thickness.function)["return"] == Unit("mm")


def test_clause_knows_its_place() -> None:
    assert (net_thickness.citation, net_thickness.name) == ("UR X X3", "net_thickness")
    assert {"area_factor", "peak_factor", "net_thickness", "chosen"} <= set(DOC.clauses)


def test_a_clause_without_units_or_with_positional_parameters_is_refused() -> None:
    with pytest.raises(TypeError, match=r"no unit on \['a'\]"):

        @DOC.clause("X9", title="", symbol="", status=Status.TEXT)
        def bare(*, a: FloatArray) -> Metres:
            return a

    with pytest.raises(TypeError, match="not keyword-only"):

        @DOC.clause("X9", title="", symbol="", status=Status.TEXT)
        def positional(a: Metres) -> Metres:
            return a


def test_a_clause_name_is_taken_once() -> None:
    with pytest.raises(ValueError, match="peak_factor is there already"):
        DOC.clause("X2", title="", symbol="", status=Status.TEXT)(peak_factor.function)


def test_run_equals_the_hand_calculation() -> None:
    # hand: 500*0.4*sqrt(1.0*1.4*5/355)/(1+0.2) = 200*0.140421.../1.2
    out = CHAIN.run(columns())
    assert out["net_mm"][0] == pytest.approx(200.0 * (7.0 / 355.0) ** 0.5 / 1.2, rel=1e-12)
    assert out["peak"].tolist() == pytest.approx([1.4, 1.2, 1.45])
    assert CHAIN.outputs == ("factor", "peak", "net_mm")


@given(st.lists(st.floats(0.2, 1.5), min_size=1, max_size=20))
def test_trace_equals_the_columns_bit_for_bit(spacings: list[float]) -> None:
    given_columns = {**columns(), "spacing": np.array(spacings), "hull_area": np.array(["M"])}
    out = CHAIN.run(given_columns)
    for row in range(len(spacings)):
        assert CHAIN.trace(given_columns, row)["net_mm"].value == out["net_mm"][row]


def test_trace_names_parents_cells_and_origins() -> None:
    trace = CHAIN.trace(columns(), 1, {"spacing": "surface: frames 10 and 11"})
    assert trace["factor"].cells[0].where == "UR X Table 1 (area M)"
    assert trace["spacing"].origin == "surface: frames 10 and 11"
    assert trace["spacing"].parents == ()
    assert trace["net_mm"].parents == ("spacing", "factor", "peak", "pressure", "yield_stress")
    order = [node.name for node in trace.upstream("net_mm")]
    assert order[-1] == "net_mm"
    assert order.index("peak") > order.index("spacing")
    assert len(order) == len(set(order)) == len(trace)
    assert list(trace) == [*CHAIN.inputs, *CHAIN.outputs]


def test_traces_join_where_their_numbers_agree() -> None:
    first = Chain("load", [CHAIN.inputs["spacing"]], [Step(output="peak_again", clause=peak_factor)])
    second = Chain(
        "use",
        [Quantity(name="peak_again", symbol="q", unit=Unit("-"), meaning="")],
        [Step(output="twice", clause=_twice)],
    )
    early = first.trace({"spacing": np.array([0.4])}, 0, {"spacing": "surface"})
    late = second.trace({"peak_again": early_value(early)})
    joined = late.after(early)
    assert [n.name for n in joined.upstream("twice")] == ["spacing", "peak_again", "twice"]
    assert joined["spacing"].origin == "surface"
    again = early.after(joined)
    assert again["peak_again"].step is not None
    with pytest.raises(ValueError, match="peak_again is"):
        second.trace({"peak_again": np.array([9.0])}).after(early)


@DOC.clause("X5", title="twice", symbol="w", status=Status.TEXT)
def _twice(*, peak_again: Ratio) -> Ratio:
    """Double it."""
    return 2.0 * peak_again


def early_value(trace: Trace) -> FloatArray:
    return np.array([trace["peak_again"].value])


@pytest.mark.parametrize(
    ("steps", "message"),
    [
        ([Step(output="a", clause=peak_factor, inputs={"spacing": "nowhere"})], "reads nowhere, which nothing gives"),
        ([Step(output="a", clause=peak_factor, inputs={"spacing": "pressure"})], r"pressure \[MPa\] as spacing \[m\]"),
        ([Step(output="spacing", clause=peak_factor)], "spacing is given twice"),
        ([Step(output="a", clause=peak_factor, inputs={"spcing": "spacing"})], "has no parameter"),
    ],
)
def test_a_chain_with_loose_ends_is_refused(steps: list[Step], message: str) -> None:
    with pytest.raises(ValueError, match=message):
        Chain("bad", list(CHAIN.inputs.values()), steps)
