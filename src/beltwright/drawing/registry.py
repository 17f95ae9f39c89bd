"""The registry of sheets: every drawing the program makes, by its id; an id may be taken only once."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from beltwright.drawing.picture import ShipPicture
from beltwright.drawing.scene import Scene


@dataclass(frozen=True, slots=True, kw_only=True)
class Sheet:
    """A kind of sheet: its id (also its file name), its title and what draws it."""

    id: str
    title: str
    draw: Callable[[ShipPicture], Scene]


class SheetRegistry:
    """Sheets by id, in the order of registration."""

    def __init__(self) -> None:
        self._sheets: dict[str, Sheet] = {}

    def register(self, sheet: Sheet) -> Sheet:
        """Register a sheet; raises ValueError if its id is taken."""
        if sheet.id in self._sheets:
            raise ValueError(f"sheet {sheet.id} is registered already")
        self._sheets[sheet.id] = sheet
        return sheet

    def all(self) -> tuple[Sheet, ...]:
        """Return every sheet in order."""
        return tuple(self._sheets.values())

    def sheet(self, sheet_id: str) -> Sheet:
        """Return a sheet by id; raises KeyError with the known ids."""
        if sheet_id not in self._sheets:
            raise KeyError(f"no sheet {sheet_id}; known: {', '.join(self._sheets)}")
        return self._sheets[sheet_id]
