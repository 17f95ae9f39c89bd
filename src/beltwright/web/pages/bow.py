"""Bow angles by hand: sliders for waterline, flare and stem angle; load, pressure, plate and steel move with them."""

from __future__ import annotations

from nicegui import ui

from beltwright.app.bow_angles import AngleStudy, angle_study
from beltwright.core.errors import ToolError
from beltwright.web.desk import Desk
from beltwright.web.pages.words import over, plain_table, quiet


class BowPage:
    """Sliders on the hull's own angles."""

    def __init__(self, desk: Desk) -> None:
        self.desk = desk
        self._study: AngleStudy | None = None
        self._turn = {"waterline": 0.0, "flare": 0.0, "stem": 0.0}

    def build(self) -> None:
        """Put the page together."""
        with ui.element("div").classes("full").props("role=main"):
            ui.label("Bow angles by hand").classes("headline").props("role=heading aria-level=2")
            quiet(
                "Each slider turns an angle at all load stations by the same amount, from the hull's own values; the "
                "buttock angle follows. The hull itself is not changed: this says what a change would be worth."
            )
            with ui.element("div").style(
                "display:grid;grid-template-columns:minmax(280px,420px) 1fr;gap:28px;margin-top:10px"
            ):
                with ui.element("div"):
                    for name, words in (
                        ("waterline", "Waterline angle"), ("flare", "Normal frame angle"), ("stem", "Stem angle"),
                    ):  # fmt: skip
                        label = ui.label(f"{words}: as on the hull")
                        slider = ui.slider(min=-8.0, max=8.0, step=0.25, value=0.0).props(f'label aria-label="{words}"')
                        slider.on_value_change(
                            lambda event, one=name, told=label, said=words: self._turned(
                                one, float(event.value), told, said
                            )
                        )
                    ui.button("Back to the hull's own angles", on_click=lambda: ui.navigate.to("/bow")).props(
                        "outline dense no-caps"
                    )
                self._box = ui.element("div").props("role=region aria-live=polite aria-label=outcome")
        self.refresh("results")

    def refresh(self, what: str) -> None:
        """Begin anew from the results in force."""
        if what != "results" or self.desk.results is None:
            return
        try:
            self._study = angle_study(self.desk.results.design)
        except ToolError as error:
            self._study = None
            self._box.clear()
            with self._box:
                quiet(str(error))
            return
        self._show()

    def _turned(self, name: str, degrees: float, label: ui.label, words: str) -> None:
        """A slider was moved."""
        self._turn[name] = degrees
        label.set_text(f"{words}: {degrees:+.2f} degrees" if degrees else f"{words}: as on the hull")
        self._show()

    def _show(self) -> None:
        """What the angles bring."""
        study = self._study
        if study is None:
            return
        self._box.clear()
        with self._box:
            try:
                made = study.at(self._turn["waterline"], self._turn["flare"], self._turn["stem"])
            except ToolError as error:
                ui.label(str(error)).classes("unconfirmed")
                return
            over("What it brings")
            plain_table(
                ("quantity", "on the hull", "turned", "difference"),
                [
                    (row.what, f"{row.before:.{row.decimals}f} {row.unit}", f"{row.after:.{row.decimals}f} {row.unit}",
                     f"{row.after - row.before:+.{row.decimals}f}")
                    for row in made.rows
                ], right=(1, 2, 3), caption="outcome of the angles",
            )  # fmt: skip
            over("Angles at the load stations, degrees")
            plain_table(
                ("aft of the stem m", "waterline", "normal frame", "frame", "buttock"),
                [tuple(f"{value:.2f}" for value in row) for row in made.stations],
                right=(0, 1, 2, 3, 4), caption="angles",
            )  # fmt: skip
            for note in made.notes:
                quiet(note)
