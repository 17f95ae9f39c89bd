"""UR I2.13: longitudinal strength when the bow rams ice. Force at the bow, shear force and moment along the ship.

Forces in MN, moments in MNm, lengths in m, displacement in kt, angles in degrees, stresses in N/mm2 (MPa). The share of
the length counts from the aft end of L_UI.
"""

from __future__ import annotations

from typing import Final

import numpy as np

from beltwright.core.provenance import Status
from beltwright.core.units import (
    MN,
    Degrees,
    Flag,
    Kilotonnes,
    Label,
    Metres,
    MNm,
    MNPerM,
    MPa,
    Ratio,
    SquareMetres,
)
from beltwright.rules.polar_iacs_2019.documents import DOCUMENT
from beltwright.rules.polar_iacs_2019.tables import (
    BOW_EXPONENTS,
    CLASS_FACTORS,
    GIRDER_CRITERIA,
    MOMENT_DISTRIBUTION,
    SHEAR_DISTRIBUTION,
)

POSITIVE_NODES: Final = np.array(["1", "2"])
NEGATIVE_NODES: Final = np.array(["1", "2", "3", "4"])
MOMENT_NODES: Final = np.array(["1", "2", "3", "4", "5"])


@DOCUMENT.clause("I2.13.1", title="whether ramming is considered", symbol="ramming", status=Status.MEMORY)
def ramming_considered(*, stem_angle_deg: Degrees) -> Flag:
    """Whether the bow may ride up on ice: not with a stem of 80 degrees or more. Source: UR I2.13.1, recalled."""
    return stem_angle_deg < 80.0


@DOCUMENT.clause("I2.3.2 Table 1", title="longitudinal strength class factor", symbol="CFL",
                 status=Status.MEMORY_CHECKED, table=CLASS_FACTORS, reads=({"factor": "CFL"},))  # fmt: skip
def longitudinal_strength_factor(*, ice_class: Label) -> Ratio:
    """Class factor for longitudinal strength. Source: UR I2 Table 1, recalled."""
    return CLASS_FACTORS.numbers(ice_class, "CFL")


@DOCUMENT.clause("I2.13.2", title="printed bow form by the bow exponent", symbol="bow form",
                 status=Status.MEMORY_CHECKED, table=BOW_EXPONENTS,
                 reads=({"bow": "wedge"}, {"bow": "spoon most"}, {"bow": "spoon least"}, {"bow": "landing craft"}),
                 note="for comparison; the force follows the exponent")  # fmt: skip
def printed_bow_form(*, bow_exponent: Ratio) -> Label:
    """The printed form that a bow exponent belongs to, or the two that it lies between.

    Source: UR I2.13.2, recalled.
    """
    blunter = np.where(
        bow_exponent > BOW_EXPONENTS.numbers("landing craft"), "between landing craft and spoon", "landing craft"
    )
    spoon = np.where(bow_exponent >= BOW_EXPONENTS.numbers("spoon least"), "spoon", blunter)
    sharper = np.where(bow_exponent > BOW_EXPONENTS.numbers("spoon most"), "between spoon and wedge", spoon)
    return np.where(bow_exponent >= BOW_EXPONENTS.numbers("wedge"), "wedge or hollow", sharper)


@DOCUMENT.clause("I2.13.2", title="coefficient of the bow's waterline", symbol="C", status=Status.MEMORY_CHECKED)
def waterline_coefficient(*, bow_length_m: Metres, breadth_upper_m: Metres, bow_exponent: Ratio) -> Ratio:
    """Coefficient C of the fitted waterline y = B/2 (x/L_B)^e_b. Source: UR I2.13.2, recalled."""
    return 1.0 / (2.0 * (bow_length_m / breadth_upper_m) ** bow_exponent)


@DOCUMENT.clause("I2.13.2", title="bow form parameter, blunt bow", symbol="K_f", status=Status.MEMORY_CHECKED)
def form_parameter_blunt(
    *, waterline_coefficient: Ratio, breadth_upper_m: Metres, bow_exponent: Ratio, stem_angle_deg: Degrees
) -> Ratio:
    """Bow form parameter K_f of a bow by its exponent. Source: UR I2.13.2, recalled; equals the wedge's at e_b = 1."""
    spread = 2.0 * waterline_coefficient * breadth_upper_m ** (1.0 - bow_exponent) / (1.0 + bow_exponent)
    power = -0.9 * (1.0 + bow_exponent)
    return spread**0.9 * np.tan(np.radians(stem_angle_deg)) ** power


@DOCUMENT.clause("I2.13.2", title="bow form parameter, simple wedge", symbol="K_f", status=Status.MEMORY_CHECKED)
def form_parameter_wedge(*, stem_waterline_angle_deg: Degrees, stem_angle_deg: Degrees) -> Ratio:
    """Bow form parameter K_f of a simple wedge, waterline angle at the stem below 80 degrees.

    Source: UR I2.13.2, recalled.
    """
    return (np.tan(np.radians(stem_waterline_angle_deg)) / np.tan(np.radians(stem_angle_deg)) ** 2.0) ** 0.9


@DOCUMENT.clause("I2.13.2", title="vertical stiffness of the waterplane", symbol="K_h", status=Status.MEMORY_CHECKED)
def waterplane_stiffness(*, waterplane_upper_m2: SquareMetres) -> MNPerM:
    """Vertical force per metre of sinkage, rounded: 0.01 of the waterplane area [MN/m].

    Source: UR I2.13.2, recalled; sea water weighs 0.01005 MN/m3.
    """
    return 0.01 * waterplane_upper_m2


@DOCUMENT.clause("I2.13.2", title="indentation parameter", symbol="K_I", status=Status.MEMORY_CHECKED)
def indentation_parameter(*, form_parameter: Ratio, waterplane_stiffness_mn_per_m: MNPerM) -> Ratio:
    """Indentation parameter K_I, the bow's form over the waterplane's stiffness. Source: UR I2.13.2, recalled."""
    return form_parameter / waterplane_stiffness_mn_per_m


@DOCUMENT.clause("I2.13.2", title="vertical force by ramming", symbol="F_IB,1", status=Status.TEXT)
def ramming_force(
    *, indentation_parameter: Ratio, stem_angle_deg: Degrees, displacement_other_kt: Kilotonnes,
    waterplane_stiffness_mn_per_m: MNPerM, longitudinal_strength_factor: Ratio,
) -> MN:  # fmt: skip
    """Vertical force at the bow from the impact [MN]. Source: UR I2.13.2 (text)."""
    stiff_ship = np.sqrt(displacement_other_kt * waterplane_stiffness_mn_per_m)
    steep = np.sin(np.radians(stem_angle_deg)) ** 0.2
    return 0.534 * indentation_parameter**0.15 * steep * stiff_ship * longitudinal_strength_factor


@DOCUMENT.clause("I2.13.2", title="vertical force at which the ice fails in bending", symbol="F_IB,2",
                 status=Status.TEXT)  # fmt: skip
def flexural_limit_force(*, flexural_factor: Ratio) -> MN:
    """Greatest vertical force that the ice can carry in bending [MN]. Source: UR I2.13.2 (text)."""
    return 1.20 * flexural_factor


@DOCUMENT.clause("I2.13.2", title="design vertical ice force at the bow", symbol="F_IB", status=Status.TEXT)
def vertical_ice_force(*, ramming_force_mn: MN, flexural_limit_force_mn: MN) -> MN:
    """Design vertical ice force at the bow [MN], the lesser of two. Source: UR I2.13.2 (text)."""
    return np.minimum(ramming_force_mn, flexural_limit_force_mn)


@DOCUMENT.clause("I2.13.3", title="share of the length from the aft end of L_UI", symbol="xi", status=Status.TEXT)
def length_share(*, aft_of_stem_m: Metres, rule_length_m: Metres) -> Ratio:
    """Place along the ship as a share of L_UI from its aft end [-]. Source: UR I2.13.3 (text)."""
    return 1.0 - aft_of_stem_m / rule_length_m


def _nodes(nodes: np.ndarray, **fixed: str) -> tuple[dict[str, str], ...]:
    """The cells of one curve: place and factor of each node."""
    return tuple({**fixed, "node": str(node), "part": part} for node in nodes for part in ("place", "factor"))


@DOCUMENT.clause("I2.13.3", title="distribution of the positive shear force", symbol="C_f,pos", status=Status.TEXT,
                 table=SHEAR_DISTRIBUTION, reads=_nodes(POSITIVE_NODES, curve="positive"),
                 note="straight between the table's nodes")  # fmt: skip
def shear_distribution_positive(*, length_share: Ratio) -> Ratio:
    """Distribution factor of the positive shear force [-]. Source: UR I2.13.3 (text)."""
    return np.interp(
        length_share,
        SHEAR_DISTRIBUTION.numbers("positive", POSITIVE_NODES, "place"),
        SHEAR_DISTRIBUTION.numbers("positive", POSITIVE_NODES, "factor"),
    )


@DOCUMENT.clause("I2.13.3", title="distribution of the negative shear force", symbol="C_f,neg", status=Status.MEMORY,
                 table=SHEAR_DISTRIBUTION, reads=_nodes(NEGATIVE_NODES, curve="negative"),
                 note="straight between the table's nodes")  # fmt: skip
def shear_distribution_negative(*, length_share: Ratio) -> Ratio:
    """Distribution factor of the negative shear force [-]. Source: UR I2.13.3, recalled."""
    return np.interp(
        length_share,
        SHEAR_DISTRIBUTION.numbers("negative", NEGATIVE_NODES, "place"),
        SHEAR_DISTRIBUTION.numbers("negative", NEGATIVE_NODES, "factor"),
    )


@DOCUMENT.clause("I2.13.3", title="vertical ice shear force", symbol="F_I", status=Status.TEXT)
def ice_shear_force(*, shear_distribution: Ratio, ice_force_mn: MN) -> MN:
    """Vertical shear force from ice [MN]. Source: UR I2.13.3 (text)."""
    return shear_distribution * ice_force_mn


@DOCUMENT.clause("I2.13.4", title="distribution of the bending moment", symbol="C_m", status=Status.TEXT,
                 table=MOMENT_DISTRIBUTION, reads=_nodes(MOMENT_NODES),
                 note="straight between the table's nodes")  # fmt: skip
def moment_distribution(*, length_share: Ratio) -> Ratio:
    """Distribution factor of the bending moment [-]. Source: UR I2.13.4 (text)."""
    return np.interp(
        length_share,
        MOMENT_DISTRIBUTION.numbers(MOMENT_NODES, "place"),
        MOMENT_DISTRIBUTION.numbers(MOMENT_NODES, "factor"),
    )


@DOCUMENT.clause("I2.13.4", title="vertical ice bending moment", symbol="M_I", status=Status.TEXT)
def ice_bending_moment(
    *, moment_distribution: Ratio, rule_length_m: Metres, stem_angle_deg: Degrees, ice_force_mn: MN
) -> MNm:
    """Vertical bending moment from ice [MNm], sagging. Source: UR I2.13.4 (text)."""
    return 0.1 * moment_distribution * rule_length_m * np.sin(np.radians(stem_angle_deg)) ** -0.2 * ice_force_mn


@DOCUMENT.clause("I2.13.5", title="usage factor", symbol="eta", status=Status.MEMORY, table=GIRDER_CRITERIA,
                 reads=({"criterion": "usage factor general"}, {"criterion": "usage factor icebreaker"}))  # fmt: skip
def usage_factor(*, icebreaker: Flag) -> Ratio:
    """Usage factor eta [-], lower with the notation Icebreaker. Source: UR I2.13.5, recalled."""
    return np.where(
        icebreaker,
        GIRDER_CRITERIA.numbers("usage factor icebreaker"),
        GIRDER_CRITERIA.numbers("usage factor general"),
    )


@DOCUMENT.clause("I2.13.5 Table 9", title="strength that counts", symbol="sigma_lim", status=Status.MEMORY,
                 table=GIRDER_CRITERIA, reads=({"criterion": "ratio of yield to tensile strength"},
                 {"criterion": "share of yield and tensile strength"}))  # fmt: skip
def counted_strength(*, yield_mpa: MPa, tensile_mpa: MPa) -> MPa:
    """Strength on which Table 9 lays the usage factor [N/mm2]: the yield stress, or a share of yield plus tensile.

    Source: UR I2 Table 9, recalled. The two branches differ by 0.4 % where they meet.
    """
    high = GIRDER_CRITERIA.numbers("share of yield and tensile strength") * (tensile_mpa + yield_mpa)
    return np.where(
        yield_mpa / tensile_mpa <= GIRDER_CRITERIA.numbers("ratio of yield to tensile strength"), yield_mpa, high
    )


@DOCUMENT.clause("I2.13.5 Table 9", title="allowed longitudinal stress", symbol="sigma_allow", status=Status.MEMORY)
def allowed_tension(*, usage_factor: Ratio, counted_strength_mpa: MPa) -> MPa:
    """Greatest longitudinal stress [N/mm2]. Source: UR I2 Table 9, recalled."""
    return usage_factor * counted_strength_mpa


@DOCUMENT.clause("I2.13.5 Table 9", title="allowed shear stress", symbol="tau_allow", status=Status.MEMORY)
def allowed_shear(*, usage_factor: Ratio, counted_strength_mpa: MPa) -> MPa:
    """Greatest shear stress [N/mm2], over the root of three. Source: UR I2 Table 9, recalled."""
    return usage_factor * counted_strength_mpa / np.sqrt(3.0)  # type: ignore[no-any-return]


@DOCUMENT.clause("I2.13.5 Table 9", title="allowed compression of a stiffener", symbol="sigma_c,allow",
                 status=Status.MEMORY, table=GIRDER_CRITERIA,
                 reads=({"criterion": "divisor for stiffeners"},))  # fmt: skip
def allowed_stiffener_compression(*, critical_mpa: MPa) -> MPa:
    """Greatest compression of a stiffener [N/mm2]: its critical stress over a divisor.

    Source: UR I2 Table 9, recalled.
    """
    return critical_mpa / GIRDER_CRITERIA.numbers("divisor for stiffeners")
