"""As-built sections as a table of columns, and one section as a record with the same names."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, fields
from typing import Any

import numpy as np

from beltwright.core.errors import InputError
from beltwright.core.provenance import Status
from beltwright.core.steel import steel_density
from beltwright.core.units import (
    BoolArray,
    Cm2,
    Cm4,
    Flag,
    FloatArray,
    IntArray,
    KgPerM,
    Label,
    LabelArray,
    Millimetres,
)
from beltwright.sections.equivalent import equivalent_built_angle
from beltwright.sections.kinds import Rows, SectionKind, Shapes, families, frozen
from beltwright.sections.moments import section_moments


@dataclass(frozen=True, slots=True, kw_only=True)
class SectionTable(Rows):
    """As-built sections, one row each; every array has shape (n,).

    For a bulb flat, ``web_height_mm``, the flange and ``flange_eccentricity_mm`` are those of the equivalent built-up
    angle that rule formulas use; ``height_mm``, area, centroid, inertia and mass are those of the exact outline.

    Columns: ``name`` as in ``ship.toml``; ``kind`` (a :class:`SectionKind` value); ``height_mm`` plate to far face;
    ``web_height_mm`` plate to flange; ``web_thickness_mm``; ``flange_breadth_mm``, ``flange_thickness_mm`` (0 without a
    flange); ``flange_centre_height_mm`` plate to mid-thickness of the flange, the web height where there is none;
    ``flange_eccentricity_mm`` web mid-plane to flange centre; ``symmetric`` about the web; ``area_cm2``;
    ``centroid_cm`` above the welded edge; ``inertia_cm4`` about the section's own axis along the plate;
    ``mass_kg_per_m`` at the density of :func:`~beltwright.core.steel.steel_density`; ``status`` (a
    :class:`~beltwright.core.provenance.Status` value) of the dimensions; ``shapes`` the exact outlines.
    """

    name: Label
    kind: Label
    height_mm: Millimetres
    web_height_mm: Millimetres
    web_thickness_mm: Millimetres
    flange_breadth_mm: Millimetres
    flange_thickness_mm: Millimetres
    flange_centre_height_mm: Millimetres
    flange_eccentricity_mm: Millimetres
    symmetric: Flag
    area_cm2: Cm2
    centroid_cm: FloatArray
    inertia_cm4: Cm4
    mass_kg_per_m: KgPerM
    status: Label
    shapes: Shapes

    def __len__(self) -> int:
        return len(self.name)

    @property
    def family(self) -> Label:
        """The word that rules sort sections by, shape (n,): ``flat``, ``bulb``, ``angle`` or ``tee``."""
        return families(self.kind)

    def take(self, rows: IntArray | BoolArray) -> SectionTable:
        """Return the table of the given rows (indices, repeats allowed, or a mask)."""
        return self._take(rows)

    def row(self, index: int) -> GrossSection:
        """Return one section of the table."""
        return GrossSection(**row_values(self, index))

    def index_of(self, name: str) -> int:
        """Return the row of a name; an unknown name is an InputError."""
        rows = np.flatnonzero(self.name == name)
        if len(rows) == 0:
            raise InputError(name, "this section is not in the table", allowed=f"one of its {len(self)} sections")
        return int(rows[0])


@dataclass(frozen=True, slots=True, kw_only=True)
class GrossSection:
    """One as-built section; the fields mean what the columns of :class:`SectionTable` mean."""

    name: str
    kind: SectionKind
    height_mm: float
    web_height_mm: float
    web_thickness_mm: float
    flange_breadth_mm: float
    flange_thickness_mm: float
    flange_centre_height_mm: float
    flange_eccentricity_mm: float
    symmetric: bool
    area_cm2: float
    centroid_cm: float
    inertia_cm4: float
    mass_kg_per_m: float
    status: Status
    shapes: Shapes

    def as_table(self) -> SectionTable:
        """Return the section as a table of one row."""
        return stack([self])


def row_values(table: Any, index: int) -> dict[str, Any]:
    """Return one row of a table of sections as plain values, for its record."""
    values: dict[str, Any] = {}
    for field in fields(table):
        column = getattr(table, field.name)
        values[field.name] = column.take(np.array([index])) if isinstance(column, Shapes) else column[index].item()
    values["kind"], values["status"] = SectionKind(values["kind"]), Status(values["status"])
    return values


def section_table(*, name: LabelArray, shapes: Shapes, status: LabelArray) -> SectionTable:
    """Build the table of as-built sections from their exact shapes; all arrays (n,)."""
    moments = section_moments(shapes)
    angle = equivalent_built_angle(height_mm=shapes.height, web_mm=shapes.web)
    bulb = shapes.is_bulb
    web_height = np.where(bulb, angle.web_height_mm, shapes.web_height)
    flange = np.where(bulb, angle.flange_thickness_mm, shapes.flange)
    shift = np.where(bulb, angle.flange_eccentricity_mm, shapes.flange_shift)
    area_cm2 = moments.m0 / 100.0
    return SectionTable(
        name=frozen(name),
        kind=frozen(shapes.kind),
        height_mm=frozen(shapes.height),
        web_height_mm=frozen(web_height),
        web_thickness_mm=frozen(shapes.web),
        flange_breadth_mm=frozen(np.where(bulb, angle.flange_breadth_mm, shapes.flange_breadth)),
        flange_thickness_mm=frozen(flange),
        flange_centre_height_mm=frozen(web_height + flange / 2.0),
        flange_eccentricity_mm=frozen(shift),
        symmetric=frozen(shift == 0.0),
        area_cm2=frozen(area_cm2),
        centroid_cm=frozen(moments.centroid / 10.0),
        inertia_cm4=frozen(moments.own_inertia / 1e4),
        mass_kg_per_m=frozen(area_cm2 * 1e-4 * steel_density().kg_per_m3),
        status=frozen(status),
        shapes=shapes,
    )


def stack(sections: Sequence[GrossSection]) -> SectionTable:
    """Return sections as one table, in the order given; none give an empty table."""
    if not sections:
        return _EMPTY
    return section_table(
        name=np.array([section.name for section in sections], dtype=np.str_),
        shapes=stack_shapes([section.shapes for section in sections]),
        status=np.array([section.status.value for section in sections], dtype=np.str_),
    )


def stack_shapes(shapes: Sequence[Shapes]) -> Shapes:
    """Return several sets of shapes as one, in the order given."""
    columns: dict[str, Any] = {
        field.name: frozen(np.concatenate([getattr(one, field.name) for one in shapes])) for field in fields(Shapes)
    }
    return Shapes(**columns)


def join(tables: Sequence[SectionTable]) -> SectionTable:
    """Return several tables as one, in the order given."""
    return section_table(
        name=np.concatenate([table.name for table in tables]),
        shapes=stack_shapes([table.shapes for table in tables]),
        status=np.concatenate([table.status for table in tables]),
    )


_EMPTY = section_table(
    name=np.zeros(0, dtype=np.str_),
    shapes=Shapes(
        kind=np.zeros(0, dtype=np.str_),
        **{field.name: np.zeros(0) for field in fields(Shapes) if field.name != "kind"},
    ),
    status=np.zeros(0, dtype=np.str_),
)
