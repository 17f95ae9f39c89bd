"""Forms for every setting of ``ship.toml``, made from the settings themselves; each change is an edit of its own."""

from __future__ import annotations

from collections.abc import Awaitable, Callable, Mapping, Sequence
from datetime import date
from typing import Any, Final

from nicegui import ui

from beltwright.rules.registry import available, rule_set
from beltwright.ship.edit import Path
from beltwright.ship.fields import FieldSpec, ship_fields
from beltwright.web.desk import Desk

# What stands open first, in the order in which a ship is described; the rest follows under one heading.
FIRST: Final = (
    "ice", "waterlines", "steel", "stock", "effective_protection", "levels", "zones", "frames", "plates",
    "frame_sections", "propulsion", "water", "hull", "ship",
)  # fmt: skip
TITLES: Final = {
    "ice": "Ice class", "waterlines": "Ice waterlines", "steel": "Steel", "stock": "Stock",
    "levels": "Decks and stringers",
    "zones": "Framing zones", "frames": "Frame spacing", "plates": "Plates offered", "frame_sections": "Frames offered",
    "propulsion": "Propulsion", "water": "Water", "hull": "Hull file", "ship": "Ship", "hull_girder": "Hull girder",
    "effective_protection": "Protection", "web_frames": "Web frames", "sizing": "Least structure",
}  # fmt: skip
_KEYS: Final = ("name", "hull_area", "zone", "frame", "x_m", "item", "grade", "level", "from_frame")
Setter = Callable[[Path, Any], Awaitable[str]]


def title_of(name: str) -> str:
    """Return what a setting is called on a page."""
    return TITLES.get(name, name.removesuffix("_m").removesuffix("_mm").replace("_", " ").capitalize())


class ShipForms:
    """The forms of the ship on the desk."""

    def __init__(self, desk: Desk) -> None:
        self.desk = desk
        self._specs = {spec.name: spec for spec in ship_fields()}
        self._open: set[str] = {"ice"}

    def build(self) -> None:
        """Put the forms on the page."""
        rest = [name for name in self._specs if name not in FIRST]
        for name in FIRST:
            self._section(self._specs[name])
        with ui.expansion("More settings").classes("section w-full"):
            for name in rest:
                self._section(self._specs[name])

    def _section(self, spec: FieldSpec) -> None:
        """One heading with its settings; they are put there when it is opened, so that a page begins quickly."""
        heading = ui.expansion(title_of(spec.name), value=spec.name in self._open).classes("section w-full")
        with heading:
            holder = ui.column().classes("w-full").style("gap: 0")

        def show() -> None:
            (self._open.add if heading.value else self._open.discard)(spec.name)
            if heading.value and not holder.default_slot.children:
                with holder:
                    self._body(spec, holder)

        heading.on_value_change(show)
        show()

    def _body(self, spec: FieldSpec, holder: ui.column) -> None:
        """What stands under a heading."""
        value = _plain(getattr(self.desk.session.ship, spec.name))
        with ui.column().classes("fields"):
            if spec.kind == "table":
                self._fields(spec.parts, (spec.name,), value or {})
            elif spec.kind == "tables":
                self._rows(spec, (spec.name,), value or [], holder)
            else:
                self._field(spec, (spec.name,), value)

    def _fields(self, parts: Sequence[FieldSpec], path: Path, values: Mapping[str, Any]) -> None:
        """The settings of one table."""
        for part in parts:
            if part.kind == "tables":
                with ui.expansion(title_of(part.name)).classes("row-card"):
                    holder = ui.column().classes("w-full")
                    with holder:
                        self._rows(part, (*path, part.name), values.get(part.name) or [], holder)
            elif part.kind == "table":
                with ui.expansion(title_of(part.name)).classes("row-card"), ui.column().classes("fields"):
                    self._fields(part.parts, (*path, part.name), values.get(part.name) or {})
            else:
                self._field(part, (*path, part.name), values.get(part.name))

    def _rows(self, spec: FieldSpec, path: Path, rows: Sequence[Mapping[str, Any]], holder: ui.column) -> None:
        """A list of tables: a card for each, and what adds one."""

        async def anew(change: Callable[[], object]) -> None:
            refused = await self.desk.edit(change)
            if refused:
                ui.notify(refused, type="negative", multi_line=True, close_button="Close")
            section = _plain(_value_at(self.desk.session.ship, path)) or []
            holder.clear()
            with holder:
                self._rows(spec, path, section, holder)

        for number, row in enumerate(rows):
            with ui.expansion(_row_name(row, number)).classes("row-card"), ui.column().classes("fields"):
                self._fields(spec.parts, (*path, number), row)
                ui.button(
                    "Take this row out",
                    on_click=lambda at=number: anew(lambda: self.desk.session.remove_row(path, at)),
                ).props("flat dense no-caps").classes("self-start")
        first = rows[-1] if rows else _starting_row(spec)
        ui.button(
            "Add a row like the last" if rows else "Add a row",
            on_click=lambda: anew(lambda: self.desk.session.add_row(path, _fresh(first))),
        ).props("outline dense no-caps").classes("self-start")

    def _field(self, spec: FieldSpec, path: Path, value: Any) -> None:
        """One setting with its unit, and what it means."""
        label = title_of(spec.name) + (f" [{spec.unit}]" if spec.unit else "")
        hint = spec.description + (f"; {spec.allowed}" if spec.allowed and spec.kind in ("number", "count") else "")
        choices = self._choices(spec, path)
        if spec.kind == "switch":
            box = ui.checkbox(label, value=bool(value)).props("dense")
            box.tooltip(hint)
            box.on_value_change(lambda event: self._set(path, event.value, box))
            return
        made: Any
        if spec.kind == "list" and not choices:
            shown = ", ".join(str(item) for item in value or ())
            made = ui.input(label, value=shown)
            read: Callable[[Any], Any] = _list_reader(spec)
        elif spec.kind == "list":
            made = ui.select(list(choices), value=list(value or ()), label=label, multiple=True)
            read = list
        elif choices:
            known = [*choices, *([value] if value is not None and value not in choices else [])]
            made = ui.select(known, value=value, label=label, clearable=not spec.required)
            read = _same
        elif spec.kind in ("number", "count"):
            made = ui.number(label, value=value, format=None)
            read = int if spec.kind == "count" else float
        else:
            made = ui.input(label, value="" if value is None else str(value))
            read = _date if spec.kind == "date" else _same
        made.props(f'dense outlined hide-bottom-space aria-label="{_attribute(label)}"').classes("w-full")
        made.tooltip(hint)
        if isinstance(made, ui.select):
            made.on_value_change(lambda event: self._take(path, event.value, read, made))
        else:
            made.on("change", lambda: self._take(path, made.value, read, made))

    async def _take(self, path: Path, given: Any, read: Callable[[Any], Any], field: Any) -> None:
        """Read what was typed and set it; what cannot be read is said at the field."""
        empty = given is None or given == ""
        try:
            value = None if empty else read(given)
        except ValueError as error:
            field.error = str(error) or f"{given} cannot be read"
            return
        await self._set(path, value, field)

    async def _set(self, path: Path, value: Any, field: Any) -> None:
        """Set one setting; a refusal stands at the field and the description stays as it was."""
        refused = await self.desk.edit(lambda: self.desk.session.change({path: value}))
        if hasattr(field, "error"):
            field.error = refused or None
        elif refused:
            ui.notify(refused, type="negative", multi_line=True, close_button="Close")

    def _choices(self, spec: FieldSpec, path: Path) -> tuple[str, ...]:
        """What may be chosen: the setting's own words, or names that stand elsewhere in the description."""
        ship = self.desk.session.ship
        if spec.choices:
            return spec.choices
        match spec.name:
            case "rules":
                return tuple(available())
            case "ice_class":
                return rule_set(ship.ice.rules).classes if ship.ice.rules in available() else ()
            case "plate_grade" | "frame_grade" | "grade":
                from beltwright.materials.hull_steel import hull_steels

                return tuple(hull_steels().grades)
            case "from_level" | "to_level" | "level" | "intermediate_from_level" | "intermediate_to_level":
                return tuple(level.name for level in ship.levels)
            case "zone":
                return tuple(zone.name for zone in ship.zones)
            case "hull_area":
                made = self.desk.results
                return () if made is None else tuple(area.code for area in made.design.areas.areas)
        return ()


def _row_name(row: Mapping[str, Any], number: int) -> str:
    """What a row is called: by its name, else by where it is, and by its first number."""
    told = [str(row[key]) for key in _KEYS if row.get(key) is not None][:2]
    size = next((f"{row[key]:g}" for key in row if key.endswith(("_mm", "_m")) and isinstance(row[key], float)), "")
    return f"{number + 1}  " + (", ".join([*told, *([size] if size else [])]) or "row")


def _plain(value: Any) -> Any:
    """A part of the description as plain values."""
    if hasattr(value, "model_dump"):
        return value.model_dump(mode="json")
    if isinstance(value, tuple):
        return [_plain(item) for item in value]
    return value.value if hasattr(value, "value") else value


def _value_at(ship: Any, path: Path) -> Any:
    """The part of a ship at a path."""
    held = ship
    for part in path:
        held = held[part] if isinstance(part, int) else getattr(held, part)
    return held


def _fresh(row: Mapping[str, Any]) -> dict[str, Any]:
    """A row to begin with, like another but under a name of its own."""
    made = {key: value for key, value in row.items() if value not in (None, [], {}, "")}
    if isinstance(made.get("name"), str):
        made["name"] = f"{made['name'][:70]} (new)"
    return made


def _starting_row(spec: FieldSpec) -> dict[str, Any]:
    """The least that a first row needs."""
    plain: dict[str, Any] = {"number": 0.0, "count": 1, "words": "to be named", "switch": False}
    known = {"thickness_as_built_mm": 20.0, "section": "HP200x10", "web_height_mm": 500.0, "length_m": 1.0,
             "web_thickness_as_built_mm": 12.0, "height_m": 1.0}  # fmt: skip
    return {
        part.name: known.get(part.name, part.choices[0] if part.choices else plain.get(part.kind))
        for part in spec.parts
        if part.required
    }


def _list_reader(spec: FieldSpec) -> Callable[[Any], Any]:
    """What reads a list typed with commas."""

    def read(text: str) -> list[Any]:
        parts = [part.strip() for part in str(text).split(",") if part.strip()]
        return [float(part) for part in parts] if spec.unit else parts

    return read


def _date(text: str) -> date:
    """A day as year-month-day."""
    return date.fromisoformat(str(text))


def _same(value: Any) -> Any:
    """What was given, as it is."""
    return value


def _attribute(text: str) -> str:
    """Words that may stand inside an attribute."""
    return "".join(sign for sign in text if sign.isalnum() or sign in " []-/,.")
