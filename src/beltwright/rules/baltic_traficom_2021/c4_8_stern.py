"""4.8: the stern."""

from __future__ import annotations

from beltwright.core.provenance import Status
from beltwright.core.units import Metres
from beltwright.rules.baltic_traficom_2021.documents import DOCUMENT


@DOCUMENT.clause("4.8", title="least clearance between propeller and hull", symbol="clearance", status=Status.TEXT,
                 note="the transcript prints h_0, read as h_i")  # fmt: skip
def least_propeller_clearance(*, ice_thickness_m: Metres) -> Metres:
    """Least clearance between propeller and hull or stern frame [m]. Source: FSICR 2021, 4.8 (text)."""
    return ice_thickness_m


@DOCUMENT.clause("4.8", title="reach of the strengthening at side propellers", symbol="x_prop", status=Status.TEXT,
                 note="the symbol is ours")  # fmt: skip
def side_propeller_reach(*, propeller_aft_of_stem_m: Metres) -> Metres:
    """Forward end of the strengthening down to the tank top at side propellers [m aft of the stem]: 1.5 m before.

    It ends the same distance behind. Source: FSICR 2021, 4.8 (text).
    """
    return propeller_aft_of_stem_m - 1.5
