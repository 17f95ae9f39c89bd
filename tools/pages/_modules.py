"""Import every module of the program, so that all that registers itself on import is there to be listed."""

from __future__ import annotations

import importlib
import pkgutil
from types import ModuleType

import beltwright


def every_module(under: str = "beltwright") -> list[ModuleType]:
    """Import and return all modules below a package, the package first; empty if the package is not there."""
    try:
        top = importlib.import_module(under)
    except ModuleNotFoundError as missing:
        if missing.name == under:
            return []
        raise
    below = pkgutil.walk_packages(top.__path__, f"{under}.", onerror=_raise)
    return [top, *(importlib.import_module(info.name) for info in below if not info.name.endswith("__main__"))]


def _raise(name: str) -> None:
    raise ImportError(f"{name} cannot be imported from {beltwright.__path__[0]}")


def cell(text: str) -> str:
    """Make text safe for a cell of a Markdown table."""
    return " ".join(text.split()).replace("|", "\\|")


def table(head: list[str], rows: list[list[str]]) -> str:
    """Write a Markdown table."""
    lines = [head, ["---"] * len(head), *([cell(text) for text in row] for row in rows)]
    return "\n".join("| " + " | ".join(line) + " |" for line in lines) + "\n"
