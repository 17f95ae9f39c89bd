"""Every example in the documentation runs: Python blocks, TOML blocks, and commands with the output they show.

The Python blocks of a page share their names, as a reader would type them one after the other. In a ``console`` block a
line that starts with ``$`` is a command; the lines after it are its output, where ``...`` stands for anything.
"""

from __future__ import annotations

import doctest
import os
import re
import shlex
import shutil
import subprocess
import sys
import tomllib
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parent.parent.parent
TEXTS = sorted([*(ROOT / "docs").rglob("*.md"), ROOT / "README.md", ROOT / "CONTRIBUTING.md"])
BLOCK = re.compile(r"^( *)```(\w+)[^\n]*\n(.*?)^\1```", re.MULTILINE | re.DOTALL)
MAY_RUN = {"beltwright", "python", "cp", "sed"}


def blocks(text: Path, language: str) -> list[str]:
    """The fenced blocks of one language on a page."""
    return [body for _, lang, body in BLOCK.findall(text.read_text("utf-8")) if lang == language]


def pages_with(language: str) -> list[object]:
    """The pages that hold a block of a language; slow where a block does the whole job on a ship."""
    found: list[object] = []
    for text in TEXTS:
        body = "".join(blocks(text, language))
        marks = [pytest.mark.slow] if "Project(" in body or "beltwright design" in body else []
        if body:
            found.append(pytest.param(text, marks=marks, id=str(text.relative_to(ROOT))))
    return found


def commands(block: str) -> list[tuple[str, str]]:
    """The commands of a console block with the output each shows."""
    found = re.findall(r"^\$ (.*)\n((?:(?!\$ ).*\n?)*)", block, re.MULTILINE)
    assert found, "a console block starts with a command"
    return found


@pytest.fixture
def desk(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A folder to work in, with a copy of the demo ships in ``examples``."""
    if (ROOT / "examples").is_dir():
        shutil.copytree(ROOT / "examples", tmp_path / "examples", ignore=shutil.ignore_patterns("results"))
    monkeypatch.chdir(tmp_path)
    return tmp_path


@pytest.mark.parametrize("text", pages_with("python"))
def test_python_examples_run(text: Path, desk: Path) -> None:
    names: dict[str, object] = {"__name__": "example"}
    for number, body in enumerate(blocks(text, "python"), start=1):
        exec(compile(body, f"{text.name}, block {number}", "exec"), names)


@pytest.mark.parametrize("text", pages_with("toml"))
def test_toml_examples_parse(text: Path) -> None:
    for body in blocks(text, "toml"):
        assert tomllib.loads(body)


@pytest.mark.parametrize("text", pages_with("console"))
def test_commands_print_what_the_page_shows(text: Path, desk: Path) -> None:
    here = Path(sys.executable).parent
    environment = {**os.environ, "PATH": f"{here}{os.pathsep}{os.environ['PATH']}", "COLUMNS": "110", "NO_COLOR": "1"}
    for body in blocks(text, "console"):
        for command, shown in commands(body):
            words = shlex.split(command)
            assert words[0] in MAY_RUN
            done = subprocess.run(
                words, cwd=desk, env=environment, capture_output=True, text=True, timeout=300, check=False
            )
            printed = done.stdout + done.stderr
            flags = doctest.ELLIPSIS | doctest.NORMALIZE_WHITESPACE
            assert doctest.OutputChecker().check_output(shown, printed, flags), f"$ {command}\n{printed}"


def test_a_console_block_is_read_as_commands_and_output() -> None:
    assert commands("$ beltwright --version\nbeltwright 1\n$ python -V\n") == [
        ("beltwright --version", "beltwright 1\n"),
        ("python -V", ""),
    ]


def test_there_are_examples_to_run() -> None:
    assert pages_with("python")
