"""Net sections: what is left of as-built sections after a corrosion deduction, for strength by rule formulas."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Annotated

import numpy as np
from numpy.typing import ArrayLike

from beltwright.core.errors import InputError
from beltwright.core.provenance import Status
from beltwright.core.units import BoolArray, Cm2, Cm4, Flag, FloatArray, IntArray, Label, Millimetres, Unit
from beltwright.sections.kinds import Rows, SectionKind, Shapes, families, frozen
from beltwright.sections.moments import section_moments
from beltwright.sections.table import GrossSection, SectionTable, row_values

Centimetres = Annotated[FloatArray, Unit("cm")]


@dataclass(frozen=True, slots=True, kw_only=True)
class NetSectionTable(Rows):
    """Net sections, one row each; every array has shape (n,). Made only by :func:`net_sections`.

    For rule formulas (a bulb flat as its equivalent built-up angle, fillets and edge radii left out):
    ``corrosion_deduction_mm`` taken off each plate's thickness; ``net_height_mm`` plate to the far face of the flange;
    ``web_height_mm`` plate to flange; ``net_web_thickness_mm``; ``flange_breadth_mm``, ``net_flange_thickness_mm`` and
    ``net_flange_area_cm2`` (0 without a flange); ``net_frame_area_cm2`` web and flange;
    ``flange_centre_height_mm`` plate to mid-thickness of the net flange, the web height where there is none;
    ``flange_eccentricity_mm`` web mid-plane to flange centre; ``flange_outstand_mm`` the wider free edge from the net
    web's face; ``has_flange``; ``welded_flange`` whether that flange is a plate welded on.

    Exact, from the net outline (radii and the real bulb included): ``net_area_cm2``, ``net_centroid_cm`` above the
    welded edge, ``net_inertia_cm4`` about the own axis along the plate, ``net_shapes``.
    """

    name: Label
    kind: Label
    corrosion_deduction_mm: Millimetres
    net_height_mm: Millimetres
    web_height_mm: Millimetres
    net_web_thickness_mm: Millimetres
    flange_breadth_mm: Millimetres
    net_flange_thickness_mm: Millimetres
    flange_centre_height_mm: Millimetres
    flange_eccentricity_mm: Millimetres
    flange_outstand_mm: Millimetres
    has_flange: Flag
    welded_flange: Flag
    symmetric: Flag
    net_flange_area_cm2: Cm2
    net_frame_area_cm2: Cm2
    net_area_cm2: Cm2
    net_centroid_cm: Centimetres
    net_inertia_cm4: Cm4
    status: Label
    net_shapes: Shapes

    def __len__(self) -> int:
        return len(self.name)

    @property
    def family(self) -> Label:
        """The word that rules sort sections by, shape (n,): ``flat``, ``bulb``, ``angle`` or ``tee``."""
        return families(self.kind)

    def take(self, rows: IntArray | BoolArray) -> NetSectionTable:
        """Return the table of the given rows (indices, repeats allowed, or a mask)."""
        return self._take(rows)

    def row(self, index: int) -> NetSection:
        """Return one section of the table."""
        return NetSection(**row_values(self, index))


@dataclass(frozen=True, slots=True, kw_only=True)
class NetSection:
    """One net section; the fields mean what the columns of :class:`NetSectionTable` mean."""

    name: str
    kind: SectionKind
    corrosion_deduction_mm: float
    net_height_mm: float
    web_height_mm: float
    net_web_thickness_mm: float
    flange_breadth_mm: float
    net_flange_thickness_mm: float
    flange_centre_height_mm: float
    flange_eccentricity_mm: float
    flange_outstand_mm: float
    has_flange: bool
    welded_flange: bool
    symmetric: bool
    net_flange_area_cm2: float
    net_frame_area_cm2: float
    net_area_cm2: float
    net_centroid_cm: float
    net_inertia_cm4: float
    status: Status
    net_shapes: Shapes


def net_sections(table: SectionTable, *, corrosion_deduction_mm: ArrayLike) -> NetSectionTable:
    """Return the net sections of as-built ones; the deduction [mm] is one number or an array (n,), zero or more.

    The whole deduction comes off the thickness of each plate: web heights and flange breadths stay, the flange thins
    from its far face. For rule formulas a bulb flat is first turned into its as-built equivalent angle, then reduced
    like one. Its exact net outline loses half the deduction from every exposed face. The least deduction that a rule
    allows (1.0 mm for internal members in ice) is the rule's own check. DECISIONS.md says why.

    >>> from beltwright.sections.make import tee
    >>> net = net_sections(tee(380, 19, 150, 20).as_table(), corrosion_deduction_mm=1.0).row(0)
    >>> net.net_web_thickness_mm, net.net_flange_thickness_mm, net.flange_centre_height_mm, net.net_height_mm
    (18.0, 19.0, 389.5, 399.0)
    """
    deduction = np.array(np.broadcast_to(np.asarray(corrosion_deduction_mm, dtype=np.float64), (len(table),)))
    web = table.web_thickness_mm - deduction
    has_flange = table.flange_thickness_mm > 0.0
    flange = np.where(has_flange, table.flange_thickness_mm - deduction, 0.0)
    shapes = _net_shapes(table.shapes, deduction)
    _check(table, deduction, web, flange, shapes)
    flange_area = table.flange_breadth_mm * flange / 100.0
    moments = section_moments(shapes)
    outstand = np.where(has_flange, table.flange_breadth_mm / 2 + np.abs(table.flange_eccentricity_mm) - web / 2, 0.0)
    return NetSectionTable(
        name=table.name,
        kind=table.kind,
        corrosion_deduction_mm=frozen(deduction),
        net_height_mm=frozen(table.web_height_mm + flange),
        web_height_mm=table.web_height_mm,
        net_web_thickness_mm=frozen(web),
        flange_breadth_mm=table.flange_breadth_mm,
        net_flange_thickness_mm=frozen(flange),
        flange_centre_height_mm=frozen(table.web_height_mm + flange / 2.0),
        flange_eccentricity_mm=table.flange_eccentricity_mm,
        flange_outstand_mm=frozen(outstand),
        has_flange=frozen(has_flange),
        welded_flange=frozen(np.isin(table.kind, [kind.value for kind in SectionKind if kind.welded])),
        symmetric=table.symmetric,
        net_flange_area_cm2=frozen(flange_area),
        net_frame_area_cm2=frozen(table.web_height_mm * web / 100.0 + flange_area),
        net_area_cm2=frozen(moments.m0 / 100.0),
        net_centroid_cm=frozen(moments.centroid / 10.0),
        net_inertia_cm4=frozen(moments.own_inertia / 1e4),
        status=table.status,
        net_shapes=shapes,
    )


def net_section(section: GrossSection, *, corrosion_deduction_mm: float) -> NetSection:
    """Return one net section; see :func:`net_sections`."""
    return net_sections(section.as_table(), corrosion_deduction_mm=corrosion_deduction_mm).row(0)


def _net_shapes(shapes: Shapes, deduction: FloatArray) -> Shapes:
    """The exact net outlines: plates thinned, bulbs offset inwards by half the deduction."""
    bulb, half = shapes.is_bulb, deduction / 2.0
    web, flange = shapes.web - deduction, np.where(shapes.flange > 0.0, shapes.flange - deduction, 0.0)
    return replace(
        shapes,
        height=frozen(np.where(bulb, shapes.height - half, shapes.web_height + flange)),
        web=frozen(web),
        flange=frozen(flange),
        nose_radius=frozen(np.where(bulb, shapes.nose_radius - half, 0.0)),
        fillet_radius=frozen(np.where(bulb, shapes.fillet_radius + half, shapes.fillet_radius)),
        web_toe_radius=frozen(np.minimum(shapes.web_toe_radius, np.maximum(web, 0.0))),
        flange_toe_radius=frozen(np.minimum(shapes.flange_toe_radius, np.maximum(flange, 0.0))),
        edge_radius=frozen(np.where(bulb, np.maximum(shapes.edge_radius - half, 0.0), 0.0)),
    )


def _check(table: SectionTable, deduction: FloatArray, web: FloatArray, flange: FloatArray, shapes: Shapes) -> None:
    """Refuse a deduction that is not a number, is negative, or leaves nothing of a plate or of the bulb's nose."""
    if not bool(np.all(np.isfinite(deduction) & (deduction >= 0.0))):
        row = int(np.flatnonzero(~(np.isfinite(deduction) & (deduction >= 0.0)))[0])
        where = f"{table.name[row]}: corrosion deduction"
        raise InputError(where, "not a deduction", value=float(deduction[row]), unit="mm", allowed="0 mm or more")
    eaten = (web <= 0.0) | ((table.flange_thickness_mm > 0.0) & (flange <= 0.0))
    eaten |= shapes.is_bulb & (shapes.nose_radius <= 0.0)
    if bool(eaten.any()):
        row = int(np.flatnonzero(eaten)[0])
        thinnest = min(t for t in (table.web_thickness_mm[row], table.flange_thickness_mm[row]) if t > 0.0)
        where = f"{table.name[row]}: corrosion deduction"
        allowed = f"less than {thinnest:.4g} mm"
        raise InputError(where, "nothing is left of a plate", value=float(deduction[row]), unit="mm", allowed=allowed)
