"""UR I2.12: material classes and steel grades, by as-built thickness.

Classes and grades are told by words whose alphabetical order is the order of severity, as in ``steel_iacs``.
"""

from __future__ import annotations

import numpy as np

from beltwright.core.provenance import Status
from beltwright.core.units import Flag, Label, Metres, Millimetres
from beltwright.rules.polar_iacs_2019.documents import DOCUMENT
from beltwright.rules.polar_iacs_2019.tables import GRADE_BANDS, GRADES, MATERIAL_CLASSES, MATERIAL_LIMITS

_BOW_SHELL = "shell plating of bow and bow intermediate icebelt"
_OUTSIDE = "exposed secondary or primary outside amidships"
_FRAMING = "inboard framing attached to exposed plating"
_FORE = "exposed special in the fore part"


@DOCUMENT.clause("I2.12.2", title="class of shell plating in bow and bow intermediate icebelt", symbol="class",
                 status=Status.MEMORY, table=MATERIAL_CLASSES, reads=({"structure": _BOW_SHELL},))  # fmt: skip
def class_of_bow_shell(*, plating: Flag, hull_area: Label) -> Label:
    """Class of shell plating in areas B and BIi, ``-`` elsewhere. Source: UR I2 Table 7, recalled."""
    printed = MATERIAL_CLASSES.words("shell plating of bow and bow intermediate icebelt")
    return np.where(plating & ((hull_area == "B") | (hull_area == "BIi")), printed, "-")


@DOCUMENT.clause("I2.12.2", title="whether the member lies outside the middle 0.4 L_UI", symbol="outside",
                 status=Status.MEMORY, table=MATERIAL_LIMITS,
                 reads=({"what": "share of the length amidships"},))  # fmt: skip
def outside_amidships(*, fore_end_m: Metres, aft_end_m: Metres, rule_length_m: Metres) -> Flag:
    """Whether any part lies outside the middle 0.4 L_UI; ends are distances aft of the stem [m]. Source: recalled."""
    margin = (1.0 - MATERIAL_LIMITS.numbers("share of the length amidships")) / 2.0
    return (fore_end_m < margin * rule_length_m) | (aft_end_m > (1.0 - margin) * rule_length_m)


@DOCUMENT.clause("I2.12.2", title="class of exposed members outside amidships", symbol="class", status=Status.MEMORY,
                 table=MATERIAL_CLASSES, reads=({"structure": _OUTSIDE},))  # fmt: skip
def class_outside_amidships(*, outside: Flag, category: Label) -> Label:
    """Class of exposed secondary and primary members outside the middle 0.4 L_UI, ``-`` elsewhere.

    Source: UR I2 Table 7, recalled.
    """
    printed = MATERIAL_CLASSES.words("exposed secondary or primary outside amidships")
    return np.where(outside & ((category == "secondary") | (category == "primary")), printed, "-")


@DOCUMENT.clause("I2.12.2", title="class of framing on exposed plating", symbol="class", status=Status.MEMORY,
                 table=MATERIAL_CLASSES, reads=({"structure": _FRAMING},))  # fmt: skip
def class_of_framing(*, plating: Flag, exposed_part: Label) -> Label:
    """Class of inboard framing attached to exposed plating, ``-`` for plating and appendages.

    Source: UR I2 Table 7, recalled.
    """
    printed = MATERIAL_CLASSES.words("inboard framing attached to exposed plating")
    return np.where(plating | (exposed_part != "no part of its own"), "-", printed)


@DOCUMENT.clause("I2.12.2", title="class of special members in the fore part", symbol="class", status=Status.MEMORY,
                 table=MATERIAL_CLASSES, reads=({"structure": _FORE},))  # fmt: skip
def class_of_special_forward(*, category: Label, in_fore_part: Flag) -> Label:
    """Class of exposed special members within 0.2 L_UI from the fore end. Source: UR I2 Table 7, recalled."""
    printed = MATERIAL_CLASSES.words("exposed special in the fore part")
    return np.where(in_fore_part & (category == "special"), printed, "-")


@DOCUMENT.clause("I2.12.2", title="whether the member reaches into the fore 0.2 L_UI", symbol="in fore part",
                 status=Status.MEMORY, table=MATERIAL_LIMITS,
                 reads=({"what": "share of the length of the fore part"},))  # fmt: skip
def in_fore_part(*, fore_end_m: Metres, rule_length_m: Metres) -> Flag:
    """Whether any part lies within 0.2 L_UI aft of the stem. Source: recalled."""
    return fore_end_m <= MATERIAL_LIMITS.numbers("share of the length of the fore part") * rule_length_m


@DOCUMENT.clause("I2.12.2", title="class of other exposed structure", symbol="class", status=Status.MEMORY,
                 table=MATERIAL_CLASSES)  # fmt: skip
def table_7_class(*, structure: Label) -> Label:
    """Class of a row of Table 7 by its name: appendages, stem and stern frames, cold holds. Source: recalled."""
    return MATERIAL_CLASSES.words(structure)


@DOCUMENT.clause("I2.12.2", title="material class of Table 7", symbol="class_T7", status=Status.MEMORY)
def exposed_class(
    *,
    class_of_bow_shell: Label,
    class_of_framing: Label,
    class_outside_amidships: Label,
    class_of_special_forward: Label,
    class_of_part: Label,
) -> Label:
    """The highest class that a row of Table 7 gives the member. Source: UR I2.12.2, recalled."""
    by_kind = np.where(class_of_bow_shell >= class_of_framing, class_of_bow_shell, class_of_framing)
    by_place = np.where(
        class_outside_amidships >= class_of_special_forward, class_outside_amidships, class_of_special_forward
    )
    of_shell = np.where(by_kind >= by_place, by_kind, by_place)
    return np.where(of_shell >= class_of_part, of_shell, class_of_part)


@DOCUMENT.clause("I2.12.2", title="material class, the higher of both documents", symbol="class", status=Status.MEMORY)
def governing_class(*, class_s6: Label, class_exposed: Label) -> Label:
    """The higher of the classes of UR S6 and of Table 7. Source: UR I2.12.2, recalled."""
    return np.where(class_s6 >= class_exposed, class_s6, class_exposed)


@DOCUMENT.clause("I2.12.4", title="whether part of the member is weather-exposed", symbol="exposed",
                 status=Status.MEMORY, table=MATERIAL_LIMITS,
                 reads=({"what": "exposed from below LIWL in m"},))  # fmt: skip
def weather_exposed(*, highest_above_lower_m: Metres) -> Flag:
    """Whether the member reaches up to LIWL - 0.3 m or above it; heights above LIWL [m]. Source: recalled."""
    return highest_above_lower_m >= -MATERIAL_LIMITS.numbers("exposed from below LIWL in m")


@DOCUMENT.clause("I2.12.3", title="whether part of the member is submerged", symbol="submerged", status=Status.MEMORY,
                 table=MATERIAL_LIMITS, reads=({"what": "exposed from below LIWL in m"},))  # fmt: skip
def submerged(*, lowest_above_lower_m: Metres) -> Flag:
    """Whether the member reaches below LIWL - 0.3 m; heights above LIWL [m]. Source: recalled."""
    return lowest_above_lower_m < -MATERIAL_LIMITS.numbers("exposed from below LIWL in m")


@DOCUMENT.clause("I2.12.1", title="row of Table 8", symbol="t row", status=Status.MEMORY)
def grade_thickness_row(*, thickness_as_built_mm: Millimetres) -> Label:
    """Row of Table 8 of an as-built thickness [mm]; a limit belongs to the thinner row. Source: recalled."""
    return GRADE_BANDS.words(thickness_as_built_mm)


@DOCUMENT.clause("I2.12.1", title="grade of Table 8", symbol="grade_T8", status=Status.MEMORY, table=GRADES)
def table_8_grade(*, material_class: Label, ice_class: Label, thickness: Label, strength: Label) -> Label:
    """Least grade letter of weather-exposed plating. Source: UR I2 Table 8, recalled."""
    return GRADES.words(material_class, ice_class, thickness, strength)


@DOCUMENT.clause("I2.12.4", title="whether the member lies in the single strake", symbol="in strake",
                 status=Status.MEMORY, table=MATERIAL_LIMITS,
                 reads=({"what": "exposed from below LIWL in m"}, {"what": "single strake: greatest width in m"}),
                 note="a choice of the user: the strake's width is declared, or 0")  # fmt: skip
def in_single_strake(*, plating: Flag, highest_above_lower_m: Metres, single_strake_width_m: Metres) -> Flag:
    """Whether plating lies wholly in the declared single side-shell strake that begins at LIWL - 0.3 m.

    A strake wider than 1.8 m is none. Source: UR I2 Table 8, note 2, recalled.
    """
    top = single_strake_width_m - MATERIAL_LIMITS.numbers("exposed from below LIWL in m")
    narrow = single_strake_width_m <= MATERIAL_LIMITS.numbers("single strake: greatest width in m")
    declared = single_strake_width_m > 0.0
    return plating & declared & narrow & (highest_above_lower_m <= top)


@DOCUMENT.clause("I2.12.1", title="grade of the exposed part", symbol="grade_exp", status=Status.MEMORY,
                 table=MATERIAL_LIMITS, reads=({"what": "single strake: thickness over in mm"},
                                               {"what": "single strake: thickness up to in mm"}))  # fmt: skip
def exposed_grade(
    *,
    weather_exposed: Flag,
    table_8_grade: Label,
    in_single_strake: Flag,
    material_class: Label,
    thickness_as_built_mm: Millimetres,
) -> Label:
    """Least grade letter of the exposed part: Table 8, or D in the single strake; A where no part is exposed.

    The single strake stands for E of class II over 25 up to 30 mm only. Source: UR I2 Table 8 with note 2, recalled.
    """
    over = thickness_as_built_mm > MATERIAL_LIMITS.numbers("single strake: thickness over in mm")
    upto = thickness_as_built_mm <= MATERIAL_LIMITS.numbers("single strake: thickness up to in mm")
    eased = in_single_strake & (material_class == "II") & (table_8_grade == "E") & over & upto
    return np.where(weather_exposed, np.where(eased, "D", table_8_grade), "A")


@DOCUMENT.clause("I2.12.3", title="grade of the submerged part", symbol="grade_sub", status=Status.MEMORY)
def submerged_grade(*, submerged: Flag, normal_service_grade: Label) -> Label:
    """Least grade letter of the submerged part, UR S6 with the member's class; A where no part is submerged.

    Source: UR I2.12.3, recalled.
    """
    return np.where(submerged, normal_service_grade, "A")


@DOCUMENT.clause("I2.12.1", title="grade demanded", symbol="grade", status=Status.CHOICE,
                 note="the most severe of both parts and of UR S6 for itself")  # fmt: skip
def demanded_grade(
    *, exposed_grade: Label, submerged_grade: Label, ship_grade: Label, ice_grade: Label, long_ship_grade: Label
) -> Label:
    """The most severe grade letter of the member's parts and of UR S6 for itself."""
    parts = np.where(exposed_grade >= submerged_grade, exposed_grade, submerged_grade)
    by_ice = np.where(ice_grade >= long_ship_grade, ice_grade, long_ship_grade)
    s6_itself = np.where(ship_grade >= by_ice, ship_grade, by_ice)
    return np.where(parts >= s6_itself, parts, s6_itself)
