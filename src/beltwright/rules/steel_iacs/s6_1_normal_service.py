"""UR S6.1: structural categories of the shell, their material classes, and grades in normal service.

Alphabetical order is the order of severity: classes ``-`` (none), ``I``, ``II``, ``III``; grade letters ``A``, ``B``,
``D``, ``E``, ``F``, ``none`` (no grade of this strength is allowed).
"""

from __future__ import annotations

import numpy as np

from beltwright.core.provenance import Status
from beltwright.core.units import Flag, Label, Metres, Millimetres, Ratio
from beltwright.rules.steel_iacs.documents import DOCUMENT_S6
from beltwright.rules.steel_iacs.tables import (
    APPENDAGE_CLASSES,
    CATEGORY_CLASSES,
    ICE_STRAKES,
    LIMITS,
    LONG_SHIPS,
    NORMAL_BANDS,
    NORMAL_SERVICE,
)


@DOCUMENT_S6.clause("S6.1, single strakes", title="breadth of a single strake", symbol="b_strake", status=Status.MEMORY,
                    table=LIMITS, reads=({"what": "single strake: least breadth in mm"},
                                         {"what": "single strake: breadth in mm per metre of length"},
                                         {"what": "single strake: breadth in mm that suffices"}))  # fmt: skip
def single_strake_breadth(*, rule_length_m: Metres) -> Metres:
    """Breadth of a single strake of class III or of E or EH [m]: 800 + 5 L mm, at most 1800 mm. Source: recalled."""
    least = LIMITS.numbers("single strake: least breadth in mm")
    per_metre = LIMITS.numbers("single strake: breadth in mm per metre of length")
    return (
        np.minimum(least + per_metre * rule_length_m, LIMITS.numbers("single strake: breadth in mm that suffices"))
        / 1000.0
    )


@DOCUMENT_S6.clause("S6.1, Table 1", title="structural category", symbol="category", status=Status.SECONDARY,
                    note="a declared category stands; framing is not listed")  # fmt: skip
def structural_category(
    *,
    declared_category: Label,
    plating: Flag,
    below_strength_deck_m: Metres,
    single_strake_breadth_m: Metres,
    bilge: Flag,
    bottom_shell: Flag,
) -> Label:
    """Category of a shell member: special (sheer strake, bilge), primary (bottom), secondary (side) or unlisted.

    A ``declared_category`` other than ``derived`` stands. ``below_strength_deck_m`` is how far the member's upper edge
    lies below the strength deck at side. Source: UR S6 Table 1, read for an earlier revision; the bilge is recalled.
    """
    shell = np.where(
        below_strength_deck_m < single_strake_breadth_m,
        "special",
        np.where(bilge, "special", np.where(bottom_shell, "primary", "secondary")),
    )
    derived = np.where(plating, shell, "unlisted")
    return np.where(declared_category == "derived", derived, declared_category)


@DOCUMENT_S6.clause("S6.1, Table 1", title="place along the length", symbol="place", status=Status.SECONDARY,
                    table=LIMITS, reads=({"what": "share of the length amidships"},
                                         {"what": "share of the length with the next"}))  # fmt: skip
def place_along(*, aft_of_stem_m: Metres, rule_length_m: Metres) -> Label:
    """Place of a point: amidships (middle 0.4 L), next (middle 0.6 L) or ends. Limits belong to the middle."""
    from_middle = np.abs(aft_of_stem_m - 0.5 * rule_length_m) / rule_length_m
    half_middle = LIMITS.numbers("share of the length amidships") / 2.0
    half_next = LIMITS.numbers("share of the length with the next") / 2.0
    return np.where(from_middle <= half_middle, "amidships", np.where(from_middle <= half_next, "next", "ends"))


@DOCUMENT_S6.clause("S6.1, Table 1", title="material class of the category", symbol="class", status=Status.SECONDARY,
                    table=CATEGORY_CLASSES)  # fmt: skip
def category_class(*, category: Label, place: Label) -> Label:
    """Material class of a category at a place along the length. Source: UR S6 Table 1, read for an earlier revision."""
    return CATEGORY_CLASSES.words(category, place)


@DOCUMENT_S6.clause("S6.1, Table 1", title="higher material class", symbol="class", status=Status.COMPUTED)
def higher_class(*, one_class: Label, other_class: Label) -> Label:
    """The higher of two material classes; alphabetical order is the order of severity."""
    return np.where(one_class >= other_class, one_class, other_class)


@DOCUMENT_S6.clause("S6.1, appendages", title="appendage by its stress", symbol="part_S6", status=Status.SECONDARY)
def appendage_row(*, exposed_part: Label, stress_concentration: Flag) -> Label:
    """Name under which an appendage stands: rudder plates under concentrated stress have one of their own.

    Source: read for an earlier revision.
    """
    stressed = stress_concentration & (exposed_part == "rudder")
    return np.where(stressed, "rudder plate with stress concentration", exposed_part)


@DOCUMENT_S6.clause("S6.1, appendages", title="least class of stern frame, rudder and brackets", symbol="class",
                    status=Status.SECONDARY, table=APPENDAGE_CLASSES)  # fmt: skip
def appendage_class(*, part: Label) -> Label:
    """Least class of the plates of an appendage, ``-`` for shell, framing and parts that the paragraph does not name.

    Source: read for an earlier revision.
    """
    return APPENDAGE_CLASSES.words(part)


@DOCUMENT_S6.clause("S6.1, Table 4", title="least grade of sheer and bilge strakes of long ships", symbol="grade",
                    status=Status.MEMORY, table=LONG_SHIPS,
                    reads=({"strake": "sheer strake"}, {"strake": "bilge strake"}))  # fmt: skip
def long_ship_grade(
    *, plating: Flag, category: Label, bilge: Flag, below_strength_deck_m: Metres, single_strake_breadth_m: Metres,
    fore_place: Label, aft_place: Label, rule_length_m: Metres,
) -> Label:  # fmt: skip
    """Least grade letter of special strakes within 0.4 L of ships longer than 250 m, A elsewhere.

    D for the bilge strake; E for the sheer strake and any other strake declared special. Source: recalled.
    """
    long = rule_length_m > LIMITS.numbers("length in m over which Table 4 holds")
    there = plating & (category == "special") & ((fore_place == "amidships") | (aft_place == "amidships"))
    bilge_only = bilge & (below_strength_deck_m >= single_strake_breadth_m)
    least = np.where(bilge_only, LONG_SHIPS.words("bilge strake"), LONG_SHIPS.words("sheer strake"))
    return np.where(long & there, least, "A")


@DOCUMENT_S6.clause("S6.1, Table 7", title="row of Table 7", symbol="t row", status=Status.MEMORY)
def normal_thickness_row(*, thickness_as_built_mm: Millimetres) -> Label:
    """Row of Table 7 of an as-built thickness [mm]; a limit belongs to the thinner row. Source: recalled."""
    return NORMAL_BANDS.words(thickness_as_built_mm)


@DOCUMENT_S6.clause("S6.1, Table 7", title="grade in normal service", symbol="grade", status=Status.MEMORY,
                    table=NORMAL_SERVICE)  # fmt: skip
def normal_service_grade(*, material_class: Label, thickness: Label, strength: Label) -> Label:
    """Least grade letter for a class, row of thickness and strength (``normal`` or ``higher``). Source: recalled."""
    return NORMAL_SERVICE.words(material_class, thickness, strength)


@DOCUMENT_S6.clause("S6.1, Table 6", title="least grade of strakes in way of ice strengthening", symbol="grade",
                    status=Status.MEMORY, table=ICE_STRAKES,
                    reads=({"structure": "shell strake in way of ice strengthening"},))  # fmt: skip
def ice_strake_grade(*, plating: Flag, ice_strengthened: Flag, strength: Label) -> Label:
    """Least grade letter of shell strakes in way of ice strengthening, B or AH; A elsewhere. Source: recalled."""
    least = ICE_STRAKES.words("shell strake in way of ice strengthening", strength)
    return np.where(plating & ice_strengthened, least, "A")


@DOCUMENT_S6.clause("S6.1, Table 7", title="rank of a grade", symbol="rank", status=Status.CHOICE,
                    note="our numbers for the order A, B, D, E, F; 6 where no grade is allowed")  # fmt: skip
def grade_rank(*, grade_letter: Label) -> Ratio:
    """Rank of a grade letter [-]: 1 to 5 for A, B, D, E, F; 6 for anything else, which no grade reaches."""
    lower = np.where(grade_letter == "A", 1.0, np.where(grade_letter == "B", 2.0, 3.0))
    upper = np.where(grade_letter == "E", 4.0, np.where(grade_letter == "F", 5.0, 6.0))
    return np.where((grade_letter == "A") | (grade_letter == "B") | (grade_letter == "D"), lower, upper)
