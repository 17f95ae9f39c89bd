"""The icing allowance of 4.3.1.1 as items of weight: mass and centre of the ice on each surface, and their sum."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from beltwright.core.columns import Column, ColumnTable
from beltwright.core.errors import InputError
from beltwright.core.units import FloatArray, Unit
from beltwright.rules.polar_code_imo_2017.part_ia_4_icing_and_damage import (
    area_with_small_parts,
    deck_ice,
    moment_with_small_parts,
    side_ice,
)

KG_PER_T = 1000.0


@dataclass(frozen=True, slots=True, kw_only=True)
class IcedDeck:
    """An exposed weather deck or gangway: its area [m2] and the centre of it, from AP, centreline and baseline [m]."""

    name: str
    area_m2: float
    x_m: float
    y_m: float
    z_m: float


@dataclass(frozen=True, slots=True, kw_only=True)
class IcedSide:
    """A part of the side above the waterline: its projection on the centreplane, one side, and that area's centre.

    Continuous surfaces only: rails, rigging and other small parts come by the Code's addition.
    """

    name: str
    area_m2: float
    x_m: float
    z_m: float


@dataclass(frozen=True, slots=True, kw_only=True)
class IcingAllowance:
    """The ice that stability has to reckon with.

    ``table`` has a row per surface: name, kind (deck, sides), area_m2 (of the sides: one side, small parts included),
    mass_t, lcg_m, tcg_m, vcg_m. Sides count both. ``mass_t`` is the sum, ``centre_m`` (x, y, z) its centre.
    """

    table: ColumnTable
    mass_t: float
    centre_m: tuple[float, float, float]


def icing_allowance(decks: Sequence[IcedDeck], sides: Sequence[IcedSide]) -> IcingAllowance:
    """Return the icing allowance; raises InputError for no surface, or one whose area or place is not a number."""
    if not decks and not sides:
        raise InputError("icing", "no surface is given", allowed="decks and sides above the waterline")
    surfaces: list[IcedDeck | IcedSide] = [*decks, *sides]
    for surface in surfaces:
        _check(surface)
    deck_area, x_deck, y_deck, z_deck = _columns(decks, ("area_m2", "x_m", "y_m", "z_m"))
    side_area, x_side, z_side = _columns(sides, ("area_m2", "x_m", "z_m"))
    whole = area_with_small_parts(lateral_area_m2=side_area)
    moment = moment_with_small_parts(lateral_area_m2=side_area, centre_height_m=z_side)
    mass = np.concatenate([deck_ice(deck_area_m2=deck_area), 2.0 * side_ice(area_with_small_parts_m2=whole)]) / KG_PER_T
    centres = np.stack(
        [
            np.concatenate([x_deck, x_side]),
            np.concatenate([y_deck, np.zeros(len(sides))]),
            np.concatenate([z_deck, moment / whole]),
        ]
    )
    total = float(mass.sum())
    x, y, z = ((centres * mass).sum(axis=1) / total).tolist()
    areas = np.concatenate([deck_area, whole])
    return IcingAllowance(table=_table(surfaces, areas, mass, centres), mass_t=total, centre_m=(x, y, z))


def _check(surface: IcedDeck | IcedSide) -> None:
    """Refuse a surface without area, or with a place that is not a number."""
    where = f"icing: {surface.name}"
    if not (np.isfinite(surface.area_m2) and surface.area_m2 > 0.0):
        raise InputError(f"{where}: area_m2", "is no area", value=surface.area_m2, unit="m2", allowed="above 0")
    for name in ("x_m", "y_m", "z_m"):
        value = getattr(surface, name, 0.0)
        if not np.isfinite(value):
            raise InputError(f"{where}: {name}", "is not a number", value=value, unit="m")


def _columns(surfaces: Sequence[object], names: tuple[str, ...]) -> list[FloatArray]:
    """The named numbers of some surfaces, each as a column (n,)."""
    return [np.array([getattr(one, name) for one in surfaces], dtype=np.float64) for name in names]


def _table(
    surfaces: Sequence[IcedDeck | IcedSide], areas: FloatArray, mass: FloatArray, centres: FloatArray
) -> ColumnTable:
    """The items as a table."""
    metres, label = Unit("m"), Unit("label")
    names = np.array([one.name for one in surfaces])
    kinds = np.array(["deck" if isinstance(one, IcedDeck) else "sides" for one in surfaces])
    return ColumnTable(
        "icing",
        {
            "name": Column(unit=label, meaning="surface", data=names),
            "kind": Column(unit=label, meaning="deck, or both sides", data=kinds),
            "area_m2": Column(unit=Unit("m2"), meaning="area; of sides one side, small parts included", data=areas),
            "mass_t": Column(unit=Unit("t"), meaning="mass of ice", data=mass),
            "lcg_m": Column(unit=metres, meaning="centre from the aft perpendicular", data=centres[0]),
            "tcg_m": Column(unit=metres, meaning="centre from the centreline, port positive", data=centres[1]),
            "vcg_m": Column(unit=metres, meaning="centre above the baseline", data=centres[2]),
        },
    )
