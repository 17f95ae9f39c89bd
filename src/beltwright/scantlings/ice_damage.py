"""The extent of ice damage of the Polar Code (Part I-A, 4.3.2) from the measured upper ice waterline."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from beltwright.core.columns import Column, ColumnTable
from beltwright.core.units import Unit
from beltwright.hull.waterline import SideBorders
from beltwright.rules.polar_code_imo_2017.part_ia_4_icing_and_damage import (
    damage_depth,
    damage_height,
    damage_highest_place,
    damage_length,
)
from beltwright.scantlings.design import HullMeasures

FORWARD = np.array([True, False])
_PLACES = ("forward of the greatest breadth", "elsewhere")


@dataclass(frozen=True, slots=True, kw_only=True)
class IceDamage:
    """The extent of ice damage and what it was taken from.

    ``table`` has a row per place of the damage's centre: forward of the greatest breadth, elsewhere. The length and the
    greatest draught are those of the upper ice waterline; ``breadth`` says where its half-breadth is the greatest,
    within a millimetre.
    """

    waterline_length_m: float
    draught_m: float
    breadth: SideBorders
    table: ColumnTable


def ice_damage(measures: HullMeasures) -> IceDamage:
    """Return the extent of ice damage; the draught is the greatest along the upper ice waterline (decision C10)."""
    curve = measures.upper.curve
    length, draught = curve.extreme_length_m, float(curve.points[:, 2].max())
    along = damage_length(upper_waterline_length_m=np.full(2, length), centred_forward=FORWARD)
    height = damage_height(upper_draught_m=np.full(2, draught), damage_length_m=along)
    top = np.full(2, damage_highest_place(upper_draught_m=np.array(draught)))
    metres = Unit("m")
    table = ColumnTable(
        "ice_damage",
        {
            "centred": Column(unit=Unit("label"), meaning="where the damage is centred", data=np.array(_PLACES)),
            "length_m": Column(unit=metres, meaning="length along the ship", data=along),
            "height_m": Column(unit=metres, meaning="vertical extent", data=height),
            "depth_mm": Column(
                unit=Unit("mm"), meaning="depth normal to the shell", data=np.full(2, float(damage_depth()))
            ),
            "highest_place_m": Column(unit=metres, meaning="highest place above the keel", data=top),
        },
    )
    return IceDamage(waterline_length_m=length, draught_m=draught, breadth=curve.side_borders(), table=table)
