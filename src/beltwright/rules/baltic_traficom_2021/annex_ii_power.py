"""Annex II: the engine output of IB and IC ships whose keel was laid before 1 September 2003."""

from __future__ import annotations

import numpy as np

from beltwright.core.provenance import Status
from beltwright.core.units import Degrees, Flag, Kilowatts, Label, Metres, Ratio, Tonnes
from beltwright.rules.baltic_traficom_2021.documents import DOCUMENT
from beltwright.rules.baltic_traficom_2021.tables import ANNEX_POWERS, ANNEX_PROPELLERS


@DOCUMENT.clause("Annex II", title="factor for the propeller, Annex II", symbol="f_1", status=Status.TEXT,
                 table=ANNEX_PROPELLERS)  # fmt: skip
def annex_propeller_factor(*, drive: Label) -> Ratio:
    """Factor f_1 [-]: 1.0 fixed, 0.9 controllable pitch. Source: FSICR 2021, Annex II (text)."""
    return ANNEX_PROPELLERS.numbers(drive)


@DOCUMENT.clause("Annex II", title="factor for the stem, Annex II", symbol="f_2", status=Status.TEXT)
def annex_stem_factor(*, bulbous_bow: Flag, stem_rake_deg: Degrees) -> Ratio:
    """Factor f_2 [-] of the stem's rake [deg], at most 1.1, which a bulb takes. Source: FSICR 2021, Annex II (text)."""
    return np.where(bulbous_bow, 1.1, np.minimum(stem_rake_deg / 200.0 + 0.675, 1.1))


@DOCUMENT.clause("Annex II", title="product of f_1 and f_2", symbol="f_1 f_2", status=Status.TEXT)
def annex_shape_product(*, annex_propeller_factor: Ratio, annex_stem_factor: Ratio) -> Ratio:
    """Product f_1 f_2 [-], not less than 0.85. Source: FSICR 2021, Annex II (text)."""
    return np.maximum(annex_propeller_factor * annex_stem_factor, 0.85)


@DOCUMENT.clause("Annex II", title="displacement in Annex II", symbol="Delta", status=Status.TEXT)
def annex_displacement(*, displacement_upper_t: Tonnes) -> Tonnes:
    """Displacement [t]; it need not be taken above 80 000 t. Source: FSICR 2021, Annex II (text)."""
    return np.minimum(displacement_upper_t, 80000.0)


@DOCUMENT.clause("Annex II", title="factor for the breadth, Annex II", symbol="f_3", status=Status.TEXT)
def annex_breadth_factor(*, breadth_m: Metres, annex_displacement_t: Tonnes) -> Ratio:
    """Factor f_3 [-] of breadth [m] and displacement [t], not less than 1. Source: FSICR 2021, Annex II (text)."""
    return np.maximum(1.2 * breadth_m / annex_displacement_t ** (1.0 / 3.0), 1.0)


@DOCUMENT.clause("Annex II", title="half of the table of Annex II", symbol="half", status=Status.TEXT)
def annex_half(*, annex_displacement_t: Tonnes) -> Label:
    """Which half of the table applies. Source: FSICR 2021, Annex II (text)."""
    return np.where(annex_displacement_t < 30000.0, "below 30000", "from 30000")


@DOCUMENT.clause("Annex II", title="factor for the displacement, Annex II", symbol="f_4", status=Status.TEXT,
                 table=ANNEX_POWERS, reads=({"factor": "f4"},))  # fmt: skip
def annex_displacement_factor(*, ice_class: Label, displacement: Label) -> Ratio:
    """Factor f_4 [kW/t]. Source: FSICR 2021, Annex II (text)."""
    return ANNEX_POWERS.numbers(ice_class, displacement, "f4")


@DOCUMENT.clause("Annex II", title="fixed part of the output, Annex II", symbol="P_0", status=Status.TEXT,
                 table=ANNEX_POWERS, reads=({"factor": "P0"},))  # fmt: skip
def annex_fixed_power(*, ice_class: Label, displacement: Label) -> Kilowatts:
    """Power P_0 [kW]. Source: FSICR 2021, Annex II (text)."""
    return ANNEX_POWERS.numbers(ice_class, displacement, "P0")


@DOCUMENT.clause("Annex II", title="engine output required, Annex II", symbol="P", status=Status.TEXT)
def annex_power_required(
    *,
    annex_shape_product: Ratio,
    annex_breadth_factor: Ratio,
    annex_displacement_factor: Ratio,
    annex_displacement_t: Tonnes,
    annex_fixed_power_kw: Kilowatts,
) -> Kilowatts:
    """Engine output required of an existing IB or IC ship [kW], at least 740 kW. FSICR 2021, Annex II (text)."""
    return np.maximum(
        annex_shape_product
        * annex_breadth_factor
        * (annex_displacement_factor * annex_displacement_t + annex_fixed_power_kw),
        740.0,
    )
