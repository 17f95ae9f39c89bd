"""Length units a hull file may use."""

from __future__ import annotations

METRES_PER: dict[str, float] = {
    "m": 1.0, "mm": 1e-3, "cm": 1e-2, "dm": 0.1, "km": 1e3, "in": 0.0254, "ft": 0.3048, "yd": 0.9144,
}  # fmt: skip
"""Metres in one unit (inch, foot and yard are exact by the international yard of 1959)."""
