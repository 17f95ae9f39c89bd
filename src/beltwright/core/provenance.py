"""How far a value is known: confirmed from the document, or recalled, or our own choice."""

from __future__ import annotations

from enum import Enum


class Status(Enum):
    """The standing of a value or clause; everything not ``confirmed`` is listed in the booklet."""

    PRINTED = "printed"  # seen on the printed page
    TEXT = "text"  # read in a retrieved text of the document itself
    SECONDARY = "secondary"  # read in another publication that reproduces it
    MEMORY_CHECKED = "memory-checked"  # recalled, and consistent with an independent derivation
    MEMORY = "memory"  # recalled only
    COMPUTED = "computed"  # follows from other values by calculation
    CHOICE = "choice"  # a decision of this program, written down where it is taken

    @property
    def confirmed(self) -> bool:
        """Whether the value has been read in the document or follows from confirmed ones."""
        return self in (Status.PRINTED, Status.TEXT, Status.COMPUTED)
