"""Propulsion as the user gives it: its kind and place, and what rule sets on engine output ask for."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field

from beltwright.ship.parts import Height, Part, Position


class Propulsion(Part):
    """Propulsion decides where the rule length ends and how the stern factors are found; it is always asked.

    What only some rule sets ask for may be left out; a rule set that needs it says so.
    """

    kind: Literal["shafts with rudders", "azimuthing units"] = Field(description="kind of propulsion")
    rudder_stock_x_m: Position = Field(
        description="x of the rudder stock's centre, or of the steering axis of azimuthing units"
    )
    propeller_x_m: Position | None = Field(default=None, description="x of the propeller disc")
    propeller_top_m: Height | None = Field(
        default=None, description="height of the blade tips at their top; checked to be submerged"
    )
    engine_power_kw: Annotated[float, Field(ge=50.0, le=2e5)] | None = Field(
        default=None,
        description="engine output that the propellers can take continuously in ice, other sources such as shaft "
        "motors included; asked by the Finnish-Swedish rules",
    )
    propeller_count: Annotated[int, Field(ge=1, le=3)] | None = Field(
        default=None, description="number of propellers; asked by the Finnish-Swedish rules"
    )
    drive: Literal["controllable pitch", "electric or hydraulic", "fixed pitch"] | None = Field(
        default=None, description="how the propellers are driven; asked by the Finnish-Swedish rules"
    )
    propeller_diameter_m: Annotated[float, Field(ge=0.1, le=20.0)] | None = Field(
        default=None, description="diameter of a propeller; asked by the Finnish-Swedish rules"
    )
    propeller_clearance_m: Annotated[float, Field(ge=0.0, le=50.0)] | None = Field(
        default=None,
        description="least clearance between propeller and hull, stern frame included; asked by the Finnish-Swedish "
        "rules",
    )
    service_speed_kn: Annotated[float, Field(ge=0.0, le=60.0)] | None = Field(
        default=None, description="service speed in open water; asked by the Finnish-Swedish rules"
    )
    output_clause: Literal["3.2.2", "3.2.4", "Annex II"] = Field(
        default="3.2.2",
        description="clause of the Finnish-Swedish rules by which the engine output is held: 3.2.2 for all ships; for "
        "those of before 1 September 2003 also 3.2.4 (IA Super, IA) or Annex II (IB, IC)",
    )
