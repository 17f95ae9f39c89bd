"""UR I2.2 and Figure 1: where the borders between the hull areas lie.

Places are distances aft of the fore side of the stem at the upper ice waterline [m].
"""

from __future__ import annotations

import numpy as np

from beltwright.core.provenance import Status
from beltwright.core.units import Degrees, Flag, Label, Metres, Ratio
from beltwright.rules.polar_iacs_2019.documents import DOCUMENT
from beltwright.rules.polar_iacs_2019.tables import ANGLES, FRACTIONS, HEIGHTS


@DOCUMENT.clause("I2.2 Figure 1", title="waterline angle at the aft border of the bow", symbol="alpha_B",
                 status=Status.MEMORY, table=ANGLES, reads=({"angle": "bow waterline"},))  # fmt: skip
def bow_border_angle(*, ice_class: Label) -> Degrees:
    """Waterline angle [deg] at which the bow ends. Source: UR I2 Figure 1, recalled."""
    return ANGLES.numbers(ice_class, "bow waterline")


@DOCUMENT.clause("I2.2.4", title="part of the length beyond which the bow need not reach", symbol="bow limit",
                 status=Status.MEMORY, table=FRACTIONS, reads=({"place": "bow limit"},))  # fmt: skip
def bow_limit_fraction(*, ice_class: Label) -> Ratio:
    """Part of L_UI aft of the stem beyond which the bow need not reach [-]. Source: UR I2.2.4, recalled."""
    return FRACTIONS.numbers(ice_class, "bow limit")


@DOCUMENT.clause("I2.2.4", title="place beyond which the bow need not reach, aft of the stem", symbol="x_limit",
                 status=Status.MEMORY)  # fmt: skip
def bow_limit(*, bow_limit_fraction: Ratio, rule_length_m: Metres) -> Metres:
    """Place beyond which the bow need not reach [m aft of the fore side of the stem at UIWL].

    Source: UR I2.2.4, recalled.
    """
    return bow_limit_fraction * rule_length_m


@DOCUMENT.clause("I2.2.4", title="aft border of the bow", symbol="x_B", status=Status.MEMORY,
                 note="with I2.2.3: never forward of the intersection of the stem line with the baseline")  # fmt: skip
def bow_aft_border(
    *,
    alpha_ten_aft_of_stem_m: Metres,
    bow_limit_m: Metres,
    stem_baseline_aft_of_stem_m: Metres,
) -> Metres:
    """Aft border of the bow [m aft of the stem]: where the waterline angle is 10 degrees, within two limits.

    It need not lie further aft than 0.45 L_UI (I2.2.4) and never lies forward of the stem line's intersection with the
    baseline (I2.2.3), which wins. Source: UR I2.2.3, I2.2.4 and Figure 1, recalled.
    """
    return np.maximum(np.minimum(alpha_ten_aft_of_stem_m, bow_limit_m), stem_baseline_aft_of_stem_m)


@DOCUMENT.clause("I2.2 Figure 1", title="part of the length between entrance and midbody",
                 symbol="overlap", status=Status.MEMORY, table=FRACTIONS,
                 reads=({"place": "bow intermediate overlap"},))  # fmt: skip
def intermediate_fraction(*, ice_class: Label) -> Ratio:
    """Part of L_UI between the end of the entrance and the midbody [-]. Source: UR I2 Figure 1, recalled, doubtful."""
    return FRACTIONS.numbers(ice_class, "bow intermediate overlap")


@DOCUMENT.clause("I2.2 Figure 1", title="aft border of the bow intermediate region", symbol="x_BI",
                 status=Status.MEMORY)  # fmt: skip
def intermediate_aft_border(
    *,
    parallel_start_aft_of_stem_m: Metres,
    intermediate_fraction: Ratio,
    rule_length_m: Metres,
    bow_aft_m: Metres,
) -> Metres:
    """Aft border of the bow intermediate region [m aft of the stem], not forward of the bow's own aft border.

    Source: UR I2 Figure 1, recalled.
    """
    return np.maximum(parallel_start_aft_of_stem_m + intermediate_fraction * rule_length_m, bow_aft_m)


@DOCUMENT.clause("I2.2 Figure 1", title="part of the run that counts as stern", symbol="stern by breadth",
                 status=Status.MEMORY, table=FRACTIONS, reads=({"place": "stern by breadth"},))  # fmt: skip
def stern_breadth_fraction(*, ice_class: Label) -> Ratio:
    """Part of the distance from AP to the aft end of the greatest breadth [-]. Source: UR I2 Figure 1, recalled."""
    return FRACTIONS.numbers(ice_class, "stern by breadth")


@DOCUMENT.clause("I2.2 Figure 1", title="part of the length that counts as stern", symbol="stern by length",
                 status=Status.MEMORY, table=FRACTIONS, reads=({"place": "stern by length"},))  # fmt: skip
def stern_length_fraction(*, ice_class: Label) -> Ratio:
    """Least length of the stern region as a part of L_UI [-]. Source: UR I2 Figure 1, recalled."""
    return FRACTIONS.numbers(ice_class, "stern by length")


@DOCUMENT.clause("I2.2.7", title="part of the length by which an icebreaker's stern overlaps the parallel side",
                 symbol="stern of an icebreaker", status=Status.MEMORY, table=FRACTIONS,
                 reads=({"place": "stern of an icebreaker"},))  # fmt: skip
def icebreaker_stern_fraction(*, ice_class: Label) -> Ratio:
    """Part of L_UI forward of the end of the parallel side where an icebreaker's stern begins [-]. Recalled."""
    return FRACTIONS.numbers(ice_class, "stern of an icebreaker")


@DOCUMENT.clause("I2.2.7", title="length of the stern region, from the aft perpendicular", symbol="x_S,AP",
                 status=Status.MEMORY)  # fmt: skip
def stern_length(
    *,
    icebreaker: Flag,
    stern_breadth_fraction: Ratio,
    parallel_end_forward_of_ap_m: Metres,
    stern_length_fraction: Ratio,
    icebreaker_stern_fraction: Ratio,
    rule_length_m: Metres,
) -> Metres:
    """Distance from the aft perpendicular to the stern region's forward border [m].

    The larger of 0.7 b and 0.15 L_UI; with the notation Icebreaker also at least 0.04 L_UI forward of the end of the
    parallel side. Source: UR I2 Figure 1 and I2.2.7, recalled.
    """
    general = np.maximum(stern_breadth_fraction * parallel_end_forward_of_ap_m, stern_length_fraction * rule_length_m)
    notation = parallel_end_forward_of_ap_m + icebreaker_stern_fraction * rule_length_m
    return np.where(icebreaker, np.maximum(general, notation), general)


@DOCUMENT.clause("I2.2 Figure 1", title="forward border of the stern region", symbol="x_S", status=Status.MEMORY)
def stern_forward_border(*, stem_to_ap_m: Metres, stern_length_m: Metres, intermediate_aft_m: Metres) -> Metres:
    """Forward border of the stern region [m aft of the stem], not forward of the bow intermediate region's aft border.

    Source: UR I2 Figure 1, recalled.
    """
    return np.maximum(stem_to_ap_m - stern_length_m, intermediate_aft_m)


@DOCUMENT.clause("I2.2.6", title="forward border of the aft bow intermediate region", symbol="x_BI,aft",
                 status=Status.CHOICE, note="the clause does not say how far; see DECISIONS")  # fmt: skip
def astern_intermediate_border(
    *,
    operates_astern: Flag,
    stem_to_ap_m: Metres,
    parallel_end_forward_of_ap_m: Metres,
    intermediate_fraction: Ratio,
    rule_length_m: Metres,
    stern_forward_m: Metres,
    intermediate_aft_m: Metres,
) -> Metres:
    """Where the requirements of the bow intermediate region begin aft [m aft of the stem] for a ship that goes astern.

    The mirror of the forward border: 0.04 L_UI forward of the aft end of the parallel side. Without astern operation it
    is the stern's forward border, so that the region is empty. Source: UR I2.2.6 (text); extent: our choice.
    """
    mirrored = stem_to_ap_m - parallel_end_forward_of_ap_m - intermediate_fraction * rule_length_m
    return np.where(
        operates_astern, np.maximum(np.minimum(mirrored, stern_forward_m), intermediate_aft_m), stern_forward_m
    )


@DOCUMENT.clause("I2.2 Figure 1", title="height of the ice belt's top above UIWL at the stem", symbol="top at stem",
                 status=Status.MEMORY, table=HEIGHTS, reads=({"height": "belt top at stem"},))  # fmt: skip
def belt_top_at_stem(*, ice_class: Label) -> Metres:
    """Height of the bow's upper edge above UIWL at the stem [m]. Source: UR I2 Figure 1, recalled, doubtful."""
    return HEIGHTS.numbers(ice_class, "belt top at stem")


@DOCUMENT.clause("I2.2 Figure 1", title="height of the ice belt's top above UIWL", symbol="top",
                 status=Status.MEMORY, table=HEIGHTS, reads=({"height": "belt top"},))  # fmt: skip
def belt_top(*, ice_class: Label) -> Metres:
    """Height of the ice belt's upper edge above UIWL aft of the bow [m]. Source: UR I2 Figure 1, recalled."""
    return HEIGHTS.numbers(ice_class, "belt top")


@DOCUMENT.clause("I2.2 Figure 1", title="depth of the ice belt's lower edge below LIWL", symbol="bottom",
                 status=Status.MEMORY, table=HEIGHTS, reads=({"height": "belt bottom"},))  # fmt: skip
def belt_bottom(*, ice_class: Label) -> Metres:
    """Depth of the ice belt's lower edge below LIWL [m]. Source: UR I2 Figure 1, recalled, doubtful for PC5-PC7."""
    return HEIGHTS.numbers(ice_class, "belt bottom")


@DOCUMENT.clause("I2.2.5", title="inclination of the shell at the border of lower and bottom areas", symbol="7 deg",
                 status=Status.TEXT, table=ANGLES, reads=({"angle": "bottom inclination"},))  # fmt: skip
def bottom_inclination(*, ice_class: Label) -> Degrees:
    """Inclination of the shell from the horizontal below which it is bottom [deg]. Source: UR I2.2.5 (text)."""
    return ANGLES.numbers(ice_class, "bottom inclination")
