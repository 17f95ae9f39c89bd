"""Loads, plating and frames against a script that imports nothing of Beltwright and reads its own tables.

kind: second-method. Both were written from the same recollection of UR I2: this checks the coding, not the rule's text.
"""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest
from tests.rules.polar_iacs_2019.cases import CLASSES, POLAR, angles, facts, frame, panel
from tests.second_way import loads_and_plating as second

SHIPS = [(seed, ice_class) for seed, ice_class in enumerate((*CLASSES, *CLASSES))]


def random_ship(seed: int, ice_class: str) -> tuple[dict[str, Any], dict[str, Any], list[dict[str, float]], Any]:
    """A ship for both: facts and angles for the package, plain numbers for the script."""
    rng = np.random.default_rng(seed)
    extreme, displacement = rng.uniform(60.0, 250.0), float(10.0 ** rng.uniform(0.3, 2.4))
    rudder = extreme * rng.uniform(0.94, 0.99)
    vertical = ice_class in ("PC6", "PC7") and seed >= 7
    bulb = vertical and ice_class == "PC7"
    beta = rng.uniform(0.5, 9.5, 4) if vertical else np.r_[rng.uniform(10.5, 50.0), rng.uniform(3.0, 50.0, 3)]
    alpha = np.sort(rng.uniform(8.0, 40.0, 4))[::-1]
    ten = 0.25 * extreme
    ship = facts(
        ice_class=ice_class,
        displacement_upper_kt=displacement,
        waterline_extreme_length_m=extreme,
        stem_to_rudder_m=rudder,
        stem_to_ap_m=rudder,
        alpha_ten_aft_of_stem_m=ten,
        parallel_start_aft_of_stem_m=0.3 * extreme,
        parallel_end_forward_of_ap_m=0.3 * extreme,
        bulbous_bow=bulb,
        icebreaker=seed % 2 == 1,
        effective_protection=seed % 3 > 0,
    )
    x = [ten / 8.0, ten * 3.0 / 8.0, ten * 5.0 / 8.0, ten * 7.0 / 8.0]
    plain = {
        "ice_class": ice_class,
        "d": displacement,
        "stem_to_rudder": rudder,
        "extreme": extreme,
        "vertical": vertical,
        "bulb": bulb,
        "icebreaker": seed % 2 == 1,
        "protected": seed % 3 > 0,
    }
    bow = [{"x": xi, "alpha": float(a), "beta_prime": float(b)} for xi, a, b in zip(x, alpha, beta, strict=True)]
    return ship, plain, bow, (angles(x=x, alpha=alpha, beta_prime=beta), rng)


@pytest.mark.parametrize(("seed", "ice_class"), SHIPS)
def test_a_whole_ship_a_second_way(seed: int, ice_class: str) -> None:
    ship, plain, bow, (read, rng) = random_ship(seed, ice_class)
    areas = POLAR.areas(ship, ())
    loads = POLAR.loads(ship, areas, read, ())
    codes = [area.code for area in areas.areas if area.strengthened]
    n = 60
    where = rng.choice(codes, n)
    spacing, span = rng.uniform(0.25, 0.8, n), rng.uniform(0.9, 4.0, n)
    length, omega = rng.uniform(0.9, 4.0, n), rng.uniform(0.0, 90.0, n)
    yields = rng.choice([235.0, 315.0, 355.0, 390.0], n)
    ship_columns = dict(loads.columns)
    common = {
        "load_area": where, "factor_area": where, "spacing_m": spacing, "span_m": span, "omega_deg": omega,
        "yield_mpa": yields,
    }  # fmt: skip
    plates = POLAR.plating.run({**panel(**common, addition_area=where, support_distance_m=length), **ship_columns})
    web_h, web_t, phi = rng.uniform(150.0, 450.0, n), rng.uniform(8.0, 22.0, n), rng.uniform(40.0, 90.0, n)
    shell, web_spacing = rng.uniform(10.0, 40.0, n), rng.uniform(0.4, 4.0, n)
    flags = rng.random((3, n)) < 0.5
    given_frames = {
        **frame(
            **common,
            web_height_mm=web_h,
            web_net_mm=web_t,
            stiffener_height_mm=web_h + 19.0,
            flange_centre_height_mm=web_h + 9.5,
            flange_offset_mm=30.0,
            web_angle_deg=phi,
            plate_net_fitted_mm=shell,
            web_frame_spacing_m=web_spacing,
            load_distributing_stringer=flags[0],
            one_end_simply_supported=flags[1],
            end_brackets=flags[2],
        ),
        **{k: v for k, v in ship_columns.items() if k != "effective_protection"},
    }
    frames = POLAR.framing.run(given_frames)
    case = {
        "ship": plain,
        "bow": bow,
        "plates": [
            {
                "area": str(where[k]), "factor_area": str(where[k]), "addition_area": str(where[k]),
                "s": spacing[k], "a": span[k], "length": length[k], "omega": omega[k], "sy": yields[k],
            }
            for k in range(n)
        ],
        "frames": [
            {
                "area": str(where[k]), "factor_area": str(where[k]),
                "section": {
                    "hw": web_h[k], "tw": web_t[k], "h": web_h[k] + 19.0, "phi": phi[k], "tp": shell[k],
                    "s": spacing[k], "flange_area": 28.5, "flange_height": web_h[k] + 9.5, "flange_offset": 30.0,
                },
                "s": spacing[k], "a": span[k], "omega": omega[k], "sy": yields[k], "tp": shell[k],
                "flange_area": 28.5, "bf": 150.0, "tf": 19.0, "web_spacing": web_spacing[k],
                "stringers": bool(flags[0][k]), "simple": bool(flags[1][k]), "brackets": bool(flags[2][k]),
            }
            for k in range(n)
        ],
    }  # fmt: skip
    answer = second.work(case)
    for patch, name in zip(loads.patches, ("bow", "other"), strict=True):
        expected = answer["loads"][name]
        found = (patch.force_mn, patch.width_m, patch.height_m, patch.pressure_mpa)
        assert found == pytest.approx([expected[k] for k in ("force", "width", "height", "pressure")], rel=1e-11)
    for column, key in (
        ("thickness_net_mm", "net"),
        ("addition_mm", "addition"),
        ("thickness_required_mm", "required"),
    ):
        assert plates[column].tolist() == pytest.approx([row[key] for row in answer["plates"]], rel=1e-10)
    for column, key in (
        ("shear_area_net_cm2", "aw"),
        ("plastic_modulus_net_cm3", "zp"),
        ("shear_area_required_cm2", "aw_required"),
        ("plastic_modulus_required_cm3", "zp_required"),
    ):
        assert frames[column].tolist() == pytest.approx([row[key] for row in answer["frames"]], rel=1e-10)
    # what is asked of a frame's strength is all that hangs on the load: the rest is the same in still water
    light = {name: values * 1e-6 if name.endswith("pressure_mpa") else values for name, values in given_frames.items()}
    calm = POLAR.framing.run(light)
    loaded = [spec for spec in POLAR.framing.checks if not np.array_equal(calm[spec.required], frames[spec.required])]
    used = np.max([frames[spec.required] / frames[spec.offered] for spec in loaded], axis=0)
    assert used.tolist() == pytest.approx([row["used"] for row in answer["frames"]], rel=1e-10)


def test_the_script_knows_nothing_of_the_package() -> None:
    source = second.Path(second.__file__).read_text(encoding="utf-8")
    assert "beltwright." not in source
    assert "import numpy" not in source
