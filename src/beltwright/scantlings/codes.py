"""The findings of scantlings, BW4xx."""

from __future__ import annotations

from beltwright.core.findings import Severity, register

PROPELLER_UNKNOWN = register(
    "BW430",
    Severity.NOTE,
    "Propeller immersion not checked",
    "Give propulsion.propeller_x_m and propeller_top_m; the lower ice waterline must keep the propeller submerged.",
)
PROPELLER_OUT = register(
    "BW431",
    Severity.CAUTION,
    "Propeller not submerged at the lower ice waterline",
    "Raise the lower ice waterline by ballast or trim, or take the case out of the ice operation.",
)
STEM_ABOVE_BASELINE = register(
    "BW432",
    Severity.NOTE,
    "Stem line does not reach the baseline",
    "The limit by the stem line's intersection with the baseline does not apply.",
)
ALLOWANCE_LARGE = register(
    "BW433",
    Severity.CAUTION,
    "The allowance for shell and appendages is large for this ship",
    "It is stated in tonnes of displacement; shell and appendages usually come to one or two hundredths of the whole.",
)
EDITION_AFTER_CONTRACT = register(
    "BW434",
    Severity.CAUTION,
    "The contract is older than the rule edition",
    "Use the edition in force on the contract date, or agree this one with class.",
)
EDITION_BEFORE_CONTRACT = register(
    "BW435",
    Severity.CAUTION,
    "The contract is younger than the rule edition",
    "A later edition is in force on the contract date: use it; the message names the rule set, if there is one.",
)
NO_CONTRACT_DATE = register(
    "BW436",
    Severity.CAUTION,
    "No contract date is given",
    "Give ship.contract_date: it decides which rule edition applies, and nothing here has checked that.",
)
FORWARD_PERPENDICULAR_ASSUMED = register(
    "BW437",
    Severity.NOTE,
    "The forward perpendicular is assumed",
    "This edition measures from it: give hull.length_between_perpendiculars_m if it lies elsewhere.",
)
REQUIREMENT_NOT_MET = register(
    "BW440",
    Severity.CAUTION,
    "A scantling does not meet its requirement",
    "See the member's explanation: raise the scantling, lower the spacing or span, or take a stronger grade.",
)
NO_CANDIDATE = register(
    "BW441",
    Severity.CAUTION,
    "No section of the catalogue meets every check",
    "The nearest section and the check it fails are named; lower the spacing or span, or give a section of your own.",
)
OUTSIDE_FORMULA = register(
    "BW442",
    Severity.CAUTION,
    "A member lies outside the rule formula",
    "The formula has no value for these proportions; the check counts as not met. See the member's explanation.",
)
GIVEN_NOT_USED = register(
    "BW443",
    Severity.CAUTION,
    "A given scantling is not used",
    "No member lies where this line of ship.toml points; check area, zone, frames and levels.",
)
SIMPLE_SUPPORT_IN_ICE = register(
    "BW446",
    Severity.CAUTION,
    "A frame end is simply supported inside an ice-strengthened area",
    "Fixity must be ensured there: carry the frame on through the support or bracket it to a supporting section.",
)
NOT_CHECKED = register(
    "BW447",
    Severity.CAUTION,
    "Members that are not checked here",
    "Web frames, load-carrying stringers, steel grades, hull girder and details are outside these results; web frames "
    "and stringers of a grillage need a direct calculation. Their checks must come from elsewhere before approval.",
)
THINNER_FORWARD = register(
    "BW444",
    Severity.NOTE,
    "A strake comes out thinner forward of a border than behind it",
    "Its factor is not smaller there, but its load patch differs: the message gives both. Upright bows spread a larger "
    "force over a taller patch; frames and stringers behind that patch need as much attention as the plate.",
)
BORDER_SENSITIVE = register(
    "BW445",
    Severity.NOTE,
    "A border depends on how the parallel side is measured",
    "The ends of the parallel side move with the tolerance; the report prints them from 0.1 to 10 mm.",
)
