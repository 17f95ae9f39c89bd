"""Sections against the open-source package ``sectionproperties`` (finite elements), outlines drawn here with shapely.

The outlines are built in another way than ours: the root fillet by closing, the edges by opening, a net bulb by an
inward offset of the as-built one.
"""

import numpy as np
import pytest
from shapely import Point, affinity, box, union_all
from shapely.geometry import Polygon

from beltwright.sections.attached import gross_with_plating, net_with_plating
from beltwright.sections.catalogue import bulb_flats
from beltwright.sections.make import tee
from beltwright.sections.names import section, sections
from beltwright.sections.net import net_sections

pytestmark = pytest.mark.slow  # importing the package and meshing takes seconds

FINE = 24  # pieces per quarter circle


def rounded(shape: Polygon, radius: float) -> Polygon:
    """Opening: convex corners rounded."""
    return shape.buffer(-radius, quad_segs=FINE).buffer(radius, quad_segs=FINE) if radius else shape


def bulb_outline(h: float, t: float, c: float, r: float, edge: float, below: float = 0.0) -> Polygon:
    """A bulb flat, web mid-plane at 0, welded edge at 0 (or extended below it with square corners)."""
    web = rounded(box(-t / 2, 0, t / 2, h), edge)
    if below:
        web = union_all([web, box(-t / 2, -below, t / 2, h / 2)])
    x = t / 2 + c - r
    nose = Point(x, h - r).buffer(r, quad_segs=FINE)
    touch = (x + r / 2, h - r - r * np.sqrt(3) / 2)  # where the lower face at 30 degrees touches the nose
    root = (0.0, touch[1] - touch[0] / np.sqrt(3))  # the face goes on into the web
    bulb = Polygon([(0, h), (x, h), (x, h - r), touch, root])
    sharp = union_all([web, nose, bulb])
    return sharp.buffer(r, quad_segs=FINE).buffer(-r, quad_segs=FINE)


def rolled_angle_outline() -> Polygon:
    """L200x100x12 with root radius 15 and toe radii 7.5 (recalled sizes), the long leg standing on the plate."""
    legs = union_all([box(0, 0, 12, 200), box(0, 188, 100, 200)]).buffer(15, quad_segs=FINE).buffer(-15, quad_segs=FINE)
    spandrel = box(-7.5, 0, 0, 7.5) - Point(-7.5, 7.5).buffer(7.5, quad_segs=FINE)
    for x, z in ((12, 0), (100, 188)):  # the inner corner of each toe
        legs = legs - affinity.translate(spandrel, x, z)
    return legs


def analysed(shape: Polygon) -> dict[str, float]:
    """Area, centroid height, inertia, plastic axis and modulus of one outline by the package [mm]."""
    from sectionproperties.analysis import Section
    from sectionproperties.pre import Geometry

    geometry = Geometry(shape).create_mesh(mesh_sizes=[shape.area / 200])
    analysis = Section(geometry)
    analysis.calculate_geometric_properties()
    analysis.calculate_plastic_properties()
    return {
        "area": analysis.get_area(),
        "centroid": analysis.get_c()[1],
        "inertia": analysis.get_ic()[0],
        "plastic": analysis.get_s()[0],
        "plastic_axis": analysis.get_pc()[1],
    }


OUTLINES = {
    "FB150x12": box(-6, 0, 6, 150),
    "T300x15+100x18": union_all([box(-7.5, 0, 7.5, 300), box(-50, 300, 50, 318)]),
    "L250x12+90x15": union_all([box(-6, 0, 6, 250), box(-6, 250, 84, 265)]),
    "B300x15+200x18e60": union_all([box(-7.5, 0, 7.5, 300), box(-40, 300, 160, 318)]),
    "HP240x11": bulb_outline(240, 11, 34, 10, 3),
    "HP430x20": bulb_outline(430, 20, 62.5, 19.5, 4),
    "HP120x7": bulb_outline(120, 7, 17, 5, 0),
}


@pytest.mark.parametrize("name", OUTLINES)
def test_section_alone(name: str) -> None:
    theirs, ours = analysed(OUTLINES[name]), section(name)
    assert ours.area_cm2 * 100 == pytest.approx(theirs["area"], rel=2e-4)
    assert ours.centroid_cm * 10 == pytest.approx(theirs["centroid"], rel=2e-4)
    assert ours.inertia_cm4 * 1e4 == pytest.approx(theirs["inertia"], rel=5e-4)


def test_rolled_angle_alone() -> None:
    theirs, ours = analysed(rolled_angle_outline()), section("L200x100x12")
    assert ours.area_cm2 * 100 == pytest.approx(theirs["area"], rel=2e-4)
    assert ours.centroid_cm * 10 == pytest.approx(theirs["centroid"], rel=2e-4)
    assert ours.inertia_cm4 * 1e4 == pytest.approx(theirs["inertia"], rel=5e-4)


@pytest.mark.parametrize("plate", [(350.0, 10.0), (600.0, 25.0), (100.0, 8.0)])
@pytest.mark.parametrize("name", OUTLINES)
def test_with_plating_elastic_and_plastic(name: str, plate: tuple[float, float]) -> None:
    breadth, thickness = plate
    ours = gross_with_plating(sections([name]), as_built_plating_thickness_mm=thickness, plating_breadth_mm=breadth)
    theirs = analysed(union_all([OUTLINES[name], box(-breadth / 2, -thickness, breadth / 2, 1e-9)]))
    assert ours.area_cm2[0] * 100 == pytest.approx(theirs["area"], rel=1e-3)
    assert ours.neutral_axis_mm[0] == pytest.approx(theirs["centroid"] + thickness, rel=1e-3)
    assert ours.inertia_cm4[0] * 1e4 == pytest.approx(theirs["inertia"], rel=1e-3)
    assert ours.plastic_modulus_cm3[0] * 1e3 == pytest.approx(theirs["plastic"], rel=1e-3)
    assert ours.plastic_neutral_axis_mm[0] == pytest.approx(theirs["plastic_axis"] + thickness, abs=0.02)


@pytest.mark.parametrize("angle_deg", [80.0, 60.0])
def test_leaning_tee_plastic(angle_deg: float) -> None:
    """The wedge at the foot counts twice here: two meshes, one of the turned tee and one of the plate, put together."""
    ours = gross_with_plating(
        sections(["T300x15+100x18"]),
        as_built_plating_thickness_mm=12.0,
        plating_breadth_mm=300.0,
        web_angle_deg=angle_deg,
    )
    turned = affinity.rotate(OUTLINES["T300x15+100x18"], angle_deg - 90.0, origin=(0, 0))
    plate = box(-150, -12, 150, 0)
    theirs = joined(analysed(turned), analysed(plate))
    assert ours.area_cm2[0] * 100 == pytest.approx(theirs["area"], rel=1e-3)
    assert ours.neutral_axis_mm[0] == pytest.approx(theirs["centroid"] + 12.0, rel=1e-3)
    assert ours.inertia_cm4[0] * 1e4 == pytest.approx(theirs["inertia"], rel=1e-3)
    once = analysed(union_all([turned, plate]))  # the wedge, 16 mm2 at 60 degrees, counted once: 0.13 % of Z
    assert ours.plastic_modulus_cm3[0] * 1e3 == pytest.approx(once["plastic"], rel=1.5e-3)


@pytest.mark.parametrize("plate", [(350.0, 10.0), (600.0, 25.0), (100.0, 8.0)])
def test_rolled_angle_with_plating(plate: tuple[float, float]) -> None:
    """Ours stands with its web's middle over the middle of the plate; across, nothing counts here."""
    breadth, thickness = plate
    ours = gross_with_plating(
        sections(["L200x100x12"]), as_built_plating_thickness_mm=thickness, plating_breadth_mm=breadth
    )
    theirs = analysed(union_all([rolled_angle_outline(), box(6 - breadth / 2, -thickness, 6 + breadth / 2, 1e-9)]))
    assert ours.area_cm2[0] * 100 == pytest.approx(theirs["area"], rel=1e-3)
    assert ours.neutral_axis_mm[0] == pytest.approx(theirs["centroid"] + thickness, rel=1e-3)
    assert ours.inertia_cm4[0] * 1e4 == pytest.approx(theirs["inertia"], rel=1e-3)
    assert ours.plastic_modulus_cm3[0] * 1e3 == pytest.approx(theirs["plastic"], rel=1e-3)
    assert ours.plastic_neutral_axis_mm[0] == pytest.approx(theirs["plastic_axis"] + thickness, abs=0.02)


def joined(one: dict[str, float], other: dict[str, float]) -> dict[str, float]:
    """Area, centroid and inertia of two parts together, by Steiner's rule: what they share counts twice, as ours."""
    area = one["area"] + other["area"]
    centroid = (one["area"] * one["centroid"] + other["area"] * other["centroid"]) / area
    inertia = sum(part["inertia"] + part["area"] * (part["centroid"] - centroid) ** 2 for part in (one, other))
    return {"area": area, "centroid": centroid, "inertia": inertia}


@pytest.mark.parametrize("deduction", [1.0, 2.0])
def test_net_bulb_is_an_inward_offset(deduction: float) -> None:
    """The as-built outline, its web drawn on below the plate, shrunk by half the deduction and cut at the plate."""
    table = bulb_flats()
    net = net_sections(table, corrosion_deduction_mm=deduction)
    for name in ("HP120x7", "HP160x9", "HP240x11", "HP430x20"):
        row = table.index_of(name)
        s = table.shapes.take(np.array([row]))
        args = [float(v[0]) for v in (s.height, s.web, s.bulb_projection, s.nose_radius, s.edge_radius)]
        whole = bulb_outline(*args, below=50.0).buffer(-deduction / 2, quad_segs=FINE, join_style="mitre")
        shrunk = whole & box(-1e3, 0, 1e3, 1e3)
        heels = 2 * max(args[-1] - deduction / 2, 0.0) ** 2 * (1 - np.pi / 4)  # ours are rounded at the welded edge
        assert net.net_area_cm2[row] * 100 + heels == pytest.approx(shrunk.area, rel=2e-4)
        centroid = (net.net_area_cm2[row] * 100 * net.net_centroid_cm[row] * 10) / shrunk.area
        assert centroid == pytest.approx(shrunk.centroid.y, rel=3e-4)


def test_net_tee_on_net_plating() -> None:
    net = net_sections(tee(380, 19, 150, 20).as_table(), corrosion_deduction_mm=1.0)
    ours = net_with_plating(net, net_plating_thickness_mm=26.5, plating_breadth_mm=400.0)
    theirs = analysed(union_all([box(-200, -26.5, 200, 0), box(-9, 0, 9, 380), box(-75, 380, 75, 399)]))
    assert ours.plastic_modulus_cm3[0] * 1e3 == pytest.approx(theirs["plastic"], rel=1e-3)
