"""The findings of voyages, BW86x of ice and BW87x of cold."""

from __future__ import annotations

from typing import Final

from beltwright.core.findings import Severity, register

DECISION_SUPPORT: Final = register(
    "BW860",
    Severity.NOTE,
    "The index supports a decision and takes none",
    "POLARIS is no go/no-go tool. It knows nothing of ice pressure, ridges, drift, glacial ice or this hull's state.",
)
DECAYED_VALUES: Final = register(
    "BW861",
    Severity.CAUTION,
    "Values for decayed ice are used",
    "Decay must be confirmed by ice information or a qualified observer on board. The table comes from one extract: "
    "confirm it on the printed page.",
)
ESCORT_PLANNED: Final = register(
    "BW862",
    Severity.CAUTION,
    "The index is raised for a planned escort",
    "For planning only. Under way the index is that of the ice the ship actually meets, and is not raised.",
)
ELEVATED_RISK: Final = register(
    "BW863",
    Severity.CAUTION,
    "The class meets elevated operational risk on this route",
    "Avoid these places and dates, or have a contingency plan; keep the recommended limit of speed.",
)
SPECIAL_CONSIDERATION: Final = register(
    "BW864",
    Severity.CAUTION,
    "The class meets regimes that ask for special consideration",
    "Plan the voyage around them, choose another season, or a stronger class.",
)
INCOMPLETE_ROUTE: Final = register(
    "BW865",
    Severity.CAUTION,
    "Some points have no regime on some dates",
    "Shares count the point-days that are given; fill the gaps, or read the shares of such points with care.",
)
SHORT_RECORD: Final = register(
    "BW870",
    Severity.CAUTION,
    "The temperature record is shorter than ten years",
    "The Code lets other data stand only where the Administration accepts them; the written reason is printed.",
)
GAPS: Final = register(
    "BW871",
    Severity.CAUTION,
    "Days are missing in the temperature record",
    "A missing cold night makes the mean warmer. Fill the gaps from a neighbouring station or reanalysis.",
)
SERVICE_TEMPERATURE: Final = register(
    "BW872",
    Severity.CAUTION,
    "The declared polar service temperature is not low enough",
    "Set it at least 10 degrees below the lowest mean daily low temperature, or choose another season or area.",
)
LOW_AIR_TEMPERATURE: Final = register(
    "BW873",
    Severity.NOTE,
    "The ship is one for low air temperature",
    "A polar service temperature must be set and material and equipment chosen for it.",
)
COLDER_LEAP_DAY: Final = register(
    "BW874",
    Severity.CAUTION,
    "29 February is colder than the lowest mean",
    "It is left out, since it has a quarter of the readings; consider a lower temperature.",
)
