"""The findings of sizing, BW8xx."""

from __future__ import annotations

from beltwright.core.findings import Severity, register

NO_ROOM_TO_TAPER = register(
    "BW801",
    Severity.CAUTION,
    "A change of thickness has no room for its taper",
    "Lay the plates otherwise, bound the step between neighbours, or put a plate of a thickness in between.",
)
