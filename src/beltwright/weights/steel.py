"""The steel weight: every panel and frame span of both sides, summed by hull area, with its centre.

Plates count by their true area on the shell, openings taken out; frames by their true length along the shell. Nothing
is deducted for cut-outs in frames and nothing added for what is not modelled, except by the stated allowances.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from beltwright.core.columns import Column, ColumnTable
from beltwright.core.findings import Finding, Findings
from beltwright.core.units import BoolArray, FloatArray, Unit
from beltwright.materials.hull_steel import plate_mass_kg_per_m2
from beltwright.rules.polar_code_imo_2017.icing import IcingAllowance
from beltwright.scantlings.design import Design
from beltwright.weights import codes
from beltwright.weights.icing import icing_of

KG_PER_T = 1000.0
ABOVE_BELT = "outside"


@dataclass(frozen=True, slots=True, kw_only=True)
class Allowance:
    """An allowance on the modelled mass: what it is for, its share of the modelled mass, and its mass."""

    name: str
    share: float
    mass_t: float


@dataclass(frozen=True, slots=True, kw_only=True)
class SteelWeight:
    """The steel weight of plating and frames, both sides.

    ``table`` has a row per hull area and kind (plating, frames): hull_area, kind, members (count), mass_t, area_m2
    (plating), length_m (frames), lcg_m, tcg_m, vcg_m. A member that a border crosses counts with the area whose factor
    it takes, so that ``area_m2`` is not the area inside the borders. Centres are from the aft perpendicular, the
    centreline (port positive) and the baseline. ``plate_mass_kg`` and ``frame_mass_kg`` (n, 2) are each member's on
    port and starboard. ``modelled_t`` is the sum of the table, ``total_t`` with allowances, ``centre_m`` (x, y, z)
    that of the modelled mass. ``not_weighed_m2`` is the shell on both sides that has no thickness and so no mass here;
    web frames, floors and stringers have none either. ``icing`` is the ice that stability has to reckon with, where
    ``ship.toml`` names surfaces; it is an item of its own and in no sum of steel.
    """

    table: ColumnTable
    allowances: tuple[Allowance, ...]
    modelled_t: float
    total_t: float
    centre_m: tuple[float, float, float]
    plate_mass_kg: FloatArray
    frame_mass_kg: FloatArray
    not_weighed_m2: float
    findings: tuple[Finding, ...]
    icing: IcingAllowance | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class _Row:
    """One hull area and kind: how many members, their area [m2] or length [m], mass and first moments (4,)."""

    hull_area: str
    kind: str
    members: int
    size: float
    moments: FloatArray


def steel_weight(design: Design) -> SteelWeight:
    """Return the steel weight of a design."""
    findings = Findings()
    panels, frames = design.arrangement.panels, design.arrangement.frames
    plate_kg = _plate_masses(design)
    frame_kg = _frame_masses(design)
    missing = int(np.isnan(plate_kg).sum()), int(np.isnan(frame_kg).sum())
    if any(missing):
        findings.add(codes.NOT_WEIGHED, "weights", f"{missing[0]} panels and {missing[1]} frame spans, both sides")
    rows: list[_Row] = []
    net_area, length = panels.values("net_area_m2"), 2.0 * frames.values("length_m")
    for kind, source, table, mass, size in (
        ("plating", panels, design.plating, plate_kg, net_area),
        ("frames", frames, design.frames, frame_kg, length),
    ):
        area = table.labels("hull_area")
        for code in [*(one.code for one in design.areas.areas), ""]:
            chosen = (area == code) & ~np.isnan(mass[:, 0])
            if chosen.any():
                rows.append(
                    _Row(
                        hull_area=code or ABOVE_BELT,
                        kind=kind,
                        members=2 * int(chosen.sum()),
                        size=float(size[chosen].sum()),
                        moments=_moments(source, mass, chosen),
                    )
                )
    total = np.sum([row.moments for row in rows], axis=0) if rows else np.zeros(4)
    modelled = float(total[0]) / KG_PER_T
    allowances = _allowances(design, modelled)
    centre = total[1:] / total[0] if total[0] > 0.0 else np.zeros(3)
    return SteelWeight(
        table=_table(rows),
        allowances=allowances,
        modelled_t=modelled,
        total_t=modelled + sum(allowance.mass_t for allowance in allowances),
        centre_m=(float(centre[0]), float(centre[1]), float(centre[2])),
        plate_mass_kg=plate_kg,
        frame_mass_kg=frame_kg,
        not_weighed_m2=float(net_area[np.isnan(plate_kg[:, 0])].sum()),
        findings=tuple(findings),
        icing=icing_of(design.ship),
    )


def _plate_masses(design: Design) -> FloatArray:
    """The mass of each panel on port and starboard (n, 2) [kg]; NaN where it has no thickness."""
    panels = design.arrangement.panels
    openings = np.column_stack([panels.values("opening_port_m2"), panels.values("opening_starboard_m2")])
    mean = "thickness_mean_mm"
    weighs = design.plating[mean if mean in design.plating else "thickness_as_built_mm"].data
    per_area = plate_mass_kg_per_m2(weighs)
    mass: FloatArray = (panels.values("area_m2")[:, None] - openings) * per_area[:, None]
    return mass


def _frame_masses(design: Design) -> FloatArray:
    """The mass of each frame span on port and starboard (n, 2) [kg]; NaN where it has no section."""
    one = design.arrangement.frames.values("length_m") * design.frames["mass_kg_per_m"].data
    mass: FloatArray = np.column_stack([one, one])
    return mass


def _moments(source: ColumnTable, mass_kg: FloatArray, chosen: BoolArray) -> FloatArray:
    """Mass and first moments of the chosen members: port at y, starboard at -y."""
    port, starboard = mass_kg[chosen].T
    x, y, z = (source.values(f"centroid_{axis}_m")[chosen] for axis in "xyz")
    both = port + starboard
    return np.array([both.sum(), both @ x, (port - starboard) @ y, both @ z])


def _allowances(design: Design, modelled_t: float) -> tuple[Allowance, ...]:
    """The allowances of the ship's description, each on the modelled mass."""
    given = design.ship.weights
    return tuple(
        Allowance(name=name, share=share, mass_t=share * modelled_t)
        for name, share in (
            ("mill tolerance", given.mill_tolerance),
            ("weld metal", given.weld_metal),
            ("brackets and details", given.brackets_and_details),
        )
    )


def _table(rows: list[_Row]) -> ColumnTable:
    """The rows as a table."""
    moments = np.array([row.moments for row in rows]).reshape(-1, 4)
    mass = moments[:, 0]
    plating = np.array([row.kind == "plating" for row in rows], dtype=bool)
    size = np.array([row.size for row in rows])
    numbers = {
        "mass_t": ("t", "mass of both sides", mass / KG_PER_T),
        "lcg_m": ("m", "centre of mass, x from the aft perpendicular", moments[:, 1] / mass),
        "tcg_m": ("m", "centre of mass, y to port", moments[:, 2] / mass),
        "vcg_m": ("m", "centre of mass, z above the baseline", moments[:, 3] / mass),
    }
    return ColumnTable(
        "steel weight",
        {
            "hull_area": _words(
                "hull area; outside where no ice strengthening is asked for", [row.hull_area for row in rows]
            ),
            "kind": _words("plating or frames", [row.kind for row in rows]),
            "members": Column(
                unit=Unit("count"),
                meaning="members on both sides",
                data=np.array([row.members for row in rows], dtype=np.int64),
            ),
            "area_m2": _only("m2", "shell weighed, both sides, openings taken out", size, plating, "frames have none"),
            "length_m": _only("m", "length of frames weighed, both sides", size, ~plating, "plating has none"),
            **{name: Column(unit=Unit(unit), meaning=text, data=data) for name, (unit, text, data) in numbers.items()},
        },
    )


def _only(unit: str, meaning: str, values: FloatArray, where: BoolArray, reason: str) -> Column:
    """A column of numbers that some rows do not have."""
    return Column(unit=Unit(unit), meaning=meaning, data=np.where(where, values, np.nan),
                  reason=np.where(where, "", reason))  # fmt: skip


def _words(meaning: str, values: list[str]) -> Column:
    """A column of words."""
    return Column(unit=Unit("label"), meaning=meaning, data=np.array(values, dtype=np.str_))
