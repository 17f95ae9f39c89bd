"""Sections on plating: hand calculations, an independent cutting of polygons, and limits."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from shapely import LineString, affinity, box, union_all
from shapely.geometry import Polygon

from beltwright.core.errors import InputError, SolverError
from beltwright.sections import attached
from beltwright.sections.attached import (
    effective_breadth_m,
    elastic_with_plating,
    gross_with_plating,
    net_with_plating,
    shear_area_cm2,
)
from beltwright.sections.catalogue import built_tees, bulb_flats, catalogue, rolled_angles
from beltwright.sections.make import built_angle, flat_bar, tee
from beltwright.sections.names import sections
from beltwright.sections.net import net_sections
from beltwright.sections.outline import outline_mm, outlines_mm


def test_tee_on_plate_by_hand() -> None:
    """T 200x8+75x10 on 350x10, worked out here by hand."""
    bar = tee(200, 8, 75, 10).as_table()
    got = gross_with_plating(bar, as_built_plating_thickness_mm=10.0, plating_breadth_mm=350.0)
    # hand: 3500 + 1600 + 750 = 5850 mm2
    assert got.area_cm2[0] == pytest.approx(58.50)
    # hand: half 2925 < 3500, so the axis lies in the plate, 2925/350 = 8.357 mm from its outer face
    assert got.plastic_neutral_axis_mm[0] == pytest.approx(2925 / 350, rel=1e-12)
    # hand: 350 x 8.3571^2/2 + 350 x 1.6429^2/2 + 1600 x (1.6429 + 100) + 750 x (1.6429 + 205) = 330 305 mm3
    assert got.plastic_modulus_cm3[0] == pytest.approx(330.3054, abs=1e-4)
    # hand: (3500 x 5 + 1600 x 110 + 750 x 215)/5850 = 354750/5850 = 60.6410 mm
    assert got.neutral_axis_mm[0] == pytest.approx(354750 / 5850)
    # hand: 350 x 10^3/12 + 3500 x 55.6410^2 + 8 x 200^3/12 + 1600 x 49.3590^2 + 75 x 10^3/12 + 750 x 154.3590^2
    inertia = 350e3 / 12 + 3500 * 55.641026**2 + 8 * 8e6 / 12 + 1600 * 49.358974**2 + 75e3 / 12 + 750 * 154.358974**2
    assert got.inertia_cm4[0] == pytest.approx(inertia / 1e4, rel=1e-7)
    assert got.modulus_plate_cm3[0] == pytest.approx(inertia / 60.641026 / 1e3, rel=1e-7)
    assert got.modulus_far_cm3[0] == pytest.approx(inertia / (220 - 60.641026) / 1e3, rel=1e-7)


def test_axis_in_the_web_by_hand() -> None:
    bar = flat_bar(200, 20).as_table()
    got = gross_with_plating(bar, as_built_plating_thickness_mm=10.0, plating_breadth_mm=100.0)
    # hand: 1000 + 4000 mm2; half 2500 = plate 1000 + 75 mm of web
    assert got.plastic_neutral_axis_mm[0] == pytest.approx(85.0)
    # hand: 1000 x 80 + 20 x 75^2/2 + 20 x 125^2/2 = 80000 + 56250 + 156250 = 292500
    assert got.plastic_modulus_cm3[0] == pytest.approx(292.5)


def test_axis_in_the_flange_by_hand() -> None:
    bar = tee(100, 5, 200, 20).as_table()
    got = gross_with_plating(bar, as_built_plating_thickness_mm=5.0, plating_breadth_mm=100.0)
    # hand: plate 500, web 500, flange 4000; half 2500 = 500 + 500 + 1500 -> 7.5 mm into the flange, 112.5 from outside
    assert got.plastic_neutral_axis_mm[0] == pytest.approx(112.5)
    # hand: 500 x (112.5 - 2.5) + 500 x (112.5 - 55) + 200 x 7.5^2/2 + 200 x 12.5^2/2 = 55000 + 28750 + 5625 + 15625
    assert got.plastic_modulus_cm3[0] == pytest.approx(105.0)


def test_no_plating_leaves_the_section_itself() -> None:
    table = catalogue()
    got = gross_with_plating(table, as_built_plating_thickness_mm=0.0, plating_breadth_mm=0.0)
    # outline as polygon against closed form (second method): arcs in straight pieces are within 5e-5
    assert got.area_cm2 == pytest.approx(table.area_cm2, rel=2e-5)
    assert got.neutral_axis_mm == pytest.approx(table.centroid_cm * 10, rel=2e-5)
    assert got.inertia_cm4 == pytest.approx(table.inertia_cm4, rel=5e-5)


def test_leaning_web_with_the_axis_in_the_plate_by_hand() -> None:
    """With the axis in the plate the section counts only by its area and centroid."""
    angle = built_angle(200, 10, 90, 12).as_table()
    lean = gross_with_plating(angle, as_built_plating_thickness_mm=20.0, plating_breadth_mm=400.0, web_angle_deg=60.0)
    # hand: plate 8000, web 2000, flange 1080; half 5540 -> 13.85 mm from outside, 6.15 mm below the inner face
    assert lean.plastic_neutral_axis_mm[0] == pytest.approx(13.85, rel=1e-9)
    # hand: flange centre at 206 sin 60 - 40 cos 60 = 158.401; web centre 100 sin 60 = 86.603
    hand = 400 * (13.85**2 + 6.15**2) / 2 + 2000 * (86.6025 + 6.15) + 1080 * (158.4012 + 6.15)
    assert lean.plastic_modulus_cm3[0] == pytest.approx(hand / 1e3, rel=1e-6)


def cut_by_shapely(parts: list[Polygon]) -> tuple[float, float]:
    """Plastic axis and modulus by cutting polygons with another library and halving (second method)."""
    low = min(part.bounds[1] for part in parts)
    high = max(part.bounds[3] for part in parts)
    total = sum(part.area for part in parts)

    def below(level: float) -> list[Polygon]:
        return [part & box(-1e6, low - 1, 1e6, level) for part in parts]

    a, b = low, high
    for _ in range(60):
        middle = (a + b) / 2
        a, b = (middle, b) if sum(part.area for part in below(middle)) < total / 2 else (a, middle)
    level = (a + b) / 2
    under = sum(part.area * (level - part.centroid.y) for part in below(level) if not part.is_empty)
    whole = sum(part.area * (part.centroid.y - level) for part in parts)
    return level - low, 2 * under + whole


@given(
    name=st.sampled_from(
        ["FB200x20", "T300x15+100x18", "L250x12+90x15", "HP240x11", "L200x100x12", "B300x15+200x18e60"]
    ),
    plate=st.floats(5.0, 40.0),
    breadth=st.floats(20.0, 800.0),
    angle=st.floats(30.0, 90.0),
)
def test_any_lean_and_any_plate_against_cut_polygons(name: str, plate: float, breadth: float, angle: float) -> None:
    table = sections([name])
    args = {"plating_breadth_mm": breadth, "web_angle_deg": angle}
    got = gross_with_plating(table, as_built_plating_thickness_mm=plate, **args)
    turned = affinity.rotate(Polygon(outline_mm(table.shapes)), angle - 90.0, origin=(0.0, 0.0))
    parts = [turned, box(-breadth / 2, -plate, breadth / 2, 0.0)]
    axis, modulus = cut_by_shapely(parts)
    assert got.plastic_modulus_cm3[0] == pytest.approx(modulus / 1e3, rel=1e-9)
    if angle == 90.0:
        assert got.plastic_neutral_axis_mm[0] == pytest.approx(axis, rel=1e-9, abs=1e-9)
    area = sum(part.area for part in parts)
    centroid = sum(part.area * part.centroid.y for part in parts) / area
    assert got.area_cm2[0] == pytest.approx(area / 100, rel=1e-12)
    assert got.neutral_axis_mm[0] == pytest.approx(centroid + plate, rel=1e-10)


@given(plate=st.floats(3.0, 40.0), breadth=st.floats(100.0, 900.0), deduction=st.floats(0.0, 2.5))
def test_order_of_moduli(plate: float, breadth: float, deduction: float) -> None:
    """Plastic is never less than elastic, net never more than as built, more plate never less plastic modulus."""
    table = catalogue().take(np.arange(0, len(catalogue()), 40))
    net = net_sections(table, corrosion_deduction_mm=deduction)
    gross = gross_with_plating(table, as_built_plating_thickness_mm=plate + deduction, plating_breadth_mm=breadth)
    worn = net_with_plating(net, net_plating_thickness_mm=plate, plating_breadth_mm=breadth)
    more = net_with_plating(net, net_plating_thickness_mm=plate, plating_breadth_mm=breadth + 50.0)
    assert np.all(worn.plastic_modulus_cm3 >= np.minimum(worn.modulus_plate_cm3, worn.modulus_far_cm3))
    assert np.all(worn.plastic_modulus_cm3 <= gross.plastic_modulus_cm3 * (1 + 1e-12))
    assert np.all(worn.inertia_cm4 <= gross.inertia_cm4 * (1 + 1e-12))
    assert np.all(more.plastic_modulus_cm3 >= worn.plastic_modulus_cm3 * (1 - 1e-12))
    assert np.all(worn.plastic_neutral_axis_mm > 0.0)


def test_a_leaning_web_is_weaker_the_more_it_leans() -> None:
    table = sections(["T300x15+100x18", "HP240x11", "L250x12+90x15"])
    moduli = [
        gross_with_plating(
            table, as_built_plating_thickness_mm=20.0, plating_breadth_mm=400.0, web_angle_deg=angle
        ).plastic_modulus_cm3
        for angle in (90.0, 80.0, 65.0, 40.0)
    ]
    assert np.all(np.diff(np.array(moduli), axis=0) < 0.0)


def test_mixed_kinds_keep_their_rows() -> None:
    names = ["HP240x11", "T300x15+100x18", "L200x100x10", "FB150x12", "HP200x10"]
    together = gross_with_plating(sections(names), as_built_plating_thickness_mm=12.0, plating_breadth_mm=300.0)
    for row, name in enumerate(names):
        alone = gross_with_plating(sections([name]), as_built_plating_thickness_mm=12.0, plating_breadth_mm=300.0)
        assert alone.plastic_modulus_cm3[0] == together.plastic_modulus_cm3[row]


@pytest.mark.parametrize(
    ("change", "message"),
    [
        ({"as_built_plating_thickness_mm": -1.0}, "FB150x12: thickness of the plating out of range; found -1 mm"),
        ({"as_built_plating_thickness_mm": float("nan")}, "thickness of the plating out of range; found nan"),
        ({"plating_breadth_mm": 2e5}, "breadth of the plating out of range"),
        ({"web_angle_deg": 5.0}, "angle between web and plating out of range; found 5 deg; allowed: 10 to 90 deg"),
        ({"web_angle_deg": [90.0, 91.0]}, "HP240x11: angle between web and plating out of range; found 91 deg"),
    ],
)
def test_numbers_out_of_range_are_named(change: dict, message: str) -> None:
    good = {"as_built_plating_thickness_mm": 10.0, "plating_breadth_mm": 300.0}
    with pytest.raises(InputError, match=message):
        gross_with_plating(sections(["FB150x12", "HP240x11"]), **(good | change))


@pytest.mark.parametrize("table", [bulb_flats(), rolled_angles()], ids=["bulb flats", "rolled angles"])
def test_outlines_are_simple_and_turn_counter_clockwise(table) -> None:
    for row in range(len(table)):
        outline = Polygon(outline_mm(table.shapes, row))
        assert outline.is_valid
        assert outline.exterior.is_ccw
        assert outline.bounds[1] == pytest.approx(0.0, abs=1e-9)
        assert outline.bounds[3] == pytest.approx(table.height_mm[row])


@pytest.mark.parametrize("deduction", [1.0, 4.5])
def test_net_outlines_are_simple_and_lie_within_the_as_built_ones(deduction: float) -> None:
    table = catalogue().take(np.arange(0, len(catalogue()), 7))
    table = table.take((table.web_thickness_mm > deduction) & ((table.kind != "bulb flat") | (table.height_mm > 160)))
    net = net_sections(table, corrosion_deduction_mm=deduction)
    for row in range(len(table)):
        outer, inner = Polygon(outline_mm(table.shapes, row)), Polygon(outline_mm(net.net_shapes, row))
        assert inner.is_valid
        assert inner.area == pytest.approx(net.net_area_cm2[row] * 100, rel=2e-4)
        # a toe radius shrinks to the net thickness of its leg: what then stands out lies in the as-built rounding
        toe, net_toe = table.shapes.flange_toe_radius[row], net.net_shapes.flange_toe_radius[row]
        rounding = toe**2 * (1 - np.pi / 4)
        assert inner.difference(outer.buffer(0.02)).area < (rounding if net_toe < toe else 1e-9)


def test_outline_of_plates_covers_web_and_flange() -> None:
    table = sections(["L250x12+90x15", "FB150x12"])
    first, second = (Polygon(points) for points in outlines_mm(table.shapes))
    assert first.symmetric_difference(union_all([box(-6, 0, 6, 250), box(-6, 250, 84, 265)])).area < 1e-9
    assert second.symmetric_difference(box(-6, 0, 6, 150)).area < 1e-9
    assert LineString(outline_mm(table.shapes, 1)).length > 0


def test_an_axis_that_is_not_found_is_an_error_not_a_number(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(attached, "_STEPS", 1)
    with pytest.raises(SolverError, match="plastic neutral axis was not found in 1 steps"):
        gross_with_plating(sections(["HP240x11"]), as_built_plating_thickness_mm=5.0, plating_breadth_mm=50.0)


def test_the_axis_halves_the_area_for_the_whole_catalogue() -> None:
    """Few and wide, many and thin: the area below the axis is half of the whole, by cutting the plates by hand."""
    table = built_tees()
    for plate, breadth in ((5.0, 100.0), (20.0, 400.0), (40.0, 800.0)):
        got = gross_with_plating(table, as_built_plating_thickness_mm=plate, plating_breadth_mm=breadth)
        z = got.plastic_neutral_axis_mm - plate
        below = breadth * np.minimum(z + plate, plate) + table.web_thickness_mm * np.clip(z, 0.0, table.web_height_mm)
        below += table.flange_breadth_mm * np.maximum(z - table.web_height_mm, 0.0)
        assert below / 100.0 == pytest.approx(got.area_cm2 / 2.0, rel=1e-10)


@pytest.mark.parametrize("angle", [90.0, 62.0])
def test_elastic_properties_alone_are_those_of_both(angle: float) -> None:
    """kind: second-method. Without the plastic axis the elastic numbers are the same to the last bit."""
    table = catalogue().take(np.arange(0, len(catalogue()), 37))
    given = {"as_built_plating_thickness_mm": 17.5, "plating_breadth_mm": 450.0, "web_angle_deg": angle}
    whole, part = gross_with_plating(table, **given), elastic_with_plating(table, **given)
    for name in ("area_cm2", "neutral_axis_mm", "inertia_cm4", "modulus_plate_cm3", "modulus_far_cm3"):
        assert getattr(part, name).tolist() == getattr(whole, name).tolist()
    assert part.modulus_cm3.tolist() == np.minimum(whole.modulus_plate_cm3, whole.modulus_far_cm3).tolist()


def test_elastic_modulus_of_a_flat_bar_by_hand() -> None:
    """kind: hand. 100 x 10 upright on 100 x 10: axis 32.5 mm up, I = 2 354 167 mm4, 77.5 mm to the far face."""
    whole = elastic_with_plating(flat_bar(100, 10).as_table(), as_built_plating_thickness_mm=10.0,
                                 plating_breadth_mm=100.0)  # fmt: skip
    inertia = 100.0 * 10.0**3 / 12.0 + 1000.0 * 27.5**2 + 10.0 * 100.0**3 / 12.0 + 1000.0 * 27.5**2
    assert whole.modulus_cm3[0] == pytest.approx(inertia / 77.5 / 1e3, rel=1e-12)


def test_effective_breadth_and_shear_area_by_hand() -> None:
    """kind: hand. A third of the span rules below three times what is carried; a web leaning 60 degrees has sin 60."""
    assert effective_breadth_m(np.array([0.4, 0.4]), np.array([1.5, 0.9])) == pytest.approx([0.4, 0.3])
    assert shear_area_cm2(300.0, 12.0, [90.0, 60.0]) == pytest.approx([36.0, 36.0 * 0.75**0.5])
