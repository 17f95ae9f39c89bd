"""One station of an offset table: what the reader, the surface through it and the forms share."""

from __future__ import annotations

from dataclasses import dataclass

from beltwright.core.units import BoolArray, FloatArray


@dataclass(frozen=True, slots=True, kw_only=True)
class OffsetStation:
    """One station: ``x`` along the hull, and its points from the centreline upwards, all in one length unit.

    ``half_breadth`` and ``height`` are (n,); ``knuckle`` (n,) marks corners.
    """

    x: float
    half_breadth: FloatArray
    height: FloatArray
    knuckle: BoolArray
