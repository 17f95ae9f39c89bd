"""Opening: choose a ship, or make a new one from a hull file, with what the file shows and what it leaves open."""

from __future__ import annotations

import asyncio
from pathlib import Path
from typing import Any, Final

from nicegui import events, ui

from beltwright.app.new_ship import HULL_KINDS, Answers, HullLook, Level, look_at, proposed_levels
from beltwright.core.errors import ToolError
from beltwright.hull.placing import HullSettings
from beltwright.materials.hull_steel import hull_steels
from beltwright.rules.registry import available, rule_set
from beltwright.web.pages.words import over, plain_table, quiet
from beltwright.web.parts.drawing_view import DrawingView
from beltwright.web.workshop import Workshop

LARGEST_HULL_BYTES: Final = 200_000_000
_SETTINGS: Final = (
    ("length_unit", "Length unit", ("m", "mm", "cm", "in", "ft")), ("x_direction", "x grows", ("forward", "aft")),
    ("side", "Side shown", ("port", "starboard", "both")), ("up_axis", "Axis up", ("x", "y", "z", "-x", "-y", "-z")),
    ("length_axis", "Axis along the ship", ("x", "y", "z")),
)  # fmt: skip
_PLACES: Final = (("ap_x_m", "Aft perpendicular at x [m]"), ("baseline_z_m", "Baseline at z [m]"))
_PROPULSION: Final = ("shafts with rudders", "azimuthing units")


class ShipsPage:
    """Choose or make a ship."""

    def __init__(self, workshop: Workshop) -> None:
        self.workshop = workshop
        self._hull: Path | None = None
        self._look: HullLook | None = None
        self._answers: dict[str, Any] = {}

    def build(self) -> None:
        """Put the page together."""
        column = "max-width: 860px; display: flex; flex-direction: column; gap: 12px"
        with ui.element("div").classes("full").props("role=main"), ui.element("div").style(column):
            ui.label("Ships").classes("headline").props("role=heading aria-level=1")
            self._known()
            over("New ship from a hull file")
            quiet(f"STEP, IGES, 3DM, STL, OBJ, PLY or an offset table (CSV): {', '.join(HULL_KINDS)}.")
            button = ui.button("Choose a hull file").props("outline no-caps dense").classes("self-start")
            with ui.element("div").classes("upload w-full"):
                upload = ui.upload(
                    auto_upload=True, max_files=1, max_file_size=LARGEST_HULL_BYTES, on_upload=self._uploaded,
                    on_rejected=lambda: self._refuse("The file is too large or of another kind."),
                ).props(f'accept="{",".join(HULL_KINDS)}" flat')  # fmt: skip
            button.on_click(lambda: upload.run_method("pickFiles"))
            self._line = ui.label("").classes("unconfirmed").props("role=alert")
            self._box = ui.element("div").classes("pad").style("padding: 0")

    def _known(self) -> None:
        """The ships that are there."""
        ships = self.workshop.ships()
        if not ships:
            quiet("There is no ship folder here yet. Make one from a hull file.")
        for number, folder in enumerate(ships):
            own = self.workshop.desk is not None and self.workshop.desk.session.folder == folder
            with ui.row().style("align-items: center; gap: 10px"):
                button = ui.button(f"Open {folder.name}", on_click=lambda at=number: self._open(at))
                button.props("outline no-caps dense")
                if own:
                    quiet("on the desk now")

    def _open(self, number: int) -> None:
        """Put a ship on the desk."""
        try:
            self.workshop.open(number)
        except ToolError as error:
            self._refuse(str(error))
            return
        ui.navigate.to("/")

    async def _uploaded(self, event: events.UploadEventArguments) -> None:
        """Take an uploaded file in and look at it."""
        try:
            content = await event.file.read()
            self._hull = await asyncio.to_thread(self.workshop.take_in, event.file.name, content)
        except ToolError as error:
            self._refuse(str(error))
            return
        await self._detect()

    async def _detect(self) -> None:
        """Look at the hull file with the answers given so far."""
        assert self._hull is not None
        given = {name: self._answers.get(name) or None for name, _, _ in _SETTINGS}
        given |= {name: self._answers.get(name) for name, _ in _PLACES}
        try:
            self._look = await asyncio.to_thread(look_at, self._hull, HullSettings(**given))
        except (ToolError, TypeError) as error:
            self._look = None
            self._box.clear()
            self._refuse(str(error))
            return
        self._line.set_text("")
        self._show()

    def _refuse(self, words: str) -> None:
        """Say in one line why something cannot be."""
        self._line.set_text(words)

    def _show(self) -> None:
        """What was detected, the answers about it, and the first description."""
        look = self._look
        assert look is not None
        self._box.clear()
        with self._box:
            over("What the file shows")
            plain_table(
                ("what", "found", "why"), [(r.what, r.outcome, r.ground) for r in look.rows], caption="detection"
            )
            for finding in look.findings:
                with ui.element("div").classes(f"finding {finding.kind.severity.value}"):
                    ui.label(f"{finding.kind.title}: {finding.message}")
                    quiet(finding.kind.advice)
            if look.picture is not None:
                number = self.workshop.show(look.picture)
                with ui.element("div").style("height: 300px; position: relative; border: 1px solid var(--line)"):
                    DrawingView(
                        label="the hull as it was read", drawing_url=f"/incoming/{number}", on_pick=lambda _: None
                    )
            over("Correct it, where it is not right")
            with ui.row().style("gap: 8px"):
                for name, label, choices in _SETTINGS:
                    made = ui.select(list(choices), label=label, value=self._answers.get(name), clearable=True)
                    made.props("dense outlined").style("min-width: 150px")
                    made.on_value_change(lambda event, one=name: self._answer(one, event.value))
                for name, label in _PLACES:
                    place = ui.number(label, value=self._answers.get(name)).props("dense outlined")
                    place.on("change", lambda one=name, field=place: self._answer(one, field.value))
            if look.box is not None:
                self._form(look.box)

    async def _answer(self, name: str, value: Any) -> None:
        """Take an answer about the file and look again."""
        self._answers[name] = value
        await self._detect()

    def _form(self, box: tuple[tuple[float, float, float], tuple[float, float, float]]) -> None:
        """The first description: what has to be answered before there can be a result."""
        (low_x, low_y, low_z), (high_x, high_y, high_z) = box
        depth = round(high_z, 2)
        over("First description")
        quiet(
            f"The hull reaches from x {low_x:.2f} to {high_x:.2f} m, half-breadth {max(high_y, -low_y):.2f} m, "
            f"z {low_z:.2f} to {high_z:.2f} m. Proposed values are a place to begin; each is yours to settle."
        )
        with ui.element("div").style("display:grid;grid-template-columns:repeat(auto-fill,minmax(240px,1fr));gap:8px"):
            name = _text("Name of the ship", "")
            rules = _select("Rules", list(available()), available()[-1])
            ice_class = _select("Ice class", list(rule_set(rules.value).classes), None)
            depth_field = _number("Depth to the main deck [m]", depth)
            upper = _number("Draught at the upper ice waterline [m]", None)
            lower = _number("Draught at the lower ice waterline [m]", None)
            allowance = _number("Displacement of shell and appendages [t]", 0.0)
            spacing = _number("Frame spacing [m]", 0.4)
            webs = _number("Web frame spacing [m]", 1.6)
            propulsion = _select("Propulsion", list(_PROPULSION), None)
            stock = _number("Rudder stock or steering axis at x [m]", 0.0)
            plate = _select("Steel grade of plates", list(hull_steels().grades), "EH36")
            frame = _select("Steel grade of frames", list(hull_steels().grades), "EH36")
        rules.on_value_change(lambda: ice_class.set_options(list(rule_set(rules.value).classes), value=None))
        quiet("Levels are proposed about 1.5 m apart (common practice, no source); change them on the design page.")
        said = ui.label("").classes("unconfirmed").props("role=alert")

        async def make() -> None:
            fields = {
                "Name of the ship": name, "Ice class": ice_class, "Draught at the upper ice waterline": upper,
                "Draught at the lower ice waterline": lower, "Propulsion": propulsion, "Frame spacing": spacing,
                "Depth": depth_field, "Web frame spacing": webs, "Rudder stock": stock,
            }  # fmt: skip
            empty = [label for label, field in fields.items() if field.value in (None, "")]
            if empty:
                said.set_text(f"Still to be answered: {', '.join(empty)}.")
                return
            levels = proposed_levels(float(depth_field.value), float(lower.value))
            try:
                await asyncio.to_thread(self._make, Answers(
                    name=name.value.strip(), hull_file=self._hull.name if self._hull else "", rules=rules.value,
                    ice_class=ice_class.value, depth_m=float(depth_field.value), upper_draught_m=float(upper.value),
                    lower_draught_m=float(lower.value), displacement_allowance_t=float(allowance.value or 0.0),
                    frame_spacing_m=float(spacing.value), web_frame_spacing_m=float(webs.value), levels=levels,
                    propulsion=propulsion.value, rudder_stock_x_m=float(stock.value), plate_grade=plate.value,
                    frame_grade=frame.value,
                ), (low_x, high_x))  # fmt: skip
            except ToolError as error:
                said.set_text(str(error))
                return
            ui.navigate.to("/")

        ui.button("Make the ship and go to the design", on_click=make).props(
            "unelevated no-caps color=none text-color=none"
        ).classes("solid").classes("self-start")

    def _make(self, answers: Answers, hull_x_m: tuple[float, float]) -> None:
        """Make the folder of the new ship."""
        assert self._hull is not None
        given = {name: self._answers.get(name) or None for name, _, _ in _SETTINGS}
        given |= {name: self._answers.get(name) for name, _ in _PLACES}
        self.workshop.new_ship(answers, HullSettings(**given), self._hull, hull_x_m)


def _text(label: str, value: str) -> ui.input:
    """A field for words."""
    return ui.input(label, value=value).props("dense outlined")


def _number(label: str, value: float | None) -> ui.number:
    """A field for a number."""
    return ui.number(label, value=value).props("dense outlined")


def _select(label: str, choices: list[str], value: str | None) -> ui.select:
    """A field for a choice."""
    return ui.select(choices, label=label, value=value).props("dense outlined")


__all__ = ["Level", "ShipsPage"]
