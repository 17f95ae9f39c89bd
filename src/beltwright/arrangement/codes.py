"""The findings of the arrangement, BW2xx."""

from __future__ import annotations

from beltwright.core.findings import Severity, register

SLIVERS = register(
    "BW201",
    Severity.NOTE,
    "Slivers joined to their neighbours",
    "Nothing is lost: their area counts in the neighbouring panel. Move a level or the zone's edge if they are many.",
)
ZONE_GAP = register(
    "BW202",
    Severity.CAUTION,
    "Shell without framing zone",
    "Between keel and the uppermost level every part of the shell needs a zone; add one or widen a neighbour.",
)
MANY_CROSSINGS = register(
    "BW203",
    Severity.CAUTION,
    "A level meets the shell more than once at one station",
    "The outermost crossing is taken; look at the section there and check the panels beside it.",
)
AREA_NOT_KEPT = register(
    "BW204",
    Severity.CAUTION,
    "Panel areas do not add up to the shell's area",
    "The shell has steps, loose pieces or faces across the ship that sections do not see; look at the places named.",
)
OPENING_CUTS_FRAME = register(
    "BW205",
    Severity.CAUTION,
    "An opening cuts frames",
    "The frames need their own arrangement around the opening; the frame table still shows them unbroken.",
)
OPENING_OFF_HULL = register(
    "BW206",
    Severity.CAUTION,
    "An opening lies off the framed shell",
    "Its area is not taken out; check its centre against the hull.",
)
LEVEL_MISSES_HULL = register(
    "BW207",
    Severity.CAUTION,
    "A level does not meet the shell",
    "It supports nothing; check its height and its frames.",
)
SHORT_FRAMES = register(
    "BW208",
    Severity.NOTE,
    "Short frame ends left out",
    "Frame pieces shorter than 0.15 m at stem, stern or a rising level are not frames of their own.",
)
LOOSE_PIECES = register(
    "BW209",
    Severity.CAUTION,
    "Loose pieces beside the hull's sections",
    "Closed curves in a section (appendages, pods) are not framed; take them out of the hull file or ignore this.",
)
BRACKETS_LONGER_THAN_FRAME = register(
    "BW210",
    Severity.NOTE,
    "Bracket reduction held at half the span",
    "These frames are so short that the brackets' reduction would leave less than half the span.",
)
ZONE_EMPTY = register(
    "BW211",
    Severity.CAUTION,
    "A framing zone holds no shell",
    "Neither plates nor frames come from it; check its frames and levels.",
)
DECK_LEFT_OUT = register(
    "BW212",
    Severity.NOTE,
    "Deck faces left out of the sections",
    "Sections end where the shell turns into a deck near the moulded depth.",
)
TRANSOM = register(
    "BW213",
    Severity.CAUTION,
    "Shell that lies across the ship is left out",
    "Frames in transverse planes do not stiffen a transom or a flat end; give it its own plates and stiffeners.",
)
