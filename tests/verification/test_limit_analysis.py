"""The frames' bending factors at vanishing shear against plastic mechanisms of a beam.

kind: second-method. A beam of one plastic moment fails by hinges at its fixed ends and one hinge in the span; every
place of that hinge is tried and the least load is the collapse load (upper bound theorem). No rule is used.
The rule puts the hinge at mid-span. That is exact for two fixed ends and for a narrow patch; with one end free to turn
and a load over the whole span the true hinge lies off the middle and the true collapse load is 2.9 % lower (11.657
instead of 12 M_p/a): a known deviation of the rule, not of the program.
"""

from __future__ import annotations

import numpy as np
import pytest

from beltwright.rules.polar_iacs_2019 import i2_5_framing as i2_5
from beltwright.rules.polar_iacs_2019 import i2_6_transverse_frames as i2_6
from beltwright.rules.polar_iacs_2019 import i2_7_longitudinal_frames as i2_7


def collapse_load(patch: float, fixed_ends: int, places: int = 4001) -> tuple[float, float]:
    """Least total load W a / M_p of a centred patch (share of the span), and where the span's hinge then lies.

    The beam has span 1 and deflects by 1 at the hinge ``x``: it turns by 1/x and 1/(1 - x). Work inside: the hinge in
    the span takes the sum of both turns, a fixed end its own. Work outside: the mean deflection under the patch.
    """
    x = np.linspace(0.0, 1.0, places)[1:-1]
    inside = 1.0 / x + 1.0 / (1.0 - x) + 1.0 / x + (1.0 / (1.0 - x) if fixed_ends == 2 else 0.0)
    at = 0.5 + patch * ((np.arange(400) + 0.5) / 400 - 0.5)
    under = np.where(at <= x[:, None], at / x[:, None], (1.0 - at) / (1.0 - x[:, None])).mean(axis=1)
    loads = inside / under
    best = int(np.argmin(loads))
    return float(loads[best]), float(x[best])


def needed_moment(patch: float, ends: float) -> float:
    """M_p / (W a) that the rule asks of a transverse frame without shear, from its own factors."""
    loaded, span = np.array([patch]), np.array([1.0])
    factor = i2_6.mid_span_factor(fixity=np.array([ends]), web_share=np.array([0.6]), shear_utilisation=np.array([0.0]))
    least = i2_6.bending_factor(
        mid_span_factor=factor,
        end_shear_factor=i2_6.end_shear_factor(
            shear_utilisation=np.array([1e-9]),
            span_factor=i2_6.span_factor(loaded_length_m=loaded, span_m=span),
            own_modulus_share=np.array([0.1]),
        ),
    )
    asked = i2_6.modulus_transverse(
        loaded_length_m=loaded,
        span_factor=i2_6.span_factor(loaded_length_m=loaded, span_m=span),
        spacing_m=span,
        area_factor=span,
        frame_peak_transverse=span,
        pressure_mpa=1.0 / loaded,  # so that the total load is 1 MN
        span_m=span,
        bending_factor=least,
        yield_mpa=np.array([355.0]),
    )
    return float(asked[0]) * 355.0 / 1e6


@pytest.mark.parametrize("patch", [0.001, 0.25, 0.5, 1.0])
def test_two_fixed_ends(patch: float) -> None:
    load, hinge = collapse_load(patch, 2)
    assert hinge == pytest.approx(0.5, abs=0.01)  # the least is flat there
    assert load == pytest.approx(8.0 / (1.0 - patch / 2.0), rel=1e-4)  # the textbook's value, 8 to 16
    assert needed_moment(patch, 2.0) == pytest.approx(1.0 / load, rel=1e-4)


def test_one_end_simply_supported_under_a_narrow_patch() -> None:
    load, hinge = collapse_load(0.001, 1)
    assert hinge == pytest.approx(0.5, abs=1e-3)
    assert load == pytest.approx(6.0, rel=1e-3)
    assert needed_moment(0.001, 1.0) == pytest.approx(1.0 / load, rel=1e-3)


def test_one_end_simply_supported_under_a_broad_patch_deviates_as_known() -> None:
    """The rule asks for less moment than the best mechanism needs: more the broader the patch, at most 2.9 %."""
    deviations = []
    for patch in (0.25, 0.5, 0.75, 1.0):
        load, hinge = collapse_load(patch, 1)
        assert hinge > 0.5  # away from the fixed end, which stands at 0
        deviations.append(1.0 - needed_moment(patch, 1.0) * load)
    assert deviations == sorted(deviations)
    assert deviations[0] > 0.0
    assert load == pytest.approx(6.0 + 4.0 * 2.0**0.5, rel=1e-4)  # 11.657, the propped beam of the textbooks
    assert deviations[-1] == pytest.approx(1.0 - (6.0 + 4.0 * 2.0**0.5) / 12.0, abs=1e-4)


def test_the_factors_themselves() -> None:
    """kind: hand. One half for two fixed ends, two thirds for one: W Y a/8 and W Y a/6 over W Y a/4."""
    none = np.zeros(2)
    factors = i2_6.mid_span_factor(fixity=np.array([2.0, 1.0]), web_share=none + 0.6, shear_utilisation=none)
    assert factors == pytest.approx([0.5, 2.0 / 3.0], rel=1e-15)
    assert factors[0] == pytest.approx(4.0 / collapse_load(0.001, 2)[0], rel=1e-3)
    assert factors[1] == pytest.approx(4.0 / collapse_load(0.001, 1)[0], rel=1e-3)


def test_a_longitudinal_under_load_over_its_whole_span() -> None:
    """A_4 = 1/2: M_p = w a^2 A_4/8 = W a/16, as the mechanism with two fixed ends and a patch over the span."""
    factor = i2_7.bending_factor_longitudinal(web_share=np.array([0.6]), shear_utilisation_longitudinal=np.array([0.0]))
    assert factor[0] == 0.5
    asked = i2_7.modulus_longitudinal(
        area_factor=np.ones(1),
        frame_peak_longitudinal=np.ones(1),
        pressure_mpa=np.array([2.0]),
        effective_load_height_m=np.array([0.5]),  # 1 MN/m on a span of 1 m: W = 1 MN
        span_m=np.ones(1),
        bending_factor_longitudinal=factor,
        yield_mpa=np.array([355.0]),
    )
    load, _ = collapse_load(1.0, 2)
    assert asked[0] * 355.0 / 1e6 == pytest.approx(1.0 / load, rel=1e-4)


@pytest.mark.parametrize("ends", [1, 2])
def test_shear_at_the_yield_of_the_web_leaves_the_flanges(ends: int) -> None:
    """At a_1 = 1 the web carries shear alone: the same mechanism with what the flange keeps of M_p in its ends.

    A_1A = 1/(1 + j/2 - k_w j/2): the hinge in the span keeps M_p (no shear there), each fixed end 1 - k_w of it.
    """
    flange, web = np.array([28.5]), np.array([71.82])
    share = i2_5.web_share(flange_area_cm2=flange, shear_area_net_cm2=web)
    factor = i2_6.mid_span_factor(fixity=np.array([float(ends)]), web_share=share, shear_utilisation=np.ones(1))
    kept = 1.0 - float(share[0])
    x = 0.5  # central narrow load
    inside = 1.0 / x + 1.0 / (1.0 - x) + kept * ends / x
    assert factor[0] == pytest.approx(4.0 / inside, rel=1e-12)
