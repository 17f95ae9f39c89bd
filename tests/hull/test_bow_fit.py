"""The bow exponent against waterlines whose exponent is known, and what the fit says of itself."""

from __future__ import annotations

import numpy as np
import pytest

from beltwright.hull.bow_fit import LARGEST_EXPONENT, BowFit, fit_bow, fit_half_breadths, stem_waterline_angle_deg

X = (np.arange(200) + 0.5) / 200 * 24.0


class Line:
    """A waterline given by a formula: what :func:`fit_bow` asks of one."""

    def __init__(self, exponent: float, *, flat: float = 0.0) -> None:
        self.exponent, self.flat = exponent, flat
        self.stem_x_m, self.greatest_half_breadth_m = 100.0, 9.0

    def side_borders(self, tolerance_mm: float) -> object:
        """The place where the half-breadth comes within the tolerance of its greatest, exactly."""
        share = (1.0 - tolerance_mm / 9000.0) ** (1.0 / self.exponent)

        class Ends:
            fore_x_m = 100.0 - 24.0 * share

        return Ends()

    def half_breadth(self, x: np.ndarray) -> np.ndarray:
        return 9.0 * ((100.0 - x) / 24.0) ** self.exponent


@pytest.mark.parametrize("exponent", [0.3, 0.5, 0.75, 1.0, 1.5])
def test_powers_are_found_again(exponent: float) -> None:
    exact = fit_half_breadths(X, 9.0 * (X / 24.0) ** exponent, length_m=24.0, breadth_m=18.0)
    assert exact.exponent == pytest.approx(exponent, abs=1e-6)
    assert exact.rms_m < 1e-6
    assert not exact.at_limit
    # read as from a hull, with the bow's end within 1 mm of the greatest half-breadth
    assert fit_bow(Line(exponent)).exponent == pytest.approx(exponent, abs=1e-3)  # type: ignore[arg-type]


def test_a_square_bow_and_a_hollow_one_stop_at_the_ends_of_the_range() -> None:
    square = fit_half_breadths(X, np.full(200, 9.0), length_m=24.0, breadth_m=18.0)
    assert square.exponent == pytest.approx(0.0, abs=1e-6)
    assert square.at_limit
    hollow = fit_half_breadths(X, 9.0 * (X / 24.0) ** 4.0, length_m=24.0, breadth_m=18.0)
    assert hollow.exponent == pytest.approx(LARGEST_EXPONENT, abs=1e-6)
    assert hollow.at_limit


def wedge_then_parallel() -> BowFit:
    """A wedge over half the length with a parallel side behind it: no power fits it well."""
    return fit_half_breadths(X, np.minimum(9.0 * X / 12.0, 9.0), length_m=24.0, breadth_m=18.0)


def test_the_misfit_is_told() -> None:
    fit = wedge_then_parallel()
    off = fit.fitted_m(X) - np.minimum(9.0 * X / 12.0, 9.0)
    assert fit.rms_m == pytest.approx(float(np.sqrt(np.mean(off**2))), rel=1e-9)
    worst = int(np.argmax(np.abs(off)))
    assert (fit.worst_m, fit.worst_at_m) == pytest.approx((off[worst], X[worst]))


def test_no_exponent_of_a_fine_grid_fits_better() -> None:
    fit, y = wedge_then_parallel(), np.minimum(9.0 * X / 12.0, 9.0)
    tried = [float(np.sum((9.0 * (X / 24.0) ** e - y) ** 2)) for e in np.linspace(0.0, 2.0, 4001)]
    assert 200.0 * fit.rms_m**2 <= min(tried) + 1e-9


class Outline:
    """Points and normals of an outline: a rounded stem, then a wedge of 30 degrees."""

    stem_x_m = 100.0
    points = np.array([(100.0, 0.0, 5.0), (99.8, 0.4, 5.0), (95.0, 3.2, 5.0)])
    normals = np.array([(1.0, 0.0, 0.0), (0.5, np.sqrt(0.75), 0.0), (0.5, np.sqrt(0.75), 0.0)])


def test_stem_angle_is_read_outside_the_rounding() -> None:
    outline: object = Outline()
    assert stem_waterline_angle_deg(outline) == pytest.approx(90.0)  # type: ignore[arg-type]
    assert stem_waterline_angle_deg(outline, 0.1) == pytest.approx(30.0)  # type: ignore[arg-type]
    assert np.isnan(stem_waterline_angle_deg(outline, 20.0))  # type: ignore[arg-type]
