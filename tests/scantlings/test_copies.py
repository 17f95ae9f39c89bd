"""The same ship twice, and copies of its hull moved, turned, mirrored or in millimetres: the same design."""

from __future__ import annotations

from functools import cache

import numpy as np
import pytest
from tests.scantlings import ships

from beltwright.hull.detect import HullSettings, place
from beltwright.hull.patch import Patch, RawHull, mapped
from beltwright.hull.placing import PlacedHull
from beltwright.scantlings.build import design_ship
from beltwright.scantlings.design import Design
from beltwright.weights.steel import steel_weight

TOLERANCE = 1e-9
NEAR_RIGHT_ANGLE_DEG = 1e-5  # an angle from its cosine: half the digits are lost near 0 and 90 degrees
SHOWN = ("hull_area", "outcome", "source", "group", "grade", "touched")


def tables(design: Design) -> dict[str, object]:
    return {
        "areas": design.area_table, "plating": design.plating, "frames": design.frames,
        "panels": design.arrangement.panels, "spans": design.arrangement.frames, "weight": steel_weight(design).table,
    }  # fmt: skip


def bits(design: Design) -> dict[str, bytes]:
    """Every column of every table as bytes."""
    return {
        f"{name}.{key}": column.data.tobytes()
        for name, table in tables(design).items()
        for key, column in table.items()  # type: ignore[attr-defined]
    }


def test_the_same_inputs_give_the_same_bits() -> None:
    one, other = ships.designed(), ships.designed()
    first, second = bits(one), bits(other)
    assert first.keys() == second.keys()
    assert [key for key in first if first[key] != second[key]] == []
    assert len(first) > 100
    assert one.findings == other.findings
    assert one.cells == other.cells
    assert one.loads.choices == other.loads.choices


@pytest.mark.slow
def test_redoing_an_edit_gives_what_doing_it_at_once_gives() -> None:
    """The quick way after an edit of class and stock is the long way's result, bit for bit."""
    edits = (lambda doc: doc["ice"].update(ice_class="PC5"), lambda doc: doc.update(stock={"step_mm": 1.0}))
    quick, long = bits(ships.redesigned(*edits)), bits(ships.designed(*edits))
    assert [key for key in long if quick[key] != long[key]] == []


def file_of(patches: tuple[Patch, ...], unit: str = "m") -> RawHull:
    return RawHull(patches=patches, length_unit=unit, source="hull.step", format="step")


def moved(matrix: np.ndarray) -> tuple[Patch, ...]:
    return tuple(mapped(patch, matrix) for patch in ships.patches())


def shifted() -> tuple[RawHull, HullSettings]:
    """Moved along, up and to port; the description says by how much."""
    matrix = np.eye(4)
    matrix[:3, 3] = [123.25, 0.0, -7.5]
    return file_of(moved(matrix)), HullSettings(ap_x_m=123.25, baseline_z_m=-7.5)


def turned() -> tuple[RawHull, HullSettings]:
    """x growing aft: the hull mirrored fore and aft."""
    return file_of(moved(np.diag([-1.0, 1.0, 1.0, 1.0]))), HullSettings()


def starboard() -> tuple[RawHull, HullSettings]:
    return file_of(moved(np.diag([1.0, -1.0, 1.0, 1.0]))), HullSettings()


def millimetres() -> tuple[RawHull, HullSettings]:
    return file_of(moved(np.diag([1000.0, 1000.0, 1000.0, 1.0])), "mm"), HullSettings()


def whole() -> tuple[RawHull, HullSettings]:
    return file_of((*ships.patches(), *moved(np.diag([1.0, -1.0, 1.0, 1.0])))), HullSettings()


def inside_out() -> tuple[RawHull, HullSettings]:
    """Faces whose normals point inboard."""
    from dataclasses import replace

    return file_of(tuple(replace(patch, reversed=not patch.reversed) for patch in ships.patches())), HullSettings()


COPIES = {f.__name__: f for f in (shifted, turned, starboard, millimetres, whole, inside_out)}


@cache
def original() -> Design:
    return design_of(file_of(ships.patches()), HullSettings())


def design_of(raw: RawHull, settings: HullSettings) -> Design:
    hull: PlacedHull = place(raw, settings, sha256="0" * 64)
    return design_ship(ships.ship(), (), hull)


@pytest.mark.parametrize(
    "name",
    [pytest.param(name, marks=() if name in ("turned", "millimetres") else pytest.mark.slow) for name in COPIES],
)
def test_copies_of_the_hull_give_the_same_design(name: str) -> None:
    base, copy = original(), design_of(*COPIES[name]())
    for fact, value in base.facts.items():
        if value.dtype.kind == "f":
            assert float(copy.facts[fact][0]) == pytest.approx(float(value[0]), rel=1e-9, abs=1e-9), fact
    for kind in ("plating", "frames"):
        one, other = getattr(base, kind), getattr(copy, kind)
        assert one.labels("id").tolist() == other.labels("id").tolist()
        for key in SHOWN:
            assert one.labels(key).tolist() == other.labels(key).tolist(), key
        for key, column in one.items():
            if column.data.dtype.kind == "f":
                least = NEAR_RIGHT_ANGLE_DEG if column.unit.symbol == "deg" else TOLERANCE
                assert other[key].data == pytest.approx(column.data, rel=TOLERANCE, abs=least, nan_ok=True), key
    assert base.frames.labels("section").tolist() == copy.frames.labels("section").tolist()
    ours, theirs = steel_weight(base), steel_weight(copy)
    assert theirs.modelled_t == pytest.approx(ours.modelled_t, rel=TOLERANCE)
    assert theirs.centre_m == pytest.approx(ours.centre_m, rel=TOLERANCE, abs=TOLERANCE)
    assert base.area_table.values("area_m2") == pytest.approx(copy.area_table.values("area_m2"), rel=TOLERANCE)
