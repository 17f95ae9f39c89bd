"""What steel and work cost, and the carbon dioxide of making steel: one table of editable data for every comparison.

Every row of the package's table is assumed and says so; a user's own table has the same columns and stands over it.
"""

from __future__ import annotations

import csv
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from difflib import get_close_matches
from functools import cache
from importlib.resources import files
from typing import Final

import numpy as np

from beltwright.core.errors import InputError
from beltwright.materials.hull_steel import hull_steels

CO2: Final = "co2"
STEEL: Final = "steel"
ITEMS: Final = {
    STEEL: ("per t", "steel of a grade, plates and sections alike, delivered"),
    CO2: ("t per t", "carbon dioxide of making steel of a grade"),
    "plate work": ("per t", "cutting, handling and erecting plating, what is priced below left out"),
    "frame work": ("per t", "cutting, handling and erecting frames, what is priced below left out"),
    "plate weld": ("per m and mm", "butts and seams, per metre of joint and millimetre of thickness"),
    "frame weld": ("per m", "welding a frame to the shell"),
    "plate piece": ("per plate", "handling one plate"),
    "frame piece": ("per span", "fitting one frame span between two supports"),
    "bending": ("per m2 and mm", "bending a curved plate, per square metre and millimetre of thickness"),
    "engine": ("per kW", "engine output installed, with propulsion"),
}
BY_GRADE: Final = (STEEL, CO2)
ASSUMED: Final = "assumed, edit"
_COLUMNS: Final = ("item", "grade", "amount", "unit", "source")
_MOST: Final = 1e7


@dataclass(frozen=True, slots=True, kw_only=True)
class PriceRow:
    """A row of the table: ``item`` (a key of :data:`ITEMS`), ``grade`` ("" where the item has none), amount, source."""

    item: str
    grade: str
    amount: float
    source: str

    @property
    def unit(self) -> str:
        """What the amount counts, money left unnamed."""
        return ITEMS[self.item][0]


class PriceTable:
    """Prices by item and grade, in one currency; of two rows of one thing the later one stands."""

    def __init__(self, currency: str, rows: Iterable[PriceRow]) -> None:
        self.currency = currency
        self._rows = {(row.item, row.grade): row for row in rows}

    @property
    def rows(self) -> tuple[PriceRow, ...]:
        """Every row, in the order in which its thing was first named."""
        return tuple(self._rows.values())

    def row(self, item: str, grade: str = "") -> PriceRow:
        """Return the row of an item, with its grade if the item has one; a missing one is an InputError."""
        found = self._rows.get((item, hull_steels().steel(grade).grade if grade else ""))
        if found is None:
            thing = " ".join(word for word in (item, grade) if word)
            raise InputError(
                "cost", "there is no price in this currency", value=thing,
                allowed=f"a row for it, in {self.currency} {ITEMS[item][0]}",
            )  # fmt: skip
        return found

    def amount(self, item: str, grade: str = "") -> float:
        """Return the amount of an item, with its grade if the item has one."""
        return self.row(item, grade).amount

    def over(self, rows: Iterable[PriceRow], currency: str) -> PriceTable:
        """Return this table with rows of another over it; in another currency nothing of this one's money is left."""
        kept = self.rows if currency == self.currency else (row for row in self.rows if row.item == CO2)
        return PriceTable(currency, (*kept, *rows))

    def text(self) -> str:
        """Return the table as a file that can be edited and read again."""
        lines = [f"# currency: {self.currency}", ",".join(_COLUMNS)]
        lines += [f'{row.item},{row.grade},{row.amount:.10g},{row.unit},"{row.source.replace(chr(34), chr(39))}"'
                  for row in self.rows]  # fmt: skip
        return "\n".join(lines) + "\n"


@cache
def package_prices() -> PriceTable:
    """Return the table that comes with the program; every row of it is assumed.

    >>> package_prices().amount("steel", "EH36") > package_prices().amount("steel", "AH36")
    True
    """
    text = files("beltwright.materials").joinpath("data", "prices.csv").read_text(encoding="utf-8")
    return parse_prices(text, "prices.csv")


def parse_prices(text: str, filename: str) -> PriceTable:
    """Return the table of a file: ``# currency: EUR``, then the columns item, grade, amount, unit, source.

    Rows may be any part of the items. Anything else is an InputError with the line.
    """
    numbered = [(number, line) for number, line in enumerate(text.splitlines(), 1) if line.strip()]
    told = (line.lstrip("# ").partition(":") for _, line in numbered if line.startswith("#"))
    currency = next((value.strip() for key, _, value in told if key.strip() == "currency"), "")
    if not currency:
        raise InputError(filename, "the header lacks '# currency:'", allowed="the money of the amounts, e.g. EUR")
    body = [(number, line) for number, line in numbered if not line.startswith("#")]
    if not body or tuple(next(csv.reader([body[0][1]]))) != _COLUMNS:
        found = body[0][1][:60] if body else "nothing"
        raise InputError(filename, "the columns are not those of prices", value=found, allowed=",".join(_COLUMNS))
    rows = list(_rows(body[1:], filename))
    return PriceTable(currency, rows)


def _rows(body: list[tuple[int, str]], filename: str) -> Iterator[PriceRow]:
    """The rows, each thing once."""
    seen: set[tuple[str, str]] = set()
    for number, line in body:
        where = f"{filename}: line {number}"
        fields = [field.strip() for field in next(csv.reader([line]))]
        if len(fields) != len(_COLUMNS):
            raise InputError(where, "wrong number of fields", value=len(fields), allowed=str(len(_COLUMNS)))
        item, grade, amount, unit, source = fields
        row = price_row(item, grade, _number(amount, where), source, where)
        if unit != row.unit:
            raise InputError(f"{where}: unit", "is not that of the item", value=unit or "blank", allowed=row.unit)
        if (row.item, row.grade) in seen:
            raise InputError(where, "stands twice", value=" ".join((item, grade)).strip())
        seen.add((row.item, row.grade))
        yield row


def price_row(item: str, grade: str, amount: float, source: str, where: str) -> PriceRow:
    """Return a row after checking item, grade, amount and source; ``where`` names the place for the error."""
    if item not in ITEMS:
        near = get_close_matches(item, ITEMS, n=1, cutoff=0.0)[0]
        raise InputError(f"{where}: item", "no such item", value=item or "blank",
                         allowed=f"the nearest is {near}; items: {', '.join(ITEMS)}")  # fmt: skip
    if (item in BY_GRADE) != bool(grade):
        raise InputError(f"{where}: grade", f"{item} is priced {'by' if item in BY_GRADE else 'without a'} grade",
                         value=grade or "blank", allowed="a steel grade" if item in BY_GRADE else "blank")  # fmt: skip
    named = hull_steels().steel(grade, where=f"{where}: grade").grade if grade else ""
    if not 0.0 <= amount <= _MOST:
        raise InputError(f"{where}: amount", "is out of its range", value=amount, unit=ITEMS[item][0],
                         allowed=f"0 to {_MOST:g}")  # fmt: skip
    if not source:
        raise InputError(f"{where}: source", "is blank", allowed=f"where the amount comes from, or '{ASSUMED}'")
    return PriceRow(item=item, grade=named, amount=amount, source=source)


def _number(word: str, where: str) -> float:
    """A finite number."""
    try:
        number = float(word)
    except ValueError:
        number = float("nan")
    if not np.isfinite(number):
        raise InputError(f"{where}: amount", "is not a number", value=word or "blank")
    return number
