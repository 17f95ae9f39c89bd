"""Columns for the tests: one ship, its bow angles, one panel and one frame, each changeable by name."""

from __future__ import annotations

from typing import Any

import numpy as np

from beltwright.rules.polar_iacs_2019.ruleset import RULE_SET as POLAR
from beltwright.rules.protocol import DesignLoads, HullAreas, Override

CLASSES = ("PC1", "PC2", "PC3", "PC4", "PC5", "PC6", "PC7")
AREAS = ("B", "BIi", "BIl", "BIb", "Mi", "Ml", "Mb", "Si", "Sl", "Sb")


def column(value: Any) -> np.ndarray:
    """One value, or several, as a column."""
    return np.atleast_1d(np.asarray(value))


def facts(**changed: Any) -> dict[str, np.ndarray]:
    """The facts of a PC4 ship of 120 m and 14 kt."""
    given = {
        "ice_class": "PC4",
        "icebreaker": False,
        "operates_astern": False,
        "azimuthing_propulsion": False,
        "bulbous_bow": False,
        "effective_protection": True,
        "displacement_upper_kt": 14.0,
        "waterline_extreme_length_m": 124.0,
        "stem_to_rudder_m": 120.0,
        "stem_to_ap_m": 118.0,
        "alpha_ten_aft_of_stem_m": 24.0,
        "parallel_start_aft_of_stem_m": 32.0,
        "parallel_end_forward_of_ap_m": 40.0,
        "stem_baseline_aft_of_stem_m": 8.0,
        "stem_angle_deg": 30.0,
    }
    assert set(changed) <= set(given)
    return {name: column(value) for name, value in {**given, **changed}.items()}


def angles(
    x: Any = (3.0, 9.0, 15.0, 21.0),
    alpha: Any = (30.0, 27.0, 22.0, 15.0),
    beta_prime: Any = (40.0, 34.0, 26.0, 14.0),
) -> dict[str, np.ndarray]:
    """Angles at the four sub-regions; beta' is given, the others that no clause reads stay unknown."""
    unknown = np.full(4, np.nan)
    return {
        "aft_of_stem_m": np.array(x, dtype=float),
        "alpha_deg": np.array(alpha, dtype=float),
        "beta_prime_deg": np.array(beta_prime, dtype=float),
        "beta_deg": unknown,
        "gamma_deg": unknown,
    }


def design(
    ship: dict[str, np.ndarray] | None = None,
    bow: dict[str, np.ndarray] | None = None,
    overrides: tuple[Override, ...] = (),
) -> tuple[HullAreas, DesignLoads]:
    """Areas and loads of a ship."""
    ship, bow = ship or facts(), bow or angles()
    areas = POLAR.areas(ship, overrides)
    return areas, POLAR.loads(ship, areas, bow, overrides)


def loads(**changed: Any) -> dict[str, np.ndarray]:
    """The load columns of the members, plain numbers: bow 0.8 m x 2.4 m, 5 MPa; elsewhere 0.7 m x 2.5 m, 4 MPa."""
    given = {
        "ice_class": "PC4",
        "icebreaker": False,
        "effective_protection": True,
        "bow_patch_height_m": 0.8,
        "bow_patch_width_m": 2.4,
        "bow_pressure_mpa": 5.0,
        "other_patch_height_m": 0.7,
        "other_patch_width_m": 2.5,
        "other_pressure_mpa": 4.0,
    }
    return {name: column(changed.pop(name, value)) for name, value in given.items()}


def panel(**changed: Any) -> dict[str, np.ndarray]:
    """A transversely framed bow panel, with the load columns."""
    given = {
        "load_area": "B",
        "factor_area": "B",
        "addition_area": "B",
        "spacing_m": 0.4,
        "span_m": 2.4,
        "support_distance_m": 2.5,
        "stringer_to_support_m": 1.5,
        "omega_deg": 90.0,
        "yield_mpa": 355.0,
        "load_distributing_stringer": False,
    }
    ship = {name: changed[name] for name in loads() if name in changed}
    assert set(changed) <= {*given, *ship}
    own = {name: column(changed.get(name, value)) for name, value in given.items()}
    return {**loads(**ship), **own}


def frame(**changed: Any) -> dict[str, np.ndarray]:
    """A transverse bow frame, tee 380 x 18 with flange 150 x 19 net, with the load columns."""
    given = {
        "load_area": "B",
        "factor_area": "B",
        "spacing_m": 0.4,
        "span_m": 2.4,
        "omega_deg": 90.0,
        "yield_mpa": 355.0,
        "plate_yield_mpa": 355.0,
        "load_distributing_stringer": False,
        "web_frame_spacing_m": 2.4,
        "one_end_simply_supported": False,
        "end_brackets": False,
        "web_angle_deg": 90.0,
        "plate_net_fitted_mm": 26.5,
        "web_height_mm": 380.0,
        "web_net_mm": 18.0,
        "stiffener_height_mm": 399.0,
        "flange_breadth_mm": 150.0,
        "flange_net_mm": 19.0,
        "flange_area_cm2": 28.5,
        "flange_centre_height_mm": 389.5,
        "flange_offset_mm": 0.0,
        "flange_outstand_mm": 66.0,
        "section_kind": "tee",
        "both_in_full": False,
    }
    ship = {name: changed[name] for name in loads() if name in changed}
    assert set(changed) <= {*given, *ship}
    own = {name: column(changed.get(name, value)) for name, value in given.items()}
    return {**loads(**ship), **own}
