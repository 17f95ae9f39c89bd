"""Columns are worked out when they are read, each once, and only those."""

from __future__ import annotations

import numpy as np

from beltwright.scantlings.on_demand import OnDemand, same


def test_a_column_is_made_once_and_only_when_read() -> None:
    made: list[str] = []

    def maker(name: str) -> np.ndarray:
        made.append(name)
        return np.array([1.0, 2.0, 3.0])

    facts = OnDemand({"a": lambda: maker("a"), "b": lambda: maker("b"), "one": same(0.5)})
    some = facts.rows(np.array([2, 0, 2]))
    assert (list(facts), len(facts), "a" in facts, "c" in facts) == (["a", "b", "one"], 3, True, False)
    assert made == []
    assert some["a"].tolist() == [3.0, 1.0, 3.0]
    assert some["a"].tolist() == [3.0, 1.0, 3.0]
    assert made == ["a"]
    assert some["one"].tolist() == [0.5], "a column of length one stands for all rows"


def test_what_is_there_already_wins() -> None:
    facts = OnDemand({"a": same(1.0), "b": same(2.0)}).joined({"b": np.array([3.0]), "c": np.array([4.0])})
    assert [facts[name][0] for name in ("a", "b", "c")] == [1.0, 3.0, 4.0]
    assert set(facts) == {"a", "b", "c"}
