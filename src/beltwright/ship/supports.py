"""Web frames and load-carrying stringers as designed, and the designer's answers to clauses without a formula.

Scantlings are as built; what is not given is not checked and counts as open, never as met.
"""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field, StringConstraints

from beltwright.ship.parts import Part, Reason, Where, Word

Note = Annotated[str, StringConstraints(max_length=500, pattern=r"^[^\x00-\x1f\x7f]*$")]
Stress = Annotated[float, Field(ge=0.0, le=2000.0)]


class SupportScantlings(Where):
    """A web frame's or stringer's scantlings as built, and the stresses of its direct calculation if there is one."""

    web_height_mm: Annotated[float, Field(ge=100.0, le=5000.0)] = Field(
        description="web height, shell to underside of the flange"
    )
    web_thickness_as_built_mm: Annotated[float, Field(ge=3.0, le=100.0)] = Field(description="web thickness as built")
    flange_breadth_mm: Annotated[float, Field(ge=0.0, le=1500.0)] = Field(
        default=0.0, description="flange breadth; 0 for a web without flange"
    )
    flange_thickness_as_built_mm: Annotated[float, Field(ge=0.0, le=100.0)] = Field(
        default=0.0, description="flange thickness as built; 0 for a web without flange"
    )
    flange_one_sided: bool = Field(default=False, description="the flange stands to one side of the web only")
    grade: Word | None = Field(default=None, description="grade, where it differs from that of the frames")
    web_stiffener_spacing_mm: Annotated[float, Field(ge=50.0, le=5000.0)] | None = Field(
        default=None, description="spacing of the stiffeners across the web; not given where there are none"
    )
    penetrating_height_mm: Annotated[float, Field(ge=0.0, le=2000.0)] = Field(
        default=0.0, description="height of the framing that passes through the web"
    )
    part_of_grillage: bool | None = Field(
        default=None, description="web frames and stringers carry each other; by the arrangement where not given"
    )
    calculated_shear_mpa: Stress | None = Field(
        default=None, description="greatest nominal shear stress in the web, from a linear direct calculation"
    )
    calculated_von_mises_mpa: Stress | None = Field(
        default=None, description="greatest nominal von Mises stress in the flange, from that calculation"
    )
    calculation: Reason | None = Field(default=None, description="which calculation gave the stresses")


class WebFrameScantlings(SupportScantlings):
    """Web frames and floors as designed."""


class StringerScantlings(SupportScantlings):
    """Load-carrying stringers as designed."""

    level: Word | None = Field(default=None, description="the stringer, by its level's name; all where not given")


class StemScantlings(Part):
    """A stem of shaped plates as designed, for rule sets that have a formula for it."""

    plate_thickness_as_built_mm: Annotated[float, Field(ge=3.0, le=150.0)] = Field(
        description="thickness of the stem plates as built"
    )
    grade: Word | None = Field(default=None, description="grade, where it differs from that of the plates")
    spacing_m: Annotated[float, Field(ge=0.1, le=3.0)] = Field(
        description="spacing of the elements that support the stem plates, as the plate formula takes it"
    )
    vertical_support_spacing_m: Annotated[float, Field(ge=0.1, le=10.0)] = Field(
        description="spacing of the vertical elements that support the stem plates: the loaded length"
    )
    floor_spacing_m: Annotated[float, Field(ge=0.1, le=5.0)] = Field(
        description="spacing of floors or brackets behind the stem"
    )
    floor_thickness_as_built_mm: Annotated[float, Field(ge=3.0, le=100.0)] = Field(
        description="thickness of floors or brackets behind the stem as built"
    )
    top_above_upper_m: Annotated[float, Field(ge=0.0, le=30.0)] = Field(
        description="height above the upper ice waterline to which the stem is reinforced"
    )


class DirectCalculation(Part):
    """The load that is handed over to direct calculations."""

    peak_in_grillage: bool = Field(
        default=False, description="lay the peak pressure factor on members of a grillage too, if the society wants it"
    )


class ChecklistEntry(Part):
    """The designer's answer to one clause that has no formula."""

    item: Word = Field(description="item of the rule set's checklist")
    status: Literal["done", "open", "not applicable"] = Field(description="how the item stands")
    note: Note = Field(default="", description="how it was settled, or why it does not apply; needed unless open")
