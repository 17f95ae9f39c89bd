"""The cold of an area and what the Polar Code asks of the ship there: on the terminal, as CSV and as JSON."""

from __future__ import annotations

import json
from collections.abc import Iterator
from typing import Any, Final

from beltwright.core.cautions import SHORT_CAUTION
from beltwright.core.columns import ColumnTable
from beltwright.core.ruletable import Cell
from beltwright.report.decision_support import (
    STANDING,
    WORDS,
    finding_lines,
    finding_values,
    marked_csv,
    provenance,
    unconfirmed_line,
)
from beltwright.report.numbers import fixed
from beltwright.report.result_json import table_values
from beltwright.report.terminal import text_table
from beltwright.rules.polar_code_imo_2017.documents import DOCUMENT
from beltwright.rules.polar_code_imo_2017.icing import IcingAllowance
from beltwright.rules.polar_code_imo_2017.tables import DAMAGE, DAMAGE_DEPTH
from beltwright.scantlings.ice_damage import IceDamage
from beltwright.voyage.cold import ColdStudy
from beltwright.weights.icing import unconfirmed_cells

FORMAT: Final = "beltwright-cold-1"
NO_SURFACES: Final = (
    "Icing: ship.toml names no surface under [[icing.decks]] and [[icing.sides]]; no allowance is made."
)
_PLACES: Final = (
    ("place", "place"),
    ("first_date", "from"),
    ("last_date", "to"),
    ("readings", "readings"),
    ("years", "years"),
    ("fewest", "fewest\na day"),
    ("missing", "days\nmissing"),
    ("lowest_mean_daily_low_degc", "lowest mean\ndaily low"),
    ("day", "on"),
    ("highest_service_temperature_degc", "highest\nservice temp."),
    ("low_air_temperature", "low air\ntemperature"),
)
_ICE: Final = (("name", "surface"), ("kind", "kind"), ("area_m2", "area"), ("mass_t", "ice"), ("lcg_m", "from AP"),
               ("tcg_m", "to port"), ("vcg_m", "above baseline"))  # fmt: skip
_DAMAGE: Final = (("centred", "centred"), ("length_m", "length"), ("height_m", "height"), ("depth_mm", "depth"),
                  ("highest_place_m", "highest place"))  # fmt: skip


def cold_lines(made: ColdStudy, where: str) -> Iterator[str]:
    """Yield a studied record for the terminal: by place, the coldest, the service temperature, findings."""
    place = f" at {made.place}" if made.place else ""
    yield f"{where}: season {made.season.first} to {made.season.last}; {DOCUMENT.title}, {DOCUMENT.edition}"
    yield WORDS
    yield ""
    yield text_table(made.tables["cold_places"], _PLACES, "Daily low temperatures")
    yield ""
    yield f"lowest mean daily low temperature {_degrees(made.lowest_mean_daily_low_degc)} on {made.day}{place}"
    yield f"polar service temperature at most {_degrees(made.highest_service_temperature_degc)}"
    check = made.check
    if check is not None:
        declared = made.lowest_mean_daily_low_degc - check.offered
        answer = "met" if check.ok else "NOT MET"
        yield (
            f"declared {_degrees(declared)}: margin {check.offered:.2f} degC, at least {check.required:g} asked for "
            f"({check.ref}): {answer}"
        )
    low = "a ship" if made.low_air_temperature else "no ship"
    yield f"that makes her {low} for low air temperature (Polar Code 1.2.12)"
    yield from finding_lines(made.findings)
    yield unconfirmed_line([cell for cell in made.cells if not cell.status.confirmed])


def icing_lines(icing: IcingAllowance | None) -> Iterator[str]:
    """Yield the icing allowance for the terminal, or that there is none."""
    if icing is None:
        yield NO_SURFACES
        return
    yield text_table(icing.table, _ICE, "Icing allowance, 4.3.1.1 (sides count both)")
    x, y, z = icing.centre_m
    yield f"ice {fixed(icing.mass_t, 2)} t; centre {fixed(x, 2)} m from AP, {fixed(y, 2)} m to port, {fixed(z, 2)} m up"


def damage_lines(damage: IceDamage, category: str) -> Iterator[str]:
    """Yield the extent of ice damage for the terminal."""
    yield text_table(damage.table, _DAMAGE, "Extent of ice damage, 4.3.2.1, from the keel up (categories A and B)")
    yield (
        f"upper ice waterline {fixed(damage.waterline_length_m, 3)} m long, greatest draught "
        f"{fixed(damage.draught_m, 3)} m, greatest breadth from x = {fixed(damage.breadth.aft_x_m, 2)} to "
        f"{fixed(damage.breadth.fore_x_m, 2)} m"
    )
    if category:
        yield f"category that usually goes with the class: {category} (custom, not the Code's text; the flag decides)"


def end_line() -> str:
    """Return the caution that ends every output."""
    return SHORT_CAUTION


def cold_documents(
    made: ColdStudy, icing: IcingAllowance | None, damage: IceDamage | None, asked: dict[str, Any], inputs_sha256: str
) -> dict[str, bytes]:
    """Return the files by name: each table as CSV and all of it as JSON; every one bears its mark."""
    tables: dict[str, ColumnTable] = dict(made.tables)
    cells = [cell for cell in made.cells if not cell.status.confirmed]
    if icing is not None:
        tables["icing"] = icing.table
        cells += unconfirmed_cells(icing)
    if damage is not None:
        tables["ice_damage"] = damage.table
        cells += _unconfirmed(DAMAGE.cells.values(), DAMAGE_DEPTH.cells.values())
    told = {
        "format": FORMAT,
        "standing": STANDING,
        "decision_support": WORDS,
        "asked": asked,
        **provenance((DOCUMENT,), cells, inputs_sha256),
        "season": [made.season.first, made.season.last],
        "lowest_mean_daily_low_degc": made.lowest_mean_daily_low_degc,
        "day": made.day,
        "place": made.place,
        "highest_service_temperature_degc": made.highest_service_temperature_degc,
        "low_air_temperature": made.low_air_temperature,
        "margin": None if made.check is None else {
            "required_degc": made.check.required, "offered_degc": made.check.offered, "met": made.check.ok,
        },
        "icing": None if icing is None else {"mass_t": icing.mass_t, "centre_m": list(icing.centre_m)},
        "ice_damage": None if damage is None else {
            "waterline_length_m": damage.waterline_length_m, "draught_m": damage.draught_m,
            "greatest_breadth_x_m": [damage.breadth.aft_x_m, damage.breadth.fore_x_m],
        },
        "tables": {name: table_values(table) for name, table in tables.items()},
        "findings": finding_values(made.findings),
    }  # fmt: skip
    text = json.dumps(told, allow_nan=False, ensure_ascii=False, separators=(",", ":"), sort_keys=True) + "\n"
    return {**{f"{name}.csv": marked_csv(table) for name, table in tables.items()}, "cold.json": text.encode("utf-8")}


def _unconfirmed(*tables: Any) -> list[Cell]:
    """The cells of some tables that no printed page confirms."""
    return [cell for cells in tables for cell in cells if not cell.status.confirmed]


def _degrees(value: float) -> str:
    """A temperature in words."""
    return f"{fixed(value, 2)} °C"
