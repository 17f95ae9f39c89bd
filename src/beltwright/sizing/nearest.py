"""What comes nearest where nothing in stock meets: the member, the entry, and how far it misses."""

from __future__ import annotations

import numpy as np

from beltwright.core.outcome import at_ratio
from beltwright.core.units import FloatArray
from beltwright.scantlings.plating import plate_ratio
from beltwright.sizing.candidates import Candidates
from beltwright.sizing.problem import Need


def _known(ratio: FloatArray) -> FloatArray:
    """Ratios with what is not known as infinite."""
    return np.where(np.isnan(ratio), np.inf, ratio)


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
        mine = mine[trial.panel_zone[mine] == asked.zones[need.zone]]
        thickness = np.unique([steel.thickness_mm for steel in asked.steels[need.plate]])
        grades = list(dict.fromkeys(steel.grade for steel in asked.steels[need.plate]))
        cold = trial.panel_grades(mine, thickness, grades)
        plating, grading = trial.rules.plating.checks[0], trial.rules.grading
        found: list[tuple[float, str]] = []
        for steel in asked.steels[need.plate]:
            named = f"{steel.thickness_mm:g} mm {steel.grade}"
            required = trial.required_mm(steel.yield_mpa)[mine]
            ratio = _known(plate_ratio(trial.ship, required, np.full(len(mine), steel.thickness_mm)))
            ratio = np.where(trial.panel_asked[mine], ratio, 0.0)
            letter = cold[:, int(np.searchsorted(thickness, steel.thickness_mm)), grades.index(steel.grade)]
            worst = int(np.argmax(np.maximum(ratio, letter)))
            panel = trial.arrangement.panels.labels("id")[mine[worst]]
            if letter[worst] > ratio[worst] and grading is not None:
                check = grading.checks[0]
                told = f"panel {panel} asks for a colder grade ({check.name}, {check.ref})"
            else:
                told = f"panel {panel} asks for {required[worst]:.2f} mm ({plating.name}, {plating.ref})"
            miss = float(max(ratio[worst], letter[worst]))
            found.append((miss, f"{told}; the nearest is {named} {at_ratio(miss)}"))
        return min(found, key=lambda each: each[0])[1]

    def frames(self, group: int) -> str:
        """Return the section that misses by least, the span and plate on which it does, and the check."""
        asked = self._asked
        choices = asked.frames[group]
        trial = asked.options[choices.group.zone][choices.group.option].trial
        if choices.too_warm is not None and trial.rules.grading is not None:
            span, thickness, grade, ratio = choices.too_warm
            asks = trial.rules.grading.checks[0]
            return (
                f"frame {trial.arrangement.frames.labels('id')[span]} asks for a colder grade ({asks.name}, "
                f"{asks.ref}); the nearest is {grade} at {thickness:g} mm {at_ratio(ratio)}"
            )
        section, grade, ratio, span, plate, steel, check = choices.nearest()
        frames = trial.arrangement.frames
        return (
            f"the nearest is {section} {grade} {at_ratio(ratio)} on {frames.labels('id')[span]} ({check}), on plate "
            f"{asked.plates.names[asked.sized[plate]]} of {steel.thickness_mm:g} mm {steel.grade}"
        )
