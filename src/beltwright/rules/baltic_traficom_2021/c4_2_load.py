"""4.2: height of the load, pressure and loaded length. The pressure differs from member to member."""

from __future__ import annotations

import numpy as np

from beltwright.core.provenance import Status
from beltwright.core.units import Flag, Kilowatts, Label, Metres, MNPerM, MPa, Ratio, Tonnes
from beltwright.rules.baltic_traficom_2021.documents import DOCUMENT
from beltwright.rules.baltic_traficom_2021.tables import (
    ICE,
    LEAST_LINE_LOAD,
    LOADED_LENGTH,
    REGION_FACTORS,
    SIZE_FACTORS,
)


@DOCUMENT.clause("4.2.1 Table 4-1", title="height of the ice load", symbol="h", status=Status.TEXT, table=ICE,
                 reads=({"quantity": "load height"},))  # fmt: skip
def load_height(*, ice_class: Label) -> Metres:
    """Height of the area under ice pressure [m]. Source: FSICR 2021, Table 4-1 (text)."""
    return ICE.numbers(ice_class, "load height")


@DOCUMENT.clause("4.2.2", title="size and power of the ship", symbol="k", status=Status.TEXT)
def size_and_power(*, displacement_upper_t: Tonnes, engine_power_kw: Kilowatts) -> Ratio:
    """Number k of displacement [t] and actual engine output [kW]. Source: FSICR 2021, 4.2.2 (text)."""
    return np.sqrt(displacement_upper_t * engine_power_kw) / 1000.0


@DOCUMENT.clause("4.2.2 Table 4-2", title="half of Table 4-2", symbol="half", status=Status.TEXT)
def k_range(*, size_and_power: Ratio) -> Label:
    """Which half of Table 4-2 applies. Source: FSICR 2021, Table 4-2 (text)."""
    return np.where(size_and_power <= 12.0, "k <= 12", "k > 12")


@DOCUMENT.clause("4.2.2 Table 4-2", title="slope of the size factor", symbol="a", status=Status.TEXT,
                 table=SIZE_FACTORS, reads=({"factor": "a"},))  # fmt: skip
def size_slope(*, region: Label, k_range: Label) -> Ratio:
    """Factor a of the size factor [-]. Source: FSICR 2021, Table 4-2 (text)."""
    return SIZE_FACTORS.numbers(region, k_range, "a")


@DOCUMENT.clause("4.2.2 Table 4-2", title="offset of the size factor", symbol="b", status=Status.TEXT,
                 table=SIZE_FACTORS, reads=({"factor": "b"},))  # fmt: skip
def size_offset(*, region: Label, k_range: Label) -> Ratio:
    """Factor b of the size factor [-]. Source: FSICR 2021, Table 4-2 (text)."""
    return SIZE_FACTORS.numbers(region, k_range, "b")


@DOCUMENT.clause("4.2.2", title="factor for size and power of the ship", symbol="c_d", status=Status.TEXT)
def size_factor(*, size_slope: Ratio, size_and_power: Ratio, size_offset: Ratio) -> Ratio:
    """Factor c_d [-], at most 1. Source: FSICR 2021, 4.2.2 (text)."""
    return np.minimum((size_slope * size_and_power + size_offset) / 1000.0, 1.0)


@DOCUMENT.clause("4.1.1", title="region of the plating", symbol="region", status=Status.TEXT,
                 note="the upper bow ice belt counts as midbody, the fore foot as bow (4.3.1)")  # fmt: skip
def plating_region(*, load_area: Label) -> Label:
    """Region whose pressure acts on plating of a hull area. Source: FSICR 2021, 4.1.1 and 4.3.1 (text).

    A word that is no hull area stays as it is, and the look-up that follows refuses it.
    """
    bow = (load_area == "B") | (load_area == "BA") | (load_area == "BL") | (load_area == "FF") | (load_area == "FK")
    midbody = (load_area == "M") | (load_area == "MA") | (load_area == "ML") | (load_area == "UB")
    stern = (load_area == "S") | (load_area == "SA") | (load_area == "SL")
    return np.where(bow, "Bow", np.where(midbody, "Midbody", np.where(stern, "Stern", load_area)))


@DOCUMENT.clause("4.1.1", title="region of the framing", symbol="region", status=Status.CHOICE,
                 note="framing in the upper bow ice belt takes the pressure of the bow; see DECISIONS")  # fmt: skip
def framing_region(*, load_area: Label, plating_region: Label) -> Label:
    """Region whose pressure acts on frames, stringers and web frames of a hull area."""
    return np.where(load_area == "UB", "Bow", plating_region)


@DOCUMENT.clause("4.2.2", title="factor for size and power in the region", symbol="c_d", status=Status.TEXT)
def member_size_factor(*, region: Label, bow_size_factor: Ratio, other_size_factor: Ratio) -> Ratio:
    """Factor c_d of the member's region [-]. Source: FSICR 2021, 4.2.2 (text)."""
    return np.where(region == "Bow", bow_size_factor, other_size_factor)


@DOCUMENT.clause("4.2.2 Table 4-3", title="factor for the region", symbol="c_p", status=Status.TEXT,
                 table=REGION_FACTORS)  # fmt: skip
def region_factor(*, ice_class: Label, region: Label) -> Ratio:
    """Factor c_p for the pressure expected in the region [-]. Source: FSICR 2021, Table 4-3 (text)."""
    return REGION_FACTORS.numbers(ice_class, region)


@DOCUMENT.clause("4.2.2 Table 4-4", title="loaded length, shell in transverse framing", symbol="l_a",
                 status=Status.TEXT, table=LOADED_LENGTH, reads=({"structure": "shell transverse"},))  # fmt: skip
def loaded_length_shell_transverse(*, spacing_m: Metres) -> Metres:
    """Loaded length of transversely framed shell [m]. Source: FSICR 2021, Table 4-4 (text)."""
    return LOADED_LENGTH.numbers("shell transverse") * spacing_m


@DOCUMENT.clause("4.2.2 Table 4-4", title="loaded length, shell in longitudinal framing", symbol="l_a",
                 status=Status.TEXT, table=LOADED_LENGTH, reads=({"structure": "shell longitudinal"},))  # fmt: skip
def loaded_length_shell_longitudinal(*, spacing_m: Metres) -> Metres:
    """Loaded length of longitudinally framed shell [m]. Source: FSICR 2021, Table 4-4 (text)."""
    return LOADED_LENGTH.numbers("shell longitudinal") * spacing_m


@DOCUMENT.clause("4.2.2 Table 4-4", title="loaded length, transverse frames", symbol="l_a",
                 status=Status.TEXT, table=LOADED_LENGTH, reads=({"structure": "transverse frame"},))  # fmt: skip
def loaded_length_transverse_frame(*, spacing_m: Metres) -> Metres:
    """Loaded length of transverse frames [m]. Source: FSICR 2021, Table 4-4 (text)."""
    return LOADED_LENGTH.numbers("transverse frame") * spacing_m


@DOCUMENT.clause("4.2.2 Table 4-4", title="loaded length, longitudinal frames", symbol="l_a",
                 status=Status.TEXT, table=LOADED_LENGTH, reads=({"structure": "longitudinal frame"},))  # fmt: skip
def loaded_length_longitudinal_frame(*, span_m: Metres) -> Metres:
    """Loaded length of longitudinal frames [m]. Source: FSICR 2021, Table 4-4 (text)."""
    return LOADED_LENGTH.numbers("longitudinal frame") * span_m


@DOCUMENT.clause("4.2.2 Table 4-4", title="loaded length, ice stringers", symbol="l_a",
                 status=Status.TEXT, table=LOADED_LENGTH, reads=({"structure": "ice stringer"},))  # fmt: skip
def loaded_length_stringer(*, span_m: Metres) -> Metres:
    """Loaded length of ice stringers [m]. Source: FSICR 2021, Table 4-4 (text)."""
    return LOADED_LENGTH.numbers("ice stringer") * span_m


@DOCUMENT.clause("4.2.2 Table 4-4", title="loaded length, web frames", symbol="l_a",
                 status=Status.TEXT, table=LOADED_LENGTH, reads=({"structure": "web frame"},))  # fmt: skip
def loaded_length_web_frame(*, web_frame_spacing_m: Metres) -> Metres:
    """Loaded length of web frames [m]. Source: FSICR 2021, Table 4-4 (text)."""
    return LOADED_LENGTH.numbers("web frame") * web_frame_spacing_m


@DOCUMENT.clause("4.2.2", title="factor for the loaded length", symbol="c_a", status=Status.TEXT)
def length_factor(*, loaded_length_m: Metres) -> Ratio:
    """Factor c_a for the probability that the full length is loaded [-], within 0.35 and 1; l_0 = 0.6 m.

    Source: FSICR 2021, 4.2.2 (text).
    """
    return np.maximum(np.minimum(np.sqrt(0.6 / loaded_length_m), 1.0), 0.35)


@DOCUMENT.clause("4.2.2", title="ice pressure", symbol="p", status=Status.TEXT)
def pressure(*, size_factor: Ratio, region_factor: Ratio, length_factor: Ratio) -> MPa:
    """Design ice pressure [MPa]; the nominal pressure p_0 is 5.6 MPa. Source: FSICR 2021, 4.2.2 (text)."""
    return size_factor * region_factor * length_factor * 5.6


@DOCUMENT.clause("4.5", title="least product of pressure and load height", symbol="p h_min", status=Status.TEXT,
                 table=LEAST_LINE_LOAD)  # fmt: skip
def least_line_load(*, member: Label) -> MNPerM:
    """Least product of pressure and load height [MN/m] for stringers and web frames. FSICR 2021, 4.5, 4.6 (text)."""
    return LEAST_LINE_LOAD.numbers(member)


@DOCUMENT.clause("4.5", title="product of pressure and load height", symbol="p h", status=Status.TEXT)
def line_load(*, pressure_mpa: MPa, load_height_m: Metres, least_line_load_mn_per_m: MNPerM) -> MNPerM:
    """Product of pressure and load height [MN/m], not below its least. Source: FSICR 2021, 4.5 and 4.6 (text)."""
    return np.maximum(pressure_mpa * load_height_m, least_line_load_mn_per_m)


@DOCUMENT.clause("4.5.2", title="part of the load that reaches a stringer outside the ice belt", symbol="reach",
                 status=Status.TEXT)  # fmt: skip
def reach_outside_belt(*, in_belt: Flag, belt_distance_m: Metres, stringer_distance_m: Metres) -> Ratio:
    """Factor 1 - h_s/l_s [-] outside the ice belt, 1 inside. Source: FSICR 2021, 4.5.2 and 4.6.1 (text)."""
    return np.where(in_belt, 1.0, 1.0 - belt_distance_m / stringer_distance_m)


@DOCUMENT.clause("4.5.2", title="whether the formula outside the ice belt has a value", symbol="in scope",
                 status=Status.CHOICE, note="the belt is nearer than the next stringer")  # fmt: skip
def reach_in_scope(*, in_belt: Flag, belt_distance_m: Metres, stringer_distance_m: Metres) -> Flag:
    """Whether some of the load reaches the member: inside the belt, or nearer to it than to the next stringer."""
    return in_belt | (belt_distance_m < stringer_distance_m)
