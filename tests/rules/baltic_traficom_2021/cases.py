"""Columns for the tests: one ship, its engine output, one member of each kind, each changeable by name."""

from __future__ import annotations

from typing import Any

import numpy as np

from beltwright.rules.baltic_traficom_2021.ruleset import BalticRuleSet

BALTIC = BalticRuleSet()
CLASSES = ("IA Super", "IA", "IB", "IC")
REGIONS = ("Bow", "Midbody", "Stern")


def column(value: Any) -> np.ndarray:
    """One value, or several, as a column."""
    return np.atleast_1d(np.asarray(value))


def _columns(given: dict[str, Any], changed: dict[str, Any]) -> dict[str, np.ndarray]:
    assert set(changed) <= set(given), set(changed) - set(given)
    return {name: column(value) for name, value in {**given, **changed}.items()}


def facts(**changed: Any) -> dict[str, np.ndarray]:
    """The facts of an IA ship of 120 m, 12 000 t and 6000 kW; the parallel side is longer at the higher waterline."""
    return _columns(
        {
            "ice_class": "IA",
            "bulbous_bow": False,
            "azimuthing_propulsion": False,
            "waterline_extreme_length_m": 124.0,
            "class_rule_length_m": 120.0,
            "displacement_upper_t": 12000.0,
            "engine_power_kw": 6000.0,
            "service_speed_kn": 15.0,
            "fore_perpendicular_aft_of_stem_m": 0.5,
            "keel_departure_aft_of_stem_m": 6.0,
            "main_frame_spacing_m": 0.7,
            "floor_top_height_m": 1.6,
            "approved_abrasion_mm": 2.0,
            "forward_draught_lower_m": 4.5,
            "propeller_clearance_m": 1.2,
            "waterline_height_m": (4.0, 8.0),
            "side_start_aft_of_stem_m": (40.0, 34.0),
            "side_end_aft_of_stem_m": (80.0, 84.0),
            "power_basis": "3.2.2",
            "propeller_count": "1",
            "drive": "controllable pitch",
            "propeller_diameter_m": 5.0,
            "perpendicular_length_m": 150.0,
            "breadth_m": 25.0,
            "draught_m": (9.0, 7.0),
            "bow_length_m": (45.0, 44.0),
            "parallel_length_m": (70.0, 68.0),
            "bow_waterline_area_m2": (500.0, 480.0),
            "waterline_angle_quarter_deg": (24.0, 23.0),
            "stem_rake_deg": (60.0, 60.0),
            "bow_rake_quarter_deg": (30.0, 31.0),
        },
        changed,
    )


# k = sqrt(12000 x 6000)/1000 = 8.48528: c_d = (30 k + 230)/1000 in the bow, (8 k + 214)/1000 elsewhere
K = (12000.0 * 6000.0) ** 0.5 / 1000.0
BOW, OTHER = (30.0 * K + 230.0) / 1000.0, (8.0 * K + 214.0) / 1000.0
CP = {"Bow": 1.0, "Midbody": 0.85, "Stern": 0.65}  # IA
P1 = {region: (BOW if region == "Bow" else OTHER) * CP[region] * 5.6 for region in REGIONS}  # c_a = 1
AREA = {"Bow": "B", "Midbody": "M", "Stern": "S"}


def loads(**changed: Any) -> dict[str, np.ndarray]:
    """The load columns of the IA ship of 12 000 t and 6000 kW."""
    return _columns(
        {
            "ice_class": "IA",
            "bow_size_factor": BOW,
            "other_size_factor": OTHER,
            "abrasion_addition_mm": 2.0,
            "approved_abrasion_mm": 2.0,
            "boundary_longitudinal": 13.3,
            "web_least_line_load_mn_per_m": 0.15,
            "tripping_distance_most_m": 1.3,
            "floor_spacing_most_m": 0.6,
            "ends_held": False,
        },
        changed,
    )


def _member(given: dict[str, Any], changed: dict[str, Any]) -> dict[str, np.ndarray]:
    ship = {name: changed.pop(name) for name in loads() if name in changed}
    return {**loads(**ship), **_columns(given, changed)}


def panel(**changed: Any) -> dict[str, np.ndarray]:
    """A transversely framed panel in the bow."""
    return _member(
        {
            "load_area": "B",
            "spacing_m": 0.4,
            "omega_deg": 90.0,
            "yield_mpa": 355.0,
            "waterline_angle_deg": 20.0,
            "flare_angle_deg": 60.0,
        },
        changed,
    )


def frame(**changed: Any) -> dict[str, np.ndarray]:
    """A transverse frame in the bow, a tee."""
    return _member(
        {
            "load_area": "B",
            "spacing_m": 0.4,
            "span_m": 2.4,
            "omega_deg": 90.0,
            "yield_mpa": 355.0,
            "waterline_angle_deg": 20.0,
            "flare_angle_deg": 60.0,
            "boundary": "tank top to one deck",
            "agreed_boundary": 0.0,
            "strengthened_share": 1.0,
            "end_brackets": True,
            "web_angle_deg": 90.0,
            "web_height_mm": 250.0,
            "web_thickness_mm": 11.0,
            "section_kind": "tee",
            "section_modulus_cm3": 500.0,
            "shear_area_cm2": 25.0,
            "tripping_support_m": 2.4,
        },
        changed,
    )


def stringer(**changed: Any) -> dict[str, np.ndarray]:
    """A stringer in the ice belt of the bow."""
    return _member(
        {
            "load_area": "B",
            "member": "stringer or web frame",
            "span_m": 3.2,
            "yield_mpa": 355.0,
            "in_belt": True,
            "belt_distance_m": 0.0,
            "stringer_distance_m": 2.0,
            "agreed_boundary": 0.0,
            "section_modulus_cm3": 1300.0,
            "shear_area_cm2": 60.0,
        },
        changed,
    )


def web(**changed: Any) -> dict[str, np.ndarray]:
    """A web frame in the bow."""
    return _member(
        {
            "load_area": "B",
            "web_frame_spacing_m": 3.2,
            "span_m": 6.0,
            "yield_mpa": 355.0,
            "in_belt": True,
            "belt_distance_m": 0.0,
            "stringer_distance_m": 2.0,
            "shear_share": 1.0,
            "free_flange_area_cm2": 40.0,
            "web_area_cm2": 100.0,
            "section_modulus_cm3": 7000.0,
        },
        changed,
    )


def stem(**changed: Any) -> dict[str, np.ndarray]:
    """A stem of shaped plates."""
    return _member(
        {
            "load_area": "B",
            "spacing_m": 0.5,
            "vertical_support_spacing_m": 0.9,
            "yield_mpa": 355.0,
            "plate_fitted_mm": 30.0,
            "floor_spacing_m": 0.6,
            "floor_thickness_mm": 15.0,
            "stem_top_above_upper_m": 0.75,
            "upper_belt_above_upper_m": 0.0,
        },
        changed,
    )
