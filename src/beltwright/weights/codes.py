"""The findings of weights, BW5xx."""

from __future__ import annotations

from beltwright.core.findings import Severity, register

NOT_WEIGHED = register(
    "BW501",
    Severity.NOTE,
    "Members without a scantling are not weighed",
    "No ice requirement stands there and none is given; give plates, frames or a floor in ship.toml to weigh them.",
)
CORRESPONDENCE_ONLY = register(
    "BW541",
    Severity.CAUTION,
    "Classes named side by side by a table are not of equal strength",
    "Each class follows from its own rules' loads. Where two classes are wanted, calculate both; ask class and flag.",
)
COST_ASSUMED = register(
    "BW542",
    Severity.CAUTION,
    "Prices are assumed",
    "Write your own prices under cost in ship.toml, or edit prices.csv and give it with --costs.",
)
EDITION_CHOSEN = register(
    "BW543",
    Severity.NOTE,
    "One edition of each document stands for its classes",
    "Change ice.rules or ship.contract_date in ship.toml to compare by another edition.",
)
BASE_NO_RESULT = register(
    "BW544",
    Severity.CAUTION,
    "The class that others are compared with has no result",
    "See its reason, or name another class with --base; deadweight and cost are compared once it can be designed.",
)
OTHER_SHELL = register(
    "BW545",
    Severity.CAUTION,
    "Classes weigh different parts of the shell",
    "Where a document asks for nothing, nothing is weighed. Give stock.floor_mm by the open-water rules to weigh all "
    "plating; frames without an ice requirement stay out.",
)
