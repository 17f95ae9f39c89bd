"""UR I2.11.4: the thickness below which steel is renewed, alone and in the chains of plates and frames."""

from __future__ import annotations

import numpy as np
import pytest
from tests.rules.polar_iacs_2019.cases import POLAR, frame, panel

from beltwright.rules.polar_iacs_2019 import i2_11_corrosion as i2_11


def test_renewal_thickness_by_hand() -> None:
    """kind: hand. Net 23.43 mm: 23.43 + 0.5 = 23.93 mm. Outside the formula no gauged thickness is enough."""
    found = i2_11.renewal_thickness(
        in_scope=np.array([True, True, False]), thickness_net_mm=np.array([23.43, 0.0, 23.43])
    )
    assert found[:2] == pytest.approx([23.93, 0.5], rel=1e-12)
    assert np.isinf(found[2])


def test_a_plate_is_renewed_half_a_millimetre_over_its_net_thickness() -> None:
    """kind: hand. The bow panel of ``cases``: s = 0.4, b = 0.8, p = 5, PPF = 1.8 - 0.4 = 1.4, AF = 1.

    t_net = 500 x 0.4 x (1.4 x 5/355)^0.5/(1 + 0.4/1.6) = 160 x (7/355)^0.5 = 22.4675 mm; t_s = 2.5 mm plays no part.
    """
    found = POLAR.plating.run(panel())
    net = 160.0 * (7.0 / 355.0) ** 0.5
    assert found["renewal_mm"][0] == pytest.approx(net + 0.5, rel=1e-12)
    assert found["renewal_mm"][0] == pytest.approx(22.9675, abs=5e-5)
    unprotected = POLAR.plating.run(panel(effective_protection=False))
    assert unprotected["renewal_mm"][0] == found["renewal_mm"][0]
    assert unprotected["thickness_required_mm"][0] == pytest.approx(found["thickness_required_mm"][0] + 2.5)


def test_a_plate_outside_the_formula_is_always_renewed() -> None:
    """A span of a quarter of the spacing has no net thickness (I2.4.2), so no gauged one suffices."""
    found = POLAR.plating.chain.run(panel(span_m=0.1, spacing_m=0.4))
    assert np.isinf(found["renewal_mm"][0])
    assert np.isinf(found["thickness_required_mm"][0])


def test_web_and_flange_of_a_frame() -> None:
    """kind: hand. Net web 18 and flange 19 mm of the checks (decision D21): 18.5 and 19.5 mm."""
    found = POLAR.framing.run(frame())
    assert (found["web_renewal_mm"][0], found["flange_renewal_mm"][0]) == (18.5, 19.5)
