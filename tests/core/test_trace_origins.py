"""Origins of inputs can be filled in later and are never overwritten."""

from __future__ import annotations

from beltwright.core.chain import Node, Trace
from beltwright.core.units import Unit


def _input(name: str, origin: str = "") -> Node:
    return Node(name=name, symbol=name, unit=Unit("m"), meaning="", value=1.0, origin=origin)


def test_origins_fill_gaps_only() -> None:
    trace = Trace({"a": _input("a"), "b": _input("b", "surface")})
    filled = trace.with_origins({"a": "ship.toml", "b": "elsewhere", "c": "unknown"})
    assert (filled["a"].origin, filled["b"].origin, len(filled)) == ("ship.toml", "surface", 2)
    assert trace["a"].origin == ""
