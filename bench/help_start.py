"""How long `beltwright --help` takes from a cold process, beside an empty Python. Budget: 0.4 s."""

from __future__ import annotations

import sys
from pathlib import Path

from _harness import command_seconds, show

PYTHON = [sys.executable, "-c", "pass"]
IMPORT = [sys.executable, "-c", "import beltwright"]
HELP = [str(Path(sys.executable).with_name("beltwright")), "--help"]


def main() -> None:
    """Print one line for the import and one for the help."""
    empty_s = command_seconds(PYTHON)
    show("import beltwright", command_seconds(IMPORT), plain_s=empty_s, plain="python -c pass")
    show("beltwright --help", command_seconds(HELP), plain_s=empty_s, plain="python -c pass", budget_s=0.4)


if __name__ == "__main__":
    main()
