"""Two revisions side by side: which settings differ, and which plates and frames with them."""

from __future__ import annotations

from nicegui import ui

from beltwright.app.compare import compare_results
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
