"""UR I2.8, I2.9.2, I2.10, I2.17 and the clauses without a formula. Expected numbers: by hand."""

from __future__ import annotations

import math
from typing import Any

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from tests.rules.polar_iacs_2019.cases import POLAR, angles, column, design, facts

from beltwright.core.outcome import is_met, utilisation
from beltwright.rules.facts import SHIP
from beltwright.rules.polar_iacs_2019 import i2_3_3_patch_and_factors as i2_3
from beltwright.rules.polar_iacs_2019 import i2_8_web_frames as i2_8
from beltwright.rules.polar_iacs_2019 import i2_9_stability as i2_9
from beltwright.rules.polar_iacs_2019 import i2_10_plated as i2_10
from beltwright.rules.polar_iacs_2019 import i2_17_direct as i2_17
from beltwright.rules.polar_iacs_2019.checklist import CHECKLIST
from beltwright.rules.polar_iacs_2019.supports import PLATED_STRUCTURES, SUPPORTS, WEB_FRAMES_AND_STRINGERS

NAN = float("nan")


def near(expected: float) -> object:
    return pytest.approx(expected, rel=1e-12)


def support(**changed: Any) -> dict[str, np.ndarray]:
    """A web frame in the midbody icebelt of the PC4 ship: 800 x 14 net, flange 200 x 20 net, stiffeners 400 apart."""
    _, loads = design(facts(), angles(), ())
    given: dict[str, Any] = {
        "load_area": "Mi", "factor_area": "Mi", "web_frame_spacing_m": 1.6, "part_of_grillage": False,
        "peak_in_grillage": False, "yield_mpa": 355.0, "plate_yield_mpa": 355.0, "plate_net_fitted_mm": 20.0,
        "section_kind": "tee", "web_height_mm": 800.0, "web_net_mm": 14.0, "flange_breadth_mm": 200.0,
        "flange_net_mm": 20.0, "flange_outstand_mm": 93.0, "penetrating_height_mm": 300.0,
        "web_stiffener_spacing_mm": 400.0, "calculated_shear_mpa": NAN, "calculated_von_mises_mpa": NAN,
    }  # fmt: skip
    assert set(changed) <= set(given)
    member = {name: column(value) for name, value in {**given, **changed}.items()}
    return {
        name: np.asarray(({**facts(), **loads.columns} | member)[name])
        for name in WEB_FRAMES_AND_STRINGERS.chain.inputs
    }


def ratios(**changed: Any) -> dict[str, float]:
    """Required over offered of each check of one member."""
    out = WEB_FRAMES_AND_STRINGERS.run(support(**changed))
    return {c.name: float(utilisation(out[c.required], out[c.offered])[0]) for c in WEB_FRAMES_AND_STRINGERS.checks}


@pytest.mark.parametrize(
    ("spacing", "width", "inside", "asked", "factor"),
    [
        (0.6, 2.0, False, False, 1.4),  # Table 3: 2.0 - 2.0 x 0.6/2.0
        (1.0, 2.0, False, False, 1.0),  # Sw = 0.5 w
        (1.6, 2.0, False, False, 1.0),
        (0.6, 2.0, True, False, 1.0),  # inside a grillage
        (0.6, 2.0, True, True, 1.4),  # inside, the factor asked for all the same
        (0.6, 2.0, False, True, 1.4),
    ],
)
def test_peak_factor_outside_and_inside_a_grillage(
    spacing: float, width: float, inside: bool, asked: bool, factor: float
) -> None:
    table = i2_3.frame_peak_longitudinal(web_frame_spacing_m=column(spacing), patch_width_m=column(width))
    found = i2_8.support_peak(
        part_of_grillage=column(inside), peak_in_grillage=column(asked), frame_peak_longitudinal=table
    )
    assert found[0] == near(factor)


@given(st.floats(0.5, 5.0))
def test_peak_factor_is_continuous_at_half_the_patch_width_and_falls(width: float) -> None:
    share = np.array([0.1, 0.3, 0.5 - 1e-9, 0.5, 0.5 + 1e-9, 0.7])
    found = i2_3.frame_peak_longitudinal(web_frame_spacing_m=share * width, patch_width_m=np.full(6, width))
    assert np.ptp(found[2:5]) < 1e-8
    assert (np.diff(found) <= 1e-12).all()
    assert found[0] == near(1.8)


def test_pressure_and_force_of_the_patch_by_hand() -> None:
    # hand: p = 0.55 x 1.4 x 4 = 3.08 MPa; F = 3.08 x 0.7 x 2.5 = 5.39 MN
    pressure = i2_8.support_pressure(area_factor=column(0.55), support_peak=column(1.4), pressure_mpa=column(4.0))
    assert pressure[0] == near(3.08)
    force = i2_17.patch_force(support_pressure_mpa=pressure, patch_height_m=column(0.7), patch_width_m=column(2.5))
    assert force[0] == near(5.39)


def test_force_of_the_patch_is_the_area_factor_times_the_design_force() -> None:
    # second way: Pavg b w is the design force itself (I2.3.4), so that the patch carries AF F inside a grillage
    _, loads = design(facts(), angles(), ())
    force = {patch.name: patch.force_mn for patch in loads.patches}
    bow = WEB_FRAMES_AND_STRINGERS.run(support(load_area="B", factor_area="B", part_of_grillage=True))
    side = WEB_FRAMES_AND_STRINGERS.run(support(part_of_grillage=True))
    assert bow["patch_force_mn"][0] == near(1.00 * force["bow"])
    assert side["patch_force_mn"][0] == near(0.55 * force["outside the bow"])  # Table 4, PC4, Mi


def test_stiffened_web_by_hand() -> None:
    # hand: c1 = 800 - 0.8 x 300 = 560; (560/400)^2 = 1.96; 2.63e-3 x 560 x sqrt(355/(5.34 + 7.84)) = 7.6436 mm
    depth = i2_9.unsupported_web_depth(web_height_mm=column(800.0), penetrating_height_mm=column([300.0, 0.0]))
    assert depth.tolist() == [560.0, 800.0]
    least = i2_9.stiffened_web_least(
        unsupported_web_depth_mm=depth[:1], web_stiffener_spacing_mm=column(400.0), yield_mpa=column(355.0)
    )
    assert least[0] == near(1.4728 * math.sqrt(355.0 / 13.18))
    assert least[0] == pytest.approx(7.6436, abs=1e-4)


@given(st.floats(0.2, 4.0), st.floats(235.0, 690.0))
def test_stiffened_web_is_a_multiple_of_shear_buckling(share: float, yield_mpa: float) -> None:
    # second way: a plate in shear buckles at k pi^2 E/(12 (1 - nu^2)) (t/c1)^2, k = 5.34 + 4 (c1/c2)^2 for c1 <= c2; at
    # the rule's thickness that stress is the same multiple, about 2.2, of the yield in shear for every shape and steel
    t = i2_9.stiffened_web_least(
        unsupported_web_depth_mm=column(500.0), web_stiffener_spacing_mm=column(500.0 / share),
        yield_mpa=column(yield_mpa),
    )  # fmt: skip
    k = 5.34 + 4.0 * share**2
    buckling = k * math.pi**2 * 206_000.0 / (12.0 * (1.0 - 0.3**2)) * (float(t[0]) / 500.0) ** 2
    assert buckling / (yield_mpa / math.sqrt(3.0)) == pytest.approx(2.23, abs=0.005)


@given(st.floats(100.0, 2000.0), st.floats(1.01, 3.0))
def test_stiffened_web_grows_with_depth_and_with_stiffener_spacing(spacing: float, more: float) -> None:
    def least(depth: float, apart: float) -> float:
        return float(
            i2_9.stiffened_web_least(
                unsupported_web_depth_mm=column(depth), web_stiffener_spacing_mm=column(apart), yield_mpa=column(355.0)
            )[0]
        )

    assert least(600.0 * more, spacing) > least(600.0, spacing)
    assert least(600.0, spacing * more) > least(600.0, spacing)


def test_a_slender_web_is_judged_by_its_stiffeners_and_only_then() -> None:
    # hand: limit 805/sqrt(355) = 42.7253 for a tee; 800/18.75 = 42.67 below it, 800/18.7 = 42.78 above it
    limit = 805.0 / math.sqrt(355.0)
    assert 800.0 / 18.75 < limit < 800.0 / 18.7
    below, above = ratios(web_net_mm=18.75), ratios(web_net_mm=18.7)
    assert below["web slenderness"] == near(800.0 / 18.75 / limit)
    assert below["stiffened web"] == 0.0
    assert above["web slenderness"] == 0.0
    assert above["stiffened web"] == near(1.4728 * math.sqrt(355.0 / 13.18) / 18.7)
    bare = ratios(web_net_mm=18.7, web_stiffener_spacing_mm=NAN)
    assert bare["web slenderness"] == near(800.0 / 18.7 / limit)
    assert bare["web slenderness"] > 1.0
    assert bare["stiffened web"] == 0.0


@pytest.mark.parametrize(("thickness", "met"), [(7.65, True), (7.64, False)])
def test_both_sides_of_the_stiffened_web(thickness: float, met: bool) -> None:
    found = ratios(web_net_mm=thickness)["stiffened web"]
    assert bool(is_met(np.array([found]))[0]) is met


def test_relying_on_stiffeners_needs_stiffeners_and_a_known_web() -> None:
    found = i2_9.relies_on_stiffeners(
        web_slenderness=column([43.0, 43.0, 42.0, NAN]), web_slenderness_limit=column(42.7),
        web_stiffener_spacing_mm=column([400.0, NAN, 400.0, 400.0]),
    )  # fmt: skip
    assert found.tolist() == [True, False, False, False]
    asked = i2_9.slenderness_asked(relies_on_stiffeners=found, web_slenderness=column([43.0, 43.0, 42.0, NAN]))
    assert asked[:3].tolist() == [0.0, 43.0, 42.0]
    assert np.isnan(asked[3])
    stiffened = i2_9.stiffened_web_asked(relies_on_stiffeners=found, stiffened_web_least_mm=column(7.6))
    assert stiffened.tolist() == [7.6, 0.0, 0.0, 0.0]


def test_web_beside_the_plate_and_flange_by_hand() -> None:
    # hand: 0.35 x 20 x sqrt(355/235) = 8.6037 mm beside 14; 5 x 14 = 70 of 200; 93 of 20 x 155/sqrt(355) = 164.53
    found = ratios()
    assert found["web thickness beside the plate"] == near(7.0 * math.sqrt(355.0 / 235.0) / 14.0)
    assert found["flange breadth"] == near(70.0 / 200.0)
    assert found["flange outstand"] == near(93.0 / (20.0 * 155.0 / math.sqrt(355.0)))


def test_what_is_not_given_is_never_met() -> None:
    found = ratios(web_net_mm=NAN, web_height_mm=NAN)
    assert math.isnan(found["web slenderness"])
    assert math.isnan(found["web thickness beside the plate"])
    assert math.isnan(found["shear stress of a calculation"])
    assert math.isnan(found["von Mises stress of a calculation"])
    assert not is_met(np.array([found["shear stress of a calculation"]]))[0]


@pytest.mark.parametrize(
    ("shear", "mises", "met"),
    [(204.9, 408.2, (True, True)), (205.0, 408.2, (False, True)), (204.9, 408.3, (True, False))],
)
def test_stresses_of_a_calculation(shear: float, mises: float, met: tuple[bool, bool]) -> None:
    # hand: 355/sqrt(3) = 204.96; 1.15 x 355 = 408.25
    assert i2_17.shear_limit(yield_mpa=column(355.0))[0] == pytest.approx(204.959, abs=1e-3)
    assert i2_17.von_mises_limit(yield_mpa=column(355.0))[0] == near(408.25)
    found = ratios(calculated_shear_mpa=shear, calculated_von_mises_mpa=mises)
    names = ("shear stress of a calculation", "von Mises stress of a calculation")
    assert tuple(found[name] <= 1.0 for name in names) == met


def test_direct_calculation_is_required_in_a_grillage() -> None:
    assert i2_17.direct_required(part_of_grillage=column([True, False])).tolist() == [True, False]


@pytest.mark.parametrize(
    ("web", "depth", "extent"), [(800.0, 300.0, 0.75), (800.0, 320.0, 0.8), (800.0, 400.0, 0.8), (500.0, 300.0, 0.5)]
)
def test_extent_of_plated_structures(web: float, depth: float, extent: float) -> None:
    # hand: the lesser of the web's height and 2.5 x depth; both are equal at a depth of 320
    found = i2_10.inboard_extent(adjacent_web_height_mm=column(web), framing_depth_mm=column(depth))
    assert found[0] == near(extent)


def test_load_on_the_edge_of_a_plated_structure() -> None:
    # hand: 0.55 x 4 x 0.7 = 1.54 MN/m; second way: times the patch width it is the force of the patch
    found = i2_10.edge_line_load(area_factor=column(0.55), pressure_mpa=column(4.0), patch_height_m=column(0.7))
    assert found[0] == near(1.54)
    _, loads = design(facts(), angles(), ())
    given = {**facts(), **loads.columns} | {
        "load_area": column("B"), "factor_area": column("B"), "adjacent_web_height_mm": column(800.0),
        "framing_depth_mm": column(300.0),
    }  # fmt: skip
    out = PLATED_STRUCTURES.run({name: given[name] for name in PLATED_STRUCTURES.chain.inputs})
    bow = next(patch for patch in loads.patches if patch.name == "bow")
    assert out["edge_line_load_mn_per_m"][0] * bow.width_m == near(bow.force_mn)
    assert out["inboard_extent_m"][0] == near(0.75)


def test_the_rule_set_offers_them() -> None:
    assert POLAR.supports is SUPPORTS
    assert POLAR.plated is PLATED_STRUCTURES
    assert POLAR.checklist == CHECKLIST
    assert {q.name for q in SHIP} >= {"ice_class", "icebreaker"}


def test_checklist_items_are_told_apart_and_say_what_they_ask() -> None:
    ids = [item.id for item in CHECKLIST]
    assert len(set(ids)) == len(ids) >= 15
    for item in CHECKLIST:
        assert item.id == item.id.lower()
        assert item.ref.startswith(("UR I1 I1.", "UR I2 I2."))
        assert len(item.requirement) > 30
        assert set(item.classes) <= set(POLAR.classes)
    clauses = {item.ref.split()[-1] for item in CHECKLIST}
    asked = {"I2.3.1(ix)", "I2.5.4", "I2.14", "I2.15", "I2.16.1", "I2.16.2", "I2.18.1", "I2.18.2", "I1.1.6", "I1.3"}
    assert asked <= clauses
