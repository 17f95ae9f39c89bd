"""What comes nearest where nothing in stock meets: the member, the entry, and how far it misses."""

from __future__ import annotations

import numpy as np

from beltwright.core.outcome import at_ratio
from beltwright.scantlings.plating import plate_ratio
from beltwright.sizing.candidates import Candidates
from beltwright.sizing.problem import Need


class NearestOf:
    """Says for the members of a ship's problem what comes nearest."""

    def __init__(self, asked: Candidates) -> None:
        self._asked = asked

    def plate(self, need: Need) -> str:
        """Return the panel that asks for most on a plate, what it asks for, and the plate that misses by least."""
        asked = self._asked
        one = asked.options[need.zone][need.option]
        trial, cover = one.trial, one.cover
        mine = cover.panel[cover.plate == asked.sized[need.plate]]
        mine = mine[(trial.panel_zone[mine] == asked.zones[need.zone]) & trial.panel_asked[mine]]
        found = []
        for steel in asked.steels[need.plate]:
            required = trial.required_mm(steel.yield_mpa)[mine]
            ratio = plate_ratio(trial.ship, required, np.full(len(mine), steel.thickness_mm))
            ratio = np.where(np.isnan(ratio), np.inf, ratio)
            worst = int(np.argmax(ratio))
            found.append((float(ratio[worst]), worst, float(required[worst]), steel))
        ratio_found, worst, asks, steel = min(found, key=lambda each: each[0])
        panel = trial.arrangement.panels.labels("id")[mine[worst]]
        check = trial.rules.plating.checks[0]
        return (
            f"panel {panel} asks for {asks:.2f} mm ({check.name}, {check.ref}); the nearest is {steel.thickness_mm:g} "
            f"mm {steel.grade} {at_ratio(ratio_found)}"
        )

    def frames(self, group: int) -> str:
        """Return the section that misses by least, the span and plate on which it does, and the check."""
        asked = self._asked
        choices = asked.frames[group]
        section, grade, ratio, span, plate, steel, check = choices.nearest()
        frames = asked.options[choices.group.zone][choices.group.option].trial.arrangement.frames
        return (
            f"the nearest is {section} {grade} {at_ratio(ratio)} on {frames.labels('id')[span]} ({check}), on plate "
            f"{asked.plates.names[asked.sized[plate]]} of {steel.thickness_mm:g} mm {steel.grade}"
        )
