"""The documentation as pages: generated ones are up to date, links lead somewhere, nothing comes from outside."""

from __future__ import annotations

import os
import re
import subprocess
import sys
from math import cos, radians, tan
from pathlib import Path

import pytest

import gen_docs
from pages import figure

ROOT = Path(__file__).resolve().parent.parent.parent
TEXTS = sorted([*(ROOT / "docs").rglob("*.md"), ROOT / "README.md", ROOT / "CONTRIBUTING.md", ROOT / "bench/README.md"])


@pytest.mark.parametrize("name", gen_docs.PAGES)
def test_a_generated_page_says_what_the_program_says(name: str) -> None:
    assert (ROOT / "docs" / name).read_text("utf-8") == gen_docs.PAGES[name](), "run `make generate`"


def test_a_stale_page_is_named(monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> None:
    monkeypatch.setattr(gen_docs, "PAGES", {"figures/conventions.svg": lambda: "something else"})
    monkeypatch.setattr(sys, "argv", ["gen_docs.py", "--check"])
    assert gen_docs.main() == 1
    assert "figures/conventions.svg" in capsys.readouterr().err


def test_pages_build_without_a_broken_link_and_fetch_nothing_from_outside(tmp_path: Path) -> None:
    command = [sys.executable, "-m", "mkdocs", "build", "--strict", "--quiet", "--site-dir", str(tmp_path / "site")]
    environment = {**os.environ, "NO_MKDOCS_2_WARNING": "1"}
    built = subprocess.run(command, cwd=ROOT, capture_output=True, text=True, check=False, env=environment)
    assert built.returncode == 0, built.stderr
    pages = sorted((tmp_path / "site").rglob("*.html"))
    assert len(pages) >= len(list((ROOT / "docs").rglob("*.md")))
    fetched = re.compile(r"<(?:script|img|link|iframe)\b[^>]*?(?:src|href)=\"(?:https?:)?//[^\"]+\"")
    assert fetched.search('<script src="https://somewhere.example/x.js">')
    assert [found for page in pages for found in fetched.findall(page.read_text("utf-8"))] == []


def test_the_pages_that_are_there_are_in_the_contents() -> None:
    contents = (ROOT / "mkdocs.yml").read_text("utf-8")
    listed = set(re.findall(r":\s([\w/-]+\.md)$", contents, re.MULTILINE))
    assert listed == {str(path.relative_to(ROOT / "docs")) for path in (ROOT / "docs").rglob("*.md")}


@pytest.mark.parametrize("text", TEXTS, ids=lambda p: str(p.relative_to(ROOT)))
def test_a_make_command_in_the_text_exists(text: Path) -> None:
    targets = set(re.findall(r"^([a-z]+):", (ROOT / "Makefile").read_text("utf-8"), re.MULTILINE))
    named = set(re.findall(r"(?:^\s*|`)(?:BELTWRIGHT_SEARCH=1 )?make ([a-z]+)", text.read_text("utf-8"), re.MULTILINE))
    assert named <= targets
    assert {"design", "test"} <= targets


@pytest.mark.parametrize("text", TEXTS, ids=lambda p: str(p.relative_to(ROOT)))
def test_a_folder_or_file_named_in_the_text_exists(text: Path) -> None:
    own = r"`((?:src|tests|tools|docs|bench|examples|requirements|changelog\.d)/[\w./-]*)`"
    missing = [name for name in re.findall(own, text.read_text("utf-8")) if not (ROOT / name).exists()]
    assert missing == []


def test_the_angles_in_the_figure_hang_together() -> None:
    """The two identities of the conventions page, second-method: the figure takes arctangents, this takes products."""
    alpha, gamma = radians(figure.ALPHA_DEG), radians(figure.GAMMA_DEG)
    assert tan(radians(figure.BETA_DEG)) * tan(gamma) == pytest.approx(tan(alpha), rel=1e-12)
    assert tan(radians(figure.BETA_PRIME_DEG)) == pytest.approx(tan(radians(figure.BETA_DEG)) * cos(alpha), rel=1e-12)
    drawn = figure.svg()
    for label in ("α = 23°", "γ = 29°", "β = 37.4°", "β′ = 35.2°"):
        assert label in drawn
