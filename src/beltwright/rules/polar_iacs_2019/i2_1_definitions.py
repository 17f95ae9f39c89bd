"""UR I2.1: length and displacement at the upper ice waterline (UIWL)."""

from __future__ import annotations

import numpy as np

from beltwright.core.provenance import Status
from beltwright.core.units import Kilotonnes, Metres
from beltwright.rules.polar_iacs_2019.documents import DOCUMENT
from beltwright.rules.polar_iacs_2019.tables import DISPLACEMENT_FLOORS


@DOCUMENT.clause("I2.1.2", title="ship length at the upper ice waterline", symbol="L_UI", status=Status.TEXT)
def rule_length(*, stem_to_rudder_m: Metres, waterline_extreme_length_m: Metres) -> Metres:
    """Length L_UI [m]: stem to rudder post or stock, not less than 0.96 and at most 0.97 of the extreme length.

    Source: UR I2 Rev.4, I2.1.2 (read in a text of the clause).
    """
    return np.minimum(
        np.maximum(stem_to_rudder_m, 0.96 * waterline_extreme_length_m), 0.97 * waterline_extreme_length_m
    )


@DOCUMENT.clause("I2.1.2", title="displacement for the bow formulas", symbol="D_UI,bow", status=Status.MEMORY,
                 table=DISPLACEMENT_FLOORS, reads=({"formulas": "bow"},))  # fmt: skip
def bow_displacement(*, displacement_upper_kt: Kilotonnes) -> Kilotonnes:
    """Displacement in the bow formulas [kt]: that at the upper ice waterline, not less than the floor (5 kt).

    Source: UR I2 Rev.4, I2.3.2.1; the floor is recalled.
    """
    return np.maximum(displacement_upper_kt, DISPLACEMENT_FLOORS.numbers("bow"))


@DOCUMENT.clause("I2.1.2", title="displacement for the formulas outside the bow", symbol="D_UI,other",
                 status=Status.MEMORY, table=DISPLACEMENT_FLOORS, reads=({"formulas": "non-bow"},))  # fmt: skip
def other_displacement(*, displacement_upper_kt: Kilotonnes) -> Kilotonnes:
    """Displacement in the formulas outside the bow [kt]: that at UIWL, not less than the floor (10 kt).

    Source: UR I2 Rev.4, I2.3.2.2; the floor is recalled.
    """
    return np.maximum(displacement_upper_kt, DISPLACEMENT_FLOORS.numbers("non-bow"))
