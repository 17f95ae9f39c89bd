"""The model of ``ship.toml``: what the user says of the ship, with the allowed range of each field.

Lengths along the ship are x from the aft perpendicular, forward positive; frames are numbered from there. Heights are
above the baseline.
"""

from __future__ import annotations

from datetime import date
from enum import Enum
from typing import Annotated, Literal

from pydantic import Field

from beltwright.ship.appendages import Appendage
from beltwright.ship.cost import Cost
from beltwright.ship.girder import HullGirder
from beltwright.ship.icing import Cold, Icing
from beltwright.ship.parts import FileName as FileName
from beltwright.ship.parts import Frame as Frame
from beltwright.ship.parts import Height as Height
from beltwright.ship.parts import Part as Part
from beltwright.ship.parts import Position as Position
from beltwright.ship.parts import Reason as Reason
from beltwright.ship.parts import Where as Where
from beltwright.ship.parts import Word as Word
from beltwright.ship.propulsion import Propulsion as Propulsion
from beltwright.ship.sizing import Sizing
from beltwright.ship.supports import (
    ChecklistEntry,
    DirectCalculation,
    StemScantlings,
    StringerScantlings,
    WebFrameScantlings,
)


class Orientation(Enum):
    """How the first-level framing of a zone runs."""

    TRANSVERSE = "transverse"
    LONGITUDINAL = "longitudinal"
    OBLIQUE = "oblique"


class LevelKind(Enum):
    """What a level is, and so what it does for the frames that meet it."""

    DECK = "deck"
    INNER_BOTTOM = "inner bottom"
    LOAD_CARRYING_STRINGER = "load-carrying stringer"
    LOAD_DISTRIBUTING_STRINGER = "load-distributing stringer"

    @property
    def supports_frames(self) -> bool:
        """Whether frames end their span here; a load-distributing stringer does not end a span."""
        return self is not LevelKind.LOAD_DISTRIBUTING_STRINGER


class Identity(Part):
    """Who the ship is and for whom the documents are."""

    name: Word = Field(description="the ship's name")
    owner: Word = Field(default="not stated", description="the owner")
    yard: Word = Field(default="not stated", description="the building yard")
    designer: Word = Field(default="not stated", description="the design office")
    revision: Word = Field(default="A", description="revision of this description")
    contract_date: date | None = Field(default=None, description="contract date; decides which rule edition applies")


class HullFile(Part):
    """The file with the hull form, and answers to what the file itself does not say."""

    file: FileName = Field(
        description="file in the ship folder: STEP, IGES, 3DM, STL, OBJ, PLY or an offset table (CSV)"
    )
    length_unit: Literal["m", "mm", "cm", "in", "ft"] | None = Field(
        default=None, description="length unit of the file; needed where the file states none"
    )
    x_direction: Literal["forward", "aft"] | None = Field(
        default=None, description="direction in which x grows in the file; detected where not given"
    )
    side: Literal["port", "starboard", "both"] | None = Field(
        default=None, description="the side the file shows; detected where not given"
    )
    ap_x_m: Annotated[float, Field(ge=-1000.0, le=1000.0)] | None = Field(
        default=None, description="x of the aft perpendicular in the file's axes, in metres; detected where not given"
    )
    baseline_z_m: Annotated[float, Field(ge=-100.0, le=100.0)] | None = Field(
        default=None, description="z of the baseline in the file's axes, in metres; detected where not given"
    )
    centreline_y_m: Annotated[float, Field(ge=-1000.0, le=1000.0)] | None = Field(
        default=None, description="y of the centre plane in the file's axes, in metres; detected where not given"
    )
    up_axis: Literal["x", "y", "z", "-x", "-y", "-z"] | None = Field(
        default=None, description="the file's axis that points up; z where the shape does not speak against it"
    )
    length_axis: Literal["x", "y", "z"] | None = Field(
        default=None, description="the file's axis along the ship; x where the shape does not speak against it"
    )
    depth_m: Annotated[float, Field(ge=1.0, le=60.0)] = Field(description="moulded depth to the main deck at side")
    length_between_perpendiculars_m: Annotated[float, Field(ge=10.0, le=500.0)] | None = Field(
        default=None,
        description="places the forward perpendicular, from which some rule editions measure; where not given they "
        "take the fore side of the stem at the upper ice waterline; the Finnish-Swedish rules ask for it",
    )
    class_rule_length_m: Annotated[float, Field(ge=10.0, le=500.0)] | None = Field(
        default=None,
        description="rule length by the classification society's own definition; asked by the Finnish-Swedish rules",
    )
    floor_top_height_m: Annotated[float, Field(ge=0.0, le=20.0)] | None = Field(
        default=None,
        description="height of the top of floors in the bow; where not given, that of the inner bottom in the bow",
    )
    stem_rounding_m: Annotated[float, Field(ge=0.0, le=5.0)] = Field(
        default=0.0,
        description="length of the rounded stem at the waterline, left out when the 10 degree place is sought",
    )


class ClassChoice(Part):
    """The rule set, the ice class and the notations."""

    rules: Word = Field(description="rule set, by its package name: document and edition")
    ice_class: Word = Field(description="ice class, as the rule set writes it")
    icebreaker: bool = Field(default=False, description="notation for escort and ice management")
    operates_astern: bool = Field(default=False, description="intended to operate astern in ice")
    bulbous_bow: bool = Field(default=False, description="the bow has a bulb")
    abrasion_addition_mm: Annotated[float, Field(ge=0.0, le=10.0)] = Field(
        default=2.0,
        description="addition for abrasion and corrosion of the Finnish-Swedish rules; less than 2, for a coating that "
        "is approved, needs overrides.abrasion_addition",
    )


class Water(Part):
    """The water, and what the moulded surface leaves out of the displacement."""

    density_t_m3: Annotated[float, Field(ge=0.99, le=1.05)] = Field(default=1.025, description="water density")
    shell_and_appendages_t: Annotated[float, Field(ge=0.0, le=5000.0)] = Field(
        default=0.0, description="displacement of shell plating and appendages outside the moulded surface"
    )


class DraughtPoint(Part):
    """One point of an ice waterline: at this x it is this high above the baseline."""

    x_m: Position = Field(description="x of the point")
    draught_m: Annotated[float, Field(gt=0.0, le=40.0)] = Field(
        description="height of the waterline above the baseline there"
    )


class IceWaterlines(Part):
    """The upper and lower ice waterline: as points of straight or broken lines, or as a table of loading cases."""

    upper: tuple[DraughtPoint, ...] = Field(default=(), description="points of the upper ice waterline, by x")
    lower: tuple[DraughtPoint, ...] = Field(default=(), description="points of the lower ice waterline, by x")
    loading_cases: FileName | None = Field(
        default=None, description="CSV of loading cases; their envelope gives both waterlines"
    )


class FrameSpacing(Part):
    """Frame spacing over a length; the lines follow each other from frame 0 forward (and aft of it for negatives)."""

    from_frame: Frame = Field(description="first frame of this spacing")
    to_frame: Frame = Field(description="last frame of this spacing")
    spacing_m: Annotated[float, Field(ge=0.15, le=3.0)] = Field(
        description="distance between frames along the ship's axis"
    )


class Level(Part):
    """A deck, inner bottom or stringer along the side, at a constant height or a straight line."""

    name: Word = Field(description="name of the level")
    kind: LevelKind = Field(description="deck, inner bottom, load-carrying or load-distributing stringer", strict=False)
    height_m: Height = Field(description="height above the baseline, at the aft end if it rises")
    height_forward_m: Height | None = Field(default=None, description="height at the forward end, where it differs")
    from_frame: Frame | None = Field(default=None, description="aft end; the whole ship where not given")
    to_frame: Frame | None = Field(default=None, description="forward end; the whole ship where not given")


class FrameEnd(Part):
    """How a frame meets a support."""

    fixed: bool = Field(default=True, description="continuous through the support or bracketed to a supporting section")
    bracket_m: Annotated[float, Field(ge=0.0, le=2.0)] = Field(
        default=0.0, description="arm length of the end bracket along the frame; 0 for none"
    )
    span_reduction_m: Annotated[float, Field(ge=0.0, le=1.0)] = Field(
        default=0.0, description="part of the bracket arm by which the span is reduced, by the society's practice"
    )


class Zone(Part):
    """A framing zone: which way frames run, how far apart, and where their supports are."""

    name: Word = Field(description="name of the zone")
    from_frame: Frame = Field(description="aft end")
    to_frame: Frame = Field(description="forward end")
    from_level: Word | None = Field(default=None, description="lower edge, a level's name; the keel where not given")
    to_level: Word = Field(description="upper edge, a level's name")
    orientation: Orientation = Field(description="transverse, longitudinal or oblique", strict=False)
    spacing_m: Annotated[float, Field(ge=0.15, le=3.0)] | None = Field(
        default=None,
        description="girth spacing of longitudinals or oblique frames; transverse frames follow the frame table",
    )
    oblique_angle_deg: Annotated[float, Field(ge=5.0, le=85.0)] | None = Field(
        default=None, description="angle of oblique frames to the waterline, in degrees"
    )
    web_frame_spacing_m: Annotated[float, Field(ge=0.3, le=12.0)] = Field(
        description="spacing of web frames or floors along the ship's axis"
    )
    intermediate_frames: bool = Field(
        default=False, description="an intermediate frame stands between each two main frames"
    )
    intermediate_from_level: Word | None = Field(default=None, description="level at which intermediate frames begin")
    intermediate_to_level: Word | None = Field(default=None, description="level at which intermediate frames end")
    tripping_support_m: Annotated[float, Field(ge=0.2, le=20.0)] | None = Field(
        default=None,
        description="distance between brackets, intercostals or stringers that hold frames against tripping; the span "
        "where not given",
    )
    lower_end: FrameEnd = Field(default=FrameEnd(), description="how frames meet the lower supports")
    upper_end: FrameEnd = Field(default=FrameEnd(), description="how frames meet the upper supports")


class Bulkhead(Part):
    """A transverse watertight bulkhead."""

    name: Word = Field(description="name of the bulkhead")
    frame: Frame = Field(description="frame it stands at")


class Opening(Part):
    """An opening in the shell, taken out of area and weight."""

    name: Word = Field(description="name of the opening")
    x_m: Position = Field(description="x of its centre")
    z_m: Height = Field(description="height of its centre")
    length_m: Annotated[float, Field(gt=0.0, le=20.0)] = Field(description="length along the ship")
    height_m: Annotated[float, Field(gt=0.0, le=20.0)] = Field(description="height along the girth")
    side: Literal["port", "starboard", "both"] = Field(default="both", description="side")


class Steel(Part):
    """Steel grades of shell and frames."""

    plate_grade: Word = Field(description="grade of the shell plating, e.g. EH36")
    frame_grade: Word = Field(description="grade of the frames")


class OfferedPlate(Where):
    """A plate thickness that the designer offers; later entries win over earlier ones."""

    thickness_as_built_mm: Annotated[float, Field(ge=3.0, le=150.0)] = Field(description="as-built thickness")
    grade: Word | None = Field(default=None, description="grade, where it differs from the ship's")


class OfferedFrame(Where):
    """A frame section that the designer offers; later entries win over earlier ones."""

    section: Word = Field(description="as-built section, e.g. T300x16+100x19, HP240x11, FB150x15, L250x12+90x16")
    grade: Word | None = Field(default=None, description="grade, where it differs from the ship's")


class CategoryLine(Where):
    """The structural category of a part of the shell plating; later entries win over earlier ones."""

    category: Literal["secondary", "primary", "special"] = Field(description="structural category of the plating there")


class SteelGrades(Part):
    """What the rules on steel grades need to know beyond the levels; all of it may be left out."""

    strength_deck: Word | None = Field(default=None, description="the strength deck's level; the uppermost deck if not")
    single_strake_width_m: Annotated[float, Field(gt=0.0, le=5.0)] | None = Field(
        default=None,
        description="width of the one side strake of lower grade, up from the level where plating counts as exposed; "
        "none where not given",
    )
    categories: tuple[CategoryLine, ...] = Field(default=(), description="categories that are not as derived")


class Stock(Part):
    """How a required thickness becomes a plate that can be bought."""

    step_mm: Annotated[float, Field(ge=0.5, le=5.0)] = Field(
        default=0.5, description="thickness step of the yard's plate list"
    )
    floor_mm: Annotated[float, Field(ge=0.0, le=60.0)] = Field(
        default=0.0, description="least as-built thickness, from open-water rules"
    )
    under_tolerance: Literal["accepted by the rules", "added"] = Field(
        default="accepted by the rules", description="whether the mill's minus tolerance is added before rounding"
    )
    frame_kinds: tuple[Literal["flat", "bulb", "angle", "tee"], ...] = Field(
        default=("tee", "bulb"), description="kinds of section that may be proposed"
    )
    frame_corrosion_mm: Annotated[float, Field(ge=1.0, le=5.0)] = Field(
        default=1.0, description="deduction from frame webs and flanges for net scantlings; not less than 1.0"
    )


class WeightAllowances(Part):
    """Allowances on the steel weight, each stated in the report; shares of the net modelled mass."""

    mill_tolerance: Annotated[float, Field(ge=0.0, le=0.05)] = Field(
        default=0.0, description="plate rolled over nominal"
    )
    weld_metal: Annotated[float, Field(ge=0.0, le=0.05)] = Field(default=0.0, description="weld metal")
    brackets_and_details: Annotated[float, Field(ge=0.0, le=0.15)] = Field(
        default=0.0, description="brackets, collars, lugs and details that are not modelled"
    )


class Overrides(Part):
    """Written reasons to go on where a rule ends; every one is printed in the outputs."""

    azimuthing_stern_factors: Reason | None = Field(
        default=None, description="why the general stern factors may be used with azimuthing units"
    )
    bow_form: Reason | None = Field(
        default=None, description="why the standard bow formula may be used outside its angles"
    )
    proportions: Reason | None = Field(
        default=None,
        description="why plates narrower, and frames shorter, than the formulas of the Finnish-Swedish rules cover may "
        "be held to the formulas at their ends",
    )
    abrasion_addition: Reason | None = Field(
        default=None, description="why the addition for abrasion and corrosion may be less, and who approved it"
    )


class Readings(Part):
    """How the rule is read where it leaves a choice; what is chosen is printed in the booklet."""

    oblique_frames: Literal["interpolated", "both in full"] = Field(
        default="interpolated",
        description="shear area of frames that run neither along nor across: interpolated between the two formulas, or "
        "either of them in full, the severe reading",
    )


class Ship(Part):
    """Everything the user says of one ship."""

    ship: Identity = Field(description="who the ship is")
    hull: HullFile = Field(description="the hull form")
    ice: ClassChoice = Field(description="rule set, class and notations")
    propulsion: Propulsion = Field(description="propulsion")
    water: Water = Field(default=Water(), description="water and what lies outside the moulded surface")
    waterlines: IceWaterlines = Field(description="upper and lower ice waterline")
    frames: tuple[FrameSpacing, ...] = Field(min_length=1, description="frame spacing along the ship")
    levels: tuple[Level, ...] = Field(min_length=1, description="decks, inner bottom and stringers")
    zones: tuple[Zone, ...] = Field(min_length=1, description="framing zones")
    bulkheads: tuple[Bulkhead, ...] = Field(default=(), description="transverse bulkheads")
    openings: tuple[Opening, ...] = Field(default=(), description="openings in the shell")
    steel: Steel = Field(description="steel grades")
    effective_protection: bool = Field(
        default=False, description="the shell has effective protection against corrosion and abrasion"
    )
    plates: tuple[OfferedPlate, ...] = Field(default=(), description="plate thicknesses offered")
    frame_sections: tuple[OfferedFrame, ...] = Field(default=(), description="frame sections offered")
    web_frames: tuple[WebFrameScantlings, ...] = Field(
        default=(), description="web frames and floors as designed; later entries win over earlier ones"
    )
    stringers: tuple[StringerScantlings, ...] = Field(
        default=(), description="load-carrying stringers as designed; later entries win over earlier ones"
    )
    stem: StemScantlings | None = Field(
        default=None, description="stem of shaped plates as designed; open where a rule set asks and none is given"
    )
    direct: DirectCalculation = Field(default=DirectCalculation(), description="load of direct calculations")
    checklist: tuple[ChecklistEntry, ...] = Field(
        default=(), description="answers to the clauses that have no formula; an item without an answer is open"
    )
    stock: Stock = Field(default=Stock(), description="plate and profile stock")
    weights: WeightAllowances = Field(default=WeightAllowances(), description="weight allowances")
    icing: Icing = Field(
        default=Icing(), description="surfaces that ice over, for the icing allowance of the Polar Code"
    )
    cost: Cost = Field(default=Cost(), description="what steel and work cost")
    cold: Cold = Field(default=Cold(), description="the cold that the ship is chosen for")
    hull_girder: HullGirder = Field(
        default=HullGirder(), description="hull girder, for the check of longitudinal strength in ice"
    )
    appendages: tuple[Appendage, ...] = Field(
        default=(), description="stem, stern frame, rudder and other parts beside the shell, for their steel grades"
    )
    steel_grades: SteelGrades = Field(default=SteelGrades(), description="structural categories for steel grades")
    readings: Readings = Field(default=Readings(), description="how the rule is read where it leaves a choice")
    sizing: Sizing = Field(default=Sizing(), description="the search for the least structure")
    overrides: Overrides = Field(default=Overrides(), description="written reasons to go on where a rule ends")
