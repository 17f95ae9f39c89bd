"""The design loads of one ship: size factors and the numbers of the class that every member reads.

The pressure itself differs from member to member by its loaded length, so it is calculated in the members' chains.
"""

from __future__ import annotations

from typing import Final

import numpy as np

from beltwright.core.chain import Chain, Columns, Quantity, Step, Trace
from beltwright.core.errors import InputError, ScopeError
from beltwright.core.findings import Finding, FindingCode
from beltwright.core.units import FloatArray, Unit
from beltwright.rules import facts as vocabulary
from beltwright.rules.baltic_traficom_2021 import c2_draughts as c2
from beltwright.rules.baltic_traficom_2021 import c4_2_load as c4_2
from beltwright.rules.baltic_traficom_2021 import c4_3_plating as c4_3
from beltwright.rules.baltic_traficom_2021 import c4_4_3_longitudinal_frames as c4_4_3
from beltwright.rules.baltic_traficom_2021 import c4_4_4_framing_general as c4_4_4
from beltwright.rules.baltic_traficom_2021 import c4_7_stem as c4_7
from beltwright.rules.baltic_traficom_2021 import facts_needed
from beltwright.rules.baltic_traficom_2021 import findings as found
from beltwright.rules.baltic_traficom_2021.hull_areas import REGIONS, BalticHullAreas, needed
from beltwright.rules.protocol import DesignLoads, LoadPatch, Override

ABRASION_KEY: Final = "overrides.abrasion_addition"
PROPORTIONS_KEY: Final = "overrides.proportions"
DISPLACEMENT_T: Final = (50.0, 1e6)
POWER_KW: Final = (50.0, 2e5)
NOMINAL_LENGTH_M: Final = 0.6

_ROWS: Final = {
    "bow_region": "Bow",
    "midbody_region": "Midbody",
    "stern_region": "Stern",
    "surface": "shell",
    "ends": "continuous with brackets",
    "web_row": "stringer or web frame",
    "tripping_row": "supports against tripping",
    "floor_row": "floors behind the stem",
}
_KNOWN: Final = {q.name: q for q in (*vocabulary.SHIP, *facts_needed.SHIP)}


def _size_steps(key: str) -> tuple[Step, ...]:
    """The size factor of the bow, or of the other regions."""
    region = {"bow": "bow_region", "other": "midbody_region"}[key]
    suffix = {"bow": "Bow", "other": "Other"}[key]
    slope, offset = f"{key}_size_slope", f"{key}_size_offset"
    return (
        Step(output=slope, clause=c4_2.size_slope, inputs={"region": region}, symbol=f"a_{suffix}"),
        Step(output=offset, clause=c4_2.size_offset, inputs={"region": region}, symbol=f"b_{suffix}"),
        Step(
            output=f"{key}_size_factor",
            clause=c4_2.size_factor,
            inputs={"size_slope": slope, "size_offset": offset},
            symbol=f"c_d,{suffix}",
        ),
    )


def _region_steps(key: str, region: str) -> tuple[Step, ...]:
    """The factor of a region and its pressure over a loaded length of 0.6 m."""
    size = "bow_size_factor" if key == "bow" else "other_size_factor"
    factor = f"{key}_region_factor"
    return (
        Step(
            output=factor, clause=c4_2.region_factor, inputs={"region": f"{key}_region"}, symbol=f"c_p,{region}"
        ),
        Step(
            output=f"{key}_pressure_mpa",
            clause=c4_2.pressure,
            inputs={"size_factor": size, "region_factor": factor, "length_factor": "nominal_length_factor"},
            symbol=f"p_{region}",
        ),
    )  # fmt: skip


CHAIN: Final = Chain(
    "ice load",
    [
        *(Quantity(name=n, symbol="row", unit=Unit("label"), meaning="row of a printed table") for n in _ROWS),
        *(_KNOWN[n] for n in ("ice_class", "displacement_upper_t", "engine_power_kw", "approved_abrasion_mm")),
        Quantity(
            name="ends_held",
            symbol="held",
            unit=Unit("flag"),
            meaning="a written reason holds narrow plates and short frames to the formulas at their ends",
        ),
        Quantity(name="nominal_length_m", symbol="l_0", unit=Unit("m"), meaning="loaded length for which c_a is 1"),
    ],
    (
        Step(output="ice_thickness_m", clause=c2.ice_thickness),
        Step(output="load_height_m", clause=c4_2.load_height),
        Step(output="size_and_power", clause=c4_2.size_and_power),
        Step(output="k_range", clause=c4_2.k_range),
        *_size_steps("bow"),
        *_size_steps("other"),
        Step(output="nominal_length_factor", clause=c4_2.length_factor, inputs={"loaded_length_m": "nominal_length_m"}),
        *(step for key, region in REGIONS.items() for step in _region_steps(key, region)),
        Step(output="abrasion_addition_mm", clause=c4_3.abrasion_addition),
        Step(output="boundary_longitudinal", clause=c4_4_3.boundary_longitudinal),
        Step(output="web_least_line_load_mn_per_m", clause=c4_2.least_line_load, inputs={"member": "web_row"}),
        Step(output="tripping_distance_most_m", clause=c4_4_4.tripping_distance_most, inputs={"limit": "tripping_row"}),
        Step(output="floor_spacing_most_m", clause=c4_7.stem_floor_spacing_most, inputs={"limit": "floor_row"}),
    ),
)
MEMBER_COLUMNS: Final = (
    "ice_class",
    "bow_size_factor",
    "other_size_factor",
    "abrasion_addition_mm",
    "approved_abrasion_mm",
    "boundary_longitudinal",
    "web_least_line_load_mn_per_m",
    "tripping_distance_most_m",
    "floor_spacing_most_m",
    "ends_held",
)


def stations() -> FloatArray:
    """Return no station: the hull's load needs no hull angles."""
    return np.empty(0)


def make(facts: Columns, areas: BalticHullAreas, overrides: tuple[Override, ...]) -> DesignLoads:
    """Return the design loads; InputError for facts that are missing or cannot be, ScopeError without a reason."""
    _check(facts)
    reason = _abrasion_reason(facts, overrides)
    held = _reason(overrides, PROPORTIONS_KEY)
    given = {
        **{name: np.array([word]) for name, word in _ROWS.items()},
        "nominal_length_m": np.array([NOMINAL_LENGTH_M]),
        "ends_held": np.array([held != ""]),
    }
    trace = CHAIN.trace(
        {name: given[name] if name in given else facts[name] for name in CHAIN.inputs},
        origins={
            **dict.fromkeys(_ROWS, "row of the printed table"),
            "nominal_length_m": "4.2.2",
            "ends_held": f"ship.toml: {PROPORTIONS_KEY}",
        },
    )
    traces = {"ship": areas.trace, **areas.waterline_traces, "design": trace.after(areas.trace)}
    return DesignLoads(
        columns={name: np.array([trace[name].value]) for name in MEMBER_COLUMNS},
        patches=_patches(trace, areas),
        traces=traces,
        patches_are="The pressure of each region, its factor included, over the greatest loaded length for which it is "
        "not reduced; each member's own loaded length gives its own pressure.",
        choices=_choices(trace, areas),
        findings=_notes(facts, areas, reason, held),
        compared=("load_height_m", *(f"{key}_pressure_mpa" for key in REGIONS)),
    )


def _check(facts: Columns) -> None:
    """Refuse a displacement, an engine output or an addition that is missing or cannot be."""
    for name, (least, most) in (
        ("displacement_upper_t", DISPLACEMENT_T),
        ("engine_power_kw", POWER_KW),
        ("approved_abrasion_mm", (0.0, 10.0)),
    ):
        value = float(needed(facts, name)[0])
        if not least <= value <= most:
            raise InputError(f"ship: {name}", _KNOWN[name].meaning, value=value, unit=_KNOWN[name].unit.symbol,
                             allowed=f"{least:g} to {most:g}")  # fmt: skip


def _abrasion_reason(facts: Columns, overrides: tuple[Override, ...]) -> str:
    """The written reason for a lower addition, "" where the addition of the rule is taken."""
    approved = float(facts["approved_abrasion_mm"][0])
    addition = float(c4_3.abrasion_addition(surface=np.array(["shell"]))[0])
    if approved >= addition:
        return ""
    said = _reason(overrides, ABRASION_KEY)
    if said:
        return said
    raise ScopeError(
        "addition for abrasion and corrosion",
        f"{approved:g} mm is less than {addition:g} mm, for which a coating is to be approved",
        ref="FSICR 4.3.2",
        override=ABRASION_KEY,
    )


def _reason(overrides: tuple[Override, ...], key: str) -> str:
    """The written reason under a key, "" for none."""
    return next((one.reason for one in overrides if one.key == key and one.reason.strip()), "")


def _patches(trace: Trace, areas: BalticHullAreas) -> tuple[LoadPatch, ...]:
    """The pressure of each region over the greatest loaded length for which it is not reduced."""
    height = float(trace["load_height_m"].value)
    codes = [area.code for area in areas.areas]
    patches = []
    for key, region in REGIONS.items():
        pressure = float(trace[f"{key}_pressure_mpa"].value)
        own = c4_2.plating_region(load_area=np.array(codes)) == region
        patches.append(
            LoadPatch(
                name=f"{region.lower()}, loaded length up to {NOMINAL_LENGTH_M:g} m",
                width_m=NOMINAL_LENGTH_M,
                height_m=height,
                pressure_mpa=pressure,
                force_mn=pressure * height * NOMINAL_LENGTH_M,
                areas=tuple(code for code, is_own in zip(codes, own, strict=True) if is_own),
            )
        )
    return tuple(patches)


def _choices(trace: Trace, areas: BalticHullAreas) -> tuple[str, ...]:
    """Sentences on what was chosen."""
    k = float(trace["size_and_power"].value)
    said = [
        f"size factors from the half {trace['k_range'].value} of Table 4-2, k = {k:.3f}, with the actual engine output",
        "pressure by the loaded length of each member (Table 4-4); no hull angles are needed",
    ]
    if areas.edges.fore_foot:
        said.append(f"fore foot to {areas.number('fore_foot_aft_m'):.2f} m aft of the stem (4.3.1)")
    if areas.edges.upper_belt:
        said.append(
            f"upper bow ice belt to {areas.number('upper_belt_aft_m'):.2f} m aft of the stem: plating as midbody, "
            "framing as bow"
        )
    return tuple(said)


def _notes(facts: Columns, areas: BalticHullAreas, reason: str, held: str) -> tuple[Finding, ...]:
    """What the engineer must see of the areas and of the addition."""
    edges, notes = areas.edges, list[tuple[bool, FindingCode, str, str]]()
    overlap, limit = areas.number("overlap_m"), areas.number("overlap_limit_m")
    text = f"{overlap:g} m for a rule length of {areas.number('class_rule_length_m'):.2f} m"
    notes.append((overlap == limit, found.OVERLAP_LIMITED, "regions", text))
    empty = edges.bow_aft_m >= edges.midbody_aft_m
    text = f"{int(empty.sum())} of {len(empty)} waterlines"
    notes.append((bool(empty.any()), found.NO_PARALLEL_SIDE, "regions", text))
    speed, least = areas.number("service_speed_kn"), areas.number("upper_belt_speed_kn")
    text = f"service speed {speed:g} kn, {least:g} kn or more"
    notes.append((edges.upper_belt, found.UPPER_BELT, "upper bow ice belt", text))
    text = "floor_top_height_m is 0"
    notes.append((edges.fore_foot and edges.floor_top_m == 0.0, found.NO_FLOOR_TOP, "bow", text))
    text = f"{float(facts['approved_abrasion_mm'][0]):g} mm; reason: {reason}"
    notes.append((reason != "", found.ABRASION_REDUCED, ABRASION_KEY, text))
    notes.append((held != "", found.ENDS_HELD, PROPORTIONS_KEY, f"reason: {held}"))
    azimuth = facts.get("azimuthing_propulsion", np.array([False]))
    notes.append((bool(azimuth[0]), found.AZIMUTH, "stern", "4.8"))
    text = "those of the society's rules hold where they are greater; they are not worked out here (4.1)"
    notes.append((True, found.OPEN_WATER, "open-water scantlings", text))
    return tuple(Finding(kind=kind, where=where, message=message) for holds, kind, where, message in notes if holds)
