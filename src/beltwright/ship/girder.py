"""The hull girder as the user gives it: sections, permissible still-water loads, and what is checked for buckling.

Moduli, areas and plates are those of the society's own longitudinal strength check; nothing of them is worked out here.
"""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field

from beltwright.ship.parts import Part, Position, Reason, Word

NetThickness = Annotated[float, Field(ge=3.0, le=150.0)]
Length = Annotated[float, Field(ge=0.1, le=20.0)]
Share = Annotated[float, Field(ge=0.0, le=1.0)]


class BowExponent(Part):
    """A bow exponent in place of the fitted one."""

    value: Annotated[float, Field(ge=0.0, le=2.0)] = Field(
        description="bow exponent e_b: 1.0 a wedge, 0.4 to 0.6 a spoon, 0 a bow square across"
    )
    reason: Reason = Field(description="why it stands in place of the one fitted to the upper ice waterline")


class HullSection(Part):
    """One transverse section of the hull girder; between two sections its numbers change in straight lines."""

    name: Word = Field(description="name of the section")
    x_m: Position = Field(description="x of the section")
    modulus_deck_m3: Annotated[float, Field(gt=0.0, le=500.0)] = Field(
        description="section modulus at the strength deck, in m3"
    )
    modulus_bottom_m3: Annotated[float, Field(gt=0.0, le=500.0)] = Field(
        description="section modulus at the bottom, in m3"
    )
    shear_area_m2: Annotated[float, Field(gt=0.0, le=50.0)] = Field(
        description="effective shear area 2 t I / S of both sides, in m2; the area of the webs is near it"
    )
    grade: Word | None = Field(default=None, description="steel grade; the ship's plate grade where not given")
    thickness_as_built_mm: Annotated[float, Field(ge=3.0, le=150.0)] | None = Field(
        default=None, description="thickest plate of the section, needed where the grade's strength depends on it"
    )


class StillWater(Part):
    """Permissible still-water loads at one place; straight between places, level beyond the ends."""

    x_m: Position = Field(description="x of the place")
    bending_moment_sagging_mnm: Annotated[float, Field(ge=0.0, le=1e5)] = Field(
        description="permissible sagging bending moment, in MNm"
    )
    shear_force_mn: Annotated[float, Field(ge=0.0, le=1e4)] = Field(
        description="permissible shear force of either sign, in MN"
    )


class Place(Part):
    """Where along the ship, and how high in the section, a plate or stiffener lies."""

    name: Word = Field(description="name of the member")
    member: Literal["deck", "side", "bottom"] = Field(
        description="deck: compressed in sagging; side: compressed and in shear; bottom: in tension"
    )
    from_x_m: Position | None = Field(default=None, description="aft end; the aftmost section where not given")
    to_x_m: Position | None = Field(default=None, description="forward end; the foremost section where not given")
    stress_share: Share = Field(
        default=1.0, description="its distance from the neutral axis over that of the strength deck"
    )
    grade: Word | None = Field(default=None, description="steel grade; the ship's plate grade where not given")
    thickness_as_built_mm: Annotated[float, Field(ge=3.0, le=150.0)] | None = Field(
        default=None, description="as-built thickness, needed where the grade's strength depends on it"
    )


class GirderPlate(Place):
    """A plate panel that is checked for buckling."""

    thickness_net_mm: NetThickness = Field(description="thickness less the society's deduction for corrosion")
    spacing_m: Length = Field(description="distance between the stiffeners")
    length_m: Length = Field(description="distance between the members that hold the stiffeners")
    framing: Literal["longitudinal", "transverse"] = Field(description="way in which the stiffeners run")
    edge_stiffener: Literal["floor", "angle", "tee", "bulb", "flat"] = Field(
        default="flat", description="kind of the stiffeners; counts where they are transverse"
    )


class GirderStiffener(Place):
    """A longitudinal stiffener that is checked for buckling."""

    section: Word = Field(description="as-built section, e.g. HP160x9; frame_corrosion_mm is taken off")
    span_m: Length = Field(description="distance between the members that hold it")
    spacing_m: Length = Field(description="distance to the next stiffener: breadth of its attached plate")
    plate_net_mm: NetThickness = Field(description="net thickness of its attached plate")


class HullGirder(Part):
    """The hull girder for the check of longitudinal strength in ice."""

    bow_exponent: BowExponent | None = Field(
        default=None, description="bow exponent in place of the one fitted to the upper ice waterline"
    )
    sections: tuple[HullSection, ...] = Field(default=(), description="sections of the hull girder, by x")
    still_water: tuple[StillWater, ...] = Field(default=(), description="permissible still-water loads, by x")
    plates: tuple[GirderPlate, ...] = Field(default=(), description="plate panels checked for buckling")
    stiffeners: tuple[GirderStiffener, ...] = Field(
        default=(), description="longitudinal stiffeners checked for buckling"
    )
