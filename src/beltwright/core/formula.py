"""The printed formula, derived from the clause's own source: it is not written a second time.

A clause function is a few assignments and one return expression. That expression, read as a syntax tree, is rendered
as plain text or as typst mathematics, with symbols or with numbers in place of the names.
"""

from __future__ import annotations

import ast
import copy
import inspect
import textwrap
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import cache
from typing import Any

import numpy as np

from beltwright.core.clause import Clause

_FUNCTIONS = {
    "sqrt": "sqrt", "sin": "sin", "cos": "cos", "tan": "tan", "arctan": "arctan", "arccos": "arccos",
    "arcsin": "arcsin", "minimum": "min", "maximum": "max", "abs": "abs", "exp": "exp", "log": "ln", "clip": "clip",
    "ceil": "ceil",
    "interp": "interpolation",
    "sum": "sum",
}  # fmt: skip
_LOOK_UPS = ("numbers", "words", "has_value")
_SILENT = {"radians", "asarray"}
_COMPARE = {ast.Lt: "<", ast.LtE: "<=", ast.Gt: ">", ast.GtE: ">=", ast.Eq: "=", ast.NotEq: "!="}
_OPPOSITE: Mapping[type[ast.cmpop], type[ast.cmpop]] = {
    ast.Lt: ast.GtE, ast.LtE: ast.Gt, ast.Gt: ast.LtE, ast.GtE: ast.Lt, ast.Eq: ast.NotEq, ast.NotEq: ast.Eq,
}  # fmt: skip
_PRECEDENCE = {ast.Add: 1, ast.Sub: 1, ast.Mult: 2, ast.Div: 2, ast.USub: 3, ast.Pow: 4}


@dataclass(frozen=True, slots=True)
class Formula:
    """A clause's syntax tree: the named intermediate expressions in order, and the returned one."""

    where: tuple[tuple[str, ast.expr], ...]
    result: ast.expr


@dataclass(frozen=True, slots=True, kw_only=True)
class Branch:
    """One argument of a min, max or case distinction: its formula, its value (or word) and whether it governs."""

    text: str
    value: float | str
    governs: bool


@cache
def formula_of(clause: Clause[Any, Any]) -> Formula:
    """Return the formula of a clause; raises ValueError for a body that is more than assignments and a return."""
    tree = ast.parse(textwrap.dedent(inspect.getsource(clause.function))).body[0]
    assert isinstance(tree, ast.FunctionDef)
    where: list[tuple[str, ast.expr]] = []
    for statement in tree.body:
        if isinstance(statement, ast.Expr) and isinstance(statement.value, ast.Constant):
            continue
        if isinstance(statement, ast.Assign) and isinstance(statement.targets[0], ast.Name):
            where.append((statement.targets[0].id, statement.value))
        elif isinstance(statement, ast.AnnAssign) and isinstance(statement.target, ast.Name) and statement.value:
            where.append((statement.target.id, statement.value))
        elif isinstance(statement, ast.Return) and statement.value is not None:
            return Formula(tuple(where), statement.value)
        else:
            raise ValueError(f"{clause.name}: line {statement.lineno} cannot be printed as a formula")
    raise ValueError(f"{clause.name}: no return expression")


def plain(expression: ast.expr, names: Mapping[str, str]) -> str:
    """Return an expression as one line of plain text, names replaced as given (symbols or numbers)."""
    return _Plain(names).render(expression, 0)


def typst(expression: ast.expr, names: Mapping[str, str]) -> str:
    """Return an expression as typst mathematics, names replaced by typst source as given."""
    return _Typst(names).render(expression, 0)


def branches(
    clause: Clause[Any, Any], values: Mapping[str, Any], names: Mapping[str, str], expression: ast.expr | None = None
) -> tuple[Branch, ...]:
    """Return the arguments of the clause's outermost min, max or case distinction with their values; else nothing.

    ``values`` are length-1 arrays by parameter name; ``expression`` is a part of the clause's formula to look at
    instead of the whole.
    """
    scope = _scope(clause, values)
    call = formula_of(clause).result if expression is None else expression
    if not (isinstance(call, ast.Call) and _called(call) in ("minimum", "maximum", "where")):
        return ()
    if _called(call) == "where":
        condition, yes, no = call.args
        chosen = bool(np.all(_evaluate(condition, scope)))
        test = plain(condition, names)
        return (
            Branch(text=f"{plain(yes, names)} if {test}", value=_value(yes, scope), governs=chosen),
            Branch(text=f"{plain(no, names)} otherwise", value=_value(no, scope), governs=not chosen),
        )
    parts = [part for argument in call.args for part in _flat(argument, _called(call))]
    numbers = [float(_value(part, scope)) for part in parts]
    best = min(numbers) if _called(call) == "minimum" else max(numbers)
    return tuple(
        Branch(text=plain(part, names), value=number, governs=number == best)
        for part, number in zip(parts, numbers, strict=True)
    )


def intermediates(clause: Clause[Any, Any], values: Mapping[str, Any]) -> dict[str, Any]:
    """Return the value of each intermediate name of a clause, as the plain value of its only element.

    ``values`` are length-1 arrays by parameter name.
    """
    scope = _scope(clause, values)
    return {name: np.asarray(scope[name]).reshape(-1)[0].item() for name, _ in formula_of(clause).where}


@dataclass(frozen=True, slots=True)
class Case:
    """What an expression comes to for given values: what is left of it, and the conditions that led there."""

    result: ast.expr
    conditions: tuple[tuple[ast.expr, bool], ...]


def case_of(clause: Clause[Any, Any], values: Mapping[str, Any], expression: ast.expr | None = None) -> Case:
    """Return the expression left when every case distinction in it is settled, with each condition's answer.

    ``values`` are length-1 arrays by parameter name; ``expression`` is a part of the clause's formula to settle instead
    of the whole.
    """
    whole = formula_of(clause).result if expression is None else expression
    if not any(isinstance(part, ast.Call) and _called(part) == "where" for part in ast.walk(whole)):
        return Case(whole, ())
    settling = _Settling(_scope(clause, values))
    settled: ast.expr = settling.visit(copy.deepcopy(whole))
    return Case(settled, tuple(settling.conditions))


def parameters_used(clause: Clause[Any, Any], values: Mapping[str, Any]) -> frozenset[str]:
    """Return the parameters that play a part for given values: those of the case that holds and of its conditions.

    ``values`` are length-1 arrays by parameter name. A body that is no formula uses all its parameters.
    """
    try:
        formula = formula_of(clause)
    except ValueError:
        return frozenset(clause.parameters)
    case = case_of(clause, values)
    left = [case.result, *(condition for condition, _ in case.conditions)]
    inner, used = dict(formula.where), set[str]()
    while left:
        for part in ast.walk(left.pop()):
            if isinstance(part, ast.Name) and part.id not in used:
                used.add(part.id)
                if part.id in inner:
                    settled = case_of(clause, values, inner[part.id])
                    left += [settled.result, *(condition for condition, _ in settled.conditions)]
    return frozenset(used & set(clause.parameters))


def reasons(
    clause: Clause[Any, Any], values: Mapping[str, Any], condition: ast.expr, holds: bool
) -> tuple[ast.expr, ...]:
    """Return the plain comparisons and flags that make a condition hold, or fail, each as it is true.

    Of several that must all hold the first that does not is enough to fail; of several of which one is enough, the
    first that holds. A named intermediate condition is followed into what it is made from.
    """
    return tuple(_reasons(condition, holds, _scope(clause, values), dict(formula_of(clause).where)))


def _reasons(
    condition: ast.expr, holds: bool, scope: dict[str, Any], inner: Mapping[str, ast.expr]
) -> Iterator[ast.expr]:
    """The reasons one by one."""
    match condition:
        case ast.UnaryOp(op=ast.Invert() | ast.Not(), operand=operand):
            yield from _reasons(operand, not holds, scope, inner)
        case ast.BinOp(left=left, op=ast.BitAnd() | ast.BitOr() as op, right=right):
            parts = [left, right]
            if isinstance(op, ast.BitAnd) is not holds:  # one part is enough
                parts = [next(part for part in parts if bool(np.all(_evaluate(part, scope))) is holds)]
            for part in parts:
                yield from _reasons(part, holds, scope, inner)
        case ast.Name(id=name) if name in inner and isinstance(inner[name], ast.BinOp | ast.Compare | ast.UnaryOp):
            yield from _reasons(inner[name], holds, scope, inner)
        case ast.Compare(left=left, ops=[op], comparators=others) if not holds:
            yield ast.Compare(left=left, ops=[_OPPOSITE[type(op)]()], comparators=others)
        case _:
            yield condition if holds else ast.UnaryOp(op=ast.Not(), operand=condition)


class _Settling(ast.NodeTransformer):
    """Replaces case distinctions by the branch that holds, and keeps the conditions asked on the way."""

    def __init__(self, scope: dict[str, Any]) -> None:
        self.scope = scope
        self.conditions: list[tuple[ast.expr, bool]] = []

    def visit_Call(self, node: ast.Call) -> ast.AST:
        """Settle one call if it is a case distinction, else its arguments."""
        if _called(node) != "where":
            return self.generic_visit(node)
        condition, yes, no = node.args
        holds = bool(np.all(_evaluate(condition, self.scope)))
        self.conditions.append((condition, holds))
        settled: ast.AST = self.visit(yes if holds else no)
        return settled


def with_cell_values(clause: Clause[Any, Any], expression: ast.expr, values: Mapping[str, Any]) -> ast.expr:
    """Return a clause's expression with each look-up in a table replaced by the value found there."""
    if not any(isinstance(part, ast.Call) and _called(part) in _LOOK_UPS for part in ast.walk(expression)):
        return expression
    filled: ast.expr = _Cells(_scope(clause, values)).visit(copy.deepcopy(expression))
    return filled


class _Cells(ast.NodeTransformer):
    """Replaces look-ups by their values."""

    def __init__(self, scope: dict[str, Any]) -> None:
        self.scope = scope

    def visit_Call(self, node: ast.Call) -> ast.expr:
        """Fill one call if it is a look-up, else its arguments."""
        if _called(node) in _LOOK_UPS:
            return ast.Constant(value=_value(node, self.scope))
        self.generic_visit(node)
        return node


def _scope(clause: Clause[Any, Any], values: Mapping[str, Any]) -> dict[str, Any]:
    """What a clause's expressions see: its module, its parameters and its intermediate names."""
    scope = {**clause.function.__globals__, **values}
    for name, expression in formula_of(clause).where:
        scope[name] = _evaluate(expression, scope)
    return scope


def _flat(expression: ast.expr, kind: str) -> list[ast.expr]:
    """The arguments of nested calls of one kind, as one list: min(a, min(b, c)) has three."""
    if isinstance(expression, ast.Call) and _called(expression) == kind:
        return [part for argument in expression.args for part in _flat(argument, kind)]
    return [expression]


def _called(call: ast.Call) -> str:
    """The bare name of a called function."""
    return call.func.attr if isinstance(call.func, ast.Attribute) else getattr(call.func, "id", "")


def _evaluate(expression: ast.expr, scope: dict[str, Any]) -> Any:
    """The value of a sub-expression of a clause's own source."""
    code = compile(ast.Expression(expression), "<clause>", "eval")
    return eval(code, scope)  # noqa: S307 - the source is the clause itself, never user input


def _value(expression: ast.expr, scope: dict[str, Any]) -> float | str:
    """The value of a sub-expression as a number, or as a word where it is one."""
    value = np.asarray(_evaluate(expression, scope)).reshape(-1)[0].item()
    return value if isinstance(value, str) else float(value)


class _Plain:
    """Renders an expression as plain text; the typst renderer overrides the pieces that look different."""

    def __init__(self, names: Mapping[str, str]) -> None:
        self.names = names

    def render(self, node: ast.expr, outer: int) -> str:
        """Render a node inside an operator of binding strength ``outer``."""
        match node:
            case ast.BinOp(left=left, op=op, right=right):
                return self.binary(left, op, right, outer)
            case ast.UnaryOp(op=ast.USub(), operand=operand):
                return self.bracket("-" + self.render(operand, 3), outer >= 2)
            case ast.UnaryOp(op=ast.Invert() | ast.Not(), operand=operand):
                return f"not {self.render(operand, 9)}"
            case ast.Constant(value=value):
                return self.constant(value)
            case ast.Name(id=name):
                return self.names.get(name, self.unnamed(name))
            case ast.Compare(left=left, ops=[op], comparators=[right]):
                return f"{self.render(left, 0)} {self.sign(op)} {self.render(right, 0)}"
            case ast.Call():
                return self.call(node, outer)
            case ast.Attribute(attr=attr):
                return self.names.get(attr, attr)
        raise ValueError(f"{ast.dump(node)} cannot be printed")

    def binary(self, left: ast.expr, op: ast.operator, right: ast.expr, outer: int) -> str:
        """Render an operator between two expressions."""
        if isinstance(op, ast.BitAnd | ast.BitOr):
            word = "and" if isinstance(op, ast.BitAnd) else "or"
            return f"({self.render(left, 0)} {word} {self.render(right, 0)})"
        strength = _PRECEDENCE[type(op)]
        match op:
            case ast.Pow():
                text = self.power(left, right)
            case ast.Div():
                text = self.fraction(left, right)
            case ast.Mult():
                text = f"{self.render(left, 2)}{self.times}{self.render(right, 2)}"
            case ast.Add():
                text = f"{self.render(left, 1)} + {self.render(right, 1)}"
            case _:
                text = f"{self.render(left, 1)} - {self.render(right, 2)}"
        return self.bracket(text, strength < outer and not self.closed(op))

    def unnamed(self, name: str) -> str:
        """Render a name that stands for no number of the calculation, such as a constant of the module."""
        return name

    times = "·"

    def closed(self, op: ast.operator) -> bool:
        """Whether the rendered operator needs no brackets by its own shape."""
        return False

    def power(self, base: ast.expr, exponent: ast.expr) -> str:
        """Render a power."""
        return f"{self.render(base, 5)}^{self.render(exponent, 5)}"

    def fraction(self, left: ast.expr, right: ast.expr) -> str:
        """Render a division."""
        return f"{self.render(left, 2)}/{self.render(right, 3)}"

    def sign(self, op: ast.cmpop) -> str:
        """Render a comparison sign."""
        return _COMPARE[type(op)]

    def bracket(self, text: str, needed: bool) -> str:
        """Put brackets where they are needed."""
        return f"({text})" if needed else text

    def constant(self, value: object) -> str:
        """Render a number or a word of the source."""
        return f"{value:g}" if isinstance(value, int | float) else str(value)

    def call(self, node: ast.Call, outer: int) -> str:
        """Render a function call."""
        name = _called(node)
        if name in _SILENT:
            return self.render(node.args[0], outer)
        if name == "where":
            condition, yes, no = node.args
            return self.cases(condition, yes, no)
        if name in _LOOK_UPS:
            return self.function("table", [self.render(a, 0) for a in node.args])
        if name not in _FUNCTIONS:
            raise ValueError(f"function {name} cannot be printed")
        arguments = [p for a in node.args for p in _flat(a, name)] if name in ("minimum", "maximum") else node.args
        return self.function(_FUNCTIONS[name], [self.render(a, 0) for a in arguments])

    def cases(self, condition: ast.expr, yes: ast.expr, no: ast.expr) -> str:
        """Render a case distinction."""
        return f"[{self.render(yes, 0)} if {self.render(condition, 0)}, else {self.render(no, 0)}]"

    def function(self, name: str, arguments: list[str]) -> str:
        """Render a named function."""
        return f"{name}({', '.join(arguments)})"


class _Typst(_Plain):
    """Renders an expression as typst mathematics."""

    times = " dot "

    def unnamed(self, name: str) -> str:
        return f'"{name}"'

    def closed(self, op: ast.operator) -> bool:
        return False

    def power(self, base: ast.expr, exponent: ast.expr) -> str:
        return f"{self.render(base, 5)}^({self.render(exponent, 0)})"

    def fraction(self, left: ast.expr, right: ast.expr) -> str:
        return f"frac({self.render(left, 0)}, {self.render(right, 0)})"

    def sign(self, op: ast.cmpop) -> str:
        return {"=": "=", "!=": "!="}.get(_COMPARE[type(op)], _COMPARE[type(op)])

    def constant(self, value: object) -> str:
        return f"{value:g}" if isinstance(value, int | float) else f'"{value}"'

    def cases(self, condition: ast.expr, yes: ast.expr, no: ast.expr) -> str:
        return f'cases({self.render(yes, 0)} & "if" {self.render(condition, 0)}, {self.render(no, 0)} & "otherwise")'

    def function(self, name: str, arguments: list[str]) -> str:
        words = ("table", "clip", "interpolation")  # the others are functions of typst's own
        known = f'"{name}"' if name in words else name
        return f"{known}({', '.join(arguments)})"
