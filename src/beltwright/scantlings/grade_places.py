"""What steel grades need to know of a member: its ends, its height about the water, its part in the shell."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray

from beltwright.arrangement.levels import LevelLine
from beltwright.arrangement.model import Arrangement
from beltwright.core.errors import InputError
from beltwright.core.units import BoolArray, FloatArray
from beltwright.scantlings.appendages import appendage_words
from beltwright.scantlings.areas import inclination_deg
from beltwright.scantlings.design import HullMeasures
from beltwright.ship.model import LevelKind, Ship

FLAT_DEG = 45.0  # shell nearer to horizontal than this is bottom where no inner bottom tells
TURN_DEG = (30.0, 60.0)  # shell that turns through these is bilge


@dataclass(frozen=True, slots=True, kw_only=True)
class GradePlaces:
    """Place and part of each member (n,), panels first; ``basis`` says in words how the part was settled."""

    fore_end_m: FloatArray
    aft_end_m: FloatArray
    highest_above_lower_m: FloatArray
    lowest_above_lower_m: FloatArray
    below_strength_deck_m: FloatArray
    bottom_shell: BoolArray
    bilge: BoolArray
    basis: tuple[str, ...]

    def columns(self) -> dict[str, NDArray[Any]]:
        """Return the columns of the vocabulary."""
        return {name: getattr(self, name) for name in self.__slots__ if name != "basis"}


def grade_places(ship: Ship, measures: HullMeasures, arrangement: Arrangement) -> GradePlaces:
    """Return place and part of panels and frames; an unknown strength deck is an InputError."""
    panels, frames = arrangement.panel_shapes, arrangement.frame_shapes
    points = np.concatenate([panels.samples, frames.samples])
    normals = np.concatenate([panels.sample_normals, frames.sample_normals])
    x, z = points[:, :, 0], points[:, :, 2]
    aft = measures.stem_x_m - x
    above = z - measures.lower.level.height(x.ravel()).reshape(x.shape)
    deck, basis = _strength_deck(ship, arrangement.levels)
    middle, top = x.mean(axis=1), z.max(axis=1)
    below = np.full(len(points), np.inf)
    if deck is not None:
        there = deck.present(middle)
        below[there] = deck.height_at(middle[there]) - top[there]
    bottom, bilge, words = _bottom(arrangement.levels, middle, z, inclination_deg(normals))
    return GradePlaces(
        fore_end_m=aft.min(axis=1),
        aft_end_m=aft.max(axis=1),
        highest_above_lower_m=above.max(axis=1),
        lowest_above_lower_m=above.min(axis=1),
        below_strength_deck_m=below,
        bottom_shell=bottom,
        bilge=bilge,
        basis=(basis, *words, *_OTHER, appendage_words(ship)),
    )


_OTHER = (
    "Side shell: everything else, secondary. A declared category (steel_grades.categories) stands over all of these.",
    (
        "Frames take the class of framing attached to exposed plating, and no category of their own. A member that "
        "reaches over a level, a hull area or a place along the ship takes the most severe."
    ),
)


def _strength_deck(ship: Ship, levels: tuple[LevelLine, ...]) -> tuple[LevelLine | None, str]:
    """The strength deck and how it was found: given, or the uppermost deck."""
    named = ship.steel_grades.strength_deck
    if named is not None:
        for level in levels:
            if level.name == named:
                return level, f"Strength deck: {named}, as given. Shell in the sheer strake below it is special."
        known = ", ".join(level.name for level in levels)
        raise InputError("ship.toml: steel_grades.strength_deck", "no such level", value=named, allowed=known)
    decks = [level for level in levels if level.kind is LevelKind.DECK]
    if not decks:
        return (
            None,
            "Strength deck: no deck is described, so no shell counts as sheer strake; declare it if there is one.",
        )
    return decks[-1], (
        f"Strength deck: {decks[-1].name}, the uppermost deck. Shell in the sheer strake below it is special."
    )


def _bottom(
    levels: tuple[LevelLine, ...], x_m: FloatArray, z_m: FloatArray, steep_deg: FloatArray
) -> tuple[BoolArray, BoolArray, tuple[str, ...]]:
    """Which members are bottom shell and which bilge, from heights and inclinations of their points (n, k)."""
    top = np.full(len(x_m), np.nan)
    for level in levels:
        if level.kind is LevelKind.INNER_BOTTOM:
            here = level.present(x_m)
            top[here] = level.height_at(x_m[here])
    told = ~np.isnan(top)
    bottom = np.where(told, z_m.mean(axis=1) < top, steep_deg.mean(axis=1) < FLAT_DEG)
    reaches = np.where(told, z_m.min(axis=1) < top, True)
    turning = (steep_deg.max(axis=1) >= TURN_DEG[0]) & (steep_deg.min(axis=1) <= TURN_DEG[1])
    words = (
        f"Bottom shell: below the inner bottom, and where there is none where the shell is nearer than {FLAT_DEG:g} "
        "degrees to horizontal; primary.",
        f"Bilge: shell that reaches below the inner bottom and is inclined between {TURN_DEG[0]:g} and "
        f"{TURN_DEG[1]:g} degrees somewhere; special.",
    )
    return bottom, reaches & turning, words
