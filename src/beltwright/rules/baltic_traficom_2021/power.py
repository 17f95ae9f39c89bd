"""The engine output that a ship needs: by 3.2.2, by 3.2.4 for existing ships, or by Annex II for older IB and IC ships.

The first two are worked out at the upper and at the lower ice waterline; the greater output counts.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Final

import numpy as np

from beltwright.core.chain import Chain, Columns, Quantity, Step, Trace
from beltwright.core.errors import InputError, ScopeError
from beltwright.core.findings import Finding
from beltwright.core.units import FloatArray
from beltwright.rules import facts as vocabulary
from beltwright.rules.baltic_traficom_2021 import annex_ii_power as annex
from beltwright.rules.baltic_traficom_2021 import c3_2_2_power as c3
from beltwright.rules.baltic_traficom_2021 import c3_2_4_existing_power as existing
from beltwright.rules.baltic_traficom_2021 import facts_needed
from beltwright.rules.baltic_traficom_2021 import findings as found
from beltwright.rules.baltic_traficom_2021.hull_areas import needed
from beltwright.rules.baltic_traficom_2021.tables import RANGES
from beltwright.rules.protocol import InputLimit

NEW: Final = "3.2.2"
EXISTING: Final = "3.2.4"
ANNEX: Final = "Annex II"
CLASSES_OF: Final = {NEW: ("IA Super", "IA", "IB", "IC"), EXISTING: ("IA Super", "IA"), ANNEX: ("IB", "IC")}
DRAUGHTS: Final = ("upper", "lower")

_KNOWN: Final = {
    q.name: q
    for q in (*vocabulary.SHIP, *facts_needed.SHIP, *facts_needed.POWER, *facts_needed.POWER_DRAUGHTS)
}  # fmt: skip


def _inputs(*names: str) -> list[Quantity]:
    """Inputs of a chain by name."""
    return [_KNOWN[name] for name in names]


_LAST_STEPS: Final = (
    Step(output="propeller_factor", clause=c3.propeller_factor),
    Step(output="power_by_resistance_kw", clause=c3.power_by_resistance),
    Step(output="least_power_kw", clause=c3.least_power),
    Step(output="power_required_kw", clause=c3.power_required),
)
NEW_CHAIN: Final = Chain(
    "engine output",
    _inputs("ice_class", "bulbous_bow", "propeller_count", "drive", "propeller_diameter_m", "perpendicular_length_m",
            "breadth_m", "draught_m", "bow_length_m", "parallel_length_m", "bow_waterline_area_m2",
            "waterline_angle_quarter_deg", "stem_rake_deg", "bow_rake_quarter_deg"),
    (
        Step(output="stem_rake_used_deg", clause=c3.stem_rake_used),
        Step(output="flare_angle_deg", clause=c3.flare_angle),
        Step(output="bow_shape_factor", clause=c3.bow_shape_factor),
        Step(output="flare_factor", clause=c3.flare_factor),
        Step(output="channel_thickness_m", clause=c3.channel_thickness),
        Step(output="displaced_thickness_m", clause=c3.displaced_thickness),
        Step(output="layer_breaking_n", clause=c3.layer_breaking),
        Step(output="layer_sliding_n", clause=c3.layer_sliding),
        Step(output="brash_at_bow_n", clause=c3.brash_at_bow),
        Step(output="brash_along_side_n", clause=c3.brash_along_side),
        Step(output="slenderness_cube", clause=c3.slenderness_cube),
        Step(output="bow_area_resistance_n", clause=c3.bow_area_resistance),
        Step(output="channel_resistance_n", clause=c3.channel_resistance),
        *_LAST_STEPS,
    ),
)  # fmt: skip
EXISTING_CHAIN: Final = Chain(
    "engine output of existing ships",
    _inputs("ice_class", "bulbous_bow", "propeller_count", "drive", "propeller_diameter_m", "perpendicular_length_m",
            "breadth_m", "draught_m"),
    (
        Step(output="bow", clause=existing.existing_bow),
        Step(output="existing_breaking_factor", clause=existing.existing_breaking_factor),
        Step(output="existing_sliding_factor", clause=existing.existing_sliding_factor),
        Step(output="channel_thickness_m", clause=c3.channel_thickness),
        Step(output="displaced_thickness_m", clause=c3.displaced_thickness),
        Step(output="layer_breaking_n", clause=existing.existing_layer_breaking),
        Step(output="layer_sliding_n", clause=existing.existing_layer_sliding),
        Step(output="slenderness_cube", clause=c3.slenderness_cube),
        Step(output="channel_resistance_n", clause=existing.existing_resistance),
        *_LAST_STEPS,
    ),
)  # fmt: skip
ANNEX_CHAIN: Final = Chain(
    "engine output by Annex II",
    _inputs("ice_class", "bulbous_bow", "drive", "breadth_m", "stem_rake_deg", "displacement_upper_t"),
    (
        Step(output="annex_propeller_factor", clause=annex.annex_propeller_factor),
        Step(output="annex_stem_factor", clause=annex.annex_stem_factor),
        Step(output="annex_shape_product", clause=annex.annex_shape_product),
        Step(output="annex_displacement_t", clause=annex.annex_displacement),
        Step(output="annex_breadth_factor", clause=annex.annex_breadth_factor),
        Step(output="displacement", clause=annex.annex_half),
        Step(output="annex_displacement_factor", clause=annex.annex_displacement_factor),
        Step(output="annex_fixed_power_kw", clause=annex.annex_fixed_power),
        Step(output="power_required_kw", clause=annex.annex_power_required),
    ),
)
CHAINS: Final = {NEW: NEW_CHAIN, EXISTING: EXISTING_CHAIN, ANNEX: ANNEX_CHAIN}

_LIMITS: Final = {
    "propeller_diameter_m": (0.1, 20.0),
    "perpendicular_length_m": (1.0, 1000.0),
    "breadth_m": (1.0, 200.0),
    "draught_m": (0.1, 50.0),
    "bow_length_m": (0.0, 1000.0),
    "parallel_length_m": (0.0, 1000.0),
    "bow_waterline_area_m2": (0.0, 1e5),
    "waterline_angle_quarter_deg": (0.1, 90.0),
    "stem_rake_deg": (0.1, 90.0),
    "bow_rake_quarter_deg": (0.1, 90.0),
    "displacement_upper_t": (50.0, 1e6),
}


@dataclass(frozen=True, slots=True, kw_only=True)
class RequiredPower:
    """The engine output required: the greater of the draughts, the trace at each, and what the engineer must see."""

    required_kw: float
    clause: str
    traces: Mapping[str, Trace]
    choices: tuple[str, ...]
    findings: tuple[Finding, ...]


def required_power(facts: Columns) -> RequiredPower:
    """Return the engine output required by the clause named in ``power_basis``.

    Facts that differ by draught have two values, at the upper and at the lower ice waterline; Annex II reads the first.
    Raises InputError for facts that are missing or cannot be, ScopeError for a class that the clause is not for.
    """
    basis = str(needed(facts, "power_basis")[0])
    if basis not in CHAINS:
        raise InputError("ship: power_basis", "no such clause", value=basis, allowed=", ".join(CHAINS))
    ice_class = str(needed(facts, "ice_class")[0])
    if ice_class not in CLASSES_OF[basis]:
        raise ScopeError("engine output", f"{basis} is for {' and '.join(CLASSES_OF[basis])}, the ship is {ice_class}",
                         ref=f"FSICR {basis}")  # fmt: skip
    columns = _columns(CHAINS[basis], facts, basis)
    rows = DRAUGHTS[:1] if basis == ANNEX else DRAUGHTS
    traces = {f"engine output, {row} ice waterline": CHAINS[basis].trace(columns, n) for n, row in enumerate(rows)}
    powers = [float(trace["power_required_kw"].value) for trace in traces.values()]
    governing = rows[int(np.argmax(powers))]
    return RequiredPower(
        required_kw=max(powers),
        clause=basis,
        traces=traces,
        choices=(f"engine output by {basis}, governed by the {governing} ice waterline",),
        findings=outside_ranges(columns) if basis == NEW else (_existing(basis),),
    )


def _existing(basis: str) -> Finding:
    """What to see where the engine output is held by a clause for existing ships."""
    return Finding(kind=found.EXISTING_SHIP, where="engine output", message=f"by {basis}")


def _columns(chain: Chain, facts: Columns, basis: str) -> dict[str, FloatArray]:
    """The columns of a chain, checked: of length 1, or 2 where a fact differs by draught."""
    columns: dict[str, FloatArray] = {}
    draughts = {q.name for q in facts_needed.POWER_DRAUGHTS}
    for name, quantity in chain.inputs.items():
        values = needed(facts, name)
        if name in draughts:
            if len(values) != len(DRAUGHTS):
                raise InputError(f"ship: {name}", "one value at each ice waterline", value=len(values),
                                 allowed="2 values: upper, lower")  # fmt: skip
            values = values[:1] if basis == ANNEX else values
        columns[name] = values
        if name in _LIMITS:
            least, most = _LIMITS[name]
            InputLimit(column=name, unit=quantity.unit.symbol, least=least, most=most).check("engine output", columns)
    return columns


def outside_ranges(columns: Columns) -> tuple[Finding, ...]:
    """Return a finding for each quantity that lies outside the range recalled for 3.2.2, at either draught."""
    length, breadth = columns["perpendicular_length_m"], columns["breadth_m"]
    shown = {
        "alpha": columns["waterline_angle_quarter_deg"],
        "phi1": columns["stem_rake_deg"],
        "phi2": columns["bow_rake_quarter_deg"],
        "L": length,
        "B": breadth,
        "T": columns["draught_m"],
        "L_BOW/L": columns["bow_length_m"] / length,
        "L_PAR/L": columns["parallel_length_m"] / length,
        "D_p/T": columns["propeller_diameter_m"] / columns["draught_m"],
        "A_wf/(L B)": columns["bow_waterline_area_m2"] / (length * breadth),
    }
    notes = []
    for quantity, values in shown.items():
        least, most = (float(RANGES.numbers(quantity, end)) for end in ("least", "most"))
        outside = values[(values < least) | (values > most)]
        if len(outside):
            text = f"{float(outside[0]):.3g}; {least:g} to {most:g} {RANGES.cell(quantity, 'least').note}"
            notes.append(Finding(kind=found.OUTSIDE_RANGE, where=f"engine output: {quantity}", message=text))
    return tuple(notes)
