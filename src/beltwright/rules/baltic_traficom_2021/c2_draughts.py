"""Chapter 2: the ice thickness of the class and the least forward draught."""

from __future__ import annotations

import numpy as np

from beltwright.core.provenance import Status
from beltwright.core.units import Label, Metres, Tonnes
from beltwright.rules.baltic_traficom_2021.documents import DOCUMENT
from beltwright.rules.baltic_traficom_2021.tables import ICE


@DOCUMENT.clause("4.2.1 Table 4-1", title="thickness of level ice", symbol="h_i", status=Status.TEXT, table=ICE,
                 reads=({"quantity": "ice thickness"},))  # fmt: skip
def ice_thickness(*, ice_class: Label) -> Metres:
    """Thickness of the level ice of the class [m]. Source: FSICR 2021, Table 4-1 (text)."""
    return ICE.numbers(ice_class, "ice thickness")


@DOCUMENT.clause("2.2", title="least forward draught in ice", symbol="T_fwd,min", status=Status.TEXT)
def least_forward_draught(*, displacement_upper_t: Tonnes, ice_thickness_m: Metres) -> Metres:
    """Least draught at the forward perpendicular in ice [m]; it need not exceed four ice thicknesses.

    The displacement [t] is the greatest on the upper ice waterline. Source: FSICR 2021, chapter 2 (text).
    """
    return np.minimum((2.0 + 0.00025 * displacement_upper_t) * ice_thickness_m, 4.0 * ice_thickness_m)
