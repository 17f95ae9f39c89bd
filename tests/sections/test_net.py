"""Net sections: what the deduction takes, and that net is never more than as built."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from beltwright.core.errors import InputError
from beltwright.sections.catalogue import bulb_flats, catalogue, rolled_angles
from beltwright.sections.equivalent import equivalent_built_angle
from beltwright.sections.make import built_angle, built_up, flat_bar, tee
from beltwright.sections.names import bulb, section
from beltwright.sections.net import net_section, net_sections


def test_net_tee_by_hand() -> None:
    net = net_section(tee(380, 19, 150, 20), corrosion_deduction_mm=1.0)
    assert net.net_web_thickness_mm == 18.0
    assert net.net_flange_thickness_mm == 19.0
    assert net.net_flange_area_cm2 == pytest.approx(28.5)  # hand: 15.0 x 1.9
    assert net.net_frame_area_cm2 == pytest.approx(96.9)  # hand: 38.0 x 1.8 + 28.5
    assert net.flange_centre_height_mm == 389.5  # hand: 380 + 19/2
    assert net.net_height_mm == 399.0
    assert net.flange_outstand_mm == pytest.approx(66.0)  # hand: (150 - 18)/2
    assert net.net_area_cm2 == pytest.approx(96.9)
    assert (net.has_flange, net.welded_flange, net.symmetric) == (True, True, True)


def test_net_flat_bar_and_built_angle_by_hand() -> None:
    bar = net_section(flat_bar(200, 20), corrosion_deduction_mm=1.5)
    assert (bar.net_height_mm, bar.net_web_thickness_mm, bar.net_flange_area_cm2) == (200.0, 18.5, 0.0)
    assert bar.net_frame_area_cm2 == pytest.approx(37.0)
    assert (bar.has_flange, bar.welded_flange, bar.flange_outstand_mm) == (False, False, 0.0)
    angle = net_section(built_angle(250, 12, 90, 15), corrosion_deduction_mm=1.0)
    assert angle.flange_eccentricity_mm == 39.0  # as built: the mid-plane of the web does not move
    assert angle.flange_outstand_mm == pytest.approx(78.5)  # hand: 90/2 + 39 - 11/2
    assert angle.net_frame_area_cm2 == pytest.approx(25.0 * 1.1 + 9.0 * 1.4)


def test_the_outstand_is_the_wider_one_on_either_side() -> None:
    left = net_section(built_up(300, 15, 100, 18, -20), corrosion_deduction_mm=1.0)
    right = net_section(built_up(300, 15, 100, 18, 20), corrosion_deduction_mm=1.0)
    assert left.flange_outstand_mm == right.flange_outstand_mm == pytest.approx(50 + 20 - 7)


def test_net_bulb_by_hand() -> None:
    net = net_section(bulb("HP240x11"), corrosion_deduction_mm=1.0)
    # hand, equivalent angle as built: tf = 240/9.2 - 2 = 24.08696, hw = 215.91304, bf = 11 + 240/6.7 - 2 = 44.82090
    assert net.web_height_mm == pytest.approx(215.91304)
    assert net.net_flange_thickness_mm == pytest.approx(23.08696)
    assert net.net_flange_area_cm2 == pytest.approx(4.482090 * 2.308696)
    assert net.net_height_mm == pytest.approx(239.0)
    assert net.flange_eccentricity_mm == pytest.approx((44.82090 - 11) / 2)
    assert (net.has_flange, net.welded_flange, net.symmetric) == (True, False, False)
    shape = net.net_shapes
    assert (shape.height[0], shape.web[0], shape.nose_radius[0], shape.fillet_radius[0]) == (239.5, 10.0, 9.5, 10.5)
    assert (shape.bulb_projection[0], shape.edge_radius[0]) == (34.0, 2.5)


def test_the_equivalent_angle_changes_its_factor_at_120_mm() -> None:
    at = equivalent_built_angle(height_mm=np.array([100.0, 120.0, np.nextafter(120.0, 121.0)]), web_mm=np.full(3, 7.0))
    plain = np.array([100.0, 120.0, 120.0]) / 6.7 + 5.0
    # hand: 1.1 + 20^2/3000 = 1.23333; 1.1 at 120; 1.0 above: a recorded jump
    assert at.flange_breadth_mm / plain == pytest.approx([1.2333333, 1.1, 1.0])


def test_the_equivalent_angle_of_every_bulb_is_near_the_exact_outline() -> None:
    """The figures of the docstring: area within 3 %, inertia within 4 % (second method: exact outline)."""
    table = bulb_flats()
    t = table
    dimensions = (t.web_height_mm, t.web_thickness_mm, t.flange_breadth_mm, t.flange_thickness_mm)
    plates = [tee(*row) for row in zip(*dimensions, strict=True)]
    area = np.array([plate.area_cm2 for plate in plates]) / table.area_cm2 - 1.0
    inertia = np.array([plate.inertia_cm4 for plate in plates]) / table.inertia_cm4 - 1.0
    assert -0.03 < area.min() < -0.02
    assert area.max() < 0.002
    assert inertia.min() > -0.01
    assert 0.02 < inertia.max() < 0.04


def test_the_equivalent_net_flange_is_the_smaller_of_two_readings() -> None:
    """Decision 4: deduction off the flange too, against the reading that only thins the web."""
    table = bulb_flats()
    net = net_sections(table, corrosion_deduction_mm=1.0)
    other = equivalent_built_angle(height_mm=table.height_mm, web_mm=table.web_thickness_mm - 1.0)
    ratio = net.net_flange_area_cm2 / (other.flange_breadth_mm * other.flange_thickness_mm / 100.0)
    assert np.all(ratio < 1.0)
    assert ratio.min() > 0.85  # the smallest bulbs
    assert ratio[table.height_mm >= 200].min() > 0.97


@given(deduction=st.floats(0.0, 3.5), more=st.floats(0.001, 0.4))
def test_net_is_never_more_than_as_built_and_falls_with_the_deduction(deduction: float, more: float) -> None:
    table = catalogue()
    net = net_sections(table, corrosion_deduction_mm=deduction)
    less = net_sections(table, corrosion_deduction_mm=deduction + more)
    for small, great in ((net, table), (less, net)):
        area = great.area_cm2 if great is table else great.net_area_cm2
        inertia = great.inertia_cm4 if great is table else great.net_inertia_cm4
        assert np.all(small.net_area_cm2 <= area * (1 + 1e-12))
        assert np.all(small.net_inertia_cm4 <= inertia * (1 + 1e-12))
    assert np.all(less.net_area_cm2 < net.net_area_cm2)
    assert np.all(less.net_frame_area_cm2 < net.net_frame_area_cm2)
    assert np.all(less.net_height_mm <= net.net_height_mm)


def test_no_deduction_leaves_bulbs_and_plates_as_they_are() -> None:
    table = bulb_flats()
    net = net_sections(table, corrosion_deduction_mm=0.0)
    assert net.net_area_cm2.tolist() == table.area_cm2.tolist()
    assert net.net_inertia_cm4.tolist() == table.inertia_cm4.tolist()
    angles = net_sections(rolled_angles(), corrosion_deduction_mm=0.0)
    assert angles.net_area_cm2.tolist() == rolled_angles().area_cm2.tolist()


def test_rule_area_of_a_net_bulb_stays_near_the_exact_one() -> None:
    net = net_sections(bulb_flats(), corrosion_deduction_mm=1.0)
    ratio = net.net_frame_area_cm2 / net.net_area_cm2
    assert ratio.min() > 0.95
    assert ratio.max() < 1.01


def test_a_deduction_per_row() -> None:
    table = catalogue().take(np.array([0, 1000]))
    net = net_sections(table, corrosion_deduction_mm=[1.0, 2.0])
    assert len(net) == 2
    assert net.corrosion_deduction_mm.tolist() == [1.0, 2.0]
    assert net.take(np.array([1])).net_web_thickness_mm[0] == table.web_thickness_mm[1] - 2.0


@pytest.mark.parametrize("bad", [-0.1, float("nan"), float("inf")])
def test_a_deduction_that_is_none_is_refused(bad: float) -> None:
    with pytest.raises(InputError, match="HP240x11: corrosion deduction: not a deduction"):
        net_section(bulb("HP240x11"), corrosion_deduction_mm=bad)


def test_a_deduction_that_eats_a_plate_is_refused() -> None:
    with pytest.raises(
        InputError,
        match=r"T300x15.100x18: corrosion deduction: nothing is left of a plate; found 15 mm; allowed: less than 15 mm",
    ):
        net_section(tee(300, 15, 100, 18), corrosion_deduction_mm=15.0)
    with pytest.raises(InputError, match="nothing is left of a plate; found 9 mm; allowed: less than 8 mm"):
        net_section(section("T300x15+100x8"), corrosion_deduction_mm=9.0)
