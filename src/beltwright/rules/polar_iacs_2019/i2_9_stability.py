"""UR I2.9: slenderness of frames, on net dimensions. Each limit is a pair: what the section has, what it may have."""

from __future__ import annotations

import numpy as np

from beltwright.core.provenance import Status
from beltwright.core.units import Flag, Label, Millimetres, MPa, Ratio
from beltwright.rules.polar_iacs_2019.documents import DOCUMENT


@DOCUMENT.clause("I2.9.1", title="slenderness of the web", symbol="h_w/t_wn", status=Status.TEXT)
def web_slenderness(*, web_height_mm: Millimetres, web_net_mm: Millimetres) -> Ratio:
    """Web height over net web thickness [-]. Source: UR I2.9.1 (text)."""
    return web_height_mm / web_net_mm


@DOCUMENT.clause("I2.9.1", title="greatest slenderness of the web", symbol="(h_w/t_wn)_max", status=Status.TEXT)
def web_slenderness_limit(*, section_kind: Label, yield_mpa: MPa) -> Ratio:
    """Greatest web slenderness [-]: 282 for flat bars, 805 for bulb, tee and angle. Source: UR I2.9.1 (text)."""
    return np.where(section_kind == "flat", 282.0 / np.sqrt(yield_mpa), 805.0 / np.sqrt(yield_mpa))


@DOCUMENT.clause("I2.9.3", title="least web thickness beside the shell plate", symbol="t_wn,min", status=Status.TEXT)
def web_thickness_least(*, plate_net_fitted_mm: Millimetres, plate_yield_mpa: MPa) -> Millimetres:
    """Least net web thickness [mm] from the net shell plate and its yield stress. Source: UR I2.9.3 (text)."""
    return 0.35 * plate_net_fitted_mm * np.sqrt(plate_yield_mpa / 235.0)


@DOCUMENT.clause("I2.9.4", title="whether the section has a flange to be checked", symbol="flange", status=Status.TEXT)
def has_flange(*, section_kind: Label) -> Flag:
    """Whether the flange limits apply: angles and tees. Source: UR I2.9.4 (text)."""
    return np.asarray((section_kind == "angle") | (section_kind == "tee"))


@DOCUMENT.clause("I2.9.4", title="least flange breadth", symbol="b_f,min", status=Status.TEXT,
                 note="0 for a section without flange")  # fmt: skip
def flange_breadth_least(*, has_flange: Flag, web_net_mm: Millimetres) -> Millimetres:
    """Least flange breadth [mm], five times the net web thickness. Source: UR I2.9.4 (text)."""
    return np.where(has_flange, 5.0 * web_net_mm, 0.0)


@DOCUMENT.clause("I2.9.4", title="flange breadth offered", symbol="b_f", status=Status.TEXT,
                 note="without a flange the web thickness stands in; nothing is asked of it")  # fmt: skip
def flange_breadth_offered(*, has_flange: Flag, flange_breadth_mm: Millimetres, web_net_mm: Millimetres) -> Millimetres:
    """Flange breadth to compare [mm]; a section without flange shows its web thickness against nothing asked."""
    return np.where(has_flange, flange_breadth_mm, web_net_mm)


@DOCUMENT.clause("I2.9.4", title="flange outstand", symbol="b_out", status=Status.TEXT,
                 note="0 for a section without flange")  # fmt: skip
def outstand_asked(*, has_flange: Flag, flange_outstand_mm: Millimetres) -> Millimetres:
    """Flange outstand to compare [mm]; 0 for a section without flange. Source: UR I2.9.4 (text)."""
    return np.where(has_flange, flange_outstand_mm, 0.0)


@DOCUMENT.clause("I2.9.4", title="greatest flange outstand", symbol="b_out,max", status=Status.TEXT,
                 note="without a flange the web thickness stands in; nothing is asked of it")  # fmt: skip
def outstand_most(
    *, has_flange: Flag, flange_net_mm: Millimetres, web_net_mm: Millimetres, yield_mpa: MPa
) -> Millimetres:
    """Greatest flange outstand [mm]: b_out/t_fn at most 155 over the root of the yield. Source: UR I2.9.4 (text)."""
    return np.where(has_flange, flange_net_mm, web_net_mm) * 155.0 / np.sqrt(yield_mpa)
