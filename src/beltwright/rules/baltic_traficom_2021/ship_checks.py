"""What the document asks of the ship as a whole: engine output, forward draught in ice, clearance of the propeller."""

from __future__ import annotations

from typing import Final

from beltwright.core.chain import Chain, Columns, Step, Trace
from beltwright.core.errors import InputError
from beltwright.core.findings import Finding, FindingCode
from beltwright.rules import facts as vocabulary
from beltwright.rules.baltic_traficom_2021 import c2_draughts as c2
from beltwright.rules.baltic_traficom_2021 import c4_8_stern as c4_8
from beltwright.rules.baltic_traficom_2021 import facts_needed
from beltwright.rules.baltic_traficom_2021 import findings as found
from beltwright.rules.baltic_traficom_2021.hull_areas import needed
from beltwright.rules.baltic_traficom_2021.loads import DISPLACEMENT_T, POWER_KW
from beltwright.rules.baltic_traficom_2021.power import required_power
from beltwright.rules.protocol import InputLimit, ShipCheck, ShipChecks

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


def check_ship(facts: Columns) -> ShipChecks:
    """Return the checks of the ship; InputError for facts that are missing or cannot be, ScopeError beyond a clause."""
    for name, (least, most) in _LIMITS.items():
        columns = {name: needed(facts, name)}
        unit = _KNOWN[name].unit.symbol
        InputLimit(column=name, unit=unit, least=least, most=most).check("ship", columns)
    power = required_power(facts)
    trace = CHAIN.trace(facts)
    count = str(needed(facts, "propeller_count")[0])
    if count not in ("1", "2", "3"):
        raise InputError("ship: propeller_count", "number of propellers", value=count, allowed="1, 2, 3")

    def check(name: str, ref: str, output: str, offered: str, unit: str, given: Trace, called: str) -> ShipCheck:
        return ShipCheck(name=name, ref=f"FSICR {ref}", required=float(given[output].value),
                         offered=float(facts[offered][0]), unit=unit, trace=called, output=output,
                         fact=offered)  # fmt: skip

    outputs = [
        check(called, power.clause, "power_required_kw", "engine_power_kw", "kW", one, called)
        for called, one in power.traces.items()
    ]
    draught = check("forward draught in ice", "2.2", "forward_draught_least_m", "forward_draught_lower_m", "m", trace,
                    CHAIN.name)  # fmt: skip
    clearance = check("clearance of the propeller", "4.8", "propeller_clearance_least_m", "propeller_clearance_m", "m",
                      trace, CHAIN.name)  # fmt: skip
    governing = max(outputs, key=lambda one: one.required)
    kinds = ((found.POWER_SHORT, governing), (found.DRAUGHT_SHORT, draught), (found.CLEARANCE_SHORT, clearance))
    notes = [_short(kind, one) for kind, one in kinds if not one.ok]
    if count != "1":
        notes.append(Finding(kind=found.SIDE_PROPELLERS, where="stern", message=f"{count} propellers"))
    return ShipChecks(
        checks=(*outputs, draught, clearance),
        traces={**power.traces, CHAIN.name: trace},
        choices=power.choices,
        findings=(*power.findings, *notes),
    )


def _short(kind: FindingCode, check: ShipCheck) -> Finding:
    """A check that is not met, as a finding."""
    text = f"{check.offered:.2f} {check.unit} of {check.required:.2f} {check.unit} ({check.ref})"
    return Finding(kind=kind, where=check.name, message=text)
