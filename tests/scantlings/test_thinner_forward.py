"""The note that a strake comes out thinner forward of a border than behind it, although its factor is not smaller.

The case is made up: one strake of two panels, a vertical bow (PC6, PC7) in front of the bow intermediate area. The
bow's force of 3.2 MN stands on 2.0 x 1.0 m, the one behind it of 2.4 MN on 1.5 x 0.8 m.
"""

from __future__ import annotations

import numpy as np
import pytest

from beltwright.core.columns import Column, ColumnTable
from beltwright.core.findings import Findings, Severity
from beltwright.core.units import Unit
from beltwright.rules.protocol import TransverseBorder
from beltwright.scantlings.area_results import compare_forward
from beltwright.scantlings.design import BorderCurve

WORDS = {
    "hull_area": ("B", "BIi"),
    "touched": ("B", "BIi"),
    "group": ("side B deck", "side BIi deck"),
    "id": ("F9", "F8"),
}
NUMBERS = {
    "thickness_required_mm": (15.2, 15.9),
    "area_factor": (1.0, 1.0),
    "pressure_avg_mpa": (1.6, 2.0),
    "patch_width_m": (2.0, 1.5),
    "patch_height_m": (1.0, 0.8),
    "spacing_m": (0.4, 0.4),
}


def plating(**changed: tuple[float, float]) -> ColumnTable:
    """The two panels: bow first, then the area behind it."""
    words = {n: Column(unit=Unit("label"), meaning=n, data=np.array(v, dtype=np.str_)) for n, v in WORDS.items()}
    numbers = {n: Column(unit=Unit("mm"), meaning=n, data=np.array(v)) for n, v in {**NUMBERS, **changed}.items()}
    return ColumnTable("plating", {**words, **numbers})


def told(table: ColumnTable) -> Findings:
    """What is said of the strake; the border runs between BIi (aft) and B."""
    place = np.array([10.0])
    border = TransverseBorder(
        name="bow", forward="B", aft="BI", height_m=np.array([0.0]), aft_of_stem_m=place, ref="UR I2"
    )  # fmt: skip
    nowhere = np.zeros((2, 3))
    curve = BorderCurve(border=border, sides=(("BIi", "B"),), points=nowhere, expansion=nowhere[:, :2])
    findings = Findings()
    compare_forward(table, (curve,), findings)
    return findings


def test_the_note_explains_with_patch_pressure_and_factor() -> None:
    """kind: hand. Patch 2.0 x 1.0 = 2.0 m2 over 1.5 x 0.8 = 1.2 m2: 1.67 times; 1.6 over 2.0 MPa at one factor: 0.80.
    The plate goes with the root of the pressure: sqrt(0.8) = 0.89, and a thinner net plate follows."""
    found = list(told(plating()))
    assert len(found) == 1
    assert found[0].kind.code == "BW444"
    assert found[0].kind.severity is Severity.NOTE
    assert found[0].where == "side deck, hull areas B and BIi"
    assert found[0].message == (
        "15.20 mm from 1.60 MPa on 2.00 x 1.00 m with factor 1.00, spacing 0.400 m forward, "
        "15.90 mm from 2.00 MPa on 1.50 x 0.80 m with factor 1.00, spacing 0.400 m aft; "
        "forward the patch has 1.67 times the area, pressure times factor is 0.80 of that aft"
    )


@pytest.mark.parametrize(
    ("changed", "noted"),
    [
        ({"thickness_required_mm": (15.4, 15.9)}, True),  # half a millimetre exactly
        ({"thickness_required_mm": (15.401, 15.9)}, False),  # less than a step of the stock
        ({"thickness_required_mm": (15.9, 15.2)}, False),  # thicker forward
        ({"area_factor": (1.0, 0.9)}, True),  # a larger factor forward does not explain it
        ({"area_factor": (0.99, 1.0)}, False),  # a smaller one does: nothing to tell
        ({"thickness_required_mm": (float("inf"), 15.9)}, False),  # outside the formula: told elsewhere
    ],
)
def test_when_the_note_is_given(changed: dict[str, tuple[float, float]], noted: bool) -> None:
    assert bool(len(told(plating(**changed)))) is noted
