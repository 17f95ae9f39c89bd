"""Hull angles from the outward normal, each with the reason where the ice formulas cannot use it."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from beltwright.core.units import BoolArray, Degrees, FloatArray, Label

AFT_BODY = "aft body: the shell faces aft"
INWARD = "the shell faces the centreline"
FLAT = "flat bottom or deck: the normal is vertical"
NO_BUTTOCK_SLOPE = "waterline parallel to the centreline: no buttock angle"
TUMBLEHOME = "tumblehome: the frame leans inboard above"
TRANSVERSE = "transverse face: no frame angle"
NO_NORMAL = "the surface has no normal here"

_ZERO = 1e-9  # a component of the unit normal this small is zero


@dataclass(frozen=True, slots=True, kw_only=True)
class HullAngles:
    """Hull angles at n places, in degrees, and for each the reason why it is not applicable ("" where it is).

    alpha is the waterline angle from the centreline, beta the frame angle from vertical in the transverse plane,
    beta' the normal frame angle, gamma the buttock angle from horizontal. Where an angle is geometrically defined but
    outside the ice formulas (tumblehome, aft body) its signed value is kept beside the reason; where it is undefined
    the value is NaN and the reason is never empty.
    """

    alpha_deg: Degrees
    beta_deg: Degrees
    beta_prime_deg: Degrees
    gamma_deg: Degrees
    alpha_reason: Label
    beta_reason: Label
    beta_prime_reason: Label
    gamma_reason: Label

    @property
    def reason(self) -> Label:
        """The first reason that stands against any of the four angles, "" where all apply."""
        found = self.alpha_reason
        for other in (self.beta_reason, self.beta_prime_reason, self.gamma_reason):
            found = np.where(found == "", other, found)
        return found

    @property
    def applicable(self) -> BoolArray:
        """Where all four angles apply."""
        answer: BoolArray = self.reason == ""
        return answer


def hull_angles(normals: FloatArray) -> HullAngles:
    """Return the hull angles of unit outward normals (n, 3) of the port side.

    tan alpha = nx/ny, tan beta = -nz/ny, sin beta' = -nz, tan gamma = -nx/nz (own derivation from the definitions).

    >>> a = hull_angles(np.array([[0.3, 0.6, -0.5]]) / np.sqrt(0.7))
    >>> round(float(a.alpha_deg[0]), 3), round(float(a.beta_deg[0]), 3), round(float(a.gamma_deg[0]), 3)
    (26.565, 39.806, 30.964)
    """
    nx, ny, nz = np.asarray(normals, dtype=np.float64).reshape(-1, 3).T
    plan = np.hypot(nx, ny)
    none = ~(plan + np.abs(nz) > _ZERO)  # also catches NaN
    flat = ~none & (plan <= _ZERO)
    inward = ~none & ~flat & (ny < -_ZERO)
    aft = ~none & ~flat & (nx < -_ZERO)
    alpha = np.degrees(np.arctan2(nx, ny))
    beta = np.degrees(np.arctan2(-nz, ny))
    beta_prime = np.degrees(np.arctan2(-nz, plan))
    gamma = np.degrees(np.arctan2(nx, -nz))
    tumble = ~none & ~flat & (nz > _ZERO)
    parallel = ~none & ~flat & (np.abs(nx) <= _ZERO)
    alpha[none | flat] = np.nan
    beta[none | flat | (np.abs(ny) <= _ZERO)] = np.nan
    beta_prime[none] = np.nan
    gamma[none | flat | parallel] = np.nan
    edge_on = ~none & ~flat & (np.abs(ny) <= _ZERO)
    common = [(none, NO_NORMAL), (flat, FLAT), (inward, INWARD)]
    return HullAngles(
        alpha_deg=alpha,
        beta_deg=beta,
        beta_prime_deg=beta_prime,
        gamma_deg=gamma,
        alpha_reason=_reasons(*common, (aft, AFT_BODY)),
        beta_reason=_reasons(*common, (edge_on, TRANSVERSE), (tumble, TUMBLEHOME)),
        beta_prime_reason=_reasons(*common, (tumble, TUMBLEHOME)),
        gamma_reason=_reasons(*common, (aft, AFT_BODY), (parallel, NO_BUTTOCK_SLOPE), (tumble, TUMBLEHOME)),
    )


def _reasons(*cases: tuple[BoolArray, str]) -> Label:
    """Return for each place the text of the first case that holds, or an empty text."""
    chosen: Label = np.select([mask for mask, _ in cases], [text for _, text in cases], default="")
    return chosen
