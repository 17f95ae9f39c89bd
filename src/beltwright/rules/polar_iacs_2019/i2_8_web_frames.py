"""UR I2.8: the pressure for which web frames and load-carrying stringers are designed."""

from __future__ import annotations

import numpy as np

from beltwright.core.provenance import Status
from beltwright.core.units import Flag, MPa, Ratio
from beltwright.rules.polar_iacs_2019.documents import DOCUMENT


@DOCUMENT.clause("I2.8", title="peak pressure factor laid on the web frame or stringer", symbol="PPF",
                 status=Status.MEMORY,
                 note="whether a member inside a grillage takes a peak factor is not confirmed; see D31")  # fmt: skip
def support_peak(*, part_of_grillage: Flag, peak_in_grillage: Flag, frame_peak_longitudinal: Ratio) -> Ratio:
    """Peak pressure factor for a web frame or load-carrying stringer [-]: 1 inside a grillage, unless asked for.

    Source: UR I2.8 and I2.17, recalled; outside a grillage it is that of UR I2 Table 3.
    """
    return np.where(part_of_grillage, np.where(peak_in_grillage, frame_peak_longitudinal, 1.0), frame_peak_longitudinal)


@DOCUMENT.clause("I2.8", title="design pressure on the web frame or stringer", symbol="p", status=Status.MEMORY)
def support_pressure(*, area_factor: Ratio, support_peak: Ratio, pressure_mpa: MPa) -> MPa:
    """Pressure on the load patch of a web frame or load-carrying stringer [MPa]. Source: UR I2.8, recalled."""
    return area_factor * support_peak * pressure_mpa
