"""Whether the rule set's edition is the one that applies to the contract, and what it differs from."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from beltwright.core.clause import Document
from beltwright.core.findings import Findings
from beltwright.rules.facts import FORWARD_PERPENDICULAR
from beltwright.rules.protocol import EditionDifference, RuleSet
from beltwright.rules.registry import differences, editions_for
from beltwright.scantlings import codes
from beltwright.ship.model import Ship

FIELD = "ship.toml: ship.contract_date"


@dataclass(frozen=True, slots=True, kw_only=True)
class EditionUsed:
    """The edition behind a design: contract date against the documents' dates in words, and what editions differ in."""

    rule_set: str
    contract: str
    standing: str
    differences: tuple[EditionDifference, ...]


def edition_used(rules: RuleSet, ship: Ship) -> EditionUsed:
    """Return which edition a design used, whether it applies to the contract, and what differs from other editions."""
    signed = ship.ship.contract_date
    return EditionUsed(
        rule_set=rules.id,
        contract="not stated" if signed is None else signed.isoformat(),
        standing=_standing(rules, signed),
        differences=differences(rules.id),
    )


def _standing(rules: RuleSet, signed: date | None) -> str:
    """Whether the edition applies to the contract, in words."""
    if signed is None:
        return "not known: no contract date is stated"
    wrong = [document for document in rules.documents if not document.applies_to(signed)]
    if wrong:
        return "does not apply: " + "; ".join(f"{_named(one)} is for {one.applicability}" for one in wrong)
    dated = [_named(one) for one in rules.documents if one.applies_from is not None]
    return f"applies by the dates of {', '.join(dated)}" if dated else "not known: the documents carry no dates"


def _named(document: Document) -> str:
    """A document with its edition."""
    return f"{document.short} {document.edition}"


def check_edition(rules: RuleSet, ship: Ship, findings: Findings) -> None:
    """Name an edition that does not apply to the contract date, a missing date, and an assumed forward perpendicular.

    The finding says which registered rule sets hold the edition for that date.
    """
    signed = ship.ship.contract_date
    if signed is None and any(one.applies_from is not None for one in rules.documents):
        findings.add(codes.NO_CONTRACT_DATE, FIELD, f"rule set {rules.id} is used")
    for document in rules.documents:
        if signed is None or document.applies_to(signed):
            continue
        late = document.applies_until is not None and signed >= document.applies_until
        fitting = editions_for(document.short, signed)
        findings.add(
            codes.EDITION_BEFORE_CONTRACT if late else codes.EDITION_AFTER_CONTRACT, FIELD,
            f"{signed.isoformat()}; {_named(document)} is for {document.applicability}; the edition for this date: "
            f"{', '.join(fitting) or 'no rule set of this program'}",
        )  # fmt: skip
    asks = any(quantity.name == FORWARD_PERPENDICULAR.name for quantity in rules.facts)
    if asks and ship.hull.length_between_perpendiculars_m is None:
        findings.add(
            codes.FORWARD_PERPENDICULAR_ASSUMED, "ship.toml: hull.length_between_perpendiculars_m",
            "not given; taken at the fore side of the stem at the upper ice waterline",
        )  # fmt: skip
