"""UR I2.3.1 and I2.3.2: where the formulas hold, and the force, line load and pressure of the glancing impact.

Forces in MN, line loads in MN/m, pressures in MPa, displacement in kt, angles in degrees.
``sub_region`` counts the bow's four equal parts from the stem, 1 to 4.
"""

from __future__ import annotations

import numpy as np

from beltwright.core.provenance import Status
from beltwright.core.units import MN, Count, Degrees, Flag, Kilotonnes, Label, Metres, MNPerM, MPa, Ratio
from beltwright.rules.polar_iacs_2019.documents import DOCUMENT
from beltwright.rules.polar_iacs_2019.tables import CLASS_FACTORS, VERTICAL_BOW_FACTORS


@DOCUMENT.clause("I2.3.1(v)", title="whether the standard bow formula holds", symbol="standard bow", status=Status.TEXT)
def standard_bow(*, stem_angle_deg: Degrees, foremost_beta_prime_deg: Degrees) -> Flag:
    """Whether the standard formula holds: stem angle between 0 and 80 degrees, beta' above 10 degrees at the front.

    ``foremost_beta_prime_deg`` is beta' at the middle of the foremost sub-region. Source: UR I2.3.1(v) (text).
    """
    return (stem_angle_deg > 0.0) & (stem_angle_deg < 80.0) & (foremost_beta_prime_deg > 10.0)


@DOCUMENT.clause("I2.3.1(vi)", title="whether a sub-region counts as vertical-sided", symbol="vertical side",
                 status=Status.TEXT)  # fmt: skip
def vertical_side(*, beta_prime_deg: Degrees) -> Flag:
    """Whether the normal frame angle lies between 0 and 10 degrees. Source: UR I2.3.1(vi) (text)."""
    return (beta_prime_deg >= 0.0) & (beta_prime_deg <= 10.0)


@DOCUMENT.clause("I2.3.2.1(ii)", title="middle of a sub-region, aft of the stem", symbol="x", status=Status.TEXT)
def sub_region_middle(*, sub_region: Count, bow_aft_m: Metres) -> Metres:
    """Middle of one of the four equal parts of the bow's length at UIWL [m aft of the stem].

    Source: UR I2.3.2.1(ii) (text).
    """
    return (sub_region - 0.5) / 4.0 * bow_aft_m


@DOCUMENT.clause("I2.3.2 Table 1", title="crushing failure class factor", symbol="CFC", status=Status.MEMORY_CHECKED,
                 table=CLASS_FACTORS, reads=({"factor": "CFC"},))  # fmt: skip
def crushing_factor(*, ice_class: Label) -> Ratio:
    """Class factor for crushing failure. Source: UR I2 Table 1, recalled."""
    return CLASS_FACTORS.numbers(ice_class, "CFC")


@DOCUMENT.clause("I2.3.2 Table 1", title="flexural failure class factor", symbol="CFF", status=Status.MEMORY_CHECKED,
                 table=CLASS_FACTORS, reads=({"factor": "CFF"},))  # fmt: skip
def flexural_factor(*, ice_class: Label) -> Ratio:
    """Class factor for flexural failure. Source: UR I2 Table 1, recalled."""
    return CLASS_FACTORS.numbers(ice_class, "CFF")


@DOCUMENT.clause("I2.3.2 Table 1", title="load patch dimensions class factor", symbol="CFD",
                 status=Status.MEMORY_CHECKED, table=CLASS_FACTORS, reads=({"factor": "CFD"},))  # fmt: skip
def load_patch_factor(*, ice_class: Label) -> Ratio:
    """Class factor for the dimensions of the load patch. Source: UR I2 Table 1, recalled."""
    return CLASS_FACTORS.numbers(ice_class, "CFD")


@DOCUMENT.clause("I2.3.2 Table 1", title="displacement class factor", symbol="CFDIS", status=Status.MEMORY,
                 table=CLASS_FACTORS, reads=({"factor": "CFDIS"},))  # fmt: skip
def displacement_factor(*, ice_class: Label) -> Kilotonnes:
    """Displacement above which the load outside the bow grows more slowly [kt]. Source: UR I2 Table 1, recalled."""
    return CLASS_FACTORS.numbers(ice_class, "CFDIS")


@DOCUMENT.clause("I2.3.2.1(iii)", title="shape factor from the hull angles", symbol="fa_1", status=Status.TEXT)
def shape_factor_angles(
    *, aft_of_stem_m: Metres, rule_length_m: Metres, alpha_deg: Degrees, beta_prime_deg: Degrees
) -> Ratio:
    """First shape factor [-]; alpha and beta' enter in degrees.

    Source: UR I2.3.2.1(iii) (text).
    """
    return (0.097 - 0.68 * (aft_of_stem_m / rule_length_m - 0.15) ** 2) * alpha_deg / np.sqrt(beta_prime_deg)


@DOCUMENT.clause("I2.3.2.1(iii)", title="shape factor at which the ice fails in bending", symbol="fa_2",
                 status=Status.TEXT)  # fmt: skip
def shape_factor_flexure(
    *,
    flexural_factor: Ratio,
    beta_prime_deg: Degrees,
    crushing_factor: Ratio,
    displacement_bow_kt: Kilotonnes,
) -> Ratio:
    """Second shape factor [-]: the force is limited by flexural failure. Source: UR I2.3.2.1(iii) (text)."""
    return 1.2 * flexural_factor / (np.sin(np.radians(beta_prime_deg)) * crushing_factor * displacement_bow_kt**0.64)


@DOCUMENT.clause("I2.3.2.1(iii)", title="shape factor, least of three", symbol="fa", status=Status.TEXT,
                 note="the third is 0.60")  # fmt: skip
def shape_factor(*, shape_factor_angles: Ratio, shape_factor_flexure: Ratio) -> Ratio:
    """Shape factor fa [-], the least of the three. Source: UR I2.3.2.1(iii) (text)."""
    return np.minimum(shape_factor_angles, np.minimum(shape_factor_flexure, 0.60))


@DOCUMENT.clause("I2.3.2.1(iii)", title="force", symbol="F", status=Status.MEMORY_CHECKED)
def bow_force(*, shape_factor: Ratio, crushing_factor: Ratio, displacement_bow_kt: Kilotonnes) -> MN:
    """Force at a bow sub-region [MN]. Source: UR I2.3.2.1(iii), recalled; exponent rebuilt from the collision model."""
    return shape_factor * crushing_factor * displacement_bow_kt**0.64


@DOCUMENT.clause("I2.3.2.1(iii)", title="aspect ratio of the load patch", symbol="AR", status=Status.MEMORY_CHECKED)
def bow_aspect_ratio(*, beta_prime_deg: Degrees) -> Ratio:
    """Aspect ratio of the load patch [-], not less than 1.3. Source: UR I2.3.2.1(iii), recalled."""
    return np.maximum(7.46 * np.sin(np.radians(beta_prime_deg)), 1.3)


@DOCUMENT.clause("I2.3.2.1(iii)", title="line load", symbol="Q", status=Status.MEMORY_CHECKED)
def bow_line_load(*, force_mn: MN, load_patch_factor: Ratio, aspect_ratio: Ratio) -> MNPerM:
    """Line load at a bow sub-region [MN/m]. Source: UR I2.3.2.1(iii), recalled; exponents rebuilt."""
    return force_mn**0.61 * load_patch_factor / aspect_ratio**0.35


@DOCUMENT.clause("I2.3.2.1(iii)", title="pressure", symbol="P", status=Status.MEMORY_CHECKED)
def bow_pressure(*, force_mn: MN, load_patch_factor: Ratio, aspect_ratio: Ratio) -> MPa:
    """Pressure at a bow sub-region [MPa]. Source: UR I2.3.2.1(iii), recalled; exponents rebuilt."""
    return force_mn**0.22 * load_patch_factor**2 * aspect_ratio**0.3


@DOCUMENT.clause("I2.3.1(vii)", title="least force of a bulbous bow", symbol="F,least", status=Status.TEXT)
def bulb_least_force(*, crushing_factor: Ratio, displacement_bow_kt: Kilotonnes) -> MN:
    """Least force on a bulbous bow [MN]: the standard formula with fa = 0.6. Source: UR I2.3.1(vii) (text)."""
    return 0.6 * crushing_factor * displacement_bow_kt**0.64


@DOCUMENT.clause("I2.3.1(vii)", title="least line load of a bulbous bow", symbol="Q,least", status=Status.TEXT)
def bulb_least_line_load(*, force_least_mn: MN, load_patch_factor: Ratio) -> MNPerM:
    """Least line load on a bulbous bow [MN/m]: the standard formula with AR = 1.3. Source: UR I2.3.1(vii) (text)."""
    return np.asarray(force_least_mn**0.61 * load_patch_factor / 1.3**0.35)


@DOCUMENT.clause("I2.3.1(vii)", title="least pressure of a bulbous bow", symbol="P,least", status=Status.TEXT)
def bulb_least_pressure(*, force_least_mn: MN, load_patch_factor: Ratio) -> MPa:
    """Least pressure on a bulbous bow [MPa]: the standard formula with AR = 1.3. Source: UR I2.3.1(vii) (text)."""
    return np.asarray(force_least_mn**0.22 * load_patch_factor**2 * 1.3**0.3)


@DOCUMENT.clause("I2.3.2 Table 2", title="crushing class factor for vertical-sided bows", symbol="CFCV",
                 status=Status.MEMORY, table=VERTICAL_BOW_FACTORS, reads=({"factor": "CFCV"},))  # fmt: skip
def vertical_crushing_factor(*, ice_class: Label) -> Ratio:
    """Crushing class factor for vertical-sided bows, PC6 and PC7 only. Source: UR I2 Table 2, recalled."""
    return VERTICAL_BOW_FACTORS.numbers(ice_class, "CFCV")


@DOCUMENT.clause("I2.3.2 Table 2", title="line load class factor for vertical-sided bows", symbol="CFQV",
                 status=Status.MEMORY, table=VERTICAL_BOW_FACTORS, reads=({"factor": "CFQV"},))  # fmt: skip
def vertical_line_load_factor(*, ice_class: Label) -> Ratio:
    """Line load class factor for vertical-sided bows, PC6 and PC7 only. Source: UR I2 Table 2, recalled."""
    return VERTICAL_BOW_FACTORS.numbers(ice_class, "CFQV")


@DOCUMENT.clause("I2.3.2 Table 2", title="pressure class factor for vertical-sided bows", symbol="CFPV",
                 status=Status.MEMORY, table=VERTICAL_BOW_FACTORS, reads=({"factor": "CFPV"},))  # fmt: skip
def vertical_pressure_factor(*, ice_class: Label) -> Ratio:
    """Pressure class factor for vertical-sided bows, PC6 and PC7 only. Source: UR I2 Table 2, recalled."""
    return VERTICAL_BOW_FACTORS.numbers(ice_class, "CFPV")


@DOCUMENT.clause("I2.3.2.1(iv)", title="shape factor of a vertical-sided bow", symbol="fa", status=Status.MEMORY)
def vertical_shape_factor(*, alpha_deg: Degrees) -> Ratio:
    """Shape factor of a vertical-sided bow [-]; alpha in degrees. Source: UR I2.3.2.1(iv), recalled."""
    return alpha_deg / 30.0


@DOCUMENT.clause("I2.3.2.1(iv)", title="force", symbol="F", status=Status.MEMORY)
def vertical_force(*, shape_factor: Ratio, vertical_crushing_factor: Ratio, displacement_bow_kt: Kilotonnes) -> MN:
    """Force on a vertical-sided bow [MN]. Source: UR I2.3.2.1(iv), recalled; exponent doubtful."""
    return shape_factor * vertical_crushing_factor * displacement_bow_kt**0.47


@DOCUMENT.clause("I2.3.2.1(iv)", title="line load", symbol="Q", status=Status.MEMORY)
def vertical_line_load(*, force_mn: MN, vertical_line_load_factor: Ratio) -> MNPerM:
    """Line load on a vertical-sided bow [MN/m]. Source: UR I2.3.2.1(iv), recalled; exponent doubtful."""
    return force_mn**0.22 * vertical_line_load_factor


@DOCUMENT.clause("I2.3.2.1(iv)", title="pressure", symbol="P", status=Status.MEMORY)
def vertical_pressure(*, force_mn: MN, vertical_pressure_factor: Ratio) -> MPa:
    """Pressure on a vertical-sided bow [MPa]. Source: UR I2.3.2.1(iv), recalled; exponent doubtful."""
    return force_mn**0.56 * vertical_pressure_factor


@DOCUMENT.clause("I2.3.2.1(ii)", title="greatest force of the sub-regions", symbol="F_Bow", status=Status.TEXT)
def greatest_force(*, force_1_mn: MN, force_2_mn: MN, force_3_mn: MN, force_4_mn: MN) -> MN:
    """Greatest force of the four sub-regions [MN]. Source: UR I2.3.2.1(ii) (text)."""
    return np.maximum(np.maximum(force_1_mn, force_2_mn), np.maximum(force_3_mn, force_4_mn))


@DOCUMENT.clause("I2.3.2.1(ii)", title="greatest line load of the sub-regions", symbol="Q_Bow", status=Status.TEXT)
def greatest_line_load(
    *,
    line_load_1_mn_per_m: MNPerM,
    line_load_2_mn_per_m: MNPerM,
    line_load_3_mn_per_m: MNPerM,
    line_load_4_mn_per_m: MNPerM,
) -> MNPerM:
    """Greatest line load of the four sub-regions [MN/m], whichever has it. Source: UR I2.3.2.1(ii) (text)."""
    return np.maximum(
        np.maximum(line_load_1_mn_per_m, line_load_2_mn_per_m), np.maximum(line_load_3_mn_per_m, line_load_4_mn_per_m)
    )


@DOCUMENT.clause("I2.3.2.1(ii)", title="greatest pressure of the sub-regions", symbol="P_Bow", status=Status.TEXT)
def greatest_pressure(*, pressure_1_mpa: MPa, pressure_2_mpa: MPa, pressure_3_mpa: MPa, pressure_4_mpa: MPa) -> MPa:
    """Greatest pressure of the four sub-regions [MPa], whichever has it. Source: UR I2.3.2.1(ii) (text)."""
    return np.maximum(np.maximum(pressure_1_mpa, pressure_2_mpa), np.maximum(pressure_3_mpa, pressure_4_mpa))


@DOCUMENT.clause("I2.3.1(vii)", title="force, not less than the least of a bulbous bow", symbol="F_Bow",
                 status=Status.TEXT)  # fmt: skip
def bulb_force(*, force_sub_regions_mn: MN, force_least_mn: MN) -> MN:
    """Force on a bulbous bow [MN]: not less than with fa = 0.6 and AR = 1.3. Source: UR I2.3.1(vii) (text)."""
    return np.maximum(force_sub_regions_mn, force_least_mn)


@DOCUMENT.clause("I2.3.1(vii)", title="line load, not less than the least of a bulbous bow", symbol="Q_Bow",
                 status=Status.TEXT)  # fmt: skip
def bulb_line_load(*, line_load_sub_regions_mn_per_m: MNPerM, line_load_least_mn_per_m: MNPerM) -> MNPerM:
    """Line load on a bulbous bow [MN/m]. Source: UR I2.3.1(vii) (text)."""
    return np.maximum(line_load_sub_regions_mn_per_m, line_load_least_mn_per_m)


@DOCUMENT.clause("I2.3.1(vii)", title="pressure, not less than the least of a bulbous bow", symbol="P_Bow",
                 status=Status.TEXT)  # fmt: skip
def bulb_pressure(*, pressure_sub_regions_mpa: MPa, pressure_least_mpa: MPa) -> MPa:
    """Pressure on a bulbous bow [MPa]. Source: UR I2.3.1(vii) (text)."""
    return np.maximum(pressure_sub_regions_mpa, pressure_least_mpa)


@DOCUMENT.clause("I2.3.2.2", title="displacement term outside the bow", symbol="DF", status=Status.MEMORY)
def displacement_term(*, displacement_other_kt: Kilotonnes, displacement_factor: Kilotonnes) -> Ratio:
    """Displacement term of the force outside the bow [-]. Source: UR I2.3.2.2, recalled."""
    return np.where(
        displacement_other_kt <= displacement_factor,
        displacement_other_kt**0.64,
        displacement_factor**0.64 + 0.10 * (displacement_other_kt - displacement_factor),
    )


@DOCUMENT.clause("I2.3.2.2", title="force outside the bow", symbol="F_NonBow", status=Status.TEXT)
def other_force(*, crushing_factor: Ratio, displacement_term: Ratio) -> MN:
    """Force outside the bow [MN]. Source: UR I2.3.2.2 (text)."""
    return 0.36 * crushing_factor * displacement_term


@DOCUMENT.clause("I2.3.2.2", title="line load outside the bow", symbol="Q_NonBow", status=Status.MEMORY_CHECKED)
def other_line_load(*, other_force_mn: MN, load_patch_factor: Ratio) -> MNPerM:
    """Line load outside the bow [MN/m], for the fixed aspect ratio 3.6. Source: UR I2.3.2.2, recalled."""
    return 0.639 * other_force_mn**0.61 * load_patch_factor
