"""Bow angles turned by hand: the hull's own values give the design, the others follow the surface and the rule."""

from __future__ import annotations

import math

import numpy as np
import pytest
from tests.scantlings.demo import project

from beltwright.app.bow_angles import AngleStudy, angle_study, turned
from beltwright.core.errors import InputError


@pytest.fixture(scope="module")
def study() -> AngleStudy:
    """The bow of the PC4 demo ship."""
    return angle_study(project("quillan-frostmark").results.design)


def test_the_hulls_own_angles_give_the_design_itself(study: AngleStudy) -> None:
    made = study.at()
    assert made.rows
    for row in made.rows:
        assert row.after == row.before, row.what


def test_turned_angles_belong_to_one_surface() -> None:
    """Hand: alpha 28, beta' 45 give beta = atan(tan 45 / cos 28) = 48.556 and gamma = atan(tan 28 / tan 48.556)."""
    given = {
        "aft_of_stem_m": np.array([3.4]), "alpha_deg": np.array([26.0]), "beta_prime_deg": np.array([42.0]),
        "beta_deg": np.array([1.0]), "gamma_deg": np.array([1.0]),
    }  # fmt: skip
    found = turned(given, 2.0, 3.0)
    beta = math.atan(math.tan(math.radians(45.0)) / math.cos(math.radians(28.0)))
    gamma = math.atan(math.tan(math.radians(28.0)) / math.tan(beta))
    assert found["beta_deg"][0] == pytest.approx(math.degrees(beta), abs=1e-12)
    assert found["gamma_deg"][0] == pytest.approx(math.degrees(gamma), abs=1e-12)
    # the three relations of a surface: tan beta = tan alpha / tan gamma and tan beta' = tan beta cos alpha
    t = {name: math.tan(math.radians(float(found[name][0]))) for name in found if name.endswith("_deg")}
    assert t["beta_deg"] == pytest.approx(t["alpha_deg"] / t["gamma_deg"], rel=1e-12)
    assert t["beta_prime_deg"] == pytest.approx(t["beta_deg"] * math.cos(math.radians(28.0)), rel=1e-12)


def test_the_force_follows_the_shape_coefficient_worked_out_by_hand(study: AngleStudy) -> None:
    """UR I2.3.2: F = fa CFc D^0.64, fa the least of (0.097 - 0.68 (x/L - 0.15)^2) alpha / sqrt(beta') and two others.

    Here the first of the three governs at every station, so that F goes with alpha / sqrt(beta').
    """
    before, after = study.at(), study.at(waterline_deg=1.0, flare_deg=-2.0)
    place = {row.what: row for row in after.rows}["load bow: force"]
    share = []
    for (x, alpha, flare, *_), (_, alpha_b, flare_b, *_) in zip(before.stations, after.stations, strict=True):
        shape = 0.097 - 0.68 * (x / 95.0 - 0.15) ** 2
        share.append((shape * alpha / math.sqrt(flare), shape * alpha_b / math.sqrt(flare_b)))
    expected = max(pair[1] for pair in share) / max(pair[0] for pair in share)
    assert place.after / place.before == pytest.approx(expected, rel=2e-4)  # the rule's length is 95.00 m here


def test_more_flare_brings_less_force_and_a_blunter_waterline_more(study: AngleStudy) -> None:
    force = {
        turn: {row.what: row.after for row in study.at(*turn).rows}["load bow: force"]
        for turn in ((0.0, 0.0), (2.0, 0.0), (0.0, 4.0))
    }
    assert force[2.0, 0.0] > force[0.0, 0.0] > force[0.0, 4.0]


@pytest.mark.parametrize(("waterline", "flare"), [(-40.0, 0.0), (70.0, 0.0), (0.0, -30.0)])
def test_an_angle_that_no_hull_can_have_is_one_line(study: AngleStudy, waterline: float, flare: float) -> None:
    with pytest.raises(InputError, match=r"cannot be; found .* deg; allowed: 0\.5 to 85"):
        study.at(waterline, flare)


def test_rules_that_read_no_angles_say_so() -> None:
    with pytest.raises(InputError, match="reads no hull angles; found baltic_traficom_2021"):
        angle_study(project("ostvik-larch").results.design)
