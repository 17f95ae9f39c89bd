"""What the rule set wants to know of the ship, measured on its hull: each fact with the place it was read at."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

import numpy as np
from numpy.typing import NDArray

from beltwright.core.errors import InputError
from beltwright.core.findings import Findings
from beltwright.core.outcome import NotApplicable
from beltwright.core.units import FloatArray
from beltwright.hull.angles import HullAngles
from beltwright.hull.patch import SplinePatch, TrianglePatch
from beltwright.hull.placing import PlacedHull
from beltwright.hull.shell import Shell
from beltwright.hull.stem import profile
from beltwright.hull.waterline import Waterline
from beltwright.rules.protocol import RuleSet
from beltwright.scantlings import codes
from beltwright.scantlings.design import HullMeasures, IceWaterline, StationAngles
from beltwright.scantlings.edition import check_edition
from beltwright.scantlings.waterlines import ice_waterlines
from beltwright.ship.loading import LoadingCase
from beltwright.ship.model import Ship

BOW_ANGLE_DEG = 10.0
SIDE_TOLERANCE_MM = 1.0
WANDERING_M = 0.5  # about a frame spacing
LARGE_ALLOWANCE = 0.05  # of the displacement; a shell and its appendages come to one or two hundredths
_IDENTITY = 1e-9
ShipFacts = tuple[dict[str, NDArray[Any]], dict[str, str]]


def shell_of(placed: PlacedHull) -> Shell:
    """Return the shell over the faces of a placed hull; one that mixes splines and meshes is an InputError."""
    splines = [patch for patch in placed.patches if isinstance(patch, SplinePatch)]
    meshes = [patch for patch in placed.patches if isinstance(patch, TrianglePatch)]
    if splines and meshes:
        raise InputError(placed.source, "mixes spline faces and meshes", allowed="one kind of surface in a file")
    if meshes:
        from beltwright.hull.mesh_shell import MeshShell

        return MeshShell(meshes)
    from beltwright.hull.spline_shell import SplineShell

    return SplineShell(splines)


def measure_hull(ship: Ship, cases: tuple[LoadingCase, ...], placed: PlacedHull, findings: Findings) -> HullMeasures:
    """Return the hull's waterlines, hydrostatics and profile; findings are added to ``findings``."""
    shell = shell_of(placed)
    findings.extend(getattr(shell, "findings", ()))
    upper, lower = ice_waterlines(ship, cases, shell)
    findings.extend(upper.curve.findings)
    findings.extend(lower.curve.findings)
    line = profile(shell)
    _check_propeller(ship, lower.level.height, findings)
    _check_allowance(ship, upper, findings)
    return HullMeasures(
        placed=placed, shell=shell, upper=upper, lower=lower, profile=line, stem=line.stem_point(upper.level)
    )


def _check_allowance(ship: Ship, upper: IceWaterline, findings: Findings) -> None:
    """Name an allowance for shell and appendages that is large for the ship: often kilograms written for tonnes."""
    allowance, whole = ship.water.shell_and_appendages_t, 1000.0 * upper.displacement_kt
    if allowance > LARGE_ALLOWANCE * whole:
        findings.add(
            codes.ALLOWANCE_LARGE, "ship.toml: water.shell_and_appendages_t",
            f"{allowance:.1f} t of a displacement of {whole:.0f} t",
        )  # fmt: skip


def _check_propeller(ship: Ship, height_at: Any, findings: Findings) -> None:
    """Name a propeller that is not submerged at the lower ice waterline."""
    x, top = ship.propulsion.propeller_x_m, ship.propulsion.propeller_top_m
    if x is None or top is None:
        findings.add(
            codes.PROPELLER_UNKNOWN, "ship.toml: propulsion", "propeller_x_m and propeller_top_m are not given"
        )
        return
    water = float(height_at(np.array([x]))[0])
    if top > water:
        findings.add(
            codes.PROPELLER_OUT, "ship.toml: propulsion.propeller_top_m",
            f"blade tips at {top:.3f} m, lower ice waterline at {water:.3f} m there",
        )  # fmt: skip


def ship_facts(ship: Ship, measures: HullMeasures, findings: Findings) -> ShipFacts:
    """Return the facts of the ship as length-1 columns in the vocabulary of the rule sets, and their origins."""
    curve, stem_x = measures.upper.curve, measures.stem_x_m
    crossing, finding = curve.alpha_crossing(BOW_ANGLE_DEG, ship.hull.stem_rounding_m)
    if finding is not None:
        findings.extend([finding])
    if isinstance(crossing, NotApplicable):
        raise InputError(
            "hull",
            f"the place where the waterline angle is {BOW_ANGLE_DEG:g} degrees cannot be found: {crossing.reason}",
        )
    side = curve.side_borders(SIDE_TOLERANCE_MM)
    _note_sensitivity(curve, findings)
    baseline_x = measures.profile.baseline_x()
    if isinstance(baseline_x, NotApplicable):
        findings.add(codes.STEM_ABOVE_BASELINE, "hull", f"{baseline_x.reason}; the whole bow length is allowed")
    told: dict[str, tuple[object, str]] = {
        "ice_class": (ship.ice.ice_class, "ship.toml: ice.ice_class"),
        "icebreaker": (ship.ice.icebreaker, "ship.toml: ice.icebreaker"),
        "operates_astern": (ship.ice.operates_astern, "ship.toml: ice.operates_astern"),
        "azimuthing_propulsion": (ship.propulsion.kind == "azimuthing units", "ship.toml: propulsion.kind"),
        "bulbous_bow": (ship.ice.bulbous_bow, "ship.toml: ice.bulbous_bow"),
        "effective_protection": (ship.effective_protection, "ship.toml: effective_protection"),
        "displacement_upper_kt": (
            measures.upper.displacement_kt,
            f"hull volume under the upper ice waterline, {measures.upper.displacement_from}, with shell and appendages",
        ),
        "waterline_extreme_length_m": (
            curve.extreme_length_m,
            f"upper ice waterline from x {curve.aft_end_x_m:.3f} m to x {stem_x:.3f} m",
        ),
        "stem_to_rudder_m": (
            stem_x - ship.propulsion.rudder_stock_x_m,
            f"stem at x {stem_x:.3f} m, {_end_of_length(ship)} at x {ship.propulsion.rudder_stock_x_m:.3f} m",
        ),
        "stem_to_ap_m": (stem_x, f"stem on the upper ice waterline at x {stem_x:.3f} m"),
        "alpha_ten_aft_of_stem_m": (
            stem_x - crossing.x_m,
            f"upper ice waterline at x {crossing.x_m:.3f} m, {crossing.count} such place(s)",
        ),
        "parallel_start_aft_of_stem_m": (
            stem_x - side.fore_x_m,
            f"half-breadth within {SIDE_TOLERANCE_MM:g} mm of its greatest from x {side.fore_x_m:.3f} m",
        ),
        "parallel_end_forward_of_ap_m": (
            max(side.aft_x_m, 0.0),
            f"half-breadth within {SIDE_TOLERANCE_MM:g} mm of its greatest to x {side.aft_x_m:.3f} m",
        ),
        "stem_baseline_aft_of_stem_m": (
            0.0 if isinstance(baseline_x, NotApplicable) else max(stem_x - baseline_x, 0.0),
            "the profile stays above the baseline"
            if isinstance(baseline_x, NotApplicable)
            else f"profile meets the baseline at x {baseline_x:.3f} m",
        ),
        "fp_forward_of_stem_m": _forward_perpendicular(ship, stem_x),
        "stem_angle_deg": (
            measures.stem.angle_deg,
            f"profile at x {measures.stem.x_m:.3f} m, z {measures.stem.z_m:.3f} m",
        ),
    }  # fmt: skip
    return {name: np.array([value]) for name, (value, _) in told.items()}, {
        name: text for name, (_, text) in told.items()
    }


def _forward_perpendicular(ship: Ship, stem_x_m: float) -> tuple[float, str]:
    """How far forward of the stem the forward perpendicular lies [m], and where that comes from."""
    length = ship.hull.length_between_perpendiculars_m
    if length is None:
        return 0.0, "taken at the fore side of the stem at the upper ice waterline"
    return length - stem_x_m, f"ship.toml: hull.length_between_perpendiculars_m {length:.3f} m"


def _note_sensitivity(curve: Waterline, findings: Findings) -> None:
    """Say how far the ends of the parallel side move with the tolerance at which they are read."""
    ends = curve.sensitivity()
    for end, places in (("fore", [e.fore_x_m for e in ends]), ("aft", [e.aft_x_m for e in ends])):
        if max(places) - min(places) > WANDERING_M:
            least, most = ends[0].tolerance_mm, ends[-1].tolerance_mm
            findings.add(
                codes.BORDER_SENSITIVE, f"{end} end of the parallel side",
                f"x {places[0]:.2f} m read within {least:g} mm, {places[-1]:.2f} m within {most:g} mm of the greatest "
                "half-breadth",
            )  # fmt: skip


def _end_of_length(ship: Ship) -> str:
    """What the rule length ends at."""
    return "steering axis" if ship.propulsion.kind == "azimuthing units" else "rudder stock"


def station_angles(measures: HullMeasures, aft_of_stem_m: FloatArray) -> StationAngles:
    """Return the hull angles on the upper ice waterline at stations (k,) aft of the stem [m]."""
    x = measures.stem_x_m - aft_of_stem_m
    _, places, _ = measures.upper.curve.places(x)
    return StationAngles(aft_of_stem_m=aft_of_stem_m, points=places.points, angles=measures.upper.curve.angles(x))


def angle_columns(stations: StationAngles) -> dict[str, FloatArray]:
    """Return station angles as columns of the vocabulary; NaN where an angle does not apply."""
    angles: HullAngles = stations.angles
    columns = {
        "aft_of_stem_m": stations.aft_of_stem_m,
        "alpha_deg": np.where(angles.alpha_reason == "", angles.alpha_deg, np.nan),
        "beta_deg": np.where(angles.beta_reason == "", angles.beta_deg, np.nan),
        "beta_prime_deg": np.where(angles.beta_prime_reason == "", angles.beta_prime_deg, np.nan),
        "gamma_deg": np.where(angles.gamma_reason == "", angles.gamma_deg, np.nan),
    }
    check_identities(columns)
    return columns


def check_identities(columns: Mapping[str, FloatArray]) -> None:
    """Refuse angles (k,) that cannot belong to one surface.

    tan beta = tan alpha / tan gamma and tan beta' = tan beta cos alpha hold at every place of every hull, so that
    radians, an angle from the horizontal, or beta in the place of beta' show here. Angles that do not apply (NaN) pass.
    """
    alpha, beta, normal, gamma = (
        np.radians(columns[f"{name}_deg"]) for name in ("alpha", "beta", "beta_prime", "gamma")
    )
    off = np.fmax(
        np.abs(np.tan(beta) * np.sin(gamma) - np.tan(alpha) * np.cos(gamma)),
        np.abs(np.tan(normal) - np.tan(beta) * np.cos(alpha)),
    ) / (1.0 + np.abs(np.tan(beta)))
    wrong = np.flatnonzero(off > _IDENTITY)
    if len(wrong):
        k = int(wrong[0])
        shown = ", ".join(f"{name} {float(columns[f'{name}_deg'][k]):.3f}" for name in ("alpha", "beta", "gamma"))
        raise InputError(
            f"hull angles {float(columns['aft_of_stem_m'][k]):.3f} m aft of the stem",
            "do not belong to one surface, where tan beta = tan alpha / tan gamma and tan beta' = tan beta cos alpha",
            value=f"{shown}, beta' {float(columns['beta_prime_deg'][k]):.3f}", unit="deg",
            allowed="degrees; beta and beta' from the vertical, gamma from the horizontal",
        )  # fmt: skip


def check_rule_class(rules: RuleSet, ship: Ship, findings: Findings) -> None:
    """Refuse a class that the rule set does not have; name an edition that does not apply to the contract date."""
    check_edition(rules, ship, findings)
    if ship.ice.ice_class not in rules.classes:
        raise InputError(
            "ship.toml: ice.ice_class", "is not a class of the rule set", value=ship.ice.ice_class,
            allowed=", ".join(rules.classes),
        )  # fmt: skip
