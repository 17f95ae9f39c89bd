"""Longitudinal strength in ice: the force at the bow, shear and moment along the ship, and what is held to them."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from typing import Any

import numpy as np
from numpy.typing import NDArray

from beltwright.core.chain import Columns, Trace
from beltwright.core.columns import Column, ColumnTable
from beltwright.core.findings import Findings
from beltwright.core.outcome import NotApplicable, is_met, utilisation
from beltwright.core.ruletable import Cell
from beltwright.core.units import BoolArray, FloatArray, LabelArray, Unit
from beltwright.hull.bow_fit import BowFit, fit_bow, stem_waterline_angle_deg
from beltwright.rules.protocol import DesignLoads, GirderForce, GirderRule, Override, RuleSet
from beltwright.scantlings import codes
from beltwright.scantlings.design import HullMeasures
from beltwright.scantlings.girder_design import NOT_CHECKED, GirderDesign, MemberTrace
from beltwright.scantlings.girder_given import (
    FIELD,
    ONE_PLACE_M,
    GivenGirder,
    given_girder,
    member_extent,
    strength_cells,
)
from beltwright.scantlings.girder_members import StressesAlong, check_members, no_members
from beltwright.scantlings.members import MET, NOT_MET
from beltwright.ship.model import Ship

GRID = 41  # places along the rule length, ends included
NO_RAMMING = "ramming is not considered"
NO_SECTION = "no section of the hull girder is given here"
NO_WATER = "no permissible still-water loads are given"
LOOSE_SHARE = 0.05  # of the greatest half-breadth, our choice: no rule says how near a power law has to lie
TOLERANCES_MM = (0.1, 1.0, 10.0)
BOW_EXPONENT_KEY = "hull_girder.bow_exponent"
_NEAR = 1e-9


def bow_exponent_override(ship: Ship) -> tuple[Override, ...]:
    """Return the written reason for a bow exponent of the user's own, if there is one."""
    given = ship.hull_girder.bow_exponent
    return () if given is None else (Override(key=BOW_EXPONENT_KEY, reason=given.reason),)


def design_girder(
    ship: Ship, rules: RuleSet, measures: HullMeasures, facts: Columns, loads: DesignLoads, before: Trace,
    findings: Findings,
) -> GirderDesign | None:  # fmt: skip
    """Return the longitudinal strength in ice; None where the rule set has no such chapter.

    ``before`` is the trace in which the rule length stands, where the loads have none of the ship.
    """
    rule = rules.girder
    if rule is None:
        return None
    fit = fit_bow(measures.upper.curve)
    measured, origins = girder_facts(ship, measures, fit)
    known = loads.traces.get("ship", before)
    force_of = _forces(rule, {**facts, **measured}, known)
    result = rule.force({**facts, **measured}, known)
    exponent = float(measured["bow_exponent"][0])
    if isinstance(result, NotApplicable):
        findings.add(codes.RAMMING_NOT_CONSIDERED, "bow", str(result))
        return GirderDesign(
            rule=rule, fit=fit, fits=_fits(measures, fit, force_of), exponent=exponent, result=result,
            stations=_no_stations(), buckling=no_members(), told=None, told_x_m=0.0, members_told=(), cells=(),
        )  # fmt: skip
    _note_fit(ship, fit, result, force_of, findings)
    force = GirderForce(
        columns=result.columns, trace=result.trace.with_origins(origins),
        nodes_aft_of_stem_m=result.nodes_aft_of_stem_m, choices=result.choices,
    )  # fmt: skip
    return _along(ship, rule, measures, fit, _fits(measures, fit, force_of), exponent, force, findings)


def girder_facts(ship: Ship, measures: HullMeasures, fit: BowFit) -> tuple[dict[str, NDArray[Any]], dict[str, str]]:
    """Return the facts of the girder as length-1 columns of the vocabulary, and where each comes from."""
    curve, given = measures.upper.curve, ship.hull_girder.bow_exponent
    alpha = stem_waterline_angle_deg(curve, ship.hull.stem_rounding_m)
    told: dict[str, tuple[float, str]] = {
        "waterplane_upper_m2": (measures.upper.hydrostatics.waterplane_m2, "hydrostatics at the upper ice waterline"),
        "breadth_upper_m": (fit.breadth_m, "twice the greatest half-breadth of the upper ice waterline"),
        "bow_length_m": (
            fit.length_m,
            f"upper ice waterline, half-breadth within {fit.tolerance_mm:g} mm of its greatest",
        ),
        "bow_exponent": (
            fit.exponent if given is None else given.value,
            f"least squares on the upper ice waterline, root mean square {1000.0 * fit.rms_m:.0f} mm"
            if given is None
            else f"ship.toml: {BOW_EXPONENT_KEY} ({given.reason}); the fit gives {fit.exponent:.3f}",
        ),
        "stem_waterline_angle_deg": (
            90.0 if np.isnan(alpha) else alpha,
            "upper ice waterline does not give it: no wedge" if np.isnan(alpha) else "upper ice waterline at the stem",
        ),
    }
    return {name: np.array([value]) for name, (value, _) in told.items()}, {
        name: text for name, (_, text) in told.items()
    }


def _forces(rule: GirderRule, facts: Columns, known: Trace) -> Callable[[BowFit], float]:
    """What the force at the bow would be with a fit's own exponent and length [MN]; NaN where ramming is no case."""

    def force(fit: BowFit) -> float:
        other = {"bow_exponent": np.array([fit.exponent]), "bow_length_m": np.array([fit.length_m])}
        found = rule.force({**facts, **other}, known)
        return float("nan") if isinstance(found, NotApplicable) else _force(found)

    return force


def _note_fit(
    ship: Ship, fit: BowFit, used: GirderForce, force_of: Callable[[BowFit], float], findings: Findings
) -> None:
    """Say where the fit is loose, and what an exponent of the user's own does to the force."""
    off = abs(fit.worst_m) / (0.5 * fit.breadth_m)
    given = ship.hull_girder.bow_exponent
    if (off > LOOSE_SHARE or fit.at_limit) and given is None:
        findings.add(
            codes.BOW_FIT_LOOSE, "bow at the upper ice waterline",
            f"exponent {fit.exponent:.3f}; off by {1000.0 * fit.worst_m:+.0f} mm at {fit.worst_at_m:.2f} m aft of the "
            f"stem, {100.0 * off:.1f} % of the greatest half-breadth",
        )  # fmt: skip
    if given is not None:
        findings.add(
            codes.BOW_EXPONENT_GIVEN, f"ship.toml: {BOW_EXPONENT_KEY}",
            f"{given.value:g}, force {_force(used):.3f} MN; the fit gives {fit.exponent:.3f}, {force_of(fit):.3f} MN; "
            f"reason: {given.reason}",
        )  # fmt: skip


def _force(force: GirderForce) -> float:
    """The force at the bow [MN]."""
    return float(force.columns["ice_force_mn"][0])


def _fits(measures: HullMeasures, fit: BowFit, force_of: Callable[[BowFit], float]) -> ColumnTable:
    """The exponent, and the force with it, by the tolerance at which the bow's length is read."""
    curve = measures.upper.curve
    fits = [fit if t == fit.tolerance_mm else fit_bow(curve, t) for t in TOLERANCES_MM]
    forces = np.array([force_of(f) for f in fits])
    columns = {
        "tolerance_mm": _numbers("mm", "within this of the greatest half-breadth", [f.tolerance_mm for f in fits]),
        "bow_length_m": _numbers("m", "length of the bow's waterline", [f.length_m for f in fits]),
        "bow_exponent": _numbers("-", "fitted bow exponent", [f.exponent for f in fits]),
        "rms_mm": _numbers("mm", "root mean square of fitted less measured", [1000.0 * f.rms_m for f in fits]),
        "worst_mm": _numbers("mm", "largest of fitted less measured", [1000.0 * f.worst_m for f in fits]),
        "worst_at_m": _numbers("m", "where, aft of the stem", [f.worst_at_m for f in fits]),
        "ice_force_mn": _numbers(
            "MN", "vertical ice force at the bow with this fit", forces, np.where(np.isnan(forces), NO_RAMMING, "")
        ),
    }
    return ColumnTable("bow fit", columns)


def _along(
    ship: Ship, rule: GirderRule, measures: HullMeasures, fit: BowFit, fits: ColumnTable, exponent: float,
    force: GirderForce, findings: Findings,
) -> GirderDesign:  # fmt: skip
    """The demand along the ship, the stresses where sections are given, and the findings on them."""
    given, stem = given_girder(ship), measures.stem_x_m
    x, places = station_places(ship, given, stem, force.nodes_aft_of_stem_m)
    along = rule.along.run(_only(rule.along.inputs, {**force.columns, "aft_of_stem_m": stem - x}))
    covered = given.covers(x)
    stressed: dict[str, NDArray[Any]] = {}
    ratios = np.zeros((0, len(rule.section.checks)))
    if given.has_sections:
        here = {name: values[covered] for name, values in along.items() if len(values) == len(x)}
        columns = {**force.columns, **here, **given.at(x[covered]), **given.still_water(x[covered])}
        stressed = rule.section.run(_only(rule.section.chain.inputs, columns))
        checks = [utilisation(stressed[check.required], stressed[check.offered]) for check in rule.section.checks]
        ratios = np.stack(checks, axis=1)
    stations = _stations(rule, given, x, places, along, covered, stressed, ratios)
    buckling = no_members()
    members_told: tuple[MemberTrace, ...] = ()
    told, told_x = None, 0.0
    if given.has_sections:
        stresses = StressesAlong(
            x_m=x[covered], stress_deck_mpa=stressed["stress_deck_mpa"], stress_shear_mpa=stressed["stress_shear_mpa"]
        )
        buckling, members_told = check_members(ship, rule, stresses, lambda words: f"at x {words} m")
        worst = int(np.argmax(np.where(np.isnan(ratios), np.inf, ratios).max(axis=1)))
        told_x = float(x[covered][worst])
        told = _told(rule, force, stressed, along, int(np.flatnonzero(covered)[worst]), worst)
    design = GirderDesign(
        rule=rule, fit=fit, fits=fits, exponent=exponent, result=force, stations=stations,
        buckling=buckling, told=told, told_x_m=told_x, members_told=members_told,
        cells=_cells(ship, rule, force, told, members_told),
    )  # fmt: skip
    _findings(ship, rule, design, ratios, findings)
    return design


def station_places(
    ship: Ship, given: GivenGirder, stem_x_m: float, nodes_aft_of_stem_m: FloatArray
) -> tuple[FloatArray, LabelArray]:
    """Return the places along the ship (n,), x from aft forward, and what each is.

    All given sections, ends of members and places of still-water loads, the places at which the ice's distributions
    bend, and an even grid over the rule length. Beyond the ends of the rule length the document gives no load: there is
    no place there.
    """
    girder = ship.hull_girder
    named = [(section.x_m, f"section {section.name}") for section in girder.sections]
    if given.has_sections:
        low, high = float(given.x_m[0]), float(given.x_m[-1])
        for member in (*girder.plates, *girder.stiffeners):
            named += [(end, f"end of {member.name}") for end in member_extent(member, low, high)]
    nodes = stem_x_m - nodes_aft_of_stem_m
    named += [(place.x_m, "still-water load") for place in girder.still_water]
    named = [(x, what) for x, what in named if nodes[0] - ONE_PLACE_M <= x <= nodes[-1] + ONE_PLACE_M]
    named += [(float(x), "distribution") for x in nodes]
    named += [(float(x), "grid") for x in np.linspace(nodes[0], nodes[-1], GRID)]
    x = np.array([place for place, _ in named])
    order = np.argsort(x, kind="stable")
    run = np.cumsum(np.diff(x[order], prepend=x[order][0]) > ONE_PLACE_M)
    first = [int(order[run == number].min()) for number in range(int(run[-1]) + 1)]
    return x[first], np.array([named[k][1] for k in first], dtype=np.str_)


def _only(names: Mapping[str, Any], columns: Columns) -> dict[str, NDArray[Any]]:
    """The columns of some names."""
    return {name: columns[name] for name in names}


def _stations(
    rule: GirderRule, given: GivenGirder, x: FloatArray, places: LabelArray, along: Columns, covered: BoolArray,
    stressed: Columns, ratios: FloatArray,
) -> ColumnTable:  # fmt: skip
    """The table of places."""
    columns = {"place": _words("what the place is", places), "x_m": _numbers("m", "x from the aft perpendicular", x)}
    for name, unit, meaning in _DEMAND:
        columns[name] = _numbers(unit, meaning, along[name])
    water = given.still_water(x) if given.has_still_water else {}
    for name, unit, meaning in _WATER:
        data = water.get(name, np.full(len(x), np.nan))
        columns[name] = _numbers(unit, meaning, data, np.where(np.isnan(data), NO_WATER, ""))
    reason = np.where(covered, "", NO_SECTION)
    for name, unit, meaning in _STRESS:
        columns[name] = _numbers(unit, meaning, _spread(covered, stressed.get(name)), reason)
    for name, unit, meaning, one, other in _CARRIED:
        data = _spread(covered, _product(stressed, one, other) if stressed else None)
        columns[name] = _numbers(unit, meaning, data, reason)
    columns["ratio"] = _numbers(
        "-",
        "greatest stress over allowed stress",
        _spread(covered, ratios.max(axis=1) if len(ratios) else None),
        reason,
    )
    names = np.array([check.name for check in rule.section.checks], dtype=np.str_)
    governing, outcome = np.full(len(x), "", dtype="<U40"), np.full(len(x), NOT_CHECKED, dtype="<U16")
    if len(ratios):
        governing[covered] = names[np.argmax(np.where(np.isnan(ratios), np.inf, ratios), axis=1)]
        outcome[covered] = np.where(is_met(ratios).all(axis=1), MET, NOT_MET)
    columns["governing"] = _words("check that governs", governing.astype(np.str_))
    columns["outcome"] = _words("outcome", outcome.astype(np.str_))
    return ColumnTable("girder", columns)


def _no_stations() -> ColumnTable:
    """The table of places without a row."""
    columns = {"place": _words("what the place is", ()), "x_m": _numbers("m", "x from the aft perpendicular", ())}
    columns |= {name: _numbers(unit, meaning, ()) for name, unit, meaning in (*_DEMAND, *_WATER, *_STRESS)}
    columns |= {name: _numbers(unit, meaning, ()) for name, unit, meaning, _, _ in _CARRIED}
    columns["ratio"] = _numbers("-", "greatest stress over allowed stress", ())
    columns |= {"governing": _words("check that governs", ()), "outcome": _words("outcome", ())}
    return ColumnTable("girder", columns)


def _product(values: Columns, one: str, other: Sequence[str]) -> FloatArray:
    """A stress times the least of some moduli or areas: the moment or force that makes it."""
    made: FloatArray = values[one] * np.min([values[name] for name in other], axis=0)
    return made


def _spread(covered: BoolArray, values: NDArray[Any] | None) -> FloatArray:
    """Values of the covered places at all places, NaN elsewhere; a length-1 column serves every place."""
    data = np.full(len(covered), np.nan)
    if values is not None:
        data[covered] = values
    return data


def _told(rule: GirderRule, force: GirderForce, stressed: Columns, along: Columns, row: int, covered_row: int) -> Trace:
    """The calculation of one place from the force at the bow to its stresses."""
    place = rule.along.trace(
        _only(rule.along.inputs, along), row, {"aft_of_stem_m": "place of the greatest ratio"}
    ).after(force.trace)
    numbers = ("modulus_deck_m3", "modulus_bottom_m3", "shear_area_m2")
    origins = dict.fromkeys(numbers, f"{FIELD}.sections") | dict.fromkeys(
        ("still_water_moment_mnm", "still_water_shear_mn"), f"{FIELD}.still_water"
    )
    origins |= {"yield_mpa": "steel grade", "tensile_mpa": "steel grade"}
    chain = rule.section.chain
    return chain.trace(_only(chain.inputs, stressed), covered_row, origins).after(place)


def _cells(
    ship: Ship, rule: GirderRule, force: GirderForce, told: Trace | None, members: Sequence[MemberTrace]
) -> tuple[Cell, ...]:
    """The cells of tables that numbers were read from, each once."""
    found: dict[Cell, None] = {}
    for trace in (force.trace, *([told] if told is not None else []), *(member.trace for member in members)):
        for node in trace.values():
            found |= dict.fromkeys(node.cells)
    for step in rule.along.steps:
        found |= dict.fromkeys(step.clause.cells({}) if step.clause.table is not None else ())
    return (*found, *strength_cells(ship))


def _findings(ship: Ship, rule: GirderRule, design: GirderDesign, ratios: FloatArray, findings: Findings) -> None:
    """What is not met, and what is not checked."""
    girder, stations = ship.hull_girder, design.stations
    x, covered = stations.values("x_m"), stations.labels("outcome") != NOT_CHECKED
    if not girder.sections:
        findings.add(codes.GIRDER_NOT_GIVEN, f"{FIELD}.sections", "no section of the hull girder is given")
        return
    demand = [np.abs(stations.values(name)) for name, _, _ in _DEMAND if name.startswith("ice_")]
    open_places = ~covered & (np.sum([values / max(values.max(), _NEAR) for values in demand], axis=0) > _NEAR)
    if open_places.any():
        words = f"x {x[open_places].min():.2f} to {x[open_places].max():.2f} m"
        inside = f"sections reach from x {girder.sections[0].x_m:.2f} to {girder.sections[-1].x_m:.2f} m"
        findings.add(codes.GIRDER_PARTLY, f"{FIELD}.sections", f"ice brings force or moment within {words}; {inside}")
    for number, check in enumerate(rule.section.checks):
        column = ratios[:, number]
        if not bool(is_met(column).all()):
            worst = int(np.argmax(np.where(np.isnan(column), np.inf, column)))
            where = f"hull girder at x {x[covered][worst]:.2f} m"
            findings.add(codes.GIRDER_NOT_MET, where, f"{check.name}: ratio {column[worst]:.3f} ({check.ref})")
    table = design.buckling
    for row in np.flatnonzero(table.labels("outcome") == NOT_MET):
        told = f"{table.labels('check')[row]}: ratio {table['ratio'].data[row]:.3f} ({table.labels('ref')[row]})"
        findings.add(codes.GIRDER_NOT_MET, f"{table.labels('name')[row]}, x {table['x_m'].data[row]:.2f} m", told)
    if not table.rows:
        findings.add(codes.BUCKLING_NOT_GIVEN, FIELD, "neither plates nor stiffeners are given")


def _words(meaning: str, data: Sequence[str] | LabelArray) -> Column:
    """A column of words."""
    return Column(unit=Unit("label"), meaning=meaning, data=np.array(data, dtype=np.str_))


def _numbers(unit: str, meaning: str, data: Sequence[float] | FloatArray, reason: LabelArray | None = None) -> Column:
    """A column of numbers."""
    return Column(unit=Unit(unit), meaning=meaning, data=np.array(data, dtype=np.float64), reason=reason)


_DEMAND = (
    ("aft_of_stem_m", "m", "distance aft of the stem at the upper ice waterline"),
    ("length_share", "-", "share of the rule length from its aft end"),
    ("ice_shear_positive_mn", "MN", "ice shear force, positive"),
    ("ice_shear_negative_mn", "MN", "ice shear force, negative"),
    ("ice_moment_mnm", "MNm", "ice bending moment, sagging"),
)
_WATER = (
    ("still_water_shear_mn", "MN", "permissible still-water shear force, either sign"),
    ("still_water_moment_mnm", "MNm", "permissible still-water bending moment, sagging"),
)
_STRESS = (
    ("modulus_deck_m3", "m3", "section modulus at deck"),
    ("modulus_bottom_m3", "m3", "section modulus at bottom"),
    ("shear_area_m2", "m2", "effective shear area"),
    ("yield_mpa", "MPa", "yield stress"),
    ("tensile_mpa", "MPa", "tensile strength"),
    ("stress_deck_mpa", "MPa", "stress at deck, compression"),
    ("stress_bottom_mpa", "MPa", "stress at bottom, tension"),
    ("allowed_tension_mpa", "MPa", "allowed longitudinal stress"),
    ("stress_shear_mpa", "MPa", "shear stress"),
    ("allowed_shear_mpa", "MPa", "allowed shear stress"),
)
_BOTH_MODULI = ("modulus_deck_m3", "modulus_bottom_m3")
_CARRIED = (
    ("shear_total_mn", "MN", "still-water and ice shear force", "stress_shear_mpa", ("shear_area_m2",)),
    ("shear_carried_mn", "MN", "shear force at the allowed stress", "allowed_shear_mpa", ("shear_area_m2",)),
    ("moment_total_mnm", "MNm", "still-water and ice bending moment", "stress_deck_mpa", ("modulus_deck_m3",)),
    ("moment_carried_mnm", "MNm", "bending moment at the allowed stress", "allowed_tension_mpa", _BOTH_MODULI),
)
