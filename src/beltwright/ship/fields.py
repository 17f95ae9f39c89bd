"""The settings of ``ship.toml`` as data: what a form needs to ask for each, read from the model that checks them."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from enum import Enum
from typing import Any, Literal, get_args, get_origin

from pydantic import BaseModel
from pydantic.fields import FieldInfo

from beltwright.ship.model import Ship
from beltwright.ship.parse import allowed_of, models_in, unit_of_field, words_of

Kind = Literal["number", "count", "switch", "words", "choice", "date", "list", "table", "tables"]


@dataclass(frozen=True, slots=True, kw_only=True)
class FieldSpec:
    """One setting.

    ``kind`` is what it holds; a ``table`` has ``parts``, ``tables`` is a list of such tables, a ``list`` holds plain
    values. ``choices`` are the words that may be chosen. ``default`` is the value where the file says nothing, None
    where that means "not given".
    """

    name: str
    kind: Kind
    unit: str
    description: str
    allowed: str
    required: bool
    default: object = None
    choices: tuple[str, ...] = ()
    parts: tuple[FieldSpec, ...] = ()

    def part(self, name: str) -> FieldSpec:
        """Return a part by its name; KeyError if there is none."""
        return next(part for part in self.parts if part.name == name)


def ship_fields() -> tuple[FieldSpec, ...]:
    """Return every setting at the top of ``ship.toml``, tables with their parts, in the order of the model."""
    return fields_of(Ship)


def fields_of(model: type[BaseModel]) -> tuple[FieldSpec, ...]:
    """Return the settings of one model."""
    return tuple(_spec(name, field) for name, field in model.model_fields.items())


def _spec(name: str, field: FieldInfo) -> FieldSpec:
    """One setting from the model's field."""
    inner = next(models_in(field.annotation), None)
    repeated = get_origin(field.annotation) is tuple
    kind: Kind = _kind(field.annotation)
    if inner is not None:
        kind = "tables" if repeated else "table"
    elif repeated:
        kind = "list"
    default = None if field.is_required() or inner is not None else field.default
    return FieldSpec(
        name=name,
        kind=kind,
        unit=unit_of_field(name),
        description=field.description or "",
        allowed=allowed_of(field),
        required=field.is_required(),
        default=default.value if isinstance(default, Enum) else default,
        choices=tuple(words_of(field.annotation)),
        parts=() if inner is None else fields_of(inner),
    )


def _kind(annotation: Any) -> Kind:
    """What one plain value is."""
    if words_of(annotation):
        return "choice"
    plain = _plain_types(annotation)
    kinds: tuple[tuple[type, Kind], ...] = (
        (bool, "switch"), (date, "date"), (float, "number"), (int, "count"), (str, "words"),
    )  # fmt: skip
    return next((kind for held, kind in kinds if held in plain), "words")


def _plain_types(annotation: Any) -> set[type]:
    """The plain types inside an annotation, alternatives and annotated ones included."""
    if isinstance(annotation, type):
        return {annotation}
    return {found for inner in get_args(annotation) for found in _plain_types(inner)}
