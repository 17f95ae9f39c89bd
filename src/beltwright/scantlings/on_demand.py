"""Columns of the vocabulary that are worked out when a chain asks for them, each once."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from typing import Any

import numpy as np
from numpy.typing import NDArray

from beltwright.core.units import IntArray

Maker = Callable[[], NDArray[Any]]


class OnDemand(Mapping[str, NDArray[Any]]):
    """Named columns, each made when it is first read."""

    def __init__(self, makers: Mapping[str, Maker]) -> None:
        self._makers = dict(makers)
        self._made: dict[str, NDArray[Any]] = {}

    def __getitem__(self, name: str) -> NDArray[Any]:
        if name not in self._made:
            self._made[name] = self._makers[name]()
        return self._made[name]

    def __iter__(self) -> Iterator[str]:
        return iter(self._makers)

    def __len__(self) -> int:
        return len(self._makers)

    def __contains__(self, name: object) -> bool:
        return name in self._makers

    def rows(self, rows: IntArray) -> OnDemand:
        """Return the same columns for some rows; a column of length one stands for all and stays."""

        def taken(name: str) -> Maker:
            return lambda: self[name] if len(self[name]) == 1 else self[name][rows]

        return OnDemand({name: taken(name) for name in self})

    def joined(self, more: Mapping[str, NDArray[Any]]) -> OnDemand:
        """Return these columns with others that are there already; of one name the others win."""

        def kept(source: Mapping[str, NDArray[Any]], name: str) -> Maker:
            return lambda: source[name]

        makers = {name: kept(self, name) for name in self}
        return OnDemand({**makers, **{name: kept(more, name) for name in more}})


def same(value: float | str | bool) -> Maker:
    """Return what makes a column of length one."""
    return lambda: np.array([value])
