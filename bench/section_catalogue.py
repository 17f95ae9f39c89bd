"""Loading the catalogue, and net sections on plating for all of it, beside a loop over single sections.

The plain way takes each section through a loop: once with the same functions on one row at a time, and, for the tees,
once with ordinary floats and no arrays at all.
"""

from __future__ import annotations

import sys

import numpy as np

from _harness import function_seconds, show
from beltwright.sections import catalogue as cat
from beltwright.sections.attached import net_with_plating
from beltwright.sections.net import net_sections
from beltwright.sections.table import SectionTable

PLATE_MM, BREADTH_MM, DEDUCTION_MM = 20.0, 400.0, 1.0


def load() -> SectionTable:
    """Read the data files and make the catalogue anew."""
    for cached in (cat.catalogue, cat.built_tees, cat.bulb_flats, cat.flat_bars, cat.rolled_angles):
        cached.cache_clear()
    return cat.catalogue()


def moduli(table: SectionTable) -> np.ndarray:
    """Plastic moduli of all net sections at once [cm3]."""
    net = net_sections(table, corrosion_deduction_mm=DEDUCTION_MM)
    on_plate = net_with_plating(net, net_plating_thickness_mm=PLATE_MM, plating_breadth_mm=BREADTH_MM)
    return on_plate.plastic_modulus_cm3


def moduli_one_by_one(table: SectionTable) -> np.ndarray:
    """The same, one section at a time."""
    return np.array([moduli(table.take(np.array([row])))[0] for row in range(len(table))])


def moduli_in_floats(table: SectionTable) -> np.ndarray:
    """The same for tees with ordinary floats: stacked rectangles cut at the level that halves the area."""
    result = []
    for hw, tw, bf, tf in zip(
        table.web_height_mm.tolist(),
        table.web_thickness_mm.tolist(),
        table.flange_breadth_mm.tolist(),
        table.flange_thickness_mm.tolist(),
        strict=True,
    ):
        web, flange = tw - DEDUCTION_MM, tf - DEDUCTION_MM
        strips = [(BREADTH_MM, -PLATE_MM, 0.0), (web, 0.0, hw), (bf, hw, hw + flange)]
        left = sum(b * (z1 - z0) for b, z0, z1 in strips) / 2.0
        for b, z0, z1 in strips:
            if left <= b * (z1 - z0):
                level = z0 + left / b
                break
            left -= b * (z1 - z0)
        total = 0.0
        for b, z0, z1 in strips:
            for low, high in ((z0, min(max(level, z0), z1)), (min(max(level, z0), z1), z1)):
                total += b * (high - low) * abs((high + low) / 2.0 - level)
        result.append(total / 1e3)
    return np.array(result)


def main() -> None:
    """Check that the ways agree, then print one line per budget."""
    whole, tees = cat.catalogue(), cat.built_tees()
    some = whole.take(np.arange(0, len(whole), 10))
    if not np.allclose(moduli(some), moduli_one_by_one(some), rtol=1e-12):
        sys.exit("all at once and one by one differ")
    if not np.allclose(moduli(tees), moduli_in_floats(tees), rtol=1e-9):
        sys.exit("arrays and floats differ")
    show(f"catalogue of {len(whole)} sections, from its files", function_seconds(load), budget_s=0.03)
    slow_s = function_seconds(lambda: moduli_one_by_one(some), runs=3) * len(whole) / len(some)
    show(
        "net sections on plating, all at once",
        function_seconds(lambda: moduli(whole)),
        plain_s=slow_s,
        plain="one row at a time",
        count=len(whole),
    )
    show(
        f"the {len(tees)} tees of it",
        function_seconds(lambda: moduli(tees)),
        plain_s=function_seconds(lambda: moduli_in_floats(tees)),
        plain="ordinary floats",
        count=len(tees),
    )


if __name__ == "__main__":
    main()
