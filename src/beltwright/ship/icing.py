"""Surfaces that ice over, and the temperature for which ship and equipment are chosen, as the user gives them."""

from __future__ import annotations

from typing import Annotated

from pydantic import Field

from beltwright.ship.parts import Part, Position, Word

Across = Annotated[float, Field(ge=-60.0, le=60.0)]
Surface = Annotated[float, Field(gt=0.0, le=50_000.0)]
High = Annotated[float, Field(ge=-5.0, le=120.0)]


class IcedDeckLine(Part):
    """An exposed weather deck or gangway."""

    name: Word = Field(description="name of the deck or gangway")
    area_m2: Surface = Field(description="exposed area")
    x_m: Position = Field(description="x of its centre")
    y_m: Across = Field(default=0.0, description="y of its centre, port positive")
    z_m: High = Field(description="height of its centre")


class IcedSideLine(Part):
    """A part of the side above the waterline, projected on the centre plane: continuous surfaces only."""

    name: Word = Field(description="name of the part")
    area_m2: Surface = Field(description="projected area of one side; rails and rigging come by the Code's addition")
    x_m: Position = Field(description="x of its centre")
    z_m: High = Field(description="height of its centre")


class Icing(Part):
    """Surfaces that ice over, for the icing allowance of the Polar Code; none given, no allowance."""

    decks: tuple[IcedDeckLine, ...] = Field(default=(), description="exposed weather decks and gangways")
    sides: tuple[IcedSideLine, ...] = Field(default=(), description="side above the waterline, in parts")


class Cold(Part):
    """The cold that the ship is chosen for."""

    polar_service_temperature_degc: Annotated[float, Field(ge=-80.0, le=10.0)] | None = Field(
        default=None, description="polar service temperature of the Polar Code, checked against daily low temperatures"
    )
