"""Chapter 1: the ice classes that have requirements on engine output and hull strength."""

from __future__ import annotations

from typing import Final

CLASSES: Final = ("IA Super", "IA", "IB", "IC")
