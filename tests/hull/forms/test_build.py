"""The builder: what is solved, what is refused, and forms away from the demo ships."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from tests.hull.forms.measure import Measured

from beltwright.core.errors import InputError, SolverError
from beltwright.hull.forms.build import hull_patches, solved
from beltwright.hull.forms.demo import MERROW_TARN, MERROW_TARN_UPRIGHT, QUILLAN_FROSTMARK
from beltwright.hull.forms.ends import raised
from beltwright.hull.forms.midship import midship_section
from beltwright.hull.forms.surface import form_surface

DRAUGHT = QUILLAN_FROSTMARK.draught_m


def test_a_form_with_its_run_angle_is_left_alone() -> None:
    assert solved(MERROW_TARN_UPRIGHT) is MERROW_TARN_UPRIGHT


def test_solving_gives_the_volume_to_rounding() -> None:
    ready = solved(QUILLAN_FROSTMARK)
    assert ready.displaced_volume_m3 is None
    assert ready.run_angle_deg is not None
    assert form_surface(ready, ready.run_angle_deg).volume_m3() == pytest.approx(9384.0, rel=1e-11)


def test_volume_rises_with_the_run_angle() -> None:
    volumes = [form_surface(QUILLAN_FROSTMARK, angle).volume_m3() for angle in (8.0, 12.0, 16.0, 20.0, 24.0)]
    assert np.all(np.diff(volumes) > 0.0)


def test_rake_takes_a_wedge_off_the_transom() -> None:
    # second method: the wedge between an upright and a raked transom, summed from the upright hull's own aft edge
    upright = replace(MERROW_TARN_UPRIGHT, stern=replace(MERROW_TARN_UPRIGHT.stern, transom_rake_deg=0.0))
    straight, raked = (form_surface(f, 13.0) for f in (upright, MERROW_TARN_UPRIGHT))
    steps, lean = 60, float(np.tan(np.radians(MERROW_TARN_UPRIGHT.stern.transom_rake_deg)))
    share = (np.arange(600) + 0.5) / 600
    lost = 0.0
    for k in range(steps):  # slices of equal reach aft of the raked plane's foot
        x = -1.3 + lean * 2.0 * (k + 0.5) / steps
        y, z = straight.sections(np.array([x]), share)
        below = 5.0 - (x + 1.3) / lean  # the raked plane stands at this height at x; the part under it is cut off
        lost += 2.0 * np.sum(np.maximum(below - z[0, :-1], 0.0) * np.diff(y[0])) * lean * 2.0 / steps
    assert straight.volume_m3() - raked.volume_m3() == pytest.approx(lost, rel=0.01)


@given(
    turn=st.floats(-0.06, 0.06),
    rake=st.floats(-3.0, 3.0),
    block=st.floats(-0.02, 0.02),
)
@settings(max_examples=4, deadline=None)
def test_any_near_form_keeps_its_table_and_its_volume(turn: float, rake: float, block: float) -> None:
    base = QUILLAN_FROSTMARK.bow
    alpha = tuple(a * (1.0 + turn) for a in base.waterline_angle_deg)
    gamma = tuple(g + rake for g in base.buttock_angle_deg)
    bow = replace(base, waterline_angle_deg=alpha, buttock_angle_deg=gamma, stem_angle_deg=None)
    volume = 9384.0 * (1.0 + block)
    form = replace(QUILLAN_FROSTMARK, bow=bow, displaced_volume_m3=volume)
    hull = Measured(hull_patches(form)[0])
    found_alpha, found_gamma, _ = hull.angles(95.0 - np.array(base.station_aft_of_stem_m), DRAUGHT)
    assert np.max(np.abs(found_alpha - alpha)) < 0.05
    assert np.max(np.abs(found_gamma - gamma)) < 0.10
    assert hull.volume(DRAUGHT, steps=300) == pytest.approx(volume, rel=5e-4)


def test_two_builds_give_the_same_bits() -> None:
    first, second = hull_patches(MERROW_TARN), hull_patches(MERROW_TARN)
    assert all(np.array_equal(a.poles, b.poles) for a, b in zip(first, second, strict=True))


def test_a_buttock_rises_smoothly_and_ends_straight() -> None:
    # hand: depth 6, gamma 30 deg, share 0.5 -> the turn ends 3 m up, at 3 / tan 30 = 5.196 m ahead of the corner
    ahead = np.linspace(-15.0, 10.0, 2501)
    gamma, depth = np.full_like(ahead, np.radians(30.0)), np.full_like(ahead, 6.0)
    rise = raised(ahead, gamma, depth, share=0.5, level_share=2.0)
    assert np.all(rise[ahead < -12.0] == 0.0)
    straight = ahead > 3.0 / np.tan(np.radians(30.0)) + 0.01
    assert rise[straight] == pytest.approx(ahead[straight] * np.tan(np.radians(30.0)), rel=1e-12)
    slope = np.gradient(rise, ahead)
    assert np.all(np.diff(slope) > -1e-9)  # only ever steeper
    assert np.max(np.abs(np.diff(slope))) < 0.002  # and without a kink


@pytest.mark.parametrize("coefficient", [0.915, 0.93, 0.97])
def test_midship_section_has_its_area(coefficient: float) -> None:
    section = midship_section(beam_m=21.0, draught_m=7.6, coefficient=coefficient)
    outside = float(np.trapezoid(section.inside_m, section.height_m))  # area between the bilge and the box
    assert 1.0 - outside / (10.5 * 7.6) == pytest.approx(coefficient, abs=2e-5)
    assert section.height_m[-1] == pytest.approx(section.bilge_m, rel=1e-12)


def test_a_bilge_that_does_not_fit_says_what_does() -> None:
    with pytest.raises(InputError, match=r"midship_coefficient: the bilge does not fit; found 0\.8; allowed: at least"):
        midship_section(beam_m=21.0, draught_m=7.6, coefficient=0.80)


REFUSED = [
    (lambda: replace(QUILLAN_FROSTMARK, beam_m=float("nan")), "beam_m: outside the allowed range; found nan m"),
    (lambda: replace(QUILLAN_FROSTMARK, draught_m=10.3), "depth_m"),
    (lambda: replace(QUILLAN_FROSTMARK, midship_coefficient=1.0), "midship_coefficient"),
    (lambda: replace(QUILLAN_FROSTMARK, stem_x_m=40.0), "stem_x_m"),
    (lambda: replace(QUILLAN_FROSTMARK, run_angle_deg=15.0), "give either"),
    (lambda: replace(QUILLAN_FROSTMARK, displaced_volume_m3=None), "give either"),
    (lambda: replace(QUILLAN_FROSTMARK, displaced_volume_m3=None, run_angle_deg=60.0), "run_angle_deg"),
    (lambda: replace(QUILLAN_FROSTMARK, displaced_volume_m3=16000.0), "displaced_volume_m3"),
    (lambda: replace(QUILLAN_FROSTMARK.bow, waterline_angle_deg=(28.0, 23.0, 17.0)), "equally many"),
    (lambda: replace(QUILLAN_FROSTMARK.bow, waterline_angle_deg=(28.0, 23.0, 24.0, 12.0)), "must rise strictly"),
    (lambda: replace(QUILLAN_FROSTMARK.bow, waterline_angle_deg=(75.0, 23.0, 17.0, 12.0)), "waterline_angle_deg"),
    (lambda: replace(QUILLAN_FROSTMARK.bow, station_aft_of_stem_m=(3.4, 10.2, 17.0, 28.0)), "station_aft_of_stem_m"),
    (lambda: replace(QUILLAN_FROSTMARK.bow, buttock_angle_deg=(25.0, 29.0, 35.0, 90.0)), "buttock_angle_deg"),
    (lambda: replace(QUILLAN_FROSTMARK.bow, stem_angle_deg=89.0), "stem_angle_deg"),
    (lambda: replace(QUILLAN_FROSTMARK.bow, forefoot_fraction=1.0), "forefoot_fraction"),
    (lambda: replace(QUILLAN_FROSTMARK.bow, forefoot_lead=0.0), "forefoot_lead"),
    (lambda: replace(QUILLAN_FROSTMARK.stern, parallel_side_end_x_m=-3.0), "parallel_side_end_x_m"),
    (lambda: replace(QUILLAN_FROSTMARK.stern, transom_half_breadth_m=0.0), "transom_half_breadth_m"),
    (lambda: replace(QUILLAN_FROSTMARK.stern, fineness=0.1), "fineness"),
    (lambda: replace(QUILLAN_FROSTMARK.stern, transom_rake_deg=60.0), "transom_rake_deg"),
    (lambda: replace(QUILLAN_FROSTMARK.stern, run_fraction=0.0), "run_fraction"),
    (lambda: replace(QUILLAN_FROSTMARK.stern, side_buttock_excess_deg=-1.0), "side_buttock_excess_deg"),
]


@pytest.mark.parametrize(("make", "words"), REFUSED, ids=[w for _, w in REFUSED])
def test_bad_parameters_are_refused_by_name(make, words: str) -> None:
    with pytest.raises(InputError, match=words) as caught:
        make()
    assert "\n" not in str(caught.value)


def test_a_transom_wider_than_the_ship_is_refused() -> None:
    stern = replace(QUILLAN_FROSTMARK.stern, transom_half_breadth_m=10.5)
    with pytest.raises(InputError, match="transom_half_breadth_m"):
        replace(QUILLAN_FROSTMARK, stern=stern)


def test_a_volume_out_of_reach_names_what_is_within() -> None:
    with pytest.raises(InputError, match=r"no run angle .* found 12000 m3; allowed: \d+ to \d+ m3"):
        solved(replace(QUILLAN_FROSTMARK, displaced_volume_m3=12000.0))


def test_an_entrance_that_cannot_reach_the_half_beam_is_refused() -> None:
    with pytest.raises(InputError, match="does not reach the half beam smoothly"):
        form_surface(replace(QUILLAN_FROSTMARK, beam_m=26.0, midship_coefficient=0.95), 14.0)


def test_ends_that_overlap_are_refused() -> None:
    stern = replace(QUILLAN_FROSTMARK.stern, parallel_side_end_x_m=63.0)
    with pytest.raises(InputError, match="overlaps the run's"):
        form_surface(replace(QUILLAN_FROSTMARK, stern=stern), 14.0)


def test_a_run_as_steep_as_its_transom_s_rake_does_not_return_a_number() -> None:
    stern = replace(MERROW_TARN_UPRIGHT.stern, transom_rake_deg=45.0)
    form = replace(MERROW_TARN_UPRIGHT, stern=stern, run_angle_deg=45.0)
    with pytest.raises(SolverError):
        hull_patches(form)
