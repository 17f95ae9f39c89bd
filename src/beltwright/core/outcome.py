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
        if np.isnan(self.required) or np.isnan(self.offered):
            return float("nan")
        if self.offered <= 0.0:
            return 0.0 if self.required <= 0.0 else float("inf")
        return self.required / self.offered

    @property
    def ok(self) -> bool:
        """True only where the requirement is met."""
        return bool(is_met(np.array([self.ratio]))[0])
