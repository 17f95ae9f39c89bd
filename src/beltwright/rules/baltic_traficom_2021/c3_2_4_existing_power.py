"""3.2.4: the simplified engine output of IA Super and IA ships whose keel was laid before 1 September 2003."""

from __future__ import annotations

import numpy as np

from beltwright.core.provenance import Status
from beltwright.core.units import Flag, Label, Metres, Newtons, Ratio
from beltwright.rules.baltic_traficom_2021.documents import DOCUMENT
from beltwright.rules.baltic_traficom_2021.tables import EXISTING_BOW, RESISTANCE_EXISTING


def _factors(*names: str) -> tuple[dict[str, str], ...]:
    """Cells of Table 3-3."""
    return tuple({"factor": name} for name in names)


@DOCUMENT.clause("3.2.4", title="form of the bow", symbol="bow", status=Status.TEXT)
def existing_bow(*, bulbous_bow: Flag) -> Label:
    """Which factors the bow takes: with or without a bulb. Source: FSICR 2021, 3.2.4 (text)."""
    return np.where(bulbous_bow, "bulb", "no bulb")


@DOCUMENT.clause("3.2.4", title="factor for the bow in C_1", symbol="a_1", status=Status.TEXT, table=EXISTING_BOW,
                 reads=({"factor": "breadth"},), note="the symbol is ours")  # fmt: skip
def existing_breaking_factor(*, bow: Label) -> Ratio:
    """Factor 1.84 or 2.89 in C_1 [-]. Source: FSICR 2021, 3.2.4 (text)."""
    return EXISTING_BOW.numbers(bow, "breadth")


@DOCUMENT.clause("3.2.4", title="factor for the bow in C_2", symbol="a_2", status=Status.TEXT, table=EXISTING_BOW,
                 reads=({"factor": "girth"},), note="the symbol is ours")  # fmt: skip
def existing_sliding_factor(*, bow: Label) -> Ratio:
    """Factor 3.52 or 6.67 in C_2 [-]. Source: FSICR 2021, 3.2.4 (text)."""
    return EXISTING_BOW.numbers(bow, "girth")


@DOCUMENT.clause("3.2.4", title="resistance of the consolidated layer, breaking, existing ships", symbol="C_1",
                 status=Status.TEXT, table=RESISTANCE_EXISTING, reads=_factors("f1", "f2", "f3", "f4"))  # fmt: skip
def existing_layer_breaking(
    *,
    ice_class: Label,
    breadth_m: Metres,
    perpendicular_length_m: Metres,
    draught_m: Metres,
    existing_breaking_factor: Ratio,
) -> Newtons:
    """Part C_1 of the resistance of an existing ship [N]; 0 for IA. Source: FSICR 2021, 3.2.4 (text)."""
    bow_part = (
        RESISTANCE_EXISTING.numbers("f2") * breadth_m
        + RESISTANCE_EXISTING.numbers("f3") * perpendicular_length_m
        + RESISTANCE_EXISTING.numbers("f4") * breadth_m * perpendicular_length_m
    )
    whole = (
        RESISTANCE_EXISTING.numbers("f1") * breadth_m * perpendicular_length_m / (2.0 * draught_m / breadth_m + 1.0)
        + existing_breaking_factor * bow_part
    )
    return np.where(ice_class == "IA Super", whole, 0.0)


@DOCUMENT.clause("3.2.4", title="resistance of the consolidated layer, sliding, existing ships", symbol="C_2",
                 status=Status.TEXT, table=RESISTANCE_EXISTING, reads=_factors("g1", "g2", "g3"))  # fmt: skip
def existing_layer_sliding(
    *,
    ice_class: Label,
    existing_sliding_factor: Ratio,
    breadth_m: Metres,
    draught_m: Metres,
    perpendicular_length_m: Metres,
) -> Newtons:
    """Part C_2 of the resistance of an existing ship [N]; 0 for IA. Source: FSICR 2021, 3.2.4 (text)."""
    girth = RESISTANCE_EXISTING.numbers("g1") + RESISTANCE_EXISTING.numbers("g2") * breadth_m
    rest = (
        RESISTANCE_EXISTING.numbers("g3")
        * (1.0 + 1.2 * draught_m / breadth_m)
        * breadth_m**2
        / np.sqrt(perpendicular_length_m)
    )
    return np.where(ice_class == "IA Super", existing_sliding_factor * girth + rest, 0.0)


@DOCUMENT.clause("3.2.4", title="resistance in the channel, existing ships", symbol="R_CH", status=Status.TEXT,
                 table=RESISTANCE_EXISTING, reads=_factors("C3", "C4", "C5"))  # fmt: skip
def existing_resistance(
    *,
    layer_breaking_n: Newtons,
    layer_sliding_n: Newtons,
    displaced_thickness_m: Metres,
    channel_thickness_m: Metres,
    breadth_m: Metres,
    perpendicular_length_m: Metres,
    slenderness_cube: Ratio,
) -> Newtons:
    """Resistance of an existing IA Super or IA ship in the channel [N]. Source: FSICR 2021, 3.2.4 (text)."""
    return (
        layer_breaking_n
        + layer_sliding_n
        + RESISTANCE_EXISTING.numbers("C3")
        * (displaced_thickness_m + channel_thickness_m) ** 2
        * (breadth_m + 0.658 * displaced_thickness_m)
        + RESISTANCE_EXISTING.numbers("C4") * perpendicular_length_m * displaced_thickness_m**2
        + RESISTANCE_EXISTING.numbers("C5") * slenderness_cube * breadth_m / 4.0
    )
