"""The sheets of this package, in the order in which they are drawn."""

from __future__ import annotations

from beltwright.drawing.registry import SheetRegistry
from beltwright.drawing.sheets import body_plan, profile, shell_expansion


def standard_sheets() -> SheetRegistry:
    """Return a registry with the sheets of this package."""
    registry = SheetRegistry()
    for module in (shell_expansion, profile, body_plan):
        registry.register(module.SHEET)
    return registry
