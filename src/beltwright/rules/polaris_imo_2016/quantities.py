"""The quantities of the circular: whole numbers of any width, so that a long route stays small and exact."""

from __future__ import annotations

from typing import Annotated, Any

from numpy.typing import NDArray

from beltwright.core.units import FloatArray, Unit

Tenths = Annotated[NDArray[Any], Unit("tenths")]
Index = Annotated[NDArray[Any], Unit("-")]
Knots = Annotated[FloatArray, Unit("kn")]
