"""Units as part of the type: every public array says what it is measured in.

An alias such as ``MN`` is a float64 array annotated with its unit. The unit is read by the report, by the
tables and by a test that refuses a clause with an unannotated parameter.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Annotated, Any, get_args, get_origin, get_type_hints

import numpy as np
from numpy.typing import NDArray

FloatArray = NDArray[np.float64]
IntArray = NDArray[np.int64]
BoolArray = NDArray[np.bool_]
LabelArray = NDArray[np.str_]


@dataclass(frozen=True, slots=True)
class Unit:
    """A printed unit symbol, e.g. ``Unit("MN/m")``; ``Unit("-")`` is a pure number, ``Unit("label")`` a word."""

    symbol: str


Metres = Annotated[FloatArray, Unit("m")]
Millimetres = Annotated[FloatArray, Unit("mm")]
SquareMetres = Annotated[FloatArray, Unit("m2")]
CubicMetres = Annotated[FloatArray, Unit("m3")]
MetresToTheFourth = Annotated[FloatArray, Unit("m4")]
Cm2 = Annotated[FloatArray, Unit("cm2")]
Cm3 = Annotated[FloatArray, Unit("cm3")]
Cm4 = Annotated[FloatArray, Unit("cm4")]
Cm6 = Annotated[FloatArray, Unit("cm6")]
MN = Annotated[FloatArray, Unit("MN")]
MNPerM = Annotated[FloatArray, Unit("MN/m")]
MNm = Annotated[FloatArray, Unit("MNm")]
MPa = Annotated[FloatArray, Unit("MPa")]
Kilotonnes = Annotated[FloatArray, Unit("kt")]
Tonnes = Annotated[FloatArray, Unit("t")]
Kilograms = Annotated[FloatArray, Unit("kg")]
KgPerM = Annotated[FloatArray, Unit("kg/m")]
KgPerM2 = Annotated[FloatArray, Unit("kg/m2")]
KgPerM3 = Annotated[FloatArray, Unit("kg/m3")]
Newtons = Annotated[FloatArray, Unit("N")]
Kilowatts = Annotated[FloatArray, Unit("kW")]
Knots = Annotated[FloatArray, Unit("kn")]
Degrees = Annotated[FloatArray, Unit("deg")]
Celsius = Annotated[FloatArray, Unit("C")]
Ratio = Annotated[FloatArray, Unit("-")]
Count = Annotated[IntArray, Unit("count")]
Flag = Annotated[BoolArray, Unit("flag")]
Label = Annotated[LabelArray, Unit("label")]


def unit_of(annotation: Any) -> Unit | None:
    """Return the unit that an annotation carries, or None if it carries none."""
    if get_origin(annotation) is Annotated:
        for item in get_args(annotation)[1:]:
            if isinstance(item, Unit):
                return item
    return None


def signature_units(function: Any) -> dict[str, Unit | None]:
    """Return the unit of each parameter of a function, and of its return value under the key ``return``."""
    hints = get_type_hints(function, include_extras=True)
    return {name: unit_of(hint) for name, hint in hints.items()}
