"""The page that lists every clause that is coded, how far it is known, and where its tests are.

What a rule document holds and this program does not is listed too, from the ``not_coded.csv`` of its package.
"""

from __future__ import annotations

import csv
import inspect
import re
from collections import Counter
from collections.abc import Iterator
from functools import cache
from importlib.resources import files
from pathlib import Path
from typing import Any

from beltwright.core.clause import Clause, Document
from beltwright.rules.registry import available, rule_set
from pages._modules import every_module, table

ROOT = Path(__file__).resolve().parent.parent.parent
TESTS = ROOT / "tests"
INTRO = """# Rules that are coded

Every printed equation or table look-up is one function. *Known from* says how far the clause has been confirmed:
`printed` seen on the page, `text` read in a published text of the document, `secondary` read in another publication
that repeats it, `memory-checked` recalled and consistent with a separate derivation, `memory` recalled only, `computed`
follows from other clauses, `choice` a decision of this program where the document is silent. What is not `printed`,
`text` or `computed` is not confirmed: it is marked here, in the data, and in every booklet that uses it.

A clause without a function of its own is a *checklist item* (the engineer answers it and the answer is printed),
*handled without a function of its own* (the remark says where), *not a formula*, or *out of scope* for the
reason given. Tests are found by the clause's number, or by the name of what handles it.
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
            head = ["clause", "what", "status", "remark", "tests"]
            parts.append("\n### Clauses without a function of their own\n\n" + table(head, missing))
        tables = printed_tables(package, document)
        if tables:
            head = ["table", "title", "known from, cells", "not confirmed", "how read"]
            parts.append("\n### Printed tables\n\n" + table(head, tables))
    if len(parts) == 1:
        parts.append("\nNo rule package is there yet.\n")
    return "".join([*parts, *editions()])


def editions() -> Iterator[str]:
    """Yield the tables of what differs between editions, one per rule set that states differences."""
    for name in available():
        stated = rule_set(name).differences
        if stated:
            others = [other for other in stated[0].says if other != name]
            yield f"\n## Editions side by side: `{name}` and {', '.join(f'`{other}`' for other in others)}\n\n"
            yield (
                f"A design under `{name}` takes every clause that it does not state itself over from {others[0]}, with "
                "the standing *recalled*. `registry.differences` gives this table to scripts.\n\n"
            )
            head = ["clause", "what", *(f"`{one}`" for one in (name, *others)), "effect on numbers", "known from"]
            rows = [
                [one.clause, one.what, *(one.says[key] for key in (name, *others)), one.effect, one.status.value]
                for one in stated
            ]
            yield table(head, rows)


def documents() -> Iterator[tuple[str, Document]]:
    """Yield each document once, with the package that holds it, in the order of the packages."""
    seen: set[str] = set()
    for module in every_module("beltwright.rules"):
        for value in vars(module).values():
            if isinstance(value, Document) and value.id not in seen:
                seen.add(value.id)
                home = next((clause.function.__module__ for clause in value.clauses.values()), module.__name__)
                yield ".".join(home.split(".")[:3]), value


def not_coded(package: str, document: str) -> list[list[str]]:
    """Read what of a document has no function: rows of clause, what, status, remark and the tests that name it."""
    found = []
    for row in rows_not_coded(package):
        if row["document"] == document:
            tests = shown(tests_of_row(package, row["ref"], row["remark"]))
            found.append([row["ref"], row["what"], row["status"], row["remark"], tests])
    return found


def tests_of_row(package: str, ref: str, remark: str) -> list[str]:
    """Name the test files of a package that name a clause by its number, or what its remark says handles it.

    That is a finding (``BW403``) or a name of code (``bow_aft_border``, ``item appendages``) in the remark.
    """
    handlers = set(re.findall(r"BW\d{3}|\w+_\w+", remark)) | set(re.findall(r"\bitem (\w+)", remark))
    telling = any(sign.isdigit() for sign in ref) and len(ref) > 2  # a word or a bare figure is in any test
    number = re.compile(rf"(?<![\w.]){re.escape(ref)}(?![\w(]|\.\d)" if telling else r"(?!)")
    words, texts = words_of_tests(), texts_of_tests()
    everywhere = ref[0].isalpha()  # a bare number would be found in any test
    searched = list(words) if everywhere else tests_on(package)
    return [name for name in searched if handlers & words[name] or number.search(texts[name])]


def printed_tables(package: str, document: Document) -> list[list[str]]:
    """Give each printed table of a document: its cells by standing, and how many of them are not confirmed."""
    rows = []
    found = {id(one): one for module in every_module(package) for one in vars(module).get("TABLES", ())}
    for printed in found.values():
        if printed.header["document"] == document.short:
            cells = list(printed.cells.values())
            standing = Counter(cell.status.value for cell in cells)
            open_ = sum(not cell.status.confirmed for cell in cells)
            said = ", ".join(f"{word} {count}" for word, count in sorted(standing.items()))
            header = printed.header
            rows.append([header["table"], header["title"], said, f"{open_} of {len(cells)}", header.get("read_by", "")])
    return rows


def rows_not_coded(package: str) -> list[dict[str, str]]:
    """Read a rule package's list of what is not coded; empty if it has none."""
    source = files(package) / "not_coded.csv"
    if not source.is_file():
        return []
    return list(csv.DictReader(line for line in source.read_text("utf-8").splitlines() if not line.startswith("#")))


def tests_of(clause: Clause[Any, Any]) -> list[str]:
    """Name the test files of the clause's package that name the function."""
    package = ".".join(clause.function.__module__.split(".")[:3])
    words = words_of_tests()
    return [name for name in tests_on(package) if clause.name in words[name]]


def shown(tests: list[str]) -> str:
    """Give test files in one cell, "none" where there are none."""
    return ", ".join(f"`tests/{name}`" for name in tests) or "none"


@cache
def tests_on(package: str) -> list[str]:
    """Name the test files that belong to a rule package: its own, and those outside ``rules`` that name it."""
    short, words = package.rsplit(".", 1)[-1], words_of_tests()
    home = f"rules/{short}/"
    return [name for name in words if name.startswith(home) or (not name.startswith("rules/") and short in words[name])]


@cache
def texts_of_tests() -> dict[str, str]:
    """Give the text of each test file, by its name."""
    return {str(path.relative_to(TESTS)): path.read_text("utf-8") for path in sorted(TESTS.rglob("test_*.py"))}


@cache
def words_of_tests() -> dict[str, frozenset[str]]:
    """Give the words of each test file, by its name."""
    return {name: frozenset(re.findall(r"\w+", text)) for name, text in texts_of_tests().items()}


def _place(clause: Clause[Any, Any]) -> tuple[list[tuple[int, str]], int]:
    """Where the function stands in the source, chapter 2 before chapter 11; not the order in which modules loaded."""
    parts = re.findall(r"\d+|\D+", clause.function.__module__)
    return [(int(p), "") if p.isdigit() else (-1, p) for p in parts], inspect.unwrap(
        clause.function
    ).__code__.co_firstlineno


def _row(clause: Clause[Any, Any]) -> list[str]:
    tests = shown(tests_of(clause))
    function = f"`{clause.function.__module__.removeprefix('beltwright.rules.')}.{clause.name}`"
    unit = "" if clause.unit.symbol == "-" else clause.unit.symbol
    return [clause.ref, clause.title, clause.symbol, unit, function, clause.status.value, tests, clause.note]
