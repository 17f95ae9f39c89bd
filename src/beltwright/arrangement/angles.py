"""Angles of members on the shell, from its normals: Omega, and the angle between web and shell."""

from __future__ import annotations

import numpy as np

from beltwright.core.units import FloatArray

LEVEL_DEG = 7.0  # a shell flatter than this to the horizontal has no waterline direction
NO_WATERLINE = "the shell lies flatter than 7 degrees to the horizontal: no waterline direction"
_LEVEL_NZ = float(np.cos(np.radians(LEVEL_DEG)))


def omega_deg(normals: FloatArray, along: FloatArray) -> FloatArray:
    """Return the smallest angle [deg] between the waterline and framing that runs ``along`` (n, 3), NaN where level.

    The waterline runs along z-axis x normal. For framing in planes x = const this is
    acos(sin alpha sin beta).
    """
    water = np.stack([-normals[:, 1], normals[:, 0], np.zeros(len(normals))], axis=1)
    size = np.linalg.norm(water, axis=1) * np.linalg.norm(along, axis=1)
    share = np.abs(np.einsum("ni,ni->n", water, along)) / np.where(size > 0.0, size, 1.0)
    angle = np.degrees(np.arccos(np.clip(share, 0.0, 1.0)))
    found: FloatArray = np.where((np.abs(normals[:, 2]) > _LEVEL_NZ) | (size == 0.0), np.nan, angle)
    return found


def transverse_web_deg(normals: FloatArray) -> FloatArray:
    """Return the smallest angle [deg] between the shell and a web in a plane x = const: acos(nx), at most 90."""
    angle: FloatArray = np.degrees(np.arccos(np.clip(np.abs(normals[:, 0]), 0.0, 1.0)))
    return angle
