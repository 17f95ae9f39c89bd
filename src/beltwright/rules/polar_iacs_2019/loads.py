"""The design loads of one ship: which formula holds and why, the four bow sub-regions, the patches."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Final

import numpy as np

from beltwright.core.chain import Chain, Columns, Trace
from beltwright.core.edition import AS_CODED, Edition
from beltwright.core.errors import InputError, ScopeError
from beltwright.core.findings import Finding, FindingCode
from beltwright.core.units import FloatArray
from beltwright.rules.polar_iacs_2019 import findings as found
from beltwright.rules.polar_iacs_2019 import i2_3_2_forces as force
from beltwright.rules.polar_iacs_2019 import i2_3_3_patch_and_factors as patch
from beltwright.rules.polar_iacs_2019.bow_form import bow_form
from beltwright.rules.polar_iacs_2019.hull_areas import (
    CODES,
    STERN_FACTORS_KEY,
    PolarHullAreas,
    override_for,
    stern_factors_open,
)
from beltwright.rules.polar_iacs_2019.i1_application import SHAPE_FOLLOWS_ANY_BOW
from beltwright.rules.polar_iacs_2019.load_chains import (
    COMPARED_COLUMNS,
    MEMBER_COLUMNS,
    OTHER_CHAIN,
    SHIP_CHAIN,
    SUB_REGIONS,
    VERTICAL_CHAIN,
    design_chain,
    standard_chain,
    vertical_chain,
)
from beltwright.rules.protocol import DesignLoads, LoadPatch, Override

GREATEST_DISPLACEMENT_KT: Final = 1000.0


def stations(areas: PolarHullAreas) -> FloatArray:
    """Return the middles of the four equal parts of the bow's length at UIWL [m aft of the stem]."""
    return force.sub_region_middle(
        sub_region=np.arange(1, SUB_REGIONS + 1), bow_aft_m=np.array([areas.number("bow_aft_m")])
    )


def make(
    facts: Columns,
    areas: PolarHullAreas,
    angles: Columns,
    overrides: tuple[Override, ...],
    edition: Edition = AS_CODED,
) -> DesignLoads:
    """Return the design loads; InputError for facts that cannot be, ScopeError for a bow beyond the formulas."""
    _check(facts, areas, angles)
    form = bow_form(facts, angles, overrides)
    before = edition.chain(SHIP_CHAIN).trace(facts).after(areas.trace)
    if any(form.vertical):
        before = edition.chain(VERTICAL_CHAIN).trace(facts).after(before)
    traces: dict[str, Trace] = {"ship": before}
    whole = before
    for n in range(1, SUB_REGIONS + 1):
        chain = edition.chain(vertical_chain(n) if form.vertical[n - 1] else standard_chain(n))
        given = {
            f"sub_region_{n}": np.array([n]),
            f"alpha_{n}_deg": angles["alpha_deg"][n - 1 : n],
            f"beta_prime_{n}_deg": angles["beta_prime_deg"][n - 1 : n],
        }
        place = f"{float(angles['aft_of_stem_m'][n - 1]):.3f} m aft of the stem"
        origins = dict.fromkeys(given, f"hull surface on the upper ice waterline, {place}") | {
            f"sub_region_{n}": "the bow's four equal parts, counted from the stem"
        }
        _check_shape(n, chain, before, given)
        traces[f"station {n}"] = _follow(chain, before, given, origins)
        whole = traces[f"station {n}"].after(whole)
    bow = _follow(edition.chain(design_chain(bulb=form.bulb)), whole, {}).after(whole)
    design = _follow(edition.chain(OTHER_CHAIN), whole, {}).after(bow)
    traces["design"] = design
    columns = {
        **{name: np.array([design[name].value]) for name in MEMBER_COLUMNS},
        **{name: facts[name] for name in ("ice_class", "icebreaker", "effective_protection")},
    }
    return DesignLoads(
        columns=columns,
        patches=_patches(design, areas),
        traces=traces,
        choices=(form.choices[0], _whence(design), *form.choices[1:], *_area_choices(facts, areas)),
        findings=(*form.findings, *_notes(design, facts, areas)),
        compared=COMPARED_COLUMNS,
    )


def _follow(chain: Chain, earlier: Trace, given: Columns, origins: Mapping[str, str] | None = None) -> Trace:
    """Run a chain whose inputs come from an earlier trace, or are given; ``origins`` says where those were read."""
    return chain.trace(_inputs(chain, earlier, given), origins=origins).after(earlier)


def _inputs(chain: Chain, earlier: Trace, given: Columns) -> Columns:
    """The inputs of a chain: those given, the others from an earlier trace."""
    return {name: given[name] if name in given else np.array([earlier[name].value]) for name in chain.inputs}


def _check(facts: Columns, areas: PolarHullAreas, angles: Columns) -> None:
    """Refuse a displacement that cannot be and angles read elsewhere than at the stations."""
    displacement = float(facts["displacement_upper_kt"][0])
    if not 0.0 < displacement <= GREATEST_DISPLACEMENT_KT:
        raise InputError(
            "ship: displacement_upper_kt",
            "displacement in kilotonnes (1 kt = 1000 t)",
            value=displacement,
            unit="kt",
            allowed=f"more than 0 up to {GREATEST_DISPLACEMENT_KT:g}",
        )
    wanted, given = stations(areas), angles["aft_of_stem_m"]
    if given.shape != wanted.shape or not np.allclose(given, wanted, rtol=0.0, atol=1e-6):
        raise InputError(
            "angles: aft_of_stem_m",
            "the angles are not those of the middles of the bow's sub-regions",
            value=np.round(given, 3),
            unit="m",
            allowed=str(np.round(wanted, 3)),
        )


def _check_shape(number: int, chain: Chain, earlier: Trace, given: Columns) -> None:
    """The standard formula ends where its first shape factor is not positive, far aft in a long bow."""
    name = f"shape_factor_angles_{number}"
    if name in chain.outputs and not chain.until(name).run(_inputs(chain, earlier, given))[name][0] > 0.0:
        raise ScopeError(
            f"bow sub-region {number}", "the shape factor is not positive so far aft", ref="UR I2 I2.3.2.1(iii)"
        )


def _patches(design: Trace, areas: PolarHullAreas) -> tuple[LoadPatch, ...]:
    """The two patches and the areas in which each acts."""
    ice_class = np.array([areas.word("ice_class")])
    strengthened = [area.code for area in areas.areas if area.strengthened]
    bow = [c for c in CODES if bool(patch.bow_load_acts(ice_class=ice_class, load_area=np.array([c]))[0])]

    def number(name: str) -> float:
        return float(design[name].value)

    return tuple(
        LoadPatch(
            name=name,
            width_m=number(f"{key}_patch_width_m"),
            height_m=number(f"{key}_patch_height_m"),
            pressure_mpa=number(f"{key}_pressure_mpa"),
            force_mn=number(f"{key}_force_mn"),
            areas=tuple(code for code in strengthened if (code in bow) == (key == "bow")),
        )
        for name, key in (("bow", "bow"), ("outside the bow", "other"))
    )


def _whence(design: Trace) -> str:
    """A sentence on where each of the bow's three maxima comes from; sub-regions of equal value are all named."""
    said = []
    for letter, one, greatest in (
        ("F", "force_{}_mn", "bow_force_mn"),
        ("Q", "line_load_{}_mn_per_m", "bow_line_load_mn_per_m"),
        ("P", "pressure_{}_mpa", "bow_greatest_pressure_mpa"),
    ):
        found = [n for n in range(1, SUB_REGIONS + 1) if design[one.format(n)].value == design[greatest].value]
        named = f"sub-region{'s' if len(found) > 1 else ''} {', '.join(map(str, found))}"
        said.append(f"largest {letter} from {named if found else 'the least of a bulbous bow (I2.3.1(vii))'}")
    return ", ".join(said)


def _area_choices(facts: Columns, areas: PolarHullAreas) -> tuple[str, ...]:
    """Sentences on area factors and borders that were chosen."""
    ice_class = areas.word("ice_class")
    table = "Table 5 (notation Icebreaker)" if bool(facts["icebreaker"][0]) else "Table 4"
    said = [f"area factors from {table}"]
    if ice_class in SHAPE_FOLLOWS_ANY_BOW:
        said.append(f"{ice_class}: the icebelt of the bow intermediate region, BIi, takes the bow's load (I2.3.1(iii))")
    if bool(facts["operates_astern"][0]):
        said.append("operates astern: the aft part takes the requirements of bow and bow intermediate (I2.2.6)")
    written = override_for(STERN_FACTORS_KEY, areas.overrides)
    if written is not None and stern_factors_open(facts):
        said.append(
            f"azimuthing units: stern factors Si and Sl from {table}, carried by the written reason: {written.reason}"
        )
    return tuple(said)


def _notes(design: Trace, facts: Columns, areas: PolarHullAreas) -> tuple[Finding, ...]:
    """What the engineer must see of lengths, displacement and borders."""
    at = {name: float(node.value) for name, node in design.items() if node.unit.symbol in ("m", "kt")}
    astern = bool(facts["operates_astern"][0])
    length, bow, stern = at["rule_length_m"], at["bow_aft_m"], at["stern_forward_m"]
    given, lowest = at["displacement_upper_kt"], at["displacement_other_kt"]
    notes: list[tuple[bool, FindingCode, str, str]] = []
    text = f"stem to rudder {at['stem_to_rudder_m']:.3f} m, held at {length:.3f} m"
    notes.append((length != at["stem_to_rudder_m"], found.LENGTH_LIMITED, "ship length", text))
    text = f"{given:.3f} kt; bow formulas {at['displacement_bow_kt']:.3f} kt, others {lowest:.3f} kt"
    notes.append((given < lowest, found.DISPLACEMENT_FLOOR, "displacement", text))
    text = f"{bow:.2f} m aft of the stem; 10 degrees lie at {at['alpha_ten_aft_of_stem_m']:.2f} m"
    notes.append((bow != at["alpha_ten_aft_of_stem_m"], found.BORDER_LIMITED, "aft border of the bow", text))
    text = f"bow intermediate and stern meet {at['intermediate_aft_m']:.2f} m aft of the stem"
    notes.append((stern <= at["intermediate_aft_m"], found.NO_MIDBODY, "midbody", text))
    text = f"bow from {stern:.2f} m, bow intermediate from {at['astern_intermediate_m']:.2f} m aft of the stem"
    notes.append((astern, found.ASTERN, "aft part", text))
    written = override_for(STERN_FACTORS_KEY, areas.overrides)
    if written is not None and stern_factors_open(facts):
        notes.append((True, found.OVERRIDDEN, STERN_FACTORS_KEY, f"reason: {written.reason}"))
    return tuple(Finding(kind=kind, where=where, message=message) for holds, kind, where, message in notes if holds)
