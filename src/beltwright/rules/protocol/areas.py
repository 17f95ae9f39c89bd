"""Hull areas: what a rule set says of the shell, as borders and areas."""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum
from typing import Final, Protocol

from beltwright.core.chain import Trace
from beltwright.core.units import BoolArray, FloatArray, LabelArray


class Strengthens(Enum):
    """What a class asks to be strengthened in a hull area."""

    PLATING = "plating"
    FRAMING = "framing"


EVERYTHING: Final = (Strengthens.PLATING, Strengthens.FRAMING)


@dataclass(frozen=True, slots=True, kw_only=True)
class HullArea:
    """One hull area: its printed code, its title and what the class asks to be strengthened there, if anything."""

    code: str
    title: str
    strengthens: tuple[Strengthens, ...]

    @property
    def strengthened(self) -> bool:
        """Whether the class asks for any strengthening there."""
        return bool(self.strengthens)


@dataclass(frozen=True, slots=True, kw_only=True)
class TransverseBorder:
    """A border that runs up and down the side: distance aft of the stem as a piecewise linear function of height.

    ``height_m`` and ``aft_of_stem_m`` (k,) give the line; a vertical border has one point.
    """

    name: str
    forward: str
    aft: str
    height_m: FloatArray
    aft_of_stem_m: FloatArray
    ref: str


@dataclass(frozen=True, slots=True, kw_only=True)
class HeightBorder:
    """A border that runs along the ship: an offset from an ice waterline, piecewise linear in distance aft of stem.

    ``waterline`` is "upper" or "lower"; ``offset_m`` is positive upward. The border exists between the first and the
    last ``aft_of_stem_m``.
    """

    name: str
    waterline: str
    above: str
    below: str
    aft_of_stem_m: FloatArray
    offset_m: FloatArray
    ref: str


@dataclass(frozen=True, slots=True, kw_only=True)
class InclinationBorder:
    """A border where the shell is inclined by a given angle from the horizontal plane."""

    name: str
    above: str
    below: str
    inclination_deg: float
    ref: str


Border = TransverseBorder | HeightBorder | InclinationBorder


class HullAreas(Protocol):
    """The hull areas of one ship under one class."""

    @property
    def areas(self) -> tuple[HullArea, ...]:
        """All areas of the document, in the document's order."""
        ...

    @property
    def borders(self) -> tuple[Border, ...]:
        """The borders, for drawing and for splitting areas."""
        ...

    @property
    def outside(self) -> str:
        """What shell that lies in no area is called, e.g. ``above the belt``."""
        ...

    @property
    def trace(self) -> Trace:
        """Where each border's place comes from."""
        ...

    def classify(
        self,
        aft_of_stem_m: FloatArray,
        above_upper_m: FloatArray,
        above_lower_m: FloatArray,
        inclination_deg: FloatArray,
        height_m: FloatArray,
    ) -> LabelArray:
        """Return the area code of each shell point (n,), or "" where it lies in none.

        ``above_upper_m`` and ``above_lower_m`` are heights above the ice waterlines at the same station,
        ``inclination_deg`` the shell's inclination from the horizontal plane (90 = vertical, NaN where not known),
        ``height_m`` the height above the baseline.
        """
        ...

    def governing(self, touched: BoolArray) -> GoverningAreas:
        """Return, for members that touch several areas (n, areas), which area's factor and addition they take."""
        ...


@dataclass(frozen=True, slots=True, kw_only=True)
class GoverningAreas:
    """For each member (n,): the area whose factor it takes, and the area whose corrosion addition it takes."""

    factor_area: LabelArray
    addition_area: LabelArray
    ref: str
