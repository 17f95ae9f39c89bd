"""UR S11.5.2.2.2: torsional buckling of stiffeners, each part by hand and the whole against the theory it rests on.

The theory: a thin-walled open section that can only turn about the line where it stands on the plate, held there by
the plate's own bending. In ``m`` half waves over the span ``l`` it buckles at
``[G It + E Iw (m pi/l)^2 + C (l/(m pi))^2] / Ip``; the rule's 0.385 E stands for G = E/2.6.
"""

from __future__ import annotations

from math import pi
from typing import Any

import numpy as np
import pytest

from beltwright.core.outcome import is_met, utilisation
from beltwright.rules.polar_iacs_2019.ruleset import POLAR_2019
from beltwright.rules.strength_iacs import s11_5_2_2_torsion as torsion

E = 2.06e5


def array(*values: float) -> np.ndarray:
    return np.array(values)


def test_st_venant_inertia_by_hand() -> None:
    # tee 300 x 12 + 150 x 18: (300 12^3 + 150 18^3 (1 - 0.63 18/150))/3 = (518 400 + 808 669)/3 mm4 = 44.236 cm4
    found = torsion.st_venant_inertia(
        web_height_mm=array(300.0, 300.0), web_net_mm=array(12.0, 12.0), flange_breadth_mm=array(150.0, 0.0),
        flange_net_mm=array(18.0, 0.0),
    )  # fmt: skip
    flange = 150.0 * 18.0**3 * (1.0 - 0.63 * 18.0 / 150.0)
    assert found == pytest.approx([(300.0 * 12.0**3 + flange) / 3e4, 300.0 * 12.0**3 / 3e4], rel=1e-12)


def test_polar_inertia_against_the_exact_one_of_lines() -> None:
    # of the web's line about its foot hw^3 tw/3, of the flange hw^2 Af: its breadth counts as at the web's top
    found = torsion.polar_inertia(
        web_height_mm=array(300.0, 150.0), web_net_mm=array(12.0, 15.0), flange_breadth_mm=array(150.0, 0.0),
        flange_net_mm=array(18.0, 0.0),
    )  # fmt: skip
    z = (np.arange(3000) + 0.5) * 0.1
    by_slices = (z**2 * 12.0 * 0.1).sum() + 300.0**2 * 150.0 * 18.0
    assert found[0] == pytest.approx(by_slices / 1e4, rel=1e-6)
    assert found[1] == pytest.approx(150.0**3 * 15.0 / 3e4, rel=1e-12)


def warped(hw: float, tw: float, bf: float, tf: float, *, both_sides: bool) -> float:
    """The sectorial inertia [cm6] by slices: the web's foot is the pole, warping counts from its mean over length."""
    n = 20_000
    edge = -bf / 2.0 if both_sides else 0.0
    y = edge + (np.arange(n) + 0.5) * bf / n
    flange = hw * y  # sectorial coordinate of the flange; that of the web's line through the pole is nothing
    mean = 0.0 if both_sides else flange.sum() * bf / n / (bf + hw)
    return float((((flange - mean) ** 2).sum() * bf / n * tf + mean**2 * hw * tw) / 1e6)


@pytest.mark.parametrize("size", [(300.0, 12.0, 150.0, 18.0), (214.0, 10.0, 43.0, 24.0), (180.0, 9.0, 90.0, 9.0)])
def test_sectorial_inertia_by_slices(size: tuple[float, float, float, float]) -> None:
    hw, tw, bf, tf = size
    given: dict[str, Any] = {
        "web_height_mm": array(hw), "web_net_mm": array(tw), "flange_breadth_mm": array(bf), "flange_net_mm": array(tf),
    }  # fmt: skip
    for kind, both in (("tee", True), ("angle", False), ("bulb", False)):
        found = torsion.sectorial_inertia(section_kind=np.array([kind]), **given)[0]
        assert found == pytest.approx(warped(hw, tw, bf, tf, both_sides=both), rel=1e-6), kind
    flat = torsion.sectorial_inertia(
        section_kind=np.array(["flat"]), **{**given, "flange_breadth_mm": array(0.0), "flange_net_mm": array(0.0)}
    )
    tee = torsion.sectorial_inertia(section_kind=np.array(["tee"]), **given)[0]
    assert tee == pytest.approx(tf * bf**3 * hw**2 / 12e6, rel=1e-13)
    mean = hw * bf**2 / (2.0 * (bf + hw))  # of the sectorial coordinate over the length of web and flange
    of_flange = hw**2 * bf**3 / 3.0 - mean * hw * bf**2 + mean**2 * bf
    angle = torsion.sectorial_inertia(section_kind=np.array(["angle"]), **given)[0]
    assert angle == pytest.approx((of_flange * tf + mean**2 * hw * tw) / 1e6, rel=1e-12)
    # warping across the thickness: 4 corners' worth, integral of (n z)^2 over the web = hw^3 tw^3/36
    assert flat[0] == pytest.approx((hw**3 / 3.0) * (tw**3 / 12.0) / 1e6, rel=1e-12)


def test_how_far_the_plate_holds() -> None:
    # 1 less sigma_a/sigma_Ep; not below 0.1 for a flanged section, not below 0 for a flat bar
    kind = np.array(["tee", "tee", "bulb", "flat", "flat"])
    found = torsion.plate_fixity(
        compression_mpa=array(50.0, 190.0, 300.0, 190.0, 300.0),
        plate_elastic_mpa=array(*[200.0] * 5),
        section_kind=kind,
    )
    assert found == pytest.approx([0.75, 0.1, 0.1, 0.05, 0.0], rel=1e-12)


def test_spring_of_the_plate_by_hand_and_against_plate_bending() -> None:
    # k_p 1, t_p 10, s 0.6, h_w 200, t_w 10: E 1000/(3 0.6 (1 + 1.33 200 1000/(1000 0.6 1000)))/1000 = 79 289 N
    given = {"plate_net_mm": array(10.0), "spacing_m": array(0.6), "web_height_mm": array(200.0)}
    found = torsion.plate_spring(plate_fixity=array(1.0), web_net_mm=array(10.0), **given)[0]
    by_hand = E * 1000.0 / (1.8 * (1.0 + 1.33 * 200.0 * 1000.0 / (600.0 * 1000.0))) / 1000.0
    assert found == pytest.approx(by_hand, rel=1e-12)
    # a web that does not bend: each bay turns alike at both ends, 2 D/s from either side, 4 D/s = E t^3/(2.73 s)
    stiff = torsion.plate_spring(plate_fixity=array(1.0), web_net_mm=array(1e6), **given)[0]
    bending = 4.0 * E * 10.0**3 / (12.0 * (1.0 - 0.3**2)) / 600.0
    assert stiff == pytest.approx(bending, rel=0.1)
    assert torsion.plate_spring(plate_fixity=array(0.0), web_net_mm=array(10.0), **given)[0] == 0.0


def test_half_waves_on_both_sides_of_each_limit() -> None:
    # one up to K = 4, two up to 36, three up to 144, four up to 400; m^2 (m + 1)^2 in general
    for m in range(1, 12):
        limit = float(m**2 * (m + 1) ** 2)
        found = torsion.half_waves(plate_ratio=array(limit * (1 - 1e-9), limit * (1 + 1e-9)))
        assert found.tolist() == [m, m + 1], limit
    assert torsion.half_waves(plate_ratio=array(0.0)).tolist() == [1.0]


def test_elastic_stress_by_hand() -> None:
    # I_w 9000 cm6, I_p 8000 cm4, I_t 40 cm4, l 2 m: pi^2 E 9000/(10^4 8000 4) = 57.182; 0.385 E 40/8000 = 396.55
    # K = C l^4/(pi^4 E I_w) 10^6 with C 50 000 N: 50 000 16 10^6/(97.409 2.06e5 9000) = 4.4297: two half waves
    ratio = torsion.plate_ratio(plate_spring=array(5e4), span_m=array(2.0), sectorial_inertia_cm6=array(9000.0))
    assert ratio[0] == pytest.approx(4.4297, rel=1e-4)
    waves = torsion.half_waves(plate_ratio=ratio)
    found = torsion.elastic_torsion(
        sectorial_inertia_cm6=array(9000.0), polar_inertia_cm4=array(8000.0), st_venant_inertia_cm4=array(40.0),
        span_m=array(2.0), half_waves=waves, plate_ratio=ratio,
    )  # fmt: skip
    assert waves[0] == 2.0
    assert ratio[0] == pytest.approx(5e4 * 16.0 * 1e6 / (pi**4 * E * 9000.0), rel=1e-13)
    exact = pi**2 * E * 9000.0 / (1e4 * 8000.0 * 4.0) * (4.0 + ratio[0] / 4.0) + 0.385 * E * 40.0 / 8000.0
    assert found[0] == pytest.approx(exact, rel=1e-13)
    assert found[0] == pytest.approx(57.182 * (4.0 + 4.4297 / 4.0) + 396.55, rel=1e-4)


SIZES = [
    ("tee", 300.0, 12.0, 150.0, 18.0), ("angle", 250.0, 9.0, 90.0, 12.0), ("bulb", 180.0, 8.0, 35.0, 17.0),
    ("flat", 150.0, 12.0, 0.0, 0.0),
]  # fmt: skip


@pytest.mark.parametrize("size", SIZES)
@pytest.mark.parametrize("span", [0.8, 2.4, 6.0, 12.0])
@pytest.mark.parametrize("compression", [20.0, 180.0])
def test_the_whole_chain_against_the_theory(size: tuple[str, float, float, float, float], span: float,
                                            compression: float) -> None:  # fmt: skip
    """The least stress over 1 to 60 half waves, worked in mm and N, is the rule's with its own number of half waves."""
    kind, hw, tw, bf, tf = size
    plate, spacing, yield_mpa = 12.0, 0.6, 355.0
    assert POLAR_2019.girder is not None
    out = POLAR_2019.girder.stiffener.run({
        "compression_mpa": array(compression), "inertia_net_cm4": array(5000.0), "area_net_cm2": array(120.0),
        "span_m": array(span), "web_net_mm": array(tw), "web_height_mm": array(hw), "yield_mpa": array(yield_mpa),
        "section_kind": np.array([kind]), "flange_breadth_mm": array(bf), "flange_net_mm": array(tf),
        "plate_net_mm": array(plate), "spacing_m": array(spacing), "stress_ratio": array(1.0),
    })  # fmt: skip
    st_venant = (hw * tw**3 + (bf * tf**3 * (1.0 - 0.63 * tf / bf) if bf else 0.0)) / 3.0
    polar = hw**3 * tw / 3.0 + hw**2 * bf * tf
    warping = hw**3 * tw**3 / 36.0 if kind == "flat" else 1e6 * warped(hw, tw, bf, tf, both_sides=kind == "tee")
    own = 0.9 * 4.0 * E * (plate / 600.0) ** 2
    held = max(1.0 - compression / own, 0.0 if kind == "flat" else 0.1)
    spring = held * E * plate**3 / (3.0 * 600.0) / (1.0 + 1.33 * held * hw * plate**3 / (600.0 * tw**3))
    wave = np.arange(1, 61) * pi / (1000.0 * span)
    least = ((E / 2.6 * st_venant + E * warping * wave**2 + spring / wave**2) / polar).min()
    assert out["elastic_torsion_mpa"][0] == pytest.approx(least, rel=2e-3)
    critical = least if least <= yield_mpa / 2.0 else yield_mpa * (1.0 - yield_mpa / (4.0 * least))
    assert out["allowed_torsion_mpa"][0] == pytest.approx(critical / 1.1, rel=2e-3)


def test_a_stiffener_can_fail_by_torsion_alone() -> None:
    """A tall tee with a narrow flange on a thin plate: column and web hold, the section turns over."""
    assert POLAR_2019.girder is not None
    rule = POLAR_2019.girder.stiffener

    def failed(compression: float) -> tuple[list[str], float]:
        out = rule.run({
            "compression_mpa": array(compression), "inertia_net_cm4": array(60_000.0), "area_net_cm2": array(150.0),
            "span_m": array(4.0), "web_net_mm": array(11.0), "web_height_mm": array(450.0), "yield_mpa": array(355.0),
            "section_kind": np.array(["tee"]), "flange_breadth_mm": array(60.0), "flange_net_mm": array(15.0),
            "plate_net_mm": array(9.0), "spacing_m": array(0.7), "stress_ratio": array(1.0),
        })  # fmt: skip
        ratios = {check.name: utilisation(out[check.required], out[check.offered]) for check in rule.checks}
        return [name for name, ratio in ratios.items() if not is_met(ratio)[0]], float(out["allowed_torsion_mpa"][0])

    names, _ = failed(150.0)
    assert names == ["stiffener turning over"]
    # the limit itself: the allowed stress falls as the plate gives way, so it is found where both meet
    low, high = 1.0, 150.0
    for _ in range(60):
        middle = 0.5 * (low + high)
        low, high = (middle, high) if failed(middle)[1] > middle else (low, middle)
    assert 1.0 < low < 149.0
    assert failed(low * (1.0 - 1e-9))[0] == []
    assert failed(high * (1.0 + 1e-9))[0] == ["stiffener turning over"]
