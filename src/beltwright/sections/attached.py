"""A section on its attached plating, elastic and fully plastic, by exact integration of the outline.

General mechanics, nothing from a rule: bending about an axis along the plating, plate and section of one yield stress.
A rule's own approximations are the rule's; this module is the independent check of them.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike

from beltwright.core.errors import InputError, SolverError
from beltwright.core.units import Cm2, Cm3, Cm4, FloatArray, LabelArray, Millimetres
from beltwright.sections.kinds import Shapes, frozen
from beltwright.sections.moments import Moments, polygon
from beltwright.sections.net import NetSectionTable
from beltwright.sections.outline import outlines_mm
from beltwright.sections.table import SectionTable

_FINE = 1e-12  # the plastic neutral axis is found to this share of the depth; the modulus is flat there
_STEPS = 100  # many more than are ever needed: halving alone takes 40


@dataclass(frozen=True, slots=True, kw_only=True)
class ElasticProperties:
    """Elastic properties of sections with attached plating; every array has shape (n,).

    ``area_cm2`` with the plating; ``neutral_axis_mm`` above the plating's outer face; ``inertia_cm4`` about it;
    ``modulus_plate_cm3`` at the plating's outer face, ``modulus_far_cm3`` at the far face.
    """

    area_cm2: Cm2
    neutral_axis_mm: Millimetres
    inertia_cm4: Cm4
    modulus_plate_cm3: Cm3
    modulus_far_cm3: Cm3

    @property
    def modulus_cm3(self) -> Cm3:
        """The section modulus: the lesser of the two faces'."""
        least: FloatArray = np.minimum(self.modulus_plate_cm3, self.modulus_far_cm3)
        return least


@dataclass(frozen=True, slots=True, kw_only=True)
class AttachedProperties(ElasticProperties):
    """Elastic and plastic properties of sections with attached plating; every array has shape (n,).

    ``plastic_neutral_axis_mm`` above the plating's outer face; ``plastic_modulus_cm3`` about the axis that halves the
    area.
    """

    plastic_neutral_axis_mm: Millimetres
    plastic_modulus_cm3: Cm3


def net_with_plating(
    table: NetSectionTable,
    *,
    net_plating_thickness_mm: ArrayLike,
    plating_breadth_mm: ArrayLike,
    web_angle_deg: ArrayLike = 90.0,
) -> AttachedProperties:
    """Return net sections on net plating; numbers or arrays (n,).

    ``web_angle_deg`` is the angle between web and plating, 90 upright; a leaning web turns the whole section about
    its welded edge towards the side away from the flange or bulb pointing down (the weaker way). The small wedge
    between a leaning web's foot and the plating is neither added nor taken off.
    """
    return _on_plating(table.name, table.net_shapes, net_plating_thickness_mm, plating_breadth_mm, web_angle_deg)


def gross_with_plating(
    table: SectionTable,
    *,
    as_built_plating_thickness_mm: ArrayLike,
    plating_breadth_mm: ArrayLike,
    web_angle_deg: ArrayLike = 90.0,
) -> AttachedProperties:
    """Return as-built sections on as-built plating; arguments as in :func:`net_with_plating`.

    >>> from beltwright.sections.make import flat_bar
    >>> bar = flat_bar(100, 10).as_table()
    >>> whole = gross_with_plating(bar, as_built_plating_thickness_mm=10.0, plating_breadth_mm=100.0)
    >>> round(float(whole.plastic_neutral_axis_mm[0]), 6), round(float(whole.plastic_modulus_cm3[0]), 6)
    (10.0, 55.0)
    """
    return _on_plating(table.name, table.shapes, as_built_plating_thickness_mm, plating_breadth_mm, web_angle_deg)


def elastic_with_plating(
    table: SectionTable,
    *,
    as_built_plating_thickness_mm: ArrayLike,
    plating_breadth_mm: ArrayLike,
    web_angle_deg: ArrayLike = 90.0,
) -> ElasticProperties:
    """Return the elastic properties of as-built sections on as-built plating; as :func:`gross_with_plating`, quicker.

    >>> from beltwright.sections.make import flat_bar
    >>> bar = flat_bar(100, 10).as_table()
    >>> whole = elastic_with_plating(bar, as_built_plating_thickness_mm=10.0, plating_breadth_mm=100.0)
    >>> round(float(whole.neutral_axis_mm[0]), 6), round(float(whole.modulus_cm3[0]), 4)
    (32.5, 30.3763)
    """
    given = as_built_plating_thickness_mm, plating_breadth_mm, web_angle_deg
    return ElasticProperties(**_columns(table.name, table.shapes, *given, _elastic))


def effective_breadth_m(carried_m: FloatArray, span_m: FloatArray) -> FloatArray:
    """Return the breadth of plating (n,) that bends with a member [m]: what it carries, at most a third of its span.

    A sixth of the span on either side of the web is the usual allowance for shear lag in a continuous member (recalled,
    not read; DECISIONS.md); a class society's own rule may give less.
    """
    breadth: FloatArray = np.minimum(carried_m, span_m / 3.0)
    return breadth


def shear_area_cm2(web_height_mm: ArrayLike, web_thickness_mm: ArrayLike, web_angle_deg: ArrayLike = 90.0) -> Cm2:
    """Return the shear area of webs (n,) [cm2]: height times thickness, square to the plating; nothing else counts.

    >>> float(shear_area_cm2(300.0, 12.0))
    36.0
    """
    height, thickness = np.asarray(web_height_mm, dtype=np.float64), np.asarray(web_thickness_mm, dtype=np.float64)
    area: FloatArray = height * thickness * np.sin(np.radians(web_angle_deg)) / 100.0
    return area


def _on_plating(
    name: LabelArray, shapes: Shapes, plating: ArrayLike, breadth: ArrayLike, angle_deg: ArrayLike
) -> AttachedProperties:
    """Both plastic entry points."""
    return AttachedProperties(**_columns(name, shapes, plating, breadth, angle_deg, _integrate))


_Integral = Callable[[Shapes, FloatArray, FloatArray, FloatArray], dict[str, FloatArray]]


def _columns(
    name: LabelArray, shapes: Shapes, plating: ArrayLike, breadth: ArrayLike, angle_deg: ArrayLike, integral: _Integral
) -> dict[str, FloatArray]:
    """Check the numbers, then integrate each manner of outline in turn."""
    given = {
        "thickness of the plating": (plating, 0.0, 500.0, "mm"),
        "breadth of the plating": (breadth, 0.0, 1e5, "mm"),
        "angle between web and plating": (angle_deg, 10.0, 90.0, "deg"),
    }
    plate, wide, angle = (_spread(name, what, *limits) for what, limits in given.items())
    bulb, rolled = shapes.is_bulb, shapes.is_rolled_angle
    columns: dict[str, FloatArray] = {}
    for manner in (bulb, rolled, ~(bulb | rolled)):
        rows = np.flatnonzero(manner)
        if len(rows):
            for key, values in integral(shapes.take(rows), plate[rows], wide[rows], angle[rows]).items():
                columns.setdefault(key, np.zeros(len(name)))[rows] = values
    return {key: frozen(column) for key, column in columns.items()}


def _spread(name: LabelArray, what: str, given: ArrayLike, low: float, high: float, unit: str) -> FloatArray:
    """One argument as an array (n,), each in its range."""
    values = np.array(np.broadcast_to(np.asarray(given, dtype=np.float64), (len(name),)))
    bad = np.flatnonzero(~((values >= low) & (values <= high)))
    if len(bad):
        allowed = f"{low:g} to {high:g} {unit}"
        first = int(bad[0])
        what = f"{what} out of range"
        raise InputError(str(name[first]), what, value=float(values[first]), unit=unit, allowed=allowed)
    return values


@dataclass(frozen=True, slots=True)
class _Outline:
    """Sections of one manner on their plating: places across and up (n, corners) [mm], up from the inner face."""

    across: FloatArray
    up: FloatArray
    plate_across: FloatArray
    plate_up: FloatArray

    @property
    def far(self) -> FloatArray:
        """The height of the far face."""
        far: FloatArray = np.maximum(self.up.max(axis=-1), 0.0)
        return far

    @property
    def moments(self) -> Moments:
        """Area and moments of section and plating."""
        return polygon(self.across, self.up) + polygon(self.plate_across, self.plate_up)


def _outline(shapes: Shapes, plate: FloatArray, wide: FloatArray, angle_deg: FloatArray) -> _Outline:
    """Sections turned to their web's angle, on their plating."""
    points = outlines_mm(shapes)
    sine, cosine = np.sin(np.radians(angle_deg))[:, None], np.cos(np.radians(angle_deg))[:, None]
    cosine = np.where(angle_deg[:, None] == 90.0, 0.0, cosine)
    across, up = points[..., 0] * sine + points[..., 1] * cosine, points[..., 1] * sine - points[..., 0] * cosine
    half, nothing = wide / 2.0, np.zeros(len(shapes))
    plate_across = np.stack([-half, half, half, -half], axis=-1)
    plate_up = np.stack([-plate, -plate, nothing, nothing], axis=-1)
    return _Outline(across, up, plate_across, plate_up)


def _elastic(shapes: Shapes, plate: FloatArray, wide: FloatArray, angle_deg: FloatArray) -> dict[str, FloatArray]:
    """The elastic properties of sections of one manner."""
    outline = _outline(shapes, plate, wide, angle_deg)
    return _elastic_of(outline, outline.moments, plate)


def _elastic_of(outline: _Outline, moments: Moments, plate: FloatArray) -> dict[str, FloatArray]:
    """The elastic properties of outlines with their moments."""
    centroid, inertia = moments.centroid, moments.own_inertia
    return {
        "area_cm2": moments.m0 / 100.0,
        "neutral_axis_mm": centroid + plate,
        "inertia_cm4": inertia / 1e4,
        "modulus_plate_cm3": inertia / (centroid + plate) / 1e3,
        "modulus_far_cm3": inertia / (outline.far - centroid) / 1e3,
    }


def _integrate(shapes: Shapes, plate: FloatArray, wide: FloatArray, angle_deg: FloatArray) -> dict[str, FloatArray]:
    """All properties of sections of one manner."""
    outline = _outline(shapes, plate, wide, angle_deg)
    moments = outline.moments
    edges = _Edges.of(outline.across, outline.up).joined(_Edges.of(outline.plate_across, outline.plate_up))
    level = _halving_level(edges, moments.m0 / 2.0, -plate, outline.far)
    plastic = 2.0 * edges.moment_below(level) + moments.m0 * (moments.centroid - level)
    return {
        **_elastic_of(outline, moments, plate),
        "plastic_neutral_axis_mm": level + plate,
        "plastic_modulus_cm3": plastic / 1e3,
    }


@dataclass(frozen=True, slots=True)
class _Edges:
    """Edges of counter-clockwise outlines, arrays (n, edges): run across, lower and upper end, 1/rise (0 if level)."""

    run: FloatArray
    low: FloatArray
    high: FloatArray
    per_rise: FloatArray

    @classmethod
    def of(cls, across: FloatArray, up: FloatArray) -> _Edges:
        """The edges of polygons, shape (n, corners)."""
        after = np.roll(up, -1, axis=-1)
        per_rise = _over(np.ones(up.shape), np.abs(after - up))
        return cls(np.roll(across, -1, axis=-1) - across, np.minimum(up, after), np.maximum(up, after), per_rise)

    def joined(self, other: _Edges) -> _Edges:
        """The edges of both."""
        ours = (self.run, self.low, self.high, self.per_rise)
        theirs = (other.run, other.low, other.high, other.per_rise)
        return _Edges(*(np.concatenate(pair, axis=-1) for pair in zip(ours, theirs, strict=True)))

    def area_and_width(self, level: FloatArray) -> tuple[FloatArray, FloatArray]:
        """Area of the outlines below a level and their width at it, shape (n,): sums over edges of run times depth."""
        z = level[:, None]
        deep, shallow = np.maximum(z - self.low, 0.0), np.maximum(z - self.high, 0.0)
        crossed = z < self.high
        share = deep * self.per_rise
        depth = np.where(crossed, deep * share, deep + shallow) / 2.0
        width = np.where(crossed, share, z >= self.low)
        return (self.run * depth).sum(axis=-1), (self.run * width).sum(axis=-1)

    def moment_below(self, level: FloatArray) -> FloatArray:
        """First moment about a level of the area below it, shape (n,): run times mean half square of the depth."""
        z = level[:, None]
        deep, shallow = np.maximum(z - self.low, 0.0), np.maximum(z - self.high, 0.0)
        whole = (deep**2 + deep * shallow + shallow**2) / 6.0
        moment: FloatArray = (self.run * np.where(z < self.high, deep**3 * self.per_rise / 6.0, whole)).sum(axis=-1)
        return moment


def _halving_level(edges: _Edges, half_area: FloatArray, low: FloatArray, high: FloatArray) -> FloatArray:
    """The level below which half the area lies: Newton's steps, kept inside a shrinking interval [low, high]."""
    fine = _FINE * (high - low)
    level = (low + high) / 2.0
    for _ in range(_STEPS):
        area, width = edges.area_and_width(level)
        low, high = np.where(area < half_area, level, low), np.where(area < half_area, high, level)
        step = _over(half_area - area, width)
        after = level + step
        inside = (after > low) & (after < high) & (width > 0.0)
        done = (np.abs(step) <= fine) & (width > 0.0) | (high - low <= fine)
        if bool(done.all()):
            return level
        level = np.where(done, level, np.where(inside, after, (low + high) / 2.0))
    raise SolverError(f"the plastic neutral axis was not found in {_STEPS} steps")


def _over(part: FloatArray, whole: FloatArray) -> FloatArray:
    """A quotient that is zero where the divisor is (a level edge that lies above)."""
    return np.divide(part, whole, out=np.zeros(np.broadcast(part, whole).shape), where=whole > 0.0)
