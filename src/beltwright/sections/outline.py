"""Outlines of sections as polygons, for drawing and for the exact mechanics of :mod:`beltwright.sections.attached`."""

from __future__ import annotations

import numpy as np

from beltwright.core.units import FloatArray
from beltwright.sections.kinds import Shapes
from beltwright.sections.moments import TAN30, depth_of_bulb

# Straight pieces per arc; with these area and inertia are within 5e-5 of the exact ones (checked in the tests).
_NOSE_PIECES = 96
_FILLET_PIECES = 48
_EDGE_PIECES = 32


def outline_mm(shapes: Shapes, row: int = 0) -> FloatArray:
    """Return the closed outline of one section, counter-clockwise, shape (corners, 2): across [mm], up [mm].

    Across is 0 at the web's mid-plane and positive towards the flange or bulb; up is 0 at the welded edge. Arcs are
    polygons with corners on the arc.
    """
    outline: FloatArray = outlines_mm(shapes.take(np.array([row])))[0]
    return outline


def outlines_mm(shapes: Shapes) -> FloatArray:
    """Return the outlines of several sections of one manner (all bulb flats, all rolled angles, or neither).

    Shape (n, corners, 2); repeated corners where a section has no flange or no radius.
    """
    if bool(shapes.is_bulb.all()):
        return _bulbs(shapes)
    return _rolled_angles(shapes) if bool(shapes.is_rolled_angle.all()) else _plates(shapes)


def _plates(s: Shapes) -> FloatArray:
    """Web and flange as rectangles, shape (n, 8, 2)."""
    half_web, half_flange, top = s.web / 2.0, s.flange_breadth / 2.0, s.web_height + s.flange
    left, right = s.flange_shift - half_flange, s.flange_shift + half_flange
    nothing = np.zeros(len(s))
    across = [-half_web, half_web, half_web, right, right, left, left, -half_web]
    up = [nothing, nothing, s.web_height, s.web_height, top, top, s.web_height, s.web_height]
    return np.stack([np.stack(across, axis=-1), np.stack(up, axis=-1)], axis=-1)


def _rolled_angles(s: Shapes) -> FloatArray:
    """Angles with root fillet and toe roundings."""
    back, front, top = -s.web / 2.0, s.web / 2.0, s.web_height + s.flange
    left, tip = s.flange_shift - s.flange_breadth / 2.0, s.flange_shift + s.flange_breadth / 2.0
    rf, toe, tip_toe = s.fillet_radius, s.web_toe_radius, s.flange_toe_radius
    nothing = np.zeros(len(s))
    return np.concatenate(
        [
            _point(back, nothing),
            _arc(front - toe, toe, toe, -90.0, 0.0, _EDGE_PIECES),
            _arc(front + rf, s.web_height - rf, rf, 180.0, 90.0, _FILLET_PIECES),
            _arc(tip - tip_toe, s.web_height + tip_toe, tip_toe, -90.0, 0.0, _EDGE_PIECES),
            _point(tip, top),
            _point(left, top),
            _point(left, s.web_height),
            _point(back, s.web_height),
        ],
        axis=1,
    )


def _bulbs(s: Shapes) -> FloatArray:
    """Bulb flats with nose, fillet and edge radii."""
    back, front, r, rf, edge = -s.web / 2.0, s.web / 2.0, s.nose_radius, s.fillet_radius, s.edge_radius
    corner = s.height - depth_of_bulb(s.bulb_projection, r)
    return np.concatenate(
        [
            _arc(back + edge, edge, edge, 180.0, 270.0, _EDGE_PIECES),
            _arc(front - edge, edge, edge, -90.0, 0.0, _EDGE_PIECES),
            _arc(front + rf, corner - rf * TAN30, rf, 180.0, 120.0, _FILLET_PIECES),
            _arc(front + s.bulb_projection - r, s.height - r, r, -60.0, 90.0, _NOSE_PIECES),
            _arc(back + edge, s.height - edge, edge, 90.0, 180.0, _EDGE_PIECES),
        ],
        axis=1,
    )


def _point(across: FloatArray, up: FloatArray) -> FloatArray:
    """One corner, shape (n, 1, 2)."""
    return np.stack([across, up], axis=-1)[:, None, :]


def _arc(
    across: FloatArray, up: FloatArray, radius: FloatArray, start_deg: float, end_deg: float, pieces: int
) -> FloatArray:
    """Corners on an arc, shape (n, pieces + 1, 2); angles from the level, turning up."""
    angle = np.radians(np.linspace(start_deg, end_deg, pieces + 1))
    x = across[:, None] + radius[:, None] * np.cos(angle)
    z = up[:, None] + radius[:, None] * np.sin(angle)
    return np.stack([x, z], axis=-1)
