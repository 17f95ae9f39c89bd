"""No rule set and no ice class is named outside ``rules``: everything else asks the protocol."""

from __future__ import annotations

import io
import tokenize
from pathlib import Path

from beltwright.rules.registry import available, rule_set

SOURCE = Path(__file__).resolve().parents[2] / "src" / "beltwright"
DEFAULT = ("ship/model.py", "polar_iacs_2019")  # what ship.toml means where it names no rule set
ROOMS = ("arrangement", "scantlings", "sizing", "weights", "drawing", "report", "app", "cli", "ship", "store")


def words_of(path: Path) -> set[str]:
    """The words in a module's code, comments and docstrings left out."""
    found: set[str] = set()
    tokens = list(tokenize.generate_tokens(io.StringIO(path.read_text("utf-8")).readline))
    before = tokenize.NEWLINE
    for token in tokens:
        line_start = before in (tokenize.NEWLINE, tokenize.INDENT, tokenize.DEDENT, tokenize.NL)
        if token.type == tokenize.STRING and not line_start:
            text = token.string.strip("rbfRBF").strip("\"'")
            found |= {text, *text.split()}
        if token.type == tokenize.NAME:
            found.add(token.string)
        before = token.type
    return found


def modules() -> list[str]:
    return sorted(str(p.relative_to(SOURCE)) for room in ROOMS for p in (SOURCE / room).rglob("*.py"))


def test_no_rule_set_and_no_class_is_named() -> None:
    names = set(available()) | {ice_class for known in available() for ice_class in rule_set(known).classes}
    found = {(module, name) for module in modules() for name in names & words_of(SOURCE / module)}
    assert found == {DEFAULT}


def test_the_check_sees_a_name() -> None:
    assert "polar_iacs_2019" in words_of(SOURCE / DEFAULT[0])
