"""The findings of weights, BW5xx."""

from __future__ import annotations

from beltwright.core.findings import Severity, register

NOT_WEIGHED = register(
    "BW501",
    Severity.NOTE,
    "Members without a scantling are not weighed",
    "No ice requirement stands there and none is given; give plates, frames or a floor in ship.toml to weigh them.",
)
