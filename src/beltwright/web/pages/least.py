"""The least structure from the page: start the search, watch best and bound close, stop it, see what it saves."""

from __future__ import annotations

from nicegui import ui

from beltwright.app.accept import accepted
from beltwright.app.least import LeastRun
from beltwright.report.sizing_words import amount, sizing_lines
from beltwright.web.desk import Desk
from beltwright.web.pages.words import over, quiet
from beltwright.web.parts.drawing_view import DrawingView

_EVERY_S = 0.4


class LeastPage:
    """The search on the ship on the desk."""

    def __init__(self, desk: Desk) -> None:
        self.desk = desk

    def build(self) -> None:
        """Put the page together."""
        with ui.element("div").classes("full").props("role=main"):
            ui.label("The least structure").classes("headline").props("role=heading aria-level=2")
            quiet(
                "Plates laid on the developed shell, frame groups and what the settings under Least structure leave "
                "open are chosen together so that every requirement is met at least steel, cost or carbon dioxide, "
                "with a proved bound. The ship as described is not changed."
            )
            with ui.row().style("align-items: center; gap: 10px; margin: 8px 0"):
                self._start = ui.button("Start the search", on_click=self._begin)
                self._start.props("unelevated no-caps color=none text-color=none").classes("solid")
                self._stop = ui.button("Stop with the best found", on_click=self._end).props("outline no-caps dense")
                self._line = ui.label("").props("role=status aria-live=polite").classes("number")
            self._bar = ui.linear_progress(value=0.0, show_value=False).props(
                'aria-label="share of the gap that is closed"'
            )
            self._box = ui.element("div")
        self._shown: LeastRun | None = None
        self._timer = ui.timer(_EVERY_S, self._look)
        self._look()

    def refresh(self, what: str) -> None:
        """Say when what is shown no longer belongs to the description in force."""
        if what in ("edited", "results"):
            self._look()

    def _begin(self) -> None:
        """Start the search on the results in force."""
        refused = self.desk.begin_least()
        if refused:
            ui.notify(refused, type="negative", multi_line=True, close_button="Close")
        self._look()

    def _end(self) -> None:
        """Stop the search."""
        if self.desk.least is not None:
            self.desk.least.stop()

    def _look(self) -> None:
        """Show how far the search has come, and what came of it."""
        run = self.desk.least
        running = run is not None and run.running
        self._start.set_enabled(not running)
        self._stop.set_enabled(running)
        self._bar.set_visibility(running)
        if run is None:
            return
        self._line.set_text(_progress(run, stale=run.of != self.desk.session.text))
        self._bar.set_value(1.0 - (run.gap if run.gap is not None else 1.0))
        if not running and self._shown is not run:
            self._shown = run
            self._box.clear()
            with self._box:
                self._outcome(run)

    def _outcome(self, run: LeastRun) -> None:
        """What the search found."""
        if run.study is None:
            ui.label(run.error or "Nothing was found before the search was stopped.").classes("unconfirmed")
            return
        over("Thickness before and after")
        with ui.element("div").style("height: 46vh; position: relative"):
            DrawingView(
                label="thickness of the plates before and after", drawing_url=f"/picture/{self.desk.number}/least",
                on_pick=lambda _: None,
            )  # fmt: skip
        over("Take it over")
        quiet(
            "Writes plates and frame sections into the description, zone by zone, where they are checked like any "
            "other offer; other frame spacing or stringers come with it where the search chose them. The description "
            "offers by bay: a bay gets the thickest plate that lies on it, also where nothing is asked, so that it "
            "weighs more than what was found. It can be undone."
        )
        names = [zone.name for zone in run.study.sized.ship.zones]
        with ui.row().style("align-items: center; gap: 10px"):
            zones = ui.select(names, label="zones", value=list(names), multiple=True).props("dense outlined")
            zones.style("min-width: 280px")
            button = ui.button("Take over", on_click=lambda: self._accept(run, list(zones.value or ())))
            button.props("outline no-caps dense")
        over("What it says")
        for line in sizing_lines(run.study):
            ui.label(line).style("white-space: pre-wrap; min-height: 1em").classes("number")

    async def _accept(self, run: LeastRun, zones: list[str]) -> None:
        """Take over what was found in some zones."""
        if run.study is None or not zones:
            return
        if run.of != self.desk.session.text:
            ui.notify("The description has changed since the search; start it again.", type="negative")
            return
        found = run.study.sized.design
        session = self.desk.session
        changes = accepted(session.ship, found, zones)
        refused = await self.desk.edit(lambda: session.change(changes, f"least structure of {', '.join(zones)}"))
        ui.notify(refused or "taken over", type="negative" if refused else "positive", multi_line=True)


def _progress(run: LeastRun, *, stale: bool) -> str:
    """How far a search has come, in words."""
    unit = "g" if run.study is None else run.study.sized.problem.unit
    told = [f"{run.seconds:.0f} s"]
    if run.best is not None:
        told.append(f"best {amount(run.best, unit)}")
    if run.bound is not None:
        told.append(f"bound {amount(run.bound, unit)}")
    if run.gap is not None:
        told.append(f"gap {100.0 * run.gap:.2f} %")
    if not run.running:
        told.append("stopped" if run.stopped else "done")
    if stale:
        told.append("OUT OF DATE: the description has changed since")
    return ", ".join(told)
