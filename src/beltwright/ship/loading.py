"""Loading cases in ice: draughts at the aft perpendicular, amidships and at the stem, and the water's density."""

from __future__ import annotations

import csv
import io
from typing import Literal

from pydantic import Field, ValidationError

from beltwright.core.errors import InputError
from beltwright.ship.model import Part, Position, Word
from beltwright.ship.parse import allowed_of, unit_of_field

LARGEST_TABLE = 10_000


class LoadingCase(Part):
    """One loading case; hog or sag shows as a midship draught off the straight line between the ends."""

    case: Word = Field(description="name of the case")
    x_aft_m: Position = Field(description="x of the aft draught")
    draught_aft_m: float = Field(gt=0.0, le=40.0, description="draught at x_aft_m")
    x_mid_m: Position = Field(description="x of the midship draught")
    draught_mid_m: float = Field(gt=0.0, le=40.0, description="draught at x_mid_m")
    x_fore_m: Position = Field(description="x of the forward draught")
    draught_fore_m: float = Field(gt=0.0, le=40.0, description="draught at x_fore_m")
    density_t_m3: float = Field(ge=0.99, le=1.05, description="density of the water the ship floats in")
    use: Literal["upper", "lower", "both"] = Field(description="the envelope that the case belongs to")


def parse_loading_cases(text: str, where: str) -> tuple[LoadingCase, ...]:
    """Return the cases of a CSV table; raises InputError naming line, column, value and what is allowed."""
    lines = [line for line in text.splitlines() if line.strip() and not line.startswith("#")]
    if len(lines) > LARGEST_TABLE:
        raise InputError(where, "too many lines", value=len(lines), allowed=f"at most {LARGEST_TABLE}")
    reader = csv.DictReader(io.StringIO("\n".join(lines)))
    wanted = list(LoadingCase.model_fields)
    if reader.fieldnames is None or sorted(reader.fieldnames) != sorted(wanted):
        raise InputError(where, "the header must name the columns", allowed=",".join(wanted))
    cases = tuple(_case(row, f"{where}: row {number}") for number, row in enumerate(reader, 1))
    if not cases:
        raise InputError(where, "the table has no cases")
    return cases


def _case(row: dict[str, str | None], where: str) -> LoadingCase:
    """One row as a case."""
    values: dict[str, object] = {}
    for name, field in LoadingCase.model_fields.items():
        text = (row.get(name) or "").strip()
        try:
            values[name] = float(text) if field.annotation is float else text
        except ValueError:
            raise InputError(
                f"{where}: {name}", "is not a number", value=text, unit=unit_of_field(name), allowed=allowed_of(field)
            ) from None
    try:
        return LoadingCase.model_validate(values)
    except ValidationError as error:
        name = str(error.errors()[0]["loc"][0])
        raise InputError(
            f"{where}: {name}",
            "is out of range",
            value=values[name],
            unit=unit_of_field(name),
            allowed=allowed_of(LoadingCase.model_fields[name]),
        ) from None
