"""Area, centroid, inertia and mass of single sections against calculations written out by hand."""

import numpy as np
import pytest

from beltwright.core.errors import InputError
from beltwright.core.provenance import Status
from beltwright.sections.kinds import SectionKind
from beltwright.sections.make import built_angle, built_up, flat_bar, plain_angle, shapes_from, tee
from beltwright.sections.moments import corner_fillet, depth_of_bulb, polygon, rectangle, sector
from beltwright.sections.table import join, stack


def test_flat_bar_by_hand() -> None:
    bar = flat_bar(150, 12)
    assert bar.area_cm2 == 18.0  # hand: 15 x 1.2
    assert bar.centroid_cm == 7.5
    assert bar.inertia_cm4 == pytest.approx(337.5)  # hand: 1.2 x 15^3 / 12
    assert bar.mass_kg_per_m == pytest.approx(14.13)  # hand: 18e-4 x 7850
    assert (bar.flange_breadth_mm, bar.flange_thickness_mm, bar.flange_centre_height_mm) == (0.0, 0.0, 150.0)
    assert bar.symmetric
    assert bar.kind is SectionKind.FLAT_BAR


def test_tee_by_hand() -> None:
    section = tee(300, 15, 100, 18)
    # hand: web 4500 mm2 at 150, flange 1800 mm2 at 309; centroid (675000 + 556200)/6300 = 195.42857 mm
    # inertia 15x300^3/12 = 33 750 000; 4500 x 45.42857^2 = 9 286 898; 100x18^3/12 = 48 600;
    # 1800 x 113.57143^2 = 23 217 245; sum 66 302 743 mm4
    assert section.area_cm2 == pytest.approx(63.0)
    assert section.centroid_cm == pytest.approx(19.542857)
    assert section.inertia_cm4 == pytest.approx(6630.2743)
    assert section.height_mm == 318.0
    assert section.flange_centre_height_mm == 309.0
    assert section.symmetric
    assert section.status is Status.COMPUTED


def test_built_angle_by_hand() -> None:
    section = built_angle(250, 12, 90, 15)
    # hand: web 3000 at 125, flange 1350 at 257.5; centroid (375000 + 347625)/4350 = 166.12069
    # inertia 12x250^3/12 = 15 625 000; 3000 x 41.12069^2 = 5 072 733; 90x15^3/12 = 25 312.5;
    # 1350 x 91.37931^2 = 11 272 741; sum 31 995 787
    assert section.area_cm2 == pytest.approx(43.5)
    assert section.centroid_cm == pytest.approx(16.612069)
    assert section.inertia_cm4 == pytest.approx(3199.5787)
    assert section.flange_eccentricity_mm == 39.0  # hand: (90 - 12)/2, flange flush with the back of the web
    assert not section.symmetric


def test_a_built_up_section_with_its_flange_off_centre_has_the_tees_vertical_properties() -> None:
    off, straight = built_up(300, 15, 100, 18, -20), tee(300, 15, 100, 18)
    assert (off.area_cm2, off.inertia_cm4) == (straight.area_cm2, straight.inertia_cm4)
    assert off.flange_eccentricity_mm == -20.0
    assert not off.symmetric
    assert off.name == "B300x15+100x18e-20"


def test_a_plain_angle_counts_the_whole_leg() -> None:
    angle = plain_angle(200, 10, 90, 10)
    assert angle.height_mm == 200.0
    assert angle.web_height_mm == 190.0
    assert angle.area_cm2 == pytest.approx(28.0)  # hand: 19.0 x 1.0 + 9.0 x 1.0
    assert angle.status is Status.CHOICE
    assert plain_angle(300, 11, 90, 16).name == "L300x90x11/16"


@pytest.mark.parametrize("quantity", ["m0", "m1", "m2"])
def test_parts_against_fine_sums(quantity: str) -> None:
    """Sector and corner fillet against sums over 400,000 strips or wedges (second method)."""
    power = int(quantity[1])
    radius = np.array([13.0])
    y = (np.arange(400_000) + 0.5) / 400_000 * 13.0
    width = 13.0 - np.sqrt(13.0**2 - (13.0 - y) ** 2)  # what a rounding of 13 mm leaves out of its corner
    summed = float(np.sum(width * y**power) * 13.0 / 400_000)
    assert float(getattr(corner_fillet(radius), quantity)[0]) == pytest.approx(summed, rel=1e-6)
    angle = np.radians(-90.0 + (np.arange(400_000) + 0.5) / 400_000 * 150.0)
    wedges = 13.0 ** (2 + power) / (2 + power) * np.sin(angle) ** power * np.radians(150.0) / 400_000
    assert float(getattr(sector(radius, -90.0, 60.0), quantity)[0]) == pytest.approx(float(wedges.sum()), rel=1e-6)


def test_rectangle_as_polygon() -> None:
    one, zero = np.array([3.0]), np.array([1.0])
    box = rectangle(one, zero, np.array([5.0]))
    corners = polygon(np.array([[0.0, 3.0, 3.0, 0.0]]), np.array([[1.0, 1.0, 5.0, 5.0]]))
    for part in ("m0", "m1", "m2"):
        assert getattr(box, part) == pytest.approx(getattr(corners, part))
    assert box.m2[0] == pytest.approx(3 * (125 - 1) / 3)  # hand
    moved = box.shifted(np.array([2.0]))
    assert moved.centroid[0] == pytest.approx(5.0)
    assert moved.own_inertia[0] == pytest.approx(3 * 4**3 / 12)


def test_depth_of_the_bulb_by_hand() -> None:
    # hand: 10 + (10 + (34 - 10)/2)/cos 30 = 10 + 22/0.8660254 = 35.403; the maker's sheet prints 35.4 for depth 240
    assert depth_of_bulb(np.array([34.0]), np.array([10.0]))[0] == pytest.approx(35.4034, abs=1e-4)


@pytest.mark.parametrize(
    ("make", "message"),
    [
        (lambda: flat_bar(10, 5), "FB10x5: web height out of range; found 10 mm; allowed: 20 to 5000 mm"),
        (lambda: flat_bar(float("nan"), 5), "web height out of range; found nan"),
        (lambda: flat_bar(20, 30), "a flat bar stands on its narrow side"),
        (lambda: tee(300, 2, 100, 18), "web thickness out of range"),
        (lambda: tee(300, 15, 3000, 18), "flange breadth out of range"),
        (lambda: tee(300, 15, 100, 1), "flange thickness out of range"),
        (lambda: tee(300, 30, 20, 18), "the flange must be at least as broad as the web is thick"),
        (lambda: built_up(300, 15, 100, 18, 43), "its eccentricity is too great; found 43 mm; allowed: up to 42.5 mm"),
        (lambda: built_up(300, 15, 100, 18, float("nan")), "its eccentricity is too great"),
    ],
)
def test_dimensions_out_of_range_are_named(make, message: str) -> None:
    with pytest.raises(InputError, match=message):
        make()


def test_tables_of_sections() -> None:
    table = stack([flat_bar(150, 12), tee(300, 15, 100, 18)])
    assert table.row(1) is not table.row(1)
    assert table.row(1).name == "T300x15+100x18"
    assert table.index_of("T300x15+100x18") == 1
    assert len(table.take(np.array([1, 1, 0]))) == 3
    assert join([table, table]).area_cm2.tolist() == [18.0, 63.0, 18.0, 63.0]
    assert stack([table.row(0)]).area_cm2 == table.area_cm2[:1]
    with pytest.raises(InputError, match="FB1x1: this section is not in the table"):
        table.index_of("FB1x1")
    with pytest.raises(ValueError, match="read-only"):
        table.area_cm2[0] = 1.0
    with pytest.raises(TypeError, match="no \\['depth'\\]"):
        shapes_from(SectionKind.FLAT_BAR, 1, depth=3.0)


def test_welded_kinds() -> None:
    assert {kind for kind in SectionKind if kind.welded} == {
        SectionKind.BUILT_ANGLE,
        SectionKind.BUILT_TEE,
        SectionKind.BUILT_UP,
    }
