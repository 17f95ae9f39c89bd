"""Tables 1.3 and 1.4 and the index: what each ice type is worth to a class, and what a regime adds up to.

Concentrations are in tenths and must add up to ten, the part that is free of ice included.
"""

from __future__ import annotations

import numpy as np

from beltwright.core.provenance import Status
from beltwright.core.units import Flag, Label
from beltwright.rules.polaris_imo_2016.documents import DOCUMENT
from beltwright.rules.polaris_imo_2016.quantities import Index, Tenths
from beltwright.rules.polaris_imo_2016.tables import RISK_VALUES


@DOCUMENT.clause("1.1.3", title="which table of risk values holds", symbol="table", status=Status.SECONDARY,
                 note="decay must be confirmed by ice information or a qualified observer on board")  # fmt: skip
def ice_state(*, decay_confirmed: Flag) -> Label:
    """Which table holds: that for decayed ice only where decay is confirmed (n,). Source: 1.1.3, an extract."""
    return np.where(decay_confirmed, "decayed", "standard")


@DOCUMENT.clause("Tables 1.3, 1.4", title="risk index value", symbol="RIV", status=Status.SECONDARY, table=RISK_VALUES)
def risk_value(*, ice_state: Label, ice_class: Label, ice_type: Label) -> Index:
    """Risk index value of an ice type for a class [-]; the three words broadcast. Source: Tables 1.3 and 1.4."""
    return RISK_VALUES.numbers(ice_state, ice_class, ice_type)


@DOCUMENT.clause("RIO", title="risk index outcome", symbol="RIO", status=Status.TEXT,
                 note="summed over the ice types of the regime")  # fmt: skip
def risk_index_outcome(*, concentration_tenths: Tenths, risk_value: Index) -> Index:
    """Risk index outcome of a regime [-]: the sum of concentration times risk value over the ice types.

    The ice types lie along the first axis of both, which otherwise broadcast: (12, n) and (12, 1) give (n,). Arrays of
    eight-bit integers keep that type, which is exact as long as the concentrations add up to ten: the sum then lies
    within -80 and 30. Source: the introduction of the circular's appendix (text).

    >>> import numpy as np
    >>> tenths, values = np.array([[9.0], [1.0]]), np.array([[2.0], [1.0]])  # PC4 in medium and thick first-year ice
    >>> risk_index_outcome(concentration_tenths=tenths, risk_value=values)
    array([19.])
    """
    return np.asarray(
        np.sum(concentration_tenths * risk_value, axis=0, dtype=np.result_type(concentration_tenths, risk_value))
    )
