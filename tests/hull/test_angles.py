"""Hull angles: identities of the trade for any normal, and every case where an angle does not apply."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from beltwright.hull import angles as a
from beltwright.hull.angles import hull_angles

flare = st.floats(min_value=0.5, max_value=85.0)


def one(nx: float, ny: float, nz: float) -> a.HullAngles:
    """Return the angles of one normal, made unit."""
    n = np.array([[nx, ny, nz]])
    return hull_angles(n / np.linalg.norm(n))


@settings(max_examples=60, deadline=None)
@given(alpha=flare, beta_prime=flare)
def test_the_identities_between_the_four_angles_hold(alpha: float, beta_prime: float) -> None:
    # n = (cos b' sin a, cos b' cos a, -sin b') by the definitions of alpha and beta'
    ra, rb = np.radians(alpha), np.radians(beta_prime)
    found = one(np.cos(rb) * np.sin(ra), np.cos(rb) * np.cos(ra), -np.sin(rb))
    assert found.applicable.all()
    assert found.alpha_deg[0] == pytest.approx(alpha, abs=1e-9)
    assert found.beta_prime_deg[0] == pytest.approx(beta_prime, abs=1e-9)
    tan = {k: np.tan(np.radians(getattr(found, f"{k}_deg")[0])) for k in ("alpha", "beta", "beta_prime", "gamma")}
    assert tan["beta"] == pytest.approx(tan["alpha"] / tan["gamma"], rel=1e-9)
    assert tan["beta_prime"] == pytest.approx(tan["beta"] * np.cos(ra), rel=1e-9)


def test_a_hand_worked_normal() -> None:
    # hand: nx/ny = 0.5 -> 26.565; -nz/ny = 0.8333 -> 39.806; -nz = 0.5976 -> 36.699; -nx/nz = 0.6 -> 30.964
    found = one(0.3, 0.6, -0.5)
    assert found.alpha_deg[0] == pytest.approx(26.565, abs=5e-4)
    assert found.beta_deg[0] == pytest.approx(39.806, abs=5e-4)
    assert found.beta_prime_deg[0] == pytest.approx(36.699, abs=5e-4)
    assert found.gamma_deg[0] == pytest.approx(30.964, abs=5e-4)


def test_an_upright_stem_has_gamma_ninety_and_no_flare() -> None:
    found = one(0.5, 0.8, 0.0)
    assert found.applicable.all()
    assert found.gamma_deg[0] == pytest.approx(90.0)
    assert found.beta_deg[0] == found.beta_prime_deg[0] == 0.0


@pytest.mark.parametrize(
    ("normal", "reasons", "undefined"),
    [
        ((-0.3, 0.9, -0.2), {"alpha": a.AFT_BODY, "gamma": a.AFT_BODY}, set()),
        ((0.0, 0.9, -0.2), {"gamma": a.NO_BUTTOCK_SLOPE}, {"gamma"}),
        (
            (0.3, 0.9, 0.2),
            {"beta": a.TUMBLEHOME, "beta_prime": a.TUMBLEHOME, "gamma": a.TUMBLEHOME},
            set(),
        ),
        (
            (0.0, 0.0, -1.0),
            {"alpha": a.FLAT, "beta": a.FLAT, "beta_prime": a.FLAT, "gamma": a.FLAT},
            {"alpha", "beta", "gamma"},
        ),
        (
            (0.2, -0.9, -0.2),
            {"alpha": a.INWARD, "beta": a.INWARD, "beta_prime": a.INWARD, "gamma": a.INWARD},
            set(),
        ),
        ((1.0, 0.0, -0.3), {"beta": a.TRANSVERSE}, {"beta"}),
    ],
)
def test_each_case_that_does_not_apply_says_why(
    normal: tuple[float, float, float], reasons: dict[str, str], undefined: set[str]
) -> None:
    found = one(*normal)
    for name in ("alpha", "beta", "beta_prime", "gamma"):
        assert getattr(found, f"{name}_reason")[0] == reasons.get(name, ""), name
        assert np.isnan(getattr(found, f"{name}_deg")[0]) == (name in undefined), name
    assert not found.applicable[0]
    assert found.reason[0] in reasons.values()


def test_tumblehome_keeps_its_negative_angle_beside_the_reason() -> None:
    found = one(0.3, 0.9, 0.2)
    assert found.beta_deg[0] < 0.0
    assert found.beta_prime_deg[0] < 0.0


def test_no_normal_and_nan_never_look_like_an_angle() -> None:
    found = hull_angles(np.array([[0.0, 0.0, 0.0], [np.nan, 0.5, 0.5]]))
    for name in ("alpha", "beta", "beta_prime", "gamma"):
        assert np.isnan(getattr(found, f"{name}_deg")).all()
        assert (getattr(found, f"{name}_reason") == a.NO_NORMAL).all()
