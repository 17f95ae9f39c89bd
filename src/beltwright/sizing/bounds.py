"""A bound of a ship's price that is quickly had: no plate is laid, no stock counted, no section checked.

Every panel is exactly as thick as it asks in the steel that makes that cheapest, and every frame is the lightest
section of the stock; joints, pieces and bending cost nothing. Nothing that can be built costs less.
"""

from __future__ import annotations

import numpy as np

from beltwright.materials.hull_steel import hull_steels, plate_mass_kg_per_m2
from beltwright.sizing.trial import Trial
from beltwright.sizing.values import Values

_ROUNDED = 1.0  # a choice's price is rounded to whole units; half a unit for each plate and group, generously


def zone_bound(trial: Trial, zone: str, values: Values) -> float:
    """Return the least that plates and frames of a zone can cost under one framing, by the objective."""
    panels, inside = trial.arrangement.panels, trial.panel_zone == zone
    area, least = panels.values("net_area_m2"), np.full(panels.rows, np.inf)
    grades = dict.fromkeys((*values.plate_grades, *(one.grade for one in trial.ship.plates if one.grade is not None)))
    for grade in grades:
        required = trial.required_mm(hull_steels().steel(grade).thinnest.yield_MPa)
        thickness = np.fmax(np.where(trial.panel_asked, required, 0.0), values.floor_mm)
        kg = plate_mass_kg_per_m2(np.where(np.isfinite(thickness), thickness, 0.0)) * area
        least = np.minimum(least, kg * values.plate_rate(grade))
    frames = trial.arrangement.frames
    asked = trial.asked[frames.labels("zone")[trial.asked] == zone]
    length = float(frames.values("length_m")[asked].sum())
    lightest = 0.0
    if len(asked) and not trial.ship.frame_sections:  # a section that is given may be lighter than any in the list
        lightest = min(float(values.frames(grade, length, len(asked))[:, 0].min()) for grade in values.frame_grades)
    return float(least[inside].sum()) + lightest


def rounded_down(total: float, choices: int) -> int:
    """Return a bound in whole units, with what rounding of so many choices may take away."""
    return int(np.floor(total - _ROUNDED * choices))
