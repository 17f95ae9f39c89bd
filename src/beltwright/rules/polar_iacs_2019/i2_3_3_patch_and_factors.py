"""UR I2.3.3 to I2.3.5: the load patch and its pressure, the factors for peaks and for hull areas."""

from __future__ import annotations

import numpy as np

from beltwright.core.provenance import Status
from beltwright.core.units import MN, Flag, Label, Metres, MNPerM, MPa, Ratio
from beltwright.rules.polar_iacs_2019.documents import DOCUMENT
from beltwright.rules.polar_iacs_2019.tables import AREA_FACTORS, PEAK_PRESSURE


def _row(member: str) -> tuple[dict[str, str], ...]:
    """The three cells of a row of Table 3."""
    quantities = ("at no spacing", "fall per metre of spacing", "least")
    return tuple({"member": member, "quantity": quantity} for quantity in quantities)


@DOCUMENT.clause("I2.3.3.1", title="width of the load patch in the bow", symbol="w_Bow", status=Status.MEMORY)
def bow_patch_width(*, bow_force_mn: MN, bow_line_load_mn_per_m: MNPerM) -> Metres:
    """Width of the bow load patch along the waterline [m]. Source: UR I2.3.3, recalled."""
    return bow_force_mn / bow_line_load_mn_per_m


@DOCUMENT.clause("I2.3.3.1", title="height of the load patch in the bow", symbol="b_Bow", status=Status.MEMORY)
def bow_patch_height(*, bow_line_load_mn_per_m: MNPerM, bow_greatest_pressure_mpa: MPa) -> Metres:
    """Height of the bow load patch [m]. Source: UR I2.3.3, recalled."""
    return bow_line_load_mn_per_m / bow_greatest_pressure_mpa


@DOCUMENT.clause("I2.3.3.2", title="width of the load patch outside the bow", symbol="w_NonBow", status=Status.MEMORY)
def other_patch_width(*, other_force_mn: MN, other_line_load_mn_per_m: MNPerM) -> Metres:
    """Width of the load patch outside the bow [m]. Source: UR I2.3.3, recalled."""
    return other_force_mn / other_line_load_mn_per_m


@DOCUMENT.clause("I2.3.3.2", title="height of the load patch outside the bow", symbol="b_NonBow", status=Status.MEMORY)
def other_patch_height(*, other_patch_width_m: Metres) -> Metres:
    """Height of the load patch outside the bow [m]: aspect ratio 3.6. Source: UR I2.3.1(iv) (text), I2.3.3."""
    return other_patch_width_m / 3.6


@DOCUMENT.clause("I2.3.4", title="average pressure on the load patch", symbol="P_avg", status=Status.TEXT,
                 note="told as P_avg,Bow and P_avg,NonBow, to tell it from the pressure on a member")  # fmt: skip
def average_pressure(*, force_mn: MN, patch_height_m: Metres, patch_width_m: Metres) -> MPa:
    """Average pressure on the load patch [MPa]. Source: UR I2.3.4 (text)."""
    return force_mn / (patch_height_m * patch_width_m)


@DOCUMENT.clause("I2.3.1(iii)", title="whether the bow load acts", symbol="bow load", status=Status.TEXT)
def bow_load_acts(*, ice_class: Label, load_area: Label) -> Flag:
    """Whether the bow's load acts: in the bow for every class, in the icebelt BIi for PC6 and PC7.

    Source: UR I2.3.1(iii) (text).
    """
    return np.asarray((load_area == "B") | ((load_area == "BIi") & ((ice_class == "PC6") | (ice_class == "PC7"))))


@DOCUMENT.clause("I2.3.3", title="height of the load patch that acts on the member", symbol="b", status=Status.TEXT)
def member_patch_height(*, bow_load_acts: Flag, bow_patch_height_m: Metres, other_patch_height_m: Metres) -> Metres:
    """Height of the load patch on a member [m]. Source: UR I2.3.1(iii), (iv) (text)."""
    return np.where(bow_load_acts, bow_patch_height_m, other_patch_height_m)


@DOCUMENT.clause("I2.3.3", title="width of the load patch that acts on the member", symbol="w", status=Status.TEXT)
def member_patch_width(*, bow_load_acts: Flag, bow_patch_width_m: Metres, other_patch_width_m: Metres) -> Metres:
    """Width of the load patch on a member [m]. Source: UR I2.3.1(iii), (iv) (text)."""
    return np.where(bow_load_acts, bow_patch_width_m, other_patch_width_m)


@DOCUMENT.clause("I2.3.4", title="average pressure of the load that acts on the member", symbol="P_avg",
                 status=Status.TEXT)  # fmt: skip
def member_pressure(*, bow_load_acts: Flag, bow_pressure_mpa: MPa, other_pressure_mpa: MPa) -> MPa:
    """Average pressure of the load on a member, before the area factor [MPa]. Source: UR I2.3.4 (text)."""
    return np.where(bow_load_acts, bow_pressure_mpa, other_pressure_mpa)


@DOCUMENT.clause("I2.3.5", title="hull area factor", symbol="AF", status=Status.MEMORY, table=AREA_FACTORS)
def area_factor(*, notation: Label, ice_class: Label, hull_area: Label) -> Ratio:
    """Hull area factor [-]. An area that needs no strengthening is an InputError: it takes no load.

    Source: UR I2 Table 4, or Table 5 with the notation Icebreaker, recalled.
    """
    return AREA_FACTORS.numbers(notation, ice_class, hull_area)


@DOCUMENT.clause("I2.3.4 Table 3", title="peak pressure factor, plating of transverse framing", symbol="PPF_p",
                 status=Status.MEMORY, table=PEAK_PRESSURE, reads=_row("plating transverse"))  # fmt: skip
def plating_peak_transverse(*, spacing_m: Metres) -> Ratio:
    """Peak pressure factor for transversely framed plating [-]. Source: UR I2 Table 3, recalled."""
    return np.maximum(
        PEAK_PRESSURE.numbers("plating transverse", "at no spacing")
        - PEAK_PRESSURE.numbers("plating transverse", "fall per metre of spacing") * spacing_m,
        PEAK_PRESSURE.numbers("plating transverse", "least"),
    )


@DOCUMENT.clause("I2.3.4 Table 3", title="peak pressure factor, plating of longitudinal framing", symbol="PPF_p",
                 status=Status.MEMORY, table=PEAK_PRESSURE, reads=_row("plating longitudinal"))  # fmt: skip
def plating_peak_longitudinal(*, spacing_m: Metres) -> Ratio:
    """Peak pressure factor for longitudinally framed plating [-]. Source: UR I2 Table 3, recalled."""
    return np.maximum(
        PEAK_PRESSURE.numbers("plating longitudinal", "at no spacing")
        - PEAK_PRESSURE.numbers("plating longitudinal", "fall per metre of spacing") * spacing_m,
        PEAK_PRESSURE.numbers("plating longitudinal", "least"),
    )


@DOCUMENT.clause("I2.3.4 Table 3", title="row of Table 3 for transverse frames", symbol="member", status=Status.MEMORY)
def frame_peak_row(*, bottom: Flag, load_distributing_stringer: Flag) -> Label:
    """Which row of Table 3 a transverse or bottom frame takes. Source: UR I2 Table 3, recalled."""
    return np.where(
        bottom,
        "frame in bottom",
        np.where(
            load_distributing_stringer,
            "frame with stringers",
            "frame without",
        ),
    )


@DOCUMENT.clause("I2.3.4 Table 3", title="peak pressure factor, transverse and bottom frames", symbol="PPF_t",
                 status=Status.MEMORY, table=PEAK_PRESSURE,
                 reads=tuple({"quantity": row["quantity"]} for row in _row("")))  # fmt: skip
def frame_peak_transverse(*, member: Label, spacing_m: Metres) -> Ratio:
    """Peak pressure factor for transverse frames and for frame in bottom [-].

    Source: UR I2 Table 3, recalled.
    """
    return np.maximum(
        PEAK_PRESSURE.numbers(member, "at no spacing")
        - PEAK_PRESSURE.numbers(member, "fall per metre of spacing") * spacing_m,
        PEAK_PRESSURE.numbers(member, "least"),
    )


@DOCUMENT.clause("I2.3.4 Table 3", title="peak pressure factor, side longitudinals", symbol="PPF_s",
                 status=Status.MEMORY, table=PEAK_PRESSURE, reads=(
                     {"member": "longitudinals", "quantity": "web spacing over patch width from which the least holds"},
                     {"member": "longitudinals", "quantity": "least"},
                     {"member": "longitudinals", "quantity": "at no web spacing"},
                     {"member": "longitudinals", "quantity": "fall per web spacing over patch width"},
                 ))  # fmt: skip
def frame_peak_longitudinal(*, web_frame_spacing_m: Metres, patch_width_m: Metres) -> Ratio:
    """Peak pressure factor for side longitudinals, stringers and web frames [-]. Source: UR I2 Table 3, recalled."""
    return np.where(
        web_frame_spacing_m
        >= PEAK_PRESSURE.numbers("longitudinals", "web spacing over patch width from which the least holds")
        * patch_width_m,
        PEAK_PRESSURE.numbers("longitudinals", "least"),
        PEAK_PRESSURE.numbers("longitudinals", "at no web spacing")
        - PEAK_PRESSURE.numbers("longitudinals", "fall per web spacing over patch width")
        * web_frame_spacing_m
        / patch_width_m,
    )
