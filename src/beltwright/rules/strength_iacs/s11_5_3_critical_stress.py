"""UR S11.5.3: critical buckling stresses, the elastic ones corrected for yielding above half the yield stress."""

from __future__ import annotations

import numpy as np

from beltwright.core.provenance import Status
from beltwright.core.units import MPa
from beltwright.rules.strength_iacs.documents import DOCUMENT


@DOCUMENT.clause("S11.5.3.1", title="critical buckling stress", symbol="sigma_c", status=Status.MEMORY)
def critical_compression(*, elastic_mpa: MPa, yield_mpa: MPa) -> MPa:
    """Critical stress in compression [N/mm2]: elastic up to half the yield stress, then by Johnson and Ostenfeld.

    Source: UR S11.5.3.1, recalled.
    """
    return np.where(elastic_mpa <= yield_mpa / 2.0, elastic_mpa, yield_mpa * (1.0 - yield_mpa / (4.0 * elastic_mpa)))


@DOCUMENT.clause("S11.5.3.2", title="yield stress in shear", symbol="tau_F", status=Status.MEMORY)
def shear_yield(*, yield_mpa: MPa) -> MPa:
    """Yield stress in shear [N/mm2], the yield stress over the root of three. Source: UR S11.5.3.2, recalled."""
    return yield_mpa / np.sqrt(3.0)  # type: ignore[no-any-return]


@DOCUMENT.clause("S11.5.3.2", title="critical buckling stress in shear", symbol="tau_c", status=Status.MEMORY)
def critical_shear(*, elastic_shear_mpa: MPa, shear_yield_mpa: MPa) -> MPa:
    """Critical stress in shear [N/mm2]: elastic up to half the yield stress in shear, then corrected.

    Source: UR S11.5.3.2, recalled.
    """
    corrected = shear_yield_mpa * (1.0 - shear_yield_mpa / (4.0 * elastic_shear_mpa))
    return np.where(elastic_shear_mpa <= shear_yield_mpa / 2.0, elastic_shear_mpa, corrected)
