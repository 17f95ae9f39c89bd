"""The page of every setting in ``ship.toml``, from the model that checks it."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from enum import Enum
from typing import Any, get_args

from pydantic import BaseModel
from pydantic.fields import FieldInfo

from beltwright.ship.model import Ship
from beltwright.ship.parse import allowed_of, unit_of_field
from pages._modules import table

INTRO = """# Every setting of ship.toml

One text file describes the ship. Unknown keys, numbers that are not finite and values outside the allowed range are
refused with one line that names the key, the value, its unit and what is allowed. The unit is part of each name:
`_m` metres, `_mm` millimetres, `_deg` degrees, `_t` tonnes. Heights are above the baseline, x is from the aft
perpendicular and forward positive ([conventions](../conventions.md)).

`[[double brackets]]` mark a table that may be repeated. Keys without a table of their own stand at the top of the file.
"""


def page() -> str:
    """Give the page as Markdown."""
    top = [row for name, field in Ship.model_fields.items() if model_of(field) is None for row in [_row(name, field)]]
    parts = [INTRO, "\n## At the top of the file\n\n", _settings(top)]
    for path, field, model in sections():
        repeated = _is_list(field)
        heading = f"[[{path}]]" if repeated else f"[{path}]"
        need = " Required." if field.is_required() else ""
        parts.append(f"\n## `{heading}`\n\n{_sentence(field.description)}.{need}\n\n")
        parts.append(
            _settings([_row(name, inner) for name, inner in model.model_fields.items() if not model_of(inner)])
        )
    return "".join(parts)


def sections(model: type[BaseModel] = Ship, prefix: str = "") -> Iterator[tuple[str, FieldInfo, type[BaseModel]]]:
    """Yield every table of the file, outer ones first: its dotted name, its field and its model."""
    for name, field in model.model_fields.items():
        inner = model_of(field)
        if inner is not None:
            yield f"{prefix}{name}", field, inner
            yield from sections(inner, f"{prefix}{name}.")


def model_of(field: FieldInfo) -> type[BaseModel] | None:
    """Return the model inside a field: itself, in a list of them, or as an alternative to nothing."""
    return next((found for found in _types(field.annotation) if issubclass(found, BaseModel)), None)


def _types(annotation: Any) -> Iterator[type]:
    if isinstance(annotation, type):
        yield annotation
    for inner in get_args(annotation):
        yield from _types(inner)


def _is_list(field: FieldInfo) -> bool:
    return getattr(field.annotation, "__origin__", None) is tuple


def _settings(rows: list[list[str]]) -> str:
    return table(["key", "unit", "what", "allowed", "if not given"], rows)


def _row(name: str, field: FieldInfo) -> list[str]:
    return [
        f"`{name}`",
        unit_of_field(name),
        field.description or "",
        allowed_of(field) or _kind(field),
        _absent(field),
    ]


def _kind(field: FieldInfo) -> str:
    """What kind of value is wanted where the model sets no limit."""
    kinds = set(_types(field.annotation))
    return next(
        (words for kind, words in {bool: "true, false", date: "a date", str: "text"}.items() if kind in kinds), ""
    )


def _absent(field: FieldInfo) -> str:
    if field.is_required():
        return "**required**"
    value = field.default
    if isinstance(value, Enum):
        value = value.value
    if value is None or value == ():
        return ""
    if isinstance(value, bool):
        return str(value).lower()
    return ", ".join(map(str, value)) if isinstance(value, tuple) else str(value)


def _sentence(text: str | None) -> str:
    return (text or "")[:1].upper() + (text or "")[1:]
