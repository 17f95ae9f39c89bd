"""The built-up angle that stands for a bulb flat in rule formulas written for webs and flanges."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from beltwright.core.units import Millimetres


@dataclass(frozen=True, slots=True, kw_only=True)
class EquivalentAngle:
    """A built-up angle with its flange flush with the back of the web; arrays (n,) in mm."""

    web_height_mm: Millimetres
    web_mm: Millimetres
    flange_breadth_mm: Millimetres
    flange_thickness_mm: Millimetres
    flange_eccentricity_mm: Millimetres


def equivalent_built_angle(*, height_mm: Millimetres, web_mm: Millimetres) -> EquivalentAngle:
    """Return the built-up angle equivalent to a bulb flat of height ``h`` and web ``t``, shape (n,).

    ``hw = h - h/9.2 + 2``, ``bf = k (t + h/6.7 - 2)``, ``tf = h/9.2 - 2``, web ``t``, with
    ``k = 1.1 + (120 - h)**2 / 3000`` for ``h <= 120`` mm and 1.0 above (a jump of 10 % in the breadth at 120 mm).
    The flange's eccentricity is ``(bf - t)/2``.

    Source: form of the IACS Common Structural Rules, recalled, not confirmed. Over the sizes of EN 10067 it is within
    3 % of the exact area and 4 % of the exact inertia (checked in the tests).

    >>> angle = equivalent_built_angle(height_mm=np.array([240.0]), web_mm=np.array([11.0]))
    >>> round(float(angle.web_height_mm[0]), 2), round(float(angle.flange_breadth_mm[0]), 2)
    (215.91, 44.82)
    """
    flange = height_mm / 9.2 - 2.0
    factor = np.where(height_mm <= 120.0, 1.1 + (120.0 - height_mm) ** 2 / 3000.0, 1.0)
    breadth = factor * (web_mm + height_mm / 6.7 - 2.0)
    return EquivalentAngle(
        web_height_mm=height_mm - flange,
        web_mm=web_mm,
        flange_breadth_mm=breadth,
        flange_thickness_mm=flange,
        flange_eccentricity_mm=(breadth - web_mm) / 2.0,
    )
