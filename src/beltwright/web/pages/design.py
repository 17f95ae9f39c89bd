"""The design page: settings at the left, pictures in the middle, the story at the right; all of one state."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any, Final

from nicegui import ui

from beltwright.app.colouring import COLOURINGS, Colouring
from beltwright.core.errors import ToolError
from beltwright.web.colours import colours_of
from beltwright.web.desk import SHEETS, Desk
from beltwright.web.pages.forms import ShipForms
from beltwright.web.pages.lists import area_list, caution_list, finding_list, history_list
from beltwright.web.pages.story import frame_story, panel_story
from beltwright.web.parts.drawing_view import DrawingView
from beltwright.web.parts.hull_view import HullView

_VIEWS: Final = ("bow", "port", "stern", "bottom", "above")
_SHEET_NAMES: Final = {"shell-expansion": "Shell expansion", "profile": "Profile", "body-plan": "Body plan and angles"}


class DesignPage:
    """One browser tab on the design of the ship on the desk."""

    def __init__(self, desk: Desk) -> None:
        self.desk = desk
        self.by = "thickness"
        self.sheet = SHEETS[0]
        self._boxes: dict[str, ui.element] = {}
        self._shape: object = None
        self._lines: tuple[object, object] = (None, None)
        self._shown = -1

    def build(self) -> None:
        """Put the page together."""
        with ui.element("div").classes("panes"):
            with ui.element("div").classes("pane left").props('role=region aria-label="settings" tabindex=0'):
                ShipForms(self.desk).build()
            self._middle()
            with ui.element("div").classes("pane right").props('role=region aria-label="results" tabindex=0'):
                self._right()
        self.refresh("results")

    def _middle(self) -> None:
        """The pictures."""
        with ui.element("div").classes("middle").props('role=main aria-label="pictures"'):
            with ui.element("div").classes("bar"):
                ui.label("Colour by").classes("label")
                self._by = _choices(list(COLOURINGS), self.by, self._colour_by)
                ui.label("Look from").classes("label")
                _choices(list(_VIEWS), "", lambda name: self.hull.view(name))
            with ui.element("div").classes("sheet").style("grid-template-rows: 1fr auto"):
                with ui.element("div").classes("holder"):
                    self.hull = HullView(
                        label="hull in three dimensions; arrow keys turn it", shell_url="", on_pick=self._picked
                    )
                    self._old = [ui.label("out of date").classes("old-mark")]
                self.legend = ui.element("div").classes("legend").props('role=list aria-label="legend"')
            with ui.element("div").classes("sheet"):
                with ui.element("div").classes("bar"):
                    names = [_SHEET_NAMES[sheet] for sheet in SHEETS]
                    _choices(names, _SHEET_NAMES[self.sheet], self._show_sheet)
                    ui.label(
                        "wheel magnifies, drag shifts, double click fits, arrow keys go from panel to panel"
                    ).classes("label")
                with ui.element("div").classes("holder"):
                    self.drawing = DrawingView(
                        label="drawing; arrow keys go from panel to panel", drawing_url="", on_pick=self._picked
                    )
                    self._old.append(ui.label("out of date").classes("old-mark"))

    def _right(self) -> None:
        """Story and lists."""
        self._old.append(ui.label("what stands below is out of date").classes("old-line"))
        with ui.tabs().props("dense align=left narrow-indicator") as tabs:
            names = ("Panel", "Areas", "Findings", "Rules", "History")
            self._tabs = {name: ui.tab(name) for name in names}
        self.tabs = tabs
        with ui.tab_panels(tabs, value="Panel", animated=False).classes("w-full"):
            for name in names:
                with ui.tab_panel(name).style("padding: 0"):
                    self._boxes[name] = ui.element("div").classes("pad")

    def refresh(self, what: str) -> None:
        """Bring the page up to the state of the desk after a change."""
        if what == "plates":
            if self.desk.arrangement is self._shape:
                self._paint()
            return
        for mark in self._old:
            mark.set_visibility(not self.desk.session.up_to_date)
        if what == "results":
            if self.desk.results is not None and self.desk.number != self._shown:
                self._shown = self.desk.number
                design = self.desk.results.design
                lines = (design.borders, design.measures)
                if design.arrangement is not self._shape or any(
                    a is not b for a, b in zip(lines, self._lines, strict=True)
                ):
                    self.hull.reload(f"/picture/{self.desk.number}/shell")
                    self._shape, self._lines = design.arrangement, lines
                self.drawing.reload(f"/picture/{self.desk.number}/{self.sheet}")
            self._paint()
            self._fill()
        if what == "edited":
            self._fill_history()

    def choose(self, name: str, *, starboard: bool = False) -> None:
        """Make a panel the chosen one in all pictures and tell its story."""
        row = self.desk.panel_row(name)
        if row is None:
            ui.notify(f"{name} is no panel of this ship")
            return
        self.desk.chosen = name
        self.hull.choose(row, starboard=starboard)
        self.drawing.choose(row)
        self._patch(row)
        self.tabs.set_value("Panel")
        self._fill_panel()

    def _picked(self, told: dict[str, Any]) -> None:
        """A panel was clicked or gone to."""
        self.choose(self.desk.panel_name(int(told.get("row", -1))), starboard=bool(told.get("starboard")))

    def _patch(self, row: int) -> None:
        """Draw the load patch to scale where the chosen panel is."""
        points, columns = self.desk.load_patch(row)
        self.hull.patch(points, columns)

    def _colour_by(self, name: str) -> None:
        """Colour the panels another way."""
        self.by = name
        self._paint()

    def _show_sheet(self, title: str) -> None:
        """Show another drawing."""
        self.sheet = next(sheet for sheet, name in _SHEET_NAMES.items() if name == title)
        if self.desk.results is not None:
            self.drawing.reload(f"/picture/{self.desk.number}/{self.sheet}")
            self._paint()

    def _paint(self) -> None:
        """Send the classes of the panels, and show what they mean."""
        made = self.desk.colouring(self.by)
        if made is None:
            return
        colours = colours_of(made)
        self.hull.paint(made.classes.tobytes(), colours, made.labels)
        self.drawing.paint(made.classes.tobytes(), colours, made.labels)
        self.legend.clear()
        with self.legend:
            self._legend(made, colours)

    @staticmethod
    def _legend(made: Colouring, colours: list[str]) -> None:
        """What the colours mean, with the number of panels of each."""
        ui.label(f"{made.title}:").style("font-weight:600")
        for number, (label, colour) in enumerate(zip(made.labels, colours, strict=True)):
            if made.counts[number]:
                with ui.element("span").classes("key").props("role=listitem"):
                    swatch = ui.element("span").classes("swatch").style(f"background-color:{colour}")
                    if number == made.failed:
                        swatch.classes("failed")
                    ui.label(f"{label.removesuffix(' mm').removesuffix(' MPa')} ({made.counts[number]})")

    def _fill(self) -> None:
        """Fill the lists at the right."""
        self._fill_panel()
        puts: dict[str, Callable[[], None]] = {
            "Areas": lambda: area_list(self.desk, self.choose),
            "Findings": lambda: finding_list(self.desk, self.choose),
            "Rules": lambda: caution_list(self.desk),
        }
        for name, put in puts.items():
            self._boxes[name].clear()
            with self._boxes[name]:
                put()
        self._fill_history()

    def _fill_panel(self) -> None:
        """Tell the story of the chosen panel."""
        self._boxes["Panel"].clear()
        with self._boxes["Panel"]:
            panel_story(self.desk, self._tell_frame)

    def _fill_history(self) -> None:
        """Show what was done."""
        self._boxes["History"].clear()
        with self._boxes["History"]:
            history_list(self.desk, self._fill_history)

    def _tell_frame(self, name: str) -> None:
        """Tell the story of a frame in the place of that of the panel."""
        self._boxes["Panel"].clear()
        with self._boxes["Panel"]:
            ui.button("Back to the panel", on_click=self._fill_panel).props("outline dense no-caps")
            try:
                frame_story(self.desk, name)
            except ToolError as error:
                ui.label(str(error))


def _choices(names: list[str], chosen: str, on_choice: Callable[[str], None]) -> dict[str, ui.button]:
    """A row of buttons of which one is on."""
    made: dict[str, ui.button] = {}

    def take(name: str) -> None:
        for other, button in made.items():
            button.classes(add="on" if other == name else "", remove="" if other == name else "on")
            button.props(f"aria-pressed={'true' if other == name else 'false'}")
        on_choice(name)

    with ui.element("div").classes("choices").props("role=group"):
        for name in names:
            made[name] = ui.button(name, on_click=lambda one=name: take(one)).props("flat dense no-caps color=none")
            if name == chosen:
                made[name].classes("on").props("aria-pressed=true")
    return made
