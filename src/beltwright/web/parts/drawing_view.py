"""A drawing of the ship in the page: sent once, coloured by a byte per panel."""

from __future__ import annotations

import base64
from collections.abc import Callable, Sequence
from typing import Any

from nicegui.element import Element


class DrawingView(Element, component="drawing_view.js"):
    """A drawing that can be moved and magnified; ``on_pick`` hears of a panel that is chosen: its row."""

    def __init__(self, *, label: str, drawing_url: str, on_pick: Callable[[dict[str, Any]], None]) -> None:
        super().__init__()
        self._props["label"] = label
        self._props["drawing_url"] = drawing_url
        self.on("pick", lambda event: on_pick(event.args))

    def paint(self, classes: bytes, colours: Sequence[str], labels: Sequence[str]) -> None:
        """Colour the panels: one class each, the colour and the meaning of every class."""
        self.run_method("paint", base64.b64encode(classes).decode(), list(colours), list(labels))

    def choose(self, row: int | None) -> None:
        """Mark a panel as the chosen one, or none."""
        self.run_method("choose", row)

    def reload(self, drawing_url: str) -> None:
        """Fetch the drawing anew; its place and magnification stay."""
        self.run_method("load", drawing_url)
