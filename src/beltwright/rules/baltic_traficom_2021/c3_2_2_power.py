"""3.2.1 and 3.2.2: the engine output of new ships, from the resistance in a channel of brash ice.

Every draught of interest is a row. Length and breadth are those at the upper ice waterline in every row.
"""

from __future__ import annotations

import numpy as np

from beltwright.core.provenance import Status
from beltwright.core.units import Degrees, Flag, Kilowatts, Label, Metres, Newtons, Ratio, SquareMetres
from beltwright.rules.baltic_traficom_2021.documents import DOCUMENT
from beltwright.rules.baltic_traficom_2021.tables import CHANNEL, LEAST_POWER, PROPELLER_FACTORS, RESISTANCE


def _factors(*names: str) -> tuple[dict[str, str], ...]:
    """Cells of Table 3-2."""
    return tuple({"factor": name} for name in names)


@DOCUMENT.clause("3.2.1", title="stem rake in the formulas", symbol="phi_1", status=Status.TEXT)
def stem_rake_used(*, bulbous_bow: Flag, stem_rake_deg: Degrees) -> Degrees:
    """Rake of the stem at the centreline [deg]; 90 for a bulbous bow. Source: FSICR 2021, 3.2.1 (text)."""
    return np.where(bulbous_bow, 90.0, stem_rake_deg)


@DOCUMENT.clause("3.2.2", title="flare angle", symbol="psi", status=Status.TEXT)
def flare_angle(*, bow_rake_quarter_deg: Degrees, waterline_angle_quarter_deg: Degrees) -> Degrees:
    """Flare angle psi [deg] from the rake of the bow and the waterline angle at B/4. Source: FSICR 2021, 3.2.2 (text).

    Both angles [deg]; the waterline angle is positive.
    """
    return np.asarray(
        np.arctan(np.tan(np.radians(bow_rake_quarter_deg)) / np.sin(np.radians(waterline_angle_quarter_deg)))
        * 180.0
        / np.pi
    )


@DOCUMENT.clause("3.2.2", title="factor for the bow's shape", symbol="C_mu", status=Status.TEXT)
def bow_shape_factor(
    *, bow_rake_quarter_deg: Degrees, flare_angle_deg: Degrees, waterline_angle_quarter_deg: Degrees
) -> Ratio:
    """Factor C_mu [-], not less than 0.45. Source: FSICR 2021, 3.2.2 (text)."""
    own: Ratio = 0.15 * np.cos(np.radians(bow_rake_quarter_deg)) + np.sin(np.radians(flare_angle_deg)) * np.sin(
        np.radians(waterline_angle_quarter_deg)
    )
    return np.maximum(own, 0.45)


@DOCUMENT.clause("3.2.2", title="factor for the flare", symbol="C_psi", status=Status.TEXT)
def flare_factor(*, flare_angle_deg: Degrees) -> Ratio:
    """Factor C_psi [-], psi in degrees; 0 up to 45 degrees. Source: FSICR 2021, 3.2.2 (text)."""
    return np.where(flare_angle_deg <= 45.0, 0.0, 0.047 * flare_angle_deg - 2.115)


@DOCUMENT.clause("3.2.2", title="thickness of the brash ice in mid channel", symbol="H_M", status=Status.TEXT,
                 table=CHANNEL)  # fmt: skip
def channel_thickness(*, ice_class: Label) -> Metres:
    """Thickness of the brash ice in the middle of the channel [m]. Source: FSICR 2021, 3.2.2 (text)."""
    return CHANNEL.numbers(ice_class)


@DOCUMENT.clause("3.2.2", title="thickness of the brash ice displaced by the bow", symbol="H_F", status=Status.TEXT)
def displaced_thickness(*, channel_thickness_m: Metres, breadth_m: Metres) -> Metres:
    """Thickness of the brash ice layer that the bow displaces [m]. Source: FSICR 2021, 3.2.2 (text)."""
    return 0.26 + (channel_thickness_m * breadth_m) ** 0.5


@DOCUMENT.clause("3.2.2", title="resistance of the consolidated layer, breaking", symbol="C_1", status=Status.TEXT,
                 table=RESISTANCE, reads=_factors("f1", "f2", "f3", "f4"))  # fmt: skip
def layer_breaking(
    *,
    ice_class: Label,
    breadth_m: Metres,
    parallel_length_m: Metres,
    draught_m: Metres,
    stem_rake_used_deg: Degrees,
    bow_length_m: Metres,
) -> Newtons:
    """Part C_1 of the resistance [N], for a consolidated layer on the channel; 0 below IA Super.

    The rake of the stem counts in degrees. Source: FSICR 2021, 3.2.2 (text).
    """
    bow_part = (
        RESISTANCE.numbers("f2") * breadth_m
        + RESISTANCE.numbers("f3") * bow_length_m
        + RESISTANCE.numbers("f4") * breadth_m * bow_length_m
    )
    whole = (
        RESISTANCE.numbers("f1") * breadth_m * parallel_length_m / (2.0 * draught_m / breadth_m + 1.0)
        + (1.0 + 0.021 * stem_rake_used_deg) * bow_part
    )
    return np.where(ice_class == "IA Super", whole, 0.0)


@DOCUMENT.clause("3.2.2", title="resistance of the consolidated layer, sliding", symbol="C_2", status=Status.TEXT,
                 table=RESISTANCE, reads=_factors("g1", "g2", "g3"))  # fmt: skip
def layer_sliding(
    *,
    ice_class: Label,
    stem_rake_used_deg: Degrees,
    breadth_m: Metres,
    draught_m: Metres,
    perpendicular_length_m: Metres,
) -> Newtons:
    """Part C_2 of the resistance [N], for a consolidated layer on the channel; 0 below IA Super.

    The rake of the stem counts in degrees. Source: FSICR 2021, 3.2.2 (text).
    """
    whole = (1.0 + 0.063 * stem_rake_used_deg) * (
        RESISTANCE.numbers("g1") + RESISTANCE.numbers("g2") * breadth_m
    ) + RESISTANCE.numbers("g3") * (1.0 + 1.2 * draught_m / breadth_m) * breadth_m**2 / np.sqrt(perpendicular_length_m)
    return np.where(ice_class == "IA Super", whole, 0.0)


@DOCUMENT.clause("3.2.2", title="resistance of the brash ice at the bow", symbol="R_bow", status=Status.TEXT,
                 table=RESISTANCE, reads=_factors("C3"),
                 note="the third term of R_CH; the symbol is ours")  # fmt: skip
def brash_at_bow(
    *,
    bow_shape_factor: Ratio,
    displaced_thickness_m: Metres,
    channel_thickness_m: Metres,
    breadth_m: Metres,
    flare_factor: Ratio,
) -> Newtons:
    """Resistance of the brash ice at the bow [N]. Source: FSICR 2021, 3.2.2 (text)."""
    return (
        RESISTANCE.numbers("C3")
        * bow_shape_factor
        * (displaced_thickness_m + channel_thickness_m) ** 2
        * (breadth_m + flare_factor * displaced_thickness_m)
    )


@DOCUMENT.clause("3.2.2", title="resistance of the brash ice along the parallel side", symbol="R_par",
                 status=Status.TEXT, table=RESISTANCE, reads=_factors("C4"),
                 note="the fourth term of R_CH; the symbol is ours")  # fmt: skip
def brash_along_side(*, parallel_length_m: Metres, displaced_thickness_m: Metres) -> Newtons:
    """Resistance of the brash ice along the parallel midbody [N]. Source: FSICR 2021, 3.2.2 (text)."""
    return RESISTANCE.numbers("C4") * parallel_length_m * displaced_thickness_m**2


@DOCUMENT.clause("3.2.2", title="cube of L T / B^2", symbol="K_LT", status=Status.TEXT,
                 note="part of the fifth term of R_CH; the symbol is ours")  # fmt: skip
def slenderness_cube(*, perpendicular_length_m: Metres, draught_m: Metres, breadth_m: Metres) -> Ratio:
    """Cube of L T / B^2 [-], within 5 and 20; the cube itself is held there. Source: FSICR 2021, 3.2.2 (text)."""
    return np.minimum(np.maximum((perpendicular_length_m * draught_m / breadth_m**2) ** 3, 5.0), 20.0)


@DOCUMENT.clause("3.2.2", title="resistance by the bow's waterline area", symbol="R_wf", status=Status.TEXT,
                 table=RESISTANCE, reads=_factors("C5"),
                 note="the fifth term of R_CH; the symbol is ours")  # fmt: skip
def bow_area_resistance(
    *, slenderness_cube: Ratio, bow_waterline_area_m2: SquareMetres, perpendicular_length_m: Metres
) -> Newtons:
    """Resistance that goes with the waterline area of the bow [N]. Source: FSICR 2021, 3.2.2 (text)."""
    return RESISTANCE.numbers("C5") * slenderness_cube * bow_waterline_area_m2 / perpendicular_length_m


@DOCUMENT.clause("3.2.2", title="resistance in the channel", symbol="R_CH", status=Status.TEXT)
def channel_resistance(
    *,
    layer_breaking_n: Newtons,
    layer_sliding_n: Newtons,
    brash_at_bow_n: Newtons,
    brash_along_side_n: Newtons,
    bow_area_resistance_n: Newtons,
) -> Newtons:
    """Resistance of the ship in a channel of brash ice [N]. Source: FSICR 2021, 3.2.2 (text)."""
    return layer_breaking_n + layer_sliding_n + brash_at_bow_n + brash_along_side_n + bow_area_resistance_n


@DOCUMENT.clause("3.2.2 Table 3-1", title="factor for the propellers", symbol="K_e", status=Status.TEXT,
                 table=PROPELLER_FACTORS)  # fmt: skip
def propeller_factor(*, propeller_count: Label, drive: Label) -> Ratio:
    """Factor K_e [-] by number of propellers and kind of drive. Source: FSICR 2021, Table 3-1 (text)."""
    return PROPELLER_FACTORS.numbers(propeller_count, drive)


@DOCUMENT.clause("3.2.2", title="engine output by the resistance", symbol="P_R", status=Status.TEXT,
                 note="before the least output; the symbol is ours")  # fmt: skip
def power_by_resistance(
    *, propeller_factor: Ratio, channel_resistance_n: Newtons, propeller_diameter_m: Metres
) -> Kilowatts:
    """Engine output for 5 knots in the channel [kW], before the least output. Source: FSICR 2021, 3.2.2 (text)."""
    return propeller_factor * (channel_resistance_n / 1000.0) ** 1.5 / propeller_diameter_m


@DOCUMENT.clause("3.2.2", title="least engine output", symbol="P_0", status=Status.TEXT, table=LEAST_POWER,
                 note="the symbol is ours")  # fmt: skip
def least_power(*, ice_class: Label) -> Kilowatts:
    """Engine output that no ship may go below [kW]. Source: FSICR 2021, 3.2.2 (text)."""
    return LEAST_POWER.numbers(ice_class)


@DOCUMENT.clause("3.2.2", title="engine output required", symbol="P_min", status=Status.TEXT)
def power_required(*, power_by_resistance_kw: Kilowatts, least_power_kw: Kilowatts) -> Kilowatts:
    """Engine output required at one draught [kW]. Source: FSICR 2021, 3.2.2 (text)."""
    return np.maximum(power_by_resistance_kw, least_power_kw)
