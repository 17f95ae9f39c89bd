"""Tables 1.1 and 1.2 and 1.6.4: what an index means for a class, the limit of speed, and planning with an escort."""

from __future__ import annotations

import numpy as np

from beltwright.core.provenance import Status
from beltwright.core.units import Flag, Label
from beltwright.rules.polaris_imo_2016.documents import DOCUMENT
from beltwright.rules.polaris_imo_2016.quantities import Index, Knots
from beltwright.rules.polaris_imo_2016.tables import BAND_LIMITS, ESCORT, OPERATIONS, SPEEDS


@DOCUMENT.clause("Table 1.1", title="band of the index", symbol="band", status=Status.SECONDARY, table=BAND_LIMITS,
                 reads=({"band": "high"}, {"band": "middle"}))  # fmt: skip
def index_band(*, risk_index_outcome: Index) -> Label:
    """Band of an index (n,): high from 0 up, middle from -10 up, low below; NaN is low. Source: Table 1.1."""
    return np.where(
        risk_index_outcome >= BAND_LIMITS.numbers("high"),
        "high",
        np.where(risk_index_outcome >= BAND_LIMITS.numbers("middle"), "middle", "low"),
    )


@DOCUMENT.clause("Table 1.1", title="operation that the band stands for", symbol="operation", status=Status.SECONDARY,
                 table=OPERATIONS)  # fmt: skip
def operation(*, ice_class: Label, band: Label) -> Label:
    """What the band means for a class: normal operation, elevated risk or special consideration. Source: Table 1.1."""
    return OPERATIONS.words(ice_class, band)


@DOCUMENT.clause("Table 1.2", title="recommended limit of speed at elevated operational risk", symbol="v",
                 status=Status.SECONDARY, table=SPEEDS)  # fmt: skip
def elevated_speed(*, ice_class: Label) -> Knots:
    """Recommended limit of speed at elevated risk [kn], PC1 to PC7; other classes are an InputError.

    Source: Table 1.2 (an extract).
    """
    return SPEEDS.numbers(ice_class)


@DOCUMENT.clause("1.6.4", title="index for planning a voyage", symbol="RIO_plan", status=Status.SECONDARY, table=ESCORT,
                 reads=({"item": "escort"},), note="not under way: there the index is not changed")  # fmt: skip
def planning_index(*, risk_index_outcome: Index, escort_planned: Flag) -> Index:
    """Index for planning [-]: 10 more where the voyage is planned under escort (n,). Source: 1.6.4 (an extract)."""
    return np.where(escort_planned, risk_index_outcome + ESCORT.numbers("escort"), risk_index_outcome)
