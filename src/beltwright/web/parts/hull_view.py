"""The hull in three dimensions: geometry that stays in the browser, colours that come as a byte per panel."""

from __future__ import annotations

import base64
from collections.abc import Callable, Sequence
from typing import Any

from nicegui import ui
from nicegui.element import Element

_THREE = ui.scene  # named so that the page brings its three-dimensional library, which the component shares


class HullView(Element, component="hull_view.js"):
    """The picture of the hull; ``on_pick`` hears of a click: row of the panel, whether starboard, point [m]."""

    def __init__(self, *, label: str, shell_url: str, on_pick: Callable[[dict[str, Any]], None]) -> None:
        super().__init__()
        self._props["label"] = label
        self._props["shell_url"] = shell_url
        self.on("pick", lambda event: on_pick(event.args))

    def paint(self, classes: bytes, colours: Sequence[str], labels: Sequence[str]) -> None:
        """Colour the panels: one class each, the colour and the meaning of every class."""
        self.run_method("paint", base64.b64encode(classes).decode(), list(colours), list(labels))

    def choose(self, row: int | None, *, starboard: bool = False) -> None:
        """Mark a panel as the chosen one, or none."""
        self.run_method("choose", row, starboard)

    def patch(self, points: Sequence[float], columns: int) -> None:
        """Draw a load patch: points on the shell row by row (x, y, z one after another) [m]; none takes it away."""
        self.run_method("patch", list(points), columns)

    def reload(self, shell_url: str) -> None:
        """Fetch the shell anew, after the hull or its panels have changed."""
        self.run_method("load", shell_url)

    def view(self, name: str) -> None:
        """Look from ``port``, ``starboard``, ``bow``, ``stern``, ``bottom`` or ``above``."""
        self.run_method("view", name)
