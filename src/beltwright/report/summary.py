"""What the command line prints: the design in one screen, and the story of one member."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

import numpy as np

from beltwright.core.cautions import SHORT_CAUTION
from beltwright.core.columns import ColumnTable
from beltwright.core.findings import Severity
from beltwright.report.terminal import render_trace, text_table
from beltwright.scantlings.design import Design
from beltwright.scantlings.explain import Alternative, Explanation
from beltwright.scantlings.ship_checks import ship_check_table
from beltwright.weights.steel import SteelWeight

_AREAS = (
    ("code", "area"),
    ("area_m2", "shell"),
    ("area_factor", "factor"),
    ("pressure_avg_mpa", "mean p"),
    ("governing_load_area", "load"),
    ("thickness_required_mm", "required"),
    ("thickness_least_mm", "from"),
    ("thickness_most_mm", "to"),
    ("plate_ratio", "ratio"),
    ("frame_sections", "frames"),
    ("frame_ratio", "ratio"),
)
_SHIP = (("check", "check"), ("ref", "clause"), ("required", "required"), ("offered", "offered"), ("unit", "unit"),
         ("ratio", "ratio"), ("outcome", "outcome"))  # fmt: skip
_WIDEST = 34


def summary(design: Design, weight: SteelWeight) -> Iterator[str]:
    """Yield the lines of a short table: ship, loads, hull areas with plating and frames, weight, findings."""
    measures, ship = design.measures, design.ship
    document = design.rules.documents[-1]
    yield f"{ship.ship.name}, {ship.ice.ice_class}, {document.short} {document.edition}"
    length = design.areas.trace.get(design.rules.rule_length)
    told = "" if length is None else f", {length.symbol} {length.value:.2f} m"
    yield f"displacement at the upper ice waterline {measures.upper.displacement_kt:.3f} kt{told}"
    for patch in design.loads.patches:
        yield (
            f"load {patch.name}: force {patch.force_mn:.3f} MN on {patch.width_m:.3f} x {patch.height_m:.3f} m, "
            f"average pressure {patch.pressure_mpa:.3f} MPa"
        )
    yield ""
    yield text_table(_shortened(design), _AREAS, "Plating as built and frames, by hull area (thickness in mm)")
    if design.ship_checks is not None:
        yield ""
        yield text_table(ship_check_table(design.ship_checks, design.fact_origins), _SHIP, "Ship as a whole")
    yield ""
    shares = ", ".join(f"{allowance.name} {allowance.share:.1%}" for allowance in weight.allowances if allowance.share)
    yield (
        f"steel of plating and frames, both sides: {weight.modelled_t:.1f} t, {weight.total_t:.1f} t with allowances "
        f"({shares or 'none'}); centre x {weight.centre_m[0]:.2f} m, z {weight.centre_m[2]:.2f} m"
    )
    yield f"not weighed: {weight.not_weighed_m2:.0f} m2 of shell without a thickness; web frames, floors, stringers"
    if weight.icing is not None:
        x, y, z = weight.icing.centre_m
        yield (
            f"icing allowance {weight.icing.mass_t:.1f} t, in no sum of steel; centre x {x:.2f} m, y {y:.2f} m, "
            f"z {z:.2f} m"
        )
    findings = [*design.findings, *weight.findings]
    cautions = [finding for finding in findings if finding.kind.severity is not Severity.NOTE]
    yield f"findings: {len(cautions)} cautions, {len(findings) - len(cautions)} notes"
    for finding in cautions:
        yield f"  {finding}"
    checked = ", ".join(design.checked)
    yield f"all requirements met on {checked}" if design.all_met else f"REQUIREMENTS NOT MET on {checked}"
    yield (
        f"open: {design.open_supports} web frame spans and stringer bays (one side), "
        f"{'the stem, ' if design.open_stem else ''}{design.open_items} clauses of the checklist"
    )
    yield SHORT_CAUTION


def _shortened(design: Design) -> ColumnTable:
    """The table of hull areas with long lists of sections cut short."""
    table = design.area_table
    names = [name if len(name) <= _WIDEST else name[: _WIDEST - 3].rsplit(",", 1)[0] + " ..." for name in
             table.labels("frame_sections").tolist()]  # fmt: skip
    column = replace(table["frame_sections"], data=np.array(names, dtype=np.str_))
    return ColumnTable(table.name, {**{key: table[key] for key in table}, "frame_sections": column})


def explanation_text(told: Explanation) -> Iterator[str]:
    """Yield the story of one member: what it is, where, what would change it, and how it became so."""
    yield told.headline
    yield from (f"  {line}" for line in told.place)
    if told.rounding:
        yield ""
        yield "From requirement to steel" if told.kind == "plate" else "Checks"
        yield from (f"  {line}" for line in told.rounding)
    if told.alternatives:
        yield ""
        yield "What would change it"
        yield from (f"  {_alternative(one)}" for one in told.alternatives)
    for name in told.results:
        yield ""
        yield f"How {told.trace[name].symbol} came about"
        yield from (f"  {line}" for line in render_trace(told.trace, name))


def _alternative(one: Alternative) -> str:
    """One alternative in a line."""
    if one.unit == "mm":
        stock = "no plate" if one.offered is None else f"plate {one.offered:g} mm"
        return (
            f"{one.change}: {one.after:.2f} mm instead of {one.before:.2f} mm ({one.after - one.before:+.2f}), {stock}"
        )
    return f"{one.change}: greatest ratio {one.after:.3f} instead of {one.before:.3f}"
