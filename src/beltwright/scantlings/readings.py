"""How the rule is read where it leaves a choice to the user, in words for the outputs."""

from __future__ import annotations

from beltwright.rules.protocol import MemberRule
from beltwright.ship.model import Ship

IN_FULL = "both in full"
_FLAG = "both_in_full"


def both_in_full(ship: Ship) -> bool:
    """Return whether an oblique frame has to meet the shear area of either formula in full."""
    return ship.readings.oblique_frames == IN_FULL


def reading_words(ship: Ship, framing: MemberRule) -> tuple[str, ...]:
    """Return a sentence on each reading; none where the rule set leaves no such choice."""
    if _FLAG not in framing.chain.inputs:
        return ()
    if both_in_full(ship):
        return (
            "Oblique frames, readings.oblique_frames in ship.toml: the severe reading. The shear areas of the "
            "transverse and of the longitudinal formula are each demanded in full; the plastic modulus is interpolated "
            "(decision D17).",
        )
    return (
        "Oblique frames, readings.oblique_frames in ship.toml: the lighter reading. The interpolated shear area is "
        "demanded; a modulus formula whose shear utilisation exceeds 1 is taken at its limit, and finding BW463 names "
        "such frames (decision D17).",
    )
