"""What the document asks of the ship as a whole: engine output, forward draught in ice, clearance of the propeller."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Final

from beltwright.core.chain import Chain, Columns, Step, Trace
from beltwright.core.errors import InputError
from beltwright.core.findings import Finding, FindingCode
from beltwright.core.outcome import Check
from beltwright.rules import facts as vocabulary
from beltwright.rules.baltic_traficom_2021 import c2_draughts as c2
from beltwright.rules.baltic_traficom_2021 import c4_8_stern as c4_8
from beltwright.rules.baltic_traficom_2021 import facts_needed
from beltwright.rules.baltic_traficom_2021 import findings as found
from beltwright.rules.baltic_traficom_2021.hull_areas import needed
from beltwright.rules.baltic_traficom_2021.loads import DISPLACEMENT_T, POWER_KW
from beltwright.rules.baltic_traficom_2021.power import required_power
from beltwright.rules.protocol import InputLimit

_KNOWN: Final = {q.name: q for q in (*vocabulary.SHIP, *facts_needed.SHIP)}
_LIMITS: Final = {
    "displacement_upper_t": DISPLACEMENT_T,
    "engine_power_kw": POWER_KW,
    "forward_draught_lower_m": (0.0, 50.0),
    "propeller_clearance_m": (0.0, 50.0),
}
CHAIN: Final = Chain(
    "draught and clearance",
    [_KNOWN["ice_class"], _KNOWN["displacement_upper_t"]],
    (
        Step(output="ice_thickness_m", clause=c2.ice_thickness),
        Step(output="forward_draught_least_m", clause=c2.least_forward_draught),
        Step(output="propeller_clearance_least_m", clause=c4_8.least_propeller_clearance),
    ),
)


@dataclass(frozen=True, slots=True, kw_only=True)
class ShipChecks:
    """The checks of the ship as a whole, with the calculation behind each."""

    checks: tuple[Check, ...]
    traces: Mapping[str, Trace]
    choices: tuple[str, ...]
    findings: tuple[Finding, ...]


def check_ship(facts: Columns) -> ShipChecks:
    """Return the checks of the ship; InputError for facts that are missing or cannot be, ScopeError beyond a clause."""
    for name, (least, most) in _LIMITS.items():
        columns = {name: needed(facts, name)}
        unit = _KNOWN[name].unit.symbol
        InputLimit(column=name, unit=unit, least=least, most=most).check("ship", columns)
    power = required_power(facts)
    trace = CHAIN.trace(facts)

    def offered(name: str) -> float:
        return float(facts[name][0])

    checks = (
        Check(name="engine output", ref=f"FSICR {power.clause}", required=power.required_kw,
              offered=offered("engine_power_kw"), unit="kW"),
        Check(name="forward draught in ice", ref="FSICR 2.2", required=float(trace["forward_draught_least_m"].value),
              offered=offered("forward_draught_lower_m"), unit="m"),
        Check(name="clearance of the propeller", ref="FSICR 4.8",
              required=float(trace["propeller_clearance_least_m"].value), offered=offered("propeller_clearance_m"),
              unit="m"),
    )  # fmt: skip
    kinds = (found.POWER_SHORT, found.DRAUGHT_SHORT, found.CLEARANCE_SHORT)
    notes = [_short(kind, check) for kind, check in zip(kinds, checks, strict=True) if not check.ok]
    count = str(needed(facts, "propeller_count")[0])
    if count not in ("1", "2", "3"):
        raise InputError("ship: propeller_count", "number of propellers", value=count, allowed="1, 2, 3")
    if count != "1":
        notes.append(Finding(kind=found.SIDE_PROPELLERS, where="stern", message=f"{count} propellers"))
    return ShipChecks(
        checks=checks,
        traces={**power.traces, "draught and clearance": trace},
        choices=power.choices,
        findings=(*power.findings, *notes),
    )


def _short(kind: FindingCode, check: Check) -> Finding:
    """A check that is not met, as a finding."""
    text = f"{check.offered:.2f} {check.unit} of {check.required:.2f} {check.unit} ({check.ref})"
    return Finding(kind=kind, where=check.name, message=text)
