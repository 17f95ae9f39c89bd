"""A setting, finding or clause that the documentation does not name fails here, whoever wrote the page."""

from __future__ import annotations

import re
from pathlib import Path

from beltwright.core.findings import all_codes
from beltwright.rules.registry import available, rule_set
from beltwright.ship.model import Ship
from pages._modules import every_module
from pages.commands import commands
from pages.coverage import documents, not_coded, rows_not_coded
from pages.ship_toml import model_of, sections

REFERENCE = Path(__file__).resolve().parent.parent.parent / "docs" / "reference"


def text(name: str) -> str:
    """A page of the reference."""
    return (REFERENCE / name).read_text("utf-8")


def test_every_finding_is_documented_with_what_to_do() -> None:
    every_module()
    page = text("findings.md")
    for code in all_codes():
        assert re.fullmatch(r"BW\d{3}", code.code)
        assert f"**{code.code}**" in page
        assert len(code.title) > 5, code.code
        assert len(code.advice) > 10, code.code


def test_every_command_and_option_is_documented_with_its_meaning() -> None:
    page = text("commands.md")
    found = dict(commands())
    assert {"design", "explain"} <= set(found)
    for name, command in found.items():
        assert f"\n## {name}\n" in page
        assert command.help in page
        for parameter in command.params:
            words = parameter.opts if parameter.param_type_name == "option" else [parameter.name.upper()]
            assert all(word in page for word in words), words
            assert len(parameter.help or "") > 10, f"{name} {words}"


def test_every_setting_is_documented_with_its_meaning() -> None:
    page = text("ship-toml.md")
    fields = {name: field for name, field in Ship.model_fields.items() if model_of(field) is None}
    for path, field, model in sections():
        assert re.search(rf"^## `\[\[?{re.escape(path)}\]\]?`$", page, re.MULTILINE), path
        assert field.description, path
        fields |= {f"{path}.{name}": inner for name, inner in model.model_fields.items() if model_of(inner) is None}
    assert len(fields) > 30
    for name, field in fields.items():
        assert f"| `{name.rsplit('.', 1)[-1]}` |" in page, name
        assert field.description, name


def test_every_checklist_item_is_documented() -> None:
    page = text("checklist.md")
    items = [item for name in available() for item in rule_set(name).checklist]
    assert len(items) >= 15
    for item in items:
        assert f"| `{item.id}` | {item.ref} | {item.requirement} |" in page, item.id


def test_every_clause_is_documented_with_a_test() -> None:
    page = text("coverage.md")
    for package, document in documents():
        assert f"## {document.short}: " in page
        for clause in document.clauses.values():
            row = next((line for line in page.splitlines() if f".{clause.name}` |" in line), None)
            assert row is not None, f"{package}: {clause.name}"
            assert "`tests/rules/" in row, f"{package}: {clause.name} has no test in tests/rules that names it"


def test_what_is_not_coded_is_not_coded() -> None:
    """No clause stands in both lists, and each row gives its reason and belongs to a document that is there."""
    for package, document in documents():
        coded = {clause.ref for clause in document.clauses.values()}
        for ref, what, _, remark, _ in not_coded(package, document.id):
            assert not coded & set(ref.split()), ref
            assert what, ref
            assert remark, ref
    known = {document.id for _, document in documents()}
    packages = {package for package, _ in documents()}
    listed = {row["document"] for package in packages for row in rows_not_coded(package)}
    assert listed <= known
