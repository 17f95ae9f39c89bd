"""The quantities of the Code that the core has no name for."""

from __future__ import annotations

from typing import Annotated

from beltwright.core.units import FloatArray, Unit

DegreesCelsius = Annotated[FloatArray, Unit("degC")]
