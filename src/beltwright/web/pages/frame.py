"""What every page has: the head with the ship's facts and state, the ways to the other pages, and the cautions."""

from __future__ import annotations

from collections.abc import Awaitable, Callable
from typing import Any, Final

from nicegui import ui

from beltwright.core.cautions import SHORT_CAUTION
from beltwright.web.desk import Desk
from beltwright.web.look import style_sheet

PAGES: Final = (
    ("Design", "/"),
    ("Bow angles", "/bow"),
    ("Least structure", "/least"),
    ("Compare", "/compare"),
    ("Documents", "/documents"),
    ("Ships", "/ships"),
)


def page_style() -> None:
    """Give the page its look."""
    ui.add_head_html(f"<style>{style_sheet()}</style>")
    ui.colors(primary="#14609b", negative="#a12f0c", warning="#8a5a00")


class Frame:
    """The head and foot of a page on the ship on the desk; ``refresh`` brings it up to date after a change."""

    def __init__(self, desk: Desk | None, title: str) -> None:
        self.desk = desk
        self.title = title

    def build(self, body: Callable[[], None]) -> None:
        """Put head, body and foot on the page."""
        page_style()
        ui.page_title(f"{self.title} - Beltwright")
        with ui.element("div").classes("page"):
            with ui.element("header").classes("head"):
                self._head()
            body()
            with ui.element("footer").classes("foot"):
                ui.label(SHORT_CAUTION)
        if self.desk is not None:
            ui.keyboard(on_key=self._key, ignore=["input", "select", "textarea"])
            self.refresh()

    def refresh(self, what: str = "results") -> None:
        """Show the facts and the state of the ship."""
        if self.desk is None:
            return
        session, made = self.desk.session, self.desk.results
        ship = session.ship
        self._ship.set_text(ship.ship.name)
        facts = [("class", ship.ice.ice_class)]
        if made is not None:
            design = made.design
            document = design.rules.documents[-1]
            facts.append(("rules", f"{document.short} {document.edition}"))
            node = design.areas.trace.get(design.rules.rule_length)
            if node is not None:
                facts.append((node.symbol.replace("_", ""), f"{float(node.value):.2f} m"))
            facts.append(("D at UIWL", f"{design.measures.upper.displacement_kt:.3f} kt"))
            facts.append(("steel", f"{made.weight.total_t:.1f} t"))
        kept = self.desk.record.revisions()
        facts.append(("revision", f"{kept[-1].number} {kept[-1].name}" if kept else "none kept"))
        self._facts.clear()
        with self._facts:
            for name, words in facts:
                with ui.element("span").classes("fact"):
                    ui.label(f"{name} ").style("display:inline")
                    ui.label(words).style("display:inline;font-weight:600;color:var(--ink)")
        self._state(what)
        self._undo.set_enabled(bool(session.can_undo))
        self._redo.set_enabled(bool(session.can_redo))
        self._undo_tip.set_text(f"undo: {session.can_undo}" if session.can_undo else "nothing to undo")
        self._redo_tip.set_text(f"do again: {session.can_redo}" if session.can_redo else "nothing to do again")

    def _head(self) -> None:
        """The head."""
        ui.label("Beltwright").classes("brand")
        if self.desk is None:
            ui.element("div").classes("gap")
            return
        self._ship = ui.label("").classes("ship").props("role=heading aria-level=1")
        self._facts = ui.element("div").style("display:flex;gap:4px 14px;flex-wrap:wrap")
        self._state_label = ui.label("").classes("state").props("role=status aria-live=polite")
        ui.element("div").style("flex-basis: 100%; height: 0")
        with ui.element("nav").props('aria-label="pages"').style("display:flex;gap:2px"):
            for name, way in PAGES:
                link = ui.button(name, on_click=lambda to=way: ui.navigate.to(to)).props("flat dense no-caps")
                if name == self.title:
                    link.props("aria-current=page").style("text-decoration: underline; text-underline-offset: 4px")
        ui.element("div").classes("gap")
        self._undo = ui.button("Undo", on_click=lambda: self._go(self.desk.session.undo)).props("flat dense no-caps")
        self._redo = ui.button("Redo", on_click=lambda: self._go(self.desk.session.redo)).props("flat dense no-caps")
        with self._undo:
            self._undo_tip = ui.tooltip("")
        with self._redo:
            self._redo_tip = ui.tooltip("")
        dark = ui.dark_mode(None)
        ui.button("Light or dark", on_click=lambda: dark.set_value(not dark.value)).props("flat dense no-caps")

    def _state(self, what: str) -> None:
        """Whether the results still hold."""
        desk = self.desk
        assert desk is not None
        if desk.error and not desk.session.up_to_date:
            words, kind = f"no result: {desk.error}", "old"
        elif desk.session.up_to_date:
            made = desk.results
            met = made is not None and made.design.all_met
            words, kind = ("current, all met" if met else "current, NOT all met"), ("current" if met else "old")
        elif desk.busy or what == "edited":
            words, kind = "calculating; what is shown is out of date", "busy"
        else:
            words, kind = "out of date", "old"
        self._state_label.set_text(words[:160])
        self._state_label.classes(replace=f"state {kind}")

    async def _go(self, step: Callable[[], str]) -> None:
        """Undo or redo."""
        desk = self.desk
        assert desk is not None
        refused = await desk.edit(step)
        if refused:
            ui.notify(refused, type="negative", multi_line=True, close_button="Close")

    def _key(self, event: Any) -> Awaitable[None] | None:
        """Control and Z, control and Y."""
        if self.desk is None or not event.action.keydown or not (event.modifiers.ctrl or event.modifiers.meta):
            return None
        if event.key == "z" and not event.modifiers.shift:
            return self._go(self.desk.session.undo)
        if event.key == "y" or (event.key == "Z" and event.modifiers.shift):
            return self._go(self.desk.session.redo)
        return None
