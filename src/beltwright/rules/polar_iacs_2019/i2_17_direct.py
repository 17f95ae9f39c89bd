"""UR I2.17: direct calculation of web frames and load-carrying stringers: when, with which load, up to what."""

from __future__ import annotations

import numpy as np

from beltwright.core.provenance import Status
from beltwright.core.units import MN, Flag, Metres, MPa
from beltwright.rules.polar_iacs_2019.documents import DOCUMENT


@DOCUMENT.clause("I2.17.2", title="whether direct calculation is required", symbol="direct", status=Status.TEXT)
def direct_required(*, part_of_grillage: Flag) -> Flag:
    """Whether a web frame or load-carrying stringer is calculated directly: in a grillage. Source: I2.17.2 (text)."""
    return np.asarray(part_of_grillage)


@DOCUMENT.clause("I2.17.3", title="force of the whole load patch", symbol="F_patch", status=Status.MEMORY,
                 note="the patch of I2.3 alone, no other load with it")  # fmt: skip
def patch_force(*, support_pressure_mpa: MPa, patch_height_m: Metres, patch_width_m: Metres) -> MN:
    """Force of the load patch at its design pressure [MN]. Source: UR I2.17.3, recalled."""
    return support_pressure_mpa * patch_height_m * patch_width_m


@DOCUMENT.clause("I2.17.5", title="limit of the nominal shear stress in webs", symbol="tau_max", status=Status.TEXT,
                 note="linear calculation; 'less than' counts as met at the limit itself, see D33")  # fmt: skip
def shear_limit(*, yield_mpa: MPa) -> MPa:
    """Limit of the nominal shear stress in webs, linear calculation [MPa]. Source: UR I2.17.5 (text)."""
    return np.asarray(yield_mpa / np.sqrt(3.0))


@DOCUMENT.clause("I2.17.5", title="limit of the von Mises stress in flanges", symbol="sigma_max", status=Status.TEXT,
                 note="linear calculation; 'less than' counts as met at the limit itself, see D33")  # fmt: skip
def von_mises_limit(*, yield_mpa: MPa) -> MPa:
    """Limit of the nominal von Mises stress in flanges, linear calculation [MPa]. Source: UR I2.17.5 (text)."""
    return 1.15 * yield_mpa
