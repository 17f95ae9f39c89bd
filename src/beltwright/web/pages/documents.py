"""Booklet, drawings and tables made from the page, and taken from there."""

from __future__ import annotations

import asyncio

from nicegui import ui

from beltwright.core.errors import ToolError
from beltwright.web.desk import Desk
from beltwright.web.pages.words import over, quiet

_FIRST = ("booklet.pdf", "shell-expansion.pdf", "profile.pdf", "body-plan.pdf", "result.json")


class DocumentsPage:
    """What leaves the office."""

    def __init__(self, desk: Desk) -> None:
        self.desk = desk

    def build(self) -> None:
        """Put the page together."""
        with ui.element("div").classes("full"):
            ui.label("Documents").classes("headline").props("role=heading aria-level=1")
            quiet("Booklet, drawings, tables and result file of this state, written into the ship's results folder.")
            self._button = (
                ui.button("Make the documents", on_click=self._make)
                .props("unelevated no-caps color=none text-color=none")
                .classes("solid")
            )
            self._box = ui.element("div").classes("pad").props("role=region aria-label=documents")
        self.refresh("results")

    def refresh(self, what: str) -> None:
        """Show what there is."""
        if what not in ("results", "edited", "failed"):
            return
        self._box.clear()
        with self._box:
            names = self.desk.documents()
            if not names:
                quiet("None are made of this state yet.")
                return
            over("Of this state")
            for name in (*[one for one in _FIRST if one in names], *[one for one in names if one not in _FIRST]):
                address = f"/document/{self.desk.number}/{name}"
                with ui.row().style("gap: 14px"):
                    ui.link(name, address, new_tab=name.endswith((".pdf", ".svg"))).props(f"aria-label='open {name}'")
                    ui.link("save", f"{address}?save=true").props(f"aria-label='save {name}'")

    async def _make(self) -> None:
        """Make the documents, off the page's own thread."""
        self._button.disable()
        note = ui.notification("making the documents", spinner=True, timeout=None)
        try:
            await asyncio.to_thread(self.desk.make_documents)
        except ToolError as error:
            ui.notify(str(error), type="negative", multi_line=True, close_button="Close")
        finally:
            note.dismiss()
            self._button.enable()
        self.refresh("results")
