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
KEEL_ABOVE_BASELINE = register(
    "BW438",
    Severity.CAUTION,
    "The keel line does not lie on the baseline",
    "The bow profile is taken to leave the keel line where it leaves its lowest height; check the fore foot.",
)
SIDE_NOT_READ = register(
    "BW439",
    Severity.CAUTION,
    "The parallel side cannot be read on some level waterlines",
    "The borders of the regions go on from the waterlines beside them; check them on the expansion.",
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
    "What the message names is not looked at in these results. Its check must come from elsewhere before approval.",
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
NO_NET_PLATE = register(
    "BW470",
    Severity.CAUTION,
    "A frame stands on no net plate",
    "The plate beside it is missing, or thinner than its addition for corrosion and abrasion: give a thicker plate.",
)
RESTS_ON_READING = register(
    "BW463",
    Severity.CAUTION,
    "A requirement rests on a reading of the rule that is not confirmed",
    "The stricter reading would ask for more: agree the one used with class, or raise the scantlings until the value "
    "named is no longer above its limit. The rule set's decisions give both readings.",
)
GIRDER_NOT_GIVEN = register(
    "BW450",
    Severity.CAUTION,
    "Longitudinal strength in ice: stresses not checked",
    "Give sections and permissible still-water loads under hull_girder; force, shear and moment stand without them.",
)
GIRDER_PARTLY = register(
    "BW451",
    Severity.CAUTION,
    "Longitudinal strength in ice: part of the length not checked",
    "Give a section of the hull girder at each end of the length in which ice brings shear or bending.",
)
GIRDER_NOT_MET = register(
    "BW452",
    Severity.CAUTION,
    "The hull girder does not meet a requirement of longitudinal strength in ice",
    "Raise the section modulus, shear area or plate named, or lower the permissible still-water loads for ice.",
)
RAMMING_NOT_CONSIDERED = register(
    "BW453",
    Severity.NOTE,
    "Longitudinal strength in ice is not applied to this bow",
    "The stem is too steep to ride up; agree with owner and class that the ship does not ram intentionally.",
)
BOW_FIT_LOOSE = register(
    "BW454",
    Severity.CAUTION,
    "The bow's waterline is no good power of the distance from the stem",
    "Look at the fit in the booklet; if it misleads, give hull_girder.bow_exponent with a reason.",
)
BOW_EXPONENT_GIVEN = register(
    "BW455",
    Severity.CAUTION,
    "A written reason puts another bow exponent in place of the fitted one",
    "Have the reason agreed by class; both exponents and both forces are shown.",
)
BUCKLING_NOT_GIVEN = register(
    "BW456",
    Severity.CAUTION,
    "Longitudinal strength in ice: no member is checked for buckling",
    "Give the plates and longitudinals of deck and side under hull_girder.plates and hull_girder.stiffeners.",
)
SUPPORTS_OPEN = register(
    "BW480",
    Severity.CAUTION,
    "Web frames or stringers are open",
    "Give their scantlings under web_frames and stringers; calculate them with the load cases of "
    "direct_calculation.csv and give the stresses and the calculation's name there. What is open is not met.",
)
SUPPORTS_BARE = register(
    "BW482",
    Severity.CAUTION,
    "Web frames or stringers have no scantlings",
    "Give their scantlings under web_frames and stringers; what is asked of them is in supports.csv. Until then they "
    "are open, never met.",
)
STEM_OPEN = register(
    "BW483",
    Severity.CAUTION,
    "The stem has no scantlings",
    "Give the stem's plates and floors under stem; what is asked of it is in stem.csv.",
)
PENETRATING_TOO_HIGH = register(
    "BW484",
    Severity.CAUTION,
    "The height of framing given for webs is more than that of the frames fitted",
    "A greater penetrating_height_mm makes the web look stockier: give the least depth of the frames that pass "
    "through, or leave it out where none does.",
)
CHECKLIST_OPEN = register(
    "BW481",
    Severity.CAUTION,
    "Clauses without a formula are not answered",
    "Answer each under checklist: done or not applicable, with a note. The items are listed in checklist.csv.",
)
