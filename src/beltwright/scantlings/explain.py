"""Why a plate or a frame is what it is: the trace behind one member, and what would change it.

The traced run passes one row through the same chain as the table; it must give the table's number to the last bit.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from difflib import get_close_matches
from typing import Any

import numpy as np
from numpy.typing import NDArray

from beltwright.core.chain import Trace
from beltwright.core.errors import InputError
from beltwright.core.outcome import NotApplicable, at_ratio
from beltwright.materials.hull_steel import hull_steels
from beltwright.rules.protocol import MemberRule, Strengthens
from beltwright.scantlings.areas import codes_strengthening
from beltwright.scantlings.design import Design
from beltwright.scantlings.members import MemberRun
from beltwright.scantlings.plating import stock_of, under_tolerance

LESS_SPACING_M = 0.05


@dataclass(frozen=True, slots=True, kw_only=True)
class Alternative:
    """What would change the member: the change, the result before and after it, in ``unit``.

    For a plate the results are the required as-built thicknesses and ``offered`` the stock plate; for a frame they are
    the greatest ratios and ``offered`` is not a number of its own (None).
    """

    change: str
    before: float
    after: float
    unit: str
    offered: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Explanation:
    """The story of one member.

    ``headline`` says it in one sentence; ``place`` where it lies on the hull; ``trace`` holds every number down to the
    hull's surface and the user's input, ``results`` the names of those the story ends with; ``rounding`` how the
    requirement becomes a plate or section. Where nothing is asked, ``trace`` is empty and ``not_applicable`` says why.
    """

    kind: str
    id: str
    headline: str
    place: tuple[str, ...]
    trace: Trace
    results: tuple[str, ...]
    rounding: tuple[str, ...]
    alternatives: tuple[Alternative, ...]
    not_applicable: NotApplicable | None = None


def explain_panel(design: Design, name: str) -> Explanation:
    """Return why a plate panel has its thickness; an unknown name is an InputError with near ones."""
    table, run = design.plating, design.plating_run
    panel = row_named(table.labels("id"), name, "panel")
    row = run.row_of(panel)
    place = _panel_place(design, panel)
    if row is None:
        reason = _why_nothing(design, str(table.labels("touched")[panel]))
        return _nothing_asked("plate", name, place, str(table.row(panel)["source"]), reason)
    trace = member_trace(design, design.rules.plating, run, panel, row, _panel_origins(design, panel))
    told = table.row(panel)
    required, offered = float(trace[design.rules.plating.result].value), told["thickness_as_built_mm"]
    word = "" if told["outcome"] == "met" else "; the requirement is NOT met"
    return Explanation(
        kind="plate",
        id=name,
        headline=f"Plate {name} is {_mm(offered)} {told['grade']} ({told['source']}): {told['hull_area']} asks for "
        f"{required:.2f} mm as built{word}",
        place=(*place, *_story(design, told)),
        trace=trace,
        results=(design.rules.plating.result,),
        rounding=_plate_rounding(design, panel, required),
        alternatives=_plate_alternatives(design, run, panel, required),
    )


def explain_frame(design: Design, name: str) -> Explanation:
    """Return why a frame span has its section; an unknown name is an InputError with near ones."""
    table, run = design.frames, design.framing_run
    frame = row_named(table.labels("id"), name, "frame span")
    row = run.row_of(frame)
    place = _frame_place(design, frame)
    if row is None:
        role = str(design.arrangement.frames.labels("role")[frame])
        reason = _why_nothing(design, str(table.labels("touched")[frame]), role)
        return _nothing_asked("frame", name, place, str(table.row(frame)["source"]), reason)
    trace = member_trace(design, design.rules.framing, run, frame, row, _frame_origins(design, frame))
    told = table.row(frame)
    ratio = float(table["ratio"].data[frame])
    word = "met" if told["outcome"] == "met" else "NOT met"
    checks = design.rules.framing.checks
    lines = tuple(
        check.told(f"{_at(run.values[check.required], row):.4g}", f"{_at(run.values[check.offered], row):.4g}")
        for check in checks
    )
    return Explanation(
        kind="frame",
        id=name,
        headline=f"Frame {name} is {told['section']} {told['grade']} ({told['source']}), {word} {at_ratio(ratio)}: "
        f"{told['governing']} governs",
        place=place,
        trace=trace,
        results=tuple(dict.fromkeys(name for check in checks[:2] for name in (check.required, check.offered))),
        rounding=lines,
        alternatives=_frame_alternatives(design, run, frame, ratio),
    )


def member_trace(
    design: Design, rule: MemberRule, run: MemberRun, member: int, row: int, origins: Mapping[str, str]
) -> Trace:
    """Return the trace of one row of a run, joined with that of the loads and the hull areas.

    Raises ValueError if the traced number differs from the table's in a single bit: then one of the two is wrong.
    """
    trace = rule.chain.trace(run.values, row, origins)
    for name in rule.chain.outputs:
        column = run.values[name]
        told = (column if len(column) == 1 else column[row : row + 1])[0].item()
        if trace[name].value != told and not (told != told and trace[name].value != trace[name].value):
            raise ValueError(
                f"{rule.name}, member {member}: {name} is {told} in the table and {trace[name].value} traced"
            )
    return trace.after(design.loads.traces["design"]).with_origins(design.fact_origins)


def _at(values: NDArray[Any], row: int) -> float:
    """A number of a run; a ship-level one stands for every row."""
    return float(values[row] if len(values) > 1 else values[0])


def row_named(names: NDArray[np.str_], name: str, kind: str) -> int:
    """Return the row of a member by name; an unknown one is an InputError with near names."""
    found = np.flatnonzero(names == name)
    if len(found) == 0:
        raise InputError(kind, "there is none of this name", value=name, allowed=", ".join(_near(name, names)))
    return int(found[0])


def _near(name: str, names: NDArray[np.str_]) -> list[str]:
    """Names that are there and like the one asked for: alike in letters, or in the number of their frame."""
    like = get_close_matches(name, [str(one) for one in names], n=3, cutoff=0.7)
    if like:
        return like
    digits = re.search(r"-?\d+", name)
    if digits is None:
        return [str(one) for one in names[:3]]
    number = np.array([float(str(one)[1:].split("/")[0]) for one in names])
    return [str(names[row]) for row in np.argsort(np.abs(number - float(digits.group())), kind="stable")[:3]]


def _nothing_asked(kind: str, name: str, place: tuple[str, ...], source: str, reason: NotApplicable) -> Explanation:
    """The story of a member of which the rule set asks nothing."""
    return Explanation(
        kind=kind, id=name, headline=f"{kind.capitalize()} {name} ({source}): {reason}", place=place, trace=Trace({}),
        results=(), rounding=(), alternatives=(), not_applicable=reason,
    )  # fmt: skip


def _why_nothing(design: Design, touched: str, role: str = "") -> NotApplicable:
    """Why the rule set asks nothing of a member."""
    if role == "web frame":
        if design.supports_run is not None and design.supports_run.shown_here:
            return NotApplicable("web frames and floors are no local frames; supports.csv has what is asked of them")
        return NotApplicable("web frames and floors carry no check here; they need a direct calculation")
    if not touched:
        return NotApplicable(f"it lies outside all hull areas, {design.areas.outside}")
    return NotApplicable(f"the class {design.ship.ice.ice_class} asks for no strengthening in {touched}")


def _story(design: Design, told: Mapping[str, object]) -> tuple[str, ...]:
    """The few numbers a plate's thickness comes from, and where its load does."""
    lines = [
        (
            f"load of {told['load_area']}: {told['patch_width_m']:.3f} x {told['patch_height_m']:.3f} m at "
            f"{told['pressure_avg_mpa']:.3f} MPa on average"
        )
    ]
    lines += [choice for choice in design.loads.choices if choice.startswith("largest")]
    shown = [f"{word} {told[key]:.3f}" for word, key in (
        ("area factor", "area_factor"), ("peak pressure factor", "peak_pressure_factor"))
             if isinstance(told.get(key), float)]  # fmt: skip
    lines.append(
        f"{', '.join(shown)}; spacing {told['spacing_m']:.3f} m and span {told['span_m']:.3f} m along the shell; "
        f"{told['yield_mpa']:.0f} MPa"
    )
    if isinstance(told.get("thickness_net_required_mm"), float) and isinstance(told.get("addition_mm"), float):
        lines.append(f"net {told['thickness_net_required_mm']:.2f} mm + addition {told['addition_mm']:.1f} mm")
    return tuple(lines)


def _from_stem(design: Design, x_m: float) -> str:
    """How far a place lies from the fore side of the stem at the upper ice waterline."""
    aft = design.measures.stem_x_m - x_m
    return f"{abs(aft):.2f} m {'aft' if aft >= 0.0 else 'forward'} of the stem at the upper ice waterline"


def _panel_place(design: Design, panel: int) -> tuple[str, ...]:
    """Where a panel lies on the hull."""
    told = design.arrangement.panels.row(panel)
    return (
        (
            f"zone {told['zone']}, frames {told['frame_aft']:g} to {told['frame_fore']:g}, "
            f"{told['lower_level']} to {told['upper_level']}"
        ),
        (
            f"centre at x {told['centroid_x_m']:.2f} m, y {told['centroid_y_m']:.2f} m, "
            f"z {told['centroid_z_m']:.2f} m; "
            f"{_from_stem(design, float(str(told['centroid_x_m'])))}"
        ),
        f"hull areas touched: {design.plating.labels('touched')[panel] or 'none'}",
    )


def _frame_place(design: Design, frame: int) -> tuple[str, ...]:
    """Where a frame span lies on the hull."""
    told = design.arrangement.frames.row(frame)
    return (
        f"{told['role']} {told['frame']:g}, zone {told['zone']}, {told['lower_level']} to {told['upper_level']}",
        f"middle at x {told['x_m']:.2f} m, z {told['centroid_z_m']:.2f} m",
        f"hull areas touched: {design.frames.labels('touched')[frame] or 'none'}",
    )


def _panel_origins(design: Design, panel: int) -> dict[str, str]:
    """Where the inputs of a panel's chain come from."""
    told = design.arrangement.panels.row(panel)
    axis = told["spacing_axis_m"]
    beside = "" if axis is None else f" ({axis:.3f} m along the ship's axis)"
    edges = f"frames {told['frame_aft']:g} and {told['frame_fore']:g}"
    return {
        "spacing_m": f"hull surface, along the shell between the framing at {edges}{beside}",
        "span_m": f"hull surface, along the shell between {told['lower_level']} and {told['upper_level']} or webs",
        "support_distance_m": "hull surface, along the shell between supports, no bracket reduction",
        "stringer_to_support_m": "hull surface, along the shell",
        "omega_deg": "hull surface, between the waterline and the framing at the panel's middle",
        "load_distributing_stringer": "ship.toml: levels",
        "factor_area": f"touched: {design.plating.labels('touched')[panel]}; the largest factor",
        "addition_area": f"touched: {design.plating.labels('touched')[panel]}; the largest addition",
        "load_area": f"touched: {design.plating.labels('touched')[panel]}; the load that asks for most",
        "yield_mpa": f"grade {design.plating.labels('grade')[panel]} of ship.toml, hull steel table",
        **dict.fromkeys(("waterline_angle_deg", "flare_angle_deg"), "hull surface, at the panel's middle"),
    }


def _frame_origins(design: Design, frame: int) -> dict[str, str]:
    """Where the inputs of a frame's chain come from."""
    told = design.arrangement.frames.row(frame)
    touched = design.frames.labels("touched")[frame]
    named = f"section {design.frames.labels('section')[frame]}"
    section = f"{named}, net"
    origins = {
        "spacing_m": "hull surface, along the shell to the wider side's neighbour",
        "span_m": f"hull surface, along the shell from {told['lower_level']} to {told['upper_level']}, brackets taken",
        "stringer_to_support_m": "hull surface, along the shell",
        "omega_deg": "hull surface, between the waterline and the frame at mid-span",
        "web_angle_deg": "hull surface, between shell and web at mid-span",
        "web_frame_spacing_m": "ship.toml: zones",
        "one_end_simply_supported": "ship.toml: zones, lower_end and upper_end",
        "end_brackets": "ship.toml: zones, lower_end and upper_end",
        "load_distributing_stringer": "ship.toml: levels",
        "factor_area": f"touched: {touched}; the largest factor",
        "load_area": f"touched: {touched}; the load that asks for most",
        "yield_mpa": f"grade {design.frames.labels('grade')[frame]} of ship.toml, hull steel table",
        "plate_yield_mpa": "grade of the attached plate",
        "both_in_full": "ship.toml: readings.oblique_frames",
        "plate_net_fitted_mm": "thinner plate beside the frame, as built less its addition",
        **dict.fromkeys(("waterline_angle_deg", "flare_angle_deg"), "hull surface, at mid-span"),
        "boundary": f"levels: the frame runs from {told['runs_from_level']} to {told['runs_to_level']}",
        "agreed_boundary": "none",
        "strengthened_share": "hull areas on the shell along the span",
        "tripping_support_m": "ship.toml: zones, tripping_support_m; else the span",
        "web_thickness_mm": f"{named}, as built",
        "shear_area_cm2": f"{named}, as built: web height times thickness",
        "section_modulus_cm3": f"{named}, as built, on the thinner plate beside it over the effective breadth",
    }
    return origins | dict.fromkeys((n for n in design.rules.framing.chain.inputs if n not in origins), section)


def _plate_rounding(design: Design, panel: int, required: float) -> tuple[str, ...]:
    """How the requirement becomes a plate."""
    told, stock = design.plating.row(panel), design.ship.stock
    if told["source"] == "given":
        minus = float(str(told["minus_tolerance_mm"]))
        less = f" less minus tolerance {_mm(minus)}" if minus > 0.0 else ""
        return (f"given in ship.toml: {_mm(told['thickness_as_built_mm'])}{less}, margin {told['margin_mm']:.2f} mm",)
    group = design.plating.labels("group")
    rows = np.flatnonzero(group == told["group"])
    need = design.plating["thickness_required_mm"].data[rows]
    worst = rows[int(np.argmax(np.where(np.isnan(need), -np.inf, need)))]
    other = design.plating.labels("id")[worst]
    lines = [
        f"group {told['group']}: greatest requirement {float(np.nanmax(need)):.2f} mm at {other}"
        + (" (this panel)" if worst == panel else f"; this panel alone asks for {required:.2f} mm"),
        (
            f"next thickness of the {stock.step_mm:g} mm stock: {_mm(told['thickness_as_built_mm'])}; "
            f"minus tolerance {stock.under_tolerance}"
        ),
    ]
    if stock.floor_mm > 0.0:
        lines.append(f"floor from open-water rules: {stock.floor_mm:g} mm")
    return tuple(lines)


def _plate_alternatives(design: Design, run: MemberRun, panel: int, required: float) -> tuple[Alternative, ...]:
    """What would change a plate: less spacing, another grade, another hull area."""
    rule = design.rules.plating
    given = _inputs(rule, run, panel)

    def need(changed: Mapping[str, Any]) -> float:
        needs = rule.chain.run(_changed(given, changed))[rule.result]
        return float(np.max(np.where(np.isnan(needs), np.inf, needs)))

    changes: list[tuple[str, dict[str, Any]]] = []
    spacing = float(given["spacing_m"][0])
    if spacing > 2.0 * LESS_SPACING_M:
        changes.append((f"spacing {-LESS_SPACING_M * 1000:.0f} mm", {"spacing_m": spacing - LESS_SPACING_M}))
    changes += [(text, {"yield_mpa": value}) for text, value in _grades(float(given["yield_mpa"][0]))]
    row = run.row_of(panel)
    changes += [
        (f"in hull area {code}", {"load_area": code, "factor_area": code, "addition_area": code})
        for code in _neighbours(design, str(run.rows.factor_area[row]))
    ]
    return tuple(
        Alternative(change=text, before=required, after=after, unit="mm", offered=_offered(design, after))
        for text, after in ((text, need(changed)) for text, changed in changes)
    )


def _frame_alternatives(design: Design, run: MemberRun, frame: int, ratio: float) -> tuple[Alternative, ...]:
    """What would change a frame: less spacing, less span, another grade, a stringer that spreads the load."""
    rule = design.rules.framing
    given = _inputs(rule, run, frame)

    def worst(changed: Mapping[str, Any]) -> float:
        out = rule.chain.run(_changed(given, changed))
        ratios = [check.ratio(out).max() for check in rule.checks]
        return float(np.max(np.where(np.isnan(ratios), np.inf, ratios)))

    spacing, span = float(given["spacing_m"][0]), float(given["span_m"][0])
    changes: list[tuple[str, dict[str, Any]]] = [
        (f"spacing {-LESS_SPACING_M * 1000:.0f} mm", {"spacing_m": spacing - LESS_SPACING_M}),
        ("span 10 % shorter", {"span_m": 0.9 * span}),
        *((text, {"yield_mpa": value}) for text, value in _grades(float(given["yield_mpa"][0]))),
    ]
    if "load_distributing_stringer" in given and not bool(given["load_distributing_stringer"][0]):
        changes.append(("a load-distributing stringer", {"load_distributing_stringer": True}))
    return tuple(Alternative(change=text, before=ratio, after=worst(changed), unit="-") for text, changed in changes)


def _inputs(rule: MemberRule, run: MemberRun, member: int) -> dict[str, NDArray[Any]]:
    """The chain's inputs of all rows of a member: the hull areas and framing angles that it was tried with."""
    rows = np.flatnonzero(run.rows.member == member)
    columns = {name: np.asarray(run.values[name]) for name in rule.chain.inputs}
    return {
        name: value if len(value) == 1 and len(run.rows.member) > 1 else value[rows] for name, value in columns.items()
    }


def _changed(given: Mapping[str, NDArray[Any]], changed: Mapping[str, Any]) -> dict[str, NDArray[Any]]:
    """The inputs with some quantities set to one value in every row; what the chain does not read stays out."""
    read = {name: value for name, value in changed.items() if name in given}
    return {**given, **{name: np.full(len(given[name]), value) for name, value in read.items()}}


def _grades(yield_mpa: float) -> list[tuple[str, float]]:
    """The next lower and the next higher yield level of ordinary hull steels."""
    levels = hull_steels().ordinary_yields_MPa()
    lower = [level for level in levels if level < yield_mpa]
    higher = [level for level in levels if level > yield_mpa]
    return [(f"steel of {level:g} MPa", level) for level in [*lower[-1:], *higher[:1]]]


def _neighbours(design: Design, code: str) -> list[str]:
    """The strengthened hull areas listed before and after one."""
    codes = codes_strengthening(design.areas, Strengthens.PLATING)
    place = codes.index(code)
    return [*codes[max(place - 1, 0) : place], *codes[place + 1 : place + 2]]


def _offered(design: Design, required: float) -> float | None:
    """The stock plate for a requirement, or None where there is none."""
    stock = stock_of(design.ship)
    if not required <= stock.thicknesses_mm[-1] - 1.0:
        return None
    floor = design.ship.stock.floor_mm
    offer = stock.offer([required], floor_mm=floor, under_tolerance=under_tolerance(design.ship))
    return float(offer.offered_mm[0])


def _mm(value: object) -> str:
    """A thickness in words."""
    return "of no thickness" if value is None else f"{value:g} mm"
