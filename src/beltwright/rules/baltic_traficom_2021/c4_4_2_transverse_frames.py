"""4.4.1 and 4.4.2: which frames are strengthened, and transverse frames."""

from __future__ import annotations

import numpy as np

from beltwright.core.provenance import Status
from beltwright.core.units import Cm2, Cm3, Flag, Label, Metres, MPa, Ratio
from beltwright.rules.baltic_traficom_2021.documents import DOCUMENT
from beltwright.rules.baltic_traficom_2021.tables import TRANSVERSE_BOUNDARY


@DOCUMENT.clause("4.4.1", title="whether the area asks for strengthened framing", symbol="framing",
                 status=Status.TEXT)  # fmt: skip
def framing_asked(*, load_area: Label) -> Flag:
    """Whether framing is strengthened there: everywhere but in the fore foot below the top of floors.

    Source: FSICR 2021, 4.4.1 (text).
    """
    return np.asarray(load_area != "FK")


@DOCUMENT.clause("4.4.2", title="whether the requirement on transverse frames holds", symbol="holds",
                 status=Status.TEXT)  # fmt: skip
def transverse_holds(*, framing_asked: Flag, transverse_counts: Flag, strengthened_share: Ratio) -> Flag:
    """Whether a transverse frame is strengthened: 15 per cent of its span or more lies in the zone for framing.

    Source: FSICR 2021, 4.4.2 (text).
    """
    return framing_asked & transverse_counts & (strengthened_share >= 0.15)


@DOCUMENT.clause("4.4.2 Table 4-7", title="boundary condition of transverse frames", symbol="m_0", status=Status.TEXT,
                 table=TRANSVERSE_BOUNDARY)  # fmt: skip
def boundary_transverse(*, boundary: Label) -> Ratio:
    """Factor m_0 of the frame's boundary conditions [-], load at mid-span. Source: FSICR 2021, Table 4-7 (text)."""
    return TRANSVERSE_BOUNDARY.numbers(boundary)


@DOCUMENT.clause("4.4.2", title="factor for the bending moment", symbol="m_t", status=Status.TEXT,
                 note="a load higher than the span is out of scope; taken as high as the span")  # fmt: skip
def moment_factor_transverse(*, boundary_transverse: Ratio, load_height_m: Metres, span_m: Metres) -> Ratio:
    """Factor m_t of a transverse frame [-]. Source: FSICR 2021, 4.4.2 (text)."""
    return 7.0 * boundary_transverse / (7.0 - 5.0 * np.minimum(load_height_m / span_m, 1.0))


@DOCUMENT.clause("4.4.2", title="section modulus required, transverse", symbol="Z", status=Status.TEXT)
def modulus_transverse(
    *,
    pressure_mpa: MPa,
    spacing_m: Metres,
    load_height_m: Metres,
    span_m: Metres,
    moment_factor_transverse: Ratio,
    yield_mpa: MPa,
) -> Cm3:
    """Section modulus required of a transverse frame [cm3]. Source: FSICR 2021, 4.4.2 (text)."""
    return pressure_mpa * spacing_m * load_height_m * span_m / (moment_factor_transverse * yield_mpa) * 1e6


@DOCUMENT.clause("4.4.2", title="shear area required, transverse", symbol="A", status=Status.TEXT)
def shear_area_transverse(*, pressure_mpa: MPa, load_height_m: Metres, spacing_m: Metres, yield_mpa: MPa) -> Cm2:
    """Effective shear area required of a transverse frame [cm2]; f_3 = 1.2. Source: FSICR 2021, 4.4.2 (text)."""
    return np.asarray(np.sqrt(3.0) * 1.2 * pressure_mpa * load_height_m * spacing_m / (2.0 * yield_mpa) * 1e4)
