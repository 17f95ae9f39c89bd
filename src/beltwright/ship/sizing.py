"""What the search for the least structure may choose from, and what it must keep."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field

from beltwright.ship.parts import Height, Part, Word

Weight = Annotated[float, Field(ge=0.0, le=1e6)]
Spacing = Annotated[float, Field(ge=0.15, le=3.0)]


class FramingChoice(Part):
    """Another way to frame a zone; what is not given stays as the zone has it."""

    zone: Word = Field(description="name of the zone")
    orientation: Literal["transverse", "longitudinal"] | None = Field(
        default=None, description="transverse or longitudinal, where it differs"
    )
    spacing_m: Spacing | None = Field(default=None, description="girth spacing of longitudinals")
    intermediate_frames: bool | None = Field(default=None, description="an intermediate frame between main frames")
    web_frame_spacing_m: Annotated[float, Field(ge=0.3, le=12.0)] | None = Field(
        default=None, description="spacing of web frames or floors"
    )


class SpacingChoice(Part):
    """Other spacings of transverse frames over the length of a zone; web frames follow to whole frame spacings."""

    zone: Word = Field(description="name of the zone")
    spacings_m: tuple[Spacing, ...] = Field(description="frame spacings to choose from beside the zone's own")


class StringerChoice(Part):
    """Other load-carrying stringers of a zone, in place of those between its edges."""

    zone: Word = Field(description="name of the zone")
    heights_m: tuple[Height, ...] = Field(description="heights of the stringers; an empty list for none")


class Mix(Part):
    """What a mixed objective counts: points for each tonne of steel, unit of money and tonne of carbon dioxide."""

    points_per_t: Weight = Field(default=0.0, description="points for a tonne of steel")
    points_per_money: Weight = Field(default=1.0, description="points for one of the ship's money, as in prices.csv")
    points_per_t_co2: Weight = Field(default=0.0, description="points for a tonne of carbon dioxide")


class Sizing(Part):
    """The search for the lightest or cheapest structure that meets every requirement."""

    objective: Literal["mass", "cost", "co2", "mix"] = Field(
        default="mass", description="what is made least: steel mass, cost, carbon dioxide, or a mix of them"
    )
    mix: Mix = Field(default=Mix(), description="what the objective mix counts")
    plate_length_m: Annotated[float, Field(ge=2.0, le=30.0)] = Field(default=12.0, description="longest plate")
    plate_width_m: Annotated[float, Field(ge=0.8, le=6.0)] = Field(default=3.0, description="widest plate")
    neighbour_step_mm: Annotated[float, Field(ge=0.5, le=50.0)] | None = Field(
        default=6.0, description="largest difference in thickness between neighbouring plates; none where not given"
    )
    plate_excess_mm: Annotated[float, Field(ge=0.0, le=50.0)] = Field(
        default=4.0, description="how much thicker than plating and neighbours need a plate may be for its frames' sake"
    )
    taper: Annotated[float, Field(ge=1.0, le=10.0)] = Field(
        default=3.0, description="length of a taper over the difference in thickness; common practice, no source"
    )
    most_thicknesses: Annotated[int, Field(ge=1, le=100)] | None = Field(
        default=None, description="how many plate thicknesses the ship may have"
    )
    most_profiles: Annotated[int, Field(ge=1, le=100)] | None = Field(
        default=None, description="how many frame profiles the ship may have"
    )
    plate_grades: tuple[Word, ...] = Field(
        default=(), description="steel grades of plates to choose from; the ship's plate grade where none is given"
    )
    frame_grades: tuple[Word, ...] = Field(
        default=(), description="steel grades of frames to choose from; the ship's frame grade where none is given"
    )
    grade_letters: Literal["as given", "or colder", "any"] = Field(
        default="or colder",
        description="letters of the same strength to choose from too, where the rule set asks for letters: none, "
        "colder ones, or all",
    )
    profiles: tuple[Word, ...] = Field(
        default=(), description="sections to choose from; the whole catalogue of the kinds in stock where none is given"
    )
    frame_depth_most_mm: Annotated[float, Field(ge=50.0, le=2000.0)] | None = Field(
        default=None, description="greatest depth of a frame"
    )
    frame_spacings_m: tuple[Spacing, ...] = Field(
        default=(), description="frame spacings of the whole frame table to choose from beside the ship's own"
    )
    spacing_least_m: Annotated[float, Field(ge=0.15, le=2.0)] = Field(
        default=0.3, description="least frame spacing, for access and welding"
    )
    alike_through: Literal["stringers", "every support", "nothing"] = Field(
        default="stringers", description="supports through which a frame runs on with the same section"
    )
    hold: Literal["draught", "deadweight"] = Field(
        default="draught",
        description="what stays as steel weight changes: draught (deadweight pays) or deadweight (draught moves)",
    )
    reference_steel_t: Annotated[float, Field(gt=0.0, le=1e5)] | None = Field(
        default=None,
        description="steel of plating and frames with allowances in the ship as described; her own design's if not",
    )
    spacings: tuple[SpacingChoice, ...] = Field(default=(), description="frame spacings of a zone to choose from")
    stringers: tuple[StringerChoice, ...] = Field(default=(), description="stringers of a zone to choose from")
    framing: tuple[FramingChoice, ...] = Field(default=(), description="other ways to frame a zone")
