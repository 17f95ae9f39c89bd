"""What steel and work cost, as the user gives it; what is not given is assumed by the program's own table."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field

from beltwright.ship.parts import Part, Word

Item = Literal[
    "steel", "co2", "plate work", "frame work", "plate weld", "frame weld", "plate piece", "frame piece", "bending",
    "engine",
]  # fmt: skip


class PriceLine(Part):
    """One price; it stands over that of the program's table. Units stand in the manual and in prices.csv."""

    item: Item = Field(description="what is priced")
    grade: Word | None = Field(default=None, description="steel grade, for steel and co2")
    amount: Annotated[float, Field(ge=0.0, le=1e7)] = Field(description="amount, in the unit of the item")
    source: Word = Field(default="given in ship.toml", description="where the amount comes from")


class Cost(Part):
    """Prices of steel and work, and carbon dioxide, for the choice of a class and the search for the least structure.

    In another currency than that of the program's table every price that is used has to be given.
    """

    currency: Annotated[str, Field(min_length=1, max_length=12, pattern=r"^[A-Za-z0-9 €$£.]+$")] = Field(
        default="EUR", description="name of the currency"
    )
    prices: tuple[PriceLine, ...] = Field(default=(), description="prices that are not as the program assumes")
