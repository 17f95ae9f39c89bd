"""4.6: web frames. The factors alpha and gamma follow from the section itself: it is checked, not solved for."""

from __future__ import annotations

import numpy as np

from beltwright.core.provenance import Status
from beltwright.core.units import MN, Cm2, Cm3, Flag, Label, Metres, MNm, MNPerM, MPa, Ratio
from beltwright.rules.baltic_traficom_2021.documents import DOCUMENT
from beltwright.rules.baltic_traficom_2021.tables import WEB_SHEAR


@DOCUMENT.clause("4.6.1", title="load on a web frame", symbol="F", status=Status.TEXT)
def web_load(*, line_load_mn_per_m: MNPerM, web_frame_spacing_m: Metres, reach: Ratio) -> MN:
    """Load that a stringer passes to a web frame [MN]; f_12 = 1.8. Source: FSICR 2021, 4.6.1 (text)."""
    return 1.8 * line_load_mn_per_m * web_frame_spacing_m * reach


@DOCUMENT.clause("4.6.2", title="greatest shear force", symbol="Q", status=Status.CHOICE,
                 note="the text gives no formula; a share of 1 is an upper bound, see DECISIONS")  # fmt: skip
def web_shear_force(*, shear_share: Ratio, web_load_mn: MN) -> MN:
    """Greatest shear force under the load [MN]; the share is 1 unless it is calculated."""
    return shear_share * web_load_mn


@DOCUMENT.clause("4.6.2 Table 4-8", title="flange area over web area", symbol="A_f/A_w", status=Status.TEXT)
def flange_over_web(*, free_flange_area_cm2: Cm2, web_area_cm2: Cm2) -> Ratio:
    """Area of the free flange over the effective area of the web [-]. Source: FSICR 2021, Table 4-8 (text)."""
    return free_flange_area_cm2 / web_area_cm2


@DOCUMENT.clause("4.6.2 Table 4-8", title="column of Table 4-8 below", symbol="column below", status=Status.TEXT)
def column_below(*, flange_over_web: Ratio) -> Label:
    """Column of Table 4-8 at or below the ratio; the last interval beyond the table. FSICR 2021, Table 4-8 (text)."""
    low = np.where(
        flange_over_web < 0.2,
        "0.0",
        np.where(flange_over_web < 0.4, "0.2", np.where(flange_over_web < 0.6, "0.4", "0.6")),
    )
    middle = np.where(
        flange_over_web < 1.0,
        "0.8",
        np.where(flange_over_web < 1.2, "1.0", np.where(flange_over_web < 1.4, "1.2", "1.4")),
    )
    high = np.where(flange_over_web < 1.8, "1.6", "1.8")
    return np.where(flange_over_web < 0.8, low, np.where(flange_over_web < 1.6, middle, high))


@DOCUMENT.clause("4.6.2 Table 4-8", title="column of Table 4-8 above", symbol="column above", status=Status.TEXT)
def column_above(*, flange_over_web: Ratio) -> Label:
    """Column of Table 4-8 above the ratio; the last interval beyond the table. Source: FSICR 2021, Table 4-8 (text)."""
    low = np.where(
        flange_over_web < 0.2,
        "0.2",
        np.where(flange_over_web < 0.4, "0.4", np.where(flange_over_web < 0.6, "0.6", "0.8")),
    )
    middle = np.where(
        flange_over_web < 1.0,
        "1.0",
        np.where(flange_over_web < 1.2, "1.2", np.where(flange_over_web < 1.4, "1.4", "1.6")),
    )
    high = np.where(flange_over_web < 1.8, "1.8", "2.0")
    return np.where(flange_over_web < 0.8, low, np.where(flange_over_web < 1.6, middle, high))


@DOCUMENT.clause("4.6.2 Table 4-8", title="ratio of a column of Table 4-8", symbol="A_f/A_w", status=Status.TEXT,
                 table=WEB_SHEAR, reads=({"quantity": "A_f/A_w"},))  # fmt: skip
def column_ratio(*, area_ratio: Label) -> Ratio:
    """Flange area over web area of a column [-]. Source: FSICR 2021, Table 4-8 (text)."""
    return WEB_SHEAR.numbers(area_ratio, "A_f/A_w")


@DOCUMENT.clause("4.6.2 Table 4-8", title="shear factor in a column of Table 4-8", symbol="alpha", status=Status.TEXT,
                 table=WEB_SHEAR, reads=({"quantity": "alpha"},))  # fmt: skip
def column_alpha(*, area_ratio: Label) -> Ratio:
    """Factor alpha of a column [-]. Source: FSICR 2021, Table 4-8 (text)."""
    return WEB_SHEAR.numbers(area_ratio, "alpha")


@DOCUMENT.clause("4.6.2 Table 4-8", title="interaction factor in a column of Table 4-8", symbol="gamma",
                 status=Status.TEXT, table=WEB_SHEAR, reads=({"quantity": "gamma"},))  # fmt: skip
def column_gamma(*, area_ratio: Label) -> Ratio:
    """Factor gamma of a column [-]. Source: FSICR 2021, Table 4-8 (text)."""
    return WEB_SHEAR.numbers(area_ratio, "gamma")


@DOCUMENT.clause("4.6.2 Table 4-8", title="place between two columns", symbol="part", status=Status.CHOICE,
                 note="linear between the printed columns; the text does not say how")  # fmt: skip
def column_part(*, flange_over_web: Ratio, ratio_below: Ratio, ratio_above: Ratio) -> Ratio:
    """Part of the way from the column below to the one above [-], at most 1."""
    return np.minimum((flange_over_web - ratio_below) / (ratio_above - ratio_below), 1.0)


@DOCUMENT.clause("4.6.2 Table 4-8", title="value between two columns", symbol="interpolated", status=Status.CHOICE,
                 note="linear between the printed columns; the text does not say how")  # fmt: skip
def between_columns(*, value_below: Ratio, value_above: Ratio, part: Ratio) -> Ratio:
    """Value between two columns of Table 4-8 [-]."""
    return value_below + part * (value_above - value_below)


@DOCUMENT.clause("4.6.2", title="whether Table 4-8 covers the section", symbol="in table", status=Status.TEXT)
def web_in_table(*, flange_over_web: Ratio) -> Flag:
    """Whether the ratio of flange to web lies in Table 4-8: up to 2. Source: FSICR 2021, Table 4-8 (text)."""
    return flange_over_web <= 2.0


@DOCUMENT.clause("4.6.2", title="whether the formulas for web frames have a value", symbol="in scope",
                 status=Status.CHOICE)  # fmt: skip
def web_in_scope(*, reach_in_scope: Flag, web_in_table: Flag) -> Flag:
    """Whether the load reaches the web frame and Table 4-8 covers its section."""
    return reach_in_scope & web_in_table


@DOCUMENT.clause("4.6.2", title="shear area required of a web frame", symbol="A", status=Status.TEXT)
def web_shear_area(*, in_scope: Flag, shear_factor: Ratio, shear_force_mn: MN, yield_mpa: MPa) -> Cm2:
    """Effective shear area required of a web frame [cm2]; f_13 = 1.1; out of scope nothing suffices.

    Source: FSICR 2021, 4.6.2 (text).
    """
    return np.where(in_scope, np.sqrt(3.0) * shear_factor * 1.1 * shear_force_mn / yield_mpa * 1e4, np.inf)


@DOCUMENT.clause("4.6.2", title="bending moment of a web frame", symbol="M", status=Status.TEXT)
def web_moment(*, web_load_mn: MN, span_m: Metres) -> MNm:
    """Greatest bending moment under the load [MNm]. Source: FSICR 2021, 4.6.2 (text)."""
    return 0.193 * web_load_mn * span_m


@DOCUMENT.clause("4.6.2", title="area of the section", symbol="A_a", status=Status.TEXT)
def web_section_area(*, free_flange_area_cm2: Cm2, web_area_cm2: Cm2) -> Cm2:
    """Actual area of flange and web A_a [cm2]. Source: FSICR 2021, 4.6.2 (text)."""
    return free_flange_area_cm2 + web_area_cm2


@DOCUMENT.clause("4.6.2", title="part of the section that shear takes", symbol="gamma A", status=Status.TEXT)
def area_for_shear(*, interaction_factor: Ratio, shear_area_required_cm2: Cm2) -> Cm2:
    """Product gamma A [cm2], which stays below A_a; infinite where the required area is. FSICR 2021, 4.6.2 (text)."""
    return np.where(
        shear_area_required_cm2 < np.inf, interaction_factor * np.minimum(shear_area_required_cm2, 1e9), np.inf
    )


@DOCUMENT.clause("4.6.2", title="section modulus required of a web frame", symbol="Z", status=Status.TEXT,
                 note="where gamma A reaches A_a no modulus suffices")  # fmt: skip
def web_modulus(*, moment_mnm: MNm, yield_mpa: MPa, area_for_shear_cm2: Cm2, section_area_cm2: Cm2) -> Cm3:
    """Section modulus required of a web frame [cm3], with shear; infinite where gamma A >= A_a.

    Source: FSICR 2021, 4.6.2 (text).
    """
    taken = np.minimum(area_for_shear_cm2 / section_area_cm2, 0.999999999)
    return np.where(
        area_for_shear_cm2 < section_area_cm2,
        moment_mnm / yield_mpa * np.sqrt(1.0 / (1.0 - taken**2)) * 1e6,
        np.inf,
    )
