"""What the Finnish-Swedish ice class rules have to say to the engineer, numbered."""

from __future__ import annotations

from typing import Final

from beltwright.core.findings import Severity, register

OVERLAP_LIMITED: Final = register(
    "BW510",
    Severity.NOTE,
    "The overlap of the regions is set by its limit",
    "Nothing to do; the borders lie 6 m or 5 m aft of the ends of the parallel side instead of 0.04 L.",
)
NO_PARALLEL_SIDE: Final = register(
    "BW511",
    Severity.CAUTION,
    "A waterline has no parallel side, so that its midbody region is empty",
    "Look at the borders of the regions on the expansion, and at the tolerance with which the parallel side is read.",
)
UPPER_BELT: Final = register(
    "BW512",
    Severity.NOTE,
    "The upper bow ice belt is asked for",
    "Plating and framing are strengthened 2 m above the ice belt, over 0.2 L or more. Slower ships with a high bow "
    "wave are advised to have it too.",
)
NO_FLOOR_TOP: Final = register(
    "BW513",
    Severity.CAUTION,
    "No tank top or top of floors is given for the bow of an IA Super ship",
    "The strengthening of framing goes down to the baseline; give the height if it may end higher.",
)
ABRASION_REDUCED: Final = register(
    "BW514",
    Severity.CAUTION,
    "A lower addition for abrasion and corrosion is taken, carried by a written reason",
    "Have the coating and the addition approved; the reason is printed in every output.",
)
ENDS_HELD: Final = register(
    "BW523",
    Severity.CAUTION,
    "Narrow plates and short frames are held to formulas at their ends, carried by a written reason",
    "Plates narrower than h/1.8 and frames shorter than the load is high lie outside the formulas; have the reason "
    "agreed by class.",
)
POWER_SHORT: Final = register(
    "BW515",
    Severity.CAUTION,
    "The engine output is less than the class requires",
    "Raise the output, change the bow, or apply for a lower class; the hull's load is that of the output given.",
)
OUTSIDE_RANGE: Final = register(
    "BW516",
    Severity.CAUTION,
    "A quantity lies outside the range for which the engine output formula is said to be meant",
    "The range is recalled, not read in the regulation. Ask the Administration whether the formula may be used.",
)
DRAUGHT_SHORT: Final = register(
    "BW517",
    Severity.CAUTION,
    "The forward draught on the lower ice waterline is less than the least one",
    "Ballast the ship deeper forward, or raise the lower ice waterline.",
)
AZIMUTH: Final = register(
    "BW518",
    Severity.CAUTION,
    "Azimuthing propulsion raises the ice loads on the stern",
    "The regulation asks to consider it in the design of stern and aft body and gives no number; agree it with class.",
)
SIDE_PROPELLERS: Final = register(
    "BW519",
    Severity.CAUTION,
    "Twin or triple screws: shell and framing are strengthened to the tank top beside the side propellers",
    "Extend the strengthening to the tank top 1.5 m forward and aft of the side propellers (4.8). It is not laid out "
    "here.",
)
EXISTING_SHIP: Final = register(
    "BW521",
    Severity.CAUTION,
    "The engine output is held by a clause for existing ships",
    "It is for ships whose keel was laid before 1 September 2003; show the date, or give propulsion.output_clause as "
    "3.2.2.",
)
OPEN_WATER: Final = register(
    "BW522",
    Severity.CAUTION,
    "Scantlings for open water are not worked out here and hold where they are greater",
    "Hold plating, frames, stringers and web frames against the society's scantlings for a ship without ice class; a "
    "least plate thickness can be given as stock.floor_mm.",
)
CLEARANCE_SHORT: Final = register(
    "BW520",
    Severity.CAUTION,
    "The clearance between propeller and hull is less than the ice thickness of the class",
    "Choose a smaller propeller or change the stern frame.",
)
