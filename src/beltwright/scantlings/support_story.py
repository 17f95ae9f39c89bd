"""Why a web frame or stringer is asked for what it is, and how its checks come out."""

from __future__ import annotations

from typing import Any

import numpy as np
from numpy.typing import NDArray

from beltwright.core.chain import Trace
from beltwright.core.errors import InputError
from beltwright.core.outcome import NotApplicable
from beltwright.rules.protocol import About
from beltwright.scantlings.design import Design
from beltwright.scantlings.explain import Explanation, member_trace, row_named
from beltwright.scantlings.support_run import KindRun

_LINES = "ship.toml: web_frames and stringers"
_WHAT = "web frame or stringer"


def told_supports(design: Design) -> tuple[tuple[str, Explanation], ...]:
    """Return for each rule on web frames and stringers the story of one member, with its hull area.

    It is the member that comes closest to a limit of its own checks; of members without scantlings, that of which the
    rule asks for most. Nothing without members under ice load.
    """
    told = []
    for one in design.supports_run.runs if design.supports_run is not None else ():
        run, checks = one.run, one.asked.rule.checks
        if not len(run.members):
            continue
        ratios = [check.ratio(run.values) for check in checks if check.about is not About.STRESS]
        own = np.stack([np.broadcast_to(ratio, len(run.rows.member))[run.governing] for ratio in ratios], axis=1)
        ratio = np.nan_to_num(own.max(axis=1), nan=-1.0)
        asked = np.broadcast_to(run.values[one.asked.rule.result], len(run.rows.member))[run.governing]
        place = int(np.lexsort((np.nan_to_num(asked, nan=-1.0), ratio))[-1])
        member = int(run.members[place])
        told.append((str(run.table.labels("hull_area")[member]), _story(design, one, member)))
    return tuple(told)


def explain_support(design: Design, name: str) -> Explanation:
    """Return why a web frame span or stringer bay has its load, and how its checks come out.

    An unknown name is an InputError with near ones.
    """
    supports = design.supports_run
    if supports is None:
        raise InputError(_WHAT, "the rule set has no rules for web frames and stringers", value=name)
    member = row_named(supports.table.labels("id"), name, _WHAT)
    for one in supports.runs:
        if one.run.row_of(member) is not None:
            return _story(design, one, member)
    told = supports.table.row(member)
    touched = str(told["touched"])
    why = f"nothing is asked in {touched}" if touched else "it lies outside all hull areas"
    return Explanation(
        kind=str(told["kind"]), id=name, headline=f"{str(told['kind']).capitalize()} {name}: not applicable: {why}",
        place=(), trace=Trace({}), results=(), rounding=(), alternatives=(), not_applicable=NotApplicable(why),
    )  # fmt: skip


def _story(design: Design, one: KindRun, member: int) -> Explanation:
    """The story of one member under ice load."""
    rule, run = one.asked.rule, one.run
    row = run.row_of(member)
    assert row is not None
    told = run.table.row(member)
    trace = member_trace(design, rule, run, member, row, _origins(design, one, member))
    given = told["web_height_mm"] is not None
    first = rule.shown.get("pressure_mpa", rule.result)
    own = tuple(
        name for check in rule.checks if check.about is not About.STRESS for name in (check.required, check.offered)
    )
    results = (first, rule.result, *(dict.fromkeys(own) if given else ()))
    lines = tuple(
        check.told(_number(run.values[check.required], row), _number(run.values[check.offered], row))
        for check in rule.checks
        if given or check.about is not About.STABILITY
    )
    return Explanation(
        kind=str(told["kind"]),
        id=str(told["id"]),
        headline=f"{str(told['kind']).capitalize()} {told['id']}, hull area {told['hull_area']}: {told['outcome']}; "
        f"its strength is shown by {told['strength_by']}",
        place=(
            f"between {told['one_end']} and {told['other_end']}, {told['length_m']:.3f} m along the shell, "
            f"x {told['x_m']:.3f} m, z {told['z_m']:.3f} m",
            f"grillage {told['grillage']}" if told["part_of_grillage"] else "not part of a grillage",
        ),
        trace=trace,
        results=tuple(dict.fromkeys(results)) if one.asked.direct == "" else results,
        rounding=lines,
        alternatives=(),
    )


def _number(values: NDArray[Any], row: int) -> str:
    """A number of the run, or that it is not given."""
    value = float(values[row] if len(values) > 1 else values[0])
    return "not given" if value != value else f"{value:.4g}"


def _origins(design: Design, one: KindRun, member: int) -> dict[str, str]:
    """Where the inputs of one member come from."""
    told = one.run.table.row(member)
    deduction = f"as built less {design.ship.stock.frame_corrosion_mm:g} mm (stock.frame_corrosion_mm), {_LINES}"
    beside = "hull surface and levels, along the girth"
    return {
        "load_area": f"hull areas touched: {told['touched']}",
        "factor_area": "largest factor of the areas touched",
        "web_frame_spacing_m": f"zone {told['zone']}",
        "span_m": f"hull surface, along the shell from {told['one_end']} to {told['other_end']}",
        "part_of_grillage": f"{_LINES}, else a stringer and a web frame that hold each other",
        "peak_in_grillage": "ship.toml: direct.peak_in_grillage",
        "yield_mpa": f"grade {told['grade']}",
        "plate_net_fitted_mm": "the plate beside it that asks for most, net",
        "plate_yield_mpa": "that plate's grade",
        "section_kind": _LINES,
        "web_height_mm": _LINES,
        "web_net_mm": deduction,
        "flange_breadth_mm": _LINES,
        "flange_net_mm": deduction,
        "flange_outstand_mm": "from the net web's face to the flange's edge",
        "penetrating_height_mm": _LINES,
        "web_stiffener_spacing_mm": _LINES,
        "section_modulus_cm3": f"{_LINES}, with the thinnest plate beside it over the effective breadth, as built",
        "shear_area_cm2": f"{_LINES}, the web less the framing that passes through it",
        "web_area_cm2": f"{_LINES}, the web less the framing that passes through it",
        "free_flange_area_cm2": _LINES,
        "in_belt": "hull areas on the shell",
        "belt_distance_m": beside,
        "stringer_distance_m": beside,
        "member": "no deck strip at a very long hatch",
        "shear_share": "an upper bound",
        "agreed_boundary": "none",
    }
