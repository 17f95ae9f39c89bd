"""The command that serves the pages, where what they need is not set up."""

from __future__ import annotations

import subprocess
import sys

import pytest

from beltwright.core.errors import ExitCode

WITHOUT = """
import sys
for name in ("fastapi", "nicegui", "sqlalchemy", "starlette", "uvicorn"):
    sys.modules[name] = None # as where it is not installed: neither found nor imported
from beltwright.cli.main import main
sys.argv = ["beltwright", *sys.argv[1:]]
main()
"""


def without_the_extra(*arguments: str) -> subprocess.CompletedProcess[str]:
    """Run the command line as where only what the calculation needs is installed."""
    return subprocess.run([sys.executable, "-c", WITHOUT, *arguments], capture_output=True, text=True, timeout=60)


@pytest.mark.parametrize("folder", [(), ("examples/merrow-tarn",)])
def test_without_the_extra_it_is_one_line_that_says_what_to_do(folder: tuple[str, ...]) -> None:
    done = without_the_extra("serve", *folder)
    assert done.returncode == ExitCode.BAD_INPUT
    assert done.stdout == ""
    assert done.stderr == (
        "beltwright: serve: needs the extra web, and lacks fastapi, nicegui, sqlalchemy, uvicorn; "
        "make pages sets it up\n"
    )


def test_help_goes_without_the_extra() -> None:
    assert "serve" in without_the_extra("--help").stdout
    done = without_the_extra("serve", "--help")
    assert done.returncode == ExitCode.MET
    assert "--port" in done.stdout
