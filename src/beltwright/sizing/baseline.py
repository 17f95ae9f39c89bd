"""What the sizing saves: the same ship with one thickness and one profile for each hull area, at its best.

The comparison is found by the same solver, so that it is as good as such a ship can be, and the saving is split by what
brings it: a thickness for each plate, a profile for each group of frames, other framing.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import shapely

from beltwright.scantlings.design import Design
from beltwright.sizing.fit import PlateTable, ask, lay
from beltwright.sizing.size import Sized, solved, supports_of
from beltwright.sizing.solve import Found
from beltwright.weights.shellplates import ShellPlates, cover_of


@dataclass(frozen=True, slots=True, kw_only=True)
class Saving:
    """Prices with bounds in the problem's unit: uniform by hull area, then step by step to the sized ship.

    ``uniform``: one thickness for each hull area and one profile for each zone and hull area. ``own_plates``: each
    plate its own thickness. ``own_frames``: each group its own profile too. ``sized``: with the framing chosen.
    """

    uniform: Found
    own_plates: Found
    own_frames: Found
    framed: Found
    sized: Found
    supports_less: int

    @property
    def by_plates(self) -> int:
        """What a thickness for each plate saves."""
        return self.uniform.price - self.own_plates.price

    @property
    def by_frames(self) -> int:
        """What a profile for each group saves beyond that."""
        return self.own_plates.price - self.own_frames.price

    @property
    def by_framing(self) -> int:
        """What other framing saves beyond that."""
        return self.own_frames.price - self.framed.price

    @property
    def by_arrangement(self) -> int:
        """What other frame spacing and stringers save beyond that."""
        return self.framed.price - self.sized.price

    @property
    def whole(self) -> int:
        """What is saved in all."""
        return self.uniform.price - self.sized.price

    @property
    def proved(self) -> bool:
        """Whether all are proved to be the least of their kind."""
        every = (self.uniform, self.own_plates, self.own_frames, self.framed, self.sized)
        return all(one.finished for one in every)


def saving(design: Design, sized: Sized) -> tuple[Saving, PlateTable]:
    """Return what a sizing saves against the best uniform ship, and that ship's plates, joined by hull area.

    InputError where no uniform ship meets.
    """
    plates = lay(design)
    uniform = ask(design, plates=by_hull_area(design, plates), by_area=True, framed=False)
    own_plates = ask(design, plates=plates, by_area=True, framed=False)
    as_described = not sized.arrangement
    framed, supports = sized.own, sized.supports
    if not as_described:
        problem, framed, _ = solved(ask(design, plates=plates))
        supports = supports_of(problem, framed)
    own_frames = solved(ask(design, plates=plates, framed=False))[1] if design.ship.sizing.framing else framed
    best = solved(uniform)[1]
    made = Saving(
        uniform=best,
        own_plates=solved(own_plates)[1],
        own_frames=own_frames,
        framed=framed,
        sized=sized.found,
        supports_less=supports - sized.supports,
    )
    thickness, grade = uniform.plate_steels(best.solution)
    return made, PlateTable(plates=uniform.plates, thickness_mm=thickness, grade=tuple(grade))


def by_hull_area(design: Design, plates: ShellPlates) -> ShellPlates:
    """Return the plates joined by the hull area that asks for most on each; without borders between them.

    Plates of which nothing is asked stay as they are.
    """
    cover = cover_of(plates, design.arrangement)
    required = design.plating["thickness_required_mm"].data[cover.panel]
    area = design.plating.labels("hull_area")[cover.panel]
    named: list[str] = []
    for plate in range(len(plates.names)):
        mine = np.flatnonzero((cover.plate == plate) & ~np.isnan(required))
        named.append(str(area[mine[int(np.argmax(required[mine]))]]) if len(mine) else plates.names[plate])
    names = list(dict.fromkeys(named))
    joined = [shapely.union_all([o for o, own in zip(plates.outlines, named, strict=True) if own == n]) for n in names]
    row = {name: number for number, name in enumerate(names)}
    pairs = {tuple(sorted((row[named[int(a)]], row[named[int(b)]]))) for a, b in plates.beside}
    beside = sorted(pair for pair in pairs if pair[0] != pair[1])
    return ShellPlates(
        names=tuple(names), outlines=tuple(joined), beside=np.array(beside, dtype=np.int64).reshape(-1, 2)
    )  # fmt: skip
