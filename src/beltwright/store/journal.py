"""What a journal of edits keeps: states of the description, each with what was done to come to it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Protocol


@dataclass(frozen=True, slots=True)
class Edit:
    """A state of the description: the whole text of ``ship.toml``, and what was done to come to it."""

    text: str
    what: str


class Journal(Protocol):
    """Where edits are kept; each call returns only when what it was told is safe."""

    def load(self) -> tuple[Sequence[Edit], int]:
        """Return the states kept, oldest first, and which of them is in force; none and -1 for a new journal."""
        ...

    def record(self, edit: Edit, after: int) -> None:
        """Keep a state as the one that follows state ``after``; states that were undone are forgotten."""
        ...

    def move(self, to: int) -> None:
        """Keep that another state is in force."""
        ...
