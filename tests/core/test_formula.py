"""The printed formula comes from the source; every shape of expression, and the branch that governs."""

from __future__ import annotations

import ast

import numpy as np
import pytest

from beltwright.core.clause import Document
from beltwright.core.formula import (
    branches,
    case_of,
    formula_of,
    intermediates,
    parameters_used,
    plain,
    reasons,
    typst,
    with_cell_values,
)
from beltwright.core.provenance import Status
from beltwright.core.ruletable import parse_table
from beltwright.core.units import Degrees, Flag, Label, Metres, Ratio

DOC = Document(id="f_1", short="UR F", title="formulas", edition="1", applicability="tests")


def _clause(function):  # type: ignore[no-untyped-def]
    return DOC.clause("F", title="t", symbol="y", status=Status.TEXT)(function)


@_clause
def three_way(*, a: Ratio, b: Ratio, c: Ratio) -> Ratio:
    """Least of three."""
    return np.minimum(a, np.minimum(b * c, 0.6))


@_clause
def by_case(*, angle: Degrees, a: Ratio) -> Ratio:
    """Case."""
    half: Ratio = a / 2.0
    return np.where(angle <= 20.0, half, a)


@_clause
def smooth(*, a: Ratio) -> Ratio:
    """No branch."""
    return a + 1.0


@_clause
def looped(*, a: Ratio) -> Ratio:
    """Not a formula."""
    for _ in range(2):
        a = a + 1.0
    return a


@_clause
def endless(*, a: Ratio) -> Ratio:
    """Not a formula either."""
    b = a  # noqa: F841


CELLS = parse_table(
    "# document: UR F\n# edition: 1\n# table: T1\n# title: t\n# read_by: n\n"
    "kind,limit,value,status\nx,least,0.7,text\n",
    "t.csv",
)
NAMES = {"a": "a", "b": "b", "s": "s", "D": "D_UI"}


@pytest.mark.parametrize(
    ("source", "text", "mathematics"),
    [
        ("a + b * s", "a + b·s", "a + b dot s"),
        ("(a + b) * s", "(a + b)·s", "(a + b) dot s"),
        ("a - (b - s)", "a - (b - s)", "a - (b - s)"),
        ("a - b - s", "a - b - s", "a - b - s"),
        ("a / (b * s)", "a/(b·s)", "frac(a, b dot s)"),
        ("a / b / s", "a/b/s", "frac(frac(a, b), s)"),
        ("(a / b) ** 2.0", "(a/b)^2", "(frac(a, b))^(2)"),
        ("-a ** 0.64", "-a^0.64", "-a^(0.64)"),
        ("(-a) ** 2.0", "(-a)^2", "(-a)^(2)"),
        ("D ** (1.0 - b)", "D_UI^(1 - b)", "D_UI^(1 - b)"),
        ("2.0 * -a", "2·(-a)", "2 dot (-a)"),
        ("np.sqrt(a / b)", "sqrt(a/b)", "sqrt(frac(a, b))"),
        ("np.sin(np.radians(a))", "sin(a)", "sin(a)"),
        ("np.minimum(a, np.minimum(b, s))", "min(a, b, s)", "min(a, b, s)"),
        ("np.where(a >= 7e1, b, s)", "[b if a >= 70, else s]", 'cases(b & "if" a >= 70, s & "otherwise")'),
        ("np.where(~a, b, s)", "[b if not a, else s]", 'cases(b & "if" not a, s & "otherwise")'),
        ("np.where((a > 1.0) | (b != 2.0), b, s)", "[b if (a > 1 or b != 2), else s]", None),
        ("np.where(a == 'PC4', b, s)", "[b if a = PC4, else s]", 'cases(b & "if" a = "PC4", s & "otherwise")'),
        ("TABLE.numbers(a, b)", "table(a, b)", '"table"(a, b)'),
        ("np.clip(a, 0.0, b)", "clip(a, 0, b)", '"clip"(a, 0, b)'),
        ("LIMITS.a + 1.0", "a + 1", "a + 1"),
    ],
)
def test_expressions(source: str, text: str, mathematics: str | None) -> None:
    tree = ast.parse(source, mode="eval").body
    assert plain(tree, NAMES) == text
    if mathematics is not None:
        assert typst(tree, NAMES) == mathematics


@pytest.mark.parametrize("source", ["[a]", "np.cumsum(a)", "a < b < s"])
def test_what_cannot_be_printed_is_refused(source: str) -> None:
    with pytest.raises(ValueError, match="cannot be printed"):
        plain(ast.parse(source, mode="eval").body, NAMES)


@_clause
def graded_case(*, a: Ratio, b: Ratio, word: Label, on: Flag) -> Ratio:
    """Every shape of condition."""
    thick = a > 5.0
    both = thick & on
    return np.where(both | (word == "x"), a, np.where(~on & (b <= a), b, 0.0))


@pytest.mark.parametrize(
    ("a", "b", "word", "on", "told"),
    [
        (6.0, 0.0, "y", True, ["a > 5", "on"]),  # both parts of an "and" are told, through the names between
        (4.0, 0.0, "x", True, ["word = x"]),  # of an "or" the part that holds
        (4.0, 3.0, "y", False, ["a <= 5", "word != x", "not on", "b <= a"]),  # of an "and" that fails the first part
        (6.0, 7.0, "y", False, ["not on", "word != x", "b > a"]),
        (4.0, 3.0, "y", True, ["a <= 5", "word != x", "on"]),
    ],
)
def test_conditions_are_told_by_what_makes_them_true(a: float, b: float, word: str, on: bool, told: list[str]) -> None:
    values = {"a": np.array([a]), "b": np.array([b]), "word": np.array([word]), "on": np.array([on])}
    case = case_of(graded_case, values)
    found = [one for condition, holds in case.conditions for one in reasons(graded_case, values, condition, holds)]
    assert list(dict.fromkeys(plain(one, {}) for one in found)) == told


def test_formula_keeps_intermediate_names() -> None:
    formula = formula_of(by_case)
    assert [name for name, _ in formula.where] == ["half"]
    assert plain(formula.result, {"angle": "Omega"}) == "[half if Omega <= 20, else a]"


@pytest.mark.parametrize(("clause", "message"), [(looped, "line 4 cannot be printed"), (endless, "no return")])
def test_a_body_that_is_no_formula_is_refused(clause, message: str) -> None:  # type: ignore[no-untyped-def]
    with pytest.raises(ValueError, match=message):
        formula_of(clause)


def one(value: float) -> np.ndarray:
    return np.array([value])


def test_the_governing_argument_of_a_nested_minimum() -> None:
    found = branches(three_way, {"a": one(0.9), "b": one(0.5), "c": one(0.8)}, {"a": "f_1", "b": "f_2", "c": "k"})
    assert [(b.text, b.value, b.governs) for b in found] == [
        ("f_1", 0.9, False),
        ("f_2·k", 0.4, True),
        ("0.6", 0.6, False),
    ]


@pytest.mark.parametrize(("angle", "governs"), [(20.0, [True, False]), (20.1, [False, True])])
def test_the_governing_case(angle: float, governs: list[bool]) -> None:
    found = branches(by_case, {"angle": one(angle), "a": one(3.0)}, {"angle": "Omega"})
    assert [b.governs for b in found] == governs
    assert [b.value for b in found] == [1.5, 3.0]
    assert found[0].text == "half if Omega <= 20"


def test_intermediate_values_are_those_of_the_run() -> None:
    assert intermediates(by_case, {"angle": one(10.0), "a": one(3.0)}) == {"half": 1.5}
    assert intermediates(smooth, {"a": one(1.0)}) == {}


@_clause
def nested_cases(*, a: Ratio, b: Ratio) -> Ratio:
    """Cases within cases."""
    return np.where(a > 1.0, b, np.where(b > 1.0, a + b, a - b))


@pytest.mark.parametrize(
    ("a", "b", "text", "answers"),
    [(2.0, 0.0, "b", [True]), (1.0, 2.0, "a + b", [False, True]), (1.0, 1.0, "a - b", [False, False])],
)
def test_the_case_that_holds(a: float, b: float, text: str, answers: list[bool]) -> None:
    found = case_of(nested_cases, {"a": one(a), "b": one(b)})
    assert plain(found.result, {}) == text
    assert [answer for _, answer in found.conditions] == answers


@_clause
def case_in_a_maximum(*, a: Ratio, b: Ratio) -> Ratio:
    """A case inside a maximum."""
    return np.maximum(np.where(a > 1.0, a, b), 0.5)


def test_a_case_inside_another_function_is_settled_too() -> None:
    found = case_of(case_in_a_maximum, {"a": one(2.0), "b": one(3.0)})
    assert plain(found.result, {}) == "max(a, 0.5)"
    assert [(plain(c, {}), holds) for c, holds in found.conditions] == [("a > 1", True)]
    assert plain(formula_of(case_in_a_maximum).result, {}) == "max([a if a > 1, else b], 0.5)"


@_clause
def least_in_a_case(*, a: Ratio, b: Ratio) -> Ratio:
    """A minimum inside a case."""
    return np.where(a > 1.0, np.minimum(a, b), b)


def test_the_branches_of_the_case_that_holds() -> None:
    values = {"a": one(2.0), "b": one(3.0)}
    found = branches(least_in_a_case, values, {}, case_of(least_in_a_case, values).result)
    assert [(b.text, b.governs) for b in found] == [("a", True), ("b", False)]


def test_without_cases_the_formula_itself_holds() -> None:
    assert plain(case_of(smooth, {"a": one(1.0)}).result, {}) == "a + 1"


@_clause
def looked_up(*, key: Label, a: Ratio) -> Ratio:
    """Largest of a cell and a number."""
    return np.maximum(CELLS.numbers(key, "least"), 2.0 * a)


def test_look_ups_are_replaced_by_what_they_find() -> None:
    expression = with_cell_values(looked_up, formula_of(looked_up).result, {"key": np.array(["x"]), "a": one(3.0)})
    assert plain(expression, {"a": "a"}) == "max(0.7, 2·a)"
    assert plain(formula_of(looked_up).result, {"a": "a"}) == "max(table(key, least), 2·a)"


@_clause
def by_word(*, a: Ratio) -> Label:
    """Case with words."""
    return np.where(a > 1.0, "steep", "flat")


def test_a_case_may_choose_between_words() -> None:
    found = branches(by_word, {"a": one(2.0)}, {"a": "a"})
    assert [(b.text, b.value, b.governs) for b in found] == [
        ("steep if a > 1", "steep", True),
        ("flat otherwise", "flat", False),
    ]


def test_no_branch_no_list() -> None:
    assert branches(smooth, {"a": one(1.0)}, {}) == ()
    assert Metres is not None


@_clause
def two_roads(*, angle: Degrees, a: Ratio, b: Ratio, c: Ratio) -> Ratio:
    """Use one road only."""
    left = np.where(a > 1.0, a, b)
    right = 2.0 * c
    return np.where(angle <= 20.0, left, right)


@pytest.mark.parametrize(
    ("angle", "a", "expected"),
    [(10.0, 2.0, {"angle", "a"}), (10.0, 0.5, {"angle", "a", "b"}), (30.0, 2.0, {"angle", "c"})],
)
def test_only_what_plays_a_part_is_used(angle: float, a: float, expected: set[str]) -> None:
    values = {"angle": one(angle), "a": one(a), "b": one(3.0), "c": one(4.0)}
    assert parameters_used(two_roads, values) == expected


def test_a_body_that_is_no_formula_uses_everything() -> None:
    assert parameters_used(looped, {"a": one(1.0)}) == {"a"}
