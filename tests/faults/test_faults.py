"""Every slip of the trade that touches this program, put in on purpose: it is refused, named, or cannot be made.

Each case has its control run, which must not raise the same sign. ``docs/faults.md`` is made from the same table.
"""

from __future__ import annotations

import numpy as np
import pytest
from tests.faults.catch import Fault, said
from tests.faults.slips import FAULTS, SLIPS

from beltwright.rules.polar_iacs_2019.i2_3_2_forces import bow_force, shape_factor_angles

NAMES = [f"{fault.slip}: {fault.injected}" for fault in FAULTS]


@pytest.mark.parametrize("fault", FAULTS, ids=NAMES)
def test_fault_is_met(fault: Fault) -> None:
    words = said(fault, injected=True)
    assert any(fault.sign in text for text in words), f"not met; the program said {words}"
    if fault.how == "refused":
        assert any(("Error" in text) or (" block: " in text) for text in words), f"named only: {words}"


@pytest.mark.parametrize("fault", FAULTS, ids=NAMES)
def test_control_is_quiet(fault: Fault) -> None:
    words = said(fault, injected=False)
    assert not any(fault.sign in text for text in words), f"false alarm: {words}"
    assert not any("Error" in text for text in words), f"the control run fails: {words}"


def test_every_slip_has_a_case_and_every_case_its_own_name() -> None:
    assert {fault.slip for fault in FAULTS} == set(SLIPS)
    assert len(set(NAMES)) == len(NAMES)


def test_radians_would_have_been_plausible() -> None:
    """No range check would see it: the first bow station of the PC4 demo form, L 95 m, D 9.669 kt, CFC 4.50.

    hand: fa = (0.097 - 0.68 (3.4/95 - 0.15)^2) 28 / sqrt(45.2) = 0.3670, F = 0.3670 * 4.50 * 9.669^0.64 = 7.06 MN;
    in radians fa falls by sqrt(57.2958) = 7.569 to 0.0485 and F to 0.93 MN, the force of a light ice class.
    """
    place = {"aft_of_stem_m": np.array([3.4]), "rule_length_m": np.array([95.0])}

    def force(alpha: float, beta_prime: float) -> float:
        shape = shape_factor_angles(**place, alpha_deg=np.array([alpha]), beta_prime_deg=np.array([beta_prime]))
        ship = {"crushing_factor": np.array([4.50]), "displacement_bow_kt": np.array([9.669])}
        return float(bow_force(shape_factor=shape, **ship)[0])

    right, wrong = force(28.0, 45.2), force(float(np.radians(28.0)), float(np.radians(45.2)))
    assert right == pytest.approx(7.06, abs=0.01)
    assert wrong == pytest.approx(0.93, abs=0.01)
    assert right / wrong == pytest.approx(np.sqrt(180.0 / np.pi))
