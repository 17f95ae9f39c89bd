"""Two revisions side by side, with what differs between them; and two classes side by side on the same hull."""

from __future__ import annotations

import asyncio

from nicegui import ui

from beltwright.app.compare import compare_results
from beltwright.core.columns import Column, ColumnTable
from beltwright.core.errors import ToolError
from beltwright.web.desk import Desk
from beltwright.web.pages.words import over, plain_table, quiet

_NOW = "the state in force"


class ComparePage:
    """Choose two states and see what differs."""

    def __init__(self, desk: Desk) -> None:
        self.desk = desk

    def build(self) -> None:
        """Put the page together."""
        with ui.element("div").classes("full").props("role=main"):
            ui.label("Compare two revisions").classes("headline").props("role=heading aria-level=2")
            self._choice = ui.row()
            self._box = ui.element("div").classes("pad").style("padding: 8px 0; max-width: 1100px")
            ui.label("Compare two classes").classes("headline").props("role=heading aria-level=2")
            quiet(
                "Her hull and arrangement under every class of her rules; offered plates and frames are left aside. "
                "Classes of other documents stand beside them in the command choose."
            )
            self._classes = ui.button("Design every class", on_click=self._design_classes)
            self._classes.props("unelevated no-caps color=none text-color=none").classes("solid")
            self._class_box = ui.element("div").classes("pad").style("padding: 8px 0; max-width: 1100px")
        self.refresh("results")

    def refresh(self, what: str) -> None:
        """Offer the revisions that are kept."""
        if what not in ("results", "edited"):
            return
        kept = {line.number: f"{line.number}  {line.name}, {line.at[:10]}" for line in self.desk.record.revisions()}
        self._choice.clear()
        with self._choice:
            if not kept:
                quiet("No revision is kept yet. Keep one on the design page, under History.")
                return
            numbers = {**kept, 0: _NOW}
            first = ui.select(numbers, label="from", value=max(kept)).props("dense outlined").style("min-width: 260px")
            second = ui.select(numbers, label="to", value=0).props("dense outlined").style("min-width: 260px")
            ui.button("Compare", on_click=lambda: self._show(int(first.value), int(second.value))).props(
                "unelevated no-caps"
            )

    def _show(self, first: int, second: int) -> None:
        """Show what differs."""
        self._box.clear()
        with self._box:
            try:
                made = compare_results(self.desk.state(first), self.desk.state(second))
            except ToolError as error:
                ui.label(str(error)).classes("unconfirmed")
                return
            over("Figures")
            plain_table(
                ("what", "from", "to", "difference"), [(r.what, r.before, r.after, r.difference) for r in made.figures],
                right=(1, 2, 3), caption="figures",
            )  # fmt: skip
            over(f"Settings that differ ({len(made.settings)})")
            plain_table(
                ("setting", "from", "to"), [(r.what, r.before, r.after) for r in made.settings[:80]], caption="settings"
            )
            over(f"Groups of plates that differ ({len(made.plates)})")
            plain_table(
                ("plates", "from", "to"), [(r.what, r.before, r.after) for r in made.plates[:120]], caption="plates"
            )
            over(f"Groups of frames that differ ({len(made.frames)})")
            plain_table(
                ("frames", "from", "to"), [(r.what, r.before, r.after) for r in made.frames[:120]], caption="frames"
            )

    async def _design_classes(self) -> None:
        """Design the ship under every class, off the page's own thread, and offer two of them side by side."""
        self._classes.disable()
        try:
            table = await asyncio.to_thread(self.desk.classes)
        except ToolError as error:
            ui.notify(str(error), type="negative", multi_line=True, close_button="Close")
            return
        finally:
            self._classes.enable()
        names = table.labels("ice_class").tolist()
        own = self.desk.session.ship.ice.ice_class
        self._class_box.clear()
        with self._class_box:
            with ui.row():
                first = ui.select(names, label="class", value=own if own in names else names[0])
                second = ui.select(names, label="beside", value=names[max(names.index(first.value) - 1, 0)])
                for field in (first, second):
                    field.props("dense outlined").style("min-width: 140px")
            box = ui.element("div")

            def show() -> None:
                box.clear()
                with box:
                    _beside(table, names.index(first.value), names.index(second.value))

            first.on_value_change(show)
            second.on_value_change(show)
            show()


def _beside(table: ColumnTable, one: int, other: int) -> None:
    """Two rows of a table of classes side by side, what differs with its difference."""
    rows = []
    for name in table:
        column = table[name]
        if name in ("own", "reasons", "more_than_own_t", "ice_class"):
            continue
        told = [_said(column, row) for row in (one, other)]
        numbers = column.data.dtype.kind == "f" and column.applies[one] and column.applies[other]
        change = f"{float(column.data[other]) - float(column.data[one]):+.3g}" if numbers else ""
        unit = "" if column.unit.symbol in ("-", "label", "flag") else f", {column.unit.symbol}"
        rows.append((f"{column.meaning}{unit}", *told, change))
    heads = ("what", str(table.labels("ice_class")[one]), str(table.labels("ice_class")[other]), "difference")
    plain_table(heads, rows, right=(1, 2, 3), caption="two classes")
    for row in (one, other):
        reason = str(table.labels("reasons")[row])
        if reason:
            quiet(f"{table.labels('ice_class')[row]}: {reason}")


def _said(column: Column, row: int) -> str:
    """One cell in words; a dash where it does not apply."""
    if not column.applies[row]:
        return "–"
    value = column.data[row]
    return f"{float(value):.4g}" if column.data.dtype.kind == "f" else str(value)
