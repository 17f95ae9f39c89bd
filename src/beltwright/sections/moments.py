"""Area, centroid and inertia of sections in closed form, from the moments of simple parts.

Source: elementary geometry of rectangles, triangles, circular sectors and corner fillets. The geometry of the bulb flat
(nose circle, 30 degree face, root fillet, edge radii) is that described in :class:`~beltwright.sections.kinds.Shapes`;
how well it meets the published values of EN 10067 is checked in the tests.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from beltwright.core.units import FloatArray
from beltwright.sections.kinds import Shapes

SIN30 = 0.5
COS30 = float(np.sqrt(3.0) / 2.0)
TAN30 = SIN30 / COS30


@dataclass(frozen=True, slots=True)
class Moments:
    """Area [mm2], first [mm3] and second [mm4] moment of parts about a level line, arrays (n,)."""

    m0: FloatArray
    m1: FloatArray
    m2: FloatArray

    def __add__(self, other: Moments) -> Moments:
        return Moments(self.m0 + other.m0, self.m1 + other.m1, self.m2 + other.m2)

    def __sub__(self, other: Moments) -> Moments:
        return Moments(self.m0 - other.m0, self.m1 - other.m1, self.m2 - other.m2)

    def shifted(self, up: FloatArray) -> Moments:
        """Moments about the old line after the parts are moved up by ``up`` [mm]."""
        return Moments(self.m0, self.m1 + up * self.m0, self.m2 + 2.0 * up * self.m1 + up**2 * self.m0)

    def turned_over(self) -> Moments:
        """Moments after the parts are mirrored in the line (up becomes down)."""
        return Moments(self.m0, -self.m1, self.m2)

    @property
    def centroid(self) -> FloatArray:
        """Height of the centroid above the line [mm]."""
        return self.m1 / self.m0

    @property
    def own_inertia(self) -> FloatArray:
        """Second moment about the level line through the centroid [mm4]."""
        return self.m2 - self.m1**2 / self.m0


def rectangle(breadth: FloatArray, low: FloatArray, high: FloatArray) -> Moments:
    """Rectangle between two levels."""
    return Moments(breadth * (high - low), breadth * (high**2 - low**2) / 2.0, breadth * (high**3 - low**3) / 3.0)


def polygon(across: FloatArray, up: FloatArray) -> Moments:
    """Polygons with corners in the last axis, shapes (n, corners), counted positive when counter-clockwise."""
    across_next, up_next = np.roll(across, -1, axis=-1), np.roll(up, -1, axis=-1)
    cross = across * up_next - across_next * up
    m0 = cross.sum(axis=-1) / 2.0
    m1 = ((up + up_next) * cross).sum(axis=-1) / 6.0
    m2 = ((up**2 + up * up_next + up_next**2) * cross).sum(axis=-1) / 12.0
    return Moments(m0, m1, m2)


def sector(radius: FloatArray, start_deg: float, end_deg: float) -> Moments:
    """Circular sector about the level line through its centre; angles from the level, turning up."""
    a, b = np.radians(start_deg), np.radians(end_deg)
    return Moments(
        radius**2 * (b - a) / 2.0,
        radius**3 * (np.cos(a) - np.cos(b)) / 3.0,
        radius**4 * ((b - a) / 2.0 - (np.sin(2.0 * b) - np.sin(2.0 * a)) / 4.0) / 4.0,
    )


def corner_fillet(radius: FloatArray) -> Moments:
    """What lies between a square corner and its rounding, about the level line through the corner, corner lowest."""
    return Moments(
        radius**2 * (1.0 - np.pi / 4.0),
        radius**3 * (5.0 / 6.0 - np.pi / 4.0),
        radius**4 * (1.0 - 5.0 * np.pi / 16.0),
    )


def section_moments(shapes: Shapes) -> Moments:
    """Moments of whole sections about their welded edge; arrays (n,)."""
    bulb = shapes.is_bulb
    if not bulb.any():
        return _plates(shapes)
    both = np.empty((3, len(shapes)))
    for rows, part in ((bulb, _bulb), (~bulb, _plates)):
        moments = part(shapes.take(rows))
        both[:, rows] = moments.m0, moments.m1, moments.m2
    return Moments(*both)


def depth_of_bulb(bulb_projection: FloatArray, nose_radius: FloatArray) -> FloatArray:
    """Depth of the bulb at the web's face, fillet left out [mm]: ``d = r + (r + (c - r)/2)/cos 30``."""
    depth: FloatArray = nose_radius + (nose_radius + (bulb_projection - nose_radius) / 2.0) / COS30
    return depth


def _plates(s: Shapes) -> Moments:
    """Web and flange, with root fillet and toe roundings where there are any."""
    nothing = np.zeros(len(s))
    web = rectangle(s.web, nothing, s.web_height)
    flange = rectangle(s.flange_breadth, s.web_height, s.web_height + s.flange)
    root = corner_fillet(s.fillet_radius * s.is_rolled_angle).turned_over().shifted(s.web_height)
    toe_of_web = corner_fillet(s.web_toe_radius)
    toe_of_flange = corner_fillet(s.flange_toe_radius).shifted(s.web_height)
    return web + flange + root - toe_of_web - toe_of_flange


def _bulb(s: Shapes) -> Moments:
    """Web to the full height, bulb, root fillet, less the rounded edges; worked in depth below the top."""
    c, r, rf, edge = s.bulb_projection, s.nose_radius, s.fillet_radius, s.edge_radius
    nothing = np.zeros(len(s))
    depth = depth_of_bulb(c, r)
    body = polygon(
        np.stack([nothing, c - r, c - r, c - r * SIN30, nothing], axis=-1),
        np.stack([nothing, nothing, r, r + r * COS30, depth], axis=-1),
    )
    nose = sector(r, -90.0, 60.0).shifted(r)
    tangent = rf * TAN30
    kite = polygon(
        np.stack([nothing, tangent * COS30, rf, nothing], axis=-1),
        np.stack([depth, depth - tangent * SIN30, depth + tangent, depth + tangent], axis=-1),
    )
    fillet = kite - sector(rf, 180.0, 240.0).shifted(depth + tangent)
    back_edge = corner_fillet(edge)
    from_top = (body + nose + fillet - back_edge).turned_over().shifted(s.height)
    heels = corner_fillet(edge)
    return rectangle(s.web, nothing, s.height) + from_top - heels - heels
