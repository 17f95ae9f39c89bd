"""4.4.3: longitudinal frames."""

from __future__ import annotations

import numpy as np

from beltwright.core.provenance import Status
from beltwright.core.units import Cm2, Cm3, Flag, Label, Metres, MPa, Ratio
from beltwright.rules.baltic_traficom_2021.documents import DOCUMENT
from beltwright.rules.baltic_traficom_2021.tables import LONGITUDINAL_BOUNDARY


@DOCUMENT.clause("4.4.3", title="whether the requirement on longitudinal frames holds", symbol="holds",
                 status=Status.TEXT)  # fmt: skip
def longitudinal_holds(*, framing_asked: Flag, longitudinal_counts: Flag) -> Flag:
    """Whether a longitudinal frame is strengthened. Source: FSICR 2021, 4.4.1 (text)."""
    return framing_asked & longitudinal_counts


@DOCUMENT.clause("4.4.3", title="boundary condition with brackets at both ends", symbol="m", status=Status.TEXT,
                 table=LONGITUDINAL_BOUNDARY)  # fmt: skip
def boundary_longitudinal(*, ends: Label) -> Ratio:
    """Factor m of a continuous beam with brackets, ``ends`` = "continuous with brackets" [-]. FSICR 2021, 4.4.3."""
    return LONGITUDINAL_BOUNDARY.numbers(ends)


@DOCUMENT.clause("4.4.3", title="boundary condition taken", symbol="m", status=Status.TEXT,
                 note="where the ends deviate the text asks for a smaller m and gives no number")  # fmt: skip
def boundary_taken(*, agreed_boundary: Ratio, boundary_longitudinal: Ratio) -> Ratio:
    """Factor m taken [-]: 13.3, or a smaller one agreed for other ends (0: none). FSICR 2021, 4.4.3."""
    return np.where(agreed_boundary > 0.0, np.minimum(agreed_boundary, boundary_longitudinal), boundary_longitudinal)


@DOCUMENT.clause("4.4.3", title="load taken by neighbouring frames", symbol="f_4", status=Status.TEXT)
def neighbour_factor(*, load_height_m: Metres, spacing_m: Metres) -> Ratio:
    """Factor f_4 for the load that neighbouring frames take [-]. Source: FSICR 2021, 4.4.3 (text)."""
    return 1.0 - 0.2 * load_height_m / spacing_m


@DOCUMENT.clause("4.4.3", title="section modulus required, longitudinal", symbol="Z", status=Status.TEXT)
def modulus_longitudinal(
    *,
    neighbour_factor: Ratio,
    pressure_mpa: MPa,
    load_height_m: Metres,
    span_m: Metres,
    boundary_taken: Ratio,
    yield_mpa: MPa,
) -> Cm3:
    """Section modulus required of a longitudinal frame [cm3]. Source: FSICR 2021, 4.4.3 (text)."""
    return neighbour_factor * pressure_mpa * load_height_m * span_m**2 / (boundary_taken * yield_mpa) * 1e6


@DOCUMENT.clause("4.4.3", title="shear area required, longitudinal", symbol="A", status=Status.TEXT)
def shear_area_longitudinal(
    *, neighbour_factor: Ratio, pressure_mpa: MPa, load_height_m: Metres, span_m: Metres, yield_mpa: MPa
) -> Cm2:
    """Effective shear area required of a longitudinal frame [cm2], without brackets; f_5 = 2.16.

    Source: FSICR 2021, 4.4.3 (text).
    """
    return np.asarray(
        np.sqrt(3.0) * neighbour_factor * 2.16 * pressure_mpa * load_height_m * span_m / (2.0 * yield_mpa) * 1e4
    )


@DOCUMENT.clause("4.4.3", title="brackets asked for", symbol="brackets", status=Status.TEXT)
def brackets_asked(*, longitudinal_holds: Flag) -> Ratio:
    """1 where brackets are asked for at webs and bulkheads, else 0 [-]. Source: FSICR 2021, 4.4.4 (text)."""
    return np.where(longitudinal_holds, 1.0, 0.0)


@DOCUMENT.clause("4.4.3", title="brackets fitted", symbol="brackets fitted", status=Status.TEXT)
def brackets_fitted(*, end_brackets: Flag) -> Ratio:
    """1 where both ends have brackets, else 0 [-]. Source: FSICR 2021, 4.4.4 (text)."""
    return np.where(end_brackets, 1.0, 0.0)
