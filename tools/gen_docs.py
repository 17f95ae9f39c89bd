"""Write the generated pages of the documentation, or with ``--check`` say which of them are out of date (exit 1).

Each page comes from the program itself (finding codes, clauses, commands, settings), so that nothing in it is written
a second time.
"""

from __future__ import annotations

import sys
from collections.abc import Callable
from pathlib import Path

from pages import cautions, checklist, commands, coverage, faults, figure, findings, ship_toml

DOCS = Path(__file__).resolve().parent.parent / "docs"

PAGES: dict[str, Callable[[], str]] = {
    "figures/conventions.svg": figure.svg,
    "cautions.md": cautions.page,
    "reference/commands.md": commands.page,
    "reference/ship-toml.md": ship_toml.page,
    "faults.md": faults.page,
    "reference/findings.md": findings.page,
    "reference/coverage.md": coverage.page,
    "reference/checklist.md": checklist.page,
}


def stale() -> list[str]:
    """Name the generated pages whose file differs from what the program says now."""
    return [
        name
        for name, page in PAGES.items()
        if not (DOCS / name).is_file() or (DOCS / name).read_text("utf-8") != page()
    ]


def write() -> None:
    """Write every generated page."""
    for name, page in PAGES.items():
        (DOCS / name).parent.mkdir(parents=True, exist_ok=True)
        (DOCS / name).write_text(page(), encoding="utf-8")


def main() -> int:
    """Write the pages, or check them."""
    if "--check" not in sys.argv[1:]:
        write()
        return 0
    late = stale()
    if late:
        print(f"out of date, run `make generate`: {', '.join(late)}", file=sys.stderr)
    return int(bool(late))


if __name__ == "__main__":
    sys.exit(main())
