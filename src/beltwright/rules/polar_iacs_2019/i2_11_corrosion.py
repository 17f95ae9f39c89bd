"""UR I2.11: additions for corrosion and abrasion."""

from __future__ import annotations

import numpy as np

from beltwright.core.provenance import Status
from beltwright.core.units import Flag, Label, Millimetres
from beltwright.rules.polar_iacs_2019.documents import DOCUMENT
from beltwright.rules.polar_iacs_2019.tables import ADDITIONS, INTERNAL_ADDITION


@DOCUMENT.clause("I2.11.1", title="columns of Table 6", symbol="protection", status=Status.MEMORY)
def protection(*, effective_protection: Flag) -> Label:
    """Which half of Table 6 applies: with effective protection against corrosion and abrasion, or without."""
    return np.where(effective_protection, "protected", "unprotected")


@DOCUMENT.clause("I2.11.2", title="addition for corrosion and abrasion", symbol="t_s", status=Status.MEMORY,
                 table=ADDITIONS)  # fmt: skip
def shell_addition(*, ice_class: Label, hull_area: Label, protection: Label) -> Millimetres:
    """Addition for corrosion and abrasion of shell plating [mm]. Source: UR I2 Table 6, recalled."""
    return ADDITIONS.numbers(ice_class, hull_area, protection)


@DOCUMENT.clause("I2.11.3", title="least addition for internal structure", symbol="t_s,int", status=Status.TEXT,
                 table=INTERNAL_ADDITION)  # fmt: skip
def internal_addition(*, structure: Label) -> Millimetres:
    """Least addition for internal structure, ``structure`` = "internal" [mm]. Source: UR I2.11.3 (text)."""
    return INTERNAL_ADDITION.numbers(structure)


@DOCUMENT.clause("I2.11.4", title="renewal below", symbol="t_ren", status=Status.TEXT,
                 note="of a frame, the net thickness of its checks counts: decision D21")  # fmt: skip
def renewal_thickness(*, in_scope: Flag, thickness_net_mm: Millimetres) -> Millimetres:
    """Thickness below which steel is renewed [mm]: half a millimetre over the net thickness.

    Where the formula of the net thickness has no value, no gauged thickness suffices. Source: UR I2.11.4 (text).
    """
    return np.where(in_scope, thickness_net_mm + 0.5, np.inf)
