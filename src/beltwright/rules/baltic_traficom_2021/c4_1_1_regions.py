"""4.1.1 and the extents of Tables 4-5 and 4-6: regions, ice belt, extra areas, strengthening of the framing.

Places are distances aft of the fore side of the stem at the upper ice waterline [m]. The ends of the parallel side
differ from waterline to waterline: those columns have a row for each waterline, and so have the borders.
"""

from __future__ import annotations

import numpy as np

from beltwright.core.provenance import Status
from beltwright.core.units import Flag, Knots, Label, Metres
from beltwright.rules.baltic_traficom_2021.documents import DOCUMENT
from beltwright.rules.baltic_traficom_2021.tables import BELT, FORE_FOOT, FRAMING_EXTENT, OVERLAP, UPPER_BELT


@DOCUMENT.clause("4.1.1", title="greatest overlap", symbol="overlap limit", status=Status.TEXT, table=OVERLAP)
def overlap_limit(*, ice_class: Label) -> Metres:
    """What the overlap need not exceed [m]: 6 m or 5 m by class. Source: FSICR 2021, 4.1.1 (text)."""
    return OVERLAP.numbers(ice_class)


@DOCUMENT.clause("4.1.1", title="overlap over the ends of the parallel side", symbol="overlap", status=Status.TEXT)
def overlap(*, class_rule_length_m: Metres, overlap_limit_m: Metres) -> Metres:
    """Distance of the regions' borders aft of the ends of the parallel side [m]: 0.04 L, at most the limit.

    L is the rule length of the classification society. Source: FSICR 2021, 4.1.1 (text).
    """
    return np.minimum(0.04 * class_rule_length_m, overlap_limit_m)


@DOCUMENT.clause("4.1.1", title="aft border of the bow region", symbol="x_Bow", status=Status.TEXT)
def bow_aft_border(*, side_start_aft_of_stem_m: Metres, overlap_m: Metres) -> Metres:
    """Aft border of the bow region at each waterline [m aft of the stem]. Source: FSICR 2021, 4.1.1 (text)."""
    return side_start_aft_of_stem_m + overlap_m


@DOCUMENT.clause("4.1.1", title="aft border of the midbody region", symbol="x_Mid", status=Status.TEXT)
def midbody_aft_border(*, side_end_aft_of_stem_m: Metres, overlap_m: Metres) -> Metres:
    """Aft border of the midbody region at each waterline [m aft of the stem]. Source: FSICR 2021, 4.1.1 (text)."""
    return side_end_aft_of_stem_m + overlap_m


@DOCUMENT.clause("4.3.1 Table 4-5", title="top of the ice belt above UIWL", symbol="belt top", status=Status.TEXT,
                 table=BELT, reads=({"edge": "above"},))  # fmt: skip
def belt_top(*, ice_class: Label, region: Label) -> Metres:
    """Height of the upper edge of the ice belt above UIWL [m]. Source: FSICR 2021, Table 4-5 (text)."""
    return BELT.numbers(ice_class, region, "above")


@DOCUMENT.clause("4.3.1 Table 4-5", title="bottom of the ice belt below LIWL", symbol="belt bottom",
                 status=Status.TEXT, table=BELT, reads=({"edge": "below"},))  # fmt: skip
def belt_bottom(*, ice_class: Label, region: Label) -> Metres:
    """Depth of the lower edge of the ice belt below LIWL [m]. Source: FSICR 2021, Table 4-5 (text)."""
    return BELT.numbers(ice_class, region, "below")


@DOCUMENT.clause("4.3.1", title="whether the fore foot is strengthened", symbol="fore foot", status=Status.TEXT,
                 table=FORE_FOOT)  # fmt: skip
def fore_foot_word(*, ice_class: Label) -> Label:
    """Whether the class strengthens the fore foot: yes or no. Source: FSICR 2021, 4.3.1 (text)."""
    return FORE_FOOT.words(ice_class)


@DOCUMENT.clause("4.3.1", title="aft end of the fore foot", symbol="x_foot", status=Status.TEXT)
def fore_foot_aft(*, keel_departure_aft_of_stem_m: Metres, main_frame_spacing_m: Metres) -> Metres:
    """Aft end of the fore foot [m aft of the stem]: five main frame spaces abaft the bow profile leaving the keel line.

    Source: FSICR 2021, 4.3.1 (text).
    """
    return keel_departure_aft_of_stem_m + 5.0 * main_frame_spacing_m


@DOCUMENT.clause("4.3.1", title="speed from which the upper bow ice belt is asked for", symbol="v_18",
                 status=Status.TEXT, table=UPPER_BELT, note="infinite where the class never asks for it")  # fmt: skip
def upper_belt_speed(*, ice_class: Label) -> Knots:
    """Open water service speed [kn] from which the upper bow ice belt is asked for. FSICR 2021, 4.3.1 (text)."""
    return UPPER_BELT.numbers(ice_class)


@DOCUMENT.clause("4.3.1", title="whether the upper bow ice belt is asked for", symbol="upper belt", status=Status.TEXT)
def upper_belt_asked(*, service_speed_kn: Knots, upper_belt_speed_kn: Knots) -> Flag:
    """Whether the upper bow ice belt is asked for. Source: FSICR 2021, 4.3.1 (text)."""
    return service_speed_kn >= upper_belt_speed_kn


@DOCUMENT.clause("4.3.1", title="aft end of the upper bow ice belt", symbol="x_upper", status=Status.TEXT,
                 note="at least 0.2 L abaft the forward perpendicular; taken at 0.2 L")  # fmt: skip
def upper_belt_aft(*, fore_perpendicular_aft_of_stem_m: Metres, class_rule_length_m: Metres) -> Metres:
    """Aft end of the upper bow ice belt [m aft of the stem]. Source: FSICR 2021, 4.3.1 (text)."""
    return fore_perpendicular_aft_of_stem_m + 0.2 * class_rule_length_m


@DOCUMENT.clause("4.3.1", title="top of the upper bow ice belt above UIWL", symbol="upper top", status=Status.TEXT)
def upper_belt_top(*, belt_top_bow_m: Metres) -> Metres:
    """Height of the top of the upper bow ice belt above UIWL [m]: 2 m above the ice belt. FSICR 2021, 4.3.1 (text)."""
    return belt_top_bow_m + 2.0


@DOCUMENT.clause("4.4.1 Table 4-6", title="top of the strengthened framing above UIWL", symbol="framing top",
                 status=Status.TEXT, table=FRAMING_EXTENT, reads=({"edge": "above"},))  # fmt: skip
def framing_top(*, ice_class: Label, region: Label) -> Metres:
    """Height above UIWL up to which framing is strengthened [m]. Source: FSICR 2021, Table 4-6 (text)."""
    return FRAMING_EXTENT.numbers(ice_class, region, "above")


@DOCUMENT.clause("4.4.1 Table 4-6", title="bottom of the strengthened framing below LIWL", symbol="framing bottom",
                 status=Status.TEXT, table=FRAMING_EXTENT, reads=({"edge": "below"},),
                 note="infinite: down to the tank top or below the top of floors")  # fmt: skip
def framing_bottom(*, ice_class: Label, region: Label) -> Metres:
    """Depth below LIWL down to which framing is strengthened [m]. Source: FSICR 2021, Table 4-6 (text)."""
    return FRAMING_EXTENT.numbers(ice_class, region, "below")
