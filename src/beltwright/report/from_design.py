"""From the design to what is printed: the only module of the report that knows the design's own types."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from typing import Any

import numpy as np

from beltwright.core.chain import Trace
from beltwright.core.clause import Clause
from beltwright.core.columns import Column, ColumnTable
from beltwright.core.units import FloatArray, Unit
from beltwright.drawing.from_design import picture_of
from beltwright.drawing.picture import AreaBorder, PlatePicture, ShipPicture
from beltwright.report.edition import difference_table, edition_lines
from beltwright.report.girder import girder_clauses, girder_material
from beltwright.report.material import Calculation, Material, Sample, SteelMasses, StemMaterial
from beltwright.report.numbers import fixed
from beltwright.report.selection import governing_rows
from beltwright.report.ship_checks import ship_check_clauses, ship_checks_material
from beltwright.rules.protocol import HeightBorder, InclinationBorder, TransverseBorder
from beltwright.scantlings.design import BorderCurve, Design, IceWaterline
from beltwright.scantlings.edition import edition_used
from beltwright.scantlings.explain import Explanation, explain_frame, explain_panel
from beltwright.scantlings.fingerprint import result_fingerprint
from beltwright.scantlings.grade_story import told_grades
from beltwright.scantlings.readings import reading_words
from beltwright.scantlings.support_groups import grillages, support_groups, supports_table
from beltwright.scantlings.support_story import told_supports
from beltwright.weights import icing
from beltwright.weights.steel import SteelWeight

_CENTROID = ("centroid_x_m", "centroid_y_m", "centroid_z_m")
_END_M = 1.0
_DISPLACEMENTS = ("displacement_upper_kt", "displacement_bow_kt", "displacement_other_kt")


def material_of(
    design: Design, weight: SteelWeight, inputs_sha256: str, plates: tuple[PlatePicture, ...] = ()
) -> Material:
    """Return what is printed of a design and its steel weight; ``inputs_sha256`` is the hash of the inputs.

    ``plates`` are the physical plates where they were laid.
    """
    picture = picture_of(design, inputs_sha256, plates)
    traces = {title: trace.with_origins(design.fact_origins) for title, trace in design.loads.traces.items()}
    ship = traces.get("ship", design.areas.trace)
    supports, area_codes = supports_table(design.supports_run), [area.code for area in design.areas.areas]
    used = edition_used(design.rules, design.ship)
    return Material(
        picture=picture,
        inputs=design.ship.model_dump(mode="json"),
        documents=(*design.rules.documents, *(() if weight.icing is None else (icing.DOCUMENT,))),
        result_hash=result_fingerprint(design, inputs_sha256),
        outcome="met" if design.all_met else "not met",
        checked=design.checked,
        hull_file=_hull_file(design),
        hydrostatics=_hydrostatics(design),
        side_ends=_side_ends(design),
        stations=_stations(design),
        length_and_displacement=Calculation(
            title="rule length and displacement",
            trace=ship,
            wanted=tuple(name for name in (design.rules.rule_length, *_DISPLACEMENTS) if name in ship),
        ),
        border_calculation=Calculation(title="borders", trace=design.areas.trace.with_origins(design.fact_origins)),
        load_calculations=tuple(Calculation(title=title, trace=trace) for title, trace in traces.items()),
        loads=_loads(traces, picture),
        patches=design.loads.patches,
        patches_are=design.loads.patches_are,
        decisions=(
            *design.loads.choices,
            *(design.ship_checks.choices if design.ship_checks else ()),
            *reading_words(design.ship, design.rules.framing),
        ),
        areas=design.areas.areas,
        borders=_borders(design, picture),
        area_table=design.area_table,
        panels=_panels(design, weight),
        frames=_frames(design, weight),
        samples=_told_samples(design),
        weights=_masses(weight),
        supports=supports,
        support_loads=support_groups(supports, area_codes),
        support_groups=support_groups(supports, area_codes, by_scantlings=True),
        load_cases=design.load_cases,
        grillages=grillages(design.load_cases),
        plated=design.plated,
        checklist=design.checklist,
        peak_in_grillage=design.ship.direct.peak_in_grillage,
        open_supports=design.open_supports,
        open_items=design.open_items,
        findings=(*design.findings, *weight.findings),
        overrides=design.overrides,
        unconfirmed_cells=(*design.rules.unconfirmed(design.cells), *icing.unconfirmed_cells(weight.icing)),
        unconfirmed_clauses=(*_unconfirmed_clauses(design), *icing.unconfirmed_clauses(weight.icing)),
        grades=design.grades,
        grade_basis=() if design.grades_run is None else design.grades_run.basis,
        edition=edition_lines(used),
        edition_differences=difference_table(used.differences),
        girder=girder_material(design.girder, dict(design.fact_origins)),
        stem=_stem(design),
        open_stem=design.open_stem,
        ship_checks=ship_checks_material(design.ship_checks, design.fact_origins),
    )


def _words(meaning: str, data: Sequence[str]) -> Column:
    """A column of words."""
    return Column(unit=Unit("label"), meaning=meaning, data=np.array(list(data), dtype=np.str_))


def _numbers(unit: str, meaning: str, data: Iterable[float], reason: Iterable[str] | None = None) -> Column:
    """A column of numbers."""
    words = None if reason is None else np.array(list(reason), dtype=np.str_)
    return Column(unit=Unit(unit), meaning=meaning, data=np.array(list(data), dtype=np.float64), reason=words)


def _hydrostatics(design: Design) -> ColumnTable:
    """Both ice waterlines."""
    lines: tuple[IceWaterline, ...] = (design.measures.upper, design.measures.lower)
    hydro = [line.hydrostatics for line in lines]
    water = design.ship.water
    columns = {
        "waterline": _words("ice waterline", [line.name for line in lines]),
        "source": _words("where the waterline comes from", [line.source for line in lines]),
        "volume_m3": _numbers("m3", "moulded volume, both sides", [h.volume_m3 for h in hydro]),
        "density_t_m3": _numbers("t/m3", "water density of the description", [water.density_t_m3] * len(lines)),
        "allowance_t": _numbers("t", "shell and appendages", [water.shell_and_appendages_t] * len(lines)),
        "displacement_kt": _numbers("kt", "greatest displacement", [line.displacement_kt for line in lines]),
        "displacement_from": _words("what gives the displacement", [line.displacement_from for line in lines]),
        "lcb_m": _numbers("m", "centre of buoyancy from the aft perpendicular", [h.lcb_m for h in hydro]),
        "vcb_m": _numbers("m", "centre of buoyancy above the baseline", [h.vcb_m for h in hydro]),
        "waterplane_m2": _numbers("m2", "waterplane area", [h.waterplane_m2 for h in hydro]),
        "lcf_m": _numbers("m", "centre of flotation from the aft perpendicular", [h.lcf_m for h in hydro]),
        "length_m": _numbers("m", "extreme length of the waterline", [line.curve.extreme_length_m for line in lines]),
    }
    return ColumnTable("hydrostatics", columns)


def _hull_file(design: Design) -> ColumnTable:
    """What was settled about the hull's file, on what ground, and the setting that overrides it."""
    placed = design.measures.placed
    rows = [("file", f"{placed.source}, {placed.format}", f"SHA-256 begins {placed.sha256[:16]}", "hull.file")]
    rows += [(row.what, row.outcome, row.ground, row.setting) for row in placed.detection]
    names = (("what", "what was settled"), ("outcome", "outcome"), ("ground", "ground"), ("setting", "overridden by"))
    return ColumnTable(
        "hull file", {name: _words(meaning, [row[k] for row in rows]) for k, (name, meaning) in enumerate(names)}
    )


def _side_ends(design: Design) -> ColumnTable:
    """How far the ends of the parallel side move with the tolerance at which they are read."""
    ends = design.measures.upper.curve.sensitivity()
    return ColumnTable(
        "ends of the parallel side",
        {
            "tolerance_mm": _numbers("mm", "within this of the greatest half-breadth", [e.tolerance_mm for e in ends]),
            "fore_x_m": _numbers("m", "fore end, x from the aft perpendicular", [e.fore_x_m for e in ends]),
            "aft_x_m": _numbers("m", "aft end, x from the aft perpendicular", [e.aft_x_m for e in ends]),
        },
    )


def _stations(design: Design) -> ColumnTable:
    """The load stations with their angles; an angle that does not apply has its reason."""
    stations = design.stations
    columns = {
        "station": _words("load station", [f"station {k + 1}" for k in range(len(stations.aft_of_stem_m))]),
        "aft_of_stem_m": _numbers("m", "distance aft of the stem at the upper ice waterline", stations.aft_of_stem_m),
    }
    for axis, name in enumerate(("x_m", "y_m", "z_m")):
        columns[name] = _numbers("m", f"place on the hull, {name[0]}", stations.points[:, axis])
    for name, meaning in (
        ("alpha", "waterline angle"),
        ("gamma", "buttock angle from horizontal"),
        ("beta", "frame angle from vertical"),
        ("beta_prime", "normal frame angle from vertical"),
    ):
        values = getattr(stations.angles, f"{name}_deg")
        columns[f"{name}_deg"] = _numbers("deg", meaning, values, getattr(stations.angles, f"{name}_reason"))
    return ColumnTable("stations", columns)


def _loads(traces: dict[str, Trace], picture: ShipPicture) -> ColumnTable:
    """The numbers that every station's calculation gives, side by side; names lose the station's number."""
    stations = [station.name for station in picture.stations if station.name in traces]
    rows: list[dict[str, Any]] = []
    for name in stations:
        number = name.split()[-1]
        nodes = {key.replace(f"_{number}", "", 1): node for key, node in traces[name].items() if f"_{number}" in key}
        made = {key: node for key, node in nodes.items() if node.step is not None}
        rows.append({key: node for key, node in made.items() if isinstance(node.value, float)})
    shared = [key for key in rows[0] if all(key in row for row in rows)] if rows else []
    columns = {"station": _words("load station", stations)}
    for key in shared:
        node = rows[0][key]
        symbol = node.step.clause.symbol
        columns[key] = _numbers(node.unit.symbol, f"{symbol}, {node.meaning}", [row[key].value for row in rows])
    return ColumnTable("loads", columns)


def _borders(design: Design, picture: ShipPicture) -> ColumnTable:
    """Every border once: between which areas, where, by which clause."""
    refs = {curve.border.name: curve.border for curve in design.borders}
    drawn: dict[str, AreaBorder] = {}
    for border in picture.borders:
        drawn.setdefault(border.name, border)
    names = [name for name in refs if name in drawn]
    none = ["" if drawn[name].transverse else "runs along the ship" for name in names]
    return ColumnTable(
        "borders",
        {
            "border": _words("border between hull areas", names),
            "sides": _words("areas on either side", [" | ".join(drawn[name].sides) for name in names]),
            "aft_of_stem_m": _numbers(
                "m",
                "distance aft of the stem at the upper ice waterline",
                [_or_nan(drawn[name].aft_of_stem_m) for name in names],
                none,
            ),
            "x_m": _numbers("m", "x from the aft perpendicular", [_or_nan(drawn[name].x_m) for name in names], none),
            "frame": _words("frame number", [drawn[name].frame for name in names]),
            "height": _words("where it lies up the side", [_height_words(refs[name]) for name in names]),
            "ref": _words("clause", [refs[name].ref for name in names]),
            **_border_heights(design, names),
        },
    )  # fmt: skip


def _border_heights(design: Design, names: Sequence[str]) -> dict[str, Column]:
    """How high the borders that run along the side lie at four places [m above the baseline]."""
    stem = design.measures.stem_x_m
    bow_aft = float(design.areas.trace["bow_aft_m"].value) if "bow_aft_m" in design.areas.trace else float("nan")
    places = (
        ("z_at_stem_m", "at the stem, at the upper ice waterline", stem),
        ("z_at_bow_aft_m", "at the aft end of the bow", stem - bow_aft),
        ("z_amidships_m", "amidships, half way from the aft perpendicular to the stem", 0.5 * stem),
        ("z_at_ap_m", "at the aft perpendicular", 0.0),
    )
    found = {}
    for name, words, x in places:
        heights = [border_height_m([c for c in design.borders if c.border.name == one], design, x) for one in names]
        known = [height is not None for height in heights]
        found[name] = _numbers(
            "m", f"height above the baseline {words}", [_or_nan(height) for height in heights],
            ["" if there else "does not run along the side there" for there in known],
        )  # fmt: skip
    return found


def border_height_m(curves: Sequence[BorderCurve], design: Design, x_m: float) -> float | None:
    """Return how high a border lies on the side at ``x_m`` [m above the baseline], None where it is not there.

    One that follows an ice waterline is read from the rule's own offset, one that follows the shell's inclination from
    its curve. Curves end at the last point found, so a place up to a metre beyond an end still counts as on it.
    """
    for curve in curves:
        run = curve.points[:, 0]
        if isinstance(curve.border, TransverseBorder) or not run.min() - _END_M <= x_m <= run.max() + _END_M:
            continue
        if isinstance(curve.border, HeightBorder):
            waters = {"upper": design.measures.upper, "lower": design.measures.lower}
            aft = design.measures.stem_x_m - x_m
            offset = float(np.interp(aft, curve.border.aft_of_stem_m, curve.border.offset_m))
            return float(waters[curve.border.waterline].level.height(np.array([x_m]))[0]) + offset
        order = np.argsort(run, kind="stable")
        return float(np.interp(x_m, run[order], curve.points[order, 2]))
    return None


def _or_nan(value: float | None) -> float:
    """A number, or NaN under a reason."""
    return float("nan") if value is None else value


def _height_words(border: TransverseBorder | HeightBorder | InclinationBorder) -> str:
    """Where a border lies up the side, in words."""
    match border:
        case HeightBorder():
            offsets = sorted({round(float(offset), 3) for offset in border.offset_m})
            span = fixed(offsets[0], 2) if len(offsets) == 1 else f"{fixed(offsets[0], 2)} to {fixed(offsets[-1], 2)}"
            return f"{span} m from the {border.waterline} ice waterline"
        case InclinationBorder():
            return f"where the shell is inclined {fixed(border.inclination_deg, 1)}° from horizontal"
        case TransverseBorder():
            return ""


def _panels(design: Design, weight: SteelWeight) -> ColumnTable:
    """The plating with each panel's size, place and mass."""
    measured = design.arrangement.panels
    more = {
        "spacing_m": ("spacing_axis_m",),
        "span_m": ("support_distance_m",),
        "margin_mm": ("area_m2", "net_area_m2", *_CENTROID),
    }
    wide = _beside(design.plating, {after: {n: measured[n] for n in names} for after, names in more.items()})
    mass = _mass_kg(weight.plate_mass_kg, design.plating["thickness_as_built_mm"], "mass of both sides, openings out")
    return wide.with_columns({"mass_kg": mass})


def _frames(design: Design, weight: SteelWeight) -> ColumnTable:
    """The frames with each span's measures, place and mass; ``spacing_m`` is the wider side, as the checks take it."""
    measured = design.arrangement.frames
    measures = {
        "spacing_m": measured["spacing_greatest_m"],
        **{name: measured[name] for name in ("span_m", "omega_deg", "web_angle_deg")},
    }
    ends = {name: measured[name] for name in ("length_m", *_CENTROID)}
    wide = _beside(design.frames, {"yield_mpa": measures, "mass_kg_per_m": ends})
    mass = _mass_kg(weight.frame_mass_kg, design.frames["mass_kg_per_m"], "mass of both sides")
    return wide.with_columns({"mass_kg": mass})


def _beside(table: ColumnTable, more: Mapping[str, Mapping[str, Column]]) -> ColumnTable:
    """A table with more columns, each set behind one that is there."""
    columns: dict[str, Column] = {}
    for name in table:
        columns[name] = table[name]
        columns |= more.get(name, {})
    return ColumnTable(table.name, columns)


def _mass_kg(sides: FloatArray, scantling: Column, meaning: str) -> Column:
    """The mass of port and starboard; none where there is no scantling to weigh, for that column's reason."""
    return Column(unit=Unit("kg"), meaning=meaning, data=sides.sum(axis=1), reason=scantling.reason)


def _samples(design: Design) -> tuple[Sample, ...]:
    """One plate and one frame in full for each region of hull areas: the one that comes closest to its limit."""
    found: list[Sample] = []
    for kind, table, explain in (("plate", design.plating, explain_panel), ("frame", design.frames, explain_frame)):
        for row in _sample_rows(design, table):
            story = explain(design, str(table["id"].data[row]))
            if story.results:
                found.append(_sample(kind, str(table["hull_area"].data[row]), story))
    return tuple(found)


def _told_samples(design: Design) -> tuple[Sample, ...]:
    """Every member told in full: plates and frames, web frames and stringers, one steel grade."""
    supports = (_sample("support", area, told) for area, told in told_supports(design))
    grades = (_sample("grade", area, told) for area, told in told_grades(design))
    return (*_samples(design), *supports, *grades)


def _sample_rows(design: Design, table: ColumnTable) -> list[int]:
    """For each region (an area's title up to the comma) the member with the greatest ratio."""
    region = {area.code: area.title.split(",")[0] for area in design.areas.areas}
    best: dict[str, int] = {}
    for row, _ in governing_rows(table, by="hull_area"):
        name = region.get(str(table["hull_area"].data[row]), "")
        ratio = table["ratio"].data
        if name and (name not in best or ratio[row] > ratio[best[name]]):
            best[name] = row
    order = list(dict.fromkeys(region.values()))
    return [best[name] for name in order if name in best]


def _sample(kind: str, area: str, story: Explanation) -> Sample:
    """A member's story."""
    return Sample(
        kind=kind,
        id=story.id,
        hull_area=area,
        headline=story.headline,
        place=story.place,
        trace=story.trace,
        results=story.results,
        rounding=story.rounding,
        alternatives=tuple((a.change, a.before, a.after, a.unit, a.offered) for a in story.alternatives),
    )


def _stem(design: Design) -> StemMaterial | None:
    """The stem, None where the rule set has no formula for it."""
    if design.stem is None:
        return None
    trace, wanted = (
        design.stem.trace,
        dict.fromkeys(n for c in design.stem.rule.checks for n in (c.required, c.offered)),
    )
    told = None if trace is None else Calculation(title="Calculation", trace=trace, wanted=tuple(wanted))
    return StemMaterial(table=design.stem.table, calculation=told)


def _masses(weight: SteelWeight) -> SteelMasses:
    """The steel weight with its allowances in words."""
    return SteelMasses(
        table=weight.table,
        allowances=(
            ("as modelled", weight.modelled_t),
            *((f"{one.name}, {fixed(100.0 * one.share, 2)} %", one.mass_t) for one in weight.allowances),
        ),
        total_t=weight.total_t,
        centre_m=weight.centre_m,
        not_weighed_m2=weight.not_weighed_m2,
        icing=weight.icing,
    )


def _unconfirmed_clauses(design: Design) -> tuple[Clause[Any, Any], ...]:
    """The clauses of the chains and traces used whose text has not been confirmed, each once."""
    used: dict[str, Clause[Any, Any]] = {}
    traces = (design.areas.trace, *design.loads.traces.values())
    steps = [node.step for trace in traces for node in trace.values() if node.step is not None]
    asked = design.rules
    behind = [one.rule for one in asked.supports]
    rules = (asked.plating, asked.framing, asked.grading, *behind, asked.plated, asked.stem)
    steps += [step for rule in rules if rule is not None for step in rule.chain.steps]
    for made in (
        *(step.clause for step in steps),
        *girder_clauses(design.girder),
        *ship_check_clauses(design.ship_checks),
    ):
        if not made.status.confirmed:
            used.setdefault(f"{made.citation} {made.name}", made)
    return tuple(used.values())
