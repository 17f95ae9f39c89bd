"""The hull measured: waterlines, hydrostatics, profile, and the hull angles at the rule set's stations."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

import numpy as np

from beltwright.core.errors import InputError
from beltwright.core.findings import Findings
from beltwright.core.units import FloatArray
from beltwright.hull.angles import HullAngles
from beltwright.hull.patch import SplinePatch, TrianglePatch
from beltwright.hull.placing import PlacedHull
from beltwright.hull.shell import Shell
from beltwright.hull.stem import profile
from beltwright.rules.protocol import RuleSet
from beltwright.scantlings import codes
from beltwright.scantlings.design import HullMeasures, IceWaterline, StationAngles
from beltwright.scantlings.edition import check_edition
from beltwright.scantlings.waterlines import ice_waterlines
from beltwright.ship.loading import LoadingCase
from beltwright.ship.model import Ship

LARGE_ALLOWANCE = 0.05  # of the displacement; a shell and its appendages come to one or two hundredths
_IDENTITY = 1e-9


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


def measure_hull(
    ship: Ship, cases: tuple[LoadingCase, ...], placed: PlacedHull, findings: Findings, *, shell: Shell | None = None
) -> HullMeasures:
    """Return the hull's waterlines, hydrostatics and profile; findings are added to ``findings``.

    ``shell`` is the shell of ``placed``, where it has been made before.
    """
    if shell is None:
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
