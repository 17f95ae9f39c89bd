"""The page of coded rules: every clause with its standing, its status and its tests; every open value counted."""

from __future__ import annotations

import csv
import re
from pathlib import Path

import pytest

import beltwright
from beltwright.core.provenance import Status
from beltwright.rules.polar_iacs_2019 import documents as polar
from beltwright.rules.polar_iacs_2019.coverage import STATUSES
from beltwright.rules.polar_iacs_2019.tables import TABLES
from beltwright.rules.registry import available, rule_set
from pages import coverage

PACKAGE = "beltwright.rules.polar_iacs_2019"
SOURCE = Path(beltwright.__file__).parent
HOLDS = {Status.PRINTED, Status.TEXT, Status.COMPUTED}


def lines() -> list[list[str]]:
    """The page's table rows as cells."""
    rows = [line for line in coverage.page().splitlines() if line.startswith("| ")]
    return [[cell.strip() for cell in re.split(r"(?<!\\)\|", row)[1:-1]] for row in rows]


def test_every_clause_shows_how_far_it_is_known() -> None:
    by_function = {row[4]: row for row in lines() if len(row) == 8}
    for document in (polar.DOCUMENT_I1, polar.DOCUMENT):
        for clause in document.clauses.values():
            name = f"`{clause.function.__module__.removeprefix('beltwright.rules.')}.{clause.name}`"
            assert by_function[name][5] == clause.status.value, name
            assert clause.status.confirmed == (clause.status in HOLDS)


def test_every_clause_of_the_polar_rules_has_a_status_and_what_is_handled_has_a_test() -> None:
    for document in (polar.DOCUMENT_I1, polar.DOCUMENT):
        listed = coverage.not_coded(PACKAGE, document.id)
        for ref, _, status, remark, tests in listed:
            assert status in STATUSES, ref
            assert remark, ref
            if status in ("handled without a function of its own", "checklist item"):
                assert tests != "none", f"{ref}: no test names it or what handles it"


def test_a_row_is_found_by_its_number_and_by_what_handles_it() -> None:
    assert "rules/polar_iacs_2019/test_bow_form.py" in coverage.tests_of_row(PACKAGE, "I1.1.5", "bow_form: scope error")
    assert coverage.tests_of_row(PACKAGE, "I9.9.9", "nothing") == ["docs/test_coverage_page.py"]  # this line names it
    assert coverage.tests_of_row(PACKAGE, "I9" + ".9", "nothing") == []  # a part of a longer number does not count


def test_values_that_are_not_confirmed_are_counted_table_by_table() -> None:
    shown = {(row[0], row[1]): row for row in lines() if len(row) == 5 and re.fullmatch(r"\d+ of \d+", row[3])}
    for table in TABLES:
        row = shown[table.header["table"], table.header["title"]]
        cells = list(table.cells.values())
        open_ = [cell for cell in cells if cell.status not in HOLDS]
        assert row[3] == f"{len(open_)} of {len(cells)}"
        for status in {cell.status for cell in cells}:
            assert re.search(rf"\b{status.value} \d", row[2]), table.name
    assert sum(int(row[3].split()[0]) for row in shown.values()) > 300


def test_every_decision_that_is_named_is_written_down_once() -> None:
    text = (SOURCE / "rules" / "polar_iacs_2019" / "DECISIONS.md").read_text("utf-8")
    written = re.findall(r"^\| (D\d+) \|", text, re.MULTILINE)
    assert len(written) == len(set(written)) > 25
    named = set()
    for path in (SOURCE / "rules" / "polar_iacs_2019").rglob("*.py"):
        named |= set(re.findall(r"decision (D\d+)", path.read_text("utf-8")))
    assert named
    assert named <= set(written)
    for row in text.splitlines():
        if re.match(r"\| D\d+ \|", row):
            assert len(re.split(r"(?<!\\)\|", row)) == 6, row[:40]
            assert all(cell.strip() for cell in re.split(r"(?<!\\)\|", row)[1:-1]), row[:40]


LISTS = sorted((SOURCE / "rules").glob("*/not_coded.csv"))
KNOWN = {"handled without a function of its own", "checklist item", "not a formula", "out of scope"}


@pytest.mark.parametrize("path", LISTS, ids=lambda path: path.parent.name)
def test_every_clause_without_a_function_is_decided_with_a_reason(path: Path) -> None:
    lines = [line for line in path.read_text("utf-8").splitlines() if not line.startswith("#")]
    for row in csv.DictReader(lines):
        assert row["status"] in KNOWN, row
        assert None not in row, row
        if row["status"] == "out of scope":
            assert len(row["remark"]) > 40, row


@pytest.mark.parametrize("path", LISTS, ids=lambda path: path.parent.name)
def test_a_clause_left_to_the_checklist_names_an_item_that_is_there(path: Path) -> None:
    asked = {item.id for name in available() for item in rule_set(name).checklist}
    lines = [line for line in path.read_text("utf-8").splitlines() if not line.startswith("#")]
    for row in csv.DictReader(lines):
        if row["status"] == "checklist item":
            named = re.findall(r"items? (\w+)(?: and (\w+))?", row["remark"])
            assert named, row
            assert {word for pair in named for word in pair if word} <= asked, row


def test_a_bare_figure_or_a_word_finds_no_test_by_itself() -> None:
    """Chapter 5, or a row called "classes", would otherwise be found in any test."""
    assert coverage.tests_of_row("beltwright.rules.baltic_traficom_2021", "5", "not a formula") == []
    assert coverage.tests_of_row("beltwright.rules.polaris_imo_2016", "classes", "not read") == []
    assert coverage.tests_of_row("beltwright.rules.baltic_traficom_2021", "4.6", "") != []
