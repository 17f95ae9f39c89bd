"""Calculation lines: formula, numbers, the case that holds, cells, and the terminal's rendering of the same."""

from __future__ import annotations

import numpy as np
import pytest

from beltwright.core.chain import Chain, Quantity, Step, Trace
from beltwright.core.clause import Document
from beltwright.core.provenance import Status
from beltwright.core.ruletable import parse_table
from beltwright.core.units import Degrees, Flag, Label, Metres, Millimetres, MPa, Ratio, Unit
from beltwright.report.calculation import calculation
from beltwright.report.markup import _cell_value, calculation_lines
from beltwright.report.numbers import fixed, number, told
from beltwright.report.symbols import typst_symbol
from beltwright.report.terminal import render_trace

DOC = Document(id="r_1", short="UR R", title="report", edition="1", applicability="tests")
TABLE = parse_table(
    "# document: UR R\n# edition: 1\n# table: T1\n# title: factors\n# read_by: n\n"
    "kind,value,status\nx,0.7,memory\ny,1,text\n",
    "t.csv",
)


@DOC.clause("R1", title="factor", symbol="k_x", status=Status.TEXT, table=TABLE)
def factor(*, kind: Label) -> Ratio:
    """Look-up."""
    return TABLE.numbers(kind)


@DOC.clause("R2", title="thickness", symbol="t_net", status=Status.MEMORY)
def thickness(*, spacing_m: Metres, pressure_mpa: MPa, factor: Ratio, omega_deg: Degrees) -> Millimetres:
    """Two cases, one with a part of its own."""
    share = spacing_m / 2.0
    return np.where(omega_deg >= 70.0, np.maximum(500.0 * share * factor * np.sqrt(pressure_mpa), 10.0), 3.0 * factor)


@DOC.clause("R3", title="greatest", symbol="t", status=Status.TEXT)
def greatest(*, one: Millimetres, two: Millimetres) -> Millimetres:
    """Of two."""
    return np.maximum(one, two)


@DOC.clause("R4", title="whether it is thick", symbol="thick", status=Status.TEXT)
def thick(*, t: Millimetres) -> Flag:
    """Yes or no."""
    return t > 20.0


CHAIN = Chain(
    "r",
    [
        Quantity(name="kind", symbol="kind", unit=Unit("label"), meaning="kind of member"),
        Quantity(name="spacing_m", symbol="s", unit=Unit("m"), meaning="spacing"),
        Quantity(name="pressure_mpa", symbol="p", unit=Unit("MPa"), meaning="pressure"),
        Quantity(name="omega_deg", symbol="Omega", unit=Unit("deg"), meaning="angle"),
    ],
    [
        Step(output="factor", clause=factor),
        Step(output="thickness_1_mm", clause=thickness),
        Step(output="thickness_2_mm", clause=thickness),
        Step(output="greatest_mm", clause=greatest, inputs={"one": "thickness_1_mm", "two": "thickness_2_mm"}),
        Step(output="thick", clause=thick, inputs={"t": "greatest_mm"}),
    ],
)


def traced(omega: float = 88.0, spacing: float = 0.4) -> Trace:
    columns = {
        "kind": np.array(["x"]),
        "spacing_m": np.array([spacing]),
        "pressure_mpa": np.array([4.0]),
        "omega_deg": np.array([omega]),
    }
    return CHAIN.trace(columns, origins={"spacing_m": "arrangement"})


def line(name: str, omega: float = 88.0):  # type: ignore[no-untyped-def]
    return {found.name: found for found in calculation(traced(omega))}[name]


def test_symbols_numbers_and_value_of_the_case_that_holds() -> None:
    found = line("thickness_1_mm")
    assert found.plain is not None
    assert found.plain.symbols == "max(500·share·k_x·sqrt(p), 10)"
    assert found.plain.numbers == "max(500·0.2·0.7·sqrt(4), 10)"
    assert found.plain.where == (("share", "s/2", "0.4/2", "0.2"),)
    assert found.plain.conditions == ("Omega >= 70",)
    assert found.value_words == "140 mm"  # hand: 500 x 0.2 x 0.7 x 2
    assert found.governing == "500·share·k_x·sqrt(p)"
    assert found.citation == "UR R R2"


def test_the_other_case_leaves_out_what_it_does_not_use() -> None:
    found = line("thickness_1_mm", omega=20.0)
    assert found.plain is not None
    assert (found.plain.symbols, found.plain.numbers, found.plain.where) == ("3·k_x", "3·0.7", ())
    assert found.plain.conditions == ("Omega < 70",)
    assert found.value_words == "2.1 mm"


def test_a_look_up_names_its_cell_and_its_standing() -> None:
    found = line("factor")
    assert found.plain is None
    assert [cell.where for cell in found.cells] == ["UR R T1 (kind x)"]
    assert not found.confirmed
    assert line("greatest_mm").confirmed


def test_parents_of_one_symbol_are_told_apart() -> None:
    found = line("greatest_mm")
    assert found.plain is not None
    assert found.plain.symbols == "max(t_net,1, t_net,2)"


def test_a_step_may_carry_a_symbol_of_its_own() -> None:
    """The symbol of the step stands in its own line, in the formulas it feeds and on the terminal."""
    steps = [
        Step(output="factor", clause=factor),
        Step(output="second_mm", clause=thickness, symbol="t_2,net"),
        Step(output="greatest_mm", clause=greatest, inputs={"one": "second_mm", "two": "second_mm"}),
    ]
    trace = Chain("r", list(CHAIN.inputs.values()), steps).trace(
        {"kind": np.array(["x"]), "spacing_m": np.array([0.4]), "pressure_mpa": np.array([4.0]),
         "omega_deg": np.array([88.0])}
    )  # fmt: skip
    lines = {found.name: found for found in calculation(trace)}
    assert lines["second_mm"].symbol == "t_2,net"
    assert lines["greatest_mm"].plain is not None
    assert lines["greatest_mm"].plain.symbols == "max(t_2,net, t_2,net)"
    assert any(text.startswith("t_2,net = 140 mm ") for text in render_trace(trace, "greatest_mm"))
    assert lines["factor"].symbol == "k_x"  # without one, the clause's


def test_inputs_say_where_they_come_from() -> None:
    found = line("spacing_m")
    assert (found.origin, found.citation, found.value_words) == ("arrangement", "", "0.4 m")


def test_known_numbers_and_what_only_they_need_are_not_told_again() -> None:
    names = [found.name for found in calculation(traced(), ["greatest_mm"], known={"thickness_1_mm", "thickness_2_mm"})]
    assert names == ["greatest_mm"]


def test_parents_stand_before_children() -> None:
    names = [found.name for found in calculation(traced(), ["thick"])]
    assert names.index("factor") < names.index("thickness_1_mm") < names.index("greatest_mm") < names.index("thick")


def test_the_terminal_tells_the_number_first_and_the_inputs_last() -> None:
    lines = render_trace(traced(), "greatest_mm")
    assert lines[0] == "t = 140 mm   greatest, UR R R3"
    assert "    = max(140, 140)" in lines
    assert "    with share = s/2 = 0.4/2 = 0.2" in lines
    assert "    from UR R T1 (kind x)" in lines
    assert any(text.endswith("[not confirmed from the printed page]") for text in lines)
    inputs = lines[lines.index("Inputs") + 1 :]
    assert sorted(text.split()[0] for text in inputs) == ["Omega", "kind", "p", "s"]
    assert "  s = 0.4 m  spacing (arrangement)" in inputs


def test_the_booklet_tells_the_same() -> None:
    source = calculation_lines(calculation(traced(), ["thick"]))
    assert 'display(t_("net") = max(500 dot "share" dot k_(x) dot sqrt(p), 10) = ' in source
    assert 'max(500 dot 0.2 dot 0.7 dot sqrt(4), 10) = "140 mm")' in source
    assert '#answer(meaning: "whether it is thick", value: "yes"' in source


@pytest.mark.parametrize(
    ("symbol", "mathematics"),
    [
        ("sigma_y", "sigma_(y)"),
        ("beta'", "beta'"),
        ("beta'_1", 'beta\'_("1")'),
        ("AF", '"AF"'),
        ("P_avg,Bow", 'P_("avg", "Bow")'),
        ("area of AF", '"area of AF"'),
        ("D", "D"),
        ("a_1", 'a_("1")'),
        ("", '""'),
    ],
)
def test_symbols_as_mathematics(symbol: str, mathematics: str) -> None:
    assert typst_symbol(symbol) == mathematics


@pytest.mark.parametrize(
    ("value", "text"),
    [
        (24.401021, "24.401"),
        (0.000123456, "0.00012346"),
        (7058000.0, "7058000"),
        (0.0, "0"),
        (6.1e-17, "0"),
        (-3.5, "-3.5"),
        (True, "yes"),
        (False, "no"),
        ("", "–"),
        ("B", "B"),
        (99999.6, "100000"),
    ],
)
def test_numbers_have_five_digits_and_no_exponent(value: float | str | bool, text: str) -> None:
    assert number(value) == text


@pytest.mark.parametrize("value", [float("nan"), float("inf"), -float("inf")])
def test_a_number_that_is_none_is_never_printed(value: float) -> None:
    with pytest.raises(ValueError, match="cannot be printed"):
        number(value)
    with pytest.raises(ValueError, match="cannot be printed"):
        fixed(value, 2)
    assert "nan" not in told(value)
    assert "inf" not in told(value)


def test_fixed_decimals_have_a_true_minus_and_no_minus_zero() -> None:
    assert (fixed(-1.25, 1), fixed(-0.004, 2), fixed(2.0, 0)) == ("−1.2", "0.00", "2")


def test_a_cell_without_limit_is_told_in_words() -> None:
    assert _cell_value(float("inf")) == "without limit"
    assert _cell_value(None) == "blank"
    assert _cell_value("II") == "II"
