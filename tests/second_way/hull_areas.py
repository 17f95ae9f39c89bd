"""Hull areas of a Polar Class ship a second time, in plain numbers: borders by hand, one point at a time.

It imports nothing of Beltwright. Lengths in m from the stem aft, heights in m above the baseline.
"""

import math
from itertools import pairwise

FACTOR_ORDER = ("B", "BIi", "BIl", "BIb", "Mi", "Ml", "Mb", "Si", "Sl", "Sb")


def borders(ice_class, *, length, stem_to_ap, ten_degrees, parallel_start, parallel_end, stem_at_baseline):
    """Aft borders of bow and bow intermediate, forward border of the stern, heights of the belt's edges.

    The bow ends where the waterline's angle is 10 degrees, not beyond 0.45 L, never forward of the stem's foot on the
    baseline; bow intermediate 0.04 L aft of the entrance's end; the stern begins at the larger of 0.7 b and 0.15 L from
    the aft perpendicular.
    """
    bow = max(min(ten_degrees, 0.45 * length), stem_at_baseline)
    middle = max(parallel_start + 0.04 * length, bow)
    stern = max(stem_to_ap - max(0.7 * parallel_end, 0.15 * length), middle)
    strong = ice_class in ("PC1", "PC2", "PC3", "PC4")
    return {"bow": bow, "middle": middle, "stern": stern, "top_stem": 2.0, "top": 1.5 if strong else 1.0, "low": 1.5}


def area(at, *, aft, z, upper, lower, nz):
    """The hull area of one point of the shell, or None above the belt; nz is the outward normal's part along z."""
    rise = at["top_stem"] + (at["top"] - at["top_stem"]) * min(max(aft / at["bow"], 0.0), 1.0)
    if z - upper > rise:
        return None
    if aft <= at["bow"]:
        return "B"
    region = "BI" if aft <= at["middle"] else ("M" if aft < at["stern"] else "S")
    if z - lower >= -at["low"]:
        return region + "i"
    inclination = math.degrees(math.acos(min(abs(nz), 1.0)))
    return region + ("b" if inclination < 7.0 else "l")


def line(points, x):
    """Height at x of a waterline through points (x, height), carried on straight beyond its ends."""
    points = sorted(points)
    if len(points) == 1:
        return points[0][1]
    for (x0, h0), (x1, h1) in pairwise(points):
        if x <= x1 or (x1, h1) == points[-1]:
            return h0 + (h1 - h0) * (x - x0) / (x1 - x0)
    raise AssertionError
