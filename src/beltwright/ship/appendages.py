"""Stem, stern frame, rudder and other parts outside the shell's plating and frames, for their steel grades."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field

from beltwright.ship.parts import Height, Part, Position, Word


class Appendage(Part):
    """One part of the stem, the stern frame or an appendage; plates have their grade checked, castings are named."""

    name: Word = Field(description="name of the part")
    kind: Literal[
        "stem frame", "stern frame", "rudder horn", "rudder", "propeller nozzle", "shaft bracket", "ice skeg",
        "ice knife", "other ice-impacted appendage",
    ] = Field(description="what it is, as the table of material classes names it")  # fmt: skip
    made_of: Literal["plate", "casting", "forging"] = Field(
        default="plate", description="plate has a grade; a casting or forging stands in the checklist"
    )
    x_m: Position = Field(description="x of its middle")
    lowest_m: Height = Field(description="height of its lowest point")
    highest_m: Height = Field(description="height of its highest point")
    thickness_as_built_mm: Annotated[float, Field(ge=3.0, le=300.0)] | None = Field(
        default=None, description="thickest plate as built; without it the grade is not checked"
    )
    grade: Word | None = Field(default=None, description="grade of a plate, where it differs from the shell's")
    stress_concentration: bool = Field(
        default=False, description="plate of a rudder under concentrated stress, as at a support of the rudder"
    )
