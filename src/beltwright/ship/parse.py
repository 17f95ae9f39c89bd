"""From a parsed document to a :class:`Ship`: every refusal names the field, the value, its unit and what is allowed."""

from __future__ import annotations

import types
from collections.abc import Iterable, Iterator, Mapping
from difflib import get_close_matches
from enum import Enum
from typing import Any, Union, get_args, get_origin

from annotated_types import Ge, Gt, Le, Lt
from pydantic import BaseModel, ValidationError
from pydantic.fields import FieldInfo
from pydantic_core import ErrorDetails

from beltwright.core.errors import InputError
from beltwright.ship.model import Ship

_PATTERNS = dict.fromkeys(("file", "loading_cases"), "the name of a file in the ship folder, without / or ..")
_UNITS = {
    "m": "m", "mm": "mm", "deg": "deg", "t": "t", "m2": "m2", "m3": "m3", "mn": "MN", "mnm": "MNm", "mpa": "MPa",
    "kw": "kW", "kn": "kn", "degc": "degC",
}  # fmt: skip


def parse_ship(document: Mapping[str, Any], where: str = "ship.toml") -> Ship:
    """Return the ship that a parsed document describes.

    Raises InputError for the first thing wrong, naming ``where``, the field, the value found and what is allowed.
    """
    try:
        return Ship.model_validate(_tuples(document))
    except ValidationError as error:
        raise _as_input_error(_first(error.errors()), where) from None


def unit_of_field(name: str) -> str:
    """Return the unit that a field's name ends in, or an empty string."""
    if name.endswith("_t_m3"):
        return "t/m3"
    return _UNITS.get(name.rsplit("_", 1)[-1], "") if "_" in name else ""


def allowed_of(field: FieldInfo) -> str:
    """Return what a field allows, in words: a range, a list of words, or an empty string."""
    words = words_of(field.annotation)
    if words:
        return ", ".join(words)
    limits = list(_limits(field))
    return " and ".join(limits)


def field_at(path: Iterable[str | int]) -> FieldInfo | None:
    """Return the model field at a path such as ``("levels", 2, "height_m")``."""
    model: type[BaseModel] | None = Ship
    found: FieldInfo | None = None
    for part in path:
        if isinstance(part, int):
            continue
        if model is None or part not in model.model_fields:
            return None
        found = model.model_fields[part]
        model = next(models_in(found.annotation), None)
    return found


def _tuples(value: Any) -> Any:
    """Arrays as tuples and whole numbers where floats are wanted are the document's habit, not an error."""
    if isinstance(value, Mapping):
        return {str(key): _tuples(item) for key, item in value.items()}
    if isinstance(value, list):
        return tuple(_tuples(item) for item in value)
    return value


def _first(details: list[ErrorDetails]) -> ErrorDetails:
    """The detail to show: an unknown key before a missing one, since it is often the same key misspelt."""
    return next((detail for detail in details if detail["type"] == "extra_forbidden"), details[0])


def _as_input_error(detail: ErrorDetails, where: str) -> InputError:
    """One validation error as our own line."""
    path = detail["loc"]
    place = f"{where}: {_path(path)}"
    field = field_at(path)
    name = next((part for part in reversed(path) if isinstance(part, str)), "")
    unit = unit_of_field(name)
    match detail["type"]:
        case "missing":
            return InputError(place, "this key is missing", allowed=field.description or "" if field else "")
        case "extra_forbidden":
            known = _siblings(path)
            close = get_close_matches(name, known, n=1)
            hint = f"did you mean {close[0]}?" if close else ", ".join(known)
            return InputError(place, "unknown key", allowed=hint)
    allowed = allowed_of(field) if field else ""
    if detail["type"] == "model_type" and field is not None:
        return InputError(
            place, "is a table of its own, not a single value", value=_shown(detail["input"]), allowed=_table_of(field)
        )
    if detail["type"] == "string_pattern_mismatch":
        words = _PATTERNS.get(name, "printable characters")
        return InputError(place, "has characters that are not allowed", value=detail["input"], allowed=words)
    message = detail["msg"].removeprefix("Value error, ").removeprefix("Input ").removeprefix("String ")
    return InputError(place, message, value=_shown(detail["input"]), unit=unit, allowed=allowed)


def _shown(value: object) -> str | int | float | bool:
    """A value as a message shows it."""
    return value if isinstance(value, int | float | bool) else repr(value) if isinstance(value, str) else _kind(value)


def _table_of(field: FieldInfo) -> str:
    """The keys of the table that a field wants: those that must be there, then those that may."""
    keys = next(models_in(field.annotation)).model_fields
    needed = [name for name, one in keys.items() if one.is_required()]
    others = [name for name in keys if name not in needed]
    told = f"a table with {' and '.join(needed)}" if needed else "a table"
    return told + (f"; it may have {', '.join(others)}" if others else "")


def _kind(value: object) -> str:
    """What kind of thing was found, in the words of the file."""
    return {"dict": "a table", "tuple": "a list", "NoneType": "nothing"}.get(type(value).__name__, type(value).__name__)


def _path(path: tuple[str | int, ...]) -> str:
    """A path as the user writes it: ``levels[3].height_m``, counted from 1."""
    text = ""
    for part in path:
        text += f"[{part + 1}]" if isinstance(part, int) else (f".{part}" if text else part)
    return text


def _siblings(path: tuple[str | int, ...]) -> list[str]:
    """The keys known where an unknown one was found."""
    parent = field_at(path[:-1])
    model = Ship if parent is None else next(models_in(parent.annotation), Ship)
    return list(model.model_fields)


def models_in(annotation: Any) -> Iterator[type[BaseModel]]:
    """Yield the models inside an annotation."""
    if isinstance(annotation, type) and issubclass(annotation, BaseModel):
        yield annotation
    for inner in get_args(annotation):
        yield from models_in(inner)


def words_of(annotation: Any) -> list[str]:
    """Return the words that a Literal or an Enum allows."""
    if isinstance(annotation, type) and issubclass(annotation, Enum):
        return [str(member.value) for member in annotation]
    origin = get_origin(annotation)
    if origin in (Union, types.UnionType, tuple):
        return [word for inner in get_args(annotation) for word in words_of(inner)]
    if str(origin) == "typing.Literal":
        return [str(word) for word in get_args(annotation)]
    return []


def _limits(field: FieldInfo) -> Iterable[str]:
    """The limits of a number, in words."""
    for item in [*field.metadata, *_nested(field.annotation)]:
        match item:
            case Ge(ge=limit):
                yield f"at least {limit}"
            case Gt(gt=limit):
                yield f"above {limit}"
            case Le(le=limit):
                yield f"at most {limit}"
            case Lt(lt=limit):
                yield f"below {limit}"
            case FieldInfo():
                yield from _limits(item)


def _nested(annotation: Any) -> list[Any]:
    """Metadata of Annotated types inside an annotation such as ``float | None``."""
    found: list[Any] = []
    for inner in get_args(annotation):
        found += [*getattr(inner, "__metadata__", ()), *_nested(inner)]
    return found
