"""Outcomes that are values, not errors: a clause that does not apply, and a requirement checked."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from beltwright.core.units import BoolArray, FloatArray


@dataclass(frozen=True, slots=True)
class NotApplicable:
    """A clause or quantity that does not apply here, with the reason and the clause that says so."""

    reason: str
    ref: str = ""

    def __str__(self) -> str:
        return f"not applicable: {self.reason}" + (f" ({self.ref})" if self.ref else "")


def is_met(ratio: FloatArray) -> BoolArray:
    """Return where a utilisation ratio is met: ``ratio <= 1``. NaN is never met. The only place that says so."""
    met: BoolArray = np.asarray(ratio) <= 1.0
    return met


def at_ratio(ratio: float) -> str:
    """Return a ratio in words, such as "at 1.063"; one that is not known or not finite is said, not numbered."""
    if np.isnan(ratio):
        return "at an unknown ratio"
    return f"at {ratio:.3f}" if np.isfinite(ratio) else "at no finite ratio"


def utilisation(required: FloatArray, offered: FloatArray) -> FloatArray:
    """Return required over offered (n,): infinite where nothing is offered, 0 where nothing is required, NaN kept."""
    need, have = np.broadcast_arrays(np.asarray(required, dtype=np.float64), np.asarray(offered, dtype=np.float64))
    with np.errstate(divide="ignore", invalid="ignore"):
        ratio = np.where(have > 0.0, need / have, np.where(need > 0.0, np.inf, 0.0))
        ratio = np.where((need <= 0.0) & (have > 0.0), 0.0, ratio)
    known: FloatArray = np.where(np.isnan(need) | np.isnan(have) | (np.isinf(need) & np.isinf(have)), np.nan, ratio)
    return known


@dataclass(frozen=True, slots=True, kw_only=True)
class Check:
    """One requirement against what is offered, both in ``unit``; ``ratio`` is required over offered."""

    name: str
    ref: str
    required: float
    offered: float
    unit: str

    @property
    def ratio(self) -> float:
        """Required over offered; infinite where nothing is offered, NaN where either is NaN."""
        return float(utilisation(np.array([self.required]), np.array([self.offered]))[0])

    @property
    def ok(self) -> bool:
        """True only where the requirement is met."""
        return bool(is_met(np.array([self.ratio]))[0])
