"""What the polar rules have to say to the engineer, numbered."""

from __future__ import annotations

from typing import Final

from beltwright.core.findings import Severity, register

LENGTH_LIMITED: Final = register(
    "BW401",
    Severity.NOTE,
    "The rule length is set by a limit",
    "Check where the steering axis and the ends of the upper ice waterline lie; the length is held within 0.96 and "
    "0.97 of the waterline's extreme length.",
)
DISPLACEMENT_FLOOR: Final = register(
    "BW402",
    Severity.NOTE,
    "The displacement is raised to the rule's floor",
    "Nothing to do; the load does not fall with a smaller displacement. Both figures are shown.",
)
VERTICAL_BOW: Final = register(
    "BW403",
    Severity.CAUTION,
    "The bow load follows the formula for vertical-sided or bulbous bows",
    "The certificate states that the ship does not ram intentionally (UR I1.1.6, recalled); agree it with the owner.",
)
BORDER_LIMITED: Final = register(
    "BW404",
    Severity.NOTE,
    "The aft border of the bow is set by a limit",
    "Look at the border on the expansion: it does not lie where the waterline angle is 10 degrees.",
)
ASTERN: Final = register(
    "BW405",
    Severity.CAUTION,
    "The aft part takes the requirements of the bow",
    "The load comes from the bow's own shape, not from the stern's. Agree load and extent with class.",
)
OVERRIDDEN: Final = register(
    "BW406",
    Severity.CAUTION,
    "A written reason carries the design past the end of a rule",
    "Have the reason agreed by class; it is printed in every output.",
)
NO_MIDBODY: Final = register(
    "BW407",
    Severity.CAUTION,
    "The midbody region is empty",
    "Bow intermediate and stern regions meet; look at the places where the greatest breadth begins and ends.",
)
