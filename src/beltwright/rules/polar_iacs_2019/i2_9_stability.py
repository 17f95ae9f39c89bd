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


@DOCUMENT.clause("I2.9.2", title="unsupported depth of the web", symbol="c_1", status=Status.MEMORY)
def unsupported_web_depth(*, web_height_mm: Millimetres, penetrating_height_mm: Millimetres) -> Millimetres:
    """Unsupported depth of a deep web c_1 [mm]; framing that passes through it holds part. Source: I2.9.2, recalled."""
    return web_height_mm - 0.8 * penetrating_height_mm


@DOCUMENT.clause("I2.9.2", title="least thickness of the stiffened web", symbol="t_wn,min", status=Status.MEMORY)
def stiffened_web_least(
    *, unsupported_web_depth_mm: Millimetres, web_stiffener_spacing_mm: Millimetres, yield_mpa: MPa
) -> Millimetres:
    """Least net thickness of a web with stiffeners c_2 apart [mm]. Source: UR I2.9.2, recalled.

    NaN where no spacing of stiffeners is given (NaN).
    """
    return (
        2.63e-3
        * unsupported_web_depth_mm
        * np.sqrt(yield_mpa / (5.34 + 4.0 * (unsupported_web_depth_mm / web_stiffener_spacing_mm) ** 2))
    )


@DOCUMENT.clause("I2.9.2", title="whether the web relies on its stiffeners", symbol="stiffened", status=Status.MEMORY)
def relies_on_stiffeners(
    *, web_slenderness: Ratio, web_slenderness_limit: Ratio, web_stiffener_spacing_mm: Millimetres
) -> Flag:
    """Whether I2.9.2 stands in for I2.9.1: the web is too slender for it, and stiffeners are given (not NaN)."""
    return np.asarray((web_slenderness > web_slenderness_limit) & (web_stiffener_spacing_mm > 0.0))


@DOCUMENT.clause("I2.9.1", title="slenderness of the web that is asked about", symbol="h_w/t_wn", status=Status.MEMORY,
                 note="0 where the web relies on its stiffeners: I2.9.2 judges it")  # fmt: skip
def slenderness_asked(*, relies_on_stiffeners: Flag, web_slenderness: Ratio) -> Ratio:
    """Web slenderness to compare [-]; 0 for a web that I2.9.2 judges. Source: UR I2.9.1 (text), I2.9.2, recalled."""
    return np.where(relies_on_stiffeners, 0.0, web_slenderness)


@DOCUMENT.clause("I2.9.2", title="web thickness that stiffening asks for", symbol="t_wn,req", status=Status.MEMORY,
                 note="0 where the web does not rely on stiffeners: I2.9.1 judges it")  # fmt: skip
def stiffened_web_asked(*, relies_on_stiffeners: Flag, stiffened_web_least_mm: Millimetres) -> Millimetres:
    """Net web thickness asked for by I2.9.2 [mm]; 0 for a web that I2.9.1 judges. Source: UR I2.9.2, recalled."""
    return np.where(relies_on_stiffeners, stiffened_web_least_mm, 0.0)
