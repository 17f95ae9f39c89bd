"""Part I-A, 4.3: ice on decks and sides, and the extent of damage by ice.

Areas in m2, masses in kg, lengths in m. The side's area is its projection on the centreplane above the waterline.
"""

from __future__ import annotations

import numpy as np

from beltwright.core.provenance import Status
from beltwright.core.units import CubicMetres, Flag, Kilograms, Metres, Millimetres, SquareMetres
from beltwright.rules.polar_code_imo_2017.documents import DOCUMENT
from beltwright.rules.polar_code_imo_2017.tables import DAMAGE, DAMAGE_DEPTH, ICING_LOADS, SMALL_PARTS


@DOCUMENT.clause("4.3.1.1", title="ice on exposed decks and gangways", symbol="m_deck", status=Status.SECONDARY,
                 table=ICING_LOADS, reads=({"surface": "deck"},))  # fmt: skip
def deck_ice(*, deck_area_m2: SquareMetres) -> Kilograms:
    """Mass of ice on exposed weather decks and gangways [kg] (n,). Source: Part I-A, 4.3.1.1."""
    return ICING_LOADS.numbers("deck") * deck_area_m2


@DOCUMENT.clause("4.3.1.1", title="lateral area with small parts", symbol="A_lat", status=Status.SECONDARY,
                 table=SMALL_PARTS, reads=({"addition": "area"},))  # fmt: skip
def area_with_small_parts(*, lateral_area_m2: SquareMetres) -> SquareMetres:
    """Projected lateral area of one side with rails, rigging and other small parts [m2] (n,): 5 % more.

    ``lateral_area_m2`` is that of the continuous surfaces. Source: Part I-A, 4.3.1.1.
    """
    return (1.0 + SMALL_PARTS.numbers("area")) * lateral_area_m2


@DOCUMENT.clause("4.3.1.1", title="static moment of the lateral area with small parts", symbol="S_lat",
                 status=Status.SECONDARY, table=SMALL_PARTS, reads=({"addition": "moment"},))  # fmt: skip
def moment_with_small_parts(*, lateral_area_m2: SquareMetres, centre_height_m: Metres) -> CubicMetres:
    """Static moment of the lateral area with small parts [m3] (n,): 10 % more.

    ``centre_height_m`` is the height of the area's centre above the plane of reference (DECISIONS C4).
    Source: Part I-A, 4.3.1.1.
    """
    return (1.0 + SMALL_PARTS.numbers("moment")) * lateral_area_m2 * centre_height_m


@DOCUMENT.clause("4.3.1.1", title="ice on one side", symbol="m_side", status=Status.SECONDARY, table=ICING_LOADS,
                 reads=({"surface": "side"},))  # fmt: skip
def side_ice(*, area_with_small_parts_m2: SquareMetres) -> Kilograms:
    """Mass of ice on one side above the waterline [kg] (n,). Source: Part I-A, 4.3.1.1."""
    return ICING_LOADS.numbers("side") * area_with_small_parts_m2


@DOCUMENT.clause("4.3.2.1", title="length of the damage", symbol="l_d", status=Status.MEMORY, table=DAMAGE,
                 reads=({"extent": "length forward"}, {"extent": "length elsewhere"}))  # fmt: skip
def damage_length(*, upper_waterline_length_m: Metres, centred_forward: Flag) -> Metres:
    """Longitudinal extent [m]: 4.5 % of the upper ice waterline's length, or 1.5 % of it.

    The greater where the damage is centred forward of the waterline's greatest breadth. Source: 4.3.2.1, recalled.
    """
    return np.where(
        centred_forward,
        DAMAGE.numbers("length forward") * upper_waterline_length_m,
        DAMAGE.numbers("length elsewhere") * upper_waterline_length_m,
    )


@DOCUMENT.clause("4.3.2.1", title="height of the damage", symbol="h_d", status=Status.MEMORY, table=DAMAGE,
                 reads=({"extent": "height"},))  # fmt: skip
def damage_height(*, upper_draught_m: Metres, damage_length_m: Metres) -> Metres:
    """Vertical extent [m]: 20 % of the upper ice waterline's draught, at most the length. Source: 4.3.2.1, recalled."""
    return np.minimum(DAMAGE.numbers("height") * upper_draught_m, damage_length_m)


@DOCUMENT.clause("4.3.2.1", title="highest place of the damage", symbol="z_d", status=Status.MEMORY, table=DAMAGE,
                 reads=({"extent": "highest place"},), note="from the keel up")  # fmt: skip
def damage_highest_place(*, upper_draught_m: Metres) -> Metres:
    """Height above the keel up to which the damage may lie [m]: 120 % of the draught. Source: 4.3.2.1, recalled."""
    return DAMAGE.numbers("highest place") * upper_draught_m


@DOCUMENT.clause("4.3.2.1", title="depth of the damage", symbol="t_d", status=Status.MEMORY, table=DAMAGE_DEPTH,
                 reads=({"extent": "depth"},), note="normal to the shell")  # fmt: skip
def damage_depth() -> Millimetres:
    """Depth of the damage normal to the shell [mm]. Source: 4.3.2.1, recalled."""
    return DAMAGE_DEPTH.numbers("depth")
