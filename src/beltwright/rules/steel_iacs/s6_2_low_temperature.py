"""UR S6.2 and S6.3: structure exposed to low air temperature, by the design temperature t_D.

``t_D`` is the lowest mean daily average air temperature of the area. Words are told by letters as in normal service.
"""

from __future__ import annotations

import numpy as np

from beltwright.core.provenance import Status
from beltwright.core.units import Celsius, Label, Metres, Millimetres
from beltwright.rules.steel_iacs.documents import DOCUMENT_S6
from beltwright.rules.steel_iacs.tables import COLD_BANDS, COLD_CLASSES, COLD_SERVICE, LIMITS, TEMPERATURES


@DOCUMENT_S6.clause("S6.2, Table 8", title="place along the length", symbol="place", status=Status.MEMORY,
                    table=LIMITS, reads=({"what": "share of the length amidships"},))  # fmt: skip
def cold_place_along(*, aft_of_stem_m: Metres, rule_length_m: Metres) -> Label:
    """Place of a point: amidships (middle 0.4 L, limits included) or outside. Source: recalled."""
    from_middle = np.abs(aft_of_stem_m - 0.5 * rule_length_m) / rule_length_m
    return np.where(from_middle <= LIMITS.numbers("share of the length amidships") / 2.0, "amidships", "outside")


@DOCUMENT_S6.clause("S6.2, Table 8", title="material class in low air temperature", symbol="class",
                    status=Status.MEMORY, table=COLD_CLASSES)  # fmt: skip
def cold_class(*, category: Label, place: Label) -> Label:
    """Material class of a category at a place along the length. Source: recalled."""
    return COLD_CLASSES.words(category, place)


@DOCUMENT_S6.clause("S6.2, Table 9", title="row of Table 9", symbol="t row", status=Status.MEMORY)
def cold_thickness_row(*, material_class: Label, thickness_as_built_mm: Millimetres) -> Label:
    """Row of the class's own part of Table 9; a limit belongs to the thinner row. Source: recalled."""
    one = COLD_BANDS["I"].words(thickness_as_built_mm)
    two = COLD_BANDS["II"].words(thickness_as_built_mm)
    three = COLD_BANDS["III"].words(thickness_as_built_mm)
    return np.where(material_class == "I", one, np.where(material_class == "II", two, three))


@DOCUMENT_S6.clause("S6.2, Table 9", title="column of Table 9", symbol="t_D column", status=Status.MEMORY,
                    note="between two printed columns the colder one")  # fmt: skip
def cold_column(*, design_temperature_c: Celsius) -> Label:
    """Column of a design temperature [C]; from -10 up the table is not for. Source: recalled."""
    return TEMPERATURES.words(design_temperature_c)


@DOCUMENT_S6.clause("S6.2, Table 9", title="grade in low air temperature", symbol="grade", status=Status.MEMORY,
                    table=COLD_SERVICE)  # fmt: skip
def low_temperature_grade(*, material_class: Label, thickness: Label, temperature: Label, strength: Label) -> Label:
    """Least grade letter for a class, row of thickness, column of temperature and strength. Source: recalled.

    ``none`` where no grade of the strength is allowed. A temperature that the table is not for is an InputError.
    """
    return COLD_SERVICE.words(material_class, thickness, temperature, strength)
