"""The story of the chosen panel: what it is, why, the chain of numbers, and what would change it."""

from __future__ import annotations

from collections.abc import Callable

from nicegui import ui

from beltwright.core.errors import ToolError
from beltwright.report.calculation import CalculationLine, calculation
from beltwright.report.numbers import told
from beltwright.report.symbols import printed
from beltwright.scantlings.explain import Explanation, explain_frame, explain_panel
from beltwright.web.desk import Desk
from beltwright.web.pages.words import over, plain_table, quiet


def panel_story(desk: Desk, on_frame: Callable[[str], None]) -> None:
    """Put the story of the chosen panel, and the frames beside it, on the page."""
    made, name = desk.results, desk.chosen
    if made is None:
        quiet("There are no results yet.")
        return
    if not name:
        quiet("Choose a panel: click the hull or the shell expansion, or go there with the arrow keys.")
        return
    try:
        tale = explain_panel(made.design, name)
    except ToolError as error:
        quiet(str(error))
        return
    _tell(tale)
    frames = made.design.frames.labels("id").tolist()
    if name in frames:
        ui.button(f"Story of frame {name}", on_click=lambda: on_frame(name)).props("outline dense no-caps")


def frame_story(desk: Desk, name: str) -> None:
    """Put the story of one frame span on the page."""
    made = desk.results
    if made is not None:
        _tell(explain_frame(made.design, name))


def _tell(tale: Explanation) -> None:
    """Put a story on the page."""
    ui.label(tale.headline).classes("headline" + (" bad" if "NOT met" in tale.headline else "")).props("role=status")
    for words in tale.place:
        quiet(words)
    if tale.not_applicable is not None:
        ui.label(str(tale.not_applicable))
        return
    if tale.rounding:
        over("From requirement to steel")
        for words in tale.rounding:
            ui.label(words)
    if tale.alternatives:
        over("What would change it")
        rows = [
            (one.change, told(one.before), told(one.after), "" if one.offered is None else told(one.offered))
            for one in tale.alternatives
        ]
        unit = tale.alternatives[0].unit
        plain_table(
            ("change", f"now {unit}", f"then {unit}", "steel"), rows, right=(1, 2, 3), caption="what would change it"
        )
    over("The chain of numbers")
    for line in reversed(calculation(tale.trace, tale.results)):
        _line(line)


def _line(line: CalculationLine) -> None:
    """One number of the chain: symbol, value, what it is and where from; its formula with numbers."""
    with ui.element("div").classes("story-line"):
        ui.label(printed(line.symbol))
        ui.label(line.value_words).classes("number")
        mark = "" if line.confirmed else "  not confirmed from the printed page"
        source = line.citation or line.origin or "given"
        what = ui.label(f"{line.meaning}; {source}{mark}").classes("what")
        if mark:
            what.classes("unconfirmed")
        if line.plain is not None and line.plain.numbers:
            text = f"= {printed(line.plain.symbols)}"
            if line.plain.numbers != line.plain.symbols:
                text += f"\n= {printed(line.plain.numbers)}"
            ui.label(text).classes("formula")
        for cell in line.cell_words:
            ui.label(f"from {cell}").classes("what")
