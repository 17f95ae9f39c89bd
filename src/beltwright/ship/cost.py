"""Costs for the choice of a class, as the user gives them; what is not given is assumed and said to be."""

from __future__ import annotations

from typing import Annotated

from pydantic import Field

from beltwright.ship.parts import Part

Price = Annotated[float, Field(ge=0.0, le=1e7)]


class Cost(Part):
    """Costs per amount, in any one currency. The values used where none is given are assumed: edit them."""

    currency: Annotated[str, Field(min_length=1, max_length=12, pattern=r"^[A-Za-z0-9 €$£.]+$")] = Field(
        default="EUR", description="name of the currency"
    )
    plating_cost_per_t: Price = Field(
        default=4500.0, description="shell plating as built into the ship, material and work; assumed, edit"
    )
    frames_cost_per_t: Price = Field(
        default=7000.0, description="local frames as built into the ship, material and work; assumed, edit"
    )
    engine_cost_per_kw: Price = Field(
        default=900.0, description="engine output installed, with propulsion; assumed, edit"
    )

    @property
    def assumed(self) -> tuple[str, ...]:
        """The fields that were not given."""
        return tuple(name for name in type(self).model_fields if name not in self.model_fields_set)
