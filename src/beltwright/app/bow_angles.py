"""What other bow angles would be worth: load, pressure, plates and steel with the angles turned by hand.

The hull stays as it is; the angles read at the load stations are turned and the rule functions run on them. Waterline
and normal frame angle are free; frame and buttock angle follow from them as on any surface.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import Any, Final

import numpy as np

from beltwright.core.errors import InputError
from beltwright.core.findings import Findings
from beltwright.core.units import FloatArray
from beltwright.rules.protocol import DesignLoads
from beltwright.scantlings.build import members_under
from beltwright.scantlings.design import Design
from beltwright.scantlings.measure import angle_columns
from beltwright.weights.steel import steel_weight

LEAST_DEG, MOST_DEG = 0.5, 85.0
STEM: Final = "stem_angle_deg"


@dataclass(frozen=True, slots=True, kw_only=True)
class OutcomeRow:
    """One quantity on the hull's own angles and on the turned ones."""

    what: str
    unit: str
    before: float
    after: float
    decimals: int


@dataclass(frozen=True, slots=True, kw_only=True)
class AngleOutcome:
    """What turned angles bring; ``stations`` are distance aft of the stem and the four angles [deg] of each."""

    rows: tuple[OutcomeRow, ...]
    stations: tuple[tuple[float, ...], ...]
    notes: tuple[str, ...]


class AngleStudy:
    """The bow of one design; :func:`angle_study` makes it."""

    def __init__(self, design: Design) -> None:
        self.design = design
        self._angles = angle_columns(design.stations)
        self._before = _figures(design, design.loads)

    def at(self, waterline_deg: float = 0.0, flare_deg: float = 0.0, stem_deg: float = 0.0) -> AngleOutcome:
        """Return what the angles turned by these amounts bring.

        Raises InputError or ScopeError where an angle leaves what a hull can have, or the rule's own scope.
        """
        design = self.design
        angles = turned(self._angles, waterline_deg, flare_deg)
        facts = dict(design.facts)
        notes = [
            "Plates and frames are proposed anew for the turned angles; the hull's form, its areas and draughts stay."
        ]
        if STEM in facts:
            facts[STEM] = facts[STEM] + stem_deg
            if not LEAST_DEG <= float(facts[STEM][0]) <= MOST_DEG:
                raise InputError("stem angle", "cannot be", value=float(facts[STEM][0]), unit="deg",
                                 allowed=f"{LEAST_DEG} to {MOST_DEG}")  # fmt: skip
            notes.append(f"Stem angle {float(facts[STEM][0]):.2f} degrees: it enters the ramming force and no plate.")
        findings = Findings()
        loads = design.rules.loads(facts, design.areas, angles, design.overrides)
        plating, framing = members_under(
            design.ship, design.rules, design.measures, design.arrangement, design.areas, loads, findings
        )
        made = replace(design, loads=loads, plating_run=plating, framing_run=framing)
        after = _figures(made, loads)
        rows = tuple(
            OutcomeRow(what=what, unit=unit, before=self._before[what][0], after=value, decimals=decimals)
            for what, (value, unit, decimals) in after.items()
            if what in self._before
        )
        columns = ("aft_of_stem_m", "alpha_deg", "beta_prime_deg", "beta_deg", "gamma_deg")
        stations = tuple(tuple(float(angles[name][k]) for name in columns) for k in range(len(angles["alpha_deg"])))
        return AngleOutcome(rows=rows, stations=stations, notes=tuple(notes))


def angle_study(design: Design) -> AngleStudy:
    """Return the study of a design's bow; InputError where its rule set reads no hull angles."""
    if len(design.stations.aft_of_stem_m) == 0:
        raise InputError("bow angles", "the rule set reads no hull angles", value=design.ship.ice.rules)
    return AngleStudy(design)


def turned(angles: Mapping[str, FloatArray], waterline_deg: float, flare_deg: float) -> dict[str, Any]:
    """Return station angles (k,) with waterline and normal frame angle turned, the others following [deg].

    tan beta = tan beta' / cos alpha and tan gamma = tan alpha / tan beta, as on any surface; an angle that does not
    apply stays so. Raises InputError where an angle leaves 0.5 to 85 degrees.
    """
    alpha = angles["alpha_deg"] + waterline_deg
    flare = angles["beta_prime_deg"] + flare_deg
    for what, values in (("waterline angle", alpha), ("normal frame angle", flare)):
        bad = ~np.isnan(values) & ((values < LEAST_DEG) | (values > MOST_DEG))
        if bad.any():
            raise InputError(what, "cannot be", value=float(np.round(values[bad][0], 2)), unit="deg",
                             allowed=f"{LEAST_DEG} to {MOST_DEG}")  # fmt: skip
    beta = np.degrees(np.arctan(np.tan(np.radians(flare)) / np.cos(np.radians(alpha))))
    gamma = np.degrees(np.arctan(np.tan(np.radians(alpha)) / np.tan(np.radians(beta))))
    if waterline_deg == 0.0 and flare_deg == 0.0:
        return dict(angles)
    return {**angles, "alpha_deg": alpha, "beta_prime_deg": flare, "beta_deg": beta, "gamma_deg": gamma}


def _figures(design: Design, loads: DesignLoads) -> dict[str, tuple[float, str, int]]:
    """The figures of a design by what they are: value, unit, decimals."""
    found: dict[str, tuple[float, str, int]] = {}
    for patch in loads.patches:
        found[f"load {patch.name}: force"] = patch.force_mn, "MN", 3
        found[f"load {patch.name}: line load"] = patch.force_mn / patch.width_m, "MN/m", 3
        found[f"load {patch.name}: average pressure"] = patch.pressure_mpa, "MPa", 3
        found[f"load {patch.name}: patch width"] = patch.width_m, "m", 3
        found[f"load {patch.name}: patch height"] = patch.height_m, "m", 3
    table = design.plating
    area, required = table.labels("hull_area"), table["thickness_required_mm"].data
    for code in dict.fromkeys(str(one) for patch in loads.patches[:1] for one in patch.areas):
        here = (area == code) & np.isfinite(required)
        if here.any():
            found[f"plating of {code}: greatest requirement"] = float(required[here].max()), "mm", 2
            found[f"plating of {code}: mean requirement"] = float(required[here].mean()), "mm", 2
    weight = steel_weight(design)
    found["steel of plating and frames, with allowances"] = weight.total_t, "t", 1
    return found
