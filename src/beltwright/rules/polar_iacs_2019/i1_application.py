"""UR I1: the classes, and the notation for ships that escort and manage ice."""

from __future__ import annotations

from typing import Final

import numpy as np

from beltwright.core.provenance import Status
from beltwright.core.units import Flag, Label
from beltwright.rules.polar_iacs_2019.documents import DOCUMENT_I1

CLASSES: Final = ("PC1", "PC2", "PC3", "PC4", "PC5", "PC6", "PC7")
SHAPE_FOLLOWS_ANY_BOW: Final = ("PC6", "PC7")


@DOCUMENT_I1.clause("I1.1.3", title="notation that chooses the table of area factors", symbol="notation",
                    status=Status.TEXT)  # fmt: skip
def notation(*, icebreaker: Flag) -> Label:
    """Which area factors apply: those of ships with the additional notation Icebreaker, or the general ones."""
    return np.where(icebreaker, "icebreaker", "general")
