"""UR I2.4: shell plating, net of the addition for corrosion and abrasion."""

from __future__ import annotations

import numpy as np

from beltwright.core.provenance import Status
from beltwright.core.units import Degrees, Flag, Label, Metres, Millimetres, MPa, Ratio
from beltwright.rules.polar_iacs_2019.documents import DOCUMENT


@DOCUMENT.clause("I2.2.1", title="whether the member lies in a bottom area", symbol="bottom", status=Status.TEXT)
def bottom(*, load_area: Label) -> Flag:
    """Whether the hull area is one of the bottom areas BIb, Mb, Sb. Source: UR I2.2.1 (text)."""
    return np.asarray((load_area == "BIb") | (load_area == "Mb") | (load_area == "Sb"))


@DOCUMENT.clause("I2.4.2", title="share of the transverse requirement", symbol="q", status=Status.MEMORY,
                 note="bottom plating and frames always count as transverse")  # fmt: skip
def transverse_share(*, bottom: Flag, omega_deg: Degrees) -> Ratio:
    """Share of the requirement for transverse framing [-]: 0 up to Omega 20, 1 from Omega 70, linear between.

    Bottom areas always take the transverse one. Source: UR I2.4.2 and I2.5.10, recalled; interpolation read in text.
    """
    return np.where(bottom, 1.0, np.minimum(np.maximum((omega_deg - 20.0) / 50.0, 0.0), 1.0))


@DOCUMENT.clause("I2.4.2", title="height of the load patch for transversely framed plating", symbol="b",
                 status=Status.MEMORY, note="a - s/4 <= 0 is outside the formula; such a row is never met")  # fmt: skip
def plate_patch_height(*, span_m: Metres, spacing_m: Metres, patch_height_m: Metres) -> Metres:
    """Patch height in the transverse formula [m]: not more than a - s/4. Source: UR I2.4.2, recalled.

    Where a <= s/4 the limit is not defined: the whole patch height stands, and the panel is out of scope.
    """
    return np.where(span_m > spacing_m / 4.0, np.minimum(patch_height_m, span_m - spacing_m / 4.0), patch_height_m)


@DOCUMENT.clause("I2.4.2", title="net thickness, transverse framing", symbol="t_net,T", status=Status.TEXT)
def net_thickness_transverse(
    *,
    spacing_m: Metres,
    area_factor: Ratio,
    plating_peak_transverse: Ratio,
    pressure_mpa: MPa,
    yield_mpa: MPa,
    plate_patch_height_m: Metres,
) -> Millimetres:
    """Net thickness of transversely framed plating [mm], and of all bottom plating. Source: UR I2.4.2 (text)."""
    return (
        500.0
        * spacing_m
        * np.sqrt(area_factor * plating_peak_transverse * pressure_mpa / yield_mpa)
        / (1.0 + spacing_m / (2.0 * plate_patch_height_m))
    )


@DOCUMENT.clause("I2.4.2", title="distance between the supports of longitudinals", symbol="l", status=Status.MEMORY)
def plate_length(
    *, load_distributing_stringer: Flag, support_distance_m: Metres, stringer_to_support_m: Metres
) -> Metres:
    """Distance between frame supports in the longitudinal formula [m].

    With a load-distributing stringer it need not exceed the distance from the stringer to the farthest support.
    Source: UR I2.4.2, recalled.
    """
    return np.where(
        load_distributing_stringer, np.minimum(support_distance_m, stringer_to_support_m), support_distance_m
    )


@DOCUMENT.clause("I2.4.2", title="net thickness, longitudinal framing", symbol="t_net,L", status=Status.TEXT)
def net_thickness_longitudinal(
    *,
    spacing_m: Metres,
    area_factor: Ratio,
    plating_peak_longitudinal: Ratio,
    pressure_mpa: MPa,
    yield_mpa: MPa,
    patch_height_m: Metres,
    plate_length_m: Metres,
) -> Millimetres:
    """Net thickness of longitudinally framed plating [mm]; a patch lower than the spacing reduces it.

    Source: UR I2.4.2 (text).
    """
    covered = np.minimum(patch_height_m / spacing_m, 1.0)
    full = (
        500.0
        * spacing_m
        * np.sqrt(area_factor * plating_peak_longitudinal * pressure_mpa / yield_mpa)
        / (1.0 + spacing_m / (2.0 * plate_length_m))
    )
    return np.where(patch_height_m >= spacing_m, full, full * np.sqrt(2.0 * covered - covered**2))


@DOCUMENT.clause("I2.4.2", title="net thickness", symbol="t_net", status=Status.TEXT)
def net_thickness(
    *, transverse_share: Ratio, net_thickness_transverse_mm: Millimetres, net_thickness_longitudinal_mm: Millimetres
) -> Millimetres:
    """Net thickness [mm], interpolated for oblique framing. Source: UR I2.4.2 (text)."""
    return transverse_share * net_thickness_transverse_mm + (1.0 - transverse_share) * net_thickness_longitudinal_mm


@DOCUMENT.clause("I2.4.2", title="peak pressure factor of the plating", symbol="PPF_p", status=Status.CHOICE,
                 note="shown in tables; oblique framing interpolates the thickness, not this factor")  # fmt: skip
def plating_peak(*, transverse_share: Ratio, plating_peak_transverse: Ratio, plating_peak_longitudinal: Ratio) -> Ratio:
    """Peak pressure factor to show for a panel [-]: that of the framing whose requirement counts for more."""
    return np.where(transverse_share >= 0.5, plating_peak_transverse, plating_peak_longitudinal)


@DOCUMENT.clause("I2.4.2", title="whether the plating formula has a value", symbol="in scope", status=Status.CHOICE,
                 note="the limit a - s/4 must leave some patch height")  # fmt: skip
def plating_in_scope(*, transverse_share: Ratio, span_m: Metres, spacing_m: Metres) -> Flag:
    """Whether the plating formula has a value: where the transverse one counts, the span exceeds s/4."""
    return (transverse_share <= 0.0) | (span_m > spacing_m / 4.0)


@DOCUMENT.clause("I2.4.1", title="thickness required as built, before stock rounding", symbol="t", status=Status.TEXT)
def thickness_required(*, in_scope: Flag, thickness_net_mm: Millimetres, addition_mm: Millimetres) -> Millimetres:
    """Thickness required as built [mm]: net thickness and addition. Out of scope no plate suffices.

    Source: UR I2.4.1 (text).
    """
    return np.where(in_scope, thickness_net_mm + addition_mm, np.inf)
