"""What the rule set is told of the ship, against the form's own numbers; the identities of hull angles."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from tests.scantlings import ships

from beltwright.core.errors import InputError
from beltwright.core.findings import Findings
from beltwright.hull.angles import hull_angles
from beltwright.rules.facts import FORWARD_PERPENDICULAR, SHIP
from beltwright.scantlings.measure import angle_columns, check_identities, measure_hull
from beltwright.scantlings.ship_facts import ship_facts


def test_facts_against_the_form() -> None:
    """kind: hand. The small form: stem at 47.5 m, transom at -1.5 m, angles as given, rudder stock at the AP."""
    facts = {name: value[0] for name, value in ships.baseline().facts.items()}
    assert facts["stem_to_ap_m"] == pytest.approx(47.5, abs=1e-6)
    assert facts["waterline_extreme_length_m"] == pytest.approx(49.0, abs=1e-6)
    assert facts["stem_to_rudder_m"] == pytest.approx(47.5, abs=1e-6)
    assert facts["alpha_ten_aft_of_stem_m"] == pytest.approx(13.6, abs=0.02)
    assert facts["stem_angle_deg"] == pytest.approx(23.996, abs=0.02)
    # sum of tan alpha over four parts of 3.4 m leaves 0.235 m to the half-breadth: the side begins 2.7 m further aft
    assert 13.6 < facts["parallel_start_aft_of_stem_m"] < 13.6 + 2.7 + 0.5
    assert facts["parallel_end_forward_of_ap_m"] == pytest.approx(14.0, abs=1.5)
    assert facts["displacement_upper_kt"] == pytest.approx(ships.measured().upper.displacement_kt)


def test_every_fact_has_its_place_of_birth() -> None:
    """All that the rule set asks for is there, and every number says where it was read."""
    facts, origins = ship_facts(ships.ship(), ships.measured(), Findings(), (*SHIP, FORWARD_PERPENDICULAR))
    assert set(facts) == set(origins) == {quantity.name for quantity in (*SHIP, FORWARD_PERPENDICULAR)}
    assert all(origins.values())
    assert "x 47.500 m" in origins["stem_to_ap_m"]
    assert "rudder stock" in origins["stem_to_rudder_m"]
    podded = ships.ship(lambda doc: doc["propulsion"].update(kind="azimuthing units"))
    assert "steering axis" in ship_facts(podded, ships.measured(), Findings(), SHIP)[1]["stem_to_rudder_m"]


def test_station_angles_are_the_forms() -> None:
    stations = ships.baseline().stations
    assert stations.aft_of_stem_m == pytest.approx([1.7, 5.1, 8.5, 11.9], abs=0.003)
    assert stations.angles.alpha_deg == pytest.approx([28.0, 23.0, 17.0, 12.0], abs=0.05)
    assert stations.angles.gamma_deg == pytest.approx([25.0, 29.0, 35.0, 42.0], abs=0.05)


normals = st.tuples(st.floats(0.02, 0.95), st.floats(0.05, 0.95), st.floats(-0.95, -0.02))


@given(normals)
def test_angles_of_any_surface_pass(direction: tuple[float, float, float]) -> None:
    n = np.array([direction])
    angles = hull_angles(n / np.linalg.norm(n))
    columns = {
        "aft_of_stem_m": np.array([1.0]),
        "alpha_deg": angles.alpha_deg,
        "beta_deg": angles.beta_deg,
        "beta_prime_deg": angles.beta_prime_deg,
        "gamma_deg": angles.gamma_deg,
    }
    check_identities(columns)


@given(normals, st.sampled_from(["alpha_deg", "beta_deg", "beta_prime_deg", "gamma_deg"]), st.floats(0.01, 5.0))
def test_a_hundredth_of_a_degree_is_seen(direction: tuple[float, float, float], name: str, by_deg: float) -> None:
    """One angle read off by 0.01 degree or more no longer fits the other three."""
    n = np.array([direction])
    angles = hull_angles(n / np.linalg.norm(n))
    columns = {
        key: np.asarray(getattr(angles, key)) for key in ("alpha_deg", "beta_deg", "beta_prime_deg", "gamma_deg")
    }
    columns = {"aft_of_stem_m": np.array([1.0]), **columns, name: columns[name] + by_deg}
    with pytest.raises(InputError, match="do not belong to one surface"):
        check_identities(columns)


def test_angles_that_do_not_apply_pass() -> None:
    nothing = np.array([np.nan])
    columns = dict.fromkeys(("alpha_deg", "beta_deg", "beta_prime_deg", "gamma_deg"), nothing)
    check_identities({"aft_of_stem_m": np.array([1.0]), **columns})
    columns |= {"alpha_deg": np.array([0.0]), "beta_deg": np.array([20.0]), "beta_prime_deg": np.array([20.0])}
    check_identities({"aft_of_stem_m": np.array([1.0]), **columns})  # parallel side: no buttock angle


def test_the_refusal_names_place_and_values() -> None:
    columns = angle_columns(ships.baseline().stations)
    with pytest.raises(InputError) as caught:
        check_identities({**columns, "beta_deg": 90.0 - columns["beta_deg"]})
    assert "1.700 m aft of the stem" in str(caught.value)
    assert "beta 41.251" in str(caught.value)  # hand: 90 - 48.749


@pytest.mark.parametrize(("tonnes", "named"), [(57.0, False), (66.0, True)])
def test_large_allowance(tonnes: float, named: bool) -> None:
    """hand: the moulded displacement is 1160.56 t; x / (1160.56 + x) passes 0.05 at x = 61.08 t."""
    findings = Findings()
    measure_hull(
        ships.ship(lambda doc: doc["water"].update(shell_and_appendages_t=tonnes)), (), ships.placed(), findings
    )
    assert any(f.kind.code == "BW433" for f in findings) is named


def test_wandering_ends_of_the_side_are_told() -> None:
    """The form's shoulders are fair: within 0.1 or 10 mm of the greatest half-breadth is metres apart."""
    told = [f for f in ships.baseline().findings if f.kind.code == "BW445"]
    ends = ships.measured().upper.curve.sensitivity()
    assert {f.where for f in told} == {"fore end of the parallel side", "aft end of the parallel side"}
    for finding in told:
        name = finding.where.split()[0]
        places = [getattr(end, f"{name}_x_m") for end in ends]
        assert max(places) - min(places) > 0.5
        assert f"{places[0]:.2f} m" in finding.message
        assert f"{places[-1]:.2f} m" in finding.message
