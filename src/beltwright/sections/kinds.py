"""The kinds of section, and the exact shape of many sections as arrays."""

from __future__ import annotations

from dataclasses import dataclass, fields
from enum import StrEnum
from typing import Any, Self, cast

import numpy as np

from beltwright.core.units import BoolArray, FloatArray, IntArray, LabelArray


class SectionKind(StrEnum):
    """What a section is made as."""

    FLAT_BAR = "flat bar"
    BULB_FLAT = "bulb flat"
    ROLLED_ANGLE = "rolled angle"
    BUILT_ANGLE = "built-up angle"
    BUILT_TEE = "built-up tee"
    BUILT_UP = "built-up section"

    @property
    def family(self) -> str:
        """The word that rules sort sections by: ``flat``, ``bulb``, ``angle`` or ``tee``."""
        return _FAMILIES[self]

    @property
    def welded(self) -> bool:
        """Whether the flange is a plate welded to the web (a rule may limit its proportions)."""
        return self in (SectionKind.BUILT_ANGLE, SectionKind.BUILT_TEE, SectionKind.BUILT_UP)


_FAMILIES = {
    SectionKind.FLAT_BAR: "flat",
    SectionKind.BULB_FLAT: "bulb",
    SectionKind.ROLLED_ANGLE: "angle",
    SectionKind.BUILT_ANGLE: "angle",
    SectionKind.BUILT_TEE: "tee",
    SectionKind.BUILT_UP: "tee",
}


def families(kind: LabelArray) -> LabelArray:
    """Return the family of each section from its kind, shape (n,)."""
    distinct, place = np.unique(kind, return_inverse=True)
    return np.array([SectionKind(str(one)).family for one in distinct], dtype="<U5")[place]


class Rows:
    """Behaviour shared by tables kept as arrays of equal length, one per field."""

    __slots__ = ()

    def _take(self, rows: IntArray | BoolArray) -> Self:
        """The table of the given rows."""
        names = [field.name for field in fields(cast(Any, self))]
        return cast(Self, cast(Any, type(self))(**{name: _pick(getattr(self, name), rows) for name in names}))


def _pick(column: object, rows: IntArray | BoolArray) -> object:
    """The given rows of one column, or of a table kept inside a table."""
    return column.take(rows) if isinstance(column, Shapes) else frozen(np.asarray(column)[rows])


def frozen(array: np.ndarray) -> np.ndarray:
    """Return the array, made read-only."""
    array.flags.writeable = False
    return array


@dataclass(frozen=True, slots=True, kw_only=True)
class Shapes(Rows):
    """The exact outline of sections as pure geometry, arrays (n,) in mm; neither as built nor net by itself.

    The web stands on the plate; its mid-plane is at 0 across, its welded edge at 0 up. Plates and angles use
    ``web_height``, the flange and, for rolled angles, the root and toe radii. Bulb flats (``is_bulb``) use ``height``,
    ``bulb_projection`` beyond the web's face, the nose circle of ``nose_radius`` which touches the flat top, the
    straight lower face at 30 degrees to the top and tangent to the nose, the fillet of ``fillet_radius`` between lower
    face and web, and ``edge_radius`` on both welded corners and on the back of the top.
    """

    kind: LabelArray
    height: FloatArray
    web_height: FloatArray
    web: FloatArray
    flange_breadth: FloatArray
    flange: FloatArray
    flange_shift: FloatArray
    bulb_projection: FloatArray
    nose_radius: FloatArray
    fillet_radius: FloatArray
    edge_radius: FloatArray
    web_toe_radius: FloatArray
    flange_toe_radius: FloatArray

    def __len__(self) -> int:
        return len(self.kind)

    def take(self, rows: IntArray | BoolArray) -> Shapes:
        """Return the shapes of the given rows."""
        return self._take(rows)

    @property
    def is_bulb(self) -> BoolArray:
        """Where the section is a bulb flat, shape (n,)."""
        bulb: BoolArray = self.kind == SectionKind.BULB_FLAT.value
        return bulb

    @property
    def is_rolled_angle(self) -> BoolArray:
        """Where the section is a rolled angle, shape (n,)."""
        angle: BoolArray = self.kind == SectionKind.ROLLED_ANGLE.value
        return angle
