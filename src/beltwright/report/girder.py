"""What is printed of longitudinal strength in ice, taken from the design."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np

from beltwright.core.chain import Trace
from beltwright.core.clause import Clause
from beltwright.core.columns import ColumnTable
from beltwright.core.outcome import NotApplicable
from beltwright.core.units import FloatArray
from beltwright.drawing.scene import Layer
from beltwright.drawing.sheets.girder import Curve, GirderPicture, Panel
from beltwright.report.numbers import fixed
from beltwright.rules.protocol import GirderForce
from beltwright.scantlings.girder_design import GirderDesign


@dataclass(frozen=True, slots=True, kw_only=True)
class ToldPart:
    """A calculation to be told in full: its title, its trace and the numbers wanted."""

    title: str
    trace: Trace
    wanted: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class GirderMaterial:
    """Everything that is printed of longitudinal strength.

    ``outcome`` is met, not met, not checked or not applicable; ``why_not`` the reason where it is not applicable.
    ``parts`` are the calculations, each without what an earlier one told; ``picture`` is None where no curve is.
    """

    outcome: str
    why_not: str
    choices: tuple[str, ...]
    stations: ColumnTable
    buckling: ColumnTable
    fits: ColumnTable
    parts: tuple[ToldPart, ...]
    picture: GirderPicture | None


_STRESSES = ("stress_deck_mpa", "stress_bottom_mpa", "allowed_tension_mpa", "stress_shear_mpa", "allowed_shear_mpa")


def girder_material(design: GirderDesign | None, origins: dict[str, str]) -> GirderMaterial | None:
    """Return what is printed, None where the rule set has no such chapter; ``origins`` of the ship's facts."""
    if design is None:
        return None
    result = design.result
    if isinstance(result, NotApplicable):
        return GirderMaterial(
            outcome=design.outcome, why_not=f"{result.reason} ({result.ref})", choices=(), stations=design.stations,
            buckling=design.buckling, fits=design.fits, parts=(), picture=None,
        )  # fmt: skip
    return GirderMaterial(
        outcome=design.outcome, why_not="", choices=result.choices, stations=design.stations, buckling=design.buckling,
        fits=design.fits, parts=_parts(design, result, origins), picture=girder_picture(design.stations),
    )  # fmt: skip


def _parts(design: GirderDesign, force: GirderForce, origins: dict[str, str]) -> tuple[ToldPart, ...]:
    """The force at the bow, the place with the greatest ratio, and the worst plate and stiffener."""
    parts = [
        ToldPart(
            title="Vertical ice force at the bow",
            trace=force.trace.with_origins(origins),
            wanted=("printed_bow_form", "ice_force_mn"),
        )
    ]
    if design.told is not None:
        title = f"Place with the greatest ratio, x {fixed(design.told_x_m, 2)} m"
        parts.append(ToldPart(title=title, trace=design.told.with_origins(origins), wanted=_STRESSES))
    parts += [ToldPart(title=one.title, trace=one.trace, wanted=one.wanted) for one in design.members_told]
    return tuple(parts)


def girder_picture(stations: ColumnTable) -> GirderPicture:
    """Return the curves of shear force and bending moment over the ship's length."""

    def curve(name: str, column: str, layer: Layer, sign: float = 1.0) -> Curve:
        return Curve(name=name, layer=layer, values=sign * np.asarray(stations[column].data, dtype=np.float64))

    shear = (
        curve("ice", "ice_shear_positive_mn", Layer.ICE_LOAD),
        curve("", "ice_shear_negative_mn", Layer.ICE_LOAD),
        curve("still water", "still_water_shear_mn", Layer.STILL_WATER_LOAD),
        curve("both", "shear_total_mn", Layer.TOTAL_LOAD),
        curve("carried", "shear_carried_mn", Layer.CARRIED_LOAD),
    )
    moment = (
        curve("ice", "ice_moment_mnm", Layer.ICE_LOAD),
        curve("still water", "still_water_moment_mnm", Layer.STILL_WATER_LOAD),
        curve("both", "moment_total_mnm", Layer.TOTAL_LOAD),
        curve("carried", "moment_carried_mnm", Layer.CARRIED_LOAD),
    )
    return GirderPicture(
        x_m=stations.values("x_m"),
        panels=(
            Panel(title="Shear force, MN", curves=tuple(filter(_drawn, shear))),
            Panel(title="Bending moment, MNm", curves=tuple(filter(_drawn, moment))),
        ),
    )


def _drawn(curve: Curve) -> bool:
    """Whether a curve has any value."""
    return bool(np.isfinite(curve.values).any())


def girder_clauses(design: GirderDesign | None) -> list[Clause[Any, Any]]:
    """Return the clauses that the numbers of longitudinal strength rest on."""
    if design is None or isinstance(design.result, NotApplicable):
        return []
    traces = [design.result.trace, *([design.told] if design.told is not None else [])]
    traces += [one.trace for one in design.members_told]
    made = [node.step.clause for trace in traces for node in trace.values() if node.step is not None]
    return [*made, *(step.clause for step in design.rule.along.steps)]


def places_shown(stations: ColumnTable) -> list[int]:
    """Return the rows that the booklet shows: sections, places where a distribution bends, and the greatest ratio."""
    place = stations.labels("place")
    shown = np.array([name == "distribution" or name.startswith("section ") for name in place.tolist()], dtype=bool)
    ratio: FloatArray = stations["ratio"].data
    if np.isfinite(ratio).any():
        shown[int(np.nanargmax(ratio))] = True
    return np.flatnonzero(shown).tolist()
