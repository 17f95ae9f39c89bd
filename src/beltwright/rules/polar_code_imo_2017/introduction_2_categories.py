"""Introduction, 2.1 to 2.3: categories A, B and C, and the ice class that usually goes with each."""

from __future__ import annotations

from beltwright.core.provenance import Status
from beltwright.core.units import Label
from beltwright.rules.polar_code_imo_2017.documents import DOCUMENT
from beltwright.rules.polar_code_imo_2017.tables import CATEGORY_BY_CLASS, CATEGORY_BY_ICE


@DOCUMENT.clause("2.1 to 2.3", title="category by the most severe ice of the design", symbol="category",
                 status=Status.MEMORY, table=CATEGORY_BY_ICE)  # fmt: skip
def category_by_ice(*, ice_type: Label) -> Label:
    """Category of a ship designed to operate in ice of at least this type. Source: Introduction 2.1 to 2.3, recalled.

    >>> import numpy as np
    >>> str(category_by_ice(ice_type=np.array("medium_first_year")))
    'A'
    """
    return CATEGORY_BY_ICE.words(ice_type)


@DOCUMENT.clause("usual category", title="category that usually goes with an ice class", symbol="category",
                 status=Status.MEMORY, table=CATEGORY_BY_CLASS, note="custom, not a text of the Code")  # fmt: skip
def usual_category(*, ice_class: Label) -> Label:
    """Category that usually goes with an ice class; flag or class decides. Source: custom, recalled."""
    return CATEGORY_BY_CLASS.words(ice_class)
