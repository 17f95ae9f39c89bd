"""The kinds of discrepancy between a submitted drawing and the rule or the ship's description, BW710 to BW737."""

from __future__ import annotations

from typing import Final

from beltwright.core.findings import Severity, register

TOO_THIN: Final = register(
    "BW710",
    Severity.CAUTION,
    "A submitted plate is thinner than required",
    "Ask for a thicker plate, less spacing or a stronger grade; the plate table has the requirement of each panel.",
)
SHEAR: Final = register(
    "BW711",
    Severity.CAUTION,
    "A submitted frame fails in shear",
    "Ask for a thicker or deeper web, or a shorter span: beyond its shear area the modulus formula has no value.",
)
MODULUS: Final = register(
    "BW712",
    Severity.CAUTION,
    "A submitted frame falls short of its modulus",
    "Ask for a heavier section or a shorter span; the plate it stands on counts too.",
)
STABILITY: Final = register(
    "BW713",
    Severity.CAUTION,
    "A submitted frame fails a check of its proportions",
    "Slenderness of the web, breadth and outstand of the flange, web beside the plate: change the section's plates.",
)
GRADE_UNKNOWN: Final = register(
    "BW714",
    Severity.CAUTION,
    "A submitted grade is not known, or not made in this thickness",
    "The row is not judged. Ask which hull steel is meant; the message names the nearest grade.",
)
GRADE_WEAKER: Final = register(
    "BW715",
    Severity.CAUTION,
    "A submitted grade is weaker than that of ship.toml",
    "Less yield stress or a warmer impact test than the description's grade: one of the two is wrong.",
)
STATED_SPACING: Final = register(
    "BW716",
    Severity.CAUTION,
    "The drawing's frame spacing differs from the model's",
    "The model measures along the shell; along the ship's axis the spacing is shorter at the ends and not enough.",
)
STATED_SPAN: Final = register(
    "BW717",
    Severity.CAUTION,
    "The drawing's frame span differs from the model's",
    "The model measures between supports along the shell; compare the supports, and the bracket reduction.",
)
STATED_AREA: Final = register(
    "BW718",
    Severity.CAUTION,
    "The drawing's hull area differs from the model's",
    "A member across a border takes the area with the larger factor; compare stem, waterlines and class.",
)
STATED_REQUIRED: Final = register(
    "BW719",
    Severity.CAUTION,
    "The drawing's required thickness differs from the calculated one",
    "Ask for the calculation behind it: spacing, area factor, peak pressure factor, addition and yield stress.",
)
STATED_NET: Final = register(
    "BW720",
    Severity.CAUTION,
    "The drawing's net thickness differs from as built less the addition",
    "The addition is left out, taken twice, or that of another area or protection.",
)
STATED_CLASS: Final = register(
    "BW721",
    Severity.CAUTION,
    "The drawing's ice class differs from ship.toml",
    "Settle the class before anything else is compared.",
)
STATED_EDITION: Final = register(
    "BW722",
    Severity.CAUTION,
    "The drawing's rule edition differs from the one used",
    "The contract date decides which edition applies.",
)
STATED_WATERLINE: Final = register(
    "BW723",
    Severity.CAUTION,
    "The drawing's ice waterline differs from the model's",
    "Borders of the ice belt, displacement and hull angles follow the waterline: settle it first.",
)
NO_ROW: Final = register(
    "BW724",
    Severity.CAUTION,
    "Members without any row",
    "The submitted list leaves out members of which the rule asks something: ask for them.",
)
NOT_ON_SHIP: Final = register(
    "BW725",
    Severity.CAUTION,
    "A row names nothing on the ship",
    "Compare the id, area, zone, frames and levels of the row with the tables of panels and frames.",
)
CONTRADICTING: Final = register(
    "BW726",
    Severity.CAUTION,
    "Two rows give one member different scantlings",
    "The weaker of those that can be used counts; where neither can, the members stay not judged. Ask which row holds, "
    "and narrow the other one.",
)
REPEATED: Final = register(
    "BW727",
    Severity.CAUTION,
    "Two rows give one member the same scantling",
    "Harmless by itself; often a row that should name another place.",
)
SECTION_UNKNOWN: Final = register(
    "BW728",
    Severity.CAUTION,
    "A submitted section is not in the catalogue, or cannot be made",
    "The row is not judged. Ask for the section by its name; the message says how names are written.",
)
UNIT_SLIP: Final = register(
    "BW729",
    Severity.CAUTION,
    "A number looks like one in another unit",
    "The row is not judged by it. Write thickness in mm, lengths in m, section dimensions in mm.",
)
CELL_UNUSABLE: Final = register(
    "BW730",
    Severity.CAUTION,
    "A cell cannot be used",
    "The row is not judged by it. Correct the cell; the column's name ends in its unit.",
)
NO_SCANTLING: Final = register(
    "BW731", Severity.CAUTION, "A row gives no scantling", "A plate needs thickness_mm, a frame needs section."
)
NOT_CHECKED_HERE: Final = register(
    "BW732",
    Severity.NOTE,
    "A row names members that carry no check here",
    "Web frames and floors need a check of their own; this list does not judge them.",
)
CANNOT_BE_MET: Final = register(
    "BW733",
    Severity.CAUTION,
    "A frame that no section can heal",
    "An end is simply supported inside a strengthened area, or no net plate stands beside the frame.",
)
BEYOND_FORMULA: Final = register(
    "BW734",
    Severity.CAUTION,
    "A plate outside the rule formula",
    "The formula has no value for these proportions, so no thickness meets it; see the panel's explanation.",
)
GRADE_BELOW_RULE: Final = register(
    "BW735",
    Severity.CAUTION,
    "A submitted grade is below what the rule demands",
    "Ask for the tougher grade that the tables name, or for a thinner plate of more yield stress; above the tables no "
    "grade suffices without the society's consent.",
)
STATED_SHEAR_AREA: Final = register(
    "BW736",
    Severity.CAUTION,
    "The drawing's shear area differs from the model's",
    "The model takes the net web over the frame's full height, flange included, and its angle to the shell; the plate "
    "does not count. A gross area, or one without the flange, differs.",
)
STATED_MODULUS: Final = register(
    "BW737",
    Severity.CAUTION,
    "The drawing's plastic modulus differs from the model's",
    "The model takes the net section on its net plate, plastic and with the web's angle; an elastic modulus, a gross "
    "section or another breadth of plate differs.",
)
