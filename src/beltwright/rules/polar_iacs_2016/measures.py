"""What Rev.3 of UR I2 measures from elsewhere: the length, and distances from the forward perpendicular (FP)."""

from __future__ import annotations

import numpy as np

from beltwright.core.provenance import Status
from beltwright.core.units import Flag, Metres, Ratio
from beltwright.rules.polar_iacs_2016.documents import DOCUMENT


@DOCUMENT.clause("I2.2", title="length to the rudder post or stock, before its limits", symbol="L_raw",
                 status=Status.MEMORY,
                 note="UR S2: without a rudder stock 0.97 of the extreme length; see DECISIONS")  # fmt: skip
def length_before_limits(
    *, azimuthing_propulsion: Flag, stem_to_rudder_m: Metres, waterline_extreme_length_m: Metres
) -> Metres:
    """Length to the rudder post or stock [m]; a ship without one takes the extreme length, which the limit 0.97 cuts.

    Source: UR I2 Rev.3 and UR S2, recalled.
    """
    return np.where(azimuthing_propulsion, waterline_extreme_length_m, stem_to_rudder_m)


@DOCUMENT.clause("I2.2.4", title="place beyond which the bow need not reach, aft of the stem", symbol="x_limit",
                 status=Status.MEMORY, note="measured from the forward perpendicular")  # fmt: skip
def bow_limit(*, bow_limit_fraction: Ratio, rule_length_m: Metres, fp_forward_of_stem_m: Metres) -> Metres:
    """Place beyond which the bow need not reach [m aft of the fore side of the stem at UIWL].

    0.45 L counts from the forward perpendicular. Source: UR I2 Rev.3, I2.2.4, recalled.
    """
    return bow_limit_fraction * rule_length_m - fp_forward_of_stem_m


@DOCUMENT.clause("I2.3.2.1(iii)", title="distance aft of the forward perpendicular", symbol="x", status=Status.MEMORY)
def aft_of_fp(*, aft_of_stem_m: Metres, fp_forward_of_stem_m: Metres) -> Metres:
    """Distance of a station from the forward perpendicular [m], as the shape factor reads it.

    Source: UR I2 Rev.3, I2.3.2.1(iii), recalled.
    """
    return aft_of_stem_m + fp_forward_of_stem_m
