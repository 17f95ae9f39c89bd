"""The page that lists every clause that is coded, how far it is known, and where its tests are.

What a rule document holds and this program does not is listed too, from the ``not_coded.csv`` of its package.
"""

from __future__ import annotations

import csv
import inspect
import re
from collections.abc import Iterator
from functools import cache
from importlib.resources import files
from pathlib import Path
from typing import Any

from beltwright.core.clause import Clause, Document
from pages._modules import every_module, table

ROOT = Path(__file__).resolve().parent.parent.parent
TESTS = ROOT / "tests"
INTRO = """# Rules that are coded

Every printed equation or table look-up is one function. *Known from* says how far the clause has been confirmed:
`printed` seen on the page, `text` read in a published text of the document, `secondary` read in another publication
that repeats it, `memory-checked` recalled and consistent with a separate derivation, `memory` recalled only, `computed`
follows from other clauses, `choice` a decision of this program where the document is silent.
"""


def page() -> str:
    """Give the page as Markdown."""
    parts = [INTRO]
    for package, document in documents():
        parts.append(f"\n## {document.short}: {document.title}\n\n{document.edition}; {document.applicability}.\n")
        parts.append(f"Package `{package}`.\n\n")
        rows = [_row(clause) for clause in sorted(document.clauses.values(), key=_place)]
        parts.append(table(["clause", "what", "symbol", "unit", "function", "known from", "tests", "remark"], rows))
        missing = not_coded(package, document.id)
        if missing:
            parts.append("\n### Not coded\n\n" + table(["clause", "what", "remark"], missing))
    if len(parts) == 1:
        parts.append("\nNo rule package is there yet.\n")
    return "".join(parts)


def documents() -> Iterator[tuple[str, Document]]:
    """Yield each document once, with the package that holds it, in the order of the packages."""
    seen: set[str] = set()
    for module in every_module("beltwright.rules"):
        for value in vars(module).values():
            if isinstance(value, Document) and value.id not in seen:
                seen.add(value.id)
                yield ".".join(module.__name__.split(".")[:3]), value


def not_coded(package: str, document: str) -> list[list[str]]:
    """Read what of a document is not coded: rows of clause, what, remark."""
    return [[row["ref"], row["what"], row["remark"]] for row in rows_not_coded(package) if row["document"] == document]


def rows_not_coded(package: str) -> list[dict[str, str]]:
    """Read a rule package's list of what is not coded; empty if it has none."""
    source = files(package) / "not_coded.csv"
    if not source.is_file():
        return []
    return list(csv.DictReader(line for line in source.read_text("utf-8").splitlines() if not line.startswith("#")))


def tests_of(clause: Clause[Any, Any]) -> list[str]:
    """Name the test files that name the function."""
    return [name for name, words in words_of_tests().items() if clause.name in words]


@cache
def words_of_tests() -> dict[str, frozenset[str]]:
    """Give the words of each test file, by its name."""
    paths = sorted(TESTS.rglob("test_*.py"))
    return {str(path.relative_to(TESTS)): frozenset(re.findall(r"\w+", path.read_text("utf-8"))) for path in paths}


def _place(clause: Clause[Any, Any]) -> tuple[list[tuple[int, str]], int]:
    """Where the function stands in the source, chapter 2 before chapter 11; not the order in which modules loaded."""
    parts = re.findall(r"\d+|\D+", clause.function.__module__)
    return [(int(p), "") if p.isdigit() else (-1, p) for p in parts], inspect.unwrap(
        clause.function
    ).__code__.co_firstlineno


def _row(clause: Clause[Any, Any]) -> list[str]:
    tests = ", ".join(f"`{name}`" for name in tests_of(clause)) or "none"
    function = f"`{clause.function.__module__.removeprefix('beltwright.rules.')}.{clause.name}`"
    unit = "" if clause.unit.symbol == "-" else clause.unit.symbol
    return [clause.ref, clause.title, clause.symbol, unit, function, clause.status.value, tests, clause.note]
