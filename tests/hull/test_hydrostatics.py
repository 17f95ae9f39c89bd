"""Volume, centres and waterplane against closed forms: even, trimmed and broken levels, open and gapped hulls."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from tests.hull import closed_form as cf
from tests.hull import shapes

from beltwright.core.errors import InputError
from beltwright.hull.hydrostatics import Floating, Hydrostatics, hydrostatics
from beltwright.hull.levels import WaterLevel
from beltwright.hull.patch import mapped
from beltwright.hull.spline_shell import SplineShell

HULLS = {h.name: h for h in cf.all_hulls()}
FLOATING = {name: Floating(SplineShell(h.patches)) for name, h in HULLS.items()}
BOX = FLOATING["box"]


@pytest.mark.parametrize("name", HULLS)
def test_closed_forms_to_eight_digits(name: str) -> None:
    hull = HULLS[name]
    found = FLOATING[name].at(WaterLevel.even_keel(hull.draught_m))
    assert found.volume_m3 == pytest.approx(hull.volume_m3, rel=1e-8)
    assert found.lcb_m == pytest.approx(hull.lcb_m, abs=1e-6)
    assert found.vcb_m == pytest.approx(hull.vcb_m, abs=1e-7)
    assert found.waterplane_m2 == pytest.approx(hull.waterplane_m2, rel=1e-8)
    assert found.lcf_m == pytest.approx(hull.lcf_m, abs=1e-6)


def test_half_box_has_its_centre_at_a_quarter_of_the_breadth() -> None:
    assert BOX.at(WaterLevel.even_keel(4.0)).half_tcb_m == pytest.approx(3.0, abs=1e-12)


def test_trimmed_box_by_hand() -> None:
    # hand: draught d(x) = 3 + x/60 over L = 60, B = 12. V = 12 * 60 * 3.5 = 2520; area moment of d about AP:
    # integral x (3 + x/60) = 5400 + 1200 = 6600 -> LCB = 12 * 6600 / 2520 = 31.428571;
    # VCB = 12 * integral d^2/2 / V = 6 * (60/3) * (4^3 - 3^3) / 2520 = 6 * 20 * 37 / 2520 = 1.761905
    found = BOX.at(WaterLevel((0.0, 60.0), (3.0, 4.0)))
    assert found.volume_m3 == pytest.approx(2520.0, rel=1e-12)
    assert found.lcb_m == pytest.approx(31.4285714286, rel=1e-10)
    assert found.vcb_m == pytest.approx(1.7619047619, rel=1e-10)
    assert found.waterplane_m2 == pytest.approx(720.0, rel=1e-12)


def test_broken_box_by_hand() -> None:
    # hand: d = 4 at both ends, 3 amidships: V = 12 * 60 * 3.5 = 2520, LCB = 30 by symmetry,
    # VCB = 12 * 2 * (30/3)(4^3 - 3^3)/2 / 2520 = 12 * 370 / 2520 = 1.761905
    found = BOX.at(WaterLevel((0.0, 30.0, 60.0), (4.0, 3.0, 4.0)))
    assert found.volume_m3 == pytest.approx(2520.0, rel=1e-12)
    assert found.lcb_m == pytest.approx(30.0, abs=1e-9)
    assert found.vcb_m == pytest.approx(1.7619047619, abs=1e-9)
    assert found.waterplane_m2 == pytest.approx(720.0, rel=1e-12)


def test_flared_hull_at_another_draught_by_hand() -> None:
    # hand: V = 3/4 L B (0.6 T + 0.2 T^2/D) with L 70, B 14, D 8, T 3 -> 735 * (1.8 + 0.225) = 1488.375
    found = FLOATING["flared"].at(WaterLevel.even_keel(3.0))
    assert found.volume_m3 == pytest.approx(1488.375, rel=1e-10)


@pytest.mark.parametrize("name", ["box", "flared", "wedge"])
def test_ends_and_bottom_that_are_not_modelled_change_nothing(name: str) -> None:
    hull = HULLS[name]
    level = WaterLevel((0.0, 30.0, 60.0), (3.0, 3.2, 3.1))
    side_only = SplineShell([p for p in hull.patches if p.name == "side"])
    whole, open_hull = FLOATING[name].at(level), hydrostatics(side_only, level)
    assert open_hull.volume_m3 == pytest.approx(whole.volume_m3, rel=1e-10)
    assert open_hull.lcb_m == pytest.approx(whole.lcb_m, rel=1e-10)
    assert open_hull.vcb_m == pytest.approx(whole.vcb_m, rel=1e-10)
    assert open_hull.waterplane_m2 == pytest.approx(whole.waterplane_m2, rel=1e-10)


def test_a_raked_transom_by_hand() -> None:
    # hand: box 40 x 10 with its aft end leaning: x_aft = -0.5 z. V to T = 4: 10 * (160 + 0.25 * 16) = 1640;
    # waterplane 10 * (40 + 2) = 420
    side = cf.quad([0, 5, 0], [40, 5, 0], [-4, 5, 8], [40, 5, 8], "side")
    transom = cf.quad([0, 0, 0], [0, 5, 0], [-4, 0, 8], [-4, 5, 8], "transom")
    found = hydrostatics(SplineShell([side, transom]), WaterLevel.even_keel(4.0))
    assert found.volume_m3 == pytest.approx(1640.0, rel=1e-12)
    assert found.waterplane_m2 == pytest.approx(420.0, rel=1e-12)


def test_volume_grows_by_the_waterplane() -> None:
    for name, floating in FLOATING.items():
        if name == "half ellipsoid":
            continue
        t, d = 0.7 * HULLS[name].draught_m, 1e-3
        low, high = floating.at(WaterLevel.even_keel(t - d)), floating.at(WaterLevel.even_keel(t + d))
        area = floating.at(WaterLevel.even_keel(t)).waterplane_m2
        assert (high.volume_m3 - low.volume_m3) / (2 * d) == pytest.approx(area, rel=1e-6)


def test_twelve_gapped_faces_stay_within_a_thousandth() -> None:
    hull = HULLS["flared"]
    faces = (*shapes.gapped(hull.patches[0], 4, 3, 0.001), *hull.patches[1:])
    found = hydrostatics(SplineShell(faces), WaterLevel.even_keel(hull.draught_m))
    assert found.volume_m3 == pytest.approx(hull.volume_m3, rel=1e-3)
    assert found.lcb_m == pytest.approx(hull.lcb_m, abs=5e-4 * hull.length_m)


def test_displacement_takes_density_and_allowance() -> None:
    found = BOX.at(WaterLevel.even_keel(4.0))
    assert found.displacement_t(1.0, 0.0) == pytest.approx(2880.0)
    assert found.displacement_t(1.025, 20.0) == pytest.approx(2880.0 * 1.025 + 20.0)
    assert found.displacement_kt(1.025, 20.0) == pytest.approx(2.972, rel=1e-12)


@pytest.mark.parametrize(
    ("density", "allowance", "message"),
    [(1025.0, 0.0, "water density.*1025 t/m3"), (float("nan"), 0.0, "water density"), (1.0, 1e6, "allowance"),
     (1.0, float("nan"), "allowance")],
)  # fmt: skip
def test_implausible_density_or_allowance_is_refused(density: float, allowance: float, message: str) -> None:
    found = BOX.at(WaterLevel.even_keel(4.0))
    with pytest.raises(InputError, match=message):
        found.displacement_t(density, allowance)


def test_a_level_off_the_hull_is_refused_with_its_value() -> None:
    with pytest.raises(InputError, match=r"does not reach up to the waterline \(7.500 m\)"):
        BOX.at(WaterLevel.even_keel(7.5))
    with pytest.raises(InputError, match=r"lies wholly above the waterline \(-1.000 m\)"):
        BOX.at(WaterLevel.even_keel(-1.0))


def test_scaling_follows_the_cube() -> None:
    hull = HULLS["wedge"]
    big = SplineShell([replace(mapped(p, np.diag([2.0, 2.0, 2.0, 1.0]))) for p in hull.patches])
    found: Hydrostatics = hydrostatics(big, WaterLevel.even_keel(2 * hull.draught_m))
    assert found.volume_m3 == pytest.approx(8 * hull.volume_m3, rel=1e-9)


@pytest.mark.parametrize(
    ("x", "z", "message"),
    [((0.0, 1.0), (1.0,), "as many draughts"), ((), (), "as many draughts"), ((0.0,), (float("nan"),), "not a finite"),
     ((1.0, 1.0), (2.0, 2.0), "must rise"), ((float("inf"), 1.0), (2.0, 2.0), "not a finite")],
)  # fmt: skip
def test_a_level_that_makes_no_sense_is_refused(x: tuple[float, ...], z: tuple[float, ...], message: str) -> None:
    with pytest.raises(InputError, match=f"UIWL: .*{message}"):
        WaterLevel(x, z, "UIWL")


def test_levels_carry_on_beyond_their_ends() -> None:
    level = WaterLevel((0.0, 10.0, 20.0), (5.0, 4.0, 6.0))
    np.testing.assert_allclose(level.height(np.array([-10.0, 5.0, 15.0, 30.0])), [6.0, 4.5, 5.0, 8.0])
    np.testing.assert_allclose(level.raised(1.5).height(np.array([5.0])), [6.0])
