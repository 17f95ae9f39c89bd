"""Why a web frame or stringer has its design pressure, and how its stability comes out."""

from __future__ import annotations

from typing import Any

import numpy as np
from numpy.typing import NDArray

from beltwright.scantlings.design import Design
from beltwright.scantlings.explain import Explanation, member_trace
from beltwright.scantlings.members import NOTHING_ASKED

_LINES = "ship.toml: web_frames and stringers"


def told_supports(design: Design) -> tuple[tuple[str, Explanation], ...]:
    """Return the story of the member that comes closest to a limit of stability, with its hull area.

    Of members without scantlings, that of the greatest force of the patch; nothing without members under ice load.
    """
    run = design.supports_run
    if run is None:
        return ()
    table = run.table
    asked = np.flatnonzero(table.labels("outcome") != NOTHING_ASKED)
    if len(asked) == 0:
        return ()
    ratio = np.nan_to_num(table["stability_ratio"].data[asked], nan=-1.0)
    member = int(asked[np.lexsort((table["patch_force_mn"].data[asked], ratio))[-1]])
    return ((str(table.labels("hull_area")[member]), _story(design, member)),)


def _story(design: Design, member: int) -> Explanation:
    """The story of one member under ice load."""
    rule, run = design.rules.supports, design.supports_run
    assert rule is not None
    assert run is not None
    row = run.row_of(member)
    assert row is not None
    told = run.table.row(member)
    trace = member_trace(design, rule, run, member, row, _origins(design, member))
    given = told["web_height_mm"] is not None
    first = rule.shown.get("pressure_mpa", rule.result)
    stability = tuple(
        name for check in rule.checks if check.required not in rule.chain.inputs
        for name in (check.required, check.offered)
    )  # fmt: skip
    results = (first, rule.result, *(dict.fromkeys(stability) if given else ()))
    lines = tuple(
        f"{check.name} ({check.ref}): {_number(run.values[check.required], row)} required, "
        f"{_number(run.values[check.offered], row)} offered"
        for check in rule.checks
        if given or check.required in rule.chain.inputs
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
        results=results,
        rounding=lines,
        alternatives=(),
    )


def _number(values: NDArray[Any], row: int) -> str:
    """A number of the run, or that it is not given."""
    value = float(values[row] if len(values) > 1 else values[0])
    return "not given" if value != value else f"{value:.4g}"


def _origins(design: Design, member: int) -> dict[str, str]:
    """Where the inputs of one member come from."""
    run = design.supports_run
    assert run is not None
    told = run.table.row(member)
    deduction = f"as built less {design.ship.stock.frame_corrosion_mm:g} mm (stock.frame_corrosion_mm), {_LINES}"
    return {
        "load_area": f"hull areas touched: {told['touched']}",
        "factor_area": "largest factor of the areas touched",
        "web_frame_spacing_m": f"zone {told['zone']}",
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
    }
