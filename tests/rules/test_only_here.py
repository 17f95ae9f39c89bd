"""No rule-set name stands outside the rules and their registration, and no word of one where every rule set is served.

What the program does for one document it does for the other: whoever asked which rule set it is would break that.
"""

from __future__ import annotations

import ast
import re
from collections.abc import Iterator
from functools import cache
from pathlib import Path

import pytest

import beltwright
from beltwright.rules.registry import available, rule_set

SOURCE = Path(beltwright.__file__).parent
RULES = SOURCE / "rules"
FILES = sorted(path for path in SOURCE.rglob("*") if path.suffix in (".py", ".json", ".typ", ".toml", ".csv"))
OUTSIDE = [path for path in FILES if RULES not in path.parents]
SERVING_ALL = ("arrangement", "scantlings", "sizing", "weights", "drawing", "report", "app", "store")


def names() -> list[str]:
    """The ids of the registered rule sets."""
    return [name for name in available() if (RULES / name).is_dir()]


def words() -> list[str]:
    """Classes, document names and document ids of the registered rule sets."""
    found: dict[str, None] = {}
    for name in names():
        rules = rule_set(name)
        found |= dict.fromkeys(rules.classes)
        found |= dict.fromkeys(text for document in rules.documents for text in (document.short, document.id))
    return list(found)


def spoken(source: str) -> Iterator[tuple[int, str]]:
    """Every word of code that is run: names, attributes and text, with its line; no comment and no docstring."""
    tree = ast.parse(source)
    told = {
        id(node.body[0].value)
        for node in ast.walk(tree)
        if isinstance(node, ast.Module | ast.ClassDef | ast.FunctionDef | ast.AsyncFunctionDef)
        and node.body
        and isinstance(node.body[0], ast.Expr)
    }
    for node in ast.walk(tree):
        if isinstance(node, ast.Constant) and isinstance(node.value, str) and id(node) not in told:
            yield node.lineno, node.value
        elif isinstance(node, ast.Name):
            yield node.lineno, node.id
        elif isinstance(node, ast.Attribute):
            yield node.lineno, node.attr


@cache
def pattern() -> re.Pattern[str]:
    """Any of the words, standing by itself; of two that begin alike the longer one."""
    longest_first = sorted(words(), key=len, reverse=True)
    return re.compile(rf"(?<![A-Za-z0-9])(?:{'|'.join(map(re.escape, longest_first))})(?![A-Za-z0-9])")


def test_there_are_rule_sets_and_files_to_look_at() -> None:
    assert {"baltic_traficom_2021", "polar_iacs_2016", "polar_iacs_2019"} <= set(names())
    assert {"PC4", "IA Super", "IA", "FSICR", "UR I2"} <= set(words())
    rooms = {path.relative_to(SOURCE).parts[0] for path in OUTSIDE}
    assert set(SERVING_ALL) <= rooms
    assert len(OUTSIDE) > 200


@pytest.mark.parametrize("name", names())
def test_no_rule_set_is_named_outside_the_rules(name: str) -> None:
    assert [str(path.relative_to(SOURCE)) for path in OUTSIDE if name in path.read_text("utf-8")] == []


@pytest.mark.parametrize("room", SERVING_ALL)
def test_no_word_of_a_rule_set_where_all_are_served(room: str) -> None:
    found = [
        f"{path.relative_to(SOURCE)}:{line}: {text!r}"
        for path in sorted((SOURCE / room).rglob("*.py"))
        for line, text in spoken(path.read_text("utf-8"))
        if pattern().search(text)
    ]
    assert found == []


def test_a_name_and_a_word_would_be_found() -> None:
    code = (
        '"""PC4 in a docstring."""\n# PC4 in a comment\nif design.rules.classes[0] == "PC1": told = f"{a} IA Super"\n'
    )
    assert [pattern().findall(text) for _, text in spoken(code) if pattern().search(text)] == [["PC1"], ["IA Super"]]
    assert not pattern().search("MATERIAL")
