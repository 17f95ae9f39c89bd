"""Which formula the bow takes, by I2.3.1(v) to (viii), and the reason in words."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

import numpy as np

from beltwright.core.chain import Columns
from beltwright.core.errors import ScopeError
from beltwright.core.findings import Finding
from beltwright.core.units import BoolArray, FloatArray
from beltwright.rules.polar_iacs_2019 import findings as found
from beltwright.rules.polar_iacs_2019 import i2_3_2_forces as force
from beltwright.rules.polar_iacs_2019.hull_areas import override_for
from beltwright.rules.polar_iacs_2019.i1_application import SHAPE_FOLLOWS_ANY_BOW
from beltwright.rules.polar_iacs_2019.load_chains import SUB_REGIONS
from beltwright.rules.protocol import Override

BOW_FORM_KEY: Final = "overrides.bow_form"
NO_RAMMING: Final = (
    "vertical-sided or bulbous bow: the certificate states that the ship does not ram intentionally "
    "(UR I1 I1.1.6, recalled)"
)


@dataclass(frozen=True, slots=True, kw_only=True)
class BowForm:
    """Which formula each sub-region takes, and why."""

    vertical: tuple[bool, ...]
    bulb: bool
    choices: tuple[str, ...]
    findings: tuple[Finding, ...]


def bow_form(facts: Columns, angles: Columns, overrides: tuple[Override, ...]) -> BowForm:
    """Choose the formula of each sub-region by I2.3.1(v) to (viii), with the reason in words."""
    ice_class = str(facts["ice_class"][0])
    stem: FloatArray = facts["stem_angle_deg"]
    beta: FloatArray = angles["beta_prime_deg"]
    alpha: FloatArray = angles["alpha_deg"]
    _check_alpha(alpha)
    standard = bool(force.standard_bow(stem_angle_deg=stem, foremost_beta_prime_deg=beta[:1])[0])
    bulb = bool(facts["bulbous_bow"][0])
    shown = f"stem angle {stem[0]:.1f} degrees, beta' at the foremost sub-region {beta[0]:.1f} degrees"
    any_bow = ice_class in SHAPE_FOLLOWS_ANY_BOW
    if any_bow and bulb:
        reason = (
            f"{ice_class} with a bulbous bow: formula for vertical sides at every sub-region, not less than the "
            "standard formula with fa = 0.6 and AR = 1.3 (I2.3.1(vii))"
        )
        return _vertical((True,) * SUB_REGIONS, reason, bulb=True)
    if standard and not bulb:
        _check_positive(beta)
        return BowForm(
            vertical=(False,) * SUB_REGIONS,
            bulb=False,
            choices=(f"standard bow formula: {shown}, within I2.3.1(v)",),
            findings=(),
        )
    vertical = force.vertical_side(beta_prime_deg=beta) & any_bow
    if any_bow and vertical.all():
        reason = (
            f"{ice_class}, {shown}, outside I2.3.1(v); beta' within 0 and 10 degrees at every sub-region: "
            "formula for vertical sides (I2.3.1(vi))"
        )
        return _vertical((True,) * SUB_REGIONS, reason, bulb=False)
    return _carried_past(ice_class, shown, vertical, beta, overrides, bulb=bulb)


def _carried_past(
    ice_class: str, shown: str, vertical: BoolArray, beta: FloatArray, overrides: tuple[Override, ...], *, bulb: bool
) -> BowForm:
    """A bow for which the society considers the forces: only with a written reason, and only where a formula exists."""
    what = f"{ice_class}{' with a bulbous bow' if bulb else ''}, {shown}"
    written = override_for(BOW_FORM_KEY, overrides)
    if written is None:
        raise ScopeError(
            "bow form", f"{what}: not covered by I2.3.1(v) to (vii)", ref="UR I2 I2.3.1(viii)", override=BOW_FORM_KEY
        )
    _check_positive(np.where(vertical, 90.0, beta))
    which = ", ".join("vertical-sided" if v else "standard" for v in vertical)
    reason = f"{what}: outside I2.3.1(v) to (vii), carried on by the written reason; formula by sub-region: {which}"
    told = Finding(kind=found.OVERRIDDEN, where=BOW_FORM_KEY, message=f"{what}; reason: {written.reason}")
    if vertical.any():
        limited = Finding(kind=found.VERTICAL_BOW, where="bow", message=f"formula by sub-region: {which}")
        return BowForm(vertical=tuple(map(bool, vertical)), bulb=False, choices=(reason, NO_RAMMING),
                       findings=(told, limited))  # fmt: skip
    return BowForm(vertical=tuple(map(bool, vertical)), bulb=False, choices=(reason,), findings=(told,))


def _vertical(vertical: tuple[bool, ...], reason: str, *, bulb: bool) -> BowForm:
    """A vertical-sided or bulbous bow of PC6 or PC7."""
    return BowForm(
        vertical=vertical,
        bulb=bulb,
        choices=(reason, NO_RAMMING),
        findings=(Finding(kind=found.VERTICAL_BOW, where="bow", message=reason),),
    )


def _check_alpha(alpha: FloatArray) -> None:
    """Both formulas need a waterline angle between 0 and 90 degrees."""
    _check_angles("alpha", alpha, (alpha > 0.0) & (alpha <= 90.0), "above 0 up to 90")


def _check_positive(beta: FloatArray) -> None:
    """The standard formula needs a positive normal frame angle."""
    _check_angles("beta'", beta, (beta > 0.0) & (beta <= 90.0), "above 0 up to 90 for the standard formula")


def _check_angles(name: str, values: FloatArray, inside: BoolArray, needed: str) -> None:
    """Raise ScopeError for the first sub-region whose angle no formula covers; NaN is an angle that does not apply."""
    if inside.all():
        return
    n = int(np.flatnonzero(~inside)[0])
    shown = "does not apply" if np.isnan(values[n]) else f"is {values[n]:.2f} degrees"
    raise ScopeError(f"bow sub-region {n + 1}", f"{name} {shown}; the formula needs {needed}", ref="UR I2 I2.3.1(viii)")
