"""Telling whoever waits how far the work has come."""

from __future__ import annotations

from typing import Protocol


class Progress(Protocol):
    """Hears of each stage as it begins."""

    def stage(self, name: str, done: int, total: int) -> None:
        """Take note that stage ``name`` begins, after ``done`` of ``total`` stages."""
        ...


class Silent:
    """Tells nobody."""

    def stage(self, name: str, done: int, total: int) -> None:
        """Do nothing."""
