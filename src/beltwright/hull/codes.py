"""Kinds of findings about the hull's surface, waterlines, sections and profile."""

from __future__ import annotations

from beltwright.core.findings import Severity, register

FACES_FLIPPED = register(
    "BW101",
    Severity.NOTE,
    "Faces turned outward",
    "The file's own orientation of these faces looks inboard; they were turned. Check the pictures.",
)
FACE_SIDE_UNCERTAIN = register(
    "BW102",
    Severity.CAUTION,
    "Outer side of a face uncertain",
    "Lines across the hull do not agree on their outer side. Look for inner surfaces or doubles in the file.",
)
FACES_DOUBLED = register(
    "BW103",
    Severity.NOTE,
    "Faces given twice",
    "A face that repeats another was left out. Remove it from the file to be rid of this note.",
)
OPEN_TRANSOM = register(
    "BW104",
    Severity.NOTE,
    "Waterline ends at an open transom",
    "The transom is not modelled; the waterline is closed straight across. Check the aft end of the waterline.",
)
WATERLINE_ISLANDS = register(
    "BW105",
    Severity.CAUTION,
    "Waterline in several pieces",
    "A bulb, skeg, pod or appendage cuts the waterline apart from the main outline, which alone gives lengths.",
)
HALF_BREADTH_MANY = register(
    "BW106",
    Severity.CAUTION,
    "More than one half-breadth",
    "At some positions the waterline is met more than once; the outermost place was used.",
)
ALPHA_CROSSED_AGAIN = register(
    "BW107",
    Severity.CAUTION,
    "Waterline angle crossed several times",
    "The waterline angle passes this value more than once in the fore body; the foremost crossing was used.",
)
NO_PARALLEL_SIDE = register(
    "BW108",
    Severity.NOTE,
    "No parallel side",
    "The waterline has no straight side; the borders of greatest half-breadth depend on the tolerance shown.",
)
SECTION_PIECES = register(
    "BW109",
    Severity.CAUTION,
    "Section in several pieces",
    "The transverse section has separate curves (bulb, skeg, appendage or a gap); girth follows the main one.",
)
SECTION_OFF_CENTRELINE = register(
    "BW110",
    Severity.CAUTION,
    "Section does not start at the centreline",
    "Girth is measured from the section's lowest end, which lies off the centre plane.",
)
